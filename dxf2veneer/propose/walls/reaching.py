"""Long lines that stop a little short of the next one: what a person sees as meeting it.

        //
       //
------//        an eaves that ends beside the rake of a gable before it
     //|
       |        a corner that ends under the rake, though the wall's own edge begins there
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.walls.ends import loose_ends


def lengthened(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Floats:
    """The segments, and one more from each loose end of a long level or upright run, from each top
    at which nothing but the edge of a wall begins, and from each end of a level run at which
    nothing but an upright begins, as the short side of a fascia does, to the sloped run that it
    would meet a little further on.

    Args:
        segments: lines of an elevation, shape (n, 4).
        runs: the same lines joined.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The segments, those that were added last.
    """
    straight = runs.level | runs.upright
    long = straight & (runs.length >= constants.EAVES_LEAST_M * metre)
    loose = loose_ends(runs) & long[:, None]
    loose[:, 1] |= runs.upright & long & _tops_of_outlines(runs)
    loose |= (runs.level & long)[:, None] & _at_ends_of_uprights(runs)
    sloped = np.flatnonzero(~straight & (runs.length >= constants.SLOPE_LEAST_M * metre))
    which, side = np.nonzero(loose)
    if not len(which) or not len(sloped):
        return segments
    lines = runs.lines[which]
    end = np.where(side[:, None] == 0, lines[:, :2], lines[:, 2:])
    drawn = segments.reshape(-1, 2)  # where the line itself ends, not the run that evens it out
    end = drawn[shapely.STRtree(shapely.points(drawn)).nearest(shapely.points(end))]
    away = np.where(runs.upright[which][:, None], [[0.0, 1.0]], [[1.0, 0.0]])
    tip = end + away * np.where(side == 0, -1.0, 1.0)[:, None] * constants.REACHES_M * metre
    rays = shapely.linestrings(np.stack([end, tip], axis=1))
    targets = shapely.linestrings(runs.lines[sloped].reshape(-1, 2, 2))
    ray, target = shapely.STRtree(targets).query(rays, predicate="crosses")
    met = shapely.get_coordinates(shapely.intersection(rays[ray], targets[target]))
    far = np.hypot(*(met - end[ray]).T)
    ray, met, far = ray[far > gap], met[far > gap], far[far > gap]
    added = []
    for r in np.unique(ray).tolist():
        nearest = np.flatnonzero(ray == r)[np.argmin(far[ray == r])]
        added.append([*end[r], *met[nearest]])
    return np.vstack([segments, np.array(added).reshape(-1, 4)])


def _at_ends_of_uprights(runs: Runs) -> NDArray[np.bool_]:
    """For each run whether its first and its last end lies on nothing but ends of uprights, shape
    (r, 2)."""
    end, other = runs.meetings
    away = runs.lines[other].reshape(-1, 2, 2) - runs.lines.reshape(-1, 2)[end][:, None, :]
    at_end = (np.abs(away).max(axis=2) <= 2.0 * runs.gap).any(axis=1)
    result = np.zeros(2 * len(runs.lines), bool)
    result[end] = True
    result[end[~(at_end & runs.upright[other])]] = False
    return result.reshape(-1, 2)


def _tops_of_outlines(runs: Runs) -> NDArray[np.bool_]:
    """For each run whether others have no more than an end at its last end, one at least a sloped
    one."""
    own, other = (column[runs.meetings[0] % 2 == 1] for column in runs.meetings)
    own = own // 2
    tops = runs.lines[own, 2:]
    away = np.abs(runs.lines[other].reshape(-1, 2, 2) - tops[:, None, :]).max(axis=2)
    end = (away <= 2.0 * runs.gap).any(axis=1)
    sloped = ~runs.upright[other] & ~runs.level[other]
    passed = np.bincount(own[~end], minlength=len(runs.lines))
    return np.asarray((passed == 0) & (np.bincount(own[sloped], minlength=len(runs.lines)) > 0))


def settled(segments: Floats, runs: Runs, *, metre: float) -> Floats:
    """The segments, a ground that was drawn a little under or over the feet of the building moved
    to them.

        |        |
        |________|
    __________________    a pen's width or an inch of grade between them

    Args:
        segments: lines of an elevation, shape (n, 4).
        runs: the same lines joined.
        metre: drawing units in a metre.

    Returns:
        The segments in the same order.
    """
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre)
    if not tall.any():
        return segments
    x0, y0, x1, y1 = runs.lines.T
    beyond = constants.GROUND_BEYOND_M * metre
    past = runs.level & (x0 <= x0[tall].min() - beyond) & (x1 >= x0[tall].max() + beyond)
    feet = y0[tall]
    result = segments.copy()
    for number in np.flatnonzero(past).tolist():
        away = feet - (y0[number] + y1[number]) / 2.0
        near = feet[np.abs(away) <= constants.SETTLED_M * metre]
        if len(near) < 2 or np.abs(away).min() <= runs.gap:
            continue
        foot = float(np.median(near))
        others = past & (np.arange(len(past)) != number)
        stood_on = (np.abs((y0 + y1) / 2.0 - foot) <= 2.0 * runs.gap) & others
        if (np.abs(near - foot) <= 2.0 * runs.gap).all() and not stood_on.any():
            result[np.ix_(runs.member == number, [1, 3])] += foot - (y0[number] + y1[number]) / 2.0
    return result
