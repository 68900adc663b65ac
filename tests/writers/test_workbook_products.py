"""The workbook of a job of two products, recalculated by LibreOffice, against the order.

North, 96 x 48 of Ledge 24 x 6, and South, 72 x 40 of Block 36 x 8, meet at an outside corner. What
changes of one product's quantities moves its own lines alone; a wall that goes out of the bid gives
the price of an alternate without it. Every value is invented.
"""

import functools
import tempfile
from pathlib import Path

import openpyxl
import pytest
from builders import drawing, write_dxf
from sheets import column, needs_office, recalculated, written, written_cuts

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.writers.workbook.request import write_request

JOB = """[layers]
wall = ["WALL"]
[product]
file = "ledge.toml"
[order]
prices = "prices.csv"
[trim]
head = 4
[labour]
wage = 40
[bid]
lines = [{ name = "Profit", kind = "profit", margin = 8 }]
alternates = [{ name = "Without South", without = ["South"] }]
[[walls.rows]]
name = "North"
width = 96
height = 48
right = "outside A"
cap = true
openings = ["window 24 x 20 at 30, 14"]
[[walls.rows]]
name = "South"
width = 72
height = 40
left = "outside A"
right = "end"
openings = ["window 24 x 18 at 30, 12"]
[[walls.treatments]]
walls = ["South"]
product = "block.toml"
breakage = 10
head = 6
"""
PRICES = {
    "Ledge": ("flat_panel,box,10.25", "corner_panel,box,9", "starter_strip,piece,3",
              "cap_stone,package,31", "trim_stone,package,27"),
    "Block": ("flat_panel,box,20.75", "corner_panel,box,19", "starter_strip,piece,4",
              "trim_stone,package,26"),
    "": ("panel_fastener,package,11", "starter_fastener,package,8", "cap_fastener,package,7",
         "wrb,package,70", "lath,package,12", "adhesive,package,6", "caulk,package,5"),
}  # fmt: skip


@functools.cache
def made(panels=True, job=JOB):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for product, length, height, boxes in (("Ledge", 24, 6, 5), ("Block", 36, 8, 4)):
            text = (
                f'[product]\nname = "{product}"\norigin = "invented"\n'
                f"[panel]\nlength = {length}\nheight = {height}\n"
                f"[laying]\nstagger = {length / 4}\nleast_piece = {length / 4}\n"
                f'[cap]\nheight = 2\n[flat_panel]\npackage = "box"\nper_package = {boxes}\n'
                f'weight = 50\nper_pallet = 4\n[corner_panel]\npackage = "box"\n'
                f"per_package = {boxes}\nweight = 50\nper_pallet = 4\n"
            )
            (folder / f"{product.lower()}.toml").write_text(text, encoding="utf-8")
        rows = [f"{line},{product}" for product, own in PRICES.items() for line in own]
        listed = "\n".join(["item,unit,price,product", *rows])
        (folder / "prices.csv").write_text(listed, encoding="utf-8")
        plan = "" if panels else "[plan]\npanels = false\n"
        (folder / "job.toml").write_text(job + plan, encoding="utf-8")
        drawn = write_dxf(drawing(wall=[(0, 0, 48, 48)]), folder / "front.dxf")
        return take_off([drawn], load_job(folder / "job.toml"))


def table(book):
    """Packages and cost of each item of the sheet Order, by the item's title."""
    sheet = book["Order"]
    packages, cost = column(sheet, "Packages"), column(sheet, "Cost")
    found = {}
    for row in range(5, sheet.max_row + 1):
        if sheet.cell(row, 1).value and isinstance(sheet.cell(row, packages).value, int | float):
            found[sheet.cell(row, 1).value] = (
                sheet.cell(row, packages).value,
                sheet.cell(row, cost).value,
            )
    return found


def totals(book):
    sheet = book["Price"]
    rows = {str(row[0].value): [c.value for c in row[2:4]] for row in sheet.iter_rows()}
    return rows["Total"]


def expected(order):
    from dxf2veneer.wording import say

    return {
        say(line.item): (line.chosen.packages, pytest.approx(float(line.chosen.cost), abs=0.005))
        for line in order.lines
    }


def the(takeoff, product, book):
    """The rows of the sheet Order that are of a product."""
    return {item: row for item, row in table(book).items() if item.endswith(f", {product}")}


@needs_office
@pytest.mark.parametrize("panels", [True, False])
def test_the_workbook_comes_to_the_order_of_both_products(tmp_path, panels):
    takeoff = made(panels)
    assert takeoff.errors == ()
    book = recalculated(written(tmp_path, takeoff), tmp_path)
    shown = {k: v for k, v in table(book).items() if k in expected(takeoff.order)}
    assert shown == expected(takeoff.order)
    orders = (takeoff.order, takeoff.order.alternates[0].order)
    assert totals(book) == pytest.approx([float(o.bid.total) for o in orders], abs=0.005)


@needs_office
def test_a_quantity_of_one_product_moves_its_own_lines_alone(tmp_path):
    path = written(tmp_path, made())
    before = recalculated(path, tmp_path)
    book = openpyxl.load_workbook(path)
    sheet = book["Inputs"]
    hand = next(
        c.column for row in sheet.iter_rows() for c in row if c.value == "Quantity\noverride"
    )
    (at,) = [row[0].row for row in sheet.iter_rows() if row[0].value == "Flat panel, Block"]
    sheet.cell(at, hand).value = 40
    book.save(path)
    after = recalculated(path, tmp_path)
    moved = {item for item, row in table(after).items() if table(before).get(item) != row}
    assert {item for item in moved if ", " in item} == {"Flat panel, Block"}
    # 40 and 10 % for breakage, 44 / 4 boxes
    assert table(after)["Flat panel, Block"] == (11, pytest.approx(11 * 20.75))
    assert the(made(), "Ledge", after) == the(made(), "Ledge", before)


@needs_office
def test_a_wall_out_of_the_bid_takes_its_product_with_it(tmp_path):
    takeoff = made(panels=False)
    path = written(tmp_path, takeoff)
    book = openpyxl.load_workbook(path)
    sheet = book["Walls"]
    for row in range(5, sheet.max_row + 1):
        if str(sheet.cell(row, 2).value).startswith("South"):
            sheet.cell(row, column(sheet, "In this bid")).value = "no"
    book.save(path)
    after = recalculated(path, tmp_path)
    assert all(row == (0, 0) for row in the(takeoff, "Block", after).values())
    other = takeoff.order.alternates[0].order
    assert totals(after)[0] == pytest.approx(float(other.bid.total), abs=0.005)


@needs_office
def test_an_alternate_that_adds_a_wall_comes_to_its_own_order(tmp_path):
    text = JOB.replace('without = ["South"]', 'adds = ["South"]').replace(
        "breakage = 10", "breakage = 10\nbid = false"
    )
    takeoff = made(True, text)
    book = recalculated(written(tmp_path, takeoff), tmp_path)
    orders = (takeoff.order, takeoff.order.alternates[0].order)
    assert totals(book) == pytest.approx([float(o.bid.total) for o in orders], abs=0.005)
    assert orders[1].bid.total > orders[0].bid.total


BACK = """[[walls.rows]]
name = "Back"
width = 108
height = 40
[[walls.treatments]]
walls = ["Back"]
bid = false
"""
"""A wall of Block without openings: course plans of such walls take less beyond their area."""


def with_back():
    text = JOB.replace('"Without South", without = ["South"]', '"With", adds = ["Back"]')
    return text.replace('walls = ["South"]', 'walls = ["South", "Back"]') + BACK


@needs_office
def test_a_product_by_area_takes_of_each_orders_walls_what_plans_took(tmp_path):
    takeoff = made(panels=False, job=with_back())
    took = [
        next(line for line in order.lines if line.key == "flat_panel of Block").chosen.usual_pct
        for order in (takeoff.order, takeoff.order.alternates[0].order)
    ]
    assert took[0] != took[1]
    book = recalculated(written(tmp_path, takeoff), tmp_path)
    orders = (takeoff.order, takeoff.order.alternates[0].order)
    assert totals(book) == pytest.approx([float(o.bid.total) for o in orders], abs=0.005)


@needs_office
def test_an_alternate_that_adds_a_wall_stays_whole_when_walls_are_changed_by_hand(tmp_path):
    takeoff = made(panels=False, job=with_back())
    path = written(tmp_path, takeoff)
    book = openpyxl.load_workbook(path)
    sheet = book["Walls"]
    base, other = (column(sheet, f"In {name}") for name in ("this bid", "With"))
    assert sheet.cell(5, base).fill.fgColor != sheet.cell(5, other).fill.fgColor  # no input
    sheet.cell(5, other).value = "no"
    sheet.cell(5, column(sheet, "Base")).value = 2 * sheet.cell(5, column(sheet, "Base")).value
    sheet.cell(5, column(sheet, "Gross")).value = 2 * sheet.cell(5, column(sheet, "Gross")).value
    book.save(path)
    after = recalculated(path, tmp_path)
    orders = (takeoff.order, takeoff.order.alternates[0].order)
    assert totals(after)[0] > 1.1 * float(orders[0].bid.total)
    assert totals(after)[1] == pytest.approx(float(orders[1].bid.total), abs=0.005)
    sheet = after["Alternates"]
    notes = {sheet.cell(row, column(sheet, "Note")).value for row in range(5, 8)}
    assert notes == {"STALE"}


def test_lists_and_summary_say_which_product(tmp_path):
    takeoff = made()
    cuts = openpyxl.load_workbook(written_cuts(tmp_path, takeoff))
    for title in ("Cut list", "Stock"):
        sheet = cuts[title]
        at = column(sheet, "Product")
        said = {sheet.cell(row, at).value for row in range(5, sheet.max_row + 1)} - {None}
        assert said == {"Ledge", "Block"}
    book = openpyxl.load_workbook(written(tmp_path, takeoff), data_only=True)
    rows = [[c.value for c in row] for row in book["Summary"].iter_rows()]
    head = next(n for n, row in enumerate(rows) if row[0] == "Product")
    packages = {line.key: line.chosen.packages for line in takeoff.order.lines}
    for name, row in zip(("Ledge", "Block"), rows[head + 1 :], strict=False):
        assert (row[0], row[4], row[6]) == (
            name,
            packages[f"flat_panel of {name}"],
            packages[f"corner_panel of {name}"],
        )


def test_the_request_names_the_product_of_each_line(tmp_path):
    takeoff = made()
    path = tmp_path / "request.csv"
    write_request(takeoff, takeoff.order, path)
    text = path.read_text(encoding="utf-8-sig")
    assert '"Flat panel, Block",36 in x 8 in,Block,' in text
    assert '"Flat panel, Ledge",24 in x 6 in,Ledge,' in text


ONE = JOB.replace(
    '{ name = "Without South", without = ["South"] }',
    '{ name = "All Ledge", product = "ledge.toml" }, '
    '{ name = "North alone", product = "ledge.toml", without = ["South"] }',
)
"""Alternates that lay all their walls with the job's own product."""


@needs_office
def test_alternates_by_one_product_come_to_their_orders(tmp_path):
    takeoff = made(job=ONE)
    assert takeoff.errors == ()
    orders = (takeoff.order, *(a.order for a in takeoff.order.alternates))
    (total,) = _rows_of(recalculated(written(tmp_path, takeoff), tmp_path), "Total")
    assert total[2:5] == pytest.approx([float(o.bid.total) for o in orders], abs=0.005)


@needs_office
def test_a_wall_out_of_an_alternate_by_one_product_moves_its_price_alone(tmp_path):
    takeoff = made(False, ONE)
    path = written(tmp_path, takeoff)
    (before,) = _rows_of(recalculated(path, tmp_path), "Total")
    book = openpyxl.load_workbook(path)
    walls = book["Walls"]
    row = next(r for r in range(5, 9) if str(walls.cell(r, 2).value).startswith("South"))
    walls.cell(row, column(walls, "In All Ledge")).value = "no"
    book.save(path)
    (after,) = _rows_of(recalculated(path, tmp_path), "Total")
    assert (after[2], after[4]) == (before[2], before[4])
    assert after[3] < before[3]


def _rows_of(book, name):
    return [row for row in book["Price"].iter_rows(values_only=True) if row[0] == name]
