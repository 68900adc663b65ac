"""Corners of wings told from posts, and lines that part nothing."""

import pytest
from facades import area, box, framed, proposed, rounded


def test_boards_on_the_corners_of_a_wing_are_no_posts():
    """
     ==========================    y 5
    |                          |   the corners of the building have boards 0.12 wide, too
    |   ==============         |   coping from 1.95 to 5.05, y 3 to 3.12
    |   ||          ||         |   wing from 2 to 5, boards 0.12 wide on its corners
    ++--++----------++--------++
    0   2           5         12
    """
    lines = [(-3, 0, 15, 0), (0, 0, 0, 5), (12, 0, 12, 5), *box(-0.4, 5, 12.4, 5.25)]
    lines += [(0.12, 0, 0.12, 5), (11.88, 0, 11.88, 5), *box(1.95, 3, 5.05, 3.12)]
    lines += [(x, 0, x, 3) for x in (2, 2.12, 4.88, 5)]
    walls, _ = proposed([*lines, *framed(3, 1, 4, 2), *framed(7, 1, 8, 2)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 12, 5), (2, 0, 5, 3)]


def test_posts_as_wide_as_no_board_are_a_porch():
    """The same with nothing on the corners of the building: two posts, 0.12 wide, carry a roof."""
    lines = [(-3, 0, 15, 0), (0, 0, 0, 5), (12, 0, 12, 5), *box(-0.4, 5, 12.4, 5.25)]
    lines += [*box(1.95, 3, 5.05, 3.12), *[(x, 0, x, 3) for x in (2, 2.12, 4.88, 5)]]
    walls, _ = proposed([*lines, *framed(3, 1, 4, 2), *framed(7, 1, 8, 2)])
    assert [rounded(w) for w in walls] == [(0, 0, 12, 5)]


def test_posts_amid_battens_that_are_in_step_on_both_sides_stand_before_one_wall():
    """Battens 0.2 apart from 0.2 to 9.8; a porch roof from 2 to 6, y 2.5 to 2.7, on two posts 0.3
    wide with the battens behind them hidden, and boards as wide on the building's corners."""
    lines = [(-3, 0, 13, 0), (0, 0, 0, 5), (10, 0, 10, 5), *box(-0.4, 5, 10.4, 5.25)]
    lines += [(0.3, 0, 0.3, 5), (9.7, 0, 9.7, 5), *box(2, 2.5, 6, 2.7)]
    posts = ((2.15, 2.45), (5.55, 5.85))
    lines += [(x, 0, x, 2.5) for post in posts for x in post]
    for k in range(1, 50):
        x = 0.2 * k
        if not 2 < x < 6:
            lines.append((x, 0, x, 5))
            continue
        lines.append((x, 2.7, x, 5))
        if not any(a < x < b for a, b in posts):
            lines.append((x, 0, x, 2.5))
    walls, _ = proposed(lines)
    assert len(walls) == 1


def test_a_sill_over_two_joints_is_no_eaves():
    """
    |     |    +----+    |     |   a window from 4 to 6 over y 1; its sill reaches 0.05 beyond it
    |     |    | w  |    |     |
    +-----+---=======----+-----+   joints of slabs end under it at 4.1 and 5.9
    |     |    |    |    |     |
    +-----+----+----+----+-----+
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 4), (10, 0, 10, 4), *box(-0.4, 4, 10.4, 4.25)]
    lines += [*framed(4, 1, 6, 2.2), *box(3.95, 0.95, 6.05, 1)]
    lines += [(x, 0, x, 0.95) for x in (4.1, 5.9)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 10, 4)]


def test_the_top_of_a_gable_over_a_floor_line_is_no_bargeboard():
    r"""
            /\         the floor line at y 4.2 leaves a top 1.6 wide and 0.8 high under the rakes,
          /----\       whose area over half its edge is less than the width of a board
        /        \
       |          |    eaves 3, ridge 5
    ---+----------+---
       0          4
    """
    lines = [(-3, 0, 7, 0), (0, 0, 0, 3), (4, 0, 4, 3), (0.8, 4.2, 3.2, 4.2)]
    lines[-1] = (1.2, 4.2, 2.8, 4.2)
    lines += [(-0.4, 2.6, 2, 5), (2, 5, 4.4, 2.6), (-0.4, 2.8, 2, 5.2), (2, 5.2, 4.4, 2.8)]
    lines += [(-0.4, 2.6, -0.4, 2.8), (4.4, 2.6, 4.4, 2.8), *framed(1.2, 1, 2.6, 2.2)]
    walls, _ = proposed(lines)
    assert area(walls) == pytest.approx(4 * 3 + 4 * 2 / 2, rel=2e-3)


def test_a_joint_at_the_level_of_a_step_in_the_ground_parts_no_wall():
    """
    ==================   y 4
    |   |   |   |   ||   slabs 1.2 wide and 0.6 high over y 0.9, none under it; the ground steps
    |---+---+---+---+|   from 0 to 0.9 at x 3, and a joint goes on from there to the left
    |       +--------+
    +-------+  3
    """
    lines = [(-3, 0, 3, 0), (3, 0, 3, 0.9), (3, 0.9, 12, 0.9), (0, 0.9, 3, 0.9)]
    lines += [(0, 0, 0, 4), (8, 0.9, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
    lines += [(0, y, 8, y) for y in (1.5, 2.1, 2.7, 3.3, 3.9)]
    lines += [(x, 0.9, x, 4) for x in (1.2, 2.4, 3.6, 4.8, 6, 7.2)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


def test_a_roof_with_roof_windows_in_a_row_is_no_upper_wall():
    """
     ____________________     y 5
    |  [w]   [w]   [w]   |    roof from -0.3 to 6.3 over the fascia; its windows take up a fifth
    |====================|    fascia y 3 to 3.2
     |                  |
     +------------------+
    """
    lines = [(-3, 0, 9, 0), (0, 0, 0, 3), (6, 0, 6, 3), *box(-0.3, 3, 6.3, 3.2)]
    lines += [*box(-0.3, 3.2, 6.3, 5), *framed(2.5, 1, 3.5, 2)]
    for x in (0.5, 2.5, 4.5):
        lines += framed(x, 3.7, x + 0.8, 4.7)
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 6, 3)]
