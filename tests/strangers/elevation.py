"""One elevation: chooses a building, its ground, and what stands before it."""

from __future__ import annotations

from random import Random

from shapely.geometry import Polygon

from . import attach, houses, publics
from .builder import Builder
from .geom import arc_points, corners
from .ground import make_ground
from .office import Office, Project
from .scene import Fill, Item, Stroke

KINDS = {
    "house": houses.house,
    "gable end": houses.gable_end,
    "farmhouse": houses.farmhouse,
    "row": houses.row_houses,
    "chalet": houses.chalet,
    "modern": houses.modern,
    "extension": houses.extension,
    "barn": publics.barn,
    "garage": publics.garages,
    "chapel": publics.chapel,
    "shop": publics.shop,
    "school": publics.school,
    "town house": publics.town_house,
}
SISTERS = {
    "house": "gable end",
    "farmhouse": "gable end",
    "chalet": "chalet",
    "extension": "extension",
}
WIDE = {
    "row": 24,
    "school": 26,
    "shop": 16,
    "garage": 8,
    "chapel": 12,
    "town house": 12,
    "barn": 13,
    "gable end": 9,
}


def build(rng: Random, office: Office, project: Project, kind: str, front: bool) -> Builder:
    """An elevation's resolved scene."""
    width = rng.uniform(9, 15)
    reach = WIDE.get(kind, width)
    fate = rng.random()
    ways = (
        ("flat", "flat", "rough"),
        ("flat", "flat", "slope", "rough"),
        ("flat", "slope", "step", "rough"),
    )[office.level]
    way = "flat" if fate < 0.3 else rng.choice(ways)
    drop = rng.uniform(0.4, 1.6)
    ground = make_ground(rng, way, 0.0, reach, drop)
    b = Builder(rng, office, project, ground)
    KINDS[kind](b, width, front)
    a, c = extent(b)
    ground.line[0] = (min(ground.line[0][0], a - 1.5), ground.line[0][1])
    ground.line[-1] = (max(ground.line[-1][0], c + 1.5), ground.line[-1][1])
    if office.level and rng.random() < 0.12:
        attach.retaining_wall(b, c + 0.3, c + rng.uniform(2, 4), ground.at(c + 2) + 0.8)
        x, y = ground.line[-1]
        ground.line[-1] = (max(x, c + 6), y)
    style = rng.choice(("line", "line", "double", "ticks", "earth", "solid"))
    if office.version == "R12" and style in ("earth", "solid"):
        style = "ticks"
    b.scene.add(ground.item(rng, style))
    if rng.random() < 0.4:
        _foundation(b)
    _foreground(b, a, c)
    b.scene.resolve(rng.randrange(10**6))
    return b


def extent(b: Builder) -> tuple[float, float]:
    """The building's left and right ends."""
    return min(v.x0 for v in b.volumes), max(v.x1 for v in b.volumes)


def _foundation(b: Builder) -> None:
    """Dashed walls and footings below grade."""
    for vol in b.volumes:
        deep = b.ground.lowest(vol.x0, vol.x1) - 0.9
        for x in (vol.x0, vol.x1):
            b.scene.add(
                Item(None, [Stroke([(x, b.ground.at(x)), (x, deep)], "hidden", dashed=True)])
            )
            foot = corners(x - 0.3, deep - 0.25, x + 0.3, deep)
            b.scene.add(Item(None, [Stroke(foot, "hidden", closed=True, dashed=True)]))
        line = [(vol.x0, deep), (vol.x1, deep)]
        b.scene.add(Item(None, [Stroke(line, "hidden", dashed=True)]))


def _foreground(b: Builder, a: float, c: float) -> None:
    rng, level = b.rng, b.office.level
    if rng.random() < (0.1, 0.25, 0.35)[level]:
        _shadows(b)
    if rng.random() < (0.15, 0.4, 0.6)[level]:
        for _ in range(rng.choice((1, 2, 3))):
            spot = rng.choice(
                (a - rng.uniform(0.5, 1.4), c + rng.uniform(0.5, 1.4), rng.uniform(a, c))
            )
            PLANTS[rng.choice(("tree", "bush", "bush", "fir"))](b, spot, b.ground.at(spot))
    if rng.random() < (0.1, 0.2, 0.3)[level]:
        x = rng.choice((a - 1.0, c + 1.0, rng.uniform(a, c)))
        person(b, x, b.ground.at(x))
    if rng.random() < (0.0, 0.08, 0.15)[level]:
        x = rng.choice((a - 3.0, rng.uniform(a, c - 4)))
        car(b, x, b.ground.highest(x, x + 4.2))


def _shadows(b: Builder) -> None:
    """Shade under the eaves, hatched or filled."""
    pattern = "SOLID" if b.rng.random() < 0.3 else "ANSI31"
    for vol in b.volumes:
        if vol.roof.kind in ("eaves", "hip", "flat") and b.office.version != "R12":
            deep = vol.eave - b.rng.choice((0.3, 0.5))
            area = Polygon(corners(vol.x0, deep, vol.x1, vol.eave))
            for v in b.volumes[b.volumes.index(vol) + 1 :]:
                area = area.difference(v.face())
            if not area.is_empty:
                b.scene.add(
                    Item(
                        None,
                        [Stroke([(vol.x0, deep), (vol.x1, deep)], "shadow")]
                        if b.rng.random() < 0.2
                        else [],
                        [Fill(area, "shadow", pattern, 0.4)],
                    )
                )


def tree(b: Builder, x: float, y: float) -> None:
    """A round tree of lobes on a trunk."""
    rng = b.rng
    r = rng.uniform(1.0, 1.8)
    cy = y + 2.2 + r
    strokes = [
        Stroke([(x - 0.1, y), (x - 0.08, cy - r)], "plant"),
        Stroke([(x + 0.1, y), (x + 0.08, cy - r)], "plant"),
    ]
    n = rng.choice((7, 8, 9))
    for px, py in arc_points(x, cy, r, 0, 360, n)[:-1]:
        q, turn = r * 0.5, rng.uniform(0, 360)
        strokes.append(
            Stroke(
                arc_points(px, py, q, turn, turn + 230, 14),
                "plant",
                arc=(px, py, q, turn, turn + 230),
            )
        )
    b.scene.add(Item(None, strokes))


def fir(b: Builder, x: float, y: float) -> None:
    """A conifer as a zigzag."""
    h, n = b.rng.uniform(3, 6), 5
    right = [
        (x + h * 0.22 * (1 - i / (2 * n)) * (0.6 if i % 2 else 1), y + 0.5 + h * i / (2 * n))
        for i in range(2 * n)
    ]
    left = [(2 * x - px, py) for px, py in right]
    b.scene.add(
        Item(
            None,
            [
                Stroke([*right, (x, y + 0.5 + h), *left[::-1]], "plant", closed=True),
                Stroke([(x, y), (x, y + 0.5)], "plant"),
            ],
        )
    )


def bush(b: Builder, x: float, y: float) -> None:
    """A low bush of three or four humps."""
    strokes = []
    for i in range(b.rng.choice((2, 3, 4))):
        cx, r = x + 0.5 * i, b.rng.uniform(0.3, 0.5)
        strokes.append(
            Stroke(arc_points(cx, y, r, 0, 180, 14), "plant", arc=(cx, y, r, 0.0, 180.0))
        )
    b.scene.add(Item(None, strokes))


def person(b: Builder, x: float, y: float) -> None:
    """A figure for scale."""
    body = [
        (x - 0.1, y),
        (x - 0.22, y + 0.85),
        (x - 0.24, y + 1.4),
        (x + 0.24, y + 1.4),
        (x + 0.22, y + 0.85),
        (x + 0.1, y),
    ]
    head = Stroke(
        arc_points(x, y + 1.6, 0.12, 0, 360)[:-1],
        "plant",
        closed=True,
        arc=(x, y + 1.6, 0.12, 0.0, 360.0),
    )
    b.scene.add(Item(None, [Stroke(body, "plant"), head]))


def car(b: Builder, x: float, y: float) -> None:
    """A car seen from the side."""
    body = [
        (0.0, 0.3),
        (0.0, 0.75),
        (0.9, 0.85),
        (1.4, 1.4),
        (2.9, 1.4),
        (3.5, 0.9),
        (4.1, 0.8),
        (4.2, 0.3),
    ]
    strokes = [Stroke([(x + px, y + py) for px, py in body], "plant", closed=True)]
    for cx in (0.8, 3.4):
        strokes.append(
            Stroke(
                arc_points(x + cx, y + 0.3, 0.3, 0, 360)[:-1],
                "plant",
                closed=True,
                arc=(x + cx, y + 0.3, 0.3, 0.0, 360.0),
            )
        )
    b.scene.add(Item(None, strokes))


PLANTS = {"tree": tree, "fir": fir, "bush": bush}
