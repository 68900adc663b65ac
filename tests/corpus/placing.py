"""Openings in the visible walls of a building, clear of corners, roofs, posts and each other."""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus import openings
from corpus.bodies import level
from corpus.buildings import Building, front_masks
from corpus.openings import Design, Taste

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
    balconies: list[Polygon] = field(default_factory=list)


class Places:
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
        mirrored = round(x / self.building.step) % 3 == 0  # hung on the other side
        return Opening(design, (x, y), wall, mirrored)


def make_facade(rng: random.Random, building: Building) -> Facade:
    taste = openings.make_taste(rng)
    facade = Facade(building, taste=taste)
    places = Places(building)
    if rng.random() < 0.8:
        _place_door(rng, facade, places, taste)
    if rng.random() < 0.25:
        _place_garage(rng, facade, places)
    if rng.random() < 0.12:
        _place_balcony(rng, facade, places, taste)
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


def _place_balcony(rng: random.Random, facade: Facade, places: Places, taste: Taste) -> None:
    """A glazed door on the upper floor with a slab and a railing before it."""
    building = facade.building
    width, floor = _snap(rng.choice([900.0, 1800.0]), building.step), building.floors[1]
    design = Design(
        "door", f"B{width:.0f}", width, _snap(2130.0, building.step), "flat", taste.frames,
        1 if width < 1500 else 2, glazed=True, swing=taste.swing,
    )  # fmt: skip
    side = rng.uniform(300, 900)
    main = building.bodies[0]
    for _ in range(8):
        x = _snap(rng.uniform(main.x0 + 400, main.x1 - 400 - width), building.step)
        slab = box(x - side, floor - 200, x + width + side, floor)
        room = box(x - side - 100, floor - 300, x + width + side + 100, floor + 1000)
        if not places.free[0].covers(room):
            continue
        made = places.take(0, design, x, floor)
        if made:
            facade.openings.append(made)
            facade.balconies.append(slab)
            places.free[0] = places.free[0].difference(room)
            building.tags.add("balcony")
            return


def _place_door(rng: random.Random, facade: Facade, places: Places, taste: Taste) -> None:
    """The door at grade, or above it with steps before it."""
    step = facade.building.step
    double = rng.random() < 0.25
    glazed = rng.random() < 0.4
    widths = [1500.0, 1800.0, 2400.0] if double else [900.0, 1000.0, 1100.0]
    width = _snap(rng.choice(widths), step)
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


def _place_garage(rng: random.Random, facade: Facade, places: Places) -> None:
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


def _place_windows(
    rng: random.Random, facade: Facade, places: Places, index: int, taste: Taste
) -> None:
    """Windows in rows: one size a storey, in even columns, some left out."""
    building, step = facade.building, facade.building.step
    body = building.bodies[index]
    top = max(y for _, y in body.top)
    if body.foot is not None:
        size = _snap(body.x1 - body.x0 - 700, step)
        made = places.take(
            index,
            openings.window(replace(taste, shutters=False), size, 900.0),
            body.x0 + 350,
            body.foot + 200,
        )
        facade.openings += [made] if made else []
        return
    wide = _snap(rng.choice([700.0, 900.0, 1000.0, 1200.0, 1500.0, 2000.0, 2600.0, 3600.0]), step)
    columns = max(1, int((body.x1 - body.x0) / (wide + rng.uniform(900, 2600))))
    for floor in building.floors:
        if floor + 1500 > top:
            break
        sill = _snap(rng.choice([850.0, 900.0, 950.0, 600.0, 1400.0]), step)
        high = _snap(min(rng.choice([1000.0, 1200.0, 1350.0, 1500.0, 1700.0]), 2250 - sill), step)
        design = openings.window(taste, wide, high)
        if floor == building.floors[-1]:
            design = openings.window(taste, min(wide, 1200.0), min(high, 1200.0))
        for column in range(columns):
            if rng.random() < 0.15:
                continue
            middle = body.x0 + (body.x1 - body.x0) * (column + 0.5) / columns
            for wide_one in (design.width, _snap(design.width * 0.6, step)):
                fitting = openings.window(taste, wide_one, design.height)
                x = _snap(middle - fitting.width / 2, step / 2)
                made = places.take(index, fitting, x, floor + sill)
                if made:
                    facade.openings.append(made)
                    break


def _place_vent(rng: random.Random, facade: Facade, places: Places, index: int) -> None:
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
