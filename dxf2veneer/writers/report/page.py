"""The report: one page that holds everything, opens without a network, and prints.

    name, company, note          tiles                areas, runs, panels
    elevation                    picture, legend      one a printed page
    order, labor, bid
    notices, rules               each jumps to its mark in a picture
    drawings, panel, cautions
    settings, bounds      the appendix

The page may run one script and use one style, named by their digests; nothing else can run or be
loaded.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from dxf2veneer.model import Takeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.writers.elevation.picture import style_text
from dxf2veneer.writers.markup import Markup, joined, page_policy, script_json, tag
from dxf2veneer.writers.report.appendix import APPENDIX, appendix
from dxf2veneer.writers.report.areas import areas, openings, runs, tiles
from dxf2veneer.writers.report.changes import change_list
from dxf2veneer.writers.report.courses import course_tables
from dxf2veneer.writers.report.notices import alerts, basis, notices
from dxf2veneer.writers.report.order import order_tables
from dxf2veneer.writers.report.panels import panels
from dxf2veneer.writers.report.sheet import region, sheet, tools
from dxf2veneer.writers.unfolded import SKETCH, sketched, strips_svg
from dxf2veneer.writers.words import (
    Callout,
    angle_words,
    end_words,
    kind_words,
    piece_key,
    places_of,
    tape,
    unit_words,
    wall_title,
)


def write_report(takeoff: Takeoff, path: Path) -> None:
    """Write the report into a file, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    text = report_text(takeoff)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def report_text(takeoff: Takeoff) -> str:
    """The whole page; the same bytes for the same takeoff.

    Args:
        takeoff: The takeoff.

    Returns:
        The page; the same bytes for the same takeoff.
    """
    style, script = _style(), _data("report.js")
    places, data = places_of(takeoff), script_json(_card_data(takeoff))
    body = tag(
        "body",
        None,
        _top(takeoff, title_of(takeoff)),
        tag(
            "main",
            None,
            alerts(takeoff),
            tag("section", region("summary", "Summary"), tiles(takeoff), sums(takeoff)),
            tools(takeoff),
            *(sheet(takeoff, wall, places) for wall in takeoff.walls),
            *_sections(takeoff, places),
        ),
        tag("aside", {"id": "card", "hidden": "", "aria-label": "The piece"}),
        tag("p", {"id": "told", "class": "unseen", "role": "status"}),
        tag("script", {"type": "application/json", "id": "data"}, data),
        tag("script", None, Markup(script)),
    )
    page = tag("html", {"lang": "en"}, _head(takeoff, style, script), body)
    return f"<!DOCTYPE html>\n{page}\n"


def _head(takeoff: Takeoff, style: str, script: str) -> Markup:
    """What the page is and may do."""
    return tag(
        "head",
        None,
        tag("meta", {"charset": "utf-8"}),
        tag(
            "meta", {"http-equiv": "Content-Security-Policy", "content": page_policy(style, script)}
        ),
        tag("meta", {"name": "generator", "content": BLANK_SEAL}),
        tag("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        tag("title", None, f"{title_of(takeoff)}: veneer takeoff"),
        tag("style", None, Markup(style)),
    )


def _sections(takeoff: Takeoff, places: Sequence[Callout]) -> Iterator[Markup]:
    """Everything below the elevations."""

    def section(id: str, title: str, *parts: Markup) -> Markup:
        return tag("section", region(id, title), tag("h2", None, title), *parts)

    if takeoff.walls:
        picture = strips_svg(takeoff, sketched, SKETCH, alone=False)
        view = {"class": "scroll sketch", "tabindex": "0", "role": "group", "aria-label": "Sketch"}
        sketch = (tag("p", {"class": "quiet"}, SKETCH), tag("div", view, picture))
        yield section("sketch", "Sketch of the finished walls", *sketch)
        yield section("courses", "Course lines", course_tables(takeoff))
    if takeoff.order:
        tables = order_tables(takeoff.order, takeoff.job.output.display)
        yield section("order", "Order and bid", tables)
    if takeoff.changes:
        changed = change_list(takeoff.changes, takeoff.course_number, takeoff.job.output.display)
        yield section("changes", "Changed cuts", changed)
    yield section("notices", "Notices", notices(takeoff, places))
    yield section("basis", "What the numbers rest on", basis(takeoff), tag("p", None, CAUTION))
    yield section("appendix", APPENDIX, appendix(takeoff))


def title_of(takeoff: Takeoff) -> str:
    """The job's name.

    Args:
        takeoff: The takeoff.

    Returns:
        A text, never empty.
    """
    return legible(takeoff.job.job.name) or "Veneer takeoff"


def _style() -> str:
    """The style of pictures and page, then what a dark screen changes of both."""
    return style_text() + _data("report.css") + _data("dark.css")


def _data(name: str) -> str:
    return files("dxf2veneer.writers.report").joinpath(name).read_text(encoding="utf-8")


def _top(takeoff: Takeoff, name: str) -> Markup:
    about = takeoff.job.job
    links = [("summary", "Summary"), *((w.wall.id, wall_title(w)) for w in takeoff.walls)]
    links += [("sketch", "Sketch"), ("courses", "Course lines")] if takeoff.walls else []
    links += [("order", "Order and bid")] if takeoff.order else []
    links += [("notices", f"Notices ({len(takeoff.notices)})"), ("basis", "Basis and cautions")]
    links += [("appendix", "Appendix")]
    lines = (
        tag("p", {"class": "quiet"}, legible(text)) for text in (about.company, about.note) if text
    )
    return joined(
        (
            tag("header", None, tag("h1", None, name), *lines),
            tag(
                "nav",
                {"aria-label": "Parts of the report"},
                *(tag("a", {"href": f"#{id}"}, text) for id, text in links),
            ),
        )
    )


def sums(takeoff: Takeoff) -> Markup:
    """The tables of areas, runs, openings and panels.

    Args:
        takeoff: The takeoff.

    Returns:
        The tables.
    """
    beside = tag("div", {"class": "beside"}, runs(takeoff), openings(takeoff))
    return joined((areas(takeoff), beside, panels(takeoff, takeoff.plan) if takeoff.plan else ""))


def _card_data(takeoff: Takeoff) -> dict[str, Any]:
    """What the page's script shows of each piece and panel."""
    show = takeoff.job.output.display
    pieces = {
        piece_key(w.wall.id, p): [
            kind_words(p),
            tape(p.length, show),
            tape(p.height, show),
            angle_words(p),
            end_words(p),
            p.stock,
        ]
        for w in takeoff.walls
        for p in w.courses.pieces
    }
    return {
        "pieces": pieces,
        "firsts": {w.wall.id: takeoff.course_number(w.wall.id, 0) for w in takeoff.walls},
        "panels": {u.id: unit_words(u, show) for u in (takeoff.plan.units if takeoff.plan else ())},
    }
