"""The table of the price: materials, labor, lines of the bid, total, alternates beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.messages import message
from dxf2veneer.model import Order
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.alternates import Priced
from dxf2veneer.writers.workbook.cells import (
    LINE_HEIGHT,
    PlacedTable,
    put,
    put_text,
    style_header,
    style_total,
)
from dxf2veneer.writers.workbook.columns import Formula
from dxf2veneer.writers.workbook.input_items import NAMES, UNITS
from dxf2veneer.writers.workbook.inputs import SPARE, Inputs
from dxf2veneer.writers.workbook.labor import labour_sum, unrated
from dxf2veneer.writers.workbook.order import missing
from dxf2veneer.writers.workbook.page import write_note
from dxf2veneer.writers.workbook.price_column import PriceColumn

_WIDTHS = (30.0, 11.0, 15.0, 29.0, 13.0, 13.0)


_FIRST = 3
"""Column of the bid's own price; the alternates follow."""
_SIGNED = "+#,##0.00;-#,##0.00;0.00"


def widths(width: int) -> tuple[float, ...]:
    """Widths of the page's columns; further ones are those of further alternates.

    Args:
        width: How many columns the page has.

    Returns:
        One for each column.
    """
    return (*_WIDTHS, *[_WIDTHS[-1]] * (width - len(_WIDTHS)))


@dataclass(frozen=True)
class Page:
    """The sheet being filled and how many columns it has."""

    sheet: Worksheet
    width: int

    def note(self, row: int, text: str, *, bold: bool = False) -> None:
        """A paragraph across the page."""
        room = sum(widths(self.width)) * 1.15
        write_note(
            self.sheet,
            row,
            text,
            columns=self.width,
            lines=max(1, math.ceil(len(text) / room)),
            bold=bold,
        )

    def live(self, row: int, formula: str) -> None:
        """A line of words that a formula makes."""
        self.note(row, "")
        cell: Any = self.sheet.cell(row, 1)
        cell.value, cell.data_type, cell.quotePrefix = f"={formula}", "f", False


def write_heads(page: Page, row: int, texts: Sequence[str]) -> None:
    """Write headings across the page.

    Args:
        page: The page being filled.
        row: The first row to fill.
        texts: Headings from the left.
    """
    for number in range(1, page.width + 1):
        text = texts[number - 1] if number <= len(texts) else ""
        cell: Any = page.sheet.cell(row, number)
        put_text(cell, text)
        style_header(cell)


def write_price(
    page: Page,
    row: int,
    order: Order,
    inputs: Inputs,
    orders: Sequence[Priced],
    rates: PlacedTable,
) -> tuple[int, str]:
    """The price of the bid and of every alternate, side by side.

    Args:
        page: The page being filled.
        row: The first row to fill.
        order: The order.
        inputs: Where the inputs stand.
        orders: The bid's own order and the alternates'.
        rates: What rates go by.

    Returns:
        The last row used and the cell of the total.
    """
    sheet, charges = page.sheet, inputs.charges
    last = row + 5 + charges.last - charges.first + 1
    _write_names(page, row, order, inputs, orders, rates)
    for number, priced in enumerate(orders, _FIRST):
        PriceColumn(sheet, get_column_letter(number), row, charges, rates).write(priced)
        if number > _FIRST:
            here, base = f"{get_column_letter(number)}{last}", f"C{last}"
            none = f'OR({here}="no total",{base}="no total")'
            less = Formula(f'IF({none},"",ROUND({here}-{base},2))')
            put(_cell(sheet, last + 1, number), less, _SIGNED)
    for number in range(1, page.width + 1):
        style_total(_cell(sheet, last, number))
    return _said_of_price(page, last + 2, orders), f"C{last}"


def _write_names(
    page: Page,
    row: int,
    order: Order,
    inputs: Inputs,
    orders: Sequence[Priced],
    rates: PlacedTable,
) -> None:
    """The headings, and the name of every line at the left."""
    sheet, charges = page.sheet, inputs.charges
    price = f"Price{f', {order.currency}' if order.currency else ''}"
    write_heads(page, row, (price, "", orders[0].name, *(o.name for o in orders[1:])))
    right = Alignment(horizontal="right", vertical="center", wrap_text=True)
    for number in range(_FIRST, _FIRST + len(orders)):
        sheet.cell(row, number).alignment = right
    wide = widths(page.width)[2:]
    lines = max(math.ceil(len(o.name) / w) for o, w in zip(orders, wide, strict=False))
    sheet.row_dimensions[row].height = LINE_HEIGHT * lines + 4
    for down, line in enumerate(order.bid.lines[:2], 1):  # materials, labor
        _label(sheet, row + down, say(line.title))
    for at, source in enumerate(range(charges.first, charges.last + 1), row + 3):
        name, value, how, per = (
            charges.cell(key, source - charges.first) for key in ("name", "value", "how", "per")
        )
        put(_cell(sheet, at, 1), Formula(f'IF({name}="","",{name})'))
        found = f"INDEX({rates.range('unit')},MATCH({per},{rates.range('per')},0))"
        sizes = ",".join(f'{found}="{UNITS[unit]}"' for unit in ("sqft", "ft", "m2", "m"))
        of_size = f'IF(OR({sizes}),", "&{found},"")'
        each = f'IF({how}="rate"," x "&{per}&IFERROR({of_size},""),"")'
        unit = f'IF({how}="percent"," %",IF({how}="margin"," % margin",{each}))'
        told = f'IF(OR({value}="",{how}="amount"),"",{value}&{unit})'
        put(_cell(sheet, at, 2), Formula(told))
        sheet.cell(at, 1).alignment = Alignment(horizontal="left", indent=1)
        if source > charges.last - SPARE:
            sheet.row_dimensions[at].height = 5
    end = row + 3 + charges.last - charges.first + 1
    for at, name, title in (
        (end, "minimum", message("bid-minimum")),
        (end + 1, "round_to", message("bid-rounding")),
    ):
        put(_cell(sheet, at, 1), Formula(f'IF(N({NAMES[name]})=0,"","{say(title)}")'))
        put(_cell(sheet, at, 2), None)
        sheet.cell(at, 1).alignment = Alignment(horizontal="left", indent=1)
    _label(sheet, end + 2, "Total")
    _label(sheet, end + 3, "Compared with the base bid")


def _label(sheet: Worksheet, row: int, text: str) -> None:
    put(_cell(sheet, row, 1), text)
    put(_cell(sheet, row, 2), None)


def _cell(sheet: Worksheet, row: int, number: int) -> Any:
    return sheet.cell(row, number)


def _said_of_price(page: Page, row: int, orders: Sequence[Priced]) -> int:
    """What is missing, and what the alternates are; the last row used."""
    items = orders[0].items
    count = missing(items)
    page.live(
        row,
        f'IF({count}>0,"NO TOTAL: items without a price: "&{count}&", see the sheet Order. '
        f'","")&IF({labour_sum(orders[0].labour)}="","NO TOTAL: no wage is given on the sheet '
        'Inputs.","")',
    )
    row += 1
    left_out = unrated(orders[0].labour)
    page.live(
        row,
        f'IF({left_out}>0,"NOT IN THE PRICE: work without a rate: "&{left_out}&", see the sheet '
        'Labor; answer each on the sheet Inputs, with 0 where it is not yours to do","")',
    )
    for priced in orders[1:]:
        row += 1
        page.note(row, f"{priced.name}: {priced.what}")
    return row
