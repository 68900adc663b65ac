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
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import Literal, NamedTuple

from dxf2veneer.config.job import Courses, Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Region, Segment
from dxf2veneer.geometry.boundary import boundary, level_stretches, merged
from dxf2veneer.measure.starter import starter_stretches, without
from dxf2veneer.model import (
    Conflict,
    ConflictWhat,
    Course,
    CourseLine,
    OpeningQuantities,
    WallCourses,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.notices import Notice
from dxf2veneer.units import square_feet
from dxf2veneer.wording.measures import area_text, length_text

CLEAN_IN = 0.01 + 1e-9
"""A course line this near to a head, sill, top or cap meets it: a hundredth, with room for rounding there."""
EQUAL_IN = 1e-9
"""Heights no farther apart are the same height: what rounding leaves."""
_ROUNDING_IN = 1e-5
_BARE_SQIN = 72.0
"""Ground below the starter strip that is worth a word: half a square foot."""
_NAMED = 3
"""Openings that one notice names."""


def course_wall(
    measured: WallQuantities, job: Job, product: Product
) -> tuple[WallCourses, list[Notice]]:
    """The courses of one wall, their lines and conflicts, and notices about starter and slivers."""
    wall, height = measured.wall, product.panel.height
    _, base, _, top = wall.box
    starter, source = starter_height(base, wall.level_y, height, job.courses)
    count = max(0, math.ceil((top - starter - CLEAN_IN) / height))
    courses = tuple(
        Course(i, starter + i * height, starter + (i + 1) * height) for i in range(count)
    )
    lines = tuple(
        CourseLine(c.index, a, b, c.y0)
        for c in courses
        for a, b in _line_spans(measured.veneer, c.y0)
    )
    conflicts = tuple(
        _conflict(m, starter, height, job.courses.sliver)
        for m in meetings(measured, job, product)
        if m.y > starter - CLEAN_IN
    )
    plan = WallCourses(
        wall=wall.id,
        starter_y=starter,
        starter_from=source,
        courses=courses,
        lines=lines,
        starter_lines=tuple(_starter_lines(measured, starter, height, job)),
        conflicts=conflicts,
        field=_field(measured, starter),
        turn=_turn(starter, wall.level_y, height, job.courses),
    )
    return plan, _tell(measured, plan, height, job.output.display)


def starter_height(
    base: float, level: float | None, height: float, rule: Courses
) -> tuple[float, Literal["base", "level"]]:
    """Height of the starter line, and whether the base or a level line gave it.

    Without a level line: base + clearance + start. With one, course lines run through the level
    line, shifted by start, and the starter is the lowest of them not below base + clearance.
    """
    lowest = base + rule.clearance
    if level is None:
        return lowest + rule.shift, "base"
    through = level + rule.shift
    steps = math.ceil((lowest - through - CLEAN_IN) / height)
    return through + steps * height, "level"


def _turn(starter: float, level: float | None, height: float, rule: Courses) -> int:
    """1 where the first course is an odd one counted from the level line, else 0."""
    return 0 if level is None else round((starter - level - rule.shift) / height) % 2


def _field(measured: WallQuantities, starter: float) -> Region:
    """What panels cover: the veneer above the starter, and above a step of the base by as much."""
    x0, base, x1, _ = measured.wall.box
    above = starter - base
    bare = [Region.box_of(x0 - 1.0, base - 1.0, x1 + 1.0, starter)]
    for side in boundary(measured.wall.region):
        (xa, ya), (xb, yb) = side.segment.start, side.segment.end
        if above > 0.0 and side.what == "base" and abs(yb - ya) <= CLEAN_IN:
            bare.append(Region.box_of(xa, ya - 1.0, xb, max(ya, yb) + above))
    bare = [b for b in bare if not b.is_empty]
    return measured.veneer.difference(*bare) if above > 0.0 else measured.veneer


def _line_spans(veneer: Region, y: float) -> list[tuple[float, float]]:
    """Where a course line runs: inside the veneer or along its edge, a head or sill for instance.

    Rounding must not decide on which side of such an edge the line lies, so it is looked at from both.
    """
    spans = level_stretches(veneer, y)
    for beside in (y - _ROUNDING_IN, y + _ROUNDING_IN):
        more = without(level_stretches(veneer, beside), spans)
        spans = merged([*spans, *((a, b) for a, b in more if b - a > CLEAN_IN)])
    return spans


def _starter_lines(
    measured: WallQuantities, starter: float, height: float, job: Job
) -> Iterator[CourseLine]:
    """Stretches of starter strip: over each level stretch of base at the starter's height above the
    lowest base, over a sloped one stepping up with the course lines."""
    wall = measured.wall
    above = starter - wall.box[1]
    for segment, spans in starter_stretches(wall, job.trim):
        for a, b, y in _steps(segment, starter, height, above):
            for c, d in spans:
                if min(b, d) > max(a, c):
                    yield CourseLine(0, max(a, c), min(b, d), y)


def _steps(
    segment: Segment, starter: float, height: float, above: float
) -> Iterator[tuple[float, float, float]]:
    """(x0, x1, y) of the starter strip over one stretch of base."""
    (xa, ya), (xb, yb) = segment.start, segment.end
    if segment.is_arc or abs(ya - yb) <= CLEAN_IN:
        yield min(xa, xb), max(xa, xb), max(ya, yb) + above
        return
    low, high = min(ya, yb), max(ya, yb)
    first, last = math.floor((low - starter) / height), math.ceil((high - starter) / height)
    for i in range(first, last):
        y0, y1 = max(low, starter + i * height), min(high, starter + (i + 1) * height)
        if y1 > y0:
            xs = sorted(xa + (y - ya) * (xb - xa) / (yb - ya) for y in (y0, y1))
            yield xs[0], xs[1], max(starter, starter + (i + 1) * height)


# --------------------------------------------------------------- conflicts


class Meeting(NamedTuple):
    """A stretch of head, sill, top or cap that has veneer beyond it, which course lines meet or miss."""

    what: ConflictWhat
    opening: str | None
    y: float
    x0: float
    x1: float


def meetings(measured: WallQuantities, job: Job, product: Product) -> list[Meeting]:
    """Every head, sill, top and cap that has veneer beyond it, from the bottom up, wherever the courses start."""
    found: list[Meeting] = []

    @cache  # windows stand in rows
    def veneer_at(y: float) -> list[tuple[float, float]]:
        return level_stretches(measured.veneer, y)

    def add(
        what: ConflictWhat, opening: str | None, y: float, spans: list[tuple[float, float]]
    ) -> None:
        found.extend(Meeting(what, opening, y, a, b) for a, b in spans)

    for o in measured.openings:
        head, sill = _trim_edges(o, job)
        add("head", o.opening.id, head, _within(o, veneer_at(head + CLEAN_IN)))
        if o.opening.kind != "door" and not o.opening.touches_base:
            add("sill", o.opening.id, sill, _within(o, veneer_at(sill - CLEAN_IN)))
    for cap in measured.wall.caps:
        add("cap", None, cap.y - product.cap.height, [(cap.x0, cap.x1)])
    for y, spans in _tops(measured).items():
        add("top", None, y, spans)
    return sorted(found, key=lambda m: (m.y, m.x0, m.what))


def _trim_edges(measured: OpeningQuantities, job: Job) -> tuple[float, float]:
    """Heights at which panels meet an opening: its head and sill, trim bands included."""
    trimmed = measured.opening.kind != "fixture"
    head = measured.head_y + (job.trim.head if trimmed else 0.0)
    return head, measured.sill_y - (job.trim.sill if trimmed and measured.trim_sill > 0.0 else 0.0)


def _within(
    opening: OpeningQuantities, veneer: Iterable[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Spans of the opening's width that are veneer, as one span from first to last."""
    x0, _, x1, _ = opening.opening.box
    spans = [(max(a, x0), min(b, x1)) for a, b in veneer]
    spans = [(a, b) for a, b in spans if b - a > CLEAN_IN]
    return [(spans[0][0], spans[-1][1])] if spans else []


def _tops(measured: WallQuantities) -> dict[float, list[tuple[float, float]]]:
    """Level tops of the wall by height, those under a cap or taken by an opening left out."""
    tops: dict[float, list[tuple[float, float]]] = {}
    for side in boundary(measured.wall.region):
        if side.what == "top":
            span = (
                min(side.segment.start[0], side.segment.end[0]),
                max(side.segment.start[0], side.segment.end[0]),
            )
            tops.setdefault(side.segment.start[1], []).append(span)
    return {y: kept for y, spans in tops.items() if (kept := _with_veneer(measured, y, spans))}


def _with_veneer(
    measured: WallQuantities, y: float, spans: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    below = level_stretches(measured.veneer, y - CLEAN_IN)
    clipped = [(max(a, c), min(b, d)) for a, b in merged(spans) for c, d in below]
    return [(a, b) for a, b in clipped if b - a > CLEAN_IN]


def _meets(into: float, height: float) -> bool:
    """Whether a place so far into a course of that height lies at one of its lines."""
    return min(into, height - into) <= CLEAN_IN


def _conflict(met: Meeting, starter: float, height: float, limit: float) -> Conflict:
    """One head, sill, top or cap against the course lines."""
    what, opening, y, x0, x1 = met
    course, into = divmod(y - starter, height)
    if _meets(into, height):
        nearest = round((y - starter) / height)
        index = nearest if what == "head" else nearest - 1
        return Conflict(what, opening, max(index, 0), y, 0.0, False, x0, x1, 0.0, 0.0)
    strip = height - into if what == "head" else into
    return Conflict(
        what, opening, int(course), y, strip, strip < limit - EQUAL_IN, x0, x1, height - into, into
    )


# ----------------------------------------------------------------- notices


def _tell(measured: WallQuantities, plan: WallCourses, height: float, show: str) -> list[Notice]:
    wall = measured.wall
    handle, at = wall.handles[0], (wall.box[0], plan.starter_y)
    told = []

    def tell(code: str, message: str) -> None:
        told.append(
            Notice(code, message, drawing=wall.drawing, layer=wall.layer, handle=handle, at_in=at)
        )

    above = plan.starter_y - wall.box[1]
    if above < -CLEAN_IN:
        tell(
            "STARTER_BELOW_BASE",
            f"the starter line of {wall.id} lies {length_text(-above, show)} below its base",
        )
    if above > height - CLEAN_IN:
        tell(
            "STARTER_HIGH",
            f"the starter line of {wall.id} lies {length_text(above, show)} above its base",
        )
    rise = _base_rise(measured)
    if rise > CLEAN_IN:
        into = rise % height
        rest = (
            "a whole number of courses"
            if _meets(into, height)
            else f"which leaves a first course of {length_text(height - into, show)} over it"
        )
        tell(
            "BASE_STEPPED",
            f"the base of {wall.id} steps or slopes up by {length_text(rise, show)}, {rest}",
        )
    return [*told, *_tell_slivers(measured, plan.conflicts, show)]


def tell_bare(walls: Sequence[WallTakeoff], show: str) -> Iterator[Notice]:
    """One notice for the job where net area lies below the starter strip, where no panel covers it."""
    net = math.fsum(w.quantities.net_area for w in walls)
    bare = math.fsum(w.quantities.veneer.area - w.courses.field.area for w in walls)
    if bare > _BARE_SQIN:
        message = f"{area_text(square_feet(bare), show)} of the walls lie below the starter strip and bear no panel; the net area of {area_text(square_feet(net), show)} counts them"
        yield Notice("BELOW_STARTER", message)


def _base_rise(measured: WallQuantities) -> float:
    """Height of the highest stretch of base above the lowest; none where no stretch is base, in a half-round for instance."""
    ends = [
        y
        for s in boundary(measured.wall.region)
        if s.what == "base"
        for y in (s.segment.start[1], s.segment.end[1])
    ]
    return max(ends) - min(ends) if ends else 0.0


def _tell_slivers(
    measured: WallQuantities, conflicts: Iterable[Conflict], show: str
) -> list[Notice]:
    """One notice for all slivers of a kind at one height, such as those of a row of windows or of rafter ends."""
    equal: dict[tuple[int, str, float], list[Conflict]] = {}
    for conflict in conflicts:
        if conflict.sliver:
            equal.setdefault((conflict.course, conflict.what, round(conflict.strip, 6)), []).append(
                conflict
            )
    return [_tell_sliver(measured, alike, show) for alike in equal.values()]


def _tell_sliver(measured: WallQuantities, alike: Sequence[Conflict], show: str) -> Notice:
    wall, first = measured.wall, alike[0]
    opening = next((o.opening for o in measured.openings if o.opening.id == first.opening), None)
    owners = list(dict.fromkeys(c.opening or wall.id for c in alike))
    more = f" and {len(owners) - _NAMED} more" if len(owners) > _NAMED else ""
    places = f" ({len(alike)} places)" if len(alike) > len(owners) else ""
    message = (
        f"course {first.course + 1} leaves a strip of {length_text(first.strip, show)} at the {first.what} of {', '.join(owners[:_NAMED])}{more}{places}; "
        f"it runs clean if the {first.what} moves {length_text(first.move_up, show)} up or {length_text(first.move_down, show)} down"
    )
    handle = opening.handles[0] if opening else wall.handles[0]
    return Notice(
        "SLIVER",
        message,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=handle,
        at_in=((first.x0 + first.x1) / 2, first.y),
    )
