"""The whole elevation as shapes: bodies back to front, each hiding what is behind it."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import replace

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus import openings
from corpus.bodies import level
from corpus.buildings import Building, Wall
from corpus.placing import Facade, Opening
from corpus.shapes import Path, Shape, fill_of, hidden_by, opened, polygon_path, rectangle, stroke
from corpus.styles import Style
from corpus.textures import cladding, tiles


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
        planes.insert(
            1 + len(building.chimneys), (parts, unary_union([*porch.posts, porch.roof.mask]))
        )
    if facade.balconies:
        rails: list[Shape] = [s for slab in facade.balconies for s in _balcony(slab)]
        planes.insert(1 + len(building.chimneys), (rails, unary_union(facade.balconies)))
    seen: list[Shape] = []
    for i, (shapes, _) in enumerate(planes):
        front = [mask for _, mask in planes[i + 1 :] if not mask.is_empty]
        seen += hidden_by(shapes, unary_union(front)) if front else shapes
    return _as_areas(facade, seen) if style.filled else seen


FILLS = {
    "plain": "SOLID", "brick": "BRICK", "boards": "LINE", "upright": "UPRIGHT",
    "stone": "AR-RSHKE", "slabs": "DIAGONAL",
}  # fmt: skip
"""Texture of a wall -> pattern of its area where walls are drawn as areas."""


def _as_areas(facade: Facade, shapes: list[Shape]) -> list[Shape]:
    """Walls as hatched areas around their openings, without lines of their own or texture."""
    facade.building.tags.add("walls-filled")
    holes = unary_union([_trimmed(o) for o in facade.openings])
    fills: list[Shape] = []
    for wall in facade.building.walls:
        area = wall.polygon.difference(holes)
        pattern = FILLS[wall.texture]
        parts = area.geoms if hasattr(area, "geoms") else [area]
        fills += [fill_of("wall", p, pattern, 150.0) for p in parts]
    return [*fills, *(s for s in shapes if s.role not in ("wall", "texture"))]


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
        low = (
            (body.x0, level(building.ground, body.x0, 1)),
            (body.x1, level(building.ground, body.x1, -1)),
        )
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


def _trimmed(opening: Opening) -> BaseGeometry:
    """The area that cladding lines leave out: the opening with its trim."""
    outlines = [
        openings.outline_polygon(s)
        for s in opened(openings.group(opening.design, opening.at))
        if getattr(s, "closed", False) and s.role in ("opening", "trim")
    ]
    return unary_union(outlines)


def _change_line(wall: Wall, building: Building) -> list[Shape]:
    """The level line where the cladding changes, if this wall begins on top of another."""
    low = wall.polygon.bounds[1]
    others = [w for w in building.walls if w.body == wall.body and w is not wall]
    if not any(abs(w.polygon.bounds[3] - low) < 1 and w.texture != wall.texture for w in others):
        return []
    edge = LineString([(wall.polygon.bounds[0], low), (wall.polygon.bounds[2], low)])
    cut = edge.intersection(wall.polygon.boundary)
    parts = cut.geoms if hasattr(cut, "geoms") else [cut]
    return [stroke("wall", *p.coords) for p in parts if p.geom_type == "LineString"]


def _roof_shapes(rng: random.Random, parts: Iterable[tuple[str, Polygon]]) -> list[Shape]:
    shapes: list[Shape] = []
    for role, polygon in parts:
        shapes.append(polygon_path("roof" if role == "tiles" else "fascia", polygon))
        if role == "tiles":
            shapes += tiles(rng, polygon)
    return shapes


def _balcony(slab: Polygon) -> list[Shape]:
    """A slab with a railing of bars; one sees through it."""
    x0, y0, x1, y1 = slab.bounds
    lines: list[Shape] = [
        rectangle("post", x0, y0, x1, y1),
        rectangle("post", x0, y1 + 950, x1, y1 + 1000),
    ]
    count = int((x1 - x0) / 120)
    for i in range(count + 1):
        x = x0 + (x1 - x0) * i / count
        lines.append(stroke("post", (x, y1), (x, y1 + 950)))
    return lines


def _stairs(polygon: Polygon) -> list[Shape]:
    x0, y0, x1, y1 = polygon.bounds
    count = max(1, round((y1 - y0) / 170))
    lines: list[Shape] = [rectangle("steps", x0, y0, x1, y1)]
    for i in range(1, count):
        y = y0 + (y1 - y0) * i / count
        lines.append(stroke("steps", (x0, y), (x1, y)))
    return lines
