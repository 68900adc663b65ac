"""Large drawings as offices keep them: sheets of houses, and the site that they stand on.

    +--------+--------+   +-----------------------------------------+
    | sheet  | sheet  |   | site: contours, hatching drawn as lines,|
    +--------+--------+   |  parcels, trees, spot heights, roads    |
    | sheet  | sheet  |   |                                         |
    +--------+--------+   +-----------------------------------------+

A drawing grows by its site, not by its elevations: of 500,000 entities 20,000 are on sheets. What
kinds a site is made of and how it is spread is our own guess, from no survey of drawings.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from pathlib import Path

from big_drawings import entity
from corpus import make_sheet

SHEET_SEED = 65
"""A sheet of several views drawn with loose lines."""
ON_SHEETS = 20_000
"""Entities on sheets at most."""


def sheets(path: Path, entities: int, seed: int = SHEET_SEED) -> tuple[float, float, float, float]:
    """Write one sheet over and over in a square arrangement.

    Args:
        path: The file.
        entities: How many there are at least.
        seed: Of the sheet.

    Returns:
        The box of all sheets.
    """
    sheet = make_sheet(seed)
    space = sheet.doc.modelspace()
    first = [e for e in space if e.dxftype() not in ("DIMENSION", "VIEWPORT")]
    boxes = [view["box"] for view in sheet.truth["views"]]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    wide = 1.2 * (max(b[2] for b in boxes) - x0)
    tall = 1.2 * (max(b[3] for b in boxes) - y0)
    columns = max(1, round(math.sqrt(entities / len(first) * tall / wide)))
    count = 1
    while len(space) < entities:
        row, column = divmod(count, columns)
        for drawn in first:
            space.add_entity(drawn.copy().translate(column * wide, row * tall, 0.0))
        count += 1
    sheet.write(path)
    return x0, y0, x0 + columns * wide, y0 + (count - 1) // columns * tall + tall


def estate(path: Path, entities: int) -> None:
    """Write a drawing of so many entities: sheets, and a site for what is more than theirs.

    Args:
        path: The file.
        entities: How many there are.
    """
    x0, y0, x1, y1 = sheets(path, min(entities, ON_SHEETS))
    text = path.read_text(encoding="latin-1")
    end = text.index("OBJECTS")
    end = text.rindex("ENDSEC", 0, end)
    end = text.rindex("0", 0, end)
    end = text.rindex("\n", 0, end) + 1
    left = max(0, entities - min(entities, ON_SHEETS))
    side = max(x1 - x0, y1 - y0)
    with path.open("w", encoding="latin-1") as out:
        out.write(text[:end])
        out.writelines(_site(left, x1 + 0.5 * side, y0, 2.0 * side))
        out.write(text[end:])


def _site(count: int, x0: float, y0: float, side: float) -> Iterator[str]:
    """The entities of a site on a square."""
    chance = random.Random(count)
    handle, left, number = 0x4000000, count, 0
    while left > 0:
        number += 1
        x, y = x0 + chance.uniform(0.02, 0.9) * side, y0 + chance.uniform(0.02, 0.9) * side
        kind = _KINDS[number % len(_KINDS)]
        for made in kind(chance, x, y, side):
            if left <= 0:
                return
            handle, left = handle + 1, left - 1
            name, layer, marker, tags = made
            yield entity(name, handle, layer, marker, *tags)


Made = tuple[str, str, str, tuple[tuple[int, object], ...]]


def _line(layer: str, x0: float, y0: float, x1: float, y1: float) -> Made:
    at = ((10, x0), (20, y0), (30, 0.0), (11, x1), (21, y1), (31, 0.0))
    return "LINE", layer, "AcDbLine", at


def _hatching(chance: random.Random, x: float, y: float, side: float) -> Iterator[Made]:
    """Sixty slanted lines across a patch of paving."""
    wide, step, turn = side / 60.0, side / 4000.0, chance.uniform(0.2, 1.3)
    for n in range(60):
        yield _line("L-HTCH", x + n * step, y, x + n * step + wide * math.cos(turn), y + wide)


def _contour(chance: random.Random, x: float, y: float, side: float) -> Iterator[Made]:
    """Six contour lines of forty points beside each other."""
    heading = chance.uniform(0, math.tau)
    for n in range(6):
        tags: list[tuple[int, object]] = [(90, 40), (70, 0)]
        px, py, way = x, y + n * side / 900.0, heading
        for _ in range(40):
            tags += [(10, px), (20, py)]
            way += chance.uniform(-0.1, 0.1)
            px, py = px + side / 900.0 * math.cos(way), py + side / 900.0 * math.sin(way)
        yield "LWPOLYLINE", "L-CONT", "AcDbPolyline", tuple(tags)


def _tree(chance: random.Random, x: float, y: float, side: float) -> Iterator[Made]:
    """A crown of eight arcs and a trunk."""
    radius = side / 1200.0
    for n in range(8):
        a = n * math.pi / 4
        at = ((10, x + radius * math.cos(a)), (20, y + radius * math.sin(a)), (30, 0.0))
        bow = ((40, radius * 0.5), (100, "AcDbArc"), (50, 45.0 * n - 90), (51, 45.0 * n + 90))
        yield "ARC", "L-PLNT", "AcDbCircle", (*at, *bow)
    yield "CIRCLE", "L-PLNT", "AcDbCircle", ((10, x), (20, y), (30, 0.0), (40, radius * 0.1))


def _spots(chance: random.Random, x: float, y: float, side: float) -> Iterator[Made]:
    """Eight spot heights: a point and its value."""
    for n in range(8):
        at = ((10, x + n * side / 300.0), (20, y + chance.uniform(0, side / 300.0)), (30, 0.0))
        yield "POINT", "V-SPOT", "AcDbPoint", at
        value = f"{chance.uniform(90, 120):.2f}"
        text = ((40, side / 3000.0), (1, value), (100, "AcDbText"))
        yield "TEXT", "V-SPOT", "AcDbText", (*at, *text)


def _parcel(chance: random.Random, x: float, y: float, side: float) -> Iterator[Made]:
    """A parcel's border, a house in it and its fence of short lines."""
    wide, deep = side / 80.0, side / 50.0
    corners = ((x, y), (x + wide, y + deep / 9), (x + wide, y + deep), (x, y + deep))
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield _line("V-PROP", ax, ay, bx, by)
    for n in range(20):
        px = x + wide * n / 20.0
        yield _line("L-FENC", px, y - wide / 50.0, px + wide / 40.0, y - wide / 50.0)
    house = [(90, 4), (70, 1)]
    for dx, dy in ((0.2, 0.3), (0.7, 0.3), (0.7, 0.6), (0.2, 0.6)):
        house += [(10, x + dx * wide), (20, y + dy * deep)]
    yield "LWPOLYLINE", "C-BLDG", "AcDbPolyline", tuple(house)


_KINDS = (_hatching, _contour, _tree, _spots, _parcel, _tree, _contour, _parcel)
