"""Roofs seen from the eaves: what lies under a ridge whose sides end over the air.

    .------------------.      The sides of a roof go down from the ends of the ridge and end over
   /|                  |      the air, past the corners, or at the end of a fascia; those of a wall
  /_|__________________|__    go down to the ground, or to the roof that it stands on. A chimney, a
    |                  |      porch, a gable before the roof may hide one end, or what lies between
    |   [w]      [d]   |      it and the wall.
----+------------------+---
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.bands import over_and_under
from dxf2veneer.propose.walls.glazing import glazed
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def under_ridges(s: Structure, corner: Flags, openings: Polygons) -> Flags:
    """Which faces are roofs under ridges.

    Args:
        s: the structure of an elevation.
        corner: for each run whether it bounds a wall.
        openings: openings that are sure; what has them as walls have is none.

    Returns:
        One flag for each face of its mesh.
    """
    count = len(s.mesh.faces)
    result = np.zeros(count, bool)
    over, under, width = over_and_under(s.mesh, s.runs)
    run = s.runs.member[s.mesh.source]
    sky = (over < 0) & (under >= 0)
    free = np.bincount(run[sky], width[sky], len(s.runs.lines))
    long = s.runs.level & (s.runs.length >= constants.RIDGE_LEAST_M * s.metre)
    corners = _band_corners(s)
    ground = shapely.union_all(shapely.linestrings(s.segments[s.ground].reshape(-1, 2, 2)))
    for ridge in np.flatnonzero(long & (free >= 0.5 * s.runs.length)).tolist():
        for room in _rooms(s, ridge, corners, ground):
            inside = shapely.area(shapely.intersection(s.mesh.faces, room))
            within = (inside >= constants.RIDGE_WITHIN * s.mesh.areas) & ~s.bands
            first = under[(run == ridge) & sky]
            own = _reached(s, within, first, corner[run] | s.ground[s.mesh.source])
            whole = shapely.union_all(s.mesh.faces[own])
            if own.any() and not glazed(np.array([whole], dtype=object), openings, s.metre)[0]:
                result |= own
    return result


def _rooms(s: Structure, ridge: int, corners: Polygons, ground: object) -> Iterator[Polygon]:
    """The room under a ridge between its sides, down to the lower end of these, where one ends
    over the air or at a band's end, and neither on the ground or where a corner goes on."""
    x0, y0, x1, y1 = s.runs.lines[ridge].tolist()
    lefts, rights = _sides(s, (x0, y0), -1.0), _sides(s, (x1, y1), 1.0)
    for a, left in lefts:
        for b, right in rights:
            if _stands(s, a, ground) or _stands(s, b, ground):
                continue
            if _hangs(s, a, 1.0, corners) or _hangs(s, b, -1.0, corners):
                low = min(a[1], b[1])
                feet = [_at(end, line, low) for end, line in ((b, right), (a, left))]
                if _over_a_wall(s, feet):
                    yield Polygon([(x0, y0), (x1, y1), *feet]).buffer(2.0 * s.gap)


def _over_a_wall(s: Structure, feet: list[tuple[float, float]]) -> bool:
    """Whether something as high as a wall lies between the feet of a roof's sides and under them;
    where no ground is drawn, walls end over the air, too."""
    (right, y), (left, _) = feet
    x0, low, x1, _ = s.mesh.boxes.T
    under = (x0 < right) & (x1 > left) & (low < y - constants.CORNER_LEAST_M * s.metre)
    return bool(under.any())


def _sides(
    s: Structure, top: tuple[float, float], way: float
) -> list[tuple[tuple[float, float], Floats]]:
    """The lower ends of runs that go down from an end of a ridge, straight or outward to the left
    (-1) or to the right (1), and these runs from head to foot."""
    lines = s.runs.lines[~s.runs.level]
    turned = lines[:, 1] < lines[:, 3]
    lines = np.where(turned[:, None], lines[:, [2, 3, 0, 1]], lines)
    at = np.abs(lines[:, :2] - top).max(axis=1, initial=0.0) <= 2.0 * s.gap
    at &= (lines[:, 2] - lines[:, 0]) * way >= -2.0 * s.gap
    at &= lines[:, 1] - lines[:, 3] > constants.BAND_MOST_M * s.metre
    return [((float(line[2]), float(line[3])), line) for line in lines[at]]


def _at(end: tuple[float, float], line: Floats, y: float) -> tuple[float, float]:
    """The point of a side, drawn on past its foot, at a height."""
    x0, y0, x1, y1 = line.tolist()
    return x1 + (x1 - x0) * (y - y1) / (y1 - y0), y


def _stands(s: Structure, end: tuple[float, float], ground: object) -> bool:
    """Whether the foot of a side is on the ground, or an upright goes on down from there."""
    x, y = end
    lines = s.runs.lines[s.runs.upright]
    on = (np.abs(lines[:, 0] - x) <= 2.0 * s.gap) & (lines[:, 3] >= y - 2.0 * s.gap)
    on &= lines[:, 1] < y - constants.BAND_MOST_M * s.metre
    return bool(on.any() or shapely.dwithin(shapely.Point(end), ground, 2.0 * s.gap))


def _hangs(s: Structure, end: tuple[float, float], inward: float, corners: Polygons) -> bool:
    """Whether the foot of a side is over the air, or at the end of a band."""
    if len(corners) and shapely.distance(corners, shapely.Point(end)).min() <= 2.0 * s.gap:
        return True
    under = shapely.Point(end[0] + inward * 4.0 * s.gap, end[1] - 4.0 * s.gap)
    return not len(shapely.STRtree(s.mesh.faces).query(under, predicate="within"))


def _band_corners(s: Structure) -> Polygons:
    """The corners of the boxes round bands."""
    numbers = np.unique(s.band_of[s.bands])
    boxes = [
        shapely.total_bounds(s.mesh.faces[s.bands & (s.band_of == n)]) for n in numbers.tolist()
    ]
    points = [(box[i], box[k]) for box in boxes for i in (0, 2) for k in (1, 3)]
    return np.asarray(shapely.points(points) if points else np.empty(0, dtype=object))


def _reached(s: Structure, within: Flags, first: NDArray[np.int64], bounds: Flags) -> Flags:
    """Which of some faces hang together with the first ones, across lines that bound no wall."""
    a, b = s.mesh.sides.T
    open_ = (a >= 0) & (b >= 0) & ~bounds & within[a] & within[b]
    whole = components(len(within), np.stack([a[open_], b[open_]], axis=1))
    return np.asarray(within & np.isin(whole, whole[first[within[first]]]))
