"""The strongest bound: weights of parts that no panel can carry more than one of, found by linear programming.

**Theorem.** Give every part of length x a weight: ``end(x)`` for a flat part that keeps a factory
end in a joint, ``lone(x)`` for a flat part that is a run or stretch by itself, ``left(x)`` and
``right(x)`` for corner pieces, 1 for a whole panel. If no set of parts that one panel can give
weighs more than 1, then a job needs at least as many panels as the least weight of its runs, each
run divided in the lightest way. (Weigh the parts of any layout: every run weighs at least its
least, every panel at most 1.) The weights are the duals of the cutting-stock problem.

**Rules kept**: a joint of flat pieces has two factory ends (L9); no piece is shorter than the least
unless its run is (L4); a corner piece leaves a piece on the other side of its cut (L4); a corner
panel gives one left-hand and one right-hand piece (L5); every corner end of a run has its corner
piece (L6 to L8); a column's run is one corner piece (L12). **Rules dropped**: stagger (L3), cuts that
vary and halves that differ (L4), mitres out of one panel (L13), offcuts that stay on their wall, and
the widths of what is too narrow. Dropping a rule lets more layouts in, so that the bound only gets
smaller: it stays true.

**Grid.** Weights are piecewise linear with corners on a grid. A panel's heaviest set of parts is then
found on the grid: of two parts off their grid points one can be lengthened and the other shortened,
one way or the other not making the sum lighter, until one of them is on it; the last then is too,
because panel and saw cut are on the grid. Likewise the lightest division of a run of length m is a
concave function of m between two grid points, so that it weighs no less than the straight line
between their lightest divisions. Lengths that are not on the grid are rounded so that more fits.

The linear program is solved by adding constraints that its last solution breaks. Whatever it ends
with, the weights are divided by the heaviest panel before they count: a rounding error or an early
stop makes the bound smaller, never false.
"""

from __future__ import annotations

import dataclasses
import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

_HUGE = 1e9
_INWARD = 0.5
"""How far toward the best weights so far new constraints are looked for."""
_ROUNDING = 1e-6
"""A bound that is this little over a whole number of panels is that number."""

Array = NDArray[np.float64]
Steps = NDArray[np.int64]


class Ends(NamedTuple):
    """A run as far as the bound looks at it."""

    length: float
    left: bool
    """Whether a corner piece stands at its left end."""
    right: bool
    alone: bool
    """Whether one corner piece may fill it."""
    beside: bool
    """Whether a flat piece may stand beside the corner piece (or pieces)."""


@dataclass(frozen=True)
class _Grid:
    """Lengths in steps of the grid; sizes rounded so that more fits."""

    step: float
    panel: int
    corner: int
    kerf: int
    least: int
    longest: int
    """Longest corner piece."""
    reach: int = 0
    """Longest run."""

    @classmethod
    def of(cls, panel: float, corner: float, kerf: float, least: float) -> _Grid:
        step = kerf if kerf > 0.0 and panel / kerf <= 600 else panel / 288.0

        def up(length: float) -> int:
            return math.ceil(length / step - 1e-6)

        def down(length: float) -> int:
            return math.floor(length / step + 1e-6)

        return cls(step, up(panel), up(corner), down(kerf), down(least), up(corner - kerf - least))


END, LONE, LEFT, RIGHT = range(4)
"""Kinds of weights: flat parts with an end in a joint, lone flat parts, corner pieces of either hand."""
Parts = tuple[tuple[int, int], ...]
"""(kind of weight, steps) of each part of a panel or run."""


def least_panels(
    runs: Iterable[Ends],
    *,
    panel: float,
    corner: float,
    kerf: float,
    least: float,
    known: int = 0,
    rounds: int = 60,
) -> int:
    """Flat and corner panels together that no layout of the runs can do without.

    Args:
        runs: Every run of the job.
        panel: Length of a flat panel, in inches.
        corner: Length of a corner panel, in inches.
        kerf: Width of a saw cut, in inches.
        least: Length of the least piece, in inches.
        known: A bound that is proved already; what can't be better than it is not looked for.
        rounds: How often constraints are added at most.

    Returns:
        The bound, ``known`` where no better one is found.
    """
    counts = Counter(r._replace(length=math.floor(r.length * 1e6) / 1e6) for r in runs)
    if not counts:
        return known
    program = _Program(_Grid.of(panel, corner, kerf, least), counts)
    return program.solve(known, rounds)


class _Weights:
    """Weights of parts on the grid, the heaviest panels and the lightest runs by them."""

    def __init__(self, grid: _Grid, values: Array) -> None:
        """``values`` has a row for each kind, a column for each number of steps."""
        self.grid, self.of = grid, values

    # ---------------------------------------------------------- panels

    def heaviest_flat(self) -> tuple[float, Parts]:
        """The heaviest set of parts that a flat panel can give."""
        g, room = self.grid, self.grid.panel + self.grid.kerf
        best, last = self._filled(room)
        sizes = np.concatenate([[-g.kerf], np.arange(g.least, g.panel + 1)])  # none, or a part
        own = np.concatenate([[0.0], self.of[END, g.least : g.panel + 1]])
        left = room - (sizes[:, None] + sizes[None, :] + 2 * g.kerf)
        total = own[:, None] + own[None, :] + best[np.maximum(left, 0)]
        total[left < 0] = -1.0
        i, j = np.unravel_index(int(np.argmax(total)), total.shape)
        parts = [(END, int(sizes[k])) for k in (i, j) if k]
        c = int(left[i, j])
        while c > 0 and best[c] > 0.0:
            if last[c]:
                parts.append((LONE, int(last[c])))
            c -= int(last[c]) + g.kerf if last[c] else 1
        return float(total[i, j]), tuple(parts)

    def _filled(self, room: int) -> tuple[Array, Steps]:
        """The heaviest lone parts within so many steps, a cut behind each; the last part, 0 for none."""
        g = self.grid
        best, last = np.zeros(room + 1), np.zeros(room + 1, dtype=np.int64)
        sizes = np.arange(g.least, g.panel + 1)
        weights = self.of[LONE, g.least : g.panel + 1]
        for c in range(g.least + g.kerf, room + 1):
            n = c - g.least - g.kerf + 1
            tried = weights[:n] + best[c - g.kerf - sizes[:n]]
            k = int(np.argmax(tried))
            best[c], last[c] = (tried[k], sizes[k]) if tried[k] > best[c - 1] else (best[c - 1], 0)
        return best, last

    def heaviest_corner(self) -> tuple[float, Parts]:
        """The heaviest pair of pieces that a corner panel can give."""
        g = self.grid
        sizes = np.arange(g.longest + 1)
        left, right = (
            np.where(sizes >= g.least, self.of[k, : g.longest + 1], 0.0) for k in (LEFT, RIGHT)
        )
        most = np.maximum.accumulate(right)
        beside = np.where(sizes >= g.least, g.corner - g.kerf - sizes, g.longest).clip(0, g.longest)
        total = left + most[beside]
        i = int(np.argmax(total))
        j = int(np.argmax(right[: beside[i] + 1]))
        return float(total[i]), tuple((k, n) for k, n in ((LEFT, i), (RIGHT, j)) if n >= g.least)

    # ------------------------------------------------------------ runs

    @cached_property
    def pairs(self) -> tuple[Array, Steps]:
        """The lightest first and last part that make so many steps together, and the first."""
        g = self.grid
        return _lightest_sums(self.of[END], self.of[END], g.least, g.panel)

    @cached_property
    def corners(self) -> tuple[Array, Steps]:
        """The lightest corner pieces of both hands that make so many steps together, and the left one."""
        g = self.grid
        return _lightest_sums(self.of[LEFT], self.of[RIGHT], g.least, g.longest)

    @cached_property
    def flats(self) -> Array:
        """The weight of the lightest division of a flat stretch of so many steps; huge for none."""
        g, (pair, _) = self.grid, self.pairs
        value = np.full(g.reach + 1, _HUGE)
        value[g.least : g.panel + 1] = self.of[LONE, g.least : g.panel + 1]
        for whole in range(g.reach // g.panel + 1):
            at = whole * g.panel
            n = min(len(pair), g.reach + 1 - at)
            value[at : at + n] = np.minimum(value[at : at + n], whole + pair[:n])
        return value

    def flat(self, steps: int) -> tuple[Parts, int]:
        """Parts and whole panels of that division."""
        g, (pair, first) = self.grid, self.pairs
        value = self.flats[steps]
        if g.least <= steps <= g.panel and self.of[LONE, steps] <= value:
            return ((LONE, steps),), 0
        for whole in range(steps // g.panel + 1):
            x = steps - whole * g.panel
            if x < len(pair) and whole + pair[x] <= value + 1e-12:
                return ((END, int(first[x])), (END, x - int(first[x]))), whole
        return (), 0

    def run(self, kind: Ends, steps: int) -> tuple[Parts, int]:
        """Parts and whole panels of the lightest division of a run of so many steps."""
        g = self.grid
        hands = [h for h, there in ((LEFT, kind.left), (RIGHT, kind.right)) if there]
        if not hands:
            return self.flat(steps) if steps >= g.least else ((), 0)
        best, found = _HUGE, ((), 0)
        if kind.alone and g.least <= steps <= g.longest:
            best, found = float(self.of[hands[0], steps]), (((hands[0], steps),), 0)
        if not kind.beside:
            return found
        if len(hands) == 1:
            totals, pieces = (
                np.arange(g.least, g.longest + 1),
                self.of[hands[0], g.least : g.longest + 1],
            )
        else:
            pieces = self.corners[0][2 * g.least :]
            totals = np.arange(2 * g.least, 2 * g.least + len(pieces))
        rest = steps - totals
        flat = np.where(rest >= 0, self.flats[rest.clip(0)], _HUGE)
        flat[rest == 0] = 0.0 if len(hands) == 2 else _HUGE
        tried = pieces + flat
        k = int(np.argmin(tried))
        if tried[k] >= best:
            return found
        own = ((hands[0], int(totals[k])),) if len(hands) == 1 else self._split(int(totals[k]))
        parts, whole = self.flat(int(rest[k])) if rest[k] else ((), 0)
        return own + parts, whole

    def _split(self, total: int) -> Parts:
        left = int(self.corners[1][total])
        return (LEFT, left), (RIGHT, total - left)


def _lightest_sums(one: Array, other: Array, low: int, high: int) -> tuple[Array, Steps]:
    """For each sum of two parts from ``low`` to ``high`` steps the lightest pair, and the first of it."""
    value = np.full(2 * high + 1, _HUGE)
    first = np.zeros(2 * high + 1, dtype=np.int64)
    for total in range(2 * low, 2 * high + 1):
        a, b = max(low, total - high), min(high, total - low)
        tried = one[a : b + 1] + other[total - b : total - a + 1][::-1]
        k = int(np.argmin(tried))
        value[total], first[total] = tried[k], a + k
    return value, first


class _Program:
    """The linear program over the weights, with constraints added as they are broken.

    Columns: the weight of each kind and number of steps from the least piece on, then the weight of
    each kind of run. Rows: a longer part weighs no less; no panel more than 1; a run no more than
    each of its divisions. The sum over the runs is to be the greatest.
    """

    def __init__(self, grid: _Grid, counts: Mapping[Ends, int]) -> None:
        """The program with the rows that every job has."""
        import highspy

        self.kinds = list(counts)
        self.numbers = np.array([float(counts[k]) for k in self.kinds])
        longest = max(k.length for k in self.kinds)
        self.grid = g = dataclasses.replace(
            grid, reach=max(grid.panel, math.ceil(longest / grid.step) + 1)
        )
        limits = (g.panel, g.panel, g.longest, g.longest)
        self.first: list[int] = [0]
        for limit in limits:
            self.first.append(self.first[-1] + limit - g.least + 1)
        self.solver = highspy.Highs()
        self.solver.setOptionValue("output_flag", False)
        self.solver.setOptionValue("threads", 1)
        width, count = self.first[-1], len(self.kinds)
        self.solver.addVars(width, np.zeros(width), np.ones(width))
        self.solver.addVars(count, np.zeros(count), np.full(count, float(g.reach)))
        columns = np.arange(width, width + count, dtype=np.int32)
        self.solver.changeColsCost(count, columns, -self.numbers)
        self.added = 0
        for kind, limit in enumerate(limits):
            for n in range(g.least, limit):
                self._row({self._column(kind, n): 1.0, self._column(kind, n + 1): -1.0}, 0.0)
        for n in range(g.least, g.panel + 1):
            beside = g.panel - g.kerf - n
            self._panel(((END, n), (END, beside)) if beside >= g.least else ((END, n),))
            self._panel(((END, n), (LONE, beside)) if beside >= g.least else ((LONE, n),))
            self._panel(((LONE, n),) * max(1, (g.panel + g.kerf) // (n + g.kerf)))
        for n in range(g.least, g.longest + 1):
            self._panel(((LEFT, n), (RIGHT, max(g.least, g.corner - g.kerf - n))))

    def solve(self, known: int, rounds: int) -> int:
        """The greatest bound found within so many rounds.

        Constraints are looked for at the program's optimum and half-way to the best weights so far,
        where they cut off more.
        """
        center = self._by_length()
        best = max(float(known), self._tried(center))
        for _ in range(rounds):
            optimum, promised = self._optimum()
            if math.ceil(promised - _ROUNDING) <= math.ceil(best - _ROUNDING):
                break
            for share in (_INWARD, 0.0):
                values = share * center + (1.0 - share) * optimum
                proven = self._tried(values)
                if proven > best:
                    best, center = proven, self.scaled
        return max(known, math.ceil(best - _ROUNDING))

    def _by_length(self) -> Array:
        """Weights by length: a part and a cut in a panel and a cut."""
        g = self.grid
        sizes = np.arange(max(g.panel, g.longest) + 1) + g.kerf
        flat, corner = sizes / (g.panel + g.kerf), sizes / (g.corner + g.kerf)
        return np.minimum(1.0, np.array([flat, flat, corner, corner]))

    def _tried(self, values: Array) -> float:
        """The bound that weights prove; the panels and divisions that they break become rows."""
        weights = _Weights(self.grid, values)
        heaviest = 1.0
        for weight, parts in (weights.heaviest_flat(), weights.heaviest_corner()):
            heaviest = max(heaviest, weight)
            if weight > 1.0 + 1e-9:
                self._panel(parts)
        self.scaled = values / heaviest
        return math.fsum(n * self._run(i, weights, heaviest) for i, n in enumerate(self.numbers))

    def _run(self, number: int, weights: _Weights, heaviest: float) -> float:
        """The least weight of a run, between the grid points round its length; its divisions become a row."""
        kind = self.kinds[number]
        at = kind.length / self.grid.step
        low = math.floor(at + 1e-6)
        share = max(0.0, at - low)
        row = {self.first[-1] + number: 1.0}
        light = whole = 0.0
        for steps, part in ((low, 1.0 - share), (low + 1, share)):
            if part > 1e-9:
                parts, panels = weights.run(kind, steps)
                light += part * math.fsum(float(weights.of[k, n]) for k, n in parts) / heaviest
                whole += part * panels
                for k, n in parts:
                    column = self._column(k, n)
                    row[column] = row.get(column, 0.0) - part
        self._row(row, whole)
        return light + whole

    # ------------------------------------------------------- the solver

    def _column(self, kind: int, steps: int) -> int:
        return self.first[kind] + steps - self.grid.least

    def _panel(self, parts: Parts) -> None:
        row: dict[int, float] = {}
        for kind, steps in parts:
            column = self._column(kind, steps)
            row[column] = row.get(column, 0.0) + 1.0
        self._row(row, 1.0)

    def _row(self, row: Mapping[int, float], limit: float) -> None:
        columns, factors = np.array(list(row), dtype=np.int32), np.array(list(row.values()))
        self.solver.addRow(-math.inf, limit, len(row), columns, factors)

    def _optimum(self) -> tuple[Array, float]:
        """The best weights under the rows so far, and the bound they promise."""
        self.solver.run()
        found = np.array(self.solver.getSolution().col_value)
        values = np.zeros((4, max(self.grid.panel, self.grid.longest) + 1))
        for kind, (a, b) in enumerate(pairwise(self.first)):
            values[kind, self.grid.least : self.grid.least + b - a] = found[a:b]
        return values, -float(self.solver.getInfo().objective_function_value)
