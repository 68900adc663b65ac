"""What a candidate layout of a run costs, as length of panel, offcuts used as well as can be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import (
    BLOCKED_COST_IN,
    CORNER_HALVES_WANTED,
    HEAPED_HALF_WORTH,
    OFFCUTS_AT_HAND,
    RULE_BROKEN_COST_IN,
    WHOLE_PANEL_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.bays import BayEnd
from dxf2veneer.planning.mitres import get_mitred
from dxf2veneer.planning.offcuts import (
    Halves,
    Hand,
    Offcut,
    Shelf,
    get_corner,
    get_part,
    with_half,
)
from dxf2veneer.planning.situation import Candidate, Ground


class Store(NamedTuple):
    """What is at hand, and how many panels of each kind are opened.

    Offcuts of flat panels, and the other halves of corner panels by their hand.
    """

    pool: tuple[Offcut, ...] = ()
    left: Halves = ()
    right: Halves = ()
    opened: int = 0
    corners: int = 0


class Cut(NamedTuple):
    """A part of a run that is no whole panel.

    Its place in the run's pieces, its hand, the number of its panel, and whether that is a corner
    panel.
    """

    piece: int
    hand: Hand
    unit: int
    is_corner: bool


class Costed(NamedTuple):
    """A candidate with its cuts.

    What is spent on it, that less what the store gains by it, the store after it, and how many of
    its mitres have their two sides from two panels.
    """

    spent: float
    score: float
    cuts: tuple[Cut, ...]
    store: Store
    parted: int


class _Cornered(NamedTuple):
    """The corner pieces of a candidate: what is spent on them, and what is at hand after them."""

    spent: float
    worth: float
    left: Halves
    right: Halves
    corners: int
    units: tuple[int, int]
    """The corner panels that the left and the right piece are cut from, where there are such
    pieces."""


class Costing:
    """The costs of the candidates of one run, for one store.

    Many candidates share their corner pieces and their first piece, so these are costed once.
    """

    def __init__(self, ground: Ground, store: Store) -> None:
        """Look at a run with what is at hand."""
        self.ground = ground
        self._store = store
        self._shelf = Shelf(store.pool, ground.sizes, ground.lookahead.demand)
        self._cornered: dict[tuple[float, float, bool], _Cornered] = {}

    def least(self, candidates: Sequence[Candidate]) -> list[float]:
        """Scores that candidates can't be below, and seldom are above.

        They are those with both flat ends out of one offcut.
        """
        if self.ground.lookahead.bays:
            return [self.of(candidate).score for candidate in candidates]
        panel, part, beside = self.ground.sizes.panel, self._shelf.part, self._shelf.beside
        most, scores = panel - WHOLE_PANEL_IN, []
        before: tuple[float, float, bool] | None = None  # most have the corner pieces of the last
        for candidate in candidates:
            broken, left, first, whole, last, right, _ = candidate
            own = left, right, first > 0.0
            if own != before:
                before, corners = own, self._corners(candidate)
            score = broken + panel * whole + corners.spent - corners.worth - self._shelf.worth
            is_new = False
            if first >= most:
                score += panel
            elif first:
                cost, is_new = part(first, "right" if last else "any")
                score += cost
            if last >= most:
                score += panel
            elif last:
                cost, _ = part(last, "left")
                score += min(cost, beside(last, first)) if is_new else cost
            scores.append(score)
        return scores

    def of(self, candidate: Candidate) -> Costed:
        """What a candidate costs."""
        sizes, bays = self.ground.sizes, self.ground.lookahead.bays
        corners = self._corners(candidate)
        cuts = []
        if candidate.left:
            cuts.append(Cut(0, "left", corners.units[0], True))
        if candidate.right:
            cuts.append(Cut(candidate.pieces - 1, "right", corners.units[1], True))
        spent, gained = (
            corners.spent + candidate.broken + sizes.panel * candidate.whole,
            corners.worth + self._shelf.worth,
        )
        pool, opened, parted = self._store.pool, self._store.opened, 0
        for piece, length, hand, ends in _flats(candidate, bays):
            lost = self.ground.run.lost
            behind = lost[0] * (piece == 0) + lost[1] * (piece == candidate.pieces - 1)
            taken = length + behind
            if length >= sizes.panel - WHOLE_PANEL_IN and not ends and not behind:
                spent += sizes.panel
                continue
            if ends:
                got, missed, tight = get_mitred(
                    length, behind, hand, ends, pool, opened, sizes, self.ground.lookahead.demand
                )
                parted += missed
                spent += missed * RULE_BROKEN_COST_IN + tight * BLOCKED_COST_IN
            else:
                got = get_part(taken, hand, pool, opened, sizes, self.ground.lookahead.demand)
            spent += (taken > sizes.panel + WHOLE_PANEL_IN) * RULE_BROKEN_COST_IN
            price = got.is_new * sizes.panel + got.cuts * sizes.cut
            gained += price - got.cost
            spent += price
            cuts.append(Cut(piece, hand, got.unit, False))
            pool, opened = got.pool, opened + got.is_new
        return Costed(
            spent,
            spent - gained,
            tuple(cuts),
            Store(pool, corners.left, corners.right, opened, corners.corners),
            parted,
        )

    def _corners(self, candidate: Candidate) -> _Cornered:
        """The corner pieces got out of halves at hand or out of new corner panels.

        Their lengths are free to choose unless one fills the run.
        """
        left, right = candidate.left, candidate.right
        key = left, right, candidate.first > 0.0 or (left > 0.0 and right > 0.0)
        found = self._cornered.get(key)
        if found is None:
            found = self._cornered[key] = self._got_corners(*key)
        return found

    def _got_corners(self, left_length: float, right_length: float, free: bool) -> _Cornered:
        run, lookahead, sizes = self.ground.run, self.ground.lookahead, self.ground.sizes
        spent, left, right, corners, units = (
            0.0,
            self._store.left,
            self._store.right,
            self._store.corners,
            [-1, -1],
        )
        if left_length:
            wanted = lookahead.right + (run.right == "corner" and free)
            got = get_corner(left_length, free, left, len(right), corners, sizes, wanted)
            left, right = got.own, with_half(right, got.other) if got.other else right
            spent, corners, units[0] = (
                got.is_new * sizes.corner + got.cuts * sizes.cut,
                corners + got.is_new,
                got.unit,
            )
        if right_length:
            got = get_corner(right_length, free, right, len(left), corners, sizes, lookahead.left)
            right, left = got.own, with_half(left, got.other) if got.other else left
            spent, corners, units[1] = (
                spent + got.is_new * sizes.corner + got.cuts * sizes.cut,
                corners + got.is_new,
                got.unit,
            )
        left, right, value = self._halves(left, right)
        return _Cornered(spent, value, left, right, corners, (units[0], units[1]))

    def _halves(self, left: Halves, right: Halves) -> tuple[Halves, Halves, float]:
        """The longest halves that pieces still to come can use, and what they are worth."""
        lookahead = self.ground.lookahead
        if len(left) > lookahead.left or len(left) > OFFCUTS_AT_HAND:
            left = left[: min(lookahead.left, OFFCUTS_AT_HAND)]
        if len(right) > lookahead.right or len(right) > OFFCUTS_AT_HAND:
            right = right[: min(lookahead.right, OFFCUTS_AT_HAND)]
        lengths = [o.length for o in left[:CORNER_HALVES_WANTED] + right[:CORNER_HALVES_WANTED]]
        heap = [o.length for o in left[CORNER_HALVES_WANTED:] + right[CORNER_HALVES_WANTED:]]
        return (
            left,
            right,
            self.ground.sizes.worth * (math.fsum(lengths) + HEAPED_HALF_WORTH * math.fsum(heap)),
        )


def _flats(
    candidate: Candidate, bays: Mapping[Side, BayEnd]
) -> Iterator[tuple[int, float, Hand, tuple[BayEnd, ...]]]:
    """The first and the last flat piece: place among the pieces, length, hand, ends at mitres.

    They keep the factory end toward the other flat pieces; a lone mitred piece keeps the one away
    from the mitre that it shares its panel at.
    """
    at = 1 if candidate.left else 0
    left: tuple[BayEnd, ...] = ()
    right: tuple[BayEnd, ...] = ()
    if bays:
        left = (bays["left"],) if "left" in bays and not candidate.left else ()
        right = (bays["right"],) if "right" in bays and not candidate.right else ()
    if candidate.last:
        yield at, candidate.first, "right", left
        yield at + 1 + candidate.whole, candidate.last, "left", right
    elif candidate.first:
        hand: Hand = "any" if bool(left) == bool(right) else "right" if left else "left"
        yield at, candidate.first, hand, (*left, *right)
