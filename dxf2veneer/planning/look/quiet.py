"""A plan whose joints are moved so that they make fewer patterns, run by run.

Every run in turn is put where its joints make the fewest patterns (``pattern``). Where more panels
would be needed than the plan has, by the counts N(a) of ``balancing.needed``, that costs too, and
more from round to round where they go on being needed. Of what each round leaves the best is kept.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    LOOK_HALF_COST,
    LOOK_PAIR_COST,
    LOOK_PANEL_COST,
    LOOK_PRICE,
    LOOK_ROUNDS,
)
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.balancing.moves import Choices, Counted, Places, shifted
from dxf2veneer.planning.balancing.needed import NeededPanels, Ticks
from dxf2veneer.planning.balancing.search import Balance
from dxf2veneer.planning.cutting_stock.panels import CutPanel
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.look.pattern import Pattern
from dxf2veneer.planning.sizes import LayingSizes


class Quiet(Balance):
    """A plan whose joints are moved for its look."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
    ) -> None:
        """A plan as laid, with its panels."""
        super().__init__(laid, units, sizes)
        self._levels = self.flat.most, self.corner.most
        self._half = (sizes.corner - sizes.kerf) / 2.0
        self.pattern = Pattern(laid, self._joints, self._corner_pieces, sizes.panel, sizes.vary)

    def run(self, enough: int) -> None:
        """Move the joints of all runs in turn, for some rounds, and keep the best look for which
        as many panels are enough; a panel more is worth some flaws."""
        begun, apart = self.panels, self._apart(self.moved)
        best, least = dict(self.divisions), self._flaws() + LOOK_PAIR_COST * apart
        for _ in range(LOOK_ROUNDS):
            go_on()
            before = dict(self.divisions)
            for i in self.moved:
                self._move(i, self._levels)
            self._push_rows(self._levels)
            now = self._apart(self.moved)
            cost = self._flaws() + LOOK_PANEL_COST * (self.panels - begun) + LOOK_PAIR_COST * now
            if cost < least and now <= apart and self.pairing().panels <= enough:
                best, least = dict(self.divisions), cost
            curves = zip((self.flat, self.corner), self._levels, strict=True)
            if not any([curve.weigh_above(level) for curve, level in curves]) and (
                self.divisions == before
            ):
                break
        for i, division in best.items():
            if division != self.divisions[i]:
                self._put(i, -1)
                self._place(i, division)
                self._put(i, 1)

    def stand(self, i: int, division: Division) -> None:
        """Put a run's joints somewhere, with those of its twins, counts and all."""
        for j in (i, *self.twins.get(i, ())):
            self._put(j, -1)
            self._place(j, division)
            self._put(j, 1)

    def _flaws(self) -> float:
        """What the patterns of all joints cost; those in line are counted from both sides."""
        return math.fsum(self.pattern.costs(i, self.unmoved(i))[0] for i in self.divisions)

    def _apart(self, runs: Sequence[int]) -> float:
        """How many mitred pairs of some runs don't lie side by side in their panel."""
        return float(self.mitred.apart(self.mitred.panels_of(runs), {}, self.divisions)[0])

    def unmoved(self, i: int) -> Places:
        """The one place that a run's joints have now."""
        return shifted(self.divisions[i], self.laid[i].run.length, np.zeros(1), self.sizes)

    def _costs(self, choices: Choices, levels: tuple[int, int]) -> NDArray[np.float64]:
        """What each of some places costs in patterns, and in panels above the levels."""
        costs = LOOK_PRICE * above_levels((self.flat, self.corner), choices.parts, levels)
        for _, places in choices.places:
            for corner in (places.left, places.right):
                costs += LOOK_HALF_COST * (abs(corner - self._half) < self.sizes.unequal / 2.0)
        return costs + self.flaws_at(choices)

    def flaws_at(self, choices: Choices) -> NDArray[np.float64]:
        """What each of some places costs in patterns, and in mitred pairs that lie apart."""
        costs, runs = np.zeros(1), [i for i, _ in choices.places]
        lengths = {}
        for i, places in choices.places:
            costs = costs + self.patterns(i, places)
            first, last = self._flat_keys(i)
            lengths[first], lengths[last] = places.first - places.left, places.last
        panels = self.mitred.panels_of(runs)
        return costs + LOOK_PAIR_COST * self.mitred.apart(panels, lengths, self.divisions)

    def patterns(self, i: int, places: Places) -> NDArray[np.float64]:
        """What some places of a run's joints, and of its twins', cost in patterns."""
        costs = self.pattern.costs(i, places)
        for j in self.twins.get(i, ()):
            costs += self.pattern.costs(j, places)
        return costs


def above_levels(
    curves: tuple[NeededPanels, NeededPanels], parts: Counted, levels: tuple[int, int]
) -> NDArray[np.float64]:
    """By how many panels the counts rise above two levels with the parts of some places.

    Args:
        curves: The counts of flat and of corner panels, those parts not in them.
        parts: The parts, a row for each place.
        levels: Panels of either kind that cost nothing.

    Returns:
        Panels, weighted as the curves' lengths are.
    """
    flat, corner = curves
    whole = parts.times * parts.whole
    found = _above(flat, levels[0], (parts.left, parts.right), whole, parts.times)
    if parts.corner_left[0] or parts.corner_right[0]:
        halves = parts.corner_left, parts.corner_right
        found += _above(corner, levels[1], halves, np.zeros_like(whole), parts.times)
    return found


def _above(
    curve: NeededPanels, level: int, ends: tuple[Ticks, Ticks], whole: Ticks, times: int
) -> NDArray[np.float64]:
    """By how many panels counts rise above a level with parts and whole panels, in panel lengths.

    Args:
        curve: The counts, those of the parts not in them.
        level: Panels that cost nothing.
        ends: Left and right parts, in ticks.
        whole: Whole panels beside them.
        times: How many runs have such parts.

    Returns:
        Panels, weighted as the curve's lengths are.
    """
    found = np.zeros(len(whole))
    for number in np.unique(whole):
        found += (whole == number) * curve.rise(level - int(number), *ends, times)
    return found
