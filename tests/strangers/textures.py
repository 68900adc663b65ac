"""Drawn textures of claddings and roofs: chains of points, clipped by the caller."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

import shapely
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry import Point as Dot
from shapely.ops import unary_union

from .geom import Point, clip_chains, corners, parts, stations

Chains = list[list[Point]]


@dataclass
class Cladding:
    """A material with the way the office draws it."""

    reason: str
    way: str = "none"
    step: float = 0.2
    pattern: str = ""
    size: float = 1.0
    angle: float = 0.0
    patch: bool = False

    def chains(self, area: Any, seed: int) -> Chains:
        """The texture's lines over the area, not yet clipped to what is seen."""
        if self.way == "none":
            return []
        rng = Random(seed)
        lines = WAYS[self.way](area.bounds, self.step, rng)
        if not self.patch:
            return lines
        return _in_patches(lines, area, rng)


def _in_patches(lines: Chains, area: Any, rng: Random) -> Chains:
    """Only what lies in a few ragged patches, as draughtsmen do to save ink."""
    x0, y0, x1, y1 = area.bounds
    size = min(1.4, 0.3 * min(x1 - x0, y1 - y0) + 0.25)
    blobs = []
    for _ in range(max(2, int((x1 - x0) * (y1 - y0) / 14))):
        cx, cy = rng.uniform(x0, x1), rng.uniform(y0, y1)
        blobs.append(Dot(cx, cy).buffer(size * rng.uniform(0.5, 1.0), 3))
    keep = unary_union(blobs)
    if all(len(c) > 3 for c in lines):
        return [c for c in lines if keep.contains(Dot(c[0]))]
    return clip_chains(lines, keep)


def level_lines(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Clapboards, seams, battens laid level."""
    x0, y0, x1, y1 = bounds
    return [[(x0, y), (x1, y)] for y in stations(y0, y1, step)]


def upright_lines(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Vertical boards or standing seams."""
    x0, y0, x1, y1 = bounds
    return [[(x, y0), (x, y1)] for x in stations(x0, x1, step)]


def battens(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Board and batten: two lines for each batten."""
    half = min(0.03, step / 6)
    x0, y0, x1, y1 = bounds
    return [[(x + d, y0), (x + d, y1)] for x in stations(x0, x1, step) for d in (-half, half)]


def blocks(
    bounds: tuple[float, ...], step: float, rng: Random, ragged: float = 0.0, length: float = 2.0
) -> Chains:
    """Coursed masonry: bed joints and staggered head joints."""
    x0, y0, x1, y1 = bounds
    lines: Chains = []
    y, row = y0, 0
    while y < y1:
        high = step * (1 + ragged * rng.uniform(-0.45, 0.7))
        if y > y0:
            lines.append([(x0, y), (x1, y)])
        x = x0 + step * length * (0.5 if row % 2 else 1.0)
        while x < x1:
            lines.append([(x, y), (x, min(y + high, y1))])
            x += step * length * (1 + ragged * rng.uniform(-0.6, 0.8))
        y, row = y + high, row + 1
    return lines


def ashlar(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Ashlar in courses of uneven height."""
    return blocks(bounds, step, rng, 0.7, 1.9)


def ledges(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Thin stacked ledges, long and low."""
    return blocks(bounds, step * 0.6, rng, 0.6, 5.0)


def bricks(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Bricks in half bond."""
    return blocks(bounds, step, rng, 0.0, 3.0)


def random_ashlar(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Squared stones of mixed sizes, each drawn as a rectangle."""
    x0, y0, x1, y1 = bounds
    lines: Chains = []
    y, gap = y0, 0.012
    while y < y1:
        x = x0
        while x < x1:
            w = step * rng.choice((1.2, 1.6, 2.1, 2.6))
            tall = 2 * step
            if rng.random() < 0.45:
                lines.append(_stone(x, y, w, tall, gap))
            else:
                k = rng.choice((0.4, 0.5, 0.6))
                lines.append(_stone(x, y, w, tall * k, gap))
                lines.append(_stone(x, y + tall * k, w, tall * (1 - k), gap))
            x += w
        y += 2 * step
    return lines


def _stone(x: float, y: float, w: float, h: float, gap: float) -> list[Point]:
    c = corners(x + gap, y + gap, x + w - gap, y + h - gap)
    return [*c, c[0]]


def rubble(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Irregular stones, each a polygon with a joint round it."""
    x0, y0, x1, y1 = bounds
    size = max(step * 1.7, ((x1 - x0) * (y1 - y0) / 1500) ** 0.5)
    nx, ny = int((x1 - x0) / size) + 2, int((y1 - y0) / (size * 0.7)) + 2
    dots = [
        (
            x0 + (i - 0.5 * (j % 2) + rng.uniform(-0.3, 0.3)) * size,
            y0 + (j + rng.uniform(-0.3, 0.3)) * size * 0.7,
        )
        for i in range(nx + 1)
        for j in range(ny + 1)
    ]
    cells = shapely.voronoi_polygons(MultiPoint(dots))
    frame = shapely.box(x0 - size, y0 - size, x1 + size, y1 + size)
    lines: Chains = []
    for cell in cells.geoms:
        for p in parts(cell.intersection(frame).buffer(-0.015)):
            lines.append([(x, y) for x, y in _rough(p).exterior.coords])
    lines.sort()
    return lines


def _rough(poly: Polygon) -> Polygon:
    return poly.simplify(0.02)


def shingles(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Shingles or plain tiles: courses with scattered joints."""
    x0, y0, x1, y1 = bounds
    lines = level_lines(bounds, step, rng)
    rows = [y0, *stations(y0, y1, step)]
    for y in rows:
        for _ in range(int((x1 - x0) / (step * 3.0)) + 1):
            x = rng.uniform(x0, x1)
            lines.append([(x, y), (x, min(y + step, y1))])
    return lines


def panels(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Large boards with open joints both ways."""
    return level_lines(bounds, step * 0.6, rng) + upright_lines(bounds, step, rng)


def specks(bounds: tuple[float, ...], step: float, rng: Random) -> Chains:
    """Render shown by scattered short dashes."""
    x0, y0, x1, y1 = bounds
    count = min(1200, int((x1 - x0) * (y1 - y0) / (step * step)))
    lines: Chains = []
    for _ in range(count):
        x, y = rng.uniform(x0, x1), rng.uniform(y0, y1)
        lines.append([(x, y), (x + rng.uniform(0.006, 0.03), y + rng.uniform(-0.02, 0.02))])
    return lines


WAYS = {
    "level": level_lines,
    "upright": upright_lines,
    "batten": battens,
    "blocks": blocks,
    "ashlar": ashlar,
    "ledge": ledges,
    "brick": bricks,
    "squared": random_ashlar,
    "rubble": rubble,
    "shingle": shingles,
    "panel": panels,
    "specks": specks,
}
