"""Pairs of leaves: openings side by side that share a jamb are one opening.

+-----+-----+
|     |     |     of one width, between one foot and one head: nothing is left between them that
|     |     |     could be wall
+-----+-----+
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose.proposal import Reason


class Chosen(NamedTuple):
    """A candidate that is taken for an opening."""

    polygon: Polygon
    confidence: float
    reason: Reason


def with_other_leaves(chosen: Sequence[Chosen], *, gap: float) -> list[Chosen]:
    """Openings, leaves that share a jamb made one.

    Args:
        chosen: openings that don't overlap.
        gap: lines this near to each other are one, in drawing units.

    Returns:
        Openings by falling area, each as sure as the surest of its leaves.
    """
    boxes = shapely.bounds([c.polygon for c in chosen]).reshape(-1, 4)
    rows: list[list[int]] = []
    for i in np.lexsort((boxes[:, 0], boxes[:, 1])).tolist():
        row = next((r for r in rows if _continues(boxes[r[-1]], boxes[i], gap)), None)
        if row is None:
            rows.append([i])
        else:
            row.append(i)
    made = [_together([chosen[i] for i in row]) for row in rows]
    return sorted(made, key=lambda c: -c.polygon.area)


def _continues(left: Sequence[float], right: Sequence[float], gap: float) -> bool:
    """Whether one box goes on beside another, as wide, between the same foot and head."""
    wide = (left[2] - left[0]) - (right[2] - right[0])
    off = right[0] - left[2], left[1] - right[1], left[3] - right[3], wide
    return all(abs(v) <= gap for v in off)


def _together(leaves: Sequence[Chosen]) -> Chosen:
    """Leaves in one outline; a single one is itself."""
    if len(leaves) == 1:
        return leaves[0]
    surest = max(leaves, key=lambda c: c.confidence)
    return surest._replace(polygon=_box_round(c.polygon for c in leaves))


def _box_round(shapes: Iterable[Polygon]) -> Polygon:
    x0, y0, x1, y1 = shapely.total_bounds(list(shapes)).tolist()
    return shapely.normalize(shapely.box(x0, y0, x1, y1))
