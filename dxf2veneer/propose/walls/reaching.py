"""Long lines that stop a little short of the next one: what a person sees as meeting it.

        //
       //
------//        an eaves that ends beside the rake of a gable before it
     //|
       |        a corner that ends under the rake
"""

from __future__ import annotations

import numpy as np
import shapely

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.walls.ends import loose_ends


def lengthened(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Floats:
    """The segments, and one more from each loose end of a long level or upright run to the sloped
    run that it would meet a little further on.

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
    sloped = np.flatnonzero(~straight & (runs.length >= constants.SLOPE_LEAST_M * metre))
    which, side = np.nonzero(loose)
    if not len(which) or not len(sloped):
        return segments
    lines = runs.lines[which]
    end = np.where(side[:, None] == 0, lines[:, :2], lines[:, 2:])
    away = (lines[:, 2:] - lines[:, :2]) * np.where(side == 0, -1.0, 1.0)[:, None]
    tip = end + away * (constants.REACHES_M * metre / runs.length[which])[:, None]
    rays = shapely.linestrings(np.stack([end, tip], axis=1))
    targets = shapely.linestrings(runs.lines[sloped].reshape(-1, 2, 2))
    ray, target = shapely.STRtree(targets).query(rays, predicate="crosses")
    met = shapely.get_coordinates(shapely.intersection(rays[ray], targets[target]))
    far = np.hypot(*(met - end[ray]).T)
    added = []
    for r in np.unique(ray).tolist():
        nearest = np.flatnonzero(ray == r)[np.argmin(far[ray == r])]
        added.append([*end[r], *met[nearest]])
    return np.vstack([segments, np.array(added).reshape(-1, 4)])
