"""What is left of cut panels, and the cheapest way to get a part out of it or out of a new panel.

A flat panel       |=F==========================F=|    F: factory ends
first part cut     |=F====]   left part, keeps the left end: the last piece of a run
what is left             [======================F=|    keeps the right end: another first piece
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from typing import Literal, NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, MIDDLE_OFFCUT_WORTH
from dxf2veneer.planning.sizes import LayingSizes

Hand = Literal["left", "right", "any"]
"""Which end of its unit a part keeps; ``any`` where it needs none."""
End = Literal["left", "right", "either", "none"]
"""Which end of its unit an offcut still has; ``either`` where one is left and it may be any."""


class Offcut(NamedTuple):
    """What is left of a unit. ``key`` reserves it for the other side of a bay's mitre."""

    length: float
    end: End
    unit: int
    key: str = ""


class CornerOffcut(NamedTuple):
    """The other half of a cut corner panel.

    ``first`` is the length cut from it, ``free`` whether that piece met a joint, so that its length
    was free.
    """

    length: float
    unit: int
    first: float
    free: bool


Halves = tuple[CornerOffcut, ...]
"""Halves of one hand, the longest first."""


class Got(NamedTuple):
    """A part got out of a panel.

    What it costs (as length, what is left counted), the cuts, the panel's number, whether it is
    new, and the pool after it.
    """

    cost: float
    cuts: int
    unit: int
    is_new: bool
    pool: tuple[Offcut, ...]


class GotCorner(NamedTuple):
    """A corner piece got out of a corner panel.

    The cuts, the panel's number, whether it is new, the halves of its hand after it, and the half
    of the other hand that is new.
    """

    cuts: int
    unit: int
    is_new: bool
    own: Halves
    other: CornerOffcut | None


_SERVES: dict[Hand, dict[End, End]] = {
    "left": {"left": "none", "either": "none"},
    "right": {"right": "none", "either": "none"},
    "any": {"left": "left", "right": "right", "either": "either", "none": "none"},
}
"""A part's hand -> ends of the offcuts that serve it -> the end that what is left still has."""
_LEFT_OF_NEW: dict[Hand, End] = {"left": "right", "right": "left", "any": "either"}


def worth(length: float, end: End, sizes: LayingSizes, demand: float) -> float:
    """What an offcut is worth, as length of panel.

    Args:
        length: Its length in inches.
        end: The end of the panel that it still has.
        sizes: Lengths and limits, in inches.
        demand: How sure it is to be wanted, from 0 to 1; it falls near the end of the job.

    Returns:
        Inches of panel; 0 for what is shorter than the least piece.
    """
    if length < sizes.least - EXACT_IN:
        return 0.0
    return demand * (
        MIDDLE_OFFCUT_WORTH * length if end == "none" else sizes.worth * length - sizes.holding
    )


def get_part(
    length: float,
    hand: Hand,
    pool: tuple[Offcut, ...],
    opened: int,
    sizes: LayingSizes,
    demand: float,
    key: str = "",
    keep: str = "",
) -> Got:
    """A flat part out of the offcut that serves best, or out of a new panel.

    Of offcuts that serve alike the one cut last is taken, which lies nearest.

    Args:
        length: Length of the part in inches.
        hand: The end of the panel that it keeps.
        pool: Offcuts at hand, the one cut last at the end.
        opened: The number that a new panel would get.
        sizes: Lengths and limits, in inches.
        demand: How sure offcuts are to be wanted, from 0 to 1.
        key: The key of a bay's mitre whose other side has to come from the same panel.
        keep: The key of the mitre that what is left is kept for.

    Returns:
        The part with its cost, and the pool after it.
    """
    rest = sizes.panel - sizes.kerf - length
    best_gain = worth(rest, _LEFT_OF_NEW[hand], sizes, demand) - sizes.panel - sizes.cut
    best, serves, shortest = -1, _SERVES[hand], length - EXACT_IN
    # the worth of offcuts, written out: this loop is where a plan spends most of its time
    least, longest = sizes.least - EXACT_IN, length + EXACT_IN
    each, held, middle = demand * sizes.worth, demand * sizes.holding, demand * MIDDLE_OFFCUT_WORTH
    cut_off = length + sizes.kerf
    for i in range(len(pool) - 1, -1, -1):
        size, end, _, reserved = pool[i]
        if size < shortest or reserved != key or end not in serves:
            continue
        gain = 0.0 if size < least else -middle * size if end == "none" else held - each * size
        if size > longest:
            rest_here = size - cut_off
            gain -= sizes.cut
            if rest_here >= least:
                still = serves[end]
                gain += middle * rest_here if still == "none" else each * rest_here - held
        if key or gain > best_gain + EXACT_IN:
            best, best_gain = i, gain
    if best < 0:
        after = (
            (*pool, Offcut(rest, _LEFT_OF_NEW[hand], opened, keep))
            if rest >= sizes.least - EXACT_IN
            else pool
        )
        return Got(-best_gain, 1, opened, True, after)
    return _cut_of(pool, best, length, serves, -best_gain, sizes, keep)


def _cut_of(
    pool: tuple[Offcut, ...],
    place: int,
    length: float,
    serves: dict[End, End],
    cost: float,
    sizes: LayingSizes,
    keep: str,
) -> Got:
    """A part out of an offcut of the pool, and the pool with what is left of it."""
    used = pool[place]
    left = used.length - length
    others = pool[:place] + pool[place + 1 :]
    if left - sizes.kerf >= sizes.least - EXACT_IN:
        others = (*others, Offcut(left - sizes.kerf, serves[used.end], used.unit, keep))
    return Got(cost, int(left > EXACT_IN), used.unit, False, others)


class Shelf:
    """The offcuts at hand as a run finds them: what one part costs, without getting it.

    Looked up far more often than a part is got, so that all that does not depend on the part is
    worked out once.
    """

    def __init__(self, pool: Sequence[Offcut], sizes: LayingSizes, demand: float) -> None:
        """``demand`` is how sure offcuts are to be wanted, from 0 to 1."""
        self._sizes = sizes
        self._least = sizes.least - EXACT_IN
        self._each, self._held = demand * sizes.worth, demand * sizes.holding
        self._middle = demand * MIDDLE_OFFCUT_WORTH
        self._found: dict[tuple[float, Hand], tuple[float, bool]] = {}
        worths = [worth(o.length, o.end, sizes, demand) for o in pool]
        self.worth = math.fsum(worths)
        """What they are worth together, as length of panel."""
        self._serving: dict[Hand, list[tuple[float, float, bool]]] = {
            hand: [
                (o.length, value, still[o.end] == "none")
                for o, value in zip(reversed(pool), reversed(worths), strict=True)
                if not o.key and o.end in still
            ]
            for hand, still in _SERVES.items()
        }

    def part(self, length: float, hand: Hand) -> tuple[float, bool]:
        """What a part costs as ``get_part`` gets it, and whether out of a new panel."""
        found = self._found.get((length, hand))
        if found is None:
            found = self._found[length, hand] = self._part(length, hand)
        return found

    def _part(self, length: float, hand: Hand) -> tuple[float, bool]:
        sizes, least = self._sizes, self._least
        shortest, longest, cut_off = length - EXACT_IN, length + EXACT_IN, length + sizes.kerf
        rest = sizes.panel - cut_off
        best, is_new = sizes.panel + sizes.cut, True
        if rest >= least:
            best -= self._each * rest - self._held
        for size, cost, is_middle in self._serving[hand]:
            if size < shortest:
                continue
            if size > longest:
                cost += sizes.cut
                rest = size - cut_off
                if rest >= least:
                    cost -= self._middle * rest if is_middle else self._each * rest - self._held
            if cost < best - EXACT_IN:
                best, is_new = cost, False
        return best, is_new

    def beside(self, length: float, first: float) -> float:
        """What a left part costs out of the rest of a new panel that a right part was just cut
        from; infinite where it is too long."""
        sizes, least = self._sizes, self._least
        rest = sizes.panel - sizes.kerf - first
        if rest < least or rest < length - EXACT_IN:
            return math.inf
        cost = self._each * rest - self._held
        if rest > length + EXACT_IN:
            rest -= length + sizes.kerf
            cost += sizes.cut - (self._middle * rest if rest >= least else 0.0)
        return cost


def get_corner(
    length: float,
    free: bool,
    own: Halves,
    others: int,
    opened: int,
    sizes: LayingSizes,
    wanted: int,
) -> GotCorner:
    """A corner piece out of the shortest half of its hand that serves, or out of a new panel.

    Two free halves of one panel differ by the least difference (rule L4).

    Args:
        length: Length of the piece in inches.
        free: Whether its length was free, because it meets a joint.
        own: Halves of its hand at hand, the longest first.
        others: How many halves of the other hand are at hand.
        opened: The number that a new corner panel would get.
        sizes: Lengths and limits, in inches.
        wanted: How many pieces of the other hand are still to come.

    Returns:
        The piece with the halves after it.
    """
    rest = sizes.corner - sizes.kerf - length
    is_kept = rest >= sizes.least - EXACT_IN
    new = sizes.corner + sizes.cut - (sizes.worth * rest if is_kept and wanted > others else 0.0)
    for i in range(len(own) - 1, -1, -1):
        half = own[i]
        if half.length < length - EXACT_IN or (
            free and half.free and abs(half.first - length) < sizes.unequal - EXACT_IN
        ):
            continue
        cuts = int(half.length > length + EXACT_IN)
        if sizes.worth * half.length + cuts * sizes.cut < new - EXACT_IN:
            return GotCorner(cuts, half.unit, False, own[:i] + own[i + 1 :], None)
        break
    return GotCorner(
        1, opened, True, own, CornerOffcut(rest, opened, length, free) if is_kept else None
    )


def with_half(halves: Halves, half: CornerOffcut) -> Halves:
    """Halves of a hand and one more.

    Args:
        halves: Halves, the longest first.
        half: Another one of their hand.

    Returns:
        All of them, the longest first.
    """
    at = bisect_right(halves, -half.length, key=lambda h: -h.length)
    return (*halves[:at], half, *halves[at:])
