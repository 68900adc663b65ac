"""The number of a course: one for all walls whose course lines are known to be the same ones.

    wall W1       wall W2
    | 4     |    | 4     |
    | 3     |    | 3     |   W2 begins two courses higher: its first course is number 3
    | 2     |    '-------'
    | 1     |
    '-------'
    - - - - - - - - - - - -  level line

Walls are tied by a level line of one drawing; by a corner, since courses run on around it: on both
level lines, or else on the feet of its two edges, where course lines meet there; and without a
level line by starters at one height of a drawing. A wall that nothing ties counts from its own
first course.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.model import Corner, WallTakeoff


class _Tie(NamedTuple):
    """Two walls whose course lines are the same ones."""

    lower: WallTakeoff
    upper: WallTakeoff
    apart: float
    """How much higher the first course of ``upper`` begins, in inches; below 0 lower."""


def numbered(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], height: float
) -> list[WallTakeoff]:
    """Walls whose courses have their numbers: 1 is the lowest of all that are tied together.

    Args:
        walls: The walls of one product, with their courses.
        corners: Corners that join them.
        height: Height of a course in inches.

    Returns:
        The walls in their order.
    """
    group = {w.wall.id: {w.wall.id: 0} for w in walls}
    """For each wall the walls tied to it, and how many courses above an arbitrary one each begins;
    walls that are tied share one."""
    for tie in (*_by_level(walls), *_by_corner(walls, corners), *_by_starter(walls)):
        steps = round(tie.apart / height)
        one, other = group[tie.lower.wall.id], group[tie.upper.wall.id]
        if one is other or abs(tie.apart - steps * height) > LINE_MEETS_IN:
            continue
        more = one[tie.lower.wall.id] + steps - other[tie.upper.wall.id]
        one |= {wall: first + more for wall, first in other.items()}
        group |= dict.fromkeys(other, one)
    return [
        dataclasses.replace(w, courses=dataclasses.replace(w.courses, below=first - min(own)))
        for w in walls
        for own in [group[w.wall.id].values()]
        for first in [group[w.wall.id][w.wall.id]]
    ]


def _by_level(walls: Sequence[WallTakeoff]) -> Iterator[_Tie]:
    """Walls on one level line of a drawing."""
    first: dict[tuple[int, float], WallTakeoff] = {}
    for w in walls:
        if w.wall.level_y is not None:
            one = first.setdefault((w.wall.drawing, w.wall.level_y), w)
            yield _Tie(one, w, w.courses.starter_y - one.courses.starter_y)


def _by_corner(walls: Sequence[WallTakeoff], corners: Sequence[Corner]) -> Iterator[_Tie]:
    """Walls that meet, first those on level lines."""
    by_id = {w.wall.id: w for w in walls}
    met = [
        (by_id[a], by_id[b], corner.id)
        for corner in corners
        for (a, _), (b, _) in pairwise(corner.edges)
        if a in by_id and b in by_id
    ]
    for is_level in (True, False):
        for one, other, corner in met:
            low, high = one.wall.level_y, other.wall.level_y
            if (low is not None and high is not None) == is_level:
                if low is None or high is None:
                    low, high = _foot(one, corner), _foot(other, corner)
                above = other.courses.starter_y - high
                yield _Tie(one, other, above - (one.courses.starter_y - low))


def _foot(entry: WallTakeoff, corner: str) -> float:
    """The lower end of a wall's edge at a corner."""
    return min(edge.y0 for edge in entry.wall.edges if edge.corner == corner)


def _by_starter(walls: Sequence[WallTakeoff]) -> Iterator[_Tie]:
    """Walls without a level line whose starters are drawn at one height."""
    free = [w for w in walls if w.wall.level_y is None]
    for n, w in enumerate(free):
        for one in free[:n]:
            apart = w.courses.starter_y - one.courses.starter_y
            if one.wall.drawing == w.wall.drawing and abs(apart) <= LINE_MEETS_IN:
                yield _Tie(one, w, apart)
                break
