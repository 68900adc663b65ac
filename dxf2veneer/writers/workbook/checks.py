"""The sheets to check before the numbers are used: notices and assumptions."""

from __future__ import annotations

import math

from openpyxl.workbook import Workbook

from dxf2veneer.basics.notices import Level
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import remedy, say
from dxf2veneer.wording.cautions import CAUTIONS
from dxf2veneer.writers.basis import CHECK_FIRST, assumption_words, to_check
from dxf2veneer.writers.facts import Fact, facts_of
from dxf2veneer.writers.words import LEVEL_WORDS, file_name
from dxf2veneer.writers.workbook.cells import PlacedTable, font, place, sheet_of
from dxf2veneer.writers.workbook.columns import Column, Display, Row
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title

FIT_ROWS = 60
"""Rows of the assumptions that still make one legible page."""


def level_word(level: Level) -> str:
    """The level as a word that stands out without color.

    Args:
        level: The level.

    Returns:
        ERROR, WARNING or note.
    """
    word = LEVEL_WORDS[level]
    return word if level is Level.INFO else word.upper()


def add_notices(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row a fact, the gravest first; places in the drawing's own unit, as a CAD program shows
    them.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Notices")
    columns = [
        Column("level", "Level", 11),
        Column("code", "Code", 26),
        Column("message", "Message", 44),
        Column("count", "Times", 7, "#,##0"),
        Column("drawing", "Drawing", 18),
        Column("layer", "Layer", 16),
        Column("handle", "Handle", 9),
        Column("x", "x\ndrawing's unit", 15, "#,##0.00"),
        Column("y", "y\ndrawing's unit", 15, "#,##0.00"),
        Column("further", "Where else", 40),
        Column("remedy", "What to do", 44),
    ]
    note = (
        "One line for one fact: how many times it was found, the first place and further ones. "
        "x and y are in the drawing's own unit, as your CAD program shows them; the handle "
        "selects the entity."
    )
    write_title(sheet, "Notices", note, columns)
    rows = [_notice_row(fact, takeoff) for fact in facts_of(takeoff)]
    placed = place(sheet, HEADER, columns, rows, empty="none")
    for row in range(placed.first, placed.last + 1):
        cell = sheet[f"A{row}"]
        cell.font = font(bold=str(cell.value).isupper())
    finish(sheet, takeoff, placed, last_row=placed.last, freeze="C")
    return placed


def _notice_row(fact: Fact, takeoff: Takeoff) -> Row:
    notice = fact.first
    drawing = next((d for d in takeoff.drawings if d.index == notice.drawing), None)
    row: Row = {
        "level": level_word(notice.level),
        "code": notice.code,
        "message": say(notice.message, takeoff.job.output.display),
        "count": fact.count,
        "drawing": file_name(drawing) if drawing else "",
        "layer": notice.layer or "",
        "handle": notice.handle or "",
        "further": fact.further,
        "remedy": remedy(notice.code),
    }
    if notice.at_in and drawing and all(map(math.isfinite, notice.at_in)):
        row |= {
            "x": notice.at_in[0] / drawing.inches_per_unit,
            "y": notice.at_in[1] / drawing.inches_per_unit,
        }
    return row


def add_assumptions(book: Workbook, takeoff: Takeoff, display: Display) -> None:
    """Every setting and product value that changed a number, what to check first, all cautions.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.
    """
    sheet = sheet_of(book, "Assumptions")
    columns = [
        Column("key", "Setting", 30),
        Column("value", "Value", 24),
        Column("from", "Where it came from", 30),
        Column("basis", "What it rests on", 44),
        Column("effect", "What it does", 60),
    ]
    note = (
        "What these numbers rest on. Change a setting in the job file or by its option and "
        "run the takeoff again."
    )
    write_title(sheet, "Assumptions", note, columns)
    rows: list[Row] = [
        {"key": a.name, "value": a.value, "from": a.origin, "basis": a.basis, "effect": a.effect}
        for a in (assumption_words(a, display.name) for a in takeoff.assumptions)
    ]
    settings = place(sheet, HEADER, columns, rows, empty="every setting at its default")
    top = settings.last + 2
    write_note(
        sheet, top, f"{CHECK_FIRST}, the weakest ground first", columns=len(columns), bold=True
    )
    for one in to_check(takeoff):
        top, text = top + 1, f"{one.kind}: {one.values(display.name)}"
        write_note(sheet, top, text, columns=len(columns), lines=math.ceil(len(text) / 150))
    top += 2
    write_note(sheet, top, "Cautions", columns=len(columns), bold=True)
    cautions = [*(say(one, display.name) for one in takeoff.cautions), *CAUTIONS.values()]
    for row, caution in enumerate(cautions, top + 1):
        write_note(sheet, row, caution, columns=len(columns), lines=math.ceil(len(caution) / 130))
    last = top + max(1, len(cautions))
    finish(sheet, takeoff, settings, last_row=last, filtered=False, one_page=last <= FIT_ROWS)
