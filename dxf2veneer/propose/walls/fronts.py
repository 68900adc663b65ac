"""Fronts of shops and entrances: glass and doors under a head that stands out, in a wall.

 |                  |     The head has free ends as a roof has, and the jambs stand under
 |    ==========    |     it as the corners of a wing do; but hardly anything between them is wall.
 |    |__|____|_|   |
-+----+--+----+-+---+-    The wall around goes on over it.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Polygons
from dxf2veneer.propose.walls.parts import Part
from dxf2veneer.propose.walls.structure import Structure


def joined_fronts(parts: list[Part], s: Structure, openings: Polygons) -> list[Part]:
    """The parts of a facade; fronts within another are part of it, with their heads.

    Args:
        parts: parts of a facade.
        s: the structure of the elevation.
        openings: its openings that have a frame.

    Returns:
        As many parts or fewer.
    """
    if not len(openings):
        return parts
    result = list(parts)
    for part in sorted(parts, key=lambda p: p.polygon.area):
        if not _is_open(part.polygon, openings):
            continue
        head = _head(part.polygon, s)
        front = shapely.union_all([part.polygon, *head])
        others = [p for p in result if p is not part and p.polygon.area > part.polygon.area]
        around = [_along(front, p.polygon, s.gap) for p in others]
        if not others or max(around) < constants.FRONT_AROUND:
            continue
        wall = others[int(np.argmax(around))]
        joined = shapely.union_all([wall.polygon, front.buffer(s.gap, join_style="mitre")])
        joined = joined.intersection(
            shapely.box(*shapely.total_bounds([wall.polygon, part.polygon]))
        )
        largest = max(shapely.get_parts(joined), key=lambda p: p.area)
        result = [p for p in result if p is not part]
        result[result.index(wall)] = wall._replace(polygon=Polygon(largest.exterior))
    return result


def _is_open(polygon: Polygon, openings: Polygons) -> bool:
    """Whether openings fill most of a part."""
    inside = shapely.union_all(shapely.intersection(openings, polygon))
    return bool(inside.area >= constants.FRONT_OPEN * polygon.area)


def _head(polygon: Polygon, s: Structure) -> Polygons:
    """The bands that lie on a part."""
    bands = s.mesh.faces[s.bands]
    low = shapely.bounds(bands)[:, 1] if len(bands) else np.empty(0)
    on = shapely.dwithin(bands, polygon, s.gap) & (np.abs(low - polygon.bounds[3]) <= 2.0 * s.gap)
    return np.asarray(bands[on], dtype=object)


def _along(front: Polygon, wall: Polygon, gap: float) -> float:
    """The share of the edge of a front, its foot left out, that lies along a wall."""
    x0, _, x1, _ = front.bounds
    edge = front.exterior if isinstance(front, Polygon) else front.convex_hull.exterior
    whole = edge.length - (x1 - x0)
    beside = edge.intersection(wall.buffer(2.0 * gap)).length
    return float(beside / max(whole, gap))
