"""Cutting patterns: contents of one panel, and searches for the fewest panels.

Parts that are alike form a group. Sizes are whole numbers of ticks, each part with one kerf; a
panel's capacity is its length and one kerf, since n parts have n - 1 kerfs between them. A hand is
a bit, so that what a pattern holds of left and right parts is one number.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import (
    BRANCHES,
    NODE_STEPS,
    PATTERN_LIST_STEPS,
    PATTERN_STEPS,
    VALUE_POWERS,
)

LEFT, RIGHT, ANY = 1, 2, 4


class PartGroup(NamedTuple):
    """Parts that are alike: size with its kerf in ticks, hand as a bit, and a free length or
    not."""

    size: int
    hand: int
    free: bool


Pattern = tuple[int, ...]
"""The contents of one panel: positions of groups, repeated for several parts of a group."""


@dataclass(frozen=True)
class CuttingProblem:
    """The groups to cut, a panel's capacity and the least difference of left and right, in
    ticks."""

    groups: list[PartGroup]
    capacity: int
    apart: int

    def differ(self, a: PartGroup, b: PartGroup) -> bool:
        """Whether a left and a right part may share a panel as to their difference."""
        return abs(a.size - b.size) >= self.apart or not (a.free and b.free)

    def agree(self, a: PartGroup, b: PartGroup) -> bool:
        """Whether a left and a right part may share a panel."""
        return a.size + b.size <= self.capacity and self.differ(a, b)

    def left_over(self, pattern: Pattern) -> int:
        """What is left of the panel."""
        return self.capacity - sum(self.groups[g].size for g in pattern)

    def in_order(self, pattern: Pattern) -> list[int]:
        """The pattern from left to right."""
        return sorted(pattern, key=lambda g: ((LEFT, ANY, RIGHT).index(self.groups[g].hand), g))


@dataclass
class Demand:
    """Groups that still have parts, the longest first: what a panel can be filled from."""

    problem: CuttingProblem
    counts: list[int]
    live: list[int]
    keys: list[int]
    """Sizes of the live groups, negative, so that they ascend."""
    of_hand: Counter[int]
    """How many live groups there are of each hand."""

    @classmethod
    def of(
        cls,
        problem: CuttingProblem,
        counts: Sequence[int],
        hands: tuple[int, ...] = (LEFT, RIGHT, ANY),
    ) -> Demand:
        """The demand of the groups of some hands."""
        live = [g for g, n in enumerate(counts) if n and problem.groups[g].hand in hands]
        groups = [problem.groups[g] for g in live]
        return cls(
            problem, list(counts), live, [-g.size for g in groups], Counter(g.hand for g in groups)
        )

    def take(self, pattern: Iterable[int]) -> None:
        """Take the parts of a pattern out."""
        for g in pattern:
            self.counts[g] -= 1
            if not self.counts[g]:
                at = self.live.index(g, bisect_left(self.keys, -self.problem.groups[g].size))
                del self.live[at], self.keys[at]
                self.of_hand[self.problem.groups[g].hand] -= 1

    def patterns(
        self, start: Pattern, steps: int, most_waste: int
    ) -> tuple[list[tuple[int, Pattern]], int]:
        """(what is left, pattern) of panels that hold ``start`` and waste no more than that.

        With them the steps that it took.
        """
        found: list[tuple[int, Pattern]] = []

        def visit(room: int, pattern: Pattern) -> bool:
            if room <= most_waste:
                found.append((room, pattern))
            return False

        return found, self._walk(start, steps, visit)

    def richest(
        self, start: Pattern, values: Sequence[float], enough: float
    ) -> tuple[Pattern, int]:
        """The pattern of most value seen that holds ``start``, looking no further than ``enough``.

        With it the steps that it took.
        """
        best, most = start, -1.0

        def visit(_: int, pattern: Pattern) -> bool:
            nonlocal best, most
            value = sum(values[g] for g in pattern)
            if value > most:
                best, most = pattern, value
            return most >= enough

        used = self._walk(start, PATTERN_STEPS, visit)
        return best, used

    def _walk(self, start: Pattern, steps: int, visit: Callable[[int, Pattern], bool]) -> int:
        """Show every pattern that holds ``start`` to ``visit``, until it has seen enough; the
        steps.

        When only one more part can fit, the longest of each hand stands for all of its hand: a
        panel that takes a shorter one can change it for the longer.
        """
        groups, live, keys = self.problem.groups, self.live, self.keys
        shortest = -keys[-1] if keys else self.problem.capacity + 1
        every = sum(hand for hand, n in self.of_hand.items() if n)
        left = steps

        def extend(at: int, room: int, pattern: Pattern, hands: int) -> None:
            nonlocal left
            if visit(room, pattern):
                left = 0
            last, seen = room < 2 * shortest, hands
            for i in range(max(at, bisect_left(keys, -room)), len(live)):
                left -= 1
                hand = groups[live[i]].hand
                if left < 0 or not every & ~(seen if last else hands):
                    return
                if hand & (seen if last else hands) or not self._allows(live[i], pattern, hands):
                    continue
                seen |= hand
                extend(i, room - groups[live[i]].size, (*pattern, live[i]), hands | hand & ~ANY)

        extend(
            0, self.problem.left_over(start), start, sum({groups[g].hand for g in start} - {ANY})
        )
        return steps - max(left, 0)

    def _allows(self, g: int, pattern: Pattern, hands: int) -> bool:
        """Whether a part of the group is there and agrees with the other hand of the pattern."""
        if self.counts[g] <= pattern.count(g):
            return False
        group = self.problem.groups[g]
        if group.hand == ANY or not hands or self.problem.apart <= 0:
            return True
        return all(
            self.problem.differ(group, self.problem.groups[h])
            for h in pattern
            if self.problem.groups[h].hand != ANY
        )


def greedy(
    problem: CuttingProblem,
    counts: Sequence[int],
    order: Sequence[int],
    values: Sequence[float],
    enough: float = math.inf,
) -> tuple[list[Pattern], int]:
    """Panels made one by one, each the richest around the first part left in an order.

    Args:
        problem: The groups and limits.
        counts: How many parts each group has.
        order: The groups in the order in which panels are begun.
        values: The value of a part of each group.
        enough: The value at which no richer pattern is looked for.

    Returns:
        A pattern for each panel, and the steps that it took.
    """
    demand, panels, steps = Demand.of(problem, counts), [], 0
    for g in order:
        while demand.counts[g]:
            demand.take((g,))
            pattern, used = demand.richest((g,), values, enough)
            demand.take(pattern[1:])
            panels.append(pattern)
            steps += used
    return panels, steps


def fullest_first(
    problem: CuttingProblem, counts: Sequence[int], *, handed: bool = False
) -> list[Pattern]:
    """Panels made one by one, each the fullest around the longest part left.

    Args:
        problem: The groups and limits.
        counts: How many parts each group has.
        handed: Whether panels are begun with left and right parts.

    Returns:
        A pattern for each panel.
    """
    order = sorted(range(len(counts)), key=lambda g: (handed and problem.groups[g].hand == ANY, g))
    return greedy(
        problem, counts, order, [float(g.size) for g in problem.groups], problem.capacity
    )[0]


def value_corrected(
    problem: CuttingProblem, counts: Sequence[int], best: list[Pattern], bound: int, effort: int
) -> list[Pattern]:
    """Fewer panels by making them again and again, the parts' values corrected each time.

    Sequential value correction: long parts are worth more than their length says, and so is a part
    whose panel was left with much waste: the next time it is placed earlier, with others that go
    well with it. The values settle half-way between the old ones and what the last panels say.

    Args:
        problem: The groups and limits.
        counts: How many parts each group has.
        best: Patterns known so far.
        bound: A number of panels that can't be gone below.
        effort: Limit on the steps.

    Returns:
        A pattern for each panel, no more of them than in ``best``.
    """
    sizes = [g.size / problem.capacity for g in problem.groups]
    values = [size ** VALUE_POWERS[0] for size in sizes]
    spent = 0
    for turn in itertools.count():
        if len(best) <= bound or spent >= effort:
            break
        panels, used = greedy(
            problem, counts, sorted(range(len(sizes)), key=lambda g: (-values[g], g)), values
        )
        spent += used + NODE_STEPS * len(panels)
        best = min(best, panels, key=len)
        said: list[list[float]] = [[] for _ in sizes]
        for panel in panels:
            fill = sum(sizes[g] for g in panel)
            for g in panel:
                said[g].append(sizes[g] ** VALUE_POWERS[turn % len(VALUE_POWERS)] / fill)
        values = [(v + sum(s) / len(s)) / 2 if s else v for v, s in zip(values, said, strict=True)]
    return best


# ----------------------------------------------------------- branching


def branch_and_bound(
    problem: CuttingProblem, counts: Sequence[int], best: list[Pattern], bound: int, effort: int
) -> list[Pattern]:
    """Fewer panels where a search finds them: first as many as the bound, then one more each time.

    Args:
        problem: The groups and limits.
        counts: How many parts each group has.
        best: Patterns known so far.
        bound: A number of panels that can't be gone below.
        effort: Limit on the steps.

    Returns:
        A pattern for each panel, no more of them than in ``best``.
    """
    for target in range(bound, len(best)):
        share = effort // (len(best) - target)
        found, used = _search(problem, list(counts), target, share)
        effort -= used
        if found is not None:
            return found
    return best


def _search(
    problem: CuttingProblem, counts: list[int], target: int, steps: int
) -> tuple[list[Pattern] | None, int]:
    """Patterns of ``target`` panels that hold everything, None where none is found; and the steps.

    Each panel is made around the longest part left. What all panels may waste together is known, so
    only patterns within it are tried; a rest that failed once with as many panels is not tried
    again.
    """
    waste = target * problem.capacity - sum(
        n * g.size for n, g in zip(counts, problem.groups, strict=True)
    )
    chosen: list[Pattern] = []
    failed: set[tuple[int, ...]] = set()
    trail: list[Iterator[tuple[int, Pattern]]] = []
    left = steps
    while True:
        if not any(counts):
            return chosen, steps - left
        demand = Demand.of(problem, counts)
        patterns: list[tuple[int, Pattern]] = []
        if len(chosen) < target and waste >= 0 and tuple(counts) not in failed:
            failed.add(tuple(counts))
            patterns, used = demand.patterns(
                (demand.live[0],), min(left, PATTERN_LIST_STEPS), waste
            )
            left -= used
        left -= NODE_STEPS + len(counts)
        trail.append(iter(sorted(set(patterns))[:BRANCHES]))
        if left < 0:
            return None, steps
        while (step := next(trail[-1], None)) is None:
            trail.pop()
            if not trail:
                return None, steps - left
            undone = chosen.pop()
            waste += problem.left_over(undone)
            for g in undone:
                counts[g] += 1
        chosen.append(step[1])
        waste -= step[0]
        for g in step[1]:
            counts[g] -= 1
