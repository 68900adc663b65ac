"""Roofs seen from the eaves that something hides an end of, told from walls that hang over."""

import pytest
from facades import area, box, framed, proposed
from shapely.geometry import Point


def _behind_a_porch():
    """
      _ ______________
     | |              |     y 7   ridge from 0 to 10.5; a chimney's left side at -0.6, its top at 8
     | |              |
     | |_.__________._|     y 4 to 7, the roof's sides end 0.4 past what lies in front of it
     |   |__________|       y 3.6 to 4.6, roof of the porch; fascia behind it
     |    | [w] [d] |       wall from 0.4 to 10
    -+----+---------+---
    """
    lines = [(-3, 0, 13, 0), (-0.6, 0, -0.6, 8), (0.4, 0, 0.4, 3.6), (10, 0, 10, 3.6)]
    lines += [
        (-0.6, 8, 0.4, 8),
        (0.4, 7, 0.4, 8),
        (0, 7, 10.5, 7),
        (0, 4, 0, 7),
        (10.5, 4, 10.5, 7),
    ]
    lines += [*box(0.2, 3.6, 10.3, 4.6), (0, 4, 0.2, 4), (10.3, 4, 10.5, 4)]
    return [*lines, *framed(2, 1.2, 3.4, 2.4), *framed(6, 0, 7, 2.1)]


def test_a_roof_with_a_chimney_beside_it_is_no_part_of_the_chimney():
    walls, _ = proposed(_behind_a_porch())
    assert not any(w.contains(Point(5, 6)) for w in walls)
    assert any(w.contains(Point(5, 3)) for w in walls)


def test_an_upper_storey_with_windows_that_hangs_over_is_a_wall():
    """Storey 0-8 x 0-3 with a door, over it one from -0.5 to 8.5 up to 6 with five windows."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (8, 0, 8, 3), *box(-0.5, 3, 8.5, 6)]
    windows = [line for k in range(5) for line in framed(0.3 + 1.7 * k, 3.9, 1.5 + 1.7 * k, 5.3)]
    walls, _ = proposed([*lines, *windows, *framed(5, 0, 6, 2.1)])
    assert area(walls) == pytest.approx(8 * 3 + 9 * 3, rel=0.02)


def test_without_a_ground_a_wall_that_ends_over_the_air_is_no_roof():
    lines = [(0, 0, 0, 3), (8, 0, 8, 3), (0, 0, 8, 0), (0, 3, 8, 3)]
    walls, _ = proposed([*lines, *framed(1, 1, 2.2, 2.3), *framed(5, 1, 6, 2.1)])
    assert area(walls) == pytest.approx(8 * 3, rel=0.02)
