"""One request for each supplier: who gave a price before is asked for the goods again."""

from __future__ import annotations

import csv
import dataclasses

import openpyxl
import pytest
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.writers.workbook.request import by_supplier, write_request

SAMPLES = ROOT / "samples"
PRICES = """\
item,unit,price,supplier,valid_until
flat_panel,box,51.17,Yard North,2026-01-31
corner_panel,box,61.23,yard  north,2026-03-31
panel_fastener,box,39.31,Screws/Bolts: the [long] name of a shop,
starter_strip,each,9.19,,
"""


@pytest.fixture(scope="module")
def takeoff(tmp_path_factory):
    """The gatehouse with prices of two suppliers, one of them expired on the bid's day."""
    prices = tmp_path_factory.mktemp("prices") / "prices.csv"
    prices.write_text(PRICES, encoding="utf-8")
    job = with_settings(
        load_job(SAMPLES / "gatehouse.toml"), plan__panels=False, order__prices=str(prices),
        prices__as_of="2026-02-01", order__by_others=("wrb",),
    )  # fmt: skip
    return take_off([SAMPLES / "gatehouse.dxf"], job)


def items(sheet):
    """Each item of a sheet with its packages."""
    return {
        row[0].value: row[3].value
        for row in sheet.iter_rows(min_row=5)
        if isinstance(row[3].value, int)
    }


def test_a_supplier_gets_a_sheet_and_goods_of_none_stand_together_at_the_end(takeoff, tmp_path):
    path = tmp_path / "request.xlsx"
    write_request(takeoff, takeoff.order, path)
    book = openpyxl.load_workbook(path)
    north, shop, rest = book.worksheets
    assert north.title == "Yard North" and rest.title == "No supplier named"
    assert shop.title == "Screws Bolts the long name o"
    assert list(items(north)) == ["Flat panel", "Corner panel"]
    assert len(items(shop)) == 1 and "Starter strip" in items(rest)
    assert north["A2"].value.endswith(" · Yard North")
    bought = [line for line in takeoff.order.lines if not line.by_others]
    asked = [count for sheet in book for count in items(sheet).values()]
    assert sorted(asked) == sorted(line.chosen.packages for line in bought)


def test_a_price_that_has_expired_is_said_to_its_supplier_alone_and_without_the_price(
    takeoff, tmp_path
):
    path = tmp_path / "request.xlsx"
    write_request(takeoff, takeoff.order, path)
    said = [[c.value for row in sheet for c in row] for sheet in openpyxl.load_workbook(path)]
    assert ["2026-01-31" in cells for cells in said] == [True, False, False]
    assert any("quote them anew" in str(cell) for cell in said[0])
    assert not {51.17, 61.23, 39.31, 9.19} & {cell for cells in said for cell in cells}
    assert sum(n.code == "PRICE_EXPIRED" for n in takeoff.notices) == 1


def test_the_table_names_supplier_and_last_day_of_each_line(takeoff, tmp_path):
    path = tmp_path / "request.csv"
    write_request(takeoff, takeoff.order, path)
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    told = [(row["key"], row["supplier"], row["price_expired"]) for row in rows]
    assert told[:2] == [
        ("flat_panel", "Yard North", "2026-01-31"),
        ("corner_panel", "Yard North", ""),
    ]
    assert told[2][0] == "panel_fastener" and {supplier for _, supplier, _ in told[3:]} == {""}


def test_titles_of_sheets_are_never_the_same_or_one_that_is_reserved(takeoff, tmp_path):
    names = ("History", "A" * 40, "A" * 40 + "B", "''", "[]")
    lines = [
        dataclasses.replace(line, supplier=name)
        for line, name in zip(takeoff.order.lines, names, strict=False)
    ]
    path = tmp_path / "request.xlsx"
    write_request(takeoff, dataclasses.replace(takeoff.order, lines=tuple(lines)), path)
    titles = openpyxl.load_workbook(path).sheetnames
    assert len({title.casefold() for title in titles}) == len(by_supplier(lines)) == 5
    assert all(0 < len(title) <= 31 and title != "History" for title in titles)


@pytest.mark.parametrize("confirmed", [True, False])
def test_that_nobody_has_confirmed_it_stands_on_the_sheet_of_each_supplier(
    takeoff, tmp_path, confirmed
):
    job = with_settings(takeoff.job, proposal__confirmed=confirmed)
    path = tmp_path / "request.xlsx"
    write_request(dataclasses.replace(takeoff, job=job), takeoff.order, path)
    told = [sheet["A3"].value for sheet in openpyxl.load_workbook(path)]
    assert [cell is None for cell in told] == [confirmed] * 3


def test_nothing_to_order_is_one_sheet_that_says_so(takeoff, tmp_path):
    path = tmp_path / "request.xlsx"
    write_request(takeoff, dataclasses.replace(takeoff.order, lines=()), path)
    (sheet,) = openpyxl.load_workbook(path)
    assert sheet.title == "Request" and sheet["A5"].value == "nothing to order"
