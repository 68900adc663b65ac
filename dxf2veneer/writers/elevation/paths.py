"""Places and paths of an elevation's picture: inches of the building, from its upper left corner, y
downwards.

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

from dxf2veneer.basics.tolerances import SAME_PLACE_IN
from dxf2veneer.geometry import Path, Point, Region
from dxf2veneer.model import Piece
from dxf2veneer.writers.markup import number
from dxf2veneer.writers.spans import box_ring


@dataclass(frozen=True)
class Canvas:
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
        """Path data of a path with its arcs; an arc that runs counter-clockwise does so in the
        picture too."""
        if not path.segments:
            return ""
        words = [f"M{self.at(*path.segments[0].start)}"]
        for s in path.segments:
            if s.is_arc:
                r, large = number(s.radius), int(abs(s.angle) > math.pi + SAME_PLACE_IN)
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
        """Path data of a piece: its plain rectangle, or its outline with what is cut out of its
        inside."""
        if piece.outline or piece.holes:
            return self.rings((piece.outline or box_ring(piece), *piece.holes))
        w, h = number(piece.length), number(piece.height)
        return f"M{self.at(piece.x0, piece.y1)}h{w}v{h}h-{w}Z"
