"""Irregular stones: short sloped lines that branch, or go round a stone each.

 __   __/-._          three joints meet at most ends of joints; where every stone was drawn for
/  `-'  |   `-        itself its outline is no larger than a stone. Trees, bushes and people are
 `-. __/`.__/         outlines that don't branch and are larger, the grain of render is smaller
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.views.cells import components


def joints_of_rubble(lines: Floats, *, gap: float, metre: float) -> NDArray[np.bool_]:
    """Which of some short sloped lines are joints of irregular stones.

    Args:
        lines: shape (n, 4), in drawing units.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each.
    """
    if not len(lines):
        return np.zeros(0, bool)
    ends = np.rint(lines.reshape(-1, 2) / (2.0 * gap)).astype(np.int64)
    node = np.unique(ends, axis=0, return_inverse=True)[1].reshape(-1, 2)
    count = int(node.max()) + 1
    web = components(count, node)
    many = np.bincount(node.ravel(), minlength=count)
    nodes, forks = np.bincount(web, minlength=count), np.bincount(web, many > 2, count)
    low, high = np.full((count, 2), np.inf), np.full((count, 2), -np.inf)
    for k in (0, 1):
        np.minimum.at(low, web[node[:, k]], lines[:, 2 * k : 2 * k + 2])
        np.maximum.at(high, web[node[:, k]], lines[:, 2 * k : 2 * k + 2])
    size = (high - low).max(axis=1) / metre
    single = (size >= constants.STONE_LEAST_M) & (size <= constants.STONE_WIDEST_M)
    stones = (forks >= constants.RUBBLE_FORKS * nodes) | single
    return np.asarray(stones[web[node[:, 0]]])
