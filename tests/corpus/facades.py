"""Openings placed in the visible walls of a building, and the whole elevation as shapes."""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus import openings
from corpus.buildings import Building, front_masks, level
from corpus.openings import Design
from corpus.shapes import Path, Shape, hidden_by, opened, polygon_path, rectangle, stroke
from corpus.styles import Style
from corpus.textures import cladding, tiles

CLEAR = 160.0
"""Least distance between an opening and the edges of the wall, or another opening's trim."""


@dataclass(frozen=True)
class Opening:
    """An opening in place; ``wall`` is the index of the wall that holds most of it."""

    design: Design
    at: tuple[float, float]
    wall: int
    mirrored: bool = False

    @property
    def polygon(self) -> Polygon:
        return openings.outline(self.design, self.at)


@dataclass
class Facade:
    """A building with its openings."""

    building: Building
    openings: list[Opening] = field(default_factory=list)
    taste: openings.Taste | None = None
    steps: list[Polygon] = field(default_factory=list)


class _Places:
    """Where openings may still go: the visible cladding of each body, less what is taken."""

    def __init__(self, building: Building) -> None:
        self.building = building
        self.free: list[BaseGeometry] = []
        self.walls = building.walls
        blocked = building.porch.posts if building.porch else ()
        for index in range(len(building.bodies)):
            parts = [w.polygon for w in self.walls if w.body == index]
            seen = unary_union(parts).difference(front_masks(building, index))
            posts = [p.buffer(80) for p in blocked] if index == 0 else []
            self.free.append(seen.difference(unary_union(posts)) if posts else seen)

    def take(self, index: int, design: Design, x: float, y: float) -> Opening | None:
        """The opening, if there is room for it with its trim; the room is then taken."""
        side = design.side + CLEAR if design.kind != "vent" else CLEAR
        below = -1.0 if design.kind in ("door", "garage") else CLEAR
        need = box(x - side, y - below, x + design.width + side, y + design.height + CLEAR)
        if not self.free[index].buffer(0.5).covers(need):
            return None
        self.free[index] = self.free[index].difference(need.buffer(1, join_style=2))
        shape = openings.outline(design, (x, y))
        wall = max(
            (i for i, w in enumerate(self.walls) if w.body == index),
            key=lambda i: self.walls[i].polygon.intersection(shape).area,
        )
        return Opening(design, (x, y), wall)


def make_facade(rng: random.Random, building: Building) -> Facade:
    taste = openings.make_taste(rng)
    facade = Facade(building, taste=taste)
    places = _Places(building)
    if rng.random() < 0.8:
        _place_door(rng, facade, places, taste)
    if rng.random() < 0.25:
        _place_garage(rng, facade, places)
    for index in range(len(building.bodies)):
        _place_windows(rng, facade, places, index, taste)
        if rng.random() < 0.3:
            _place_vent(rng, facade, places, index)
    return facade


def _snap(value: float, step: float) -> float:
    return round(value / step) * step


def _flat_ground(building: Building, x0: float, x1: float) -> float | None:
    """Height of the ground where it does not change between x0 and x1."""
    heights = {round(level(building.ground, x0 + (x1 - x0) * i / 8), 3) for i in range(9)}
    return heights.pop() if len(heights) == 1 else None


def _place_door(rng, facade: Facade, places: _Places, taste) -> None:
    step = facade.building.step
    double = rng.random() < 0.25
    glazed = rng.random() < 0.4
    width = _snap(rng.choice([1500.0, 1800.0, 2400.0]) if double else rng.choice([900.0, 1000.0, 1100.0]), step)
    height = _snap(rng.choice([2050.0, 2130.0, 2250.0]), step)
    design = Design(
        "door", f"D{width:.0f}", width, height, "round" if rng.random() < 0.08 else "flat",
        taste.frames, 2 if double else 1, glazed=glazed, swing=taste.swing if glazed else "",
        panels=rng.choice([(0, 0), (2, 3), (2, 2), (1, 4)]), lintel=taste.lintel,
    )  # fmt: skip
    for _ in range(12):
        index = rng.randrange(len(facade.building.bodies))
        body = facade.building.bodies[index]
        x = _snap(rng.uniform(body.x0 + 300, max(body.x0 + 301, body.x1 - width - 300)), step)
        ground = _flat_ground(facade.building, x - 200, x + width + 200)
        if ground is None or ground < -650:
            continue
        at_grade = ground if ground >= -150 or rng.random() < 0.3 else 0.0
        made = places.take(index, design, x, at_grade)
        if made:
            facade.openings.append(made)
            if at_grade > ground:
                facade.steps.append(box(x - 150, ground, x + width + 150, at_grade))
            return


def _place_garage(rng, facade: Facade, places: _Places) -> None:
    step = facade.building.step
    width = _snap(rng.choice([2400.0, 2500.0, 3000.0, 4880.0]), step)
    height = _snap(rng.choice([2125.0, 2250.0, 2400.0]), step)
    panels = rng.choice([(4, 4), (0, 4), (8, 4), (0, 12), (3, 3)])
    design = Design("garage", f"G{width:.0f}", width, height, frames=(80.0,), panels=panels)
    for _ in range(12):
        index = rng.randrange(len(facade.building.bodies))
        body = facade.building.bodies[index]
        if body.x1 - body.x0 < width + 500:
            continue
        x = _snap(rng.uniform(body.x0 + 250, body.x1 - width - 250), step)
        ground = _flat_ground(facade.building, x - 200, x + width + 200)
        made = None if ground is None else places.take(index, design, x, ground)
        if made:
            facade.openings.append(made)
            facade.building.tags.add("garage")
            return


def _place_windows(rng, facade: Facade, places: _Places, index: int, taste) -> None:
    """Windows in rows: one size a storey, in even columns, some left out."""
    building, step = facade.building, facade.building.step
    body = building.bodies[index]
    top = max(y for _, y in body.top)
    if body.foot is not None:
        size = _snap(body.x1 - body.x0 - 700, step)
        made = places.take(index, openings.window(taste, size, 900.0), body.x0 + 350, body.foot + 200)
        facade.openings += [made] if made else []
        return
    wide = _snap(rng.choice([700.0, 900.0, 1000.0, 1200.0, 1500.0, 2000.0, 2600.0]), step)
    columns = max(1, int((body.x1 - body.x0) / (wide + rng.uniform(900, 2600))))
    for floor in building.floors:
        if floor + 1500 > top:
            break
        sill = _snap(rng.choice([850.0, 900.0, 950.0, 600.0, 1400.0]), step)
        high = max(_snap(min(rng.choice([1000.0, 1200.0, 1350.0, 1500.0, 1700.0]), 2250 - sill), step), step * 2)
        design = openings.window(taste, wide, high)
        if floor == building.floors[-1]:
            design = openings.window(taste, min(wide, 1200.0), min(high, 1200.0))
        for column in range(columns):
            if rng.random() < 0.15:
                continue
            middle = body.x0 + (body.x1 - body.x0) * (column + 0.5) / columns
            for wide_one in (design.width, _snap(design.width * 0.6, step)):
                fitting = design if wide_one == design.width else openings.window(taste, wide_one, design.height)
                x = _snap(middle - fitting.width / 2, step / 2)
                made = places.take(index, fitting, x, floor + sill)
                if made:
                    facade.openings.append(made)
                    break


def _place_vent(rng, facade: Facade, places: _Places, index: int) -> None:
    body = facade.building.bodies[index]
    peak = max(y for _, y in body.top)
    size = rng.choice([300.0, 400.0, 500.0, 600.0])
    head = rng.choice(["flat", "flat", "circle", "triangle"]) if len(body.top) == 3 else "flat"
    design = Design("vent", f"V{size:.0f}{head}", size, size, head)
    y = peak - rng.uniform(900, 1500) if len(body.top) == 3 else rng.choice([250.0, peak - 700])
    made = places.take(index, design, (body.x0 + body.x1 - size) / 2, y)
    if made:
        facade.openings.append(made)
        facade.building.tags.add("vent")


def facade_shapes(rng: random.Random, facade: Facade, style: Style) -> list[Shape]:
    """Everything of the building itself, back to front, hidden lines removed.

    Args:
        rng: Decides about textures.
        facade: The building with its openings.
        style: Whether walls have a base line, doors a threshold, and openings a frame.

    Returns:
        Shapes in the building's millimeters.
    """
    building = facade.building
    planes = [_body_plane(rng, facade, i, style) for i in range(len(building.bodies))]
    for chimney in building.chimneys:
        behind = chimney.bounds[1] <= building.bodies[0].eave
        planes.insert(0 if behind else 1, ([rectangle("chimney", *chimney.bounds)], chimney))
    if facade.steps:
        lines: list[Shape] = [s for p in facade.steps for s in _stairs(p)]
        planes.append((lines, unary_union(facade.steps)))
    if building.porch:
        porch = building.porch
        parts: list[Shape] = [polygon_path("post", p) for p in porch.posts]
        parts += _roof_shapes(rng, porch.roof.parts)
        planes.insert(1 + len(building.chimneys), (parts, unary_union([*porch.posts, porch.roof.mask])))
    seen: list[Shape] = []
    for i, (shapes, _) in enumerate(planes):
        front = [mask for _, mask in planes[i + 1 :] if not mask.is_empty]
        seen += hidden_by(shapes, unary_union(front)) if front else shapes
    return seen


def _body_plane(
    rng: random.Random, facade: Facade, index: int, style: Style
) -> tuple[list[Shape], BaseGeometry]:
    """Wall lines, texture, openings and roof of a body, with the area they hide."""
    building, body = facade.building, facade.building.bodies[index]
    whole = body.polygon(building.ground)
    shapes: list[Shape] = []
    outline = polygon_path("wall", whole)
    if style.base or body.foot is not None:
        shapes.append(outline)
    else:
        low = (body.x0, level(building.ground, body.x0, 1)), (body.x1, level(building.ground, body.x1, -1))
        shapes.append(stroke("wall", low[0], *body.top, low[1]))
    holes = [_trimmed(o) for o in facade.openings if building.walls[o.wall].body == index]
    for wall in building.walls:
        if wall.body == index:
            shapes += cladding(rng, wall, unary_union(holes), style.bare)
            shapes += _change_line(wall, building)
    for opening in facade.openings:
        if building.walls[opening.wall].body == index:
            shapes += _opening_shapes(facade, index, opening, style)
    roof = _roof_shapes(rng, body.roof.parts)
    return hidden_by(shapes, body.roof.mask) + roof, unary_union([body.hides(), body.roof.mask])


def _opening_shapes(facade: Facade, index: int, opening: Opening, style: Style) -> list[Shape]:
    """An opening as the style wants it: a gap between boards, without threshold, or whole."""
    wall = facade.building.walls[opening.wall]
    if style.bare and opening.design.head == "flat" and wall.texture in ("boards", "slabs"):
        facade.building.tags.add("gaps-in-boards")
        return _gap_in_boards(facade, index, opening)
    whole = openings.group(opening.design, opening.at, opening.mirrored)
    if style.open_base and opening.design.kind in ("door", "garage"):
        first = whole.shapes[0]
        assert isinstance(first, Path)
        jambs = first.points[1:] + first.points[:1]
        frame = Path(first.role, jambs, bulges=first.bulges[1:] + first.bulges[:1])
        return [replace(whole, name=f"{whole.name}o", shapes=(frame, *whole.shapes[1:]))]
    return [whole]


def _gap_in_boards(facade: Facade, index: int, opening: Opening) -> list[Shape]:
    """Jambs only; the lines of head and sill run on along the wall to its end or a next opening.

        ------.-----.------
        ------|     |------
        ------|     |------
        ------'-----'------
    """
    x0, y0, x1, y1 = opening.polygon.bounds
    wall = unary_union([w.polygon for w in facade.building.walls if w.body == index])
    others = [o.polygon.buffer(1) for o in facade.openings if o is not opening]
    free = (wall.difference(unary_union(others)) if others else wall).buffer(0.1)
    shapes: list[Shape] = [stroke("opening", (x, y0), (x, y1)) for x in (x0, x1)]
    for y in (y0, y1):
        line = LineString([(x0 - 1e5, y), (x1 + 1e5, y)]).intersection(free)
        parts = line.geoms if hasattr(line, "geoms") else [line]
        for part in parts:
            if part.intersects(box(x0 + 1, y - 1, x1 - 1, y + 1)):
                shapes.append(stroke("opening", *[(x, y) for x, _ in part.coords]))
    return shapes


def _trimmed(opening: Opening) -> Polygon:
    """The area that cladding lines leave out: the opening with its trim."""
    outlines = [
        openings.outline_polygon(s)
        for s in opened(openings.group(opening.design, opening.at))
        if getattr(s, "closed", False) and s.role in ("opening", "trim")
    ]
    return unary_union(outlines)


def _change_line(wall, building: Building) -> list[Shape]:
    """The level line where the cladding changes, if this wall begins on top of another."""
    low = wall.polygon.bounds[1]
    others = [w for w in building.walls if w.body == wall.body and w is not wall]
    if not any(abs(w.polygon.bounds[3] - low) < 1 and w.texture != wall.texture for w in others):
        return []
    edge = LineString([(wall.polygon.bounds[0], low), (wall.polygon.bounds[2], low)])
    cut = edge.intersection(wall.polygon.boundary)
    parts = cut.geoms if hasattr(cut, "geoms") else [cut]
    return [stroke("wall", *p.coords) for p in parts if p.geom_type == "LineString"]


def _roof_shapes(rng, parts) -> list[Shape]:
    shapes: list[Shape] = []
    for role, polygon in parts:
        shapes.append(polygon_path("roof" if role == "tiles" else "fascia", polygon))
        if role == "tiles":
            shapes += tiles(rng, polygon)
    return shapes


def _stairs(polygon: Polygon) -> list[Shape]:
    x0, y0, x1, y1 = polygon.bounds
    count = max(1, round((y1 - y0) / 170))
    lines: list[Shape] = [rectangle("steps", x0, y0, x1, y1)]
    for i in range(1, count):
        y = y0 + (y1 - y0) * i / count
        lines.append(stroke("steps", (x0, y), (x1, y)))
    return lines
