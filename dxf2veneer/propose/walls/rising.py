"""Uprights that rise over the edge of the roof: party walls, chimneys on the face, taller parts.

        _              An upright that has a wall or a roof on both sides low down and the open sky
 ______| |_______      on one side high up bounds what stands before that wall or is higher: a party
|______| |_______|     wall between houses, a chimney, the taller part of a building. A line that
|------| |-------|     runs on across it (a band course, a cornice) does not join what lies on both
|      | |       |     sides.
---------------------
       |  |
      /    \\           A chimney that widens downward goes on below its shoulders.
     |      |
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Ints
from dxf2veneer.propose.walls.edges import stands_on_ground
from dxf2veneer.propose.walls.shoulders import shoulders_of
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def rising_over_roofs(s: Structure, run: Ints) -> Flags:
    """For each run whether it is a side of what rises from the ground over a roof's edge.

    Args:
        s: the structure of an elevation.
        run: for each edge of its mesh the run that it lies on.

    Returns:
        One flag for each run: uprights, and shoulders between two of them.
    """
    result = np.zeros(len(s.runs.lines), bool)
    rising = np.flatnonzero(_into_the_sky(s, run))
    on_ground = stands_on_ground(s, s.runs.lines, rising)
    result[rising[on_ground]] = True
    for over, shoulder, under in shoulders_of(s.runs, gap=s.gap, metre=s.metre):
        if over in rising[~on_ground] and stands_on_ground(s, s.runs.lines, np.array([under]))[0]:
            result[[over, shoulder, under]] = True
    return result


def _into_the_sky(s: Structure, run: Ints) -> Flags:
    """Which runs are uprights with faces on both sides, and over all of these with one."""
    count = len(s.runs.lines)
    low = np.minimum(s.mesh.edges[:, 1], s.mesh.edges[:, 3])
    high = np.maximum(s.mesh.edges[:, 1], s.mesh.edges[:, 3])
    inner = s.runs.upright[run] & (s.mesh.sides >= 0).all(axis=1)
    outer = s.runs.upright[run] & ~inner
    walls_to, sky_from = np.full(count, -np.inf), np.full(count, np.inf)
    np.maximum.at(walls_to, run[inner], high[inner])
    np.minimum.at(sky_from, run[outer], low[outer])
    shared = np.bincount(run[inner], (high - low)[inner], count)
    free = np.bincount(run[outer], (high - low)[outer], count)
    return np.asarray(
        (sky_from >= walls_to - s.gap)
        & (shared >= constants.RISES_SHARED_M * s.metre)
        & (free >= constants.RISES_LEAST_M * s.metre)
    )
