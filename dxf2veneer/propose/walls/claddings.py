"""Walls parted where the cladding changes at a level line, or at an upright from foot to head.

|  |  |  |  |  |     battens above, stones below: two walls that meet at the line. A line with
+--+--+--+--+--+     the same cladding on both sides, or with none, parts nothing; nor does one that
[__][___][__][_]     joints run through, as they do in a wall of slabs.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import (
    Flags,
    Pattern,
    Surface,
    may_differ,
    stretch_of,
    surface_of,
)


def parted(part: Part, s: Structure, openings: Polygons, patterns: list[Pattern]) -> list[Part]:
    """The walls that a part of a facade is made of, from the bottom up.

    Args:
        part: a stretch of facade.
        s: the structure of its elevation.
        openings: openings of the elevation; lines stop at them.
        patterns: hatched areas of the elevation.

    Returns:
        The part itself, or the walls into which its claddings part it.
    """
    level = _change(part.polygon, s, openings, patterns)
    upright = _side(part.polygon, s, openings, patterns) if level is None else None
    if level is not None:
        zones = _zones(part.polygon, level)
    elif upright is not None:
        zones = _without_fence(_beside(part.polygon, upright), part.polygon, s.metre)
    else:
        return [part]
    found: list[Part] = []
    for zone in zones:
        name = sorted(_surface(zone, part.polygon, s, openings, patterns).kinds)
        reason = Reason("WALL_CLADDING", {**part.reason.values, "cladding": name})
        for shape in shapely.get_parts(zone):
            if isinstance(shape, Polygon) and is_large(shape, s.metre):
                piece = Part(Polygon(shape.exterior), part.confidence - 0.05, reason)
                found += parted(piece, s, openings, patterns)
    return found


def cladding_of(
    wall: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> tuple[str, ...]:
    """What is drawn all over a wall.

    Args:
        wall: its outline.
        s: the structure of its elevation.
        openings: openings of the elevation, which are left out.
        patterns: hatched areas of the elevation.

    Returns:
        Kinds of cladding in order, see ``Surface``; none where nothing covers most of it.
    """
    return tuple(sorted(_surface(wall, wall, s, openings, patterns).kinds))


def _surface(
    zone: Any, wall: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> Surface:
    return surface_of(stretch_of(zone, wall, s, openings), s, patterns)


def _change(
    polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The height at which the cladding of a wall changes most clearly, None where it doesn't."""
    found: list[tuple[float, float, Surface]] = []
    for y in _levels(polygon, s, openings):
        zones = _zones(polygon, y)
        low, high = (_surface(z, polygon, s, openings, patterns) for z in zones)
        heights = (y - polygon.bounds[1], polygon.bounds[3] - y)
        blank = [h for h, c in zip(heights, (low, high), strict=True) if not c.kinds]
        if not (low.is_told and high.is_told and low.differs(high)):
            continue
        if {*low.kinds, *high.kinds} <= {"slabs"} and _run_through(polygon, y, s, s.runs.upright):
            continue
        if blank and (np.abs(_ledges(polygon, s) - y) <= 2.0 * s.gap).any():
            continue
        if min(blank, default=np.inf) < constants.CLADDING_BLANK_M * s.metre:
            continue
        if any(
            _goes_on(z, s, s.metre / c.kinds["boards"])
            for z, own, c in zip(zones, (low, high), (high, low), strict=True)
            if "boards" in c.kinds and own.kinds.keys() <= {"slabs"}
        ):
            continue
        found.append((low.purity * high.purity, y, low))
    if not found:
        return None
    best, at, below = max(found, key=lambda f: f[:2])
    return max(
        y
        for purity, y, _ in found
        if y == at or (y > at and _ends_short(polygon, below, at, y, best - purity, s))
    )


def _side(
    polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The upright at which the cladding of a wall changes most clearly: the corner of a wing that
    nothing else shows. None where it doesn't, or where one side has no cladding."""
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_BLANK_M * s.metre
    lines = s.runs.lines[s.runs.upright & ~s.texture.steady & ~s.texture.stones]
    x = lines[:, 0]
    lines = lines[(x > x0 + least) & (x < x1 - least) & (lines[:, 1] < y1) & (lines[:, 3] > y0)]
    groups = [
        lines[np.abs(lines[:, 0] - at * s.gap) <= s.gap]
        for at in np.unique(np.rint(lines[:, 0] / s.gap))
    ]
    found: list[tuple[float, float]] = []
    for middle in _whole(polygon, groups, openings, s):
        one, two = (stretch_of(z, polygon, s, openings) for z in _beside(polygon, middle))
        if not may_differ(one, two, s, patterns):
            continue
        left, right = surface_of(one, s, patterns), surface_of(two, s, patterns)
        known = left.kinds and right.kinds and "slabs" not in {*left.kinds, *right.kinds}
        if known and left.differs(right):  # battens beside trees seem to be slabs
            found.append((left.purity * right.purity, middle))
    return max(found)[1] if found else None


def _whole(
    polygon: Polygon, groups: list[Floats], openings: Polygons, s: Structure
) -> Iterator[float]:
    """Where uprights in one line, a group each, run through a wall from foot to head and through no
    opening."""
    _, y0, _, y1 = polygon.bounds
    middle = np.array([g[:, 0].mean() for g in groups])
    high = [(np.minimum(g[:, 3], y1) - np.maximum(g[:, 1], y0)).sum() for g in groups]
    ends = np.stack(np.broadcast_arrays(middle[:, None], [y0 - 1.0, y1 + 1.0]), axis=2)
    chords = shapely.intersection(polygon, shapely.linestrings(ends))
    least = constants.CLADDING_ACROSS * shapely.length(chords)
    for k in np.flatnonzero(high >= least - s.gap).tolist():  # few; the others are too short
        x, own = middle[k], groups[k]
        drawn = shapely.union_all(shapely.box(x - s.gap, own[:, 1], x + s.gap, own[:, 3]))
        if chords[k].intersection(drawn).length < least[k]:
            continue
        if not (len(openings) and shapely.crosses(openings, chords[k]).any()):
            yield float(x)


def _without_fence(zones: tuple[Any, ...], whole: Polygon, metre: float) -> tuple[Any, ...]:
    """The zones into which an upright parts a wall but for one no higher than a fence, if the wall
    is higher."""
    most = constants.FENCE_MOST_M * metre
    if whole.bounds[3] - whole.bounds[1] <= most:
        return zones
    return tuple(z for z in zones if z.bounds[3] - z.bounds[1] > most)


def _beside(polygon: Polygon, x: float) -> tuple[Any, ...]:
    """What lies left of an upright and what right of it."""
    x0, y0, x1, y1 = polygon.bounds
    return (
        polygon.intersection(box(x0 - 1.0, y0 - 1.0, x, y1 + 1.0)),
        polygon.intersection(box(x, y0 - 1.0, x1 + 1.0, y1 + 1.0)),
    )


def _ends_short(
    polygon: Polygon, below: Surface, low: float, high: float, worse: float, s: Structure
) -> bool:
    """Whether the cladding below, which is clearest up to one height, may go on to a higher one:
    its last board or course is cut off there."""
    if "boards" in below.kinds:
        clear = (
            worse <= 2.0 * constants.CLADDING_AS_PURE
            and high <= low + constants.BOARD_MOST_M * s.metre
        )
        return clear or high <= low + s.metre / below.kinds["boards"] + s.gap
    if "stones" in below.kinds:
        return _joints_end(polygon, low, high, s)
    return False


def _joints_end(polygon: Polygon, low: float, high: float, s: Structure) -> bool:
    """Whether joints of stones fill the strip between two heights: the last course, cut off."""
    x0, _, x1, _ = polygon.bounds
    lines = s.runs.lines[s.runs.upright & s.texture.stones]
    lines = lines[(lines[:, 0] > x0) & (lines[:, 0] < x1)]
    between = (np.abs(lines[:, 1] - low) <= 2.0 * s.gap) & (
        np.abs(lines[:, 3] - high) <= 2.0 * s.gap
    )
    return bool(between.any())


def _goes_on(zone: Any, s: Structure, step: float) -> bool:
    """Whether lines at some step run across a stretch that seems to have none, or slabs."""
    x0, y0, x1, y1 = zone.bounds
    heights, drawn, _ = _rows(x0, x1, s)
    inside = (heights > y0 + s.gap) & (heights < y1 - s.gap)
    heights = heights[inside & (drawn >= constants.CLADDING_LEAST * (x1 - x0))]
    apart = np.abs(heights[:, None] - heights[None, :])
    return bool((np.abs(apart - step) <= s.gap).any(axis=1).sum() >= 2)


def _zones(polygon: Polygon, y: float) -> tuple[Any, ...]:
    """What lies below a height and what above it."""
    x0, y0, x1, y1 = polygon.bounds
    return (
        polygon.intersection(box(x0 - 1.0, y0 - 1.0, x1 + 1.0, y)),
        polygon.intersection(box(x0 - 1.0, y, x1 + 1.0, y1 + 1.0)),
    )


def _levels(polygon: Polygon, s: Structure, openings: Polygons) -> list[float]:
    """Heights at which lines run from one side of a wall to the other where its cladding may
    change."""
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_HEIGHT_M * s.metre
    at, drawn, rows = _rows(x0, x1, s)
    found: list[float] = []
    for k in np.flatnonzero((at > y0 + least) & (at < y1 - least)).tolist():
        if _in_rhythm(at[drawn >= 0.5 * drawn[k]], float(at[k]), s):
            continue
        if _is_drawn(polygon, rows[k], float(at[k]), openings, s):
            found.append(float(at[k]))
    return [v for v in found if not _run_through(polygon, v, s, s.texture.joints)]


def _ledges(polygon: Polygon, s: Structure) -> Floats:
    """The heights at which a wall stands on a step of the ground."""
    ring = shapely.get_coordinates(shapely.orient_polygons(polygon).exterior)
    edge = ring[1:] - ring[:-1]  # with the wall on the left, so its feet run to the right
    foot = (edge[:, 0] > constants.EAVES_LEAST_M * s.metre) & (np.abs(edge[:, 1]) <= s.gap)
    return np.asarray(ring[:-1][foot][:, 1])


def _rows(x0: float, x1: float, s: Structure) -> tuple[Floats, Floats, list[Floats]]:
    """The level lines between two uprights, course lines of stone left out: their heights upward,
    how long they are together at each, and themselves."""
    long = s.runs.length >= constants.CLADDING_LINE_M * s.metre
    lines = s.runs.lines[s.runs.level & ~s.texture.stones & long]
    lines = lines[(lines[:, 0] < x1) & (lines[:, 2] > x0)]
    if not len(lines):
        return np.empty(0), np.empty(0), []
    y = lines[:, [1, 3]].mean(axis=1)
    order = np.argsort(y)
    lines, y = lines[order], y[order]
    row = np.concatenate([[0], np.cumsum(np.diff(y) > 2.0 * s.gap)])
    drawn = np.bincount(row, np.minimum(lines[:, 2], x1) - np.maximum(lines[:, 0], x0))
    at = np.bincount(row, y) / np.bincount(row)
    return (
        np.asarray(at),
        np.asarray(drawn, dtype=np.float64),
        [lines[row == k] for k in range(len(at))],
    )


def _in_rhythm(heights: Floats, y: float, s: Structure) -> bool:
    """Whether the lines above and below lie at the same steps from a line."""
    up, down = heights[heights > y + s.gap] - y, y - heights[heights < y - s.gap][::-1]
    most = constants.CLADDING_STEP_M * s.metre
    if len(up) < 2 or len(down) < 2 or up[0] > most:
        return False

    def alike(one: float, two: float) -> bool:
        return bool(abs(one - two) <= 0.06 * one + s.gap)

    if alike(up[0], down[0]):
        return alike(2.0 * up[0], up[1]) or alike(2.0 * up[0], down[1])
    return alike(up[1], down[1]) and alike(up[1], up[0] + down[0]) and bool(up[1] <= most)


def _is_drawn(polygon: Polygon, lines: Floats, y: float, openings: Polygons, s: Structure) -> bool:
    """Whether lines run across a wall at a height, but for openings and what may stand beside
    these: shutters, steps."""
    x0, _, x1, _ = polygon.bounds
    across = polygon.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)]))
    near = openings[shapely.intersects(openings, across)] if len(openings) else openings
    hidden = shapely.union_all(near)
    across = across.difference(hidden)
    length = max(across.length, s.gap)
    first, last = np.maximum(lines[:, 0] - s.gap, x0), np.minimum(lines[:, 2] + s.gap, x1)
    if (last - first).sum() < constants.CLADDING_LEAST * length - s.gap:
        return False  # too short, wherever they lie
    drawn = shapely.union_all(
        shapely.box(lines[:, 0] - s.gap, y - s.gap, lines[:, 2] + s.gap, y + s.gap)
    )
    covered = across.intersection(drawn).length
    if covered < constants.CLADDING_LEAST * length or covered >= constants.CLADDING_COVER * length:
        return bool(covered >= constants.CLADDING_COVER * length)
    rest = shapely.get_parts(across.difference(drawn))
    rest = rest[shapely.length(rest) <= constants.SHUTTER_MOST_M * s.metre]
    beside = shapely.dwithin(rest, hidden, constants.ATTACHED_M * s.metre)
    return bool(covered + shapely.length(rest[beside]).sum() >= constants.CLADDING_COVER * length)


def _run_through(polygon: Polygon, y: float, s: Structure, joints: Flags) -> bool:
    """Whether more joints of a wall run on through a height than lines end there."""
    x0, low, x1, high = polygon.bounds
    end = constants.SLAB_END_M * s.metre
    lines = s.runs.lines[s.runs.upright]
    inside = (lines[:, 0] > x0 + end) & (lines[:, 0] < x1 - end)
    inside &= (lines[:, 1] >= low - 2.0 * s.gap) & (lines[:, 3] <= high + 2.0 * s.gap)
    through = (lines[:, 1] < y - 2.0 * s.gap) & (lines[:, 3] > y + 2.0 * s.gap)
    through &= inside & joints[s.runs.upright]
    stops = inside & (np.abs(lines[:, [1, 3]] - y).min(axis=1) <= 2.0 * s.gap)
    return bool(through.any() and through.sum() >= stops.sum())
