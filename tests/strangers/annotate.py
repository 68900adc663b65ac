"""Notes, levels, axes, dimensions, tags and titles of an elevation."""

from __future__ import annotations

from itertools import pairwise

from .builder import Builder
from .elevation import extent
from .emit import length
from .geom import Point
from .page import Blank, Dim, Leader, Mark, Page, Text
from .scene import Stroke
from .words import LEVELS, MATERIALS, SCALE


def annotate(b: Builder, page: Page, title: str) -> str:
    """Add the notes an office would put on the elevation; the title as it is written."""
    rng, level = b.rng, b.office.level
    x0, y0, x1, y1 = page.bounds()
    a, c = extent(b)
    if rng.random() < 0.65:
        _levels(b, page, x1)
    if rng.random() < (0.2, 0.3, 0.45)[level]:
        _axes(b, page, y1)
    if rng.random() < 0.5:
        _widths(b, page, min(y0, -0.5))
    if rng.random() < 0.35:
        _heights(b, page, x0)
    _notes(b, page, y1, a, c)
    if rng.random() < 0.3:
        _tags(b, page)
    return heading(b, page, title)


def heading(b: Builder, page: Page, title: str) -> str:
    """The title under a view."""
    office = b.office
    x0, y0, x1, _ = page.bounds()
    h = office.text(5.0 if office.shout else 3.5)
    y = y0 - 3 * h
    x = b.rng.choice((x0, (x0 + x1) / 2 - len(title) * h * 0.4))
    word = SCALE[office.lang]
    scale = {48: '1/4" = 1\'-0"', 64: '3/16" = 1\'-0"', 96: '1/8" = 1\'-0"'}.get(
        office.scale, f"1:{office.scale}"
    )
    if office.title == "none":
        return ""
    if office.title == "attr":
        bar = [Stroke([(0, -0.5 * h), (12 * h, -0.5 * h)], "text")]
        page.add(Mark("TITLE", x, y, "TITLE", title, h, bar))
    else:
        page.add(Text(x, y, title, h, rich=office.title == "mtext"))
        if b.rng.random() < 0.6:
            page.line([(x, y - 0.5 * h), (x + len(title) * h * 0.8, y - 0.5 * h)], "text")
    if b.rng.random() < 0.7:
        page.add(Text(x, y - 1.4 * h, f"{word} {scale}", h * 0.55))
    return title


def _distinct(values: list[float], gap: float) -> list[float]:
    out: list[float] = []
    for v in sorted(values):
        if not out or v - out[-1] > gap:
            out.append(v)
    return out


def _levels(b: Builder, page: Page, x1: float) -> None:
    office, rng = b.office, b.rng
    h = office.text(2.5)
    names = LEVELS[office.lang]
    ys = _distinct([0.0, *b.marks["y"]], 3 * h)
    a, c = extent(b)
    across = rng.random() < (0.15, 0.3, 0.45)[office.level]
    start = a - 0.5 if across else c + 0.4
    x = x1 + h
    for y in ys:
        page.line([(start, y), (x, y)], "level", dashed=True)
        text = length(office, y) if office.imperial else f"{y:+.2f}"
        if y == 0 and not office.imperial:
            text = "±0.00"
        name = names[_storey(y, [v.eave for v in b.volumes])]
        tri: list[Point] = [(x, y), (x - 0.6 * h, y + h), (x + 0.6 * h, y + h)]
        if office.attr_marks:
            marks = [Stroke([(0, 0), (-0.6 * h, h), (0.6 * h, h)], "level", closed=True)]
            page.add(Mark("LEVEL", x, y, "LEVEL", f"{name} {text}", h, marks, h, 0.2 * h))
        else:
            page.line(tri, "level", closed=True)
            page.line([(x, y), (x + 12 * h, y)], "level")
            page.add(Text(x + h, y + 0.3 * h, f"{name} {text}", h, "level"))


def _storey(y: float, eaves: list[float]) -> int:
    """Which of the level names fits a height."""
    if y < 1.0:
        return 0 if y == 0 else 1
    if any(abs(y - e) < 0.05 for e in eaves):
        return 3
    return 2 if y < max(eaves) else 4


def _axes(b: Builder, page: Page, y1: float) -> None:
    r = b.office.text(4.0)
    through = b.rng.random() < 0.5
    low = -1.0 if through else y1 + 0.3
    for i, x in enumerate(_distinct(b.marks["x"], 3 * r)):
        page.line([(x, low), (x, y1 + 1.0)], "level", dashed=True)
        page.circle(x, y1 + 1.0 + r, r, "level")
        page.add(Text(x, y1 + 1.0 + r, "ABCDEFGHJKLMN"[i % 13], r * 0.9, "level", "center"))


def _widths(b: Builder, page: Page, y0: float) -> None:
    xs = _distinct(b.marks["x"], 0.4)
    y = y0 - b.office.text(8)
    for a, c in pairwise(xs):
        page.add(Dim((a, y + 0.4), (c, y + 0.4), ((a + c) / 2, y)))
    if len(xs) > 2:
        low = y - b.office.text(7)
        page.add(Dim((xs[0], y), (xs[-1], y), ((xs[0] + xs[-1]) / 2, low)))


def _heights(b: Builder, page: Page, x0: float) -> None:
    ys = _distinct([0.0, *b.marks["y"]], 0.4)
    x = x0 - b.office.text(8)
    for a, c in pairwise(ys):
        page.add(Dim((x + 0.4, a), (x + 0.4, c), (x, (a + c) / 2), upright=True))


def _notes(b: Builder, page: Page, y1: float, a: float, c: float) -> None:
    """Materials written with leaders; a wall without texture gets one most often."""
    office, rng = b.office, b.rng
    h = office.text(2.5)
    told: set[str] = set()
    rows = {True: 0, False: 0}
    for face in b.scene.walls:
        bare = any(
            i.clad is not None and i.clad.reason == face.reason and not i.texture and not i.fills
            for i in b.scene.items
            if i.is_wall
        )
        if face.reason in told or face.outline.area < 1.5:
            continue
        if rng.random() > (0.85 if bare else 0.35):
            continue
        told.add(face.reason)
        spot = face.outline
        for o in b.scene.openings:
            spot = spot.difference(o.outline.buffer(0.1))
        p = spot.representative_point()
        words = MATERIALS[office.lang].get(face.reason, face.reason)
        words = words.upper() if office.shout else words
        if rng.random() < 0.7:
            right = p.x > (a + c) / 2
            y = y1 + h * (1 + 2.4 * rows[right])
            rows[right] += 1
            side = 1 if right else -1
            x = p.x + side * rng.uniform(0.5, 2.0)
            page.add(
                Leader([(p.x, p.y), (x - side * h, y + h / 2), (x - side * 0.2 * h, y + h / 2)])
            )
            page.add(
                Text(
                    x, y, words, h, align="left" if right else "right", rich=office.title == "mtext"
                )
            )
        else:
            w = len(words) * h * 0.8
            if office.level and rng.random() < 0.4:
                page.add(
                    Blank(
                        [
                            (p.x - w / 2, p.y - h),
                            (p.x + w / 2, p.y - h),
                            (p.x + w / 2, p.y + h),
                            (p.x - w / 2, p.y + h),
                        ]
                    )
                )
            page.add(Text(p.x, p.y, words, h, align="center"))


def _tags(b: Builder, page: Page) -> None:
    """Window and door tags inside or beside the openings."""
    h = b.office.text(2.0)
    names: dict[str, str] = {}
    for o in b.scene.openings:
        key = f"{o.reason}{o.outline.area:.2f}"
        tag = names.setdefault(key, f"{'W' if o.kind == 'window' else 'D'}{len(names) + 1}")
        p = o.outline.centroid
        r = 1.6 * h
        if b.office.attr_marks:
            ring = Stroke(
                [
                    (-r, 0),
                    (-r / 2, r * 0.87),
                    (r / 2, r * 0.87),
                    (r, 0),
                    (r / 2, -r * 0.87),
                    (-r / 2, -r * 0.87),
                ],
                "text",
                closed=True,
            )
            page.add(Mark("TAG", p.x, p.y, "NO", tag, h, [ring], -0.8 * h, -0.5 * h))
        else:
            page.circle(p.x, p.y, r, "text")
            page.add(Text(p.x, p.y, tag, h, align="center"))
