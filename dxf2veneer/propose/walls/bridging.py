"""Corners that a cap interrupts: what is drawn of them under it and over it is one upright.

  |
+-+-----     The cap stands out past the corner: its end, a short upright, begins where the lower
+-+-----     piece ends and ends where the upper one begins, and hides what is between.
  |
"""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.lines.runs import Runs


def bridged(segments: Floats, runs: Runs, *, metre: float) -> Floats:
    """The segments; two pieces of a corner between which the end of a cap lies as one.

    Args:
        segments: lines of an elevation, shape (n, 4).
        runs: the same lines joined.
        metre: drawing units in a metre.

    Returns:
        The segments.
    """
    least, most = (high * metre for high in constants.TRIM_M)
    gap = runs.gap
    uprights, length = runs.lines[runs.upright], runs.length[runs.upright]
    ends = uprights[(length >= least - gap) & (length <= most + gap)]
    tall = uprights[length >= constants.BRIDGED_LEAST_M * metre]
    order = np.argsort(tall[:, 3], kind="stable")
    tall = tall[order]
    added = []
    for x, low, _, high in ends.tolist():
        first, last = np.searchsorted(tall[:, 3], (low - 2.0 * gap, low + 2.0 * gap))
        under = tall[first:last]
        away = np.abs(under[:, 0] - x)
        near = (away >= 1.5 * gap) & (away <= constants.MOULDING_PAST_M * metre)
        near &= under[:, 3] - under[:, 1] < constants.CORNER_LEAST_M * metre
        for place, top in under[near][:, [0, 3]].tolist():
            over = tall[np.abs(tall[:, 1] - high) <= 2.0 * gap]
            over = over[np.abs(over[:, 0] - place) <= gap]
            added += [(place, top, float(o[0]), float(o[1])) for o in over[:1]]
    kept = segments.copy()
    for x, top, place, foot in added:
        one, two = _ending(kept, (x, top), gap), _ending(kept, (place, foot), gap)
        if len(one) and len(two):
            low, high = np.sort(kept[one[0], [1, 3]]), np.sort(kept[two[0], [1, 3]])
            kept[one[0]] = x, low[0], x, high[1]
            kept = np.delete(kept, two[0], axis=0)
    return kept


def _ending(segments: Floats, at: tuple[float, float], gap: float) -> Ints:
    """The upright segments that end at a place."""
    upright = np.abs(segments[:, 0] - segments[:, 2]) <= gap / 4.0
    ends = np.abs(segments.reshape(-1, 2, 2) - at).max(axis=2).min(axis=1) <= 2.0 * gap
    return np.flatnonzero(upright & ends)
