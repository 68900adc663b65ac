"""The area that strips beside lines cover of a stretch of wall, by the strips' own heights and
uprights: far faster than joining their outlines.

+----+              +----+
|  +-+----+         |    |          three boxes that overlap no more
|  | |    |   ->    +----+----+
+--+-+    |         +---------+
   +------+            +------+
"""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely

from dxf2veneer.propose.lines.noding import Floats


def covered_area(boxes: Floats, stretch: Any, near: float) -> float:
    """The area of a stretch of wall that lies in any of some boxes.

    Args:
        boxes: left, bottom, right and top of each, shape (n, 4), in drawing units.
        stretch: the stretch, a polygon or several.
        near: sides of boxes this near to each other are one, in drawing units.

    Returns:
        The area in square drawing units.
    """
    x0, y0, x1, y1 = stretch.bounds
    size = np.array([x1 - x0, y1 - y0])
    inside = np.clip(boxes.reshape(-1, 2) - [x0, y0], 0.0, size).reshape(-1, 4)
    return _area_in(apart(np.rint(inside / near)) * near, _edges(stretch) - [x0, y0, x0, y0])


def _edges(stretch: Any) -> Floats:
    """The edges of a stretch, what they bound on their right, shape (n, 4)."""
    parts = shapely.get_parts(shapely.normalize(stretch))  # shells clockwise, holes the other way
    points, ring = shapely.get_coordinates(shapely.get_rings(parts), return_index=True)
    return np.asarray(np.hstack([points[:-1], points[1:]])[ring[:-1] == ring[1:]])


def _area_in(boxes: Floats, edges: Floats) -> float:
    """The area within some boxes of what edges bound on their right: between each edge and a box's
    foot, less where the edges run back."""
    edges = edges[edges[:, 0] != edges[:, 2]]
    left, right = edges[:, [0, 2]].min(axis=1), edges[:, [0, 2]].max(axis=1)
    above = edges[:, [1, 3]].max(axis=1) > boxes[:, 1, None]
    box, edge = np.nonzero(above & (left < boxes[:, 2, None]) & (right > boxes[:, 0, None]))
    x0, y0, x1, y1 = edges[edge].T
    left, low, right, high = boxes[box].T
    begin, end = np.clip(x0, left, right), np.clip(x1, left, right)
    slope, top = (y1 - y0) / (x1 - x0), high - low
    foot, rise = y0 + (begin - x0) * slope - low, (end - begin) * slope
    mean = np.clip(foot, 0.0, top)
    k = np.flatnonzero(rise)
    mean[k] = _mean_within(foot[k], rise[k], top[k])
    return float((mean * (end - begin)).sum())


def _mean_within(foot: Floats, rise: Floats, top: Floats) -> Floats:
    """The mean height of sloped edges, from where they begin, of what is between 0 and a top."""
    first, last = np.sort(np.clip([-foot / rise, (top - foot) / rise], 0.0, 1.0), axis=0)
    a, b, c, d = (np.clip(foot + t * rise, 0.0, top) for t in (0.0, first, last, 1.0))
    return np.asarray(0.5 * ((a + b) * first + (b + c) * (last - first) + (c + d) * (1.0 - last)))


def apart(boxes: Floats) -> Floats:
    """Boxes that cover what some boxes cover, but no two of them overlap.

    Args:
        boxes: left, bottom, right and top of each, shape (n, 4).

    Returns:
        The boxes from the bottom up and from left to right, shape (m, 4).
    """
    x, column = np.unique(boxes[:, [0, 2]], return_inverse=True)
    y, row = np.unique(boxes[:, [1, 3]], return_inverse=True)
    (left, right), (low, high) = column.reshape(-1, 2).T, row.reshape(-1, 2).T
    filled = np.zeros((len(y), len(x)), bool)
    places = zip(low.tolist(), high.tolist(), left.tolist(), right.tolist(), strict=True)
    for foot, head, begin, end in places:
        filled[foot:head, begin:end] = True
    begins = np.flatnonzero(np.r_[True, (filled[1:] != filled[:-1]).any(axis=1)])
    change = np.diff(filled[begins].view(np.int8), axis=1, prepend=0)
    at, first = np.nonzero(change == 1)
    last = np.nonzero(change == -1)[1]
    return np.stack([x[first], y[begins[at]], x[last], y[begins[at + 1]]], axis=1)
