"""What a movable can reach at one start: every move that could be better than another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import HEIGHT_ROUNDING_IN, LINE_MEETS_IN
from dxf2veneer.coursing.advice.movable import Movable
from dxf2veneer.coursing.groups import CourseGroup

Counts = tuple[int, int]
"""Slivers, and pieces to rip."""


class Ease(NamedTuple):
    """What decides between moves that leave the same: less is better."""

    resized: int
    """Openings whose height changes."""
    steps: int
    """How far edges go, in legible steps begun."""
    odd: int
    """Moves that are no whole number of steps."""


class Option(NamedTuple):
    """One move of a movable, and what it leaves at it."""

    head: float
    sill: float
    slivers: int
    ripped: int
    changed: int
    ease: Ease


class Lines:
    """The course lines of a group at one start."""

    def __init__(self, group: CourseGroup, start: float) -> None:
        """Place the starters of all walls."""
        self.group = group
        starters = np.array(group.bases) + np.array(group.starters(start))
        self.above: NDArray[np.float64] = group.y - starters[group.owner]
        """Height of all that is met above its wall's starter."""

    def counts(self, met: Sequence[int], moved: float) -> Counts:
        """What is left where some of what is met has moved.

        Args:
            met: Indices in the arrays of the group.
            moved: How far up, in inches.

        Returns:
            Slivers and pieces to rip.
        """
        slivers = ripped = 0
        height = self.group.height
        for i in met:
            above = float(self.above[i]) + moved
            into = above % height
            if above <= -LINE_MEETS_IN or min(into, height - into) <= LINE_MEETS_IN:
                continue
            strip = height - into if self.group.is_head[i] else into
            slivers += strip < self.group.sliver - HEIGHT_ROUNDING_IN
            ripped += int(self.group.pieces[i])
        return slivers, ripped

    def turns(self, met: Iterable[int], low: float, high: float) -> Iterator[float]:
        """Moves within a range at which what is met becomes clean, or its strip no sliver; of the
        latter the next legible ones too."""
        group = self.group
        for i in met:
            above = float(self.above[i])
            at_limit = group.height - group.sliver if group.is_head[i] else group.sliver
            for wanted in (0.0, at_limit):
                first = math.ceil((low + above - wanted) / group.height - 1.0)
                last = math.floor((high + above - wanted) / group.height + 1.0)
                for k in range(first, last + 1):
                    move = wanted + k * group.height - above
                    yield move
                    if wanted:
                        yield math.floor(move / group.step + 1e-9) * group.step
                        yield math.ceil(move / group.step - 1e-9) * group.step


def heads_of(lines: Lines, movable: Movable) -> set[float]:
    """Moves of the head of a movable that could be better than others for itself.

    Args:
        lines: The course lines.
        movable: What moves.

    Returns:
        Inches up.
    """
    return {head for head, _ in _pairs(lines, movable, ())}


def options_of(lines: Lines, movable: Movable, also: Iterable[float] = ()) -> list[Option]:
    """The moves of a movable within its limits that could be better than others.

    Args:
        lines: The course lines.
        movable: What moves.
        also: Moves of the head that keep it in line with others.

    Returns:
        For each place of the head those that no other with the same head beats; to stay where it is
        drawn is the first.
    """
    heads = cache(lambda moved: lines.counts(movable.heads, moved))
    sills = cache(lambda moved: lines.counts(movable.sills, moved))
    best: dict[tuple[float, int, int, int], Option] = {}
    for head, sill in _pairs(lines, movable, also):
        one, two = heads(head), sills(sill)
        still = head == sill == 0.0
        ease = _ease(lines.group.step, head, sill, len(movable.ids))
        slivers, ripped = one[0] + two[0], one[1] + two[1]
        option = Option(head, sill, slivers, ripped, 0 if still else len(movable.ids), ease)
        key = (round(head, 6), slivers, ripped, option.changed)
        if key not in best or option.ease < best[key].ease:
            best[key] = option
    return [o for o in best.values() if not any(_beats(p, o) for p in best.values())]


def _beats(one: Option, other: Option) -> bool:
    """Whether an option with the same head leaves less in one count and no more in any."""
    mine, others = one[2:5], other[2:5]
    same_head = abs(one.head - other.head) <= LINE_MEETS_IN / 2.0
    return same_head and mine != others and all(a <= b for a, b in zip(mine, others, strict=True))


def _ease(step: float, head: float, sill: float, count: int) -> Ease:
    resized = 0 if abs(head - sill) <= HEIGHT_ROUNDING_IN else count
    moves = {head, sill}
    far = sum(math.ceil(abs(m) / step - 1e-6) for m in (head, sill))
    return Ease(resized, far * count, sum(abs(m / step - round(m / step)) > 1e-6 for m in moves))


def _pairs(lines: Lines, movable: Movable, also: Iterable[float]) -> Iterator[tuple[float, float]]:
    """Moves of head and sill that can differ in what they leave: where one of them turns, stays or
    reaches a limit, and the other does too or the height changes as much as it may."""
    yield 0.0, 0.0
    if not movable.can_move:
        return
    change, of_head, of_sill = movable.resize, movable.head_range, movable.sill_range
    for_head = _within(of_head, (*lines.turns(movable.heads, *of_head), 0.0, *of_head, *also))
    if movable.sill_stays:
        yield from ((head, 0.0) for head in for_head if abs(head) <= change + HEIGHT_ROUNDING_IN)
        return
    for_sill = _within(of_sill, (*lines.turns(movable.sills, *of_sill), 0.0, *of_sill))
    if change == 0.0:
        yield from ((move, move) for move in sorted({*for_head, *for_sill}))
        return
    for head in for_head:
        beside = _within(of_sill, (*for_sill, head, head - change, head + change))
        yield from ((head, s) for s in beside if abs(head - s) <= change + HEIGHT_ROUNDING_IN)
    for sill in for_sill:
        beside = _within(of_head, (sill, sill - change, sill + change))
        yield from ((h, sill) for h in beside if abs(h - sill) <= change + HEIGHT_ROUNDING_IN)


def _within(bounds: tuple[float, float], moves: Iterable[float]) -> list[float]:
    """Moves in a range, without those that differ by rounding alone."""
    low, high = bounds
    found: dict[float, float] = {}
    for move in moves:
        if low - HEIGHT_ROUNDING_IN <= move <= high + HEIGHT_ROUNDING_IN:
            found.setdefault(round(move, 7), min(max(move, low), high) + 0.0)
    return sorted(found.values())
