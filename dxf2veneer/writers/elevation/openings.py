"""Outlines of a wall and its openings, each opening's name and size where they fit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dxf2veneer.writers.elevation.frame import Frame
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.texts import Box, Sheet
from dxf2veneer.writers.words import (
    opening_words,
)

LETTER = 0.6
"""Width of a letter in text heights."""


def draw_openings(frame: Frame, sheet: Sheet) -> tuple[Markup, Markup]:
    """Outlines of the wall and its openings; each opening's name and size where they fit.

    Args:
        frame: What the picture is fitted into.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        The outlines, and the texts, which are drawn last.
    """
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
    fits = min(frame.text, (x1 - x0) / (LETTER * max(map(len, lines)) + 1), (y1 - y0) / 3)
    for size in (share * fits for share in (1.0, 0.8, 0.6)):
        slack = (y1 - y0) / 2 - 1.2 * size
        if size > 0.3 * frame.text:
            yield from (
                (frame.ground.x((x0 + x1) / 2), frame.ground.y((y0 + y1) / 2 + share * slack), size)
                for share in (0.0, -0.5, 0.5, -1.0, 1.0)
            )


def _block(lines: Sequence[str], x: float, y: float, size: float) -> Box:
    """What two lines around a middle cover."""
    half = LETTER * max(map(len, lines)) * size / 2
    return x - half, y - 1.15 * size, x + half, y + 1.15 * size
