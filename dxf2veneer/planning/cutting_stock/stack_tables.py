"""What stacks of a bay's courses weigh, run by run from their left end: tables by what the panel at
each mitre holds (``dual_stacks``)."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.planning.cutting_stock.dual_weights import (
    BESIDE,
    FIRST,
    LAST,
    LEFT,
    LONE,
    PARTED,
    RIGHT,
    Array,
    Weights,
    lightest_sums,
)
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes

HUGE = 1e9
PIECE = -1
"""A run that is one piece; other ways to divide it are known by their whole panels."""
Way = int


class Stage(NamedTuple):
    """A run of the stack: the tables before it by how each course goes on there, and after it."""

    steps: int
    """Its length."""
    loose: frozenset[int]
    """What a panel at its right end holds in which one-piece runs come first: it has an end
    free."""
    before: dict[tuple[bool, ...], list[Array]]
    """By whether the run is one piece in each course: the table as one course after the other goes
    on."""
    after: Array


class StackTables:
    """Tables of what stacks weigh by the weights of parts."""

    def __init__(self, weights: Weights, sizes: PanelSizes, *, may_part: bool) -> None:
        """Of weights on a grid; sizes as they are; whether a corner may be parted."""
        g = self._grid = weights.grid
        self._of = weights.of
        self._fill, self._last = weights.filled
        self._price, self._may_part = float(weights.of[PARTED, 0]), may_part
        self._stagger = round(sizes.stagger / g.step)
        self._closed = g.panel + 1
        self._ends = {kind: self._masked(kind) for kind in (FIRST, LAST)}
        self._size = np.arange(g.panel + 1)

    def _masked(self, kind: int) -> Array:
        """Weights of flat parts, huge for what none is as long as."""
        g = self._grid
        found = np.full(g.panel + 1, HUGE)
        found[g.least :] = self._of[kind, g.least : g.panel + 1]
        return found

    @cached_property
    def _fills(self) -> dict[tuple[int, ...], tuple[Array, NDArray[np.int64]]]:
        """By the parts with a factory end for which a panel has an end free what fills up so many
        steps of it at most, and the length of the last of those parts, 0 for none."""
        g = self._grid
        none = np.zeros(len(self._fill), dtype=np.int64)
        found: dict[tuple[int, ...], tuple[Array, NDArray[np.int64]]] = {(): (self._fill, none)}
        for ends in ((FIRST,), (LAST,), (FIRST, LAST)):
            before = found[ends[:-1]][0]
            best, part = before.copy(), np.zeros(len(before), dtype=np.int64)
            for n in range(g.least, g.panel + 1):
                rooms = np.arange(n + g.kerf, len(best))
                tried = self._of[ends[-1], n] + before[rooms - n - g.kerf]
                at = tried > best[rooms]
                best[rooms[at]], part[rooms[at]] = tried[at], n
            found[ends] = best, part
        return found

    def _loose(self, m: int, before: frozenset[int]) -> frozenset[int]:
        """What a panel at the right end of a run may hold in which one-piece runs come first."""
        own = m + self._grid.kerf
        return frozenset(n for n in (m, *(n + own for n in before)) if n <= self._grid.panel)

    @cached_property
    def _levels(self) -> list[tuple[int, float]]:
        """(how long both sides may be together, what their panel weighs then), lightest first."""
        g = self._grid
        both = np.arange(2 * g.least, g.panel - g.kerf + 1)
        weight = 1.0 - self._fill[g.panel - g.kerf - both]
        ends = np.append(np.flatnonzero(np.diff(weight) > 0.0), len(both) - 1)
        return [(int(both[i]), float(weight[i])) for i in ends]

    # ------------------------------------------------------------ along the stack

    # ------------------------------------------------------------ along the stack

    @staticmethod
    def _hands(corners: Sequence[bool], hand: int) -> list[int]:
        """By course the kind of part at an outer end: a corner piece, or a flat part."""
        return [hand if there else BESIDE[hand] for there in corners]

    def _end_ways(self, m: int, corners: Sequence[bool], hand: int) -> list[list[Way]]:
        """By course the ways to divide an outer run."""
        found = []
        for own in self._hands(corners, hand):
            ways = [
                w for w in range(m // self._grid.panel + 1) if self._rest(m, w, own).min() < HUGE
            ]
            found.append([*ways, *([PIECE] if own not in BESIDE and m <= self._grid.panel else [])])
        return found

    def _rest(self, m: int, way: Way, hand: int) -> Array:
        """By the length of its side what the rest of an outer run weighs, whole panels counted."""
        table = self._beside(hand) if hand in BESIDE else self._ends[hand]
        rest = m - way * self._grid.panel - self._size
        is_there = (rest >= 0) & (rest < len(table)) & (self._size >= self._grid.least)
        if way and hand in BESIDE:
            return np.where(is_there, self._pairs(hand)[rest.clip(0, len(table) - 1)] + way, HUGE)
        return np.where(is_there, table[rest.clip(0, len(table) - 1)] + way, HUGE)

    def _pairs(self, hand: int) -> Array:
        """The lightest corner piece and first part that make so many steps."""
        return self._corner_tables[hand][0]

    def _beside(self, hand: int) -> Array:
        """The same, or the corner piece alone."""
        g, pairs = self._grid, self._pairs(hand)
        found = pairs.copy()
        found[g.least : g.longest + 1] = np.minimum(
            found[g.least : g.longest + 1], self._of[hand, g.least : g.longest + 1]
        )
        return found

    @cached_property
    def _corner_tables(self) -> dict[int, tuple[Array, NDArray[np.int64]]]:
        g = self._grid
        found = {}
        for hand in (LEFT, RIGHT):
            corner = np.full(self._of.shape[1], HUGE)
            corner[g.least : g.longest + 1] = self._of[hand, g.least : g.longest + 1]
            ends = np.full(self._of.shape[1], HUGE)
            ends[: g.panel + 1] = self._ends[BESIDE[hand]]
            found[hand] = lightest_sums(corner, ends, g.least, max(g.longest, g.panel))
        return found

    def _outer(
        self,
        m: int,
        ways: Sequence[Way],
        hands: Sequence[int],
        loose: frozenset[int] | None = None,
    ) -> Array:
        """What an outer run weighs by the lengths of its sides in all courses; huge where joints
        stand near. At the right end, one-piece runs end their panels, some of them loose."""
        n = len(ways)
        found = self._near(ways) if n == 2 else np.zeros(self._closed)
        for axis, (way, hand) in enumerate(zip(ways, hands, strict=True)):
            if way == PIECE and loose is not None:
                own = self._closing(m, loose)
            elif way == PIECE:
                own = np.where(self._size == m, 0.0, HUGE)
            else:
                own = self._rest(m, way, hand)
            found = found + own.reshape([-1 if k == axis else 1 for k in range(n)])
        return np.minimum(found, HUGE)

    def _near(self, ways: Sequence[Way]) -> Array:
        """Huge where joints of the one course stand nearer than the stagger to those of the
        other."""
        found = np.zeros((self._closed, self._closed))
        if PIECE not in ways:
            apart = self._size[:, None] - self._size[None, :]
            for n in range(-ways[1], ways[0] + 1):
                found[np.abs(apart + n * self._grid.panel) < self._stagger] = HUGE
        return found

    def _at_left(self, m: int, corners: Sequence[bool]) -> Array:
        """The runs at the stack's left end."""
        hands = self._hands(corners, LEFT)
        found = np.full((self._closed,) * len(hands), HUGE)
        for ways in itertools.product(*self._end_ways(m, corners, LEFT)):
            found = np.minimum(found, self._outer(m, ways, hands))
        return found

    def _closing(self, m: int, loose: frozenset[int]) -> Array:
        """What the panel at a run's right end weighs, by its length there, if nothing is to share
        it."""
        room = self._grid.panel - self._size
        found = np.where(self._size < m, self._ends[LAST], 1.0 - self._fills[FIRST,][0][room])
        for n in loose:
            found[n] = self._of[LONE, n] if n == m else 1.0 - self._fills[FIRST, LAST][0][room[n]]
        return found

    def _with_parted(self, m: int, loose: frozenset[int], table: Array) -> Array:
        """The table with one more place in each course: its corner there is parted."""
        for axis in range(table.ndim):
            own = self._closing(m, loose).reshape(
                [-1 if k == axis else 1 for k in range(table.ndim)]
            )
            closed = (table + own).min(axis=axis, keepdims=True)
            closed = closed + self._price if self._may_part else np.full_like(closed, HUGE)
            table = np.concatenate([table, closed], axis=axis)
        return np.minimum(table, HUGE)

    def _along(self, before: Stage, m: int, courses: int) -> Stage:
        """A run between two mitres."""
        tables = self._tables(before, m, courses)
        found = np.full((self._closed,) * courses, HUGE)
        every = [w for w in range(m // self._grid.panel + 1) if len(self._sides(m, w)[0])]
        for ways in itertools.product(
            [*every, *([PIECE] if m <= self._grid.panel else [])], repeat=courses
        ):
            own = [self._sides(m, w) for w in ways]
            before_it, after_it = np.ix_(*(a for a, _ in own)), np.ix_(*(b for _, b in own))
            weight = tables[tuple(w == PIECE for w in ways)][-1][before_it] + sum(
                max(0, w) for w in ways
            )
            if courses == 2:
                weight = weight + self._near(ways)[before_it]
            found[after_it] = np.minimum(found[after_it], weight)
        loose = self._loose(m, before.loose)
        return Stage(m, loose, tables, self._with_parted(m, loose, found))

    def _sides(self, m: int, way: Way) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """The lengths that the first side of a run may have, and those of the last one then."""
        if way == PIECE:
            return self._size, self._size
        g = self._grid
        last = m - way * g.panel - self._size
        first = self._size[(self._size >= g.least) & (last >= g.least) & (last <= g.panel)]
        return first, m - way * g.panel - first

    def _tables(self, before: Stage, m: int, courses: int) -> dict[tuple[bool, ...], list[Array]]:
        """The tables at the next run's left end, by which courses have one piece there."""
        found: dict[tuple[bool, ...], list[Array]] = {(): [before.after]}
        for axis in range(courses):
            longer = {}
            for pieces, tables in found.items():
                moved = np.moveaxis(tables[-1], axis, 0)
                met = np.moveaxis(self._met(moved, before.loose), 0, axis)
                longer[*pieces, False] = [*tables, met]
                if m <= self._grid.panel:
                    piece = np.moveaxis(self._as_piece(moved, m), 0, axis)
                    longer[*pieces, True] = [*tables, piece]
            found = longer
        return found

    def _met(self, table: Array, loose: frozenset[int]) -> Array:
        """By the length of the side after a mitre the lightest with what is before it."""
        g, held = self._grid, sorted(loose)
        upright = [-1, *[1] * (table.ndim - 1)]
        found: Array = np.full((self._closed, *table.shape[1:]), HUGE)
        sides = table[: self._closed].copy()
        sides[held] = HUGE
        lightest = np.minimum.accumulate(sides, axis=0)
        for most, weight in self._levels:
            at = np.arange(g.least, most - g.least + 1)
            found[at] = np.minimum(found[at], lightest[most - at] + weight)
        for n in held:
            at = np.arange(g.least, g.panel - g.kerf - n + 1)
            own = 1.0 - self._fills[LAST,][0][g.panel - g.kerf - n - at]
            found[at] = np.minimum(found[at], table[n] + own.reshape(upright))
        parted = table[self._closed] + self._ends[FIRST].reshape(upright)
        found = np.minimum(np.minimum(found, parted), HUGE)
        return found

    def _as_piece(self, table: Array, m: int) -> Array:
        """By what the panel of a one-piece run holds with it the lightest with what is before."""
        found = np.full((self._closed, *table.shape[1:]), HUGE)
        own = min(m + self._grid.kerf, self._closed)
        found[own:] = table[: self._closed - own]
        found[m] = table[self._closed]
        return found

    # ------------------------------------------------------------ and back
