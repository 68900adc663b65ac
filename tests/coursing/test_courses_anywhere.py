"""Where on the sheet a wall is drawn changes nothing about its courses, nor about the best start.

|        ______________|  100     base: level 0..60, a slope from 0 to 20 over 60..160, level at 20;
|  .--. |              |   84     a door on the slope, a window, a cap over the lower top
'--|  |-'     []       |
   |  |                |
---'  '      ____------'   20
======-------               0
"""

import dataclasses

import pytest
from builders import JOB, coursed, drawing, job, line, measured, tables_of

from dxf2veneer.wording import say

WALL = [(0, 0), (60, 0), (160, 20), (240, 20), (240, 100), (80, 100), (80, 84), (0, 84)]
FRONT = drawing(
    wall=[WALL],
    door=[[(100, 8), (130, 14), (130, 76), (100, 76)]],
    window=[(170, 45, 206, 75)],
    fixture=[(20, 30, 28, 42)],
    cap=[line(0, 84, 80, 84)],
)
SETTINGS = {
    "from the base": (JOB, ()),
    "a clearance and bands": (
        job(courses__clearance=2.0, trim__head=7.0, trim__sill=3.0, trim__jambs=4.0),
        (),
    ),
    "a start under the base": (job(courses__start=-2.0), ()),
    "a high start": (job(courses__clearance=9.0), ()),
    "a level line": (job(courses__clearance=1.0, courses__start=0.5), (line(-5, 27, 250, 27),)),
}


def moved(one, x, y):
    return dataclasses.replace(
        one, shapes=tuple(dataclasses.replace(s, path=s.path.moved(x, y)) for s in one.shapes)
    )


def facts(one, job_, x=0.0, y=0.0):
    """Courses, lines, conflicts, field, notices and starts, with places counted from (x, y)."""
    wall = measured(one, job_)
    plan, told = coursed(one, job_)
    (table,) = tables_of([wall], [], job_)
    courses = [(c.index, round(c.y0 - y, 6), round(c.y1 - y, 6)) for c in plan.courses]
    lines = [
        [(n.index, round(n.x0 - x, 3), round(n.x1 - x, 3), round(n.y - y, 6)) for n in ns]
        for ns in (plan.lines, plan.starter_lines)
    ]
    conflicts = [
        (
            c.what,
            c.opening,
            c.course,
            round(c.y - y, 6),
            round(c.strip, 6),
            c.sliver,
            round(c.x0 - x, 3),
            round(c.x1 - x, 3),
            round(c.move_up, 6),
            round(c.move_down, 6),
        )
        for c in plan.conflicts
    ]
    starts = [
        (round(o.start, 6), round(o.height, 6), o.slivers, o.strips, o.ripped, o.is_best, o.fits)
        for o in table.options
    ]
    notices = [
        (n.code, say(n.message), n.handle, round(n.at_in[0] - x, 6), round(n.at_in[1] - y, 6))
        for n in told
    ]
    return (
        plan.starter_from,
        plan.turn,
        round(plan.starter_y - y, 6),
        courses,
        lines,
        conflicts,
        round(plan.field.area, 4),
        starts,
        notices,
    )


@pytest.mark.parametrize("place", [(1024, 512), (-4096, 256), (128, -2048)])
@pytest.mark.parametrize("name", SETTINGS)
def test_courses_are_the_same_anywhere(name, place):
    job_, level = SETTINGS[name]
    front = drawing_with(level)
    assert facts(moved(front, *place), job_, *place) == facts(front, job_)


def drawing_with(level):
    return dataclasses.replace(FRONT, shapes=FRONT.shapes + drawing(level=level).shapes)


def test_what_the_courses_are_at_the_origin():
    source, turn, starter, courses, (_, strips), conflicts, area, _, told = facts(FRONT, JOB)
    assert (source, turn, starter, len(courses)) == ("base", 0, 0, 13)
    # the slope rises 1 in 5: it passes 8 at x = 100, where the door begins, and 16 at x = 140
    assert strips == [
        (0, 0, 60, 0),
        (0, 60, 100, 8),
        (0, 130, 140, 16),
        (0, 140, 160, 24),
        (0, 160, 240, 20),
    ]
    assert [(c[0], c[1], c[3], c[4]) for c in conflicts] == [
        ("sill", "W1-O1", 30, 6),
        ("head", "W1-O1", 42, 6),
        ("sill", "W1-O3", 45, 5),
        ("head", "W1-O3", 75, 5),
        ("head", "W1-O2", 76, 4),
        ("cap", None, 81.75, 1.75),
        ("top", None, 100, 4),
    ]
    # 240 x 100 less the step 80 x 16, the base's 100 x 10 and 80 x 20, door 30 x 65, window 36 x
    # 30, fixture 8 x 12, cap 80 x 2.25
    assert area == pytest.approx(24000 - 1280 - 1000 - 1600 - 1950 - 1080 - 96 - 180)
    assert [t[0] for t in told] == ["BASE_STEPPED", "SLIVER"]
