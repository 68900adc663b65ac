"""Which parts share a panel once joints are moved, and the plan with exact lengths for them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from typing import NamedTuple

from dxf2veneer.basics.tolerances import BALANCE_TICK_IN, SAW_FIT_IN, WHOLE_PANEL_IN
from dxf2veneer.planning.balancing.divided import Division, Key, Shared, lost_of
from dxf2veneer.planning.balancing.fitting import PanelParts, room_of
from dxf2veneer.planning.balancing.mitred import MitrePanels
from dxf2veneer.planning.balancing.needed import tick_of
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.packing import CutPart, pack
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.sections import relaid
from dxf2veneer.planning.relaying.ways import HANDS
from dxf2veneer.planning.sizes import LayingSizes

_LITTLE_IN, _PARTNERS = 1.0, 3
"""Rings of panels with less to spare are joined with others; how many panels next in length are
tried for each."""


class Part(NamedTuple):
    """A part to be put into a panel: of a moved run by its key, of another by its place."""

    own: Key | PartRef
    length: float
    hand: Hand
    free: bool
    beside: tuple[PartRef, ...] = ()
    """Lone parts that go with it."""
    more: float = 0.0
    """Their lengths, each with a cut, and what its mitres take behind its face."""


Packing = Callable[[Sequence[Part], float, float, float], list[tuple[Part, ...]]]
"""Puts parts into panels of a length, with the width of a saw cut and the least difference of the
two parts of a panel."""


class Pairing:
    """The parts of a plan with moved joints, put into panels."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        divisions: Mapping[int, Division],
        shared: Shared,
        hands: Mapping[Key, Hand],
        beside: Mapping[Key, tuple[tuple[PartRef, ...], float]],
        mitred: MitrePanels,
        sizes: LayingSizes,
        pack: Packing | None = None,
    ) -> None:
        """The parts in panels: in as few as there can be with these lengths, to the nearest tick,
        unless they are packed in another way."""
        self._laid, self._divisions, self._sizes = laid, divisions, sizes
        self._shared, self._hands, self._beside = shared, hands, beside
        self._mitred = mitred
        flats, corners = list(self._flats()), list(self._corners())
        own = pack or _packed
        self.flat = own(flats, sizes.panel, sizes.kerf, 0.0)
        self.corner = own(corners, sizes.corner, sizes.kerf, sizes.unequal)
        if pack is None:
            self.flat = _joined(self.flat, self.corner, sizes)

    def _flats(self) -> Iterator[Part]:
        """Flat parts that share panels."""
        sizes = self._sizes
        for i, division in self._divisions.items():
            for name, length in division.parts(self._laid[i].run.length, sizes.panel):
                key = i, name
                lone, more = self._beside.get(key, ((), 0.0))
                if name.startswith("corner") or key in self._mitred.of:
                    continue
                if length < sizes.panel - WHOLE_PANEL_IN:
                    more += lost_of(self._laid, key)
                    yield Part(key, length, self._hands[key], True, lone, more)
        for ref, hand in self._shared.hands.items():
            if ref.run not in self._divisions:
                one = self._laid[ref.run]
                if any(cut.piece == ref.piece and not cut.is_corner for cut in one.cuts):
                    lone, more = self._shared.beside.get(ref, ((), 0.0))
                    more += one.lost(ref.piece)
                    yield Part(ref, one.lengths[ref.piece], hand, True, lone, more)

    def _corners(self) -> Iterator[Part]:
        """Corner pieces."""
        for i, one in enumerate(self._laid):
            division = self._divisions.get(i)
            if division is None:
                for cut in one.cuts:
                    if cut.is_corner:
                        free, ref = len(one.lengths) > 1, PartRef(i, cut.piece)
                        yield Part(ref, one.lengths[cut.piece], cut.hand, free)
                continue
            for name, length in division.parts(one.run.length, self._sizes.panel):
                if name.startswith("corner"):
                    yield Part((i, name), length, HANDS[name], True)

    @property
    def panels(self) -> int:
        """All panels, whole ones and those of bays included."""
        whole = sum(
            len(one.lengths) - len(one.cuts)
            for i, one in enumerate(self._laid)
            if i not in self._divisions
        )
        for i, division in self._divisions.items():
            parts = division.parts(self._laid[i].run.length, self._sizes.panel)
            whole += division.whole
            whole += sum(length >= self._sizes.panel - WHOLE_PANEL_IN for _, length in parts)
        return whole + len(self._mitred.panels) + len(self.flat) + len(self.corner)

    def rooms(self) -> Iterator[PanelParts]:
        """What moved parts may take of each panel."""
        for group, is_corner in ((self.flat, False), (self.corner, True)):
            length = self._sizes.corner if is_corner else self._sizes.panel
            for panel in group:
                moved = _moved_parts(panel)
                still = [p for p in panel if isinstance(p.own, PartRef)]
                if not moved:
                    continue
                others = [p.length for p in still]
                for part in panel:
                    others += [self._laid[r.run].lengths[r.piece] for r in part.beside]
                room = room_of(length, self._sizes.kerf, others, len(moved))
                room -= math.fsum(lost_of(self._laid, part.own) for part in panel)
                halves = None
                if is_corner and len(panel) == 2 and all(p.free for p in panel):
                    halves = still[0].length if still else 0.0
                keys = tuple(p.own for p in moved if not isinstance(p.own, PartRef))
                yield PanelParts(keys, room, len(moved) + len(others) > 1, halves)
        for mitred in self._mitred.panels:
            if mitred.keys:
                yield PanelParts(mitred.keys, mitred.room, is_shared=True, is_mitred=True)

    def laid(self, lengths: Mapping[Key, float], short: Set[int]) -> list[LaidRun]:
        """The runs with the lengths of their parts, and the numbers of their panels.

        Parts of panels that are too short for them get panels of their own.
        """
        number: dict[object, int] = {}
        moved = (panel for panel in (*self.flat, *self.corner) if _moved_parts(panel))
        apart = {panel for n, panel in enumerate(moved) if n in short}
        panels: list[list[object]] = []
        for panel in (*self.flat, *self.corner):
            owners: list[object] = [own for part in panel for own in (part.own, *part.beside)]
            panels += [[own] for own in owners] if panel in apart else [owners]
        panels += [[*panel.keys, *panel.still] for panel in self._mitred.panels]
        for n, owners in enumerate(panels):
            number.update(dict.fromkeys(owners, n))
        whole = [key for key in lengths if key not in number]  # or were, before the lengths were
        number.update({key: n for n, key in enumerate(whole, len(panels))})
        return [
            self._moved(i, one, lengths, number) if i in self._divisions else _kept(i, one, number)
            for i, one in enumerate(self._laid)
        ]

    def _moved(
        self, i: int, one: LaidRun, lengths: Mapping[Key, float], number: Mapping[object, int]
    ) -> LaidRun:
        division, sizes = self._divisions[i], self._sizes
        pieces: list[float] = []
        cuts = []
        for name, _ in division.parts(one.run.length, sizes.panel):
            if name == "last":
                pieces += [sizes.panel] * division.whole
            is_corner = name.startswith("corner")
            cuts.append(Cut(len(pieces), HANDS[name], number[i, name], is_corner))
            pieces.append(lengths[i, name])
        return relaid(one, pieces, cuts, sizes)


def _moved_parts(panel: Sequence[Part]) -> list[Part]:
    return [part for part in panel if not isinstance(part.own, PartRef)]


def _kept(i: int, one: LaidRun, number: Mapping[object, int]) -> LaidRun:
    """A run as it was, with the numbers of its panels."""
    cuts = tuple(cut._replace(unit=number[PartRef(i, cut.piece)]) for cut in one.cuts)
    return LaidRun(one.run, one.lengths, cuts)


def _packed(
    parts: Sequence[Part], length: float, kerf: float, apart: float
) -> list[tuple[Part, ...]]:
    """The parts by panel, lengths to the nearest tick.

    What no moved part is in has to fit as it is; else its parts come apart.
    """
    tick = tick_of(length, kerf)
    rounded = [
        CutPart(min(length, round((p.length + p.more + kerf) / tick) * tick - kerf), p.hand, p.free)
        for p in parts
    ]
    packed = pack(rounded, length, kerf, apart=apart, effort=0)
    found: list[tuple[Part, ...]] = []
    for panel in packed:
        own = tuple(parts[k] for k in panel)
        used = math.fsum([kerf * (len(own) - 1), *[p.length + p.more for p in own]])
        fits = used <= length + SAW_FIT_IN or bool(_moved_parts(own))
        found += [own] if fits else [(part,) for part in own]
    return found


def _joined(
    flat: Sequence[tuple[Part, ...]], corner: Sequence[tuple[Part, ...]], sizes: LayingSizes
) -> list[tuple[Part, ...]]:
    """The flat panels, left parts changed between some of them so that all have spare length.

    Panels whose parts are of the same runs hang together: where a part grows, another one of its
    run shrinks, and so the parts of the next panel may grow. What all of them waste together can be
    had in any of them, so that lengths rounded to ticks can be made exact. A ring of panels that
    wastes nothing can't do that. Two panels of different rings that change their left parts make
    one ring of both; they may where those are as long, or the shorter one's panel has room.
    """
    found = [list(panel) for panel in flat]
    rings = _Rings(found, corner, sizes)
    for side in (0, 1):
        pairs = [n for n, panel in enumerate(found) if _is_pair(panel)]
        pairs.sort(key=lambda n: (found[n][side].length + found[n][side].more, n))
        for near in range(1, _PARTNERS + 1):
            for a, b in zip(pairs, pairs[near:], strict=False):
                if rings.may_join(a, b) and _change(found[a], found[b], side, sizes):
                    rings.join(a, b)
    return [tuple(panel) for panel in found]


def _is_pair(panel: Sequence[Part]) -> bool:
    """Whether a panel holds parts of two runs that are moved."""
    return len(panel) == 2 == len(_moved_parts(panel))


def _change(one: list[Part], other: list[Part], side: int, sizes: LayingSizes) -> bool:
    """Change the parts at one side of two panels where they fit; whether they did."""
    room = sizes.panel - sizes.kerf + BALANCE_TICK_IN / 2.0
    used = [
        math.fsum((a.length, a.more, b.length, b.more))
        for a, b in ((one[side], other[1 - side]), (other[side], one[1 - side]))
    ]
    if max(used) > room:
        return False
    one[side], other[side] = other[side], one[side]
    return True


class _Rings:
    """Panels that hang together by runs, and what they waste together."""

    def __init__(
        self,
        flat: Sequence[Sequence[Part]],
        corner: Sequence[Sequence[Part]],
        sizes: LayingSizes,
    ) -> None:
        """Flat panels, known by their positions, and corner panels."""
        self._up: dict[object, object] = {}
        self._spare: dict[object, float] = defaultdict(float)
        panels = [(n, panel, sizes.panel) for n, panel in enumerate(flat)]
        panels += [(-n, panel, sizes.corner) for n, panel in enumerate(corner, 1)]
        for n, panel, _ in panels:
            for part in _moved_parts(panel):
                self._up[self._root(("run", part.own[0]))] = self._root(n)
        for n, panel, length in panels:
            used = math.fsum([p.length + p.more for p in panel]) + sizes.kerf * (len(panel) - 1)
            self._spare[self._root(n)] += length - used

    def _root(self, one: object) -> object:
        while (above := self._up.setdefault(one, one)) != one:
            one = above
        return one

    def may_join(self, a: int, b: int) -> bool:
        """Whether two panels are of different rings, one of them with nothing to spare."""
        roots = {self._root(a), self._root(b)}
        return len(roots) == 2 and min(self._spare[root] for root in roots) < _LITTLE_IN

    def join(self, a: int, b: int) -> None:
        """Take the rings of two panels as one."""
        root, other = self._root(a), self._root(b)
        self._up[other] = root
        self._spare[root] += self._spare.pop(other)
