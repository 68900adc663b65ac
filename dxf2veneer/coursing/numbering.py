"""The number of a course: one for all walls whose course lines a level line ties together.

    wall W1       wall W2
    | 4     |    | 4     |
    | 3     |    | 3     |   W2 begins two courses higher: its first course is number 3
    | 2     |    '-------'
    | 1     |
    '-------'
    - - - - - - - - - - - -  level line

Walls of other drawings or on other level lines count with them where corners tie them, since
courses run on around a corner. A wall without a level line counts from its own first course.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from dxf2veneer.coursing.groups import walls_together
from dxf2veneer.model import Corner, WallTakeoff


def numbered(walls: Sequence[WallTakeoff], corners: Sequence[Corner]) -> list[WallTakeoff]:
    """Walls whose courses have their numbers: 1 is the lowest of all that are tied together.

    Args:
        walls: The walls of one product, with their courses.
        corners: Corners that join them.

    Returns:
        The walls in their order.
    """
    tied = {w.wall.id: w for w in walls if w.wall.level_y is not None}
    among = [
        dataclasses.replace(corner, edges=tuple(e for e in corner.edges if e[0] in tied))
        for corner in corners
    ]
    below: dict[str, int] = {}
    for group in walls_together([w.wall for w in tied.values()], among):
        lowest = min(tied[wall].courses.rise for wall in group)
        below |= {wall: tied[wall].courses.rise - lowest for wall in group}
    return [
        dataclasses.replace(
            w, courses=dataclasses.replace(w.courses, below=below.get(w.wall.id, 0))
        )
        for w in walls
    ]
