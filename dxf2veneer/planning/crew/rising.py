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


def laying_order(laid: Sequence[LaidRun]) -> list[int]:
    """When each run is laid: walls that meet at corners together, course by course, one such group
    of walls after the other.

    Args:
        laid: The runs of a job, wall by wall.

    Returns:
        By the position of each run how many are laid before it.
    """
    first = rising_together(laid)
    number = {wall: n for n, wall in enumerate(first.values())}
    order = sorted(
        range(len(laid)), key=lambda i: (number[first[laid[i].run.wall]], laid[i].run.turn, i)
    )
    when = [0] * len(laid)
    for n, i in enumerate(order):
        when[i] = n
    return when


def rising_together(laid: Sequence[LaidRun]) -> dict[str, str]:
    """The walls that rise together: those that meet at a corner, and those that meet these.

    Args:
        laid: The runs of a job, wall by wall.

    Returns:
        By the id of each wall the first of those that it rises with.
    """
    first: dict[str, str] = {}
    near = near_walls(laid)
    for wall in near:
        todo = [wall]
        while todo:
            one = todo.pop()
            if one not in first:
                first[one] = wall
                todo += near[one]
    return first


def near_walls(laid: Sequence[LaidRun]) -> dict[str, list[str]]:
    """For each wall itself and those that meet it at a corner.

    Args:
        laid: The runs of a job, wall by wall.

    Returns:
        Ids of walls, all in the order of the runs.
    """
    at_corner: dict[str, dict[str, None]] = defaultdict(dict)
    for one in laid:
        for _, edge in one.run.edges:
            if edge.corner:
                at_corner[edge.corner][one.run.wall] = None
    near = {one.run.wall: {one.run.wall: None} for one in laid}
    for walls in at_corner.values():
        for wall in walls:
            near[wall] |= walls
    return {wall: list(others) for wall, others in near.items()}


class Rising:
    """The walls that meet at corners, and how high up each course is."""

    def __init__(self, laid: Sequence[LaidRun], wait: int) -> None:
        """The runs of a job, and for how many courses an offcut may wait."""
        self._wait = wait
        near = near_walls(laid)
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
