"""The strongest bound: weights of parts, found by linear programming, that no panel can exceed.

**Theorem.** Give every part of length x a weight: ``first(x)`` for a flat part that keeps its
panel's right end, in a joint with the next piece, ``last(x)`` for one that keeps the left end,
``lone(x)`` for a flat part that is a run or stretch by itself, ``left(x)`` and ``right(x)`` for
corner pieces, 1 for a whole panel. If no set of parts that one panel can give weighs more than 1,
then a job needs at least as many panels as the least weight of its runs, each run divided in the
lightest way. (Weigh the parts of any layout: every run weighs at least its least, every panel at
most 1.) The weights are the duals of the cutting-stock problem.

**Rules kept**: a joint of flat pieces has two factory ends, and a panel, which can't be turned
round, one of each hand (L9); no piece is shorter than the least unless its run is (L4); a corner
piece leaves a piece on the other side of its cut (L4); a corner panel gives one left-hand and one
right-hand piece (L5); every corner end of a run has its corner piece (L6 to L8); a column's run is
one corner piece (L12); of the mitres that are given no more than so many have their two sides from
two panels (L13), and joints of two given courses keep the stagger (L3, ``dual_stacks``). **Rules
dropped**: other staggers (L3), cuts that vary and halves that differ (L4), other mitres (L13),
offcuts that stay on their wall, and the widths of what is too narrow. Dropping a rule lets more
layouts in, so that the bound only gets smaller: it stays true.

**Grid.** Weights are piecewise linear with corners on a grid. A panel's heaviest set of parts is
then found on the grid: of two parts off their grid points one can be lengthened and the other
shortened, one way or the other not making the sum lighter, until one of them is on it; the last
then is too, because panel and saw cut are on the grid. Likewise the lightest division of a run of
length m is a concave function of m between two grid points, so that it weighs no less than the
straight line between their lightest divisions. Lengths that are not on the grid are rounded so that
more fits.

The linear program is solved by adding constraints that its last solution breaks. Whatever it ends
with, the weights are divided by the heaviest panel before they count: a rounding error or an early
stop makes the bound smaller, never false.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    BOUND_IN,
    DUAL_EFFORT,
    DUAL_INWARD,
    DUAL_INWARD_STACKS,
    DUAL_KINDS,
    DUAL_PRICE,
    DUAL_ROUNDING,
    DUAL_ROUNDS,
)
from dxf2veneer.planning.cutting_stock.dual_rows import MitredRow, RowWeights, is_possible
from dxf2veneer.planning.cutting_stock.dual_stacks import Stack, StackWeights
from dxf2veneer.planning.cutting_stock.dual_weights import (
    FIRST,
    LAST,
    LEFT,
    LONE,
    PARTED,
    RIGHT,
    Array,
    Ends,
    Grid,
    Parts,
    Weights,
)
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes, RunEnds


def dual_bound(
    runs: Iterable[RunEnds],
    sizes: PanelSizes,
    *,
    known: int,
    enough: int,
    stacks: Iterable[Sequence[Sequence[RunEnds]]] = (),
    parted: int = 0,
) -> int:
    """Flat and corner panels together that no layout of the runs can do without.

    Args:
        runs: Every run of the job.
        sizes: Lengths of panels, saw cut and least piece.
        known: A bound that is proved already.
        enough: A bound that is as good as any: the panels of a plan.
        stacks: One or two courses, from the bottom up, of runs that meet at a bay's mitres, from
            left to right, none of them among the others. Two courses have equal runs, and their
            joints are to keep the stagger.
        parted: How many of their mitres may have their two sides from two panels.

    Returns:
        The bound, ``known`` where no better one is found.
    """
    if known >= enough:
        return known
    counts: Counter[Kind] = Counter(_ends(runs, sizes))
    for stack in stacks:
        counts.update(_kinds(stack, sizes, parted))
    if not counts or len(counts) > DUAL_KINDS:
        return known
    grid = Grid.of(sizes, max(kind.longest for kind in counts))
    rounds = min(DUAL_ROUNDS, DUAL_EFFORT // len(counts))
    return _Program(grid, counts, sizes, parted).solve(known, enough, rounds)


Kind = Ends | MitredRow | Stack
_TURNED = {FIRST: LAST, LAST: FIRST}


def _kinds(stack: Sequence[Sequence[RunEnds]], sizes: PanelSizes, parted: int) -> Iterator[Kind]:
    """A stack as the bound looks at it: off the grid as rows, and those as runs where a corner may
    be parted; as runs where a side at a mitre may stand beside a corner piece, both its ends cut,
    because its panel then has an end free that the stack does not see."""
    longest = sizes.longest_corner + sizes.panel + 2.0 * BOUND_IN
    for row in stack:
        for run, end in ((row[0], row[0].left), (row[-1], row[-1].right)):
            if end == "corner" and run.length <= longest:
                yield from (kind for own in stack for kind in _ends(own, sizes))
                return
    if (kind := Stack.of(stack)).is_on_grid(sizes):
        yield kind
        return
    for row in stack:
        mitred = MitredRow.of(row)
        if not parted and is_possible(mitred, sizes):
            yield mitred
        else:
            yield from _ends(row, sizes)


def _ends(runs: Iterable[RunEnds], sizes: PanelSizes) -> Iterator[Ends]:
    """The runs as the bound looks at them, without those that are left out."""
    return (kind for kind in (Ends.of(run, sizes) for run in runs) if kind is not None)


class _Program:
    """The linear program over the weights, with constraints added as they are broken.

    Columns: the weight of each kind and number of steps from the least piece on, then the weight of
    each kind of run. Rows: a longer part weighs no less; no panel more than 1; a run no more than
    each of its divisions. The sum over the runs is to be the greatest.
    """

    def __init__(
        self, grid: Grid, counts: Mapping[Kind, int], sizes: PanelSizes, parted: int
    ) -> None:
        """The program with the rows that every job has."""
        import highspy  # heavy: most plans meet a bound by formula, and never come here

        self.kinds, self.sizes, self.parted = list(counts), sizes, parted
        self.numbers = np.array([float(counts[k]) for k in self.kinds])
        self.grid = g = grid
        limits = (g.panel, g.panel, g.panel, g.longest, g.longest)
        self.first: list[int] = [0]
        for limit in limits:
            self.first.append(self.first[-1] + limit - g.least + 1)
        new_solver: Any = highspy.Highs  # it has no types
        self.solver: Any = new_solver()
        self.solver.setOptionValue("output_flag", False)
        self.solver.setOptionValue("threads", 1)
        width, count = self.first[-1], len(self.kinds)
        most = np.ones(width)
        most[self.first[LONE] : self.first[LONE + 1]] = float(self._has_lone())
        self.solver.addVars(width, np.zeros(width), most)
        self.solver.addVars(count, np.zeros(count), np.full(count, float(g.reach)))
        columns = np.arange(width, width + count, dtype=np.int32)
        self.solver.changeColsCost(count, columns, -self.numbers)
        self.price = width + count
        self.solver.addVars(1, np.zeros(1), np.full(1, DUAL_PRICE))
        self.solver.changeColCost(self.price, float(parted))
        self.tied = [
            self._row({self._column(FIRST, n): 1.0, self._column(LAST, n): -1.0}, 0.0, 0.0)
            for n in range(g.least, g.panel + 1)
        ]
        for kind, limit in enumerate(limits):
            for n in range(g.least, limit):
                self._row({self._column(kind, n): 1.0, self._column(kind, n + 1): -1.0}, 0.0)
        for n in range(g.least, g.panel + 1):
            beside = g.panel - g.kerf - n
            self._panel(((FIRST, n), (LAST, beside)) if beside >= g.least else ((FIRST, n),))
            for kind in (FIRST, LAST):
                self._panel(((kind, n), (LONE, beside)) if beside >= g.least else ((kind, n),))
            self._panel(((LONE, n),) * max(1, (g.panel + g.kerf) // (n + g.kerf)))
        for n in range(g.least, g.longest + 1):
            self._panel(((LEFT, n), (RIGHT, max(g.least, g.corner - g.kerf - n))))

    def solve(self, known: int, enough: int, rounds: int) -> int:
        """The greatest bound found within so many rounds; ``enough`` ends them.

        At first parts of either hand weigh the same, which is soon solved and often enough; then
        as many rounds again each by itself.

        Constraints are looked for at the program's optimum and half-way to the best weights so far,
        where they cut off more; with stacks, which take time, a third of that way alone.
        """
        center = self._by_length()
        has_stacks = any(isinstance(kind, Stack) for kind in self.kinds)
        shares = (DUAL_INWARD_STACKS,) if has_stacks else (DUAL_INWARD, 0.0)
        best = max(float(known), self._tried(center))
        for _ in range(2):
            for _ in range(rounds):
                go_on()
                optimum, promised = self._optimum()
                if min(enough, _whole(promised)) <= _whole(best):
                    break
                for share in shares:
                    proven = self._tried(share * center + (1.0 - share) * optimum)
                    if proven > best:
                        best, center = proven, self.scaled
            for row in self.tied:
                self.solver.changeRowBounds(row, -math.inf, math.inf)
        return max(known, _whole(best))

    def _has_lone(self) -> bool:
        """Whether a flat part may be a run or stretch by itself: else such parts weigh nothing."""
        longest = self.grid.panel + 2 * self.grid.longest
        return self.parted > 0 or any(
            not isinstance(kind, Stack)
            or min(kind.lengths[0], kind.lengths[-1]) <= longest * self.grid.step
            for kind in self.kinds
        )

    def _by_length(self) -> Array:
        """Weights by length: a part and a cut in a panel and a cut."""
        g = self.grid
        sizes = np.arange(max(g.panel, g.longest) + 1) + g.kerf
        flat, corner = sizes / (g.panel + g.kerf), sizes / (g.corner + g.kerf)
        lone = flat * self._has_lone()
        weights: Array = np.minimum(1.0, np.array([flat, flat, lone, corner, corner, 0.0 * flat]))
        return weights

    def _tried(self, values: Array) -> float:
        """The bound that weights prove; the panels and divisions that they break become rows."""
        weights = Weights(self.grid, values)
        heaviest = 1.0
        for weight, parts in (weights.heaviest_flat(), weights.heaviest_corner()):
            heaviest = max(heaviest, weight)
            if weight > 1.0 + 1e-9:
                self._panel(parts)
                if len({FIRST, LAST} & {kind for kind, _ in parts}) == 2:
                    self._panel(tuple((_TURNED.get(kind, kind), n) for kind, n in parts))
        self.scaled = values / heaviest
        scaled = Weights(self.grid, self.scaled) if heaviest > 1.0 else weights
        stacks = StackWeights(scaled, self.sizes, may_part=self.parted > 0)
        of = scaled, RowWeights(scaled, self.sizes), stacks
        price = self.parted * float(scaled.of[PARTED, 0])
        return math.fsum(n * self._least(i, *of) for i, n in enumerate(self.numbers)) - price

    def _least(
        self, number: int, weights: Weights, rows: RowWeights, stacks: StackWeights
    ) -> float:
        """The least weight of a run, row or stack; its division becomes a row of the program."""
        kind = self.kinds[number]
        if isinstance(kind, Ends):
            return self._run(number, kind, weights)
        division = stacks.lightest(kind) if isinstance(kind, Stack) else rows.lightest(kind)
        if division is None:
            return 0.0
        row = {self.first[-1] + number: 1.0, self.price: -float(division.parted)}
        for sign, parts in ((-1.0, division.parts), (1.0, division.fills)):
            for k, n in parts:
                column = self._column(k, n)
                row[column] = row.get(column, 0.0) + sign
        self._row(row, float(division.panels))
        return division.weight

    def _run(self, number: int, kind: Ends, weights: Weights) -> float:
        """The least weight of a run, between the grid points round its length."""
        at = kind.length / self.grid.step
        low = math.floor(at + 1e-6)
        share = max(0.0, at - low)
        row = {self.first[-1] + number: 1.0}
        light = whole = 0.0
        for steps, part in ((low, 1.0 - share), (low + 1, share)):
            if part > 1e-9:
                parts, panels = weights.run(kind, steps)
                light += part * math.fsum(float(weights.of[k, n]) for k, n in parts)
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

    def _row(self, row: Mapping[int, float], limit: float, low: float = -math.inf) -> int:
        """A new row; its number."""
        columns, factors = np.array(list(row), dtype=np.int32), np.array(list(row.values()))
        self.solver.addRow(low, limit, len(row), columns, factors)
        return int(self.solver.getNumRow()) - 1

    def _optimum(self) -> tuple[Array, float]:
        """The best weights under the rows so far, and the bound they promise."""
        self.solver.run()
        found = np.array(self.solver.getSolution().col_value)
        values = np.zeros((6, max(self.grid.panel, self.grid.longest) + 1))
        values[PARTED] = found[self.price]
        for kind, (a, b) in enumerate(pairwise(self.first)):
            values[kind, self.grid.least : self.grid.least + b - a] = found[a:b]
        return values, -float(self.solver.getInfo().objective_function_value)


def _whole(panels: float) -> int:
    """Whole panels, rounding forgiven."""
    return math.ceil(panels - DUAL_ROUNDING)
