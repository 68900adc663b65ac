"""Stones drawn one by one, each with an outline of its own and open joints to its neighbours.

+----+ +--+ +----+     sides of neighbours go side by side, a joint apart, and each side
|    | |  | |    |     ends at both ends where a foot or a head of its stone ends: balusters end in
+----+ +--+ +----+     the middle of a rail, boards are longer
"""

from __future__ import annotations

import numpy as np
import shapely

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.walls.ends import Flags


def outlines_of_stones(runs: Runs, *, gap: float, metre: float) -> Flags:
    """Which runs are sides, feet and heads of stones between open joints.

    Args:
        runs: the lines of a view joined, those in its openings left out.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each run; none where too few stones are drawn so.
    """
    result = np.zeros(len(runs.lines), dtype=bool)
    short = np.flatnonzero(runs.upright & (runs.length <= constants.STONE_HIGHEST_M * metre))
    level = np.flatnonzero(runs.level)
    if len(short) < constants.STONE_JOINTS or not len(level):
        return result
    ends = shapely.STRtree(shapely.points(runs.lines[level].reshape(-1, 2)))
    corners = [
        ends.query(shapely.points(runs.lines[short][:, at]), predicate="dwithin", distance=gap)
        for at in ([0, 1], [2, 3])
    ]
    whole = np.intersect1d(corners[0][0], corners[1][0])
    lines = runs.lines[short]
    tree = shapely.STRtree(shapely.linestrings(lines[whole].reshape(-1, 2, 2)))
    one, two = tree.query(
        shapely.linestrings(lines[whole].reshape(-1, 2, 2)),
        predicate="dwithin",
        distance=constants.JOINT_MOST_M * metre,
    )
    a, b = lines[whole[one]], lines[whole[two]]
    shared = np.minimum(a[:, 3], b[:, 3]) - np.maximum(a[:, 1], b[:, 1])
    least = np.minimum(a[:, 3] - a[:, 1], b[:, 3] - b[:, 1])
    beside = (np.abs(a[:, 0] - b[:, 0]) > gap) & (shared >= constants.JOINT_SHARE * least)
    sides = np.unique(whole[one[beside]])
    if len(sides) < constants.STONE_JOINTS:
        return result
    result[short[sides]] = True
    for joint, end in corners:
        result[level[end[np.isin(joint, sides)] // 2]] = True
    return result
