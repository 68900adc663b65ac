"""What is still to come after each run.

Demand for offcuts and corner pieces, and lengths that other pieces must have.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, LIVELY_RUNS
from dxf2veneer.model import Side
from dxf2veneer.planning.bays import BayEnd, bay_ends
from dxf2veneer.planning.cutting_stock.run_kinds import is_one_corner_piece
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

_NOWHERE: Mapping[Side, BayEnd] = MappingProxyType({})


class Lookahead(NamedTuple):
    """What comes after a run, in the job or on its wall.

    ``left`` and ``right`` are corner pieces by hand. ``forced`` has, by side, the length of the
    next corner piece at that edge where it fills its run alone. ``bays`` has, by side, what the
    run's mitred pieces may take of the panel that they share with the other side. ``above`` are
    runs of the next course that lie over this run and have joints, with the longest mitred piece
    that each may have by side.
    """

    demand: float
    left: int
    right: int
    forced: Mapping[Side, float]
    bays: Mapping[Side, BayEnd]
    above: tuple[tuple[Run, Mapping[Side, float]], ...]


def lookaheads_of(
    walls: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes, *, within_walls: bool
) -> list[Lookahead]:
    """What comes after each run.

    Args:
        walls: The runs of each course of each wall, in order.
        sizes: Lengths and limits, in inches.
        within_walls: Whether offcuts stay on their wall, so that other walls do not count.

    Returns:
        One entry for each run, walls and courses in order.
    """
    bays = bay_ends(walls, sizes)
    number = sum(len(course) for courses in walls for course in courses)
    found: list[Lookahead] = []
    count = left = right = 0
    for courses in reversed(walls):
        alone: dict[tuple[Side, float], float] = {}
        if within_walls:
            count = left = right = 0
        above: Sequence[tuple[Run, Mapping[Side, float]]] = ()
        for course in reversed(courses):
            rooms: list[tuple[Run, Mapping[Side, float]]] = []
            for run in reversed(course):
                corners = _corners(run)
                number -= 1
                own = bays.get(number, _NOWHERE)
                found.append(
                    Lookahead(
                        min(1.0, count / LIVELY_RUNS),
                        left,
                        right,
                        {side: alone[key] for side, key in corners.items() if key in alone},
                        own,
                        _above(run, above, sizes),
                    )
                )
                rooms.append((run, {side: end.room for side, end in own.items()}))
                for key in corners.values():
                    alone.pop(key, None)
                    if is_one_corner_piece(run, sizes):
                        alone[key] = run.length
                count += 1
                left += run.left == "corner"
                right += run.right == "corner"
            above = rooms[::-1]
    return found[::-1]


def _corners(run: Run) -> dict[Side, tuple[Side, float]]:
    """By side, the edges at which the run takes a corner piece: their side and x."""
    return {side: (side, edge.x) for side, edge in run.edges if run.end(side) == "corner"}


def longest_alone(
    run: Run, sizes: LayingSizes, rooms: Mapping[Side, float] = MappingProxyType({})
) -> float:
    """The longest run that one piece can fill: a corner piece with one finished end, or a flat one.

    Between two ends that each ask for a piece of their own, one piece is the way out where two are
    too short.

    Args:
        run: The run.
        sizes: Lengths and limits, in inches.
        rooms: The longest piece that there may be at a bay's mitre, by side.

    Returns:
        A length in inches.
    """
    if "corner" in (run.left, run.right) and "plain" not in (run.left, run.right):
        return min(2.0 * sizes.least - 2.0 * EXACT_IN, sizes.corner)
    if len(rooms) == 2:  # between two mitres: it leaves both sides of its panel
        return sizes.panel - 2.0 * (sizes.kerf + sizes.least)
    longest = sizes.longest_corner if "corner" in (run.left, run.right) else sizes.panel
    return min([longest, *rooms.values()])


def _above(
    run: Run, course: Sequence[tuple[Run, Mapping[Side, float]]], sizes: LayingSizes
) -> tuple[tuple[Run, Mapping[Side, float]], ...]:
    return tuple(
        (a, rooms)
        for a, rooms in course
        if a.x0 < run.x1 and a.x1 > run.x0 and a.length > longest_alone(a, sizes, rooms) + EXACT_IN
    )
