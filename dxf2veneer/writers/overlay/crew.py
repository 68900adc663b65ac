"""Crew sheets in a drawing: a layout for each, which looks at its part of a wall at scale; texts,
ruler and cut list stand on the paper. Places on paper are inches from its lower left corner."""

from __future__ import annotations

import itertools
import math
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from ezdxf.document import Drawing as Document
from ezdxf.layouts.layout import Paperspace

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.crew_sheets.labels import TEXT_PT, label_of, line_step
from dxf2veneer.writers.crew_sheets.rows import CutRow
from dxf2veneer.writers.crew_sheets.sheets import (
    HEAD,
    KEY,
    LEFT_PT,
    LIST,
    MARGIN,
    SAFETY,
    TOP_PT,
    CrewSheet,
    list_head,
    opening_labels,
    paper_of,
    ruler_of,
    sheets_of,
    title_of,
)
from dxf2veneer.writers.overlay.layers import EntityTags, Key, layer_names
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.texts import LETTER_WIDTH, Align, Line
from dxf2veneer.writers.typeset import PAPERS
from dxf2veneer.writers.unfolded.strips import Placed
from dxf2veneer.writers.words import alert_words, datum_of

_POINT = 1.0 / 72.0
_CAP = 0.72
"""Height of a capital letter in that of its font, which is what a drawing calls a text's height."""

_NARROW = 0.82
"""Width of letters, so that they need no more room than on the printed sheets."""

_ROW_PT = 10.0
"""Distance of the list's rows in points."""

_STARTS_MM = (0.0, 6.0, 16.0, 36.0, 61.5, 71.0)
"""Where the list's columns begin."""

_WORDS_LETTERS = 78
"""Letters in a text of head and foot; a drawing keeps no more of one in every program."""

_FOOT_PT = 40.0
"""Height of the first line of the foot in points."""

_WORK_LETTERS = 26
"""Letters in a line of the list's last column."""

_HIDDEN: tuple[Key, ...] = ("sliver", "off", "fragile", "notice", "rule", "label")
"""Layers that a sheet does not show."""


class _Paper(NamedTuple):
    """Draws on one layout."""

    pen: Pen
    wall: str
    wide: float
    high: float

    def text(
        self, layer: Key, words: str, x: float, y: float, points: float = TEXT_PT,
        align: Align = "left",
    ) -> None:  # fmt: skip
        """One line of text, its middle at a height."""
        line = Line(for_dxf(words), x, y, points * _CAP * _POINT, align, _NARROW)
        self.pen.text(layer, line, EntityTags("sheet text", self.wall))

    def line(self, layer: Key, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A straight line."""
        self.pen.line(layer, start, end, EntityTags("sheet line", self.wall))


def draw_sheets(takeoff: Takeoff, doc: Document, pen: Pen, places: Mapping[str, Placed]) -> None:
    """A layout for each sheet, and for what a list has no room for beside its wall.

    Args:
        takeoff: The takeoff, with a course plan.
        doc: The drawing, with the walls at full size in its model space.
        pen: Draws into it.
        places: Where each wall stands there, by its id.
    """
    (empty,) = (name for name in doc.layouts.names() if name != "Model")
    for sheet in sheets_of(takeoff):
        rows: Sequence[list[_Cells]] = [_list_lines(row) for row in sheet.rows]
        with _layout(takeoff, doc, pen, sheet, "") as (layout, paper):
            _window(takeoff, layout, pen, sheet, places[sheet.entry.wall.id], paper)
            _labels(takeoff, sheet, paper)
            _sides(takeoff, sheet, paper)
            left = (paper.wide * MM_PER_INCH - MARGIN - LIST) / MM_PER_INCH
            rows = _list(takeoff, rows, paper, left)
        page = 1
        while rows:
            page += 1
            with _layout(takeoff, doc, pen, sheet, f" list {page}") as (_, paper):
                beside = math.floor((paper.wide * MM_PER_INCH - 2 * MARGIN) / (LIST + 5.0))
                for column in range(beside):
                    left = (MARGIN + column * (LIST + 5.0)) / MM_PER_INCH
                    rows = _list(takeoff, rows, paper, left)
    if len(doc.layouts) > 2:
        doc.layouts.delete(empty)


@contextmanager
def _layout(
    takeoff: Takeoff, doc: Document, pen: Pen, sheet: CrewSheet, more: str
) -> Iterator[tuple[Paperspace, _Paper]]:
    """A new layout with its head and foot; the pen draws on it meanwhile."""
    metric = takeoff.job.output.display == "metric"
    name, part = paper_of(takeoff), sheet.window
    long, short = PAPERS[name]
    own = sheet.entry.wall.id if part.of == 1 else f"{sheet.entry.wall.id} part {part.number}"
    layout = doc.layouts.new(f"{own}{more}")
    unit = 1.0 if metric else MM_PER_INCH
    layout.page_setup(
        size=(long / unit, short / unit),
        units="mm" if metric else "inch",
        scale=(1, 1),
        name=name,
        device="",
    )
    with pen.on_paper(layout):
        paper = _Paper(pen, sheet.entry.wall.id, long / MM_PER_INCH, short / MM_PER_INCH)
        _head_and_foot(takeoff, sheet, paper, more)
        yield layout, paper


def _head_and_foot(takeoff: Takeoff, sheet: CrewSheet, paper: _Paper, more: str) -> None:
    """Title, scale and what the whole set says."""
    edge = MARGIN / MM_PER_INCH
    top = paper.high - edge - 7.0 * _POINT
    paper.text("title", f"{title_of(takeoff)}: {sheet.title}{more}", edge, top, 13.0)
    _beside(paper, textwrap.wrap(sheet.about, _WORDS_LETTERS), top - 15.0 * _POINT)
    alert = alert_words(takeoff)
    if alert:
        paper.text("notice", alert, paper.wide - edge, top, 10.0, "right")
    _beside(paper, textwrap.wrap(f"{CAUTION} {SAFETY} {KEY}", _WORDS_LETTERS), _FOOT_PT * _POINT)


def _beside(paper: _Paper, texts: Sequence[str], y: float) -> None:
    """Texts side by side, in as many lines as they need downwards."""
    edge = MARGIN / MM_PER_INCH
    wide = _WORDS_LETTERS * LETTER_WIDTH * _CAP * _NARROW * TEXT_PT * _POINT
    in_line = max(1, math.floor((paper.wide - 2 * edge) / wide))
    for n, text in enumerate(texts):
        x, down = edge + n % in_line * wide, n // in_line * _ROW_PT * _POINT
        paper.text("title", text, x, y - down)


def _corner(sheet: CrewSheet, paper: _Paper) -> tuple[float, float]:
    """Where on paper the lower left corner of the part of the wall lies."""
    high = (sheet.window.y1 - sheet.window.y0) / sheet.scale
    top = paper.high - (MARGIN + 0.7 * HEAD) / MM_PER_INCH - TOP_PT * _POINT
    return MARGIN / MM_PER_INCH + LEFT_PT * _POINT, top - high


def _window(
    takeoff: Takeoff,
    layout: Paperspace,
    pen: Pen,
    sheet: CrewSheet,
    placed: Placed,
    paper: _Paper,
) -> None:
    """The part of the wall at scale."""
    part, (left, low) = sheet.window, _corner(sheet, paper)
    wide, high = (part.x1 - part.x0), (part.y1 - part.y0)
    names = layer_names(takeoff.job.output.layer_prefix)
    on_paper = (left + wide / sheet.scale / 2, low + high / sheet.scale / 2)
    middle = ((part.x0 + part.x1) / 2 + placed.dx, (part.y0 + part.y1) / 2 + placed.dy)
    view = layout.add_viewport(
        center=pen.units(on_paper),
        size=pen.units((wide / sheet.scale, high / sheet.scale)),
        view_center_point=pen.units(middle),
        view_height=pen.units((0.0, high))[1],
        dxfattribs={"layer": names["title"]},
    )
    view.frozen_layers = [names[key] for key in _HIDDEN]


def _labels(takeoff: Takeoff, sheet: CrewSheet, paper: _Paper) -> None:
    """Sizes on the pieces that are cut, and names of openings where they have room."""
    display, (left, low) = takeoff.job.output.display, _corner(sheet, paper)
    course = takeoff.product_of(sheet.entry.wall.id).panel.height
    part, scale = sheet.window, sheet.scale

    def lines(layer: Key, words: Sequence[str], x: float, y: float) -> None:
        step = line_step(scale) / scale
        for n, text in enumerate(words):
            up = ((len(words) - 1) / 2 - n) * step
            at = (left + (x - part.x0) / scale, low + (y - part.y0) / scale + up)
            paper.text(layer, text, *at, align="middle")

    for piece, number in sheet.numbers.items():
        label, _ = label_of(piece, number, course, scale, display)
        lines("piece", label.lines, label.x, label.y)
    for place in opening_labels(sheet, display):
        lines("label", place.lines, place.x, place.y)


def _sides(takeoff: Takeoff, sheet: CrewSheet, paper: _Paper) -> None:
    """Course numbers at the left, heights of course lines at the right, the ruler under it."""
    display, (left, low) = takeoff.job.output.display, _corner(sheet, paper)
    entry, part, scale = sheet.entry, sheet.window, sheet.scale
    right = left + (part.x1 - part.x0) / scale
    for course in entry.courses.courses:
        if course.y0 >= part.y1 or course.y1 <= part.y0:
            continue
        below, above = max(course.y0, part.y0), min(course.y1, part.y1)
        middle = low + ((below + above) / 2 - part.y0) / scale
        number = str(entry.courses.number(course.index))
        paper.text("number", number, left - 4.0 * _POINT, middle, 9.0, "right")
        y = low + (course.y0 - part.y0) / scale
        if course.y0 >= part.y0:
            paper.line("height", (right, y), (right + 5.0 * _POINT, y))
            words = length_text(course.y0 - datum_of(entry), display)
            paper.text("height", words, right + 6.5 * _POINT, y)
    for at, words in ruler_of(sheet.entry, part, scale, display):
        x, long = left + (at - part.x0) / scale, (8.0 if words else 4.0) * _POINT
        paper.line("height", (x, low), (x, low - long))
        if words:
            paper.text("height", words, x, low - (8.0 + 0.6 * TEXT_PT) * _POINT, align="middle")


_Cells = tuple[str, ...]


def _list_lines(row: CutRow) -> list[_Cells]:
    """A row of the list in lines: several where its last column is long."""
    *cells, work = row
    first, *rest = textwrap.wrap(work, _WORK_LETTERS) or [""]
    return [(*cells, first), *(("",) * len(cells) + (words,) for words in rest)]


def _list(
    takeoff: Takeoff, rows: Sequence[list[_Cells]], paper: _Paper, left: float
) -> Sequence[list[_Cells]]:
    """As many rows as one column has room for, under their headings; those that are left."""
    if not rows:
        return rows
    step, foot = _ROW_PT * _POINT, (_FOOT_PT + _ROW_PT) * _POINT
    y = paper.high - (MARGIN + 0.7 * HEAD) / MM_PER_INCH
    most = math.floor((y - foot) / step) - 1
    ends = list(itertools.accumulate(map(len, rows)))
    count = max(1, sum(end <= most for end in ends))
    lines = [list_head(takeoff), *itertools.chain.from_iterable(rows[:count])]
    for n, cells in enumerate(lines):
        for start, words in zip(_STARTS_MM, cells, strict=True):
            if words:
                paper.text("legend", words, left + start / MM_PER_INCH, y - n * step)
    rule = y - 0.5 * step
    paper.line("legend", (left, rule), (left + LIST / MM_PER_INCH, rule))
    return rows[count:]
