"""Other places for the joints of one run, and what each costs at the prices of its parts' lengths.

Moved are: the row of panels; a corner piece's joint; a corner piece's joint and the row together,
at either end; or all joints by one distance, where runs meet at mitres. The first place of all is
the one that the joints have now.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import BALANCE_STEP_IN, EXACT_IN
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.balancing.needed import NeededPanels, Ticks, dearer_by
from dxf2veneer.planning.sizes import LayingSizes

Array = NDArray[np.float64]


class Places(NamedTuple):
    """Places for the joints of a run: columns of what ``Division`` has, and the last piece."""

    left: Array
    first: Array
    whole: Ticks
    right: Array
    last: Array

    def division(self, k: int) -> Division:
        """One of them."""
        whole = int(self.whole[k])
        return Division(float(self.left[k]), float(self.first[k]), whole, float(self.right[k]))

    def where(self, fits: NDArray[np.bool_]) -> Places:
        """Some of them."""
        left, first, whole, right, last = self
        return Places(left[fits], first[fits], whole[fits], right[fits], last[fits])


def places_of(now: Division, m: float, sizes: LayingSizes) -> Places:
    """Places for the joints of a run of length m.

    Args:
        now: How it is divided.
        m: Its length in inches.
        sizes: Lengths and limits, in inches.

    Returns:
        The places, whether its parts are too long or too short there or not.
    """
    a, p, b = now.left, now.first, now.right
    part, corner = _grids(sizes.least, sizes.panel, sizes.longest_corner)
    number = 1 + 2 * bool(p) * len(part) + (1 + bool(p)) * (bool(a) + bool(b)) * len(corner)
    left, first, right = np.full(number, a), np.full(number, p), np.full(number, b)
    at = 1
    if p:
        n = len(part)
        first[at : at + n] = a + part
        first[at + n : at + 2 * n] = (m - b - a - sizes.least - part) % sizes.panel
        first[at + n : at + 2 * n] += a + sizes.least
        at += 2 * n
    for own, length, sign in ((left, a, 1.0), (right, b, -1.0)):
        for is_row_moved in (False, True)[: 1 + bool(p)] if length else ():
            own[at : at + len(corner)] = corner
            if is_row_moved:
                first[at : at + len(corner)] += sign * (corner - length)
            at += len(corner)
    if p:
        rest = m - right - first
        whole = np.ceil(rest / sizes.panel - EXACT_IN).astype(np.int64) - 1
        return Places(left, first, whole, right, rest - whole * sizes.panel)
    return Places(left, first, np.zeros(number, dtype=np.int64), right, m - left - right)


@lru_cache
def _grids(least: float, panel: float, longest: float) -> tuple[Array, Array]:
    """Lengths of a flat part and of a corner piece that are tried."""
    part = np.append(np.arange(least, panel, BALANCE_STEP_IN), panel)
    return part, np.append(np.arange(least, longest, BALANCE_STEP_IN), longest)


def shifted(now: Division, m: float, by: Array, sizes: LayingSizes) -> Places:
    """Places for the joints of a run of length m, all of them moved to the right.

    Args:
        now: How it is divided.
        m: Its length in inches.
        by: The distances in inches, negative to the left.
        sizes: Lengths and limits, in inches.

    Returns:
        The places; a corner piece keeps its length where there is a row beside it.
    """
    left, right = np.full(len(by), now.left), np.full(len(by), now.right)
    if now.first:
        first = (now.first + by - now.left) % sizes.panel
        first = now.left + np.where(first < EXACT_IN, sizes.panel, first)
        rest = m - right - first
        whole = np.ceil(rest / sizes.panel - EXACT_IN).astype(np.int64) - 1
        return Places(left, first, whole, right, rest - whole * sizes.panel)
    left, right = (left + by, right) if now.left else (left, right - by)
    none = np.zeros(len(by), dtype=np.int64)
    return Places(left, np.zeros(len(by)), none, right, m - left - right)


@lru_cache
def distances(most: float) -> Array:
    """Distances by which joints are moved, none first.

    Args:
        most: What all of them are below, in inches.

    Returns:
        The distances in inches.
    """
    return np.arange(0.0, most, BALANCE_STEP_IN)


def possible(places: Places, most: tuple[float, float], sizes: LayingSizes) -> NDArray[np.bool_]:
    """Where all parts are as long as they may be.

    Args:
        places: Places for the joints of a run.
        most: The greatest lengths of its first and its last flat piece, in inches.
        sizes: Lengths and limits, in inches.

    Returns:
        Whether each place is possible; a corner piece of about half a panel only if it is so now.
    """
    least, far = sizes.least - EXACT_IN, sizes.longest_corner + EXACT_IN
    fits = (places.last >= least) & (places.last <= most[1] + EXACT_IN) & (places.whole >= 0)
    if places.first[0]:
        first = places.first - places.left
        fits &= (first >= least) & (first <= most[0] + EXACT_IN)
    half = (sizes.corner - sizes.kerf) / 2.0  # two such pieces can't share a panel (L4)
    for corner in (places.left, places.right):
        if corner[0]:
            fits &= (corner >= least) & (corner <= far)
            fits &= (abs(corner - half) >= sizes.unequal / 2.0 - EXACT_IN) | (corner == corner[0])
    return fits


class Counted(NamedTuple):
    """The parts for which panels are looked for, in ticks: a row for each place, 0 for no part."""

    left: Ticks
    """Of a flat part that keeps its panel's left end."""
    right: Ticks
    whole: Ticks
    """How many whole panels."""
    corner_left: Ticks
    corner_right: Ticks
    times: int = 1
    """How many runs have them, being laid alike."""

    def where(self, fits: NDArray[np.bool_]) -> Counted:
        """Those at some of the places."""
        left, right, whole, a, b, times = self
        return Counted(left[fits], right[fits], whole[fits], a[fits], b[fits], times)


class Choices(NamedTuple):
    """The possible places of runs that are moved together, those that they have now first."""

    places: tuple[tuple[int, Places], ...]
    """By the position of each run."""
    parts: Counted
    fewest: int
    """Whole panels at any place."""
    dearer: Ticks | None
    """What whole panels beyond those do to the price; None where there are as many at each
    place."""
    is_open: NDArray[np.bool_]
    """Which places no joints beside are known to bar: changed in place."""

    @classmethod
    def of(
        cls, moved: Sequence[tuple[int, Places]], fits: NDArray[np.bool_], parts: Counted
    ) -> Choices | None:
        """Those that fit; None where the places that the runs have now do not."""
        if not fits[0]:
            return None
        places, own = [(i, found.where(fits)) for i, found in moved], parts.where(fits)
        fewest = int(own.whole.min())
        more = own.whole - fewest
        dearer = dearer_by(own.times * more) if more.any() else None
        is_open = np.ones(len(more), dtype=np.bool_)
        return cls(tuple(places), own, own.times * fewest, dearer, is_open)

    def costs(self, flat: NeededPanels, corner: NeededPanels, levels: tuple[int, int]) -> Ticks:
        """What each costs at the prices of flat and corner panels.

        Args:
            flat: Flat panels, those of the runs not counted.
            corner: Corner panels likewise.
            levels: The number of either above which a panel is dear.

        Returns:
            Costs.
        """
        parts = self.parts
        flat.price(levels[0] - self.fewest)
        cost = flat.cost(parts.left, parts.right, self.dearer, parts.times)
        if parts.corner_left[0] or parts.corner_right[0]:
            corner.price(levels[1])
            cost += corner.cost(parts.corner_left, parts.corner_right, None, parts.times)
        return cost
