"""Plane geometry shared by the generator (metres, y up)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from shapely.geometry import LineString, MultiLineString, Polygon, box

Point = tuple[float, float]


def rect(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    """The upright rectangle between two corners."""
    return box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def corners(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """The four corners of an upright rectangle."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def arc_points(cx: float, cy: float, r: float, a0: float, a1: float, n: int = 24) -> list[Point]:
    """Points along an arc from a0 to a1 degrees, anticlockwise."""
    steps = [math.radians(a0 + (a1 - a0) * i / n) for i in range(n + 1)]
    return [(cx + r * math.cos(a), cy + r * math.sin(a)) for a in steps]


def parts(shape: Any, least: float = 1e-6) -> list[Polygon]:
    """The polygons of a shape that are larger than the least area."""
    if shape.is_empty:
        return []
    if shape.geom_type == "Polygon":
        return [shape] if shape.area > least else []
    return [p for g in getattr(shape, "geoms", []) for p in parts(g, least)]


def runs(shape: Any, least: float = 1e-3) -> list[list[Point]]:
    """The chains of points of the lines in a shape."""
    if shape.is_empty:
        return []
    if shape.geom_type in ("LineString", "LinearRing"):
        return [[(x, y) for x, y, *_ in shape.coords]] if shape.length > least else []
    return [r for g in getattr(shape, "geoms", []) for r in runs(g, least)]


def ring(poly: Polygon) -> list[Point]:
    """The outer ring without its closing point, straight runs joined."""
    pts = list(poly.simplify(1e-4).exterior.coords)[:-1]
    return [(float(p[0]), float(p[1])) for p in pts]


def without_holes(poly: Polygon) -> Polygon:
    """The polygon with its holes filled."""
    return Polygon(poly.exterior)


def clip_chains(chains: Iterable[Sequence[Point]], area: Any) -> list[list[Point]]:
    """The pieces of chains that lie inside an area."""
    usable = [c for c in chains if len(c) > 1]
    if not usable or area.is_empty:
        return []
    return runs(MultiLineString([LineString(c) for c in usable]).intersection(area), 0.004)


def shifted(pts: Iterable[Point], dx: float, dy: float, mirror: bool = False) -> list[Point]:
    """Points moved, first mirrored in the y axis if asked."""
    sign = -1.0 if mirror else 1.0
    return [(dx + sign * x, dy + y) for x, y in pts]


def spread(a: float, b: float, n: int) -> list[float]:
    """n inner positions that divide a..b evenly into n bays, at the bays' middles."""
    return [a + (b - a) * (i + 0.5) / n for i in range(n)]


def stations(a: float, b: float, step: float) -> list[float]:
    """Positions from a on in equal steps, ends left out."""
    count = max(0, int((b - a) / step - 1e-9))
    return [a + step * (i + 1) for i in range(count)]
