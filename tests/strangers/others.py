"""Views that are no elevations: plans, sections, details, schedules, notes, site plans."""

from __future__ import annotations

from random import Random

from shapely.geometry import Polygon
from shapely.ops import unary_union

from .frames import outline
from .geom import Point, arc_points, corners, rect, stations
from .office import Office, Project
from .openings import window
from .page import Dim, Leader, Page, Text
from .scene import Fill, Stroke
from .words import LEVELS, MATERIALS


def plan(rng: Random, office: Office, project: Project) -> Page:
    """A floor plan: cut walls with openings, door swings, rooms, dimensions."""
    page = Page()
    w, d, t = office.snap(rng.uniform(8, 14)), office.snap(rng.uniform(6, 9)), 0.3
    solid = rect(0, 0, w, d).difference(rect(t, t, w - t, d - t))
    mx, my = w * rng.uniform(0.35, 0.6), d * rng.uniform(0.4, 0.6)
    solid = unary_union([solid, rect(mx, t, mx + 0.12, d - t), rect(t, my, mx, my + 0.12)])
    holes = [
        rect(x - 0.6, y - 0.1, x + 0.6, y + t + 0.1)
        for y in (0.0, d - t)
        for x in (w * 0.2, w * 0.75)
    ]
    doors = [(mx + 1.5, 0.0), (mx + 0.06, my + 1.2)]
    gaps = [
        *holes,
        rect(doors[0][0], -0.1, doors[0][0] + 1.0, t + 0.1),
        rect(mx - 0.1, my + 0.8, mx + 0.3, my + 1.7),
    ]
    cut = solid.difference(unary_union(gaps))
    pieces = list(cut.geoms) if cut.geom_type == "MultiPolygon" else [cut]
    for p in pieces:
        page.line(list(p.exterior.coords)[:-1], "plan", closed=True)
        for hole in p.interiors:
            page.line(list(hole.coords)[:-1], "plan", closed=True)
    if rng.random() < 0.6:
        page.add(Fill(cut, "poche", rng.choice(("SOLID", "ANSI31", "ANSI37")), 0.5))
    for h in holes:
        x0, y0, x1, y1 = h.bounds
        page.box(x0, y0 + 0.1, x1, y1 - 0.1, "window")
        page.line([(x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)], "window")
    x = doors[0][0]
    page.line([(x, t), (x, t + 1.0)], "door")
    page.add(Stroke(arc_points(x, t, 1.0, 0, 90), "door", arc=(x, t, 1.0, 0.0, 90.0)))
    page.line([(mx, my + 0.8), (mx - 0.9, my + 0.8)], "door")
    size = office.text(2.5)
    for n, (rx, ry) in enumerate(((mx / 2, my / 2), (mx / 2, (my + d) / 2), ((mx + w) / 2, d / 2))):
        page.add(Text(rx, ry, f"{n + 1:02d}", size, align="center"))
    _stair(page, w - 1.4, d - 3.4)
    for a, b in ((0.0, mx), (mx, w)):
        page.add(Dim((a, -0.3), (b, -0.3), ((a + b) / 2, -office.text(10))))
    page.add(Dim((-0.3, 0.0), (-0.3, d), (-office.text(10), d / 2), upright=True))
    return page


def _stair(page: Page, x: float, y: float) -> None:
    for i in range(11):
        page.line([(x, y + 0.28 * i), (x + 1.0, y + 0.28 * i)], "plan")
    page.line([(x, y), (x, y + 2.8)], "plan")


def section(rng: Random, office: Office, project: Project) -> Page:
    """A section: cut walls and slabs, rafters, levels."""
    page = Page()
    w, h, t = office.snap(rng.uniform(7, 10)), project.storey, 0.35
    n = rng.choice((1, 2))
    top = n * h + 0.2
    rise = w / 2 * project.pitch
    solids = [rect(0, -0.8, t, top), rect(w - t, -0.8, w, top), rect(t, -0.2, w - t, 0.0)]
    solids += [rect(t, k * h - 0.1, w - t, k * h + 0.15) for k in range(1, n + 1)]
    solids += [rect(-0.2, -1.1, t + 0.2, -0.8), rect(w - t - 0.2, -1.1, w + 0.2, -0.8)]
    body = unary_union(solids)
    pieces = list(body.geoms) if body.geom_type == "MultiPolygon" else [body]
    for p in pieces:
        page.line(list(p.exterior.coords)[:-1], "plan", closed=True)
        for hole in p.interiors:
            page.line(list(hole.coords)[:-1], "plan", closed=True)
    if rng.random() < 0.7:
        page.add(Fill(body, "poche", rng.choice(("ANSI31", "SOLID", "AR-CONC")), 0.5))
    o, s = 0.5, project.pitch
    for lift in (0.0, 0.22, 0.3):
        page.line(
            [(-o, top - o * s + lift), (w / 2, top + rise + lift), (w + o, top - o * s + lift)],
            "plan",
        )
    for k in range(n):
        y = k * h
        page.box(w * 0.3, y + 0.05, w * 0.3 + 0.9, y + 2.1, "door")
        page.box(w * 0.6, y + 0.9, w * 0.6 + 1.2, y + 2.1, "window")
    a, b = -2.0, w + 2.0
    page.line([(a, -0.15), (0, -0.15)], "ground")
    page.line([(w, -0.15), (b, -0.15)], "ground")
    if rng.random() < 0.5:
        for x0, x1 in ((a, 0.0), (w, b)):
            page.add(Fill(rect(x0, -0.4, x1, -0.15), "ground", "EARTH", 0.5))
    size = office.text(2.5)
    for i, y in enumerate((0.0, h, top + rise)):
        page.line([(w + 0.5, y), (b + 0.5, y)], "level")
        page.add(Text(b + 0.5, y + 0.1, f"{LEVELS[office.lang][i + 1]}", size, "level"))
    return page


def detail(rng: Random, office: Office, project: Project) -> Page:
    """An eaves detail, drawn five times too large."""
    page, k = Page(), 5.0
    wall = rect(0, 0, 0.3 * k, 1.0 * k)
    skin = rect(-0.1 * k, 0, -0.02 * k, 0.9 * k)
    for p in (wall, skin):
        page.line(list(p.exterior.coords)[:-1], "plan", closed=True)
    page.add(Fill(wall, "poche", "ANSI31", 0.6))
    page.add(Fill(skin, "poche", rng.choice(("AR-CONC", "ANSI37")), 0.5))
    rafter = [(-0.5 * k, 0.75 * k), (0.6 * k, 1.3 * k), (0.6 * k, 1.45 * k), (-0.5 * k, 0.9 * k)]
    page.line(rafter, "plan", closed=True)
    page.box(-0.56 * k, 0.68 * k, -0.5 * k, 0.92 * k, "plan")
    page.add(
        Stroke(
            arc_points(-0.63 * k, 0.86 * k, 0.07 * k, 180, 360),
            "plan",
            arc=(-0.63 * k, 0.86 * k, 0.07 * k, 180.0, 360.0),
        )
    )
    size = office.text(2.5)
    words = list(MATERIALS[office.lang].values())
    for i, spot in enumerate(((-0.06, 0.4), (0.15, 0.6), (0.3, 1.2))):
        y = (0.3 + 0.3 * i) * k
        page.add(Leader([(spot[0] * k, spot[1] * k), (0.8 * k, y), (0.9 * k, y)]))
        page.add(Text(0.9 * k + size, y, rng.choice(words), size))
    page.circle(0.0, 0.75 * k, 1.1 * k, "text")
    return page


def schedule(rng: Random, office: Office, project: Project) -> Page:
    """A table of windows, each drawn in its cell."""
    page = Page()
    cell, n = office.text(30) if office.scale > 60 else 2.4, rng.choice((3, 4, 5))
    cell = max(cell, 2.4)
    for i in range(n):
        w, h = rng.choice((0.8, 1.0, 1.2)), rng.choice((1.0, 1.3, 1.5))
        d = window(rng, project, project.window, "rect", w, h, dressed=False)
        x = i * cell
        page.box(x, 0, x + cell, cell, "frame")
        page.box(x, -0.7, x + cell, 0, "frame")
        for s in d.strokes:
            page.add(s.moved(x + (cell - w) / 2, (cell - h) / 2))
        page.add(Text(x + 0.15, -0.5, f"W{i + 1}  {w:.2f} x {h:.2f}", office.text(2.0)))
    return page


def notes(rng: Random, office: Office, project: Project) -> Page:
    """A list of notes and a key of finishes with patches of texture."""
    page = Page()
    h = office.text(2.5)
    words = list(MATERIALS[office.lang].items())
    clads = {c.reason: c for c in (project.main, project.accent, project.gable, project.second)}
    y = 0.0
    for i, (reason, word) in enumerate(rng.sample(words, 5)):
        area = Polygon(corners(0, y, 5 * h, y + 2.2 * h))
        page.line(corners(0, y, 5 * h, y + 2.2 * h), "frame", closed=True)
        clad = clads.get(reason)
        if clad is not None and clad.pattern:
            page.add(Fill(area, "hatch", clad.pattern, clad.size, clad.angle))
        elif clad is not None and clad.way in ("level", "upright"):
            for p in stations(y, y + 2.2 * h, 0.4 * h):
                page.line([(0, p), (5 * h, p)], "hatch")
        page.add(Text(6 * h, y + 0.6 * h, f"{i + 1}. {word}", h))
        y -= 3 * h
    for i in range(rng.choice((0, 3, 5))):
        page.add(Text(0, y - i * 1.8 * h, f"{i + 1}. {word} - {rng.randint(10, 99)}", h))
    return page


def site(rng: Random, office: Office, project: Project) -> Page:
    """A site plan with plot, house, trees and north arrow."""
    page = Page()
    plot: list[Point] = [(0, 0), (16, 0.8), (15, 12), (1, 11)]
    page.line(plot, "plan", closed=True, dashed=True)
    page.line([(4, 3), (10, 3), (10, 5), (12, 5), (12, 8.5), (4, 8.5)], "plan", closed=True)
    if rng.random() < 0.6:
        page.add(
            Fill(
                Polygon([(4, 3), (10, 3), (10, 5), (12, 5), (12, 8.5), (4, 8.5)]),
                "poche",
                "ANSI31",
                0.8,
            )
        )
    for _ in range(5):
        x, y, r = rng.uniform(1, 14), rng.choice((1.5, 10.0)), rng.uniform(0.5, 1.0)
        page.circle(x, y, r, "plant")
        page.circle(x, y, 0.1, "plant")
    page.circle(14.0, 14.0, 0.9, "text")
    page.line([(14, 13.1), (14.3, 14), (14, 14.9), (13.7, 14)], "text", closed=True)
    page.add(Text(14, 15.3, "N", office.text(3.5), align="center"))
    return page


def cover(rng: Random, office: Office, project: Project) -> Page:
    """A door type drawn alone, as a small detail."""
    page = Page()
    page.line(outline("arch", 1.2, 2.4), "door", closed=True)
    page.line(outline("arch", 1.2, 2.4, 0.1), "door", closed=True)
    page.add(Dim((0, 0), (1.2, 0), (0.6, -0.8)))
    page.add(Dim((0, 0), (0, 2.4), (-0.8, 1.2), upright=True))
    return page


OFTEN = (
    "plan",
    "plan",
    "plan",
    "section",
    "section",
    "detail",
    "schedule",
    "notes",
    "site",
    "door",
)
VIEWS = {
    "plan": ("plan", plan),
    "section": ("section", section),
    "detail": ("detail", detail),
    "schedule": ("other", schedule),
    "notes": ("other", notes),
    "site": ("plan", site),
    "door": ("detail", cover),
}
