"""Caps that stand out: a water table, the cap on a wainscot, a molded band, past the wall's sides.

 |               |       A line right across the wall or two, as far apart as trim is high, and at
+-----------------+      their ends a short upright a little past the corner: a piece of its own
+-----------------+      that lies between two claddings and belongs to neither.
 |__|____|____|__|
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.walls.structure import Structure


def caps_on(polygon: Polygon, s: Structure) -> list[tuple[float, float]]:
    """The caps that lie across a wall and stand out past a side of it.

    Args:
        polygon: outline of the wall, in drawing units.
        s: the structure of its elevation.

    Returns:
        Foot and head of each, upward.
    """
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_HEIGHT_M * s.metre
    lines = s.runs.lines[s.runs.level]
    lines = lines[(lines[:, 0] < x1) & (lines[:, 2] > x0)]
    inside = (lines[:, 1] > y0 + least) & (lines[:, 3] < y1 - least)
    lines = lines[inside]
    short = s.runs.upright & (s.runs.length <= constants.TRIM_M[1] * s.metre + s.gap)
    return [
        strip for strip in _strips(s.runs.lines[short], s) if _is_across(polygon, strip, lines, s)
    ]


def _strips(ends: Floats, s: Structure) -> Iterator[tuple[float, float]]:
    """The heights of strips of trim that short uprights end, each pair once, upward."""
    high = ends[:, 3] - ends[:, 1]
    some = ends[high >= constants.TRIM_M[0] * s.metre - s.gap]
    pairs = np.rint(some[:, [1, 3]] / s.gap)
    for low, top in np.unique(pairs, axis=0):
        own = some[(pairs == (low, top)).all(axis=1)]
        yield float(own[:, 1].mean()), float(own[:, 3].mean())


def _is_across(polygon: Polygon, strip: tuple[float, float], lines: Floats, s: Structure) -> bool:
    """Whether a line of a strip runs right across a wall, and it stands out past a side of it and
    reaches the other: the other line may be hidden behind the first course over it."""
    low = strip[0]
    x0, _, x1, _ = polygon.bounds
    under = polygon.intersection(
        LineString([(x0 - 1.0, low - 2.0 * s.gap), (x1 + 1.0, low - 2.0 * s.gap)])
    )
    if under.is_empty:
        return False
    left, _, right, _ = under.bounds
    out = []
    for y in strip:
        own = lines[np.abs(lines[:, [1, 3]] - y).max(axis=1) <= s.gap]
        own = own[(own[:, 2] > left) & (own[:, 0] < right)]
        if len(own) and _stops_at_uprights(own, (left, right), y, s):
            out.append((left - own[:, 0].min(), own[:, 2].max() - right))
    if not out:
        return False
    past = np.array(out)
    ends = _closed(polygon, strip, (left - past[:, 0].max(), right + past[:, 1].max()), s)
    least, most = 1.5 * s.gap, constants.MOULDING_PAST_M * s.metre
    stands_out = (past >= least).all(axis=0) & (past <= most).all(axis=0) & np.array(ends)
    reaches = (past >= -2.0 * s.gap).all(axis=0)
    return bool(reaches.all() and stands_out.any()) and not _filled(strip, (left, right), s)


def _filled(strip: tuple[float, float], sides: tuple[float, float], s: Structure) -> bool:
    """Whether joints fill a strip between the sides of a wall: it is a course of stones."""
    lines = s.runs.lines[s.runs.upright]
    inside = (lines[:, 0] > sides[0] + 2.0 * s.gap) & (lines[:, 0] < sides[1] - 2.0 * s.gap)
    at = np.abs(lines[inside][:, [1, 3]] - strip).max(axis=1, initial=0.0) <= 2.0 * s.gap
    return bool(at.sum() > constants.TRIM_CROSSED)


def _closed(
    polygon: Polygon, strip: tuple[float, float], ends: tuple[float, float], s: Structure
) -> list[bool]:
    """Whether a short upright ends a strip on its left and on its right."""
    lines = s.runs.lines[s.runs.upright]
    at = np.abs(lines[:, [1, 3]] - strip).max(axis=1) <= 2.0 * s.gap
    return [bool((at & (np.abs(lines[:, 0] - x) <= 2.0 * s.gap)).any()) for x in ends]


def _stops_at_uprights(own: Floats, sides: tuple[float, float], y: float, s: Structure) -> bool:
    """Whether lines at a height run from side to side of a wall but for gaps that uprights end: the
    jambs of doors, what stands beside windows."""
    left, right = sides
    across = LineString([(left, y), (right, y)])
    drawn = shapely.union_all(
        shapely.box(own[:, 0] - s.gap, y - s.gap, own[:, 2] + s.gap, y + s.gap)
    )
    if across.intersection(drawn).length < constants.CAP_DRAWN * across.length:
        return False
    uprights = np.vstack([s.runs.lines[s.runs.upright], _jambs(s)])
    uprights = uprights[(uprights[:, 1] <= y + 2.0 * s.gap) & (uprights[:, 3] >= y - 2.0 * s.gap)]
    near = constants.ATTACHED_M * s.metre
    gaps = shapely.get_parts(across.difference(drawn))
    for first, _, last, _ in shapely.bounds(gaps[~shapely.is_empty(gaps)]):
        if any(not (np.abs(uprights[:, 0] - x) <= near).any() for x in (first, last)):
            return False
    return True


def _jambs(s: Structure) -> Floats:
    """The sides of the openings whose lines were left out."""
    x0, y0, x1, y1 = shapely.bounds(s.runs.left_out).reshape(-1, 4).T
    return np.vstack([np.stack([x, y0, x, y1], axis=1) for x in (x0, x1)])


def stones_differ(low: Any, high: Any, s: Structure) -> bool:
    """Whether the stones of two stretches of wall have other sizes: heights of courses or lengths.

    Args:
        low: a stretch.
        high: another.
        s: the structure of their elevation.

    Returns:
        False where one has too few stones to tell.
    """
    one, two = _stone_size(low, s), _stone_size(high, s)
    if one is None or two is None:
        return False
    ratio = one / two
    return bool(np.maximum(ratio, 1.0 / ratio).max() > constants.CLADDING_STEP_RATIO)


def _stone_size(zone: Any, s: Structure) -> Floats | None:
    """The mean height and length of the stones in a stretch, None where they are few."""
    joints = s.runs.lines[s.runs.upright & s.texture.stones]
    x0, y0, x1, y1 = zone.bounds
    joints = joints[(joints[:, 0] > x0) & (joints[:, 0] < x1)]
    joints = joints[(joints[:, 1] >= y0 - s.gap) & (joints[:, 3] <= y1 + s.gap)]
    if len(joints) < constants.STONE_JOINTS:
        return None
    course = np.rint(joints[:, 1] / s.gap)
    order = np.lexsort((joints[:, 0], course))
    apart, same = np.diff(joints[order, 0]), np.diff(course[order]) == 0.0
    long = apart[same & (apart <= constants.STONE_WIDEST_M * s.metre)]
    if len(long) < constants.STONE_JOINTS / 2:
        return None
    return np.array([(joints[:, 3] - joints[:, 1]).mean(), long.mean()])
