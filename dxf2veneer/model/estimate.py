"""How many panels the net areas let expect, beside a plan or where nothing was laid out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.tolerances import QUOTIENT_PLACES

WallKind = Literal["plain", "corners", "openings", "column", "bay"]
"""What makes a wall take more panels than its area: corners and finished ends, openings, a column
no wider than a panel, a bay's mitered edges."""


@dataclass(frozen=True)
class WallEstimate:
    """One wall's panels, flat and corner ones together."""

    wall: str
    kind: WallKind
    faces: float
    """Net area over the face of one panel."""
    rate: float
    """Panels for each panel's worth of net area."""
    low: float
    high: float
    """What eight walls of ten of its kind lie between; both the rate where the job gives a scrap
    of its own."""

    @property
    def panels(self) -> int:
        """Whole panels for this wall alone."""
        return whole_panels(self.faces * self.rate)


@dataclass(frozen=True)
class PanelEstimate:
    """Panels by area."""

    walls: tuple[WallEstimate, ...]
    scrap: float | None
    """The job's own per cent; None where course plans of such walls say how many."""

    @property
    def panels(self) -> int:
        """Whole panels for the job, rounded up once."""
        return whole_panels(math.fsum(w.faces * w.rate for w in self.walls))

    @property
    def spread(self) -> tuple[int, int]:
        """Fewest and most panels, if every wall lay at the same end of its kind."""
        low, high = (
            math.fsum(w.faces * rate for w, rate in zip(self.walls, rates, strict=True))
            for rates in ([w.low for w in self.walls], [w.high for w in self.walls])
        )
        return whole_panels(low), whole_panels(high)


def whole_panels(panels: float) -> int:
    """Panels rounded up, as a spreadsheet does: the sum is rounded to six places before.

    Args:
        panels: Panels and fractions of panels.

    Returns:
        Whole panels.
    """
    return math.ceil(round(panels, QUOTIENT_PLACES))
