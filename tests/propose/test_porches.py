"""Porches before a wall and beside a house, told from boards on corners."""

import pytest
from facades import area, box, framed, proposed, rounded


def _post(x):
    """A post 0.2 wide from 0.4 to 2.8, its base and cap 0.04 wider on each side."""
    base, cap = box(x - 0.04, 0.4, x + 0.24, 0.6), box(x - 0.04, 2.65, x + 0.24, 2.8)
    return [(x, 0.4, x, 2.8), (x + 0.2, 0.4, x + 0.2, 2.8), *base, *cap]


def _before_a_wall():
    """
        ====================   y 3.1 to 3.5, the porch's roof
        |__________________|   y 2.8 to 3.1, beam
        []   [w]  []  [d] []   posts at 0, 4.4 and 8.8
        []________[]______[]
        |__________________|   y 0 to 0.4, deck
    ----+------------------+---
        0                  9
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.1), (9, 0, 9, 3.1), (0, 0.4, 9, 0.4), (0, 2.8, 9, 2.8)]
    lines += [*box(-0.3, 3.1, 9.3, 3.5), *framed(1, 1.2, 2.6, 2.4), *framed(6, 0.4, 7, 2.5)]
    return [*lines, *_post(0.0), *_post(4.4), *_post(8.8)]


def test_a_wall_behind_a_porch_is_seen_between_deck_and_beam():
    walls, openings = proposed(_before_a_wall())
    assert area(walls) == pytest.approx(9 * (2.8 - 0.4), rel=0.01)
    assert len(openings) == 2


def test_the_roof_over_a_porch_is_no_wall_of_its_own():
    """Over the beam from 3.1 to 6 the roof of the house, without a line where it begins, and in it
    a roof window 0.8 x 1: nothing over the beam is a wall."""
    roof = [(-0.5, 3.1, -0.5, 6), (-0.5, 6, 9.5, 6), (9.5, 6, 9.5, 3.1), (-0.5, 3.1, 9.5, 3.1)]
    walls, _ = proposed([*_before_a_wall(), *roof, *framed(4, 4, 4.8, 5)])
    assert area(walls) == pytest.approx(9 * (2.8 - 0.4), rel=0.01)


def test_a_deck_over_sloping_ground_is_no_wall():
    """The ground falls from 0 to -0.5 along the porch; its deck and the wall end at 0.4."""
    lines = [line for line in _before_a_wall() if line[1] != 0 and line != (-3, 0, 12, 0)]
    lines += [(-3, 0, 0, 0), (0, 0, 9, -0.5), (9, -0.5, 12, -0.5)]
    lines += [(0, 0, 0, 3.1), (9, -0.5, 9, 3.1)]
    walls, _ = proposed(lines)
    assert area(walls) == pytest.approx(9 * (2.8 - 0.4), rel=0.01)


def _beside_a_house(*, post=True):
    """A house 3-11 x 5 and at its left a lean-to roof over a deck 0.4 high.

                ==============
                |            |
         ____---|            |     y 3.1 to 3.4, at the house to 4
        |======||            |     y 2.8 to 3.1, beam
        []      |   [w]      |     post at 0
        []______|            |
        |_______|            |     y 0 to 0.4, deck
    ----+-------+------------+---
        0       3            11    without the post it is a wing with a window
    """
    lines = [(-3, 0, 14, 0), (3, 0, 3, 5), (11, 0, 11, 5), *box(2.6, 5, 11.4, 5.25)]
    lines += [(0, 0, 0, 3.1), (-0.2, 3.1, 3, 3.1), (-0.2, 3.1, -0.2, 3.4), (-0.2, 3.4, 3, 4)]
    lines += [(0, 0.4, 3, 0.4), (0, 2.8, 3, 2.8), *framed(5, 1.2, 6.4, 2.4)]
    return [*lines, *(_post(0.0) if post else framed(1, 1.2, 2, 2.4))]


def test_the_open_air_behind_a_porch_is_no_wall():
    walls, _ = proposed(_beside_a_house())
    assert [rounded(w) for w in walls] == [(3, 0, 11, 5)]


def test_a_bare_bay_behind_a_plain_post_is_no_wall():
    """A post without base or cap, two lines from the deck up to the beam: boards stand on a corner
    for the boards that end on it, and there are none in the bay."""
    post = [(0.0, 0.4, 0.0, 2.8), (0.2, 0.4, 0.2, 2.8)]
    lines = [line for line in _beside_a_house() if line not in _post(0.0)]
    walls, _ = proposed([*lines, *post])
    assert [rounded(w) for w in walls] == [(3, 0, 11, 5)]


def test_a_clad_bay_behind_a_corner_s_board_is_a_wing():
    """Boards every 0.15 from the corner's board to the corner of the house."""
    board = [(0.0, 0.4, 0.0, 2.8), (0.2, 0.4, 0.2, 2.8)]
    lines = [line for line in _beside_a_house() if line not in _post(0.0)]
    rows = [(0.2, 0.4 + 0.15 * k, 3, 0.4 + 0.15 * k) for k in range(1, 16)]
    walls, _ = proposed([*lines, *board, *rows])
    assert area(walls) == pytest.approx(8 * 5 + 3 * 3.1, rel=0.02)


def test_a_wing_with_a_frieze_and_a_foundation_is_a_wall():
    walls, _ = proposed(_beside_a_house(post=False))
    assert area(walls) == pytest.approx(8 * 5 + 3 * 3.1, rel=0.02)


def test_boards_on_both_corners_under_a_frieze_make_no_porch():
    """Boards 0.2 wide on the corners of a wall 9 x 3.1 from a foundation 0.4 high to a frieze 0.3
    high: all of it is wall."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.1), (9, 0, 9, 3.1), (0, 0.4, 9, 0.4), (0, 2.8, 9, 2.8)]
    lines += [(0.2, 0.4, 0.2, 2.8), (8.8, 0.4, 8.8, 2.8), *box(-0.3, 3.1, 9.3, 3.4)]
    walls, _ = proposed([*lines, *framed(1, 1.2, 2.6, 2.4), *framed(6, 0.4, 7, 2.5)])
    assert area(walls) == pytest.approx(9 * 3.1, rel=0.02)


def test_timbers_of_a_framed_wall_on_a_sill_make_no_porch():
    """Timbers 0.2 wide at 1, 5.5 and 8 from a sill 0.2 high to a plate 0.3 high: all is wall."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.1), (9, 0, 9, 3.1), (0, 0.2, 9, 0.2), (0, 2.8, 9, 2.8)]
    lines += [(x + d, 0.2, x + d, 2.8) for x in (1, 5.5, 8) for d in (0, 0.2)]
    lines += [*box(-0.3, 3.1, 9.3, 3.4), *framed(2, 1.2, 3.2, 2.4), *framed(6, 1, 7.4, 2.4)]
    walls, _ = proposed(lines)
    assert area(walls) == pytest.approx(9 * 3.1, rel=0.02)
