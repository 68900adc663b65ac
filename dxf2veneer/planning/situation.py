"""A run to be laid in its situation, and one candidate of its layout."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from dxf2veneer.basics.tolerances import LENGTH_GRID
from dxf2veneer.model import Side
from dxf2veneer.planning.lookahead import Lookahead
from dxf2veneer.planning.offcuts import Offcut
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Lengths = tuple[float, ...]


class Candidate(NamedTuple):
    """One candidate layout of a run, and the cost of the rules it breaks.

    A corner piece, a first flat piece, so many whole ones, a last one, a corner piece; lengths in
    inches, 0 for what is not there.
    """

    broken: float
    left: float
    first: float
    whole: int
    last: float
    right: float
    each: float
    """Length of each whole piece: a panel's, but where a run can't be divided by the rules."""

    @property
    def pieces(self) -> int:
        """How many pieces it has."""
        return (
            (self.left > 0.0)
            + (self.first > 0.0)
            + self.whole
            + (self.last > 0.0)
            + (self.right > 0.0)
        )

    @property
    def lengths(self) -> Lengths:
        """Its pieces from the left."""
        return tuple(
            [
                n
                for n in (self.left, self.first, *(self.each,) * self.whole, self.last, self.right)
                if n
            ]
        )


@dataclass(frozen=True)
class Situation:
    """A run to be laid: what is at hand, what lies below, and what is to come."""

    run: Run
    lookahead: Lookahead
    sizes: LayingSizes
    pool: Sequence[Offcut]
    halves: Mapping[Side, Sequence[float]]
    """Lengths of corner halves at hand, by their hand."""
    under: Sequence[float]
    """Joints of the course below that could stand too near to one of this run's, from left to
    right."""
    last: Mapping[tuple[Side, float], float]
    """By side and x of an edge, the length of the corner piece before at it."""

    @cached_property
    def below(self) -> Sequence[float]:
        """Those joints, from the run's beginning."""
        return [x - self.run.x0 for x in self.under]

    @cached_property
    def residues(self) -> Sequence[float]:
        """Where a row of whole panels meets one of those joints inside the run."""
        return unique([x % self.sizes.panel for x in self.below if 0.0 < x < self.run.length])

    @cached_property
    def varied(self) -> Mapping[Side, Sequence[float]]:
        """By side, the lengths that a corner piece has to differ from: the one before at its edge,
        and the next one where that has no choice."""
        around = {
            side: (self.last.get((side, edge.x)), self.lookahead.forced.get(side))
            for side, edge in self.run.edges
        }
        return {side: [n for n in others if n is not None] for side, others in around.items()}


def unique(values: Iterable[float]) -> list[float]:
    """Each length once, the last of those that are one.

    Args:
        values: Lengths in inches.

    Returns:
        The lengths in the order of their first appearance.
    """
    return list({round(v * LENGTH_GRID): v for v in values}.values())


def joints_of(run: Run, lengths: Lengths) -> list[float]:
    """The joints between pieces of a run.

    Args:
        run: The run.
        lengths: Lengths of its pieces from the left, in inches.

    Returns:
        The x of the joints from the left.
    """
    joints, x = [], run.x0
    for length in lengths[:-1]:
        x += length
        joints.append(x)
    return joints
