"""What a way to lay a run costs, as length of panel, with the offcuts at hand used as well as can be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.model import Side
from dxf2veneer.planning.offcuts import (
    EXACT_IN,
    WHOLE_IN,
    Got,
    Halves,
    Hand,
    Offcut,
    get_corner,
    get_part,
    with_half,
    worth,
)
from dxf2veneer.planning.ways import BROKEN_IN, Place, Way

_FIRST_SIDE = 0.3
"""Cost of each inch that the first side of a bay's mitre is longer than a third of a panel."""
_FEW, _HEAPED = 3, 0.6
"""So many corner halves of a hand are worth their length; those beyond that share of it, lest they heap up."""
AT_HAND = 32
"""Offcuts of a kind that are kept at hand; a crew would not turn over a bigger heap."""


class Store(NamedTuple):
    """What is at hand: offcuts, the other halves of corner panels; and how many panels of each kind are cut."""

    pool: tuple[Offcut, ...] = ()
    left: Halves = ()
    right: Halves = ()
    opened: int = 0
    corners: int = 0


class Cut(NamedTuple):
    """A part of a run that is no whole panel: its place in the run's pieces, hand, unit and kind of unit."""

    piece: int
    hand: Hand
    unit: int
    is_corner: bool


class Costed(NamedTuple):
    """A way with its cuts: what is spent on it, that less what the store gains by it, and the store after it."""

    spent: float
    score: float
    cuts: tuple[Cut, ...]
    store: Store


class Costing:
    """The costs of the ways of one run, for one store."""

    def __init__(self, place: Place, store: Store) -> None:
        """Look at a run's place with what is at hand."""
        self._place = place
        self._store = store
        self._first: dict[tuple[float, Hand], Got] = {}
        self._worth = sum([worth(o.length, o.end, place.sizes, place.ahead.demand) for o in store.pool])
        self._no_corners = self._halves(store.left, store.right)

    def of(self, way: Way) -> Costed:
        """What a way costs."""
        sizes, keys = self._place.sizes, self._place.ahead.keys
        cuts: list[Cut] = []
        spent, corners, (left, right, gained) = self._corners(way, cuts) if way.left or way.right else (0.0, self._store.corners, self._no_corners)
        pool, opened = self._store.pool, self._store.opened
        gained += self._worth
        spent += way.broken + sizes.panel * way.whole
        for piece, length, hand, key in _flats(way, keys):
            if length >= sizes.panel - WHOLE_IN and not key:
                spent += sizes.panel
                continue
            got = self._part(length, hand, pool, opened, key)
            price = got.is_new * sizes.panel + got.cuts * sizes.cut
            gained += price - got.cost
            spent += price + (self._mitre(key, length, got.is_new, pool, hand) if key else 0.0)
            cuts.append(Cut(piece, hand, got.unit, False))
            pool, opened = got.pool, opened + got.is_new
        if len(keys) == 2 and way.pieces == 1:
            spent += BROKEN_IN  # one panel can't serve both neighbours of a bay's face
        return Costed(spent, spent - gained, tuple(cuts), Store(pool, left, right, opened, corners))

    def _corners(self, way: Way, cuts: list[Cut]) -> tuple[float, int, tuple[Halves, Halves, float]]:
        """The corner pieces got out of halves at hand or new corner panels: price, corner panels and halves after them."""
        run, ahead, sizes = self._place.run, self._place.ahead, self._place.sizes
        price, left, right, corners, count = 0.0, self._store.left, self._store.right, self._store.corners, way.pieces
        if way.left:
            wanted = ahead.right + (run.right == "corner" and count > 1)
            got = get_corner(way.left, count > 1, left, len(right), corners, sizes, wanted)
            left, right = got.own, with_half(right, got.other) if got.other else right
            price, corners = got.is_new * sizes.corner + got.cuts * sizes.cut, corners + got.is_new
            cuts.append(Cut(0, "left", got.unit, True))
        if way.right:
            got = get_corner(way.right, count > 1, right, len(left), corners, sizes, ahead.left)
            right, left = got.own, with_half(left, got.other) if got.other else left
            price, corners = price + got.is_new * sizes.corner + got.cuts * sizes.cut, corners + got.is_new
            cuts.append(Cut(count - 1, "right", got.unit, True))
        return price, corners, self._halves(left, right)

    def _halves(self, left: Halves, right: Halves) -> tuple[Halves, Halves, float]:
        """The longest halves that pieces still to come can use, and what they are worth."""
        ahead = self._place.ahead
        if len(left) > ahead.left or len(left) > AT_HAND:
            left = left[: min(ahead.left, AT_HAND)]
        if len(right) > ahead.right or len(right) > AT_HAND:
            right = right[: min(ahead.right, AT_HAND)]
        lengths = [o.length for o in left[:_FEW] + right[:_FEW]]
        heap = [o.length for o in left[_FEW:] + right[_FEW:]]
        return left, right, self._place.sizes.worth * (sum(lengths) + _HEAPED * sum(heap))

    def _part(self, length: float, hand: Hand, pool: tuple[Offcut, ...], opened: int, key: str) -> Got:
        """The flat part got out of an offcut or a new panel; the same part is asked for by many ways."""
        sizes, demand = self._place.sizes, self._place.ahead.demand
        if key or opened > self._store.opened or pool is not self._store.pool:
            return get_part(length, hand, pool, opened, sizes, demand, key)
        got = self._first.get((length, hand))
        if got is None:
            got = self._first[length, hand] = get_part(length, hand, pool, opened, sizes, demand)
        return got

    def _mitre(self, key: str, length: float, is_new: bool, pool: Sequence[Offcut], hand: Hand) -> float:
        """Cost of a mitred piece: high where the two sides can't come from one panel any more (rule L13).

        Its mate may have one length only, or choose (0), or lies already (none). Where it may choose, the
        side laid first is kept short, so that the other has room for its stagger.
        """
        sizes, mate = self._place.sizes, self._place.ahead.mates.get("left" if hand == "right" else "right")
        if any(o.key == key for o in pool):
            return BROKEN_IN if is_new else 0.0
        if length > sizes.panel - sizes.kerf - max(mate or 0.0, sizes.least) + EXACT_IN:
            return BROKEN_IN
        return 0.0 if mate else _FIRST_SIDE * max(0.0, length - sizes.panel / 3.0)


def _flats(way: Way, keys: Mapping[Side, str]) -> Iterator[tuple[int, float, Hand, str]]:
    """The first and the last flat piece: place among the pieces, length, hand, and the key of its mitre.

    They keep the factory end toward the other flat pieces; a lone mitred piece keeps the one away from
    the mitre that it shares its panel at.
    """
    at = 1 if way.left else 0
    left, right = keys.get("left", ""), keys.get("right", "")
    if way.last:
        yield at, way.first, "right", "" if way.left else left
        yield at + 1 + way.whole, way.last, "left", "" if way.right else right
    elif way.first:
        yield at, way.first, "right" if left else "left" if right else "any", left or right
