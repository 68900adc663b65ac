"""Small facades drawn line by line, in metres, for the tests of proposals."""

import random

import numpy as np
import shapely

from dxf2veneer.propose.openings import find_openings
from dxf2veneer.propose.walls import find_walls


def box(x0, y0, x1, y1):
    """Four lines round a box."""
    return [(x0, y0, x1, y0), (x1, y0, x1, y1), (x1, y1, x0, y1), (x0, y1, x0, y0)]


def framed(x0, y0, x1, y1, frame=0.08):
    """A frame, and the pane in it."""
    return box(x0, y0, x1, y1) + box(x0 + frame, y0 + frame, x1 - frame, y1 - frame)


def house():
    """A house of one storey: wall 8 x 3, a window, a door, fascia and roof that hang over by 0.4.

           ______________________      y 4.5  ridge
          /______________________\\    y 3.25 fascia, 0.25 deep
            |                  |       y 3    eaves
            |  [w]      [d]    |
    --------+------------------+-----  y 0    ground, from -3 to 12
            0   1-2.2   5-6    8
    """
    ground = [(-3, 0, 12, 0)]
    sides = [(0, 0, 0, 3), (8, 0, 8, 3)]
    roof = [*box(-0.4, 3, 8.4, 3.25), (-0.4, 3.25, 1, 4.5), (1, 4.5, 7, 4.5), (7, 4.5, 8.4, 3.25)]
    return [*ground, *sides, *roof, *framed(1, 1, 2.2, 2.3), *framed(5, 0, 6, 2.1)]


def woodshed(*, threshold=True):
    """Boards 0.2 apart between corners at 0 and 6 round a window and a door; a line hangs over.

    ==================   y 3    from -0.3 to 6.3
    |------------------|
    |---|    |---| |---|        window 1-2 x 1.2-2.2, door 3.5-4.4 x 0-2.2
    |---|____|---| |---|
    |------------|d|---|
    0                  6        without threshold no line runs under the door
    """
    lines = [(-0.3, 3, 6.3, 3), (0, 0, 0, 3), (6, 0, 6, 3), (0, 0, 3.5, 0), (4.4, 0, 6, 0)]
    lines += [(3.5, 0, 4.4, 0)] if threshold else []
    for k in range(1, 15):
        y = round(0.2 * k, 3)
        spans = [(0, 6)]
        if y < 2.2:
            spans = [(0, 3.5), (4.4, 6)]
        if 1.2 < y < 2.2:
            spans = [(0, 1), (2, 3.5), (4.4, 6)]
        lines += [(a, y, b, y) for a, b in spans]
    return [*lines, (1, 1.2, 1, 2.2), (2, 1.2, 2, 2.2), (3.5, 0, 3.5, 2.2), (4.4, 0, 4.4, 2.2)]


def proposed(lines, metre=1.0, patterns=()):
    """Walls and openings of lines and hatched areas, in metres, from left to right."""
    segments = np.array(lines, float)
    found = find_openings(segments, np.empty(0, dtype=object), metre=metre)
    framed_ = [c for c in found if c.confidence >= 0.8]
    sure = [c for c in found if c.confidence > 0.6]
    arrays = [
        np.array([c.polygon for c in group], dtype=object) for group in (found, framed_, sure)
    ]
    walls = find_walls(
        segments, np.ones(len(segments), bool), segments, *arrays, patterns, metre=metre
    )
    return [w.polygon for w in walls], sorted((c.polygon for c in found), key=lambda p: p.bounds)


def rounded(polygon, metre=1.0):
    """The box of a polygon in metres, to a millimetre or so."""
    return tuple(round(v / metre, 2) for v in polygon.bounds)


def shuffled(lines, seed=3):
    """The same lines in another order, some turned round."""
    chance = random.Random(seed)
    turned = [(c, d, a, b) if chance.random() < 0.5 else (a, b, c, d) for a, b, c, d in lines]
    chance.shuffle(turned)
    return turned


def area(polygons):
    return sum(shapely.area(p) for p in polygons)
