"""What goes to the supplier and to other programs: as many rows as the order has, no price in the
request; papers can be asked for more than once, and for each drawing of its own."""

from __future__ import annotations

import csv
import dataclasses
import json
from decimal import Decimal

import openpyxl
import pytest
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.app.outputs import TABLES
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.writers.result import result_dict
from dxf2veneer.writers.tables import tables_of
from dxf2veneer.writers.workbook.request import write_request

SAMPLES = ROOT / "samples"


def run(*words):
    drawing, job = SAMPLES / "gatehouse.dxf", SAMPLES / "gatehouse.toml"
    command = ["takeoff", drawing, "--job", job, "--no-plan", "-q", *words]
    return CliRunner().invoke(main, [str(word) for word in command])


@pytest.fixture(scope="module")
def made():
    job = with_settings(load_job(SAMPLES / "gatehouse.toml"), plan__panels=False)
    return take_off([SAMPLES / "gatehouse.dxf"], job)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("papers")
    papers = ("--bid", "a.xlsx", "--bid", "b.xlsx", "--request", "r.csv", "--request", "r.xlsx")
    named = [folder / word if "." in word else word for word in papers]
    told = run("-o", folder / "out", *named, "--tables", folder / "tables")
    assert told.exit_code == 0, told.output
    return folder


def rows_of(path):
    """Heads and rows of goods, without the caution below and the last column, which seals the
    file."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        lines = [row[:-1] for row in csv.reader(file)]
    return lines[0], [row for row in lines[1:] if any(row) and row[0] != "caution"]


def test_papers_that_are_asked_for_twice_are_all_written(folder):
    assert {p.name for p in folder.iterdir() if p.is_file()} == {
        "a.xlsx", "b.xlsx", "r.csv", "r.xlsx",
    }  # fmt: skip


def test_the_same_paper_twice_is_refused_in_one_line(tmp_path):
    told = run("-o", tmp_path / "out", "--bid", tmp_path / "a.xlsx", "--bid", tmp_path / "a.xlsx")
    assert told.exit_code == 2 and "would be written twice" in told.output
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["bid", "bid.docx", "bid.csv"])
def test_a_bid_of_another_kind_is_refused_in_one_line(tmp_path, name):
    told = run("-o", tmp_path / "out", "--bid", tmp_path / name)
    assert told.exit_code == 2 and f"--bid: {tmp_path / name}" in told.output.replace("\n", "")
    assert not list(tmp_path.iterdir())


def asked_for(made):
    return [
        (line.package, line.chosen.packages, line.per_package)
        for line in made.order.lines
        if not line.by_others
    ]


def test_the_request_has_the_orders_packages_and_room_for_prices(folder, made):
    heads, rows = rows_of(folder / "r.csv")
    at = [heads.index(head) for head in ("package", "packages", "holds")]
    found = [(r[at[0]], int(r[at[1]]), pytest.approx(float(r[at[2]]))) for r in rows]
    assert found == asked_for(made) and len(found) > 8
    assert {r[heads.index("price_of_a_package")] for r in rows} == {""}
    sheet = openpyxl.load_workbook(folder / "r.xlsx")["Request"]
    cells = {
        (row[4].value, row[3].value, row[5].value)
        for row in sheet.iter_rows(min_row=4)
        if isinstance(row[3].value, int)
    }
    assert cells == set(asked_for(made))


@pytest.mark.parametrize("name", ["r.csv", "r.xlsx"])
def test_no_price_or_cost_is_in_the_request(made, tmp_path, name):
    path = tmp_path / name
    write_request(made, made.order, path)
    if name == "r.csv":
        cells = [cell for row in rows_of(path)[1] for cell in row]
    else:
        cells = [c.value for row in openpyxl.load_workbook(path)["Request"] for c in row]
    numbers = {Decimal(str(c)) for c in cells if str(c).replace(".", "", 1).isdigit()}
    lines = made.order.lines
    secret = {Decimal(n) for o in lines for n in (o.price, o.package_price, o.chosen.cost) if n}
    known = {Decimal(str(o.per_package)) for o in lines} | {o.chosen.packages for o in lines}
    assert len(secret - known) > 12 and not numbers & (secret - known)


def test_what_others_supply_is_not_asked_for(tmp_path):
    job = load_job(SAMPLES / "gatehouse.toml")
    job = with_settings(job, plan__panels=False, order__by_others=("wrb",))
    made = take_off([SAMPLES / "gatehouse.dxf"], job)
    path = tmp_path / "request.csv"
    write_request(made, made.order, path)
    assert len(rows_of(path)[1]) == len(made.order.lines) - 1
    assert "barrier" not in path.read_text(encoding="utf-8-sig")


def test_every_table_is_a_csv_and_all_are_one_json(folder, made):
    names = {p.name for p in (folder / "tables").iterdir()}
    assert names == {f"gatehouse-{name}.csv" for name in TABLES} | {"gatehouse-tables.json"}
    held = json.loads((folder / "tables" / "gatehouse-tables.json").read_text(encoding="utf-8"))
    for table in tables_of(made):
        heads, rows = rows_of(folder / "tables" / f"gatehouse-{table.name}.csv")
        assert tuple(heads) == table.columns and len(rows) == len(held[table.name])
        assert len(rows) == len(table.rows)


def test_the_tables_of_money_are_the_orders(folder, made):
    held = json.loads((folder / "tables" / "gatehouse-tables.json").read_text(encoding="utf-8"))
    order = made.order
    assert [row["cost"] for row in held["items"]] == [float(o.chosen.cost) for o in order.lines]
    assert [row["hours"] for row in held["labor"]] == [float(o.hours) for o in order.labour]
    assert [row["amount"] for row in held["price"]] == [float(o.amount) for o in order.bid.lines]
    assert held["alternates"][0]["total"] == float(order.alternates[0].order.bid.total)
    for name in ("wall-shares", "elevation-shares"):
        whole = sum(Decimal(str(row["price"])) for row in held[name])
        assert whole == order.bid.total
    told = [(row["line"], row["how"], row["value"], row["per"]) for row in held["price"]]
    assert ("Freight", "rate", 85.0, "pallets") in told and ("Profit", "margin", 8.0, None) in told
    assert {(row["currency"], row["by_others"]) for row in held["items"]} == {("USD", "no")}
    net = sum(row["net_sqft"] for row in held["walls"])
    assert net == pytest.approx(made.totals.net_area / 144)


def test_the_result_has_the_shares_and_they_sum_up_to_the_bid(made):
    result = result_dict(made)
    shares = result["shares"]
    for parts in (shares, [wall for one in shares for wall in one["walls"]]):
        assert sum(Decimal(str(one["price"])) for one in parts) == made.order.bid.total
        assert sum(Decimal(str(one["hours"])) for one in parts) == made.order.hours
        boxes = sum(Decimal(str(one["packages"]["flat_panel"])) for one in parts)
        assert boxes == made.order.lines[0].chosen.packages
    assert [w["wall"] for one in shares for w in one["walls"]] == [w.wall.id for w in made.walls]


def test_hours_that_nobody_knows_are_no_zero(made):
    work = dataclasses.replace(made.order.labour[0], hours_each=None, hours=Decimal(0), cost=None)
    order = dataclasses.replace(made.order, labour=(work,))
    table = next(t for t in tables_of(dataclasses.replace(made, order=order)) if t.name == "labor")
    assert work.is_open and table.rows[0][table.columns.index("hours")] is None


def test_with_each_the_papers_of_every_drawing_go_into_folders(tmp_path):
    pytest.importorskip("typst")
    out = tmp_path / "out"
    named = ("--bid", tmp_path / "bids", "--request", tmp_path / "requests")
    told = run("--each", "--workers", "1", "-o", out, *named, "--tables", tmp_path / "tables")
    assert told.exit_code == 0, told.output
    assert [p.name for p in (tmp_path / "bids").iterdir()] == ["gatehouse-bid.pdf"]
    assert [p.name for p in (tmp_path / "requests").iterdir()] == ["gatehouse-request.xlsx"]
    assert len(list((tmp_path / "tables").iterdir())) == len(TABLES) + 1
