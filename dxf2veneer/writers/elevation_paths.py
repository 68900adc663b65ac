"""Places and paths of an elevation's picture: inches of the building, from its upper left corner, y downwards.

         drawing                      picture
    y ^  +------+ (x1, y1)     (0, 0) +------+--> x
      |  |      |                     |      |
      |  +------+                     +------+
      +-----------> x                 v y
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dxf2veneer.geometry import Path, Point, Region
from dxf2veneer.model import Piece
from dxf2veneer.writers.report_markup import number

Span = tuple[float, float]
_SAME_IN = 1e-6


@dataclass(frozen=True)
class Ground:
    """Where the picture's zero lies in the drawing."""

    x0: float
    y1: float

    def at(self, x: float, y: float) -> str:
        """A place of the drawing as ``x y`` of the picture."""
        return f"{number(x - self.x0)} {number(self.y1 - y)}"

    def x(self, x: float) -> float:
        """An x of the drawing in the picture."""
        return x - self.x0

    def y(self, y: float) -> float:
        """A y of the drawing in the picture."""
        return self.y1 - y

    def path(self, path: Path) -> str:
        """Path data of a path with its arcs; an arc that runs counter-clockwise does so in the picture too."""
        if not path.segments:
            return ""
        words = [f"M{self.at(*path.segments[0].start)}"]
        for s in path.segments:
            if s.is_arc:
                r, large = number(s.radius), int(abs(s.angle) > math.pi + _SAME_IN)
                words.append(f"A{r} {r} 0 {large} {int(s.bulge < 0)} {self.at(*s.end)}")
            else:
                words.append(f"L{self.at(*s.end)}")
        return "".join((*words, "Z" if path.closed else ""))

    def region(self, region: Region) -> str:
        """Path data of all boundaries of a region, to be filled by the even-odd rule."""
        return "".join(map(self.path, region.paths))

    def rings(self, rings: Iterable[Sequence[Point]]) -> str:
        """Path data of closed rings of points."""
        return "".join(f"M{'L'.join(self.at(*p) for p in ring)}Z" for ring in rings if ring)

    def line(self, x0: float, y0: float, x1: float, y1: float) -> str:
        """Path data of a straight line."""
        return f"M{self.at(x0, y0)}L{self.at(x1, y1)}"

    def piece(self, piece: Piece) -> str:
        """Path data of a piece: its plain rectangle, or its outline with what is cut out of its inside."""
        if piece.outline or piece.holes:
            return self.rings((piece.outline or box_ring(piece), *piece.holes))
        w, h = number(piece.length), number(piece.height)
        return f"M{self.at(piece.x0, piece.y1)}h{w}v{h}h-{w}Z"


def box_ring(piece: Piece) -> tuple[Point, ...]:
    """The corners of a piece's box."""
    return ((piece.x0, piece.y0), (piece.x1, piece.y0), (piece.x1, piece.y1), (piece.x0, piece.y1))


def end_spans(piece: Piece, x: float) -> list[Span]:
    """The upright stretches of a piece's boundary at x, from least to greatest y."""
    if not piece.outline:
        return [(piece.y0, piece.y1)]
    ring = piece.outline
    edges = zip(ring, (*ring[1:], ring[0]), strict=True)
    return [
        (min(a[1], b[1]), max(a[1], b[1]))
        for a, b in edges
        if abs(a[0] - x) < _SAME_IN and abs(b[0] - x) < _SAME_IN and abs(a[1] - b[1]) > _SAME_IN
    ]


def widest(piece: Piece, height: float) -> tuple[float, float, float] | None:
    """Where a text of a height has most room in a piece: the middle of its place and the room along it."""
    if piece.height < height:
        return None
    if not piece.outline and not piece.holes:
        return (piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2, piece.length
    rings = (piece.outline or box_ring(piece), *piece.holes)
    best: tuple[float, float, float] | None = None
    for share in (0.5, 0.25, 0.75):
        y = piece.y0 + height / 2 + share * (piece.height - height)
        levels = [_inside(rings, y + dy * height) for dy in (-0.45, 0.0, 0.45)]
        for a0, a1 in _common(_common(levels[0], levels[1]), levels[2]):
            if best is None or a1 - a0 > best[2] + _SAME_IN:
                best = ((a0 + a1) / 2, y, a1 - a0)
    return best


def _inside(rings: Iterable[Sequence[Point]], y: float) -> list[Span]:
    """The stretches of a level line inside rings, by the even-odd rule."""
    xs = sorted(
        a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        for ring in rings
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
        if (a[1] > y) != (b[1] > y)
    )
    return list(zip(xs[::2], xs[1::2], strict=False))


def _common(some: Iterable[Span], others: Sequence[Span]) -> list[Span]:
    both = [(max(a0, b0), min(a1, b1)) for a0, a1 in some for b0, b1 in others]
    return [(x0, x1) for x0, x1 in both if x1 > x0]
