"""What each stretch of a wall's boundary is: base, top, rake, side.

Walked counter-clockwise, the inside lies to the left, so the direction tells the stretch:

            <-- top          base     runs to the right
         .-------.           top      runs to the left, level; sloped it is a rake
    left |       ^           right    runs upward
         v       | right     left     runs downward
         '-------'           riser    an upright between two stretches of base
          base -->
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import shapely
from shapely.geometry import LineString

from dxf2veneer.basics.tolerances import LEVEL_SLOPE, SPANS_TOUCH_IN, STRAIGHT_IN
from dxf2veneer.geometry.paths import Path
from dxf2veneer.geometry.region import Region
from dxf2veneer.geometry.segments import Segment

Stretch = Literal["base", "top", "rake", "left", "right"]


@dataclass(frozen=True)
class BoundaryStretch:
    """One stretch of boundary: what it is, its segment, and whether it is a riser of the base."""

    what: Stretch
    """What it is."""
    segment: Segment
    """In inches, counter-clockwise."""
    is_riser: bool = False
    """Whether it is a riser of the base."""


def boundary(region: Region) -> tuple[BoundaryStretch, ...]:
    """Every stretch of a region's outer boundary.

    Args:
        region: The region, in inches.

    Returns:
        The stretches in order, part by part, counter-clockwise; stretches in one line joined.
    """
    return tuple(side for part in region.parts for side in _sides(straightened(part.outer)))


def straightened(path: Path) -> Path:
    """A path without vertices in the middle of a straight stretch.

    Args:
        path: A closed path.

    Returns:
        The closed path of the same shape.
    """
    joined: list[Segment] = []
    for segment in path.segments:
        if joined and _in_line(joined[-1], segment):
            joined[-1] = Segment(joined[-1].start, segment.end)
        else:
            joined.append(segment)
    if len(joined) > 2 and _in_line(joined[-1], joined[0]):
        joined[0] = Segment(joined[-1].start, joined[0].end)
        joined.pop()
    return Path.chain(joined, closed=True)


def base_heights(region: Region, x: float) -> list[float]:
    """Where a region begins above a place on the x axis.

    Args:
        region: The region, in inches.
        x: The place, in inches.

    Returns:
        Heights in inches from the bottom up, one for each of the region's stretches at ``x``.
    """
    _, y0, _, y1 = region.box
    cut = region.polygon.intersection(LineString([(x, y0 - 1.0), (x, y1 + 1.0)]))
    return sorted(float(part.bounds[1]) for part in shapely.get_parts(cut) if not part.is_empty)


def level_stretches(region: Region, y: float) -> list[tuple[float, float]]:
    """Where a level line runs inside a region.

    Args:
        region: The region, in inches.
        y: The line's height, in inches.

    Returns:
        Spans of x in inches, from left to right.
    """
    x0, _, x1, _ = region.box
    cut = region.at_height(y).intersection(LineString([(x0 - 1.0, y), (x1 + 1.0, y)]))
    parts = shapely.get_parts(cut)
    lines = parts[
        (shapely.get_type_id(parts) == shapely.GeometryType.LINESTRING) & ~shapely.is_empty(parts)
    ]
    return merged((a, b) for a, _, b, _ in shapely.bounds(lines).tolist())


def merged(spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spans of x with those that touch joined.

    Args:
        spans: (least, greatest) of each, in inches, in any order.

    Returns:
        The spans from left to right.
    """
    result: list[tuple[float, float]] = []
    for a, b in sorted(spans):
        if result and a <= result[-1][1] + SPANS_TOUCH_IN:
            result[-1] = (result[-1][0], max(b, result[-1][1]))
        else:
            result.append((a, b))
    return result


def _in_line(one: Segment, two: Segment) -> bool:
    if one.is_arc or two.is_arc:
        return False
    dx, dy = two.end[0] - one.start[0], two.end[1] - one.start[1]
    vx, vy = one.end[0] - one.start[0], one.end[1] - one.start[1]
    wx, wy = two.end[0] - two.start[0], two.end[1] - two.start[1]
    stray = abs(dx * vy - dy * vx)
    return stray <= STRAIGHT_IN * math.hypot(dx, dy) and vx * wx + vy * wy > 0


def _sides(path: Path) -> list[BoundaryStretch]:
    named = [(stretch_of(s), s) for s in path.segments]
    found = []
    for i, (what, segment) in enumerate(named):
        upright = what in ("left", "right")
        around = (named[i - 1][0], named[(i + 1) % len(named)][0])
        found.append(
            BoundaryStretch(what, segment, is_riser=upright and around == ("base", "base"))
        )
    return found


def stretch_of(segment: Segment) -> Stretch:
    """What a segment of a boundary is, by its direction; an arc by its chord.

    Args:
        segment: A segment of a counter-clockwise boundary.

    Returns:
        The kind of stretch, as the module's sketch shows.
    """
    dx, dy = segment.end[0] - segment.start[0], segment.end[1] - segment.start[1]
    if not segment.is_arc and abs(dx) <= LEVEL_SLOPE * abs(dy):
        return "right" if dy > 0 else "left"
    if dx > 0:
        return "base"
    return "top" if not segment.is_arc and abs(dy) <= LEVEL_SLOPE * abs(dx) else "rake"
