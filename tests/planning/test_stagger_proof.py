"""Joints too near to those below: forced only where no layout of both courses keeps them apart.

Rule L3. Panels of 36 in, least pieces and stagger of 8 in. Between two ends that each ask for a
corner piece the joint of a short run lies from 8 in behind its left end to 8 in before its right
one.
"""

import pytest
from builders import JOB, PRODUCT
from shapely.geometry import box
from test_bounds_exact import SIZES

from dxf2veneer.planning.exceptions import exceptions_of
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.stagger_proof import is_always_near


def run(x0, x1, left="plain", right="plain", course=0):
    return Run("W1", course, x0, x1, left, right, box(x0, 8 * course, x1, 8 * course + 8))


@pytest.mark.parametrize(("length", "is_forced"), [(17, True), (23.9, True), (24, False)])
def test_two_ends_need_three_least_pieces_between_them(length, is_forced):
    # joints from 8 to length - 8, so 8 apart in two courses from 24 on
    below, above = (run(0, length, "corner", "corner", i) for i in range(2))
    assert is_always_near(above, [below], SIZES) == is_forced


def test_a_narrow_run_over_a_wider_one_is_free():
    # the wide one has its joint where the narrow one has none
    below, above = run(0, 60, "corner", "corner"), run(0, 17, "corner", "corner", 1)
    assert not is_always_near(above, [below], SIZES)


def test_a_run_that_may_be_one_piece_is_never_too_near():
    assert not is_always_near(run(0, 36, course=1), [run(0, 20), run(20, 36)], SIZES)


def test_a_run_that_cannot_be_divided_proves_nothing():
    below, above = (run(0, 12, "corner", "corner", i) for i in range(2))
    assert not is_always_near(above, [below], SIZES)


@pytest.mark.parametrize(
    ("length", "ends", "lower", "upper", "forced"),
    [
        # 44 in: joints of 8 to 36; below 15 and 29, so that every place is within 8 of one. Below
        # could be laid with one joint, at 8: the plan's own doing, no excuse
        (44.0, "plain", (15.0, 14.0, 15.0), (22.0, 22.0), 0),
        (20.0, "corner", (9.0, 11.0), (11.0, 9.0), 1),
    ],
)
def test_a_bad_course_below_is_no_excuse(length, ends, lower, upper, forced):
    laid = [
        LaidRun(run(0, length, ends, ends, i), pieces, ())
        for i, pieces in enumerate((lower, upper))
    ]
    found = [b for b in exceptions_of(laid, (), _walls(length), SIZES) if b.rule == "L3"]
    assert len(found) == forced


def _walls(length):
    """A wall of two courses, as measured."""
    from builders import drawing

    from dxf2veneer.coursing.bands import course_wall
    from dxf2veneer.measure import measure_wall
    from dxf2veneer.model import WallTakeoff
    from dxf2veneer.recognise import recognise

    found = recognise([drawing(wall=[(0, 0, length, 16)])], JOB)
    measured = [measure_wall(wall, JOB, PRODUCT) for wall in found.walls]
    return [WallTakeoff(m.wall, m, course_wall(m, JOB, PRODUCT)) for m in measured]
