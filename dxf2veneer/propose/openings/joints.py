"""Stones drawn one by one, an open joint apart: no outline among them is an opening.

+-----+ +--+ +------+     the nearest lines outside a stone are sides of its neighbours, as far
+-----+ |  | |      |     away as a joint is wide; a window among them has a frame or stands
+---+ +-+  | |      |     free in siding
|   | |    | |      |
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.lines.runs import Runs

_TURNED = [1, 0, 3, 2]
"""Columns of lines and boxes with x and y exchanged."""


def sides_in_joints(boxes: Floats, runs: Runs, *, gap: float, metre: float) -> Ints:
    """On how many of its sides lines of neighbours accompany each box, a joint away.

    Args:
        boxes: left, bottom, right and top of each, shape (c, 4), in drawing units.
        runs: all lines of the view.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        A number from 0 to 4 for each box.
    """
    result = np.zeros(len(boxes), dtype=np.int64)
    size = (boxes[:, 2:] - boxes[:, :2]) / metre
    some = np.flatnonzero(size.min(axis=1) <= constants.STONE_HIGHEST_M)
    if not len(some):
        return result
    most = constants.JOINT_MOST_M * metre
    grown = boxes[some] + (most + gap) * np.array([-1.0, -1.0, 1.0, 1.0])
    box, line = runs.tree.query(shapely.box(*grown.T))
    for along, columns in ((runs.upright, [0, 1, 2, 3]), (runs.level, _TURNED)):
        kept = along[line]
        pairs, lines = box[kept], runs.lines[line[kept]][:, columns]
        around = boxes[some][:, columns]
        result[some] += _accompanied(around, pairs, lines, (gap, most)).sum(axis=1)
    return result


def _accompanied(
    boxes: Floats, pair: Ints, lines: Floats, joint: tuple[float, float]
) -> NDArray[np.bool_]:
    """Whether upright lines beside each box, a joint away, go along most of its left side and of
    its right one, shape (c, 2)."""
    b, x = boxes[pair], lines[:, [0, 2]].mean(axis=1)
    low, high = np.minimum(lines[:, 1], lines[:, 3]), np.maximum(lines[:, 1], lines[:, 3])
    shared = np.clip(np.minimum(high, b[:, 3]) - np.maximum(low, b[:, 1]), 0.0, None)
    tall = boxes[:, 3] - boxes[:, 1]
    result = np.zeros((len(boxes), 2), dtype=bool)
    for k, away in enumerate((b[:, 0] - x, x - b[:, 2])):
        near = (away > joint[0]) & (away <= joint[1])
        along = np.bincount(pair[near], weights=shared[near], minlength=len(boxes))
        result[:, k] = along >= constants.JOINT_SHARE * tall
    return result
