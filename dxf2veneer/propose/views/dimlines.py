"""Dimensions drawn as plain lines and texts: a number over a line between two marks.

     2450              number      alone, at most a few letters from the line, along it
----/-----/----        line        runs past the number
    |     |            marks       ticks, arrow tips or extension lines that meet the line on both
                           sides

Upright lines have a number beside them, too, written level: they are told by slanted ticks near
both ends, centered where an extension line crosses.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from dxf2veneer.propose.arrays import distinct
from dxf2veneer.propose.constants import DIMENSION_NEAR, DIMENSION_PAST, STRAIGHT
from dxf2veneer.propose.scene import Box, Floats, Integers, Mask, Scene, Text
from dxf2veneer.propose.views.boxes import around, boxes_of_segments, may_touch, segments_near

ALONG = 0.02
"""Greatest slope of a line against the text that it runs along."""
NUMBER = re.compile(
    r"(?:Ø|ø|R)?\s*\d{1,6}(?:[.,]\d{1,3})?\s*(?:mm|cm|m)?|\d{1,3}\s*'\s*-?\s*\d{1,2}(?:\s+\d+/\d+)?\s*\"?|\d{1,3}(?:\s+\d+/\d+)?\s*\"",
    re.IGNORECASE,
)
"""What stands alone over a dimension line: a number, feet and inches."""

DIMENSION_BESIDE = 6.0
"""How far the middle of a number beside an upright dimension line lies from it at most, as a
multiple of the height of its letters: half its width and a little [our own]."""


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
    numbers = [
        (n, t)
        for n, t in enumerate(scene.texts)
        if t.height > 0.0 and NUMBER.fullmatch(t.text.strip())
    ]
    if not numbers or not len(scene.segments):
        return found, np.zeros(0, np.int64)
    texts = [t for _, t in numbers]
    middles = np.array([((t.box[0] + t.box[2]) / 2, (t.box[1] + t.box[3]) / 2) for t in texts])
    beside = _ticked(scene, texts, middles)
    under = _lines_under(scene, texts, middles)
    places = np.flatnonzero(under >= 0)
    if not len(places):
        return found, beside
    lines = under[places]
    height = np.array([texts[p].height for p in places.tolist()])
    starts, ends, strokes = _marks_beside(scene, lines, middles[places], height)
    measured = np.flatnonzero(~np.isnan(starts[:, 0]))
    for n in measured.tolist():
        number, text = numbers[places[n]]
        start, end = (float(v) for v in starts[n]), (float(v) for v in ends[n])
        (x0, y0), (x1, y1) = start, end
        box = around([(x0, y0, x0, y0), (x1, y1, x1, y1), text.box])
        found.append(DrawnDimension(math.dist((x0, y0), (x1, y1)), number, int(lines[n]), box))
    return found, distinct(np.concatenate([lines[measured], strokes, beside]))


def _ticked(scene: Scene, texts: Sequence[Text], middles: Floats) -> Integers:
    """Numbers of the segments of upright dimension lines with a number beside their middle, and of
    their ticks."""
    result = [np.zeros(0, np.int64)]
    lines = _beside_numbers(scene, texts, middles)
    ticks = np.flatnonzero(scene.lengths <= 3.0 * max(t.height for t in texts))
    x, y = np.abs(scene.segments[ticks, 2:] - scene.segments[ticks, :2]).T
    ticks = ticks[(x < 3.0 * y) & (y < 3.0 * x)]
    centers = (scene.segments[ticks, :2] + scene.segments[ticks, 2:]) / 2.0
    wide = scene.lengths[ticks]
    tick, line = _on_uprights(centers, 0.05 * wide, scene.segments[lines])
    long = scene.lengths[lines[line]] >= 3.0 * wide[tick]
    tick, line = tick[long], line[long]
    met = _on_level(scene, centers[tick], 0.05 * wide[tick])
    tick, line = tick[met], line[met]
    height = centers[:, 1]
    for number in distinct(line).tolist():
        own = tick[line == number]
        _, y0, _, y1 = scene.segments[lines[number]]
        a = own[height[own] - min(y0, y1) <= 1.5 * wide[own]]
        b = own[max(y0, y1) - height[own] <= 1.5 * wide[own]]
        if len(a) and len(b) and abs(wide[a[0]] - wide[b[0]]) <= 0.05 * wide[a[0]]:
            result.append(np.array([lines[number], *ticks[own]], np.int64))
    return distinct(np.concatenate(result))


def _beside_numbers(scene: Scene, texts: Sequence[Text], middles: Floats) -> Integers:
    """Numbers of the upright segments that have a number beside the middle third of them."""
    x, y = np.abs(scene.segments[:, 2:] - scene.segments[:, :2]).T
    lines = np.flatnonzero((x <= STRAIGHT * y) & (y > 0.0))
    x0, y0, _, y1 = scene.segments[lines].T
    half, third = (y0 + y1) / 2.0, np.abs(y1 - y0) / 6.0
    reach = DIMENSION_BESIDE * np.array([t.height for t in texts])
    across, up = middles.T
    rooms = shapely.box(across - 1.1 * reach, up, across + 1.1 * reach, up)
    line, text = shapely.STRtree(rooms).query(shapely.box(x0, half - third, x0, half + third))
    beside = np.abs(across[text] - x0[line]) <= reach[text]
    beside &= np.abs(up[text] - half[line]) <= third[line]
    return np.asarray(lines[distinct(line[beside])])


def _on_uprights(points: Floats, slack: Floats, lines: Floats) -> tuple[Integers, Integers]:
    """Pairs of a point and an upright line that it lies on, in the order of the points; there are
    many points and few lines."""
    left, right = np.minimum(lines[:, 0], lines[:, 2]), np.maximum(lines[:, 0], lines[:, 2])
    low, high = np.minimum(lines[:, 1], lines[:, 3]), np.maximum(lines[:, 1], lines[:, 3])
    order = np.argsort(left)
    room = (right - left).max(initial=0.0)
    first = np.searchsorted(left[order], points[:, 0] - slack - room)
    many = np.searchsorted(left[order], points[:, 0] + slack, "right") - first
    point = np.repeat(np.arange(len(points)), many)
    within = np.arange(len(point)) - np.repeat(np.cumsum(many) - many, many)
    line = order[first[point] + within]
    near = (points[point, 1] >= low[line] - slack[point]) & (
        points[point, 1] <= high[line] + slack[point]
    )
    point, line = point[near], line[near]
    on = shapely.dwithin(shapely.points(points[point]), _drawn(lines[line]), slack[point])
    return point[on], line[on]


def _on_level(scene: Scene, points: Floats, slack: Floats) -> Mask:
    """Which points lie on a level line."""
    result = np.zeros(len(points), bool)
    if not len(points):
        return result
    x, y = np.abs(scene.segments[:, 2:] - scene.segments[:, :2]).T
    level = scene.segments[(y <= STRAIGHT * x) & (x > 0.0)]
    rooms = np.hstack([points - slack[:, None], points + slack[:, None]])
    level = level[may_touch(boxes_of_segments(level), rooms)]
    on = shapely.STRtree(_drawn(level)).query(
        shapely.points(points), predicate="dwithin", distance=slack
    )
    result[on[0]] = True
    return result


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
    tree = shapely.STRtree(_drawn(scene.segments[lines]))
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


def _beside(scene: Scene, lines: Integers, slack: Floats) -> tuple[Integers, Integers]:
    """Pairs of a line's place among some lines, and the number of a segment that comes so near to
    the line."""
    boxes = boxes_of_segments(scene.segments[lines]) + slack[:, None] * (-1.0, -1.0, 1.0, 1.0)
    near = segments_near(scene, boxes)
    of, place = shapely.STRtree(_drawn(scene.segments[near])).query(
        _drawn(scene.segments[lines]), predicate="dwithin", distance=slack
    )
    return of, near[place]


def _drawn(segments: Floats) -> Any:
    """Segments as geometries of the polygon library."""
    return shapely.linestrings(segments.reshape(-1, 2, 2))


def _marks_beside(
    scene: Scene, lines: Integers, middles: Floats, height: Floats
) -> tuple[Floats, Floats, Integers]:
    """For each line under a text the marks on it nearest to the text's middle on both sides, not a
    number where there are none; and the short strokes among all marks.

    A dimension's line runs from its first mark to its last and little past them; the ground, near
    whose end the text of another dimension stands, runs on.

    Args:
        scene: the scene.
        lines: numbers of the lines' segments.
        middles: middles of the texts, shape (n, 2).
        height: heights of the texts' letters, shape (n,).

    Returns:
        Marks before and after the middles, both of shape (n, 2), and numbers of segments.
    """
    origin = scene.segments[lines, :2]
    way = (scene.segments[lines, 2:] - origin) / scene.lengths[lines][:, None]
    slack = 0.02 * height + STRAIGHT * height
    of, s = _beside(scene, lines, slack)
    first, last = scene.segments[s, :2] - origin[of], scene.segments[s, 2:] - origin[of]
    ux, uy = way[of].T
    a, b = first[:, 0] * uy - first[:, 1] * ux, last[:, 0] * uy - last[:, 1] * ux
    off = np.abs(a - b)
    across = (off > 0.3 * height[of]) | (off >= 0.2 * scene.lengths[s])
    of, s, first, last, a, b = (column[across] for column in (of, s, first, last, a, b))
    apart = np.where(a != b, a - b, 1.0)
    share = np.clip(np.where(a != b, a / apart, 0.0), 0.0, 1.0)[:, None]
    at = ((first + share * (last - first)) * way[of]).sum(axis=1)
    middle = ((middles - origin) * way).sum(axis=1)
    low, high = np.full(len(lines), -np.inf), np.full(len(lines), np.inf)
    before, after = at < middle[of], at > middle[of]
    np.maximum.at(low, of[before], at[before])
    np.minimum.at(high, of[after], at[after])
    first, last = np.full(len(lines), np.inf), np.full(len(lines), -np.inf)
    np.minimum.at(first, of, at)
    np.maximum.at(last, of, at)
    reach = DIMENSION_PAST * height
    both = np.isfinite(low) & np.isfinite(high)
    both &= (first <= reach) & (last >= scene.lengths[lines] - reach)
    low, high = np.where(both, low, np.nan)[:, None], np.where(both, high, np.nan)[:, None]
    short = both[of] & (scene.lengths[s] <= 3.0 * height[of])
    return origin + low * way, origin + high * way, s[short]
