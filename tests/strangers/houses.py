"""Dwellings: houses, farms, rows, chalets, extensions, modern villas."""

from __future__ import annotations

from . import attach
from .builder import SKY, Builder, Volume
from .scene import Item, Stroke


def _gable_mark(b: Builder, vol: Volume) -> None:
    """Something small in a gable: vent, round or triangular window."""
    apex = vol.top(vol.mid)
    room = apex - vol.eave
    if room < 1.2:
        return
    pick = b.rng.choice(("vent", "round", "tri", "louvre", "window", "none"))
    y = vol.eave + 0.25
    if pick == "vent":
        b.vent(vol, vol.mid, y + 0.1, 0.5, 0.5, "round")
    elif pick == "louvre":
        b.vent(vol, vol.mid, y, 0.45, min(0.7, room * 0.4), "rect")
    elif pick == "round":
        b.window(vol, vol.mid, y + 0.1, 0.7, 0.7, "cross", "round", False)
    elif pick == "tri" and room > 1.6:
        slope = b.project.pitch
        h = room - 0.9
        b.window(
            vol, vol.mid, y, min(2 * h / slope, 2.4), min(h, 1.2 * slope), "fixed", "tri", False
        )
    elif pick == "window" and room > 2.2:
        b.window(vol, vol.mid, y + 0.2, 0.9, 1.1)


def house(b: Builder, width: float, front: bool) -> None:
    """A house with a long roof, a gable wing in front, maybe porch and garage."""
    r, p = b.rng, b.project
    eave = b.s(p.floor + p.storey * r.choice((1, 1, 2)))
    x1 = b.s(width)
    rise = b.s(r.uniform(1.8, 3.0))
    main = b.volume(
        0,
        x1,
        eave,
        b.roof(r.choice(("eaves", "eaves", "hip")), rise=rise),
        b.walls(r.random() < 0.6),
    )
    two = eave > 1.6 * p.storey
    ww = b.s(min(5.5, width * 0.38))
    left = r.random() < 0.5
    a, c = (0.0, ww) if left else (x1 - ww, x1)
    inner = (c, x1) if left else (0.0, a)
    door_x = inner[0] + (inner[1] - inner[0]) * r.choice((0.25, 0.5, 0.75))
    porch = front and r.random() < 0.45
    if front:
        b.door(main, door_x)
        if r.random() < 0.5:
            attach.lamp(b, door_x + 1.0 + (0.5 if p.door == "sidelights" else 0), p.floor + 1.8)
    n = max(1, int((inner[1] - inner[0]) / 2.6))
    b.row(
        main,
        n,
        p.floor + 0.9,
        r.choice((0.9, 1.2, 1.6)),
        1.2 if porch else r.choice((1.2, 1.4)),
        *inner,
    )
    if two:
        b.row(main, n, p.floor + p.storey + 0.9, 1.1, 1.3, *inner)
        if r.random() < 0.3:
            attach.belt(b, main, p.floor + p.storey)
    if main.roof.kind == "eaves" and r.random() < 0.35:
        attach.dormer(b, sum(inner) / 2, 1.7, eave + p.fascia + 0.25, r.choice(("gable", "shed")))
    elif r.random() < 0.3:
        attach.skylights(b, inner[0] + 0.8, inner[1] - 0.8, eave + p.fascia + 0.6, 2)
    elif r.random() < 0.2:
        attach.solar(b, inner[0] + 0.6, inner[1] - 0.6, eave + p.fascia + 0.4)
    if r.random() < 0.5:
        attach.chimney(
            b,
            inner[0] + (inner[1] - inner[0]) * 0.7,
            0.8,
            eave + p.fascia + rise - 0.8,
            eave + p.fascia + rise + 0.8,
            r.random() < 0.6,
        )
    if porch and inner[1] - inner[0] > 4:
        attach.porch(
            b,
            inner[0] + 0.2,
            inner[1] - 0.1,
            p.floor + 2.5,
            r.choice((3, 4)),
            r.choice(("shed", "gable")) if not two else "shed",
            r.random() < 0.4,
            r.random() < 0.5,
            0.6 if two else 1.0,
        )
    if r.random() < 0.85:
        _wing(b, a, c, eave, front)
    if p.downpipes:
        attach.downpipe(b, 0.25 if not left else x1 - 0.25, eave)
    b.marks["y"] += [p.floor, eave + p.fascia + rise]


def _wing(b: Builder, a: float, c: float, eave: float, front: bool) -> None:
    r, p = b.rng, b.project
    style = r.random()
    kind = r.choice(("gable", "gable", "gable", "halfhip", "coped"))
    stone = style < 0.3
    bands = b.walls(
        not stone and r.random() < 0.7,
        r.random() < 0.5 and not stone,
        eave,
        p.accent if stone else None,
    )
    wing = b.volume(a, c, eave, b.roof(kind), bands)
    _gable_mark(b, wing)
    if p.quoins and not stone:
        attach.quoins(b, wing, eave)
    if front and r.random() < 0.4:
        w = 5.0 if c - a > 6 else min(c - a - 0.9, 2.75)
        b.garage(wing, wing.mid, w, 2.2, r.choice(("sectional", "panels", "lites")))
    elif r.random() < 0.2 and c - a > 4:
        attach.bay_window(b, wing, wing.mid, 2.4, p.floor + 0.6, 1.6)
    else:
        b.row(wing, 2 if c - a > 4.2 else 1, p.floor + 0.85, 1.1, 1.4)
    if eave > 1.6 * p.storey:
        b.row(wing, 2 if c - a > 4.2 else 1, p.floor + p.storey + 0.85, 1.0, 1.3)


def gable_end(b: Builder, width: float, front: bool) -> None:
    """A plain gable end, with a lean-to or an outer chimney now and then."""
    r, p = b.rng, b.project
    w = b.s(min(width, r.uniform(6, 10)))
    eave = b.s(p.floor + p.storey * r.choice((1, 1.4, 2)))
    lean = b.s(r.uniform(2.2, 3.5)) if r.random() < 0.4 else 0.0
    kind = r.choice(("gable", "gable", "saltbox", "gambrel", "halfhip", "coped"))
    if lean:
        b.volume(
            w,
            w + lean,
            b.s(p.floor + 2.2),
            b.roof("shedback", pitch=0.25),
            b.walls(r.random() < 0.5),
            "back",
        )
        side = b.volumes[-1]
        if r.random() < 0.7:
            b.window(side, side.mid, p.floor + 1.0, 0.8, 0.8)
    vol = b.volume(0, w, eave, b.roof(kind), b.walls(r.random() < 0.6, r.random() < 0.5, eave))
    chimney = r.random() < 0.3 and kind in ("gable", "coped")
    n = 2 if w > 5 else 1
    if chimney:
        attach.outer_chimney(b, w / 2, 1.9, vol.top(w / 2) + 0.9, p.floor + 2.2)
        b.row(vol, 1, p.floor + 0.9, 1.0, 1.3, 0.3, w / 2 - 1.2)
        b.row(vol, 1, p.floor + 0.9, 1.0, 1.3, w / 2 + 1.2, w - 0.3)
        return
    if front:
        b.door(vol, w * r.choice((0.3, 0.5)))
    else:
        b.door(vol, w * 0.68, r.choice((1.8, 2.4, 3.0)), 2.15, r.choice(("patio", "french")))
    b.row(vol, n, p.floor + 0.9, 1.1, 1.3)
    if eave > 1.3 * p.storey + p.floor:
        b.row(vol, n, p.floor + p.storey + 0.8, 1.0, 1.2)
    if kind != "saltbox":
        _gable_mark(b, vol)
    if p.quoins:
        attach.quoins(b, vol, eave)
    b.marks["y"] += [p.floor, vol.top(w / 2)]


def farmhouse(b: Builder, width: float, front: bool) -> None:
    """A long farm house: stone below, porch along it, dormers above."""
    r, p = b.rng, b.project
    w = b.s(max(width, 10))
    two = r.random() < 0.4
    eave = b.s(p.floor + p.storey * (2 if two else 1))
    rise = b.s(2.8)
    upper = two and r.random() < 0.6
    bands = [(p.floor + p.storey, p.accent), (SKY, p.gable)] if upper else b.walls(True)
    vol = b.volume(0, w, eave, b.roof("eaves", rise=rise), bands)
    porch = front and r.random() < 0.6
    b.door(vol, w / 2, 1.1, 2.05)
    n = max(2, int(w / 2.6))
    for a, c in ((0.3, w / 2 - 1.0), (w / 2 + 1.0, w - 0.3)):
        b.row(vol, max(1, n // 2), p.floor + 0.8, 1.0, 1.15 if porch else 1.4, a, c)
        if two:
            b.row(vol, max(1, n // 2), p.floor + p.storey + 0.8, 0.9, 1.3, a, c)
    if two:
        b.window(vol, w / 2, p.floor + p.storey + 0.8, 0.9, 1.3)
    else:
        for x in (w * 0.25, w * 0.75):
            attach.dormer(b, x, 1.6, eave + p.fascia + 0.9, "gable")
    for x in (0.9, w - 0.9):
        attach.chimney(
            b, x, 0.9, eave + p.fascia + rise - 0.05, eave + rise + 1.2, r.random() < 0.8
        )
    if porch:
        full = r.random() < 0.5 and not two
        a, c = (-0.1, w + 0.1) if full else (w * 0.2, w * 0.8)
        attach.porch(
            b,
            a,
            c,
            p.floor + min(2.45, p.storey - 0.15),
            r.choice((4, 5, 6)),
            "shed",
            r.random() < 0.5,
            r.random() < 0.4,
            0.6 if two else 0.9,
        )
    b.marks["y"] += [p.floor, p.floor + p.storey, eave + p.fascia + rise]


def row_houses(b: Builder, width: float, front: bool) -> None:
    """Row houses, wall to wall, with parapets, cornices or gables by turns."""
    r, p = b.rng, b.project
    n, w = r.choice((3, 4, 5)), b.s(r.uniform(4.5, 6.0))
    storeys = r.choice((2, 3))
    kinds = r.choice(
        (["cornice"], ["parapet"], ["gable", "parapet"], ["eaves"], ["gable"], ["mansard"])
    )
    clads = [p.main, p.accent, p.second]
    same = r.random() < 0.5
    top = b.s(p.floor + p.storey * storeys)
    for i in range(n):
        eave = top if same else b.s(top + r.choice((-0.4, 0.0, 0.5)))
        kind = kinds[i % len(kinds)]
        clad = p.main if same else clads[i % 3]
        base = same and r.random() < 0.5
        bands = [(p.floor + p.storey, p.accent), (SKY, clad)] if base else [(SKY, clad)]
        roof = b.roof(kind, over=0.0 if kind in ("eaves", "mansard") else 0.05, rise=2.2, pitch=0.9)
        vol = b.volume(i * w, (i + 1) * w, eave, roof, bands)
        if front:
            b.door(vol, vol.x0 + 1.1, 1.0, 2.3, r.choice(("panel", "lites", p.door)))
        b.row(vol, 1, p.floor + 0.8, 1.3, 1.6, vol.x0 + 1.9, vol.x1 - 0.2)
        for k in range(1, storeys):
            b.row(vol, 2, p.floor + k * p.storey + 0.7, 0.95, 1.5)
        if kind == "gable":
            b.window(vol, vol.mid, eave + 0.3, 0.7, 0.7, "cross", "round", False)
        if r.random() < 0.4:
            attach.belt(b, vol, p.floor + p.storey + 0.1)
        if p.downpipes:
            attach.downpipe(b, vol.x1 - 0.15, eave)
    b.marks["y"] += [p.floor + k * p.storey for k in range(storeys)]


def chalet(b: Builder, width: float, front: bool) -> None:
    """A broad alpine gable: stone ground storey, boards above, balcony."""
    r, p = b.rng, b.project
    w = b.s(min(max(width, 9), 13))
    eave = b.s(p.floor + p.storey * 1.9)
    vol = b.volume(
        0,
        w,
        eave,
        b.roof("gable", pitch=0.4, over=0.9),
        [(p.floor + p.storey, p.accent), (SKY, p.gable)],
    )
    b.door(vol, w * 0.3, 1.1, 2.1, r.choice(("panel", "dutch")))
    b.row(vol, 2, p.floor + 0.9, 1.2, 1.1, w * 0.4, w - 0.4)
    second = p.floor + p.storey + 0.15
    b.door(vol, w * 0.5, 1.9, 2.0, "french", steps=False, base=second)
    for a, c in ((0.4, w * 0.5 - 1.2), (w * 0.5 + 1.2, w - 0.4)):
        b.row(vol, 1, second + 0.8, 1.2, 1.1, a, c)
    b.window(vol, w * 0.5, eave + 0.4, 1.2, 0.9)
    attach.balcony(b, w * 0.12, w * 0.88, second - 0.02)
    b.marks["y"] += [p.floor, second, vol.top(w / 2)]


def modern(b: Builder, width: float, front: bool) -> None:
    """Flat or single-pitch boxes of different claddings, with large glass."""
    r, p = b.rng, b.project
    w = b.s(max(width, 9))
    split = b.s(w * r.choice((0.35, 0.4, 0.6)))
    high, low = b.s(p.floor + 2 * p.storey), b.s(p.floor + p.storey + 0.3)
    kinds = r.choice(
        (
            ("parapet", "parapet"),
            ("flat", "flat"),
            ("shed", "flat"),
            ("shed", "shedback"),
            ("parapet", "flat"),
        )
    )
    tall_first = r.random() < 0.5
    first = b.volume(
        0,
        split + 0.2 * (not tall_first),
        high if tall_first else low,
        b.roof(kinds[0], pitch=0.12),
        [(SKY, p.accent if tall_first else p.main)],
    )
    second = b.volume(
        split,
        w,
        low if tall_first else high,
        b.roof(kinds[1], pitch=0.15),
        [(SKY, p.second if tall_first else p.accent)],
    )
    tall, flat = (first, second) if tall_first else (second, first)
    b.door(tall, tall.x0 + (tall.x1 - tall.x0) * 0.3, 1.1, 2.3, r.choice(("flush", "glazed")))
    b.window(tall, tall.x1 - 1.0, p.floor + 0.1, 1.2, 2.2, "fixed", dressed=False)
    b.window(
        tall,
        tall.mid,
        p.floor + p.storey + 0.5,
        (tall.x1 - tall.x0) * 0.55,
        1.3,
        "ribbon",
        dressed=False,
    )
    edge = flat.x1 if flat is second else flat.x0
    cw = 1.8
    at = edge - cw / 2 if flat is second else edge + cw / 2
    b.window(flat, at, p.floor + 0.8, cw, 1.5, "double", dressed=False)
    rest = (flat.x0, at - cw / 2) if flat is second else (at + cw / 2, flat.x1)
    b.door(
        flat, sum(rest) / 2, min(2.8, rest[1] - rest[0] - 0.6), 2.2, "patio", steps=r.random() < 0.5
    )
    if front and r.random() < 0.5:
        attach.canopy(b, tall.x0 + (tall.x1 - tall.x0) * 0.3, 2.2, p.floor + 2.5)
    if r.random() < 0.3:
        attach.pier(b, w + 2.0, 0.5, 0, low - 0.05, cap=False)
    b.marks["y"] += [p.floor, p.floor + p.storey]


def extension(b: Builder, width: float, front: bool) -> None:
    """An old house with a new low box beside it; what goes is dashed."""
    r, p = b.rng, b.project
    w = b.s(min(width, 9))
    eave = b.s(p.floor + 2 * p.storey)
    kind = r.choice(("gable", "eaves", "hip"))
    old = b.volume(0, w, eave, b.roof(kind), [(SKY, p.main)])
    b.row(old, 2, p.floor + 0.9, 1.0, 1.4)
    b.row(old, 3, p.floor + p.storey + 0.9, 1.0, 1.3)
    if kind == "gable":
        _gable_mark(b, old)
    ew = b.s(r.uniform(3.5, 6))
    over = b.s(r.choice((0.0, 0.0, 1.0)))
    new = b.volume(
        w - over,
        w + ew,
        b.s(p.floor + p.storey + 0.2),
        b.roof(r.choice(("parapet", "flat", "shedback")), pitch=0.2),
        b.walls(r.random() < 0.4, main=r.choice((p.accent, p.second))),
    )
    b.door(new, new.mid, min(ew - 1.2, 3.2), 2.2, "patio")
    gone = [(w, 0.0), (w, 2.6), (w + ew * 0.7, 2.0), (w + ew * 0.7, 0.0)]
    b.scene.add(Item(None, [Stroke(gone, "hidden", dashed=True)]))
    if r.random() < 0.6:
        x = w * 0.5
        shut = [
            (x - 0.5, p.floor + 0.9),
            (x + 0.5, p.floor + 0.9),
            (x + 0.5, p.floor + 2.2),
            (x - 0.5, p.floor + 2.2),
        ]
        b.scene.add(Item(None, [Stroke(shut, "hidden", closed=True, dashed=True)]))
    b.marks["y"] += [p.floor, p.floor + p.storey]
