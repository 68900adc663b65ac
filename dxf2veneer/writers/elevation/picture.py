"""The picture of one elevation: SVG to scale, the same on the report's page and in a file of its
own.

           course line heights
             |         .-''-.
    course   |      .-'      '-.   |-- 13'-4"
    numbers  | 3 -- |   [  ]   | --|-- 12'-8"
             | 2 -- |   [  ]   |
             | 1 -- '-----------'
               end   5 ft scale   outside corner C1

Lengths in the picture are inches of the building; width and height are those of the plot.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.units import MM_PER_INCH
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.elevation.marks import (
    draw_off_course,
    draw_places,
    draw_pointers,
    draw_slivers,
)
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.elevation.pieces import PATTERNS, draw_pieces, patterns
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import Box, Sheet
from dxf2veneer.writers.words import (
    EDGE_WORDS,
    Callout,
    alert_words,
    datum_of,
    opening_words,
    places_of,
    wall_title,
)

_LETTER = 0.6
"""Width of a letter in text heights."""
_BARS = (6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0)
_METRIC_BARS = tuple(
    mm / MM_PER_INCH for mm in (200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0, 20000.0)
)
"""Lengths of scale bars in inches."""


@dataclass(frozen=True)
class Frame:
    """What the drawing of one elevation is fitted into: its ground, size and text height, in
    inches."""

    wall: WallTakeoff
    ground: Canvas
    text: float
    alert: str
    """What stands on top of the picture where the takeoff has errors."""
    width: float
    height: float
    course: float
    display: str

    @classmethod
    def of(cls, takeoff: Takeoff, wall: WallTakeoff) -> Frame:
        """The frame round one wall. Texts at the sides follow the courses, and the wall's size
        where it is large."""
        x0, y0, x1, y1 = wall.wall.box
        course = takeoff.product.panel.height
        text = max(min(0.45 * course, 6.0), (x1 - x0) / 130, (y1 - y0) / 90)
        alert = alert_words(takeoff)
        over = 5 if alert else 3
        return cls(
            wall,
            Canvas(x0 - 5 * text, y1 + over * text),
            text,
            alert,
            max(x1 - x0 + 15 * text, 34 * text),
            y1 - y0 + (over + 8) * text,
            course,
            takeoff.job.output.display,
        )

    @property
    def step(self) -> int:
        """Every how many courses a number and a height are written."""
        return next(
            n for n in (1, 2, 5, 10, 20, 50, 100, 1000) if n * self.course >= 1.15 * self.text
        )


def elevation_svg(
    takeoff: Takeoff, wall: WallTakeoff, places: Sequence[Callout], *, alone: bool
) -> Markup:
    """The picture of one wall. ``alone``: for a file of its own, with its size, its style and a
    title to every piece."""
    frame, sheet = Frame.of(takeoff, wall), Sheet()
    ground, text = frame.ground, frame.text
    sides, edges = _sides(frame, sheet), _edges(frame, sheet)
    slivers = draw_slivers(wall, ground, text, sheet)
    pointers = draw_pointers(wall, ground, text, sheet)
    openings, names = _openings(frame, sheet)
    offs = draw_off_course(wall, pointers, ground, text, frame.display, sheet)
    marks = draw_places(
        [p for p in places if p.wall == wall.wall.id],
        ground,
        text,
        sheet,
        (frame.width, frame.height),
        linked=not alone,
    )
    body = joined(
        (
            tag("title", None, wall_title(wall)),
            patterns(wall.wall.id, frame.course, *PATTERNS),
            _ground(frame),
            _courses(frame),
            draw_pieces(takeoff, wall, ground, sheet, titled=alone),
            openings,
            edges,
            slivers,
            offs,
            sides,
            _scale_bar(frame),
            marks,
            _alert(frame),
            names,  # a mark's line may cross them
        )
    )
    view = f"0 0 {number(frame.width)} {number(frame.height)}"
    if not alone:
        return tag(
            "svg",
            {
                "class": "elevation",
                "viewBox": view,
                "role": "group",
                "data-width": frame.width,
                "data-text": frame.text,
            },
            body,
        )
    drawing = next(d for d in takeoff.drawings if d.index == wall.wall.drawing)
    scale = TextSizes.of(takeoff, drawing).scale / MM_PER_INCH
    size: dict[str, str | float | None] = {
        "width": f"{number(frame.width / scale)}mm",
        "height": f"{number(frame.height / scale)}mm",
    }
    style = tag("style", None, Markup(style_text()))
    return tag(
        "svg",
        {"xmlns": "http://www.w3.org/2000/svg", "class": "elevation", **size, "viewBox": view},
        style,
        body,
    )


def style_text() -> str:
    """The style of pictures. It holds no sign that XML would take for markup."""
    return (
        files("dxf2veneer.writers.elevation").joinpath("elevation.css").read_text(encoding="utf-8")
    )


def picture_name(wall: WallTakeoff) -> str:
    """The file name of a wall's picture: its id, which is safe everywhere; names in drawings are
    not."""
    return f"{wall.wall.id}.svg"


def write_picture(takeoff: Takeoff, wall: WallTakeoff, path: Path) -> None:
    """Write the picture of one wall into a file, whole or not at all. Raises OSError where it can't
    be written."""
    text = (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<!-- {BLANK_SEAL} '
        f"-->\n{elevation_svg(takeoff, wall, places_of(takeoff), alone=True)}\n"
    )
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def _alert(frame: Frame) -> Markup:
    """One line on top where the takeoff has errors, so that nobody takes the picture for good."""
    if not frame.alert:
        return Markup()
    return tag(
        "text",
        {
            "class": "alarm",
            "x": 0.5 * frame.text,
            "y": 1.6 * frame.text,
            "font-size": 1.3 * frame.text,
        },
        f"{frame.alert}; see the notices",
    )


def _ground(frame: Frame) -> Markup:
    """The veneer's ground, trim bands and caps."""
    measured, ground = frame.wall.quantities, frame.ground
    trim = tag("path", {"class": "trim", "d": ground.region(measured.trim_region)})
    cap = tag("path", {"class": "cap", "d": ground.region(measured.cap_region)})
    return joined(
        (
            tag(
                "path",
                {"class": "veneer", "d": ground.region(measured.veneer), "fill-rule": "evenodd"},
            ),
            tag(
                "g",
                {"class": "trims", "stroke-width": 0.08 * frame.text, "fill-rule": "evenodd"},
                trim,
                cap,
            ),
        )
    )


def _courses(frame: Frame) -> Markup:
    courses = frame.wall.courses
    lines = "".join(frame.ground.line(line.x0, line.y, line.x1, line.y) for line in courses.lines)
    starters = "".join(
        frame.ground.line(line.x0, line.y, line.x1, line.y) for line in courses.starter_lines
    )
    return joined(
        (
            tag("path", {"class": "course", "d": lines, "stroke-width": 0.06 * frame.text}),
            tag("path", {"class": "starter", "d": starters, "stroke-width": 0.3 * frame.text}),
        )
    )


def _openings(frame: Frame, sheet: Sheet) -> tuple[Markup, Markup]:
    """Outlines of the wall and its openings; each opening's name and size where they fit."""
    ground, wall = frame.ground, frame.wall.wall
    parts = [
        tag(
            "path",
            {
                "class": "opening",
                "d": "".join(map(ground.region, (o.region for o in wall.openings))),
                "stroke-width": 0.16 * frame.text,
            },
        )
    ]
    texts = []
    for measured in frame.wall.quantities.openings:
        lines = opening_words(measured, frame.display)
        placed = next(
            (
                spot
                for spot in _spots(measured.opening.box, lines, frame)
                if sheet.is_free(_block(lines, *spot))
            ),
            None,
        )
        if placed:
            x, y, size = placed
            sheet.take(_block(lines, *placed))
            texts += [
                tag("text", {"x": x, "y": y + down * size, "font-size": size}, line)
                for line, down in zip(lines, (-0.3, 0.95), strict=True)
            ]
    parts.append(
        tag(
            "path",
            {"class": "wall", "d": ground.region(wall.region), "stroke-width": 0.28 * frame.text},
        )
    )
    return joined(parts), tag("g", {"class": "names", "text-anchor": "middle"}, *texts)


def _spots(box: Box, lines: Sequence[str], frame: Frame) -> Iterator[tuple[float, float, float]]:
    """Middles and sizes for two lines in an opening: as large as they fit, in its middle, below it
    or above it."""
    x0, y0, x1, y1 = box
    fits = min(frame.text, (x1 - x0) / (_LETTER * max(map(len, lines)) + 1), (y1 - y0) / 3)
    for size in (share * fits for share in (1.0, 0.8, 0.6)):
        slack = (y1 - y0) / 2 - 1.2 * size
        if size > 0.3 * frame.text:
            yield from (
                (frame.ground.x((x0 + x1) / 2), frame.ground.y((y0 + y1) / 2 + share * slack), size)
                for share in (0.0, -0.5, 0.5, -1.0, 1.0)
            )


def _block(lines: Sequence[str], x: float, y: float, size: float) -> Box:
    """What two lines round a middle cover."""
    half = _LETTER * max(map(len, lines)) * size / 2
    return x - half, y - 1.15 * size, x + half, y + 1.15 * size


def _edges(frame: Frame, sheet: Sheet) -> Markup:
    """The kind of each side edge along it, and its corner."""
    parts = []
    for edge in frame.wall.wall.edges:
        words = " ".join(filter(None, (EDGE_WORDS[edge.kind], edge.corner)))
        parts.append(
            tag(
                "path",
                {
                    "class": f"edge {edge.kind}",
                    "d": frame.ground.line(edge.x, edge.y0, edge.x, edge.y1),
                    "stroke-width": 0.5 * frame.text,
                },
            )
        )
        x0, _, x1, _ = frame.wall.wall.box
        outer = edge.x - x0 < frame.text if edge.side == "left" else x1 - edge.x < frame.text
        if outer and edge.length > _LETTER * len(words) * frame.text:
            away = -4.2 if edge.side == "left" else 1.0
            x, y = (
                frame.ground.x(edge.x) + away * frame.text,
                frame.ground.y((edge.y0 + edge.y1) / 2),
            )
            half = 0.4 * _LETTER * len(words) * frame.text
            sheet.take((x - 0.8 * frame.text, y - half, x, y + half))
            at: dict[str, str | float | None] = {
                "x": x,
                "y": y,
                "transform": f"rotate(-90 {number(x)} {number(y)})",
            }
            parts.append(
                tag("text", {**at, "font-size": 0.8 * frame.text, "text-anchor": "middle"}, words)
            )
    return tag("g", {"class": "edges"}, *parts)


def _sides(frame: Frame, sheet: Sheet) -> Markup:
    """Course numbers at the left, heights of the course lines at the right; that of the top stands
    in place of a line's just below."""
    x0, _, x1, top = frame.wall.wall.box
    t, ground, courses = frame.text, frame.ground, frame.wall.courses.courses
    numbers, heights, ticks, fives = [], [], [], []
    for course in courses:
        middle = ground.y((course.y0 + course.y1) / 2)
        if course.index % frame.step == 0:
            sheet.take(
                (
                    ground.x(x0) - (0.9 + 0.7 * len(str(course.index + 1))) * t,
                    middle - 0.4 * t,
                    ground.x(x0) - 0.9 * t,
                    middle + 0.4 * t,
                )
            )
            numbers.append(
                tag(
                    "text",
                    {"x": ground.x(x0) - 0.9 * t, "y": middle + 0.35 * t},
                    str(course.index + 1),
                )
            )
        if course.index == 0 or (course.index + 1) % (5 * frame.step) == 0:
            fives.append(
                tag(
                    "text",
                    {"x": ground.x(x0) - 0.9 * t, "y": middle + 0.9 * t},
                    str(course.index + 1),
                )
            )
    last = [min(c.y1, top) for c in courses[-1:] if (c.index + 1) % frame.step == 0]
    lines = [c.y0 for c in courses if c.index % frame.step == 0]
    for y in [*lines, *last]:
        ticks.append(ground.line(x1 + 2.0 * t, y, x1 + 2.8 * t, y))
        if y in last or not last or last[0] - y >= 0.85 * t:
            height = length_text(y - datum_of(frame.wall), frame.display)
            sheet.take(
                (
                    ground.x(x1) + 2.0 * t,
                    ground.y(y) - 0.4 * t,
                    ground.x(x1) + (3.1 + 0.85 * _LETTER * len(height)) * t,
                    ground.y(y) + 0.4 * t,
                )
            )
            heights.append(
                tag("text", {"x": ground.x(x1) + 3.1 * t, "y": ground.y(y) + 0.3 * t}, height)
            )
    end = {"text-anchor": "end"}
    return joined(
        (
            tag("g", {"class": "near numbers", **end, "font-size": t}, *numbers),
            tag("g", {"class": "far numbers", **end, "font-size": 2.6 * t}, *fives),
            tag("g", {"class": "near heights", "font-size": 0.85 * t}, *heights),
            tag("path", {"class": "tick", "d": "".join(ticks), "stroke-width": 0.07 * t}),
        )
    )


def _scale_bar(frame: Frame) -> Markup:
    """A bar of a round length in four fields, black and white by turns, and what it is long."""
    t = frame.text
    bars = _METRIC_BARS if frame.display == "metric" else _BARS
    length = max((b for b in bars if b <= 0.4 * frame.width), default=bars[0])
    x, y, quarter = 5 * t, frame.height - 2.6 * t, length / 4
    fields = [
        tag(
            "rect",
            {
                "class": f"bar{n % 2}",
                "x": x + n * quarter,
                "y": y,
                "width": quarter,
                "height": 0.6 * t,
                "stroke-width": 0.08 * t,
            },
        )
        for n in range(4)
    ]
    texts = [
        tag(
            "text",
            {"x": x + share * length, "y": y + 1.7 * t},
            length_text(share * length, frame.display) if share else "0",
        )
        for share in (0.0, 0.5, 1.0)
    ]
    return tag(
        "g", {"class": "scale", "font-size": 0.9 * t, "text-anchor": "middle"}, *fields, *texts
    )
