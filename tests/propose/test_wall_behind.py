"""Porches and canopies before a wall, steps in the ground, leaders with landings."""

import numpy as np
from facades import box, framed, house, proposed, rounded
from shapely.geometry import box as box_of

from dxf2veneer.propose.walls.roofs import without_overhanging

NONE = np.empty(0, dtype=object)


def battened(wing_step):
    """A house 10 x 5 with battens 0.2 apart from 0.1 on, and before it, on two uprights, a roof
    5.85-9.15 x 2.4-2.6.

     ______________________   y 5    battens go on over the roof where the step under it is theirs
    | | | | | | ========= |   y 2.4  uprights at 6.1 and 8.9
    +-----------|-------|-+
    0           6.1   8.9 10
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 5), (10, 0, 10, 5), *box(-0.4, 5, 10.4, 5.25)]
    lines += [*box(5.85, 2.4, 9.15, 2.6), (6.1, 0, 6.1, 2.4), (8.9, 0, 8.9, 2.4)]
    for k in range(1, 50):
        x = round(0.2 * k - 0.1, 3)
        if 5.85 < x < 9.15:
            lines += [(x, 2.6, x, 5)]
            lines += [] if 6.05 < x < 8.95 else [(x, 0, x, 2.4)]
        else:
            lines += [(x, 0, x, 5)]
    x = 6.1 + wing_step
    while x < 8.85:
        lines += [(x, 0, x, 2.4)]
        x = round(x + wing_step, 3)
    return lines


def test_battens_in_line_over_and_under_a_roof_are_one_wall():
    walls, _ = proposed(battened(0.2))
    assert [rounded(w) for w in walls] == [(0, 0, 10, 5)]


def test_joints_in_line_over_and_under_a_canopy_on_posts_are_one_wall():
    """
     ____________________   y 5    joints 1.2 apart, one level one at y 3.6
    |__|__|__|__|__|__|__|
    |  |  ========== |  |   y 2.4  canopy 4.1-8.1 on posts 0.12 wide
    +--+--||-|--|-||-+--+
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 5), (10, 0, 10, 5), *box(-0.4, 5, 10.4, 5.25)]
    lines += [(0, 3.6, 10, 3.6), *box(4.1, 2.4, 8.1, 2.6)]
    lines += [(x, 0, x, 2.4) for x in (4.2, 4.32, 7.88, 8.0)]
    for x in (1.2, 2.4, 3.6, 4.8, 6.0, 7.2, 8.4, 9.6):
        lines += [(x, 0, x, 2.4), (x, 2.6, x, 5)] if 4 < x < 8 else [(x, 0, x, 5)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 10, 5)]


def test_battens_in_another_rhythm_under_a_roof_are_a_wing():
    walls, _ = proposed(battened(0.27))
    assert sorted(rounded(w) for w in walls) == [(0, 0, 10, 5), (6.1, 0, 8.9, 2.4)]


def boarded(inner):
    """A house 8 x 3 whose corners have boards 0.15 wide, and a roof 3-6 on two pairs 0.15 apart.

     __________________
    ||---=========---||   y 2    rows 0.25 apart beside the pairs; ``inner`` lifts those between
    ||---||-----||---||
    +----++-----++----+
    0   3.1     5.9   8
    """
    lines = [(-3, 0, 12, 0), *box(-0.4, 3, 8.4, 3.25), *box(3, 2, 6, 2.2)]
    lines += [(x, 0, x, 3) for x in (0, 0.15, 7.85, 8)]
    lines += [(x, 0, x, 2) for x in (3.1, 3.25, 5.75, 5.9)]
    for k in range(1, 12):
        y = 0.25 * k
        if y < 2:
            lines += [(0, y, 3.1, y), (5.9, y, 8, y)]
        elif y > 2.2:
            lines += [(0, y, 8, y)]
        if y + inner < 2:
            lines += [(3.25, y + inner, 5.75, y + inner)]
    return lines


def test_posts_as_wide_as_corner_boards_have_the_same_rows_on_both_sides():
    walls, _ = proposed(boarded(0.0))
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_corner_boards_have_rows_at_other_heights_on_both_sides():
    walls, _ = proposed(boarded(0.1))
    assert (3.1, 0, 5.9, 2) in [rounded(w) for w in walls]


def stepped(*extra):
    """A house 8 x 3 with corners down to a footing at -2, on ground at 0 up to 5 and at -1 beyond.

        |       |
    ----+----.  |        the upper ground from -3 to 5, the lower from 5 to 12
        |    '--+----
        |_______|        footing
        0    5  8
    """
    lines = [(-3, 0, 5, 0), (5, -1, 5, 0), (5, -1, 12, -1), (0, -2, 8, -2)]
    lines += [
        (0, -2, 0, 0),
        (0, 0, 0, 3),
        (8, -2, 8, -1),
        (8, -1, 8, 3),
        *box(-0.4, 3, 8.4, 3.25),
        *framed(1, 1, 2.2, 2.2),
    ]
    return [*lines, *extra]


def test_both_halves_of_a_stepped_ground_are_ground():
    walls, _ = proposed(stepped())
    (wall,) = walls
    assert rounded(wall) == (0, -1, 8, 3)
    assert round(wall.area, 2) == 8 * 3 + 3 * 1  # over the upper ground, and the part beside it


def test_a_line_that_goes_on_from_the_upper_ground_over_the_lower_is_none():
    walls, _ = proposed(stepped((-1, 0, 8, 0)))
    assert [round(w.area, 2) for w in walls] == [27]


def test_what_hangs_over_a_wall_open_to_the_sky_is_its_roof():
    """Stretches 0-8 x 0-3, over it -0.4-8.4 x 3-4.5, on that a ridge piece; a part of a wall that
    ends within its width stays."""
    wall, roof, ridge = box_of(0, 0, 8, 3), box_of(-0.4, 3, 8.4, 4.5), box_of(1, 4.5, 7, 5)
    assert without_overhanging([roof, wall, ridge], NONE, 1.0) == [False, True, False]
    assert without_overhanging([wall, box_of(2, 3, 6, 5)], NONE, 1.0) == [True, True]


def test_a_leader_with_a_landing_bounds_nothing():
    """From a point on a line in the wall, through its corner, to a landing beside the house."""
    note = [(3.3, 1.6, 9.5, 2.6), (9.5, 2.6, 10.5, 2.6), (3.3, 0, 3.3, 3)]
    walls, _ = proposed([*house(), *note])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]
