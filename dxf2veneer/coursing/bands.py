"""Course bands, the starter line, and heads, sills, tops and caps against the course lines.

top ----------------------        strip = what is left of the course below a top, cap or sill,
  |  course 3 (part)      |               or above a head
y2 - - - .-------. - - - -
  |      | head  |  strip |
y1 - - - |       | - - - -
  |  course 1    |        |
y0 ======'-------'=========       starter line
base
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from dxf2veneer.basics.tolerances import BESIDE_LINE_IN, HEIGHT_ROUNDING_IN, LINE_MEETS_IN
from dxf2veneer.config.job import Job, Trim
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.meetings import Meeting, Span, meetings
from dxf2veneer.coursing.starter import starter_height
from dxf2veneer.geometry import Region, Segment
from dxf2veneer.geometry.boundary import boundary, level_stretches, merged
from dxf2veneer.measure.starter import starter_stretches, without
from dxf2veneer.model import Conflict, Course, CourseLine, WallCourses, WallQuantities


def course_wall(
    measured: WallQuantities, job: Job, product: Product, start: float | None = None
) -> WallCourses:
    """The courses of one wall, their lines, and where they miss heads, sills, tops and caps.

    Args:
        measured: The wall with its openings and veneer.
        job: Clearance, sliver limit and trim bands.
        product: Height of a course and of a cap stone.
        start: Shift of the course lines in inches; the job's own where it is left out.

    Returns:
        The courses from the starter to the wall's top, without pieces.
    """
    wall, height = measured.wall, product.panel.height
    shift = job.courses.shift if start is None else start
    _, base, _, top = wall.box
    clearance = job.clearance_of(wall.id, wall.name)
    starter, source = starter_height(base, wall.level_y, height, clearance, shift)
    count = max(0, math.ceil((top - starter - LINE_MEETS_IN) / height))
    courses = tuple(
        Course(i, starter + i * height, starter + (i + 1) * height) for i in range(count)
    )
    lines = tuple(
        CourseLine(c.index, a, b, c.y0)
        for c in courses
        for a, b in _line_spans(measured.veneer, c.y0)
    )
    return WallCourses(
        wall=wall.id,
        starter_y=starter,
        starter_from=source,
        courses=courses,
        lines=lines,
        starter_lines=tuple(_starter_lines(measured, starter, height, job.trim)),
        conflicts=tuple(
            _conflict(m, starter, height, job.courses.sliver)
            for m in meetings(measured, job, product)
            if m.y > starter - LINE_MEETS_IN
        ),
        field=_field(measured, starter),
        rise=_rise(starter, wall.level_y, height, shift),
    )


def _rise(starter: float, level: float | None, height: float, shift: float) -> int:
    """Courses from the level line up to the first one."""
    return 0 if level is None else round((starter - level - shift) / height)


def _field(measured: WallQuantities, starter: float) -> Region:
    """What panels cover: the veneer above the starter, and above a step of the base by as much."""
    x0, base, x1, _ = measured.wall.box
    above = starter - base
    bare = [Region.box_of(x0 - 1.0, base - 1.0, x1 + 1.0, starter)]
    for side in boundary(measured.wall.region):
        (xa, ya), (xb, yb) = side.segment.start, side.segment.end
        if above > 0.0 and side.what == "base" and abs(yb - ya) <= LINE_MEETS_IN:
            bare.append(Region.box_of(xa, ya - 1.0, xb, max(ya, yb) + above))
    bare = [b for b in bare if not b.is_empty]
    return measured.veneer.difference(*bare) if above > 0.0 else measured.veneer


def _line_spans(veneer: Region, y: float) -> list[Span]:
    """Where a course line runs: inside the veneer or along its edge, a head or sill for instance.

    Rounding must not decide on which side of such an edge the line lies, so it is looked at from
    both.
    """
    spans = level_stretches(veneer, y)
    for beside in (y - BESIDE_LINE_IN, y + BESIDE_LINE_IN):
        more = without(level_stretches(veneer, beside), spans)
        spans = merged([*spans, *((a, b) for a, b in more if b - a > LINE_MEETS_IN)])
    return spans


def _starter_lines(
    measured: WallQuantities, starter: float, height: float, trim: Trim
) -> Iterator[CourseLine]:
    """Stretches of starter strip: over each level stretch of base at the starter's height above the
    lowest base, over a sloped one stepping up with the course lines."""
    wall = measured.wall
    above = starter - wall.box[1]
    for segment, spans in starter_stretches(wall, trim):
        for a, b, y in _steps(segment, starter, height, above):
            for c, d in spans:
                if min(b, d) > max(a, c):
                    yield CourseLine(0, max(a, c), min(b, d), y)


def _steps(
    segment: Segment, starter: float, height: float, above: float
) -> Iterator[tuple[float, float, float]]:
    """(x0, x1, y) of the starter strip over one stretch of base."""
    (xa, ya), (xb, yb) = segment.start, segment.end
    if segment.is_arc or abs(ya - yb) <= LINE_MEETS_IN:
        yield min(xa, xb), max(xa, xb), max(ya, yb) + above
        return
    low, high = min(ya, yb), max(ya, yb)
    first, last = math.floor((low - starter) / height), math.ceil((high - starter) / height)
    for i in range(first, last):
        y0, y1 = max(low, starter + i * height), min(high, starter + (i + 1) * height)
        if y1 > y0:
            xs = sorted(xa + (y - ya) * (xb - xa) / (yb - ya) for y in (y0, y1))
            yield xs[0], xs[1], max(starter, starter + (i + 1) * height)


def _conflict(met: Meeting, starter: float, height: float, limit: float) -> Conflict:
    """One head, sill, top or cap against the course lines."""
    what, opening, y, x0, x1 = met
    course, into = divmod(y - starter, height)
    if min(into, height - into) <= LINE_MEETS_IN:
        nearest = round((y - starter) / height)
        index = nearest if what == "head" else nearest - 1
        return Conflict(what, opening, max(index, 0), y, 0.0, False, x0, x1, 0.0, 0.0)
    strip = height - into if what == "head" else into
    sliver = strip < limit - HEIGHT_ROUNDING_IN
    return Conflict(what, opening, int(course), y, strip, sliver, x0, x1, height - into, into)
