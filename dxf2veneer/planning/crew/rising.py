"""Where and when the runs of a job are laid (rule L26): walls that meet at a corner rise together.

 W1        |        W2        |        W3         a part cut at W1's course 4 may go to W1 or W2
course 6   |     course 6     |     course 6      up to so many courses higher or lower: to be
course 4 x |                  |                   cut with the lower of the two, it waits for
course 2   |                  |                   the other
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.planning.layout import LaidRun

Positions = NDArray[np.int64]


class Rising:
    """The walls that meet at corners, and how high up each course is."""

    def __init__(self, laid: Sequence[LaidRun], wait: int) -> None:
        """The runs of a job, and for how many courses an offcut may wait."""
        self._wait = wait
        at_corner: dict[str, set[str]] = defaultdict(set)
        for one in laid:
            for _, edge in one.run.edges:
                if edge.corner:
                    at_corner[edge.corner].add(one.run.wall)
        near = {one.run.wall: {one.run.wall} for one in laid}
        for walls in at_corner.values():
            for wall in walls:
                near[wall] |= walls
        number = {wall: n for n, wall in enumerate(near)}
        self._is_near = np.zeros((len(near), len(near)), dtype=bool)
        for wall, others in near.items():
            self._is_near[number[wall], [number[other] for other in others]] = True
        self._walls = np.array([number[one.run.wall] for one in laid], dtype=np.int64)
        self._turns = np.array([one.run.turn for one in laid], dtype=np.int64)

    def turns(self, runs: Positions) -> Positions:
        """How high up the courses of some runs are."""
        return self._turns[runs]

    def near(self, runs: Positions) -> NDArray[np.bool_]:
        """Which parts of some runs may share a panel: on one wall or round a corner, and with no
        longer a wait than is allowed.

        Args:
            runs: Positions of n runs.

        Returns:
            Whether each may with each, n by n.
        """
        walls, turns = self._walls[runs], self._turns[runs]
        is_soon: NDArray[np.bool_] = abs(turns[:, None] - turns) <= self._wait
        return is_soon & self._is_near[walls[:, None], walls]
