"""Where the offcuts of a plan go: how far, for how long, and how many lie about (rule L26).

Worked out from pieces, edges and panels alone, beside the planner. Walls with a corner in common
rise together, course by course; groups of such walls are laid one after the other. A panel is cut
when the first of its pieces is laid, and the others wait.

    course   1   2   3   4   5
    panel A  o-------o               waits 2 courses
    panel B      o-----------o       waits 3; when courses 2 and 3 are done, one waits: or two,
    panel C      o---o               with A when 2 is done, three with C
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import CUT_LENGTH_STEPS, SPECK_IN
from dxf2veneer.model import CoursePlan, Handling, PieceRef, WallTakeoff
from dxf2veneer.verify.plan.runs import judged_wall


class _Laid(NamedTuple):
    """When a piece is laid: its group of walls, its course there, its wall, and its place."""

    group: int
    rank: int
    wall: int
    number: int


def handling_of(walls: Sequence[WallTakeoff], plan: CoursePlan, wait: float) -> Handling:
    """Where the offcuts of a plan go.

    Args:
        walls: The walls with their pieces.
        plan: The panels with their parts.
        wait: For how many courses an offcut may wait.

    Returns:
        The figures.
    """
    near = _near_walls(walls)
    when = _when(walls, _groups(near))
    waiting: dict[tuple[int, int], int] = defaultdict(int)
    offcuts = far = late = longest = 0
    for unit in plan.units:
        laid = sorted({when[ref] for ref in unit.parts if ref in when})
        for one in laid[1:]:
            first = laid[0]
            offcuts += 1
            far += one.wall not in near[first.wall]
            if one.group == first.group:
                late += one.rank - first.rank > wait
                longest = max(longest, one.rank - first.rank)
            waiting[first[:2]] += 1
            waiting[one[:2]] -= 1
    at_once = most = 0
    for _, change in sorted(waiting.items()):
        at_once += change
        most = max(most, at_once)
    cut = {
        round(piece.length * CUT_LENGTH_STEPS)
        for wall in walls
        for piece in wall.courses.pieces
        if piece.unit == "corner" or piece.length < _panel(plan) - SPECK_IN
    }
    return Handling(offcuts, far, late, longest, most, len(cut))


def _panel(plan: CoursePlan) -> float:
    """Length of a flat panel."""
    return max((unit.length for unit in plan.units if unit.kind == "flat"), default=0.0)


def _near_walls(walls: Sequence[WallTakeoff]) -> list[set[int]]:
    """For each wall those that it has a corner in common with, and itself."""
    at: dict[str, set[int]] = defaultdict(set)
    for n, wall in enumerate(walls):
        for edge in wall.wall.edges:
            if edge.corner:
                at[edge.corner].add(n)
    near = [{n} for n in range(len(walls))]
    for both in at.values():
        for n in both:
            near[n] |= both
    return near


def _groups(near: Sequence[set[int]]) -> Mapping[int, int]:
    """By wall the first of those that rise together."""
    group: dict[int, int] = {}
    for n in range(len(near)):
        found, todo = set(), [n] if n not in group else []
        while todo:
            m = todo.pop()
            if m not in found:
                found.add(m)
                todo += near[m]
        group.update(dict.fromkeys(found, n))
    return group


def _when(walls: Sequence[WallTakeoff], group: Mapping[int, int]) -> dict[PieceRef, _Laid]:
    """When each piece is laid; pieces of one part, above and below a slot, at once."""
    found: dict[PieceRef, _Laid] = {}
    for n, wall in enumerate(walls):
        for run in judged_wall(wall).runs:
            for one in run.laid:
                laid = _Laid(group[n], run.rank, n, min(one.numbers))
                for piece in one.pieces:
                    found[PieceRef(wall.wall.id, piece.course, piece.number)] = laid
    return found
