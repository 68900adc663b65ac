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

from corpus import strange
from corpus.arrangement import Placed, View, captions_on_paper, extent, on_paper, sheets_of
from corpus.buildings import make_building
from corpus.clutter import clutter
from corpus.contents import Office, make_office, make_views
from corpus.entities import Pen
from corpus.facades import facade_shapes
from corpus.habits import Habit
from corpus.placing import make_facade
from corpus.shapes import Shape
from corpus.truth import Ledger

UNITS = {"in": (1, 25.4), "ft": (2, 304.8), "mm": (4, 1.0), "cm": (5, 10.0), "m": (6, 1000.0)}
"""Unit -> its code in $INSUNITS (DXF reference, header variables) and its length in millimeters."""
SEEN = range(200)
"""Seeds that rules may be tuned on."""
KEPT_ASIDE = range(10_000, 10_200)
"""Seeds that nobody looks at."""


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


def make_sheet(seed: int) -> Sheet:
    """The sheet of a seed, always the same."""
    rng = random.Random(seed)
    office = make_office(rng, strangers=seed in KEPT_ASIDE)
    tags = {office.style.name, office.habit.name, office.language.name, office.version}
    with _no_marks_of_the_moment():
        doc = ezdxf.new(office.version, setup=True, units=0)
    tags.add(f"unit-{_set_unit(rng, doc, office.unit)}")
    views, scale = make_views(rng, office)
    if not any(v.kind == "elevation" for v in views):
        tags.add("no-elevation")
    size = office.text_size * scale
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
    rng: random.Random,
    doc: Drawing,
    pen: Pen,
    placed: Placed,
    scale: float,
    captions: list[list[Shape]],
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


def _set_unit(rng: random.Random, doc: Drawing, unit: str) -> str:
    """Right in half of the drawings, wrong in a third, missing in a sixth, all R12 among these.

    The shares are those of 19 human-drawn files that were looked at.
    """
    imperial = unit in ("in", "ft")
    doc.header["$MEASUREMENT"] = int(imperial == (rng.random() < 0.25))
    doc.header["$LUNITS"] = 4 if unit == "in" and rng.random() < 0.6 else 2
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
