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
    d = np.abs(segments[:, 2:] - segments[:, :2])
    middle = (segments[:, 1] + segments[:, 3]) / 2
    flat = (d[:, 1] <= GROUND_STEEP * d[:, 0]) & (middle <= box[1] + GROUND_LOW * high)
    if not flat.any():
        return None
    steps = np.round((middle[flat] - box[1]) / (0.02 * high)).astype(np.int64)
    left, right = (
        np.minimum(segments[flat, 0], segments[flat, 2]),
        np.maximum(segments[flat, 0], segments[flat, 2]),
    )
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
    d = np.abs(segments[:, 2:] - segments[:, :2])
    low = (d[:, 1] <= GROUND_STEEP * d[:, 0]) & (
        np.maximum(segments[:, 1], segments[:, 3]) <= box[1] + 0.5 * high
    )
    rest = segments[~low]
    if not len(rest) or not low.any():
        return 0.0
    lines = segments[low]
    x0, x1 = float(rest[:, [0, 2]].min()), float(rest[:, [0, 2]].max())
    reach = np.sort(lines[:, [0, 2]], axis=1)
    step = 1e-6 * wide
    left = x0 - reach[reach[:, 0] < x0 - step, 0].min(initial=x0)
    right = reach[reach[:, 1] > x1 + step, 1].max(initial=x1) - x1
    return float((left + right) / wide)


def _covered(left: Floats, right: Floats) -> float:
    """Length that intervals cover together."""
    order = np.argsort(left)
    reached = np.maximum.accumulate(right[order])
    before = np.concatenate(([-np.inf], reached[:-1]))
    return float(np.maximum(0.0, reached - np.maximum(left[order], before)).sum())
