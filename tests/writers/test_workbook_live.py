"""Changes by hand in the workbook move the bid and its alternates together, to the cent as a
takeoff of the changed job has them.

The gatehouse by area, with an alternate "Without the pier" (two walls). Each change is made in the
file; LibreOffice recalculates; what it should give is computed by this package from a job or from
walls that were changed in the same way.
"""

from __future__ import annotations

import dataclasses
import functools
from decimal import Decimal

import openpyxl
import pytest
from conftest import ROOT
from sheets import column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings

SAMPLES = ROOT / "samples"
PIER = ("PIER FACE", "PIER RETURN")
ALTERNATE = "In Without the pier"


@functools.cache
def gatehouse(**settings):
    job = with_settings(load_job(SAMPLES / "gatehouse.toml"), plan__panels=False)
    by_area = {"order__allowance": "area"} | settings
    return take_off([SAMPLES / "gatehouse.dxf"], with_settings(job, **by_area))


def changed(tmp_path, change, made=None):
    """The workbook after a change by hand, calculated anew."""
    path = written(tmp_path, made or gatehouse())
    book = openpyxl.load_workbook(path)
    change(book)
    book.save(path)
    return recalculated(path, tmp_path)


def prices(book):
    """Materials, labor and total of the bid and of its alternate, as the price shows them."""
    sheet = book["Price"]
    rows = {str(row[0].value): [c.value for c in row[2:4]] for row in sheet.iter_rows()}
    return {name: rows[name] for name in ("Materials", "Labor", "Total")}


def of(order):
    """The same of an order: one column."""
    return [float(a) for a in (order.bid.lines[0].amount, order.bid.lines[1].amount)] + [
        float(order.bid.total)
    ]


def same(book, *orders):
    shown = prices(book)
    for number, order in enumerate(orders):
        assert [shown[name][number] for name in shown] == pytest.approx(of(order), abs=0.005)


def say_of(walls, word, title):
    """A change: the word in a column of the sheet Walls for some walls."""

    def change(book):
        sheet = book["Walls"]
        for row in range(5, sheet.max_row + 1):
            if sheet.cell(row, 2).value in walls:
                sheet.cell(row, column(sheet, title)).value = word

    return change


def test_the_alternate_is_another_price():
    made = gatehouse().order
    assert made.bid.total - made.alternates[0].order.bid.total > Decimal(400)


@needs_office
def test_a_wall_goes_out_of_the_bid(tmp_path):
    without = gatehouse().order.alternates[0].order
    same(changed(tmp_path, say_of(PIER, "no", "In this bid")), without, without)


@needs_office
def test_a_wall_goes_into_the_alternate(tmp_path):
    whole = gatehouse().order
    same(changed(tmp_path, say_of(PIER, "yes", ALTERNATE)), whole, whole)


@needs_office
def test_openings_that_are_not_deducted_move_both(tmp_path):
    def change(book):
        sheet = book["Openings"]
        for row in range(5, sheet.max_row):
            sheet.cell(row, column(sheet, "Deducted")).value = "no"

    kept = gatehouse(deduction__threshold_sqft=1e4).order
    assert kept.bid.total > gatehouse().order.bid.total
    same(changed(tmp_path, change), kept, kept.alternates[0].order)


@needs_office
def test_the_way_of_counting_moves_both(tmp_path):
    def change(book):
        book["Inputs"]["B5"] = "layout"

    other = gatehouse(order__allowance="layout").order
    same(changed(tmp_path, change), other, other.alternates[0].order)


@needs_office
def test_a_quantity_by_hand_moves_both_alike(tmp_path):
    """Twice the caulk on the bid is twice the caulk of the alternate."""
    line = next(n for n in gatehouse().order.lines if n.key == "caulk")

    def change(book):
        sheet = book["Inputs"]
        row = next(r for r in range(1, sheet.max_row) if sheet.cell(r, 1).value == "Caulk")
        sheet.cell(row, 5).value = 2.0 * line.chosen.measured

    after = changed(tmp_path, change)
    for sheet, order in (("Order", gatehouse().order), *(
        ("Alternates", a.order) for a in gatehouse().order.alternates
    )):  # fmt: skip
        row = next(r for r in after[sheet].iter_rows() if r[0].value == "Caulk")
        own = next(n for n in order.lines if n.key == "caulk").chosen.measured
        assert row[2].value == pytest.approx(2.0 * own, rel=1e-9)


@needs_office
def test_a_smaller_wall_moves_both(tmp_path):
    """Ten square feet less gross area of a wall that both have."""

    def change(book):
        sheet = book["Walls"]
        cell = sheet.cell(5, column(sheet, "Gross"))
        cell.value -= 10.0

    from dxf2veneer.order import order
    from dxf2veneer.order.alternates import corners_without, prices_of

    made = gatehouse()
    first = made.walls[0]
    sums = dataclasses.replace(
        first.quantities,
        gross_area=first.quantities.gross_area - 1440.0,
        net_area=first.quantities.net_area - 1440.0,
    )
    walls = (dataclasses.replace(first, quantities=sums), *made.walls[1:])
    assert first.wall.name not in PIER
    kept = [w for w in walls if w.wall.name not in PIER]
    own = order(walls, made.corners, None, made.job, made.product, prices_of(made.job))
    left = corners_without(made.corners, [w.wall for w in kept])
    other = order(kept, left, None, made.job, made.product, prices_of(made.job))
    same(changed(tmp_path, change), own, other)
