"""Changes by hand in an earlier workbook: read back, put into the new one, listed on a sheet.

An earlier workbook says on its hidden sheet what was computed for every cell that may be changed,
and by a formula where that cell stands now. What differs was changed by hand.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.printing import KEPT
from dxf2veneer.model import Takeoff
from dxf2veneer.model.hand_changes import CellValue, HandChange
from dxf2veneer.writers.workbook.cells import place, put_text, sheet_of
from dxf2veneer.writers.workbook.columns import Column
from dxf2veneer.writers.workbook.computed import TITLE, InputCell
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_title

_WHERE = re.compile(r"=IF\('?((?:[^'!]|'')+)'?!\$?([A-Z]+)\$?([0-9]+)=")
_SAME = 1e-9


class UnreadableWorkbookError(Exception):
    """A file that is no workbook of this tool."""


def read_changes(path: Path) -> list[HandChange]:
    """What was changed by hand in a workbook since it was written.

    Args:
        path: The workbook.

    Returns:
        The changed cells, with what was computed for them then.

    Raises:
        UnreadableWorkbookError: It is no workbook, or none that says what was computed.
        OSError: It can't be read.
    """
    try:
        book, values = (load_workbook(path, data_only=only) for only in (False, True))
        if TITLE not in book.sheetnames:
            raise UnreadableWorkbookError
        return list(_changes(book, values))
    except (zipfile.BadZipFile, InvalidFileException, KeyError, ValueError, TypeError) as error:
        raise UnreadableWorkbookError from error


def _changes(book: Workbook, values: Workbook) -> Iterator[HandChange]:
    for row in sheet_of(book, TITLE).iter_rows(min_row=HEADER + 1, max_col=5):
        sheet, label, heading, before, now = row
        found = _WHERE.match(str(now.value or ""))
        if not sheet.value or found is None or found[1].replace("''", "'") not in book.sheetnames:
            continue
        title, place_of = found[1].replace("''", "'"), f"{found[2]}{found[3]}"
        cell: Any = sheet_of(book, title)[place_of]
        value = cell.value
        if cell.data_type == "f":
            if before.data_type == "f":
                continue
            value = sheet_of(values, title)[place_of].value or value
        if not _same(before.value, value):
            told = str(sheet.value), str(label.value or ""), str(heading.value or "")
            yield HandChange(*told, _plain(before.value), _plain(value), True)


def _same(first: object, second: object) -> bool:
    if isinstance(first, (int, float)) and isinstance(second, (int, float)):
        return abs(first - second) <= _SAME
    return (first or "") == (second or "") if first != 0 and second != 0 else first == second


def _plain(value: object) -> CellValue:
    """A cell's value as a number or a text."""
    if value is None or isinstance(value, (int, float)):
        return value
    return str(value)


def fitted(changes: Iterable[HandChange], cells: Sequence[InputCell]) -> tuple[HandChange, ...]:
    """Earlier changes against the cells of a new workbook.

    Args:
        changes: What was changed by hand.
        cells: The cells that may be changed, as computed.

    Returns:
        The changes, each with what is computed now; those that are as computed now are left out.
    """
    by_name = {(c.sheet, c.row, c.heading): c for c in cells}
    made = []
    for change in changes:
        found = by_name.get((change.sheet, change.row, change.heading))
        computed = change.computed if found is None else _plain(found.cell.value)
        if found is None or not _same(computed, change.by_hand):
            told = change.sheet, change.row, change.heading
            is_formula = isinstance(change.by_hand, str) and change.by_hand.startswith("=")
            fits = found is not None and not is_formula
            made.append(HandChange(*told, computed, change.by_hand, fits))
    return tuple(made)


def put_back(changes: Iterable[HandChange], cells: Sequence[InputCell]) -> None:
    """Put changes into the cells of a new workbook.

    Args:
        changes: The changes; those that fit are put back.
        cells: The cells that may be changed.
    """
    by_name = {(c.sheet, c.row, c.heading): c for c in cells}
    for change in (c for c in changes if c.fits):
        cell = by_name[change.sheet, change.row, change.heading].cell
        value = change.by_hand
        if isinstance(value, str):
            put_text(cell, value)
        else:
            cell.value, cell.data_type = value, "n"


def add_kept(book: Workbook, takeoff: Takeoff) -> None:
    """List the changes by hand that this workbook keeps, and those that no longer fit.

    Args:
        book: The workbook.
        takeoff: The takeoff.
    """
    sheet: Worksheet = sheet_of(book, KEPT)
    columns = [
        Column("sheet", "Sheet", 12),
        Column("row", "Row", 34),
        Column("heading", "Heading", 30),
        Column("computed", "As computed", 16),
        Column("by_hand", "By hand", 16),
        Column("kept", "Kept", 44),
    ]
    note = "Cells of the earlier workbook that were changed by hand, and what became of each."
    write_title(sheet, KEPT, note, columns)
    lost = "no: no such cell any more, or a formula without a value; is it still wanted?"
    rows = [
        {
            "sheet": c.sheet,
            "row": c.row,
            "heading": c.heading,
            "computed": c.computed,
            "by_hand": c.by_hand,
            "kept": "yes" if c.fits else lost,
        }
        for c in takeoff.hand_changes
    ]
    placed = place(sheet, HEADER, columns, rows, empty="none")
    finish(sheet, takeoff, placed, last_row=placed.last, filtered=False)
