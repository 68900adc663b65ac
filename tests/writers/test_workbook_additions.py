"""What is added by hand, in the workbook: bid and alternate come to the order's own totals."""

from __future__ import annotations

import openpyxl
import pytest
from conftest import ROOT
from sheets import written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.treatments import Treatment

ADDED = {
    "items": [
        {"item": "flat_panel", "quantity": 6, "reason": "Spare"},
        {"item": "wrb", "quantity": -50, "reason": "In the yard"},
    ],
    "area": [{"area": 120, "reason": "Garage side"}],
    "corners": [{"area": 120, "corners": "16'", "reason": "Garage side"}],
}
SECOND = Treatment(("PIER FACE", "PIER RETURN"), False, None, "Second")


@pytest.mark.parametrize("scrap", [None, 10.0])
@pytest.mark.parametrize("display", ["imperial", "metric"])
@pytest.mark.parametrize("added", ADDED)
def test_the_totals_are_the_orders(tmp_path, added, display, scrap):
    """The alternate leaves out the pier, so that its panels by area are fewer; what was added is
    the same."""
    samples = ROOT / "samples"
    job = with_settings(
        load_job(samples / "gatehouse.toml"),
        plan__panels=False,
        order__scrap=scrap,
        order__additions=as_additions(ADDED[added]),
        output__display=display,
        walls__treatments=(SECOND,),
    )
    made = take_off([samples / "gatehouse.dxf"], job)
    book = openpyxl.load_workbook(written(tmp_path, made), data_only=True)
    total = next(row for row in book["Price"].iter_rows(values_only=True) if row[0] == "Total")
    orders = (made.order, *(a.order for a in made.order.alternates))
    assert total[2:4] == pytest.approx([float(o.bid.total) for o in orders], abs=0.005)
