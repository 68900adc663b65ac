"""Shutters: leaves that hang on either side of a window, whatever is drawn on them.

+--+ +-----+ +--+
|==| |  |  | |==|     alike, as tall as the window or a casing less, narrower than it: louvres,
+--+ |  |  | +--+     panels and the stones that show through them are no openings, and no
|  | |  |  | |  |     opening lies under them
+--+ +-----+ +--+
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints


def under_shutters(
    boxes: Floats, full: NDArray[np.bool_], windows: Ints, metre: float
) -> NDArray[np.bool_]:
    """Which outlines are shutters or parts of some, or reach under them.

    A shutter hangs beside its window, and so does the wall between the shutters of two windows:
    those of them that are narrowest tell what is a window and what is a wall. What goes round a
    window and its shutters is a frame with three lites.

    Args:
        boxes: boxes of all outlines that are weighed, shape (c, 4).
        full: which of them fill their boxes.
        windows: numbers of those that are taken for openings.
        metre: drawing units in a metre.

    Returns:
        One truth value for each outline.
    """
    inset = constants.JOIN_GAP_M * metre * np.array([1.0, 1.0, -1.0, -1.0])
    result = np.zeros(len(boxes), dtype=bool)
    for window, *pair in _pairs(boxes, full, windows, metre):
        if result[window]:
            continue
        own = boxes[window] + inset
        around = (boxes[:, :2] <= own[:2]).all(axis=1) & (boxes[:, 2:] >= own[2:]).all(axis=1)
        for leaf in boxes[pair] + inset:
            over = (boxes[:, :2] < leaf[2:]).all(axis=1) & (boxes[:, 2:] > leaf[:2]).all(axis=1)
            result |= over & ~around
    return result


def _pairs(
    boxes: Floats, full: NDArray[np.bool_], windows: Ints, metre: float
) -> list[tuple[int, int, int]]:
    """A window, the shutter on its left and the one on its right, the narrowest first."""
    wide = boxes[:, 2] - boxes[:, 0]
    leaves = np.flatnonzero(full & (wide <= constants.SHUTTER_MOST_M * metre))
    left = _beside(boxes, leaves, windows, metre)
    mirrored = boxes[:, [2, 1, 0, 3]] * np.array([-1.0, 1.0, -1.0, 1.0])
    right = _beside(mirrored, leaves, windows, metre)
    gap = constants.JOIN_GAP_M * metre
    found = [
        (window, a, b)
        for window, some in left.items()
        for a in some
        for b in right.get(window, ())
        if abs(wide[a] - wide[b]) <= 2.0 * gap
        and np.abs(boxes[a, [1, 3]] - boxes[b, [1, 3]]).max() <= gap
    ]
    return sorted(found, key=lambda f: (float(wide[f[1]]), f))


def _beside(boxes: Floats, leaves: Ints, windows: Ints, metre: float) -> dict[int, list[int]]:
    """For each window the leaves close on its left that are about as tall and narrower."""
    near, gap = constants.ATTACHED_M * metre, constants.JOIN_GAP_M * metre
    ends = shapely.STRtree(shapely.points(boxes[leaves][:, [2, 1]]))
    x0, y0, _, y1 = boxes[windows].T
    reach = constants.SHUTTER_OFF * (y1 - y0)
    which, leaf = ends.query(shapely.box(x0 - near, y0 - reach, x0 + gap, y0 + reach))
    one, other = boxes[windows[which]], boxes[leaves[leaf]]
    wide, high = ((other[:, 2:] - other[:, :2]) / (one[:, 2:] - one[:, :2])).T
    least, most = constants.SHUTTER_TALL
    fits = (high >= least) & (high <= most) & (wide < constants.SHUTTER_NARROW)
    result: defaultdict[int, list[int]] = defaultdict(list)
    for window, number in zip(
        windows[which[fits]].tolist(), leaves[leaf[fits]].tolist(), strict=True
    ):
        result[window].append(number)
    return result
