"""The order in the workbook: live formulas from the inputs to the bid, held against the order by a
spreadsheet program.

A script changes inputs in the file, LibreOffice recalculates, and a fresh run of the tool with the
same changes gives the same to the cent. The wall is that of docs/order-example.md:

    74.25 ._______________________________________________.   cap along the whole top; trim 8, 4, 4
          |         .----.           .----.               |
          |         |____|           |    |    [] fixture |
     0    |__________________________|    |_______________|
          0        60    96         140  176  200 208    240     outside corner left, butt right
"""

from __future__ import annotations

import dataclasses
import re
from decimal import Decimal

import openpyxl
import pytest
from builders import example_wall, write_dxf
from conftest import ROOT
from laid_out import laid_out
from sheets import cells, column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.printing import ORDER
from dxf2veneer.config.product import GENERIC
from dxf2veneer.order import order
from dxf2veneer.wording import say

PAGE = (ROOT / "docs" / "order-example.md").read_text(encoding="utf-8")
TOML, CSV = (re.search(rf"```{info}\n(.*?)```", PAGE, re.DOTALL)[1] for info in ("toml", "csv"))
WITH_PLAN = TOML.replace("panels = false", "panels = true")
ADDED = (
    'additions = [{ area = 50, corners = 48, reason = "Rear" }, { item = "caulk", quantity = -5, '
    'reason = "By the roofer" }, { item = "trim_stone", quantity = 2, reason = "Spare" }]\n'
)
SMALL_BOX = GENERIC.read_text(encoding="utf-8").replace("per_package = 250", "per_package = 60", 1)


def taken(folder, toml=TOML, prices=CSV, **texts):
    """The takeoff of the wall with a job file, a price file and further files by their names."""
    folder.mkdir(exist_ok=True)
    for name, text in {
        "job.toml": toml,
        "prices.csv": prices,
        **{k.replace("__", "."): v for k, v in texts.items()},
    }.items():
        (folder / name).write_text(text, encoding="utf-8")
    return take_off([write_dxf(example_wall(), folder / "wall.dxf")], load_job(folder / "job.toml"))


def header(sheet, first):
    """The row of the heading that begins with a word, and the titles in it."""
    row = next(
        r
        for r in range(1, sheet.max_row + 1)
        if str(sheet.cell(r, 1).value or "").split(",")[0] == first
    )
    return row, [str(c.value or "").replace("\n", " ") for c in sheet[row]]


def cell(sheet, first, label, title):
    """The cell under a heading, in the row that begins with a label,
    below the heading that begins with ``first``.
    """
    row, titles = header(sheet, first)
    number = next(n for n, t in enumerate(titles, 1) if t.startswith(title))
    at = next(r for r in range(row + 1, sheet.max_row + 1) if sheet.cell(r, 1).value == label)
    return sheet.cell(at, number)


def cents(value):
    """An amount of the sheet; None for an empty one."""
    return None if value in (None, "", "no total") else Decimal(f"{value + 0.0:.2f}")


def bid_of(book, number=3):
    """Materials, labour, lines and total of the bid, by name, in the column ``number``."""
    sheet = book["Price"]
    first, _ = header(sheet, "Price")
    last = next(r for r in range(first, sheet.max_row) if sheet.cell(r, 1).value == "Total")
    rows = [r for r in range(first + 1, last + 1) if sheet.cell(r, 1).value]
    return {sheet.cell(r, 1).value: cents(sheet.cell(r, number).value) for r in rows}


def expected_bid(made):
    return {say(b.title): b.amount for b in made.bid.lines} | {"Total": made.bid.total}


def same(book, made, currency=" USD", weight=1.0):
    """Every line, the labour, the supplier's list and the bid say what the order says,
    to the cent.
    """
    assert [
        (c.parent.title, c.coordinate, c.value)
        for c in cells(book)
        if c.data_type == "e" or str(c.value)[:4] == "Err:"
    ] == []
    sheet, supplier, labour = (book[name] for name in ("Order", "Supplier", "Labor"))
    for row, entry in enumerate(made.lines, 5):
        chosen, other = entry.chosen, entry.other
        said = {
            t: sheet.cell(row, column(sheet, t)).value
            for t in ("Counted", "Packages", "Cost" + currency, "Weight", "Cost, other", "Why")
        }
        assert sheet.cell(row, 1).value in (say(entry.item), say(entry.item, "metric"))
        assert sheet.cell(row, column(sheet, "Measured")).value == pytest.approx(
            chosen.measured, rel=1e-9
        )
        assert sheet.cell(row, column(sheet, "Needed")).value == pytest.approx(
            chosen.needed, rel=1e-9
        )
        assert (said["Counted"], said["Packages"], cents(said["Cost" + currency])) == (
            entry.mode,
            chosen.packages,
            chosen.cost,
        )
        assert said["Why"] in (say(chosen.why), say(chosen.why, "metric"))
        assert cents(said["Cost, other"]) == (other.cost if other else None)
        assert (said["Weight"] or None) == pytest.approx(
            chosen.weight_lb and weight * chosen.weight_lb
        )
        assert (supplier.cell(row, column(supplier, "Pallets")).value or None) == (
            None if entry.by_others else entry.pallets
        )
    for row, work in enumerate(made.labour, 5):
        assert cents(labour.cell(row, column(labour, "Hours", 4) + 1).value) == work.hours
        cost = labour.cell(row, column(labour, "Cost")).value
        assert (cost == "no rate") == work.is_open
        assert work.is_open or cents(cost) == work.cost
    assert bid_of(book) == expected_bid(made)


# ------------------------------------------------------------------- as written


def test_the_sheets_of_the_order_follow_the_summary(tmp_path):
    book = openpyxl.load_workbook(written(tmp_path, taken(tmp_path / "job")))
    assert tuple(book.sheetnames[1:7]) == ORDER
    assert (book["Price"].page_setup.fitToWidth, book["Price"].page_setup.fitToHeight) == (1, 1)
    assert {"Counted_by", "Breakage_percent", "Hourly_wage"} <= set(book.defined_names)


def test_the_supplier_sees_no_price(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path, taken(tmp_path / "job")))["Supplier"]
    price, amount = (
        openpyxl.load_workbook(tmp_path / "takeoff.xlsx")["Inputs"],
        re.compile("price|cost|USD", re.IGNORECASE),
    )
    letter = cell(price, "Item", "Flat panel", "Price").column_letter
    said = [str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None]
    assert [s for s in said if amount.search(s) or f"'Inputs'!{letter}" in s] == []


def test_changeable_cells_are_tinted_and_nothing_else(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path, taken(tmp_path / "job")))["Inputs"]
    tinted = {
        c.coordinate for row in sheet.iter_rows() for c in row if c.fill.fgColor.rgb == "00FFF6D6"
    }
    assert cell(sheet, "Item", "Flat panel", "Price").coordinate in tinted
    assert cell(sheet, "Item", "Flat panel", "Unit").coordinate not in tinted
    # one way of counting only, without a plan: nothing to choose
    assert cell(sheet, "Item", "Flat panel", "Counted by").coordinate not in tinted


@needs_office
@pytest.mark.parametrize("toml", [TOML, WITH_PLAN], ids=["by area", "with a plan"])
def test_every_linked_cell_holds_the_number_of_its_source(tmp_path, toml):
    made = taken(tmp_path / "job", toml)
    sheet = recalculated(written(tmp_path, made), tmp_path)["Quantities"]
    row, _ = next((c.row, c) for r in sheet for c in r if c.value == "What was taken of it")
    sources = [s for line in made.order.lines for way in line.ways for s in way.sources]
    held = [sheet.cell(at, 3).value for at in range(row + 1, row + 1 + len(sources))]
    assert held == pytest.approx([s.value + s.beyond for s in sources], rel=1e-9)
    linked = [sheet.cell(at, 6).value for at in range(row + 1, row + 1 + len(sources))]
    assert len([name for name in linked if name]) > len(sources) / 2


def test_quantities_are_linked_to_the_sheets_they_come_from(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path, taken(tmp_path / "job")))["Quantities"]
    first = next(
        r
        for r in range(1, sheet.max_row)
        if sheet.cell(r, 1).value == "What each number was counted from"
    )
    rows = [[c.value for c in row[:7]] for row in sheet.iter_rows(min_row=first + 2)]
    linked = {(item, what): str(value) for item, _, value, _, _, _, what in rows}
    assert linked["Flat panel", "net area"] == "=IF('Walls'!U5=\"yes\",'Walls'!K5,0)"
    assert linked["Water-resistive barrier", "gross area"].endswith("'Walls'!F5,0)")
    assert "'Corners'!" in linked["Corner panel", "outside corner"]
    jambs = linked["Trim stone", "jambs"]
    assert "'Trim'!" in jambs and "/2" in jambs  # a half each
    assert "'Corners'!" in linked["Caulk", "right edge, butt"]


@pytest.mark.parametrize("word", ["code compliant", "guarantee"])
def test_nothing_is_promised(tmp_path, word):
    book = openpyxl.load_workbook(written(tmp_path, taken(tmp_path / "job")))
    assert [c.coordinate for c in cells(book) if word in str(c.value).lower()] == []


# --------------------------------------------------------------- recalculated


@needs_office
@pytest.mark.parametrize(
    "toml",
    [
        TOML,
        WITH_PLAN,
        TOML + '\n[output]\ndisplay = "metric"\n',
        WITH_PLAN + '\n[output]\ndisplay = "metric"\n',
        WITH_PLAN.replace("[order]\n", "[order]\n" + ADDED),
    ],
)
def test_every_number_is_the_orders(tmp_path, toml):
    made = taken(tmp_path / "job", toml)
    same(recalculated(written(tmp_path, made), tmp_path), made.order)


@needs_office
def test_goods_by_the_meter_and_kilogram_are_the_orders_too(tmp_path):
    panel = (ROOT / "samples" / "metric-panel.toml").read_text(encoding="utf-8")
    toml = TOML + '\n[product]\nfile = "panel.toml"\n[output]\ndisplay = "metric"\n'
    made = taken(tmp_path / "job", toml, CSV.replace(",box,", ",package,"), panel__toml=panel)
    assert {entry.unit for entry in made.order.lines} == {"each", "m", "m2"}
    assert made.errors == ()
    book = recalculated(written(tmp_path, made), tmp_path)
    same(book, made.order, weight=0.45359237)
    heads = [str(c.value) for name in ("Inputs", "Order", "Supplier") for c in book[name][4]]
    assert not any("lb" in head.split() for head in heads)


@needs_office
def test_changed_inputs_give_what_a_fresh_run_gives(tmp_path):
    path = written(tmp_path, taken(tmp_path / "first", WITH_PLAN))
    book = openpyxl.load_workbook(path)
    sheet = book["Inputs"]
    wide = {label: cell(sheet, "For the whole job", label, "Value") for label in (
        "Breakage, on what is counted by layout", "Scrap, on what is counted by area",
        "Wage per hour",
    )}  # fmt: skip
    for changed, value in zip(wide.values(), (4.5, 12.0, 41.35), strict=True):
        changed.value = value
    cell(sheet, "Item", "Flat panel", "Price").value = 57.17
    cell(sheet, "Item", "Flat panel", "Holds").value = 4
    cell(sheet, "Item", "Panel fastener", "Holds").value = 60
    cell(sheet, "Item", "Caulk", "Allowance by area").value = 5
    cell(sheet, "Item", "Corner panel", "Counted by").value = "area"
    cell(sheet, "Item", "Corner panel", "Weight").value = 45
    cell(sheet, "Item", "Lath behind partial panels", "Supplied by").value = "others"
    cell(sheet, "Work", "Cut across", "Hours").value = 0.07
    cell(sheet, "Name", "Overhead", "Value").value = 11.3
    cell(sheet, "Name", "Profit", "Value").value = 7.5
    book.save(path)

    toml = WITH_PLAN.replace("[order]\n", (
        '[product]\nfile = "panel.toml"\n[order]\nbreakage = 4.5\nby_others = '
        '["lath"]\n'
        'items = [{ item = "caulk", percent = 5 }, { item = "corner_panel", mode = "area" }]\n'
    )).replace("wage = 40", "wage = 41.35\ncut = 0.07").replace("12.5",
    "11.3").replace("margin = 8", "margin = 7.5")  # fmt: skip
    toml = toml.replace("scrap = 10", "scrap = 12")
    prices = CSV.replace(
        "item,unit,price,date,currency", "item,unit,price,date,currency,package,weight"
    )
    prices = prices.replace(
        "flat_panel,box,54.00,2026-03-02,USD", "flat_panel,box,57.17,2026-03-02,USD,4,"
    ).replace("corner_panel,box,66.00,,", "corner_panel,box,66.00,,,,45")
    fresh = taken(tmp_path / "fresh", toml, prices, panel__toml=SMALL_BOX)
    assert fresh.product.goods.panel_fastener.per_package == 60
    same(recalculated(path, tmp_path), fresh.order)


@needs_office
def test_without_a_scrap_of_its_own_panels_by_area_follow_the_breakage(tmp_path):
    toml = TOML.replace("scrap = 10\n", "")
    path = written(tmp_path, taken(tmp_path / "first", toml))
    book = openpyxl.load_workbook(path)
    sheet = book["Inputs"]
    wide = "For the whole job"
    cell(sheet, wide, "Breakage, on what is counted by layout", "Value").value = 4.5
    assert cell(sheet, wide, "Scrap, on what else is counted by area", "Value").value == 10
    book.save(path)
    fresh = taken(tmp_path / "fresh", toml.replace("[order]\n", "[order]\nbreakage = 4.5\n"))
    flat = next(line for line in fresh.order.lines if line.key == "flat_panel")
    assert flat.chosen.usual_pct and flat.chosen.allowance_pct > flat.chosen.usual_pct + 4
    same(recalculated(path, tmp_path), fresh.order)


@needs_office
def test_an_emptied_price_leaves_no_total_and_is_named(tmp_path):
    path = written(tmp_path, taken(tmp_path / "job"))
    book = openpyxl.load_workbook(path)
    cell(book["Inputs"], "Item", "Caulk", "Price").value = None
    book.save(path)
    after = recalculated(path, tmp_path)
    fresh = taken(tmp_path / "fresh", prices=CSV.replace("caulk,tube,6.49,,\n", ""))
    assert fresh.order.bid.total is None
    same(after, fresh.order)
    assert cell(after["Order"], "Item", "Caulk", "Note").value == "PRICE MISSING"
    assert any(
        str(row[0].value).startswith("NO TOTAL: items without a price: 1")
        for row in after["Price"].iter_rows()
    )


@needs_office
def test_without_prices_and_wage_nothing_costs_zero(tmp_path):
    toml = TOML.replace('prices = "prices.csv"', "").replace("wage = 40", "")
    made = taken(tmp_path / "job", toml)
    book = recalculated(written(tmp_path, made), tmp_path)
    given = ("Scaffold", "Freight", "Permit")  # neither a price nor a wage is in these
    assert {a for name, a in bid_of(book).items() if name not in given} == {None}
    same(book, made.order, currency="")


@needs_office
def test_a_quantity_by_hand_and_a_corrected_opening_reach_the_bid(tmp_path):
    made = taken(tmp_path / "job")
    path = written(tmp_path, made)
    book = openpyxl.load_workbook(path)
    cell(book["Inputs"], "Item", "Caulk", "Quantity").value = 100  # 100 x 1.1 / 24 = 4.6: 5 tubes
    openings = book["Openings"]
    openings.cell(
        5, column(openings, "Deducted")
    ).value = "no"  # the window's 6 sq ft: three panels more
    book.save(path)
    after = recalculated(path, tmp_path)
    assert cell(after["Order"], "Item", "Caulk", "Packages").value == 5
    assert cell(after["Order"], "Item", "Flat panel", "Measured").value == pytest.approx(
        made.order.lines[0].chosen.measured + 3
    )
    pieces = made.order.labour[0]
    (rate,) = pieces.rates  # pieces on 100 sq ft of this one wall
    assert cell(after["Labor"], "Work", "Lay flat pieces", "Quantity").value == round(
        (made.totals.net_area / 144 + 6) * rate / 100
    )


@needs_office
def test_alternates_stand_beside_the_bid_and_follow_the_inputs(tmp_path):
    other = GENERIC.read_text(encoding="utf-8").replace("per_package = 3 ", "per_package = 5 ", 1)
    toml = TOML.replace(
        "lines = [",
        'alternates = [{ name = "=Other panel", product = "other.toml" }]\nlines = [',
    )
    made = taken(tmp_path / "job", toml, other__toml=other)
    path = written(tmp_path, made)
    assert made.order.alternates[0].order.materials != made.order.materials
    assert bid_of(recalculated(path, tmp_path), 4) == expected_bid(made.order.alternates[0].order)
    book = openpyxl.load_workbook(path)
    cell(book["Inputs"], "Item", "Caulk", "Price").value = 7.01
    cell(
        book["Inputs"], "For the whole job", "Scrap, on what is counted by area", "Value"
    ).value = 14
    book.save(path)
    fresh = taken(
        tmp_path / "fresh",
        toml.replace("scrap = 10", "scrap = 14"),
        CSV.replace("6.49", "7.01"),
        other__toml=other,
    )
    after = recalculated(path, tmp_path)
    assert (bid_of(after), bid_of(after, 4)) == (
        expected_bid(fresh.order),
        expected_bid(fresh.order.alternates[0].order),
    )


@needs_office
def test_each_alternate_has_the_panels_that_plans_of_its_own_walls_took(tmp_path):
    # a longer panel covers more, beside corner pieces as before: another share is lost
    longer = GENERIC.read_text(encoding="utf-8").replace("length = 36", "length = 42", 1)
    toml = TOML.replace("scrap = 10\n", "").replace(
        "lines = [",
        'alternates = [{ name = "Longer", product = "longer.toml" }]\nlines = [',
    )
    made = taken(tmp_path / "job", toml, longer__toml=longer)
    other = made.order.alternates[0].order
    usual = [next(x for x in o.lines if x.key == "flat_panel").chosen for o in (made.order, other)]
    assert usual[0].usual_pct != usual[1].usual_pct
    path = written(tmp_path, made)
    book = recalculated(path, tmp_path)
    assert (bid_of(book), bid_of(book, 4)) == (expected_bid(made.order), expected_bid(other))
    typed = openpyxl.load_workbook(path)
    cell(typed["Inputs"], "Item", "Flat panel", "Allowance by area").value = 20
    typed.save(path)
    after = cell(recalculated(path, tmp_path)["Order"], "Item", "Flat panel", "Needed").value
    assert after == pytest.approx(usual[0].measured * 1.2)


@needs_office
def test_evil_names_and_a_small_plan(tmp_path):
    base = laid_out()
    job = with_settings(base.job, job__note="@x", job__company='=HYPERLINK("x")')
    made = dataclasses.replace(
        base, job=job, order=order(base.walls, base.corners, base.plan, job, base.product)
    )
    path = written(tmp_path, made)
    texts = [
        c for c in cells(openpyxl.load_workbook(path)) if str(c.value).startswith(("=HYP", "@x"))
    ]
    assert texts and all(c.data_type == "s" and c.quotePrefix for c in texts)
    book = recalculated(path, tmp_path)
    same(book, made.order, currency="")
