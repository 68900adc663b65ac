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
from dxf2veneer.propose.openings.near import Near

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


def courses_in(upright: Near, across: Near) -> Ints:
    """How many joints of courses lie in each box: uprights from one level line from side to side to
    the next, while muntins run on from pane to pane and panels stand clear of both sides.

    Args:
        upright: the upright lines near boxes.
        across: the level lines across boxes.

    Returns:
        One number for each box.
    """
    gap = upright.gap
    ends = across.lines[:, [0, 2]] - across.boxes[:, [0, 2]]
    across = across.some(np.asarray((np.abs(ends) <= 2.0 * gap).all(axis=1)))
    own = upright.some(upright.held)
    x, b = own.lines[:, 0], own.boxes
    tall = own.lines[:, 3] - own.lines[:, 1]
    inner = (x > b[:, 0] + 2.0 * gap) & (x < b[:, 2] - 2.0 * gap)
    own = own.some(inner & (tall <= 0.5 * (b[:, 3] - b[:, 1])) & (tall > 2.0 * gap))
    steps = 4 + int((own.boxes[:, 3] - own.boxes[:, 1]).max(initial=0.0) / gap)

    def key(near: Near, y: Floats) -> Ints:
        row = np.clip(np.rint((y - near.boxes[:, 1]) / gap), 0, steps - 3)
        return near.box * steps + row.astype(np.int64) + 1

    rows = key(across, across.lines[:, 1])
    rows = np.concatenate([rows - 1, rows, rows + 1])
    foot, head = (np.isin(key(own, own.lines[:, k]), rows) for k in (1, 3))
    return own.counted(foot & head)


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
