"""Parts of a plan shared out anew, so that offcuts are used near the panel that they come from.

Parts that may share a panel are put together (``sharing``), those a little too long among them;
joints are moved to where they fit (``balancing.fitting``), and the parts shared out once more. What
cannot be made to fit is dearer from then on. Where that takes too many panels offcuts may go
farther, at a price that falls until the plan takes few enough.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    CREW_FAR_COSTS,
    CREW_OVERS_IN,
    CREW_REFUSED_COST,
    CREW_SHARE,
    EXACT_IN,
    LOOK_LINE_IN,
)
from dxf2veneer.planning.alike import twins_of
from dxf2veneer.planning.balancing.divided import (
    Division,
    Key,
    Shared,
    divisions_of,
    neighbors_of,
)
from dxf2veneer.planning.balancing.fitting import Fitting
from dxf2veneer.planning.balancing.mitred import MitrePanels
from dxf2veneer.planning.balancing.pairing import Pairing, Part
from dxf2veneer.planning.crew.rising import Rising
from dxf2veneer.planning.crew.sharing import Owners, Prices, shared_out
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.ways import HANDS
from dxf2veneer.planning.sizes import LayingSizes


class _Shared(NamedTuple):
    """A plan with its parts shared out: the runs, how many panels they take, and of those how many
    have parts far from one another."""

    laid: list[LaidRun]
    panels: int
    far: int


def near_offcuts(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, wait: int
) -> list[LaidRun] | None:
    """A plan whose offcuts are used near the panel that they come from.

    Args:
        laid: The runs of a plan as laid.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        wait: For how many courses an offcut may wait.

    Returns:
        The runs with the numbers of their panels: all offcuts near, or as many of them as can be
        for ``CREW_SHARE`` of the panels; None where no way was found.
    """
    most = math.floor((1.0 + CREW_SHARE) * len(units))
    for far in (None, *CREW_FAR_COSTS):
        crew = _Crew(laid, units, sizes, wait)
        best = min(crew.rounds(far), key=lambda plan: (plan.panels, plan.far), default=None)
        if best is not None and best.panels <= most:
            return best.laid
    return None


class _Crew:
    """A plan whose parts are shared out anew."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, wait: int
    ) -> None:
        self._laid, self._sizes = laid, sizes
        self._rising = Rising(laid, wait)
        self._shared = Shared.apart(laid, units)
        self._twins = twins_of(one.run for one in laid)
        still = self._shared.still(laid)
        self._divisions = divisions_of(laid, still, self._twins, sizes)
        self._mitred = MitrePanels(laid, self._divisions, self._shared, sizes)
        self._near = [
            (neighbors_of(laid, sizes.stagger), sizes.stagger),
            (neighbors_of(laid, 0.0, 2), LOOK_LINE_IN + 2.0 * EXACT_IN),
        ]
        self._refused: dict[Owners, float] = {}

    def rounds(self, far: float | None) -> Iterator[_Shared]:
        """The parts shared out and joints moved, round by round."""
        for over in CREW_OVERS_IN:
            go_on()
            found = self._round(Prices(far, over, self._refused))
            if found is None:
                return
            yield found

    def _round(self, prices: Prices) -> _Shared | None:
        """The parts shared out, and joints moved to where they fit."""
        hands = {
            (i, name): HANDS[name]
            for i, division in self._divisions.items()
            for name, _ in division.parts(self._laid[i].run.length, self._sizes.panel)
        }
        pack = functools.partial(shared_out, rising=self._rising, prices=prices)
        pairing = Pairing(
            self._laid,
            self._divisions,
            self._shared,
            hands,
            {},
            self._mitred,
            self._sizes,
            pack,
        )
        panels = (*pairing.flat, *pairing.corner)
        rooms = list(pairing.rooms())
        program = Fitting(self._laid, self._divisions, self._twins, self._near, rooms, self._sizes)
        fitted = program.solve()
        if fitted is None:
            return None
        lengths, short = fitted
        apart = list(_moved(panels))
        more = 0
        for n in short:
            if n < len(apart):
                owners = frozenset(part.own for part in apart[n])
                self._refused[owners] = self._refused.get(owners, 0.0) + CREW_REFUSED_COST
                more += len(owners) - 1
        far = sum(not self._are_near(panel) for panel in panels)
        laid = pairing.laid(lengths, short)
        self._divisions = {i: _with(d, i, lengths) for i, d in self._divisions.items()}
        return _Shared(laid, pairing.panels + more, far)

    def _are_near(self, panel: Sequence[Part]) -> bool:
        return bool(self._rising.near(np.array([part.own[0] for part in panel])).all())


def _moved(panels: Sequence[Sequence[Part]]) -> Iterator[Sequence[Part]]:
    """The panels that have parts of moved runs."""
    for panel in panels:
        if any(not isinstance(part.own, PartRef) for part in panel):
            yield panel


def _with(division: Division, i: int, lengths: Mapping[Key, float]) -> Division:
    """A division with other lengths of its parts."""
    left = lengths.get((i, "corner left"), 0.0)
    first = left + lengths[i, "first"] if division.first else 0.0
    return Division(left, first, division.whole, lengths.get((i, "corner right"), 0.0))
