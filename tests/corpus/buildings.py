"""What is built: bodies, roofs and ground of one elevation, in millimeters, floor level at 0.

      ridge        .-------.                 gable    /\\
                  /         \\                       /    \\   bargeboard above the wall
      eave       '-----------'   fascia            |      |
                 |  main body |                    | wing |
                 |            |                    |      |
      ground  ---'------------'--------------------'------'---

A body in front hides what is behind it. The wall of a body is what is visible of it: bounded by
ground, corners, eaves and rakes. Where the cladding changes at a height, a wall ends.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus.bodies import Body, Ground, Roof, Size, level, make_body

LEAST_WALL = 0.7e6
"""Square millimeters: buildings with smaller visible pieces of wall are not built."""
CLADDINGS = ("plain", "plain", "boards", "brick", "stone", "upright", "slabs")
HAIR = 0.01
"""Millimeters by which parts in front overlap, so that no crack between them shows a wall."""


@dataclass(frozen=True)
class Wall:
    """A visible piece of cladding; ``body`` is the index of the volume it belongs to.

    ``patched``: only a corner of it shows the texture. Where cladding changes nothing is patched,
    as nobody could tell the end of a patch at a line from the change.
    """

    polygon: Polygon
    body: int
    texture: str
    patched: bool = False


@dataclass(frozen=True)
class Porch:
    """A roof on posts in front of a wall."""

    x0: float
    x1: float
    posts: tuple[Polygon, ...]
    roof: Roof


@dataclass
class Building:
    """An elevation before its openings are placed."""

    bodies: list[Body]
    ground: Ground
    floors: tuple[float, ...]
    step: float
    walls: list[Wall] = field(default_factory=list)
    porch: Porch | None = None
    chimneys: list[Polygon] = field(default_factory=list)
    tags: set[str] = field(default_factory=set)


def make_building(
    rng: random.Random, step: float, claddings: tuple[str, ...] = CLADDINGS
) -> Building:
    """A building at random, its sizes whole steps (millimeters), all of its walls sound.

    ``claddings`` are the textures of its main walls to choose from.
    """
    for _ in range(200):
        building = _attempt(rng, step, claddings)
        if building is not None:
            return building
    raise AssertionError("no sound building in 200 attempts")


def _attempt(rng: random.Random, step: float, claddings: tuple[str, ...]) -> Building | None:
    def size(low: float, high: float) -> float:
        return round(rng.uniform(low, high) / step) * step

    storeys = rng.choices([1, 2, 3], [5, 5, 1])[0]
    storey = size(2600, 3100)
    width = size(7000, 16000) if storeys > 1 else size(5000, 15000)
    eave = storeys * storey - size(0, 250)
    tags: set[str] = set()
    kind = rng.choices(
        ["gable", "eaves", "hip", "flat", "mono", "halfhip"], [30, 25, 12, 15, 8, 5]
    )[0]
    tags.add(kind)
    main = make_body(rng, 0.0, width, eave, size, kind)
    bodies = [main, *_dormers(rng, main, size, tags), *_wings(rng, main, storey, size, tags)]
    ground = _ground(rng, bodies, size, tags)
    floors = tuple(storey * i for i in range(storeys + 1))
    building = Building(bodies, ground, floors, step, tags=tags)
    if rng.random() < 0.3:
        porch = _porch(rng, bodies[0], storey, ground, size)
        wings = [b for b in bodies[1:] if b.foot is None]
        if not any(porch.x0 - 200 < w.x1 and w.x0 < porch.x1 + 200 for w in wings):
            building.porch = porch
            tags.add("porch")
    building.walls = visible_walls(rng, building, claddings)
    if not building.walls or any(not _sound(w.polygon) for w in building.walls):
        return None
    if rng.random() < 0.4:
        building.chimneys = _chimney(rng, main, size)
        tags.add("chimney")
    return building


def _wings(rng: random.Random, main: Body, storey: float, size: Size, tags: set[str]) -> list[Body]:
    """Up to two volumes in front of the main one, on either side or before its middle."""
    count = rng.choices([0, 1, 2], [50, 38, 12])[0]
    width = main.x1 - main.x0
    places = rng.sample(["left", "right", "middle"] if width > 9000 else ["left", "right"], 2)
    wings = []
    for place in places[:count]:
        wide = size(0.22 * width, 0.38 * width)
        wide = max(wide, 1800.0)
        if place == "left":
            x0 = main.x0 - (size(600, wide * 0.8) if rng.random() < 0.6 else 0.0)
        elif place == "right":
            x0 = main.x1 - wide + (size(600, wide * 0.8) if rng.random() < 0.6 else 0.0)
        else:
            x0 = main.x0 + size(0.35 * width, 0.6 * width - wide * 0.5)
        storeys = rng.randint(1, max(1, round(main.eave / storey)))
        eave = storeys * storey - size(100, 400)
        kind = rng.choice(["gable", "gable", "flat", "eaves", "mono"])
        wings.append(make_body(rng, x0, x0 + wide, eave, size, kind))
    if wings:
        tags.add("wing")
    if len(wings) == 2:
        a, b = sorted(wings, key=lambda w: w.x0)
        if a.x1 + 1500 > b.x0:
            wings.pop()
    return wings


def _dormers(rng: random.Random, main: Body, size: Size, tags: set[str]) -> list[Body]:
    """Small fronts that stand on the surface of a high roof, in one building of eight."""
    surface = next((p for role, p in main.roof.parts if role == "tiles"), None)
    if surface is None or len(main.top) > 2 or rng.random() > 0.25:
        return []
    low, high = surface.bounds[1], surface.bounds[3]
    if high - low < 2300:
        return []
    wide, foot = size(1500, 2200), low + 250.0
    x0, _, x1, _ = surface.intersection(box(-1e6, foot, 1e6, high - 400)).bounds
    inset = high - low
    count = rng.randint(1, 3)
    pitch = (x1 - x0 - 2 * inset) / count
    if pitch < wide + 900:
        return []
    tags.add("dormer")
    kind = rng.choice(["gable", "flat"])
    return [
        replace(make_body(rng, x, x + wide, foot + 1350.0, _small(size), kind, 0.5), foot=foot)
        for x in (x0 + inset + pitch * (i + 0.5) - wide / 2 for i in range(count))
    ]


def _small(size: Size) -> Size:
    """Sizes of small roofs: thin boards, short overhangs."""
    return lambda low, high: min(size(low, high), 150.0)


def _ground(rng: random.Random, bodies: list[Body], size: Size, tags: set[str]) -> Ground:
    left, right = min(b.x0 for b in bodies), max(b.x1 for b in bodies)
    a, b = left - size(800, 4000), right + size(800, 4000)
    base = -rng.choice([0.0, 150.0, 300.0, 450.0])
    kind = rng.choices(["level", "slope", "stepped"], [60, 22, 18])[0]
    tags.add(f"ground-{kind}")
    if kind == "level":
        return ((a, base), (b, base))
    drop = size(300, 1500) * rng.choice([-1, 1])
    ends = (base - max(0.0, drop), base - max(0.0, -drop))
    if kind == "slope":
        return ((a, ends[0]), (b, ends[1]))
    x = left + round((right - left) * rng.uniform(0.3, 0.7))
    return ((a, ends[0]), (x, ends[0]), (x, ends[1]), (b, ends[1]))


def _porch(rng: random.Random, main: Body, storey: float, ground: Ground, size: Size) -> Porch:
    width = main.x1 - main.x0
    wide = size(2200, min(5000, width * 0.6))
    x0 = rng.choice([main.x0, main.x1 - wide, main.x0 + size(500, max(600, width - wide - 500))])
    x1, eave = x0 + wide, storey - size(300, 600)
    count = 2 if wide < 3500 else 3
    thick = rng.choice([100.0, 120.0, 150.0, 200.0])
    posts = []
    for i in range(count):
        x = x0 + 50 + (wide - 100 - thick) * i / (count - 1)
        posts.append(box(x, min(level(ground, x), level(ground, x + thick)), x + thick, eave))
    fascia = box(x0 - 100, eave, x1 + 100, eave + 180)
    rise = rng.choice([0.0, 400.0, 700.0])
    parts = [("fascia", fascia)]
    if rise:
        shape = [(x0 - 100, eave + 180), (x1 + 100, eave + 180)]
        gable = rng.random() < 0.5
        shape += [((x0 + x1) / 2, eave + 180 + 2 * rise)] if gable else [
            (x1 + 100, eave + 180 + rise), (x0 - 100, eave + 180 + rise)]  # fmt: skip
        parts.append(("tiles", Polygon(shape)))
    return Porch(x0, x1, tuple(posts), Roof(tuple(parts)))


def _chimney(rng: random.Random, main: Body, size: Size) -> list[Polygon]:
    """A stack behind the ridge, or out of the roof surface before it."""
    ridge = main.roof.mask.bounds[3]
    wide = max(size(400, 900), 400.0)
    x = main.x0 + round((main.x1 - main.x0 - wide) * rng.uniform(0.3, 0.7))
    before = any(role == "tiles" for role, _ in main.roof.parts) and rng.random() < 0.5
    foot = ridge - rng.uniform(200, 600) if before else main.eave
    return [box(x, foot, x + wide, ridge + size(500, 1200))]


def front_masks(building: Building, index: int) -> BaseGeometry:
    """Everything opaque in front of the body's wall, its own roof included."""
    masks: list[BaseGeometry] = [building.bodies[index].roof.mask]
    for other in building.bodies[index + 1 :]:
        masks += [other.hides(), other.roof.mask]
    if building.porch and index == 0:
        masks.append(building.porch.roof.mask)
    return unary_union(masks).buffer(HAIR, join_style="mitre")


def visible_walls(rng: random.Random, building: Building, claddings: tuple[str, ...]) -> list[Wall]:
    """The walls of all bodies; a wainscot or a clad gable makes two of one."""
    walls = []
    base = rng.choice(claddings)
    other = rng.choice(["boards", "brick", "stone", "upright", "plain"])
    change = rng.random()
    for index, body in enumerate(building.bodies):
        seen = body.polygon(building.ground).difference(front_masks(building, index))
        pieces = list(seen.geoms) if hasattr(seen, "geoms") else [seen]
        texture = base if index == 0 or rng.random() < 0.7 else other
        texture = "plain" if body.foot is not None else texture
        for piece in pieces:
            piece = Polygon(piece.exterior)
            walls += _by_cladding(building, piece, index, (texture, other), change)
    if building.tags & {"wainscot", "attic"} or rng.random() < 0.7:
        return walls
    building.tags.add("patched")
    return [replace(wall, patched=True) for wall in walls]


def _by_cladding(
    building: Building, piece: Polygon, index: int, cladding: tuple[str, str], change: float
) -> list[Wall]:
    """The walls of a visible piece: one, or two where the cladding changes at a level."""
    texture, other = cladding
    body = building.bodies[index]
    height = 0.0
    if change < 0.15:
        height, tag = 900.0 + building.step * 4, "wainscot"
    elif change < 0.25 and len(body.top) > 2:
        height, tag = body.eave, "attic"
    if not height or other == texture or not _crosses(piece, height):
        return [Wall(piece, index, texture)]
    building.tags.add(tag)
    x0, y0, x1, y1 = piece.bounds
    low = piece.intersection(box(x0 - 1, y0 - 1, x1 + 1, height))
    high = piece.intersection(box(x0 - 1, height, x1 + 1, y1 + 1))
    lower, upper = (other, texture) if tag == "wainscot" else (texture, other)
    parts = [(low, lower), (high, upper)]
    return [
        Wall(Polygon(p.exterior), index, t)
        for whole, t in parts
        for p in (whole.geoms if hasattr(whole, "geoms") else [whole])
        if p.geom_type == "Polygon"
    ]


def _crosses(piece: Polygon, height: float) -> bool:
    _, low, _, high = piece.bounds
    return low + 500 < height < high - 500


def _sound(polygon: Polygon) -> bool:
    """Big enough, and nowhere a strip that no one would clad."""
    if not polygon.is_valid or polygon.area < LEAST_WALL:
        return False
    core = polygon.buffer(-150).buffer(150)
    return core.geom_type == "Polygon" and core.area > 0.93 * polygon.area
