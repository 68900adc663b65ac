"""Pairs of mitred pieces that no layout of their bay has side by side in one panel (rule L13)."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from dxf2veneer.basics.tolerances import SAW_HAIR_IN
from dxf2veneer.planning.bay_proof import bays_of, fewest_parted, parted_test
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes


def forced_apart(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
) -> Iterator[tuple[str, int]]:
    """Pairs that are not side by side, as many of each bay as any layout of it has.

    Args:
        laid: The runs as laid.
        units: The panels that their parts are cut from.
        sizes: Lengths and limits, in inches.

    Yields:
        The wall right of the corner and its course; those in two panels first.
    """
    is_parted = parted_test(laid, units)
    numbers = {id(one.run): i for i, one in enumerate(laid)}
    places = {ref: (start, unit) for unit in units for ref, start in unit.parts}

    def are_beside(left: Run, right: Run) -> bool:
        i, j = numbers[id(left)], numbers[id(right)]
        last = len(laid[i].lengths) - 1
        (start, unit), (at, other) = places[PartRef(i, last)], places[PartRef(j, 0)]
        gap = at - start - laid[i].lengths[last] - sizes.kerf - left.lost[1] - right.lost[0]
        return unit is other and abs(gap) <= SAW_HAIR_IN

    for rows in bays_of(chains_of([one.run for one in laid], sizes)):
        chains = [chain for row in rows for chain in row]
        apart = [pair for c in chains for pair in itertools.pairwise(c) if not are_beside(*pair)]
        apart.sort(key=lambda pair: not is_parted(*pair))
        fewest = fewest_parted(rows, sizes, beside=True) if apart else 0
        for _, run in apart[:fewest]:
            yield run.wall, run.course
