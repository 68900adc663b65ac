"""What a supplier needs to know of each line of a request: its size, product, unit and weight, and
on top where the takeoff is not to be relied on."""

from __future__ import annotations

import csv
import dataclasses

import openpyxl
import pytest
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.writers.workbook.request import write_request

SAMPLES = ROOT / "samples"


def made(name):
    job = with_settings(load_job(SAMPLES / f"{name}.toml"), plan__panels=False)
    return take_off([SAMPLES / f"{name}.dxf"], job)


@pytest.fixture(scope="module")
def gatehouse():
    return made("gatehouse")


def asked(takeoff, tmp_path):
    """The lines of the request as CSV, by key."""
    path = tmp_path / "request.csv"
    write_request(takeoff, takeoff.order, path)
    with path.open(encoding="utf-8-sig", newline="") as file:
        return {row["key"]: row for row in csv.DictReader(file)}


def test_goods_by_the_meter_are_asked_for_in_meters_and_kilograms(tmp_path):
    takeoff = made("boathouse")
    rows = asked(takeoff, tmp_path)
    assert {"m", "m²"} <= {row["unit"] for row in rows.values()}
    pounds = next(o for o in takeoff.order.lines if o.key == "flat_panel").chosen.weight_lb
    weight = float(rows["flat_panel"]["weight"])
    assert weight == pytest.approx(pounds * 0.45359237)  # the pound by definition
    assert rows["flat_panel"]["weight_unit"] == "kg" and "mm" in rows["flat_panel"]["size"]
    write_request(takeoff, takeoff.order, tmp_path / "request.xlsx")


def test_each_line_names_size_product_and_job(gatehouse, tmp_path):
    rows = asked(gatehouse, tmp_path)
    panel, product = gatehouse.product.panel, gatehouse.product.product.name
    size = f"{panel.length:g} in x {panel.height:g} in"
    assert rows["flat_panel"]["size"] == size and product
    lines = [row for key, row in rows.items() if key != "caution"]
    assert {(row["product"], row["job"], row["company"]) for row in lines} == {
        (product, gatehouse.job.job.name, gatehouse.job.job.company)
    }


def test_an_unconfirmed_takeoff_says_so_above_the_lines(gatehouse, tmp_path):
    proposed = dataclasses.replace(
        gatehouse, job=with_settings(gatehouse.job, proposal__confirmed=False)
    )
    assert proposed.is_unconfirmed and not gatehouse.is_unconfirmed
    assert "unconfirmed" in asked(proposed, tmp_path)
    assert "unconfirmed" not in asked(gatehouse, tmp_path)
    path = tmp_path / "request.xlsx"
    write_request(proposed, proposed.order, path)
    book = openpyxl.load_workbook(path)
    said = book["Request"]["A3"].value
    assert said and "Notices" not in said and book.sheetnames == ["Request"]
