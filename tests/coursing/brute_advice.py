"""Advice found by trying everything, for small walls. It shares no code with the package.

From the trade's terms and rules alone: course lines run a panel's height apart from the starter up;
a head leaves the strip between it and the next line above, a sill or a top the strip between the
line below and it; a strip lower than the limit is a sliver, and no slivers goes before all else
(L11); a strip of some length takes at least as many pieces as panels stand side by side in it.

All sizes are whole multiples of half an inch, and so are limits and the sliver's height. What is
wanted of start and moves are bounds on differences of two of them, so that the best is reached
where all are multiples of half an inch too: a grid of that step tries everything.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

STEP = 0.5


class Row(NamedTuple):
    """Like openings that move together: their number, width, sill, head; and limits."""

    count: int
    width: float
    sill: float
    head: float
    may_move: float
    may_resize: float
    has_sill: bool = True


class House(NamedTuple):
    """A wall with a level base at 0, or two alike tied by nothing but their one start."""

    length: float
    top: float
    rows: Sequence[Row]
    level: float | None = None
    """A level line through which course lines run."""


class Panel(NamedTuple):
    """What it is laid with."""

    length: float = 36.0
    height: float = 8.0
    sliver: float = 2.0


def strip(y: float, start: float, panel: Panel, *, over: bool) -> float:
    """The strip that is left over a head, or under anything else; 0 where a line meets it."""
    up = (y - start) % panel.height
    if up == 0.0 or y < start:
        return 0.0
    return panel.height - up if over else up


def left(y: float, wide: float, count: int, start: float, panel: Panel, *, over: bool):
    """Slivers and pieces to rip at some like heads, sills or tops."""
    high = strip(y, start, panel, over=over)
    if high == 0.0:
        return 0, 0
    return (count if high < panel.sliver else 0), count * max(1, math.ceil(wide / panel.length))


def starters(house: House, panel: Panel) -> list[tuple[float, float]]:
    """(start, height of the starter over the base): a whole course of both."""
    steps = int(panel.height / STEP)
    if house.level is None:
        return [(k * STEP, k * STEP) for k in range(steps + 1)]
    half = steps // 2
    starts = [k * STEP for k in range(-half, half + 1)]
    return [(s, (house.level + s) % panel.height) for s in starts]


def moves(row: Row) -> Iterator[tuple[float, float]]:
    """(head, sill): how far each goes."""
    far = [k * STEP for k in range(int(-row.may_move / STEP), int(row.may_move / STEP) + 1)]
    for head, sill in itertools.product(far, far if row.has_sill else [0.0]):
        if abs(head - sill) <= row.may_resize:
            yield head, sill


def all_losses(house: House, panel: Panel) -> set[tuple[int, int, int, int]]:
    """(slivers, pieces to rip, heads out of line, openings changed) of every start with every
    move."""
    found = set()
    for _, starter in starters(house, panel):
        base = left(house.top, house.length, 1, starter, panel, over=False)
        per_row = []
        for row in house.rows:
            reach = set()
            for head, sill in moves(row):
                a = left(row.head + head, row.width, row.count, starter, panel, over=True)
                b = (0, 0)
                if row.has_sill:
                    b = left(row.sill + sill, row.width, row.count, starter, panel, over=False)
                changed = row.count if head or sill else 0
                reach.add((a[0] + b[0], a[1] + b[1], changed, row.head, row.head + head))
            per_row.append(reach)
        for chosen in itertools.product(*per_row):
            drawn: dict[float, set[float]] = {}
            for *_, was, now in chosen:
                drawn.setdefault(was, set()).add(now)
            out = sum(len(now) - 1 for now in drawn.values())
            slivers, ripped, changed = (sum(c[k] for c in chosen) for k in range(3))
            found.add((base[0] + slivers, base[1] + ripped, out, changed))
    return found


def stands(house: House, panel: Panel) -> tuple[int, int]:
    """Slivers and pieces to rip as drawn, with the start 0."""
    starter = 0.0 if house.level is None else house.level % panel.height
    total = [left(house.top, house.length, 1, starter, panel, over=False)]
    for row in house.rows:
        total.append(left(row.head, row.width, row.count, starter, panel, over=True))
        if row.has_sill:
            total.append(left(row.sill, row.width, row.count, starter, panel, over=False))
    return sum(t[0] for t in total), sum(t[1] for t in total)
