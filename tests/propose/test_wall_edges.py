"""Walls among what is drawn close to them: porches, fences, notes, hidden eaves, dormers."""

import random

import numpy as np
import pytest
from facades import area, box, framed, house, proposed, rounded
from shapely.geometry import Polygon

from dxf2veneer.propose.walls.areas import borders_of_areas
from dxf2veneer.propose.walls.structure import structure_of


def boards(low, high, step, x0, x1):
    """Level lines at even steps between two heights, without these."""
    count = round((high - low) / step)
    return [(x0, low + step * k, x1, low + step * k) for k in range(1, count)]


def test_joints_over_a_porch_are_wall_and_not_its_roof():
    """
     ======================    y 5
    |     |     |     |    |   slabs 2 wide and 1 high, from corner to corner
    |-----+-----+-----+----|
    ============ -----+----|   porch roof from -0.2 to 3.4, y 2.5 to 2.7, on posts
    | |   |  ||-+-----+----|
    +-+---+--++-+-----+----+
    0     2           6    8
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 2.5), (0, 2.7, 0, 5), (8, 0, 8, 5)]
    lines += [*box(-0.4, 5, 8.4, 5.2), *box(-0.2, 2.5, 3.4, 2.7), *framed(4.5, 3.1, 5.5, 3.9)]
    for x in (0.05, 2.6):
        lines += [(x, 0, x, 2.5), (x + 0.15, 0, x + 0.15, 2.5)]
    lines += [(2, 2.7, 2, 5), (2, 0, 2, 2.5), (4, 0, 4, 5), (6, 0, 6, 5)]
    walls, _ = proposed([*lines, *[(0, k, 8, k) for k in range(1, 5)]])
    assert len(walls) == 1
    gone = 3.4 * 0.2  # the porch's roof covers that much of the wall's left edge
    assert area(walls) == pytest.approx(8 * 5 - gone, rel=2e-3)


def test_three_posts_in_a_row_are_no_corners_though_corners_have_boards_as_wide():
    """
     ====================     y 3
    ||  =========       ||    porch roof from 1.9 to 5.1, y 2.4 to 2.6; posts 0.12 wide
    ||  ||  ||  ||      ||    boards 0.12 wide on both corners
    ++--++--++--++------++
    0   2   3.44 4.88    8
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    lines += [(0.12, 0, 0.12, 3), (7.88, 0, 7.88, 3), *box(1.9, 2.4, 5.1, 2.6)]
    lines += [(x + w, 0, x + w, 2.4) for x in (2, 3.44, 4.88) for w in (0, 0.12)]
    walls, _ = proposed([*lines, *framed(6, 1, 7, 2)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_the_leader_of_a_note_bounds_nothing():
    """A leader from a note at 11, 3.9 to the middle of the wall crosses its corner and its eaves
    at a slant, close under the roof's edge."""
    walls, _ = proposed([*house(), (3.5, 2.6, 11, 3.9), (11, 3.9, 12, 3.9)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_ground_may_begin_at_a_fence():
    """
      =================        y 3
       |             |         the ground runs from -2, where a fence 1.2 high begins, to 8.4;
     | | [w]         |         the eaves' level line runs from -2.2 to 11
     +-+-------------+-
    -2 0             8
    """
    lines = [(-2, 0, 8.4, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    lines += [(-2, 0, -2, 1.2), (-1.91, 0, -1.91, 1.2), (-2, 1.2, -1.91, 1.2), (8.4, 0, 8.4, 1.2)]
    walls, _ = proposed([*lines, *framed(1, 1, 2.2, 2.2)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_a_trunk_on_the_ground_line_does_not_make_it_a_level_line():
    """A tree's trunk stands on the ground at 10.5 to 10.7; two level lines run through at 3 and at
    4.5, the ridge."""
    lines = [(-3, 0, 11, 0), (10.5, 0, 10.7, 0), (10.5, 0, 10.5, 0.5), (10.7, 0, 10.7, 0.5)]
    lines += [(10.5, 0.5, 10.7, 0.5), (-3, 4.5, 11, 4.5), (-3, 3, 11, 3)]
    walls, _ = proposed([*house()[1:], *lines])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_a_roof_whose_fascia_is_hidden_at_both_ends_is_no_wall():
    """
       _______________________        roof up to y 5, from -0.3 to 10.3, behind two wings
    ==|=====|_______________|=====    copings of the wings, y 3.1 to 3.2
    |       |===============|    |    fascia between them, y 2.8 to 2.95
    |       | [w]           |    |
    +-------+---------------+----+
    0       3               8    10
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 3.1), (3, 0, 3, 3.1), (8, 0, 8, 3.1), (10, 0, 10, 3.1)]
    lines += [*box(-0.05, 3.1, 3.05, 3.2), *box(7.95, 3.1, 10.05, 3.2)]
    lines += [(3, 2.8, 8, 2.8), (3, 2.95, 8, 2.95), (-0.3, 5, 10.3, 5)]
    lines += [(-0.3, 3.2, -0.3, 5), (10.3, 3.2, 10.3, 5), (-0.3, 3.2, -0.05, 3.2)]
    lines += [(10.05, 3.2, 10.3, 3.2), *framed(4, 1, 5, 2), *framed(1, 1, 2, 2)]
    walls, _ = proposed([*lines, *framed(8.5, 1, 9.3, 2)])
    assert sorted(rounded(w) for w in walls) == [(0, 0, 3, 3.1), (3, 0, 8, 2.8), (8, 0, 10, 3.1)]


def test_a_dormer_ends_at_its_foot():
    """
            /\\
           /  \\        dormer from 3 to 5, y 3.6 to 4.9, its gable up to 5.5
     _____|[w]|_____   roof with seams from y 3.25 to 6
    /_|_|_|___|_|_|_\\
    =================  fascia y 3 to 3.25
      |           |
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *framed(1, 1, 2.2, 2.2)]
    lines += [*box(-0.4, 3, 8.4, 3.25), (-0.4, 3.25, -0.4, 6), (8.4, 3.25, 8.4, 6)]
    lines += [(-0.4, 6, 8.4, 6), (3, 3.6, 5, 3.6), (3, 3.6, 3, 4.9), (5, 3.6, 5, 4.9)]
    lines += [(2.8, 4.78, 4, 5.5), (4, 5.5, 5.2, 4.78), (2.8, 4.9, 4, 5.62), (4, 5.62, 5.2, 4.9)]
    lines += [(2.8, 4.78, 2.8, 4.9), (5.2, 4.78, 5.2, 4.9), *framed(3.5, 3.9, 4.5, 4.7)]
    walls, openings = proposed(lines)
    assert sorted(rounded(w)[:2] for w in walls) == [(0, 0), (3, 3.6)]
    assert area(walls) == pytest.approx(8 * 3 + 2 * 1.3 + 2 * 0.6 / 2, rel=2e-3)  # by hand
    assert len(openings) == 2


def test_a_strip_between_two_lines_under_the_rakes_is_no_roofs_edge():
    """A gable of battens 0.3 apart over an attic line at y 3; a level line 0.1 over it."""
    slope = 2.0 / 4.0
    rakes = [(-0.5, 2.75, 4, 5), (4, 5, 8.5, 2.75), (-0.5, 3, 4, 5.25), (4, 5.25, 8.5, 3)]
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *rakes, (-0.5, 2.75, -0.5, 3)]
    lines += [(8.5, 2.75, 8.5, 3), (0, 3, 8, 3), (0.2, 3.1, 7.8, 3.1), *framed(3, 1, 4.2, 2.2)]
    for k in range(1, 27):
        x = 0.3 * k
        lines += [(x, 3, x, 3 + slope * min(x, 8 - x))]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 8, 3), (0, 3, 8, 5)]


def test_a_doorway_does_not_hide_that_an_area_is_all_there_is_of_a_wall():
    """
    +-------------+    an area 6 x 3 with a notch for a door, along whose jambs a frame is drawn;
    |     +-+     |    no line runs along its outer sides
    |     | |     |
    +-----+ +-----+
    """
    loop = [(0, 0), (2, 0), (2, 2.1), (3, 2.1), (3, 0), (6, 0), (6, 3), (0, 3)]
    frame = np.array([(2, 0, 2, 2.1), (2, 2.1, 3, 2.1), (3, 2.1, 3, 0)], float)
    drawn = borders_of_areas([np.array(loop, float)], frame, gap=0.008)
    assert len(drawn) == len(loop)
    sides = np.array([(0, 0, 0, 3), (6, 0, 6, 3)], float)
    assert not len(borders_of_areas([np.array(loop, float)], sides, gap=0.008))
    assert Polygon(loop).area == pytest.approx(6 * 3 - 2.1)


def front_gable():
    r"""A wall 16 x 2.5 with a gable before it, whose rakes end over the eaves; the eaves stop short
    of them.

       ____________________________
      /         _/\_               \      y 5 ridge
     /        _/    \_              \
    ========// [ ]    \=============     y 2.5 to 2.65 fascia, up to 0.1 before the rakes
     |      |          |       |
     |      |   [  ]   |       |          gable from 6 to 11, its rakes 0.18 wide
    -+------+----------+-------+---
     0      6          11      16
    """
    lines = [(-3, 0, 20, 0), (0, 0, 0, 2.5), (16, 0, 16, 2.5)]
    lines += [(6, 0, 6, 2.45), (11, 0, 11, 2.45)]
    for y in (2.5, 2.65):
        lines += [(-0.4, y, 5.5, y), (11.5, y, 16.4, y)]
    lines += [(-0.4, 2.5, -0.4, 2.65), (16.4, 2.5, 16.4, 2.65)]
    for y in (2.5, 2.68):  # the rakes rise 0.7 in 1, from 0.4 outside the corners
        foot, top = y - 0.4 * 0.7, y + 2.5 * 0.7
        lines += [(5.6, foot, 8.5, top), (8.5, top, 11.4, foot)]
    lines += [(5.6, 2.22, 5.6, 2.4), (11.4, 2.22, 11.4, 2.4)]
    lines += [(-0.4, 2.65, 1, 5), (1, 5, 15, 5), (15, 5, 16.4, 2.65)]
    return [*lines, *framed(7.5, 0.8, 9.5, 2), *framed(2, 0.9, 3.5, 2)]


def test_an_eaves_that_stops_short_of_the_gable_before_it_keeps_the_roof_off():
    walls, openings = proposed(front_gable())
    assert len(openings) == 2
    left, gable, right = sorted(walls, key=lambda w: w.bounds)
    assert left.area == pytest.approx(6 * 2.5, rel=0.02)
    assert gable.area == pytest.approx(5 * 2.5 + 5 * 2.5 * 0.7 / 2, rel=0.02)
    assert right.area == pytest.approx(5 * 2.5, rel=0.02)


def test_the_roof_of_a_front_gable_is_kept_off_in_any_order_and_unit():
    lines = [tuple(39.37 * v for v in line) for line in front_gable()]
    walls, _ = proposed(random.Random(4).sample(lines, len(lines)), metre=39.37)
    assert max(w.bounds[3] for w in walls) < 39.37 * 4.3


def test_a_fascia_parted_by_a_chimney_and_a_porch_roof_is_one():
    r"""
         ____
        |    |_____________________      chimney from 2 to 3, up to 5
     ___|    |______________________\    ridge 4.5
    ====|    |=======/‾‾‾‾‾‾\========    fascia 3 to 3.2, behind the roof over the porch
     |  |    |      ==========    |
     |  |    |       |      |     |
    -+--+----+-------+------+-----+--
     0  2    3       6     10     14
    """
    lines = [(-3, 0, 18, 0), (0, 0, 0, 3), (14, 0, 14, 3), (2, 0, 2, 5), (3, 0, 3, 5), (2, 5, 3, 5)]
    for y in (3, 3.2):
        lines += [(-0.4, y, 2, y), (3, y, 6.1, y), (9.9, y, 14.4, y)]
    lines += [(-0.4, 3, -0.4, 3.2), (14.4, 3, 14.4, 3.2), *box(5.7, 2.4, 10.3, 2.6)]
    lines += [(5.7, 2.6, 6.4, 3.6), (6.4, 3.6, 9.6, 3.6), (9.6, 3.6, 10.3, 2.6)]
    lines += [(-0.4, 3.2, 0.8, 4.5), (0.8, 4.5, 2, 4.5), (3, 4.5, 13.2, 4.5)]
    lines += [(13.2, 4.5, 14.4, 3.2)]
    lines += [(x, 0, x, 2.4) for x in (6, 6.12, 9.9, 10.02)]
    walls, _ = proposed([*lines, *framed(4, 1, 5, 2.2), *framed(11.5, 1, 13, 2.2)])
    roof = Polygon([(3.1, 3.3), (13, 3.3), (13, 4.4), (3.1, 4.4)])
    assert all(w.intersection(roof).area < 0.05 for w in walls)


def test_a_leader_on_which_ends_of_lines_lie_by_chance_is_no_line_of_the_building():
    """A leader without a landing from -2, 0.9 gently down to a pipe at 4.1 crosses the corner and
    two more pipes; two others, 1.5 long, happen to begin on it."""
    pipes = [(x, 0.1, x, 2.5) for x in (0.35, 2.6, 4.1)]
    begun = [(x, 0.7 - 0.1 * x, x, 2.2 - 0.1 * x) for x in (0.7, 3.3)]
    lines = np.array([*house(), *pipes, *begun, (-2, 0.9, 4.1, 0.29)], float)
    none = np.empty(0, dtype=object)
    runs = structure_of(lines, none, none, gap=0.008, metre=1.0).runs
    sloped = runs.lines[~runs.level & ~runs.upright]
    assert len(sloped) == 2  # the hips of the house
    assert sloped[:, 1].min() == pytest.approx(3.25)


def test_long_stones_over_a_window_are_no_canopy():
    """
    =====================    y 3      courses 0.25 high, stones 1.8 long, every other course half a
    |__|_____|_____|_____|            stone off; the joints over the window's head, 2-4 x 1-2, are
    |_____|  window  |___|            the only ends of the strip over it
    ---------------------
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (9, 0, 9, 3), *box(-0.4, 3, 9.4, 3.25)]
    for k in range(12):
        low, high = 0.25 * k, 0.25 * (k + 1)
        joints = np.arange(0.9 if k % 2 else 1.8, 9, 1.8).tolist()
        lines += [(x, low, x, high) for x in joints if not (2 <= x <= 4 and 1 <= low < 2)]
        through = k > 0 and not 1 <= low <= 2
        spans = [(0, 9)] if through else [(0, 2), (4, 9)]
        lines += [(a, low, b, low) for a, b in spans if k > 0]
    walls, _ = proposed([*lines, *framed(2, 1, 4, 2)])
    assert len(walls) == 1
    assert area(walls) == pytest.approx(9 * 3, rel=0.005)


@pytest.mark.parametrize("short", [0.003, 0.006])
def test_a_corner_interrupted_by_less_than_ends_that_meet_still_parts_two_walls(short):
    """
    ===============
     |           |=======   block to y 5, wing to y 3; the lower piece of the corner between them
     |       ----+     |    ends short of the upper one, where the line of a quoin ends at y 1.5
    -+-----------+-----+-
     0           6     9
    """
    lines = [(-3, 0, 12, 0), *box(-0.4, 5, 6.4, 5.2), *box(6, 3, 9.4, 3.2), (9, 0, 9, 3)]
    lines += [(0, 0, 0, 5), (6, 0, 6, 1.5 - short), (6, 1.5, 6, 5), (5.5, 1.5, 6, 1.5)]
    lines += [*framed(1, 0.8, 2, 1.6), *framed(7, 0.8, 8, 1.8)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 6, 5), (6, 0, 9, 3)]


@pytest.mark.parametrize("short", [0.0, 0.012])
def test_a_corner_that_ends_short_of_the_roof_of_a_wing_parts_it_from_the_block(short):
    """
    ===============
     |           |            block to y 5; the wing's flat roof, y 3 to 3.2, runs from 5.4 to 9.6
     |        =========       before it; the corner under it ends short of it, within ends that
     |           |    |       meet
    -+-----------+----+-
     0           6    9
    """
    lines = [(-3, 0, 12, 0), *box(-0.4, 5, 6.4, 5.2), *box(5.4, 3, 9.6, 3.2), (9, 0, 9, 3)]
    lines += [(0, 0, 0, 5), (6, 0, 6, 3 - short), (6, 3.2, 6, 5)]
    lines += [*framed(1, 0.8, 2, 1.6), *framed(7, 0.8, 8, 1.8)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 6, 5), (6, 0, 9, 3)]
