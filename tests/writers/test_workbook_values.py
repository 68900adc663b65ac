"""Every formula of the workbook carries the value that a spreadsheet calculates for it.

LibreOffice is given the workbook without the values (``sheets.recalculated`` takes them out), so
that what it writes is what it calculated.
"""

from __future__ import annotations

import openpyxl
import pytest
from conftest import ROOT
from laid_out import laid_out
from sheets import cells, needs_office, recalculated, without_values, written
from takeoffs import takeoff

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings

SAMPLES = ROOT / "samples"


def sample(name, **settings):
    job = with_settings(load_job(SAMPLES / f"{name}.toml"), **settings)
    return take_off([SAMPLES / f"{name}.dxf"], job)


JOBS = {
    "gatehouse": lambda: sample("gatehouse"),
    "gatehouse, no prices, by area": lambda: sample(
        "gatehouse", order__prices=None, order__allowance="area"
    ),
    "gatehouse, no wage, no plan": lambda: sample(
        "gatehouse", labour__wage=None, plan__panels=False
    ),
    "boathouse, metric": lambda: sample("boathouse"),
    "by hand, hostile texts": laid_out,
    "by hand, by area": takeoff,
}


def differs(have, want):
    """Whether two values of a cell differ: numbers by more than 1e-9, texts at all."""
    if isinstance(have, (int, float)) and isinstance(want, (int, float)):
        return abs(have - want) > 1e-9 * max(1.0, abs(want))
    return (have or None) != (want or None)


@needs_office
@pytest.mark.parametrize("name", JOBS)
def test_every_formula_carries_the_value_that_a_spreadsheet_calculates(name, tmp_path):
    path = written(tmp_path, JOBS[name]())
    formulas, have = openpyxl.load_workbook(path), openpyxl.load_workbook(path, data_only=True)
    want = recalculated(path, tmp_path)
    live = [cell for cell in cells(formulas) if cell.data_type == "f"]
    wrong = [
        (c.parent.title, c.coordinate, c.value, have[c.parent.title][c.coordinate].value, right)
        for c in live
        if differs(
            have[c.parent.title][c.coordinate].value,
            right := want[c.parent.title][c.coordinate].value,
        )
    ]
    assert len(live) > 20 and wrong == []


def test_the_office_is_given_no_values(tmp_path):
    path = without_values(written(tmp_path), tmp_path)
    formulas, bare = openpyxl.load_workbook(path), openpyxl.load_workbook(path, data_only=True)
    live = [cell for cell in cells(formulas) if cell.data_type == "f"]
    assert live and all(bare[c.parent.title][c.coordinate].value is None for c in live)
