"""The price: one page for the house, with costs, the lines of the bid, alternates beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.model import Order, Takeoff
from dxf2veneer.writers.workbook.alternates import Priced
from dxf2veneer.writers.workbook.cells import ACCENT, PlacedTable, font, put_text, sheet_of
from dxf2veneer.writers.workbook.columns import Display
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.page import set_page
from dxf2veneer.writers.workbook.price import Page, widths, write_price

LEAST_WIDTH = 6


def add_price(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    orders: Sequence[Priced],
    net: str,
    rates: PlacedTable,
) -> str:
    """Fill the sheet of the price.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        inputs: Where the inputs stand.
        orders: The estimate's own order and the alternates'.
        net: Formula text of the net area.
        rates: What rates go by.

    Returns:
        The cell of its total, for a formula on any sheet.
    """
    sheet = sheet_of(book, "Price")
    display = Display(takeoff.job.output.display)
    width = max(LEAST_WIDTH, 2 + len(orders))
    for number, wide in enumerate(widths(width), 1):
        sheet.column_dimensions[get_column_letter(number)].width = wide
    page = Page(sheet, width)
    _head(page, takeoff)
    page.live(5, _offered(takeoff, net, display))
    page.note(6, _dated(order))
    row, total = write_price(page, 8, order, inputs, orders, rates)
    set_page(
        sheet,
        takeoff.job.job.name,
        display,
        last=f"{get_column_letter(width)}{row}",
        wide=False,
        header=None,
        one_page=True,
    )
    return f"'Price'!{total}"


def _head(page: Page, takeoff: Takeoff) -> None:
    about = takeoff.job.job
    texts = (
        (f"Price: {about.name or 'stone veneer'}", font(bold=True, size=16, color=ACCENT), 24),
        (about.company, font(bold=True), 16),
        (about.note, font(color="444444"), 16),
    )
    for row, (text, look, height) in enumerate(texts, 1):
        page.sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=page.width)
        cell: Any = page.sheet.cell(row, 1)
        put_text(cell, text)
        cell.font = look
        cell.alignment = Alignment(vertical="center", shrink_to_fit=True)
        page.sheet.row_dimensions[row].height = height


def _offered(takeoff: Takeoff, net: str, display: Display) -> str:
    """Formula text: the walls and their net area, and what is by its area alone."""
    number = len(takeoff.walls)
    by_area = math.fsum(one.area for one in takeoff.job.order.additions)
    more = ""
    if by_area:
        unit = display.area_unit
        alone = display.area(by_area * SQUARE_INCHES_PER_SQUARE_FOOT)
        more = f'&", and "&TEXT({alone!r},"#,##0.0")&" {unit} by area alone"'
    return (
        f'"Panelized stone veneer on {number} {"wall" if number == 1 else "walls"}, net '
        f'area "&TEXT({net},"#,##0.0")&" {display.area_unit}"{more}&"."'
    )


def _dated(order: Order) -> str:
    """What the prices are of."""
    file = f"Prices from {order.prices_from}" if order.prices_from else "No price file"
    dated = f"of {order.prices_date}" if order.prices_date else "without a date: confirm them"
    house = "For the house, not for the customer: it shows costs and markups."
    return f"{house} {file}{f' {dated}' if order.prices_from else ''}."
