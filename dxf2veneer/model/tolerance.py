"""Where a plan leaves no room for a wall or an opening that is off on site (rule L27)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.geometry import Point

FragileKind = Literal["long", "short", "stagger", "halves"]
"""A run too long for its panels; one that leaves a piece below the least; joints nearer than the
stagger; corner pieces that no longer differ as they have to."""


@dataclass(frozen=True)
class Fragile:
    """A place where a rule of laying gives way when edges are off."""

    kind: FragileKind
    wall: str
    """Id of the wall."""
    course: int
    """The course, 0 the first."""
    at: Point
    """The place, in inches."""
    by: float
    """How much is missing at worst, in inches."""


@dataclass(frozen=True)
class Tolerance:
    """What becomes of a plan when each end of its runs is off by so much, in or out.

    A run is as long as is measured then, up to twice that longer or shorter. Joints stay where they
    are drawn and end pieces take up the difference; where one can't, the row of panels moves and
    the piece at the other end takes it.
    """

    off: float
    """By how much each edge may be off, in inches."""
    runs: int
    """Runs of the plan."""
    held: int
    """Runs with no place of any kind."""
    places: tuple[Fragile, ...]
    """By wall, course and place."""

    def on(self, wall: str) -> tuple[Fragile, ...]:
        """The places on a wall, by its id."""
        return tuple(place for place in self.places if place.wall == wall)

    def count(self, kind: FragileKind) -> int:
        """How many places of a kind there are."""
        return sum(place.kind == kind for place in self.places)
