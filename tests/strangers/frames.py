"""Shapes of openings: outer outline, inset outline, and strokes with true arcs."""

from __future__ import annotations

import math

from shapely.geometry import Polygon

from .geom import Point, arc_points, corners
from .scene import Stroke


def _segment(w: float, h: float, d: float) -> tuple[float, float, float, float]:
    """Centre height, radius, and the arc's angles for a flat arch inset by d."""
    rise = 0.16 * w
    r = (w * w / 4 + rise * rise) / (2 * rise)
    cy = h - r
    half = math.degrees(math.asin(min(1.0, (w / 2 - d) / (r - d))))
    return cy, r - d, 90 - half, 90 + half


def outline(shape: str, w: float, h: float, d: float = 0.0) -> list[Point]:
    """The outline of a shape in a box of w by h, inset by d."""
    if shape == "arch":
        r = w / 2
        return [(d, d), (w - d, d), *arc_points(r, h - r, r - d, 0, 180)]
    if shape == "segment":
        cy, r, a0, a1 = _segment(w, h, d)
        return [(d, d), (w - d, d), *arc_points(w / 2, cy, r, a0, a1)]
    if shape == "round":
        return arc_points(w / 2, w / 2, w / 2 - d, 0, 360, 48)[:-1]
    if shape == "half":
        return [*arc_points(w / 2, d, math.sqrt((w / 2 - d) ** 2), 0, 180)]
    if shape == "tri":
        return _inset([(0, 0), (w, 0), (w / 2, h)], d)
    if shape == "trapeze":
        return _inset([(0, 0), (w, 0), (w, h), (0, 0.55 * h)], d)
    return corners(d, d, w - d, h - d)


def _inset(pts: list[Point], d: float) -> list[Point]:
    if d <= 0:
        return pts
    inner = Polygon(pts).buffer(-d, join_style=2)
    return list(inner.exterior.coords)[:-1] if inner.geom_type == "Polygon" else pts


def strokes(shape: str, w: float, h: float, d: float, role: str, foot: bool = True) -> list[Stroke]:
    """The strokes of the outline; without a foot the bottom line is left out."""
    pts = outline(shape, w, h, d)
    if shape in ("arch", "segment"):
        arc = (w / 2, h - w / 2, w / 2 - d, 0.0, 180.0)
        if shape == "segment":
            cy, r, a0, a1 = _segment(w, h, d)
            arc = (w / 2, cy, r, a0, a1)
        first, last = pts[2], pts[-1]
        legs = [last, pts[0], pts[1], first]
        base = (
            [Stroke(legs, role)]
            if foot
            else [Stroke([last, (pts[0][0], 0)], role), Stroke([(pts[1][0], 0), first], role)]
        )
        return [*base, Stroke(pts[2:], role, arc=arc)]
    if shape == "round":
        r = w / 2
        return [Stroke(pts, role, closed=True, arc=(r, r, r - d, 0.0, 360.0))]
    if shape == "half":
        r = w / 2 - d
        return [Stroke([pts[-1], pts[0]], role), Stroke(pts, role, arc=(w / 2, d, r, 0.0, 180.0))]
    if not foot:
        return [Stroke([(d, 0), (d, h - d), (w - d, h - d), (w - d, 0)], role)]
    return [Stroke(pts, role, closed=True)]
