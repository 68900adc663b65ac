"""Dimensions drawn as plain lines and texts: a number over a line between two marks.

     2450              number      alone, at most a few letters from the line, along it
----/-----/----        line        runs past the number
    |     |            marks       ticks, arrow tips or extension lines that meet the line on both
                           sides
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np
import shapely

from dxf2veneer.propose.constants import DIMENSION_NEAR, STRAIGHT
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene, Text
from dxf2veneer.propose.views.boxes import around

NUMBER = re.compile(
    r"(?:Ø|ø|R)?\s*\d{1,6}(?:[.,]\d{1,3})?\s*(?:mm|cm|m)?|\d{1,3}\s*'\s*-?\s*\d{1,2}(?:\s+\d+/\d+)?\s*\"?|\d{1,3}(?:\s+\d+/\d+)?\s*\"",
    re.IGNORECASE,
)
"""What stands alone over a dimension line: a number, feet and inches."""


@dataclass(frozen=True)
class DrawnDimension:
    """A dimension of lines and text.

    Attributes:
        measured: distance of the marks on both sides of the number, in drawing units.
        text: number of the text in the scene.
        line: number of the line's segment.
        box: room of the line between the marks and of the text.
    """

    measured: float
    text: int
    line: int
    box: Box


DrawnDimensions = tuple[list[DrawnDimension], Integers]
"""Dimensions, and the numbers of the segments of their lines and ticks in order."""


def drawn_dimensions(scene: Scene) -> DrawnDimensions:
    """Dimensions drawn as plain lines and texts, and the numbers of the segments of their lines
    and ticks.

    Args:
        scene: everything visible in the drawing.

    Returns:
        The dimensions, and the numbers of the segments in order.
    """
    found: list[DrawnDimension] = []
    drawn: list[int] = []
    numbers = [
        (n, t)
        for n, t in enumerate(scene.texts)
        if t.height > 0.0 and NUMBER.fullmatch(t.text.strip())
    ]
    if not numbers or not len(scene.segments):
        return found, np.zeros(0, np.int64)
    tree = scene.tree
    middles = np.array([((t.box[0] + t.box[2]) / 2, (t.box[1] + t.box[3]) / 2) for _, t in numbers])
    reach = np.array([DIMENSION_NEAR * t.height for _, t in numbers])
    near: dict[int, list[int]] = {}
    for t, s in zip(
        *tree.query(shapely.points(middles), predicate="dwithin", distance=reach), strict=True
    ):
        near.setdefault(int(t), []).append(int(s))
    for place, (number, text) in enumerate(numbers):
        line = _line_under(scene, text, middles[place], near.get(place, []))
        if line < 0:
            continue
        span = _marks_beside(scene, tree, line, middles[place], text.height)
        if span is None:
            continue
        start, end, marks = span
        box = around([(*start, *start), (*end, *end), text.box])
        found.append(DrawnDimension(math.dist(start, end), number, line, box))
        drawn += [line, *marks]
    return found, np.unique(np.array(drawn, np.int64))


def _line_under(scene: Scene, text: Text, middle: Floats, near: list[int]) -> int:
    """The nearest line that runs along a text and past its middle; -1 for none."""
    angle = math.radians(text.rotation)
    ux, uy = math.cos(angle), math.sin(angle)
    best, line = math.inf, -1
    for s in near:
        x0, y0, x1, y1 = scene.segments[s]
        length = scene.lengths[s]
        if length < text.height or abs((x1 - x0) * uy - (y1 - y0) * ux) > 0.02 * length:
            continue
        a, b = sorted(
            (
                (x0 - middle[0]) * ux + (y0 - middle[1]) * uy,
                (x1 - middle[0]) * ux + (y1 - middle[1]) * uy,
            )
        )
        off = abs((x0 - middle[0]) * uy - (y0 - middle[1]) * ux)
        if a <= 0.0 <= b and off < best:
            best, line = off, s
    return line


def _marks_beside(
    scene: Scene, tree: shapely.STRtree, line: int, middle: Floats, height: float
) -> tuple[tuple[float, float], tuple[float, float], list[int]] | None:
    """The marks on a line nearest to a text's middle on both sides, and the short strokes among
    them."""
    x0, y0, x1, y1 = scene.segments[line]
    length = float(scene.lengths[line])
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    slack = 0.02 * height + STRAIGHT * height
    crossing = tree.query(
        shapely.LineString([(x0, y0), (x1, y1)]), predicate="dwithin", distance=slack
    )
    at = float((middle[0] - x0) * ux + (middle[1] - y0) * uy)
    places: list[float] = []
    strokes: list[int] = []
    for s in crossing.tolist():
        sx0, sy0, sx1, sy1 = scene.segments[s]
        a, b = (sx0 - x0) * uy - (sy0 - y0) * ux, (sx1 - x0) * uy - (sy1 - y0) * ux
        if abs(a - b) <= 0.3 * height and abs(a - b) < 0.2 * scene.lengths[s]:
            continue  # runs along the line
        share = a / (a - b) if a != b else 0.0
        share = min(1.0, max(0.0, share))
        px, py = sx0 + share * (sx1 - sx0), sy0 + share * (sy1 - sy0)
        places.append(float((px - x0) * ux + (py - y0) * uy))
        if scene.lengths[s] <= 3.0 * height:
            strokes.append(s)
    before, after = [p for p in places if p < at], [p for p in places if p > at]
    if not before or not after:
        return None
    lo, hi = max(before), min(after)
    return (
        (float(x0 + lo * ux), float(y0 + lo * uy)),
        (float(x0 + hi * ux), float(y0 + hi * uy)),
        strokes,
    )
