"""Cladding and roof surfaces as lines or hatches, left out where openings are."""

from __future__ import annotations

import random

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from corpus.buildings import Wall
from corpus.shapes import Fill, Shape, fill_of, stroke


def clipped(role: str, lines: list[LineString], area: BaseGeometry) -> list[Shape]:
    found: list[Shape] = []
    for line in lines:
        rest = line.intersection(area)
        for part in rest.geoms if hasattr(rest, "geoms") else [rest]:
            if part.geom_type == "LineString" and part.length > 20:
                found.append(stroke(role, *[(x, y) for x, y in part.coords]))
    return found


def _levels(low: float, high: float, spacing: float) -> list[float]:
    return [low + spacing * i for i in range(1, int((high - low) / spacing) + 1)]


def cladding(
    rng: random.Random, wall: Wall, holes: BaseGeometry, whole: bool = False
) -> list[Shape]:
    """The texture of a wall; about a third is drawn as a hatch, some only in patches.

    ``whole``: the lines are all there is of the wall, so they cover it.
    """
    if wall.texture == "plain":
        return []
    area = wall.polygon.difference(holes)
    if rng.random() < 0.35 and wall.texture != "slabs" and not wall.patched and not whole:
        pattern = {"boards": "LINE", "upright": "UPRIGHT", "brick": "BRICK", "stone": "AR-RSHKE"}
        parts = area.geoms if hasattr(area, "geoms") else [area]
        spacing = {"brick": 75.0, "stone": 200.0}.get(wall.texture, 150.0)
        return [
            fill_of("texture", p, pattern[wall.texture], spacing) for p in parts if p.area > 1e4
        ]
    if wall.patched and not whole:
        area = area.intersection(_patch(rng, wall.polygon))
    return clipped("texture", _lines(rng, wall.texture, *wall.polygon.bounds), area)


def _lines(
    rng: random.Random, texture: str, x0: float, y0: float, x1: float, y1: float
) -> list[LineString]:
    """Lines of a texture all over a box; no two textures have the same."""

    def level(spacing: float, lift: float = 0.0) -> list[LineString]:
        heights = [y + lift for y in _levels(y0, y1, spacing)]
        return [LineString([(x0, y), (x1, y)]) for y in heights]

    def upright(spacing: float) -> list[LineString]:
        return [LineString([(x, y0), (x, y1)]) for x in _levels(x0, x1, spacing)]

    if texture == "boards":
        spacing = rng.choice([120.0, 150.0, 180.0, 225.0])
        lap = rng.choice([0.0, 0.0, 20.0])  # the shadow line of lapped boards
        return level(spacing) + (level(spacing, lap) if lap else [])
    if texture == "slabs":
        sizes = [(2200.0, 1100.0), (1200.0, 600.0), (600.0, 600.0), (1250.0, 3000.0)]
        wide, high = rng.choice(sizes)
        return level(high) + upright(wide)
    if texture == "upright":
        return upright(rng.choice([120.0, 150.0, 200.0, 300.0]))
    if texture == "brick":
        return level(rng.choice([65.0, 75.0, 75.0, 83.0]))
    return _stones(rng, x0, y0, x1, y1)


def _patch(rng: random.Random, polygon: Polygon) -> Polygon:
    """A corner of the wall where the office shows what the cladding is like."""
    x0, y0, x1, y1 = polygon.bounds
    wide, high = (x1 - x0) * rng.uniform(0.15, 0.4), (y1 - y0) * rng.uniform(0.2, 0.5)
    x = rng.choice([x0, x1 - wide])
    y = rng.choice([y0, y1 - high])
    return box(x, y, x + wide, y + high)


def _stones(rng: random.Random, x0: float, y0: float, x1: float, y1: float) -> list[LineString]:
    """Courses of changing height with joints here and there."""
    lines, y = [], y0
    while y < y1:
        high = rng.choice([150.0, 200.0, 300.0])
        lines.append(LineString([(x0, y + high), (x1, y + high)]))
        x = x0 + rng.uniform(0, 400)
        while x < x1:
            lines.append(LineString([(x, y), (x, y + high)]))
            x += rng.uniform(300, 900)
        y += high
    return lines


def tiles(rng: random.Random, polygon: Polygon) -> list[Shape]:
    """A roof surface: bare, level lines, tiles or a hatch."""
    kind = rng.choice(["bare", "bare", "lines", "seams", "hatch"])
    if kind == "bare":
        return []
    if kind == "hatch":
        return [Fill("tiles", tuple(polygon.exterior.coords[:-1]), "LINE", 300.0)]
    x0, y0, x1, y1 = polygon.bounds
    if kind == "lines":
        lines = [LineString([(x0, y), (x1, y)]) for y in _levels(y0, y1, 330.0)]
    else:
        lines = [LineString([(x, y0), (x, y1)]) for x in _levels(x0, x1, 500.0)]
    return clipped("tiles", lines, polygon)
