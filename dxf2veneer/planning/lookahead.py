"""What is still to come after each run.

Demand for offcuts and corner pieces, and lengths that other pieces must have.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, LIVELY_RUNS
from dxf2veneer.model import Side
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes


class Lookahead(NamedTuple):
    """What comes after a run, in the job or on its wall.

    ``left`` and ``right`` are corner pieces by hand. ``forced`` has, by side, the length of the
    next corner piece at that edge where it fills its run alone. ``keys`` has, by side, the key of a
    bay's mitre whose two sides are both in the job, ``mates`` the length that its other side must
    have where that is still to be laid (0 where it may choose). ``above`` are runs of the next
    course that lie over this run and have joints.
    """

    demand: float
    left: int
    right: int
    forced: Mapping[Side, float]
    keys: Mapping[Side, str]
    mates: Mapping[Side, float]
    above: tuple[Run, ...]


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
    sides = Counter(
        key
        for courses in walls
        for course in courses
        for run in course
        for _, key in _bay_keys(run, sizes)
    )
    found: list[Lookahead] = []
    mates: dict[str, float] = {}
    count = left = right = 0
    for courses in reversed(walls):
        alone: dict[tuple[Side, float], float] = {}
        if within_walls:
            count = left = right = 0
        above: Sequence[Run] = ()
        for course in reversed(courses):
            for run in reversed(course):
                corners = _corners(run)
                keys = {side: key for side, key in _bay_keys(run, sizes) if sides[key] == 2}
                found.append(
                    Lookahead(
                        min(1.0, count / LIVELY_RUNS),
                        left,
                        right,
                        {side: alone[key] for side, key in corners.items() if key in alone},
                        keys,
                        {side: mates[key] for side, key in keys.items() if key in mates},
                        _above(run, above, sizes),
                    )
                )
                mates.update(dict.fromkeys(keys.values(), _only_length(run, sizes)))
                for key in corners.values():
                    alone.pop(key, None)
                    if run.length <= longest_alone(run, sizes) + EXACT_IN:
                        alone[key] = run.length
                count += 1
                left += run.left == "corner"
                right += run.right == "corner"
            above = course
    return found[::-1]


def _corners(run: Run) -> dict[Side, tuple[Side, float]]:
    """By side, the edges at which the run takes a corner piece: their side and x."""
    return {side: (side, edge.x) for side, edge in run.edges if run.end(side) == "corner"}


def longest_alone(run: Run, sizes: LayingSizes) -> float:
    """The longest run that one piece fills: a corner piece with one finished end, or a flat one.

    Between two ends that each ask for a piece of their own, one piece is the way out where two are
    too short.

    Args:
        run: The run.
        sizes: Lengths and limits, in inches.

    Returns:
        A length in inches.
    """
    if "corner" in (run.left, run.right) and "plain" not in (run.left, run.right):
        return 2.0 * sizes.least - 2.0 * EXACT_IN
    return sizes.longest_corner if "corner" in (run.left, run.right) else sizes.panel


def _above(run: Run, course: Sequence[Run], sizes: LayingSizes) -> tuple[Run, ...]:
    return tuple(
        a
        for a in course
        if a.x0 < run.x1 and a.x1 > run.x0 and a.length > longest_alone(a, sizes) + EXACT_IN
    )


def _bay_keys(run: Run, sizes: LayingSizes) -> Iterator[tuple[Side, str]]:
    """(side, key) of the run's ends at a bay's corner; both sides of a corner share a key.

    A face too narrow for two pieces with stagger is laid in one, whose panel can serve one neighbor
    only: the left one and the right one take turns.
    """
    for side, edge in run.edges:
        if (
            edge.kind == "mitre"
            and edge.corner
            and (not _is_narrow_bay(run, sizes) or (side == "left") == (run.turn % 2 == 0))
        ):
            yield side, f"{edge.corner}/{run.turn}"


def _is_narrow_bay(run: Run, sizes: LayingSizes) -> bool:
    return run.left == run.right == "mitre" and run.length < 2.0 * sizes.least + sizes.stagger


def _only_length(run: Run, sizes: LayingSizes) -> float:
    """The length of a mitred piece that fills its run alone; 0 where there may be two."""
    fits = run.length <= sizes.panel - sizes.kerf - sizes.least
    return run.length if fits and (run.left != run.right or _is_narrow_bay(run, sizes)) else 0.0
