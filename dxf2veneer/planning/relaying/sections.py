"""Sections: runs of a plan that are laid anew together, and all that stays as it is round them.

fixed run  |------|-----------|-----|        joints that free ones keep away from
free run   |  ?  |    ?    |   ?    |        parts out of the room that other parts leave in
fixed run  |---|-----------|--------|        their panels, or out of new panels
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, WHOLE_PANEL_IN
from dxf2veneer.model import Side
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.sizes import LayingSizes


class Part(NamedTuple):
    """A part of a panel: length, the end that it keeps, and whether its length was free."""

    length: float
    hand: Hand
    free: bool


@dataclass(frozen=True)
class Stock:
    """The panels of a plan that is being improved: what each holds, by its number.

    Whole panels are not among them.
    """

    parts: Mapping[PartRef, tuple[int, Part]]
    corner: frozenset[int]
    """Numbers of the corner panels."""

    @classmethod
    def of(cls, laid: Sequence[LaidRun], units: Sequence[CutPanel]) -> Stock:
        """The panels of a plan."""
        hands = {PartRef(i, cut.piece): cut.hand for i, one in enumerate(laid) for cut in one.cuts}
        found: dict[PartRef, tuple[int, Part]] = {}
        corner = set()
        for number, unit in enumerate(units):
            if unit.kind == "corner":
                corner.add(number)
            for ref, _ in unit.parts:
                one = laid[ref.run]
                if ref in hands:
                    length = one.lengths[ref.piece]
                    found[ref] = number, Part(length, hands[ref], len(one.lengths) > 1)
        return cls(found, frozenset(corner))

    def panels(self) -> dict[int, list[tuple[PartRef, Part]]]:
        """The parts of each panel."""
        found: dict[int, list[tuple[PartRef, Part]]] = defaultdict(list)
        for ref, (number, part) in self.parts.items():
            found[number].append((ref, part))
        return found


class Room(NamedTuple):
    """What fixed parts leave in a panel: room for parts with a cut each, and its ends."""

    number: int
    is_corner: bool
    length: float
    hands: frozenset[Hand]
    """Hands of the parts that it may still give; ``any`` for those that need no end."""
    half: float | None
    """Length of the other half of a corner panel where that was free."""


def rooms_of(stock: Stock, free: frozenset[int], sizes: LayingSizes) -> Iterator[Room]:
    """Room in the panels of a plan when the parts of some runs are taken out.

    Panels that hold nothing else are not counted: they are no longer bought.

    Args:
        stock: The panels.
        free: Positions of the runs whose parts are taken out.
        sizes: Lengths and limits, in inches.

    Yields:
        The panels with room for a part.
    """
    for number, parts in stock.panels().items():
        fixed = [part for ref, part in parts if ref.run not in free]
        if not fixed:
            continue
        is_corner = number in stock.corner
        length = sizes.corner if is_corner else sizes.panel
        room = length + sizes.kerf - sum(p.length + sizes.kerf for p in fixed)
        if room < sizes.least + sizes.kerf - EXACT_IN:
            continue
        kept = {p.hand for p in fixed}
        ends: list[Hand] = [end for end in ("left", "right", "any") if end not in kept - {"any"}]
        half = next((p.length for p in fixed if p.free), None) if is_corner else None
        yield Room(number, is_corner, room, frozenset(ends), half)


def edges_of(laid: Sequence[LaidRun]) -> dict[tuple[str, Side, float], list[int]]:
    """The runs with a corner piece at each edge of a wall, from the bottom up.

    Args:
        laid: The runs as laid.

    Returns:
        By wall, side and x of the edge the positions of the runs.
    """
    found: dict[tuple[str, Side, float], list[int]] = defaultdict(list)
    for i, one in enumerate(laid):
        for side, edge in one.run.edges:
            if one.run.end(side) == "corner":
                found[one.run.wall, side, edge.x].append(i)
    return found


def relaid(
    one: LaidRun, lengths: Sequence[float], cuts: Sequence[Cut], sizes: LayingSizes
) -> LaidRun:
    """The run with other pieces; what is as long as a panel is one.

    Args:
        one: The run as it was laid.
        lengths: Lengths of its pieces from the left, in inches.
        cuts: The pieces that are cut, with their panels.
        sizes: Lengths and limits, in inches.

    Returns:
        The run as laid anew.
    """
    shared = [
        cut for cut in cuts if cut.is_corner or lengths[cut.piece] < sizes.panel - WHOLE_PANEL_IN
    ]
    return LaidRun(one.run, tuple(lengths), tuple(shared))
