"""What one view draws, recorded in metres before it is placed on the sheet."""

from __future__ import annotations

from dataclasses import dataclass, field

from .geom import Point, corners
from .scene import Fill, Item, Scene, Stroke


@dataclass
class Text:
    """A line of text; align is left, center or right."""

    x: float
    y: float
    s: str
    h: float
    role: str = "text"
    align: str = "left"
    angle: float = 0.0
    rich: bool = False


@dataclass
class Dim:
    """A dimension between two points; its line runs through `at`."""

    a: Point
    b: Point
    at: Point
    upright: bool = False


@dataclass
class Leader:
    """A leader from its arrow to its text."""

    pts: list[Point]


@dataclass
class Mark:
    """A block with an attribute: a tag, a title, a level."""

    name: str
    x: float
    y: float
    tag: str
    value: str
    h: float
    strokes: list[Stroke] = field(default_factory=list)
    dx: float = 0.0
    dy: float = 0.0


@dataclass
class Blank:
    """A wipeout behind a note."""

    pts: list[Point]


Prim = Stroke | Fill | Text | Dim | Leader | Mark | Blank | Item


class Page:
    """The primitives of a view."""

    def __init__(self) -> None:
        """Start empty."""
        self.prims: list[Prim] = []

    def add(self, prim: Prim) -> None:
        """Record a primitive."""
        self.prims.append(prim)

    def line(self, pts: list[Point], role: str, closed: bool = False, dashed: bool = False) -> None:
        """Record a chain of lines."""
        self.prims.append(Stroke(pts, role, closed, dashed))

    def box(self, x0: float, y0: float, x1: float, y1: float, role: str) -> None:
        """Record a rectangle."""
        self.line(corners(x0, y0, x1, y1), role, True)

    def circle(self, x: float, y: float, r: float, role: str) -> None:
        """Record a circle."""
        from .geom import arc_points

        self.prims.append(
            Stroke(arc_points(x, y, r, 0, 360)[:-1], role, True, arc=(x, y, r, 0.0, 360.0))
        )

    def scene(self, scene: Scene) -> None:
        """Record a resolved elevation."""
        for item in scene.items:
            self.prims += item.fills
            self.prims += item.texture
            if item.block and item.whole and item.strokes:
                self.prims.append(item)
            else:
                self.prims += item.strokes

    def bounds(self) -> tuple[float, float, float, float]:
        """The box round everything recorded."""
        pts: list[Point] = []
        for p in self.prims:
            pts += _points(p)
        xs, ys = [p[0] for p in pts], [p[1] for p in pts]
        return min(xs), min(ys), max(xs), max(ys)


def _points(p: Prim) -> list[Point]:
    if isinstance(p, Stroke | Leader | Blank):
        return p.pts
    if isinstance(p, Item):
        return [q for s in p.strokes for q in s.pts]
    if isinstance(p, Fill):
        if p.area.is_empty:
            return []
        x0, y0, x1, y1 = p.area.bounds
        return [(x0, y0), (x1, y1)]
    if isinstance(p, Dim):
        return [p.a, p.b, p.at]
    if isinstance(p, Mark):
        x, w = p.x + p.dx, len(p.value) * p.h * 0.8
        return [
            (x, p.y + p.dy),
            (x + w, p.y + p.dy + p.h),
            *[(p.x + a, p.y + b) for s in p.strokes for a, b in s.pts],
        ]
    w = len(p.s) * p.h * 0.85
    a = p.x - {"left": 0.0, "center": 0.5, "right": 1.0}[p.align] * w
    if p.angle:
        return [(p.x - p.h, p.y), (p.x, p.y + w)]
    return [(a, p.y), (a + w, p.y + p.h)]
