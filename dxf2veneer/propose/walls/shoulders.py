"""Shoulders of chimneys: short slopes from the side of the wide part to the side of the narrow one.

  |   |
 /     \\       both ends of a shoulder are ends of uprights, one over it and one under it
|       |
"""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.lines.runs import Runs


def shoulders_of(runs: Runs, *, gap: float, metre: float) -> list[tuple[int, int, int]]:
    """The shoulders among some runs, with the uprights that they join.

    Args:
        runs: lines of an elevation.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        For each shoulder the numbers of the upright that rises from its upper end, of itself, and
        of the upright under its lower end.
    """
    tall = np.flatnonzero(runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre))
    rise = runs.lines[:, 3] - runs.lines[:, 1]
    short = runs.length < constants.SLOPE_LEAST_M * metre
    sloped = np.flatnonzero(short & ~runs.level & ~runs.upright)
    ends = np.where(
        (rise[sloped] > 0)[:, None], runs.lines[sloped], runs.lines[sloped][:, [2, 3, 0, 1]]
    )
    under = _met(ends[:, :2], runs.lines[tall, 2:], gap)
    over = _met(ends[:, 2:], runs.lines[tall, :2], gap)
    both = (under >= 0) & (over >= 0)
    return [(int(tall[over[k]]), int(sloped[k]), int(tall[under[k]])) for k in np.flatnonzero(both)]


def _met(points: Floats, ends: Floats, gap: float) -> Ints:
    """For each point the number of the end that it lies on, -1 for none."""
    if not len(ends):
        return np.full(len(points), -1, np.int64)
    apart = np.abs(points[:, None, :] - ends[None, :, :]).max(axis=2)
    nearest = apart.argmin(axis=1) if len(points) else np.empty(0, np.int64)
    return np.where(apart.min(axis=1, initial=np.inf) <= 2.0 * gap, nearest, -1)
