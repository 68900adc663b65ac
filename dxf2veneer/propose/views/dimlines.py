"""Dimensions drawn as plain lines and texts: a number over a line between two marks.

     2450              number      alone, at most a few letters from the line, along it
----/-----/----        line        runs past the number
    |     |            marks       ticks, arrow tips or extension lines that meet the line on both
                           sides
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from dxf2veneer.propose.constants import DIMENSION_NEAR, STRAIGHT
from dxf2veneer.propose.scene import Box, Floats, Integers, Mask, Scene, Text
from dxf2veneer.propose.views.boxes import around, boxes_of_segments, may_touch

ALONG = 0.02
"""Greatest slope of a line against the text that it runs along."""
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
    texts = [t for _, t in numbers]
    middles = np.array([((t.box[0] + t.box[2]) / 2, (t.box[1] + t.box[3]) / 2) for t in texts])
    under = _lines_under(scene, texts, middles)
    places = np.flatnonzero(under >= 0)
    crossing = _crossing(scene, under[places], [texts[p] for p in places])
    for place, beside in zip(places.tolist(), crossing, strict=True):
        (number, text), line = numbers[place], int(under[place])
        span = _marks_beside(scene, beside, line, middles[place], text.height)
        if span is None:
            continue
        start, end, marks = span
        box = around([(*start, *start), (*end, *end), text.box])
        found.append(DrawnDimension(math.dist(start, end), number, line, box))
        drawn += [line, *marks]
    return found, np.unique(np.array(drawn, np.int64))


def _lines_under(scene: Scene, texts: Sequence[Text], middles: Floats) -> Integers:
    """For each text the nearest line that runs along it and past its middle; -1 for none."""
    result = np.full(len(texts), -1)
    height = np.array([t.height for t in texts])
    angles = [math.radians(t.rotation) for t in texts]
    ux, uy = np.array([math.cos(a) for a in angles]), np.array([math.sin(a) for a in angles])
    lines = np.flatnonzero(scene.lengths >= height.min())
    lines = lines[_run_along(scene.segments[lines], np.array(angles))]
    if not len(lines):
        return result
    tree = shapely.STRtree(shapely.linestrings(scene.segments[lines].reshape(-1, 2, 2)))
    t, place = tree.query(
        shapely.points(middles), predicate="dwithin", distance=DIMENSION_NEAR * height
    )
    s = lines[place]
    ux, uy = ux[t], uy[t]
    dx0, dy0 = (scene.segments[s, :2] - middles[t]).T
    dx1, dy1 = (scene.segments[s, 2:] - middles[t]).T
    x, y = (scene.segments[s, 2:] - scene.segments[s, :2]).T
    length = scene.lengths[s]
    along = (length >= height[t]) & (np.abs(x * uy - y * ux) <= ALONG * length)
    a, b = dx0 * ux + dy0 * uy, dx1 * ux + dy1 * uy
    fits = np.flatnonzero(along & (np.minimum(a, b) <= 0.0) & (np.maximum(a, b) >= 0.0))
    off = np.abs(dx0 * uy - dy0 * ux)
    order = fits[np.lexsort((s[fits], off[fits], t[fits]))]
    which, first = np.unique(t[order], return_index=True)
    result[which] = s[order[first]]
    return result


def _run_along(segments: Floats, angles: Floats) -> Mask:
    """Which segments run nearly in one of some directions, or against it; angles in radians."""
    wanted = np.unique(np.round(angles % math.pi, 4))
    wanted = np.concatenate([wanted[-1:] - math.pi, wanted, wanted[:1] + math.pi])
    own = np.arctan2(segments[:, 3] - segments[:, 1], segments[:, 2] - segments[:, 0]) % math.pi
    place = np.searchsorted(wanted, own)
    nearest = np.minimum(own - wanted[place - 1], wanted[np.minimum(place, len(wanted) - 1)] - own)
    return np.asarray(nearest <= 1.1 * ALONG)


def _crossing(scene: Scene, lines: Integers, texts: Sequence[Text]) -> list[Integers]:
    """For each line under a text the numbers of the segments that touch it, in order."""
    if not len(lines):
        return []
    slack = np.array([(0.02 + STRAIGHT) * t.height for t in texts])
    own = scene.segments[lines]
    boxes = boxes_of_segments(own) + slack[:, None] * (-1.0, -1.0, 1.0, 1.0)
    near = np.flatnonzero(may_touch(boxes_of_segments(scene.segments), boxes))
    tree = shapely.STRtree(shapely.linestrings(scene.segments[near].reshape(-1, 2, 2)))
    of, place = tree.query(
        shapely.linestrings(own.reshape(-1, 2, 2)), predicate="dwithin", distance=slack
    )
    order = np.lexsort((place, of))
    parts = np.searchsorted(of[order], np.arange(1, len(lines)))
    return np.split(near[place[order]], parts)


def _marks_beside(
    scene: Scene, crossing: Integers, line: int, middle: Floats, height: float
) -> tuple[tuple[float, float], tuple[float, float], list[int]] | None:
    """The marks on a line nearest to a text's middle on both sides, and the short strokes among
    them; ``crossing`` are the segments that touch the line."""
    x0, y0, x1, y1 = scene.segments[line]
    length = float(scene.lengths[line])
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
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
