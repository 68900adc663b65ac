"""Courses of a bay that follow one another, as the strongest bound looks at them (rules L3, L13).

    course i + 1   | first | whole | a \\ / b |     c \\ / d | whole | last |
    course i       | first | a \\ / b |  whole  | c \\ / d |  whole  |  last |     joints apart

Both sides of a mitre come from one panel. It weighs 1, less what other parts weigh at most that fit
beside them. A corner may be parted: then its sides weigh what such parts weigh, and the corner a
price. So with no more than N corners parted the stacks weigh at least their least, less N prices.

The lightest way along a stack goes from mitre to mitre: a state for the lengths of what its courses
have there (dynamic programming). Joints of a run in the one course and the other stand apart by the
stagger. **Dropped**: joints beside corner pieces. A panel that holds no side at one end, or at
neither, may hold other parts there (``loose``).

**Grid.** Every length is the distance between two places: joints, ends of runs, and where a panel's
fillers begin. So is every limit: what panels hold, how far joints stand apart. Hence with the grid
cell of each length fixed the lightest layout is a linear program over differences, whose corners
are whole numbers where all data are; only such stacks are looked at.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from dxf2veneer.planning.cutting_stock.dual_rows import Division
from dxf2veneer.planning.cutting_stock.dual_weights import (
    BESIDE,
    FIRST,
    LAST,
    LEFT,
    LONE,
    RIGHT,
    Array,
    Grid,
)
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes, RunEnds
from dxf2veneer.planning.cutting_stock.stack_tables import HUGE, PIECE, StackTables, Stage, Way

_ON_GRID = 1e-5
State = tuple[int, ...]
"""By course the length of what the panel at the right mitre holds; one more than a panel's where
that corner is parted."""


class Stack(NamedTuple):
    """One or two courses of runs that meet at mitres: the lengths of their runs from left to right,
    and by course whether corner pieces stand at the outer ends."""

    lengths: tuple[float, ...]
    left: tuple[bool, ...]
    right: tuple[bool, ...]

    @classmethod
    def of(cls, rows: Sequence[Sequence[RunEnds]]) -> Stack:
        """Rows of equal runs, from the bottom up, looked at."""
        lengths = tuple(round(run.length, 6) for run in rows[0])
        return cls(
            lengths,
            tuple(row[0].left == "corner" for row in rows),
            tuple(row[-1].right == "corner" for row in rows),
        )

    @property
    def longest(self) -> float:
        """Length of its longest run."""
        return max(self.lengths)

    def is_on_grid(self, sizes: PanelSizes) -> bool:
        """Whether no length needs rounding."""
        step = Grid.of(sizes, self.longest).step
        data = (*self.lengths, sizes.panel, sizes.corner, sizes.kerf, sizes.least, sizes.stagger)
        return all(abs(x / step - round(x / step)) < _ON_GRID for x in data)


class _Found:
    """What a way along a stack is made of, gathered on the way back."""

    def __init__(self) -> None:
        self.parts: list[tuple[int, int]] = []
        self.fills: list[tuple[int, int]] = []
        self.panels = self.parted = 0


class StackWeights(StackTables):
    """The lightest divisions of stacks by the weights of parts."""

    def lightest(self, stack: Stack) -> Division | None:
        """The lightest division; None for a stack that has none."""
        steps = [round(m / self._grid.step) for m in stack.lengths]
        loose = self._loose(steps[0], frozenset())
        first = self._with_parted(steps[0], loose, self._at_left(steps[0], stack.left))
        stages = [Stage(steps[0], loose, {}, first)]
        for m in steps[1:-1]:
            stages.append(self._along(stages[-1], m, len(stack.left)))
        last = self._tables(stages[-1], steps[-1], len(stack.left))
        loose = self._loose(steps[-1], stages[-1].loose)
        best: tuple[float, tuple[Way, ...], State] = (HUGE, (), ())
        for ways in itertools.product(*self._end_ways(steps[-1], stack.right, RIGHT)):
            table = last[tuple(w == PIECE for w in ways)][-1]
            table = table[(slice(self._closed),) * len(ways)] + self._outer(
                steps[-1], ways, self._hands(stack.right, RIGHT), loose
            )
            at = int(np.argmin(table))
            if table.flat[at] < best[0]:
                state = tuple(int(i) for i in np.unravel_index(at, table.shape))
                best = float(table.flat[at]), ways, state
        if best[0] >= HUGE:
            return None
        return self._back(stack, [*stages, Stage(steps[-1], loose, last, stages[-1].after)], best)

    def _back(
        self, stack: Stack, stages: Sequence[Stage], end: tuple[float, tuple[Way, ...], State]
    ) -> Division:
        """What the lightest way is made of, from its right end back."""
        found = _Found()
        _, ways, state = end
        right, left = self._hands(stack.right, RIGHT), self._hands(stack.left, LEFT)
        self._outer_parts(found, stages[-1], ways, right, state)
        for n in range(len(stages) - 1, 0, -1):
            state = self._undone(found, stages[n], ways, state, stages[n - 1])
            state = self._reopened(found, stages[n - 1], state)
            if n > 1:
                ways, state = self._chosen(stages[n - 1], state)
                found.panels += sum(max(0, w) for w in ways)
        m = stages[0].steps
        every = itertools.product(*self._end_ways(m, stack.left, LEFT))
        ways = min(every, key=lambda w: float(self._outer(m, w, left)[state]))
        self._outer_parts(found, stages[0], ways, left, state)
        parts, fills = tuple(found.parts), tuple(found.fills)
        return Division(parts, fills, found.panels, end[0], found.parted)

    def _outer_parts(
        self,
        found: _Found,
        stage: Stage,
        ways: Sequence[Way],
        hands: Sequence[int],
        state: State,
    ) -> None:
        """The parts of an outer run beside its sides at the mitre, and its whole panels."""
        for way, hand, side in zip(ways, hands, state, strict=True):
            if way == PIECE:
                if stage.before:
                    self._close(found, stage, side)
                continue
            found.panels += way
            rest = stage.steps - way * self._grid.panel - side
            if hand not in BESIDE:
                found.parts.append((hand, rest))
                continue
            pairs, first = self._corner_tables[hand]
            is_alone = not way and self._grid.least <= rest <= self._grid.longest
            if is_alone and self._of[hand, rest] <= pairs[rest]:
                found.parts.append((hand, rest))
            else:
                corner = int(first[rest])
                found.parts += [(hand, corner), (BESIDE[hand], rest - corner)]

    def _close(self, found: _Found, stage: Stage, held: int) -> None:
        """The panel at a run's right end, nothing to share it."""
        if held <= stage.steps:
            found.parts.append((LONE if held == stage.steps else LAST, held))
        else:
            found.panels += 1
            ends = (FIRST, LAST) if held in stage.loose else (FIRST,)
            self._fill_up(found, self._grid.panel - held, ends)

    def _fill_up(self, found: _Found, room: int, ends: tuple[int, ...]) -> None:
        """The parts that fill up so many steps of a panel; ``ends`` are those with a factory end
        that it has room for."""
        for n in range(len(ends), 0, -1):
            if part := int(self._fills[ends[:n]][1][room]):
                found.fills.append((ends[n - 1], part))
                room -= part + self._grid.kerf
        while room > 0 and self._fill[room] > 0.0:
            if self._last[room]:
                found.fills.append((LONE, int(self._last[room])))
            room -= int(self._last[room]) + self._grid.kerf if self._last[room] else 1

    def _undone(
        self, found: _Found, stage: Stage, ways: Sequence[Way], state: State, before: Stage
    ) -> State:
        """The state before a run, from that at its left end."""
        now = list(state)
        tables = stage.before[tuple(w == PIECE for w in ways)]
        for axis in range(len(ways) - 1, -1, -1):
            line = self._line(tables[axis], axis, now)
            if ways[axis] == PIECE:
                held = now[axis] - stage.steps - self._grid.kerf
                now[axis] = held if now[axis] > stage.steps else self._closed
            else:
                now[axis] = self._before_side(found, line, before.loose, now[axis])
        return tuple(now)

    def _before_side(self, found: _Found, line: Array, loose: frozenset[int], side: int) -> int:
        """What stood before the side after a mitre, and the panel of both."""
        room = self._grid.panel - self._grid.kerf - self._size - side
        weight = np.where(room >= 0, 1.0 - self._fill[room.clip(0)], HUGE)
        for n in loose:
            weight[n] = 1.0 - self._fills[LAST,][0][room[n]] if room[n] >= 0 else HUGE
        parted = line[self._closed] + self._ends[FIRST][side]
        total = np.append(line[: self._closed] + weight, parted)
        at = int(np.argmin(total))
        if at == self._closed:
            found.parts.append((FIRST, side))
        else:
            found.panels += 1
            self._fill_up(found, int(room[at]), (LAST,) if at in loose else ())
        return at

    @staticmethod
    def _line(table: Array, axis: int, state: Sequence[int]) -> Array:
        """The values of a table along an axis, the other courses being in a state."""
        found: Array = np.moveaxis(table, axis, 0)
        for n, held in enumerate(state):
            found = found if n == axis else found[:, held]
        return found

    def _reopened(self, found: _Found, stage: Stage, state: State) -> State:
        """The state with its parted corners' panels at the run's right end."""
        now = list(state)
        for axis in range(len(now) - 1, -1, -1):
            if now[axis] == self._closed:
                line = self._line(stage.after, axis, now)[: self._closed]
                now[axis] = int(np.argmin(line + self._closing(stage.steps, stage.loose)))
                found.parted += 1
                self._close(found, stage, now[axis])
        return tuple(now)

    def _chosen(self, stage: Stage, state: State) -> tuple[tuple[Way, ...], State]:
        """The ways that a run between two mitres is divided, and the state at its left end."""
        best: tuple[float, tuple[Way, ...], State] = (math.inf, (), ())
        least, ways = self._grid.least, range(stage.steps // self._grid.panel + 1)
        piece = [PIECE] if stage.steps <= self._grid.panel else []
        for own in itertools.product([*ways, *piece], repeat=len(state)):
            first = tuple(
                held if w == PIECE else stage.steps - w * self._grid.panel - held
                for w, held in zip(own, state, strict=True)
            )
            low = min([h for w, h in zip(own, state, strict=True) if w != PIECE], default=least)
            if low < least or not all(0 <= f <= self._grid.panel for f in first):
                continue
            weight = float(stage.before[tuple(w == PIECE for w in own)][-1][first])
            weight += sum(max(0, w) for w in own)
            weight += float(self._near(own)[first]) if len(own) == 2 else 0.0
            best = min(best, (weight, own, first))
        return best[1], best[2]
