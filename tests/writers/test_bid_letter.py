"""The customer's bid: what stands in it, and that no number of how its price came about does.

The numbers that must not be there are taken from the order of the same takeoff; poppler reads the
PDF back and is no part of this project.
"""

from __future__ import annotations

import dataclasses
import importlib.util
import re
import shutil
import subprocess
import zipfile
from decimal import Decimal
from functools import cache

import openpyxl
import pytest
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.order.letter import letter_of
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.bid import write_bid_pdf, write_bid_sheet
from dxf2veneer.writers.bid.content import content_of

JOB = (ROOT / "samples" / "gatehouse.toml").read_text(encoding="utf-8")
LETTER = """
[letter]
customer = "Mill Lane Builders"
address = ["12 Mill Lane"]
date = "March 3, 2026"
valid = "30 days from its date"
pricing = "{pricing}"
unit_prices = [{{ name = "Veneer added", price = 34, unit = "sq ft" }}]
assume = ["Walls are plumb"]
signed_by = "R. Alder"
[plan]
panels = false
"""
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
needs_pdf = pytest.mark.skipif(
    importlib.util.find_spec("typst") is None or shutil.which("pdftotext") is None,
    reason="the extra pdf or poppler is not on this machine",
)


@cache
def taken(folder, pricing="lump", more=""):
    """The Gatehouse with the letter's settings and a wage whose digits stand nowhere else."""
    job = folder / f"{pricing}{len(more)}.toml"
    text = JOB.replace("wage = 42.50", "wage = 43.57") + LETTER.format(pricing=pricing) + more
    shutil.copy(ROOT / "samples" / "gatehouse-prices.csv", folder)
    job.write_text(text, encoding="utf-8")
    return take_off([ROOT / "samples" / "gatehouse.dxf"], load_job(job))


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("letter")


def letter(made):
    return letter_of(made, made.order)


def numbers(text):
    return {Decimal(n.replace(",", "")) for n in NUMBER.findall(text)}


def kept_back(made):
    """Every number of cost, rate, wage, markup and hours in the order and its alternates."""
    found = {made.order.wage, made.order.hours, Decimal(repr(round(made.order.days, 2)))}
    for order in (made.order, *(a.order for a in made.order.alternates)):
        for line in order.lines:
            found |= {line.price, line.package_price, line.chosen.cost}
        for work in order.labour:
            found |= {work.hours_each, work.hours, work.cost}
        for line in order.bid.lines:
            values = (getattr(line, name, None) for name in ("percent", "value", "base"))
            found |= {line.amount, line.running, *values}
    found |= {a.order.bid.total for a in made.order.alternates}
    for share in made.shares:
        found |= {share.materials, share.labour, share.hours}
    return {Decimal(n) for n in found if n is not None} - {Decimal(0)}


def public(made):
    """What the customer may read, each number from where the takeoff has it."""
    told = letter(made)
    texts = [made.job.letter.date, made.job.letter.valid, *told.address]
    words = [text for s in content_of(told).sections[-1:] for text in s.texts]
    found = numbers(" ".join((*texts, *words, told.product)))
    found |= {made.order.bid.total, told.rate, told.price, Decimal(34)}
    found |= {abs(a.difference) for a in told.alternates}
    found |= {told.net_area} | {e.net_area for e in told.scope}
    found |= {w.net_area for e in told.scope for w in e.walls}
    found |= {e.price for e in told.scope} | {Decimal(n) for n in range(1, len(made.walls) + 1)}
    return found - {None}


def text_of(path, tmp_path):
    """Everything that can be read in the file, properties too."""
    if path.suffix == ".pdf":
        return "".join(
            subprocess.run([*tool, str(path), *end], check=True, capture_output=True, text=True)
            .stdout
            for tool, end in ((["pdftotext", "-layout"], ["-"]), (["pdfinfo"], []))
        )  # fmt: skip
    book = openpyxl.load_workbook(path)
    return " ".join(str(c.value) for s in book for row in s.iter_rows() for c in row if c.value)


@pytest.mark.parametrize("pricing", ["lump", "elevation", "area"])
@pytest.mark.parametrize("ending", [".xlsx", pytest.param(".pdf", marks=needs_pdf)])
def test_no_number_of_cost_wage_markup_or_hours_is_in_the_file(folder, tmp_path, pricing, ending):
    made = taken(folder, pricing)
    path = tmp_path / f"bid{ending}"
    (write_bid_pdf if ending == ".pdf" else write_bid_sheet)(letter(made), path)
    found = text_of(path, tmp_path)
    if ending == ".pdf":  # the file's properties tell its own size, tool and paper
        found, _, properties = found.partition("Title:")
        assert "43.57" not in properties
    secret = kept_back(made) - public(made)
    assert len(secret) > 60 and Decimal("43.57") in secret
    assert numbers(found) & secret == set()
    assert numbers("wage 43.57") & secret, "the search finds what it looks for"
    assert is_ours(path)


def test_the_workbook_has_one_sheet_in_sight_and_no_formula_name_or_comment(folder, tmp_path):
    made, path = taken(folder), tmp_path / "bid.xlsx"
    write_bid_sheet(letter(made), path)
    book = openpyxl.load_workbook(path)
    assert [(s.title, s.sheet_state) for s in book] == [("Proposal", "visible")]
    assert all(c.data_type != "f" for row in book["Proposal"].iter_rows() for c in row)
    assert not book.defined_names
    long = {f"{n}" for n in kept_back(made) - public(made) if len(f"{n}") > 4}
    with zipfile.ZipFile(path) as file:
        parts = {name: file.read(name).decode() for name in file.namelist()}
    assert not any("comment" in name or "externalLink" in name for name in parts)
    found = {(name, n) for name, text in parts.items() for n in long if n in text}
    assert len(long) > 40 and found == set()


@pytest.mark.parametrize("word", ["standing text", "adapt it", "markup", "overhead", "margin",
                                  "wage", "hours", "cost", "code compliant"])  # fmt: skip
def test_no_word_of_the_house_is_in_the_letter(folder, tmp_path, word):
    path = tmp_path / "bid.xlsx"
    write_bid_sheet(letter(taken(folder)), path)
    said = text_of(path, tmp_path).lower()
    assert word not in said.replace("4 hours a shift", "")  # the standard's, in the caution


def test_every_wall_stands_in_the_scope_with_its_area(folder, tmp_path):
    made = taken(folder)
    scope = content_of(letter(made)).sections[0].table
    assert not re.search(r"\bW\d+\b", " ".join(cell for row in scope.rows for cell in row))
    for w, row in zip(made.walls, scope.rows, strict=True):
        area = float(re.fullmatch(r"one wall ([\d.]+) sq ft", row[1])[1])
        assert area == pytest.approx(w.quantities.net_area / 144, abs=0.01)
    assert [row[0] for row in scope.rows] == [w.wall.name for w in made.walls]


def test_every_way_of_stating_the_price_states_the_bids_total(folder):
    by_elevation, by_area = (letter(taken(folder, p)) for p in ("elevation", "area"))
    total = taken(folder).order.bid.total
    assert sum(e.price for e in by_elevation.scope) == by_elevation.price == total
    area = by_area.net_area
    assert by_area.price == total
    assert abs(by_area.rate * area - total) <= area * Decimal("0.005")
    assert total != by_area.rate * area, "here the rounded rate would make another price"
    assert f"{total:,.2f} USD" in content_of(by_area).price


def test_an_alternate_shows_what_it_adds_or_deducts(folder):
    made = taken(folder)
    (alternate,) = made.order.alternates
    rows = next(s for s in content_of(letter(made)).sections if s.title == "Alternates").table.rows
    less = made.order.bid.total - alternate.order.bid.total
    assert less > 0 and rows[0][-1] == f"deduct {less:,.2f} USD"
    more = letter(made).alternates[0]._replace(difference=Decimal("5"))
    raised = dataclasses.replace(letter(made), alternates=(more,))
    rows = next(s for s in content_of(raised).sections if s.title == "Alternates").table.rows
    assert rows[0][-1] == "add 5.00 USD"


def test_without_a_total_the_letter_says_so_and_states_no_price(folder):
    told = content_of(dataclasses.replace(letter(taken(folder)), price=None))
    assert told.price == ("Price", "to be stated") and "not complete" in told.alert


def test_what_was_left_out_of_the_job_file_is_a_line_to_fill_in(folder):
    bare = dataclasses.replace(letter(taken(folder)), customer="", date="", valid="", company="")
    told = content_of(bare)
    assert {told.company, *told.customer, *(v for _, v in told.facts)} == {"_" * 24}


def told_with(folder, *changes):
    """The letter of the Gatehouse with its job file changed: text and what stands in its place."""
    text = JOB
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    job = folder / f"changed{len(list(folder.iterdir()))}.toml"
    text += LETTER.format(pricing="lump")
    shutil.copy(ROOT / "samples" / "gatehouse-prices.csv", folder)
    job.write_text(text, encoding="utf-8")
    made = take_off([ROOT / "samples" / "gatehouse.dxf"], load_job(job))
    return {s.title: " ".join(s.texts) for s in content_of(letter(made)).sections}


FREIGHT = '{ name = "Freight"'
REPAIR = '{ name = "Sheathing repair", kind = "lump", amount = 400 }, '


@pytest.mark.parametrize(
    ("change", "left", "gone"),
    [
        (("wage", "wage"), "Framing", "Scaffolds"),
        (("scaffold = 0.02", "scaffold = 0"), "Scaffolds", ""),
        (("scaffold = 0.02\n", ""), "Scaffolds", ""),
        ((FREIGHT, REPAIR + FREIGHT), "Flashing", "sheathing"),
        ((FREIGHT, REPAIR.replace("400", "0") + FREIGHT), "sheathing", "Scaffolds"),
        (('["Delivery', '["Framing of the piers", "Delivery'), "Flashing", "Framing, sheathing"),
        (("include =", 'exclude = ["Scaffolds"]\ninclude ='), "Scaffolds", "Framing"),
    ],
    ids=["priced", "none", "open", "line", "line of 0", "included", "named by the user"],
)
def test_what_is_left_to_others_by_default_goes_when_it_is_priced(folder, change, left, gone):
    told = told_with(folder, change)
    assert left in told["Not included"]
    assert not gone or gone not in told["Not included"]
    if change[0] != "include =":
        assert ("Scaffolds" in told["Included"]) == ("Scaffolds" not in told["Not included"])


def test_a_line_that_names_scaffold_promises_none(folder):
    """The customer pays for it, so it is not left out; what it is only the job file can say."""
    lines = "\n[bid]\nlines = ["
    rental = lines + '{ name = "Scaffold rental", kind = "equipment", amount = 400 }, '
    told = told_with(folder, (f"scaffold = 0.02\n{lines}", rental))
    assert "Scaffold" not in told["Not included"] + told["Included"]


@needs_pdf
def test_a_house_of_eight_walls_fits_on_one_page(folder, tmp_path):
    told = letter(taken(folder, "elevation"))
    extra = tuple(told.scope[0]._replace(name=f"SIDE {n}") for n in range(2))
    told = dataclasses.replace(told, scope=told.scope + extra, sender=("4 Quarry Road", "Tel. 1"))
    path = tmp_path / "bid.pdf"
    write_bid_pdf(told, path)
    said = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout
    assert re.search(r"Pages: +1\n", said)


def test_work_that_nobody_rates_is_not_offered(folder):
    told = told_with(folder, ("barrier = 0.01\nstrips = 0.05\ncaulk = 0.02\nsetup = 4\n", ""))
    installed, _, alone = told["Included"].partition("Supply, without installation, of ")
    for item in ("barrier", "caulk", "starter strip"):
        assert item in alone and item not in installed
    assert "flat panel" in installed
    assert "set up" not in told["Not included"].lower(), "nobody buys that elsewhere"
    whole = told_with(folder, ("wage", "wage"))
    assert "without installation" not in whole["Included"]


def test_work_that_somebody_else_can_do_is_told_where_it_has_no_rate(folder):
    told = told_with(folder, ("layout = 0.005\n", ""), ("cleanup = 0.004\n", ""))["Not included"]
    assert "Clean-up" in told and "courses" not in told


def test_a_wall_by_its_sizes_is_told_as_such_and_by_its_own_name(folder):
    row = '[[walls.rows]]\nname = "Fireplace"\nwidth = 96\nheight = 96\n'
    told = content_of(letter(taken(folder, "lump", row)))
    names = [cells[0] for cells in told.sections[0].table.rows]
    assert "Fireplace" in names and "not drawn" not in repr(told)
    assert "as drawn, and by sizes given: Fireplace; estimated" in repr(told)
    assert "as drawn and estimated" in repr(content_of(letter(taken(folder))))


def test_the_letter_carries_its_cautions_wherever_they_stand_in_the_list(folder):
    made = taken(folder)
    turned = dataclasses.replace(made, cautions=made.cautions[::-1])
    assert set(letter(turned).cautions) == set(letter(made).cautions)
    assert len(letter(made).cautions) == 3
