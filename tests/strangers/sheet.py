"""A whole sheet: chooses views, sets them out, frames them, writes drawing and truth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random
from typing import Any

from ezdxf.document import Drawing

from .annotate import annotate, heading
from .builder import Builder
from .elevation import KINDS, SISTERS, build
from .emit import Emitter, new_document
from .ground import Ground
from .office import Office, make_office, make_project
from .others import OFTEN, VIEWS
from .page import Page, Text
from .scene import Scene
from .truth import Truth
from .words import OTHERS, SIDES

PAPERS = ((0.297, 0.21), (0.42, 0.297), (0.594, 0.42), (0.841, 0.594), (1.189, 0.841))
BLANK_SHEET = 0.06


@dataclass
class View:
    """A view before it is placed."""

    kind: str
    title: str
    page: Page
    scene: Scene | None = None


def make_sheet(seed: int) -> tuple[Drawing, dict[str, Any]]:
    """The drawing of a seed and its truth."""
    rng = Random(seed * 7919 + 17)
    office = make_office(rng)
    views = _views(rng, office)
    doc = new_document(office)
    emitter = Emitter(doc, office, rng)
    truth = Truth(office)
    spots, right, top, low = _set_out(rng, office, views)
    if rng.random() < 0.7:
        _frame(rng, office, emitter, truth, right, top, low)
    for n, (view, (dx, dy)) in enumerate(zip(views, spots, strict=True)):
        if office.view_block and view.kind == "elevation":
            block = doc.blocks.new(f"VIEW{n + 1}")
            emitter.page(view.page, block, 0.0, 0.0)
            k = office.factor
            doc.modelspace().add_blockref(
                block.name, (round(dx * k, 6), round(dy * k, 6)), {"layer": office.layers["wall"]}
            )
        else:
            emitter.page(view.page, doc.modelspace(), dx, dy)
        truth.view(view.kind, view.title, view.page.bounds(), view.scene, dx, dy)
    if rng.random() < 0.1:
        _old_state(doc, emitter, views, spots)
    if rng.random() < 0.15 and office.version != "R12":
        paper = doc.layout("Layout1")
        paper.add_text("A-201", dxfattribs={"height": 5}).set_placement((10, 10))
        paper.add_lwpolyline([(0, 0), (420, 0), (420, 297), (0, 297)], close=True)
    return doc, truth.told()


def _views(rng: Random, office: Office) -> list[View]:
    project = make_project(rng, office)
    kind = rng.choice(list(KINDS))
    blank = rng.random() < BLANK_SHEET
    count = 0 if blank else rng.choice(((1, 1, 2), (1, 2, 2, 3), (2, 2, 3, 4))[office.level])
    titles = rng.sample(SIDES[office.lang], 4)
    if not office.shout:
        titles = [t.capitalize() for t in titles]
    views = []
    for i in range(count):
        this = SISTERS.get(kind, kind) if i % 2 and rng.random() < 0.7 else kind
        front = i == 0 or rng.random() < 0.3
        b = build(rng, office, replace(project), this, front)
        page = Page()
        page.scene(b.scene)
        told = annotate(b, page, titles[i])
        views.append(View("elevation", told, page, b.scene))
    extra = rng.choice(((0, 0, 1), (0, 1, 2), (1, 2, 3))[office.level])
    for name in _extras(rng, max(extra, 2 if blank else 0)):
        what, draw = VIEWS[name]
        page = draw(rng, office, project)
        words = OTHERS[office.lang].get(name, OTHERS[office.lang]["detail"])
        b = Builder(rng, office, project, Ground([(0, 0), (1, 0)]))
        told = heading(b, page, words if office.shout else words.capitalize())
        views.append(View(what, told, page))
    if office.level and rng.random() < 0.4:
        rng.shuffle(views)
    return views


def _extras(rng: Random, count: int) -> list[str]:
    """Names of other views, none twice."""
    names: list[str] = []
    while len(names) < count:
        name = rng.choice(OFTEN)
        if name not in names:
            names.append(name)
    return names


def _paper(office: Office, width: float, depth: float) -> tuple[float, float]:
    """The smallest paper that holds so much, title strip and margins included."""
    margin, strip = office.text(18), office.text(55)
    need = width + 2 * margin + strip, depth + 2 * margin
    for w, h in PAPERS:
        if w * office.scale >= need[0] and h * office.scale >= need[1]:
            return w * office.scale, h * office.scale
    return need


def _set_out(
    rng: Random, office: Office, views: list[View]
) -> tuple[list[tuple[float, float]], float, float, float]:
    """Places in rows from the top left; also the right, top and bottom reached."""
    gap = office.text(rng.choice((18, 25, 40)))
    sizes = [v.page.bounds() for v in views]
    widest = max(b[2] - b[0] for b in sizes)
    total = sum(b[2] - b[0] + gap for b in sizes)
    tries = [_rows(sizes, gap, max(widest, total / k)) for k in (1.0, 1.4, 1.8, 2.5, 3.5)]

    def waste(t: tuple[list[tuple[float, float]], float, float]) -> float:
        w, h = _paper(office, t[1], -t[2])
        return w * h

    spots, right, low = min(tries, key=waste)
    shift = office.snap(rng.choice((0.0, 0.0, 10.0, 250.0)))
    return [(x + shift, y + shift) for x, y in spots], right + shift, shift, low + shift


def _rows(
    sizes: list[tuple[float, float, float, float]], gap: float, limit: float
) -> tuple[list[tuple[float, float]], float, float]:
    """Views set side by side up to a width; the views of a row stand on one ground line."""
    rows: list[list[int]] = [[]]
    x = right = 0.0
    xs: list[float] = []
    for i, (x0, _, x1, _) in enumerate(sizes):
        if rows[-1] and x + x1 - x0 > limit + 0.01:
            rows.append([])
            x = 0.0
        rows[-1].append(i)
        xs.append(x - x0)
        x += x1 - x0 + gap
        right = max(right, x - gap)
    spots = [(0.0, 0.0)] * len(sizes)
    y = 0.0
    for row in rows:
        line = y - max(sizes[i][3] for i in row)
        for i in row:
            spots[i] = (xs[i], line)
        y = line + min(sizes[i][1] for i in row) - gap
    return spots, right, y + gap


def _frame(
    rng: Random,
    office: Office,
    emitter: Emitter,
    truth: Truth,
    right: float,
    top: float,
    low: float,
) -> None:
    """Sheet edge, border and title block on the smallest paper that holds the views."""
    left = top
    strip = office.text(55)
    w, h = _paper(office, right - left, top - low)
    free_x, free_y = w - strip - (right - left), h - (top - low)
    x0, y1 = left - free_x / 2, top + free_y * rng.choice((0.35, 0.5))
    x1, y0 = x0 + w, y1 - h
    page = Page()
    page.box(x0, y0, x1, y1, "frame")
    rim = office.text(8)
    page.box(x0 + rim, y0 + rim, x1 - rim, y1 - rim, "frame")
    _title_block(rng, office, page, x1 - rim, y0 + rim, strip - rim)
    emitter.page(page, emitter.doc.modelspace(), 0.0, 0.0)
    truth.view("sheet", "", page.bounds(), None, 0.0, 0.0)


def _title_block(rng: Random, office: Office, page: Page, x1: float, y0: float, w: float) -> None:
    h = office.text(10)
    x = x1 - w
    lines = [
        "A-201",
        f"{rng.randint(1, 28):02d}.{rng.randint(1, 12):02d}.2024",
        OTHERS[office.lang]["notes"],
        f"{rng.randint(100, 999)}-{rng.randint(1, 9)}",
    ]
    for i, text in enumerate(lines):
        page.box(x, y0 + i * h, x1, y0 + (i + 1) * h, "frame")
        page.add(
            Text(x + office.text(2), y0 + i * h + office.text(3), text, office.text(3), "frame")
        )


def _old_state(
    doc: Drawing, emitter: Emitter, views: list[View], spots: list[tuple[float, float]]
) -> None:
    """An older state of a view, kept on a layer that is switched off."""
    old = doc.layers.add("OLD", color=8)
    old.off()
    for view, (dx, dy) in zip(views, spots, strict=True):
        if view.kind == "elevation":
            x0, _, x1, y1 = view.page.bounds()
            page = Page()
            page.box(x0 + 1, 0, x1 - 1, 0.6 * y1, "wall")
            page.box(x0 + 2, 1, x0 + 3, 2, "wall")
            keep = emitter.office.layers["wall"]
            emitter.office.layers["wall"] = "OLD"
            emitter.page(page, doc.modelspace(), dx, dy)
            emitter.office.layers["wall"] = keep
            return
