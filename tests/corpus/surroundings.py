"""What stands around a facade: ground line, level marks, dimensions, grids, plants, title."""

from __future__ import annotations

import math
import random
from itertools import pairwise

from corpus.placing import Facade
from corpus.shapes import (
    Arc,
    Curve,
    Fill,
    Group,
    Measure,
    Note,
    Oval,
    Path,
    Point,
    Shape,
    box_of,
    rectangle,
    stroke,
)


def ground_line(rng: random.Random, facade: Facade) -> list[Shape]:
    """The line of the ground, sometimes with earth below it or footings dashed."""
    points = facade.building.ground
    shapes: list[Shape] = [stroke("ground", *points)]
    kind = rng.choice(["line", "line", "double", "earth", "footing"])
    if kind == "double":
        shapes.append(stroke("ground", *[(x, y - 60) for x, y in points]))
    elif kind == "earth":
        below = [(x, y - 300) for x, y in reversed(points)]
        shapes.append(Fill("hatch", (*points, *below), "DIAGONAL", 150.0))
    elif kind == "footing":
        for body in facade.building.bodies:
            low = min(y for _, y in points) - 900
            corners = (
                (body.x0, points[0][1]),
                (body.x0, low),
                (body.x1, low),
                (body.x1, points[-1][1]),
            )
            shapes.append(stroke("hidden", *corners, linetype="DASHED"))
    return shapes


def level_marks(rng: random.Random, facade: Facade, size: float, imperial: bool) -> list[Shape]:
    """Marks beside the building at floors, eaves and ridge: triangle, target or flag."""
    building = facade.building
    heights = {*building.floors[:-1], building.bodies[0].eave, building.ground[-1][1]}
    high = max(y for b in building.bodies for p in [b.roof.mask] for y in (p.bounds[3],))
    heights.add(round(high))
    left, right = building.ground[0][0], building.ground[-1][0]
    kind = rng.choice(["triangle", "target", "flag", "solid"])
    x, way = (right + 2 * size, 1) if rng.random() < 0.7 else (left - 2 * size, -1)
    through = rng.random() < 0.25
    shapes: list[Shape] = []
    for y in sorted(heights):
        text = level_text(y, imperial, rng.random() < 0.1)
        at = (1.2 * size if way > 0 else -size * (2 + 0.7 * len(text)), 0.3 * size)
        value = Note("level", text, at, size, tag="LEVEL")
        shapes.append(Group("level", f"LEVEL{kind}", (x, y), (*_mark(kind, size, way), value)))
        if through:
            ends = (left, y), (right, y)
            shapes.append(stroke("level", *ends, linetype="DASHED"))
    return shapes


def level_text(height: float, imperial: bool, named: bool = False) -> str:
    if imperial:
        inches = round(height / 25.4) + 1200
        text = f"{inches // 12}'-{inches % 12}\""
        return f"EL. {text}" if named else text
    sign = "%%p" if abs(height) < 0.5 else "+" if height > 0 else "-"
    return f"{sign}{abs(height) / 1000:.2f}"


def _mark(kind: str, size: float, way: int) -> tuple[Shape, ...]:
    line = stroke("level", (-size, 0.0), (way * 6 * size, 0.0))
    if kind == "target":
        r = 0.5 * size
        return (line, Arc("level", (0.0, 0.0), r), stroke("level", (0.0, -1.4 * r), (0.0, 1.4 * r)))
    if kind == "flag":
        return (line, stroke("level", (-size / 2, size / 2), (0.0, 0.0), (size / 2, size / 2)))
    corners: tuple[Point, ...] = ((0.0, 0.0), (size / 2, 0.8 * size), (-size / 2, 0.8 * size))
    shapes: tuple[Shape, ...] = (line, Path("level", corners, closed=True))
    return (*shapes, Fill("level", corners, "SOLID", size)) if kind == "solid" else shapes


def dimensions(rng: random.Random, facade: Facade, size: float) -> list[Shape]:
    """Chains below and beside the building."""
    building = facade.building
    low = min(y for _, y in building.ground)
    xs = sorted({b.x0 for b in building.bodies} | {b.x1 for b in building.bodies})
    if rng.random() < 0.5:
        for o in facade.openings:
            if o.at[1] < building.floors[1]:
                xs += [o.at[0], o.at[0] + o.design.width]
    xs = _apart(sorted(xs), 50)
    shapes: list[Shape] = [
        Measure("dim", (b, low - size), (a, low - size), 3 * size, size * 0.8)
        for a, b in pairwise(xs)
    ]
    if rng.random() < 0.6:
        shapes.append(
            Measure("dim", (xs[-1], low - size), (xs[0], low - size), 6 * size, size * 0.8)
        )
    if rng.random() < 0.5:
        ys = _apart(
            sorted({building.ground[0][1], *building.floors[:-1], building.bodies[0].eave}), 50
        )
        x = building.ground[0][0] - size
        shapes += [Measure("dim", (x, a), (x, b), 3 * size, size * 0.8) for a, b in pairwise(ys)]
    return shapes


def _apart(values: list[float], least: float) -> list[float]:
    kept = [values[0]]
    for value in values[1:]:
        if value - kept[-1] > least:
            kept.append(value)
    return kept


def grid(rng: random.Random, facade: Facade, size: float) -> list[Shape]:
    """Axes through the building with bubbles above or below."""
    building = facade.building
    first, last = building.bodies[0].x0, building.bodies[0].x1
    count = rng.randint(2, 5)
    low = min(y for _, y in building.ground) - 8 * size
    high = max(b.roof.mask.bounds[3] for b in building.bodies) + 3 * size
    r = 1.5 * size
    letters = rng.random() < 0.5
    shapes: list[Shape] = []
    for i in range(count):
        x = first + (last - first) * i / (count - 1)
        y = low if rng.random() < 0.5 else high
        name = "ABCDEF"[i] if letters else str(i + 1)
        ends = (x, low), (x, high)
        shapes.append(stroke("grid", *ends, linetype="CENTER"))
        center = (x, low - r if y == low else high + r)
        shapes.append(Arc("grid", center, r))
        shapes.append(Note("grid", name, (x - 0.35 * size, center[1] - size / 2), size))
    return shapes


def plants(rng: random.Random, facade: Facade) -> list[Shape]:
    """Trees, shrubs and a car, drawn over the facade without hiding it."""
    ground = facade.building.ground
    shapes: list[Shape] = []
    for _ in range(rng.randint(1, 4)):
        x = rng.uniform(ground[0][0], ground[-1][0])
        y = min(p[1] for p in ground)
        kind = rng.choice(["tree", "shrub", "conifer"])
        shapes.append(Group("plant", f"{kind}{rng.randint(1, 3)}", (x, y), _plant(kind, rng)))
    if rng.random() < 0.2:
        shapes += _fence(rng, facade)
    if rng.random() < 0.3:
        x = rng.uniform(ground[0][0], ground[-1][0] - 4000)
        shapes.append(Group("figure", "car", (x, min(p[1] for p in ground)), _car()))
    return shapes


def _fence(rng: random.Random, facade: Facade) -> list[Shape]:
    """Pickets or boards between posts beside the house."""
    ground = facade.building.ground
    x0, x1 = ground[0][0], min(b.x0 for b in facade.building.bodies) - 100
    y, high = ground[0][1], rng.choice([900.0, 1200.0, 1800.0])
    if ground[0][1] != ground[1][1] or x1 - x0 < 900:
        return []
    shapes: list[Shape] = [
        stroke("plant", (x0, y + h), (x1, y + h)) for h in (0.25 * high, 0.9 * high)
    ]
    x = x0
    while x < x1:
        shapes.append(rectangle("plant", x, y, min(x + 90, x1), y + high))
        x += rng.choice([90.0, 180.0, 180.0])
    return shapes


def _plant(kind: str, rng: random.Random) -> tuple[Shape, ...]:
    if kind == "shrub":
        lobes = [(i * 180.0, 250.0 + 120 * (i % 2)) for i in range(6)]
        return tuple(Arc("plant", (x, 120.0), r / 2, 0.0, 180.0) for x, r in lobes)
    if kind == "conifer":
        zig: list[Point] = [(-900.0, 500.0)]
        for i in range(6):
            zig += [
                (-900 + 140.0 * (i + 1), 500 + 550.0 * (i + 1)),
                (-950 + 160.0 * (i + 1), 520 + 560.0 * (i + 1)),
            ]
        zig.append((0.0, 4400.0))
        right = [(-x, y) for x, y in reversed(zig)]
        return (Path("plant", (*zig, *right), closed=True), rectangle("plant", -90, 0, 90, 500))
    trunk: tuple[Shape, ...] = (
        Curve("plant", ((-150.0, 0.0), (-100.0, 900.0), (-110.0, 1700.0), (-600.0, 2600.0))),
        Curve("plant", ((150.0, 0.0), (100.0, 900.0), (120.0, 1700.0), (700.0, 2700.0))),
    )
    crown = [
        (1600 * math.cos(a) * (1 + 0.15 * math.sin(5 * a)), 3400 + 1500 * math.sin(a))
        for a in [i * math.pi / 9 for i in range(19)]
    ]
    return (*trunk, Curve("plant", tuple(crown)), Oval("plant", (200.0, 3600.0), 700.0, 500.0))


def _car() -> tuple[Shape, ...]:
    body = ((0.0, 300.0), (0.0, 800.0), (900.0, 900.0), (1500.0, 1400.0), (2900.0, 1400.0),
            (3600.0, 900.0), (4200.0, 800.0), (4200.0, 300.0))  # fmt: skip
    return (
        Path("figure", body, closed=True),
        Arc("figure", (800.0, 320.0), 320.0),
        Arc("figure", (3300.0, 320.0), 320.0),
        Path(
            "figure",
            ((1050.0, 900.0), (1550.0, 1330.0), (2100.0, 1330.0), (2100.0, 900.0)),
            closed=True,
        ),
    )


def titled(
    rng: random.Random, shapes: list[Shape], title: str, scale: str, size: float
) -> list[Shape]:
    """A title with a scale note below (or above) a view."""
    x0, y0, x1, y1 = box_of(shapes)
    x = (x0 + x1) / 2 - 0.35 * 1.6 * size * len(title) if rng.random() < 0.6 else x0
    y = y0 - 4 * size if rng.random() < 0.85 else y1 + 4 * size
    extra: list[Shape] = [Note("title", title, (x, y), 1.6 * size)]
    if rng.random() < 0.2:  # the number of the view in a circle before its title
        extra.append(Arc("title", (x - 3 * size, y), 2 * size))
        extra.append(Note("title", str(rng.randint(1, 9)), (x - 3.4 * size, y + 0.4 * size), size))
        extra.append(stroke("title", (x - 5 * size, y), (x - size, y)))
    if rng.random() < 0.5:
        extra.append(
            stroke("title", (x, y - 0.4 * size), (x + 1.12 * size * len(title), y - 0.4 * size))
        )
    if scale:
        extra.append(Note("title", scale, (x, y - 2 * size), size))
    return extra
