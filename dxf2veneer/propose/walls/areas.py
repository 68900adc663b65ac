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
from shapely.geometry.base import BaseGeometry

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Pattern

Flags = NDArray[np.bool_]


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


def before_areas(s: Structure, patterns: Sequence[Pattern]) -> Flags:
    """Which uprights stand before hatches that go on at both sides: no corners.

    #####|#####     one area behind a pipe is one wall; where two walls meet at a corner each has an
    #####|#####     area of its own, with a border there

    #####| |#####   a post hides what is behind it: the same pattern stops at both its sides
    #####| |#####

    Args:
        s: the structure of the elevation.
        patterns: its hatched areas.

    Returns:
        One flag for each run.
    """
    result = np.zeros(len(s.runs.lines), bool)
    upright = np.flatnonzero(s.runs.upright)
    lines = s.runs.lines[upright]
    for _, area in patterns:
        shares = [_along_area(area, lines, way, s) for way in (-1, 1)]
        result[upright[np.minimum(*shares) >= constants.AREA_BEHIND]] = True
    for name in {name for name, _ in patterns}:
        area = shapely.union_all([a for n, a in patterns if n == name])
        left, right = (_along_area(area, lines, way, s) for way in (-1, 1))
        ends = np.flatnonzero((left >= constants.AREA_BEHIND) & (right <= _HARDLY))
        starts = np.flatnonzero((right >= constants.AREA_BEHIND) & (left <= _HARDLY))
        apart = lines[starts, 0][None, :] - lines[ends, 0][:, None]
        post = (apart >= constants.POST_LEAST_M * s.metre) & (
            apart <= constants.POST_MOST_M * s.metre
        )
        result[upright[ends[post.any(axis=1)]]] = True
        result[upright[starts[post.any(axis=0)]]] = True
    return result


_HARDLY = 1.0 - constants.AREA_BEHIND
"""Share of an upright's height along which no area lies to speak of."""


def _along_area(area: BaseGeometry, lines: Floats, way: int, s: Structure) -> Floats:
    """The share of some uprights along which an area lies to their left (-1) or right (1), both
    close by and some way off."""
    shares = []
    for off in (2.0 * s.gap, constants.AREA_BESIDE_M * s.metre):
        moved = lines + np.array([way * off, 0.0, way * off, 0.0])
        inside = shapely.intersection(shapely.linestrings(moved.reshape(-1, 2, 2)), area)
        shares.append(shapely.length(inside) / (lines[:, 3] - lines[:, 1]))
    return np.asarray(np.minimum(*shares))


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
