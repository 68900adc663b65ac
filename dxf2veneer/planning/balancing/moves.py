"""Other places for the joints of one run, and what each costs at the prices of its parts' lengths.

Moved are: the row of panels; a corner piece's joint; a corner piece's joint and the row together,
at either end. The first place of all is the one that the joints have now.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import BALANCE_STEP_IN, EXACT_IN
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.balancing.needed import NeededPanels, Ticks
from dxf2veneer.planning.sizes import LayingSizes

Array = NDArray[np.float64]
_IMPOSSIBLE = np.iinfo(np.int64).max


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


def possible(places: Places, more: tuple[float, float], sizes: LayingSizes) -> NDArray[np.bool_]:
    """Where all parts are as long as they may be.

    Args:
        places: Places for the joints of a run.
        more: What goes with its first and its last flat piece in their panels, in inches.
        sizes: Lengths and limits, in inches.

    Returns:
        Whether each place is possible.
    """
    least, panel = sizes.least - EXACT_IN, sizes.panel + EXACT_IN
    fits = (places.last >= least) & (places.last + more[1] <= panel) & (places.whole >= 0)
    if places.first[0]:
        first = places.first - places.left
        fits &= (first >= least) & (first + more[0] <= panel)
    return fits


def costs_of(
    places: Places,
    more: tuple[float, float],
    fits: NDArray[np.bool_],
    curves: tuple[NeededPanels, NeededPanels],
) -> Ticks:
    """What each place costs at the prices of flat and corner panels.

    Args:
        places: Places for the joints of a run, whose parts are not counted in the curves.
        more: What goes with its first and its last flat piece in their panels, in inches.
        fits: Which places are possible.
        curves: Flat panels with the fewest whole ones counted, and corner panels; both priced.

    Returns:
        Costs, huge where a place is impossible.
    """
    flat, corner = curves
    last = flat.all_ticks(places.last + more[1])
    if places.first[0]:
        cost = flat.cost(last, flat.all_ticks(places.first - places.left + more[0]))
    else:
        cost = flat.cost(last, np.zeros_like(last))
    extra = np.where(fits, places.whole - places.whole[fits].min(), 0)
    factor = 2**extra  # each whole panel more doubles all prices
    cost = flat.whole * (factor - 1) + factor * cost
    if not places.left[0] and not places.right[0]:
        return np.where(fits, cost, _IMPOSSIBLE)
    none = np.zeros_like(last)
    left = corner.all_ticks(places.left) if places.left[0] else none
    right = corner.all_ticks(places.right) if places.right[0] else none
    return np.where(fits, cost + corner.cost(left, right), _IMPOSSIBLE)
