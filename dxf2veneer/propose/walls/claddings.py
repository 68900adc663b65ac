"""Walls parted where the cladding changes at a level line, or at an upright from foot to head.

|  |  |  |  |  |     battens above, stones below, all over or in patches: two walls that meet at the
+--+--+--+--+--+     line. A line with the same cladding on both sides parts nothing, nor does one
[__][___][__][_]     that joints run through, as they do in a wall of slabs. Where no cladding is
                     drawn, the top of a wainscot parts a wall all the same.
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
from dxf2veneer.propose.walls.across import (
    begins_rhythm,
    boards_from,
    is_wainscot,
    levels_across,
    rows_between,
)
from dxf2veneer.propose.walls.caps import caps_on, stones_differ
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.slabs import in_slab_step, joint_meets, joints_run_through
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import (
    IRREGULAR,
    Pattern,
    Surface,
    may_differ,
    stretch_of,
    surface_of,
)
from dxf2veneer.propose.walls.trim import trim_at


def parted(part: Part, s: Structure, openings: Polygons, patterns: list[Pattern]) -> list[Part]:
    """The walls that a part of a facade is made of, from the bottom up.

    Args:
        part: a stretch of facade.
        s: the structure of its elevation.
        openings: openings of the elevation; lines stop at them.
        patterns: hatched areas of the elevation.

    Returns:
        The part itself, or the walls into which its claddings part it; the front of a dormer is one
        wall.
    """
    x0, _, x1, _ = part.polygon.bounds
    if not part.reason.values["ground"] and x1 - x0 <= constants.DORMER_WIDTH_M[1] * s.metre:
        return [part]
    return _parted(part, part.polygon, s, openings, patterns)


def _parted(
    part: Part, whole: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> list[Part]:
    """The walls that a piece of a part is made of; ``whole``: outline of the part."""
    zones: tuple[Any, ...] = (part.polygon,)
    cap = _cap(part.polygon, s, openings, patterns)
    level = None if cap else _change(part.polygon, whole, s, openings, patterns)
    if cap:
        zones = _zones(part.polygon, *cap)
    elif level is not None:
        low, high = (
            _surface(z, part.polygon, s, openings, patterns) for z in _zones(part.polygon, level)
        )
        zones = _zones(
            part.polygon, *trim_at(part.polygon, level, (low, high), s, openings, patterns)
        )
    across = (part.polygon, *zones) if cap else zones
    sides = (_side(zone, part.polygon, s, openings, patterns) for zone in across)
    upright = next((x for x in sides if x is not None), None)
    if upright is not None:
        zones = _without_fence(_beside(part.polygon, upright), part.polygon, s.metre)
    elif len(zones) == 1:
        return [part]
    found: list[Part] = []
    for zone in zones:
        name = sorted(_surface(zone, part.polygon, s, openings, patterns).kinds)
        reason = Reason("WALL_CLADDING", {**part.reason.values, "cladding": name})
        for shape in shapely.get_parts(zone):
            if isinstance(shape, Polygon) and is_large(shape, s.metre):
                piece = Part(Polygon(shape.exterior), part.confidence - 0.05, reason)
                found += _parted(piece, whole, s, openings, patterns)
    return found


def _cap(
    polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> tuple[float, float] | None:
    """Foot and head of the lowest cap that stands out past a wall between two claddings; a string
    course amid one and the same, or amid none, is no such cap."""
    for strip in caps_on(polygon, s):
        low, high = zones = _zones(polygon, *strip)
        one, two = (_surface(z, polygon, s, openings, patterns) for z in zones)
        if not (one.shown or two.shown):
            continue
        if one.differs(two) or ("stones" in one.shown and stones_differ(low, high, s)):
            return strip
    return None


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
    polygon: Polygon, whole: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The height at which the cladding of a wall changes most clearly, None where it doesn't."""
    found: list[tuple[float, float, Surface, Surface]] = []
    for y in levels_across(polygon, s, openings):
        zones = _zones(polygon, y)
        low, high = (_surface(z, polygon, s, openings, patterns) for z in zones)
        if (low.shown and high.shown) or low.kinds or high.kinds:
            clear = _clear(polygon, y, zones, low, high, s)
            clear *= not _slabs_go_on(polygon, y, low, high, s, openings)
        elif low.shown or high.shown:  # a patch speaks for the wall on both sides of the line
            clear = 0.0
        else:
            clear = 0.1 * is_wainscot(polygon, whole, y, s, openings)
        if clear:
            found.append((clear, y, low, high))
    if not found:
        return None
    best, at, below, above = max(found, key=lambda f: f[:2])
    step = s.metre / above.kinds["boards"] if "boards" in above.kinds else 0.0
    may = [
        y
        for purity, y, *_ in found
        if y == at
        or (y > at and _ends_short(polygon, below, at, y, best - purity, s))
        or (not below.shown and abs(y - at) <= step + s.gap)
    ]
    laid = [y for y in may if step and boards_from(polygon, y, step, s)]
    return min(laid) if laid else max(y for y in may if y == at or below.shown)


def _clear(
    polygon: Polygon, y: float, zones: tuple[Any, ...], low: Surface, high: Surface, s: Structure
) -> float:
    """How clearly the cladding changes at a height, 0 where it doesn't."""
    heights = (y - polygon.bounds[1], polygon.bounds[3] - y)
    blank = [h for h, c in zip(heights, (low, high), strict=True) if not c.shown]
    if not (low.is_told and high.is_told and low.differs(high)):
        return 0.0
    if {*low.shown, *high.shown} <= {"slabs"} and joints_run_through(polygon, y, s, s.runs.upright):
        return 0.0
    if blank and (np.abs(_ledges(polygon, s) - y) <= 2.0 * s.gap).any():
        return 0.0
    plinth = not low.shown and "slabs" not in high.shown and not begins_rhythm(polygon, y, s)
    least = constants.WAINSCOT_M[0] if plinth else constants.CLADDING_BLANK_M
    if min(blank, default=np.inf) < least * s.metre:
        return 0.0
    if any(
        _goes_on(z, s, s.metre / c.kinds["boards"])
        for z, own, c in zip(zones, (low, high), (high, low), strict=True)
        if "boards" in c.kinds and own.kinds.keys() <= {"slabs"}
    ):
        return 0.0
    return low.purity * high.purity


def _slabs_go_on(
    polygon: Polygon, y: float, low: Surface, high: Surface, s: Structure, openings: Polygons
) -> bool:
    """Whether slabs seen on one side of a height, which may seem to be irregular stones, go on
    where nothing else is drawn."""
    sides = ((low, high, 1.0), (high, low, -1.0))
    beside = [(c.kinds, way) for c, blank, way in sides if not blank.shown]
    if any(k.keys() == {"slabs"} and joint_meets(polygon, y, w, s, openings) for k, w in beside):
        return True
    if not any(k in ({"slabs": 1.0}, {"stones": IRREGULAR}) for k, _ in beside):
        return False
    x0, y0, x1, y1 = polygon.bounds
    heights, drawn, _ = rows_between(x0, x1, s)
    inside = (heights > y0 - s.gap) & (heights < y1 + s.gap)
    inside &= drawn >= constants.CLADDING_LINE_M * s.metre
    return in_slab_step(heights[inside], y, s)


def _side(
    zone: Any, polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The upright from foot to head of a wall at which the cladding of a stretch of it, from side
    to side, changes most clearly: the corner of a wing that nothing else shows. None where it
    doesn't, or where one side has no cladding."""
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_BLANK_M * s.metre
    beyond = s.texture.steady & (zone is polygon)  # battens of the stretch stop at its ends
    lines = s.runs.lines[s.runs.upright & ~beyond & ~s.texture.stones]
    x = lines[:, 0]
    lines = lines[(x > x0 + least) & (x < x1 - least) & (lines[:, 1] < y1) & (lines[:, 3] > y0)]
    groups = [
        lines[np.abs(lines[:, 0] - at * s.gap) <= s.gap]
        for at in np.unique(np.rint(lines[:, 0] / s.gap))
    ]
    found: list[tuple[float, float]] = []
    for middle in _whole(polygon, groups, openings, s):
        one, two = (stretch_of(z, polygon, s, openings) for z in _beside(zone, middle))
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


def _beside(polygon: Any, x: float) -> tuple[Any, ...]:
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
    heights, drawn, _ = rows_between(x0, x1, s)
    inside = (heights > y0 + s.gap) & (heights < y1 - s.gap)
    heights = heights[inside & (drawn >= constants.CLADDING_LEAST * (x1 - x0))]
    apart = np.abs(heights[:, None] - heights[None, :])
    return bool((np.abs(apart - step) <= s.gap).any(axis=1).sum() >= 2)


def _zones(polygon: Polygon, y: float, above: float | None = None) -> tuple[Any, ...]:
    """What lies below a height and what above it, or above another that is given."""
    x0, y0, x1, y1 = polygon.bounds
    high = y if above is None else above
    return (
        polygon.intersection(box(x0 - 1.0, y0 - 1.0, x1 + 1.0, y)),
        polygon.intersection(box(x0 - 1.0, high, x1 + 1.0, y1 + 1.0)),
    )


def _ledges(polygon: Polygon, s: Structure) -> Floats:
    """The heights at which a wall stands on a step of the ground."""
    ring = shapely.get_coordinates(shapely.orient_polygons(polygon).exterior)
    edge = ring[1:] - ring[:-1]  # with the wall on the left, so its feet run to the right
    foot = (edge[:, 0] > constants.EAVES_LEAST_M * s.metre) & (np.abs(edge[:, 1]) <= s.gap)
    return np.asarray(ring[:-1][foot][:, 1])
