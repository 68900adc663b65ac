"""What other joints of a run would take, against every place that a rule leaves them.

The oracle lays plain walls between butt ends. A part keeps one end of its panel as it came (common
practice, no published source), so that a panel gives one part with its left end, one with its right
end, and a saw cut between: the fewest panels are the parts less the greatest matching of left and
right ones, which SciPy finds. It shares nothing with the planner's counts.
"""

from __future__ import annotations

import dataclasses
import itertools

import numpy as np
import pytest
from builders import drawing, job, write_dxf
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.model import Flaw, Look, Mend, mending

PANEL, LEAST, STAGGER, KERF, IN_LINE = 36.0, 8.0, 8.0, 0.125, 1.0
"""The generic panel in inches; joints nearer than the last, two courses apart, look in line."""


def panels(courses) -> int:
    """The fewest panels for courses of pieces from the left, by a matching."""
    parts = [pieces for pieces in courses if len(pieces) > 1 or pieces[0] < PANEL - 1e-6]
    left = [p[0] for p in parts if p[0] < PANEL - 1e-6]
    right = [p[-1] for p in parts if len(p) > 1 and p[-1] < PANEL - 1e-6]
    whole = sum(length >= PANEL - 1e-6 for pieces in courses for length in pieces)
    if not left or not right:
        return whole + len(left) + len(right)
    fits = np.add.outer(left, right) + KERF <= PANEL + 1e-6
    return whole + len(left) + len(right) - int(fits[linear_sum_assignment(~fits)].sum())


def joints(pieces) -> list[float]:
    return list(itertools.accumulate(pieces))[:-1]


def in_line(courses, i: int) -> int:
    """Joints of a course in line with those two courses below and above."""
    others = [x for j in (i - 2, i + 2) if 0 <= j < len(courses) for x in joints(courses[j])]
    return sum(abs(x - other) <= IN_LINE for x in joints(courses[i]) for other in others)


def apart(courses, i: int) -> bool:
    beside = [x for j in (i - 1, i + 1) if 0 <= j < len(courses) for x in joints(courses[j])]
    return all(abs(x - other) >= STAGGER - 1e-6 for x in joints(courses[i]) for other in beside)


def divisions(length: float):
    """A course of whole panels between two end pieces, every eighth of an inch."""
    for first in np.arange(LEAST, PANEL + 0.01, 0.125):
        whole = int(np.ceil((length - first) / PANEL - 1e-9)) - 1
        last = length - first - whole * PANEL
        if whole >= 0 and LEAST <= last <= PANEL:
            yield [float(first), *[PANEL] * whole, float(last)]


@settings(max_examples=15, deadline=None)
@given(st.integers(8 * 45, 8 * 110), st.integers(4, 7))
def test_places_take_as_many_panels_as_told_or_one_fewer(tmp_path_factory, eighths, number):
    width = eighths / 8
    path = write_dxf(
        drawing(wall=[(0, 0, width, 8 * number)]), tmp_path_factory.mktemp("wall") / "wall.dxf"
    )
    takeoff = take_off([path], with_settings(job(), plan__look="off", plan__offcuts="job"))
    (wall,) = takeoff.walls
    courses = [
        [p.x1 - p.x0 for p in sorted(own, key=lambda p: p.x0)]
        for _, own in itertools.groupby(wall.courses.pieces, key=lambda p: p.course)
    ]
    now = panels(courses)
    for mend in takeoff.plan.mends:
        i, begun = mend.course, in_line(courses, mend.course)
        found = []
        for other in divisions(width):
            changed = [*courses[:i], other, *courses[i + 1 :]]
            if apart(changed, i) and in_line(changed, i) < begun:
                found.append(panels(changed) - now)
        if mend.panels is not None:  # the saw's own grid lies between the eighths, by a hair
            assert not found or mend.panels <= max(0, min(found)) + 1
        if found and begun:
            assert mend.panels is not None


def test_a_wall_without_a_pattern_has_nothing_to_mend(tmp_path):
    # 4 ft by two courses: no course lies two below another
    path = write_dxf(drawing(wall=[(0, 0, 48, 16)]), tmp_path / "wall.dxf")
    assert take_off([path], job()).plan.mends == ()


#  course 4 |   |      |      x = 12: the ladder's top, told at the course of index 4
#  course 2 |   |      |      other joints here take one panel
#  course 0 |   |      |
LADDER = Flaw("ladder", "W1", 4, (12.0, 40.0), 5)


def run(course: int, panels: int | None, x0: float = 0.0, wall: str = "W1") -> Mend:
    return Mend(wall, course, x0, x0 + 48.0, panels)


@pytest.mark.parametrize(
    ("mends", "found"),
    [
        ([run(4, 2), run(2, 1), run(0, None)], 1),
        ([run(4, None)], None),
        ([run(3, 0), run(2, 2)], 2),  # the course between has no part in it
        ([run(4, 0, x0=60.0), run(4, 0, wall="W2"), run(4, 3)], 3),
    ],
)
def test_the_cheapest_run_of_a_pattern_mends_it(mends, found):
    assert mending(LADDER, mends).panels == found


def test_a_pattern_of_which_no_run_was_tried_has_no_price():
    assert mending(LADDER, [run(1, 0), run(4, 0, x0=60.0)]) is None


def test_the_longest_patterns_are_the_worst_and_each_course_is_told_once():
    lone = Flaw("in-line", "W1", 2, (12.0, 24.0), 3)
    beside = dataclasses.replace(LADDER, at=(30.0, 40.0))
    jamb = Flaw("jamb", "W1", 1, (20.0, 16.0), 1)
    look = Look(20, 10, 4, 3, 2, 0, 0, 0, 1, 0, (lone, jamb, LADDER, beside))
    assert look.worst == (LADDER, lone, jamb)
    assert look.score == 100 * (4 + 1) / 20
