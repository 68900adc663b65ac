"""Walls parted where the cladding changes at a level line.

|  |  |  |  |  |     battens above, stones below: two walls that meet at the line. A line with
+--+--+--+--+--+     the same cladding on both sides, or with none, parts nothing; nor does one that
[__][___][__][_]     joints run through, as they do in a wall of slabs.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Pattern, Surface, surface_of


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
    change = _change(part.polygon, s, openings, patterns)
    if change is None:
        return [part]
    found: list[Part] = []
    for zone in _zones(part.polygon, change):
        name = sorted(_surface(zone, part.polygon, s, openings, patterns).kinds)
        reason = Reason("WALL_CLADDING", {**part.reason.values, "cladding": name})
        for shape in shapely.get_parts(zone):
            if isinstance(shape, Polygon) and is_large(shape, s.metre):
                piece = Part(Polygon(shape.exterior), part.confidence - 0.05, reason)
                found += parted(piece, s, openings, patterns)
    return found


def _surface(
    zone: Any, wall: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> Surface:
    return surface_of(zone, s, openings, patterns, wall.bounds[1], wall.bounds[3])


def _change(
    polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The height at which the cladding of a wall changes most clearly, None where it doesn't."""
    found: list[tuple[float, float, bool]] = []
    for y in _levels(polygon, s, openings):
        zones = _zones(polygon, y)
        low, high = (_surface(z, polygon, s, openings, patterns) for z in zones)
        heights = (y - polygon.bounds[1], polygon.bounds[3] - y)
        blank = [h for h, c in zip(heights, (low, high), strict=True) if not c.kinds]
        if not (low.is_told and high.is_told and low.differs(high)):
            continue
        if min(blank, default=np.inf) < constants.CLADDING_BLANK_M * s.metre:
            continue
        if blank and any(
            _goes_on(z, y, s, s.metre / c.kinds["boards"])
            for z, c in zip(zones, (high, low), strict=True)
            if "boards" in c.kinds
        ):
            continue
        found.append((low.purity * high.purity, y, bool(low.kinds)))
    if not found:
        return None
    best, at, drawn = max(found)  # a cladding below may end short of the change
    reach = constants.BOARD_MOST_M * s.metre if drawn else 0.0
    return max(
        y
        for purity, y, _ in found
        if y <= at + reach and purity >= best - constants.CLADDING_AS_PURE
    )


def _goes_on(zone: Any, y: float, s: Structure, step: float) -> bool:
    """Whether boards go on from a height at their step into a stretch that seems to have none."""
    x0, y0, x1, y1 = zone.bounds
    way = 1.0 if (y0 + y1) / 2.0 > y else -1.0
    lines = s.runs.lines[s.runs.level & (s.runs.length >= constants.CLADDING_LINE_M * s.metre)]
    lines = lines[(lines[:, 0] < x1 - s.gap) & (lines[:, 2] > x0 + s.gap)]
    heights = lines[:, [1, 3]].mean(axis=1)
    count = min(3, int((y1 - y0) / step))
    seen = [
        (np.abs(heights - (y + way * k * step)) <= 2.0 * s.gap).any() for k in range(1, count + 1)
    ]
    return bool(seen) and all(seen)


def _zones(polygon: Polygon, y: float) -> tuple[Any, Any]:
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
    lines = s.runs.lines[
        s.runs.level
        & ~s.texture.stones
        & (s.runs.length >= constants.CLADDING_LINE_M * s.metre)
    ]
    lines = lines[(lines[:, 0] < x1) & (lines[:, 2] > x0)]
    y = lines[:, [1, 3]].mean(axis=1)
    lines, y = lines[np.argsort(y)], np.sort(y)
    new = np.concatenate([[True], np.diff(y) > 2.0 * s.gap])[: len(y)]
    row = np.cumsum(new) - 1
    drawn = np.bincount(row, np.minimum(lines[:, 2], x1) - np.maximum(lines[:, 0], x0))
    at = np.bincount(row, y) / np.bincount(row)
    found: list[float] = []
    for k in np.flatnonzero((at > y0 + least) & (at < y1 - least)).tolist():
        if _in_rhythm(at[drawn >= 0.5 * drawn[k]], float(at[k]), s):
            continue
        height = float(at[k])
        if _is_drawn(polygon, lines[row == k], height, openings, s):
            found.append(height)
    return [v for v in found if not _run_through(polygon, v, s)]


def _in_rhythm(heights: Floats, y: float, s: Structure) -> bool:
    """Whether the lines above and below lie at the same steps from a line."""
    up, down = heights[heights > y + s.gap] - y, y - heights[heights < y - s.gap][::-1]
    most = constants.CLADDING_STEP_M * s.metre
    if len(up) and len(down) and abs(up[0] - down[0]) <= 0.06 * up[0] + s.gap:
        return bool(up[0] <= most)
    if len(up) < 2 or len(down) < 2:
        return False
    alike = abs(up[1] - down[1]) <= 0.06 * up[1] + s.gap
    return bool(alike and abs(up[1] - up[0] - down[0]) <= s.gap and up[1] <= most)


def _is_drawn(polygon: Polygon, lines: Floats, y: float, openings: Polygons, s: Structure) -> bool:
    """Whether lines run across a wall at a height, but for openings and what may stand beside
    these: shutters, steps."""
    x0, _, x1, _ = polygon.bounds
    across = polygon.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)]))
    near = openings[shapely.intersects(openings, across)] if len(openings) else openings
    hidden = shapely.union_all(near)
    across = across.difference(hidden)
    drawn = shapely.union_all(
        shapely.box(lines[:, 0] - s.gap, y - s.gap, lines[:, 2] + s.gap, y + s.gap)
    )
    length = max(across.length, s.gap)
    covered = across.intersection(drawn).length
    if covered < constants.CLADDING_LEAST * length or covered >= constants.CLADDING_COVER * length:
        return bool(covered >= constants.CLADDING_COVER * length)
    rest = shapely.get_parts(across.difference(drawn))
    rest = rest[shapely.length(rest) <= constants.SHUTTER_MOST_M * s.metre]
    beside = shapely.dwithin(rest, hidden, constants.ATTACHED_M * s.metre)
    return bool(covered + shapely.length(rest[beside]).sum() >= constants.CLADDING_COVER * length)


def _run_through(polygon: Polygon, y: float, s: Structure) -> bool:
    """Whether more joints of a wall run on through a height than end there."""
    x0, low, x1, high = polygon.bounds
    end = constants.SLAB_END_M * s.metre
    lines = s.runs.lines[s.runs.upright]
    inside = (lines[:, 0] > x0 + end) & (lines[:, 0] < x1 - end)
    inside &= (lines[:, 1] >= low - 2.0 * s.gap) & (lines[:, 3] <= high + 2.0 * s.gap)
    through = (lines[:, 1] < y - 2.0 * s.gap) & (lines[:, 3] > y + 2.0 * s.gap)
    through &= inside & s.texture.joints[s.runs.upright]
    stops = inside & (np.abs(lines[:, [1, 3]] - y).min(axis=1) <= 2.0 * s.gap)
    return bool(through.any() and through.sum() >= stops.sum())
