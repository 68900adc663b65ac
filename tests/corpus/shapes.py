"""What a pen can draw, before any office has decided how: lengths in millimeters of the building.

A shape says what it *is* by its role (``wall``, ``opening``, ``sash``, ``roof``, ...). Which entity
and which layer it becomes is decided later, by the style and the layer habit of the office.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge

Point = tuple[float, float]
ARC_STEP = math.radians(3.0)
"""Angle between two points of a flattened arc: chords lie within 0.04 % of the radius."""


@dataclass(frozen=True)
class Path:
    """Straight edges and arcs (``bulges``, as DXF defines them) from point to point."""

    role: str
    points: tuple[Point, ...]
    closed: bool = False
    bulges: tuple[float, ...] = ()
    linetype: str = ""


@dataclass(frozen=True)
class Arc:
    """Part of a circle, counterclockwise, in degrees; a whole circle from 0 to 360."""

    role: str
    center: Point
    radius: float
    start: float = 0.0
    end: float = 360.0
    linetype: str = ""


@dataclass(frozen=True)
class Curve:
    """A freehand line through points."""

    role: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Oval:
    """An ellipse with level axes."""

    role: str
    center: Point
    rx: float
    ry: float


@dataclass(frozen=True)
class Fill:
    """A hatched or solid area; ``spacing`` is the distance of its lines."""

    role: str
    outline: tuple[Point, ...]
    pattern: str
    spacing: float
    holes: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True)
class Note:
    """A line of text; ``tag`` names the attribute when the note lies in a block."""

    role: str
    text: str
    at: Point
    height: float
    rotation: float = 0.0
    tag: str = ""


@dataclass(frozen=True)
class Measure:
    """A dimension between two points, its line ``offset`` to the left of the way from a to b."""

    role: str
    a: Point
    b: Point
    offset: float
    height: float


@dataclass(frozen=True)
class Group:
    """Shapes that an office may keep as a block; ``name`` is the same for the same design."""

    role: str
    name: str
    at: Point
    shapes: tuple[Shape, ...]
    mirrored: bool = False


Shape = Path | Arc | Curve | Oval | Fill | Note | Measure | Group


def rectangle(role: str, x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path(role, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)


def stroke(role: str, *points: Point, linetype: str = "") -> Path:
    return Path(role, tuple(points), linetype=linetype)


def polygon_path(role: str, polygon: Polygon) -> Path:
    return Path(role, tuple((x, y) for x, y in polygon.exterior.coords[:-1]), closed=True)


def arc_points(center: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points of an arc from ``start`` to ``end`` in radians, either way round."""
    steps = max(1, math.ceil(abs(end - start) / ARC_STEP - 1e-9))
    angles = (start + (end - start) * i / steps for i in range(steps + 1))
    return [(center[0] + radius * math.cos(a), center[1] + radius * math.sin(a)) for a in angles]


def bulge_arc(a: Point, b: Point, bulge: float) -> tuple[Point, float, float, float]:
    """Center, radius, start and end angle (radians) of the arc that a bulge stands for.

    The bulge is the tangent of a quarter of the included angle (DXF reference, LWPOLYLINE).
    """
    sweep = 4 * math.atan(bulge)
    chord = math.dist(a, b)
    radius = chord / (2 * math.sin(abs(sweep) / 2))
    heading = math.atan2(b[1] - a[1], b[0] - a[0])
    toward = heading + math.copysign(math.pi / 2 - abs(sweep) / 2, bulge)
    center = (a[0] + radius * math.cos(toward), a[1] + radius * math.sin(toward))
    start = math.atan2(a[1] - center[1], a[0] - center[0])
    return center, radius, start, start + sweep


def edges(path: Path) -> Iterator[tuple[Point, Point, float]]:
    """Start, end and bulge of every edge."""
    points = [*path.points, path.points[0]] if path.closed else list(path.points)
    bulges = list(path.bulges) or [0.0] * len(points)
    yield from zip(points, points[1:], bulges, strict=False)


def flat(shape: Path | Arc | Curve | Oval) -> list[Point]:
    """The points of a shape's line, arcs as chords."""
    if isinstance(shape, Path):
        points = [shape.points[0]]
        for a, b, bulge in edges(shape):
            points += arc_points(*bulge_arc(a, b, bulge))[1:] if bulge else [b]
        return points
    if isinstance(shape, Arc):
        return arc_points(
            shape.center, shape.radius, math.radians(shape.start), math.radians(shape.end)
        )
    if isinstance(shape, Oval):
        ring = arc_points((0.0, 0.0), 1.0, 0.0, 2 * math.pi)
        x, y = shape.center
        return [(x + shape.rx * u, y + shape.ry * v) for u, v in ring]
    return list(shape.points)


def outline_polygon(path: Path) -> Polygon:
    return Polygon(flat(path))


def moved(shape: Shape, dx: float, dy: float, sx: float = 1.0) -> Shape:
    """The shape elsewhere; ``sx`` = -1 mirrors it about the vertical through its origin first."""

    def to(p: Point) -> Point:
        return (p[0] * sx + dx, p[1] + dy)

    if isinstance(shape, Path):
        bulges = tuple(b * sx for b in shape.bulges)
        return replace(shape, points=tuple(map(to, shape.points)), bulges=bulges)
    if isinstance(shape, Curve):
        return replace(shape, points=tuple(map(to, shape.points)))
    if isinstance(shape, Arc):
        span = (shape.start, shape.end) if sx > 0 else (180 - shape.end, 180 - shape.start)
        return replace(shape, center=to(shape.center), start=span[0], end=span[1])
    if isinstance(shape, Oval):
        return replace(shape, center=to(shape.center))
    if isinstance(shape, Fill):
        holes = tuple(tuple(map(to, hole)) for hole in shape.holes)
        return replace(shape, outline=tuple(map(to, shape.outline)), holes=holes)
    if isinstance(shape, Measure):
        return replace(shape, a=to(shape.a), b=to(shape.b))
    if isinstance(shape, Group):
        return replace(shape, at=to(shape.at), mirrored=shape.mirrored != (sx < 0))
    return replace(shape, at=to(shape.at))


def opened(group: Group) -> list[Shape]:
    """The shapes of a group where they stand."""
    sx = -1.0 if group.mirrored else 1.0
    return [moved(shape, *group.at, sx=sx) for shape in group.shapes]


def loose(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """All shapes, groups opened at every depth."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from loose(opened(shape))
        else:
            yield shape


def spots(shape: Shape) -> list[Point]:
    """Points that span the box of a shape; a note is 0.7 of its height wide per letter."""
    if isinstance(shape, Fill):
        return list(shape.outline)
    if isinstance(shape, Note):
        x, y = shape.at
        width = 0.7 * shape.height * len(shape.text)
        turn = math.radians(shape.rotation)
        end = (x + width * math.cos(turn), y + width * math.sin(turn))
        return [(x, y), end, (x - shape.height * math.sin(turn), y + shape.height * math.cos(turn))]
    if isinstance(shape, Measure):
        return [shape.a, shape.b, *dimension_line(shape)]
    if isinstance(shape, Group):
        return [p for part in opened(shape) for p in spots(part)]
    return flat(shape)


def dimension_line(shape: Measure) -> tuple[Point, Point]:
    """Both ends of the dimension line."""
    length = math.dist(shape.a, shape.b)
    nx = -(shape.b[1] - shape.a[1]) / length * shape.offset
    ny = (shape.b[0] - shape.a[0]) / length * shape.offset
    return (shape.a[0] + nx, shape.a[1] + ny), (shape.b[0] + nx, shape.b[1] + ny)


def box_of(shapes: Iterable[Shape]) -> tuple[float, float, float, float]:
    points = [p for shape in shapes for p in spots(shape)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def hidden_by(shapes: Iterable[Shape], mask: BaseGeometry) -> list[Shape]:
    """What stays visible of shapes behind an opaque ``mask``; whole shapes stay as they are."""
    seen: list[Shape] = []
    for shape in shapes:
        if isinstance(shape, Note | Measure):
            seen.append(shape)
        elif isinstance(shape, Group):
            touched = any(_line(s).intersects(mask) for s in loose([shape]) if _has_line(s))
            seen += hidden_by(opened(shape), mask) if touched else [shape]
        elif isinstance(shape, Fill):
            seen += _fill_outside(shape, mask)
        else:
            seen += _line_outside(shape, mask)
    return seen


def _has_line(shape: Shape) -> bool:
    return isinstance(shape, Path | Arc | Curve | Oval)


def _line(shape: Shape) -> LineString:
    assert isinstance(shape, Path | Arc | Curve | Oval)
    return LineString(flat(shape))


def _line_outside(shape: Path | Arc | Curve | Oval, mask: BaseGeometry) -> list[Shape]:
    line = _line(shape)
    if not line.intersects(mask):
        return [shape]
    rest = line.difference(mask)
    if abs(rest.length - line.length) < 1e-6:
        return [shape]
    if isinstance(rest, MultiLineString):
        rest = linemerge(rest)
    parts = rest.geoms if hasattr(rest, "geoms") else [rest]
    linetype = getattr(shape, "linetype", "")
    return [
        Path(shape.role, tuple((x, y) for x, y in part.coords), linetype=linetype)
        for part in parts
        if part.length > 1.0
    ]


def _fill_outside(shape: Fill, mask: BaseGeometry) -> list[Shape]:
    rest = Polygon(shape.outline, shape.holes).difference(mask)
    parts = rest.geoms if hasattr(rest, "geoms") else [rest]
    return [fill_of(shape.role, p, shape.pattern, shape.spacing) for p in parts if p.area > 1e3]


def fill_of(role: str, polygon: Polygon, pattern: str, spacing: float) -> Fill:
    holes = tuple(tuple((x, y) for x, y in ring.coords[:-1]) for ring in polygon.interiors)
    outline = tuple((x, y) for x, y in polygon.exterior.coords[:-1])
    return Fill(role, outline, pattern, spacing, holes)
