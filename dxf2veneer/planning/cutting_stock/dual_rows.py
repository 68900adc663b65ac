"""Rows of runs that meet at a bay's mitres, as the strongest bound looks at them (rule L13).

     wall A                face B               wall C
    | first | whole | a \\ / b | whole | c \\ / d | last |        a + saw cut + b <= panel

Both sides of a mitre come from one panel. It weighs 1, less what lone parts weigh at most that fit
beside them, since both ends of the panel are taken; rows are not looked at in which a side may
stand beside a corner piece, both its ends cut (``dual_bound``). So the lightest division of a row
is the cheapest way along it, from mitre to mitre: a state for each length of the side that comes
next (dynamic programming).

**Grid.** A row whose lengths all lie on the grid has a lightest division on it: with the grid cell
of each part fixed, the weight is linear; and each length is in two sums at most, that of its run
and that of its panel, one after the other along the row, so that the matrix of the sums is one of
consecutive ones, the corners of what it allows are whole numbers. Other rows are looked at with all
lengths rounded down to the grid: lighter parts, in more room; their sums are then less than a step
for each part below the run's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from dxf2veneer.planning.cutting_stock.dual_weights import (
    BESIDE,
    FIRST,
    LAST,
    LEFT,
    LONE,
    RIGHT,
    Array,
    Grid,
    Parts,
    Steps,
    Weights,
    lightest_sums,
)
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes, RunEnds

_HUGE = 1e9
_ON_GRID = 1e-5


class MitredRow(NamedTuple):
    """Runs that meet at mitres, from left to right: their lengths, and whether corner pieces stand
    at the outer ends."""

    lengths: tuple[float, ...]
    left: bool
    right: bool

    @classmethod
    def of(cls, runs: Sequence[RunEnds]) -> MitredRow:
        """A row looked at."""
        lengths = tuple(round(run.length, 6) for run in runs)
        return cls(lengths, runs[0].left == "corner", runs[-1].right == "corner")

    @property
    def longest(self) -> float:
        """Length of its longest run."""
        return max(self.lengths)


class Division(NamedTuple):
    """The lightest division of a row: its parts, those that fill up the panels of its mitres, and
    its panels, whole and mitred ones; and what it weighs."""

    parts: Parts
    fills: Parts
    panels: int
    weight: float
    parted: int = 0
    """Corners whose two sides come from two panels."""


class _Sides(NamedTuple):
    """The lightest way to each length of a side at a mitre: what the row weighs up to there, and
    how it came there."""

    weight: Array
    kind: Steps
    """The way that the run is divided, one of those below."""
    other: Steps
    """Length of what stands at its other end; before one piece what its panel held till then."""
    whole: Steps


def is_possible(row: MitredRow, sizes: PanelSizes) -> bool:
    """Whether a row can be laid with both sides of each mitre out of one panel.

    False for rows with an outer run that may be one piece: beside it a panel keeps an end free.

    Args:
        row: The row.
        sizes: Lengths of panels, saw cut and least piece.

    Returns:
        Whether it can, the stagger left out.
    """
    grid = Grid.of(sizes, row.longest)
    alone = sizes.panel - sizes.kerf - sizes.least
    ends = (row.left, row.lengths[0]), (row.right, row.lengths[-1])
    if any(not corner and length <= alone + grid.step for corner, length in ends):
        return False
    none = np.zeros((5, max(grid.panel, grid.longest) + 1))
    return RowWeights(Weights(grid, none), sizes).lightest(row) is not None


_ALONE, _CORNER, _ROW, _CORNER_ROW, _FACE, _PIECE = range(6)
"""Ways to divide a run. At a row's end: the side alone, a corner piece beside it, a first part, or
both; between two mitres: another side, or one piece."""


class RowWeights:
    """The lightest divisions of rows by the weights of parts."""

    def __init__(self, weights: Weights, sizes: PanelSizes) -> None:
        """Of weights on a grid; sizes as they are."""
        g = self._grid = weights.grid
        self._of, self._sizes = weights.of, sizes
        self._fill, self._last = weights.filled
        self._most = g.panel - g.kerf - g.least
        """The longest that a side may be, or all sides of a panel but the last."""
        self._ends = {kind: self._masked(kind, g.panel) for kind in (FIRST, LAST)}
        self._of_hand: dict[int, tuple[Array, Steps]] = {}

    def _masked(self, kind: int, longest: int) -> Array:
        """Weights of a kind of part, huge for what no part is as long as."""
        found = np.full(self._of.shape[1], _HUGE)
        found[self._grid.least : longest + 1] = self._of[kind, self._grid.least : longest + 1]
        return found

    def lightest(self, row: MitredRow) -> Division | None:
        """The lightest division; None for a row that has none."""
        is_exact = self._is_on_grid(row)
        hands = LEFT if row.left else FIRST, RIGHT if row.right else LAST
        taken = [self._at_end(row.lengths[0], hands[0], is_exact)]
        joined: list[tuple[Array, Steps]] = []
        for length in row.lengths[1:-1]:
            joined.append(self._joined(taken[-1]))
            taken.append(self._between(length, taken[-1], joined[-1][0], is_exact))
        joined.append(self._joined(taken[-1]))
        last = self._at_end(row.lengths[-1], hands[1], is_exact)
        total = joined[-1][0] + last.weight
        side = int(np.argmin(total))
        if total[side] >= _HUGE:
            return None
        return self._division(side, (last, hands[1]), taken, hands[0], joined)

    def _is_on_grid(self, row: MitredRow) -> bool:
        """Whether no length of the row or its panels needs rounding."""
        s, step = self._sizes, self._grid.step
        lengths = (*row.lengths, s.panel, s.corner, s.kerf, s.least)
        return all(abs(x / step - round(x / step)) < _ON_GRID for x in lengths)

    def _sums(self, length: float, parts: int, is_exact: bool) -> range:
        """What so many parts make together in steps, when their lengths are rounded down."""
        low = math.floor(length / self._grid.step + _ON_GRID)
        return range(low - (0 if is_exact else parts - 1), low + 1)

    # ------------------------------------------------------------ along the row

    def _at_end(self, length: float, hand: int, is_exact: bool) -> _Sides:
        """The run at a row's end, by the length of its side at the mitre; ``hand`` is the kind of
        part that stands at its outer end."""
        found = self._none()
        is_plain = hand in self._ends
        if is_plain:
            for s in self._sums(length, 1, is_exact):
                self._try(found, np.array([0.0]), s, _ALONE)
        else:
            for s in self._sums(length, 2, is_exact):
                self._try(found, self._corner(hand), s, _CORNER)
        table, kind = (self._ends[hand], _ROW) if is_plain else (self._pairs(hand)[0], _CORNER_ROW)
        for whole in range(int(length / self._sizes.panel) + 1):
            rest = length - whole * self._sizes.panel
            for s in self._sums(rest, 2 if is_plain else 3, is_exact):
                self._try(found, table, s, kind, whole)
        return found

    def _between(self, length: float, before: _Sides, joined: Array, is_exact: bool) -> _Sides:
        """A face between two mitres: its side at the next one, or what its one piece fills."""
        found = self._none()
        for whole in range(int(length / self._sizes.panel) + 1):
            for s in self._sums(length - whole * self._sizes.panel, 2, is_exact):
                self._try(found, joined, s, _FACE, whole)
        for s in self._sums(length, 1, is_exact):
            own = s + self._grid.kerf
            if own <= self._most:
                sides = np.arange(own, self._most + 1)
                lighter = before.weight[sides - own] < found.weight[sides]
                at = sides[lighter]
                found.weight[at], found.kind[at] = before.weight[at - own], _PIECE
                found.other[at], found.whole[at] = at - own, 0
        return found

    def _none(self) -> _Sides:
        n = self._most + 1
        zero = np.zeros((3, n), dtype=np.int64)
        return _Sides(np.full(n, _HUGE), zero[0], zero[1], zero[2])

    def _try(self, found: _Sides, table: Array, total: int, kind: int, whole: int = 0) -> None:
        """Take what is lighter: a side and, by the table, what makes up the total beside it."""
        sides = np.arange(self._grid.least, self._most + 1)
        other = total - sides
        is_there = (other >= 0) & (other < len(table))
        weight = np.where(is_there, table[other.clip(0, len(table) - 1)] + whole, _HUGE)
        at = sides[weight < found.weight[sides]]
        found.weight[at], found.kind[at] = weight[at - self._grid.least], kind
        found.other[at], found.whole[at] = total - at, whole

    def _joined(self, taken: _Sides) -> tuple[Array, Steps]:
        """By the length of the next side the least weight with the panel of the mitre, and what
        that panel held before."""
        left = self._grid.panel - self._grid.kerf - np.add.outer(*[np.arange(self._most + 1)] * 2)
        total = taken.weight[:, None] + 1.0 - self._fill[left.clip(0)]
        total[left < 0] = _HUGE
        total[:, : self._grid.least] = _HUGE
        best = total.argmin(axis=0)
        return np.minimum(total.min(axis=0), _HUGE), best

    def _corner(self, hand: int) -> Array:
        return self._masked(hand, self._grid.longest)

    def _pairs(self, hand: int) -> tuple[Array, Steps]:
        """The lightest corner piece and first part that make so many steps; the corner piece."""
        if hand not in self._of_hand:
            g = self._grid
            longest = max(g.longest, g.panel)
            found = lightest_sums(self._corner(hand), self._ends[BESIDE[hand]], g.least, longest)
            self._of_hand[hand] = found
        return self._of_hand[hand]

    # ------------------------------------------------------------ and back

    def _division(
        self,
        side: int,
        end: tuple[_Sides, int],
        taken: Sequence[_Sides],
        hand: int,
        joined: Sequence[tuple[Array, Steps]],
    ) -> Division:
        """The parts of the lightest way, from its last side back."""
        parts, panels = self._end_parts(end[0], side, end[1])
        fills: Parts = ()
        for n in range(len(joined) - 1, -1, -1):
            if side >= 0:  # a mitre's panel: what it held before, and what fills it up
                held = int(joined[n][1][side])
                fills += self._fillers(self._grid.panel - self._grid.kerf - held - side)
                panels += 1
            else:
                held = -side
            if n == 0:
                own, whole = self._end_parts(taken[0], held, hand)
                parts, panels = parts + own, panels + whole
            elif taken[n].kind[held] == _PIECE:
                side = -int(taken[n].other[held])
            else:
                side, panels = int(taken[n].other[held]), panels + int(taken[n].whole[held])
        of = self._of
        weight = panels + math.fsum(
            [*(float(of[p]) for p in parts), *(-float(of[p]) for p in fills)]
        )
        return Division(parts, fills, panels, weight)

    def _end_parts(self, sides: _Sides, side: int, hand: int) -> tuple[Parts, int]:
        """The parts of a run at the row's end beside its side at the mitre, and whole panels."""
        kind, other = int(sides.kind[side]), int(sides.other[side])
        whole = int(sides.whole[side])
        if kind == _ALONE or hand in self._ends:
            return (((hand, other),) if kind == _ROW else ()), whole
        if kind == _CORNER:
            return ((hand, other),), whole
        corner = int(self._pairs(hand)[1][other])
        return ((hand, corner), (BESIDE[hand], other - corner)), whole

    def _fillers(self, room: int) -> Parts:
        """The lone parts that fill up so many steps."""
        found = []
        while room > 0 and self._fill[room] > 0.0:
            if self._last[room]:
                found.append((LONE, int(self._last[room])))
            room -= int(self._last[room]) + self._grid.kerf if self._last[room] else 1
        return tuple(found)
