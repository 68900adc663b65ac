"""Questions about boxes (x0, y0, x1, y1)."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from dxf2veneer.propose.scene import Box, Floats, Integers, Mask, Scene

_CELLS = 1024
"""Most cells across a grid on which boxes are compared."""


def contains(outer: Box, inner: Box) -> bool:
    """Whether a box lies in another, sides that touch included.

    Args:
        outer: the one that may hold.
        inner: the one that may lie in it.

    Returns:
        True where no side of the inner box lies beyond one of the outer.
    """
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )


def inside(box: Box, point: tuple[float, float]) -> bool:
    """Whether a point lies in a box.

    Args:
        box: x0, y0, x1, y1.
        point: x and y.

    Returns:
        True on the border too.
    """
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def gaps(one: Box, two: Box) -> tuple[float, float]:
    """How far two boxes are apart across and upwards; negative by how far they overlap.

    Args:
        one, two: the boxes.

    Returns:
        The gap along x and along y, in drawing units.
    """
    across = max(one[0], two[0]) - min(one[2], two[2])
    up = max(one[1], two[1]) - min(one[3], two[3])
    return across, up


def distance(one: Box, two: Box) -> float:
    """The distance of two boxes; 0 where they touch or overlap.

    Args:
        one, two: the boxes.

    Returns:
        Shortest distance, in drawing units.
    """
    across, up = gaps(one, two)
    return float((max(across, 0.0) ** 2 + max(up, 0.0) ** 2) ** 0.5)


def distances(boxes: Floats, box: Box) -> Floats:
    """The distances of boxes to one.

    Args:
        boxes: rows x0, y0, x1, y1.
        box: the one.

    Returns:
        One for each row; 0 where they touch or overlap.
    """
    across = np.maximum(boxes[:, 0], box[0]) - np.minimum(boxes[:, 2], box[2])
    up = np.maximum(boxes[:, 1], box[1]) - np.minimum(boxes[:, 3], box[3])
    return np.asarray(np.sqrt(np.maximum(across, 0.0) ** 2 + np.maximum(up, 0.0) ** 2))


def boxes_of_segments(segments: Floats) -> Floats:
    """The box of each segment.

    Args:
        segments: rows x0, y0, x1, y1.

    Returns:
        Rows of least x, least y, greatest x, greatest y.
    """
    x0, y0, x1, y1 = segments.T
    least, most = (np.minimum(x0, x1), np.minimum(y0, y1)), (np.maximum(x0, x1), np.maximum(y0, y1))
    return np.array([*least, *most]).T


def segments_near(scene: Scene, rooms: Floats) -> Integers:
    """The segments of a scene that may touch one of some boxes; see ``may_touch``.

    Args:
        scene: the scene.
        rooms: rows x0, y0, x1, y1, one or more.

    Returns:
        Their numbers in order.
    """
    near = np.flatnonzero(may_touch(scene.boxes, rooms)[scene.owner])
    return near[may_touch(boxes_of_segments(scene.segments[near]), rooms)]


def may_touch(boxes: Floats, others: Floats) -> Mask:
    """Which of many boxes may touch one of others.

    It is told on a grid: none that touches is missed, some that only lie near count too.

    Args:
        boxes: rows x0, y0, x1, y1.
        others: rows x0, y0, x1, y1, one or more.

    Returns:
        For each of the boxes whether it may.
    """
    low, high = others[:, :2].min(0), others[:, 2:].max(0)
    x0, y0, x1, y1 = boxes.T
    near = np.flatnonzero((x0 <= high[0]) & (y0 <= high[1]) & (x1 >= low[0]) & (y1 >= low[1]))
    count = min(2 + math.isqrt(len(near)), _CELLS)
    cell = max(float((high - low).max()) / (count - 1), 1e-300)

    def cells(boxes: Floats) -> list[Integers]:
        """The first column and row of cells of each box, and those after its last."""
        at = [(column - low[n % 2]) / cell for n, column in enumerate(boxes.T)]
        return [np.clip(c, 0, count - 1).astype(np.int64) + n // 2 for n, c in enumerate(at)]

    changes = np.zeros((count + 1, count + 1), np.int64)
    i0, j0, i1, j1 = cells(others)
    for i, j, change in ((i0, j0, 1), (i1, j0, -1), (i0, j1, -1), (i1, j1, 1)):
        np.add.at(changes, (i, j), change)
    marked = changes.cumsum(0).cumsum(1)[:-1, :-1] > 0
    sums = np.zeros((count + 1, count + 1), np.int64)
    sums[1:, 1:] = marked.cumsum(0).cumsum(1)
    i0, j0, i1, j1 = cells(boxes[near])
    result = np.zeros(len(boxes), bool)
    result[near] = sums[i1, j1] - sums[i0, j1] - sums[i1, j0] + sums[i0, j0] > 0
    return result


def area(box: Box) -> float:
    """Area of a box.

    Args:
        box: x0, y0, x1, y1.

    Returns:
        In square drawing units; 0 for a box turned inside out.
    """
    return max(0.0, box[2] - box[0]) * max(0.0, box[3] - box[1])


def shared(one: Box, two: Box) -> float:
    """Area that two boxes share.

    Args:
        one, two: the boxes.

    Returns:
        In square drawing units; 0 where they only touch.
    """
    across, up = gaps(one, two)
    return across * up if across < 0.0 and up < 0.0 else 0.0


def around(boxes: Iterable[Box]) -> Box:
    """The box round boxes, of which there is at least one.

    Args:
        boxes: one or more.

    Returns:
        The least box that contains them all.
    """
    listed = list(boxes)
    return (
        min(b[0] for b in listed),
        min(b[1] for b in listed),
        max(b[2] for b in listed),
        max(b[3] for b in listed),
    )


def grown(box: Box, by: float) -> Box:
    """A box with a margin.

    Args:
        box: x0, y0, x1, y1.
        by: width of the margin, in drawing units.

    Returns:
        The larger box.
    """
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def middle(box: Box) -> tuple[float, float]:
    """The middle of a box.

    Args:
        box: x0, y0, x1, y1.

    Returns:
        x and y.
    """
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def short(box: Box) -> float:
    """The shorter side of a box.

    Args:
        box: x0, y0, x1, y1.

    Returns:
        In drawing units.
    """
    return min(box[2] - box[0], box[3] - box[1])


def box_of(segments: Floats) -> Box:
    """The box of segments, of which there is at least one.

    Args:
        segments: rows x0, y0, x1, y1, one or more.

    Returns:
        The least box that contains them all.
    """
    x0, y0, x1, y1 = segments.T
    return (
        float(min(x0.min(), x1.min())),
        float(min(y0.min(), y1.min())),
        float(max(x0.max(), x1.max())),
        float(max(y0.max(), y1.max())),
    )
