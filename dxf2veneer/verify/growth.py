"""How much longer end pieces can be cut, all of them at once (rule L27).

    panel F7   |==== part ====|~ spare ~|= part =|     both parts share what is spare

A run that is longer than drawn takes the difference off the panels of its two end pieces. Runs are
given what they need in turn; one that shares a panel with an earlier run may send that to its other
end, and so on (augmenting paths). What a run gets in full it keeps, so that all runs that have
their length can be longer at once.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, JUDGE_LENGTH_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.verify.plan.cover import behind_of
from dxf2veneer.verify.plan.runs import JudgedRun, LaidPart

_FAR = 60
"""How many panels a path goes through at most."""

_End = tuple[int, int]
"""An end piece: the position of its run, and 0 at its left or 1 at its right."""


class Ends(NamedTuple):
    """The pieces of a run that take up errors: at its left, at its right, one where both are."""

    left: LaidPart
    right: LaidPart

    @property
    def is_one(self) -> bool:
        """Whether one piece takes up the errors of both ends."""
        return self.left is self.right


def ends_of(run: JudgedRun) -> Ends:
    """The pieces of a run that take up errors.

    Args:
        run: A run with its pieces.

    Returns:
        Its first and last flat piece; of a run without flat ones its first and last corner piece.
    """
    flats = [one for one in run.laid if one.unit == "flat"] or run.laid
    return Ends(flats[0], flats[-1])


class Growth:
    """What end pieces may be cut longer, by run: at its left, and at its right."""

    def __init__(self, runs: Sequence[JudgedRun], job: Job, product: Product) -> None:
        """The runs; how far edges may be off, saw cut and bays of the job; the panels."""
        off, kerf = job.plan.tolerance, job.plan.kerf
        self._off, self._product = off, product
        self._most = {"flat": product.panel.length, "corner": product.longest_corner_piece(kerf)}
        self._ends = [ends_of(run) for run in runs]
        self._given: dict[_End, float] = defaultdict(float)
        self._users: dict[str, list[_End]] = defaultdict(list)
        for i, ends in enumerate(self._ends):
            for side, one in enumerate(ends[: 2 - ends.is_one]):
                self._users[one.stock].append((i, side))
        self._spare = self._spares(runs, job)
        self._has_room = [self._fill(i) for i in range(len(runs))]

    def of(self, i: int) -> tuple[float, float] | None:
        """What the end pieces of a run may be cut longer in all of the runs at once; None where
        that is less than both its ends may be off."""
        return (self._given[i, 0], self._given[i, 1]) if self._has_room[i] else None

    def _spares(self, runs: Sequence[JudgedRun], job: Job) -> dict[str, float]:
        """What each panel has left beside its parts."""
        parts: dict[str, list[LaidPart]] = defaultdict(list)
        behind: dict[str, float] = defaultdict(float)
        for run in runs:
            for one in run.laid:
                parts[one.stock].append(one)
                behind[one.stock] += sum(behind_of(run, one, job, self._product))
        whole = {"flat": self._product.panel.length, "corner": self._product.corner.length}
        return {
            stock: whole[own[0].unit]
            - math.fsum(one.length for one in own)
            - job.plan.kerf * (len(own) - 1)
            - behind[stock]
            for stock, own in parts.items()
        }

    def _room(self, end: _End) -> float:
        """What an end piece may be longer still, for its own length."""
        one = self._ends[end[0]][end[1]]
        return self._most[one.unit] - one.length - self._given[end]

    def _fill(self, i: int) -> bool:
        """Give a run what it needs, as far as can be what each of its ends may be off; whether it
        got all."""
        sides = range(2 - self._ends[i].is_one)
        need = 2.0 * self._off
        for side in sides:
            need -= self._give((i, side), min(need, 2.0 * self._off / len(sides)))
        need -= sum([self._give((i, side), need) for side in sides])
        if need > EXACT_IN:
            need -= self._win(i, need, set(), _FAR)
        if need <= JUDGE_LENGTH_IN:
            return True
        for side in sides:
            self._spare[self._ends[i][side].stock] += self._given.pop((i, side), 0.0)
        return False

    def _give(self, end: _End, wanted: float) -> float:
        """Give an end piece of what its panel has left; how much."""
        stock = self._ends[end[0]][end[1]].stock
        given = max(0.0, min(wanted, self._room(end), self._spare[stock]))
        self._given[end] += given
        self._spare[stock] -= given
        return given

    def _win(self, i: int, wanted: float, seen: set[str], far: int) -> float:
        """Give a run of what others have of its panels, who get it elsewhere; how much."""
        won = 0.0
        for side in range(2 - self._ends[i].is_one):
            stock = self._ends[i][side].stock
            if stock in seen:
                continue
            won += self._give((i, side), wanted - won)
            seen.add(stock)
            for other in self._users[stock] if far else ():
                ask = min(wanted - won, self._given[other], self._room((i, side)))
                if other[0] != i and ask > EXACT_IN:
                    found = self._win(other[0], ask, seen, far - 1)
                    self._given[other] -= found
                    self._given[i, side] += found
                    won += found
        return won
