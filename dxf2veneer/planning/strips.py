"""Level strips of a piece, found along its boundary: what stands between two level lines."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from dxf2veneer.basics.tolerances import LEVEL_SLOPE, SAME_HEIGHT_IN, SHORT_SLOPE_IN
from dxf2veneer.model import Piece, WallTakeoff


class Levels(NamedTuple):
    """Lines at which strips may end: (y, x0, x1) of level ones, sorted, and those that lean a
    bit."""

    level: tuple[tuple[float, float, float], ...]
    leaning: tuple[BoundaryLine, ...]


class BoundaryLine(NamedTuple):
    """A stretch of a piece's boundary."""

    xa: float
    ya: float
    xb: float
    yb: float

    @property
    def is_level(self) -> bool:
        """Whether it is drawn level, or nearly so."""
        return abs(self.yb - self.ya) <= LEVEL_SLOPE * abs(self.xb - self.xa)

    @property
    def is_sloped(self) -> bool:
        """Whether it is neither level nor upright, and long enough to be meant."""
        dx, dy = abs(self.xb - self.xa), abs(self.yb - self.ya)
        return not self.is_level and dx > LEVEL_SLOPE * dy and math.hypot(dx, dy) > SHORT_SLOPE_IN

    def y_at(self, x: float) -> float:
        """Height of the line, or of its continuation, at x."""
        return self.ya + (x - self.xa) / (self.xb - self.xa) * (self.yb - self.ya)


def levels_of(wall: WallTakeoff) -> Levels:
    """The level lines of a wall: its course lines and the straight level sides of its field.

    The crown of a flattened arc is level too, but no strip ends there.

    Args:
        wall: A wall with its courses, in inches.

    Returns:
        Level lines, and sides that lean within ``LEVEL_SLOPE``.
    """
    straight = (s for path in wall.courses.field.paths for s in path.segments if not s.is_arc)
    sides = [
        line
        for line in (BoundaryLine(*min(s.start, s.end), *max(s.start, s.end)) for s in straight)
        if line.is_level
    ]
    leaning = tuple(s for s in sides if abs(s.yb - s.ya) > SAME_HEIGHT_IN)
    level = (((s.ya + s.yb) / 2.0, s.xa, s.xb) for s in sides if abs(s.yb - s.ya) <= SAME_HEIGHT_IN)
    lines = (
        (y, -math.inf, math.inf) for course in wall.courses.courses for y in (course.y0, course.y1)
    )
    return Levels(tuple(sorted({*lines, *level})), leaning)


def strips(lines: Sequence[BoundaryLine], levels: Levels) -> list[tuple[float, float]]:
    """The level strips within a boundary.

    Args:
        lines: The boundary of a piece, holes included, in inches.
        levels: The lines at which strips may end.

    Returns:
        (bottom, top) of every stretch between two level lines that is wider than rounding.
    """
    across = [v for v in lines if v.xa != v.xb]
    found = []
    for a, b in pairwise(sorted({x for v in across for x in (v.xa, v.xb)})):
        if b - a <= SHORT_SLOPE_IN:
            continue
        x = (a + b) / 2.0
        met = sorted(
            (v.y_at(x), v.is_level) for v in across if min(v.xa, v.xb) < x < max(v.xa, v.xb)
        )
        pairs = [
            (low, high)
            for (low, flat), (high, level) in zip(met[::2], met[1::2], strict=False)
            if flat and level
        ]
        found += [
            (low, high) for low, high in pairs if _is_at(x, low, levels) and _is_at(x, high, levels)
        ]
    return found


def _is_at(x: float, y: float, levels: Levels) -> bool:
    """Whether a level line runs through the place."""
    first, last = (
        bisect_left(levels.level, (y - SAME_HEIGHT_IN,)),
        bisect_left(levels.level, (y + SAME_HEIGHT_IN,)),
    )
    met = any(
        x0 - SAME_HEIGHT_IN <= x <= x1 + SAME_HEIGHT_IN for _, x0, x1 in levels.level[first:last]
    )
    return met or any(
        s.xa <= x <= s.xb and abs(s.y_at(x) - y) <= SAME_HEIGHT_IN for s in levels.leaning
    )


def lowest_strip(piece: Piece, levels: Levels) -> float:
    """The lowest level strip of a piece.

    Args:
        piece: A piece of the plan.
        levels: The level lines of its wall.

    Returns:
        Its height in inches; the piece's own where it has no strip.
    """
    ring = piece.outline or (
        (piece.x0, piece.y0),
        (piece.x1, piece.y0),
        (piece.x1, piece.y1),
        (piece.x0, piece.y1),
    )
    lines = [BoundaryLine(*a, *b) for r in (ring, *piece.holes) for a, b in pairwise((*r, *r[:1]))]
    return min((high - low for low, high in strips(lines, levels)), default=piece.height)
