"""Drawings by other people, where they stand beside the checkout;
they do not go into the project.
"""

import pytest

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing import list_faces
from dxf2veneer.wording import say


@pytest.fixture(scope="module")
def traced(real_drawings):
    layers = {
        "wall": "VENEER-WALL",
        "opening": "VENEER-OPENING",
        "outside_corner": "VENEER-OUTSIDE-CORNER",
        "name": "VENEER-NAME",
    }
    job = load_job(None, {f"layers.{key}": (value,) for key, value in layers.items()})
    return take_off([real_drawings / "woodshed-front-traced.dxf"], job)


def test_a_traced_front_has_its_known_values(traced):
    # values that come with the drawing: gross 17,358,240 mm2, openings 3,792,240 mm2, net
    # 13,566,000 mm2
    mm2 = 25.4**2
    totals = traced.totals
    assert [
        totals.gross_area * mm2,
        totals.opening_area * mm2,
        totals.net_area * mm2,
    ] == pytest.approx([17_358_240, 3_792_240, 13_566_000], rel=1e-9)
    assert traced.walls[0].wall.name == "FRONT"
    assert sorted(o.kind for o in traced.walls[0].wall.openings) == ["door", "window", "window"]


def test_its_two_corners_are_told_to_have_no_partner(traced):
    assert [(c.kind, round(c.run * 25.4, 6), c.is_paired) for c in traced.corners] == [
        ("outside", 2784, False)
    ] * 2
    assert [n.code for n in traced.notices if n.level != "info"] == [
        "CORNER_UNPAIRED",
        "CORNER_UNPAIRED",
    ]


def test_the_same_front_untraced_from_four_marks(real_drawings):
    """345 lines and 43 splines on one layer: a window round the elevation,
    a point in each opening.
    """
    job = load_job(
        None,
        {
            "layers.wall": ("front",),
            "drawing.window": ("1100,2280,7335,5064",),
            "drawing.opening_at": ("2500,3600", "5900,3600", "4200,3300"),
        },
    )
    takeoff = take_off([real_drawings / "woodshed-front.dxf"], job)
    mm2 = 25.4**2
    totals = takeoff.totals
    assert [totals.gross_area * mm2, totals.opening_area * mm2] == pytest.approx(
        [17_358_240, 3_792_240], rel=1e-9
    )
    assert [n.code for n in takeoff.notices if n.level == "warning"] == ["DOOR_EXTENDED"]


def test_the_panes_of_a_pavilion_are_faces_of_its_glazing_layer(real_drawings):
    """The header says inches, the numbers are meters; known panes: 10.206, 10.067 and 9.998 m2."""
    found = list_faces(
        real_drawings / "pavilion-view-1.dxf",
        load_job(None, {"layers.wall": ("Cancel",), "drawing.units": "m"}),
    )
    assert [round(f.area, 3) for f in found][1:4] == [10.206, 10.067, 9.998]
    takeoff = take_off(
        [real_drawings / "pavilion-view-1.dxf"], load_job(None, {"layers.wall": ("Cancel",)})
    )
    absurd = next(n for n in takeoff.notices if n.code == "UNITS_ABSURD")
    assert "with --units ft or --units m it would make sense" in say(absurd.message)
