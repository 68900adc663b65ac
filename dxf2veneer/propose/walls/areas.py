"""Walls drawn as hatched areas: their borders, where no line of the drawing runs along them.

     /\\          a hatch over a wall that lines draw has lines along both its sides; the border of
    /##\\         one that is all there is of the wall has lines along the ground and the eaves at
   |####|         most, and stands in for the lines of the wall
---------------
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats


def borders_of_areas(loops: Sequence[Floats], segments: Floats, *, gap: float) -> Floats:
    """The outer borders of hatches that stand in for the lines of walls.

    Args:
        loops: outer borders of hatches, each as rows of x, y.
        segments: the lines of the elevation, shape (n, 4), in drawing units.
        gap: a line runs along a border where it lies this near, in drawing units.

    Returns:
        The edges of those borders, shape (m, 4).
    """
    if not loops:
        return np.empty((0, 4))
    lines = shapely.linestrings(segments.reshape(-1, 2, 2))
    tree = shapely.STRtree(lines)
    found = []
    for loop in loops:
        edges = np.hstack([loop, np.roll(loop, -1, axis=0)])
        size = np.abs(edges[:, 2:] - edges[:, :2])
        edges, size = edges[size.any(axis=1)], size[size.any(axis=1)]
        sides = edges[(size[:, 0] <= gap) & (size[:, 1] > gap)]
        sides = sides[~_in_notches(sides, loop, gap)]
        if not len(sides):
            continue
        strips = shapely.buffer(shapely.linestrings(sides.reshape(-1, 2, 2)), gap)
        near = np.unique(tree.query(strips, predicate="intersects")[1])
        strip = shapely.union_all(strips)
        drawn = shapely.length(shapely.intersection(lines[near], strip)).sum()
        high = np.abs(sides[:, 3] - sides[:, 1]).sum()
        if drawn <= constants.AREA_DRAWN * high:
            found.append(edges)
    return np.vstack(found) if found else np.empty((0, 4))


def _in_notches(sides: Floats, loop: Floats, gap: float) -> NDArray[np.bool_]:
    """Which upright sides of an area face another of its sides across the open: the jambs of a
    doorway, along which a door is drawn."""
    area = shapely.Polygon(loop).buffer(0)
    x, y = sides[:, [0, 2]].mean(axis=1), sides[:, [1, 3]].mean(axis=1)
    result = np.zeros(len(sides), bool)
    for way, end in ((-gap, area.bounds[0]), (gap, area.bounds[2])):
        outside = ~shapely.intersects_xy(area, x + way, y)
        ahead = np.stack([x + way, y, np.full(len(x), end), y], axis=1)
        faced = shapely.intersects(area, shapely.linestrings(ahead.reshape(-1, 2, 2)))
        result |= outside & faced & (np.abs(x - end) > 2.0 * gap)
    return result
