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
    """The segments; two pieces of a corner between which the end of a cap lies joined, else the
    walls on both sides of the corner are one through the cap.

    Args:
        segments: lines of an elevation, shape (n, 4).
        runs: the same lines joined.
        metre: drawing units in a metre.

    Returns:
        The segments: a piece lower than a corner becomes one with what it carries, others get what
        is hidden between them, added last.
    """
    kept = segments
    hidden = []
    for x, top, place, foot, low in _hidden(runs, metre):
        if not low:
            hidden.append((x, top, place, foot))
            continue
        one, two = (_ending(kept, at, runs.gap) for at in ((x, top), (place, foot)))
        if len(one) and len(two):
            bottom, head = kept[one[0], [1, 3]].min(), kept[two[0], [1, 3]].max()
            kept = np.vstack([np.delete(kept, [one[0], two[0]], axis=0), [x, bottom, x, head]])
    return np.vstack([kept, np.array(hidden).reshape(-1, 4)])


def _hidden(runs: Runs, metre: float) -> list[tuple[float, float, float, float, bool]]:
    """What caps hide of corners, from the top of the lower piece to the foot of the upper one, and
    whether the lower piece is lower than a corner."""
    least, most = (high * metre for high in constants.TRIM_M)
    gap = runs.gap
    uprights, length = runs.lines[runs.upright], runs.length[runs.upright]
    ends = uprights[(length >= least - gap) & (length <= most + gap)]
    tall = uprights[length >= constants.BRIDGED_LEAST_M * metre]
    tall = tall[np.argsort(tall[:, 3], kind="stable")]
    found = []
    for x, low, _, high in ends.tolist():
        first, last = np.searchsorted(tall[:, 3], (low - 2.0 * gap, low + 2.0 * gap))
        under = tall[first:last]
        away = np.abs(under[:, 0] - x)
        near = (away >= 1.5 * gap) & (away <= constants.MOULDING_PAST_M * metre)
        for place, foot, _, top in under[near].tolist():
            over = tall[np.abs(tall[:, 1] - high) <= 2.0 * gap]
            over = over[np.abs(over[:, 0] - place) <= gap]
            is_low = top - foot < constants.CORNER_LEAST_M * metre
            found += [(place, top, float(o[0]), float(o[1]), is_low) for o in over[:1]]
    return found


def _ending(segments: Floats, at: tuple[float, float], gap: float) -> Ints:
    """The upright segments that end at a place."""
    upright = np.abs(segments[:, 0] - segments[:, 2]) <= gap / 4.0
    ends = np.abs(segments.reshape(-1, 2, 2) - at).max(axis=2).min(axis=1) <= 2.0 * gap
    return np.flatnonzero(upright & ends)
