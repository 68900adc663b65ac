"""Joints moved so that pieces are cut to few different lengths, with the panels of a plan or a few
more.

Every run in turn is put where its pieces have lengths that many others have. A part of a length
that n others have costs 1 / (n + 1): all parts of a length together then cost the harmonic number
of how many they are, so that to move one from a rare length to a common one always saves. Panels
above those that there may be cost too, and more from round to round where they go on being needed.
Lengths stay in steps of the search, and are not fitted to the panels afterwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    CUT_LENGTH_STEPS,
    EXACT_IN,
    LENGTHS_PANEL_COST,
    LENGTHS_ROUNDS,
    LENGTHS_TRIES,
    LOOK_HALF_COST,
    WHOLE_PANEL_IN,
)
from dxf2veneer.planning.balancing.divided import Key
from dxf2veneer.planning.balancing.moves import Choices
from dxf2veneer.planning.balancing.needed import Ticks
from dxf2veneer.planning.balancing.search import Balance
from dxf2veneer.planning.cutting_stock.panels import CutPanel
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.look.quiet import above_levels
from dxf2veneer.planning.sizes import LayingSizes

Costs = NDArray[np.float64]


def with_few_lengths(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, more: int
) -> list[LaidRun] | None:
    """A plan with its joints moved so that its pieces have few different lengths.

    Args:
        laid: The runs of a plan as laid; offcuts go from wall to wall.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        more: How many panels more it may take.

    Returns:
        The runs as laid then, with the numbers of their panels; None where no way was found.
    """
    few = _Few(laid, units, sizes)
    return few.fewest(len(units) + more)


class _Few(Balance):
    """A plan whose joints are moved to where its pieces have lengths of others."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
    ) -> None:
        """A plan as laid, with its panels."""
        longest = max(sizes.panel, sizes.corner)
        self._used = np.zeros(math.ceil(longest * CUT_LENGTH_STEPS) + 2, dtype=np.int64)
        """How many pieces are cut to each length, in steps of a tape; none of whole panels."""
        self._half = (sizes.corner - sizes.kerf) / 2.0
        super().__init__(laid, units, sizes)
        self._tries = LENGTHS_TRIES
        for i, one in enumerate(laid):
            if i not in self.divisions:
                for cut in one.cuts:
                    self._use(one.lengths[cut.piece], 1)

    def _use(self, length: float, number: int) -> None:
        if length < self.sizes.panel - WHOLE_PANEL_IN:
            self._used[round(length * CUT_LENGTH_STEPS)] += number

    def _put(self, i: int, number: int) -> None:
        super()._put(i, number)
        for _, length in self._parts(i):
            self._use(length, number)

    def _parts(self, i: int) -> Iterator[tuple[Key, float]]:
        for name, length in self.divisions[i].parts(self.laid[i].run.length, self.sizes.panel):
            yield (i, name), length

    def fewest(self, most: int) -> list[LaidRun] | None:
        """Move the joints of all runs in turn; the runs of the round with the fewest lengths that
        takes no more panels than there may be."""
        best, fewest = None, np.count_nonzero(self._used)
        taken = self.panels
        for _ in range(LENGTHS_ROUNDS):
            levels = self.flat.most + most - taken, self.corner.hands
            before = dict(self.divisions)
            for i in self.moved:
                self._move(i, levels)
            lengths, taken = np.count_nonzero(self._used), self.pairing().panels
            if lengths < fewest and taken <= most:
                best, fewest = self._laid(), lengths
            curves = zip((self.flat, self.corner), levels, strict=True)
            if not any([curve.weigh_above(level) for curve, level in curves]) and (
                self.divisions == before
            ):
                break
        return best

    def _laid(self) -> list[LaidRun]:
        """The runs with their joints as they are, panels whose parts don't fit taken apart."""
        pairing = self.pairing()
        lengths = {key: length for i in self.divisions for key, length in self._parts(i)}
        short = {
            n
            for n, panel in enumerate(pairing.rooms())
            if math.fsum(lengths[key] for key in panel.keys) > panel.room + EXACT_IN
        }
        return pairing.laid(lengths, short)

    def _costs(self, choices: Choices, levels: tuple[int, int]) -> Costs:
        """What each of some places costs in lengths, and in panels above the levels."""
        costs = LENGTHS_PANEL_COST * above_levels((self.flat, self.corner), choices.parts, levels)
        for _, places in choices.places:
            first = np.where(places.first > 0.0, places.first - places.left, 0.0)
            for lengths in (places.left, first, places.last, places.right):
                costs += self._prices(lengths)
            for corner in (places.left, places.right):
                costs += LOOK_HALF_COST * (abs(corner - self._half) < self.sizes.unequal / 2.0)
        return costs

    def _prices(self, lengths: Costs) -> Costs:
        """What parts of some lengths cost; nothing for no part and for a whole panel."""
        steps: Ticks = np.rint(lengths * CUT_LENGTH_STEPS).astype(np.int64)
        prices = 1.0 / (1.0 + self._used[np.clip(steps, 0, len(self._used) - 1)])
        is_cut = (lengths > 0.0) & (lengths < self.sizes.panel - WHOLE_PANEL_IN)
        return np.where(is_cut, prices, 0.0)
