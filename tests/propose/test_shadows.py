"""Shadows under eaves: hatched strips that are no cladding."""

import ezdxf
import pytest

from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.proposing import read_scene
from dxf2veneer.propose.shadows import without_shadows
from dxf2veneer.propose.views.view import View


def _kept(tmp_path, past=400, slope=45, high=500):
    """How many hatches are left of one under the eaves of a house 8 x 3 m, in millimeters.

     ========================    fascia, ``past`` beyond both corners
       |//////////////////|      strip at a slope in degrees, so high
       |                  |
    ---+------------------+---
    """
    doc = ezdxf.new("R2010", setup=True, units=4)
    space = doc.modelspace()
    for a, b, c, d in ((-3000, 0, 12000, 0), (0, 0, 0, 3000), (8000, 0, 8000, 3000)):
        space.add_line((a, b), (c, d))
    eaves = [(-past, 3000), (8000 + past, 3000), (8000 + past, 3250), (-past, 3250)]
    space.add_lwpolyline(eaves, close=True)
    hatch = space.add_hatch()
    hatch.set_pattern_fill("ANSI31", scale=20, angle=slope - 45)
    strip = [(0, 3000 - high), (8000, 3000 - high), (8000, 3000), (0, 3000)]
    hatch.paths.add_polyline_path(strip)
    path = tmp_path / "house.dxf"
    doc.saveas(path)
    scene = read_scene(path, encoding=None, include_hidden=False)
    whole = (-3000.0, 0.0, 12000.0, 3250.0)
    view = View("V1", "elevation", "", whole, whole, 1.0, Reason("VIEW", {}), hatches=(0,))
    runs = runs_of(scene.segments, gap=8.0)
    return len(without_shadows(scene, view, runs, metre=1000.0).hatches)


def test_a_strip_of_sloped_lines_under_an_eaves_is_a_shadow(tmp_path):
    assert _kept(tmp_path) == 0


@pytest.mark.parametrize("slope", [0, 90])
def test_boards_under_an_eaves_are_no_shadow(tmp_path, slope):
    assert _kept(tmp_path, slope=slope) == 1


def test_a_wall_hatched_from_the_ground_up_lies_in_no_shadow(tmp_path):
    assert _kept(tmp_path, high=3000) == 1


def test_nothing_that_does_not_hang_over_casts_a_shadow(tmp_path):
    assert _kept(tmp_path, past=0) == 1
