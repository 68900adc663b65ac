"""Steps in the ground: where one half of it is known, so is the other.

         |      |            a riser joins the end of one piece of ground to the end of the
---------+--.   |            other, which goes on past the building; what goes on from the upper
         |  |   |            one over the lower one is a course or a threshold, no ground
            '---+------
"""

from __future__ import annotations

from bisect import bisect_left
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.lines.runs import Runs

Flags = NDArray[np.bool_]


def parted_at_steps(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Floats:
    """The lines of an elevation, those that run on over the lower half of a step cut in two there.

    Args:
        segments: lines of the elevation, shape (n, 4).
        runs: the same lines joined.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The lines, shape (m, 4).
    """
    flat = ~runs.upright[runs.member]
    for x, y in _tops_of_risers(segments, runs, flat, gap, metre):
        ends = np.sort(segments[:, [0, 2]], axis=1)
        on = flat & (ends[:, 0] < x - 2.0 * gap) & (ends[:, 1] > x + 2.0 * gap)
        on &= np.abs(segments[:, [1, 3]] - y).max(axis=1) <= 2.0 * gap
        if on.any():
            second = segments[on].copy()
            segments = segments.copy()
            level = segments[on][:, [1, 3]].mean(axis=1)
            segments[on, 2], segments[on, 3] = x, level
            second[:, 0], second[:, 1] = x, level
            segments = np.vstack([segments, second])
            flat = np.concatenate([flat, np.ones(len(second), bool)])
    return segments


def _tops_of_risers(
    segments: Floats, runs: Runs, flat: Flags, gap: float, metre: float
) -> list[tuple[float, float]]:
    """The upper ends of risers from whose foot a line runs past the building."""
    sides = _sides(runs, metre)
    if sides is None:
        return []
    steps = _risers(segments[flat], runs, gap, metre)
    ways = [_followed(segments, flat, way) for way in (-1, 1)]
    return [
        (x, y1)
        for x, y0, _, y1 in runs.lines[steps].tolist()
        if any(len(_outward(pieces, (x, y0), sides, gap)) for pieces in ways)
    ]


def _sides(runs: Runs, metre: float) -> tuple[float, float] | None:
    """How far lines have to run on the left and on the right to be past the building."""
    tall = runs.upright & (runs.length > constants.FENCE_MOST_M * metre)
    beyond = constants.GROUND_BEYOND_M * metre
    if not tall.any():
        return None
    return runs.lines[tall, 0].min() - beyond, runs.lines[tall, 0].max() + beyond


def _risers(flat: Floats, runs: Runs, gap: float, metre: float) -> Ints:
    """Numbers of the uprights as high as a step in the ground, at whose foot one of the lines that
    are not upright ends."""
    low, high = (v * metre for v in constants.STEP_M)
    steps = np.flatnonzero(runs.upright & (runs.length >= low) & (runs.length <= high))
    feet = shapely.points(runs.lines[steps, :2])
    ends = shapely.STRtree(shapely.points(flat.reshape(-1, 2)))
    met: Ints = steps[np.unique(ends.query(feet, predicate="dwithin", distance=3.0 * gap)[0])]
    return met


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
    sides = _sides(runs, metre)
    if not ground.any() or sides is None:
        return result
    flat = ~runs.upright[runs.member]
    ways = [_followed(segments, flat, way) for way in (-1, 1)]
    for riser in _risers(segments[flat], runs, gap, metre).tolist():
        x, y0, _, y1 = runs.lines[riser].tolist()
        for below, above in (ways, ways[::-1]):  # the side on which the lower half lies
            halves = [_outward(below, (x, y0), sides, gap)]
            halves += [_outward(above, (x, y1), sides, gap)] if len(halves[0]) else []
            if not len(halves[-1]) or not ground[np.concatenate(halves)].any():
                continue
            for some in halves:
                result |= _along(segments, runs, some, x, gap)
            result |= runs.member == riser
            result[_over(segments, runs, flat, (x, y0, y1), below.way, gap, metre)] = False
    return result


class _Followed(NamedTuple):
    """Pieces of line as they are followed to one side.

    ``ends``: from where each begins to where it ends, in order of the x at which it begins;
    ``starts``: these; ``number``: the segment that each is; ``way``: -1 to the left, 1 to the
    right.
    """

    ends: list[list[float]]
    starts: list[float]
    number: Ints
    way: int


def _followed(segments: Floats, flat: Flags, way: int) -> _Followed:
    """Some segments as they are followed to one side."""
    number = np.flatnonzero(flat)
    ends = segments[number]
    ends = np.where((ends[:, :1] * way > ends[:, 2:3] * way), ends[:, [2, 3, 0, 1]], ends)
    order = np.argsort(ends[:, 0], kind="stable")
    return _Followed(ends[order].tolist(), ends[order, 0].tolist(), number[order], way)


def _outward(
    pieces: _Followed, at: tuple[float, float], sides: tuple[float, float], gap: float
) -> Ints:
    """The numbers of the pieces of a line that begins at a point and runs to one side, past the
    building; none where it doesn't."""
    ends, (x, y) = pieces.ends, at
    found: dict[int, None] = {}
    while True:
        first = bisect_left(pieces.starts, x - 3.0 * gap)
        last = bisect_left(pieces.starts, x + 3.0 * gap, first)
        near = [
            n
            for n in range(first, last)
            if n not in found
            and abs(ends[n][0] - x) <= 2.0 * gap
            and abs(ends[n][1] - y) <= 2.0 * gap
        ]
        if not near:
            break
        found.update(dict.fromkeys(near))
        x, y = ends[max(near, key=lambda n: ends[n][2] * pieces.way)][2:]
    past = x <= sides[0] if pieces.way < 0 else x >= sides[1]
    return pieces.number[list(found) if past else []]


def _along(segments: Floats, runs: Runs, some: Ints, x: float, gap: float) -> Flags:
    """Pieces of a line that begins at x, with all that was drawn on it, such as a wall's foot."""
    far = segments[some][:, [0, 2]]
    low, high = min(x, far.min()) - gap, max(x, far.max()) + gap
    ends = segments[:, [0, 2]]
    same = np.isin(runs.member, runs.member[some])
    return np.asarray(same & (ends.min(axis=1) >= low) & (ends.max(axis=1) <= high))


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
