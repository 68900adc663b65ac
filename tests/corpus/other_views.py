"""Plans, sections, details, legends, scraps and the sheet itself: what is no elevation."""

from __future__ import annotations

import random

from shapely.geometry import Polygon, box

from corpus.shapes import (
    Arc,
    Fill,
    Group,
    Measure,
    Note,
    Point,
    Shape,
    polygon_path,
    rectangle,
    stroke,
)
from corpus.words import Language


def plan(rng: random.Random, language: Language, size: float, step: float) -> list[Shape]:
    """A floor plan: outer walls, partitions, windows and doors in them, rooms, dimensions."""
    wide = round(rng.uniform(7000, 14000) / step) * step
    deep = round(rng.uniform(6000, 11000) / step) * step
    thick = rng.choice([200.0, 300.0, 365.0])
    shapes: list[Shape] = []
    gaps = {side: _gaps(rng, wide if side in "ns" else deep, thick) for side in "nsew"}
    for side, spans in gaps.items():
        shapes += _outer_wall(side, spans, wide, deep, thick)
    x = wide * rng.uniform(0.35, 0.65)
    y = deep * rng.uniform(0.35, 0.65)
    half = 57.0
    for x0, y0, x1, y1 in (
        (x - half, thick, x - half, deep - thick), (x + half, thick, x + half, deep - thick),
        (thick, y - half, x - half, y - half), (thick, y + half, x - half, y + half),
    ):  # fmt: skip
        shapes.append(stroke("plan", (x0, y0), (x1, y1)))
    shapes += [
        stroke("sash", (x + half, y), (x + half + 800, y)),
        Arc("swing", (x + half, y), 800.0, 0.0, 90.0),
    ]
    places = ((x / 3, deep / 4), (x / 3, deep * 0.75), (x * 1.2, deep / 2))
    shapes += _rooms(rng, language, places, size)
    if rng.random() < 0.6:
        stair = x * 1.15
        for i in range(12):
            shapes.append(
                stroke("plan", (stair + 260.0 * i, thick), (stair + 260.0 * i, thick + 950))
            )
    if rng.random() < 0.5:
        shapes.append(
            rectangle("other", 2 * thick, deep - thick - 600, 2 * thick + 1800, deep - thick)
        )
    shapes.append(Measure("dim", (wide, -size), (0.0, -size), 3 * size, 0.8 * size))
    shapes.append(Measure("dim", (-size, 0.0), (-size, deep), 3 * size, 0.8 * size))
    return shapes


def _rooms(
    rng: random.Random, language: Language, places: tuple[Point, ...], size: float
) -> list[Shape]:
    """Names of rooms, some with their areas."""
    shapes: list[Shape] = []
    for room, at in zip(rng.sample(language.rooms, len(places)), places, strict=True):
        shapes.append(Note("note", room, at, size))
        if rng.random() < 0.4:
            area = f"{rng.uniform(6, 30):.1f} m2"
            shapes.append(Note("note", area, (at[0], at[1] - 1.6 * size), 0.8 * size))
    return shapes


def _gaps(rng: random.Random, length: float, thick: float) -> list[tuple[float, float, str]]:
    spans, x = [], thick + 500.0
    while True:
        x += rng.uniform(300, 1500)
        wide = rng.choice([900.0, 1200.0, 1500.0])
        if x + wide > length - thick - 500:
            return spans
        spans.append((x, x + wide, "window" if rng.random() < 0.8 else "door"))
        x += wide


def _outer_wall(
    side: str, spans: list[tuple[float, float, str]], wide: float, deep: float, thick: float
) -> list[Shape]:
    """Two lines with gaps; panes in windows, leaf and swing in doors."""

    def to(along: float, across: float) -> Point:
        return {
            "s": (along, across), "n": (along, deep - across),
            "w": (across, along), "e": (wide - across, along),
        }[side]  # fmt: skip

    length = wide if side in "ns" else deep
    shapes: list[Shape] = []
    for across in (0.0, thick):
        marks = [across, *[m for a, b, _ in spans for m in (a, b)], length - across]
        for a, b in zip(marks[::2], marks[1::2], strict=True):
            shapes.append(stroke("plan", to(a, across), to(b, across)))
    for a, b, kind in spans:
        shapes += [stroke("plan", to(m, 0.0), to(m, thick)) for m in (a, b)]
        if kind == "window":
            for across in (thick * 0.4, thick * 0.6):
                shapes.append(stroke("opening", to(a, across), to(b, across)))
        else:
            shapes.append(stroke("sash", to(a, thick), to(a, thick + b - a)))
            start = {"s": 0.0, "n": 270.0, "w": 0.0, "e": 90.0}[side]
            shapes.append(Arc("swing", to(a, thick), b - a, start, start + 90.0))
    return shapes


def section(rng: random.Random, size: float, step: float) -> list[Shape]:
    """A cut through a house: poched walls and slabs, roof, a stair, ground."""
    wide = round(rng.uniform(6000, 11000) / step) * step
    storeys, storey = rng.randint(1, 3), 2800.0
    shapes: list[Shape] = []
    parts = _cut_parts(rng, wide, storeys, storey)
    hatched = rng.random() < 0.6
    for part in parts:
        shapes.append(polygon_path("cut", part))
        if hatched:
            pattern = rng.choice(["DIAGONAL", "SOLID"])
            shapes.append(Fill("hatch", tuple(part.exterior.coords[:-1]), pattern, 120.0))
    if storeys > 1:
        run: list[Point] = [(wide * 0.4, 0.0)]
        for i in range(14):
            run += [(run[-1][0], (i + 1) * storey / 15), (run[-1][0] + 270, (i + 1) * storey / 15)]
        shapes.append(stroke("plan", *run))
    x = wide + 3 * size
    for floor in [storey * i for i in range(storeys)]:
        left, right = wide * 0.2, wide * 0.2 + 900
        shapes.append(rectangle("opening", left, floor + 900, right, floor + 2100))
        shapes.append(Measure("dim", (x, floor), (x, floor + storey), -size, 0.8 * size))
    shapes.append(stroke("ground", (-2500.0, -300.0), (0.0, -300.0)))
    shapes.append(stroke("ground", (wide, -300.0), (wide + 2500.0, -300.0)))
    return shapes


def _cut_parts(rng: random.Random, wide: float, storeys: int, storey: float) -> list[Polygon]:
    """What the section cuts: outer walls, slabs, the roof."""
    thick, slab = rng.choice([240.0, 300.0, 365.0]), 250.0
    eave = storeys * storey
    rise = wide / 2 * rng.choice([0.0, 0.5, 0.8])
    parts = [box(x, -900, x + thick, eave) for x in (0.0, wide - thick)]
    floors = [i * storey for i in range(storeys + (0 if rise else 1))]
    parts += [box(thick, y - slab, wide - thick, y) for y in floors]
    if rise:
        middle, low, high = wide / 2, eave - 300, eave + rise
        parts.append(Polygon([
            (-500, low), (middle, high), (wide + 500, low),
            (wide + 500, eave), (middle, high + 300), (-500, eave),
        ]))  # fmt: skip
    return parts


def detail(rng: random.Random, language: Language, size: float) -> list[Shape]:
    """Part of a wall at a larger scale: layers with hatches and notes on leaders."""
    shapes: list[Shape] = []
    x, high = 0.0, rng.uniform(700, 1100)
    for _ in range(rng.randint(3, 5)):
        wide = rng.choice([12.5, 20.0, 60.0, 115.0, 140.0, 175.0])
        area = Polygon([(x, 0), (x + wide, 0), (x + wide, high), (x, high)])
        shapes.append(polygon_path("cut", area))
        if rng.random() < 0.7:
            shapes.append(Fill("hatch", tuple(area.exterior.coords[:-1]), "DIAGONAL", 25.0))
        x += wide
    shapes.append(rectangle("cut", -60.0, high * 0.4, x * 0.6, high * 0.4 + 40))
    for i, note in enumerate(rng.sample(language.notes, 2)):
        y = high * (0.3 + 0.4 * i)
        shapes.append(stroke("note", (x * 0.5, y), (x + 150, y + 40), (x + 220, y + 40)))
        shapes.append(Note("note", note, (x + 230, y + 30), size))
    zig = (
        (-80.0, high),
        (x * 0.4, high),
        (x * 0.45, high + 40),
        (x * 0.55, high - 40),
        (x * 0.6, high),
        (x + 80, high),
    )
    shapes.append(stroke("cut", *zig))
    return shapes


def legend(rng: random.Random, language: Language, size: float) -> list[Shape]:
    """Samples of hatches with words, in rows under a heading."""
    shapes: list[Shape] = [Note("note", language.legend, (0.0, 0.0), 1.3 * size)]
    for i, note in enumerate(language.notes):
        y = -(i + 1) * 4 * size
        corners = ((0.0, y), (5 * size, y), (5 * size, y + 2.5 * size), (0.0, y + 2.5 * size))
        shapes.append(rectangle("other", 0.0, y, 5 * size, y + 2.5 * size))
        shapes.append(Fill("hatch", corners, rng.choice(["LINE", "DIAGONAL", "BRICK"]), size / 2))
        shapes.append(Note("note", note, (6 * size, y + 0.7 * size), size))
    return shapes


def scrap(rng: random.Random, size: float) -> list[Shape]:
    """Something left lying beside the sheet."""
    kind = rng.choice(["lines", "box", "text"])
    if kind == "text":
        return [Note("note", rng.choice(["xxx", "temp", "copy", "?"]), (0.0, 0.0), size)]
    if kind == "box":
        return [rectangle("other", 0.0, 0.0, rng.uniform(5, 40) * size, rng.uniform(5, 20) * size)]
    return [
        stroke(
            "other", (0.0, i * size), (rng.uniform(3, 20) * size, i * size * rng.uniform(0.5, 1.5))
        )
        for i in range(rng.randint(1, 5))
    ]


def sheet_frame(
    rng: random.Random, language: Language, width: float, height: float, size: float, title: str
) -> list[Shape]:
    """The border of the paper and a title block in its lower right corner."""
    shapes: list[Shape] = [rectangle("frame", 0.0, 0.0, width, height)]
    edge = 4 * size
    if rng.random() < 0.6:
        shapes.append(rectangle("frame", edge, edge, width - edge, height - edge))
    wide, high = 60 * size, 22 * size
    date, number = rng.choice(["2019-04-12", "12.04.19"]), rng.choice(["A-101", "03"])
    values = (title or "-", "H. Berg", date, "KL", number)
    block: list[Shape] = [
        rectangle("frame", 0.0, 0.0, wide, high),
        stroke("frame", (20 * size, 0.0), (20 * size, high)),
    ]
    for i, (word, value) in enumerate(zip(language.block, values, strict=True)):
        y = high * (len(values) - 1 - i) / len(values)
        if y:
            block.append(stroke("frame", (0.0, y), (wide, y)))
        block.append(Note("frame", word, (size, y + size), 0.7 * size))
        block.append(Note("frame", value, (22 * size, y + size), size, tag=f"VALUE{i + 1}"))
    at = (width - edge - wide, edge)
    return [*shapes, Group("frame", "TITLEBLOCK", at, tuple(block))]
