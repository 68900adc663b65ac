"""Dormers: their fronts are walls of their own, whatever is drawn of the roof around them."""

import numpy as np
import pytest
from facades import area, box, framed, proposed


def _on_a_roof(*lines):
    """A wall 0-10 x 0-3 under a fascia, a roof of boards every 0.25 from 3.25 to 6, and a dormer.

          /\\        y 5.8    the front 4.2-5.8 from 4 up to 5.25 at its corners and 5.8 at its apex
        /|  |\\      y 5.25   rakes 0.1 deep that hang over by 0.2
    -----|[]|-----           the foot is drawn by the course of the roof at 4, from side to side
    ------------------
    """
    drawn = [(-3, 0, 13, 0), (0, 0, 0, 3), (10, 0, 10, 3), *box(-0.4, 3, 10.4, 3.25)]
    drawn += [*framed(1, 1, 2.2, 2.3), *framed(7, 0, 8, 2.1), *framed(4.5, 4.15, 5.5, 4.85)]
    drawn += [(-0.4, 3.25, -0.4, 6), (10.4, 3.25, 10.4, 6), (-0.4, 6, 10.4, 6)]
    for y in np.arange(3.5, 6, 0.25).tolist():
        ends = 4.2 if y <= 5 else 5 - max(0.0, 5.9 - y) / 0.6875
        right = 10 - ends
        drawn += [(-0.4, y, 10.4, y)] if y <= 4 else [(-0.4, y, ends, y), (right, y, 10.4, y)]
    drawn += [(4.2, 4, 4.2, 5.25), (5.8, 4, 5.8, 5.25)]
    for d in (0.0, 0.1):
        drawn += [(4, 5.1125 + d, 5, 5.8 + d), (6, 5.1125 + d, 5, 5.8 + d)]
    drawn += [(x, 5.1125, x, 5.2125) for x in (4, 6)]
    return [*drawn, *lines]


def _front(walls):
    return [w for w in walls if w.bounds[1] >= 3.9 and w.bounds[0] >= 4 and w.bounds[2] <= 6]


def test_the_front_of_a_dormer_stands_on_a_course_of_the_roof():
    walls, _ = proposed(_on_a_roof())
    assert area(_front(walls)) == pytest.approx(1.6 * 1.25 + 1.6 * 0.55 / 2, rel=0.02)


def test_the_gable_of_a_dormer_is_one_wall_with_what_is_under_it():
    """Boards from the foot to 5.2, none in the gable."""
    boards = [(4.2, 4 + 0.1 * k, 5.8, 4 + 0.1 * k) for k in (1, 9, 10, 11, 12)]
    for k in range(2, 9):
        boards += [(4.2, 4 + 0.1 * k, 4.5, 4 + 0.1 * k), (5.5, 4 + 0.1 * k, 5.8, 4 + 0.1 * k)]
    (front,) = _front(proposed(_on_a_roof(*boards))[0])
    assert front.area == pytest.approx(1.6 * 1.25 + 1.6 * 0.55 / 2, rel=0.02)
