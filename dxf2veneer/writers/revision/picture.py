"""The picture of one wall before and now, laid on each other; lengths are inches."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.geometry import Region
from dxf2veneer.model import LaidOpening, LaidWall
from dxf2veneer.wording import say
from dxf2veneer.writers.clouds import cloud_round
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.words import opening_words

_LETTER = 0.6
"""Width of a letter in text heights."""
_ROOM = 4.0
"""Room around the wall in text heights."""


class _Frame(NamedTuple):
    """What the picture is fitted into."""

    ground: Canvas
    text: float
    width: float
    height: float
    display: str


def compared_svg(wall: LaidWall, display: str, key: str) -> Markup:
    """The picture of a wall.

    Args:
        wall: The wall.
        display: Units for the reader: ``imperial`` or ``metric``.
        key: Makes the ids in it differ from those of the page's other pictures.

    Returns:
        An element ``svg`` with groups ``before``, ``now`` and ``clouds``.
    """
    x0, y0, x1, y1 = wall.box
    text = max((x1 - x0) / 110.0, (y1 - y0) / 70.0, 2.0)
    room = _ROOM * text
    frame = _Frame(
        Canvas(x0 - room, y1 + room), text, x1 - x0 + 2.0 * room, y1 - y0 + 2.0 * room, display
    )
    sides = (
        ("now", wall.new, wall.openings_new),
        ("before", wall.old, wall.openings_old),  # over it: dashed where both are shown
    )
    about: dict[str, str | float | None] = {
        "viewBox": f"0 0 {number(frame.width)} {number(frame.height)}",
        "role": "img",
        "aria-label": f"{wall.title}, before and now",
        "data-width": frame.width,
    }
    clips = (_clip(f"{name}-{key}", name, frame) for name, _, _ in sides)
    return tag(
        "svg",
        about,
        tag("defs", None, *clips),
        *(_side(name, region, openings, frame, key) for name, region, openings in sides),
        _clouds(wall, frame),
    )


def _clip(name: str, side: str, frame: _Frame) -> Markup:
    """What of a side the slider lets be seen: all of it, until it is moved."""
    window: dict[str, str | float | None] = {
        "x": 0.0,
        "y": 0.0,
        "width": frame.width,
        "height": frame.height,
    }
    return tag("clipPath", {"id": name, "data-side": side}, tag("rect", window))


def _side(
    name: str, region: Region | None, openings: Sequence[LaidOpening], frame: _Frame, key: str
) -> Markup:
    if region is None:
        return Markup()
    width = 0.22 * frame.text
    outlines = [
        tag("path", {"class": "wall", "d": frame.ground.region(region), "stroke-width": width})
    ]
    for opening in openings:
        looks = "opening changed" if opening.changed else "opening"
        path = frame.ground.region(opening.region)
        outlines.append(tag("path", {"class": looks, "d": path, "stroke-width": width}))
    texts = (_name(opening, frame) for opening in openings)
    return tag(
        "g", {"class": name, "clip-path": f"url(#{name}-{key})"}, *outlines,
        tag("g", {"class": "names", "text-anchor": "middle"}, *texts),
    )  # fmt: skip


def _name(opening: LaidOpening, frame: _Frame) -> Markup:
    """Name and size of an opening where they fit into it."""
    lines = opening_words(opening.measured, frame.display)
    x0, y0, x1, y1 = opening.region.box
    longest = max(map(len, lines))
    size = min(frame.text, 0.95 * (x1 - x0) / (_LETTER * longest), (y1 - y0) / 3.0)
    x, y = frame.ground.x((x0 + x1) / 2.0), frame.ground.y((y0 + y1) / 2.0)
    return joined(
        tag("text", {"x": x, "y": y + down * size, "font-size": size}, line)
        for line, down in zip(lines, (-0.2, 1.0), strict=True)
    )


def _clouds(wall: LaidWall, frame: _Frame) -> Markup:
    """A cloud round each change with its number at its upper right."""
    text, arc = frame.text, 2.2 * frame.text
    parts = []
    for place in wall.places:
        drawn = [cloud_round(box, arc) for box in place.boxes]
        marks = [
            tag("path", {"d": frame.ground.path(path), "stroke-width": 0.25 * text})
            for path in drawn
        ]
        if not drawn:
            continue
        _, _, x, y = drawn[0].box
        x = min(max(frame.ground.x(x), 1.4 * text), frame.width - 1.4 * text)
        y = min(max(frame.ground.y(y), 1.4 * text), frame.height - 1.4 * text)
        marks += [
            tag("circle", {"cx": x, "cy": y, "r": 1.2 * text}),
            tag(
                "text",
                {"x": x, "y": y + 0.5 * text, "font-size": 1.4 * text, "text-anchor": "middle"},
                str(place.number),
            ),
        ]
        title = tag("title", None, say(place.told, frame.display))
        parts.append(tag("g", {"id": f"place-{place.number}"}, title, *marks))
    return tag("g", {"class": "clouds"}, *parts)
