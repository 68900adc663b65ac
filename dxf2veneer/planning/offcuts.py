"""What is left of cut panels, and the cheapest way to get a part out of it or out of a new panel.

A flat panel       |=F==========================F=|    F: factory ends
first part cut     |=F====]   left part, keeps the left end: the last piece of a run
what is left             [======================F=|    keeps the right end: the first piece of another
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from dxf2veneer.job import Job
from dxf2veneer.product import Product

Hand = Literal["left", "right", "any"]
"""Which end of its unit a part keeps; ``any`` where it needs none."""
End = Literal["left", "right", "either", "none"]
"""Which end of its unit an offcut still has; ``either`` where one is left and it may be any."""

EXACT_IN = 1e-6
"""Lengths nearer than this are one length."""
WHOLE_IN = 1e-3
"""A piece shorter than its panel by no more than this is whole: no saw takes so little off."""
_MIDDLE_WORTH = 0.4
"""What is left in the middle of a panel serves short runs alone."""


@dataclass(frozen=True)
class Sizes:
    """The lengths and limits that the layout works with, all in inches."""

    panel: float
    corner: float
    kerf: float
    stagger: float
    least: float
    unequal: float
    vary: float
    cut: float
    """What a crosscut costs, as length of panel."""
    strip: float
    height: float
    worth: float = 0.98
    """Share of a new panel's length that an offcut is worth, or the other half of a corner panel."""
    holding: float = 0.3
    """What keeping an offcut at hand costs, as length of panel."""

    @classmethod
    def of(cls, job: Job, product: Product) -> Sizes:
        """The sizes of a product under a job's rules."""
        panel = product.panel.length
        return cls(
            panel=panel,
            corner=product.corner.length,
            kerf=job.plan.kerf,
            stagger=product.laying.stagger,
            least=product.laying.least_piece,
            unequal=product.corner.unequal,
            vary=product.corner.vary,
            cut=panel / job.plan.cuts_per_panel,
            strip=job.courses.sliver,
            height=product.panel.height,
        )

    @property
    def longest_corner(self) -> float:
        """The longest corner piece that leaves a piece on the other side of the cut (rule L4)."""
        return self.corner - self.kerf - self.least


class Offcut(NamedTuple):
    """What is left of a unit. ``key`` reserves it for the other side of a bay's mitre."""

    length: float
    end: End
    unit: int
    key: str = ""


class CornerOffcut(NamedTuple):
    """The other half of a cut corner panel, of the given hand; ``first`` is the length cut from it,
    ``free`` whether that piece met a joint, so that its length was free."""

    length: float
    hand: Hand
    unit: int
    first: float
    free: bool


class Got(NamedTuple):
    """A part got out of a unit: what it costs (as length), the cuts, the unit, and the pool after it."""

    cost: float
    cuts: int
    unit: int
    is_new: bool
    pool: tuple[Offcut, ...]


class GotCorner(NamedTuple):
    """A corner piece got out of a unit, likewise."""

    cost: float
    cuts: int
    unit: int
    is_new: bool
    pool: tuple[CornerOffcut, ...]


_SERVES: dict[tuple[Hand, End], End] = {
    ("left", "left"): "none",
    ("left", "either"): "none",
    ("right", "right"): "none",
    ("right", "either"): "none",
    ("any", "left"): "left",
    ("any", "right"): "right",
    ("any", "either"): "either",
    ("any", "none"): "none",
}
"""(part, offcut) -> the end that what is left still has."""
_LEFT_OF_NEW: dict[Hand, End] = {"left": "right", "right": "left", "any": "either"}


def worth(length: float, end: End, sizes: Sizes, demand: float) -> float:
    """What an offcut is worth, as length of panel; ``demand`` from 0 to 1 falls near the end of the job."""
    if length < sizes.least - EXACT_IN:
        return 0.0
    if end == "none":
        return _MIDDLE_WORTH * length * demand
    return max(0.0, (sizes.worth * length - sizes.holding) * demand)


def get_part(length: float, hand: Hand, pool: tuple[Offcut, ...], opened: int, sizes: Sizes, demand: float, key: str = "") -> Got:
    """The part out of the offcut that serves best, or of a new unit, which gets the number ``opened``."""
    rest = sizes.panel - sizes.kerf - length
    best_gain = worth(rest, _LEFT_OF_NEW[hand], sizes, demand) - sizes.panel - sizes.cut
    best = -1
    for i in range(len(pool) - 1, -1, -1):
        offcut = pool[i]
        left = offcut.length - length
        if left < -EXACT_IN or offcut.key != key or (hand, offcut.end) not in _SERVES:
            continue
        gain = -worth(offcut.length, offcut.end, sizes, demand)
        if left > EXACT_IN:
            gain += worth(left - sizes.kerf, _SERVES[hand, offcut.end], sizes, demand) - sizes.cut
        if key or gain > best_gain + EXACT_IN:
            best, best_gain = i, gain
    if best < 0:
        kept = rest if rest >= sizes.least - EXACT_IN else 0.0
        after = (*pool, Offcut(rest, _LEFT_OF_NEW[hand], opened, key)) if kept else pool
        return Got(-best_gain, 1, opened, True, after)
    used = pool[best]
    left = used.length - length
    others = pool[:best] + pool[best + 1 :]
    if left - sizes.kerf >= sizes.least - EXACT_IN:
        others = (*others, Offcut(left - sizes.kerf, _SERVES[hand, used.end], used.unit))
    return Got(-best_gain, int(left > EXACT_IN), used.unit, False, others)


def get_corner(
    length: float, hand: Hand, free: bool, pool: tuple[CornerOffcut, ...], opened: int, sizes: Sizes, wanted: int
) -> GotCorner:
    """The corner piece out of a half that is left, or of a new corner panel with the number ``opened``.

    ``free`` is whether its length was free (it meets a joint); two free halves differ by the least
    difference (rule L4). ``wanted`` is how many pieces of the other hand are still to come.
    """
    other: Hand = "right" if hand == "left" else "left"
    at_hand = sum(o.hand == other for o in pool)
    rest = sizes.corner - sizes.kerf - length
    gain = _half(rest, sizes) if wanted > at_hand else 0.0
    best, best_gain = -1, gain - sizes.corner - sizes.cut
    for i in range(len(pool) - 1, -1, -1):
        half = pool[i]
        left = half.length - length
        if half.hand != hand or left < -EXACT_IN:
            continue
        if free and half.free and abs(half.first - length) < sizes.unequal - EXACT_IN:
            continue
        gain = -_half(half.length, sizes) - (sizes.cut if left > EXACT_IN else 0.0)
        if gain > best_gain + EXACT_IN:
            best, best_gain = i, gain
    if best < 0:
        after = (*pool, CornerOffcut(rest, other, opened, length, free)) if rest >= sizes.least - EXACT_IN else pool
        return GotCorner(-best_gain, 1, opened, True, after)
    left = pool[best].length - length
    return GotCorner(-best_gain, int(left > EXACT_IN), pool[best].unit, False, pool[:best] + pool[best + 1 :])


def _half(length: float, sizes: Sizes) -> float:
    """What the other half of a corner panel is worth where a piece of its hand is still to come."""
    return sizes.worth * length if length >= sizes.least - EXACT_IN else 0.0
