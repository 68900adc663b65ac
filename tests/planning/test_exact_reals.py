"""The exact model over real lengths itself, on jobs whose best plan can be worked out on paper."""

import pytest
from exact_reals import Rules, Run, fewest_panels

P, C = "plain", "corner"
NO_KERF = Rules(kerf=0.0)


def test_three_courses_of_ten_feet_take_ten_panels():
    #  | 36 | 36 | 36 |12|       360 in = 10 x 36, and 12 + 24 or 12 + 12 + ... make the rest
    assert fewest_panels([[Run(0, 120)]] * 3, NO_KERF) == 10


def test_a_pier_of_thirty_inches_takes_a_panel_a_course():
    # the 6 in left over are no piece; cut in two, the parts take a left and a right end each
    assert fewest_panels([[Run(0, 30)]] * 5) == 5


def test_two_piers_share_panels_until_the_saw_cut_is_too_wide():
    courses = [[Run(0, 16), Run(40, 59.75)]] * 2
    assert fewest_panels(courses, Rules(kerf=0.25)) == 2  # 16 + 1/4 + 19 3/4 = 36
    assert fewest_panels(courses, Rules(kerf=0.375)) == 3  # 16 + 16 in one, 19 3/4 in one each


def test_a_narrow_column_is_laid_in_corner_pieces_alone():
    turns = [[Run(0, 16, C, P, 16)], [Run(0, 16, P, C, 16)]] * 2
    assert fewest_panels(turns) == 2
    # 18 in twice and a cut don't fit in 36, and no face is wide enough to be divided... at 16 in
    wide = [[Run(0, 18, C, P, 18)], [Run(0, 18, P, C, 18)]] * 2
    assert fewest_panels(wide) == 3  # 72 in = 2 x 36 without a cut; divided, cuts take their width


def test_joints_keep_the_stagger():
    # courses of 44 in: one joint each, at 8 to 36; there is room for three places 14 in apart
    assert fewest_panels([[Run(0, 44)]] * 2, Rules(stagger=14)) == 3
    with pytest.raises(ValueError, match="no layout"):
        fewest_panels([[Run(0, 44)]] * 2, Rules(stagger=28.5))  # 28 in between first and last


def test_both_halves_of_a_corner_panel_are_used_and_differ():
    # 28 in to each side of a pier between two corners: 8 to 20 in beside 8 in or more, L and R
    courses = [[Run(0, 27, C, C)]]
    assert fewest_panels(courses) == 1
    # 16 in between two corners: 8 and 8 alone, which are equal, so two panels
    assert fewest_panels([[Run(0, 16, C, C)]]) == 2


def test_a_cut_that_varies_takes_another_panel():
    # 16 1/2 in between corners, twice: 8 to 8 1/2, so that no two pieces of a hand vary by 1 in
    with pytest.raises(ValueError, match="no layout"):
        fewest_panels([[Run(0, 16.5, C, C)]] * 2, Rules(stagger=0.0))


def test_both_sides_of_a_mitre_come_from_one_panel():
    # 30 | 30: two panels without a mitre; with it 30 in is divided: the sides at the corner make
    # no more than 35 7/8 together, and the four parts have two left and two right ends
    apart, walls = [[Run(0, 30)], [], [Run(0, 30)]], [[Run(0, 30, P, "mitre")], []]
    walls.append([Run(0, 30, "mitre", P)])
    assert fewest_panels(apart) == 2
    assert fewest_panels(walls, mitres=[((0, 0), (2, 0))]) == 2
    long = [[Run(0, 36, P, "mitre")], [], [Run(0, 36, "mitre", P)]]
    assert fewest_panels([long[0], [], long[2]]) == 2
    assert fewest_panels(long, mitres=[((0, 0), (2, 0))]) == 3
