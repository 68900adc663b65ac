"""A whole sheet from a seed: which views it has, who drew it, in which unit, and what is true."""

from __future__ import annotations

import io
import logging
import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path as File
from typing import Any

import ezdxf
from ezdxf.document import Drawing

from corpus import non_elevations, other_views, strange, surroundings
from corpus.arrangement import Placed, View, captions_on_paper, extent, on_paper, sheets_of
from corpus.buildings import make_building
from corpus.clutter import clutter
from corpus.entities import Pen
from corpus.extras import extras
from corpus.facades import facade_shapes
from corpus.habits import HABITS, Habit
from corpus.placing import make_facade
from corpus.shapes import Shape
from corpus.styles import STYLES, Style
from corpus.truth import Ledger
from corpus.words import LANGUAGES, Language

UNITS = {"in": (1, 25.4), "ft": (2, 304.8), "mm": (4, 1.0), "cm": (5, 10.0), "m": (6, 1000.0)}
"""Unit -> its code in $INSUNITS (DXF reference, header variables) and its length in millimeters."""
SEEN = range(200)
"""Seeds that rules may be tuned on."""
KEPT_ASIDE = range(10_000, 10_200)
"""Seeds that nobody looks at."""
VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")


def _is_news(record: logging.LogRecord) -> bool:
    """That R12 has no unit is known here."""
    return "$INSUNITS" not in record.getMessage()


@contextmanager
def _no_marks_of_the_moment() -> Iterator[None]:
    """Dates and random identifiers are fixed, so that the same seed gives the same bytes."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    logging.getLogger("ezdxf").addFilter(_is_news)
    try:
        yield
    finally:
        logging.getLogger("ezdxf").removeFilter(_is_news)
        ezdxf.options.write_fixed_meta_data_for_testing = before


@dataclass
class Sheet:
    """A drawing with what is true of it.

    ``truth`` has the JSON shape of a proposal. ``tags`` say what is hard about the sheet.
    """

    seed: int
    doc: Drawing
    truth: dict[str, Any]
    tags: set[str]

    def text(self) -> str:
        """The DXF text, without dates and other marks of the moment."""
        with _no_marks_of_the_moment():
            stream = io.StringIO()
            self.doc.write(stream)
            return stream.getvalue()

    def write(self, path: File) -> File:
        """Write the drawing in the encoding that its version wants."""
        path.write_bytes(self.text().encode(self.doc.output_encoding, errors="dxfreplace"))
        return path


@dataclass(frozen=True)
class Office:
    """Who drew a sheet."""

    style: Style
    habit: Habit
    language: Language
    unit: str
    version: str

    @property
    def imperial(self) -> bool:
        return self.unit in ("in", "ft")


def make_sheet(seed: int) -> Sheet:
    """The sheet of a seed, always the same."""
    rng = random.Random(seed)
    office = _office(rng, seed)
    tags = {office.style.name, office.habit.name, office.language.name, office.version}
    with _no_marks_of_the_moment():
        doc = ezdxf.new(office.version, setup=True, units=0)
    tags.add(f"unit-{_set_unit(rng, doc, office.unit)}")
    views, scale = _views(rng, office)
    if not any(v.kind == "elevation" for v in views):
        tags.add("no-elevation")
    size = _text_size(office) * scale
    pen = Pen(doc, office.style, office.habit, office.language, UNITS[office.unit][1], rng)
    paper = rng.random() < 0.2
    captions = _captions_apart(views) if paper and rng.random() < 0.5 else []
    frames = not paper and rng.random() < 0.8
    placed = sheets_of(rng, views, office.language, size, frames)
    if paper:
        _draw_paper(rng, doc, pen, placed, scale, captions)
        tags.add("paper")
    truth = {"unit": office.unit, "unit_evidence": [], "views": [], "walls": [], "openings": []}
    ledger = Ledger(truth, pen.unit_mm)
    for number, (view, place) in enumerate(placed, 1):
        pen.draw_view(f"VIEW{number}", [*view.shapes, *view.caption], doc.modelspace(), place)
        ledger.add(view, place)
        if view.facade:
            tags |= view.facade.building.tags
    if rng.random() < 0.37:
        _draw_hidden(rng, pen, placed, office)
        tags.add("hidden")
    tags |= clutter(rng, doc, pen, placed)
    if seed in KEPT_ASIDE:
        strange.disturb(rng, doc, office.style.name)
    return Sheet(seed, doc, truth, tags)


def _captions_apart(views: list[View]) -> list[list[Shape]]:
    """Takes the captions from the views, so that they can stand on paper."""
    captions = [view.caption for view in views]
    for view in views:
        view.caption = []
    return captions


def _draw_paper(
    rng: random.Random, doc: Drawing, pen: Pen, placed: Placed, scale: float, captions: list[list[Shape]]
) -> None:
    """A layout over the views; paper is measured in millimeters or inches."""
    paper_mm = 25.4 if pen.unit_mm in (25.4, 304.8) else 1.0
    paper_pen = replace(pen, unit_mm=paper_mm, blocks={})
    on_paper(rng, doc, paper_pen, placed, scale, pen.unit_mm)
    if captions:
        titled = [
            (replace(view, shapes=view.shapes, caption=caption), place)
            for (view, place), caption in zip(placed, captions, strict=True)
        ]
        captions_on_paper(paper_pen, doc, titled, scale, extent(placed))


def _draw_hidden(rng: random.Random, pen: Pen, placed: Placed, office: Office) -> None:
    """Another state of one view in the same place, on a layer that is frozen or off."""
    view, place = rng.choice(placed)
    size = rng.choice([1.0, 1.0, 0.9])
    name = f"{office.language.layers['hidden']} {rng.choice(['1', 'alt', 'x', '2018'])}"
    hidden = replace(pen, habit=Habit("hidden", lambda group, language: name), blocks={})
    facade = make_facade(rng, make_building(rng, 50.0))
    shapes = facade_shapes(rng, facade, office.style) if view.facade else view.shapes
    hidden.draw(shapes, pen.doc.modelspace(), replace(place, scale=place.scale * size))
    layer = pen.doc.layers.get(name)
    if rng.random() < 0.5:
        layer.freeze()
    else:
        layer.off()


def _office(rng: random.Random, seed: int) -> Office:
    styles, languages = list(STYLES), list(LANGUAGES)
    if seed in KEPT_ASIDE:
        styles += strange.STYLES
        languages += strange.LANGUAGES * 2
    language = rng.choice(languages)
    units = ["in", "ft"] if language.name == "en" and rng.random() < 0.75 else ["mm", "mm", "cm", "m"]
    version = rng.choices(VERSIONS, [2, 3, 3, 3, 3, 3, 3])[0]
    return Office(rng.choices(styles, [s.weight for s in styles])[0], rng.choice(HABITS), language, rng.choice(units), version)


def _set_unit(rng: random.Random, doc: Drawing, unit: str) -> str:
    """Right in half of the drawings, wrong in a third, missing in a sixth, all R12 among these.

    The shares are those of 19 human-drawn files that were looked at.
    """
    chance = rng.random()
    if doc.dxfversion == "AC1009":
        return "missing"
    if chance < 0.075:
        doc.header["$INSUNITS"] = 0
        return "missing"
    if chance < 0.075 + 0.37:
        wrong = rng.choice([u for u in UNITS if u != unit])
        doc.header["$INSUNITS"] = UNITS[wrong][0]
        return "wrong"
    doc.header["$INSUNITS"] = UNITS[unit][0]
    return "right"


def _text_size(office: Office) -> float:
    """Height of ordinary text on paper, in millimeters."""
    return 2.4 if office.imperial else 2.5


def _views(rng: random.Random, office: Office) -> tuple[list[View], float]:
    """The views of a sheet and its scale."""
    scale = rng.choice([48.0, 96.0, 64.0] if office.imperial else [50.0, 100.0, 100.0, 200.0])
    size, step = _text_size(office) * scale, 25.4 if office.imperial else 10.0
    note = office.language.scale.format(_scale_text(scale, office.imperial))
    count = rng.choices([0, 1, 2, 3, 4], [12, 34, 24, 12, 18])[0]
    titles = rng.sample(office.language.elevation, max(count, 1))
    views = [_elevation(rng, office, titles[i], note, size, step) for i in range(count)]
    others = rng.choices(["plan", "section", "detail"], [4, 3, 2], k=rng.choice([0, 1, 1, 2, 3]))
    if not count and not others:
        others = ["plan", "section"]
    for kind in others:
        views.append(_other(rng, office, kind, note, size, step))
    if rng.random() < 0.25:
        views.append(View("other", "", other_views.legend(rng, office.language, size)))
    if rng.random() < 0.12:
        views.append(View("other", "", non_elevations.schedule(rng, office.language, size)))
    if rng.random() < 0.12:
        views.append(View("other", "", non_elevations.table(rng, office.language, size)))
    if rng.random() < 0.25:
        views.append(View("other", "", other_views.scrap(rng, size)))
    rng.shuffle(views)
    return views, scale


def _scale_text(scale: float, imperial: bool) -> str:
    if imperial:
        return {48.0: "1/4\" = 1'-0\"", 96.0: "1/8\" = 1'-0\"", 64.0: "3/16\" = 1'-0\""}[scale]
    return f"1:{scale:.0f}"


def _elevation(rng, office: Office, title: str, note: str, size: float, step: float) -> View:
    facade = make_facade(rng, make_building(rng, step * (1 if office.imperial else 5)))
    shapes = facade_shapes(rng, facade, office.style)
    shapes += surroundings.ground_line(rng, facade)
    if rng.random() < 0.6:
        shapes += surroundings.level_marks(rng, facade, size, office.imperial)
    if rng.random() < 0.6:
        shapes += surroundings.dimensions(rng, facade, size)
    if rng.random() < 0.25:
        shapes += surroundings.grid(rng, facade, size)
    if rng.random() < 0.35:
        shapes += surroundings.plants(rng, facade)
    shapes += extras(rng, facade, size, office.language)
    return _with_title(rng, View("elevation", title, shapes, facade=facade), note, size)


def _with_title(rng: random.Random, view: View, note: str, size: float) -> View:
    """The view with its caption; one in seven has none."""
    if rng.random() < 0.15:
        view.title = ""
        return view
    note = note if rng.random() < 0.7 else ""
    view.caption = surroundings.titled(rng, view.shapes, view.title, note, size)
    return view


def _other(rng: random.Random, office: Office, kind: str, note: str, size: float, step: float) -> View:
    """A plan, a section or a detail of some sort."""
    language = office.language
    if kind == "detail":
        shapes = other_views.detail(rng, language, size / 5)
        view = View(kind, rng.choice(language.detail), shapes, scale=5.0)
        return _with_title(rng, view, "", size / 5)
    if kind == "plan":
        sort = rng.choices(["floor", "roof", "site"], [3, 1, 1])[0]
        if sort == "floor":
            titles, shapes = language.plan, other_views.plan(rng, language, size, step)
        elif sort == "roof":
            titles, shapes = language.roof_plan, non_elevations.roof_plan(rng, size, step)
        else:
            titles, shapes = language.site_plan, non_elevations.site_plan(rng, size)
        return _with_title(rng, View(kind, rng.choice(titles), shapes), note, size)
    if rng.random() < 0.75:
        shapes = other_views.section(rng, size, step)
    else:
        shapes = non_elevations.framing(rng, size, step)
    return _with_title(rng, View(kind, rng.choice(language.section), shapes), note, size)
