"""The ground line of a view: the long line at its foot on which everything stands."""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose.constants import GROUND_LOW, GROUND_SPAN, GROUND_STEEP
from dxf2veneer.propose.scene import Box, Floats


def ground_of(segments: Floats, box: Box) -> tuple[float | None, float]:
    """The ground line of a view, and how far it runs on past what stands on it.

    Args:
        segments: the view's rows x0, y0, x1, y1.
        box: the view's box.
    Returns:
        Height of the ground line where it is level, or in the middle of what stands on it where it
        slopes; None where no line at the foot is long enough. And the length by which a line at the
        foot alone runs on past everything else, on both sides together, as a share of the width.
    """
    wide, high = box[2] - box[0], box[3] - box[1]
    if wide <= 0.0 or high <= 0.0 or not len(segments):
        return None, 0.0
    return _level(segments, box), _past(segments, box)


def _level(segments: Floats, box: Box) -> float | None:
    """Height of the longest level or sloping line at the foot; pieces of one height count
    together."""
    wide, high = box[2] - box[0], box[3] - box[1]
    x0, y0, x1, y1 = segments.T
    middle = (y0 + y1) / 2
    flat = middle <= box[1] + GROUND_LOW * high
    x0, y0, x1, y1, middle = (column[flat] for column in (x0, y0, x1, y1, middle))
    flat = np.abs(y1 - y0) <= GROUND_STEEP * np.abs(x1 - x0)
    if not flat.any():
        return None
    steps = np.round((middle[flat] - box[1]) / (0.02 * high)).astype(np.int64)
    left, right = np.minimum(x0[flat], x1[flat]), np.maximum(x0[flat], x1[flat])
    best, longest = None, GROUND_SPAN * wide
    for step in np.unique(steps):
        of = steps == step
        run = _covered(left[of], right[of])
        if run > longest * 1.001:
            longest, best = (
                run,
                float(
                    np.average(
                        middle[flat][of], weights=np.maximum(right[of] - left[of], 1e-9 * wide)
                    )
                ),
            )
    return best


def _past(segments: Floats, box: Box) -> float:
    """How much of the width has nothing over it but one line at the foot, at both ends together."""
    wide, high = box[2] - box[0], box[3] - box[1]
    x0, y0, x1, y1 = segments.T
    low = np.abs(y1 - y0) <= GROUND_STEEP * np.abs(x1 - x0)
    low &= np.maximum(y0, y1) <= box[1] + 0.5 * high
    if low.all() or not low.any():
        return 0.0
    first, last = np.minimum(x0, x1), np.maximum(x0, x1)
    start, end = float(first[~low].min()), float(last[~low].max())
    first, last, step = first[low], last[low], 1e-6 * wide
    left = start - first[first < start - step].min(initial=start)
    right = last[last > end + step].max(initial=end) - end
    return float((left + right) / wide)


def _covered(left: Floats, right: Floats) -> float:
    """Length that intervals cover together."""
    order = np.argsort(left)
    reached = np.maximum.accumulate(right[order])
    before = np.concatenate(([-np.inf], reached[:-1]))
    return float(np.maximum(0.0, reached - np.maximum(left[order], before)).sum())
