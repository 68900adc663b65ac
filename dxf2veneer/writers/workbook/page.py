"""The head of a sheet, notes across it, the printed page."""

from __future__ import annotations

import copy
from collections.abc import Collection, Iterable, Sequence
from typing import Any

from openpyxl.cell.cell import MergedCell
from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.printing import ALL
from dxf2veneer.textio.escaping import visible
from dxf2veneer.writers.workbook.cells import ACCENT, LINE_HEIGHT, font, lines_of, put_text
from dxf2veneer.writers.workbook.columns import (
    Column,
    Display,
)


def write_title(sheet: Worksheet, title: str, note: str, columns: Sequence[Column]) -> None:
    """The head of a sheet: its title and one line that says how to read it, in rows 1 and 2.

    Args:
        sheet: The sheet.
        title: The title.
        note: One line that says how to read it.
        columns: Columns of the table below.
    """
    put_text(sheet["A1"], title)
    sheet["A1"].font = font(bold=True, size=15, color=ACCENT)
    lines = lines_of(note, 0.85 * sum(c.width for c in columns))
    write_note(sheet, 2, note, columns=len(columns), lines=lines)


def write_note(
    sheet: Worksheet, row: int, note: str, *, columns: int, lines: int = 1, bold: bool = False
) -> None:
    """A wrapped line of plain words across the table's width.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        note: The words.
        columns: How many columns it spans.
        lines: How many lines it takes.
        bold: Whether it stands out.
    """
    sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=columns)
    cell: Any = sheet.cell(row, 1)
    put_text(cell, note)
    cell.font = font(bold=bold, color=ACCENT if bold else "444444")
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    sheet.row_dimensions[row].height = LINE_HEIGHT * lines


def widen(sheet: Worksheet, rows: Iterable[int], first: int, last: int) -> None:
    """In each of some rows, let a cell reach over the columns to its right.

    The library's own way looks through all that is merged already, each time: too slow for a long
    table.

    Args:
        sheet: The sheet.
        rows: The rows.
        first: The first column, from 1.
        last: The last column.
    """
    for row in rows:
        head = sheet.cell(row, first)
        for column in range(first + 1, last + 1):
            covered = MergedCell(sheet, row, column)
            covered._style = copy.copy(head._style)  # type: ignore[attr-defined, union-attr]
            sheet._cells[row, column] = covered
        sheet.merged_cells.ranges.add(
            CellRange(min_col=first, min_row=row, max_col=last, max_row=row)
        )


def keep_off_paper(book: Workbook, printed: Collection[str]) -> None:
    """Leave the printed area of all other sheets empty, so that a printout of the whole workbook
    leaves them out.

    Args:
        book: The workbook.
        printed: Titles of the sheets that are printed, or ``all`` among them.
    """
    for sheet in book.worksheets:
        if ALL not in printed and sheet.title not in printed:
            beyond = get_column_letter(sheet.max_column + 2)
            sheet.print_area = f"{beyond}1"


def set_page(
    sheet: Worksheet,
    job_name: str,
    display: Display,
    *,
    last: str,
    wide: bool,
    header: int | None,
    one_page: bool = False,
) -> None:
    """Paper, print area down to the cell ``last``, repeated header, footer with page numbers.

    Args:
        sheet: The sheet.
        job_name: The job's name.
        display: Units of the sheets.
        last: The last cell that is printed.
        wide: Whether the page lies on its side.
        header: Row that is repeated on every page.
        one_page: Whether it is printed on one page.
    """
    sheet.page_setup.paperSize = 9 if display.is_metric else 1  # A4, Letter
    sheet.page_setup.orientation = "landscape" if wide else "portrait"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 1 if one_page else 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True  # type: ignore[union-attr]
    sheet.print_area = f"A1:{last}"
    if header:
        sheet.print_title_rows = f"{header}:{header}"
    sheet.page_margins.left = sheet.page_margins.right = 0.5
    sheet.page_margins.top, sheet.page_margins.bottom = 0.6, 0.75
    sheet.page_margins.header = 0.25
    sheet.print_options.horizontalCentered = True
    name = " ".join(visible(job_name).split())[:60]
    texts = {"left": name.replace("&", "&&"), "center": sheet.title, "right": "Page &P of &N"}
    for side, text in texts.items():
        getattr(sheet.oddFooter, side).text = text
    sheet.sheet_view.showGridLines = False
