"""Roofs as one sees them: wall profiles below, boards, fascias and planes above."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon

from .geom import Point, corners, rect
from .scene import Item, Stroke
from .textures import Cladding

SLOPED = ("gable", "saltbox", "gambrel", "shed", "shedback", "halfhip", "coped")


@dataclass
class Roof:
    """The roof of one volume; overhang, fascia height and rise in metres."""

    kind: str
    pitch: float = 0.5
    over: float = 0.3
    fascia: float = 0.2
    rise: float = 2.0
    clad: Cladding | None = None
    tails: bool = False


def profile(roof: Roof, x0: float, x1: float, eave: float) -> list[Point]:
    """The upper edge of the wall from left to right."""
    w, p = x1 - x0, roof.pitch
    if roof.kind in ("gable", "coped"):
        return [(x0, eave), ((x0 + x1) / 2, eave + p * w / 2), (x1, eave)]
    if roof.kind == "saltbox":
        a = 0.36 * w
        return [(x0, eave), (x0 + a, eave + p * a), (x1, eave + p * a - 0.4 * p * (w - a))]
    if roof.kind == "gambrel":
        a, b = 0.2 * w, 0.3 * w
        top = eave + 1.5 * a
        return [(x0, eave), (x0 + a, top), (x0 + a + b, top + 0.5 * b), (x1 - a, top), (x1, eave)]
    if roof.kind == "shed":
        return [(x0, eave), (x1, eave + p * w)]
    if roof.kind == "shedback":
        return [(x0, eave + p * w), (x1, eave)]
    if roof.kind == "halfhip":
        a = 0.34 * w
        return [(x0, eave), (x0 + a, eave + p * a), (x1 - a, eave + p * a), (x1, eave)]
    return [(x0, eave), (x1, eave)]


def height(line: list[Point], x: float) -> float:
    """The height of a wall profile at x."""
    for (ax, ay), (bx, by) in pairwise(line):
        if ax - 1e-9 <= x <= bx + 1e-9:
            return ay + (by - ay) * (x - ax) / max(bx - ax, 1e-9)
    return line[0][1] if x < line[0][0] else line[-1][1]


def roof_items(roof: Roof, x0: float, x1: float, eave: float) -> list[Item]:
    """The drawn parts of a roof, back to front."""
    if roof.kind in SLOPED:
        return _boards(roof, profile(roof, x0, x1, eave))
    if roof.kind == "parapet":
        return [_bar(x0 - 0.04, eave, x1 + 0.04, eave + 0.1)]
    if roof.kind == "cornice":
        low = _bar(x0 - 0.1, eave, x1 + 0.1, eave + 0.22)
        top = _bar(x0 - 0.25, eave + 0.22, x1 + 0.25, eave + 0.4)
        n = max(3, int((x1 - x0) / 0.6))
        for i in range(n + 1):
            x = x0 + 0.05 + (x1 - x0 - 0.25) * i / n
            low.strokes.append(
                Stroke(corners(x, eave + 0.02, x + 0.15, eave + 0.22), "trim", closed=True)
            )
        return [low, top]
    if roof.kind == "flat":
        over = max(roof.over, 0.3)
        item = _bar(x0 - over, eave, x1 + over, eave + 0.3)
        item.strokes.append(Stroke([(x0 - over, eave + 0.24), (x1 + over, eave + 0.24)], "roof"))
        return [item]
    return _plane(roof, x0, x1, eave)


def _bar(x0: float, y0: float, x1: float, y1: float) -> Item:
    return Item(
        rect(x0, y0, x1, y1), [Stroke(corners(x0, y0, x1, y1), "roof", closed=True)], cuts=True
    )


def _boards(roof: Roof, line: list[Point]) -> list[Item]:
    over = 0.05 if roof.kind == "coped" else roof.over
    deep = roof.fascia / max(0.6, (1 / (1 + roof.pitch**2)) ** 0.5)

    def beyond(a: Point, b: Point) -> Point:
        slope = (a[1] - b[1]) / (a[0] - b[0])
        side = -1 if a[0] < b[0] else 1
        return a[0] + side * over, a[1] + side * over * slope

    low = [beyond(line[0], line[1]), *line[1:-1], beyond(line[-1], line[-2])]
    high = [(x, y + deep) for x, y in low]
    area = Polygon([*low, *high[::-1]])
    item = Item(area, [Stroke([*low, *high[::-1]], "roof", closed=True)], cuts=True)
    if roof.kind != "coped":
        item.strokes.append(Stroke([(x, y + 0.7 * deep) for x, y in low], "roof"))
    if roof.kind == "halfhip":
        (ax, ay), (bx, by) = high[1], high[2]
        top = ((ax + bx) / 2, ay + (bx - ax) * 0.5 * roof.pitch)
        hip = Polygon([(ax - 0.1, ay), (bx + 0.1, by), top])
        edge = Stroke([(ax - 0.1, ay), (bx + 0.1, by), top], "roof", closed=True)
        return [Item(hip, [edge], cuts=True, clad=roof.clad), item]
    return [item]


def _plane(roof: Roof, x0: float, x1: float, eave: float) -> list[Item]:
    a, b = x0 - roof.over, x1 + roof.over
    base = eave + roof.fascia
    top = base + roof.rise
    inset = {"hip": min(roof.rise / max(roof.pitch, 0.3), 0.45 * (b - a)), "mansard": 0.35}.get(
        roof.kind, 0.0
    )
    edge = [(a, base), (b, base), (b - inset, top), (a + inset, top)]
    plane = Item(Polygon(edge), [Stroke(edge, "roof", closed=True)], cuts=True, clad=roof.clad)
    if roof.kind == "eaves":
        plane.strokes.append(Stroke([(a, top - 0.12), (b, top - 0.12)], "roof"))
    items = [plane]
    if roof.kind == "mansard":
        items.append(_bar(a + inset - 0.1, top, b - inset + 0.1, top + 0.2))
    fascia = _bar(a, eave, b, base)
    fascia.strokes.append(
        Stroke([(a, eave + 0.6 * roof.fascia), (b, eave + 0.6 * roof.fascia)], "roof")
    )
    items.append(fascia)
    return items
