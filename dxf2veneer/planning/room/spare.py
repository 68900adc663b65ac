"""Exact lengths that leave end pieces room to be cut longer or shorter: a linear program.

    panel F7   |=== last ===|~ growth ~|k|~ growth ~|=== first ===|

As ``balancing.fitting``, with what is spare in each panel shared out among its parts: a run is to
get as much as both its ends may be off, half of it at either end where that can be; end pieces
stand clear of the least piece by as much; and joints of corner pieces, which go with their corners,
of the stagger. What is missing costs by the inch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence, Set
from typing import NamedTuple

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    ROOM_CLEAR_COST,
    ROOM_EVEN_COST,
    ROOM_LONG_COST,
    ROOM_TIE_COST,
)
from dxf2veneer.planning.balancing.divided import Division, Key, lost_of
from dxf2veneer.planning.balancing.fitting import Fitting, Joints, PanelParts, room_of
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.sizes import LayingSizes

Near = Sequence[tuple[Sequence[Sequence[int]], float]]
End = Key | PartRef
"""An end piece: of a run whose joints move by its name, of another by its place."""


class SharedPanel(NamedTuple):
    """A panel: its parts of moved runs, those of others, its length, and what it is."""

    keys: tuple[Key, ...]
    still: tuple[PartRef, ...]
    length: float
    is_corner: bool
    is_mitred: bool

    def parts(self, laid: Sequence[LaidRun], kerf: float) -> PanelParts:
        """What moved parts may take of it."""
        others = [laid[ref.run].lengths[ref.piece] for ref in self.still]
        room = room_of(self.length, kerf, others, len(self.keys))
        ends: list[End] = [*self.keys, *self.still]
        room -= math.fsum(lost_of(laid, end) for end in ends)
        number = len(self.keys) + len(others)
        is_free = all(len(laid[ref.run].lengths) > 1 for ref in self.still)
        halves = None
        if self.is_corner and number == 2 and is_free:
            halves = others[0] if others else 0.0
        return PanelParts(self.keys, room, number > 1, halves, self.is_mitred)


class Spare(Fitting):
    """The program for the runs of a plan."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        divisions: Mapping[int, Division],
        twins: Mapping[int, Sequence[int]],
        near: Near,
        panels: Sequence[SharedPanel],
        sizes: LayingSizes,
        off: float,
        parted: Set[tuple[Key, ...]] = frozenset(),
    ) -> None:
        """The runs, panels and limits; edges may be off by ``off`` inches. ``parted`` are the parts
        of panels at mitres whose sides need not lie side by side."""
        self._off, self._parted = off, parted
        moved = [panel.parts(laid, sizes.kerf) for panel in panels if panel.keys]
        super().__init__(laid, divisions, twins, near, moved, sizes)
        self._growth: dict[End, int] = {}
        self._missing: dict[int, int] = {}
        for i in range(len(laid)):
            self._grow(i, list(dict.fromkeys(self._ends(i))))
        for panel in panels:
            parts = panel.parts(laid, sizes.kerf)
            ends = [self._growth[end] for end in (*panel.keys, *panel.still) if end in self._growth]
            if ends:
                lengths = [(1.0, self._column[key]) for key in panel.keys]
                now = math.fsum(self._now[key] for key in panel.keys)
                room = max(0.0, parts.room, now if panel.is_mitred else 0.0)  # a hair of rounding
                self._program.row([*lengths, *[(1.0, g) for g in ends]], high=room)
        self._program.tell_apart(ROOM_TIE_COST)

    def _ends(self, i: int) -> Iterator[End]:
        """The pieces of a run that take up errors: its outer flat ones, or corner pieces."""
        division, one = self._divisions.get(i), self._laid[i]
        if division is not None:
            if division.first:
                yield i, "first"
                yield i, "last"
            else:
                yield i, "single"
            return
        corners = {cut.piece for cut in one.cuts if cut.is_corner}
        flats = [k for k in range(len(one.lengths)) if k not in corners]
        pieces = flats or list(range(len(one.lengths)))
        yield PartRef(i, pieces[0])
        yield PartRef(i, pieces[-1])

    def _grow(self, i: int, ends: Sequence[End]) -> None:
        """A run may be longer by what both its ends are off, and shorter."""
        own = 2.0 * self._off / len(ends)
        terms = []
        for end in ends:
            self._growth[end] = self._program.column(0.0, 2.0 * self._off)
            terms.append((1.0, self._growth[end]))
            uneven = self._program.column(0.0, own, cost=ROOM_EVEN_COST)
            self._program.row([terms[-1], (1.0, uneven)], low=own)
            if end in self._column:
                least = min(self._sizes.least, self._now[end])  # rounding may have taken a hair
                self._clear([(1.0, self._column[end])], least + own, own)
        self._missing[i] = self._program.column(0.0, 2.0 * self._off, cost=ROOM_LONG_COST)
        self._program.row([*terms, (1.0, self._missing[i])], low=2.0 * self._off)

    def _join(self, panel: PanelParts, now: float) -> None:
        if panel.keys not in self._parted:
            super()._join(panel, now)

    def _clear(self, terms: Sequence[tuple[float, int]], low: float, most: float) -> None:
        """A sum stands clear of a limit, or what is missing costs."""
        missing = self._program.column(0.0, most, cost=ROOM_CLEAR_COST)
        self._program.row([*terms, (1.0, missing)], low=low)

    def _beside(self, own: Joints, other: Joints, apart: float) -> None:
        super()._beside(own, other, apart)
        corner = [j for j in (own, other) if len(j.terms) == 1 and j.terms[0][1][1] in _CORNERS]
        if not corner or apart != self._sizes.stagger:
            return
        terms = [*own.terms, *[(-f, key) for f, key in other.terms]]
        now = sum([f * self._now[key] for f, key in terms])
        for sign in (1.0, -1.0):
            gaps = [sign * (x - y) for x in own.xs for y in other.xs]
            gap = min((each for each in gaps if each > 0.0), default=0.0)
            if apart - EXACT_IN <= gap < apart + self._sizes.least:
                columns = [(sign * f, self._column[key]) for f, key in terms]
                more = min(0.0, apart - gap)  # rounding may have taken a hair of the stagger
                self._clear(columns, sign * now + more + self._off, self._off)

    @property
    def parted(self) -> set[tuple[Key, ...]]:
        """The parts of panels at mitres whose sides don't lie side by side, once solved."""
        return {keys for keys, rest in self._rests.items() if self.values[rest] > EXACT_IN}

    @property
    def missing(self) -> dict[int, float]:
        """By run, once solved, the inches that it can't get; only where there are some."""
        found = {i: self.values[column] for i, column in self._missing.items()}
        return {i: inches for i, inches in found.items() if inches > EXACT_IN}


_CORNERS = ("corner left", "corner right")
