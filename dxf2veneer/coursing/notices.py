"""Notices about courses: starters, slivers, ground below the starter, corners that nothing ties."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product as pairs_of

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import BARE_GROUND_SQIN, LINE_MEETS_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.model import (
    Conflict,
    Corner,
    StartTable,
    Wall,
    WallCourses,
    WallQuantities,
    WallTakeoff,
)


def course_notices(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    starts: Sequence[StartTable],
    job: Job,
    product: Product,
) -> Iterator[Notice]:
    """All that is to be reported of the courses of a job, before panels are laid.

    Args:
        walls: The walls with their courses.
        corners: Corners that join them.
        starts: The table of starts of each group of walls.
        job: Whether the best start was asked for, and from what range.
        product: Height of a course.

    Returns:
        Notices of starts, of each wall, of the whole job, of corners, in this order.
    """
    height = product.panel.height
    yield from start_notices(starts, [w.wall for w in walls], job)
    for wall in walls:
        yield from wall_notices(wall, height)
    yield from bare_ground(walls)
    yield from _untied_corners(walls, corners, height)


def start_notices(
    tables: Sequence[StartTable], walls: Sequence[Wall], job: Job
) -> Iterator[Notice]:
    """Notices about best starts that were asked for and leave slivers, or lie out of range.

    Args:
        tables: The table of starts of each group of walls.
        walls: The walls that the tables name.
        job: Whether the best start was asked for, and the permitted range.

    Returns:
        Up to two notices for each group, at its first wall.
    """
    by_id = {w.id: w for w in walls}
    low, high = Length(job.courses.clearance), Length(job.courses.highest)
    for table in tables if job.courses.start == "best" else ():
        first, best = by_id[table.walls[0]], table.best
        if best.slivers:
            report = message(
                "start-leaves-slivers",
                walls=table.walls,
                low=low,
                high=high,
                slivers=best.slivers,
            )
            yield _at_wall("START_SLIVERS", report, first)
        if not best.fits:
            report = message("start-out-of-range", walls=table.walls, low=low, high=high)
            yield _at_wall("START_OUT_OF_RANGE", report, first)


def _at_wall(
    code: str, report: Message, wall: Wall, at: tuple[float, float] | None = None
) -> Notice:
    """A notice at a wall's outline, by its lower left corner where no place is given."""
    return Notice(
        code,
        report,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=wall.handles[0],
        at_in=wall.box[:2] if at is None else at,
    )


# ------------------------------------------------------------------------ one wall


def wall_notices(wall: WallTakeoff, height: float) -> Iterator[Notice]:
    """Notices about the starter and the slivers of one wall.

    Args:
        wall: The wall with its courses.
        height: Height of a course, in inches.

    Returns:
        Starter too low or too high, base that steps, slivers, in this order.
    """
    measured, courses = wall.quantities, wall.courses
    at = (measured.wall.box[0], courses.starter_y)
    yield from (
        _at_wall(code, report, measured.wall, at)
        for code, report in _starter_troubles(measured, courses.starter_y, height)
    )
    yield from _slivers(measured, courses)


def _starter_troubles(
    measured: WallQuantities, starter: float, height: float
) -> Iterator[tuple[str, Message]]:
    wall = measured.wall
    above = starter - wall.box[1]
    if above < -LINE_MEETS_IN:
        yield (
            "STARTER_BELOW_BASE",
            message("starter-below-base", wall=wall.id, below=Length(-above)),
        )
    if above > height - LINE_MEETS_IN:
        yield "STARTER_HIGH", message("starter-high", wall=wall.id, above=Length(above))
    rise = _base_rise(measured)
    if rise > LINE_MEETS_IN:
        into = rise % height
        rest = Length(height - into)
        yield (
            "BASE_STEPPED",
            message("base-steps-by-courses", wall=wall.id, rise=Length(rise))
            if _off(rise, height) <= LINE_MEETS_IN
            else message("base-steps", wall=wall.id, rise=Length(rise), rest=rest),
        )


def _base_rise(measured: WallQuantities) -> float:
    """Height of the highest stretch of base above the lowest; none where no stretch is base, in a
    half-round for instance."""
    bases = [s.segment for s in boundary(measured.wall.region) if s.what == "base"]
    ends = [y for segment in bases for y in (segment.start[1], segment.end[1])]
    return max(ends) - min(ends) if ends else 0.0


def _slivers(measured: WallQuantities, courses: WallCourses) -> Iterator[Notice]:
    """One notice for all slivers of a kind at one height, such as those of a row of windows or of
    rafter ends."""
    equal: dict[tuple[int, str, float], list[Conflict]] = {}
    for conflict in courses.conflicts:
        if conflict.sliver:
            key = conflict.course, conflict.what, round(conflict.strip, 6)
            equal.setdefault(key, []).append(conflict)
    yield from (_sliver(measured, courses, alike) for alike in equal.values())


def _sliver(measured: WallQuantities, courses: WallCourses, alike: Sequence[Conflict]) -> Notice:
    wall, first = measured.wall, alike[0]
    opening = next((o.opening for o in measured.openings if o.opening.id == first.opening), None)
    report = message(
        "sliver",
        course=courses.number(first.course),
        strip=Length(first.strip),
        what=first.what,
        owners=tuple(dict.fromkeys(c.opening or wall.id for c in alike)),
        places=len(alike),
        up=Length(first.move_up),
        down=Length(first.move_down),
    )
    return Notice(
        "SLIVER",
        report,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=(opening or wall).handles[0],
        at_in=((first.x0 + first.x1) / 2, first.y),
    )


# ------------------------------------------------------------------- several walls


def bare_ground(walls: Sequence[WallTakeoff]) -> Iterator[Notice]:
    """One notice for the job where net area lies below the starter strip: no panel covers it.

    Args:
        walls: All walls of the job, with their courses.

    Yields:
        The notice, with the area below the strip and the net area of all these walls.
    """
    net = math.fsum(w.quantities.net_area for w in walls)
    bare = math.fsum(w.quantities.veneer.area - w.courses.field.area for w in walls)
    if bare > BARE_GROUND_SQIN:
        yield Notice("BELOW_STARTER", message("below-starter", bare=Area(bare), net=Area(net)))


def _untied_corners(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], height: float
) -> Iterator[Notice]:
    """A notice for each two walls of a corner whose courses don't run on as drawn, with no level
    line on both.

    They run on where the first courses lie two courses apart, or four and so on: then corner pieces
    take turns too. At a bay, where no wall carries a corner piece, any whole number of courses will
    do. Only elevations drawn side by side are compared, whose edges at the corner overlap in
    height: of others nobody knows how high one stands above the other.
    """
    by_id = {w.wall.id: w for w in walls}
    for corner in corners:
        ends = {
            side: [by_id[wall] for wall, of in corner.edges if of == side and wall in by_id]
            for side in ("right", "left")
        }
        step = height if corner.kind == "mitre" else 2.0 * height
        for one, other in pairs_of(ends["right"], ends["left"]):
            apart = other.courses.starter_y - one.courses.starter_y
            tied = one.wall.level_y is not None and other.wall.level_y is not None
            off = _off(abs(apart), step) > LINE_MEETS_IN
            if not tied and off and _side_by_side(one, other, corner.id):
                report = _untied(one.wall.id, other.wall.id, corner.id, apart, height)
                yield _at_wall("CORNER_UNTIED", report, other.wall)


def _side_by_side(one: WallTakeoff, other: WallTakeoff, corner: str) -> bool:
    """Whether the walls' edges at the corner are drawn in one drawing at overlapping heights."""
    mine, others = ([e for e in w.wall.edges if e.corner == corner] for w in (one, other))
    return one.wall.drawing == other.wall.drawing and any(
        min(a.y1, b.y1) - max(a.y0, b.y0) > LINE_MEETS_IN for a, b in pairs_of(mine, others)
    )


def _off(apart: float, step: float) -> float:
    """How far a height is from a whole number of steps."""
    into = apart % step
    return min(into, step - into)


def _untied(one: str, other: str, corner: str, apart: float, height: float) -> Message:
    miss = _off(abs(apart), height)
    direction = "higher" if apart > 0 else "lower"
    by = Length(abs(apart))
    if miss > LINE_MEETS_IN:
        return message(
            "corner-lines-miss",
            one=one,
            other=other,
            corner=corner,
            apart=by,
            direction=direction,
            miss=Length(miss),
        )
    return message(
        "corner-pieces-clash",
        one=one,
        other=other,
        corner=corner,
        apart=by,
        direction=direction,
    )
