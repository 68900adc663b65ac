"""The sheets to check before the numbers are used: course check, notices, assumptions."""

from __future__ import annotations

import dataclasses
import math

from openpyxl.workbook import Workbook

from dxf2veneer.model import Conflict, Takeoff, WallTakeoff
from dxf2veneer.notices import Level, Notice
from dxf2veneer.writers.result import LEVEL_WORDS, file_name
from dxf2veneer.writers.workbook_cells import (
    Placed,
    font,
    place,
    sheet_of,
    write_note,
    write_title,
)
from dxf2veneer.writers.workbook_columns import COUNT, Column, Display, Value
from dxf2veneer.writers.workbook_measures import HEADER, finish

FIT_ROWS = 60
"""Rows of the assumptions that still make one legible page."""
Row = dict[str, Value]


def level_word(level: Level) -> str:
    """The level as a word that stands out without colour: ERROR, WARNING, note."""
    word = LEVEL_WORDS[level]
    return word if level is Level.INFO else word.upper()


def add_course_check(book: Workbook, takeoff: Takeoff, display: Display) -> Placed:
    """One row for each head, sill, top or cap against the course lines; the starter lines under them."""
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
        *display.sizes("up", "Moves up to fit"),
        *display.sizes("down", "Moves down to fit"),
    ]
    note = (
        "Where heads, sills, tops and caps meet the course lines. A strip of 0 runs clean. Courses count from 1, as on the overlay. "
        f"A sliver is lower than {display.size(takeoff.job.courses.sliver):g} {display.size_unit}."
    )
    write_title(sheet, "Course check", note, columns)
    rows = [_conflict_row(w, c, display) for w in takeoff.walls for c in w.courses.conflicts]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to check")
    top = placed.last + 2
    write_note(sheet, top, "Starter lines", columns=len(columns), bold=True)
    starters = place(sheet, top + 1, _starter_columns(display), [_starter_row(w, display) for w in takeoff.walls])
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


def add_notices(book: Workbook, takeoff: Takeoff, display: Display) -> Placed:
    """One row a notice, the gravest first; places in the drawing's own unit, as a CAD program shows them."""
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
    note = "x and y are in the drawing's own unit, as your CAD program shows them; the handle selects the entity."
    write_title(sheet, "Notices", note, columns)
    gravest = list(reversed(Level))
    rows = [_notice_row(n, takeoff) for n in sorted(takeoff.notices, key=lambda n: gravest.index(n.level))]
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
        "message": notice.message,
        "drawing": file_name(drawing) if drawing else "",
        "layer": notice.layer or "",
        "handle": notice.handle or "",
        "remedy": notice.remedy,
    }
    if notice.at_in and drawing and all(map(math.isfinite, notice.at_in)):
        row |= {"x": notice.at_in[0] / drawing.inches_per_unit, "y": notice.at_in[1] / drawing.inches_per_unit}
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
    note = "What these numbers rest on. Change a setting in the job file or by its option and run the takeoff again."
    write_title(sheet, "Assumptions", note, columns)
    rows: list[Row] = [
        {"key": a.key, "value": a.value, "from": a.source, "effect": a.effect} for a in takeoff.assumptions
    ]
    settings = place(sheet, HEADER, columns, rows, empty="every setting at its default")
    top = settings.last + 2
    title = f"Further values of the product: {takeoff.product.product.name or takeoff.product.file}"
    write_note(sheet, top, title, columns=len(columns), bold=True)
    product_columns = [
        Column("key", "Value of the product file", 30),
        Column("value", f"Size\n{display.size_unit}", 24, "#,##0.00"),
        Column("from", "File", 38),
        Column("effect", "Origin of the number", 60),
    ]
    product = place(sheet, top + 1, product_columns, _product_rows(takeoff, display), empty="all named above")
    top = product.last + 2
    write_note(sheet, top, "Cautions", columns=len(columns), bold=True)
    for row, caution in enumerate(takeoff.cautions, top + 1):
        write_note(sheet, row, caution, columns=len(columns), lines=math.ceil(len(caution) / 130))
    last = top + max(1, len(takeoff.cautions))
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
                rows.append({"key": full, "value": display.size(value), "from": product.file, "effect": origin})
    return rows
