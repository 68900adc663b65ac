"""The sheets to check before the numbers are used: course check, notices, assumptions."""

from __future__ import annotations

import dataclasses
import math

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Conflict, StartOption, StartTable, Takeoff, WallTakeoff
from dxf2veneer.notices import Level, Notice
from dxf2veneer.textio.escaping import without_folder
from dxf2veneer.wording import origin_line, remedy, say
from dxf2veneer.wording.measures import feet_inches, length_text
from dxf2veneer.wording.origins import value_text
from dxf2veneer.writers.words import LEVEL_WORDS, file_name
from dxf2veneer.writers.workbook.cells import (
    PlacedTable,
    font,
    place,
    sheet_of,
    write_note,
    write_title,
)
from dxf2veneer.writers.workbook.columns import COUNT, Column, Display, Value
from dxf2veneer.writers.workbook.measures import HEADER, finish

FIT_ROWS = 60
"""Rows of the assumptions that still make one legible page."""
Row = dict[str, Value]


def level_word(level: Level) -> str:
    """The level as a word that stands out without color.

    Args:
        level: The level.

    Returns:
        ERROR, WARNING or note.
    """
    word = LEVEL_WORDS[level]
    return word if level is Level.INFO else word.upper()


def add_course_check(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row for each head, sill, top or cap against the course lines; the starter lines under
    them."""
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
        "course": conflict.course + 1,
        "height": display.size(conflict.y - entry.courses.starter_y),
        "strip": display.size(conflict.strip),
        "sliver": "SLIVER" if conflict.sliver else "no" if conflict.strip else "no, clean",
        "up": display.size(conflict.move_up),
        "down": display.size(conflict.move_down),
        "move": move_sentence(conflict, display),
    }


def move_sentence(conflict: Conflict, display: Display) -> str:
    """What the detailer can do about a strip: the shorter of the two moves first."""
    if not conflict.strip:
        return ""
    down = f"lower this {conflict.what} by {_move(conflict.move_down, display)} and " + (
        f"course {conflict.course_if_down + 1} runs clean"
        if conflict.course_if_down >= 0
        else "it meets the starter line"
    )
    up = (
        f"raise this {conflict.what} by {_move(conflict.move_up, display)} and course "
        f"{conflict.course_if_up + 1} runs clean"
    )
    first, second = (down, up) if conflict.move_down <= conflict.move_up else (up, down)
    return f"{first}; or {second}"


def _move(inches: float, display: Display) -> str:
    """A distance to move: a whole number of millimetres, or inches to 1/16, finer only where that
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


def add_notices(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row a notice, the gravest first; places in the drawing's own unit, as a CAD program shows
    them."""
    sheet = sheet_of(book, "Notices")
    columns = [
        Column("level", "Level", 11),
        Column("code", "Code", 26),
        Column("message", "Message", 44),
        Column("drawing", "Drawing", 18),
        Column("layer", "Layer", 16),
        Column("handle", "Handle", 9),
        Column("x", "x\ndrawing's unit", 15, "#,##0.00"),
        Column("y", "y\ndrawing's unit", 15, "#,##0.00"),
        Column("remedy", "What to do", 44),
    ]
    note = (
        "x and y are in the drawing's own unit, as your CAD program shows them; the handle "
        "selects the entity."
    )
    write_title(sheet, "Notices", note, columns)
    gravest = list(reversed(Level))
    rows = [
        _notice_row(n, takeoff)
        for n in sorted(takeoff.notices, key=lambda n: gravest.index(n.level))
    ]
    placed = place(sheet, HEADER, columns, rows, empty="none")
    for row in range(placed.first, placed.last + 1):
        cell = sheet[f"A{row}"]
        cell.font = font(bold=str(cell.value).isupper())
    finish(sheet, takeoff, placed, last_row=placed.last, freeze="C")
    return placed


def _notice_row(notice: Notice, takeoff: Takeoff) -> Row:
    drawing = next((d for d in takeoff.drawings if d.index == notice.drawing), None)
    row: Row = {
        "level": level_word(notice.level),
        "code": notice.code,
        "message": say(notice.message, takeoff.job.output.display),
        "drawing": file_name(drawing) if drawing else "",
        "layer": notice.layer or "",
        "handle": notice.handle or "",
        "remedy": remedy(notice.code),
    }
    if notice.at_in and drawing and all(map(math.isfinite, notice.at_in)):
        row |= {
            "x": notice.at_in[0] / drawing.inches_per_unit,
            "y": notice.at_in[1] / drawing.inches_per_unit,
        }
    return row


def add_assumptions(book: Workbook, takeoff: Takeoff, display: Display) -> None:
    """Every setting that changed a number, the product's values with their origin, all cautions."""
    sheet = sheet_of(book, "Assumptions")
    columns = [
        Column("key", "Setting", 30),
        Column("value", "Value", 24),
        Column("from", "Where it came from", 38),
        Column("effect", "What it does", 60),
    ]
    note = (
        "What these numbers rest on. Change a setting in the job file or by its option and "
        "run the takeoff again."
    )
    write_title(sheet, "Assumptions", note, columns)
    rows: list[Row] = [
        {
            "key": a.key,
            "value": value_text(a.value, display.name),
            "from": origin_line(a.source),
            "effect": say(a.effect, display.name),
        }
        for a in takeoff.assumptions
    ]
    settings = place(sheet, HEADER, columns, rows, empty="every setting at its default")
    top = settings.last + 2
    title = (
        "Further values of the product: "
        f"{takeoff.product.product.name or without_folder(takeoff.product.file)}"
    )
    write_note(sheet, top, title, columns=len(columns), bold=True)
    product_columns = [
        Column("key", "Value of the product file", 30),
        Column("value", f"Size\n{display.size_unit}", 24, "#,##0.00"),
        Column("from", "File", 38),
        Column("effect", "Origin of the number", 60),
    ]
    product = place(
        sheet, top + 1, product_columns, _product_rows(takeoff, display), empty="all named above"
    )
    top = product.last + 2
    write_note(sheet, top, "Cautions", columns=len(columns), bold=True)
    cautions = [say(caution, display.name) for caution in takeoff.cautions]
    for row, caution in enumerate(cautions, top + 1):
        write_note(sheet, row, caution, columns=len(columns), lines=math.ceil(len(caution) / 130))
    last = top + max(1, len(cautions))
    finish(sheet, takeoff, settings, last_row=last, filtered=False, one_page=last <= FIT_ROWS)


def _product_rows(takeoff: Takeoff, display: Display) -> list[Row]:
    """The product's values that the list of assumptions does not name already."""
    product = takeoff.product
    origins, named = dict(product.origins), {a.key for a in takeoff.assumptions}
    rows: list[Row] = []
    for name in ("panel", "laying", "cap"):
        for key, value in dataclasses.asdict(getattr(product, name)).items():
            full = f"{name}.{key}"
            if full not in named:
                origin = origins.get(full, "") or "not stated"
                rows.append(
                    {
                        "key": full,
                        "value": display.size(value),
                        "from": without_folder(product.file),
                        "effect": origin,
                    }
                )
    return rows
