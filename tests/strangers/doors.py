"""Designs of doors and garage doors."""

from __future__ import annotations

from random import Random

from .frames import strokes
from .geom import Point, corners
from .openings import Design, _bars, fan
from .scene import Stroke


def door(
    rng: Random,
    design: str,
    w: float,
    h: float,
    casing: float = 0.0,
    head: str = "none",
    foot: bool = True,
    shape: str = "rect",
) -> Design:
    """A door whose outline is its outermost frame."""
    d = Design("door", f"{design} door", shape, w, h)
    d.strokes += strokes(shape, w, h, 0, "door", foot)
    f = casing or 0.06
    if design not in ("barn", "storefront"):
        d.strokes += strokes(shape, w, h, f, "door", foot=False)
    LEAVES.get(design, _panel)(d, f)
    if shape == "arch":
        d.lines(_bars([[(0, h - w / 2), (w, h - w / 2)]], 0.03), f, "door")
        fan(d, w / 2 - f)
    elif head == "lintel":
        d.outside(-0.15, h, w + 0.15, h + 0.2)
    elif head in ("soldier", "voussoir", "key"):
        d.outside(-0.1, h, w + 0.1, h + 0.22)
    return d


def _handle(d: Design, x: float) -> None:
    d.box(x - 0.025, 1.0, x + 0.025, 1.1, "door")


def _fields(d: Design, a: float, b: float, top: float, glazed: bool) -> None:
    """Panels of one leaf between a and b."""
    m = 0.1
    mid = (a + b) / 2
    if b - a < 0.45:
        d.box(a + m, 0.2, b - m, top - m, "door")
        return
    if glazed:
        d.box(a + m, 0.25, b - m, top - m, "door")
        return
    for y0, y1 in ((0.2, 0.85), (1.0, top - m)):
        d.box(a + m, y0, mid - 0.04, y1, "door")
        d.box(mid + 0.04, y0, b - m, y1, "door")


def _top(d: Design, f: float) -> float:
    return d.h - d.w / 2 - 0.03 if d.shape == "arch" else d.h - f


def _panel(d: Design, f: float) -> None:
    _fields(d, f, d.w - f, _top(d, f), False)
    _handle(d, d.w - f - 0.06)


def _glazed(d: Design, f: float) -> None:
    _fields(d, f, d.w - f, _top(d, f), True)
    _handle(d, d.w - f - 0.05)


def _lites(d: Design, f: float) -> None:
    top = _top(d, f)
    a, b = f + 0.1, d.w - f - 0.1
    d.box(a, 0.2, b, 0.8, "door")
    d.box(a, 0.95, b, top - 0.1, "door")
    d.lines([[((a + b) / 2, 0.95), ((a + b) / 2, top - 0.1)], [(a, 1.4), (b, 1.4)]], f, "door")
    _handle(d, d.w - f - 0.05)


def _flush(d: Design, f: float) -> None:
    _handle(d, f + 0.08)


def _dutch(d: Design, f: float) -> None:
    d.lines(_bars([[(0, 1.05), (d.w, 1.05)]], 0.01), f, "door")
    a, b = f + 0.1, d.w - f - 0.1
    d.strokes.append(Stroke(corners(a, 0.15, b, 0.95), "door", closed=True))
    d.strokes.append(Stroke([(a, 0.15), (b, 0.95)], "door"))
    d.strokes.append(Stroke([(b, 0.15), (a, 0.95)], "door"))
    d.box(a, 1.2, b, _top(d, f) - 0.1, "door")


def _double(d: Design, f: float) -> None:
    mid, top = d.w / 2, _top(d, f)
    d.lines([[(mid, 0), (mid, top)]], f, "door")
    _fields(d, f, mid, top, False)
    _fields(d, mid, d.w - f, top, False)
    _handle(d, mid - 0.06)


def _french(d: Design, f: float) -> None:
    mid, top = d.w / 2, _top(d, f)
    d.lines([[(mid, 0), (mid, top)]], f, "door")
    _fields(d, f, mid, top, True)
    _fields(d, mid, d.w - f, top, True)


def _patio(d: Design, f: float) -> None:
    n = 2 if d.w < 2.8 else 3
    for i in range(n):
        a, b = f + (d.w - 2 * f) * i / n, f + (d.w - 2 * f) * (i + 1) / n
        d.box(a, 0.03, b, d.h - f, "door")
        d.box(a + 0.07, 0.1, b - 0.07, d.h - f - 0.07, "door")
    y, x = d.h * 0.45, d.w * 0.3
    arrow: list[Point] = [(x - 0.25, y), (x + 0.25, y), (x + 0.15, y + 0.05)]
    d.strokes.append(Stroke(arrow, "door"))


def _sidelights(d: Design, f: float) -> None:
    side = 0.36
    top = d.h - 0.45
    d.lines(_bars([[(0, top), (d.w, top)]], 0.03), f, "door")
    for x in (side, d.w - side):
        d.lines(_bars([[(x, 0), (x, top)]], 0.03), f, "door")
    d.box(f + 0.04, 0.5, side - 0.07, top - 0.08, "door")
    d.box(d.w - side + 0.07, 0.5, d.w - f - 0.04, top - 0.08, "door")
    d.box(f + 0.04, top + 0.07, d.w - f - 0.04, d.h - f - 0.04, "door")
    _fields(d, side + 0.03, d.w - side - 0.03, top, False)


def _barn(d: Design, f: float) -> None:
    w, h = d.w, d.h
    for a, b in ((0.0, w / 2), (w / 2, w)):
        d.box(a + 0.12, 0.12, b - 0.12, h / 2 - 0.06, "door")
        d.box(a + 0.12, h / 2 + 0.06, b - 0.12, h - 0.12, "door")
        d.strokes.append(Stroke([(a + 0.12, 0.12), (b - 0.12, h / 2 - 0.06)], "door"))
        d.strokes.append(Stroke([(b - 0.12, 0.12), (a + 0.12, h / 2 - 0.06)], "door"))
    d.lines([[(w / 2, 0), (w / 2, h)]], 0, "door")
    d.outside(-0.25, h, w + 0.25, h + 0.1)


def _store(d: Design, f: float) -> None:
    """A glazed shop door with fixed lights beside and above."""
    w, h = d.w, d.h
    top = min(2.25, h - 0.3)
    a, b = w / 2 - 0.5, w / 2 + 0.5
    d.box(0.05, 0.1, a, h - 0.05, "door")
    d.box(b, 0.1, w - 0.05, h - 0.05, "door")
    d.lines([[(a, top), (b, top)]], 0, "door")
    d.box(a + 0.08, 0.12, b - 0.08, top - 0.08, "door")
    _handle(d, b - 0.15)


LEAVES = {
    "panel": _panel,
    "glazed": _glazed,
    "lites": _lites,
    "flush": _flush,
    "dutch": _dutch,
    "double": _double,
    "french": _french,
    "patio": _patio,
    "sidelights": _sidelights,
    "barn": _barn,
    "storefront": _store,
}


def garage(rng: Random, design: str, w: float, h: float, casing: float = 0.0) -> Design:
    """A garage door: sectional, panelled, or with lites."""
    d = Design("garage", f"{design} garage door", "rect", w, h)
    d.strokes += strokes("rect", w, h, 0, "door", foot=rng.random() < 0.7)
    f = casing
    if casing:
        d.strokes += strokes("rect", w, h, f, "door", foot=False)
    rows = 4 if h < 2.6 else 5
    ys = [(h - f) * j / rows for j in range(rows + 1)]
    d.lines([[(0, y), (w, y)] for y in ys[1:-1]], f, "door")
    if design == "sectional":
        return d
    n = max(4, round(w / 0.6))
    for j in range(rows):
        if design == "lites" and j < rows - 1:
            continue
        for i in range(n):
            a, b = f + (w - 2 * f) * i / n, f + (w - 2 * f) * (i + 1) / n
            d.box(a + 0.07, ys[j] + 0.1, b - 0.07, ys[j + 1] - 0.1, "door")
    return d
