"""What a person changed in the workbook is read back and kept when it is written anew."""

from __future__ import annotations

import json

import openpyxl
import pytest
from click.testing import CliRunner
from conftest import ROOT
from sheets import column, needs_office, recalculated
from test_workbook_live import changed, gatehouse, prices

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.textio.whole_files import is_ours

SAMPLES = ROOT / "samples"


def run(out, *more, code=0):
    words = ("takeoff", SAMPLES / "gatehouse.dxf", "--job", SAMPLES / "gatehouse.toml", "--no-plan",
             "-o", out, "--json", out / "r.json", *more)  # fmt: skip
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == code, done.output
    return done.output


def book_of(out):
    return out / "gatehouse-takeoff.xlsx"


def by_hand(out, *, lost=False):
    """A wage, a quantity, an emptied price, a wall, an opening; perhaps a row that goes."""
    book = openpyxl.load_workbook(book_of(out))
    inputs = book["Inputs"]
    rows = {inputs.cell(r, 1).value: r for r in range(1, inputs.max_row + 1)}
    inputs.cell(rows["Wage per hour"], 2).value = 51
    inputs.cell(rows["Caulk"], 5).value = 99.5
    inputs.cell(rows["Adhesive"], 11).value = None
    book["Walls"].cell(5, column(book["Walls"], "In this bid")).value = "no"
    book["Openings"].cell(5, column(book["Openings"], "Deducted")).value = "no"
    if lost:
        kept = book["As computed"]
        row = next(r for r in range(5, 300) if kept.cell(r, 2).value == "Crew size")
        kept.cell(row, 2).value, kept.cell(row, 4).value = "Riggers", 3
    book.save(book_of(out))


EXPECTED = {
    ("Inputs", "Wage per hour", "Value"): (42.5, 51),
    ("Inputs", "Caulk", "Quantity override"): (None, 99.5),
    ("Inputs", "Adhesive", "Price USD"): (5.25, None),
    ("Walls", "W1", "In this bid"): ("yes", "no"),
    ("Openings", "W1-O1", "Deducted yes or no"): ("yes", "no"),
}


def listed(out):
    changes = json.loads((out / "r.json").read_text(encoding="utf-8"))["hand_changes"]
    return {
        (c["sheet"], c["row"], c["heading"]): (c["computed"], c["by_hand"], c["kept"])
        for c in changes
    }


def test_changes_are_kept_and_each_is_listed(tmp_path):
    run(tmp_path)
    assert listed(tmp_path) == {} and is_ours(book_of(tmp_path))
    by_hand(tmp_path, lost=True)
    mine = book_of(tmp_path).read_bytes()
    assert "is there already" in run(tmp_path, code=2).replace("\n", " ")
    assert book_of(tmp_path).read_bytes() == mine
    told = run(tmp_path, "--keep-changes")
    kept = {key: (*values, True) for key, values in EXPECTED.items()}
    found = listed(tmp_path)
    prices_of = {k: v for k, v in found.items() if k[1] == "Adhesive"}
    assert found == kept | prices_of | {("Inputs", "Riggers", "Value"): (3, 2, False)}
    assert "Kept by hand: Inputs, Wage per hour, Value: 51 (computed: 42.5)" in told
    assert "NOT kept: Inputs, Riggers, Value: 2 (computed: 3)" in told
    sheet = openpyxl.load_workbook(book_of(tmp_path))["Kept changes"]
    rows = [[c.value for c in row] for row in sheet.iter_rows(min_row=5, max_col=6)]
    assert ["Inputs", "Wage per hour", "Value", 42.5, 51, "yes"] in rows
    assert len(rows) == len(found)
    inputs = openpyxl.load_workbook(book_of(tmp_path), data_only=True)["Inputs"]
    assert next(r[1].value for r in inputs.iter_rows() if r[0].value == "Wage per hour") == 51


def test_a_workbook_that_holds_changes_is_the_users(tmp_path):
    run(tmp_path)
    by_hand(tmp_path)
    run(tmp_path, "--keep-changes")
    run(tmp_path, code=2)
    before = listed(tmp_path)
    run(tmp_path, "--keep-changes")
    assert listed(tmp_path) == before and len(before) == 5
    run(tmp_path, "--force")
    assert listed(tmp_path) == {} and is_ours(book_of(tmp_path))


@needs_office
def test_changes_are_found_after_an_office_program_saved_the_workbook(tmp_path):
    run(tmp_path)
    by_hand(tmp_path)
    recalculated(book_of(tmp_path), tmp_path)  # leaves the office's own file
    book_of(tmp_path).write_bytes((tmp_path / "recalculated" / book_of(tmp_path).name).read_bytes())
    run(tmp_path, "--keep-changes")
    assert len(listed(tmp_path)) == 5 and all(kept for *_, kept in listed(tmp_path).values())


def test_a_workbook_that_nobody_changed_keeps_nothing(tmp_path):
    run(tmp_path)
    first = book_of(tmp_path).read_bytes()
    run(tmp_path, "--keep-changes")
    assert book_of(tmp_path).read_bytes() == first


@pytest.mark.parametrize("theirs", ["a text", "another workbook"])
def test_what_is_no_workbook_of_ours_is_refused_in_a_line(tmp_path, theirs):
    if theirs == "a text":
        book_of(tmp_path).write_bytes(b"my notes")
    else:
        openpyxl.Workbook().save(book_of(tmp_path))
    before = book_of(tmp_path).read_bytes()
    told = run(tmp_path, "--keep-changes", code=1).replace("\n", " ")
    assert "does not say what was computed" in told and "Traceback" not in told
    assert book_of(tmp_path).read_bytes() == before


def test_a_text_where_a_number_belongs_is_shown_as_an_error_and_kept(tmp_path):
    run(tmp_path)
    book = openpyxl.load_workbook(book_of(tmp_path))
    book["Inputs"]["B8"] = "ask Ann"
    book.save(book_of(tmp_path))
    run(tmp_path, "--keep-changes")
    assert openpyxl.load_workbook(book_of(tmp_path))["Inputs"]["B8"].value == "ask Ann"


# ---------------------------------------------------------------- what is left behind


def said(book):
    """The words on the summary, and the notes of the order's items."""
    order = book["Order"]
    notes = [order.cell(r, column(order, "Note")).value for r in range(5, order.max_row)]
    return str(book["Summary"]["A4"].value or ""), notes


@needs_office
def test_an_area_by_hand_leaves_what_was_laid_out_stale(tmp_path):
    made = gatehouse(order__allowance="layout")

    def change(book):
        book["Walls"].cell(5, column(book["Walls"], "Gross")).value += 1

    words, notes = said(changed(tmp_path, change, made))
    assert words.startswith("STALE: laid out before 1 change") and "--keep-changes" in words
    assert "STALE" in notes
    words, notes = said(changed(tmp_path, lambda book: None, made))
    assert "STALE" not in words and "STALE" not in notes


@needs_office
def test_a_deduction_that_panels_laid_out_do_not_follow_says_so(tmp_path):
    made = take_off(
        [SAMPLES / "gatehouse.dxf"],
        with_settings(load_job(SAMPLES / "gatehouse.toml"), order__allowance="layout"),
    )

    def change(book):
        book["Openings"].cell(5, column(book["Openings"], "Deducted")).value = "no"

    after = changed(tmp_path, change, made)
    assert after["Summary"]["A4"].value.startswith("STALE: what openings deduct")
    assert after["Price"]["A3"].value.startswith("STALE: what openings deduct")

    def by_area(book):
        change(book)
        book["Inputs"]["B5"] = "area"

    assert "STALE" not in said(changed(tmp_path, by_area, made))[0]


def test_what_is_kept_is_in_the_workbook_alone_and_everything_else_says_so(tmp_path):
    run(tmp_path)
    by_hand(tmp_path)
    more = ("--bid", tmp_path / "bid.xlsx", "--report", tmp_path / "r.html")
    told = run(tmp_path, "--keep-changes", *more)
    assert "5 changes by hand are in the workbook alone" in " ".join(told.split())
    sheet = openpyxl.load_workbook(tmp_path / "bid.xlsx")["Proposal"]
    letter = [cell.value for row in sheet for cell in row]
    assert any("not in this price" in str(value) for value in letter)
    for name in ("r.json", "r.html"):
        assert "are in the workbook alone" in (tmp_path / name).read_text(encoding="utf-8")


@needs_office
def test_what_follows_is_not_stale(tmp_path):
    """Counted by area the wage, a price and a deduction leave nothing behind."""

    def change(book):
        book["Inputs"]["B8"] = 50
        book["Openings"].cell(5, column(book["Openings"], "Deducted")).value = "no"

    after = changed(tmp_path, change)
    words, notes = said(after)
    assert "STALE" not in words and "STALE" not in notes
    assert prices(after)["Total"][0] > float(gatehouse().order.bid.total)
