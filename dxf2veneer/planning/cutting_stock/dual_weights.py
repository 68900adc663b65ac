"""Weights of parts on a grid of lengths: the heaviest panel by them, and the lightest run.

They are what ``dual_bound`` proves its bound with; the proof stands there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import BOUND_IN, DUAL_GRID_STEPS
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes, RunEnds, is_one_corner_piece

_HUGE = 1e9

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

    @property
    def longest(self) -> float:
        """The longest run of its kind: its own."""
        return self.length

    @classmethod
    def of(cls, run: RunEnds, sizes: PanelSizes) -> Ends | None:
        """A run looked at; None where two finished ends are too near for two pieces."""
        left, right = run.left == "corner", run.right == "corner"
        length = math.floor(run.length * 1e6) / 1e6 - BOUND_IN
        is_both = left and right
        least, longest = sizes.least, sizes.longest_corner + 2.0 * BOUND_IN
        if is_both and (length < 2.0 * least or 2.0 * longest < length < 3.0 * least):
            return None
        alone = left != right
        beside = is_both or (alone and not is_one_corner_piece(run, sizes))
        return cls(length, left, right, alone, beside)


@dataclass(frozen=True)
class Grid:
    """Lengths in steps of the grid; sizes rounded so that more fits."""

    step: float
    panel: int
    corner: int
    kerf: int
    least: int
    longest: int
    """Longest corner piece."""
    reach: int
    """Longest run."""

    @classmethod
    def of(cls, sizes: PanelSizes, longest_run: float) -> Grid:
        """The grid of a saw cut, where that is no finer than it has to be."""
        is_coarse = sizes.kerf > 0.0 and sizes.panel / sizes.kerf <= DUAL_GRID_STEPS
        step = sizes.kerf if is_coarse else sizes.panel * 2.0 / DUAL_GRID_STEPS

        def up(length: float) -> int:
            return math.ceil(length / step - 1e-6)

        def down(length: float) -> int:
            return math.floor(length / step + 1e-6)

        panel, corner = up(sizes.panel), up(sizes.corner)
        kerf, least = down(sizes.kerf), down(sizes.least)
        longest = corner - kerf - least
        return cls(step, panel, corner, kerf, least, longest, max(panel, up(longest_run) + 1))


FIRST, LAST, LONE, LEFT, RIGHT, PARTED = range(6)
"""Kinds of weights: flat parts whose right end, or left end, is in a joint; lone flat parts; corner
pieces of either hand; and the price of a parted corner of a bay, whatever the length."""
BESIDE = {LEFT: FIRST, RIGHT: LAST}
"""The flat part that stands beside a corner piece of each hand."""
Parts = tuple[tuple[int, int], ...]
"""(kind of weight, steps) of each part of a panel or run."""


class Weights:
    """Weights of parts on the grid, the heaviest panels and the lightest runs by them."""

    def __init__(self, grid: Grid, values: Array) -> None:
        """``values`` has a row for each kind, a column for each number of steps."""
        self.grid, self.of = grid, values

    # ---------------------------------------------------------- panels

    def heaviest_flat(self) -> tuple[float, Parts]:
        """The heaviest set of parts that a flat panel can give."""
        g, room = self.grid, self.grid.panel + self.grid.kerf
        best, last = self.filled
        sizes = np.concatenate([[-g.kerf], np.arange(g.least, g.panel + 1)])  # none, or a part
        first, last_one = (
            np.concatenate([[0.0], self.of[kind, g.least : g.panel + 1]]) for kind in (FIRST, LAST)
        )
        left = room - (sizes[:, None] + sizes[None, :] + 2 * g.kerf)
        total = first[:, None] + last_one[None, :] + best[np.maximum(left, 0)]
        total[left < 0] = -1.0
        i, j = np.unravel_index(int(np.argmax(total)), total.shape)
        parts = [(kind, int(sizes[k])) for kind, k in ((FIRST, i), (LAST, j)) if k]
        c = int(left[i, j])
        while c > 0 and best[c] > 0.0:
            if last[c]:
                parts.append((LONE, int(last[c])))
            c -= int(last[c]) + g.kerf if last[c] else 1
        return float(total[i, j]), tuple(parts)

    @cached_property
    def filled(self) -> tuple[Array, Steps]:
        """The heaviest lone parts within so many steps of a panel, a cut behind each.

        Also the last part, 0 for none.
        """
        g, room = self.grid, self.grid.panel + self.grid.kerf
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
        return lightest_sums(self.of[FIRST], self.of[LAST], g.least, g.panel)

    @cached_property
    def corners(self) -> tuple[Array, Steps]:
        """The lightest corner pieces of both hands that make so many steps, and the left one."""
        g = self.grid
        return lightest_sums(self.of[LEFT], self.of[RIGHT], g.least, g.longest)

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
                return ((FIRST, int(first[x])), (LAST, x - int(first[x]))), whole
        return (), 0

    def run(self, kind: Ends, steps: int) -> tuple[Parts, int]:
        """Parts and whole panels of the lightest division of a run of so many steps."""
        g = self.grid
        hands = [h for h, there in ((LEFT, kind.left), (RIGHT, kind.right)) if there]
        if not hands:
            return self.flat(steps) if steps >= g.least else ((), 0)
        best: float = _HUGE
        found: tuple[Parts, int] = ((), 0)
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


def lightest_sums(one: Array, other: Array, low: int, high: int) -> tuple[Array, Steps]:
    """For each sum of two parts the lightest pair.

    Args:
        one: Weights of the first part by its steps.
        other: Weights of the second.
        low: Steps of the least part.
        high: Steps of the longest.

    Returns:
        By the steps of both together what they weigh, huge where there are none, and the first
        part's steps.
    """
    value = np.full(2 * high + 1, _HUGE)
    first = np.zeros(2 * high + 1, dtype=np.int64)
    for total in range(2 * low, 2 * high + 1):
        a, b = max(low, total - high), min(high, total - low)
        tried = one[a : b + 1] + other[total - b : total - a + 1][::-1]
        k = int(np.argmin(tried))
        value[total], first[total] = tried[k], a + k
    return value, first
