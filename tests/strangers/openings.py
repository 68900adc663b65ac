"""Designs of windows, doors, garage doors and vents, drawn about their lower left corner."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from shapely.geometry import Polygon
from shapely.ops import unary_union

from .frames import outline, strokes
from .geom import Point, arc_points, clip_chains, corners, rect, spread
from .office import Project
from .scene import Stroke


@dataclass
class Design:
    """An opening's true outline, what it hides, and its strokes."""

    kind: str
    name: str
    shape: str
    w: float
    h: float
    strokes: list[Stroke] = field(default_factory=list)
    extra: list[Polygon] = field(default_factory=list)

    def poly(self) -> Polygon:
        """The outline of the outermost frame."""
        return Polygon(outline(self.shape, self.w, self.h))

    def mask(self) -> Polygon:
        """The outline with sill, lintel and shutters."""
        return unary_union([self.poly(), *self.extra])

    def lines(self, chains: list[list[Point]], d: float, role: str, dashed: bool = False) -> None:
        """Draw chains clipped to the glass, which lies d inside the frame."""
        glass = Polygon(outline(self.shape, self.w, self.h, d))
        self.strokes += [Stroke(c, role, dashed=dashed) for c in clip_chains(chains, glass)]

    def box(self, x0: float, y0: float, x1: float, y1: float, role: str) -> None:
        """Draw a rectangle."""
        self.strokes.append(Stroke(corners(x0, y0, x1, y1), role, closed=True))

    def outside(self, x0: float, y0: float, x1: float, y1: float, role: str = "trim") -> None:
        """Draw a rectangle outside the frame, hiding the wall."""
        self.box(x0, y0, x1, y1, role)
        self.extra.append(rect(x0, y0, x1, y1))


def _grid(w: float, h: float, nx: int, ny: int) -> list[list[Point]]:
    xs = [w * i / nx for i in range(1, nx)]
    ys = [h * j / ny for j in range(1, ny)]
    return [[(x, 0), (x, h)] for x in xs] + [[(0, y), (w, y)] for y in ys]


def _bars(lines: list[list[Point]], half: float) -> list[list[Point]]:
    """Each bar as a pair of lines."""
    out: list[list[Point]] = []
    for (ax, ay), (bx, by) in lines:
        dx, dy = (half, 0.0) if abs(ax - bx) < 1e-9 else (0.0, half)
        out += [[(ax - dx, ay - dy), (bx - dx, by - dy)], [(ax + dx, ay + dy), (bx + dx, by + dy)]]
    return out


def window(
    rng: Random,
    project: Project,
    design: str,
    shape: str,
    w: float,
    h: float,
    dressed: bool = True,
    detail: int = 2,
    swings: bool = False,
) -> Design:
    """A window in the project's manner."""
    d = Design("window", f"{design} {shape}".replace(" rect", ""), shape, w, h)
    c = project.casing if shape == "rect" and design not in ("storefront", "ribbon") else 0.0
    d.strokes += strokes(shape, w, h, 0, "window")
    if c:
        d.strokes += strokes(shape, w, h, c, "window")
    f = c + 0.05
    if detail:
        d.strokes += strokes(shape, w, h, f, "window")
    _divide(d, design, f, detail)
    if swings and shape == "rect" and design in ("casement", "double"):
        _swings(d, design, f + (0.05 if detail > 1 else 0))
    if detail == 0 and rng.random() < 0.5:
        d.lines(
            [
                [(0.3 * w, 0.35 * h), (0.55 * w, 0.6 * h)],
                [(0.42 * w, 0.32 * h), (0.67 * w, 0.57 * h)],
            ],
            f,
            "window",
        )
    if dressed:
        _dress(rng, d, project)
    return d


def _divide(d: Design, design: str, f: float, detail: int) -> None:
    """Sashes, mullions and glazing bars within the frame."""
    w, h = d.w, d.h
    fine = detail > 1 and d.shape == "rect"
    chains: list[list[Point]] = []
    if design == "sash":
        chains = _bars([[(0, h / 2), (w, h / 2)]], 0.02)
        chains += [[(w / 2, 0), (w / 2, h)]] * (detail > 1)
    elif design == "double":
        chains = _bars([[(w / 2, 0), (w / 2, h)]], 0.04)
        leaf = w / 2 - 0.14 - f
        if fine and leaf > 0.12:
            d.box(f + 0.05, f + 0.05, f + 0.05 + leaf, h - f - 0.05, "window")
            d.box(w / 2 + 0.09, f + 0.05, w / 2 + 0.09 + leaf, h - f - 0.05, "window")
    elif design == "grid":
        chains = _grid(w, h, max(2, round(w / 0.32)), max(2, round(h / 0.4)))
    elif design == "transom":
        y = 0.72 * h
        chains = [*_bars([[(0, y), (w, y)]], 0.03), [(w / 2, 0), (w / 2, y)]]
    elif design == "cross" or d.shape == "round":
        chains = [[(w / 2, 0), (w / 2, h)], [(0, h / 2), (w, h / 2)]]
    elif design == "casement" and fine and w > 2 * f + 0.2:
        d.box(f + 0.05, f + 0.05, w - f - 0.05, h - f - 0.05, "window")
    d.lines(chains, f, "window")
    if design in ("ribbon", "storefront"):
        _long(d, design)
    if d.shape == "arch" and design != "fixed":
        d.lines(_bars([[(0, h - w / 2), (w, h - w / 2)]], 0.02), f, "window")


def _long(d: Design, design: str) -> None:
    """Mullions of a ribbon or a storefront."""
    n = max(2, round(d.w / (1.3 if design == "storefront" else 1.0)))
    bars: list[list[Point]] = [[(d.w * i / n, 0), (d.w * i / n, d.h)] for i in range(1, n)]
    if design == "storefront":
        bars.append([(0, 0.78 * d.h), (d.w, 0.78 * d.h)])
    d.lines(_bars(bars, 0.025), 0.05, "window")


def _swings(d: Design, design: str, f: float) -> None:
    w, h = d.w, d.h
    leaves = [(f, w - f)] if design == "casement" else [(f, w / 2 - f), (w - f, w / 2 + f)]
    for hinge, free in leaves:
        d.strokes.append(Stroke([(hinge, h - f), (free, h / 2), (hinge, f)], "window", dashed=True))


def _dress(rng: Random, d: Design, project: Project) -> None:
    w, h = d.w, d.h
    if d.shape in ("rect", "arch", "segment"):
        if project.sill == "stone":
            d.outside(-0.08, -0.1, w + 0.08, 0)
        elif project.sill == "line":
            d.outside(-0.04, -0.04, w + 0.04, 0)
        if project.flowers and rng.random() < 0.6:
            d.outside(0.02, -0.3, w - 0.02, -0.1)
    if d.shape == "rect":
        _head(d, project.head)
        if project.shutters and w < 1.7:
            sw = min(0.5, w / 2)
            for a in (-sw - 0.03, w + 0.03):
                d.outside(a, 0, a + sw, h)
                d.box(a + 0.06, 0.08, a + sw - 0.06, h / 2 - 0.04, "trim")
                d.box(a + 0.06, h / 2 + 0.04, a + sw - 0.06, h - 0.08, "trim")
    elif d.shape in ("arch", "segment") and project.head in ("voussoir", "key", "soldier"):
        _ring_of_stones(d)


def _head(d: Design, head: str) -> None:
    w, h = d.w, d.h
    if head == "lintel":
        d.outside(-0.15, h, w + 0.15, h + 0.2)
    elif head == "soldier":
        d.outside(-0.1, h, w + 0.1, h + 0.22)
        n = max(4, round((w + 0.2) / 0.11))
        d.strokes += [
            Stroke([(x, h), (x, h + 0.22)], "trim")
            for x in (-0.1 + (w + 0.2) * i / n for i in range(1, n))
        ]
    elif head in ("voussoir", "key"):
        top = [(0.0, h), (w, h), (w + 0.1, h + 0.28), (-0.1, h + 0.28)]
        d.strokes.append(Stroke(top, "trim", closed=True))
        d.extra.append(Polygon(top))
        n = 5 if head == "key" else 9
        for i in range(1, n):
            t = i / n
            d.strokes.append(Stroke([(w * t, h), (-0.1 + (w + 0.2) * t, h + 0.28)], "trim"))


def _ring_of_stones(d: Design) -> None:
    """Voussoirs round an arched head."""
    w, h, deep = d.w, d.h, 0.25
    head = outline(d.shape, w, h)[2:]
    cx = w / 2
    cy = h - w / 2 if d.shape == "arch" else _centre(head, cx)
    outer = []
    for x, y in head:
        r = ((x - cx) ** 2 + (y - cy) ** 2) ** 0.5
        outer.append((cx + (x - cx) * (r + deep) / r, cy + (y - cy) * (r + deep) / r))
    band = [*head, *outer[::-1]]
    d.extra.append(Polygon(band).buffer(0))
    d.strokes.append(Stroke(outer, "trim"))
    step = 2 if d.shape == "arch" else 3
    for i in range(0, len(head), step):
        d.strokes.append(Stroke([head[i], outer[i]], "trim"))


def _centre(head: list[Point], cx: float) -> float:
    (x0, y0), top = head[0], max(p[1] for p in head)
    rise, half = top - y0, abs(x0 - cx)
    return top - (half * half + rise * rise) / (2 * rise)


def vent(shape: str, w: float, h: float) -> Design:
    """A louvred vent."""
    d = Design("vent", f"louvre {shape}", shape, w, h)
    d.strokes += strokes(shape, w, h, 0, "window") + strokes(shape, w, h, 0.04, "window")
    n = max(4, int(h / 0.07))
    d.lines([[(0, h * i / n), (w, h * i / n)] for i in range(1, n)], 0.04, "window")
    return d


def bay(project: Project, w: float, h: float) -> Design:
    """A bay window: three lights, sloped roof and apron, all within one frame."""
    d = Design("window", "bay", "rect", w, h)
    d.box(0, 0, w, h, "window")
    side = 0.22 * w
    for a, b in ((0.0, side), (side, w - side), (w - side, w)):
        d.box(a + 0.05, 0.05, b - 0.05, h - 0.05, "window")
    d.lines([[(side, 0), (side, h)], [(w - side, 0), (w - side, h)]], 0, "window")
    roof = [(-0.08, h), (w + 0.08, h), (w - side, h + 0.4), (side, h + 0.4)]
    d.strokes.append(Stroke(roof, "roof", closed=True))
    d.extra.append(Polygon(roof))
    d.outside(0.02, -0.15, w - 0.02, 0)
    return d


def centres(w: float, n: int) -> list[float]:
    """The middles of n equal fields."""
    return spread(0, w, n)


def fan(d: Design, r: float) -> None:
    """Rays of a fanlight."""
    cx, cy = d.w / 2, d.h - d.w / 2
    for x, y in arc_points(cx, cy, r, 30, 150, 4):
        d.strokes.append(Stroke([(cx, cy), (x, y)], "door"))
