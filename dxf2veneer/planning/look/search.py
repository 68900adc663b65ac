"""Joints moved for the look of a plan, with its panels or a few more.

First run by run (``quiet``), then two runs at once where a course still repeats the one two below
(``repeats``). Then parts get panels and exact lengths as ever, no joint nearer to one in line than
it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.tolerances import EXACT_IN, LOOK_LINE_IN
from dxf2veneer.planning.cutting_stock.panels import CutPanel
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.look.repeats import Lively
from dxf2veneer.planning.sizes import LayingSizes


def quieted(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, more: int
) -> list[LaidRun] | None:
    """A plan with its joints moved so that they make fewer patterns.

    Args:
        laid: The runs of a plan as laid; offcuts go from wall to wall.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        more: How many panels more it may take.

    Returns:
        The runs as laid then, with the numbers of their panels; None where no way was found.
    """
    quiet = Lively(laid, units, sizes)
    most = len(units) + more
    quiet.run(most)
    quiet.part_repeats(most)
    return quiet.fitted(most, quiet.pattern.second, LOOK_LINE_IN + 2.0 * EXACT_IN)
