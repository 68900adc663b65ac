"""The sheet of shares: it shows the takeoff's shares to the cent, and follows changes.

Recalculated by LibreOffice; the parts are those of order/shares.py, which test_shares.py
checks by hand.
"""

from __future__ import annotations

import functools

import openpyxl
import pytest
from conftest import ROOT
from sheets import column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.wall_rows import Treatment

SAMPLES = ROOT / "samples"
PIER = Treatment(("PIER FACE", "PIER RETURN"), True, None, "Second")


@functools.cache
def gatehouse(panels, **settings):
    job = with_settings(
        load_job(SAMPLES / "gatehouse.toml"),
        plan__panels=panels,
        walls__treatments=(PIER,),
        order__additions=as_additions([{"area": 60, "corners": "8'", "reason": "Garage"}]),
        **settings,
    )
    return take_off([SAMPLES / "gatehouse.dxf"], job)


def tables(book):
    """The tables of the sheet: rows under each head, by the head's first cell."""
    found, rows = {}, None
    for row in book["Shares"].iter_rows(values_only=True):
        if row[0] in ("Wall", "Elevation", "Phase", "Delivery", "What each wall causes"):
            rows = found.setdefault(row[0], [])
        elif rows is not None and row[0] is not None and row[3] is not None:
            rows.append(row)
    return found


def told(row):
    return [round(float(value), 2) for value in row[4:8]]


def of(share):
    return [float(v) for v in (share.materials, share.labour, share.hours, share.price)]


@needs_office
@pytest.mark.parametrize("panels", [True, False])
def test_it_shows_the_takeoffs_shares(tmp_path, panels):
    made = gatehouse(panels)
    found = tables(recalculated(written(tmp_path, made), tmp_path))
    for head, shares in (
        ("Wall", made.shares), ("Elevation", made.elevations), ("Phase", made.phases),
    ):  # fmt: skip
        rows = found[head][:-1]
        assert [told(row) for row in rows] == [pytest.approx(of(s), abs=0.005) for s in shares]
        assert told(found[head][-1])[3] == float(made.order.bid.total)
    assert [row[0] for row in found["Wall"]][-2:] == ["Garage", "Total"]
    assert [row[0] for row in found["Phase"]] == ["none", "Second", "Total"]
    packages = [i.packages for d in made.order.deliveries for i in d.items]
    assert [row[3] for row in found["Delivery"]] == packages
    for n, key in ((8, "flat_panel"), (9, "corner_panel")):
        line = next(one for one in made.order.lines if one.key == key)
        assert found["Wall"][-1][n] == pytest.approx(line.chosen.packages)


@needs_office
def test_it_follows_a_price_and_a_wall_that_goes_out_of_the_bid(tmp_path):
    made = gatehouse(False)
    path = written(tmp_path, made)
    book = openpyxl.load_workbook(path)
    sheet = book["Walls"]
    for row in range(5, sheet.max_row + 1):
        if sheet.cell(row, 2).value == "PIER FACE":
            sheet.cell(row, column(sheet, "In this bid")).value = "no"
    inputs = book["Inputs"]
    row = next(r for r in range(1, inputs.max_row) if inputs.cell(r, 1).value == "Flat panel")
    inputs.cell(row, 11).value *= 2
    book.save(path)
    after = recalculated(path, tmp_path)
    found = tables(after)
    walls = {row[1]: row for row in found["Wall"]}
    total = next(r for r in after["Price"].iter_rows(values_only=True) if r[0] == "Total")[2]
    assert told(walls["PIER FACE"]) == [0.0] * 4
    assert told(walls["SIDE"])[0] > 1.3 * float(made.shares[1].materials)
    assert round(sum(told(row)[3] for row in found["Wall"][:-1]), 2) == round(total, 2)
    assert str(after["Shares"]["A1"].value) == "Shares"
    assert any("STALE" in str(c.value) for c in after["Shares"]["A"])


@needs_office
def test_a_deduction_moves_what_goes_by_net_area_alone(tmp_path):
    """Work by net area follows a wall's area; its pieces, cuts and openings are what they were."""
    rates = {f"labour__{key}": 0.1 for key in ("flat", "corner", "cut", "partial", "opening")}
    rates |= {"labour__setup": 0.0, "labour__cleanup": 0.0}  # shared by net area
    made = gatehouse(True, **rates, labour__stone=0.1, labour__layout=0.5)
    path = written(tmp_path, made)
    book = openpyxl.load_workbook(path)
    sheet = book["Openings"]
    opening = made.walls[0].quantities.openings[0].opening
    row = next(r for r in range(5, sheet.max_row + 1) if sheet.cell(r, 1).value == opening.id)
    deducts = sheet.cell(row, column(sheet, "Deducted"))
    assert deducts.value == "yes"
    deducts.value = "no"
    book.save(path)
    after = tables(recalculated(path, tmp_path))["Wall"]
    more = 0.5 * made.walls[0].quantities.openings[0].area / 144  # hours
    changes = [told(row)[2] - float(s.hours) for row, s in zip(after, made.shares, strict=False)]
    assert changes == pytest.approx([more, *[0.0] * (len(made.shares) - 1)], abs=0.011)
