"""What it would take to mend the patterns that joints make: other joints of one run at a time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from dxf2veneer.basics.tolerances import EXACT_IN, MEND_LEAST, MEND_RUNS, MEND_TRIES
from dxf2veneer.model import Mend
from dxf2veneer.planning.balancing.divided import Division
from dxf2veneer.planning.cutting_stock.panels import CutPanel
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.look.quiet import Quiet, above_levels
from dxf2veneer.planning.sizes import LayingSizes


def mends_of(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
) -> Iterator[Mend]:
    """What fewer patterns would take, for the runs that stand in most of them.

    The panels are those that all parts need, by the counts N(a) of ``balancing.needed``, with the
    joints of that run elsewhere and all others where they are; its twins move with it.

    Args:
        laid: The runs of a plan as laid; offcuts go from wall to wall.
        units: Its panels.
        sizes: Lengths and limits, in inches.

    Yields:
        Runs from that with most patterns on.
    """
    quiet = _Mending(laid, units, sizes)
    seen = {i: quiet.pattern_of(i) for i in quiet.moved}
    worst = sorted((i for i in seen if seen[i] > EXACT_IN), key=lambda i: -round(seen[i], 6))
    for i in worst[:MEND_RUNS]:
        panels = quiet.panels_for(i)
        for j in (i, *quiet.twins.get(i, ())):
            run = laid[j].run
            yield Mend(run.wall, run.course, run.x0, run.x1, panels)


class _Mending(Quiet):
    """A plan of which single runs are tried elsewhere."""

    def pattern_of(self, i: int) -> float:
        """What the patterns of a run's joints cost where they are."""
        return float(self.patterns(i, self.unmoved(i))[0])

    def panels_for(self, i: int) -> int | None:
        """Panels more where the run's joints stand in fewer patterns; None where they can't."""
        choices = self._choices_of(i)
        if choices is None:
            return None
        ((_, places),) = choices.places
        patterns = self.patterns(i, places)
        (quieter,) = (patterns <= patterns[0] - MEND_LEAST + EXACT_IN).nonzero()
        levels = self.flat.most, self.corner.most
        begun, now, twins = sum(levels), self.divisions[i], (i, *self.twins.get(i, ()))
        self._count(twins, -1)
        rise = above_levels((self.flat, self.corner), choices.parts, levels)[quieter]
        found = []
        for k in quieter[np.lexsort((patterns[quieter], rise))].tolist():
            division = places.division(k)
            if all([self._is_allowed(j, division) for j in twins]):
                self._stand(twins, division)
                found.append(self.panels - begun)
                self._count(twins, -1)
                if len(found) == MEND_TRIES or found[-1] <= 0:
                    break
        self._stand(twins, now)
        return max(0, min(found)) if found else None

    def _stand(self, twins: Sequence[int], division: Division) -> None:
        """Count runs laid alike in a division; others go by their joints, which stay noted where
        they are, as the runs go back there."""
        for j in twins:
            self.divisions[j] = division
            self._raised[j] = self._raised_by(j)
        self._count(twins, 1)

    def _count(self, twins: Sequence[int], number: int) -> None:
        for j in twins:
            self._put(j, number)
