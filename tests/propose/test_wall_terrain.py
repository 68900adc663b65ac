"""The ground: terrain drawn as a curve, ground under a deck, hidden lines below grade."""

import itertools

import numpy as np
import pytest
import shapely
from drawn_sheets import facade, scene, sheet
from facades import area, box, framed, proposed, rounded
from shapely.geometry import Polygon

from dxf2veneer.propose.proposing import proposal_of


def _height(x):
    """A hill that climbs by 2 between x 0 and 9."""
    return 1.0 - np.cos(np.clip(x, -1.0, 10.0) * np.pi / 10.0)


def test_terrain_in_short_chords_is_the_foot_of_the_wall():
    """
      |          |  ,--     chords 0.1 wide, the steepest 0.31 in 1
      |        ,-|-'
    --|--+--'    |          wall 0-9 up to 5 under eaves that hang over
    """
    x = np.arange(-2.0, 11.05, 0.1)
    chords = np.stack([x[:-1], _height(x[:-1]), x[1:], _height(x[1:])], axis=1)
    sides = [(0, _height(0.0), 0, 5), (9, _height(9.0), 9, 5)]
    lines = [*map(tuple, chords), *sides, *box(-0.4, 5, 9.4, 5.2), *framed(2, 3, 3.2, 4)]
    walls, _ = proposed(lines)
    under = np.linspace(0.0, 9.0, 9001)
    expected = 9 * 5 - np.trapezoid(_height(under), under)  # by numerical integration
    assert area(walls) == pytest.approx(expected, rel=0.01)


def test_a_corner_goes_on_to_the_bargeboard_a_little_over_the_walls_own_rake():
    """A gable 0-8 up to 3 and 6 in the middle; the bargeboard's lower edge runs 0.03 over the
    corners and 0.15 over the apex, so that the strip between is open at both ends."""
    wall = [(0, 0, 0, 3), (8, 0, 8, 3), (0, 3, 4, 6), (4, 6, 8, 3)]
    slope = (6.15 - 3.03) / 4.0
    low = 3.03 - 0.5 * slope
    rakes = [(-0.5, low + d, 4, 6.15 + d) for d in (0.0, 0.25)]
    rakes += [(8.5, low + d, 4, 6.15 + d) for d in (0.0, 0.25)]
    ends = [(x, low, x, low + 0.25) for x in (-0.5, 8.5)]
    walls, openings = proposed([(-3, 0, 11, 0), *wall, *rakes, *ends, *framed(1, 1, 2.2, 2.2)])
    assert len(walls) == 1
    assert len(openings) == 1
    assert area(walls) == pytest.approx(8 * 3 + 8 * 3 / 2, rel=0.02)


def test_the_ground_under_a_deck_is_ground_though_no_wall_is_seen_to_stand_on_it():
    """A deck 0.2-0.4 before the whole front hides the foot of the wall; its skirt stands on the
    ground, and a wall cap at 1.6 that no line goes past is no ground."""
    lines = [(-3, 0, 12, 0), (-0.5, 0, -0.5, 0.2), (8.5, 0, 8.5, 0.2), *box(-0.7, 0.2, 8.7, 0.4)]
    lines += [(0, 0.4, 0, 3), (8, 0.4, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    walls, openings = proposed([*lines, *framed(1, 1, 3, 2.3), *framed(5, 1, 7, 2.3)])
    assert len(walls) == 1
    assert walls[0].covers(shapely.box(0.01, 0.41, 7.99, 2.99))
    assert walls[0].bounds[1] >= 0.199  # the edge of the deck at most, never what is under it
    assert len(openings) == 2


@pytest.mark.parametrize("linetype", ["DASHED", "HIDDEN2", "ACAD_ISO02W100"])
def test_a_hidden_foundation_is_not_the_foot_of_the_wall(linetype):
    document, space = sheet()
    facade(space, 0, 0)
    clean = proposal_of(scene(document)).walls
    x0, y0, x1, _ = Polygon(clean[0].outline).bounds
    document.linetypes.add(linetype, [0.6, 0.4, -0.2])
    depth = 900
    foundation = [(x0, y0), (x0, y0 - depth), (x1, y0 - depth), (x1, y0)]
    space.add_lwpolyline(foundation, dxfattribs={"linetype": linetype})
    assert proposal_of(scene(document)).walls == clean


@pytest.mark.parametrize("off", [0.0, 0.006, 0.0127])
def test_corners_that_stop_short_of_ground_and_rakes_meet_them(off):
    """
            /\\
          /    \\         rakes over a gable 0-7 up to 3 at the corners and 6.5 in the middle; the
        /        \\       corners stop half an inch over the ground and under the rakes, the rakes
        |        |        half an inch before the ridge
    ----+--------+-----
    """
    ridge = off * 3.5 / np.hypot(3.5, 3.5)
    sides = [(x, off, x, 3 - off) for x in (0, 7)]
    lower = [(-0.5, 2.5, 3.5 - ridge, 6.5 - ridge), (7.5, 2.5, 3.5 + ridge, 6.5 - ridge)]
    upper = [(-0.5, 2.8, 3.5, 6.8), (7.5, 2.8, 3.5, 6.8), (-0.5, 2.5, -0.5, 2.8)]
    lines = [(-3, 0, 10, 0), *sides, *lower, *upper, (7.5, 2.5, 7.5, 2.8)]
    walls, openings = proposed([*lines, *framed(1, 1, 2.2, 2.2)])
    assert [len(walls), len(openings)] == [1, 1]
    assert area(walls) == pytest.approx(7 * 3 + 7 * 3.5 / 2, rel=0.01)


def test_a_ground_two_inches_under_the_feet_is_their_ground():
    """A wall 0-9 x 0-3 whose ground was drawn 2 in (0.0508) lower."""
    lines = [(-3, -0.0508, 12, -0.0508), (0, 0, 0, 3), (9, 0, 9, 3), *box(-0.4, 3, 9.4, 3.25)]
    walls, _ = proposed([*lines, *framed(1, 1, 2.2, 2.2)])
    assert area(walls) == pytest.approx(9 * 3, rel=0.005)


def test_a_short_steep_face_is_part_of_the_ground():
    """
       |          |     wall 0-12 up to 5; the bank falls from 2.5 by 0.4 within 0.3, then slopes,
    ---|-.        |     then falls by 0.35 within 0.3 to 0.05, and is nearly level from there
       |  `-._    |
       |      `---+---
    """
    ground = [
        (-3, 2.6),
        (0, 2.5),
        (2.5, 2.5),
        (2.8, 2.1),
        (6.2, 0.4),
        (6.5, 0.05),
        (12, 0),
        (15, 0),
    ]
    pieces = [(*a, *b) for a, b in itertools.pairwise(ground)]
    sides = [(0, 2.5, 0, 5), (12, 0, 12, 5), *box(-0.5, 5, 12.5, 5.2)]
    walls, _ = proposed([*pieces, *sides, *framed(2, 3, 3.2, 4), *framed(8, 1, 9.2, 2)])
    under = shapely.Polygon([*ground[1:-1], (12, -1), (0, -1)]).area - 12.0
    assert area(walls) == pytest.approx(12 * 5 - under, rel=2e-3)
    assert len(walls) == 1


def test_a_course_that_ends_at_a_door_is_no_ground():
    """
     ____________________    fascia over corners at 0 and 9, y 4
    |    |   |    |      |   joints of panels stand on the wainscot's top at y 0.7, which runs
    |----+---+-[d]+------|   from both corners to the door's jambs at 4 and 5
    +---------------------+
    """
    lines = [(-3, 0, 12, 0), *box(-0.3, 4, 9.3, 4.2)]
    lines += [(x, a, x, b) for x in (0, 9) for a, b in ((0, 0.7), (0.7, 4))]
    lines += [
        (0, 0.7, 4, 0.7),
        (5, 0.7, 9, 0.7),
        *framed(4, 0, 5, 2.1),
        *framed(6.4, 1.5, 7.6, 2.7),
    ]
    lines += [(x, 0.7, x, 4) for x in (1.5, 3.0, 6.0, 8.2)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 9, 0.7), (0, 0.7, 9, 4)]


def test_the_wall_s_edge_runs_on_behind_a_railing_beside_it():
    """A balcony of 1.2 seen from its side, with two rails, at the wall's left edge from 2.5 to
    3.7; the wall's edge is drawn over and under it only."""
    lines = [(-3, 0, 11, 0), (0, 0, 0, 2.5), (0, 3.7, 0, 5), (8, 0, 8, 5), *box(-0.4, 5, 8.4, 5.2)]
    lines += [*framed(-1.2, 2.5, 0, 3.7), *framed(2, 1, 3.2, 2.2), *framed(5, 3, 6, 4.3)]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 8, 5)]


def test_a_ramp_beside_a_string_course_that_stands_out_past_both_corners():
    """
     ====================   eaves 9.8
      |  []  []  []  |
     +================+     string course 3.3-3.45, out past the corners by 0.06
     +================+
      |  []  []  []  |
    --+--.           |      ground 0 up to x 3, down to -2.3 from x 6.2 on
          `-.________|__
    """
    ground = [(-3, 0, 3, 0), (3, 0, 6.2, -2.3), (6.2, -2.3, 14, -2.3)]
    sides = [(0, 0, 0, 9.8), (11, -2.3, 11, 9.8)]
    course, eaves = box(-0.06, 3.3, 11.06, 3.45), box(-0.7, 9.8, 11.7, 10.02)
    panes = [framed(x, y, x + 1.4, y + 1.4) for x in (1.4, 4.8, 8.2) for y in (1.1, 4.5, 7.6)]
    walls, openings = proposed([*ground, *sides, *course, *eaves, *itertools.chain(*panes)])
    ramp = 3.2 * 2.3 / 2 + (11 - 6.2) * 2.3
    assert area(walls) == pytest.approx(11 * 9.8 + ramp, rel=0.01)  # one cladding over and under
    assert len(openings) == 9


def _barn(ground):
    """A wall 0-12 up to 4 under eaves that hang over, its door 4.8-8.2 from 0 to 3."""
    sides = [(0, -0.02, 0, 4), (12, -0.02, 12, 4)]
    lines = [*sides, *box(-0.4, 4, 12.4, 4.25), *framed(4.8, 0, 8.2, 3), *framed(1, 1, 2, 2)]
    heights = itertools.pairwise(ground)
    return [*lines, *((a, b, c, d) for (a, b), (c, d) in heights)]


def test_a_first_piece_of_terrain_with_a_loose_end_is_no_leader_of_a_note():
    """Pieces 1.4 long that fall and rise by a few centimeters, the first and the last loose."""
    x = np.linspace(-1.0, 13.0, 11)
    y = [-0.02, 0.01, -0.02, -0.05, 0.0, 0.0, 0.0, -0.04, -0.01, -0.03, 0.0]
    walls, _ = proposed(_barn(list(zip(x.tolist(), y, strict=True))))
    assert len(walls) == 1
    assert area(walls) == pytest.approx(12 * 4.02, rel=0.01)


def test_terrain_goes_on_under_the_foot_of_a_door_that_makes_one_line_with_a_piece_of_it():
    """The piece from 6.7 to 8 is in line with the foot of the door, 4.8 to 8.2; the one before it
    ends 1 cm under that."""
    x = [-1.5, 0.2, 1.5, 2.8, 4.1, 5.4, 6.7, 8.0, 9.3, 10.6, 13.5]
    y = [-0.015, -0.015, -0.03, -0.03, 0.0, -0.013, 0.0, 0.0, -0.06, -0.04, 0.01]
    walls, _ = proposed(_barn(list(zip(x, y, strict=True))))
    assert len(walls) == 1
    assert area(walls) == pytest.approx(12 * 4.02, rel=0.01)
