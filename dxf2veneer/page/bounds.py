"""A line that was pointed at made a border of a wall: the wall ends there, or it is parted there.

+-----+-----+      a line in a wall cuts it along the line run on to its rim; of the two parts
|     :     |      the larger stays, or both. A line beside a wall takes the side next to it,
|     :     | |    whose neighbors run on or back in their own directions
+-----+-----+ |
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import split

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.page import shaping
from dxf2veneer.page.marks import Mark, Marks, corners_of
from dxf2veneer.page.marks import Point as Place

How = Literal["fits", "end", "part"]
HOWS: tuple[How, ...] = ("fits", "end", "part")
Ends = tuple[Place, Place]
Floats = NDArray[np.float64]

_ALONG = 0.02
"""Sine of the angle up to which a side runs along a line. Our own default."""
_OWN = 0.2
"""A part of a wall with this share of it is a wall of its own. Our own default; it can be
chosen."""
_RIM = 1e-3
"""A line this near to a wall's rim, as a share of the wall's size, lies on it. Our own default."""


class BoundError(TakeoffError):
    """The line bounds no wall."""


def bounded(marks: Marks, line: Ends, at: Place, how: How) -> Marks:
    """A wall that a line bounds.

    Args:
        marks: The marks before.
        line: Two places on the line.
        at: Where it was pointed at.
        how: ``end``: the wall ends there; ``part``: it becomes two; ``fits``: it becomes two where
            the smaller part is large enough for a wall of its own.

    Returns:
        The marks after.

    Raises:
        BoundError: No wall has anything to do with the line.
    """
    for wall in sorted(marks.walls, key=lambda w: float(w.polygon.area)):
        parts = _cut(wall.polygon, line, at)
        if len(parts) == 2:
            both = how == "part" or (how == "fits" and parts[1].area >= _OWN * wall.polygon.area)
            return shaping.parted(marks, wall, parts if both else parts[:1])
    moved = _nearest_moved(marks, line, at) if how != "part" else None
    if moved is None:
        raise BoundError(message("page-line-bounds-nothing"))
    return shaping.reshaped(marks, *moved)


def _cut(wall: Polygon, line: Ends, at: Place) -> list[Polygon]:
    """The parts of a wall on both sides of a line run on from a place in it to its rim, the larger
    first; none where the place lies at the rim or outside."""
    reach = math.hypot(wall.bounds[2] - wall.bounds[0], wall.bounds[3] - wall.bounds[1])
    if not wall.buffer(-_RIM * reach).intersects(Point(at).buffer(_RIM * reach)):
        return []
    chords = shapely.get_parts(_run_on(line, 2.0 * reach).intersection(wall.buffer(_RIM * reach)))
    chord = min(chords, key=Point(at).distance, default=None)
    if chord is None:
        return []
    parts = [p for p in split(wall, chord).geoms if p.area > _RIM * wall.area]
    return sorted(parts, key=lambda p: -float(p.area))


def _nearest_moved(marks: Marks, line: Ends, at: Place) -> tuple[Mark, Polygon] | None:
    """The wall with a side along the line nearest to a place, and what it is with that side moved
    onto the line."""
    best: tuple[float, Mark, Polygon] | None = None
    for wall in marks.walls:
        ring = np.array(wall.outline)
        for i in range(len(ring)):
            far = float(LineString([ring[i], ring[(i + 1) % len(ring)]]).distance(Point(at)))
            if best is not None and far >= best[0]:
                continue
            moved = _side_moved(ring, i, line)
            if moved is not None:
                best = far, wall, moved
    return best[1:] if best else None


def _side_moved(ring: Floats, i: int, line: Ends) -> Polygon | None:
    """An outline with one side on a line; None where the side does not run along it."""
    count = len(ring)
    start, end = np.array(line)
    along = end - start
    side = ring[(i + 1) % count] - ring[i]
    if abs(_cross(side, along)) > _ALONG * float(np.hypot(*side) * np.hypot(*along)):
        return None
    moved = ring.copy()
    for corner, before in ((i, i - 1), ((i + 1) % count, (i + 2) % count)):
        beside = ring[corner] - ring[before]
        turn = _cross(beside, along)
        if abs(turn) <= _ALONG * float(np.hypot(*beside) * np.hypot(*along)):
            return None
        moved[corner] = ring[before] + beside * _cross(start - ring[before], along) / turn
    outline = corners_of((float(x), float(y)) for x, y in moved)
    return Polygon(outline) if outline else None


def _run_on(line: Ends, by: float) -> LineString:
    """A line run on at both ends."""
    (x0, y0), (x1, y1) = line
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = (x1 - x0) / length * by, (y1 - y0) / length * by
    return LineString([(x0 - dx, y0 - dy), (x1 + dx, y1 + dy)])


def _cross(a: Floats, b: Floats) -> float:
    return float(a[0] * b[1] - a[1] * b[0])
