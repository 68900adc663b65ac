"""What becomes of a plan when edges are off on site, in words and figures."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from dxf2veneer.model import CourseNumbers, CoursePlan, Fragile, FragileKind, Tolerance
from dxf2veneer.wording.look import price_text
from dxf2veneer.wording.measures import length_text


class _Kind(NamedTuple):
    """What happens to runs and to a run, and what can be done about it."""

    many: str
    one: str
    remedy: str


_KINDS: dict[FragileKind, _Kind] = {
    "long": _Kind(
        "too long for their panels if both ends are out",
        "too long for its panels if both ends are out",
        "measure first; cut the end piece from a new panel",
    ),
    "short": _Kind(
        "with a piece below the least if both ends are in",
        "a piece below the least if both ends are in",
        "measure first; move the row of panels to the other end",
    ),
    "stagger": _Kind(
        "with a joint too near to one below",
        "a joint too near to one below",
        "measure both courses first; move the row of the upper one",
    ),
    "halves": _Kind(
        "with corner pieces too much alike",
        "corner pieces too much alike",
        "measure first; cut one of them from another corner panel",
    ),
}


def fragile_words(place: Fragile, course: int, off: float, display: str) -> str:
    """A place that does not hold when edges are off.

    Args:
        place: The place.
        course: Number of its course.
        off: By how much edges may be off, in inches.
        display: Units of lengths: ``imperial`` or ``metric``.

    Returns:
        A phrase: where, what happens, by how much, and what to do.
    """
    kind = _KINDS[place.kind]
    by, edges = (length_text(each, display) for each in (place.by, off))
    where = f"{place.wall}, course {course}"
    return f"{where}: edges {edges} off: {kind.one}, by {by} at worst; {kind.remedy}"


def tolerance_rows(
    plan: CoursePlan, found: Tolerance, numbers: CourseNumbers, display: str
) -> Iterator[tuple[str, str, str]]:
    """The figures of what becomes of a plan when edges are off, for a table.

    Args:
        plan: The plan.
        found: What becomes of it.
        numbers: Numbers of courses.
        display: Units of lengths: ``imperial`` or ``metric``.

    Yields:
        What is counted, the figure, and where with what can be done.
    """
    off = length_text(found.off, display)
    yield f"Runs that hold with every edge {off} off, in or out", _held(found), ""
    for kind, told in _KINDS.items():
        number = found.count(kind)
        if number:
            yield (
                f"Places {told.many}",
                f"{number:,}",
                f"{told.remedy}: {_places(found, kind, numbers)}",
            )
    yield "What room for that costs", _price(plan), ""


def tolerance_line(plan: CoursePlan, found: Tolerance, display: str) -> str:
    """What becomes of a plan when edges are off, in one line.

    Args:
        plan: The plan.
        found: What becomes of it.
        display: Units of lengths: ``imperial`` or ``metric``.

    Returns:
        A sentence without its full stop.
    """
    off = length_text(found.off, display)
    parts = [f"{_held(found)} runs hold"]
    counts = [(told.many, found.count(kind)) for kind, told in _KINDS.items()]
    parts += [f"{number:,} {what}" for what, number in counts if number]
    price = _price(plan)
    cost = f"; room for that costs {price} (--tolerance 0)" if price != "nothing" else ""
    where = ": see sheet Panels" if found.places else ""
    return f"Edges {off} off, in or out: {', '.join(parts)}{where}{cost}"


def _held(found: Tolerance) -> str:
    return f"{found.held:,} of {found.runs:,}"


def _price(plan: CoursePlan) -> str:
    return price_text(plan.room_panels, plan.room_cuts)


def _places(found: Tolerance, kind: FragileKind, numbers: CourseNumbers) -> str:
    """The places of a kind by wall: their courses from the bottom, with how many where several."""
    by_wall: dict[str, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for place in found.places:
        if place.kind == kind:
            by_wall[place.wall][numbers(place.wall, place.course)] += 1
    return "; ".join(f"{wall} {_courses(courses)}" for wall, courses in by_wall.items())


def _courses(courses: Mapping[int, int]) -> str:
    """Some courses, and how many places each has where it has several."""
    told = [f"{n}" if times == 1 else f"{n} ({times} times)" for n, times in courses.items()]
    return f"course{'' if len(told) == 1 else 's'} {', '.join(told)}"
