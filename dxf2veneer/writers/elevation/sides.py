"""What stands around an elevation: edges, course numbers, heights, the scale bar."""

from __future__ import annotations

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.elevation.frame import Frame
from dxf2veneer.writers.elevation.pieces import _LETTER
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.texts import Sheet
from dxf2veneer.writers.words import (
    EDGE_WORDS,
    datum_of,
)

_BARS = (6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0)


_METRIC_BARS = tuple(
    mm / MM_PER_INCH for mm in (200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0, 20000.0)
)
"""Lengths of scale bars in inches."""


def draw_edges(frame: Frame, sheet: Sheet) -> Markup:
    """The kind of each side edge along it, and its corner.

    Args:
        frame: What the picture is fitted into.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        The lines and their texts.
    """
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


def draw_sides(frame: Frame, sheet: Sheet) -> Markup:
    """Course numbers at the left, heights of the course lines at the right.

    Args:
        frame: What the picture is fitted into.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        The texts and ticks.
    """
    return joined((*_numbers(frame, sheet), *_heights(frame, sheet)))


def _numbers(frame: Frame, sheet: Sheet) -> tuple[Markup, Markup]:
    """Course numbers to be read from near, and larger ones of every fifth to be read from afar."""
    t, ground = frame.text, frame.ground
    x = ground.x(frame.wall.wall.box[0]) - 0.9 * t
    near, far = [], []
    for course in frame.wall.courses.courses:
        middle, text = (
            ground.y((course.y0 + course.y1) / 2),
            str(frame.wall.courses.number(course.index)),
        )
        if course.index % frame.step == 0:
            sheet.take((x - 0.7 * len(text) * t, middle - 0.4 * t, x, middle + 0.4 * t))
            near.append(tag("text", {"x": x, "y": middle + 0.35 * t}, text))
        if course.index == 0 or int(text) % (5 * frame.step) == 0:
            far.append(tag("text", {"x": x, "y": middle + 0.9 * t}, text))
    end = {"text-anchor": "end"}
    return (
        tag("g", {"class": "near numbers", **end, "font-size": t}, *near),
        tag("g", {"class": "far numbers", **end, "font-size": 2.6 * t}, *far),
    )


def _heights(frame: Frame, sheet: Sheet) -> tuple[Markup, Markup]:
    """Heights of the course lines with their ticks; the top's stands in place of a line's just
    below."""
    _, _, x1, top = frame.wall.wall.box
    t, ground, courses = frame.text, frame.ground, frame.wall.courses.courses
    last = [min(c.y1, top) for c in courses[-1:] if (c.index + 1) % frame.step == 0]
    lines = [c.y0 for c in courses if c.index % frame.step == 0]
    ticks, heights, x = [], [], ground.x(x1)
    for y in [*lines, *last]:
        ticks.append(ground.line(x1 + 2.0 * t, y, x1 + 2.8 * t, y))
        if y in last or not last or last[0] - y >= 0.85 * t:
            height, middle = length_text(y - datum_of(frame.wall), frame.display), ground.y(y)
            wide = (3.1 + 0.85 * _LETTER * len(height)) * t
            sheet.take((x + 2.0 * t, middle - 0.4 * t, x + wide, middle + 0.4 * t))
            heights.append(tag("text", {"x": x + 3.1 * t, "y": middle + 0.3 * t}, height))
    return (
        tag("g", {"class": "near heights", "font-size": 0.85 * t}, *heights),
        tag("path", {"class": "tick", "d": "".join(ticks), "stroke-width": 0.07 * t}),
    )


def draw_scale_bar(frame: Frame) -> Markup:
    """A bar of a round length in four fields, black and white by turns, and what it is long.

    Args:
        frame: What the picture is fitted into.

    Returns:
        The bar and its texts.
    """
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
