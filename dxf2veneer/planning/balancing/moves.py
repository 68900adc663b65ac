"""Other places for the joints of one run, and what each costs at the prices of its parts' lengths.

Moved are: the row of panels; a corner piece's joint; a corner piece's joint and the row together,
at either end. The first place of all is the one that the joints have now.
"""

from __future__ import annotations

from collections.abc import Sequence
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
    step, panel = BALANCE_STEP_IN, sizes.panel
    corner = np.append(np.arange(sizes.least, sizes.longest_corner, step), sizes.longest_corner)
    columns: list[tuple[float | Array, float | Array, float | Array]] = [(a, p, b)]
    if p:
        part = np.append(np.arange(sizes.least, panel, step), panel)
        from_end = (m - b - part - a - sizes.least) % panel + a + sizes.least
        columns += [(a, a + part, b), (a, from_end, b)]
    if a:
        columns += [(corner, p, b), (corner, p + corner - a, b)] if p else [(corner, p, b)]
    if b:
        columns += [(a, p, corner), (a, p + b - corner, corner)] if p else [(a, p, corner)]
    left, first, right = (_stacked([column[k] for column in columns], columns) for k in range(3))
    if p:
        rest = m - right - first
        whole = np.ceil(rest / panel - EXACT_IN).astype(np.int64) - 1
        return Places(left, first, whole, right, rest - whole * panel)
    return Places(left, first, np.zeros(len(left), dtype=np.int64), right, m - left - right)


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
    last = flat.ticks(places.last + more[1])
    if places.first[0]:
        cost = flat.cost(last, flat.ticks(places.first - places.left + more[0]))
    else:
        cost = flat.cost(last, np.zeros_like(last))
    extra = np.where(fits, places.whole - places.whole[fits].min(), 0)
    factor = 2**extra  # each whole panel more doubles all prices
    cost = flat.whole * (factor - 1) + factor * cost
    none = np.zeros_like(last)
    left = corner.ticks(places.left) if places.left[0] else none
    right = corner.ticks(places.right) if places.right[0] else none
    return np.where(fits, cost + corner.cost(left, right), _IMPOSSIBLE)


def _stacked(own: Sequence[float | Array], columns: Sequence[Sequence[float | Array]]) -> Array:
    """One of three columns of all places; a number stands for as many as its row has."""
    lengths = [max(np.size(value) for value in column) for column in columns]
    return np.concatenate(
        [
            value if isinstance(value, np.ndarray) else np.full(n, value)
            for value, n in zip(own, lengths, strict=True)
        ]
    )
