"""What is no elevation but may look like one: framing, roofs, sites, schedules, tables."""

from __future__ import annotations

import random

from corpus import openings
from corpus.shapes import Arc, Group, Measure, Note, Shape, rectangle, stroke
from corpus.words import Language


def framing(rng: random.Random, size: float, step: float) -> list[Shape]:
    """A wall's studs, plates, headers and braces, seen from the side: a section, nothing clad."""
    wide = round(rng.uniform(4000, 8000) / step) * step
    high, stud = 2400.0, rng.choice([38.0, 45.0, 60.0])
    shapes: list[Shape] = [
        rectangle("cut", 0.0, 0.0, wide, stud),
        rectangle("cut", 0.0, high - stud, wide, high),
    ]
    gap = (wide * 0.4, wide * 0.4 + 1000.0)
    x = 0.0
    while x < wide - stud:
        if not gap[0] - stud < x < gap[1]:
            shapes.append(rectangle("cut", x, stud, x + stud, high - stud))
        x += rng.choice([405.0, 600.0])
    shapes += [rectangle("cut", g, stud, g + stud, high - stud) for g in (gap[0] - stud, gap[1])]
    for y in (900.0, 2100.0):
        shapes.append(rectangle("cut", gap[0], y, gap[1], y + stud))
    if rng.random() < 0.6:
        shapes += [
            stroke("cut", (m, stud), (m + 1100.0, high - stud)) for m in (stud * 1.5, stud * 3.5)
        ]
    shapes.append(Measure("dim", (0.0, high), (wide, high), 3 * size, 0.8 * size))
    shapes.append(Measure("dim", (0.0, 0.0), (0.0, high), 3 * size, 0.8 * size))
    return shapes


def roof_plan(rng: random.Random, size: float, step: float) -> list[Shape]:
    """A hipped roof from above with ridge, hips, gutters and outlets."""
    wide = round(rng.uniform(9000, 15000) / step) * step
    deep = round(rng.uniform(6000, 9000) / step) * step
    h = deep / 2
    shapes: list[Shape] = [
        rectangle("roof", 0.0, 0.0, wide, deep),
        rectangle("fascia", -120.0, -120.0, wide + 120.0, deep + 120.0),
        stroke("roof", (h, h), (wide - h, h))
        if wide > deep + 500
        else stroke("roof", (h, h), (h, h + 1)),
    ]
    shapes += [
        stroke("roof", a, b)
        for a, b in (
            ((0.0, 0.0), (h, h)),
            ((0.0, deep), (h, h)),
            ((wide, 0.0), (wide - h, h)),
            ((wide, deep), (wide - h, h)),
        )
    ]
    shapes += [Arc("pipe", (x, y), 60.0) for x in (0.0, wide) for y in (0.0, deep)]
    shapes.append(rectangle("chimney", wide * 0.6, h - 250, wide * 0.6 + 600, h + 250))
    shapes.append(Measure("dim", (0.0, deep), (wide, deep), 3 * size, 0.8 * size))
    return shapes


def site_plan(rng: random.Random, size: float) -> list[Shape]:
    """A plot with the house, a path of slabs and trees from above."""
    wide, deep = rng.uniform(18_000, 28_000), rng.uniform(14_000, 20_000)
    x, y = wide * 0.35, deep * 0.3
    shapes: list[Shape] = [
        stroke(
            "other",
            (0.0, 0.0),
            (wide, 600.0),
            (wide - 900.0, deep),
            (400.0, deep - 700.0),
            (0.0, 0.0),
        ),
        rectangle("plan", x, y, x + 9000, y + 6500),
        rectangle("roof", x - 500, y - 500, x + 9500, y + 7000),
    ]
    for i in range(8):
        for j in range(2):
            shapes.append(
                rectangle(
                    "texture",
                    x + 600.0 * i,
                    y - 1800 + 600.0 * j,
                    x + 600.0 * (i + 1),
                    y - 1200 + 600.0 * j,
                )
            )
    for _ in range(rng.randint(2, 6)):
        at = rng.uniform(1500, wide - 1500), rng.choice([rng.uniform(800, y - 2500), deep - 2500])
        shapes += [Arc("plant", at, rng.uniform(700, 1500)), Arc("plant", at, 100.0)]
    shapes += [Arc("note", (wide, deep), 2 * size),
               stroke("note", (wide, deep - 3 * size), (wide, deep + 3 * size)),
               Note("note", "N", (wide, deep + 3.5 * size), size)]  # fmt: skip
    return shapes


def schedule(rng: random.Random, language: Language, size: float) -> list[Shape]:
    """Types of windows side by side over their numbers: no wall is around them."""
    taste = openings.make_taste(rng)
    shapes: list[Shape] = []
    x = 0.0
    high = 0.0
    for i in range(rng.randint(2, 4)):
        design = openings.window(
            taste, rng.choice([600.0, 900.0, 1200.0, 1800.0]), rng.choice([600.0, 1200.0, 1500.0])
        )
        at = x + max(600.0, design.side)
        shapes.append(Group("opening", f"T{design.name}", (at, 900.0), openings.drawn(design)))
        shapes.append(Note("note", f"W{i + 1}", (at, 200.0), size))
        shapes.append(stroke("frame", (x, 0.0), (x, 3000.0)))
        x = at + design.width + max(600.0, design.side)
        high = max(high, design.height)
    shapes.append(rectangle("frame", 0.0, 0.0, x, 3000.0))
    shapes.append(stroke("frame", (0.0, 700.0), (x, 700.0)))
    shapes.append(Note("note", language.layers["opening"], (0.0, 3000.0 + size), 1.3 * size))
    return shapes


def table(rng: random.Random, language: Language, size: float) -> list[Shape]:
    """Rows and columns of words and numbers."""
    rows, columns = rng.randint(4, 9), rng.randint(3, 5)
    wide, high = 14 * size, 2.4 * size
    shapes: list[Shape] = [
        stroke("frame", (0.0, -i * high), (columns * wide, -i * high)) for i in range(rows + 1)
    ]
    shapes += [
        stroke("frame", (j * wide, 0.0), (j * wide, -rows * high)) for j in range(columns + 1)
    ]
    for i in range(rows):
        for j in range(columns):
            word = rng.choice(language.notes)[:12] if j == 0 else str(rng.randint(1, 2400))
            shapes.append(
                Note("note", word, (j * wide + size / 2, -(i + 1) * high + 0.7 * size), size)
            )
    return shapes
