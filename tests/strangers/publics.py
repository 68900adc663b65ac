"""Other buildings: barns, garages, chapels, shops, schools, clinics, town houses."""

from __future__ import annotations

from . import attach
from .builder import SKY, Builder
from .geom import corners, spread
from .houses import _gable_mark
from .scene import Item, Stroke


def barn(b: Builder, width: float, front: bool) -> None:
    """A barn end: boards over a stone base, big doors, a loft hatch."""
    r, p = b.rng, b.project
    w = b.s(min(max(width, 8), 13))
    eave = b.s(r.uniform(3.2, 4.4))
    kind = r.choice(("gable", "gambrel", "gambrel"))
    boards = p.gable if p.gable.reason in ("boards", "siding") else p.main
    base = r.choice((0.5, 0.9, 1.2))
    if r.random() < 0.45:
        side = b.s(r.uniform(3, 4.5))
        lean = b.volume(w, w + side, 2.4, b.roof("shedback", pitch=0.28), [(SKY, boards)], "back")
        b.row(lean, 2, 1.1, 0.7, 0.7, design="cross")
    vol = b.volume(0, w, eave, b.roof(kind), [(base, p.accent), (SKY, boards)])
    if front:
        b.door(vol, w / 2, b.s(r.uniform(2.8, 3.6)), 2.8, "barn", steps=False, base=-9)
        for a, c in ((0.3, w / 2 - 2), (w / 2 + 2, w - 0.3)):
            b.row(vol, 1, 1.3, 0.9, 0.9, a, c, "cross")
    else:
        b.row(vol, 4, 1.4, 0.8, 0.8, design="cross")
    loft = eave - 0.2
    if r.random() < 0.6:
        b.door(vol, w / 2, 1.2, 1.6, "flush", steps=False, base=loft)
    else:
        b.vent(vol, w / 2, eave + 0.6, 0.9, 1.0, r.choice(("rect", "half", "round")))
    b.marks["y"] += [base, vol.top(w / 2)]


def garages(b: Builder, width: float, front: bool) -> None:
    """A detached garage for one to three cars."""
    r = b.rng
    n = r.choice((1, 2, 2, 3))
    bay = b.s(r.uniform(3.2, 3.6))
    w = n * bay + 0.6
    eave = b.s(2.75)
    kind = r.choice(("gable", "eaves", "hip", "parapet"))
    vol = b.volume(
        0,
        w,
        eave,
        b.roof(kind, rise=1.6),
        b.walls(r.random() < 0.75, kind == "gable" and r.random() < 0.5, eave),
    )
    if front:
        for x in spread(0.3, w - 0.3, n):
            b.garage(vol, x, 2.45, 2.15, r.choice(("sectional", "panels", "lites")))
    else:
        b.door(vol, w * 0.3, 0.9, 2.05)
        b.row(vol, 1, 1.0, 1.2, 1.0, w * 0.5, w)
    if kind == "gable":
        _gable_mark(b, vol)
    for x in (0.18, w - 0.18):
        if r.random() < 0.4:
            attach.lamp(b, x, 1.8)


def chapel(b: Builder, width: float, front: bool) -> None:
    """A chapel: stone gable or nave with buttresses, tower beside it, arched openings."""
    r, p = b.rng, b.project
    w = b.s(r.uniform(7, 9))
    eave = b.s(r.uniform(4, 5))
    tower = r.random() < 0.65
    roof = b.roof(r.choice(("coped", "gable")), pitch=r.choice((1.0, 1.2)))
    if front:
        vol = b.volume(0, w, eave, roof, [(SKY, p.accent)])
        b.door(vol, w / 2, 1.6, 2.9, "double", "arch")
        for x in (w * 0.2, w * 0.8):
            b.window(vol, x, 1.6, 0.8, 2.2, "grid", "arch")
        b.window(vol, w / 2, eave + 0.6, 1.4, 1.4, "cross", "round", False)
    else:
        n = r.choice((4, 5))
        w = b.s(n * 2.8)
        vol = b.volume(0, w, eave, b.roof("eaves", rise=3.5, over=0.2), [(SKY, p.accent)])
        b.row(vol, n, 1.5, 0.9, 2.3, design="grid", shape="arch")
        for i in range(1, n):
            attach.pier(b, i * w / n, 0.5, 0, eave - 0.7)
    if tower:
        tw = b.s(3.0)
        top = b.s(eave + r.uniform(3.5, 5))
        kind = r.choice(("parapet", "hip"))
        x = w if r.random() < 0.5 else -tw
        t = b.volume(
            x,
            x + tw,
            top,
            b.roof(kind, rise=3.5, pitch=2.6, over=0.2),
            [(eave + 0.5, p.accent), (SKY, r.choice((p.accent, p.second)))],
        )
        b.window(t, t.mid, 1.8, 0.7, 1.8, "grid", "arch")
        b.vent(t, t.mid, top - 2.2, 0.9, 1.6, "arch")
    b.marks["y"] += [vol.top(w / 2)]


def shop(b: Builder, width: float, front: bool) -> None:
    """A shop: piers of stone, storefronts between, sign band, parapet."""
    r, p = b.rng, b.project
    n = r.choice((2, 3, 4))
    bay = b.s(r.uniform(4.2, 5.4))
    w = n * bay
    top = b.s(r.choice((4.5, 5.2, 8.0)))
    two = top > 7
    bands = [(0.75, p.accent), (SKY, p.main)] if r.random() < 0.5 else [(SKY, p.main)]
    vol = b.volume(0, w, top, b.roof(r.choice(("parapet", "cornice", "flat"))), bands)
    shape = r.choice(("rect", "rect", "segment"))
    p.floor = 0.0
    entry = r.randrange(n)
    for i, x in enumerate(spread(0, w, n)):
        span = bay - 1.2
        if i == entry and front:
            b.door(vol, x, min(span, 3.4), 2.9, "storefront", steps=False)
        elif front:
            b.window(
                vol, x, 0.8 if len(vol.bands) > 1 else 0.35, span, 2.2, "storefront", shape, False
            )
            if r.random() < 0.35:
                attach.awning(b, x - span / 2 - 0.1, x + span / 2 + 0.1, 3.15)
        else:
            b.window(vol, x, 1.2, 1.2, 1.2)
        if two:
            b.row(vol, 2, 4.9, 1.0, 1.7, x - bay / 2 + 0.4, x + bay / 2 - 0.4)
    if front and r.random() < 0.7:
        high = 3.6 if two else top - r.choice((0.3, 0.9, 1.2))
        for i in range(n + 1):
            attach.pier(b, min(max(i * bay, 0.3), w - 0.3), 0.6, 0, high)
    if front:
        sign = corners(w * 0.3, 3.45 if two else top - 0.8, w * 0.7, 4.05 if two else top - 0.25)
        if r.random() < 0.6:
            b.scene.add(Item(None, [Stroke(sign, "fixture", closed=True)]))
        if r.random() < 0.3:
            attach.belt(b, vol, 4.2 if two else 3.7, 0.15)


def school(b: Builder, width: float, front: bool) -> None:
    """A long school or clinic: ribbons or grouped windows, entrance block, canopy."""
    r, p = b.rng, b.project
    n = r.choice((5, 6, 7))
    bay = b.s(r.uniform(3.3, 4.0))
    w = n * bay
    storeys = r.choice((1, 1, 2))
    h = 3.4
    top = b.s(p.floor + h * storeys + 0.4)
    kind = r.choice(("parapet", "flat", "hip", "eaves"))
    vol = b.volume(0, w, top, b.roof(kind, rise=2.0), b.walls(r.random() < 0.6))
    ribbon = r.random() < 0.5
    at = r.choice((1, n // 2, n - 2))
    for k in range(storeys):
        for i, x in enumerate(spread(0, w, n)):
            if i == at:
                continue
            b.window(
                vol,
                x,
                p.floor + k * h + 0.9,
                bay - (0.7 if ribbon else 1.4),
                1.7,
                "ribbon" if ribbon else "",
                dressed=not ribbon,
            )
    a, c = at * bay - 0.2, (at + 1) * bay + 0.2
    if r.random() < 0.65:
        block = b.volume(
            a,
            c,
            b.s(top + r.choice((0.6, 1.0))),
            b.roof(r.choice(("parapet", "gable", "flat")), pitch=0.5),
            [(SKY, p.accent)],
        )
    else:
        block = vol
    mid = (a + c) / 2
    b.door(block, mid, 2.6, 2.6, r.choice(("storefront", "french", "sidelights")))
    attach.canopy(b, mid, 3.4, p.floor + 2.75, 0.25)
    if r.random() < 0.5:
        for x in (mid - 1.55, mid + 1.55):
            attach.pier(b, x, 0.45, 0, p.floor + 2.66, cap=False)
    if storeys > 1 and r.random() < 0.5:
        attach.belt(b, vol, p.floor + h)
    b.marks["y"] += [p.floor + k * h for k in range(storeys)]


def town_house(b: Builder, width: float, front: bool) -> None:
    """A formal front: stone ground storey, rendered upper storeys, cornice, mansard."""
    r, p = b.rng, b.project
    n = r.choice((3, 5))
    w = b.s(n * r.uniform(2.4, 2.9))
    storeys = r.choice((2, 3))
    h = 3.2
    top = b.s(p.floor + h * storeys)
    shape = r.choice(("rect", "arch", "segment"))
    vol = b.volume(
        0,
        w,
        top,
        b.roof(r.choice(("mansard", "cornice", "hip")), rise=2.2),
        [(p.floor + h - 0.1, p.accent), (SKY, p.main)],
    )
    if p.quoins:
        attach.quoins(b, vol, top)
    b.door(vol, w / 2, 1.5, 2.6, "double", r.choice(("rect", "arch")))
    for k in range(storeys):
        b.row(
            vol,
            n,
            p.floor + k * h + 0.8,
            1.1,
            1.8,
            design=p.window,
            shape=shape if k == 0 else "rect",
        )
    if vol.roof.kind == "mansard":
        for x in spread(0, w, n)[::2]:
            attach.dormer(b, x, 1.5, top + p.fascia + 0.25, "gable")
    if storeys > 2:
        attach.belt(b, vol, p.floor + 2 * h - 0.1)
    b.marks["y"] += [p.floor + k * h for k in range(storeys)]
