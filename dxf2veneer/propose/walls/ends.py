"""What the ends of runs lie on: loose ends, ends held by a corner, lines under lines."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs

Flags = NDArray[np.bool_]


def loose_ends(runs: Runs, gap: float, among: Ints | None = None) -> Flags:
    """For each run whether its first and its last end lies on no other run.

    Args:
        runs: the runs.
        gap: ends this near to each other meet, in drawing units.
        among: numbers of the others that count, None for all.

    Returns:
        Flags, shape (r, 2).
    """
    among = np.arange(len(runs.lines)) if among is None else among
    tree = shapely.STRtree(shapely.linestrings(runs.lines[among].reshape(-1, 2, 2)))
    result = np.ones((len(runs.lines), 2), bool)
    for k, columns in enumerate((slice(0, 2), slice(2, 4))):
        own, other = tree.query(
            shapely.points(runs.lines[:, columns]), predicate="dwithin", distance=2.0 * gap
        )
        result[own[own != among[other]], k] = False
    return result


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
    result = loose_ends(runs, gap)
    long = ~runs.upright & (runs.length >= constants.EAVES_LEAST_M * metre)
    others = runs.lines[long].copy()
    others[:, [1, 3]] += constants.GROUND_DOUBLE_M * metre
    rising = _rising_ends(runs, gap, metre)
    for r in np.flatnonzero(long & ~result.any(axis=1) & rising.any(axis=1)).tolist():
        if not lies_over(runs.lines[r], others, gap):
            result[r] = rising[r]
    return result


def _rising_ends(runs: Runs, gap: float, metre: float) -> Flags:
    """For each run whether its first and its last end lies on no other run but low uprights that
    rise from it, shape (r, 2)."""
    result = np.ones((len(runs.lines), 2), bool)
    tree = shapely.STRtree(shapely.linestrings(runs.lines.reshape(-1, 2, 2)))
    for k, columns in enumerate((slice(0, 2), slice(2, 4))):
        points = runs.lines[:, columns]
        own, other = tree.query(shapely.points(points), predicate="dwithin", distance=2.0 * gap)
        rises = runs.upright[other] & (runs.lines[other, 1] >= points[own, 1] - 2.0 * gap)
        rises &= runs.length[other] <= constants.FENCE_MOST_M * metre
        result[own[(own != other) & ~rises], k] = False
    return result


def held_ends(runs: Runs, gap: float, metre: float) -> Flags:
    """For each run whether its first and its last end lies on an upright that runs on down: a
    corner, no overhang.

    Args:
        runs: the runs.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Flags, shape (r, 2).
    """
    result = np.zeros((len(runs.lines), 2), bool)
    uprights = runs.lines[runs.upright]
    if not len(uprights):
        return result
    tree = shapely.STRtree(shapely.linestrings(uprights.reshape(-1, 2, 2)))
    for k, columns in enumerate((slice(0, 2), slice(2, 4))):
        own, other = tree.query(
            shapely.points(runs.lines[:, columns]), predicate="dwithin", distance=2.0 * gap
        )
        down = (
            uprights[other, 1] < runs.lines[own][:, columns][:, 1] - constants.BAND_MOST_M * metre
        )
        result[own[down], k] = True
    return result


def raked_ends(runs: Runs, gap: float, metre: float) -> Flags:
    """For each run whether its first and its last end lies on a sloped run: the rake of a gable
    that stands before it.

    Args:
        runs: the runs.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Flags, shape (r, 2).
    """
    long = runs.length >= constants.SLOPE_LEAST_M * metre
    sloped = np.flatnonzero(~runs.level & ~runs.upright & long)
    return ~loose_ends(runs, gap, among=sloped)


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
