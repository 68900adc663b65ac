"""The change order as a workbook: texts as texts, sums as formulas.

Change order   title, facts, table of changes, totals so far
Quantities     figures of the whole before and now
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.units import MM_PER_INCH, POUND_KG, SQUARE_FEET_PER_SQUARE_METER
from dxf2veneer.model import FIGURES, ChangeOrder
from dxf2veneer.textio.escaping import for_cell, legible
from dxf2veneer.wording.revisions import FIGURE_WORDS, is_shown
from dxf2veneer.writers.change_order.content import (
    REST,
    SUM,
    TO_STATE,
    Content,
    content_of,
    told_of,
    totals_of,
)
from dxf2veneer.writers.workbook.cells import (
    ACCENT,
    ALARM,
    LINE_HEIGHT,
    QUIET,
    font,
    lines_of,
    put,
    put_text,
    style_header,
    style_total,
)
from dxf2veneer.writers.workbook.columns import MONEY, Display, Formula, Value
from dxf2veneer.writers.workbook.page import set_page
from dxf2veneer.writers.workbook.saving import save_book

_WIDTHS = (26.0, 44.0, 14.0, 21.0, 21.0)
_WIDTH = len(_WIDTHS)


def write_change_order_sheet(order: ChangeOrder, path: Path, *, alert: str = "") -> None:
    """Write the order as an .xlsx workbook, whole or not at all.

    Args:
        order: The order.
        path: The file to write.
        alert: What stands on top where a takeoff is not to be relied on.

    Raises:
        OSError: It can't be written.
    """
    content = content_of(order, alert)

    def filled() -> Workbook:
        book = Workbook()
        del book["Sheet"]
        display = Display(order.display)
        for title, fill in (("Change order", _fill_order), ("Quantities", _fill_quantities)):
            sheet: Worksheet = book.create_sheet(title)
            for letter, width in zip("ABCDE", _WIDTHS, strict=True):
                sheet.column_dimensions[letter].width = width
            last = fill(_Rows(sheet), order, content, display)
            set_page(sheet, order.job, display, last=f"E{last}", wide=False, header=None)
        book.properties.title = for_cell(content.title)
        book.properties.creator = for_cell(content.company) or "dxf2veneer"
        return book

    save_book(filled, path)


class _Rows:
    """A sheet that is filled from the top down."""

    def __init__(self, sheet: Worksheet) -> None:
        self.sheet, self.row = sheet, 1

    def line(
        self, text: str, *, size: float = 11, bold: bool = False, color: str = "222222"
    ) -> None:
        """A line of words across all columns."""
        self.sheet.merge_cells(
            start_row=self.row, start_column=1, end_row=self.row, end_column=_WIDTH
        )
        cell: Any = self.sheet.cell(self.row, 1)
        put_text(cell, text)
        cell.font = font(size=size, bold=bold, color=color)
        cell.alignment = Alignment(wrap_text=True, vertical="center")
        across = sum(_WIDTHS) * 11 / size
        lines = max(1, math.ceil(len(text) / across))
        self.sheet.row_dimensions[self.row].height = (LINE_HEIGHT * size / 11 + 2) * lines
        self.row += 1

    def heads(self, texts: Sequence[str]) -> None:
        """The heads of a table."""
        for number, text in enumerate(texts, 1):
            cell: Any = self.sheet.cell(self.row, number)
            put_text(cell, text)
            style_header(cell, "left" if number < 3 else "right")
        self.sheet.row_dimensions[self.row].height = LINE_HEIGHT + 4
        self.row += 1

    def cells(self, values: Sequence[Value], *, total: bool = False) -> int:
        """A row of a table; its number."""
        lines = 1
        for number, value in enumerate(values, 1):
            cell: Any = self.sheet.cell(self.row, number)
            put(cell, value, MONEY)
            if total:
                style_total(cell)
            if isinstance(value, str):
                lines = max(lines, lines_of(value, _WIDTHS[number - 1]))
        self.sheet.row_dimensions[self.row].height = LINE_HEIGHT * lines
        self.row += 1
        return self.row - 1


def _fill_order(rows: _Rows, order: ChangeOrder, content: Content, display: Display) -> int:
    """The first sheet; its last row."""
    rows.line(content.company, size=18, bold=True, color=ACCENT)
    for text in content.sender:
        rows.line(text, color=QUIET)
    rows.line(f"For {', '.join(content.customer)}")
    rows.line(content.title, size=15, bold=True)
    if content.alert:
        rows.line(content.alert, bold=True, color=ALARM)
    for what, value, origin in content.facts:
        rows.cells((what, value, "", "", origin))
    rows.row += 1
    currency = legible(order.currency)
    rows.heads(
        ("Wall", "What changes", f"Net area, {display.area_unit}",
         *(f"{what} {currency}".strip() for what in ("Add", "Deduct")))
    )  # fmt: skip
    sums = _changes(rows, order, display)
    rows.row += 1
    rows.heads(("Totals so far", "", "", "From", currency))
    _totals(rows, order, sums)
    rows.row += 1
    for text in content.cautions:
        rows.line(text, size=9, color=QUIET)
    for who in content.signatures:
        rows.row += 1
        rows.line(f"{who}: {'_' * 36}     Date: {'_' * 16}")
    return rows.row - 1


def _changes(rows: _Rows, order: ChangeOrder, display: Display) -> int | None:
    """The table of changes; the row of its sums where all prices are known."""
    first = rows.row
    per = SQUARE_FEET_PER_SQUARE_METER if display.is_metric else 1.0
    for change in order.changes:
        rows.cells(
            (legible(change.wall), told_of(change, order.display), change.net_area_sqft / per,
             *_apart(change.price))
        )  # fmt: skip
    if order.rest is None:
        return None
    if order.rest:
        rows.cells((legible(""), REST, None, *_apart(order.rest)))
    if rows.row == first:
        rows.cells(("none", None, None, None, None))
    last = rows.row - 1
    summed = [Formula(f"SUM({letter}{first}:{letter}{last})") for letter in "CDE"]
    return rows.cells(("All", None, *summed), total=True)


def _apart(price: Decimal | None) -> tuple[Value, Value]:
    """A price as add and as deduct."""
    if price is None:
        return TO_STATE, None
    return (float(price), None) if price > 0 else (None, float(price) or None)


def _totals(rows: _Rows, order: ChangeOrder, sums: int | None) -> None:
    """Contract, changes and the price now, which is their sum."""
    listed = totals_of(order)
    first = rows.row
    for what, amount, origin in listed[:-2]:
        rows.cells((what, None, None, origin, TO_STATE if amount is None else float(amount)))
    what, _, origin = listed[-2]
    this: Value = TO_STATE if sums is None else Formula(f"D{sums}+E{sums}")
    last = rows.cells((what, None, None, origin, this))
    whole: Value = TO_STATE if order.to_date is None else Formula(f"SUM(E{first}:E{last})")
    rows.cells((listed[-1][0], None, None, SUM, whole), total=True)


def _fill_quantities(rows: _Rows, order: ChangeOrder, content: Content, display: Display) -> int:
    """The second sheet; its last row."""
    rows.line(content.title, size=15, bold=True)
    rows.heads(("", "In all", "Before", "Now", "Difference"))
    units = {
        "area": (display.area_unit, SQUARE_FEET_PER_SQUARE_METER if display.is_metric else 1.0),
        "run": (display.run_unit, 1000.0 / MM_PER_INCH if display.is_metric else 12.0),
        "weight": ("kg", 1.0 / POUND_KG) if display.is_metric else ("lb", 1.0),
        "count": ("", 1.0),
    }
    for key, old, new in order.figures:
        if old is None or new is None or not is_shown(key, float(new) - float(old)):
            continue
        unit, per = units[FIGURES[key]]
        row = rows.row
        rows.cells(
            (unit, FIGURE_WORDS[key], float(old) / per, float(new) / per,
             Formula(f"D{row}-C{row}"))
        )  # fmt: skip
    return rows.row - 1
