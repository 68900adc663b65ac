"""Clouds round what changed: closed lines of arcs that swell outward.

 .-.-.-.
(       )     arcs of about one size, a whole number of them on each side
(       )
 '-'-'-'
"""

from __future__ import annotations

from itertools import pairwise

from dxf2veneer.geometry import Path, Point

_BULGE = 0.6
"""Tangent of a quarter of each arc's angle: somewhat flatter than a half circle."""
_ROOM = 0.6
"""Distance of the arcs' ends from what they go round, in arcs."""


def cloud_round(box: tuple[float, float, float, float], arc: float) -> Path:
    """A cloud round a box.

    Args:
        box: Least and greatest x and y, in inches; it may have no width or height.
        arc: About how long the chord of each arc is, in inches.

    Returns:
        A closed counter-clockwise path whose arcs lie outside of the box.
    """
    x0, y0, x1, y1 = box
    room = _ROOM * arc
    left, low, right, high = x0 - room, y0 - room, x1 + room, y1 + room
    ring = [(left, low), (right, low), (right, high), (left, high), (left, low)]
    places = [place for a, b in pairwise(ring) for place in _steps(a, b, arc)]
    return Path(tuple((x, y, _BULGE) for x, y in places))


def _steps(start: Point, end: Point, arc: float) -> list[Point]:
    """Where the arcs of a side begin."""
    (x0, y0), (x1, y1) = start, end
    number = max(1, round((abs(x1 - x0) + abs(y1 - y0)) / arc))
    return [(x0 + (x1 - x0) * n / number, y0 + (y1 - y0) * n / number) for n in range(number)]
