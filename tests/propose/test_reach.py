"""Coordinates that no building has warn nobody and change nothing: they are left out of the scene.

A drawing with one wall and a window in it, and one thing far away or of a size beyond measure.
"""

from __future__ import annotations

import math
import warnings

import ezdxf
import pytest

from dxf2veneer.propose.proposing import look_at
from dxf2veneer.propose.reading import read_scene

FAR = (1e13, 1e100, -1e155, 1e300, 1e308, -1e308)


def drawn(folder, add=lambda doc, space: None):
    """A front of 9 x 3 m with a framed window of 1.2 x 1.2 m, in millimeters, and what is added."""
    doc = ezdxf.new("R2010", units=4)
    space = doc.modelspace()
    for x, y, wide, high in ((0, 0, 9000, 3000), (6500, 900, 1200, 1200), (6560, 960, 1080, 1080)):
        box = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
        space.add_lwpolyline(box, close=True)
    add(doc, space)
    doc.saveas(folder / "a.dxf")
    return folder / "a.dxf"


def proposed(path, **asked):
    """What the drawing proposes, warnings being errors."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return look_at(read_scene(path, **asked)).proposal.as_json()


def _block(doc, space, far):
    block = doc.blocks.new("B")
    block.add_line((0, 0), (far, 1.0))
    block.add_line((0, 0), (7.0, 1.0))
    return block


def _line(doc, space, far):
    space.add_line((0, 0), (far, far))


def _circle(doc, space, far):
    space.add_circle((5, 7), abs(far))


def _polyline(doc, space, far):
    space.add_lwpolyline([(0, 0), (far, 0), (far, 5)], close=True)


def _bulge(doc, space, far):
    space.add_lwpolyline([(0, 0, far), (9, 0, 0), (9, 9, 0)], format="xyb")


def _text(doc, space, far):
    space.add_text("FRONT", height=2.0, dxfattribs={"insert": (far, 3.0)})


def _letters(doc, space, far):
    space.add_text("FRONT", height=abs(far))


def _hatch(doc, space, far):
    space.add_hatch().paths.add_polyline_path([(0, 0), (far, 0), (far, 50)], is_closed=True)


def _content(doc, space, far):
    _block(doc, space, far)
    space.add_blockref("B", (20_000, 0), dxfattribs={"xscale": 3.0})


def _place(doc, space, far):
    _block(doc, space, 1.0)
    space.add_blockref("B", (far, 0))


def _scale(doc, space, far):
    _block(doc, space, 1e9)
    space.add_blockref("B", (20_000, 0), dxfattribs={"xscale": far, "yscale": far})


@pytest.mark.parametrize("far", FAR)
@pytest.mark.parametrize(
    "add", [_line, _circle, _polyline, _text, _letters, _hatch, _place, _scale]
)
def test_what_is_out_of_reach_changes_nothing(add, far, tmp_path):
    alone = proposed(drawn(tmp_path))
    assert len(alone["openings"]) == 1
    assert proposed(drawn(tmp_path, lambda doc, space: add(doc, space, far))) == alone


@pytest.mark.parametrize("far", FAR)
@pytest.mark.parametrize("add", [_content, _bulge])
def test_what_is_partly_out_of_reach_warns_nobody(add, far, tmp_path):
    found = proposed(drawn(tmp_path, lambda doc, space: add(doc, space, far)))
    assert len(found["openings"]) == 1


def test_national_grids_are_in_reach(tmp_path):
    east, north = 4.5e9, 5.2e9  # millimeters
    path = drawn(tmp_path, lambda doc, space: space.add_line((east, north), (east + 9e3, north)))
    assert math.isclose(read_scene(path).segments[-1][0], east)
