"""Small things of the customer's letter: sums that are right, nothing internal, nothing empty,
nothing hidden, names that are long."""

from __future__ import annotations

import dataclasses
import importlib.util
import shutil
import subprocess
from decimal import Decimal

import openpyxl
import pytest
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.model import ScopeElevation, ScopeWall
from dxf2veneer.order.letter import letter_of
from dxf2veneer.writers.bid import write_bid_pdf, write_bid_sheet
from dxf2veneer.writers.bid.content import content_of

SAMPLES = ROOT / "samples"
needs_pdf = pytest.mark.skipif(
    importlib.util.find_spec("typst") is None or shutil.which("pdftotext") is None,
    reason="the extra pdf or poppler is not on this machine",
)


def taken(name="gatehouse", **settings):
    job = with_settings(load_job(SAMPLES / f"{name}.toml"), plan__panels=False, **settings)
    return take_off([SAMPLES / f"{name}.dxf"], job)


@pytest.fixture(scope="module")
def gatehouse():
    return taken()


def letter(made):
    return letter_of(made, made.order)


def pdf_words(told, tmp_path, *options):
    path = tmp_path / "bid.pdf"
    write_bid_pdf(told, path)
    command = ["pdftotext", *options, str(path), "-"]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


@pytest.mark.parametrize("share", [1 / 3, 0.005, 0.4949])
def test_areas_add_up_as_they_are_printed(gatehouse, share):
    shares = [dataclasses.replace(s, net_area=144 * (100 + share)) for s in gatehouse.shares]
    elevations = tuple(
        dataclasses.replace(e, walls=(s,), net_area=s.net_area)
        for e, s in zip(gatehouse.elevations, shares, strict=True)
    )
    totals = dataclasses.replace(gatehouse.totals, net_area=sum(s.net_area for s in shares))
    told = letter(dataclasses.replace(gatehouse, elevations=elevations, totals=totals))
    assert len(told.scope) > 1
    assert sum(e.net_area for e in told.scope) == told.net_area
    assert all(sum(w.net_area for w in e.walls) == e.net_area for e in told.scope)
    assert told.net_area == round(Decimal(totals.net_area / 144), 2)


def test_the_note_of_the_house_is_not_told_the_letters_own_is():
    told = letter(taken(job__note="They want 12k", letter__note="Bid set of 3 March."))
    opening = content_of(told).opening
    assert "12k" not in opening and opening.endswith("net area. Bid set of 3 March.")


def test_a_heading_without_words_is_left_out(gatehouse):
    bare = dataclasses.replace(letter(gatehouse), exclude=(), by_others=(), items=(), include=())
    titles = [s.title for s in content_of(bare).sections]
    assert "Included" not in titles and "Not included" not in titles and "Assumptions" in titles


def test_an_alternate_with_a_nameless_product_says_no_folder(tmp_path):
    panel = tmp_path / "deep" / "slim-ledge.toml"
    panel.parent.mkdir()
    lines = (SAMPLES / "metric-panel.toml").read_text(encoding="utf-8").splitlines()
    nameless = [line for line in lines if not line.startswith("name =")]
    assert len(nameless) < len(lines)
    panel.write_text("\n".join(nameless), encoding="utf-8")
    text = (SAMPLES / "gatehouse.toml").read_text(encoding="utf-8")
    text = text.replace(
        "alternates = [", f'alternates = [{{ name = "Slim", product = "{panel}" }},'
    )
    shutil.copy(SAMPLES / "gatehouse-prices.csv", tmp_path)
    job = tmp_path / "job.toml"
    job.write_text(text, encoding="utf-8")
    made = take_off([SAMPLES / "gatehouse.dxf"], load_job(job))
    table = next(s for s in content_of(letter(made)).sections if s.title == "Alternates").table
    said = table.rows[0][1]
    assert "slim-ledge" in said and "/" not in said and ".toml" not in said


@needs_pdf
def test_signs_that_turn_the_direction_are_written_out_in_the_pdf(gatehouse, tmp_path):
    turned = dataclasses.replace(letter(gatehouse), customer="Mill \u202e001 Lane")
    words = pdf_words(turned, tmp_path)
    assert "\u202e" not in words and "202e" in words.lower()


LONG = "NORTHEASTERN NORTHEASTERN NORTHEASTERN NORTHEASTERN"


def with_long_names(gatehouse):
    walls = tuple(ScopeWall(f"W{n}", Decimal("101.25")) for n in range(1, 5))
    scope = (ScopeElevation(LONG, walls, Decimal(405), None),)
    return dataclasses.replace(letter(gatehouse), scope=scope, net_area=Decimal(405))


@needs_pdf
def test_a_long_name_leaves_room_for_the_walls(gatehouse, tmp_path):
    words = pdf_words(with_long_names(gatehouse), tmp_path, "-layout")
    assert any("W1 101.25 sq ft, W2" in line for line in words.splitlines())


def test_a_long_name_has_all_its_lines_in_the_workbook(gatehouse, tmp_path):
    """A column 24 digits wide has room for one word of 12 bold capitals and no second one: a
    capital is about 1.25 times as wide as a digit (measured in a common font)."""
    path = tmp_path / "bid.xlsx"
    write_bid_sheet(with_long_names(gatehouse), path)
    sheet = openpyxl.load_workbook(path)["Proposal"]
    row = next(c.row for c in sheet["A"] if c.value == LONG)
    assert sheet.row_dimensions[row].height >= 4 * 15


GARAGE = as_additions([{"area": 120, "corners": "16'", "reason": "Garage side"}])


def test_a_wall_by_its_area_stands_in_the_scope_and_is_told_as_such():
    plain, told = letter(taken()), letter(taken(order__additions=GARAGE))
    last = told.scope[-1]
    assert (last.name, last.walls, last.net_area) == ("Garage side", (), Decimal("120.00"))
    assert told.net_area == plain.net_area + 120 == sum(e.net_area for e in told.scope)
    assert "as drawn, and by area alone: Garage side;" in repr(content_of(told))


def test_a_wall_by_its_area_has_a_price_of_its_own():
    told = letter(taken(order__additions=GARAGE, letter__pricing="elevation"))
    assert told.scope[-1].price > 0
    assert sum(e.price for e in told.scope) == told.price
