"""The fewest panels of a small job: all its runs laid anew at once, by an exact search.

Until it has proved that there are none fewer, or has branched as often as it may. It goes by
counts, not by the clock: the same drawing gives the same plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.planning.alike import tied
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef, cut_stock
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.model import SectionProgram
from dxf2veneer.planning.relaying.sections import Stock
from dxf2veneer.planning.relaying.ways import ways_of
from dxf2veneer.planning.sizes import LayingSizes


class Relaid(NamedTuple):
    """The runs laid anew in fewer panels, where that was found; and whether the search ended before
    it had proved that there is nothing better."""

    laid: list[LaidRun] | None
    units: tuple[CutPanel, ...]
    is_cut_short: bool


def laid_anew(
    laid: Sequence[LaidRun],
    units: tuple[CutPanel, ...],
    free: Sequence[int],
    sizes: LayingSizes,
    nodes: int,
) -> Relaid:
    """Lay some runs of a plan anew, all others as they are, in fewer panels.

    Args:
        laid: The runs of a plan as laid, all rules kept.
        units: Its panels; offcuts go from wall to wall.
        free: Positions of the runs, none of which ends at a bay's mitre.
        sizes: Lengths and limits, in inches.
        nodes: How often the search may branch.

    Returns:
        The runs with their panels; as they are where the rules leave a run no way to be divided,
        or where walls are laid alike.
    """
    is_tied = not tied(one.run for one in laid).isdisjoint(free)
    if is_tied or not all(any(ways_of(laid[i].run, sizes)) for i in free):
        return Relaid(None, units, is_cut_short=False)
    stock = Stock.of(laid, units)
    section = SectionProgram(laid, stock, free, sizes)
    now = sum(len(laid[i].lengths) - len(laid[i].cuts) for i in free)
    now += sum(all(ref.run in free for ref, _ in parts) for parts in stock.panels().values())
    section.program.limit(now - 1)
    values, is_proved = section.program.least(nodes)
    if values is None:
        return Relaid(None, units, not is_proved)
    numbers = {ref: n for n, unit in enumerate(units) for ref, _ in unit.parts}
    after = [_renumbered(i, one, numbers) for i, one in enumerate(laid)]
    for i, one in section.layout(values).items():
        after[i] = one
    return Relaid(after, cut_stock(after, sizes, within_walls=False), not is_proved)


def _renumbered(i: int, one: LaidRun, numbers: dict[PartRef, int]) -> LaidRun:
    """The run with its parts' panels by the numbers that they have in the stock."""
    cuts = [cut._replace(unit=numbers[PartRef(i, cut.piece)]) for cut in one.cuts]
    return LaidRun(one.run, one.lengths, tuple(cuts))
