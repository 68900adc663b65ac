"""Planner and judge find runs and strips by different means, and find the same.

The planner clips the field by each course's band and walks along a piece's boundary from corner to
corner. The judge divides the plane by the field's boundary and the course lines, and measures
slices that it cuts out of a piece. Both are also held against what the sketches say.

   40 .-----------------.        a front with a raked top, a step in its base, a round-headed
      |       .         |        opening and a fixture; widths, heights and places at random
   24 |  .-.  '--.  []  |
      |  | |  |  |      |
    0 '--' '--'  '------'
"""

from __future__ import annotations

import dataclasses
import math

import pytest
import shapely
from builders import PRODUCT, as_path, drawing, job
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.product import Panel
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import Course
from dxf2veneer.planning.runs import Reach, runs_of
from dxf2veneer.planning.strips import levels_of, lowest_strip
from dxf2veneer.recognise import recognise
from dxf2veneer.verify.plan.runs import judged_wall, shape_of
from dxf2veneer.verify.plan.strips import LevelSides, level_strips, reach, slices_of

NEAR_IN = 0.02
"""Both forgive a hundredth of an inch."""
THIN_IN = 0.01
inches = st.integers(0, 400).map(lambda quarters: quarters / 4)


@st.composite
def fronts(draw):
    """One wall: perhaps a step in its base, a rake, round heads, windows and a light anywhere."""
    width, height = 80.0 + draw(inches), 20.0 + draw(inches)
    base = draw(st.sampled_from([0.0, 3.0, 8.0, 11.5]))
    outline = [(0, 0), (width / 2, 0), (width / 2, base), (width, base), (width, height)]
    if draw(st.booleans()):
        outline.append((width * draw(st.floats(0.2, 0.8)), height + draw(inches) / 4))
    outline.append((0, height))
    openings = {"window": [], "fixture": []}
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(inches) % (width - 12), base + 1 + draw(inches) % (height - base - 1)
        wide, high = 6 + draw(inches) / 4, 4 + draw(inches) / 4
        if draw(st.booleans()):
            sill = ((x, y, 0.0), (x + wide, y, 0.0))
            head = ((x + wide, y + high, 1.0), (x, y + high, 0.0))
            openings["window"].append(Path((*sill, *head)))
        else:
            openings["window"].append((x, y, x + wide, y + high))
    if draw(st.booleans()):
        openings["fixture"].append((5.0, base + 9.0, 13.0, base + 14.0))
    return drawing(wall=[outline], **{role: found for role, found in openings.items() if found})


def laid(front):
    found = recognise([front], job())
    return lay_out(found.walls, found.corners, job(), PRODUCT)


@settings(max_examples=40, deadline=None)
@given(fronts())
def test_both_find_the_same_runs(front):
    for wall in laid(front).walls:
        planned = [
            (run.course, run.field)
            for course in runs_of(wall.wall, wall.courses, Reach())
            for run in course
        ]
        judged = [(run.course.index, run.field) for run in judged_wall(wall).runs]
        assert [course for course, _ in planned] == [course for course, _ in judged]
        for course, one in planned:  # two that begin within a hair of each other have no order
            other = min(
                (field for at, field in judged if at == course),
                key=lambda field: one.symmetric_difference(field).area,
            )
            # the planner leaves out tips thinner than a hundredth of an inch
            assert one.symmetric_difference(other).area <= THIN_IN * other.length


@settings(max_examples=40, deadline=None)
@given(fronts())
def test_both_find_the_same_lowest_strip_of_every_piece(front):
    for wall in laid(front).walls:
        levels, sides = levels_of(wall), LevelSides(wall.courses.field)
        for piece in (p for p in wall.courses.pieces if p.outline or p.holes):
            course = wall.courses.courses[piece.course]
            strips = level_strips(slices_of(shape_of(piece)), sides, course)
            judged = min((s.y1 - s.y0 for s in strips), default=piece.height)
            assert math.isclose(lowest_strip(piece, levels), judged, abs_tol=NEAR_IN), piece


# ------------------------------------------------------------------ by the sketch

COURSE = Course(0, 0.0, 8.0)


def strips_of(shape, field):
    return [tuple(s) for s in level_strips(slices_of(shape), LevelSides(field), COURSE)]


def test_a_step_in_a_piece_bounds_two_strips():
    #  8 .------.        the field ends at 5 from 20 to 36
    #  5 |      '---.
    #  0 '----------'
    outline = ((0, 0), (36, 0), (36, 5), (20, 5), (20, 8), (0, 8))
    shape = shapely.Polygon(outline)
    assert strips_of(shape, Region.of(as_path(list(outline)))) == [(0, 20, 0, 8), (20, 36, 0, 5)]


def test_a_slope_is_no_strip_and_no_flange():
    #  8 .----.          level to 10, then down to 4 at 30
    #    |     '-._
    #  0 '---------'
    outline = ((0, 0), (30, 0), (30, 4), (10, 8), (0, 8))
    shape = shapely.Polygon(outline)
    assert strips_of(shape, Region.of(as_path(list(outline)))) == [(0, 10, 0, 8)]
    assert reach(slices_of(shape), 8.0) == 10


def test_a_hole_parts_a_slice_in_two():
    #  8 .----------.    a light from 3 to 6 between x = 10 and 16
    #    |   [  ]   |
    #  0 '----------'
    hole = ((10, 3), (16, 3), (16, 6), (10, 6))
    outline = ((0, 0), (30, 0), (30, 8), (0, 8))
    field = Region.of(as_path(list(outline))).difference(Region.of(as_path(list(hole))))
    assert strips_of(shapely.Polygon(outline, [hole]), field) == [
        (0, 10, 0, 8),
        (10, 16, 0, 3),
        (10, 16, 6, 8),
        (16, 30, 0, 8),
    ]


@pytest.mark.parametrize(("rise", "strips"), [(0.2, 1), (0.8, 0)])
def test_what_leans_by_a_hundredth_of_its_length_is_level(rise, strips):
    # over 36 in a rise of 0.36 is the most that is drawn level
    outline = ((0, 0), (36, 0), (36, 6 + rise), (0, 6))
    assert len(strips_of(shapely.Polygon(outline), Region.of(as_path(list(outline))))) == strips


def test_a_sill_on_a_course_line_that_no_float_hits_parts_the_course_it_stands_in():
    # 800 mm up, courses of 200 mm: 4 x 7.874015748031496 in and 31.496062992125985 in are one line
    #   .--------------.
    #   |     .--.     |   course 4
    #   |     '--'     |   courses 0 to 3
    #   '--------------'
    height = 200 / 25.4
    sill, head = 4 * height, 5 * height
    front = drawing(wall=[(0, 0, 120, 6 * height)], window=[(40, sill, 80, head)])
    metric = dataclasses.replace(PRODUCT, panel=Panel(36.0, height))
    found = recognise([front], job())
    wall = lay_out(found.walls, found.corners, job(), metric).walls[0]
    runs = [(run.course.index, run.left.x, run.right.x) for run in judged_wall(wall).runs]
    assert [run for run in runs if run[0] in (3, 4, 5)] == [
        (3, 0, 120),
        (4, 0, 40),
        (4, 80, 120),
        (5, 0, 120),
    ]
