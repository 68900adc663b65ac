"""Which parts share a panel where not all may: a set partition, by a linear program.

Every panel that could be cut is a column: one part, two, or three where one of them needs neither
end of the panel. Each part is in one of them; the fewest are looked for. Columns that the program
takes whole are kept, and the rest solved again, until all parts have a panel.

A panel whose parts are too long by a little is a column too, at a price by the inch: joints may
move to where they fit (``search``).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    CREW_OVER_COST,
    CREW_THREE_COST,
    CREW_TIE_COST,
    CREW_WAIT_COST,
    EXACT_IN,
    SAW_FIT_IN,
)
from dxf2veneer.planning.balancing.divided import Key
from dxf2veneer.planning.balancing.pairing import Part
from dxf2veneer.planning.crew.rising import Rising
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.relaying.program import Program

_TAKEN = 0.999
"""A column that the program takes by so much is taken whole."""
_ROUNDS = 6
"""How often the rest is solved again before it is rounded."""

_HANDS = {"left": -1, "any": 0, "right": 1}

Positions = NDArray[np.int64]
_TIES = np.array([0.8191725134, 0.6710436067, 0.5497004779])
"""Powers of a number that no fractions come near: multiples of them spread evenly (the plastic
number's generalization to three dimensions)."""

Owners = frozenset[Key | PartRef]
"""The parts of a panel, by what they are parts of."""


class Prices(NamedTuple):
    """What panels cost beside one panel each."""

    far: float | None
    """What a panel costs more whose parts are not near one another; None where there is none."""
    over: float
    """Inches that parts may be too long together."""
    refused: Mapping[Owners, float]
    """Panels that could not be made to fit, and what each costs more."""


class _Panels(NamedTuple):
    """Panels that could be cut: three positions of parts each, -1 for none, and what each costs."""

    parts: Positions
    cost: NDArray[np.float64]

    def where(self, fits: NDArray[np.bool_]) -> _Panels:
        """Those that fit."""
        return _Panels(self.parts[fits], self.cost[fits])


def shared_out(
    parts: Sequence[Part],
    length: float,
    kerf: float,
    apart: float,
    rising: Rising,
    prices: Prices,
) -> list[tuple[Part, ...]]:
    """The parts by panel.

    Args:
        parts: The parts.
        length: Length of a panel, in inches.
        kerf: Width of a saw cut, in inches.
        apart: Least difference of a panel's two parts, unless the length of one was not free.
        rising: Where and when each run is laid.
        prices: What panels cost.

    Returns:
        Panels, the parts of each from left to right.
    """
    if not parts:
        return []
    panels = _panels(parts, length, kerf, apart, rising, prices)
    is_left = np.append(np.ones(len(parts), dtype=bool), True)  # the last for no part
    taken: list[tuple[int, ...]] = []
    for turn in range(_ROUNDS):
        fits = np.logical_and.reduce(is_left[panels.parts], axis=1)
        panels = panels.where(fits)
        for n in _chosen(panels, is_last=turn == _ROUNDS - 1):
            own = panels.parts[n]
            if is_left[own].all():
                taken.append(tuple(own[own >= 0].tolist()))
                is_left[own[own >= 0]] = False
        if not is_left[:-1].any():
            break
    taken += [(i,) for i in is_left[:-1].nonzero()[0].tolist()]
    order = {"left": 0, "any": 1, "right": 2}
    return [
        tuple(sorted((parts[i] for i in panel), key=lambda part: order[part.hand]))
        for panel in sorted(taken)
    ]


def _chosen(panels: _Panels, *, is_last: bool) -> list[int]:
    """Panels that the program takes whole; if there are none, or in the last round, the others
    too, those first that it takes most of."""
    program = Program()
    rows: dict[int, list[tuple[float, int]]] = defaultdict(list)
    for own, cost in zip(panels.parts.tolist(), panels.cost.tolist(), strict=True):
        column = program.column(0.0, 1.0, cost=cost)
        for i in own:
            rows[i].append((1.0, column))
    rows.pop(-1, None)
    for _, row in sorted(rows.items()):
        program.row(row, 1.0, 1.0)
    found, _ = program.least(0)
    if found is None:
        return []
    values = np.array(found).round(6)
    order = np.argsort(-values, kind="stable")
    number = int((values >= _TAKEN).sum())
    if not number or is_last:
        number = int((values > EXACT_IN).sum())
    chosen: list[int] = order[:number].tolist()
    return chosen


def _panels(
    parts: Sequence[Part],
    length: float,
    kerf: float,
    apart: float,
    rising: Rising,
    prices: Prices,
) -> _Panels:
    """The panels that could be cut: of one part, of two, and of three near one another."""
    number = len(parts)
    runs = np.array([part.own[0] for part in parts])
    size = np.array([part.length + part.more for part in parts])
    hand = np.array([_HANDS[part.hand] for part in parts])
    turn, near = rising.turns(runs), rising.near(runs)
    over = size[:, None] + size + (kerf - length)
    fits = (over <= prices.over) & ((hand[:, None] != hand) | (hand == 0))
    if prices.far is None:
        fits &= near
    if apart:
        is_free = np.array([part.free for part in parts])
        is_alike = abs(size[:, None] - size) < apart - EXACT_IN
        fits &= ~(is_alike & is_free[:, None] & is_free)
    one, two = np.triu(fits, 1).nonzero()
    none = np.full(number, -1)
    found = [
        np.stack([np.arange(number), none, none], axis=1),
        np.stack([one, two, np.full(len(one), -1)], axis=1),
    ]
    lone = (hand == 0).nonzero()[0] if not apart else ()
    room = prices.over - over[one, two] - kerf
    for k in lone:
        # lone parts in ascending order, so that a set of parts comes once
        is_later = ((hand[one] != 0) | (one < k)) & ((hand[two] != 0) | (two < k))
        fits = near[one, two] & near[one, k] & near[two, k] & (size[k] <= room) & is_later
        third = np.full(int(fits.sum()), k)
        found.append(np.stack([one[fits], two[fits], third], axis=1))
    panels = np.concatenate(found)
    is_part = panels >= 0
    turns = turn[panels]
    longest = np.where(is_part, turns, turns.max()).min(axis=1)
    waits = np.where(is_part, turns, turns.min()).max(axis=1) - longest
    long = np.where(is_part, size[panels] + kerf, 0.0).sum(axis=1) - kerf - length
    cost = 1.0 + CREW_OVER_COST * np.maximum(0.0, long) + CREW_WAIT_COST * waits
    cost += CREW_THREE_COST * is_part[:, 2]
    if prices.far is not None:
        cost += prices.far * (is_part[:, 1] & ~near[panels[:, 0], panels[:, 1]])
    cost += CREW_TIE_COST * ((panels + 1) @ _TIES % 1.0)
    is_moved = np.array([not isinstance(part.own, PartRef) for part in parts] + [False])
    fits = np.logical_or.reduce(is_moved[panels], axis=1) | (long <= SAW_FIT_IN)
    found_panels = _Panels(panels, cost + _refused(parts, panels, prices.refused))
    return found_panels.where(fits)  # parts of runs that stay as they are have to fit now


def _refused(
    parts: Sequence[Part], panels: Positions, refused: Mapping[Owners, float]
) -> NDArray[np.float64]:
    """What panels cost more that could not be made to fit."""
    at = {part.own: i for i, part in enumerate(parts)}
    found = np.zeros(len(panels))
    ordered = np.sort(panels, axis=1)
    for owners, cost in refused.items():
        if all(own in at for own in owners):
            own = sorted(at[own] for own in owners)
            wanted = [-1] * (3 - len(own)) + own
            found[(ordered == wanted).all(axis=1)] += cost
    return found
