"""The sheet of the course check: heads, sills, tops and caps against the course lines."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Conflict, StartOption, StartTable, Takeoff, WallCourses, WallTakeoff
from dxf2veneer.wording.measures import feet_inches, length_text
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import COUNT, Column, Display, Row
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title


def add_course_check(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row for each head, sill, top or cap against the course lines; the starter lines under
    them.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Course check")
    columns = [
        Column("wall", "Wall", 8),
        Column("name", "Name", 18),
        Column("what", "What", 8),
        Column("opening", "Opening", 11),
        Column("course", "Course", 9, COUNT),
        *display.sizes("height", "Above starter line"),
        *display.sizes("strip", "Strip left"),
        Column("sliver", "Sliver", 12),
        display.sizes("up", "Moves up to fit")[0],
        display.sizes("down", "Moves down to fit")[0],
        Column("move", "To run clean", 48),
    ]
    note = (
        "Where heads, sills, tops and caps meet the course lines. A strip of 0 runs "
        "clean. Courses count from 1, as on the overlay. "
        f"A sliver is lower than {display.size(takeoff.job.courses.sliver):g} {display.size_unit}."
    )
    if better := [", ".join(table.walls) for table in takeoff.starts if table.improves]:
        note += (
            f" A better start exists for {'; '.join(better)}: see below, where the courses "
            "could start."
        )
    write_title(sheet, "Course check", note, columns)
    rows = [_conflict_row(w, c, display) for w in takeoff.walls for c in w.courses.conflicts]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to check")
    starts = _add_starts(sheet, placed.last + 2, takeoff, display, len(columns))
    top = starts.last + 2
    write_note(sheet, top, "Starter lines", columns=len(columns), bold=True)
    starters = place(
        sheet, top + 1, _starter_columns(display), [_starter_row(w, display) for w in takeoff.walls]
    )
    finish(sheet, takeoff, placed, last_row=starters.last, freeze="C")
    return placed


def _conflict_row(entry: WallTakeoff, conflict: Conflict, display: Display) -> Row:
    return {
        "wall": entry.wall.id,
        "name": entry.wall.name,
        "what": conflict.what,
        "opening": conflict.opening or "",
        "course": entry.courses.number(conflict.course),
        "height": display.size(conflict.y - entry.courses.starter_y),
        "strip": display.size(conflict.strip),
        "sliver": "SLIVER" if conflict.sliver else "no" if conflict.strip else "no, clean",
        "up": display.size(conflict.move_up),
        "down": display.size(conflict.move_down),
        "move": move_sentence(conflict, entry.courses, display),
    }


def move_sentence(conflict: Conflict, courses: WallCourses, display: Display) -> str:
    """What the detailer can do about a strip: the shorter of the two moves first.

    Args:
        conflict: The head, sill, top or cap.
        courses: The courses of its wall.
        display: Units of the sheets.

    Returns:
        One sentence; empty where it meets a course line.
    """
    if not conflict.strip:
        return ""
    down = f"lower this {conflict.what} by {_move(conflict.move_down, display)} and " + (
        f"course {courses.number(conflict.course_if_down)} runs clean"
        if conflict.course_if_down >= 0
        else "it meets the starter line"
    )
    up = (
        f"raise this {conflict.what} by {_move(conflict.move_up, display)} and course "
        f"{courses.number(conflict.course_if_up)} runs clean"
    )
    first, second = (down, up) if conflict.move_down <= conflict.move_up else (up, down)
    return f"{first}; or {second}"


def _move(inches: float, display: Display) -> str:
    """A distance to move: a whole number of millimeters, or inches to 1/16, finer only where that
    shows nothing."""
    if display.is_metric:
        return length_text(inches, display.name)
    return feet_inches(inches, denominator=16 if inches > 1 / 32 else 64)


def _add_starts(
    sheet: Worksheet, top: int, takeoff: Takeoff, display: Display, width: int
) -> PlacedTable:
    """The starts that each group of walls could have, the present and the best one marked."""
    courses = takeoff.job.courses
    low, high = (length_text(v, display.name) for v in (courses.clearance, courses.highest))
    write_note(sheet, top, "Where the courses could start", columns=width, bold=True)
    note = (
        "Walls of one group share one start, so that their courses run on. Permitted: the "
        f"starter {low} to {high} above the base of each "
        "(courses.clearance, courses.clearance_most). Best: fewest slivers, then fewest "
        "pieces to rip; --start best takes it for every group. "
        "Pieces to rip are counted in panel lengths along the strips, which is the least "
        "there can be."
    )
    write_note(sheet, top + 1, note, columns=width, lines=2)
    columns = [
        Column("group", "Group", 8),
        Column("walls", "Walls", 18),
        Column("is", "Which", 8),
        Column("fits", "In the range", 11),
        Column("slivers", "Slivers", 9, COUNT),
        *display.sizes("start", "Start"),
        *display.sizes("height", "Starter above lowest base"),
        Column("strips", "Off the lines", 9, COUNT),
        Column("ripped", "Pieces to rip", 9, COUNT),
        Column("units", "Panels, flat and corner", 10, COUNT),
    ]
    rows = [
        _start_row(n, t, o, display) for n, t in enumerate(takeoff.starts, 1) for o in t.options
    ]
    return place(sheet, top + 2, columns, rows, empty="no walls")


def _start_row(number: int, table: StartTable, option: StartOption, display: Display) -> Row:
    is_first = option is table.options[0]
    return {
        "group": str(number),
        "walls": ", ".join(table.walls) if is_first else "",
        "is": ", ".join(
            word
            for word, holds in (("present", option.is_present), ("BEST", option.is_best))
            if holds
        ),
        "fits": "yes" if option.fits else "NO",
        "slivers": option.slivers,
        "start": display.size(option.start),
        "height": display.size(option.height),
        "strips": option.strips,
        "ripped": option.ripped,
        "units": option.units,
    }


def _starter_columns(display: Display) -> list[Column]:
    return [
        Column("wall", "Wall", 8),
        Column("name", "Name", 18),
        Column("from", "From", 8),
        Column("courses", "Courses", 11, "0"),
        Column("y", f"Starter line at y\n{display.size_unit}", 9, "#,##0.00"),
        *display.sizes("above", "Above lowest point"),
    ]


def _starter_row(entry: WallTakeoff, display: Display) -> Row:
    courses = entry.courses
    return {
        "wall": entry.wall.id,
        "name": entry.wall.name,
        "from": courses.starter_from,
        "courses": len(courses.courses),
        "y": display.size(courses.starter_y),
        "above": display.size(courses.starter_y - entry.wall.box[1]),
    }
