"""What the summary and the price say is still open, recalculated by another program: each fact
counts once, and goes once it is answered."""

from __future__ import annotations

import openpyxl
import pytest
from conftest import ROOT
from sheets import recalculated

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.writers.workbook import write_workbook

SAMPLES = ROOT / "samples"


@pytest.fixture(scope="module")
def path(tmp_path_factory):
    """The Gatehouse where nobody says what the barrier and the setup take."""
    text = (SAMPLES / "gatehouse.toml").read_text(encoding="utf-8")
    folder = tmp_path_factory.mktemp("open")
    for line in ("barrier = 0.01\n", "setup = 4\n"):
        assert line in text
        text = text.replace(line, "")
    (folder / "gatehouse-prices.csv").write_bytes((SAMPLES / "gatehouse-prices.csv").read_bytes())
    (folder / "job.toml").write_text(text, encoding="utf-8")
    job = with_settings(load_job(folder / "job.toml"), plan__panels=False)
    made = take_off([SAMPLES / "gatehouse.dxf"], job)
    assert len(made.order.bid.open) > 1
    written = folder / "open.xlsx"
    write_workbook(made, written)
    return written


def said(sheet):
    return [c.value for c in sheet["A"] if isinstance(c.value, str)]


def count(sheet):
    """The number in the box of the open questions."""
    head = next(
        c for row in sheet.iter_rows(max_row=12) for c in row if c.value == "Open questions"
    )
    return sheet.cell(head.row + 1, head.column).value


def answered(path, tmp_path, *, money):
    """The workbook after a person gives every work without hours a number, recalculated."""
    book = openpyxl.load_workbook(path)
    sheet = book["Inputs"]
    head = next(c for c in sheet["A"] if c.value == "Work")
    heads = {c.value: c.column for c in sheet[head.row] if c.value}
    column = next(
        n for title, n in heads.items() if title.startswith("Money" if money else "Hours")
    )
    other = next(n for title, n in heads.items() if title.startswith("Hours" if money else "Money"))
    row = head.row + 1
    while sheet.cell(row, 1).value:
        if money:
            sheet.cell(row, column).value, sheet.cell(row, other).value = 1, None
        elif sheet.cell(row, column).value is None and sheet.cell(row, other).value is None:
            sheet.cell(row, column).value = 0
        row += 1
    if money:
        place = book.defined_names["Hourly_wage"].attr_text.split("!")[1].replace("$", "")
        sheet[place].value = None
    changed = tmp_path / "changed.xlsx"
    book.save(changed)
    return recalculated(changed, tmp_path)


def test_work_without_a_rate_is_one_question_and_goes_when_it_is_answered(path, tmp_path):
    before = recalculated(path, tmp_path)["Summary"]
    told = [text for text in said(before) if "has no rate" in text]
    assert len(told) == 1 and "Hang the barrier" in told[0]
    after = answered(path, tmp_path, money=False)["Summary"]
    assert count(after) == count(before) - 1
    assert not any("has no rate" in text for text in said(after))


def test_no_wage_is_asked_for_where_every_work_has_money(path, tmp_path):
    book = answered(path, tmp_path, money=True)
    assert not any("NO TOTAL" in text for text in said(book["Price"]))
    assert not any("No wage" in text for text in said(book["Summary"]))


def test_a_rate_says_what_it_is_for_each_of(path, tmp_path):
    sheet = recalculated(path, tmp_path)["Price"]
    row = next(c.row for c in sheet["A"] if c.value == "Freight")
    assert sheet.cell(row, 2).value == "85 x pallets"
