"""What stands on, before, or above the walls of a building."""

from __future__ import annotations

from shapely.geometry import Polygon
from shapely.ops import unary_union

from .builder import DEEP, SKY, Builder, Volume
from .geom import Point, arc_points, corners, rect, spread
from .openings import bay
from .roofs import Roof
from .scene import Item, Stroke
from .textures import Cladding


def _box(
    b: Builder, x0: float, y0: float, x1: float, y1: float, role: str = "trim", cuts: bool = False
) -> Item:
    return b.scene.add(
        Item(rect(x0, y0, x1, y1), [Stroke(corners(x0, y0, x1, y1), role, closed=True)], cuts=cuts)
    )


def porch(
    b: Builder,
    x0: float,
    x1: float,
    h: float,
    posts: int,
    kind: str = "shed",
    rail: bool = False,
    stone: bool = False,
    rise: float = 1.0,
) -> None:
    """A porch: deck, posts, beam, roof."""
    floor, over = b.project.floor, 0.2
    if floor > 0.05:
        deck = _box(b, x0, floor - 0.15, x1, floor, cuts=True)
        deck.mask = rect(x0, DEEP, x1, floor)
        n = max(3, int((x1 - x0) / 0.25))
        if b.rng.random() < 0.5:
            deck.strokes += [
                Stroke([(x, DEEP), (x, floor - 0.15)], "trim") for x in spread(x0, x1, n)
            ]
        deck.strokes += [Stroke([(x, DEEP), (x, floor - 0.15)], "trim") for x in (x0, x1)]
    beam = 0.25
    low = h - beam
    if kind == "gable":
        m = (x0 + x1) / 2
        up = h + (x1 - x0) / 2 * 0.5
        tri = [(x0 - over, h), (x1 + over, h), (m, up + 0.2)]
        inner = [(x0 + 0.3, h + 0.08), (x1 - 0.3, h + 0.08), (m, up - 0.1)]
        roof = Item(
            Polygon(tri),
            [Stroke(tri, "roof", closed=True), Stroke(inner, "roof", closed=True)],
            cuts=True,
        )
    else:
        edge = [
            (x0 - over, h),
            (x1 + over, h),
            (x1 + over, h + 0.15),
            (x1, h + rise),
            (x0, h + rise),
            (x0 - over, h + 0.15),
        ]
        roof = Item(
            Polygon(edge),
            [Stroke(edge, "roof", closed=True), Stroke([edge[5], edge[2]], "roof")],
            cuts=True,
            clad=b.project.roofing,
        )
    _box(b, x0, low, x1, h, cuts=True)
    xs = [x0 + 0.1 + (x1 - x0 - 0.2) * i / max(1, posts - 1) for i in range(posts)]
    if rail:
        _railing(b, x0, x1, floor, 0.95)
    for x in xs:
        if stone:
            pier(b, x, 0.5, 0.0 if floor < 0.1 else floor, floor + 0.9)
            _box(b, x - 0.09, floor + 0.9, x + 0.09, low)
        else:
            half = 0.08
            base = floor if floor > 0.05 else b.ground.at(x)
            _box(b, x - half, base, x + half, low)
    b.scene.add(roof)


def _railing(b: Builder, x0: float, x1: float, y: float, h: float) -> None:
    item = Item(
        None,
        [
            Stroke([(x0, y + h), (x1, y + h)], "trim"),
            Stroke([(x0, y + h - 0.06), (x1, y + h - 0.06)], "trim"),
            Stroke([(x0, y + 0.1), (x1, y + 0.1)], "trim"),
        ],
    )
    n = int((x1 - x0) / 0.14)
    item.strokes += [Stroke([(x, y + 0.1), (x, y + h - 0.06)], "trim") for x in spread(x0, x1, n)]
    b.scene.add(item)


def pier(
    b: Builder,
    x: float,
    w: float,
    y0: float,
    y1: float,
    clad: Cladding | None = None,
    cap: bool = True,
) -> None:
    """A stone-clad pier or column before the wall; its face is clad like a wall."""
    low = DEEP if y0 <= b.ground.at(x) + 0.3 else y0
    area = rect(x - w / 2, low, x + w / 2, y1)
    stone = clad or b.project.accent
    sides = [
        Stroke([(x - w / 2, low), (x - w / 2, y1)], "wall"),
        Stroke([(x + w / 2, low), (x + w / 2, y1)], "wall"),
    ]
    if b.office.closed_walls:
        sides = [Stroke(corners(x - w / 2, low, x + w / 2, y1), "wall", closed=True)]
    b.scene.add(Item(area, sides, cuts=True, clad=stone, is_wall=True))
    if cap:
        _box(b, x - w / 2 - 0.05, y1, x + w / 2 + 0.05, y1 + 0.08, cuts=True)


def canopy(b: Builder, x: float, w: float, y: float, deep: float = 0.2) -> None:
    """A flat canopy over a door, with its hangers."""
    item = _box(b, x - w / 2, y, x + w / 2, y + deep, cuts=True)
    if b.rng.random() < 0.5:
        for sx in (x - w / 2 + 0.15, x + w / 2 - 0.15):
            item.strokes.append(Stroke([(sx, y + deep), (sx, y + deep + 0.6)], "trim"))


def awning(b: Builder, x0: float, x1: float, y: float) -> None:
    """A cloth awning with a scalloped valance."""
    n = max(3, int((x1 - x0) / 0.4))
    edge: list[Point] = [(x0 - 0.1, y), (x1 + 0.1, y), (x1, y + 0.8), (x0, y + 0.8)]
    item = Item(Polygon(edge), [Stroke(edge, "fixture", closed=True)], cuts=True)
    step = (x1 - x0 + 0.2) / n
    for i in range(n):
        cx = x0 - 0.1 + step * (i + 0.5)
        pts = arc_points(cx, y, step / 2, 180, 360, 10)
        item.strokes.append(Stroke(pts, "fixture", arc=(cx, y, step / 2, 180.0, 360.0)))
        item.strokes.append(Stroke([(cx + step / 2, y), (cx + step / 2, y + 0.8)], "fixture"))
    b.scene.add(item)


def chimney(b: Builder, x: float, w: float, y0: float, y1: float, stone: bool) -> None:
    """A stack above the roof, clad or plain."""
    area = rect(x - w / 2, y0, x + w / 2, y1)
    edge = Stroke(corners(x - w / 2, y0, x + w / 2, y1), "wall", closed=True)
    clad = b.project.accent if stone else Cladding("none")
    b.scene.add(Item(area, [edge], cuts=True, clad=clad, is_wall=stone))
    _box(b, x - w / 2 - 0.08, y1, x + w / 2 + 0.08, y1 + 0.12, "roof", cuts=True)
    for px in (x - w / 5, x + w / 5):
        _box(b, px - 0.08, y1 + 0.12, px + 0.08, y1 + 0.4, "roof", cuts=True)


def outer_chimney(b: Builder, x: float, w: float, y1: float, shoulder: float) -> None:
    """A stone chimney before a gable wall, wide at the foot."""
    n = w * 0.55
    edge: list[Point] = [
        (x - w / 2, DEEP),
        (x + w / 2, DEEP),
        (x + w / 2, shoulder),
        (x + n / 2, shoulder + 0.6),
        (x + n / 2, y1),
        (x - n / 2, y1),
        (x - n / 2, shoulder + 0.6),
        (x - w / 2, shoulder),
    ]
    b.scene.add(
        Item(
            Polygon(edge),
            [Stroke([*edge[1:], edge[0]], "wall")],
            cuts=True,
            clad=b.project.accent,
            is_wall=True,
        )
    )
    _box(b, x - n / 2 - 0.08, y1, x + n / 2 + 0.08, y1 + 0.15, "roof", cuts=True)


def dormer(b: Builder, x: float, w: float, base: float, kind: str = "gable") -> None:
    """A dormer on a roof plane with one window."""
    roof = Roof(kind, 0.7 if kind == "gable" else 0.2, 0.12, 0.14)
    eave = base + 1.25
    area_clad = b.project.gable
    vol = Volume(x - w / 2, x + w / 2, eave, roof, [(SKY, area_clad)])
    face = vol.face().intersection(rect(x - w, base, x + w, SKY))
    edge = Stroke(list(face.exterior.coords)[:-1], "wall", closed=True)
    b.scene.add(Item(face, [edge], cuts=True, clad=area_clad, is_wall=True, confidence=0.5))
    b.window(vol, x, base + 0.12, w - 0.5, 1.0, dressed=False)
    from .roofs import roof_items

    for item in roof_items(roof, vol.x0, vol.x1, eave):
        b.scene.add(item)


def quoins(b: Builder, vol: Volume, top: float) -> None:
    """Corner stones at both corners, long and short in turn."""
    for side, x in ((1, vol.x0), (-1, vol.x1)):
        y, i = b.ground.lowest(vol.x0, vol.x1) - 0.3, 0
        boxes, item = [], Item()
        while y < top - 0.3:
            w = 0.5 if i % 2 else 0.3
            boxes.append(rect(x, y, x + side * w, y + 0.3))
            item.strokes.append(Stroke(list(boxes[-1].exterior.coords)[:-1], "trim", closed=True))
            y, i = y + 0.3, i + 1
        if boxes:
            item.mask = unary_union(boxes)
            b.scene.add(item)


def belt(b: Builder, vol: Volume, y: float, deep: float = 0.18) -> None:
    """A belt at a floor across the wall; it bounds nothing."""
    _box(b, vol.x0, y, vol.x1, y + deep)


def downpipe(b: Builder, x: float, top: float) -> None:
    """A downpipe in front of the wall."""
    low = b.ground.at(x)
    item = _box(b, x - 0.04, low, x + 0.04, top, "fixture")
    for y in (low + 0.8, top - 0.8):
        item.strokes.append(Stroke([(x - 0.07, y), (x + 0.07, y)], "fixture"))


def lamp(b: Builder, x: float, y: float) -> None:
    """A small light beside a door."""
    _box(b, x - 0.07, y, x + 0.07, y + 0.28, "fixture")


def balcony(b: Builder, x0: float, x1: float, y: float) -> None:
    """A balcony before the wall: slab and railing of bars."""
    _box(b, x0, y - 0.2, x1, y, cuts=True)
    _railing(b, x0, x1, y, 1.0)
    for x in (x0 + 0.05, x1 - 0.05):
        _box(b, x - 0.05, y, x + 0.05, y + 1.0)


def bay_window(b: Builder, vol: Volume, x: float, w: float, sill: float, h: float) -> None:
    """A bay of three lights."""
    b.put(bay(b.project, b.s(w, True), b.s(h, True)), x, sill, vol, key=f"bay_{w:.2f}")


def skylights(b: Builder, x0: float, x1: float, y: float, n: int) -> None:
    """Rooflights lying in a roof plane."""
    for x in spread(x0, x1, n):
        item = _box(b, x - 0.4, y, x + 0.4, y + 0.9, "roof", cuts=True)
        item.strokes.append(
            Stroke(corners(x - 0.33, y + 0.07, x + 0.33, y + 0.83), "roof", closed=True)
        )


def solar(b: Builder, x0: float, x1: float, y: float) -> None:
    """Solar panels on a roof plane."""
    n = max(2, int((x1 - x0) / 1.05))
    for x in spread(x0, x0 + n * 1.05, n):
        _box(b, x - 0.5, y, x + 0.5, y + 1.2, "fixture", cuts=True)


def retaining_wall(b: Builder, x0: float, x1: float, top: float) -> None:
    """A low stone garden wall; whether it counts is a matter of taste."""
    area = rect(x0, DEEP, x1, top)
    b.scene.add(
        Item(
            area,
            [Stroke([(x0, DEEP), (x0, top), (x1, top), (x1, DEEP)], "wall")],
            cuts=True,
            clad=b.project.accent,
            is_wall=True,
            confidence=0.5,
        )
    )
    _box(b, x0 - 0.04, top, x1 + 0.04, top + 0.08, cuts=True)
