"""Fillings of units with groups of parts that are alike: the richest one, and searches for the fewest units.

Sizes are whole numbers of ticks, each part with one kerf; a unit's capacity is its length and one kerf,
since n parts have n - 1 kerfs between them. A hand is a bit, so that what a filling holds of left and
right parts is one number.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

LEFT, RIGHT, ANY = 1, 2, 4
FILL_STEPS = 1000
"""Steps of the search for the richest unit; beyond them the best one seen is taken."""
POWERS = (1.2, 1.01, 1.05, 1.1, 1.5, 2.0)
"""By which long parts are worth more than their length, turn by turn."""
BRANCHES = 60
"""Fillings of one unit that the branching search tries, the fullest first."""
NODE_STEPS = 30
"""What one branching costs, in steps, beside the search for the fillings."""


class Group(NamedTuple):
    """Parts that are alike: size with its kerf in ticks, hand as a bit, and whether the length was free."""

    size: int
    hand: int
    free: bool


Filling = tuple[int, ...]
"""The contents of one unit: positions of groups, repeated for several parts of a group."""


@dataclass(frozen=True)
class Cutting:
    """The groups to cut, the capacity of a unit and the least difference of left and right, in ticks."""

    groups: list[Group]
    capacity: int
    apart: int

    def differ(self, a: Group, b: Group) -> bool:
        """Whether a left and a right part may share a unit as to their difference."""
        return abs(a.size - b.size) >= self.apart or not (a.free and b.free)

    def agree(self, a: Group, b: Group) -> bool:
        """Whether a left and a right part may share a unit."""
        return a.size + b.size <= self.capacity and self.differ(a, b)

    def room(self, filling: Filling) -> int:
        """What is left of the unit."""
        return self.capacity - sum(self.groups[g].size for g in filling)

    def in_order(self, filling: Filling) -> list[int]:
        """The filling from left to right."""
        return sorted(filling, key=lambda g: ((LEFT, ANY, RIGHT).index(self.groups[g].hand), g))


@dataclass
class Stock:
    """Groups that still have parts, the longest first: what a unit can be filled from."""

    cut: Cutting
    counts: list[int]
    live: list[int]
    keys: list[int]
    """Sizes of the live groups, negative, so that they ascend."""
    of_hand: Counter[int]
    """How many live groups there are of each hand."""

    @classmethod
    def of(
        cls, cut: Cutting, counts: Sequence[int], hands: tuple[int, ...] = (LEFT, RIGHT, ANY)
    ) -> Stock:
        """The stock of the groups of some hands."""
        live = [g for g, n in enumerate(counts) if n and cut.groups[g].hand in hands]
        groups = [cut.groups[g] for g in live]
        return cls(
            cut, list(counts), live, [-g.size for g in groups], Counter(g.hand for g in groups)
        )

    def take(self, filling: Iterable[int]) -> None:
        """Take the parts of a filling out."""
        for g in filling:
            self.counts[g] -= 1
            if not self.counts[g]:
                at = self.live.index(g, bisect_left(self.keys, -self.cut.groups[g].size))
                del self.live[at], self.keys[at]
                self.of_hand[self.cut.groups[g].hand] -= 1

    def fillings(
        self, start: Filling, steps: int, most_waste: int
    ) -> tuple[list[tuple[int, Filling]], int]:
        """(room left, filling) of units that hold ``start`` and waste no more than that; the steps it took."""
        found: list[tuple[int, Filling]] = []

        def visit(room: int, filling: Filling) -> bool:
            if room <= most_waste:
                found.append((room, filling))
            return False

        return found, self._walk(start, steps, visit)

    def richest(
        self, start: Filling, values: Sequence[float], enough: float
    ) -> tuple[Filling, int]:
        """The filling of most value seen that holds ``start``, looking no further than ``enough``; the steps it took."""
        best, most = start, -1.0

        def visit(_: int, filling: Filling) -> bool:
            nonlocal best, most
            value = sum(values[g] for g in filling)
            if value > most:
                best, most = filling, value
            return most >= enough

        used = self._walk(start, FILL_STEPS, visit)
        return best, used

    def _walk(self, start: Filling, steps: int, visit: Callable[[int, Filling], bool]) -> int:
        """Show every filling that holds ``start`` to ``visit``, until it has seen enough; the steps it took.

        When only one more part can fit, the longest of each hand stands for all of its hand: a unit
        that takes a shorter one can change it for the longer.
        """
        groups, live, keys = self.cut.groups, self.live, self.keys
        shortest = -keys[-1] if keys else self.cut.capacity + 1
        every = sum(hand for hand, n in self.of_hand.items() if n)
        left = steps

        def extend(at: int, room: int, filling: Filling, hands: int) -> None:
            nonlocal left
            if visit(room, filling):
                left = 0
            last, seen = room < 2 * shortest, hands
            for i in range(max(at, bisect_left(keys, -room)), len(live)):
                left -= 1
                hand = groups[live[i]].hand
                if left < 0 or not every & ~(seen if last else hands):
                    return
                if hand & (seen if last else hands) or not self._allows(live[i], filling, hands):
                    continue
                seen |= hand
                extend(i, room - groups[live[i]].size, (*filling, live[i]), hands | hand & ~ANY)

        extend(0, self.cut.room(start), start, sum({groups[g].hand for g in start} - {ANY}))
        return steps - max(left, 0)

    def _allows(self, g: int, filling: Filling, hands: int) -> bool:
        """Whether a part of the group is there and agrees with the other hand of the filling."""
        if self.counts[g] <= filling.count(g):
            return False
        group = self.cut.groups[g]
        if group.hand == ANY or not hands or self.cut.apart <= 0:
            return True
        return all(
            self.cut.differ(group, self.cut.groups[h])
            for h in filling
            if self.cut.groups[h].hand != ANY
        )


def one_by_one(
    cut: Cutting,
    counts: Sequence[int],
    order: Sequence[int],
    values: Sequence[float],
    enough: float = math.inf,
) -> tuple[list[Filling], int]:
    """Units made one by one, each the richest round the first part left in that order; the steps it took."""
    stock, units, steps = Stock.of(cut, counts), [], 0
    for g in order:
        while stock.counts[g]:
            stock.take((g,))
            filling, used = stock.richest((g,), values, enough)
            stock.take(filling[1:])
            units.append(filling)
            steps += used
    return units, steps


def fullest_first(cut: Cutting, counts: Sequence[int], *, handed: bool = False) -> list[Filling]:
    """Units made one by one, each the fullest round the longest part left; left and right ones first if wanted."""
    order = sorted(range(len(counts)), key=lambda g: (handed and cut.groups[g].hand == ANY, g))
    return one_by_one(cut, counts, order, [float(g.size) for g in cut.groups], cut.capacity)[0]


def revalued(
    cut: Cutting, counts: Sequence[int], best: list[Filling], bound: int, effort: int
) -> list[Filling]:
    """Fewer units than ``best`` by making them again and again, the parts' values corrected each time.

    Long parts are worth more than their length says, and so is a part whose unit was left with much
    waste: the next time it is placed earlier, with others that go well with it. The values settle
    half-way between the old ones and what the last units say.
    """
    sizes = [g.size / cut.capacity for g in cut.groups]
    values = [size ** POWERS[0] for size in sizes]
    spent = 0
    for turn in itertools.count():
        if len(best) <= bound or spent >= effort:
            break
        units, used = one_by_one(
            cut, counts, sorted(range(len(sizes)), key=lambda g: (-values[g], g)), values
        )
        spent += used + NODE_STEPS * len(units)
        best = min(best, units, key=len)
        said: list[list[float]] = [[] for _ in sizes]
        for unit in units:
            fill = sum(sizes[g] for g in unit)
            for g in unit:
                said[g].append(sizes[g] ** POWERS[turn % len(POWERS)] / fill)
        values = [(v + sum(s) / len(s)) / 2 if s else v for v, s in zip(values, said, strict=True)]
    return best


# ----------------------------------------------------------- branching


def branched(
    cut: Cutting, counts: Sequence[int], best: list[Filling], bound: int, effort: int
) -> list[Filling]:
    """Fewer units than ``best`` where the search finds them: first as many as the bound, then one more each time."""
    for target in range(bound, len(best)):
        share = effort // (len(best) - target)
        found, used = _search(cut, list(counts), target, share)
        effort -= used
        if found is not None:
            return found
    return best


def _search(
    cut: Cutting, counts: list[int], target: int, steps: int
) -> tuple[list[Filling] | None, int]:
    """Fillings of ``target`` units that hold everything, or None when none is found; and the steps used.

    Each unit is made round the longest part left. What all units may waste together is known, so only
    fillings within it are tried; a rest that failed once with as many units is not tried again.
    """
    waste = target * cut.capacity - sum(n * g.size for n, g in zip(counts, cut.groups, strict=True))
    chosen: list[Filling] = []
    failed: set[tuple[int, ...]] = set()
    trail: list[Iterator[tuple[int, Filling]]] = []
    left = steps
    while True:
        if not any(counts):
            return chosen, steps - left
        stock = Stock.of(cut, counts)
        fillings: list[tuple[int, Filling]] = []
        if len(chosen) < target and waste >= 0 and tuple(counts) not in failed:
            failed.add(tuple(counts))
            fillings, used = stock.fillings((stock.live[0],), min(left, 4000), waste)
            left -= used
        left -= NODE_STEPS + len(counts)
        trail.append(iter(sorted(set(fillings))[:BRANCHES]))
        if left < 0:
            return None, steps
        while (step := next(trail[-1], None)) is None:
            trail.pop()
            if not trail:
                return None, steps - left
            undone = chosen.pop()
            waste += cut.room(undone)
            for g in undone:
                counts[g] += 1
        chosen.append(step[1])
        waste -= step[0]
        for g in step[1]:
            counts[g] -= 1
