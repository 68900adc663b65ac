"""Walls that are drawn alike and laid alike: the same courses and joints, one picture for all.

    W1 .------------.    W3 .------------.      alike: outline, openings, edges and their kinds,
       | [] |^| []  |       | [] |^| []  |      courses, and whose turn it is at each corner
       '------------'       '------------'

A mirror image is another wall: corner panels have hands, and the turns of a corner change sides
with them. At a bay the walls beside it have to be alike too, because both sides of a mitre come
from one panel.
"""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.affinity import translate

from dxf2veneer.basics.tolerances import ALIKE_IN
from dxf2veneer.model import WallTakeoff
from dxf2veneer.planning.cutting_stock.run_kinds import is_one_corner_piece
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Courses = Sequence[Sequence[Run]]


def likes_of(walls: Sequence[WallTakeoff], runs: Sequence[Courses]) -> Mapping[str, str]:
    """The walls that are drawn like an earlier one.

    Args:
        walls: The walls with their courses, in the order in which they are laid.
        runs: The runs of each course of each wall.

    Returns:
        By the wall's id, the first wall that it is like; walls like none before are left out.
    """
    group = _by_themselves(walls, runs)
    while True:
        finer = _beside_bays(walls, group)
        if len(set(finer)) == len(set(group)):
            break
        group = finer
    first: dict[int, str] = {}
    like = {}
    for wall, number in zip(walls, group, strict=True):
        if number in first:
            like[wall.wall.id] = first[number]
        first.setdefault(number, wall.wall.id)
    return like


def with_likes(
    runs: Sequence[Courses], like: Mapping[str, str], sizes: LayingSizes
) -> list[tuple[tuple[Run, ...], ...]]:
    """The runs, each told which wall its own is laid like.

    Args:
        runs: The runs of each course of each wall.
        like: By the id of a wall the one that it is laid like.
        sizes: Lengths and limits, in inches.

    Returns:
        The runs with ``like``; not in walls whose runs leave no choice, as a column's faces do.
    """
    return [
        tuple(
            tuple(dataclasses.replace(run, like=like.get(run.wall)) for run in course)
            for course in own
        )
        if not all(is_one_corner_piece(run, sizes) for course in own for run in course)
        else tuple(map(tuple, own))
        for own in runs
    ]


def tied(runs: Iterable[Run]) -> set[int]:
    """Positions of runs whose joints can't be moved by themselves, their walls being laid alike.

    Args:
        runs: The runs of a job, in any order.

    Returns:
        Those of walls that are like an earlier one, and of those that others are like.
    """
    listed = list(runs)
    walls = {w for run in listed if run.like for w in (run.wall, run.like)}
    return {i for i, run in enumerate(listed) if run.wall in walls}


def twins_of(runs: Iterable[Run]) -> dict[int, tuple[int, ...]]:
    """The runs that are laid alike.

    Args:
        runs: The runs of a job, wall by wall, those of a wall in order.

    Returns:
        By the position of a run those of its likes in later walls; only of runs that have some.
    """
    by_wall: dict[str, list[int]] = defaultdict(list)
    like: dict[str, str] = {}
    for i, run in enumerate(runs):
        by_wall[run.wall].append(i)
        if run.like:
            like[run.wall] = run.like
    found: dict[int, tuple[int, ...]] = defaultdict(tuple)
    for wall, first in like.items():
        for i, j in zip(by_wall[first], by_wall[wall], strict=True):
            found[i] += (j,)
    return dict(found)


def tied_walls(runs: Sequence[Courses]) -> list[Courses]:
    """The walls that are laid alike.

    Args:
        runs: The runs of each course of each wall, told what they are like.

    Returns:
        The runs of those walls, in their order.
    """
    walls = {w for own in runs for c in own for r in c if r.like for w in (r.wall, r.like)}
    return [own for own in runs if any(r.wall in walls for course in own for r in course)]


def untied(runs: Sequence[Courses]) -> list[Courses]:
    """The same runs, each wall to be laid for itself.

    Args:
        runs: The runs of each course of each wall.

    Returns:
        The runs, like none.
    """
    return [[[dataclasses.replace(r, like=None) for r in c] for c in own] for own in runs]


def _by_themselves(walls: Sequence[WallTakeoff], runs: Sequence[Courses]) -> list[int]:
    """The group of each wall, known by its first wall's position, whatever stands beside it."""
    found: list[int] = []
    firsts: dict[Hashable, list[int]] = defaultdict(list)
    for i, (wall, own) in enumerate(zip(walls, runs, strict=True)):
        same = firsts[_kinds(wall, own)] if own else []
        number = next((n for n in same if _is_alike((walls[n], runs[n]), (wall, own))), i)
        if number == i:
            same.append(i)
        found.append(number)
    return found


def _beside_bays(walls: Sequence[WallTakeoff], group: Sequence[int]) -> list[int]:
    """The groups parted where the walls beside a bay's corners are of different groups."""
    met: dict[str, set[tuple[str, int]]] = defaultdict(set)
    for wall, number in zip(walls, group, strict=True):
        for edge in wall.wall.edges:
            if edge.kind == "mitre" and edge.corner:
                met[edge.corner].add((edge.side, number))
    numbers: dict[Hashable, int] = {}
    found = []
    for i, (wall, number) in enumerate(zip(walls, group, strict=True)):
        edges = [e for e in wall.wall.edges if e.kind == "mitre" and e.corner]
        beside = sorted((e.side, *sorted(met[e.corner or ""])) for e in edges)
        found.append(numbers.setdefault((number, *beside), i))
    return found


def _kinds(wall: WallTakeoff, runs: Courses) -> Hashable:
    """What alike walls have in common beside their sizes."""
    return (
        tuple(o.kind for o in wall.wall.openings),
        tuple((e.side, e.kind) for e in wall.wall.edges),
        tuple((r.course, r.turn % 2, r.left, r.right) for course in runs for r in course),
    )


def _is_alike(one: tuple[WallTakeoff, Courses], other: tuple[WallTakeoff, Courses]) -> bool:
    """Whether two walls of the same kinds have the same sizes."""
    a, b = _sizes(*one), _sizes(*other)
    if a.shape != b.shape or not np.allclose(a, b, rtol=0.0, atol=ALIKE_IN):
        return False
    return _covers(one[0], other[0])


def _sizes(wall: WallTakeoff, runs: Courses) -> NDArray[np.floating[Any]]:
    """Places of edges, openings, courses and runs, from the wall's left edge and first course."""
    x0, y0 = wall.wall.box[0], wall.courses.courses[0].y0
    boxes = [wall.wall.box, *(o.box for o in wall.wall.openings)]
    boxes += [(e.x, e.y0, e.x, e.y1) for e in wall.wall.edges]
    boxes += [r.field.bounds for course in runs for r in course]
    boxes += [(x0, c.y0, x0, c.y1) for c in wall.courses.courses]
    found: NDArray[np.floating[Any]] = np.asarray(boxes) - np.asarray((x0, y0, x0, y0))
    return found


def _covers(one: WallTakeoff, other: WallTakeoff) -> bool:
    """Whether one wall's shape and ground of panels, moved there, are the other's."""
    dx = other.wall.box[0] - one.wall.box[0]
    dy = other.courses.courses[0].y0 - one.courses.courses[0].y0
    for a, b in (
        (one.wall.region, other.wall.region),
        (one.courses.field, other.courses.field),
    ):
        moved = translate(a.polygon, dx, dy)
        off = moved.symmetric_difference(b.polygon)
        if off.area > ALIKE_IN * moved.length:
            return False
    return True
