"""Mansards: steep roofs in line with the wall under them are no walls; gables are."""

import pytest
from facades import box, framed, proposed, rounded


def house(*roof):
    """Sides of a wall 10 wide up to y 6, two windows, and what is over y 5.7."""
    lines = [(-3, 0, 13, 0), (0, 0, 0, 6), (10, 0, 10, 6)]
    return [*lines, *framed(2, 1, 3.2, 2.5), *framed(6, 1, 7.2, 2.5), *roof]


def test_a_mansard_over_a_cornice_is_no_wall():
    """
       __________      y 8.5 to 8.7: a coping from 0.7 to 9.3
      /__________\\    y 8.5, from 0.8 to 9.2
     /____________\\   y 5.7 to 6: the cornice
     |  [ ]  [ ]  |
    -+------------+-
    """
    roof = [
        (0, 5.7, 10, 5.7),
        (0, 6, 10, 6),
        (0, 6, 0.8, 8.5),
        (10, 6, 9.2, 8.5),
        *box(0.7, 8.5, 9.3, 8.7),
    ]
    walls, _ = proposed(house(*roof))
    assert [rounded(w) for w in walls] == [(0, 0, 10, 5.7)]


def test_the_steep_lower_half_of_a_gambrel_gable_is_wall():
    """
         _.^._        y 8.5 at 2 and 8, the ridge at y 10.5
       /       \\
      /         \\
     |  [ ]  [ ]  |
    -+------------+-
    """
    edge = [(-0.3, 6, 1.8, 8.7), (1.8, 8.7, 5, 10.8), (5, 10.8, 8.2, 8.7), (8.2, 8.7, 10.3, 6)]
    inner = [(0, 6, 2, 8.5), (2, 8.5, 5, 10.5), (5, 10.5, 8, 8.5), (8, 8.5, 10, 6)]
    walls, _ = proposed(house(*edge, *inner, (-0.3, 6, 0, 6), (10, 6, 10.3, 6)))
    assert max(rounded(w)[3] for w in walls) == pytest.approx(10.5)
