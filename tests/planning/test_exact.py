"""The exact model itself, on walls whose best plan can be worked out on paper."""

import itertools

import pytest
from exact import Run, best_plan, fewest_units


@pytest.mark.parametrize("grid", [4, 2, 1])
def test_three_courses_of_ten_feet_take_ten_panels(grid):
    #  | 36 | 36 | 36 |12|       360 in = 10 x 36, and 12 + 24 or 12 + 12 + ... make the rest
    assert fewest_units([[Run(0, 120)]] * 3, grid=grid) == 10


def test_two_courses_of_nine_feet_take_six_panels_and_one_cut():
    #  |18| 36 | 36 |18|         both halves of one panel
    #  | 36 | 36 | 36 |
    best = best_plan([[Run(0, 108)]] * 2, grid=2, cuts_per_panel=10)
    assert (best.units, best.flat, best.corner, best.cuts) == (6, 6, 0, 1)


def test_a_pier_of_thirty_inches_takes_a_panel_a_course():
    # the 6 in left over are no piece; cut in two, the parts take a left and a right end each
    assert fewest_units([[Run(0, 30)]] * 6, grid=2) == 6


def test_two_piers_share_panels_where_parts_fit():
    # 16 and 20 in one panel, course by course
    assert fewest_units([[Run(0, 16), Run(40, 60)]] * 3) == 3


def test_a_cut_takes_its_width():
    # 16 + 20 with a cut of 4 no longer fit in 36; three panels for two courses: 16 + 16, 20, 20
    assert fewest_units([[Run(0, 16), Run(40, 60)]] * 2, kerf=4) == 3


def test_a_column_is_laid_in_corner_pieces_turn_by_turn():
    best = best_plan([[Run(0, 16, "corner")], [Run(0, 16, right="corner")]] * 2)
    assert (best.units, best.flat, best.corner) == (2, 0, 2)


def test_joints_keep_the_stagger():
    # courses of 44 in: one joint each, at 8 to 36; with a stagger of 16 there is room for two
    # places
    best = best_plan([[Run(0, 44)]] * 3, stagger=16)
    joints = [course[0][0] for course in best.lengths]
    assert all(len(course[0]) == 2 for course in best.lengths)
    assert all(abs(a - b) >= 16 for a, b in itertools.pairwise(joints))
    with pytest.raises(ValueError, match="no proven optimum"):
        best_plan([[Run(0, 44)]] * 2, stagger=32)  # 28 in between the first place and the last


def test_corner_pieces_of_a_unit_differ_and_the_cut_varies():
    best = best_plan([[Run(0, 64, "corner")], [Run(0, 64, right="corner")]] * 2)
    lefts, rights = (
        [best.lengths[c][0][0] for c in (0, 2)],
        [best.lengths[c][0][-1] for c in (1, 3)],
    )
    assert lefts[0] != lefts[1]
    assert rights[0] != rights[1]
    assert (best.units, best.corner) == (
        8,
        2,
    )  # 256 in: 72 from two corner panels, 184 from 6 flat ones


def test_an_empty_course_parts_two_walls():
    # courses of 52 in have a joint from 16 to 36 in: never 36 apart in one wall, no matter in two
    course = [Run(0, 52)]
    with pytest.raises(ValueError, match="no proven optimum"):
        best_plan([course, course], stagger=36)
    assert best_plan([course, [], course], stagger=36).units == 3
