"""The report: one page that holds everything, opens without a network, and prints.

    name, company, note          tiles                areas, runs, panels
    elevation                    picture, legend      one a printed page
    order, labour, bid
    notices, rules               each jumps to its mark in a picture
    drawings, settings, cautions

The page may run one script and use one style, named by their digests; nothing else can run or be
loaded.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from dxf2veneer.model import Piece, Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.units import square_feet
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.writers.elevation.picture import elevation_svg, style_text
from dxf2veneer.writers.elevation.pieces import PATTERNS, patterns, tint_of
from dxf2veneer.writers.markup import Markup, joined, script_json, tag
from dxf2veneer.writers.report.areas import areas, openings, runs, tiles
from dxf2veneer.writers.report.courses import course_tables
from dxf2veneer.writers.report.notices import alerts, basis, notices
from dxf2veneer.writers.report.order import order_tables
from dxf2veneer.writers.report.panels import panels
from dxf2veneer.writers.words import (
    Callout,
    angle_words,
    datum_words,
    end_words,
    file_name,
    kind_words,
    off_course,
    piece_key,
    places_of,
    tape,
    unit_words,
    wall_title,
)

_LAYERS = {
    "pieces": "Pieces",
    "labels": "Labels",
    "cuts": "Sawn ends",
    "trims": "Trim and cap",
    "offs": "Off the course lines",
    "places": "Notices",
}
_TINTS = {
    "whole": "whole panel",
    "crosscut": "cut to length",
    "ripped": "ripped to a height",
    "notched": "notched",
    "raked": "cut along a rake or arch",
    "mitred": "mitered",
    "corner": "corner piece, arrow to its finished end",
}


def write_report(takeoff: Takeoff, path: Path) -> None:
    """Write the report into a file, whole or not at all. Raises OSError where it can't be
    written."""
    text = report_text(takeoff)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def report_text(takeoff: Takeoff) -> str:
    """The whole page; the same bytes for the same takeoff."""
    style, script = style_text() + _data("report.css"), _data("report.js")
    name = title_of(takeoff)
    head = tag(
        "head",
        None,
        tag("meta", {"charset": "utf-8"}),
        tag("meta", {"http-equiv": "Content-Security-Policy", "content": _policy(style, script)}),
        tag("meta", {"name": "generator", "content": BLANK_SEAL}),
        tag("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        tag("title", None, f"{name}: veneer takeoff"),
        tag("style", None, Markup(style)),
    )
    places = places_of(takeoff)
    body = tag(
        "body",
        None,
        _top(takeoff, name),
        _tools(takeoff),
        *(_sheet(takeoff, wall, places) for wall in takeoff.walls),
        tag("section", {"id": "courses"}, tag("h2", None, "Course lines"), course_tables(takeoff))
        if takeoff.walls
        else Markup(),
        tag(
            "section",
            {"id": "order"},
            tag("h2", None, "Order and bid"),
            order_tables(takeoff.order, takeoff.job.output.display),
        )
        if takeoff.order
        else Markup(),
        tag("section", {"id": "notices"}, tag("h2", None, "Notices"), notices(takeoff, places)),
        tag(
            "section",
            {"id": "basis"},
            tag("h2", None, "What the numbers rest on"),
            basis(takeoff),
            tag("p", None, CAUTION),
        ),
        tag("aside", {"id": "card", "hidden": "", "aria-live": "polite"}),
        tag("script", {"type": "application/json", "id": "data"}, script_json(_card_data(takeoff))),
        tag("script", None, Markup(script)),
    )
    return f"<!DOCTYPE html>\n{tag('html', {'lang': 'en'}, head, body)}\n"


def title_of(takeoff: Takeoff) -> str:
    """The job's name."""
    return legible(takeoff.job.job.name) or "Veneer takeoff"


def _data(name: str) -> str:
    return files("dxf2veneer.writers.report").joinpath(name).read_text(encoding="utf-8")


def _policy(style: str, script: str) -> str:
    """What the page may do: run its own script, use its own style, nothing from elsewhere."""
    digests = (
        base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        for text in (style, script)
    )
    of_style, of_script = (f"sha256-{digest}" for digest in digests)
    return (
        f"default-src 'none'; style-src '{of_style}'; script-src '{of_script}'; base-uri "
        "'none'; form-action 'none'"
    )


def _top(takeoff: Takeoff, name: str) -> Markup:
    about = takeoff.job.job
    links = [("summary", "Summary"), *((w.wall.id, wall_title(w)) for w in takeoff.walls)]
    links += [("courses", "Course lines")] if takeoff.walls else []
    links += [("order", "Order and bid")] if takeoff.order else []
    links += [("notices", f"Notices ({len(takeoff.notices)})"), ("basis", "Settings and cautions")]
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
            alerts(takeoff),
            tag("section", {"id": "summary"}, tiles(takeoff), sums(takeoff)),
        )
    )


def sums(takeoff: Takeoff) -> Markup:
    """The tables of areas, runs, openings and panels."""
    beside = tag("div", {"class": "beside"}, runs(takeoff), openings(takeoff))
    return joined((areas(takeoff), beside, panels(takeoff, takeoff.plan) if takeoff.plan else ""))


def _tools(takeoff: Takeoff) -> Markup:
    """The switch for layers."""
    drawn = (
        _LAYERS
        if takeoff.plan
        else {k: v for k, v in _LAYERS.items() if k not in ("pieces", "cuts")}
    )
    boxes = (
        tag(
            "label",
            None,
            tag("input", {"type": "checkbox", "data-layer": k, "checked": ""}),
            f" {v}",
        )
        for k, v in drawn.items()
    )
    return tag(
        "div",
        {"class": "tools", "role": "group", "aria-label": "Layers of the drawings"},
        tag("b", None, "Show"),
        *boxes,
    )


def _sheet(takeoff: Takeoff, wall: WallTakeoff, places: Sequence[Callout]) -> Markup:
    """One elevation: title, measures, picture, legend."""
    zooms = (
        tag("button", {"type": "button", "data-zoom": step, "aria-label": about}, sign)
        for step, about, sign in (
            ("1.6", "Zoom in", "+ Zoom in"),
            ("0.625", "Zoom out", "− Zoom out"),
            ("0", "Fit the elevation", "Fit"),
        )
    )
    keys = keys_of(wall, takeoff.product.panel.height)
    return tag(
        "section",
        {"class": "sheet", "id": wall.wall.id},
        tag("h2", None, wall_title(wall)),
        tag("p", {"class": "quiet"}, about_wall(takeoff, wall)),
        tag("div", {"class": "zoom"}, *zooms),
        tag(
            "div",
            {"class": "stage", "tabindex": "0", "aria-label": f"Drawing of {wall_title(wall)}"},
            elevation_svg(takeoff, wall, places, alone=False),
        ),
        tag("ul", {"class": "keys"}, *(tag("li", None, picture, text) for text, picture in keys)),
    )


def about_wall(takeoff: Takeoff, wall: WallTakeoff) -> str:
    """A wall's measures in one line."""
    show, q = takeoff.job.output.display, wall.quantities
    x0, y0, x1, y1 = wall.wall.box
    drawing = next(d for d in takeoff.drawings if d.index == wall.wall.drawing)
    count = next(
        (c for c in (takeoff.plan.walls if takeoff.plan else ()) if c.wall == wall.wall.id), None
    )
    words = [
        f"{length_text(x1 - x0, show)} wide, {length_text(y1 - y0, show)} high",
        f"net {area_text(square_feet(q.net_area), show)}",
        f"{len(wall.courses.courses)} courses",
        f"{count.pieces} pieces; {count.flat} flat and {count.corner} corner panels begun here"
        if count
        else "",
        f"{datum_words(wall)}; from {file_name(drawing)}",
    ]
    return legible("; ".join(filter(None, words)))


def keys_of(wall: WallTakeoff, course: float) -> list[tuple[str, Markup]]:
    """What the tints, patterns and lines of a wall's picture mean, with how many pieces bear them;
    each with its sign."""
    pieces = wall.courses.pieces
    keys = [
        (f"{words}: {n}", _swatch(wall, tint, tint if tint in PATTERNS else "", course))
        for tint, words in _TINTS.items()
        if (n := _count(pieces, tint))
    ]
    glued = sum(map(PATTERNS["glued"], pieces))
    if glued:
        keys.append(
            (
                f"glued, most of the nail flange is gone: {glued}",
                _swatch(wall, "whole", "glued", course),
            )
        )
    lines = [
        ("course line", '<path class="course" stroke-width=".6" d="M0 3.5h14"/>'),
        ("starter strip", '<path class="starter" stroke-width="1.4" d="M0 3.5h14"/>'),
    ]
    if pieces:
        lines.append(
            (
                "sawn end",
                '<g class="cuts" stroke-width="1.2"><path stroke-dasharray="1.8 1.2" '
                'd="M7 0v7"/></g>',
            )
        )
    if off_course(wall):
        lines.append(
            (
                "off the course lines: the strip, and the move that clears it",
                '<g class="off"><path d="M7 .8l2.6 5.2h-5.2Z"/></g>',
            )
        )
    if any(c.sliver for c in wall.courses.conflicts):
        lines.append(
            (
                "sliver: a strip lower than the limit",
                '<path class="sliver" stroke-width=".3" d="M2 2.6h10v1.8h-10Z"/>',
            )
        )
    keys += [(text, _key_picture(Markup(shape))) for text, shape in lines]
    return keys


def _count(pieces: Sequence[Piece], tint: str) -> int:
    return sum(tint_of(p) == tint for p in pieces)


def _swatch(wall: WallTakeoff, tint: str, name: str, course: float) -> Markup:
    box, prefix = "M.5 .5h13v6h-13Z", f"key-{wall.wall.id}-{tint}"
    over = (
        joined(
            (
                patterns(prefix, 1.5 * course, name),
                tag("path", {"d": box, "fill": f"url(#{prefix}-{name})"}),
            )
        )
        if name
        else Markup()
    )
    hand = (
        tag("path", {"class": "hands", "d": "M13.5 3.5l-3 1.5v-3Z"})
        if tint == "corner"
        else Markup()
    )
    return _key_picture(
        tag("path", {"class": f"p {tint}", "stroke-width": ".35", "d": box}), over, hand
    )


def _key_picture(*shapes: Markup) -> Markup:
    return tag("svg", {"viewBox": "0 0 14 7", "class": "elevation", "aria-hidden": "true"}, *shapes)


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
        "panels": {u.id: unit_words(u, show) for u in (takeoff.plan.units if takeoff.plan else ())},
    }
