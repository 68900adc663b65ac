"""Walls over walls: upper storeys that hang over, told from roofs by their windows; cornices and
band courses."""

import pytest
from facades import area, box, framed, proposed, rounded


def _cantilever(windows):
    """A box 3-13 x 3-6 under a coping, on a wall 0-10 x 0-3 under a roof's edge.

                 ______________
               |  [ ]      [ ]  |    y 6
        _______|________________|    y 3
        |   [w]           |
    ----+-----------------+------
        0      3          10    13
    """
    lines = [(-3, 0, 16, 0), (0, 0, 0, 3), (10, 0, 10, 3), (0, 3, 13, 3), *framed(1, 1, 2.5, 2.2)]
    lines += [(-0.3, 3, 0, 3), (-0.3, 3, -0.3, 3.1), (-0.3, 3.1, 3, 3.1)]
    lines += [(3, 3, 3, 6), (13, 3, 13, 6), *box(2.97, 6, 13.03, 6.1)]
    return [*lines, *(framed(4, 3.8, 8, 5.4) if windows else []), *framed(9, 3.8, 12, 5.4)]


def test_an_upper_storey_that_hangs_over_is_a_wall():
    walls, openings = proposed(_cantilever(windows=True))
    assert area(walls) == pytest.approx(10 * 3 + 10 * 3, rel=0.01)
    assert len(openings) == 3


def test_the_roof_over_a_fascia_is_no_wall_for_its_one_roof_window():
    """Fascia 3-3.25 and roof to 6 over a wall 8 x 3, right between two party walls; a roof window
    0.8 x 1.2 is 5 % of the roof."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.4, 3, 8.4, 3.25)]
    lines += [(-0.4, 3.25, -0.4, 6), (-0.4, 6, 8.4, 6), (8.4, 6, 8.4, 3.25)]
    walls, _ = proposed([*lines, *framed(1, 1, 2.2, 2.3), *framed(5, 4, 5.8, 5.2)])
    assert [rounded(w) for w in walls] == [(0, 0, 8, 3)]


def test_what_lies_over_a_band_course_is_the_same_wall_though_the_eaves_have_a_gap():
    """
        =========   =========    y 6 to 6.2, 0.05 wide a gap in both its lines at x 4
        |                   |
        |-------------------|    y 3 to 3.1, a band course; the upper storey has no window
        |   [w]             |
    ----+-------------------+---
        0                   9
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 6), (9, 0, 9, 6), (0, 3, 9, 3), (0, 3.1, 9, 3.1)]
    for a, b in ((-0.4, 4.0), (4.05, 9.4)):
        lines += [(a, 6, b, 6), (a, 6.2, b, 6.2)]
    lines += [(-0.4, 6, -0.4, 7.5), (9.4, 6, 9.4, 7.5), (-0.4, 7.5, 9.4, 7.5)]
    walls, _ = proposed([*lines, *framed(1, 1, 2.2, 2.3)])
    assert area(walls) == pytest.approx(9 * 6, rel=0.01)


def test_an_eaves_goes_on_to_the_bargeboard_a_little_beyond_its_fascias_end():
    """
      _________________      roof to 7 over a fascia 5-5.2 deep, which ends at 6; the bargeboard of
     |_______________|//     the wing before it begins 0.04 lower there and 0.1 farther on at the
      |             ///|     fascia's height: without the eaves going on, wall and roof are one
      |  [w]        |  |
    --+-------------+--+--   house 0-7, wing 7-11 with its gable's apex at 9
    """
    low, high = 4.5, 4.96  # the bargeboard's edges where it begins; it climbs 1 in 2
    rakes = [(6, y, 9, y + 1.5) for y in (low, high)] + [(9, y + 1.5, 12, y) for y in (low, high)]
    rakes += [(x, low, x, high) for x in (6, 12)]
    lines = [(-3, 0, 14, 0), (0, 0, 0, 5), (7, 0, 7, 5), (11, 0, 11, 5), *rakes]
    roof = [(-1, 5, -1, 7), (-1, 7, 11.7, 7), (11.7, 5.2, 11.7, 7)]
    lines += [(-1, 5, 6, 5), (-1, 5.2, 6, 5.2), (6, 5, 6, 5.2), *roof]
    lines += [*framed(2, 2, 3.2, 3.4), *framed(8.4, 1, 9.6, 2.2)]
    walls, openings = proposed(lines)
    assert len(openings) == 2
    assert [rounded(w) for w in walls] == [(0, 0, 7, 5), (7, 0, 11, 6)]
