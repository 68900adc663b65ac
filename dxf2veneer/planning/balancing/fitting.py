"""Exact lengths for parts whose panels are chosen: a linear program over the joints of all runs.

Each joint keeps the side of its neighbors that it is on, and each part its panel. What is wasted is
moved, from panel to panel along the runs, into panels that hold one part: there it takes no saw
cut.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, MITRE_REST_COST, NOTCH_IN, WHOLE_PANEL_IN
from dxf2veneer.planning.balancing.divided import Division, Key, lost_of
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.program import Program
from dxf2veneer.planning.relaying.sections import edges_of
from dxf2veneer.planning.relaying.ways import Name
from dxf2veneer.planning.sizes import LayingSizes

_OVER_COST = 1000.0
"""What an inch costs that parts are too long for their panel; wasted inches cost 1."""
_HAIR_IN = 4.0 * EXACT_IN
"""What rounded lengths of a panel's parts may be off together."""


class PanelParts(NamedTuple):
    """A panel that parts of moved runs share: those, and the length that others leave them."""

    keys: tuple[Key, ...]
    room: float
    """Their lengths together, cuts between them and beside the others taken off."""
    is_shared: bool
    """Whether it holds more than one part."""
    halves: float | None = None
    """Of a corner panel whose two pieces have to be unequal: the length of the one that stays, or 0
    if both may move."""
    is_mitred: bool = False
    """Whether its parts are both sides of a bay's mitre, which never come apart."""


class Joints(NamedTuple):
    """Joints that move together: their x now, and the parts that shift them."""

    xs: tuple[float, ...]
    terms: tuple[tuple[float, Key], ...]


class Fitting:
    """The program for the moved runs of a plan."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        divisions: Mapping[int, Division],
        twins: Mapping[int, Sequence[int]],
        near: Sequence[tuple[Sequence[Sequence[int]], float]],
        panels: Sequence[PanelParts],
        sizes: LayingSizes,
    ) -> None:
        """All rules as rows, for the runs of the divisions; ``twins`` are laid like them, ``near``
        are each run's neighbors, and how far their joints keep apart."""
        self._laid, self._divisions, self._sizes = laid, divisions, sizes
        self._program = Program()
        self._now: dict[Key, float] = {}
        self._column: dict[Key, int] = {}
        self._over: list[int] = []
        self._rests: dict[tuple[Key, ...], int] = {}
        shared = {key for panel in panels if panel.is_shared for key in panel.keys}
        first_of = {j: i for i, others in twins.items() for j in others}
        for i, division in divisions.items():
            self._divide(i, division, shared, first_of.get(i, i))
        for panel in panels:
            more = math.fsum(self._now[k] for k in panel.keys) - panel.room
            most = min(max(0.0, more), _HAIR_IN) if panel.is_mitred else sizes.panel
            over = self._program.column(0.0, most, cost=_OVER_COST)
            terms = [(1.0, self._column[k]) for k in panel.keys]
            self._program.row([*terms, (-1.0, over)], high=panel.room)
            self._over.append(over)
            if panel.is_mitred:
                self._join(panel, max(0.0, -more))
            if panel.halves is not None:
                self._unequal(panel.keys, panel.halves)
        joints = [self._joints(i) for i in range(len(laid))]
        for i in divisions:
            for beside, apart in near:
                self._keep_apart(i, beside[i], joints, apart)
            self._keep_from_notches(i, joints[i])
        self._vary()

    def _join(self, panel: PanelParts, now: float) -> None:
        """The sides of a mitre lie side by side in their panel, where they do so now; elsewhere
        what is between them costs."""
        most = now if now <= _HAIR_IN else self._sizes.panel
        rest = self._program.column(0.0, most, cost=MITRE_REST_COST)
        self._program.row([*[(1.0, self._column[k]) for k in panel.keys], (1.0, rest)], panel.room)
        self._rests[panel.keys] = rest

    def _divide(self, i: int, division: Division, shared: set[Key], first: int) -> None:
        """A column for each part of a run; together they make up its length. Those of the first of
        its likes, where it is laid like an earlier one."""
        sizes, m = self._sizes, self._laid[i].run.length
        parts = list(division.parts(m, sizes.panel))
        for name, length in parts:
            key = i, name
            if first != i:
                self._now[key], self._column[key] = length, self._column[first, name]
                continue
            most = sizes.longest_corner if name.startswith("corner") else sizes.panel
            most -= lost_of(self._laid, key)
            self._now[key] = length
            low, high = min(sizes.least, length), max(most, length)
            is_whole = length >= sizes.panel - WHOLE_PANEL_IN
            cost = -1.0 if key in shared or is_whole else 0.0
            self._column[key] = self._program.column(low, high, cost=cost)
        if first != i:
            return
        rest = m - division.whole * sizes.panel
        self._program.row([(1.0, self._column[i, name]) for name, _ in parts], rest, rest)

    def _joints(self, i: int) -> list[Joints]:
        """The joints of a run, by what shifts them."""
        one, division = self._laid[i], self._divisions.get(i)
        if division is None:
            return [Joints(tuple(one.joints), ())]
        xs = division.joints(one.run, self._sizes.panel)
        found = []
        left: tuple[tuple[float, Key], ...] = ()
        if division.left:
            left = ((1.0, (i, "corner left")),)
            found.append(Joints((xs.pop(0),), left))
        if division.right:
            found.append(Joints((xs.pop(),), ((-1.0, (i, "corner right")),)))
        if division.first:
            found.append(Joints(tuple(xs), (*left, (1.0, (i, "first")))))
        return found

    def _keep_apart(
        self, i: int, near: Sequence[int], joints: Sequence[Sequence[Joints]], apart: float
    ) -> None:
        """Joints of a run keep their sides of those of others."""
        others = [o for j in near if j < i or j not in self._divisions for o in joints[j]]
        for own, other in itertools.product(joints[i], others):
            self._beside(own, other, apart)

    def _keep_from_notches(self, i: int, joints: Sequence[Joints]) -> None:
        """Joints of a run keep their sides of openings."""
        for own, notch in itertools.product(joints, self._laid[i].run.notches):
            if any(abs(x - notch) <= NOTCH_IN for x in own.xs):
                self._shift(own, 0.0, 0.0)
            else:
                self._beside(own, Joints((notch,), ()), self._sizes.strip)

    def _beside(self, own: Joints, other: Joints, apart: float) -> None:
        """The nearest of two rows of joints stay apart, on either side."""
        gaps = [x - y for x in own.xs for y in other.xs]
        after = min((gap for gap in gaps if gap > 0.0), default=None)
        before = max((gap for gap in gaps if gap <= 0.0), default=None)
        terms = [*own.terms, *[(-f, key) for f, key in other.terms]]
        if after is not None:
            self._change(terms, low=min(0.0, apart - after))
        if before is not None:
            self._change(terms, high=max(0.0, -apart - before))

    def _shift(self, own: Joints, low: float, high: float) -> None:
        self._change(own.terms, low, high)

    def _change(
        self,
        terms: Sequence[tuple[float, Key]],
        low: float | None = None,
        high: float | None = None,
    ) -> None:
        """A sum of parts grows by so much at least, or at most."""
        now = sum([f * self._now[key] for f, key in terms])
        limits = {
            name: now + value for name, value in (("low", low), ("high", high)) if value is not None
        }
        self._program.row([(f, self._column[key]) for f, key in terms], **limits)

    def _vary(self) -> None:
        """Corner pieces that follow one another at an edge go on differing."""
        for (_, side, _), runs in edges_of(self._laid).items():
            name: Name = "corner left" if side == "left" else "corner right"
            for i, j in itertools.pairwise(runs):
                terms = [(f, (k, name)) for f, k in ((1.0, i), (-1.0, j)) if (k, name) in self._now]
                if not terms:
                    continue
                lengths = [
                    self._now.get((k, name), self._laid[k].lengths[0 if side == "left" else -1])
                    for k in (i, j)
                ]
                self._differ(terms, lengths[0] - lengths[1], self._sizes.vary)

    def _unequal(self, keys: Sequence[Key], other: float) -> None:
        """The two pieces of a corner panel go on differing."""
        terms = [(f, key) for f, key in zip((1.0, -1.0), keys, strict=False)]
        second = self._now[keys[1]] if len(keys) == 2 else other
        self._differ(terms, self._now[keys[0]] - second, self._sizes.unequal)

    def _differ(self, terms: Sequence[tuple[float, Key]], gap: float, apart: float) -> None:
        if gap > 0.0:
            self._change(
                terms, low=min(0.0, apart - gap) if gap > apart - EXACT_IN else apart - gap
            )
        else:
            self._change(terms, high=max(0.0, -apart - gap))

    def solve(self) -> tuple[dict[Key, float], set[int]] | None:
        """The length of each part, and positions of the panels that are too short for theirs; None
        where no lengths keep all rules."""
        values, _ = self._program.least(0)
        if values is None:
            return None
        self.values = values
        found = {key: round(values[column], 6) for key, column in self._column.items()}
        for i, division in self._divisions.items():
            close: Name = "last" if division.first else "single"
            rest = self._laid[i].run.length - division.whole * self._sizes.panel
            found[i, close] = rest - math.fsum(self._others(i, division, close, found))
        short = {n for n, column in enumerate(self._over) if values[column] > _HAIR_IN}
        return found, short

    def _others(
        self, i: int, division: Division, close: Name, found: Mapping[Key, float]
    ) -> Iterator[float]:
        for name, _ in division.parts(self._laid[i].run.length, self._sizes.panel):
            if name != close:
                yield found[i, name]


def room_of(length: float, kerf: float, others: Sequence[float], parts: int) -> float:
    """What parts of a panel may take together.

    Args:
        length: Length of the panel in inches.
        kerf: Width of a saw cut.
        others: Lengths of parts that stay as they are.
        parts: How many parts there are beside those.

    Returns:
        A length in inches.
    """
    cuts = (len(others) + parts - 1) * kerf
    return length - cuts - math.fsum(others)
