"""Tidying paths: repeated vertices dropped, outlines whose ends meet closed."""

from __future__ import annotations

import math

from shapely.geometry import Polygon

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import ENDS_MEET_IN, FARTHEST_IN, SAME_VERTEX_IN
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.geometry import Path


def tidy(path: Path) -> Path:
    """A path without repeated vertices, straight where an arc rises too little to tell.

    Args:
        path: The path, in inches.

    Returns:
        The path with at least one segment.

    Raises:
        EntityError: Nothing is left, or it reaches beyond what can be measured.
    """
    vertices = path.vertices
    if not all(math.isfinite(v) for vertex in vertices for v in vertex):
        raise EntityError(message("coordinates-not-finite"))
    following = vertices[1:] + (vertices[:1] if path.closed else ())
    lengths = [math.dist(v[:2], n[:2]) for v, n in zip(vertices, following, strict=False)]
    if any(
        max(abs(x), abs(y), abs(b) * long) > FARTHEST_IN
        for (x, y, b), long in zip(vertices, (*lengths, 0.0), strict=False)
    ):
        raise EntityError(message("beyond-measure"))
    kept = [
        (x, y, b if abs(b) * long > SAME_VERTEX_IN else 0.0)
        for (x, y, b), long in zip(vertices, lengths, strict=False)
        if long > SAME_VERTEX_IN
    ]
    if not path.closed:
        kept.extend(vertices[-1:])
    if len(kept) < 2:
        raise EntityError(
            message("no-length") if len(vertices) > 1 else message("fewer-than-two-points")
        )
    return Path(tuple(kept), path.closed)


def polygon_of(path: Path, *, rise_in: float) -> Polygon:
    """What a closed path bounds.

    Args:
        path: The path, in inches.
        rise_in: Greatest distance in inches of a chord from its arc.

    Returns:
        The polygon; empty where there are too few points to bound anything.
    """
    points = path.flatten(rise_in=rise_in)
    return Polygon(points) if len(points) > 2 else Polygon()


def closed_within(path: Path, *, gap_in: float) -> tuple[Path, float] | None:
    """An open path closed where its ends lie within the gap.

    The last vertex is dropped, so that the last segment runs to the first vertex.

    Args:
        path: The path, in inches.
        gap_in: The widest gap that is closed, in inches.

    Returns:
        The closed path and the gap in inches; None where it can't be closed.
    """
    if path.closed or len(path.vertices) < 3:
        return None
    kept = path.vertices[:-1]
    gap = math.dist(path.vertices[0][:2], path.vertices[-1][:2])
    if gap > max(gap_in, ENDS_MEET_IN) or (len(kept) < 3 and not any(b for *_, b in kept)):
        return None
    return Path(kept, closed=True), gap
