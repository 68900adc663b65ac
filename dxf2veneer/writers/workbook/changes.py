"""The sheet of changed cuts."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from dxf2veneer.model import CutChanges, Takeoff
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.wording.changes import CHANGE_HEAD, change_cells, change_lines, measured_words
from dxf2veneer.writers.workbook.cells import lines_of, place, sheet_of
from dxf2veneer.writers.workbook.columns import READING, Column
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title

CHANGES_TITLE = "Changed cuts"
"""Name of the sheet."""
_WIDTHS = (8, 9, 9, 24, 15, 15, 12, 12)


def add_changes(book: Workbook, takeoff: Takeoff, changes: CutChanges) -> None:
    """One row a piece that is not cut as by the plan as drawn.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        changes: What changes.
    """
    sheet = sheet_of(book, CHANGES_TITLE)
    display = takeoff.job.output.display
    columns = [
        Column(name, name.capitalize(), width, READING if "length" in name else "General")
        for name, width in zip(CHANGE_HEAD, _WIDTHS, strict=True)
    ]
    said = measured_words(takeoff.site) or "nothing is off from the drawing"
    note = (
        f"{said[0].upper()}{said[1:]}. What is not listed is cut as by the plan as drawn. "
        f"{caution_for(Reader.SAW)}"
    )
    write_title(sheet, "Changed cuts", note, columns)
    numbers = [takeoff.course_number(c.wall, c.course) for c in changes.cuts]
    rows = [
        dict(zip(CHANGE_HEAD, change_cells(c, number, display), strict=True))
        for c, number in zip(changes.cuts, numbers, strict=True)
    ]
    placed = place(sheet, HEADER, columns, [dict(row) for row in rows], empty="none")
    last = placed.last + 1
    for text in change_lines(changes):
        last += 1
        lines = lines_of(text, 0.85 * sum(c.width for c in columns))
        write_note(sheet, last, text, columns=len(columns), lines=lines)
    finish(sheet, takeoff, placed, last_row=last, freeze="B")
