"""Single volumes of a building: walls up to a roof, seen from the front, in millimeters.

gable    /\\        mono  ___---     halfhip  /\\__     eaves  .----.     hip   .--.
        /  \\            |    |             /    \\         '----'          '----'
       |    |           |    |            |     |         |    |          |    |
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus.shapes import Point

Size = Callable[[float, float], float]
"""A length at random between two, in whole steps of the drawing."""
Ground = tuple[Point, ...]
"""The ground line from left to right; where it steps, two points have the same x."""


def level(ground: tuple[Point, ...], x: float, side: int = 1) -> float:
    """Height of the ground at x; where it steps, just to the right (1) or to the left (-1)."""
    for a, b in pairwise(ground):
        if a[0] <= x < b[0] if side > 0 else a[0] < x <= b[0]:
            return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
    return ground[0][1] if x <= ground[0][0] else ground[-1][1]


def between(ground: tuple[Point, ...], x0: float, x1: float) -> list[Point]:
    return [p for p in ground if x0 < p[0] < x1]


@dataclass(frozen=True)
class Roof:
    """Opaque parts above or on a wall: role and polygon, ``tiled`` for the surface of the roof."""

    parts: tuple[tuple[str, Polygon], ...]

    @property
    def mask(self) -> BaseGeometry:
        return unary_union([p for _, p in self.parts])


@dataclass(frozen=True)
class Body:
    """One volume seen from the front: ``top`` runs from the left corner to the right one."""

    x0: float
    x1: float
    top: tuple[Point, ...]
    roof: Roof
    eave: float
    foot: float | None = None
    """Where the wall of a dormer begins; other walls begin at the ground."""

    def polygon(self, ground: tuple[Point, ...]) -> Polygon:
        """From the ground up to the underside of the roof."""
        if self.foot is not None:
            return Polygon([(self.x0, self.foot), (self.x1, self.foot), *reversed(self.top)])
        base = [(self.x0, level(ground, self.x0, 1)), *between(ground, self.x0, self.x1)]
        base.append((self.x1, level(ground, self.x1, -1)))
        return Polygon([*base, *reversed(self.top)])

    def hides(self) -> Polygon:
        """What hides others, down to below any ground, so that no hair is left along it."""
        low = -1e5 if self.foot is None else self.foot
        return Polygon([(self.x0, low), (self.x1, low), *reversed(self.top)])


def make_body(
    rng: random.Random, x0: float, x1: float, eave: float, size: Size, kind: str, pitch: float = 0.0
) -> Body:
    """A volume with its roof.

    Args:
        rng: Decides about the roof.
        x0: Left corner.
        x1: Right corner.
        eave: Height of the lower end of the roof's underside.
        size: Makes lengths.
        kind: ``gable``, ``halfhip``, ``mono``, ``flat``, ``eaves`` or ``hip``.
        pitch: Rise over run of a gable, or 0 for any.
    """
    over, thick = size(150, 600), max(size(120, 300), 100.0)
    if kind == "flat":
        coping = box(x0 - 50, eave, x1 + 50, eave + max(60.0, size(50, 150)))
        return Body(x0, x1, ((x0, eave), (x1, eave)), Roof((("fascia", coping),)), eave)
    if kind == "mono":
        rise = (x1 - x0) * rng.uniform(0.05, 0.25)
        left, right = (eave, eave + rise) if rng.random() < 0.5 else (eave + rise, eave)
        top = ((x0, left), (x1, right))
        return Body(x0, x1, top, Roof((("fascia", _band(top, over, thick)),)), eave)
    if kind in ("gable", "halfhip"):
        rise = (
            round((x1 - x0) / 2 * (pitch or rng.choice([0.35, 0.5, 0.6, 0.75, 1.0, 1.2])) / 5) * 5
        )
        return _gabled(x0, x1, eave, rise, over, thick, 0.3 if kind == "halfhip" else 0.0)
    high = eave + thick + min(size(1200, 3500), max(round((x1 - x0) / 3), 800))
    inset = (high - eave) * rng.uniform(0.8, 1.5) if kind == "hip" else 0.0
    return _eaved(x0, x1, eave, high, min(inset, (x1 - x0) / 2 - 200), over, thick)


def _gabled(
    x0: float, x1: float, eave: float, rise: float, over: float, thick: float, cut: float
) -> Body:
    """A gable; with ``cut`` that share of its height is a small hip."""
    middle, half = (x0 + x1) / 2, (x1 - x0) / 2
    if not cut:
        top: tuple[Point, ...] = ((x0, eave), (middle, eave + rise), (x1, eave))
        return Body(x0, x1, top, Roof((("fascia", _band(top, over, thick)),)), eave)
    a = (middle - half * cut, eave + rise * (1 - cut))
    b = (middle + half * cut, a[1])
    top = ((x0, eave), a, b, (x1, eave))
    peak = (middle, eave + rise + thick)
    hip = Polygon([(a[0], a[1] + thick), (b[0], b[1] + thick), peak])
    return Body(x0, x1, top, Roof((("fascia", _band(top, over, thick)), ("tiles", hip))), eave)


def _eaved(
    x0: float, x1: float, eave: float, high: float, inset: float, over: float, thick: float
) -> Body:
    """The eaves side: fascia over the whole length, above it the roof's surface."""
    fascia = box(x0 - over, eave, x1 + over, eave + thick)
    low = eave + thick
    surface = Polygon([
        (x0 - over, low), (x1 + over, low), (x1 + over - inset, high), (x0 - over + inset, high),
    ])  # fmt: skip
    roof = Roof((("fascia", fascia), ("tiles", surface)))
    return Body(x0, x1, ((x0, eave), (x1, eave)), roof, eave)


def _band(top: tuple[Point, ...], over: float, thick: float) -> Polygon:
    """Bargeboards along the top of a wall, run out beyond its corners at the same slope."""
    first, last = top[0], top[-1]
    left = (top[1][1] - first[1]) / (top[1][0] - first[0])
    right = (last[1] - top[-2][1]) / (last[0] - top[-2][0])
    under = [
        (first[0] - over, first[1] - over * left),
        *top[1:-1],
        (last[0] + over, last[1] + over * right),
    ]
    lift = [thick * (1 + s * s) ** 0.5 for s in (left, right)]
    half = len(under) / 2
    upper = [(x, y + lift[0 if i < half else 1]) for i, (x, y) in enumerate(under)]
    return Polygon([*under, *reversed(upper)])
