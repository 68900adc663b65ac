"""Loose lines become the outlines that a person would trace over them."""

from __future__ import annotations

import math
import random

import pytest
from drawings import WALL, job, new, read, told
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dxf2veneer.basics.units import unit_by_code
from dxf2veneer.drawing.outlines.loops import find_loops
from dxf2veneer.geometry import Path, Segment
from dxf2veneer.model import Shape


def line(x0, y0, x1, y1, handle, bulge=0.0):
    return Shape(Path(((x0, y0, bulge), (x1, y1, 0.0)), closed=False), "A-WALL", handle, "LINE")


def box(x0, y0, x1, y1, first=1):
    """Four loose lines round a rectangle."""
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    pairs = zip(corners, corners[1:] + corners[:1], strict=True)
    return [line(*p, *q, str(first + i)) for i, (p, q) in enumerate(pairs)]


def areas(loops):
    return [o.path.area for o in loops.outlines]


def test_four_lines_are_an_outline_with_their_handles():
    loops = find_loops(box(0, 0, 120, 96), gap_in=0.25)
    (outline,) = loops.outlines
    assert outline.path.area == 120 * 96
    assert len(outline.path.vertices) == 4
    assert outline.handles == ("1", "2", "3", "4")
    assert not loops.joined
    assert not loops.unused


def test_board_lines_and_lines_that_stop_in_mid_segment_do_not_split_the_wall():
    """____________
    |___|________|   a joint that ends on a board line, a board line from side to side,
    |______|_____|   and a line that leads nowhere
    """
    inside = [
        line(0, 8, 120, 8, "5"),
        line(48, 8, 48, 0, "6"),
        line(0, 16, 120, 16, "7"),
        line(36, 16, 36, 24, "8"),
        line(60, 50, 80, 50, "9"),
    ]
    loops = find_loops(box(0, 0, 120, 96) + inside, gap_in=0.25)
    (outline,) = loops.outlines
    assert outline.path.area == 120 * 96
    assert len(outline.path.vertices) == 4, "joints at the sides leave no vertices"
    assert outline.handles == ("1", "2", "3", "4")
    assert not loops.unused, "what lies inside an outline is part of it"


def test_lines_that_fall_short_at_a_corner_meet_at_their_crossing():
    """Each end 0.1 in short: the corner is where the lines cross, not a cut-off corner."""
    short = [
        line(0.1, 0, 119.9, 0, "1"),
        line(120, 0.1, 120, 96, "2"),
        line(120, 96, 0, 96, "3"),
        line(0, 96, 0, 0.1, "4"),
    ]
    loops = find_loops(short, gap_in=0.25)
    assert areas(loops) == [pytest.approx(120 * 96, rel=1e-12)]
    assert len(loops.joined) == 2
    assert all(j.gap_in == pytest.approx(math.hypot(0.1, 0.1)) for j in loops.joined)
    assert {frozenset(j.handles) for j in loops.joined} == {frozenset("14"), frozenset("12")}


def test_a_gap_in_the_middle_of_a_side_is_bridged():
    sides = [line(0, 0, 60, 0, "1"), line(60.2, 0, 120, 0, "2"), *box(0, 0, 120, 96, first=3)[1:]]
    loops = find_loops(sides, gap_in=0.25)
    assert areas(loops) == [120 * 96]
    assert [j.handles for j in loops.joined] == [("1", "2")]


def test_a_gap_wider_than_the_tolerance_stays_open():
    sides = [line(0, 0, 60, 0, "1"), line(60.3, 0, 120, 0, "2"), *box(0, 0, 120, 96, first=3)[1:]]
    loops = find_loops(sides, gap_in=0.25)
    assert not loops.outlines
    assert len(loops.unused) == len(sides)


def test_a_line_that_stops_before_another_runs_on_to_it():
    """An upright 0.2 in short of the base, 5 in from the corner: the outline is the part it
    closes."""
    sides = [
        line(-5, 0, 120, 0, "1"),
        line(120, 0, 120, 96, "2"),
        line(120, 96, 0, 96, "3"),
        line(0, 96, 0, 0.2, "4"),
    ]
    loops = find_loops(sides, gap_in=0.25)
    assert areas(loops) == [120 * 96]
    assert [j.handles for j in loops.joined] == [("4", "1")]


def test_lines_that_run_too_far_are_cut_by_each_other():
    crossed = [
        line(-3, 0, 123, 0, "1"),
        line(120, -0.1, 120, 99, "2"),
        line(121, 96, -0.2, 96, "3"),
        line(0, 97, 0, -4, "4"),
    ]
    loops = find_loops(crossed, gap_in=0.25)
    assert areas(loops) == [pytest.approx(120 * 96, rel=1e-12)]
    assert not loops.joined


def test_doubled_lines_count_once():
    loops = find_loops(
        box(0, 0, 120, 96) + box(0, 0, 120, 96, first=5) + [line(30, 0, 90, 0, "9")], gap_in=0.25
    )
    assert areas(loops) == [120 * 96]
    assert not loops.joined


def test_the_sliver_between_two_copies_of_a_curve_is_no_outline():
    """Two arcs of one chord, their rises 0.004 in apart, off to the side of a wall."""
    loops = find_loops(
        [
            *box(0, 0, 120, 96),
            line(300, 0, 340, 0, "5", bulge=0.2),
            line(300, 0, 340, 0, "6", bulge=0.2002),
        ],
        gap_in=0.25,
    )
    assert areas(loops) == [120 * 96]
    assert [s.handle for s in loops.unused] == ["5", "6"]


def test_arcs_stay_arcs():
    """A half-round top of radius 60 on sides of 96: the area is exact, not a polygon's."""
    sides = [
        line(0, 0, 120, 0, "1"),
        line(120, 0, 120, 96, "2"),
        line(120, 96, 0, 96, "3", bulge=1.0),
        line(0, 96, 0, 0, "4"),
    ]
    loops = find_loops([*sides, line(0, 96, 120, 96, "5")], gap_in=0.25)
    assert areas(loops) == [pytest.approx(120 * 96 + math.pi * 60**2 / 2, rel=1e-12)]


def test_groups_that_do_not_touch_are_outlines_of_their_own():
    loops = find_loops(
        box(0, 0, 120, 96) + box(200, 0, 240, 40, first=5) + [line(300, 0, 310, 0, "9")],
        gap_in=0.25,
    )
    assert sorted(areas(loops)) == [1600, 120 * 96]
    assert [s.handle for s in loops.unused] == ["9"]


def test_in_a_drawing_gaps_and_unused_lines_are_told(tmp_path):
    document = new()
    for start, end in [
        ((0, 0), (119.9, 0)),
        ((120, 0.1), (120, 96)),
        ((120, 96), (0, 96)),
        ((0, 96), (0, 0)),
        ((200, 0), (220, 0)),
    ]:
        document.modelspace().add_line(start, end, dxfattribs=WALL)
    drawing = read(document, tmp_path)
    assert [s.path.area for s in drawing.shapes] == [pytest.approx(120 * 96)]
    assert told(drawing) == ["NO_SUCH_LAYER", "GAP_CLOSED", "LOOSE_LINES_UNUSED"], (
        "there is no opening layer"
    )
    assert drawing.notices[1].handle


def test_loose_lines_inside_a_closed_outline_are_its_panel_lines(tmp_path):
    document = new()
    document.modelspace().add_lwpolyline(
        [(0, 0), (120, 0), (120, 96), (0, 96)], close=True, dxfattribs=WALL
    )
    for x in (20, 60):
        for ends in [
            ((x, 10), (x + 20, 10)),
            ((x + 20, 10), (x + 20, 30)),
            ((x + 20, 30), (x, 30)),
            ((x, 30), (x, 10)),
        ]:
            document.modelspace().add_line(*ends, dxfattribs=WALL)
    drawing = read(document, tmp_path)
    assert [s.path.area for s in drawing.shapes] == [120 * 96]
    assert told(drawing) == ["NO_SUCH_LAYER"], "there is no opening layer, and nothing else to tell"


def test_lines_of_a_layer_that_holds_marks_stay_lines(tmp_path):
    document = new()
    document.modelspace().add_lwpolyline(
        [(0, 0), (120, 0), (120, 96), (0, 96)], close=True, dxfattribs=WALL
    )
    document.modelspace().add_line((0, 96), (120, 96), dxfattribs={"layer": "A-CAPS"})
    drawing = read(document, tmp_path, layers__cap=("A-CAPS",))
    assert sorted(s.entity for s in drawing.shapes) == ["LINE", "LWPOLYLINE"]
    assert job().drawing.gap == 0.25


# ------------------------------------------------------------ rough drawings

_CORNER = st.tuples(st.integers(24, 400), st.integers(24, 300))


_PLACE = st.tuples(st.integers(-5000, 5000), st.integers(-5000, 5000))


def clean_wall(size, at, arched):
    """A wall with a level or an arched top, as a person would trace it."""
    (w, h), (x, y) = size, at
    return Path(
        ((x, y, 0.0), (x + w, y, 0.0), (x + w, y + h, 0.5 if arched else 0.0), (x, y + h, 0.0))
    )


def roughened(clean, dice):
    """The same wall as people draw it: sides cut in parts, shuffled, turned, doubled, too long or
    too short by less than the gap, and board lines inside."""
    rough = []
    for segment in clean.segments:
        parts = segment.split([dice.random() for _ in range(dice.randint(0, 3))])
        for i, part in enumerate(parts):
            s = stretched(part, dice, first=i == 0, last=i == len(parts) - 1)
            for _ in range(dice.choice([1, 1, 2])):
                turned = s if dice.random() < 0.5 else s.reversed
                rough.append(
                    line(*turned.start, *turned.end, f"{len(rough) + 1:X}", bulge=turned.bulge)
                )
    x0, y0, x1, _ = clean.box
    for i in range(dice.randint(0, 4)):
        y = y0 + (i + 1) * 3.7
        rough.append(
            line(x0 + dice.uniform(-0.1, 0.1), y, x1 + dice.uniform(-0.1, 0.1), y, f"B{i}")
        )
    dice.shuffle(rough)
    return rough


def stretched(part, dice, *, first, last):
    """A straight part up to 0.1 in longer or shorter where it ends at a corner."""
    if part.is_arc or part.chord <= 4:
        return part
    a = dice.uniform(-0.1, 0.1) / part.chord if first else 0.0
    b = dice.uniform(-0.1, 0.1) / part.chord if last else 0.0
    (ax, ay), (bx, by) = part.start, part.end
    dx, dy = bx - ax, by - ay
    return Segment((ax - a * dx, ay - a * dy), (bx + b * dx, by + b * dy))


@settings(max_examples=500, deadline=None)
@given(size=_CORNER, at=_PLACE, seed=st.integers(0, 2**32), arched=st.booleans())
def test_a_rough_drawing_is_recognised_as_its_clean_twin(size, at, seed, arched):
    clean = clean_wall(size, at, arched)
    rough = roughened(clean, random.Random(seed))
    loops = find_loops(rough, gap_in=0.25)
    assert areas(loops) == [pytest.approx(clean.area, rel=1e-6)]
    assert loops.outlines[0].path.box == pytest.approx(clean.box, abs=1e-4)
    again = find_loops(sorted(rough, key=lambda s: s.path.vertices), gap_in=0.25)
    assert again.outlines == loops.outlines, "the order of entities tells nothing"


@settings(
    max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    size=_CORNER,
    at=_PLACE,
    seed=st.integers(0, 2**32),
    arched=st.booleans(),
    angle=st.integers(-180, 180),
    code=st.sampled_from([1, 2, 4, 5, 6]),
)
def test_a_rough_drawing_in_a_turned_block_and_any_unit_alike(
    size, at, seed, arched, angle, code, tmp_path
):
    """Some lines stand in a block that is drawn turned and turned back by its reference, so that
    ends that should meet differ in the last digits; the drawing is in inches, feet, mm, cm or m."""
    dice, clean = random.Random(seed), clean_wall(size, at, arched)
    document = new(units=code)
    block, space = document.blocks.new("PART"), document.modelspace()
    unit = 1.0 / unit_by_code(code).inches
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    for shape in roughened(clean, dice):
        (x0, y0, bulge), (x1, y1, _) = shape.path.scaled(unit).vertices
        if dice.random() < 0.5:
            space.add_lwpolyline([(x0, y0, bulge), (x1, y1, 0)], format="xyb", dxfattribs=WALL)
        else:
            turned = [
                (x * cos + y * sin, y * cos - x * sin, b)
                for x, y, b in ((x0, y0, bulge), (x1, y1, 0))
            ]
            block.add_lwpolyline(turned, format="xyb", dxfattribs=WALL)
    space.add_blockref("PART", (0, 0), dxfattribs={"rotation": angle})
    drawing = read(document, tmp_path)
    assert [s.path.area for s in drawing.shapes] == [pytest.approx(clean.area, rel=1e-6)]
    assert drawing.shapes[0].path.box == pytest.approx(clean.box, abs=1e-4)
