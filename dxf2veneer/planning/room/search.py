"""Room for edges that are off: what panels have to spare goes to where it is needed.

Parts keep their panels, and a linear program (``spare``) gives them other lengths. Where too little
is spare the two parts of a panel get one each, so that what it leaves can be passed on from run to
run; for some rounds, and up to a share of the panels.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    LOOK_LINE_IN,
    ROOM_REACH,
    ROOM_ROUNDS,
    ROOM_SHARE,
    ROOM_WORTH_IN,
)
from dxf2veneer.planning.alike import twins_of
from dxf2veneer.planning.balancing.divided import (
    Division,
    Key,
    Shared,
    divisions_of,
    is_mitred,
    neighbors_of,
)
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.sections import relaid
from dxf2veneer.planning.relaying.ways import HANDS, Name
from dxf2veneer.planning.room.spare import SharedPanel, Spare
from dxf2veneer.planning.sizes import LayingSizes


def with_room(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, off: float
) -> list[LaidRun] | None:
    """A plan with room for edges that are off.

    Args:
        laid: The runs of a plan as laid.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        off: By how much edges may be off, in inches.

    Returns:
        The runs with the numbers of their panels; None where no way was found.
    """
    room = _Room(laid, units, sizes, off)
    left = math.floor(ROOM_SHARE * len(units))
    found = room.solved()
    if found is not None and room.has_parted:
        found = room.solved()
    for _ in range(ROOM_ROUNDS):
        go_on()
        if found is None or not left:
            break
        parted = room.parted(found[1], left)
        if not parted:
            break
        left -= parted
        found = room.solved()
    return None if found is None else room.laid(found[0])


class _Room:
    """A plan whose parts keep their panels."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, off: float
    ) -> None:
        self._laid, self._sizes, self._off = laid, sizes, off
        shared = Shared.apart(laid, units)
        self._twins = twins_of(one.run for one in laid)
        self._divisions = divisions_of(laid, shared.still(laid), self._twins, sizes)
        self._near = [
            (neighbors_of(laid, sizes.stagger), sizes.stagger),
            (neighbors_of(laid, 0.0, 2), LOOK_LINE_IN + 2.0 * EXACT_IN),
        ]
        names = {
            PartRef(i, piece): (i, name)
            for i, division in self._divisions.items()
            for piece, name in _named(division)
        }
        whole = {
            PartRef(i, piece)
            for i in self._divisions
            for piece in range(len(laid[i].lengths))
            if PartRef(i, piece) not in names
        }
        self._panels = [
            _shared_panel(unit, names, laid) for unit in units if unit.parts[0][0] not in whole
        ]
        self._parted: set[tuple[Key, ...]] = set()

    def solved(self) -> tuple[dict[Key, float], dict[int, float]] | None:
        """Lengths of all moved parts, and by run what it can't get."""
        program = Spare(
            self._laid,
            self._divisions,
            self._twins,
            self._near,
            self._panels,
            self._sizes,
            self._off,
            self._parted,
        )
        found = program.solve()
        if found is None or found[1]:
            return None
        self._parted |= program.parted
        return found[0], program.missing

    @property
    def has_parted(self) -> bool:
        """Whether sides of mitres turned out not to come to lie side by side."""
        return bool(self._parted)

    def parted(self, missing: Mapping[int, float], most: int) -> int:
        """Give the parts of some panels one each, about which runs get too little; how many."""
        beside: dict[int, list[int]] = defaultdict(list)
        for n, panel in enumerate(self._panels):
            for i in _runs(panel):
                beside[i].append(n)
        left = dict(missing)
        parted: set[int] = set()
        order = sorted(left, key=lambda i: (-left[i], i))
        for i in order:
            if len(parted) == most or left[i] <= EXACT_IN:
                continue
            near = self._around(i, beside)
            served = [j for j in near if left.get(j, 0.0) > EXACT_IN]
            worth = math.fsum(left[j] for j in served)
            own = next((n for n in _panels_of(near, beside) if self._may_part(n, parted)), None)
            if worth < ROOM_WORTH_IN or own is None:
                continue
            parted.add(own)
            left.update(dict.fromkeys(served, 0.0))
        for n in sorted(parted):
            panel = self._panels[n]
            self._panels += [panel._replace(keys=(key,), still=()) for key in panel.keys[1:]]
            self._panels[n] = panel._replace(keys=panel.keys[:1])
        return len(parted)

    def _may_part(self, n: int, parted: set[int]) -> bool:
        """Whether a panel holds two flat parts of moved runs, and no others."""
        panel = self._panels[n]
        is_pair = len(panel.keys) == 2 and not panel.still
        return is_pair and n not in parted and not panel.is_corner and not panel.is_mitred

    def _around(self, i: int, beside: Mapping[int, Sequence[int]]) -> list[int]:
        """The runs that share panels with a run, those that share panels with these, and so on."""
        seen, todo = {i: None}, [i]
        for _ in range(ROOM_REACH):
            todo = [
                j
                for k in todo
                for n in beside[k]
                for j in _runs(self._panels[n])
                if j not in seen and not seen.update({j: None})
            ]
        return list(seen)

    def laid(self, lengths: Mapping[Key, float]) -> list[LaidRun]:
        """The runs with other lengths."""
        number: dict[object, int] = {}
        for n, panel in enumerate(self._panels):
            number.update(dict.fromkeys((*panel.keys, *panel.still), n))
        return [self._moved(i, one, lengths, number) for i, one in enumerate(self._laid)]

    def _moved(
        self, i: int, one: LaidRun, lengths: Mapping[Key, float], number: Mapping[object, int]
    ) -> LaidRun:
        division = self._divisions.get(i)
        if division is None:
            cuts = tuple(cut._replace(unit=number[PartRef(i, cut.piece)]) for cut in one.cuts)
            return LaidRun(one.run, one.lengths, cuts)
        named = dict(_named(division))
        pieces = [
            lengths[i, named[k]] if k in named else self._sizes.panel
            for k in range(len(one.lengths))
        ]
        own = [
            Cut(k, HANDS[name], number[i, name], name.startswith("corner"))
            for k, name in named.items()
        ]
        return relaid(one, pieces, own, self._sizes)


def _named(division: Division) -> Iterator[tuple[int, Name]]:
    """The pieces of a run that are no whole panels between others: position and name."""
    at = 0
    if division.left:
        yield 0, "corner left"
        at = 1
    if division.first:
        yield at, "first"
        at += 1 + division.whole
        yield at, "last"
    else:
        yield at, "single"
    if division.right:
        yield at + 1, "corner right"


def _shared_panel(
    unit: CutPanel, names: Mapping[PartRef, Key], laid: Sequence[LaidRun]
) -> SharedPanel:
    refs = [ref for ref, _ in unit.parts]
    return SharedPanel(
        keys=tuple(names[ref] for ref in refs if ref in names),
        still=tuple(ref for ref in refs if ref not in names),
        length=unit.length,
        is_corner=unit.kind == "corner",
        is_mitred=sum(is_mitred(laid[ref.run], ref.piece) for ref in refs) > 1,
    )


def _runs(panel: SharedPanel) -> list[int]:
    return [key[0] for key in (*panel.keys, *panel.still)]


def _panels_of(runs: Sequence[int], beside: Mapping[int, Sequence[int]]) -> Iterator[int]:
    """The panels of some runs in turn."""
    for i in runs:
        yield from beside[i]
