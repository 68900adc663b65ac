"""The pieces a workbook is made of: safe text, tables with live formulas, the look, the page.

A text of the drawing goes into a cell by ``put_text`` alone: it is stored as a string that no
spreadsheet program runs, however it begins. Formulas are ``Formula`` values that this package
wrote.
"""

from __future__ import annotations

import copy
import textwrap
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter, quote_sheetname
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.writers.workbook.columns import (
    COUNT,
    READING,
    Column,
    Formula,
    Strong,
    Value,
)

ACCENT = "2E5266"
ALARM, QUIET = "8A0F2C", "555555"
TINT = "E6ECEF"
_RULE = Side(style="thin", color="B4BEC4")
_STRONG = Side(style="medium", color=ACCENT)
LINE_HEIGHT = 15.0
"""Points from one line of text to the next."""
MOST_LINES = 27
"""Lines that the highest row has room for: 409 points (limit of a spreadsheet; from memory)."""


def font(*, bold: bool = False, size: float = 11, color: str = "222222") -> Font:
    """The one typeface of the workbook.

    Args:
        bold: Whether it stands out.
        size: Height in points.
        color: Color in hex.

    Returns:
        The font.
    """
    return Font(name="Calibri", size=size, bold=bold, color=color)


def put_text(cell: Cell, text: str) -> None:
    """Store a text that can never run as a formula, nor turn into a number or an error value.

    Args:
        cell: The cell.
        text: The text.
    """
    cell.value = for_cell(text)
    cell.data_type = "s"
    cell.quotePrefix = True


@dataclass(frozen=True)
class PlacedTable:
    """Where a table stands: its sheet, first and last row of data, and the letter of each
    column."""

    sheet: str
    header: int
    first: int
    last: int
    letters: Mapping[str, str] = field(default_factory=dict)

    def range(self, key: str) -> str:
        """The data of a column, for a formula on any sheet."""
        letter = self.letters[key]
        return f"{quote_sheetname(self.sheet)}!${letter}${self.first}:${letter}${self.last}"

    def cell(self, key: str, row: int) -> str:
        """One cell of a column, by the row's count from 0, for a formula on any sheet."""
        return f"{quote_sheetname(self.sheet)}!{self.letters[key]}{self.first + row}"

    def total(self, key: str) -> str:
        """A column's cell in the row of totals, for a formula on any sheet."""
        return self.cell(key, self.last + 1 - self.first)

    def sum(self, key: str) -> str:
        """Formula text: the sum of a column."""
        return f"SUM({self.range(key)})"

    def sum_where(self, key: str, **where: str) -> str:
        """Formula text: the sum over the rows where other columns equal what formula text says."""
        tests = ",".join(f"{self.range(column)},{wanted}" for column, wanted in where.items())
        return f"SUMIFS({self.range(key)},{tests})"


def sheet_of(book: Workbook, title: str) -> Worksheet:
    """The worksheet of that title, which the workbook already holds.

    Args:
        book: The workbook.
        title: The title.

    Returns:
        The sheet.
    """
    sheet = book[title]
    assert isinstance(sheet, Worksheet)
    return sheet


def place(
    sheet: Worksheet,
    row: int,
    columns: Sequence[Column],
    rows: Iterable[Mapping[str, Value]],
    *,
    empty: str = "none",
    total: bool = False,
    ruled: Collection[int] = (),
) -> PlacedTable:
    """Write a table with its header at a row.

    ``ruled`` rows, counted from 0, begin with a strong line.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        columns: The columns.
        rows: Values by the key of their column.
        empty: What a table without rows says.
        total: Whether it has a row of totals.
        ruled: Rows, counted from 0, that begin with a strong line.

    Returns:
        Where it stands.
    """
    listed = list(rows)
    letters = {c.key: get_column_letter(n) for n, c in enumerate(columns, 1)}
    placed = PlacedTable(sheet.title, row, row + 1, row + max(1, len(listed)), letters)
    _header(sheet, row, columns)
    looks: Looks = {}
    for at, values in enumerate(listed, row + 1):
        cells = _RowCells(letters, at)
        is_ruled = at - row - 1 in ruled
        lines = 1
        for number, column in enumerate(columns, 1):
            value = Formula(column.formula) if column.formula else values.get(column.key)
            cell: Any = sheet.cell(at, number)
            put(cell, value, column.format, cells, looks, ruled=is_ruled)
            if isinstance(value, str):
                lines = max(lines, lines_of(value, column.width))
        sheet.row_dimensions[at].height = LINE_HEIGHT * lines
    if not listed:
        put(sheet[f"A{row + 1}"], empty)
    if total:
        _total(sheet, placed, columns)
    return placed


class _RowCells(dict[str, str]):
    """The cells of a row by the key of their column, made as a formula asks for them."""

    def __init__(self, letters: Mapping[str, str], row: int) -> None:
        super().__init__()
        self._letters, self._row = letters, row

    def __missing__(self, key: str) -> str:
        return f"{self._letters[key]}{self._row}"


Looks = dict[tuple[bool, bool, bool, str], Cell]
"""The first cell of every look in a table: the others share its style, which saves most of the time
of a long one."""


def put(
    cell: Cell,
    value: Value,
    number_format: str = "General",
    cells: Mapping[str, str] | None = None,
    looks: Looks | None = None,
    *,
    ruled: bool = False,
) -> None:
    """Write one value of a table in the table's look; text wraps, numbers and readings stand right.

    Args:
        cell: The cell.
        value: The value.
        number_format: Number format of the cell.
        cells: The cells of the row by the key of their column, for formulas.
        looks: Cells of the table whose looks others share.
        ruled: Rows, counted from 0, that begin with a strong line.
    """
    is_text = isinstance(value, str)
    if isinstance(value, str):
        cell.value = for_cell(value)
        cell.data_type = "s"
    elif value is not None:
        cell.value = (
            value.at({} if cells is None else cells) if isinstance(value, Formula) else value
        )
    key = (is_text, isinstance(value, Strong), ruled, number_format)
    if looks is not None and key in looks:
        cell._style = copy.copy(looks[key]._style)  # type: ignore[attr-defined]
        return
    _dress(cell, is_text=is_text, strong=key[1], number_format=number_format)
    cell.border = Border(top=_STRONG if ruled else None, bottom=_RULE)
    if looks is not None:
        looks[key] = cell


def _dress(cell: Cell, *, is_text: bool, strong: bool, number_format: str) -> None:
    """The type and place of what stands in a cell of a table's body."""
    if is_text:
        cell.quotePrefix = True
    else:
        cell.number_format = number_format
    side = (
        "center"
        if number_format == COUNT
        else "right"
        if number_format == READING or not is_text
        else "left"
    )
    side = "left" if is_text and number_format == COUNT else side
    cell.font = font(bold=strong)
    cell.alignment = Alignment(
        horizontal=side, vertical="top", wrap_text=is_text, indent=int(side == "left")
    )


def _header(sheet: Worksheet, row: int, columns: Sequence[Column]) -> None:
    firsts: dict[str, Any] = {}
    for number, column in enumerate(columns, 1):
        cell: Any = sheet.cell(row, number)
        put_text(cell, column.title)
        first = firsts.setdefault(column.side, cell)
        if first is cell:
            style_header(cell, column.side)
        else:
            cell._style = copy.copy(first._style)
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = max(
            column.width, sheet.column_dimensions[letter].width if row > 4 else 0
        )
    sheet.row_dimensions[row].height = (
        LINE_HEIGHT * max(lines_of(c.title, c.width * 0.9) for c in columns) + 4
    )


@lru_cache(maxsize=10_000)  # the same words stand in many rows
def lines_of(value: object, width: float) -> int:
    """How many lines a text takes in a column: an estimate that errs upwards.

    Args:
        value: The text.
        width: Characters across the column.

    Returns:
        The number.
    """
    if not isinstance(value, str):
        return 1
    if len(value) <= width and "\n" not in value and "\r" not in value:
        return 1
    across = max(4, int(width * 1.1))
    if len(value) >= MOST_LINES * across:
        return MOST_LINES
    return min(
        MOST_LINES,
        sum(max(1, len(textwrap.wrap(line, across))) for line in (for_cell(value).split("\n"))),
    )


def style_header(cell: Cell, horizontal: str = "left") -> None:
    """The look of a heading over a column.

    Args:
        cell: The cell.
        horizontal: Where its text stands: left, center, right.
    """
    cell.font = font(bold=True, color=ACCENT)
    cell.fill = PatternFill("solid", fgColor=TINT)
    cell.border = Border(top=_STRONG, bottom=_RULE)
    cell.alignment = Alignment(
        horizontal=horizontal, vertical="center", wrap_text=True, indent=int(horizontal == "left")
    )


def style_total(cell: Cell) -> None:
    """The look of a cell in a row of totals.

    Args:
        cell: The cell.
    """
    cell.font = font(bold=True)
    cell.border = Border(top=_STRONG, bottom=_STRONG)


def _total(sheet: Worksheet, placed: PlacedTable, columns: Sequence[Column]) -> None:
    row = placed.last + 1
    cells = {key: f"{letter}{row}" for key, letter in placed.letters.items()}
    for column in columns:
        cell: Any = sheet[cells[column.key]]
        if column.summed:
            letter = placed.letters[column.key]
            text = (
                column.formula
                if column.reads
                else f"SUM({letter}{placed.first}:{letter}{placed.last})"
            )
            put(cell, Formula(text or ""), column.format, cells)
        style_total(cell)
    sheet.row_dimensions[row].height = LINE_HEIGHT
    put(sheet[f"A{row}"], "Total")
    style_total(sheet[f"A{row}"])
