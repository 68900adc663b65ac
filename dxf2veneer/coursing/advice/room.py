"""How far openings and caps may go up and down before something stands in their way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shapely.geometry import box as shapely_box
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.tolerances import TOUCH_IN
from dxf2veneer.config.advice import CAP
from dxf2veneer.config.job import Job
from dxf2veneer.coursing.meetings import Meeting
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.model import OpeningQuantities, WallQuantities


def has_level_top(wall: WallQuantities) -> bool:
    """Whether a wall has a level top all along.

    Args:
        wall: The wall.

    Returns:
        False for gables, stepped tops and arcs.
    """
    tops = [b for b in boundary(wall.wall.region) if b.what in ("top", "rake")]
    high = wall.wall.box[3] - TOUCH_IN
    return bool(tops) and all(
        b.what == "top" and min(b.segment.start[1], b.segment.end[1]) >= high for b in tops
    )


def room_of(
    wall: WallQuantities, measured: OpeningQuantities, job: Job, move: float
) -> tuple[float, float]:
    """How far an opening may go up and down.

    It keeps the height of a sliver from the wall's outline, caps and other openings with their
    trim; where two that may move face each other, each gets half of what is between them.

    Args:
        wall: Its wall.
        measured: The opening.
        job: Trim, the height of a sliver, and what else may move.
        move: How far it may move.

    Returns:
        Inches up and down.
    """
    if not move:
        return 0.0, 0.0
    opening, trim = measured.opening, job.trim
    x0, y0, x1, y1 = opening.box
    trimmed = opening.kind != "fixture"
    jambs = trim.jambs if trimmed else 0.0
    head = y1 + (trim.head if trimmed else 0.0)
    sill = y0 - (trim.sill if trimmed and measured.trim_sill > 0.0 else 0.0)
    _, base, _, top = wall.wall.box
    column = shapely_box(x0 - jambs + TOUCH_IN, base - 1.0, x1 + jambs - TOUCH_IN, top + 1.0)
    up, down = top + 1.0 - head, sill - (base - 1.0)
    for blocked, shared in _obstacles(wall, measured, job, column):
        low, high = blocked.bounds[1], blocked.bounds[3]
        if low >= y1 - TOUCH_IN:
            up = min(up, (low - head - job.courses.sliver) * shared)
        elif high <= y0 + TOUCH_IN:
            down = min(down, (sill - high - job.courses.sliver) * shared)
    return max(0.0, min(up, move)), max(0.0, min(down, move))


def _obstacles(
    wall: WallQuantities, measured: OpeningQuantities, job: Job, column: BaseGeometry
) -> Iterator[tuple[BaseGeometry, float]]:
    """What stands over and under an opening, each with the share of the gap that is the
    opening's."""
    outside = column.difference(wall.wall.region.polygon)
    for part in getattr(outside, "geoms", [outside]):
        yield part, 1.0
    movable_cap = job.advice.move_of("", "", CAP) > 0.0
    for part in wall.cap_region.parts:
        found = column.intersection(shapely_box(*part.outer.box))
        if not found.is_empty and found.area > 0.0:
            yield found, 0.5 if movable_cap else 1.0
    for other in wall.openings:
        if other is measured:
            continue
        x0, y0, x1, y1 = other.opening.box
        trim = job.trim
        widths = (trim.jambs, trim.sill if other.trim_sill > 0.0 else 0.0, trim.head)
        jambs, sill, head = widths if other.opening.kind != "fixture" else (0.0, 0.0, 0.0)
        found = column.intersection(shapely_box(x0 - jambs, y0 - sill, x1 + jambs, y1 + head))
        if not found.is_empty and found.area > 0.0:
            named = other.opening.name, other.opening.id, other.opening.kind
            yield found, 0.5 if job.advice.move_of(*named) else 1.0


def cap_room(
    wall: WallQuantities,
    heights: tuple[float, float],
    met: Sequence[Meeting],
    job: Job,
    move: float,
    *,
    at_top: bool,
) -> tuple[float, float]:
    """How far caps may go up and down: clear of openings by a sliver's height.

    Args:
        wall: Their wall.
        heights: Of the caps' line, and of their foot.
        met: What course lines meet under them.
        job: Trim, the height of a sliver, and what else may move.
        move: How far they may move.
        at_top: Whether the wall's top goes with them.

    Returns:
        Inches up and down.
    """
    (line, foot), gap = heights, job.courses.sliver
    _, base, _, top = wall.wall.box
    up = move if at_top else min(move, top - line - gap)
    down = min(move, foot - base - gap)
    for other in wall.openings:
        a, low, b, high = other.opening.box
        if not any(b > m.x0 and a < m.x1 for m in met):
            continue
        named = other.opening.name, other.opening.id, other.opening.kind
        share = 0.5 if job.advice.move_of(*named) else 1.0
        is_trimmed = other.opening.kind != "fixture"
        if low >= line - TOUCH_IN:
            sill = job.trim.sill if is_trimmed and other.trim_sill > 0.0 else 0.0
            up = min(up, (low - sill - line - gap) * share)
        else:
            head = job.trim.head if is_trimmed else 0.0
            down = min(down, (foot - high - head - gap) * share)
    return max(0.0, up), max(0.0, down)
