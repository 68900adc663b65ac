"""Walls between ground, corners, eaves and rakes, from loose lines."""

import itertools

import pytest
from facades import area, box, framed, house, proposed, rounded, shuffled, woodshed


def test_a_wall_ends_at_ground_corners_and_eaves():
    walls, _ = proposed(house())
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]
    assert area(walls) == pytest.approx(24.0, rel=1e-3)


def test_a_gable_wall_ends_under_its_bargeboards():
    """
                 /\\           bargeboards 0.2 deep that hang over; apex of the wall at 4, 5
              /      \\
            |          |
      ------+----------+----
            0          8      corners to y 3
    """
    slope = 2.0 / 4.0
    low, high = 3 - 0.5 * slope, 0.25
    rakes = [
        (-0.5, low, 4, 5),
        (4, 5, 8.5, low),
        (-0.5, low + high, 4, 5 + high),
        (4, 5 + high, 8.5, low + high),
    ]
    ends = [(-0.5, low, -0.5, low + high), (8.5, low, 8.5, low + high)]
    walls, _ = proposed(
        [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *rakes, *ends, *framed(3, 1, 4.2, 2.2)]
    )
    assert len(walls) == 1
    assert area(walls) == pytest.approx(
        8 * 3 + 8 * 2 / 2, rel=2e-3
    )  # rectangle and triangle, by hand


def test_a_wing_in_front_is_a_wall_of_its_own():
    """
     ____________________    fascia of the house, y 4
    |          _________ |   fascia of the wing, y 2.6, over corners at 5 and 7.5
    |   [w]    |  [w]  |  |
    +----------+-------+--+
    0          5      7.5 10
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 4), (10, 0, 10, 4), *box(-0.4, 4, 10.4, 4.2)]
    lines += [(5, 0, 5, 2.6), (7.5, 0, 7.5, 2.6), *box(4.7, 2.6, 7.8, 2.8)]
    lines += [*framed(1, 1, 2, 2), *framed(6, 1, 6.8, 2)]
    walls, openings = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 10, 4), (5, 0, 7.5, 2.6)]
    assert len(openings) == 2


def test_a_line_across_a_wall_parts_nothing():
    walls, _ = proposed([*house(), (0, 2.6, 8, 2.6), (3.3, 0, 3.3, 3)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_the_posts_of_a_porch_part_nothing():
    """A porch roof 2-5 x 2.4-2.6 on two posts before the wall: what shows between the posts is
    the same wall."""
    porch = [*box(6.3, 2.4, 7.9, 2.6), *[(x, 0, x, 2.4) for x in (6.5, 6.62, 7.5, 7.62)]]
    walls, _ = proposed([*house(), *porch])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_cladding_that_changes_at_a_line_parts_two_walls():
    """Boards 0.15 apart over y 1.2, none below."""
    boards = [(0, 1.2 + 0.15 * k, 8, 1.2 + 0.15 * k) for k in range(12)]
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25), *boards]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 1.2), (0, 1.2, 8, 3)]


@pytest.mark.parametrize("threshold", [True, False])
def test_boards_alone_are_one_wall_with_its_openings(threshold):
    walls, openings = proposed(woodshed(threshold=threshold))
    assert [rounded(w) for w in walls] == [(0, 0, 6, 3)]
    assert [rounded(o) for o in openings] == [(1, 1.2, 2, 2.2), (3.5, 0, 4.4, 2.2)]


def test_sloping_ground_is_followed():
    lines = [
        (-3, 0.3, 12, -1.2),
        (0, 0, 0, 3),
        (8, -0.8, 8, 3),
        *box(-0.4, 3, 8.4, 3.25),
        *framed(1, 1, 2.2, 2.3),
    ]
    walls, _ = proposed(lines)
    assert area(walls) == pytest.approx(8 * (3 + 3.8) / 2, rel=2e-3)  # a trapezium


def test_footings_below_the_ground_are_no_wall():
    walls, _ = proposed([*house(), (0, -1, 0, 0), (8, -1, 8, 0), (0, -1, 8, -1)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


@pytest.mark.parametrize("off", [-0.04, -0.012, 0.012, 0.04])
def test_a_ground_a_pens_width_or_an_inch_off_the_feet_is_their_ground(off):
    """
      |  [w]      [d]    |
      |__________________|   y 0    the wall is closed at its foot
    -----------------------  y off  the ground, from -3 to 12
    """
    walls, openings = proposed([(-3, off, 12, off), *house()[1:], (0, 0, 8, 0)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]
    assert area(walls) == pytest.approx(24.0, rel=1e-3)
    assert len(openings) == 2


def test_small_gaps_and_overshoots_change_nothing():
    walls, _ = proposed(
        [
            (-3, 0, 12, 0),
            (0, 0.004, 0, 2.996),
            (8, -0.02, 8, 3),
            *box(-0.4, 3, 8.4, 3.25),
            *framed(1, 1, 2, 2),
        ]
    )
    assert len(walls) == 1
    assert area(walls) == pytest.approx(24.0, rel=2e-3)


def test_a_roof_alone_is_no_wall():
    walls, _ = proposed([*box(0, 3, 8, 3.2), (0, 3.2, 0, 5), (8, 3.2, 8, 5), (0, 5, 8, 5)])
    assert walls == []


@pytest.mark.parametrize("drawn", [house, woodshed])
def test_moved_scaled_mirrored_and_shuffled_drawings_propose_the_same(drawn):
    lines = drawn()
    one = proposed(lines)
    sizes = [[round(p.area, 3) for p in group] for group in one]
    moved = [(a + 1234.5, b - 77.25, c + 1234.5, d - 77.25) for a, b, c, d in lines]
    scaled = [tuple(v * 1000 for v in line) for line in lines]
    mirrored = [(-a, b, -c, d) for a, b, c, d in lines]
    assert [[round(p.area, 3) for p in group] for group in proposed(moved)] == sizes
    assert [
        [round(p.area / 1e6, 3) for p in group] for group in proposed(scaled, metre=1000.0)
    ] == sizes
    assert [sorted(round(p.area, 3) for p in group) for group in proposed(mirrored)] == [
        sorted(s) for s in sizes
    ]
    assert [[rounded(p) for p in group] for group in proposed(shuffled(lines))] == [
        [rounded(p) for p in group] for group in one
    ]


def test_the_corner_of_a_wing_is_found_beside_a_pipe():
    """
     ____________________    fascia of the house, y 4
    |          _________ |   fascia of the wing, y 2.6, over corners at 5 and 7.5
    |   [w]    ||| [w] | |   pipe from 5.06 to 5.15
    +----------+++-----+-+
    0          5      7.5 10
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 4), (10, 0, 10, 4), *box(-0.4, 4, 10.4, 4.2)]
    lines += [(5, 0, 5, 2.6), (7.5, 0, 7.5, 2.6), *box(4.7, 2.6, 7.8, 2.8)]
    lines += [(5.06, 0, 5.06, 2.6), (5.15, 0, 5.15, 2.6)]
    walls, _ = proposed([*lines, *framed(1, 1, 2, 2), *framed(6, 1, 6.8, 2)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 10, 4), (5, 0, 7.5, 2.6)]


def test_joints_of_slabs_that_run_through_a_level_line_part_nothing():
    """
    ==================      slabs 2 wide; joints at y 1 and 2.2, uprights from 0 to 3
    |  |   |   |   | |
    |--+---+---+---+-|
    |--+---+---+---+-|
    +--+---+---+---+-+
    0  1   3   5   7 8
    """
    uprights = [(x, 0, x, 3) for x in (1, 3, 5, 7)]
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    lines += [*uprights, (0, 1, 8, 1), (0, 2.2, 8, 2.2), *framed(3.4, 1.3, 4.6, 2.0)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_a_wall_of_boards_ends_where_plaster_begins():
    """
    ==================      y 3
    |                |      plaster
    |----------------|      y 1.3, where the boards end
    |----------------|      boards 0.2 apart from y 0
    +----------------+
    0                8
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    lines += [(0, round(0.2 * k, 1), 8, round(0.2 * k, 1)) for k in range(1, 7)]
    walls, _ = proposed([*lines, (0, 1.3, 8, 1.3), *framed(3, 1.6, 4.2, 2.6)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 1.3), (0, 1.3, 8, 3)]


def test_a_floor_line_that_goes_on_from_the_upper_ground_is_no_ground():
    """
    ==================      y 4
    |    [w]         |
    |      ----------|      floor line at y 1.2, as high as the ground to the left
    ------+          |
          |          |      step of the ground at x 3
          +----------+---   y 0
    0     3          8
    """
    lines = [(-3, 1.2, 3, 1.2), (3, 1.2, 3, 0), (3, 0, 12, 0), (3, 1.2, 8, 1.2)]
    lines += [(0, 1.2, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.2), *framed(1, 2, 2.2, 3)]
    walls, _ = proposed(lines)
    assert len(walls) == 1
    assert area(walls) == pytest.approx(3 * 2.8 + 5 * 4, rel=2e-3)  # left and right, by hand


def test_a_roof_with_level_lines_is_no_wall():
    """
     ____________________    roof with lines 0.33 apart, from y 3.2 to 4.85
     ____________________
     ====================    fascia from y 3 to 3.2, hangs over by 0.4
       |  [w]         |
    ---+--------------+---
       0              8
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *framed(1, 1, 2.2, 2.2)]
    lines += [*box(-0.4, 3, 8.4, 3.2), *box(-0.4, 3.2, 8.4, 4.85)]
    lines += [(-0.4, round(3.2 + 0.33 * k, 2), 8.4, round(3.2 + 0.33 * k, 2)) for k in range(1, 5)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_a_level_line_that_meets_the_end_of_a_sloping_ground_is_no_joint():
    """
       ==================      y 4
       |    [w]         |
    ------------------------   level line at y 1.2, meets the ground at 12
       |          ______|---
    ___+------                 ground from -3, -0.3 to 12, 1.2
       0                8
    """
    lines = [(-3, -0.3, 12, 1.2), (-3, 1.2, 12, 1.2), (0, 0, 0, 4), (8, 0.8, 8, 4)]
    walls, _ = proposed([*lines, *box(-0.4, 4, 8.4, 4.2), *framed(1, 2, 2.2, 3)])
    assert len(walls) == 1
    assert area(walls) == pytest.approx(8 * (4 + 3.2) / 2, rel=2e-3)  # trapezoid, by hand


def test_the_second_corner_of_a_wing_is_as_far_from_its_roofs_end_as_the_first():
    """
     _____________________   fascia of the house, y 4; battens 0.2 apart all over
    | | | _________ | | | |  fascia of the wing, y 2.6, from 4.77 to 7.87
    | | | | | | | | | | | |  its battens begin at its left corner: the right one is in no rhythm
    +-+-+-+-+-+-+-+-+-+-+-+
    0     5.07    7.57     10
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 4), (10, 0, 10, 4), *box(-0.4, 4, 10.4, 4.2)]
    lines += [(5.07, 0, 5.07, 2.6), (7.57, 0, 7.57, 2.6), *box(4.77, 2.6, 7.87, 2.8)]
    for x in (round(0.2 * k, 1) for k in range(1, 50)):
        roofed = 4.77 < x < 7.87
        lines += [(x, 2.8 if roofed else 0, x, 4)]
        lines += [(x, 0, x, 2.6)] if roofed and not 5.07 < x < 7.57 else []
    lines += [(round(5.07 + 0.2 * k, 2), 0, round(5.07 + 0.2 * k, 2), 2.6) for k in range(1, 13)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 10, 4), (5.07, 0, 7.57, 2.6)]


def uneven_house(*ground):
    """A wall from 0 to 12 and up to 4 with a fascia, its corners on a ground of several slopes."""

    def height(x):
        return next(
            y0 + (y1 - y0) * (x - x0) / (x1 - x0)
            for (x0, y0), (x1, y1) in itertools.pairwise(ground)
            if x0 <= x <= x1
        )

    lines = [(*a, *b) for a, b in itertools.pairwise(ground)]
    lines += [(0, height(0), 0, 4), (12, height(12), 12, 4), *box(-0.4, 4, 12.4, 4.2)]
    return [*lines, *framed(2, 2.4, 3.2, 3.6), *framed(8, 2.4, 9.2, 3.6)]


@pytest.mark.parametrize(
    ("ground", "gone"),
    [
        #  area under the ground between 0 and 12, by trapezoids
        ([(-4, 0), (6, 0.6), (16, 2)], 6 * (0.24 + 0.6) / 2 + 6 * (0.6 + 1.44) / 2),
        ([(-4, 0), (4, 0), (7, 1.2), (16, 1.2)], 3 * 1.2 / 2 + 5 * 1.2),  # a bank of 0.4
        ([(-4, 0.3), (3, 0.3), (6, 0), (16, 0)], 3 * 0.3 + 3 * 0.3 / 2),
    ],
)
@pytest.mark.parametrize("mark", [None, 2.0])
def test_ground_of_several_slopes_is_the_foot_of_a_wall(ground, gone, mark):
    lines = uneven_house(*ground)
    if mark is not None:  # a line drawn far past both corners over the ground is no ground
        lines.append((-3, mark, 15, mark))
    walls, openings = proposed(lines)
    assert len(openings) == 2
    assert [w.area for w in walls] == [pytest.approx(12 * 4 - gone, rel=5e-3)]


def test_the_leader_of_a_note_with_a_landing_is_no_ground():
    leader = [(9, 1, 13.5, 1.6), (13.5, 1.6, 14.3, 1.6)]
    walls, _ = proposed([*uneven_house((-4, 0), (16, 0)), *leader])
    assert [w.area for w in walls] == [pytest.approx(48, rel=5e-3)]
