"""Balconies seen from the front: a slab, a railing on it, a door behind it."""

import numpy as np
import shapely
from facades import box

from dxf2veneer.propose.walls import find_walls

SHELL = [(-3, 0, 12, 0), (0, 0, 0, 5.5), (8, 0, 8, 5.5), *box(-0.4, 5.5, 8.4, 5.75)]
"""Ground, corners at 0 and 8, fascia over y 5.5; in meters."""


def test_the_wall_goes_on_behind_the_railing_of_a_balcony():
    """
    |   +--------------+   |    railing, y 2.9 to 3.8, x 1 to 7: the wall lies behind it
    |   | | | |d|  | | |   |    door 3.4 to 4.6 on the slab, in its casing
    +-+==================+-+    slab, y 2.7 to 2.9, and a course beside it; the lower rail 0.1 over
    |                      |    the slab
    """
    slab, course = box(0.8, 2.7, 7.2, 2.9), [*box(0, 2.7, 0.8, 2.77), *box(7.2, 2.7, 8, 2.77)]
    casing = [(3.25, 2.9, 3.25, 5.1), (4.75, 2.9, 4.75, 5.1), (3.25, 5.1, 4.75, 5.1)]
    rail = [(a, y, b, y) for y in (3.0, 3.8) for a, b in ((1, 3.25), (4.75, 7))]
    posts = [(1, 2.9, 1, 3.8), (7, 2.9, 7, 3.8)]
    bars = [(x / 10, 3, x / 10, 3.8) for x in range(12, 70, 2) if not 32 < x < 48]
    lines = np.array([*SHELL, *slab, *course, *casing, *rail, *posts, *bars], float)
    door = np.array([shapely.box(3.4, 2.9, 4.6, 5)], dtype=object)
    drawn = np.ones(len(lines), bool)
    walls = find_walls(lines, drawn, None, door, door, door, [], metre=1.0)
    covered = shapely.union_all([w.polygon for w in walls])
    assert covered.covers(shapely.box(0.1, 3.1, 7.9, 5.4))
