"""Openings whose foot follows a ground that falls."""

import numpy as np
import pytest
from facades import box, rounded

from dxf2veneer.propose.openings import find_openings


def garage(fall):
    """A garage door from x 2 to 5 with nine panels under a head at y 2.4; the ground falls from
    0.3 at its left jamb to the right.

    +-----------+
    | [] [] []  |
    | [] [] []  |
    | [] [] []  |
    `-.__       |
         `-.__  |
    """
    at = [(x, 0.3 - fall * (x - 2) / 3) for x in (-3, 9, 0, 7, 2, 5)]
    ground, (_, left), (_, right), (_, high), (_, low) = at[:2], *at[2:]
    lines = [(*ground[0], *ground[1]), (0, left, 0, 3), (7, right, 7, 3), *box(-0.4, 3, 7.4, 3.25)]
    lines += [(2, high, 2, 2.4), (5, low, 5, 2.4), (2, 2.4, 5, 2.4)]
    for y in (0.6, 1.2, 1.8):
        lines += [line for x in (2.15, 3.1, 4.05) for line in box(x, y, x + 0.8, y + 0.45)]
    return np.array(lines)


@pytest.mark.parametrize("fall", [0.0, 0.1, 0.2, 0.3])
def test_a_garage_door_reaches_down_to_ground_that_falls_before_it(fall):
    """3 wide, 2.1 high at its left jamb, and a triangle as high as the ground falls."""
    (found,) = find_openings(garage(fall), np.empty(0, dtype=object), metre=1.0)
    assert rounded(found.polygon) == (2, round(0.3 - fall, 2), 5, 2.4)
    assert found.polygon.area == pytest.approx(3 * 2.1 + 3 * fall / 2, rel=1e-2)
