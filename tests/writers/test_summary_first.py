"""The summary's first boxes: every number of them is the order's, and they stand on top."""

from __future__ import annotations

import dataclasses

import openpyxl
import pytest
from builders import JOB, drawing, write_dxf
from conftest import ROOT
from sheets import column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.charges import as_charges
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.order.letter import letter_of
from dxf2veneer.writers.basis import own_defaults
from dxf2veneer.writers.report import write_report


def gatehouse(**settings):
    samples = ROOT / "samples"
    job = load_job(samples / "gatehouse.toml")
    job = with_settings(job, plan__panels=False, **settings)
    return take_off([samples / "gatehouse.dxf"], job)


def boxes(sheet):
    """The numbers of the boxes by their titles: rows 5 to 15, each two columns wide."""
    found = {}
    for row in (5, 9, 13):
        for letter in "ACEG":
            found[sheet[f"{letter}{row}"].value] = sheet[f"{letter}{row + 1}"].value
    return found


@needs_office
def test_the_first_boxes_are_the_orders_numbers(tmp_path):
    made = gatehouse()
    found = boxes(recalculated(written(tmp_path, made), tmp_path)["Summary"])
    order, net = made.order, made.totals.net_area / 144
    packages = {line.key: line.chosen.packages for line in order.lines}
    corners = (made.corner_run("outside") + made.corner_run("inside")) / 12
    assert found == pytest.approx({
        "Price, USD": float(order.bid.total),
        "Net area, sq ft": net,
        "Price per sq ft, USD": round(float(order.bid.total) / net, 2),
        "Open questions": 1,  # hours of laying that nobody gave
        "Boxes of flat panels": packages["flat_panel"],
        "Boxes of corner panels": packages["corner_panel"],
        "Corners, ft": corners,
        "Weight, lb": order.weight_lb,
        "Hours": float(order.hours),
        "Crew days": order.days,
        "Pallets": order.pallets,
        "Walls": 6,
    })  # fmt: skip


def test_the_price_for_an_area_is_the_letters(tmp_path):
    """A wall by its area is paid for, so its area counts: in the estimate as in the letter."""
    more = as_additions([{"area": 120, "reason": "Garage side"}])
    made = gatehouse(order__additions=more, letter__pricing="area")
    book = openpyxl.load_workbook(written(tmp_path, made), data_only=True)
    by_hand = float(made.order.bid.total) / (made.totals.net_area / 144 + 120)
    assert boxes(book["Summary"])["Price per sq ft, USD"] == pytest.approx(by_hand, abs=0.005)
    assert float(letter_of(made, made.order).rate) == pytest.approx(by_hand, abs=0.01)


@pytest.mark.parametrize("display", ["imperial", "metric"])
def test_the_price_for_an_area_is_the_letters_to_the_cent(display, tmp_path):
    """A wall of 1.004 m x 1 m: price over 1.00 m2 in both, not over 1.004."""
    wall = drawing(wall=[(0, 0, 1004 / 25.4, 1000 / 25.4)])
    lump = as_charges([{"name": "Lump", "amount": 301.37}])
    job = with_settings(
        JOB, plan__panels=False, output__display=display, bid__lines=lump, labour__wage=40.0,
        letter__pricing="area", order__prices=str(tmp_path / "prices.csv"),
    )  # fmt: skip
    listed = "\n".join(["item,unit,price", *(f"{key},package,9" for key in ITEMS)])
    (tmp_path / "prices.csv").write_text(listed, encoding="utf-8")
    made = take_off([write_dxf(wall, tmp_path / "one.dxf")], job)
    book = openpyxl.load_workbook(written(tmp_path, made), data_only=True)
    (shown,) = [v for k, v in boxes(book["Summary"]).items() if str(k).startswith("Price per")]
    assert shown == float(letter_of(made, made.order).rate)


@needs_office
def test_a_wall_taken_out_by_hand_is_in_no_area(tmp_path):
    """The price per square foot is for the walls that it pays for, and those by their area."""
    more = as_additions([{"area": 120, "reason": "Garage side"}])
    made = gatehouse(order__additions=more)
    path = written(tmp_path, made)
    book = openpyxl.load_workbook(path)
    sheet = book["Walls"]
    for row in range(5, sheet.max_row + 1):
        if sheet.cell(row, 2).value == "SIDE":
            sheet.cell(row, column(sheet, "In this bid")).value = "no"
    book.save(path)
    after = recalculated(path, tmp_path)
    found = boxes(after["Summary"])
    left = sum(w.quantities.net_area for w in made.walls if w.wall.name != "SIDE") / 144
    assert found["Net area, sq ft"] == pytest.approx(left)
    assert found["Price per sq ft, USD"] == round(found["Price, USD"] / (left + 120), 2)
    assert (
        f"net area {left:,.1f} sq ft, and 120.0 sq ft by area alone." in after["Price"]["A5"].value
    )


@needs_office
def test_without_prices_and_wage_the_summary_asks_for_them(tmp_path):
    made = gatehouse(order__prices=None, labour__wage=None)
    sheet = recalculated(written(tmp_path, made), tmp_path)["Summary"]
    found = boxes(sheet)
    assert found["Price"] == found["Price per sq ft"] == "no price yet"
    assert found["Open questions"] >= 2
    asked = " ".join(str(sheet.cell(row, 1).value) for row in range(17, 22))
    assert "What do items without a price cost?" in asked
    assert "What does an hour of work cost you?" in asked


@needs_office
def test_warnings_of_one_cause_are_one_open_question(tmp_path):
    made = gatehouse()
    grave = next(n for n in made.notices)
    many = tuple(dataclasses.replace(grave, code="SLIVER") for _ in range(7))
    made = dataclasses.replace(made, notices=many)
    sheet = recalculated(written(tmp_path, made), tmp_path)["Summary"]
    assert boxes(sheet)["Open questions"] == 1 + 1  # and hours that nobody gave
    lines = [str(sheet.cell(row, 1).value) for row in range(17, 24)]
    assert sum("(7 places)" in line for line in lines) == 1


def asked(made):
    """The open question about money by defaults of our own, as the sheet has it."""
    return own_defaults(made, made.order)


def test_hours_and_breakage_that_nobody_gave_are_named_and_those_given_are_not():
    made = gatehouse()
    found = asked(made)
    assert found[:2] == ["breakage", "scrap"] and found[2].startswith("hours to lay flat pieces")
    assert "scaffold" not in found[2]
    given = {f"labour__{key}": 0.1 for key in ("flat", "corner", "cut", "partial", "opening")}
    given |= {"labour__stone": 0.2, "order__breakage": 3.0, "order__scrap": 10.0}
    assert asked(gatehouse(**given)) == []


def test_rows_of_the_order_are_low_and_the_inputs_fill_a_page_that_can_be_read(tmp_path):
    book = openpyxl.load_workbook(written(tmp_path, gatehouse()))
    order, inputs = book["Order"], book["Inputs"]
    rows = range(5, order.max_row + 1)
    assert max(order.row_dimensions[row].height or 15 for row in rows) <= 30  # two lines
    last = inputs.print_area.rpartition("$")[0].rpartition("$")[2]
    end = ord(last) - ord("A") + 1
    alike = [c for c in inputs.column_dimensions.values() if c.min <= end]  # neighbors as one
    wide = sum(c.width * (min(c.max, end) - c.min + 1) for c in alike)
    # a character of 11 points is about 7/96 in wide (from memory); the page has 10 in across
    assert 11 * 10 / (wide * 7 / 96) > 8  # points of type on paper


def test_the_report_tells_one_line_for_one_fact(tmp_path):
    made = gatehouse()
    note = next(n for n in made.notices)
    many = tuple(
        dataclasses.replace(note, code="SLIVER", handle=f"{n:X}") for n in range(0xA0, 0xA7)
    )
    write_report(dataclasses.replace(made, notices=many), tmp_path / "report.html")
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    rows = page.split("<caption>Notices</caption>")[1].split("</tbody>")[0].split("<tr")[2:]
    assert len(rows) == 1 and ">7</td>" in rows[0]
    assert all(f"handle {n:X}" in rows[0] for n in range(0xA0, 0xA7))
