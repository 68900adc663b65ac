"""How many pages an estimate prints, counted by LibreOffice and poppler; neither is part of this
project."""

from __future__ import annotations

import dataclasses
import re
import shutil
import subprocess

import openpyxl
import pytest
from conftest import ROOT
from houses import house
from sheets import needs_office, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.bidding import AlternateChoice
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.printing import SHEETS, USUAL
from dxf2veneer.writers.workbook import write_workbook

MOST = 12
"""Pages that an estimate of a house may take (a rule of our own)."""
needs_poppler = pytest.mark.skipif(
    shutil.which("pdfinfo") is None, reason="poppler is not on this machine"
)


def twenty_walls(folder):
    """Two houses of tests/houses.py as one job of 20 walls, priced, with an alternate."""
    (first, job), (second, other) = house(3, folder), house(0, folder)
    layers = {
        name: tuple(dict.fromkeys((*names, *getattr(other.layers, name))))
        for name, names in vars(job.layers).items()
    }
    job = with_settings(
        dataclasses.replace(job, layers=dataclasses.replace(job.layers, **layers)),
        job__name="Two houses",
        labour__wage=40.0,
        order__prices=str(ROOT / "samples" / "gatehouse-prices.csv"),
        bid__alternates=(AlternateChoice("Less", ("W3",), None),),
    )
    made = take_off([first, second], job)
    assert len(made.walls) == 20
    return made


def pages(path, tmp_path):
    """How many pages the workbook prints."""
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}",
         "--convert-to", "pdf", "--outdir", str(tmp_path), str(path)],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    told = subprocess.run(
        ["pdfinfo", str(path.with_suffix(".pdf"))], check=True, capture_output=True, text=True
    ).stdout
    return int(re.search(r"Pages:\s+(\d+)", told)[1])


@needs_office
@needs_poppler
def test_the_estimate_of_a_house_takes_twelve_pages_at_most(tmp_path):
    assert pages(written(tmp_path, twenty_walls(tmp_path)), tmp_path) <= MOST


@needs_office
@needs_poppler
def test_the_gatehouse_takes_twelve_pages_at_most_and_fewer_where_fewer_are_asked_for(tmp_path):
    samples = ROOT / "samples"
    job = with_settings(load_job(samples / "gatehouse.toml"), plan__panels=False)
    made = take_off([samples / "gatehouse.dxf"], job)
    assert 5 < pages(written(tmp_path, made), tmp_path) <= MOST
    some = dataclasses.replace(made, job=with_settings(job, output__print=("Order", "Price")))
    write_workbook(some, tmp_path / "some.xlsx")
    assert pages(tmp_path / "some.xlsx", tmp_path) == 2


def test_every_sheet_that_can_be_chosen_is_one_and_all_prints_every_sheet(tmp_path):
    samples = ROOT / "samples"
    job = with_settings(load_job(samples / "gatehouse.toml"), output__print=("all",))
    book = openpyxl.load_workbook(written(tmp_path, take_off([samples / "gatehouse.dxf"], job)))
    shown = [sheet for sheet in book if sheet.sheet_state == "visible"]
    titles = {sheet.title.rstrip(" 1") for sheet in shown}  # those of the alternate have a number
    assert titles == set(SHEETS) - {"Plans", "Kept changes"} and set(USUAL) < set(SHEETS)
    assert all(sheet.print_area.startswith(f"'{sheet.title}'!$A$1:") for sheet in shown)
