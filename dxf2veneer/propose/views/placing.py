"""Which title belongs to which group, by where they stand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dxf2veneer.propose.constants import TITLE_ABOVE, TITLE_REACH, VIEW_LETTERS
from dxf2veneer.propose.scene import Box, Floats
from dxf2veneer.propose.views.titles import Title


def titled(boxes: Sequence[Box], titles: Sequence[Title]) -> dict[int, int]:
    """Match titles to boxes, each at most once, the closest pairs first.

    A title stands under its view, less often over it; beside the middle rather than beside an end.

    Args:
        boxes: of the groups.
        titles: titles of views.
    Returns:
        Number of the group -> number of its title.
    """
    if not titles or not boxes:
        return {}
    costs = _costs(np.array(boxes, float), titles)
    fits = np.argwhere(costs < np.inf)
    order = np.lexsort((fits[:, 0], fits[:, 1], costs[tuple(fits.T)]))
    found: dict[int, int] = {}
    used: set[int] = set()
    for t, g in fits[order].tolist():
        if g not in found and t not in used:
            found[g] = t
            used.add(t)
    return found


def _costs(boxes: Floats, titles: Sequence[Title]) -> Floats:
    """How badly each title (row) fits each box (column), in drawing units; infinite where it does
    not at all."""
    x0, y0, x1, y1 = boxes.T
    tx0, ty0, tx1, ty1 = np.array([t.box for t in titles]).T[:, :, None]
    letters = np.array([t.height for t in titles])[:, None]
    wide, high = x1 - x0, y1 - y0
    across = np.maximum(x0, tx0) - np.minimum(x1, tx1)
    reach = TITLE_REACH * np.maximum(letters, 0.05 * high)
    middle = np.abs((x0 + x1) / 2 - (tx0 + tx1) / 2)
    below, above = y0 - ty1, ty0 - y1
    under, over = below >= -letters, (below < -letters) & (above >= -letters)
    inner = np.minimum(ty0 - y0, y1 - ty1)
    far = np.where(under, np.maximum(below, 0.0), np.where(over, np.maximum(above, 0.0), inner))
    low = np.where(high < 2.0 * VIEW_LETTERS * letters, 4.0 * letters, 0.0)
    cost = far + low + 0.1 * np.minimum(middle, wide / 2) + np.maximum(across, 0.0)
    cost *= np.where(over, TITLE_ABOVE, 1.0)
    little = (wide * high < 1e-4 * (wide * high).max()) | (high < VIEW_LETTERS * letters)
    cost[little | (across > reach / 2) | (far > reach * 1.5)] = np.inf
    return np.asarray(cost)
