"""The ground before an elevation: level, sloping or stepped."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from random import Random

from shapely.geometry import LineString, Polygon

from .geom import Point, clip_chains
from .scene import Fill, Item, Stroke


@dataclass
class Ground:
    """The ground line from left to right; below it nothing is seen."""

    line: list[Point]

    def at(self, x: float) -> float:
        """The height of the ground at x."""
        return max(self._all(x))

    def _all(self, x: float) -> list[float]:
        found = [
            a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
            for a, b in pairwise(self.line)
            if b[0] > a[0] and a[0] <= x <= b[0]
        ]
        return found or [self.line[0][1] if x < self.line[0][0] else self.line[-1][1]]

    def highest(self, a: float, b: float) -> float:
        """The highest ground between a and b."""
        inner = [p[1] for p in self.line if a <= p[0] <= b]
        return max([self.at(a), self.at(b), *inner])

    def lowest(self, a: float, b: float) -> float:
        """The lowest ground between a and b."""
        inner = [p[1] for p in self.line if a <= p[0] <= b]
        return min([*self._all(a), *self._all(b), *inner])

    def item(self, rng: Random, style: str) -> Item:
        """The ground as drawn: a line, hatched strokes, or a filled strip."""
        pts = self.line
        a, b = pts[0], pts[-1]
        mask = Polygon([*pts, (b[0], -8.0), (a[0], -8.0)])
        item = Item(mask, [Stroke(list(pts), "ground")], cuts=True)
        strip = Polygon([*pts, *[(x, y - 0.25) for x, y in pts[::-1]]]).buffer(0)
        if style == "double":
            item.strokes.append(Stroke([(x, y - 0.08) for x, y in pts], "ground"))
        elif style == "ticks":
            chains = [[(x, y), (x - 0.2, y - 0.22)] for x, y in _along(pts, 0.35)]
            item.strokes += [Stroke(c, "ground") for c in clip_chains(chains, mask)]
        elif style == "earth":
            item.fills.append(Fill(strip, "ground", "EARTH", 0.5))
        elif style == "solid":
            item.fills.append(Fill(strip, "ground", "SOLID"))
        return item


def _along(pts: list[Point], step: float) -> list[Point]:
    line = LineString(pts)
    n = int(line.length / step)
    return [(p.x, p.y) for p in (line.interpolate(step * i) for i in range(1, n))]


def make_ground(rng: Random, kind: str, x0: float, x1: float, drop: float) -> Ground:
    """Ground from x0 to x1 that falls by the drop, sloping or in steps."""
    a, b = x0 - rng.uniform(1.0, 4.0), x1 + rng.uniform(1.0, 4.0)
    if kind == "slope":
        flip = rng.random() < 0.5
        left, right = (0.0, -drop) if flip else (-drop, 0.0)
        return Ground([(a, left), (x0, left), (x1, right), (b, right)])
    if kind == "step":
        m = x0 + (x1 - x0) * rng.uniform(0.35, 0.65)
        return Ground([(a, 0.0), (m, 0.0), (m, -drop), (b, -drop)])
    if kind == "rough":
        n = 12
        pts = [(a + (b - a) * i / n, rng.uniform(-0.08, 0.0)) for i in range(n + 1)]
        return Ground(pts)
    return Ground([(a, 0.0), (b, 0.0)])
