"""The table of units of the open DXF reference through the whole way: a drawing in each unit to its
takeoff. Units in which no wall can be drawn, from the gigameter up, are in test_units.py."""

from __future__ import annotations

import ezdxf
import pytest
from book_walls import METER
from published import published
from test_units import INSUNITS

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job

STAGE = "drawing to takeoff"
REFERENCE = "Open DXF reference"
FACTORS = [
    # code, and how many of the unit the wall is drawn long: some ten to a hundred feet
    (1, 400), (2, 40), (3, 0.008), (4, 12000), (5, 1200), (6, 12), (7, 0.012), (8, 4e8), (9, 4e5),
    (10, 13), (11, 1.2e11), (12, 1.2e10), (13, 1.2e7), (14, 120), (15, 1.2), (16, 0.12), (21, 40),
    (22, 400), (23, 13), (24, 0.008),
]  # fmt: skip


def meters(text: str) -> float:
    """``1200/3937`` as a number."""
    above, _, below = text.partition("/")
    return float(above) / float(below or 1)


@pytest.mark.parametrize(
    ("code", "long"),
    [
        pytest.param(
            code,
            long,
            id=str(code),
            marks=published(
                f"wall {long:g} units long in a drawing of $INSUNITS {code}: meters in the unit",
                {"meters": meters(INSUNITS[code])},
                REFERENCE, "HEADER section, $INSUNITS",
            ),
        )
        for code, long in FACTORS
    ],
)  # fmt: skip
def test_unit_of_the_drawing(tmp_path, code, long):
    document = ezdxf.new("R2018")
    document.header["$INSUNITS"] = code
    document.modelspace().add_lwpolyline(
        [(0, 0), (long, 0), (long, long / 4), (0, long / 4)],
        close=True,
        dxfattribs={"layer": "WALL"},
    )
    document.saveas(tmp_path / "wall.dxf")
    (tmp_path / "job.toml").write_text('[layers]\nwall = "WALL"\n[plan]\npanels = false\n')
    takeoff = take_off([tmp_path / "wall.dxf"], load_job(tmp_path / "job.toml"))
    return {"meters": takeoff.totals.base_run / METER / long}
