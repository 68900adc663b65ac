"""Builds an elevation's scene: volumes with claddings, roofs and openings."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from shapely.geometry import Polygon
from shapely.ops import unary_union

from .doors import door, garage
from .geom import Point, corners, parts, rect, spread
from .ground import Ground
from .office import Office, Project
from .openings import Design, vent, window
from .roofs import Roof, height, profile, roof_items
from .scene import Item, Scene, Stroke
from .textures import Cladding

DEEP = -4.0
SKY = 99.0


@dataclass
class Volume:
    """One block of the building, as its face is seen."""

    x0: float
    x1: float
    eave: float
    roof: Roof
    bands: list[tuple[float, Cladding]]
    taken: list[Polygon] = field(default_factory=list)

    @property
    def mid(self) -> float:
        """The middle of the face."""
        return (self.x0 + self.x1) / 2

    def top(self, x: float) -> float:
        """The height of the wall's upper edge at x."""
        return height(profile(self.roof, self.x0, self.x1, self.eave), x)

    def face(self) -> Polygon:
        """The whole face, down into the ground."""
        line = profile(self.roof, self.x0, self.x1, self.eave)
        return Polygon([(self.x0, DEEP), (self.x1, DEEP), *line[::-1]])


class Builder:
    """Lays volumes, openings and attachments into a scene."""

    def __init__(self, rng: Random, office: Office, project: Project, ground: Ground) -> None:
        """Start an empty elevation."""
        self.rng, self.office, self.project, self.ground = rng, office, project, ground
        self.scene = Scene()
        self.volumes: list[Volume] = []
        self.designs: dict[str, Design] = {}
        self.marks: dict[str, list[float]] = {"x": [], "y": []}

    def s(self, value: float, fine: bool = False) -> float:
        """A length rounded the office's way."""
        return self.office.snap(value, fine)

    def roof(self, kind: str, **changes: float) -> Roof:
        """A roof with the project's pitch, overhang and finish."""
        p = self.project
        roof = Roof(kind, p.pitch, p.overhang, p.fascia, 2.0, p.roofing)
        for name, value in changes.items():
            setattr(roof, name, value)
        return roof

    def volume(
        self,
        x0: float,
        x1: float,
        eave: float,
        roof: Roof,
        bands: list[tuple[float, Cladding]],
        role: str = "wall",
    ) -> Volume:
        """Add a block of the building; bands are (upper level, cladding), lowest first."""
        vol = Volume(x0, x1, eave, roof, _merged(bands))
        face = vol.face()
        low = DEEP
        for i, (high, clad) in enumerate(vol.bands):
            area = face.intersection(rect(x0 - 1, low, x1 + 1, high))
            for p in parts(area, 0.05):
                self.scene.add(self._band(vol, p, clad, role))
            if high < SKY and i + 1 < len(vol.bands) and not area.is_empty:
                low = high
                self._cap(vol, high, clad, role)
        if self.project.corner_boards and vol.bands[-1][1].reason in (
            "siding",
            "shingles",
            "boards",
        ):
            self._boards(vol)
        for item in roof_items(roof, x0, x1, eave):
            self.scene.add(item)
        self.volumes.append(vol)
        self.marks["x"] += [x0, x1]
        self.marks["y"] += [eave]
        return vol

    def _band(self, vol: Volume, area: Polygon, clad: Cladding, role: str) -> Item:
        item = Item(area, cuts=True, clad=clad, is_wall=True)
        if self.office.closed_walls:
            item.strokes.append(Stroke(list(area.exterior.coords)[:-1], role, closed=True))
            return item
        _, y0, _, y1 = area.bounds
        for x in (vol.x0, vol.x1):
            top = min(y1, vol.top(x))
            if top > y0 + 0.01:
                item.strokes.append(Stroke([(x, y0), (x, top)], role))
        return item

    def _cap(self, vol: Volume, y: float, clad: Cladding, role: str) -> None:
        """The line, belt or ledge where claddings meet."""
        span = vol.face().intersection(rect(vol.x0, y - 0.01, vol.x1, y + 0.01)).bounds
        a, b = span[0], span[2]
        if clad.reason == "stone" and b - a > vol.x1 - vol.x0 - 0.2:
            c = corners(a - 0.03, y - 0.07, b + 0.03, y)
            self.scene.add(Item(Polygon(c), [Stroke(c, "trim", closed=True)], cuts=True))
        elif self.rng.random() < 0.4:
            c = corners(a, y - 0.1, b, y + 0.1)
            shape = Polygon(c).intersection(vol.face())
            self.scene.add(
                Item(
                    shape,
                    [Stroke(list(shape.exterior.coords)[:-1], "trim", closed=True)],
                    cuts=True,
                )
            )
        else:
            self.scene.add(Item(None, [Stroke([(a, y), (b, y)], role)]))

    def _boards(self, vol: Volume) -> None:
        low = max([y for y, _ in vol.bands[:-1] if y < vol.eave - 1] or [DEEP])
        for a, b in ((vol.x0, vol.x0 + 0.12), (vol.x1 - 0.12, vol.x1)):
            top = min(vol.top(a), vol.top(b), vol.eave)
            if top - low > 0.5:
                c = corners(a, low, b, top)
                self.scene.add(Item(rect(a, low, b, top), [Stroke(c, "trim", closed=True)]))

    def walls(
        self,
        wainscot: bool = True,
        gable: bool = False,
        eave: float = 0.0,
        main: Cladding | None = None,
    ) -> list[tuple[float, Cladding]]:
        """The usual claddings: stone below, main above, gable maybe of its own."""
        p = self.project
        bands: list[tuple[float, Cladding]] = []
        if wainscot:
            bands.append((p.floor + p.wainscot, p.accent))
        if gable:
            bands.append((eave, main or p.main))
            bands.append((SKY, p.gable))
        else:
            bands.append((SKY, main or p.main))
        return bands

    def put(
        self, design: Design, x: float, y: float, vol: Volume, mirror: bool = False, key: str = ""
    ) -> Item | None:
        """Set a design with its middle at x and its bottom at y, where there is room."""
        dx = x + design.w / 2 if mirror else x - design.w / 2
        local = design.strokes
        moved = [s.moved(dx, y, mirror) for s in local]
        outline = _moved(design.poly(), dx, y, mirror)
        mask = _moved(design.mask(), dx, y, mirror)
        if any(mask.buffer(0.12).intersects(t) for t in vol.taken):
            return None
        if mask.bounds[0] < vol.x0 - 0.01 or mask.bounds[2] > vol.x1 + 0.01:
            return None
        vol.taken.append(mask)
        return self.scene.add(
            Item(
                mask,
                moved,
                opening=design.kind,
                outline=outline,
                design=design.name,
                block=key,
                origin=(dx, y),
                mirror=mirror,
                local=local,
            )
        )

    def window(
        self,
        vol: Volume,
        x: float,
        sill: float,
        w: float,
        h: float,
        design: str = "",
        shape: str = "rect",
        dressed: bool = True,
    ) -> None:
        """A window centred at x with its bottom at the sill height."""
        kind = design or self.project.window
        w, h = self.s(w, True), self.s(h, True)
        if shape == "round":
            h = w
        low = [y for y, _ in vol.bands[:-1] if y < sill + h * 0.5]
        if low and design not in ("ribbon", "storefront"):
            sill = max(sill, low[-1] + 0.12)
        key = f"{kind}_{shape}_{w:.2f}x{h:.2f}_{int(dressed)}"
        if key not in self.designs:
            detail = self.rng.choice((0, 1, 2, 2)) if not self.designs else 2
            self.designs[key] = window(
                self.rng,
                self.project,
                kind,
                shape,
                w,
                h,
                dressed,
                detail,
                swings=self.office.lang != "en",
            )
        self.put(self.designs[key], x, sill, vol, key=key)

    def row(
        self,
        vol: Volume,
        n: int,
        sill: float,
        w: float,
        h: float,
        a: float | None = None,
        b: float | None = None,
        design: str = "",
        shape: str = "rect",
    ) -> None:
        """n equal windows spread over a stretch of a wall."""
        for x in spread(vol.x0 if a is None else a, vol.x1 if b is None else b, n):
            self.window(vol, x, sill, w, h, design, shape)

    def door(
        self,
        vol: Volume,
        x: float,
        w: float = 1.0,
        h: float = 2.1,
        design: str = "",
        shape: str = "rect",
        steps: bool = True,
        base: float | None = None,
    ) -> None:
        """A door at floor level, with steps where the ground lies lower."""
        kind = design or self.project.door
        if kind == "sidelights":
            w, h = max(w, 1.8), max(h, 2.5)
        w, h = self.s(w, True), self.s(h, True)
        grade = self.ground.highest(x - w / 2, x + w / 2)
        sit = self.project.floor if base is None else base
        if sit < grade + 0.05:
            sit = grade
        key = f"{kind}_{shape}_{w:.2f}x{h:.2f}"
        if key not in self.designs:
            self.designs[key] = door(
                self.rng,
                kind,
                w,
                h,
                self.project.casing,
                self.project.head,
                self.rng.random() < 0.8,
                shape,
            )
        done = self.put(self.designs[key], x, sit, vol, self.rng.random() < 0.4, key)
        if done and steps and sit > grade + 0.05:
            self.steps(x, w + 0.5, self.ground.lowest(x - w, x + w), sit)

    def steps(self, x: float, w: float, low: float, high: float) -> None:
        """Steps before a door; the wall does not go on behind them."""
        n = max(1, round((high - low) / 0.16))
        rise = (high - low) / n
        item = Item(rect(x - w / 2, low - 0.5, x + w / 2, high), cuts=True)
        for i in range(n):
            grow = 0.0 if n < 2 or self.office.level else 0.02 * (n - i)
            c = corners(x - w / 2 - grow, low + i * rise, x + w / 2 + grow, low + (i + 1) * rise)
            item.strokes.append(Stroke(c, "trim", closed=True))
        item.mask = unary_union([item.mask, *[Polygon(s.pts) for s in item.strokes]])
        self.scene.add(item)

    def garage(
        self, vol: Volume, x: float, w: float = 2.5, h: float = 2.2, design: str = "sectional"
    ) -> None:
        """A garage door on the ground."""
        w, h = self.s(w), self.s(h, True)
        base = self.ground.highest(x - w / 2, x + w / 2)
        key = f"garage_{design}_{w:.2f}x{h:.2f}"
        if key not in self.designs:
            self.designs[key] = garage(self.rng, design, w, h, self.project.casing)
        self.put(self.designs[key], x, base, vol, key=key)

    def vent(self, vol: Volume, x: float, y: float, w: float, h: float, shape: str) -> None:
        """A louvre, mostly in a gable."""
        h = w if shape == "round" else h
        self.put(vent(shape, w, h), x, y, vol, key=f"vent_{shape}_{w:.2f}x{h:.2f}")


def _moved(shape: Polygon, dx: float, dy: float, mirror: bool) -> Polygon:
    from shapely.affinity import affine_transform

    return affine_transform(shape, [-1 if mirror else 1, 0, 0, 1, dx, dy])


def _merged(bands: list[tuple[float, Cladding]]) -> list[tuple[float, Cladding]]:
    """Neighbouring bands that look the same made one; without texture there is no border."""
    out: list[tuple[float, Cladding]] = []
    for high, clad in bands:
        bare = clad.way == "none" and not clad.pattern
        if out:
            last = out[-1][1]
            if last is clad or (bare and last.way == "none" and not last.pattern):
                out[-1] = (high, clad)
                continue
        out.append((high, clad))
    return out


def span(points: list[Point]) -> tuple[float, float]:
    """The least and greatest x of points."""
    return min(p[0] for p in points), max(p[0] for p in points)
