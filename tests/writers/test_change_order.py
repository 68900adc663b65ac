"""The change order: add and deduct by walls, totals so far, nothing of how prices came about."""

from __future__ import annotations

import dataclasses
import re
import shutil
import subprocess
from decimal import Decimal
from pathlib import Path

import ezdxf
import openpyxl
import pytest
from click.testing import CliRunner
from hostile import PAYLOADS, spoiled
from sheets import needs_office, recalculated

from dxf2veneer.app.revising import compared, version_of
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.model import ChangeTerms, EarlierChange
from dxf2veneer.order.change_order import change_order_of
from dxf2veneer.revisions.laying import laid_walls
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.change_order import write_change_order_pdf, write_change_order_sheet
from dxf2veneer.writers.change_order.content import content_of

JOB = """
[job]
name = "Mill Lane"
company = "Example Stone Ltd"

[layers]
wall = ["WALL"]
window = ["WINDOW"]

[plan]
panels = false

[order]
prices = "prices.csv"

[labour]
wage = 73.25
layout = 0.1

[bid]
lines = [{ name = "Profit", kind = "profit", percent = 61.5 }]

[letter]
customer = "Alder Builders"
signed_by = "R. Alder"
"""
PRICES = Path(__file__).parents[2] / "samples" / "gatehouse-prices.csv"
TERMS = ChangeTerms(
    "3", "March 9, 2026", "Addendum 2", Decimal("12890.00"),
    (EarlierChange("1", Decimal("350.00")), EarlierChange("2", Decimal("-120.50"))),
)  # fmt: skip


def drawn(path, windows):
    r"""Two walls of 20 by 9 ft, one with each window.

    .-----------.   .-----------.  108
    |   [  ]    |   |   [  ]    |
    '-----------'   '-----------'  0
    0         240   300       540
    """
    doc = ezdxf.new()
    doc.units = 1
    for layer, boxes in (("WALL", [(0, 0, 240, 108), (300, 0, 540, 108)]), ("WINDOW", windows)):
        for x0, y0, x1, y1 in boxes:
            ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
            doc.modelspace().add_lwpolyline(ring, close=True, dxfattribs={"layer": layer})
    doc.saveas(path)
    return path


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A window of W1 grew from 12 to 40 sq ft, that of W2 shrank from 40 to 12; W2 ends up with
    more stone, W1 with less.
    """
    folder = tmp_path_factory.mktemp("change")
    (folder / "job.toml").write_text(JOB)
    shutil.copy(PRICES, folder / "prices.csv")
    small, large = (60, 36, 96, 84), (60, 36, 180, 84)
    east = [(x0 + 300, y0, x1 + 300, y1) for x0, y0, x1, y1 in (large, small)]
    old = drawn(folder / "old.dxf", [small, east[0]])
    new = drawn(folder / "new.dxf", [large, east[1]])
    job = load_job(folder / "job.toml")
    found = compared(version_of(old), version_of(new), job)
    return folder, found, job


@pytest.fixture
def order(made):
    _, found, job = made
    return change_order_of(found.revision, laid_walls(found.revision), job, TERMS)


def test_add_and_deduct_stand_apart_and_sum_to_the_difference_of_two_bids(made, order):
    _, found, _ = made
    old, new = (side.order.bid.total for side in (found.old, found.new))
    west, east = order.changes
    assert (west.net_area_sqft, east.net_area_sqft) == pytest.approx((-28.0, 28.0))
    assert west.price < 0 < east.price
    assert (order.add, order.deduct) == (east.price, west.price)
    assert order.add + order.deduct + order.rest == order.total == new - old
    assert order.to_date == Decimal("12890.00") + Decimal("229.50") + order.total


def test_without_a_contract_the_takeoff_before_is_what_changes(made):
    _, found, job = made
    bare = change_order_of(found.revision, (), job, ChangeTerms())
    assert bare.contract == found.old.order.bid.total
    assert bare.to_date == found.new.order.bid.total
    origins = [origin for *_, origin in content_of(bare).totals]
    assert origins == ["from the two takeoffs", "from the two takeoffs", "sum"]


def test_what_the_user_gives_is_marked_so(order):
    content = content_of(order)
    assert content.facts[:3] == (
        ("Number", "3", "given by the user"),
        ("Date", "March 9, 2026", "given by the user"),
        ("Reason", "Addendum 2", "given by the user"),
    )
    assert [row[::2] for row in content.totals[:3]] == [
        ("Contract before changes", "given by the user"),
        ("Change order 1", "given by the user"),
        ("Change order 2", "given by the user"),
    ]


def test_without_prices_nothing_is_promised(order):
    open_ = dataclasses.replace(
        order, total=None, add=None, deduct=None, rest=None, contract=None,
        changes=tuple(c._replace(price=None) for c in order.changes),
    )  # fmt: skip
    content = content_of(open_)
    assert "No price yet" in content.alert and content.sums == ()
    assert content.totals[-1][1] == "to be stated"


@needs_office
def test_the_workbook_comes_to_the_same_in_another_program(tmp_path, order):
    path = tmp_path / "order.xlsx"
    write_change_order_sheet(order, path)
    assert is_ours(path)
    book = recalculated(path, tmp_path)
    rows = {row[0]: row for row in book["Change order"].iter_rows(values_only=True) if row[0]}
    rest = order.rest or Decimal(0)
    assert rows["All"][3] == pytest.approx(float(order.add + max(rest, 0)), abs=0.005)
    assert rows["All"][4] == pytest.approx(float(order.deduct + min(rest, 0)), abs=0.005)
    assert rows["This change order"][4] == pytest.approx(float(order.total), abs=0.005)
    assert rows["Total so far"][4] == pytest.approx(float(order.to_date), abs=0.005)
    shown = openpyxl.load_workbook(path, data_only=True)  # values are in the file itself too
    assert [[c.value for c in r] for r in shown["Quantities"].iter_rows()] == [
        [c.value for c in r] for r in book["Quantities"].iter_rows()
    ]


def texts_of(path, tmp_path):
    if path.suffix == ".xlsx":
        book = openpyxl.load_workbook(path)
        cells = (c.value for sheet in book for row in sheet.iter_rows() for c in row)
        return "\n".join(str(value) for value in cells if value is not None)
    done = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8")


@pytest.mark.parametrize("ending", [".xlsx", ".pdf"])
def test_no_cost_rate_or_markup_reaches_the_customer(tmp_path, made, order, ending):
    if ending == ".pdf":
        pytest.importorskip("typst")
        if shutil.which("pdftotext") is None:
            pytest.skip("poppler is not installed")
    path = tmp_path / f"order{ending}"
    write = write_change_order_pdf if ending == ".pdf" else write_change_order_sheet
    write(order, path)
    text = texts_of(path, tmp_path)
    assert is_ours(path)
    assert "Change order 3: Mill Lane" in text and "Addendum 2" in text
    assert "W1" in text and "Alder Builders" in text
    _, found, _ = made
    secret = {"73.25", "61.5", "Profit", "labor", "hours", "materials"}
    for side in (found.old, found.new):
        for line in side.order.lines:
            secret |= {f"{line.chosen.cost:,.2f}"} if line.chosen.cost else set()
        secret |= {f"{line.amount:,.2f}" for line in side.order.bid.lines if line.amount}
    assert not [word for word in secret if re.search(rf"(?<![\d.,]){re.escape(word)}", text)]


@pytest.mark.parametrize("payload", PAYLOADS.values(), ids=PAYLOADS)
def test_hostile_texts_stay_texts(tmp_path, order, payload):
    def formulas(text, name):
        of = dataclasses.replace(spoiled(text, order), figures=order.figures)  # keys are ours
        path = tmp_path / name
        write_change_order_sheet(of, path, alert=of.job)
        cells = (c for s in openpyxl.load_workbook(path) for row in s.iter_rows() for c in row)
        return {(c.parent.title, c.coordinate): c.value for c in cells if c.data_type == "f"}

    plain = formulas("plain", "plain.xlsx")
    assert plain and formulas(payload, "hostile.xlsx") == plain


def run(made, *words, code=0):
    folder, *_ = made
    sides = folder / "old.dxf", folder / "new.dxf", "--job", folder / "job.toml"
    result = CliRunner().invoke(main, ["compare", *map(str, (*sides, *words))])
    assert result.exit_code == code, result.output
    return result.output


def test_the_command_writes_it(tmp_path, made):
    path = tmp_path / "order.xlsx"
    run(made, "--change-order", path, "--change-number", "4", "--contract-price", "10,000",
        "--earlier-change", "CO-1=-250.5")  # fmt: skip
    text = texts_of(path, tmp_path)
    assert "Change order 4: Mill Lane" in text and "-250.5" in text and "10000" in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--contract-price", "much"], "--contract-price"),
        (["--contract-price", "1", "--earlier-change", "350"], "NUMBER=AMOUNT"),
        (["--earlier-change", "1=350"], "--contract-price"),
        (["--change-order", "order.docx"], ".xlsx"),
    ],
)
def test_what_can_not_be_read_is_refused_in_one_line(tmp_path, made, words, told):
    output = run(made, "--change-order", tmp_path / "order.xlsx", *words, code=2)
    assert told in output.splitlines()[-1]
    assert not (tmp_path / "order.xlsx").exists()
