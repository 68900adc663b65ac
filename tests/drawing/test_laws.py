"""Laws of reading: what may change with a drawing's unit, order and placing, and what may not."""

import math

import pytest
from drawings import WALL, new, read
from ezdxf.math import Matrix44
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.drawing.entities.kinds import READERS

#    a bay with a round head, an arc that bulges inwards, and a slanted side
BAY = [(0, 0, 0), (70, 0, -0.3), (80, 40, 0), (60, 90, 0.8), (10, 90, 0)]

scales = st.floats(0.05, 20) | st.floats(-20, -0.05)
angles = st.floats(-7, 7)
shifts = st.floats(-1e4, 1e4)


def bay(matrix=None):
    entity = new().modelspace().add_lwpolyline(BAY, format="xyb", close=True)
    return READERS["LWPOLYLINE"](entity, matrix or Matrix44())


def placed(sx, sy, angle, dx, dy):
    return Matrix44.scale(sx, sy, 1) * Matrix44.z_rotate(angle) * Matrix44.translate(dx, dy, 0)


@settings(deadline=None)
@given(scale=scales, mirror=st.sampled_from([1, -1]), angle=angles, dx=shifts, dy=shifts)
def test_scaling_turning_and_mirroring_keep_arcs_exact(scale, mirror, angle, dx, dy):
    path, first = bay(placed(scale, mirror * scale, angle, dx, dy)), bay()
    rounding = 1e-9 + 1e-13 * (abs(dx) + abs(dy)) / abs(scale)
    assert path.area == pytest.approx(first.area * scale**2, rel=rounding)
    assert path.length == pytest.approx(first.length * abs(scale), rel=rounding)
    assert [abs(b) for *_, b in path.vertices] == [abs(b) for *_, b in first.vertices]
    assert (path.signed_area * first.signed_area > 0) is (mirror == 1)


@settings(deadline=None)
@given(sx=scales, sy=scales, angle=angles)
def test_unequal_scales_multiply_areas_and_keep_outlines_closed(sx, sy, angle):
    path = bay(placed(sx, sy, angle, 300, -200))
    assert path.closed
    assert path.area == pytest.approx(bay().area * abs(sx * sy), rel=1e-6)


@settings(deadline=None)
@given(
    ratio=st.floats(0.02, 1),
    major=st.floats(0.5, 5000),
    turn=angles,
    start=st.floats(0, 6),
    sweep=st.floats(0.1, 6.1),
)
def test_parts_of_an_ellipse_add_up(ratio, major, turn, start, sweep):
    """The area swept from the center from angle to angle is a b sweep / 2 (Kepler's area law)."""
    axis = (major * math.cos(turn), major * math.sin(turn))
    entity = new().modelspace().add_ellipse((0, 0), axis, ratio, start, start + sweep)
    path = READERS["ELLIPSE"](entity, Matrix44())
    swept = math.fsum(
        (s.start[0] * s.end[1] - s.start[1] * s.end[0]) / 2 + s.segment_area for s in path.segments
    )
    # arcs follow the curve to a millionth of its mean half axis, along no more than major * sweep
    off = 1e-6 * major * math.sqrt(ratio) * major * sweep
    assert swept == pytest.approx(major**2 * ratio * sweep / 2, rel=1e-9, abs=off)


def test_millimeters_and_inches_agree(tmp_path):
    documents = {unit: new(units=code) for unit, code in (("in", 1), ("mm", 4))}
    for unit, document in documents.items():
        factor = 25.4 if unit == "mm" else 1.0
        outline = [(x * factor, y * factor, b) for x, y, b in BAY]
        document.modelspace().add_lwpolyline(outline, format="xyb", close=True, dxfattribs=WALL)
        document.modelspace().add_ellipse((0, 0), (90 * factor, 0), 0.3, dxfattribs=WALL)
    ours = [[s.path.area for s in read(d, tmp_path).shapes] for d in documents.values()]
    assert ours[0] == pytest.approx(ours[1], rel=1e-12)


def test_order_of_entities_changes_nothing_but_the_order(tmp_path):
    read_back = []
    for order in (1, -1):
        document = new()
        for i in (1, 2, 3)[::order]:
            document.modelspace().add_circle((i * 100, 0), i * 10, dxfattribs=WALL)
        read_back.append([s.path for s in read(document, tmp_path).shapes])
    assert read_back[0] == read_back[1][::-1]
