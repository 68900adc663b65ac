"""The panels that left-hand and right-hand parts need, as a count for every length.

**Theorem.** Parts of two hands, at most one of each in a panel: the fewest panels are the greatest,
over all lengths a, of

    N(a) = left parts of a or more + right parts of more than (panel - a).

No two of those share a panel, so that none can do with fewer. And N(a) are enough for some a: the
left parts that fit with a right part fit with every shorter one, so that left and right parts
make a graph whose least vertex cover consists of the left parts below some a and the right parts
that fit with it; by König's theorem the most pairs are as many, and the parts less the pairs are
N(a). A whole panel counts at every length.

A plan without waste has the same N(a) everywhere. So the search prices each length by how far N(a)
stands above a level, steeply, and moves joints to where that is cheap; where it stays highest the
price goes up from round to round. All counts and prices are
whole numbers: the same on every machine.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import BALANCE_TICK_IN
from dxf2veneer.planning.offcuts import Hand

Ticks = NDArray[np.int64]
_HEAVIEST = 64
"""Most weight of a length."""
_STEEP = 4
"""How many times dearer each panel above the level makes a length."""
_LEVEL = 8
"""Place of the level among the prices."""
_PRICES: Ticks = _STEEP ** np.arange(2 * _LEVEL + 1, dtype=np.int64)
_MOST_AT_ONCE = 5
"""Panels beyond which several at once are no dearer: so sums stay whole numbers of 64 bits."""


def tick_of(length: float, kerf: float) -> float:
    """The grid of a panel's parts: about a sixty-fourth of an inch, and the panel with a saw cut
    whole ticks, so that two parts that fill it up fit whatever they are rounded to.

    Args:
        length: The panel's length in inches.
        kerf: The width of a saw cut.

    Returns:
        A tick in inches.
    """
    return (length + kerf) / round((length + kerf) / BALANCE_TICK_IN)


class NeededPanels:
    """The count N(a) of one kind of panel, and the price of one more part."""

    def __init__(self, length: float, kerf: float) -> None:
        """No parts yet; the panel's length and the width of a saw cut in inches."""
        self.kerf = kerf
        self.tick = tick_of(length, kerf)
        self.room = round((length + kerf) / self.tick)
        self.counts: Ticks = np.zeros(self.room, dtype=np.int64)
        self._weights: Ticks = np.ones(self.room, dtype=np.int64)
        self._below: Ticks = np.zeros(self.room + 1, dtype=np.int64)

    def ticks(self, length: float) -> int:
        """A part's length in inches, with a cut, as a whole number."""
        return min(round((length + self.kerf) / self.tick), self.room)

    def all_ticks(self, lengths: NDArray[np.float64]) -> Ticks:
        """The same of many parts; nothing for what is too short for a part."""
        size = np.rint((lengths + self.kerf) / self.tick)
        return np.minimum(np.maximum(size, 0.0), self.room).astype(np.int64)

    def raised(self, hand: Hand, ticks: int) -> Ticks:
        """The counts that a part of a hand raises, to be changed in place."""
        return self.counts[:ticks] if hand == "left" else self.counts[self.room - ticks :]

    def put(self, hand: Hand, ticks: int, number: int = 1) -> None:
        """Add that many parts of a hand, or take them away where the number is negative."""
        counts = self.raised(hand, ticks)
        counts += number

    @property
    def most(self) -> int:
        """The panels that the parts need."""
        return int(self.counts.max())

    @property
    def hands(self) -> int:
        """The panels that they need whatever their lengths are: as many as parts of one hand."""
        return int(max(self.counts[0], self.counts[-1]))

    @property
    def mean(self) -> int:
        """The panels that they would need if nothing were wasted."""
        return -(-int(self.counts.sum()) // self.room)

    def price(self, level: int) -> None:
        """Price a count at each length: many times as much for each panel above the level."""
        prices = _PRICES.take(self.counts - (level - _LEVEL), mode="clip")
        np.multiply(prices, self._weights, out=prices).cumsum(out=self._below[1:])

    def weigh(self) -> None:
        """Make the lengths where most panels are needed dearer from now on."""
        peak = self.counts == self.counts.max()
        self._weights[peak] = np.minimum(2 * self._weights[peak], _HEAVIEST)

    def weigh_above(self, level: int) -> bool:
        """Make the lengths dearer at which more panels are needed; whether there are such."""
        above = self.counts > level
        self._weights[above] *= 2
        return bool(above.any())

    def rise(self, level: int, left: Ticks, right: Ticks, times: int) -> NDArray[np.float64]:
        """By how many panels' length counts stand above a level with left and right parts beside
        those counted, so many times; each length as dear as its weight."""
        sums = [
            np.append(0, np.cumsum(self._weights * np.maximum(0, self.counts + n * times - level)))
            for n in range(3)
        ]
        none, one, two = sums[0], sums[1] - sums[0], sums[2] - 2 * sums[1] + sums[0]
        begin = self.room - right
        found: Ticks = none[-1] + one[left] + one[-1] - one[begin]
        found = found + np.where(left > begin, two[left] - two[begin], 0)
        return found / self.room

    def cost(self, left: Ticks, right: Ticks, dearer: Ticks | None, times: int = 1) -> Ticks:
        """The price of a left and a right part and whole panels together, 0 ticks for no part, all
        of them so many times; ``dearer`` is what whole panels make of it (``dearer_by``).

        Where there are no whole panels (None) that of the right part goes without what a whole
        panel costs, the same at each place.
        """
        below = self._below
        result = below.take(left)
        result -= below.take(self.room - right)
        both: Ticks = np.maximum(result, 0)
        if times > 1:
            one, two = _at_once(times), _at_once(2 * times)
            result *= one
            both *= two - 2 * one
        result += both
        if dearer is not None:
            result += (_at_once(times) + 1) * below[-1]
            result *= dearer
            result -= below[-1]
        return result


def dearer_by(whole: Ticks) -> Ticks:
    """How many times dearer parts are beside so many whole panels.

    Args:
        whole: Numbers of panels.

    Returns:
        Whole numbers, for ``NeededPanels.cost``.
    """
    dearer: Ticks = 2 ** np.minimum(whole, _MOST_AT_ONCE)
    return dearer


def _at_once(panels: int) -> int:
    """The price of several panels more at once, that of the first one being 1: each doubles it."""
    most = min(panels, _MOST_AT_ONCE)
    return int(2**most) - 1 + panels - most
