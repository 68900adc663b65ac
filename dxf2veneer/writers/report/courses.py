"""The report's tables of course lines: what they miss, and the heights where the courses could
start."""

from __future__ import annotations

from dxf2veneer.model import Conflict, StartOption, StartTable, Takeoff, WallCourses
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.tables import table
from dxf2veneer.writers.words import off_course, off_key


def course_tables(takeoff: Takeoff) -> Markup:
    """Heads, sills, tops and caps off the course lines, then the starts.

    Args:
        takeoff: The takeoff.

    Returns:
        The tables.
    """
    return joined((_off_course(takeoff), _starts(takeoff) if takeoff.starts else Markup()))


def _off_course(takeoff: Takeoff) -> Markup:
    show = takeoff.job.output.display
    rows = [
        _off_row(w.courses, n, c, show)
        for w in takeoff.walls
        for n, c in enumerate(off_course(w), 1)
    ]
    if not rows:
        return tag("p", None, "Every head, sill, top and cap meets a course line.")
    note = tag(
        "p",
        {"class": "quiet"},
        "The strip is what is left of a course there. Moving the head, sill, top or cap "
        "by either distance brings it onto a course line.",
    )
    return joined(
        (
            table(
                "Off the course lines",
                ("Where", "What", "Course", "Strip", "", "Move up", "Move down"),
                rows,
                words=2,
            ),
            note,
        )
    )


def _off_row(courses: WallCourses, number: int, conflict: Conflict, show: str) -> tuple[str, ...]:
    wall = courses.wall
    link = tag(
        "a",
        {"href": f"#{off_key(wall, number)}", "title": f"show it on {wall}"},
        f"{conflict.opening or wall} ▸",
    )
    sliver = tag("b", None, "sliver") if conflict.sliver else ""
    moves = (length_text(move, show) for move in (conflict.move_up, conflict.move_down))
    return (
        link,
        conflict.what,
        str(courses.number(conflict.course)),
        length_text(conflict.strip, show),
        sliver,
        *moves,
    )


def _starts(takeoff: Takeoff) -> Markup:
    show, courses = takeoff.job.output.display, takeoff.job.courses
    low, high = length_text(courses.clearance, show), length_text(courses.highest, show)
    rows = [_start_row(t, o, show) for t in takeoff.starts for o in t.options]
    head = (
        "Walls",
        "Which",
        "Start",
        "Starter above lowest base",
        "Slivers",
        "Off the lines",
        "Pieces to rip",
        "Panels",
    )
    note = (
        "Walls in one row share a start, so that their courses run on. Permitted: the "
        f"starter {low} to {high} above each base. Best: fewest "
        "slivers, then fewest pieces to rip; --start best takes it. Pieces to rip: the "
        "least there can be, in panel lengths."
    )
    return joined(
        (
            table("Where the courses could start", head, rows, words=2),
            tag("p", {"class": "quiet"}, note),
        )
    )


def _start_row(group: StartTable, option: StartOption, show: str) -> tuple[str, ...]:
    named = ", ".join(
        word
        for word, holds in (
            ("laid here", option.is_present),
            ("best", option.is_best),
            ("out of range", not option.fits),
        )
        if holds
    )
    return (
        ", ".join(group.walls) if option is group.options[0] else "",
        tag("b", None, named),
        length_text(option.start, show),
        length_text(option.height, show),
        str(option.slivers),
        str(option.strips),
        str(option.ripped),
        "–" if option.units is None else str(option.units),
    )
