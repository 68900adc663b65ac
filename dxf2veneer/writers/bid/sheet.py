"""The customer's bid as a workbook of one sheet: words and numbers as words, no formula."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, PatternFill, Side
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import BidLetter
from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.writers.bid.content import Content, Table, content_of
from dxf2veneer.writers.workbook.cells import (
    ACCENT,
    ALARM,
    LINE_HEIGHT,
    QUIET,
    font,
    lines_of,
    put_text,
)
from dxf2veneer.writers.workbook.columns import Display
from dxf2veneer.writers.workbook.page import set_page
from dxf2veneer.writers.workbook.saving import save_book

_WIDTHS = (24.0, 44.0, 16.0, 18.0)
_WIDTH = len(_WIDTHS)
_CAPITALS = 0.75
"""Part of a column's digits that capitals in bold have room for."""
_RULE, _STRONG = Side(style="thin", color="B4BEC4"), Side(style="medium", color=ACCENT)


def write_bid_sheet(letter: BidLetter, path: Path, *, alert: str = "") -> None:
    """Write the letter as an .xlsx workbook of one sheet, whole or not at all.

    Args:
        letter: The letter.
        path: The file to write.
        alert: What stands on top where the takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    content = content_of(letter, alert)

    def filled() -> Workbook:
        book = Workbook()
        del book["Sheet"]
        sheet: Worksheet = book.create_sheet("Proposal")
        for letter_of, width in zip("ABCD", _WIDTHS, strict=True):
            sheet.column_dimensions[letter_of].width = width
        last = _Letter(sheet).fill(content)
        set_page(
            sheet, letter.job, Display(letter.display), last=f"D{last}", wide=False, header=None
        )
        book.properties.title = for_cell(content.title)
        book.properties.creator = for_cell(letter.company) or "dxf2veneer"
        return book

    save_book(filled, path)


class _Letter:
    """The sheet being filled, from the top down."""

    def __init__(self, sheet: Worksheet) -> None:
        self._sheet, self._row = sheet, 1

    def fill(self, content: Content) -> int:
        """Write everything; the last row used."""
        self._line(content.company, size=18, bold=True, color=ACCENT)
        for text in content.sender:
            self._line(text, color=QUIET)
        self._gap()
        for what, value in content.facts:
            self._line(f"{what}: {value}")
        self._gap()
        self._line("For", color=QUIET, size=9)
        for number, text in enumerate(content.customer):
            self._line(text, bold=number == 0)
        self._gap()
        self._line(content.title, size=15, bold=True)
        if content.alert:
            self._line(content.alert, bold=True, color=ALARM)
        self._line(content.opening)
        for number, section in enumerate(content.sections):
            if number == content.before_price:
                self._price(*content.price)
            self._gap()
            self._line(section.title, bold=True, color=ACCENT, size=12)
            if section.table:
                self._table(section.table)
            for text in section.texts:
                self._line(text, size=9 if section.fine else 11)
        self._gap(30)
        for who in content.signatures:
            self._line(f"{who}: {'_' * 40}     Date: {'_' * 18}")
            self._gap(18)
        return self._row - 1

    def _line(
        self, text: str, *, size: float = 11, bold: bool = False, color: str = "222222"
    ) -> None:
        cell = self._across(text, 1, _WIDTH)
        cell.font = font(size=size, bold=bold, color=color)
        cell.alignment = Alignment(wrap_text=True, vertical="center")
        room = sum(_WIDTHS) * 11 / size
        height = LINE_HEIGHT * size / 11 + (2 if size > 11 else 0)
        self._sheet.row_dimensions[self._row].height = height * max(1, math.ceil(len(text) / room))
        self._row += 1

    def _gap(self, height: float = 8) -> None:
        self._sheet.row_dimensions[self._row].height = height
        self._row += 1

    def _across(self, text: str, first: int, last: int) -> Any:
        self._sheet.merge_cells(
            start_row=self._row, start_column=first, end_row=self._row, end_column=last
        )
        cell: Any = self._sheet.cell(self._row, first)
        put_text(cell, text)
        return cell

    def _price(self, what: str, amount: str) -> None:
        self._gap()
        fill, line = PatternFill("solid", fgColor="F2F5F8"), Border(top=_STRONG, bottom=_STRONG)
        for number in range(1, _WIDTH + 1):
            cell: Any = self._sheet.cell(self._row, number)
            cell.fill, cell.border = fill, line
        left, right = self._across(what, 1, 2), self._across(amount, 3, 4)
        left.font, right.font = font(bold=True), font(size=18, bold=True)
        left.alignment = Alignment(vertical="center", wrap_text=True)
        right.alignment = Alignment(horizontal="right", vertical="center", shrink_to_fit=True)
        self._sheet.row_dimensions[self._row].height = 34
        self._row += 1

    def _table(self, table: Table) -> None:
        self._cells(table.heads, table, bold=True, color=ACCENT, below=_STRONG)
        for row in table.rows:
            self._cells(row, table)
        if table.last:
            self._cells(table.last, table, bold=True)

    def _cells(
        self,
        texts: Sequence[str],
        table: Table,
        *,
        bold: bool = False,
        color: str = "222222",
        below: Side = _RULE,
    ) -> None:
        """One row of a table; the last column ends at the page's edge."""
        lines = 1
        for number in range(1, _WIDTH + 1):
            self._sheet.cell(self._row, number).border = Border(bottom=below)
        for at, text in enumerate(texts):
            column = at + 1 if at + 1 < len(texts) else _WIDTH
            cell: Any = self._sheet.cell(self._row, column)
            put_text(cell, text)
            cell.font = font(bold=bold, color=color)
            side = "right" if at >= table.numbers else "left"
            cell.alignment = Alignment(horizontal=side, vertical="top", wrap_text=True)
            lines = max(lines, lines_of(text, _CAPITALS * _WIDTHS[column - 1]))
        self._sheet.row_dimensions[self._row].height = LINE_HEIGHT * lines
        self._row += 1
