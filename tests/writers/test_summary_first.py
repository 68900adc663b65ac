"""The summary's first boxes: every number of them is the order's, and they stand on top."""

from __future__ import annotations

import dataclasses

import pytest
from conftest import ROOT
from sheets import needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings


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
        "Open questions": 1 if order.bid.open else 0,
        "Boxes of flat panels": packages["flat_panel"],
        "Boxes of corner panels": packages["corner_panel"],
        "Corners, ft": corners,
        "Weight, lb": order.weight_lb,
        "Hours": float(order.hours),
        "Crew days": order.days,
        "Pallets": order.pallets,
        "Walls": 6,
    })  # fmt: skip


@needs_office
def test_without_prices_and_wage_the_summary_asks_for_them(tmp_path):
    made = gatehouse(order__prices=None, labour__wage=None)
    sheet = recalculated(written(tmp_path, made), tmp_path)["Summary"]
    found = boxes(sheet)
    assert found["Price"] == found["Price per sq ft"] == "no price yet"
    assert found["Open questions"] >= 2
    asked = " ".join(str(sheet.cell(row, 1).value) for row in range(17, 22))
    assert "Prices are missing" in asked and "No wage is given" in asked


@needs_office
def test_warnings_of_one_cause_are_one_open_question(tmp_path):
    made = gatehouse()
    grave = next(n for n in made.notices)
    many = tuple(dataclasses.replace(grave, code="SLIVER") for _ in range(7))
    made = dataclasses.replace(made, notices=many)
    sheet = recalculated(written(tmp_path, made), tmp_path)["Summary"]
    base = 1 if made.order.bid.open else 0
    assert boxes(sheet)["Open questions"] == base + 1
    lines = [str(sheet.cell(row, 1).value) for row in range(17, 24)]
    assert sum("(7 places)" in line for line in lines) == 1
