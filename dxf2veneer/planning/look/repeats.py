"""Courses that repeat the one two below: where no run alone can leave the line, two are moved.

| 20 |   36   |   36   | 14 |        a run that repeats, which its neighbors keep where it is:
   | 8 |   36   |   36   | 26 |      one of them goes elsewhere,
| 20 |   36   |   36   | 14 |        and then the run may
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    LOOK_PANEL_COST,
    LOOK_REPEAT_COST,
    LOOK_REPEAT_STEP_IN,
    LOOK_REPEAT_TRIES,
)
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.look.quiet import Quiet, above_levels


class Lively(Quiet):
    """A plan in which no course is to repeat the one two below."""

    def part_repeats(self, most: int) -> None:
        """Move one or two runs wherever a course repeats the one two below, if that makes fewer
        patterns and as many panels are enough. Runs at a miter stay: moved one by one they would
        part pairs that come from one panel (L13)."""
        first = {
            j: i
            for i in self.moved
            for j in (i, *self.twins.get(i, ()))
            if "mitre" not in (self.laid[j].run.left, self.laid[j].run.right)
        }
        for i in range(len(self.laid)):
            if not self.pattern.repeats(i):
                continue
            for k in dict.fromkeys(first[j] for j in (i, *self.pattern.below(i)) if j in first):
                if self._part(k, first, most):
                    break

    def _part(self, i: int, first: dict[int, int], most: int) -> bool:
        """Move a run, alone or with one beside it; whether that made fewer patterns."""
        beside = dict.fromkeys(first[j] for j in self._near[i] if j in first)
        if self._is_moved((i,), self._alone(i), most):
            return True
        return any(self._is_moved((i, j), self._both(i, j), most) for j in beside if j != i)

    def _is_moved(
        self, runs: tuple[int, ...], ways: Iterator[tuple[Division, ...]], most: int
    ) -> bool:
        """Put runs to the ways that cost least; whether one costs less than now."""
        now = tuple(self.divisions[i] for i in runs)
        begun = self.panels
        best, least = now, self._cost(runs, begun) - EXACT_IN
        for way in ways:
            if (cost := self._cost(runs, begun)) < least:
                best, least = way, cost
        self._stand(runs, best)
        if best != now and self.pairing().panels > most:
            self._stand(runs, now)
            return False
        return best != now

    def _stand(self, runs: tuple[int, ...], divisions: tuple[Division, ...]) -> None:
        for i, division in zip(runs, divisions, strict=True):
            self.stand(i, division)

    def _alone(self, i: int) -> Iterator[tuple[Division, ...]]:
        """The ways of a run, put there one by one."""
        for division in list(itertools.islice(self._ways(i), LOOK_REPEAT_TRIES)):
            self.stand(i, division)
            yield (division,)

    def _both(self, i: int, j: int) -> Iterator[tuple[Division, ...]]:
        """The ways of a run that it has once the other is elsewhere, put there one by one."""
        now = self.divisions[i]
        for other in list(itertools.islice(self._ways(j), LOOK_REPEAT_TRIES)):
            self.stand(i, now)
            self.stand(j, other)
            for (division,) in self._alone(i):
                yield division, other

    def _ways(self, i: int) -> Iterator[Division]:
        """Places for the joints of a run, from that with the fewest patterns on, each well apart
        from those before."""
        choices = self._choices_of(i)
        if choices is None:
            return
        ((_, places),) = choices.places
        costs = self.patterns(i, places)
        levels = self.flat.most, self.corner.most
        costs += LOOK_PANEL_COST * (
            above_levels((self.flat, self.corner), choices.parts, levels) > EXACT_IN
        )
        seen: list[Division] = []
        for k in np.argsort(np.round(costs, 6), kind="stable").tolist():
            if not choices.is_open[k]:
                continue
            division = places.division(k)
            if any(_is_near(division, other) for other in (*seen, self.divisions[i])):
                continue
            if all([self._is_allowed(j, division) for j in (i, *self.twins.get(i, ()))]):
                seen.append(division)
                yield division

    def _cost(self, runs: tuple[int, ...], begun: int) -> float:
        """What the patterns about some runs cost, and panels more."""
        about = {j for i in runs for k in (i, *self.twins.get(i, ())) for j in self._about(k)}
        patterns = sum(self.patterns(i, self.unmoved(i))[0] for i in runs)
        repeats = sum(self.pattern.repeats(j) for j in about)
        return float(
            patterns + LOOK_REPEAT_COST * repeats + LOOK_PANEL_COST * (self.panels - begun)
        )

    def _about(self, i: int) -> tuple[int, ...]:
        return (i, *self.pattern.second[i])


def _is_near(one: Division, other: Division) -> bool:
    """Whether all joints of two ways to lay a run are about where they are in the other."""
    pairs = zip(
        (one.left, one.first, one.right), (other.left, other.first, other.right), strict=True
    )
    return all(abs(a - b) < LOOK_REPEAT_STEP_IN for a, b in pairs)
