"""How much of an outline lines draw."""

from __future__ import annotations

import numpy as np
import shapely

from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs


def drawn_along(outlines: Polygons, runs: Runs) -> tuple[Ints, Ints, Floats]:
    """The lengths of segments that run along the edges of outlines.

    Args:
        outlines: polygons; only their outer borders count.
        runs: the segments joined; one runs along an edge where it lies as near as ends that meet.

    Returns:
        The outline, the segment and the length that lies along one of its edges, for each pair of
        an edge and a segment near it.
    """
    points, ring = shapely.get_coordinates(shapely.get_exterior_ring(outlines), return_index=True)
    follows = ring[1:] == ring[:-1]
    start, end, whose = points[:-1][follows], points[1:][follows], ring[:-1][follows]
    segments, gap = runs.segments, runs.gap
    low, high = np.minimum(start, end) - gap, np.maximum(start, end) + gap
    edge, line = runs.drawn.query(shapely.box(*low.T, *high.T))
    run = end[edge] - start[edge]
    size = np.maximum(np.hypot(*run.T), 1e-300)
    way = run / size[:, None]
    ends = [segments[line, k : k + 2] - start[edge] for k in (0, 2)]
    along = np.stack([np.einsum("ij,ij->i", way, e) for e in ends])
    aside = np.stack([way[:, 0] * e[:, 1] - way[:, 1] * e[:, 0] for e in ends])
    first, last = np.zeros(len(edge)), np.ones(len(edge))
    with np.errstate(divide="ignore", invalid="ignore"):
        for place, low, high in ((along, 0.0, size), (aside, -gap, gap)):
            change = place[1] - place[0]
            one, two = (low - place[0]) / change, (high - place[0]) / change
            first = np.where(change == 0.0, first, np.maximum(first, np.minimum(one, two)))
            last = np.where(change == 0.0, last, np.minimum(last, np.maximum(one, two)))
            outside = (change == 0.0) & ((place[0] < low) | (place[0] > high))
            last = np.where(outside, -1.0, last)
    length = np.hypot(*(ends[1] - ends[0]).T)
    return whose[edge], line, np.maximum(last - first, 0.0) * length
