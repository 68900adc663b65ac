"""An elevation as items laid from back to front, and what can be seen of them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from shapely.geometry import LineString, Polygon
from shapely.ops import linemerge, unary_union

from .geom import Point, clip_chains, parts, ring, runs, shifted, without_holes
from .textures import Cladding

NOTHING = Polygon()


@dataclass
class Stroke:
    """A drawn line; `arc` (cx, cy, r, from, to) says that it is a true arc."""

    pts: list[Point]
    role: str
    closed: bool = False
    dashed: bool = False
    arc: tuple[float, float, float, float, float] | None = None

    def moved(self, dx: float, dy: float, mirror: bool = False) -> Stroke:
        """The stroke at another place."""
        arc = self.arc
        if arc is not None:
            cx, cy, r, a0, a1 = arc
            if mirror:
                cx, a0, a1 = -cx, 180 - a1, 180 - a0
            arc = (cx + dx, cy + dy, r, a0, a1)
        return Stroke(shifted(self.pts, dx, dy, mirror), self.role, self.closed, self.dashed, arc)

    def line(self) -> LineString:
        """The stroke's points as a line."""
        return LineString([*self.pts, self.pts[0]] if self.closed else self.pts)


@dataclass
class Fill:
    """A hatched area."""

    area: Any
    role: str
    pattern: str
    size: float = 1.0
    angle: float = 0.0


@dataclass
class Item:
    """Something drawn: what it hides, its lines, and what is true of it."""

    mask: Any = None
    strokes: list[Stroke] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)
    cuts: bool = False
    clad: Cladding | None = None
    is_wall: bool = False
    opening: str = ""
    outline: Polygon | None = None
    design: str = ""
    confidence: float = 1.0
    block: str = ""
    origin: Point = (0.0, 0.0)
    mirror: bool = False
    local: list[Stroke] = field(default_factory=list)
    whole: bool = True
    texture: list[Stroke] = field(default_factory=list)


@dataclass
class Face:
    """A wall or an opening as told in the truth."""

    outline: Polygon
    kind: str
    reason: str
    confidence: float
    wall: int = -1


class Scene:
    """Items of one elevation, back to front."""

    def __init__(self) -> None:
        """Start empty."""
        self.items: list[Item] = []
        self.walls: list[Face] = []
        self.openings: list[Face] = []

    def add(self, item: Item) -> Item:
        """Lay an item in front of all others."""
        self.items.append(item)
        return item

    def resolve(self, texture_seed: int) -> None:
        """Find walls and openings, drop misplaced openings, clip what is hidden."""
        self._find_walls()
        self._find_openings()
        self._clip(texture_seed)

    def _find_walls(self) -> None:
        cut: Any = NOTHING
        faces: list[tuple[int, Face]] = []
        for i in range(len(self.items) - 1, -1, -1):
            item = self.items[i]
            if item.is_wall and item.clad is not None:
                for p in parts(_cleaned(item.mask.difference(cut)), 0.12):
                    if p.area / max(p.length, 1e-6) > 0.03:
                        faces.append((i, Face(p, "wall", item.clad.reason, item.confidence)))
            if item.cuts and item.mask is not None:
                cut = cut.union(item.mask)
        faces.reverse()
        for k, (_, face) in enumerate(faces):
            outline = without_holes(face.outline)
            others = [f.outline for n, (_, f) in enumerate(faces) if n != k]
            if outline.area > face.outline.area:
                rest = parts(outline.difference(unary_union(others)))
                outline = without_holes(max(rest, key=lambda p: p.area))
            face.outline = Polygon(ring(outline))
        self.walls = [f for _, f in faces]

    def _find_openings(self) -> None:
        cut: Any = NOTHING
        keep: list[Item] = []
        found: list[Face] = []
        for item in reversed(self.items):
            if item.opening and item.outline is not None:
                face = self._seat(item, cut)
                if face is None:
                    continue
                found.append(face)
            if item.cuts and item.mask is not None:
                cut = cut.union(item.mask)
            keep.append(item)
        self.items = keep[::-1]
        self.openings = found[::-1]

    def _seat(self, item: Item, cut: Any) -> Face | None:
        outline = item.outline
        assert outline is not None
        lost = outline.intersection(cut).area / outline.area
        room = outline.buffer(0.05) if item.opening in ("window", "vent") else outline
        if lost > 0.01 or room.intersection(cut).area > 0.02 * outline.area:
            return None
        shares = [w.outline.intersection(outline).area for w in self.walls]
        least = 0.985 if item.opening in ("window", "vent") else 0.9
        if not shares or max(shares) <= 0 or sum(shares) < least * outline.area:
            return None
        best = shares.index(max(shares))
        if item.opening in ("window", "vent") and shares[best] < 0.97 * outline.area:
            return None
        return Face(outline, item.opening, item.design, item.confidence, best)

    def _clip(self, texture_seed: int) -> None:
        cover: Any = NOTHING
        for i in range(len(self.items) - 1, -1, -1):
            item = self.items[i]
            if item.clad is not None and item.mask is not None:
                self._lay_texture(item, cover, texture_seed + i)
            if not cover.is_empty:
                self._hide(item, cover)
            if item.mask is not None:
                cover = cover.union(item.mask)

    @staticmethod
    def _lay_texture(item: Item, cover: Any, seed: int) -> None:
        assert item.clad is not None
        region = item.mask.difference(cover)
        role = "hatch" if item.is_wall else "roofhatch"
        if region.is_empty:
            return
        if item.clad.pattern:
            item.fills.append(
                Fill(region, role, item.clad.pattern, item.clad.size, item.clad.angle)
            )
            return
        item.texture = [
            Stroke(c, role) for c in clip_chains(item.clad.chains(region, seed), region)
        ]

    @staticmethod
    def _hide(item: Item, cover: Any) -> None:
        shown: list[Stroke] = []
        for s in item.strokes:
            line = s.line()
            if not line.intersects(cover):
                shown.append(s)
                continue
            rest = line.difference(cover)
            if rest.length > line.length - 1e-4:
                shown.append(s)
                continue
            item.whole = False
            shown.extend(Stroke(r, s.role, dashed=s.dashed) for r in runs(_joined(rest), 0.01))
        item.strokes = shown
        item.fills = [
            Fill(f.area.difference(cover), f.role, f.pattern, f.size, f.angle)
            if f.area.intersects(cover) and not f.role.endswith("hatch")
            else f
            for f in item.fills
        ]


def _cleaned(shape: Any) -> Any:
    """The shape without hairs and specks."""
    return shape.buffer(-0.01, join_style=2).buffer(0.01, join_style=2).simplify(0.002)


def _joined(shape: Any) -> Any:
    """Lines that touch end to end made into one."""
    return linemerge(shape) if shape.geom_type == "MultiLineString" else shape
