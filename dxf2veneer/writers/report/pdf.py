"""The report as a PDF: each elevation to a usual scale on a page of its own, then the page's
tables.

    picture (SVG) ----------.
    tables (markup) -> blocks --> typesetter --> pages

The pictures and tables are those of the page; here they are only put onto paper. Typesetting is
left to a library that is an optional extra, because it weighs as much as all the others together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.writers.elevation.frame import Frame
from dxf2veneer.writers.elevation.picture import elevation_svg, style_text
from dxf2veneer.writers.markup import Markup, tag
from dxf2veneer.writers.report.appendix import APPENDIX, appendix
from dxf2veneer.writers.report.areas import tiles_of
from dxf2veneer.writers.report.courses import course_tables
from dxf2veneer.writers.report.legend import keys_of
from dxf2veneer.writers.report.notices import basis, notices
from dxf2veneer.writers.report.order import order_tables
from dxf2veneer.writers.report.page import sums, title_of
from dxf2veneer.writers.report.sheet import about_wall
from dxf2veneer.writers.sizes import fitting_scale, scale_words
from dxf2veneer.writers.typeset import PAPERS, write_pages
from dxf2veneer.writers.words import Callout, alert_words, places_of, wall_title

Block = dict[str, Any]

_MARGIN, _AROUND = 12.0, 46.0
"""Margin of a page, and what title, legend and foot of an elevation's page take of its height, in
millimeters."""


def write_pdf(takeoff: Takeoff, path: Path) -> None:
    """Write the report as PDF, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    write_pages("dxf2veneer.writers.report", "report.typ", content_of(takeoff), path)


def content_of(takeoff: Takeoff) -> dict[str, Any]:
    """Everything that stands on the pages, as text, pictures and tables.

    Args:
        takeoff: The takeoff.

    Returns:
        What the template sets, by name; the same for the same takeoff.
    """
    display, about = takeoff.job.output.display, takeoff.job.job
    paper = takeoff.job.output.paper or ("A4" if display == "metric" else "letter")
    places = places_of(takeoff)
    sections = [("Course lines", course_tables(takeoff))] if takeoff.walls else []
    sections += (
        [("Order and bid", order_tables(takeoff.order, takeoff.job.output.display))]
        if takeoff.order
        else []
    )
    sections += [
        ("Notices", notices(takeoff, places)),
        ("What the numbers rest on", basis(takeoff)),
        (APPENDIX, appendix(takeoff)),
    ]
    return {
        "title": title_of(takeoff),
        "alert": f"{alert}; see the notices" if (alert := alert_words(takeoff)) else "",
        "about": [legible(text) for text in (about.company, about.note) if text],
        "paper": PAPERS[paper],
        "tiles": tiles_of(takeoff),
        "summary": blocks_of(sums(takeoff)),
        "sheets": [_sheet(takeoff, wall, places, paper) for wall in takeoff.walls],
        "sections": [{"title": title, "blocks": blocks_of(markup)} for title, markup in sections],
        "caution": CAUTION,
    }


def _sheet(
    takeoff: Takeoff, wall: WallTakeoff, places: Sequence[Callout], paper: str
) -> dict[str, Any]:
    """One elevation: its picture and the size at which that is to scale on the paper."""
    frame, display = Frame.of(takeoff, wall), takeoff.job.output.display
    long, short = PAPERS[paper]
    room = (long - 2 * _MARGIN) / MM_PER_INCH, (short - 2 * _MARGIN - _AROUND) / MM_PER_INCH
    scale = fitting_scale(frame.width, frame.height, room, display)
    return {
        "title": wall_title(wall),
        "about": about_wall(takeoff, wall),
        "scale": (
            f"{scale_words(scale, display)} on "
            f"{paper if paper.startswith('A') else paper.capitalize()}"
        ),
        "picture": str(elevation_svg(takeoff, wall, places, alone=True)),
        "width": frame.width * MM_PER_INCH / scale,
        "keys": [
            {"text": text, "picture": _alone(picture)} for text, picture in keys_of(takeoff, wall)
        ],
    }


def _alone(picture: Markup) -> str:
    """A sign of the legend as a picture of its own."""
    style = tag("style", None, Markup(style_text()))
    return picture.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1).replace(
        ">", f">{style}", 1
    )


def blocks_of(markup: Markup) -> list[Block]:
    """What stands in a part of the page, in order: headings, paragraphs, lists, tables.

    Args:
        markup: A part of the page.

    Returns:
        The blocks in order.
    """
    return [
        block
        for element in ElementTree.fromstring(f"<div>{markup}</div>")
        for block in _blocks(element)
    ]


def _blocks(element: ElementTree.Element) -> Iterable[Block]:
    table = element.find("table")
    if table is not None:
        yield _table(table)
    elif element.get("class") == "beside":
        yield {"kind": "beside", "blocks": [block for inner in element for block in _blocks(inner)]}
    elif element.tag == "div":
        for inner in element:
            yield from _blocks(inner)
    elif element.tag == "ul":
        yield {"kind": "list", "items": [_text(item) for item in element]}
    else:
        yield {"kind": "heading" if element.tag == "h3" else "text", "text": _text(element)}


def _table(table: ElementTree.Element) -> Block:
    head = list(table.iterfind("thead/tr/th"))
    return {
        "kind": "table",
        "title": table.findtext("caption"),
        "head": [_text(cell) for cell in head],
        "numbers": [cell.get("class") == "n" for cell in head],
        "rows": [[_cell(cell) for cell in row] for row in table.iterfind("tbody/tr")],
        "last": [_text(cell) for cell in table.iterfind("tfoot/tr/td")],
    }


def _cell(cell: ElementTree.Element) -> dict[str, str]:
    """A cell's text, and what stands under it in small."""
    small = cell.find("small")
    under = "" if small is None else _text(small)
    return {"text": _text(cell).removesuffix(under).removesuffix(" ▸"), "small": under}


def _text(element: ElementTree.Element) -> str:
    return "".join(element.itertext())
