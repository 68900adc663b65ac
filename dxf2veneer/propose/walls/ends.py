"""What the ends of runs lie on: loose ends, ends held by a corner, lines under lines."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs

Flags = NDArray[np.bool_]


def loose_ends(runs: Runs, among: Flags | None = None) -> Flags:
    """For each run whether its first and its last end lies on no other run, and on no outline of
    what was left out: a course that ends at a door's jamb.

    Args:
        runs: the runs.
        among: which others count, one flag for each run; None for all.

    Returns:
        Flags, shape (r, 2).
    """
    end, other = runs.meetings
    result = np.ones(2 * len(runs.lines), bool)
    result[end if among is None else end[among[other]]] = False
    result[runs.at_left_out] = False
    return result.reshape(-1, 2)


def lowest_free_ends(runs: Runs, gap: float, metre: float) -> Flags:
    """For each run whether its first and its last end is free.

    An end is free that lies on no other run. So is that of a line with none lower under it at which
    nothing but uprights rises: a fence that begins where the ground ends.

    Args:
        runs: the runs.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Flags, shape (r, 2).
    """
    result = loose_ends(runs)
    long = ~runs.upright & (runs.length >= constants.EAVES_LEAST_M * metre)
    others = runs.lines[long].copy()
    others[:, [1, 3]] += constants.GROUND_DOUBLE_M * metre
    rising = _rising_ends(runs, metre)
    for r in np.flatnonzero(long & ~result.any(axis=1) & rising.any(axis=1)).tolist():
        if not lies_over(runs.lines[r], others, gap):
            result[r] = rising[r]
    return result


def _rising_ends(runs: Runs, metre: float) -> Flags:
    """For each run whether its first and its last end lies on no other run but low uprights that
    rise from it, shape (r, 2)."""
    result = np.ones(2 * len(runs.lines), bool)
    end, other = runs.meetings
    foot = runs.lines.reshape(-1, 2)[end, 1]
    rises = runs.upright[other] & (runs.lines[other, 1] >= foot - 2.0 * runs.gap)
    rises &= runs.length[other] <= constants.FENCE_MOST_M * metre
    result[end[~rises]] = False
    return result.reshape(-1, 2)


def held_ends(runs: Runs, metre: float) -> Flags:
    """For each run whether its first and its last end lies on another upright that runs on down: a
    corner, no overhang.

    Args:
        runs: the runs.
        metre: drawing units in a metre.

    Returns:
        Flags, shape (r, 2).
    """
    result = np.zeros(2 * len(runs.lines), bool)
    end, other = runs.meetings
    height = runs.lines.reshape(-1, 2)[end, 1]
    down = runs.upright[other] & (runs.lines[other, 1] < height - constants.BAND_MOST_M * metre)
    result[end[down]] = True
    return result.reshape(-1, 2)


def raked_ends(runs: Runs, metre: float) -> Flags:
    """For each run whether its first and its last end lies on a sloped run: the rake of a gable
    that stands before it.

    Args:
        runs: the runs.
        metre: drawing units in a metre.

    Returns:
        Flags, shape (r, 2).
    """
    long = runs.length >= constants.SLOPE_LEAST_M * metre
    return ~loose_ends(runs, among=~runs.level & ~runs.upright & long)


def returned_past(runs: Runs, level: Ints, x: Floats, metre: float) -> Flags:
    """Which level runs that cross uprights end right past these on a return, as string courses do.

        |      |
    +---|------|---+      the corners of the building, or of one storey of it
    +---|------|---+

    Args:
        runs: the runs.
        level: numbers of level runs.
        x: where each of them crosses an upright.
        metre: drawing units in a metre.

    Returns:
        One flag for each crossing: no corner with more than a low upright lies at the run's end.
    """
    low = runs.upright & (runs.length <= constants.BAND_MOST_M * metre)
    returned = ~loose_ends(runs, among=low) & loose_ends(runs, among=~low)
    past = np.abs(runs.lines[level][:, [0, 2]] - x[:, None])
    past[~returned[level]] = np.inf
    return np.asarray(past.min(axis=1, initial=np.inf) <= constants.MOULDING_PAST_M * metre)


def lies_over(line: Floats, others: Floats, gap: float) -> bool:
    """Whether another line runs lower under half of a line or more.

    Args:
        line: x0, y0, x1, y1 from left to right.
        others: lines, shape (n, 4).
        gap: how much lower a line lies at least, half of it, in drawing units.

    Returns:
        True where one does.
    """
    shared = np.minimum(others[:, 2], line[2]) - np.maximum(others[:, 0], line[0])
    lower = others[:, [1, 3]].mean(axis=1) < line[[1, 3]].mean() - 2.0 * gap
    return bool((lower & (shared >= 0.5 * (line[2] - line[0]))).any())


def share_drawn(lines: Floats, y: float, x0: float, x1: float, gap: float) -> float:
    """The share of a stretch along which level lines run at a height.

    Args:
        lines: level lines from left to right, shape (n, 4).
        y: the height.
        x0: where the stretch begins.
        x1: where it ends.
        gap: a line runs at the height this near to it, in drawing units.

    Returns:
        A share of 1.
    """
    near = lines[np.abs(lines[:, 1] - y) <= gap]
    ends = np.clip(near[:, [0, 2]], x0, x1)
    drawn = shapely.union_all(shapely.box(ends[:, 0], 0.0, ends[:, 1] + gap, 1.0))
    return float(drawn.area / (x1 - x0))


def touching(lines: Polygons, points: Floats, gap: float) -> list[Ints]:
    """Which points lie on each of some lines.

    Args:
        lines: linestrings.
        points: shape (n, 2).
        gap: a point lies on a line this near to it, in drawing units.

    Returns:
        Numbers of points, one array for each line.
    """
    line, point = shapely.STRtree(shapely.points(points)).query(
        lines, predicate="dwithin", distance=gap
    )
    return [point[line == k] for k in range(len(lines))]
