"""Trim bands round openings: their runs and the area they cover.

.-----------.   head   band over the top, over an arch along the arch
|  .-----.  |   jambs  bands beside the upright sides
|  |     |  |   sill   band under the bottom; none where the opening is a door
|  '-----'  |
'-----------'   bands meet in mitres
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Area, Length, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import (
    ENDS_MEET_IN,
    FLATTEN_IN,
    FREE_SHARE,
    JAMB_LEAN,
    JAMB_SHARE,
    MITRE_LIMIT,
    TOUCH_IN,
)
from dxf2veneer.config.job import Trim
from dxf2veneer.geometry import Path, Point, Region, Segment
from dxf2veneer.geometry.boundary import straightened, stretch_of
from dxf2veneer.model import DOORS, Opening, Wall

TrimSide = Literal["head", "jambs", "sill"]


def trim_sides(opening: Opening) -> list[tuple[TrimSide, Segment]]:
    """The stretches of an opening's boundary by the trim stone that would stand there.

    Args:
        opening: The opening, in inches.

    Returns:
        (side, stretch), counter-clockwise; what would stand over an arch counts as head.
    """
    return [
        side for part in opening.region.parts for side in _named(straightened(part.outer).segments)
    ]


class Surroundings:
    """What may stand against an opening and leave no place for its trim.

    That is the wall's boundary and the other openings.
    """

    def __init__(self, wall: Wall) -> None:
        """Look over the wall once for all its openings."""
        self._edge = wall.region.polygon.boundary
        self._ids = [o.id for o in wall.openings]
        self._polygons = np.array([o.region.polygon for o in wall.openings], dtype=object)
        self._tree = shapely.STRtree(self._polygons)

    def against(self, line: LineString, opening: Opening) -> list[BaseGeometry]:
        """What lies within ``TOUCH_IN`` of a line on an opening's boundary, that opening aside."""
        near = sorted(self._tree.query(line, predicate="dwithin", distance=TOUCH_IN).tolist())
        edge = [self._edge] if shapely.dwithin(self._edge, line, TOUCH_IN) else []
        return [*edge, *(self._polygons[i] for i in near if self._ids[i] != opening.id)]


def trim_runs(opening: Opening, around: Surroundings) -> dict[TrimSide, float]:
    """How long an opening's trim stones run, along the opening's own boundary.

    Stretches on the wall's boundary or against another opening bear no trim; a door has no sill
    and a fixture, which sits in its block, no trim at all.

    Args:
        opening: The opening, in inches.
        around: What stands in its wall.

    Returns:
        Length in inches of head, jambs and sill.
    """
    runs: dict[TrimSide, list[float]] = {"head": [], "jambs": [], "sill": []}
    for side, segment in _trimmed(opening):
        runs[side].append(segment.length * _free_share(segment, opening, around))
    return {side: math.fsum(lengths) for side, lengths in runs.items()}


def trim_bands(wall: Wall, trim: Trim, around: Surroundings) -> Region:
    """What all trim bands of a wall cover, openings and what lies outside the wall left out.

    Args:
        wall: The wall, in inches.
        trim: Width in inches of the bands at head, jambs and sill.
        around: What stands in the wall.

    Returns:
        The region, counted once where bands overlap; empty without trim.
    """
    widths: dict[TrimSide, float] = {"head": trim.head, "jambs": trim.jambs, "sill": trim.sill}
    strips: list[Region] = []
    for opening in wall.openings if any(widths.values()) else ():
        strips += _strips(opening, around, widths)
    if not strips:
        return Region()
    bands = strips[0].union(*strips[1:])
    return bands.intersection(wall.region).difference(*(o.region for o in wall.openings))


def trim_notices(wall: Wall, trim: Trim) -> Iterator[Notice]:
    """Openings so near to each other that the trim stones of both don't fit in between.

    Args:
        wall: The wall, in inches.
        trim: Width in inches of the bands at head, jambs and sill.

    Yields:
        A warning for each two of them, in the middle of what both would cover.
    """
    widths: dict[TrimSide, float] = {"head": trim.head, "jambs": trim.jambs, "sill": trim.sill}
    if not any(widths.values()):
        return
    around = Surroundings(wall)
    strips = [(o, _strips(o, around, widths)) for o in wall.openings]
    bands = [(o, some[0].union(*some[1:])) for o, some in strips if some]
    shapes = np.array([band.polygon for _, band in bands], dtype=object)
    tree = shapely.STRtree(shapes)
    for one, two in sorted(zip(*tree.query(shapes, predicate="intersects").tolist(), strict=True)):
        (left, _), (right, _) = bands[one], bands[two]
        shared = shapes[one].intersection(shapes[two])
        if one >= two or shared.area <= TOUCH_IN * shared.length:
            continue
        what = message(
            "trim-overlaps",
            openings=(left.id, right.id),
            wall=wall.id,
            gap=Length(left.region.polygon.distance(right.region.polygon)),
            area=Area(shared.area),
        )
        at = shared.centroid
        yield Notice("TRIM_OVERLAPS", what, drawing=wall.drawing, at_in=(at.x, at.y))


def _trimmed(opening: Opening) -> list[tuple[TrimSide, Segment]]:
    if opening.kind == "fixture":
        return []
    sides = trim_sides(opening)
    return [(side, s) for side, s in sides if not (opening.kind in DOORS and side == "sill")]


def _free_share(segment: Segment, opening: Opening, around: Surroundings) -> float:
    """Share of a stretch that lies neither on the wall's boundary nor against an opening."""
    line = LineString(segment.flatten(rise_in=FLATTEN_IN))
    blocked = around.against(line, opening)
    if not blocked:
        return 1.0
    zones = shapely.union_all(shapely.buffer(blocked, TOUCH_IN, cap_style="flat"))
    along = [p for p in shapely.get_parts(line.intersection(zones)) if p.length > 3 * TOUCH_IN]
    free = 1.0 - math.fsum(_without_reach(p, line) for p in along) / line.length
    return free if free > FREE_SHARE else 0.0


def _without_reach(part: LineString, line: LineString) -> float:
    """Length of a blocked part of a line, less what the tolerance adds at ends inside the line."""
    ends = (line.coords[0], line.coords[-1])
    inner = [
        p
        for p in (part.coords[0], part.coords[-1])
        if all(math.dist(p, e) > ENDS_MEET_IN for e in ends)
    ]
    return float(part.length) - TOUCH_IN * len(inner)


def _strips(opening: Opening, around: Surroundings, widths: dict[TrimSide, float]) -> list[Region]:
    """The band along each stretch and the mitres between them."""
    kept = {s for _, s in _trimmed(opening) if _free_share(s, opening, around) > 0.0}
    strips: list[Region] = []
    for part in opening.region.parts:
        named = _named(straightened(part.outer).segments)
        segments = [s for _, s in named]
        wide = [widths[side] if s in kept else 0.0 for side, s in named]
        for i, segment in enumerate(segments):
            if wide[i] > 0.0:
                strips.append(_strip(segment, wide[i]))
            before = i - 1
            if wide[i] > 0.0 and wide[before] > 0.0:
                strips.append(_mitre(segments[before], wide[before], segment, wide[i]))
    return [s for s in strips if not s.is_empty]


def _named(segments: Sequence[Segment]) -> list[tuple[TrimSide, Segment]]:
    """What would stand at each stretch of an opening's boundary.

    The sides of a tapered opening lean and are jambs all the same: they rise from its foot through
    most of its height to a head. Those of a spire lean too and meet each other: they are its head.
    The short steep chords of an arch are head as well.
    """
    ys = [y for s in segments for y in (s.start[1], s.end[1])]
    leaning = [_leans(s, max(ys) - min(ys)) for s in segments]
    named: list[tuple[TrimSide, Segment]] = []
    for i, segment in enumerate(segments):
        rises = segment.end[1] > segment.start[1]
        above = (i + 1) % len(segments) if rises else i - 1
        tapers = leaning[i] and not leaning[above]
        named.append(("jambs" if tapers else _side(segment), segment))
    return named


def _leans(segment: Segment, high: float) -> bool:
    """Whether a stretch of an opening so high is upright, or leans no more than a jamb may."""
    dx, dy = (b - a for a, b in zip(segment.start, segment.end, strict=True))
    return bool(
        not segment.is_arc and abs(dx) <= JAMB_LEAN * abs(dy) and abs(dy) >= JAMB_SHARE * high
    )


def _side(segment: Segment) -> TrimSide:
    what = stretch_of(segment)
    return "jambs" if what in ("left", "right") else "sill" if what == "base" else "head"


def _strip(segment: Segment, width: float) -> Region:
    """The band of that width on a segment's right hand (outside a counter-clockwise path)."""
    p, q = _offset(segment, 0.0, width), _offset(segment, 1.0, width)
    if (
        segment.bulge < 0.0 and width >= segment.radius
    ):  # a hollow tighter than the band is filled up to its center
        return Region.of(
            Path(((*segment.start, segment.bulge), (*segment.end, 0.0), (*segment.center, 0.0)))
        )
    corners = (
        (*segment.start, segment.bulge),
        (*segment.end, 0.0),
        (*q, 0.0 - segment.bulge),
        (*p, 0.0),
    )
    return Region.of(Path(corners))


def _normal(segment: Segment, fraction: float) -> Point:
    """Unit vector to the right of the direction of travel at the start (0) or the end (1)."""
    dx, dy = segment.end[0] - segment.start[0], segment.end[1] - segment.start[1]
    turn = segment.angle * (fraction - 0.5)
    cos, sin = math.cos(turn), math.sin(turn)
    tx, ty = dx * cos - dy * sin, dx * sin + dy * cos
    return ty / segment.chord, -tx / segment.chord


def _offset(segment: Segment, fraction: float, width: float) -> Point:
    nx, ny = _normal(segment, fraction)
    x, y = segment.end if fraction else segment.start
    return x + nx * width, y + ny * width


def _mitre(one: Segment, first: float, two: Segment, second: float) -> Region:
    """The corner between two bands: a kite to the point where their outer lines meet.

    Where a narrow band meets a much wider one at a flat angle, its outer line ends at the wider
    band's end before the two outer lines meet, and the corner is a triangle.
    """
    (ax, ay), (bx, by) = _normal(one, 1.0), _normal(two, 0.0)
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    if cross <= 1e-6:  # a hollow or straight corner: the bands overlap or adjoin
        return Region()
    vx, vy = two.start
    p, q = (ax * first, ay * first), (bx * second, by * second)
    # the meeting point m solves m . a = first, m . b = second
    m = (first * by - second * ay) / cross, (second * ax - first * bx) / cross
    if second < first * dot:
        corner = [(ax * second / dot, ay * second / dot), q]
    elif first < second * dot:
        corner = [p, (bx * first / dot, by * first / dot)]
    else:
        corner = [p, m, q] if math.hypot(*m) <= MITRE_LIMIT * max(first, second) else [p, q]
    return Region.of(Path.polygon([(vx, vy), *((vx + x, vy + y) for x, y in corner)]))
