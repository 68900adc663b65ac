"""Steps in the ground: where one half of it is known, so is the other.

            |      |            a riser joins the end of one piece of ground to the end of the
   ---------+--.   |            other, which goes on past the building; what goes on from the upper
            |  |   |            one over the lower one is a course or a threshold, no ground
               '---+------
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs

Flags = NDArray[np.bool_]


def both_halves(segments: Floats, runs: Runs, ground: Flags, *, gap: float, metre: float) -> Flags:
    """The ground with the other half of each step, and without what goes on over the lower half.

    Args:
        segments: lines of the elevation, shape (n, 4).
        runs: the same lines joined.
        ground: which segments are known to be ground.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each segment.
    """
    result = ground.copy()
    tall = runs.upright & (runs.length > constants.FENCE_MOST_M * metre)
    if not ground.any() or not tall.any():
        return result
    beyond = constants.GROUND_BEYOND_M * metre
    sides = (runs.lines[tall, 0].min() - beyond, runs.lines[tall, 0].max() + beyond)
    low, high = (constants.STEP_M[0] * metre, constants.STEP_M[1] * metre)
    upright = runs.upright & (runs.length >= low) & (runs.length <= high)
    flat = ~runs.upright[runs.member]
    for riser in np.flatnonzero(upright).tolist():
        x, y0, _, y1 = runs.lines[riser].tolist()
        for way in (-1, 1):  # the side on which the lower half lies
            lower = _outward(segments, flat, (x, y0), way, sides, gap)
            upper = _outward(segments, flat, (x, y1), -way, sides, gap)
            if not lower.any() or not upper.any() or not (ground & (lower | upper)).any():
                continue
            result |= lower | upper | (runs.member == riser)
            result[_over(segments, runs, flat, (x, y0, y1), way, gap, metre)] = False
    return result


def _outward(
    segments: Floats,
    flat: Flags,
    at: tuple[float, float],
    way: int,
    sides: tuple[float, float],
    gap: float,
) -> Flags:
    """The pieces of a line that begins at a point and runs to one side, past the building; none
    where it doesn't."""
    result = np.zeros(len(segments), bool)
    flip = segments[:, 0] * way > segments[:, 2] * way
    ends = np.where(flip[:, None], segments[:, [2, 3, 0, 1]], segments)
    point = np.array(at)
    while True:
        near = flat & ~result & (np.abs(ends[:, :2] - point).max(axis=1) <= 2.0 * gap)
        if not near.any():
            break
        result |= near
        farthest = np.flatnonzero(near)[np.argmax(ends[near, 2] * way)]
        point = ends[farthest, 2:]
    past = point[0] <= sides[0] if way < 0 else point[0] >= sides[1]
    return result if past else np.zeros(len(segments), bool)


def _over(
    segments: Floats,
    runs: Runs,
    flat: Flags,
    riser: tuple[float, float, float],
    way: int,
    gap: float,
    metre: float,
) -> Flags:
    """The pieces over the lower half of what runs on from the upper one."""
    x, y0, y1 = riser
    most = y1 + constants.GROUND_DOUBLE_M * metre
    height = segments[:, [1, 3]].mean(axis=1)
    between = flat & (height > y0 + 2.0 * gap) & (height <= most)
    inner = (segments[:, [0, 2]] * way).min(axis=1) >= x * way - 2.0 * gap
    through = (runs.lines[:, 0] < x - 2.0 * gap) & (runs.lines[:, 2] > x + 2.0 * gap)
    return np.asarray(between & inner & through[runs.member])
