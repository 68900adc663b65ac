"""The ground line of a view: the long line at its foot on which everything stands."""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose.constants import GROUND_LOW, GROUND_SPAN
from dxf2veneer.propose.scene import Box, Floats


def ground_of(segments: Floats, box: Box) -> tuple[float, float] | None:
    """The ground line of a view.

    Lines of one height are taken together, so that a ground line of several pieces counts whole; a
    sloping one counts at the middle of its height.

    Args:
        segments: the view's rows x0, y0, x1, y1.
        box: the view's box.
    Returns:
        Height of the ground line and how far it runs beyond what stands on it, left and right together,
        as a share of the view's width; None where no line at the foot is long enough.
    """
    wide, high = box[2] - box[0], box[3] - box[1]
    if wide <= 0.0 or high <= 0.0:
        return None
    d = np.abs(segments[:, 2:] - segments[:, :2])
    middle = (segments[:, 1] + segments[:, 3]) / 2
    flat = (d[:, 1] <= 0.25 * d[:, 0]) & (middle <= box[1] + GROUND_LOW * high)
    if not flat.any():
        return None
    steps = np.round((middle[flat] - box[1]) / (0.02 * high)).astype(np.int64)
    left, right = np.minimum(segments[flat, 0], segments[flat, 2]), np.maximum(segments[flat, 0], segments[flat, 2])
    best: tuple[float, float] | None = None
    longest = GROUND_SPAN * wide
    for step in np.unique(steps):
        of = steps == step
        run = _covered(left[of], right[of])
        if run > longest * 1.001:
            longest, best = run, (float(np.average(middle[flat][of], weights=right[of] - left[of])), 0.0)
    if best is None:
        return None
    stands = (d[:, 1] > d[:, 0]) & (np.maximum(segments[:, 1], segments[:, 3]) > best[0] + 0.1 * high)
    if not stands.any():
        return best
    xs = segments[stands][:, [0, 2]]
    return best[0], float(max(0.0, longest - (xs.max() - xs.min())) / wide)


def _covered(left: Floats, right: Floats) -> float:
    """Length that intervals cover together."""
    order = np.argsort(left)
    reached = np.maximum.accumulate(right[order])
    before = np.concatenate(([-np.inf], reached[:-1]))
    return float(np.maximum(0.0, reached - np.maximum(left[order], before)).sum())
