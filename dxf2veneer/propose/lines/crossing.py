"""Lines that run through what others draw: rails before a door, a line across a window."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.lines.runs import Runs


def run_through(runs: Runs, *, beyond: float) -> NDArray[np.bool_]:
    """Which segments cross others right through, more of them than cross those.

    Args:
        runs: the segments joined.
        beyond: lines cross where both run on so far on both sides, in drawing units: farther than
            corners are overdrawn.

    Returns:
        One truth value for each segment.
    """
    segments, lines = runs.segments, runs.drawn.geometries
    across, up = (np.flatnonzero(way[runs.member]) for way in (runs.level, runs.upright))
    low = np.minimum(segments[:, :2], segments[:, 2:])
    high = np.maximum(segments[:, :2], segments[:, 2:])
    count = np.zeros(len(segments), dtype=np.int64)
    if not len(across) or not len(up):
        return count > 0
    one, two = shapely.STRtree(lines[up]).query(lines[across], predicate="intersects")
    one, two = across[one], up[two]
    through = (low[two, 1] < low[one, 1] - beyond) & (high[two, 1] > high[one, 1] + beyond)
    through &= (low[one, 0] < low[two, 0] - beyond) & (high[one, 0] > high[two, 0] + beyond)
    one, two = one[through], two[through]
    np.add.at(count, one, 1)
    np.add.at(count, two, 1)
    others = np.zeros(len(segments))
    np.add.at(others, one, count[two])
    np.add.at(others, two, count[one])
    return (count >= 2) & (count * count > others)
