"""Panels and parts of panels, as they lie on a wall."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from dxf2veneer.geometry import Point

PieceUnit = Literal["flat", "corner"]
PieceEnd = Literal["factory", "cut", "finished", "mitre"]
PieceKind = Literal["whole", "crosscut", "ripped", "notched", "raked", "mitred"]


@dataclass(frozen=True)
class Piece:
    """A panel or part of one, as placed in a course by the course plan.

    ``kind`` is the most telling thing done to it: whole, crosscut to length, ripped to a height,
    notched around an opening, raked along a slope or arch, mitred at a bay; ``ripped`` and
    ``glued`` hold beside it. ``glued`` pieces have lost most of their nail flange (rule L17).
    """

    course: int
    x0: float
    x1: float
    y0: float
    y1: float
    unit: PieceUnit
    left: PieceEnd
    right: PieceEnd
    ripped: bool
    glued: bool
    stock: str
    """Id of the unit it is cut from, such as F12 or C3."""
    outline: tuple[Point, ...] = ()
    """The piece's boundary where it is not its plain rectangle."""
    holes: tuple[tuple[Point, ...], ...] = ()
    """Boundaries of what is cut out of its inside, a fixture for instance."""
    number: int = 0
    """Its number in the course, from the left, 1 the first."""
    kind: PieceKind = "whole"
    at: float = 0.0
    """Where in its unit it lies: distance of its left end from the unit's left end."""
    angle: float | None = None
    """Angle of a rake's cut above level, or of a mitre off the face, in degrees."""

    @property
    def length(self) -> float:
        """Length along the course."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Greatest height, which is what a ripped piece is ripped to."""
        return self.y1 - self.y0

    @property
    def area(self) -> float:
        """Area of its face in square inches, overhangs past the wall's edge included."""
        if not self.outline and not self.holes:
            return self.length * self.height
        plain = ((self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1))
        return _area(self.outline or plain) - math.fsum(map(_area, self.holes))


def _area(ring: tuple[Point, ...]) -> float:
    """The area inside a ring of straight sides."""
    x, y = ring[0]  # near the ring, so that no digits are lost far from the origin
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    doubled = ((xa - x) * (yb - y) - (xb - x) * (ya - y) for (xa, ya), (xb, yb) in sides)
    return abs(math.fsum(doubled)) / 2.0


class PieceRef(NamedTuple):
    """A piece by its wall's id, its course (0 the first) and its number there (1 the first)."""

    wall: str
    course: int
    number: int
