"""Piers before a wall, and fronts of shops in it."""

import shapely
from facades import box, framed, proposed, rounded

SHELL = [(-3, 0, 12, 0), (0, 0, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
"""Ground, corners at 0 and 8, fascia over y 4; in meters."""


def _pier(x, wide=0.6, high=3.0, out=0.05):
    """Two sides from the ground up to a cap 0.08 high that stands out past both."""
    sides = [(x, 0, x, high), (x + wide, 0, x + wide, high)]
    return [*sides, *box(x - out, high, x + wide + out, high + 0.08)]


def _boxes(lines):
    return [rounded(w) for w in proposed([*SHELL, *lines])[0]]


def test_a_pier_with_a_cap_is_a_wall_of_its_own():
    """
    |    +---+        |    pier 3 to 3.6, y 0 to 3, its cap over it: the wall is seen beside them
    |    +|-|+        |
    |     | |   [w]   |
    ------+-+----------
    """
    walls, _ = proposed([*SHELL, *_pier(3), *framed(5, 1, 6.2, 2.2)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 4), (3, 0, 3.6, 3)]
    wall = max(walls, key=lambda w: w.area)
    assert round(wall.area, 2) == round(32 - 0.6 * 3 - 0.7 * 0.08, 2)


def test_what_stands_under_the_sill_of_a_window_is_no_pier():
    """Lines from both jambs of the window down to the ground, as battens run; a sill that stands
    out past them."""
    window, sill = framed(3, 1.3, 3.9, 2.4), box(2.95, 1.22, 3.95, 1.3)
    lines = [*window, *sill, (3, 0, 3, 1.22), (3.9, 0, 3.9, 1.22)]
    assert _boxes(lines) == [(0, 0, 8, 4)]


def test_a_post_of_wood_with_a_cap_is_no_pier():
    """0.2 wide."""
    assert _boxes(_pier(3, wide=0.2)) == [(0, 0, 8, 4)]


def test_a_shop_front_under_a_head_that_stands_out_is_part_of_the_wall_around():
    """
    |    ============    |    head 2 to 6, y 2.8 to 3; jambs at 2.2 and 5.8
    |     |[ ]|d|[ ]|    |    glass 2.3-3.3 and 4.7-5.7, a door between, all 2.7 high
    ------+---------+-----
    """
    jambs = [(2.2, 0, 2.2, 2.8), (5.8, 0, 5.8, 2.8)]
    panes = [*framed(2.3, 0, 3.4, 2.7), *framed(3.5, 0, 4.5, 2.7), *framed(4.6, 0, 5.7, 2.7)]
    walls, _ = proposed([*SHELL, *box(2, 2.8, 6, 3), *jambs, *panes])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]
    assert shapely.union_all(walls).covers(shapely.box(2.1, 0.1, 5.9, 3.9))
