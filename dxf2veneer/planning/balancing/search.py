"""The plan with its joints moved, run by run, until all parts fit into fewer panels.

Every run is taken out in turn and put back where it costs least, by the prices that all the others
make (``needed``), with its joints apart from those below and above. Where most panels are needed
the price goes up from round to round. Then parts get panels, and exact lengths (``fitting``). It
goes by counts of rounds, never by the clock.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Sequence

import numpy as np

from dxf2veneer.basics.tolerances import (
    BALANCE_MOVES,
    BALANCE_ROUNDS,
    BALANCE_TRIES,
    EXACT_IN,
    NOTCH_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.alike import tied
from dxf2veneer.planning.balancing.divided import (
    Division,
    Key,
    Shared,
    division_of,
    neighbors_of,
)
from dxf2veneer.planning.balancing.fitting import Fitting
from dxf2veneer.planning.balancing.moves import costs_of, places_of, possible
from dxf2veneer.planning.balancing.needed import NeededPanels
from dxf2veneer.planning.balancing.pairing import Pairing
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.sections import edges_of
from dxf2veneer.planning.relaying.ways import HANDS, Name
from dxf2veneer.planning.sizes import LayingSizes


class Balance:
    """A plan whose joints are moved."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
    ) -> None:
        """A plan as laid, all rules kept, with its panels."""
        self.laid, self.sizes = laid, sizes
        self.shared = Shared.of(laid, units, sizes)
        still = self.shared.still() | tied(one.run for one in laid)
        found = ((i, division_of(one, sizes)) for i, one in enumerate(laid))
        self.divisions = {i: d for i, d in found if d is not None and i not in still}
        self.more: dict[Key, float] = {}
        self.beside: dict[Key, tuple[tuple[PartRef, ...], float]] = {}
        self.hands: dict[Key, Hand] = {}
        self.flat = NeededPanels(sizes.panel, sizes.kerf)
        self.corner = NeededPanels(sizes.corner, sizes.kerf)
        self._near = neighbors_of(laid, sizes.stagger)
        self._joints = [one.joints for one in laid]
        self._varied: dict[tuple[int, Side], list[int]] = {}
        for (_, side, _), runs in edges_of(laid).items():
            for i, j in itertools.pairwise(runs):
                self._varied.setdefault((i, side), []).append(j)
                self._varied.setdefault((j, side), []).append(i)
        self._corner_pieces = {
            (i, side): laid[i].lengths[0 if side == "left" else -1] for i, side in self._varied
        }
        self._count_all()

    def _count_all(self) -> None:
        """Put all parts of the plan into the counts."""
        for i, one in enumerate(self.laid):
            if i in self.divisions:
                self._name_parts(i, one)
                self._put(i, self.divisions[i], 1)
                continue
            corners = {cut.piece: cut.hand for cut in one.cuts if cut.is_corner}
            for piece, length in enumerate(one.lengths):
                ref = PartRef(i, piece)
                if piece in corners:
                    self.corner.put(corners[piece], self.corner.ticks(length))
                elif ref in self.shared.whole:
                    self.flat.put("left", self.flat.room)
                elif ref in self.shared.hands:
                    _, more = self.shared.beside.get(ref, ((), 0.0))
                    self.flat.put(self.shared.hands[ref], self.flat.ticks(length + more))
        for _ in self.shared.fixed:
            self.flat.put("left", self.flat.room)

    def _name_parts(self, i: int, one: LaidRun) -> None:
        """Hands of a free run's flat parts, and what goes with them."""
        division = self.divisions[i]
        begin = int(division.left > 0.0)
        places: dict[Name, int] = {"single": begin}
        if division.first:
            places = {"first": begin, "last": begin + 1 + division.whole}
        for name, place in places.items():
            ref, hand = PartRef(i, place), HANDS[name]
            self.hands[i, name] = self.shared.hands.get(ref, "left" if hand == "any" else hand)
            if ref in self.shared.beside:
                self.beside[i, name] = self.shared.beside[ref]
                self.more[i, name] = self.shared.beside[ref][1]

    def _put(self, i: int, division: Division, number: int) -> None:
        """Count a free run's parts, or take them away."""
        for name, length in division.parts(self.laid[i].run.length, self.sizes.panel):
            if name.startswith("corner"):
                self.corner.put(HANDS[name], self.corner.ticks(length), number)
            else:
                ticks = self.flat.ticks(length + self.more.get((i, name), 0.0))
                self.flat.put(self.hands[i, name], ticks, number)
        self.flat.counts += number * division.whole

    def pairing(self) -> Pairing:
        """The parts as they are now, put into panels."""
        return Pairing(self.laid, self.divisions, self.shared, self.hands, self.beside, self.sizes)

    @property
    def panels(self) -> int:
        """Flat and corner panels that the parts need."""
        return self.flat.most + self.corner.most

    def run(self, enough: int) -> None:
        """Move the joints of all runs in turn, until as many panels are enough, or rounds end."""
        fewest, best = self.panels, dict(self.divisions)
        most = BALANCE_MOVES // max(1, len(self.divisions))
        for _ in range(min(max(most, BALANCE_ROUNDS[0]), BALANCE_ROUNDS[1])):
            levels = self.flat.mean, self.corner.hands
            for i in self.divisions:
                self._move(i, levels)
            if self.panels < fewest:
                fewest, best = self.panels, dict(self.divisions)
            if fewest <= enough:
                break
            self.flat.weigh()
            if self.corner.most > self.corner.hands:
                self.corner.weigh()
        self.divisions = best

    def _move(self, i: int, levels: tuple[int, int]) -> None:
        """Move the joints of a run to where they cost least."""
        now, run, sizes = self.divisions[i], self.laid[i].run, self.sizes
        self._put(i, now, -1)
        places = places_of(now, run.length, sizes)
        more = (
            self.more.get((i, "first"), 0.0),
            self.more.get((i, "last" if now.first else "single"), 0.0),
        )
        fits = possible(places, more, sizes)
        best = now
        if fits[0]:
            self.flat.counts += (fewest := int(places.whole[fits].min()))
            self.flat.price(levels[0])
            if now.left or now.right:
                self.corner.price(levels[1])
            self.flat.counts -= fewest
            costs = costs_of(places, more, fits, (self.flat, self.corner))
            cheaper = np.flatnonzero(costs < costs[0])
            order = cheaper[np.argsort(costs[cheaper], kind="stable")][:BALANCE_TRIES]
            found = (places.division(k) for k in order.tolist())
            best = next((d for d in found if self._is_allowed(i, d)), now)
        self.divisions[i] = best
        self._put(i, best, 1)
        self._joints[i] = best.joints(run, sizes.panel)
        self._corner_pieces[i, "left"], self._corner_pieces[i, "right"] = best.left, best.right

    def _is_allowed(self, i: int, division: Division) -> bool:
        """Whether joints keep apart from those beside them, and corner pieces vary."""
        run, sizes = self.laid[i].run, self.sizes
        own: dict[Side, float] = {"left": division.left, "right": division.right}
        for side, length in own.items():
            for j in self._varied.get((i, side), ()):
                if abs(self._corner_pieces[j, side] - length) < sizes.vary - EXACT_IN:
                    return False
        if run.left == run.right == "corner" and not self._halves_differ(division):
            return False
        joints = division.joints(run, sizes.panel)
        for x in joints:
            for notch in run.notches:
                if NOTCH_IN < abs(x - notch) < sizes.strip:
                    return False
        beside = sorted(x for j in self._near[i] for x in self._joints[j])
        return all(_is_apart(x, beside, sizes.stagger - EXACT_IN) for x in joints)

    def _halves_differ(self, division: Division) -> bool:
        """Whether both corner pieces of a run could come from one panel."""
        return abs(division.left - division.right) >= self.sizes.unequal - EXACT_IN


def _is_apart(x: float, others: Sequence[float], apart: float) -> bool:
    at = bisect_left(others, x)
    near = others[max(0, at - 1) : at + 1]
    return all(abs(x - other) >= apart for other in near)


def balanced(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, enough: int
) -> list[LaidRun] | None:
    """A plan with its joints moved so that it takes fewer panels.

    Args:
        laid: The runs of a plan as laid, all rules kept; offcuts go from wall to wall.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        enough: A number of panels that is as good as any.

    Returns:
        The runs as laid then, with the numbers of their panels; None where no way was found.
    """
    balance = Balance(laid, units, sizes)
    balance.run(enough)
    pairing = balance.pairing()
    if pairing.panels > len(units):
        return None
    near = neighbors_of(laid, sizes.stagger)
    fitted = Fitting(laid, balance.divisions, near, list(pairing.rooms()), sizes).solve()
    return None if fitted is None else pairing.laid(*fitted)
