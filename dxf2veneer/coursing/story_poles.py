"""Story poles: the heights of course lines, heads, sills, caps and tops above one level.

    wall W1       wall W2          pole of W1, W2
                 .-------.   ---  top W2
    .-------.    |       |   ---  top W1
    |  [ ]  |    | [ ]   |   ---  head, sill
    '-------'    |       |   ---  base W1
                 '-------'   ---  base W2
    - - - - - - - - - - - -   0   level line

Walls share a pole where their course lines are the same ones: those of one drawing on one level
line, or without a level line those whose starter strips lie at one height and whose courses have
the same numbers. Heights of different
drawings, or of different level lines, are never mixed: nothing says how far apart they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.geometry.boundary import BoundaryStretch, boundary
from dxf2veneer.model import (
    DOORS,
    Conflict,
    ConflictWhat,
    Opening,
    PoleMark,
    PoleWhat,
    StoryPole,
    WallCourses,
    WallTakeoff,
)

_ORDER = (
    "level", "base", "starter", "course", "sill", "springing", "slope foot", "head", "crown",
    "slope top", "panels", "cap", "top",
)  # fmt: skip
"""In which marks of one height stand, the lowest first."""
_ARCH_CHORDS = 5
"""So many straight stretches over the jambs are chords of an arch; fewer are slopes."""


def story_poles(walls: Sequence[WallTakeoff], course_height: float) -> tuple[StoryPole, ...]:
    """A pole for each level line, and for each height of starter of walls without one; heights are
    above the level line or the lowest base.

    Args:
        walls: The walls of one product with their courses.
        course_height: Height of a course in inches.

    Returns:
        The poles in the order of their first walls; a wall stands on one pole.
    """
    together: list[list[WallTakeoff]] = []
    for wall in walls:
        mates = next((found for found in together if _is_same(found[0], wall)), None)
        if mates is None:
            together.append([wall])
        else:
            mates.append(wall)
    return tuple(_pole(found, course_height) for found in together)


def _is_same(one: WallTakeoff, other: WallTakeoff) -> bool:
    """Whether the course lines of two walls are the same ones."""
    if one.wall.drawing != other.wall.drawing:
        return False
    if one.wall.level_y is not None or other.wall.level_y is not None:
        return one.wall.level_y == other.wall.level_y
    if one.courses.below != other.courses.below:
        return False
    return abs(one.courses.starter_y - other.courses.starter_y) <= LINE_MEETS_IN


def _pole(walls: Sequence[WallTakeoff], course_height: float) -> StoryPole:
    level = walls[0].wall.level_y
    zero = min(w.wall.box[1] for w in walls) if level is None else level
    marks = [mark for wall in walls for mark in _marks(wall, zero)]
    if level is not None:
        marks.append(PoleMark("level", 0.0, tuple(w.wall.id for w in walls)))
    return StoryPole(
        drawing=walls[0].wall.drawing,
        walls=tuple(w.wall.id for w in walls),
        datum="base" if level is None else "level",
        course_height=course_height,
        marks=tuple(_merged(sorted(marks, key=lambda m: (m.height, _ORDER.index(m.what))))),
    )


def _marks(entry: WallTakeoff, zero: float) -> Iterator[PoleMark]:
    """Every mark of one wall."""
    wall, courses = entry.wall, entry.courses
    own = (wall.id,)
    yield PoleMark("base", wall.box[1] - zero, own)
    for line in courses.starter_lines:
        yield PoleMark("starter", line.y - zero, own)
    for course in courses.courses:
        yield PoleMark("course", course.y0 - zero, own, courses.number(course.index))
    caps = [cap.y for cap in wall.caps]
    for y in caps:
        yield PoleMark("cap", y - zero, own)
    if all(abs(y - wall.box[3]) > LINE_MEETS_IN for y in caps):
        yield PoleMark("top", wall.box[3] - zero, own)
    edges: dict[tuple[str, ConflictWhat], float] = {}
    tips: dict[str, PoleWhat] = {}
    for measured in entry.quantities.openings:
        opening = measured.opening
        edges[opening.id, "head"] = measured.head_y
        tips[opening.id], foot, feet = _head(opening)
        yield PoleMark(tips[opening.id], measured.head_y - zero, (opening.id,))
        for y in feet:
            yield PoleMark(foot, y - zero, (opening.id,))
        if opening.kind not in DOORS and not opening.touches_base:
            edges[opening.id, "sill"] = measured.sill_y
            yield PoleMark("sill", measured.sill_y - zero, (opening.id,))
    for met in courses.conflicts:
        yield _meeting(met, courses, edges, tips, zero)


def _head(opening: Opening) -> tuple[PoleWhat, PoleWhat, list[float]]:
    """What the highest place of an opening is, what the places are at which its head begins over
    the jambs, and their heights; none for a level head.

         .-crown-.         .-. slope top
        /         |       /  |
        |springing|       |  | slope foot on the left
    """
    sides, high = boundary(opening.region), opening.box[3]
    over = [s for s in sides if s.what in ("top", "rake")]
    is_arch = len(over) >= _ARCH_CHORDS
    if not is_arch and any(
        s.what == "top" and high - s.segment.end[1] <= LINE_MEETS_IN for s in over
    ):
        return "head", "head", []
    upright = [s for s in sides if s.what in ("left", "right")]
    feet = sorted(y for y in _ends(over) & _ends(upright) if high - y > LINE_MEETS_IN)
    if is_arch or not over or any(s.segment.is_arc for s in over):
        return "crown", "springing", feet
    return "slope top", "slope foot", feet


def _ends(sides: Iterable[BoundaryStretch]) -> set[float]:
    """Heights at which stretches end."""
    return {round(y, 6) for s in sides for _, y in (s.segment.start, s.segment.end)}


def _meeting(
    met: Conflict,
    courses: WallCourses,
    edges: Mapping[tuple[str, ConflictWhat], float],
    tips: Mapping[str, PoleWhat],
    zero: float,
) -> PoleMark:
    """Where panels end: at the head, sill or top itself, or off it where trim or a cap lies
    between."""
    at_edge = met.what == "top" or (
        met.opening is not None and abs(edges[met.opening, met.what] - met.y) <= LINE_MEETS_IN
    )
    what: PoleWhat = "panels"
    if at_edge and met.what != "cap":
        what = tips[met.opening] if met.opening and met.what == "head" else met.what
    return PoleMark(
        what=what,
        height=met.y - zero,
        refs=(met.opening or courses.wall,),
        course=courses.number(met.course),
        strip=met.strip,
        is_sliver=met.sliver,
        beyond=met.what if what == "panels" else None,
    )


def _merged(marks: Iterable[PoleMark]) -> Iterator[PoleMark]:
    """Marks of one kind at one height as one, with all that lies there."""
    waiting: list[PoleMark] = []
    for mark in marks:
        if waiting and mark.height - waiting[0].height > LINE_MEETS_IN:
            yield from waiting
            waiting = []
        at = next((n for n, m in enumerate(waiting) if _kind(m) == _kind(mark)), None)
        if at is None:
            waiting.append(mark)
        else:
            waiting[at] = _both(waiting[at], mark)
    yield from waiting


def _kind(mark: PoleMark) -> tuple[PoleWhat, ConflictWhat | None]:
    return mark.what, mark.beyond


def _both(one: PoleMark, other: PoleMark) -> PoleMark:
    """Two marks of one kind at one height."""
    refs = tuple(dict.fromkeys((*one.refs, *other.refs)))
    return PoleMark(
        one.what,
        one.height,
        refs,
        one.course if one.course is not None else other.course,
        max(one.strip, other.strip),
        one.is_sliver or other.is_sliver,
        one.beyond,
    )
