"""Where views stand on a sheet, and the paper space that looks at them through viewports."""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from ezdxf.document import Drawing

from corpus import other_views
from corpus.entities import Pen, Placement
from corpus.placing import Facade
from corpus.shapes import Shape, box_of
from corpus.words import Language

Box = tuple[float, float, float, float]


@dataclass
class View:
    """A view before it has its place: shapes in millimeters about an origin of its own.

    ``caption`` is its title with lines and scale note; it stands in model space or on paper.
    """

    kind: str
    title: str
    shapes: list[Shape]
    caption: list[Shape] = field(default_factory=list)
    facade: Facade | None = None
    scale: float = 1.0

    @property
    def box(self) -> Box:
        x0, y0, x1, y1 = (v * self.scale for v in box_of([*self.shapes, *self.caption]))
        return x0, y0, x1, y1


Placed = list[tuple[View, Placement]]


def arranged(rng: random.Random, views: list[View], size: float) -> Placed:
    """Views in rows, elevations of a row on one level; ``size`` is the height of ordinary text."""
    gap = size * rng.choice([5, 8, 12, 20])
    boxes = [v.box for v in views]
    area = sum((b[2] - b[0] + gap) * (b[3] - b[1] + gap) for b in boxes)
    widest = max((area * rng.choice([0.9, 1.6, 2.2])) ** 0.5, max(b[2] - b[0] for b in boxes))
    rows: list[list[View]] = [[]]
    used = 0.0
    for view in views:
        wide = view.box[2] - view.box[0]
        if rows[-1] and used + wide > widest:
            rows.append([])
            used = 0.0
        rows[-1].append(view)
        used += wide + gap
    placed: Placed = []
    top = 0.0
    for row in rows:
        high = max(_rise(v) for v in row)
        x, low = 0.0, 0.0
        for view in row:
            x0, y0, x1, _ = view.box
            placed.append((view, Placement(x - x0, top - high, view.scale)))
            x += x1 - x0 + gap
            low = min(low, y0)
        top += low - high - gap
    return placed


def sheets_of(
    rng: random.Random, views: list[View], language: Language, size: float, frames: bool
) -> Placed:
    """All views in model space, now and then as two sheets side by side, with their frames."""
    halves = [views]
    if len(views) > 3 and rng.random() < 0.2:
        halves = [views[: len(views) // 2], views[len(views) // 2 :]]
    placed: Placed = []
    for half in halves:
        part = arranged(rng, half, size)
        if frames:
            part += framed(rng, part, language, size)
        if placed:
            shift = extent(placed)[2] + 20 * size - extent(part)[0]
            part = [(v, replace(p, dx=p.dx + shift)) for v, p in part]
        placed += part
    return away(rng, placed)


def _rise(view: View) -> float:
    return view.box[3]


def extent(placed: Placed) -> Box:
    """The box of views where they stand, in millimeters."""
    boxes = [(v.box, p) for v, p in placed]
    return (
        min(b[0] + p.dx for b, p in boxes),
        min(b[1] + p.dy for b, p in boxes),
        max(b[2] + p.dx for b, p in boxes),
        max(b[3] + p.dy for b, p in boxes),
    )


def framed(rng: random.Random, placed: Placed, language: Language, size: float) -> Placed:
    """The frame with its title block around views in model space."""
    x0, y0, x1, y1 = extent(placed)
    title = next((v.title for v, _ in placed if v.title), "")
    margin, foot = 10 * size, 28 * size
    wide, tall = max(x1 - x0 + 2 * margin, 80 * size), y1 - y0 + margin + foot
    shapes = other_views.sheet_frame(rng, language, wide, tall, size, title)
    return [(View("sheet", "", shapes), Placement(x0 - margin, y0 - foot))]


def away(rng: random.Random, placed: Placed) -> Placed:
    """The same somewhere else: offices draw far from the origin, too."""
    dx, dy = rng.choice([(0.0, 0.0), (0.0, 0.0), (123_450.0, -67_890.0), (2.5e6, 5.4e6)])
    return [(v, Placement(p.dx + dx, p.dy + dy, p.scale)) for v, p in placed]


def on_paper(
    rng: random.Random, doc: Drawing, pen: Pen, placed: Placed, scale: float, model_mm: float
) -> None:
    """A layout with a frame, and viewports on the views at the sheet's scale.

    Args:
        rng: Decides between one viewport for all and one for each view.
        doc: The document; its first layout is used.
        pen: Draws on paper: its unit is that of the paper, millimeters or inches.
        placed: The views in model space.
        scale: Millimeters of the building for a millimeter of paper.
        model_mm: Millimeters of a drawing unit of model space.
    """
    layout = doc.layouts.get("Layout1")
    x0, y0, x1, y1 = extent(placed)
    size, margin = 2.5, 25.0
    wide, tall = (x1 - x0) / scale + 2 * margin, (y1 - y0) / scale + 2 * margin + 70.0
    title = next((v.title for v, _ in placed if v.title), "")
    frame = other_views.sheet_frame(rng, pen.language, max(wide, 220.0), tall, size, title)
    pen.draw(frame, layout, Placement())
    shift = Placement(margin - x0 / scale, margin + 70.0 - y0 / scale)
    windows = [extent([one]) for one in placed]
    if rng.random() < 0.4:
        windows = [(x0, y0, x1, y1)]
    for a, b, c, d in windows:
        center = (
            pen.units((a + c) / 2 / scale + shift.dx),
            pen.units((b + d) / 2 / scale + shift.dy),
        )
        look = (a + c) / 2 / model_mm, (b + d) / 2 / model_mm
        across, high = (c - a) / scale + 6.0, (d - b) / scale + 6.0
        layout.add_viewport(
            center, (pen.units(across), pen.units(high)), look, high * scale / model_mm,
            dxfattribs=pen.layer("frame"),
        )  # fmt: skip


def captions_on_paper(pen: Pen, doc: Drawing, placed: Placed, scale: float, drawn: Box) -> None:
    """Titles that stand in the layout, below the viewports."""
    layout = doc.layouts.get("Layout1")
    x0, y0, _, _ = drawn
    margin = 25.0
    for view, place in placed:
        dx = margin + (place.dx - x0) / scale
        dy = margin + 70.0 + (place.dy - y0) / scale
        pen.draw(view.caption, layout, Placement(dx, dy, place.scale / scale))
