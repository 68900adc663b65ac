"""Small things on a facade that bound no wall and are no opening, though some look like it."""

from __future__ import annotations

import random

from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from corpus.bodies import level
from corpus.placing import Facade
from corpus.shapes import Arc, Note, Shape, rectangle, stroke
from corpus.textures import clipped
from corpus.words import Language


def extras(rng: random.Random, facade: Facade, size: float, language: Language) -> list[Shape]:
    """Some of: downpipes, floor lines, corner boards, lamps, roof windows, tags, notes."""
    shapes: list[Shape] = []
    if rng.random() < 0.2:
        shapes += _downpipes(rng, facade)
    if rng.random() < 0.15 and "patched" not in facade.building.tags:
        shapes += _floor_lines(facade)
    if rng.random() < 0.15:
        shapes += _corner_boards(rng, facade)
    if rng.random() < 0.3:
        shapes += _lamps(rng, facade)
    if rng.random() < 0.3:
        shapes += _roof_windows(rng, facade)
    if rng.random() < 0.2:
        shapes += _tags(rng, facade, size)
    if rng.random() < 0.35:
        shapes += _notes(rng, facade, size, language)
    return shapes


def bare_cladding(facade: Facade) -> BaseGeometry:
    """The visible walls without their openings."""
    walls = unary_union([w.polygon for w in facade.building.walls])
    return walls.difference(unary_union([o.polygon.buffer(60) for o in facade.openings]))


def _downpipes(rng: random.Random, facade: Facade) -> list[Shape]:
    facade.building.tags.add("downpipe")
    shapes: list[Shape] = []
    for index, body in enumerate(facade.building.bodies):
        if len(body.top) > 2 or body.foot is not None:
            continue
        x = body.x0 + 60.0 if rng.random() < 0.5 else body.x1 - 150.0
        low = level(facade.building.ground, x)
        mine = unary_union([w.polygon for w in facade.building.walls if w.body == index])
        free = mine.difference(unary_union([o.polygon.buffer(20) for o in facade.openings]))
        strip = box(x, low, x + 90, body.eave)
        if free.intersection(strip).area > 0.9 * strip.area:
            shapes += [stroke("pipe", (m, low), (m, body.eave)) for m in (x, x + 90.0)]
    return shapes


def _floor_lines(facade: Facade) -> list[Shape]:
    facade.building.tags.add("floor-line")
    x0, _, x1, _ = unary_union([w.polygon for w in facade.building.walls]).bounds
    lines = [LineString([(x0, y), (x1, y)]) for y in facade.building.floors[1:]]
    return clipped("trim", lines, bare_cladding(facade))


def _corner_boards(rng: random.Random, facade: Facade) -> list[Shape]:
    facade.building.tags.add("corner-board")
    wide = rng.choice([90.0, 120.0, 150.0])
    found: list[Shape] = []
    for body in facade.building.bodies:
        high = max(y for _, y in body.top)
        ends = [LineString([(x, -3000), (x, high)]) for x in (body.x0 + wide, body.x1 - wide)]
        found += clipped("trim", ends, bare_cladding(facade))
    return found


def _lamps(rng: random.Random, facade: Facade) -> list[Shape]:
    shapes: list[Shape] = []
    for opening in facade.openings:
        if opening.design.kind == "door":
            x, y = opening.at[0] - 90.0, opening.at[1] + 1700.0
            round_one = rng.random() < 0.5
            lamp = (
                Arc("other", (x, y), 60.0)
                if round_one
                else rectangle("other", x - 50, y, x + 50, y + 180)
            )
            shapes.append(lamp)
    return shapes


def _roof_windows(rng: random.Random, facade: Facade) -> list[Shape]:
    building = facade.building
    shapes: list[Shape] = []
    front = unary_union(
        [b.polygon(building.ground).union(b.roof.mask) for b in building.bodies[1:]]
    )
    for role, surface in building.bodies[0].roof.parts:
        x0, y0, x1, y1 = surface.bounds
        if role != "tiles" or y1 - y0 < 1500 or x1 - x0 < 3000:
            continue
        for _ in range(rng.randint(1, 3)):
            x, y = rng.uniform(x0, x1 - 900), (y0 + y1) / 2 - 500
            pane = box(x, y, x + 780, y + 980)
            taken = unary_union([front, *building.chimneys])
            if surface.buffer(-150).contains(pane) and not pane.buffer(100).intersects(taken):
                shapes += [
                    rectangle("opening", *pane.bounds),
                    rectangle("sash", *pane.buffer(-60, join_style=2).bounds),
                ]
                building.tags.add("roof-window")
                front = front.union(pane)
    return shapes


def _tags(rng: random.Random, facade: Facade, size: float) -> list[Shape]:
    """Numbers of windows and doors in circles on them."""
    shapes: list[Shape] = []
    for i, opening in enumerate(facade.openings):
        x0, y0, x1, y1 = opening.polygon.bounds
        at = ((x0 + x1) / 2, (y0 + y1) / 2)
        shapes.append(Arc("note", at, 1.1 * size))
        name = f"{'W' if opening.design.kind == 'window' else 'D'}{i + 1}"
        shapes.append(Note("note", name, (at[0] - 0.7 * size, at[1] - 0.4 * size), 0.8 * size))
    return shapes


def _notes(rng: random.Random, facade: Facade, size: float, language: Language) -> list[Shape]:
    """Words about materials on leaders that end within a wall."""
    building = facade.building
    right = building.ground[-1][0]
    shapes: list[Shape] = []
    for i, note in enumerate(rng.sample(language.notes, 2)):
        spot = rng.choice(building.walls).polygon.representative_point()
        y = building.floors[1] * (0.4 + 0.5 * i)
        at = (right - 2 * size, y)
        shapes.append(stroke("note", (spot.x, spot.y + 300.0 * i), (at[0] - size, y), at))
        shapes.append(Note("note", note, (at[0] + size / 2, y), size))
    return shapes
