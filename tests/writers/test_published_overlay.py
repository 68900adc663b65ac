"""The overlay against the layer standard's fields and the DXF reference's versions: from a drawing
to the overlay."""

from __future__ import annotations

import re

import ezdxf
import pytest
from builders import drawing, job, write_dxf
from published import SUMMARY, published

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.writers.overlay import write_overlay

STAGE = "drawing to overlay"


def overlay(folder, release):
    """The overlay of a wall with a window and a door."""
    made = drawing(wall=[(0, 0, 200, 100)], window=[(40, 30, 80, 70)], door=[(120, 0, 156, 80)])
    source = write_dxf(made, folder / "wall.dxf", version=release)
    takeoff = take_off([source], job(drawing__units="in"))
    write_overlay(takeoff, takeoff.drawings[0], source, folder / "overlay.dxf")
    return folder / "overlay.dxf"


@published(
    "fields of the names of the overlay's layers: letters of the major and of the minor groups, "
    "most minor groups",
    {"major": 4, "shortest minor": 4, "longest minor": 4, "minor groups": 2},
    "US National CAD Standard v5", "layer guidelines: name format", SUMMARY,
)  # fmt: skip
def test_fields_of_layer_names(tmp_path):
    layers = {layer.dxf.name for layer in ezdxf.readfile(overlay(tmp_path, "R2018")).layers}
    ours = [name.split("-") for name in layers if name.startswith("A-")]
    assert len(ours) > 10
    (major,) = {len(fields[1]) for fields in ours}
    minor = {len(field) for fields in ours for field in fields[2:]}
    return {
        "major": major,
        "shortest minor": min(minor),
        "longest minor": max(minor),
        "minor groups": max(len(fields) - 2 for fields in ours),
    }


@pytest.mark.parametrize(
    "release",
    [
        pytest.param(
            release,
            marks=published(
                f"code of {release} in the overlay of a drawing of that release",
                {"AC": code},
                "Open DXF reference", "HEADER section, $ACADVER",
            ),
        )
        for release, code in [
            ("R12", 1009), ("R2000", 1015), ("R2004", 1018), ("R2007", 1021), ("R2010", 1024),
            ("R2013", 1027), ("R2018", 1032),
        ]
    ],
)  # fmt: skip
def test_version_of_the_overlay(tmp_path, release):
    text = overlay(tmp_path, release).read_text(encoding="utf-8", errors="replace")
    found = re.search(r"\$ACADVER\s+1\s+AC(\d{4})\s", text)
    assert found is not None
    return {"AC": int(found[1])}
