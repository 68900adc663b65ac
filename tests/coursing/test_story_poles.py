"""Story poles: the heights that a mason marks on a rod, worked out by hand.

Courses are 8 in. Wall W1 stands on 0 and is 60 high, W2 on 16 and is 44 high (to 60); the level
line runs at 4, so that both walls' courses run on 4 + 8n.

    60  .--------------.  .--------.
        |              |  |        |
    50  |   .-----.    |  |        |
        |   | W1-O1    |  |        |
    26  |   '-----'    |  |        |
    16  |              |  '--------'
     4  - - - - - - - - - - - - - - - -  level line
     0  '--------------'
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from builders import JOB, PRODUCT, drawing, job, line, walls_of
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.numbering import numbered
from dxf2veneer.coursing.story_poles import story_poles
from dxf2veneer.geometry import Path
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import WallTakeoff
from dxf2veneer.writers.story_pole.labels import rip_words
from dxf2veneer.writers.story_pole.rod import spread


def two_walls(**more):
    return drawing(wall=[(0, 0, 120, 60), (140, 16, 200, 60)], window=[(30, 26, 66, 50)], **more)


def poles(one, settings=JOB):
    sums = [measure_wall(w, settings, PRODUCT) for w in walls_of(one, job=settings)]
    walls = [WallTakeoff(s.wall, s, course_wall(s, settings, PRODUCT)) for s in sums]
    walls = numbered(walls, (), 8.0)
    return story_poles(walls, 8.0)


def marks(pole, what):
    return [(m.height, m.refs) for m in pole.marks if m.what == what]


def test_walls_on_one_level_line_share_a_pole_with_heights_above_it():
    (pole,) = poles(two_walls(level=[line(-10, 4, 210, 4)]))
    assert pole.walls == ("W1", "W2") and pole.datum == "level"
    assert marks(pole, "level") == [(0.0, ("W1", "W2"))]
    assert marks(pole, "base") == [(-4.0, ("W1",)), (12.0, ("W2",))]
    assert marks(pole, "sill") == [(22.0, ("W1-O1",))]
    assert marks(pole, "head") == [(46.0, ("W1-O1",))]
    assert marks(pole, "top") == [(56.0, ("W1", "W2"))]


def test_courses_count_from_the_lowest_of_all_walls():
    (pole,) = poles(two_walls(level=[line(-10, 4, 210, 4)]))
    courses = {m.course: (m.height, m.refs) for m in pole.marks if m.what == "course"}
    assert courses[1] == (0.0, ("W1",))
    assert courses[2] == (8.0, ("W1",))
    assert courses[3] == (16.0, ("W1", "W2")), "the first course of W2 is the third on the rod"


def test_a_rip_is_told_with_its_course():
    """The head at 50 is 46 over the level line, 6 into the sixth course (40 to 48): a strip of 2
    is left over it. The sill at 26 is 22 over it, 6 into the third course (16 to 24): a strip of 6
    under it."""
    (pole,) = poles(two_walls(level=[line(-10, 4, 210, 4)]))
    (head,) = (m for m in pole.marks if m.what == "head")
    (sill,) = (m for m in pole.marks if m.what == "sill")
    assert (head.course, head.strip, head.is_sliver) == (6, pytest.approx(2.0), False)
    assert (sill.course, sill.strip) == (3, pytest.approx(6.0))


def test_trim_moves_where_panels_end_but_not_the_head():
    (pole,) = poles(two_walls(level=[line(-10, 4, 210, 4)]), job(trim__head=2.0, trim__sill=6.0))
    assert marks(pole, "head") == [(46.0, ("W1-O1",))]
    ends = {m.beyond: (m.height, m.strip) for m in pole.marks if m.what == "panels"}
    assert ends == {"head": (48.0, 0.0), "sill": (16.0, 0.0)}


def test_without_a_level_line_walls_of_one_starter_share_a_pole():
    """W1 and W3 stand on 0, W2 on 16: nothing ties W2's courses to theirs."""
    drawn = drawing(wall=[(0, 0, 120, 60), (140, 16, 200, 60), (220, 0, 300, 40)])
    first, second = poles(drawn)
    assert (first.walls, second.walls) == (("W1", "W3"), ("W2",))
    assert first.datum == second.datum == "base"
    assert marks(first, "base") == [(0.0, ("W1", "W3"))] and second.bottom == 0.0


def test_two_level_lines_make_two_poles():
    drawn = drawing(
        wall=[(0, 0, 120, 60), (0, 100, 120, 160)],
        level=[line(-10, 4, 130, 4), line(-10, 102, 130, 102)],
    )
    assert [(p.walls, p.bottom) for p in poles(drawn)] == [(("W1",), -4.0), (("W2",), -2.0)]


def test_a_cap_has_its_top_and_the_line_under_it():
    """A cap stone of 2 1/4 in lies on top of the wall of 60: panels end at 57 3/4."""
    (pole,) = poles(drawing(wall=[(0, 0, 120, 60)], cap=[line(0, 60, 120, 60)]))
    assert marks(pole, "cap") == [(60.0, ("W1",))] and not marks(pole, "top")
    assert [(m.height, m.beyond) for m in pole.marks if m.what == "panels"] == [(57.75, "cap")]


ARCH = Path(((20.0, 20.0, 0.0), (44.0, 20.0, 0.0), (44.0, 40.0, 1.0), (20.0, 40.0, 0.0)))
"""Jambs to 40, over them a half circle of 12 in radius: its crown is at 52."""
CHORDS = Path.polygon(
    [(20, 20), (44, 20)]
    + [
        (32 + 12 * math.cos(n * math.pi / 9), 40 + 12 * math.sin(n * math.pi / 9))
        for n in range(10)
    ]
)
"""The same drawn in nine chords, of which the middle one is level, at 40 + 12 cos 10 degrees."""
LEAN = Path.polygon([(20, 20), (44, 20), (44, 52), (20, 40)])
GABLE = Path.polygon([(20, 20), (44, 20), (44, 40), (32, 52), (20, 40)])
CLIPPED = Path.polygon([(20, 20), (44, 20), (44, 46), (38, 52), (26, 52), (20, 46)])
ROUND = Path.circle((32.0, 40.0), 12.0)


@pytest.mark.parametrize(
    ("outline", "expected"),
    [
        (ARCH, {"springing": 40, "crown": 52}),
        (CHORDS, {"springing": 40, "crown": 40 + 12 * math.cos(math.radians(10))}),
        (LEAN, {"slope foot": 40, "slope top": 52}),
        (GABLE, {"slope foot": 40, "slope top": 52}),
        (CLIPPED, {"head": 52}),
        (ROUND, {"crown": 52}),
    ],
)
def test_heads_of_arches_and_slopes_are_told_as_such(outline, expected):
    (pole,) = poles(drawing(wall=[(0, 0, 120, 80)], window=[outline]))
    heads = ("head", "springing", "crown", "slope foot", "slope top")
    found = [(m.what, m.height) for m in pole.marks if m.what in heads]
    assert dict(found) == pytest.approx(expected) and len(found) == len(expected)
    ripped = {m.what for m in pole.marks if m.strip and m.what in heads}
    assert ripped <= {max(expected, key=expected.get)}


@pytest.mark.parametrize(
    ("high", "imperial", "metric"),
    [
        (48 + 1 / 32, 'course 7 ripped to 7 31/32"', "course 7 ripped to 202 mm"),
        (56 - 1 / 32, 'course 7 ripped to 1/32", a sliver', "course 7 ripped to 1 mm, a sliver"),
        (52, 'course 7 ripped to 4"', "course 7 ripped to 102 mm"),
    ],
)
def test_a_cut_of_a_thirty_second_is_told_as_a_cut(high, imperial, metric):
    """The seventh course runs from 48 to 56; what is left of it over a head just above 48 is a
    thirty-second less than 8 in, which to sixteenths would read as a whole course."""
    drawn = drawing(wall=[(0, 0, 120, 80)], window=[(20, 24, 44, high)])
    (pole,) = poles(drawn, job(courses__clearance=0.0))
    (head,) = (m for m in pole.marks if m.what == "head")
    assert rip_words(head, 8.0, "imperial") == imperial
    assert rip_words(head, 8.0, "metric") == metric


@given(st.lists(st.tuples(st.floats(0, 10), st.floats(0.05, 0.4)), max_size=20))
def test_labels_never_overlap_nor_leave_the_room(wanted):
    wanted.sort()
    middles, sizes = [w for w, _ in wanted], [s for _, s in wanted]
    room = max(10.0, sum(sizes))
    placed = spread(middles, sizes, room)
    edges = [(p - s / 2, p + s / 2) for p, s in zip(placed, sizes, strict=True)]
    assert all(a >= -1e-9 and b <= room + 1e-9 for a, b in edges)
    assert all(b <= c + 1e-9 for (_, b), (c, _) in pairwise(edges))


def test_labels_that_have_room_stay_where_they_are_wanted():
    assert spread([1.0, 5.0, 9.0], [0.2, 0.2, 0.2], 10.0) == [1.0, 5.0, 9.0]
