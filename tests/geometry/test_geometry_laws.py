"""Laws that lengths, areas and overlays keep, whatever the path."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from dxf2veneer.geometry import Path, Region, Segment
from dxf2veneer.geometry.chords import Chords
from dxf2veneer.geometry.segments import bulge_through

GRAZING = 5e-3
"""Square inches that an overlay may miss where two arcs run within a flattening rise (a thousandth
of an inch) of each other: chords then cross though the arcs do not; one chord stays straight."""

coordinate = st.floats(-500, 500).map(lambda v: round(v, 3))
point = st.tuples(coordinate, coordinate)
bulge = st.floats(-1.0, 1.0).map(lambda v: round(v, 4))


@st.composite
def arcs(draw):
    start, end = draw(point), draw(point)
    assume(math.dist(start, end) > 0.1)
    return Segment(start, end, draw(bulge))


@st.composite
def blobs(draw):
    """Star-shaped outlines with straight and gently curved sides, which never cross themselves."""
    count = draw(st.integers(3, 8))
    cx, cy = draw(point)
    corners = []
    for i in range(count):
        reach = draw(st.floats(40, 100))
        turn = math.tau * i / count
        corners.append(
            (
                cx + reach * math.cos(turn),
                cy + reach * math.sin(turn),
                draw(st.sampled_from([0.0, 0.1, 0.25])),
            )
        )
    return Path(tuple(corners))


circles = st.builds(Path.circle, point, st.floats(5, 200).map(lambda v: round(v, 2)))
outlines = st.one_of(blobs(), circles)


@given(arcs(), st.lists(st.floats(0, 1), max_size=5))
def test_splitting_keeps_length_and_area(segment, fractions):
    parts = segment.split(fractions)
    assert math.fsum(p.length for p in parts) == pytest.approx(segment.length, rel=1e-9)
    whole = Path.chain([segment], closed=False).vertices
    cut = Path.chain(parts, closed=False).vertices
    far = (700.0, 900.0, 0.0)  # closing both over one point makes their areas comparable
    assert Path((*cut, far)).signed_area == pytest.approx(
        Path((*whole, far)).signed_area, rel=1e-9, abs=1e-6
    )


@given(arcs(), st.floats(0, 1))
def test_a_point_on_a_segment_knows_its_fraction(segment, fraction):
    assert segment.fraction_of(segment.point_at(fraction)) == pytest.approx(fraction, abs=1e-6)


@given(arcs())
def test_an_arc_is_found_again_from_three_of_its_points(segment):
    found = bulge_through(segment.start, segment.point_at(0.5), segment.end)
    assert found == pytest.approx(segment.bulge, abs=1e-9)


@given(outlines)
def test_reversing_keeps_area_and_length(path):
    assert path.reversed.signed_area == pytest.approx(-path.signed_area, rel=1e-9, abs=1e-7)
    assert path.reversed.length == pytest.approx(path.length, rel=1e-12)


@given(outlines, coordinate, coordinate)
def test_moving_keeps_area_and_length(path, dx, dy):
    moved = path.moved(dx, dy)
    assert moved.area == pytest.approx(path.area, rel=1e-9)
    assert moved.length == pytest.approx(path.length, rel=1e-9)
    assert moved.box == pytest.approx(
        (path.box[0] + dx, path.box[1] + dy, path.box[2] + dx, path.box[3] + dy), abs=1e-6
    )


@given(outlines)
def test_mirroring_keeps_area_and_turns_the_sense(path):
    mirrored = Path(tuple((-x, y, -b) for x, y, b in path.vertices))
    assert mirrored.signed_area == pytest.approx(-path.signed_area, rel=1e-9)
    assert mirrored.length == pytest.approx(path.length, rel=1e-12)


@given(outlines, st.floats(0.01, 100))
def test_scaling_multiplies_length_once_and_area_twice(path, factor):
    scaled = path.scaled(factor)
    assert scaled.length == pytest.approx(path.length * factor, rel=1e-9)
    assert scaled.area == pytest.approx(path.area * factor**2, rel=1e-9)


@given(outlines)
def test_chords_lie_within_the_rise_and_the_box(path):
    x0, y0, x1, y1 = path.box
    for segment in path:
        flat = segment.flatten(rise_in=0.01)
        for x, y in flat:
            assert x0 - 1e-6 <= x <= x1 + 1e-6
            assert y0 - 1e-6 <= y <= y1 + 1e-6
        for p, q in pairwise(flat):
            middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
            nearest = segment.point_at(segment.fraction_of(middle))
            assert math.dist(middle, nearest) <= 0.0101


@given(outlines)
def test_arcs_come_back_after_flattening(path):
    chords = Chords(grid_in=2.0**-27)
    ring = [p for s in path.segments for p in chords.enter(s)[:-1]]
    found = chords.restore([*ring, ring[0]])
    assert found.area == pytest.approx(path.area, rel=1e-9)
    assert found.length == pytest.approx(path.length, rel=1e-9)
    assert sum(s.is_arc for s in found) == sum(s.is_arc for s in path)


@given(outlines, outlines)
def test_union_and_intersection_add_up(one, two):
    a, b = Region.of(one), Region.of(two)
    both = a.union(b).area + a.intersection(b).area
    assert both == pytest.approx(a.area + b.area, rel=1e-9, abs=GRAZING)


@given(outlines, outlines)
def test_difference_and_intersection_make_the_whole(one, two):
    a, b = Region.of(one), Region.of(two)
    assert a.difference(b).area + a.intersection(b).area == pytest.approx(
        a.area, rel=1e-9, abs=GRAZING
    )


@given(outlines)
def test_a_region_less_itself_is_empty_and_with_itself_is_itself(path):
    region = Region.of(path)
    assert region.difference(region).area == pytest.approx(0, abs=1e-6)
    assert region.intersection(region).area == pytest.approx(region.area, rel=1e-9)
    assert region.union(region).perimeter == pytest.approx(region.perimeter, rel=1e-9)


@given(outlines, outlines, coordinate, coordinate)
def test_overlays_move_with_their_regions(one, two, dx, dy):
    a, b = Region.of(one), Region.of(two)
    here = a.difference(b)
    there = a.moved(dx, dy).difference(b.moved(dx, dy))
    assert there.area == pytest.approx(here.area, rel=1e-9, abs=GRAZING)


def lens(r1: float, r2: float, apart: float) -> float:
    """Common area of two circles: the sum of two circular segments, each r^2/2 (angle - sin
    angle)."""
    a1 = 2 * math.acos((apart**2 + r1**2 - r2**2) / (2 * apart * r1))
    a2 = 2 * math.acos((apart**2 + r2**2 - r1**2) / (2 * apart * r2))
    return r1**2 / 2 * (a1 - math.sin(a1)) + r2**2 / 2 * (a2 - math.sin(a2))


@given(point, st.floats(10, 100), st.floats(10, 100), st.floats(0.1, 0.9), st.floats(0, math.tau))
def test_two_circles_share_a_lens(at, r1, r2, share, turn):
    apart = abs(r1 - r2) + share * (r1 + r2 - abs(r1 - r2))
    other = (at[0] + apart * math.cos(turn), at[1] + apart * math.sin(turn))
    a, b = Region.of(Path.circle(at, r1)), Region.of(Path.circle(other, r2))
    common = lens(r1, r2, apart)
    assert a.intersection(b).area == pytest.approx(common, rel=1e-7)
    assert a.union(b).area == pytest.approx(math.pi * (r1**2 + r2**2) - common, rel=1e-8)


def test_a_circle_cut_by_a_line_leaves_exact_segments():
    #    ___     a circle of radius 10 about (2, 3), cut level at 4 above its center:
    #   /===\    cap = r^2 acos(4/10) - 4 sqrt(r^2 - 4^2)
    #  |     |
    #   \___/
    circle = Region.of(Path.circle((2, 3), 10))
    cap = circle.intersection(Region.box_of(-20, 7, 20, 20))
    assert cap.area == pytest.approx(100 * math.acos(0.4) - 4 * math.sqrt(84), rel=1e-10)
    assert cap.box == pytest.approx((2 - math.sqrt(84), 7, 2 + math.sqrt(84), 13), abs=1e-7)


def test_a_hole_stays_a_hole():
    wall, window = Region.box_of(0, 0, 100, 50), Region.of(Path.circle((40, 20), 9))
    net = wall.difference(window)
    assert len(net.parts) == 1
    assert len(net.parts[0].holes) == 1
    assert net.area == pytest.approx(5000 - 81 * math.pi, rel=1e-10)
    assert net.perimeter == pytest.approx(300 + 18 * math.pi, rel=1e-10)
    assert net.union(window).area == pytest.approx(5000, rel=1e-10)


def test_a_band_round_an_arch_less_several_openings_keeps_its_arcs():
    #    .---.        bands of 8 round a door of 48 x 72 with a half circle on top, less the door
    #   | .-. |  []   and a window: the window's part in it once turned chords of the door's arc
    #   | | | |       into straight lines
    door = Region.of(Path(((144, 0, 0), (192, 0, 0), (192, 72, 1.0), (144, 72, 0))))
    window = Region.box_of(36, 44, 96, 92)
    wide = Region.of(Path(((136, 0, 0), (200, 0, 0), (200, 72, 1.0), (136, 72, 0))))
    band = wide.difference(door, window)
    assert band.area == pytest.approx(16 * 72 + math.pi / 2 * (32**2 - 24**2), rel=1e-12)
    assert sum(s.is_arc for path in band.paths for s in path) == 2
