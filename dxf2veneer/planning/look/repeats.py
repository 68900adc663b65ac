"""Courses that repeat the one two below: where no run alone can leave the line, two are moved.

| 20 |   36   |   36   | 14 |        a run that repeats, which its neighbors keep where it is:
   | 8 |   36   |   36   | 26 |      one of them goes elsewhere,
| 20 |   36   |   36   | 14 |        and then the run may
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    LOOK_PAIR_COST,
    LOOK_PANEL_COST,
    LOOK_REPEAT_COST,
    LOOK_REPEAT_STEP_IN,
    LOOK_REPEAT_TRIES,
)
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.balancing.moves import Choices
from dxf2veneer.planning.look.quiet import Quiet, above_levels

Runs = tuple[int, ...]
"""A run by its position, or a row of runs that meet at mitres."""


class Lively(Quiet):
    """A plan in which no course is to repeat the one two below."""

    def part_repeats(self, most: int) -> None:
        """Move one or two runs wherever a course repeats the one two below, if that makes fewer
        patterns and as many panels are enough. Runs that meet at mitres are moved together: one by
        one they would part pairs that lie side by side (L13)."""
        groups = {i: (i,) for i in self.moved} | {i: tuple(row) for row in self.rows for i in row}
        first = {j: groups[i] for i in self.moved for j in (i, *self.twins.get(i, ()))}
        tried: set[Runs] = set()
        for i in range(len(self.laid)):
            if not self.pattern.repeats(i):
                continue
            for runs in dict.fromkeys(first[j] for j in (i, *self.pattern.below(i)) if j in first):
                if runs not in tried and self._part(runs, first, most):
                    tried.clear()
                    break
                tried.add(runs)

    def _part(self, runs: Runs, first: Mapping[int, Runs], most: int) -> bool:
        """Move a run or row, alone or with one beside it; whether that made fewer patterns."""
        beside = dict.fromkeys(first[j] for i in runs for j in self._near[i] if j in first)
        if self._is_moved(runs, self._alone(runs), most):
            return True
        return any(
            self._is_moved((*runs, *other), self._both(runs, other), most)
            for other in beside
            if not set(other) & set(runs)
        )

    def _is_moved(self, runs: Runs, ways: Iterator[tuple[Division, ...]], most: int) -> bool:
        """Put runs to the ways that cost least and part no mitred pair more; whether one costs less
        than now."""
        now = tuple(self.divisions[i] for i in runs)
        begun, apart = self.panels, self._apart(runs)
        best, least = now, self._cost(runs, begun) - EXACT_IN
        for way in ways:
            if self._apart(runs) <= apart and (cost := self._cost(runs, begun)) < least:
                best, least = way, cost
        self._stand(runs, best)
        if best != now and self.pairing().panels > most:
            self._stand(runs, now)
            return False
        return best != now

    def _stand(self, runs: Runs, divisions: tuple[Division, ...]) -> None:
        for i, division in zip(runs, divisions, strict=True):
            self.stand(i, division)

    def _alone(self, runs: Runs) -> Iterator[tuple[Division, ...]]:
        """The ways of a run or row, put there one by one."""
        for divisions in list(itertools.islice(self._ways(runs), LOOK_REPEAT_TRIES)):
            self._stand(runs, divisions)
            yield divisions

    def _both(self, runs: Runs, others: Runs) -> Iterator[tuple[Division, ...]]:
        """The ways of a run or row that it has once the other is elsewhere, put there one by
        one."""
        now = tuple(self.divisions[i] for i in runs)
        for other in list(itertools.islice(self._ways(others), LOOK_REPEAT_TRIES)):
            self._stand(runs, now)
            self._stand(others, other)
            for divisions in self._alone(runs):
                yield *divisions, *other

    def _ways(self, runs: Runs) -> Iterator[tuple[Division, ...]]:
        """Places for the joints of a run or row, from that with the fewest patterns on, each well
        apart from those before."""
        levels = self.flat.most, self.corner.most
        found: list[tuple[float, int, tuple[Division, ...]]] = []
        for choices in self._choices_for(runs):
            costs = self.flaws_at(choices)
            costs += LOOK_PANEL_COST * (
                above_levels((self.flat, self.corner), choices.parts, levels) > EXACT_IN
            )
            for k in np.argsort(np.round(costs, 6), kind="stable").tolist():
                if choices.is_open[k]:
                    own = {i: places.division(k) for i, places in choices.places}
                    division = tuple(own.get(i, self.divisions[i]) for i in runs)
                    found.append((round(float(costs[k]), 6), len(found), division))
        found.sort()
        seen = [tuple(self.divisions[i] for i in runs)]
        for _, _, divisions in found:
            if not any(_are_near(divisions, others) for others in seen) and all(
                self._is_allowed(j, division)
                for i, division in zip(runs, divisions, strict=True)
                for j in (i, *self.twins.get(i, ()))
            ):
                seen.append(divisions)
                yield divisions

    def _choices_for(self, runs: Runs) -> Iterator[Choices]:
        """The places of a run, or of a row moved from each of its runs to both sides."""
        if len(runs) == 1:
            found = [self._choices_of(runs[0])]
        else:
            parts = [(runs[n:], -1.0) for n in range(len(runs))]
            parts += [(runs[n::-1], 1.0) for n in range(len(runs))]
            found = [self._pushed(part, sign) for part, sign in parts]
        yield from (choices for choices in found if choices)

    def _cost(self, runs: Runs, begun: int) -> float:
        """What the patterns about some runs cost, and panels more."""
        about = {j for i in runs for k in (i, *self.twins.get(i, ())) for j in self._about(k)}
        patterns = sum(self.patterns(i, self.unmoved(i))[0] for i in runs)
        repeats = sum(self.pattern.repeats(j) for j in about)
        return float(
            patterns
            + LOOK_REPEAT_COST * repeats
            + LOOK_PANEL_COST * (self.panels - begun)
            + LOOK_PAIR_COST * self._apart(runs)
        )

    def _about(self, i: int) -> tuple[int, ...]:
        return (i, *self.pattern.second[i])


def _are_near(ones: Sequence[Division], others: Sequence[Division]) -> bool:
    """Whether all joints of two ways to lay runs are about where they are in the other."""
    return all(
        abs(a - b) < LOOK_REPEAT_STEP_IN
        for one, other in zip(ones, others, strict=True)
        for a, b in zip(
            (one.left, one.first, one.right), (other.left, other.first, other.right), strict=True
        )
    )
