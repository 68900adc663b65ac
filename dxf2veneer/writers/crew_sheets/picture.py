"""A part of a wall drawn for the crew: pieces with their sizes, openings, course numbers and
heights, and a ruler from the wall's left edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.colors import color_marks
from dxf2veneer.writers.crew_sheets.labels import TEXT_PT, label_of, line_step
from dxf2veneer.writers.crew_sheets.sheets import (
    FOOT_PT,
    LEFT_PT,
    RIGHT_PT,
    TOP_PT,
    CrewSheet,
    opening_labels,
    ruler_of,
)
from dxf2veneer.writers.crew_sheets.windows import Window
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.elevation.picture import style_text
from dxf2veneer.writers.elevation.pieces import tint_of
from dxf2veneer.writers.markup import Markup, number, tag
from dxf2veneer.writers.words import datum_of

_About = dict[str, str | float | None]


def part_svg(takeoff: Takeoff, sheet: CrewSheet) -> Markup:
    """The picture of one sheet.

    Args:
        takeoff: The takeoff.
        sheet: The sheet.

    Returns:
        An element ``svg``; lengths in it are inches of the building.
    """
    entry, window, scale = sheet.entry, sheet.window, sheet.scale
    point = scale / 72.0
    ground = Canvas(window.x0 - LEFT_PT * point, window.y1 + TOP_PT * point)
    width = window.x1 - window.x0 + (LEFT_PT + RIGHT_PT) * point
    height = window.y1 - window.y0 + (TOP_PT + FOOT_PT) * point
    about: _About = {
        "xmlns": "http://www.w3.org/2000/svg",
        "class": "elevation",
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "width": f"{number(width / scale * MM_PER_INCH)}mm",
        "height": f"{number(height / scale * MM_PER_INCH)}mm",
    }
    clip = tag(
        "clipPath",
        {"id": "part"},
        tag("path", {"d": ground.rings([_box(window)])}),
    )
    inside = tag(
        "g",
        {"clip-path": "url(#part)"},
        tag("path", {"class": "veneer", "d": ground.region(entry.wall.region)}),
        *_pieces(takeoff, entry, window, ground, point),
        *_openings(takeoff, sheet, ground, point),
    )
    return tag(
        "svg",
        about,
        tag("style", None, Markup(style_text())),
        tag("defs", None, clip),
        inside,
        *_labels(takeoff, sheet, ground),
        *_courses(takeoff, entry, window, ground, point),
        *_ruler(takeoff, sheet, ground, point),
    )


def _box(window: Window) -> tuple[tuple[float, float], ...]:
    x0, y0, x1, y1 = window[:4]
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _pieces(
    takeoff: Takeoff, entry: WallTakeoff, window: Window, ground: Canvas, point: float
) -> Iterator[Markup]:
    marks = color_marks(takeoff)
    shapes = [
        tag("path", {"class": f"p {tint_of(p, marks)}", "d": ground.piece(p)})
        for p in entry.courses.pieces
        if window.shows(p)
    ]
    yield tag("g", {"stroke-width": 0.5 * point, "fill-rule": "evenodd"}, *shapes)
    bold: _About = {
        "class": "wall",
        "d": ground.region(entry.wall.region),
        "stroke-width": 1.2 * point,
    }
    yield tag("path", bold)


def _openings(takeoff: Takeoff, sheet: CrewSheet, ground: Canvas, point: float) -> Iterator[Markup]:
    outlines = "".join(ground.region(o.region) for o in sheet.entry.wall.openings)
    yield tag("path", {"class": "opening", "d": outlines, "stroke-width": 0.8 * point})
    for label in opening_labels(sheet, takeoff.job.output.display):
        yield from _text(label.lines, label.x, label.y, ground, point)


def _labels(takeoff: Takeoff, sheet: CrewSheet, ground: Canvas) -> Iterator[Markup]:
    course = takeoff.product_of(sheet.entry.wall.id).panel.height
    display, scale = takeoff.job.output.display, sheet.scale
    for piece, row in sheet.numbers.items():
        label, _ = label_of(piece, row, course, scale, display)
        yield from _text(label.lines, label.x, label.y, ground, scale / 72.0)


def _text(
    lines: Sequence[str], x: float, y: float, ground: Canvas, point: float
) -> Iterator[Markup]:
    """Lines of the smallest text around a middle."""
    step = line_step(72.0 * point)
    for n, line in enumerate(lines):
        down = (n - (len(lines) - 1) / 2) * step
        about: _About = {"x": ground.x(x), "y": ground.y(y) + down + 0.35 * TEXT_PT * point}
        size: _About = {"font-size": TEXT_PT * point, "text-anchor": "middle", "fill": "#111111"}
        yield tag("text", {**about, **size}, line)


def _courses(
    takeoff: Takeoff, entry: WallTakeoff, window: Window, ground: Canvas, point: float
) -> Iterator[Markup]:
    """Course numbers at the left, heights of the course lines at the right."""
    size, display = TEXT_PT * point, takeoff.job.output.display
    shown = [c for c in entry.courses.courses if c.y0 < window.y1 and c.y1 > window.y0]
    for course in shown:
        low, high = max(course.y0, window.y0), min(course.y1, window.y1)
        middle = ground.y((low + high) / 2) + 0.4 * 9.0 * point
        at: _About = {"x": ground.x(window.x0) - 4.0 * point, "y": middle, "text-anchor": "end"}
        bold: _About = {"font-size": 9.0 * point, "font-weight": "700"}
        yield tag("text", {**at, **bold}, str(entry.courses.number(course.index)))
        y, x = ground.y(course.y0), ground.x(window.x1)
        line = {"d": f"M{number(x)} {number(y)}h{number(5.0 * point)}", "class": "tick"}
        yield tag("path", {**line, "stroke-width": 0.4 * point})
        words = length_text(course.y0 - datum_of(entry), display)
        at = {"x": x + 6.5 * point, "y": y + 0.35 * size, "font-size": size}
        yield tag("text", at, words)


def _ruler(takeoff: Takeoff, sheet: CrewSheet, ground: Canvas, point: float) -> Iterator[Markup]:
    """Running dimensions from the wall's left edge under the picture."""
    window, display = sheet.window, takeoff.job.output.display
    y, size = ground.y(window.y0), TEXT_PT * point
    ticks = []
    for at, words in ruler_of(sheet.entry, window, sheet.scale, display):
        x = ground.x(at)
        ticks.append(f"M{number(x)} {number(y)}v{number((8.0 if words else 4.0) * point)}")
        if words:
            about: _About = {
                "x": x,
                "y": y + 8.0 * point + size,
                "font-size": size,
                "text-anchor": "middle",
            }
            yield tag("text", about, words)
    yield tag("path", {"class": "tick", "d": "".join(ticks), "stroke-width": 0.5 * point})
