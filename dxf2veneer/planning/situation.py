"""A run to be laid, its ground and what is at hand, and one candidate of its layout."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, LENGTH_GRID
from dxf2veneer.model import Side
from dxf2veneer.planning.lookahead import Lookahead
from dxf2veneer.planning.offcuts import Offcut
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Lengths = tuple[float, ...]
Row = tuple[float, int, float]
"""A flat stretch of a run: its first piece, whole panels behind it, its last piece; 0 for none."""


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


class LaidCorner(NamedTuple):
    """A corner piece that lies already: its length, and whether that could be chosen.

    It could not where the piece fills its run alone.
    """

    length: float
    is_free: bool

    def is_near(self, length: float, vary: float) -> bool:
        """Whether a corner piece of that length does not vary from it."""
        return abs(self.length - length) < vary - EXACT_IN


class Ground:
    """A run to be laid with what rules go by: joints below it, corner pieces before at its edges.

    Most plans of a beam have it in common with others, so that what is found out is kept with it.
    """

    def __init__(
        self,
        run: Run,
        lookahead: Lookahead,
        sizes: LayingSizes,
        under: Sequence[float],
        before: Mapping[Side, LaidCorner],
    ) -> None:
        """A run to be laid.

        ``under`` are joints of the course below that could stand too near to one of its own, from
        left to right; ``before`` is by side the corner piece before at that edge.
        """
        self.run, self.lookahead, self.sizes, self.before = run, lookahead, sizes, before
        self.below = [x - run.x0 for x in under]
        """Those joints, from the run's beginning."""
        self.residues = unique([x % sizes.panel for x in self.below if 0.0 < x < run.length])
        """Where a row of whole panels meets one of those joints inside the run."""
        self.varied: dict[Side, list[float]] = {side: [] for side, _ in run.edges}
        """By side, the lengths that a corner piece has to differ from: the one before at its edge,
        and the next one where that has no choice."""
        for side, lengths in self.varied.items():
            lengths += [before[side].length] if side in before else []
            lengths += [lookahead.forced[side]] if side in lookahead.forced else []
        self.slack: dict[object, float] = {}
        """By run above, with the joints and corner pieces below it, how far its joints may move."""
        self.kept: dict[tuple[Side, float], bool] = {}
        """By side and length, whether a corner piece keeps the rules."""
        self.costs: dict[tuple[float, float, bool], dict[Row, float]] = {}
        """By the corner pieces and how exactly, what the rules cost that each row breaks."""


@dataclass(frozen=True)
class Situation:
    """A run to be laid, and what is at hand."""

    ground: Ground
    pool: Sequence[Offcut]
    halves: Mapping[Side, Sequence[float]]
    """Lengths of corner halves at hand, by their hand."""


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
