"""Where the cladding changes, and where it only seems to."""

import pytest
from facades import box, framed, proposed, rounded

SHELL = [(-3, 0, 12, 0), (0, 0, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
"""Ground, corners at 0 and 8, fascia over y 4."""


def courses(low, high, step, x0=0.0, x1=8.0):
    """Level lines at even steps above a height."""
    count = round((high - low) / step)
    return [(x0, low + step * k, x1, low + step * k) for k in range(1, count + 1)]


def cut(lines, x0, y0, x1, y1):
    """Level lines without what lies in a box."""
    result = []
    for a, y, b, _ in lines:
        if y0 < y < y1 and a < x0 and b > x1:
            result += [(a, y, x0, y), (x1, y, b, y)]
        else:
            result.append((a, y, b, y))
    return result


@pytest.mark.parametrize(("below", "above"), [(0.225, 0.075), (0.15, 0.075), (0.2, 0.12)])
def test_courses_at_another_step_are_another_cladding(below, above):
    """Boards up to y 1.35, courses of brick over it; a step of twice the other is another one."""
    lines = [*SHELL, (0, 1.35, 8, 1.35), *courses(0, 1.3, below), *courses(1.35, 3.9, above)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 1.35), (0, 1.35, 8, 4)]


def test_boards_that_go_on_beside_a_window_are_one_wall():
    """A window 3 wide over y 2.8 leaves short boards at both sides, and a line at its sill runs
    from corner to corner."""
    lines = cut(courses(0, 3.9, 0.15), 2.5, 2.8, 5.5, 3.8)
    walls, _ = proposed([*SHELL, *lines, (0, 2.8, 8, 2.8), *framed(2.5, 2.8, 5.5, 3.8)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


def test_shutters_hide_a_part_of_the_line_where_the_cladding_changes():
    """
    |  |=| +---+ |=|  |     courses over y 1.4, plaster below; the line of the change stops at a
    |--|=| | w | |=|--|     window and at the shutters beside it
    |  |=| +---+ |=|  |
    +-----------------+
    0    2.1 3  5 5.9  8
    """
    slats = [(x, 1 + 0.1 * k, x + 0.9, 1 + 0.1 * k) for x in (2.08, 5.02) for k in range(1, 13)]
    frames = [*box(2.08, 1, 2.98, 2.3), *box(5.02, 1, 5.92, 2.3), *framed(3, 1, 5, 2.3)]
    lines = [*cut(courses(1.4, 3.9, 0.08), 2.08, 1.0, 5.92, 2.3), (0, 1.4, 2.08, 1.4)]
    walls, _ = proposed([*SHELL, *frames, *slats, *lines, (5.92, 1.4, 8, 1.4)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 1.4), (0, 1.4, 8, 4)]


@pytest.mark.parametrize(("sill", "step"), [(0.85, 0.225), (0.9, 0.15), (0.9, 0.225)])
def test_boards_begin_where_full_courses_do_and_not_at_the_sills_below(sill, step):
    """
    |--|   |--|    |--|    boards from y 1 up, in full courses; plaster below
    |--| w |--| w  |--|    y 1
    |__|___|__|____|__|    sills on a level line, no course below the first edge of a board
    +-----------------+
    0  1   3  4.5  7  8
    """
    boards = [(0, 1, 8, 1), *courses(1, 3.9, step)]
    for left, right in ((1, 3), (4.5, 7)):
        boards = [line for b in boards for line in cut([b], left, sill, right, 2.0)]
    windows = [*box(1, sill, 3, 2.0), *box(4.5, sill, 7, 2.0)]
    sills = [(a, sill, b, sill) for a, b in ((0, 1), (3, 4.5), (7, 8))]
    walls, _ = proposed([*SHELL, *boards, *windows, *sills])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 1), (0, 1, 8, 4)]


def test_battens_on_both_sides_of_a_door_are_one_cladding():
    """A wing 3 wide: battens 0.2 apart up to y 1.1, four to the left of a door and two to its
    right, in step with them; plaster above."""
    lines = [(-3, 0, 6, 0), (0, 0, 0, 4), (3, 0, 3, 4), *box(-0.4, 4, 3.4, 4.25)]
    lines += [(x, 0, x, 1.1) for x in (0.2, 0.4, 0.6, 0.8, 2.6, 2.8)]
    lines += [(0, 1.1, 1, 1.1), (2.4, 1.1, 3, 1.1), *framed(1, 0, 2.4, 2.1)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 3, 1.1), (0, 1.1, 3, 4)]


def test_an_axis_through_boards_makes_no_slabs_of_them():
    """Three axes from y -1 to 6, evenly apart, cross boards; the boards below the window are one
    cladding with those above."""
    axes = [(x, -1, x, 6) for x in (1.5, 4, 6.5)]
    lines = cut(courses(0, 3.9, 0.15), 2.5, 1.5, 5.5, 2.6)
    walls, _ = proposed([*SHELL, *axes, *lines, (0, 1.0, 8, 1.0), *framed(2.5, 1.5, 5.5, 2.6)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


@pytest.mark.parametrize("upright", [False, True])
def test_walls_meet_at_an_upright_between_two_claddings(upright):
    """
    =====================     one roof's edge over both
    |-----|-|-|-|-|-|-|-|     boards 0.225 apart up to x 3; battens 0.2 apart beyond,
    |-----|-|-|-|-|-|-|-|     or boards 0.1 apart
    0     3             8
    """
    battens = [(3 + 0.2 * k, 0, 3 + 0.2 * k, 4) for k in range(1, 25)]
    right = battens if upright else courses(0, 3.9, 0.1, 3, 8)
    walls, _ = proposed([*SHELL, (3, 0, 3, 4), *courses(0, 3.9, 0.225, 0, 3), *right])
    assert [rounded(w) for w in walls] == [(0, 0, 3, 4), (3, 0, 8, 4)]


def test_an_upright_between_boards_at_the_same_steps_parts_nothing():
    left, right = courses(0, 3.9, 0.15, 0, 3), courses(0, 3.9, 0.15, 3, 8)
    walls, _ = proposed([*SHELL, (3, 0, 3, 4), *left, *right])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


def test_boards_in_line_with_the_coping_of_a_lower_wing_are_no_eaves():
    """
      ==================
      |----------------|     boards 0.15 apart from foot to fascia; one of them, at y 2.7, lies
    =======------------|     in line with the lower edge of the wing's coping
     |     |-----------|
     0     3           8
    """
    shell = [(-3, 0, 12, 0), (0, 2.86, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
    wing = [(0, 0, 0, 2.7), (3, 0, 3, 2.7), *box(-0.05, 2.7, 3.05, 2.86)]
    high = [c for c in courses(0, 3.9, 0.15) if c[1] > 2.9]
    low = [c for c in courses(0, 3.9, 0.15, 3, 8) if c[1] < 2.6]
    beside = [(3.05, y, 8, y) for y in (2.7, 2.85)]
    walls, _ = proposed([*shell, *wing, *beside, *high, *low])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 3, 2.7), (0, 0, 8, 4)]


def test_slats_and_a_step_are_no_boards():
    """A line across at y 1.9 with nothing but shutters' slats over it, at both ends of the wall:
    plaster above and below."""
    slats = [(x, 2 + 0.07 * k, x + 0.5, 2 + 0.07 * k) for x in (0.3, 7.2) for k in range(1, 20)]
    frames = [*box(0.3, 2, 0.8, 3.4), *box(7.2, 2, 7.7, 3.4)]
    walls, _ = proposed([*SHELL, (0, 1.9, 8, 1.9), *slats, *frames, *framed(0.85, 2, 1.7, 3.4)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


@pytest.mark.parametrize(
    ("height", "parts"),
    [(1.1, [(0, 0, 8, 1.1), (0, 1.1, 8, 4)]), (2.7, [(0, 0, 8, 4)])],  # the latter a floor's
)
def test_a_line_from_corner_to_corner_at_the_height_of_a_wainscot_parts_plain_walls(height, parts):
    """
    |    [w]  +---+   |     nothing is drawn on the wall but a line at y 1.1 that a door
    |---------|   |---|     interrupts
    |         |   |   |
    0         5   6   8
    """
    line = [(0, height, 5, height), (6, height, 8, height)] if height < 2.1 else []
    line = line or [(0, height, 8, height)]
    walls, _ = proposed([*SHELL, *line, *framed(1, 1.4, 2.2, 2.5), *framed(5, 0, 6, 2.1)])
    assert sorted(rounded(w) for w in walls) == parts


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param([(0, y, 8, y) for y in (1.1, 2.2, 3.3)], id="joints at even steps"),
        pytest.param([(0, 1.1, 3, 1.1), (3.9, 1.1, 6, 1.1)], id="with gaps that nothing fills"),
        pytest.param([(-2, 1.1, 10, 1.1)], id="past both corners, as marks of levels run"),
        pytest.param([(0, 0.3, 8, 0.3)], id="a plinth's"),
    ],
)
def test_other_lines_part_no_plain_wall(lines):
    walls, _ = proposed([*SHELL, *lines, *framed(1, 1.4, 2.2, 2.5)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


def patch(x0, x1, y0, y1, step):
    """Board lines in a part of a wall that end on nothing."""
    return [(x0, y0 + step * k, x1, y0 + step * k) for k in range(round((y1 - y0) / step))]


@pytest.mark.parametrize(
    ("step", "parts"),
    [(0.1, [(0, 0, 8, 2.7), (0, 2.7, 8, 4)]), (0.2, [(0, 0, 8, 4)])],
)
def test_patches_show_what_the_claddings_are(step, parts):
    """
    |  ===            |     a patch of boards 0.1 apart, or 0.2, over a line at y 2.7; one of
    |-----------------|     boards 0.2 apart under it
    |          ===    |
    0  1   2.5 5   7  8
    """
    over, under = patch(1, 2.5, 2.93, 3.8, step), patch(5, 7, 0.85, 1.9, 0.2)
    walls, _ = proposed([*SHELL, (0, 2.7, 8, 2.7), *over, *under, *framed(1, 1, 2.2, 2.3)])
    assert sorted(rounded(w) for w in walls) == parts


@pytest.mark.parametrize(
    ("low", "high", "parts"),
    [
        (1.0, 1.1, [(0, 0, 8, 1.0), (0, 1.1, 8, 4)]),
        (2.2, 2.3, [(0, 0, 8, 2.2), (0, 2.3, 8, 4)]),  # two lines are no floor's
    ],
)
def test_the_cap_of_a_wainscot_is_part_of_neither_wall(low, high, parts):
    """
    |     [w]           |     nothing is drawn on the wall but a cap, 0.1 high, from corner to
    |===================|     corner
    |                   |
    """
    lines = [(0, low, 8, low), (0, high, 8, high), *framed(1, 2.5, 2.2, 3.5)]
    walls, _ = proposed([*SHELL, *lines])
    assert sorted(rounded(w) for w in walls) == parts


@pytest.mark.parametrize(
    ("first", "parts"),
    [(0.65, [(0, 0, 8, 0.6), (0, 0.6, 8, 4)]), (0.75, [(0, 0, 8, 4)])],
)
def test_a_line_out_of_step_with_the_boards_over_it_parts_a_low_wainscot(first, parts):
    """
    |--------  ---------|     boards 0.15 apart from y 0.65, or from 0.75: the line at y 0.6 is then
    |-------------------|     the first of them
    |                   |     nothing is drawn below
    """
    walls, _ = proposed([*SHELL, (0, 0.6, 8, 0.6), *courses(first - 0.15, 3.9, 0.15)])
    assert sorted(rounded(w) for w in walls) == parts


def test_posts_before_a_wall_are_no_joints_of_slabs():
    """
    ||       ||       ||     three posts 0.15 wide, the outer ones at the corners: their sides at
    ||-------||-------||     x 0.15, 4 and 7.85 are 3.85 apart, but no joints
    ||       ||       ||
    0        4         8
    """
    posts = [(x, 0, x, 3.8) for x in (0.15, 3.85, 4.0, 7.85)]
    walls, _ = proposed([*SHELL, (0, 1.2, 8, 1.2), *posts, *framed(1, 1.5, 2.2, 2.6)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 1.2), (0, 1.2, 8, 4)]


def test_a_corner_between_two_claddings_parts_the_wainscot_under_them_too():
    """
    |-----|-|-|-|-|-|-|     boards 0.225 apart up to x 3, battens 0.2 apart beyond; plain below
    |-----|-|-|-|-|-|-|     y 1.2, where the upright at x 3 goes on to the ground
    |-----+-----------|
    |     |           |
    0     3           8
    """
    battens = [(3 + 0.2 * k, 1.2, 3 + 0.2 * k, 4) for k in range(1, 25)]
    lines = [(3, 0, 3, 4), (0, 1.2, 8, 1.2), *courses(1.2, 3.9, 0.225, 0, 3), *battens]
    walls, _ = proposed([*SHELL, *lines])
    assert sorted(rounded(w) for w in walls) == [
        (0, 0, 3, 1.2),
        (0, 1.2, 3, 4),
        (3, 0, 8, 1.2),
        (3, 1.2, 8, 4),
    ]


@pytest.mark.parametrize(
    ("joint", "parts"),
    [
        (2.0, [(0, 0, 8, 4), (10, 0, 18, 4)]),  # it comes up from the ground
        (None, [(0, 0, 8, 4), (10, 0, 18, 4)]),  # none meets the line
    ],
)
def test_a_joint_of_slabs_is_no_top_of_a_wainscot(joint, parts):
    """
    |         |   +--+--+--+     the building on the right has slabs 2 by 1; of the left one's
    |---------|   +--+--+--+     nothing is drawn but a joint at y 1.1, and perhaps one under it
    |  |      |   +--+--+--+
    0  2      8  10       18
    """
    right = [
        (6, 0, 26, 0),
        (10, 0, 10, 4),
        (18, 0, 18, 4),
        *box(9.6, 4, 18.4, 4.25),
        *((x, 0, x, 4) for x in (12, 14, 16)),
        *((10, y, 18, y) for y in (1, 2, 3)),
    ]
    under = [] if joint is None else [(joint, 0, joint, 1.1)]
    walls, _ = proposed([*SHELL, (0, 1.1, 8, 1.1), *under, *right, *framed(1, 1.6, 2.2, 2.8)])
    assert sorted(rounded(w) for w in walls) == parts


def test_what_is_drawn_in_a_patch_goes_on_under_a_lone_line():
    """A patch of boards over a line at the height of a wainscot and nothing under it: one wall."""
    over = patch(1, 2.5, 2.6, 3.8, 0.2)
    walls, _ = proposed([*SHELL, (0, 1.1, 8, 1.1), *over, *framed(4, 1.4, 5.2, 2.5)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 4)]


@pytest.mark.parametrize(("joints", "count"), [(False, 2), (True, 1)])
def test_slabs_go_on_where_joints_come_up_to_the_lowest_row(joints, count):
    """
    +---+---+---+---+     rows at y 1.1, 2, 2.9, joints at x 2, 4, 6 between them; two more joints,
    +---+---+---+---+     or none, under the lowest row: slabs go on there, or plaster
    |   |       |   |
    """
    rows = [(0, y, 8, y) for y in (1.1, 2.0, 2.9)]
    uprights = [(x, 1.1, x, 4) for x in (2, 4, 6)]
    under = [(x, 0, x, 1.1) for x in (1, 5)] if joints else []
    walls, _ = proposed([*SHELL, *rows, *uprights, *under])
    assert len(walls) == count
