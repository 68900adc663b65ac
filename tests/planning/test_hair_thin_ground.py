"""Ground a few hundredths of an inch thin: the planner lays what the judge wants covered, no more.

Both take ground for rounding where it is no thicker than 0.01 in in the mean, or no larger than
0.02 sq in.

     w                          upright   a pier of width w beside an opening as high as the wall
    ||----.-------.             wedge     a pier that narrows from w at its foot to nothing above
    ||    |       |             lying     a strip of height w between a window and the course line
    ||    |       | wall        corner    a wall beside a corner, ending w above a course line
    ''----'-------'
"""

from __future__ import annotations

import pytest
from builders import drawing, job, line, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import Level
from dxf2veneer.wording import say

HEIGHT = 8.0


def upright(w):
    return {"wall": [(0, 0, 100, 3 * HEIGHT)], "window": [(w, 0, 30, 3 * HEIGHT)]}


def wedge(w):
    return {"wall": [(0, 0, 100, HEIGHT)], "window": [[(w, 0), (30, 0), (30, HEIGHT), (0, HEIGHT)]]}


def lying(w):
    return {"wall": [(0, 0, 100, 3 * HEIGHT)], "window": [(30, 4, 70, 2 * HEIGHT - w)]}


def corner(w):
    return {
        "wall": [(0, 0, 100, 2 * HEIGHT + w)],
        "outside_corner": [line(100, 0, 100, 2 * HEIGHT + w)],
    }


@pytest.mark.parametrize("w", [0.004, 0.0099, 0.0101, 0.0112, 0.015, 0.0199, 0.0201, 0.03, 0.06])
@pytest.mark.parametrize("shape", [upright, wedge, lying, corner], ids=lambda made: made.__name__)
def test_planner_and_judge_agree_on_it(shape, w, tmp_path):
    takeoff = take_off([write_dxf(drawing(**shape(w)), tmp_path / "front.dxf")], job())
    assert [say(n.message) for n in takeoff.notices if n.level is Level.ERROR] == []
    assert [say(b.message) for b in takeoff.plan.breaks if b.rule in ("cover", "L6", "L7")] == []
