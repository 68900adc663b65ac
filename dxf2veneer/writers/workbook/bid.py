"""The bid: one page for the client.

company, job, dates to fill in
scope                what is veneered, how much of it
materials            item | packages
price                materials, labor, percentages, total | alternates beside it
included, excluded, assumptions, cautions, signatures
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from dxf2veneer.model import Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import (
    is_default,
)
from dxf2veneer.writers.words import file_name
from dxf2veneer.writers.workbook.alternates import Priced
from dxf2veneer.writers.workbook.cells import ACCENT, PlacedTable, font, put, put_text, sheet_of
from dxf2veneer.writers.workbook.columns import CAUTIONS_SHOWN, Display, Formula
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.page import set_page
from dxf2veneer.writers.workbook.price import Page, widths, write_heads, write_price

LEAST_WIDTH = 6
_NAMED = 8
"""Walls that the scope names; the others stand on a sheet of their own."""


# ------------------------------------------------------------------- alternates


# -------------------------------------------------------------------------- bid


def add_bid(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    inputs: Inputs,
    orders: Sequence[Priced],
    net: str,
) -> str:
    """Fill the bid.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        display: Units of the sheets.
        inputs: Where the inputs stand.
        orders: The bid's own order and the alternates'.
        net: Formula text of the net area.

    Returns:
        The cell of its total, for a formula on any sheet.
    """
    sheet = sheet_of(book, "Bid")
    width = max(LEAST_WIDTH, 2 + len(orders))
    for number, wide in enumerate(widths(width), 1):
        sheet.column_dimensions[get_column_letter(number)].width = wide
    page = Page(sheet, width)
    row = _head(page, takeoff, order)
    row = _scope(page, row + 2, takeoff, display, net)
    row = _materials(page, row + 2, order, orders[0].items, display.name)
    row, total = write_price(page, row + 2, order, inputs, orders)
    row = _terms(page, row + 2, takeoff, order)
    set_page(
        sheet,
        takeoff.job.job.name,
        display,
        last=f"{get_column_letter(width)}{row}",
        wide=False,
        header=None,
        one_page=True,
    )
    return f"'Bid'!{total}"


def _head(page: Page, takeoff: Takeoff, order: Order) -> int:
    about = takeoff.job.job
    texts = (
        (
            about.company or "Company: ____________________",
            font(bold=True, size=16, color=ACCENT),
            24,
        ),
        (f"Bid: {about.name or 'stone veneer'}", font(bold=True, size=13), 20),
        (about.note, font(color="444444"), 16),
    )
    for row, (text, look, height) in enumerate(texts, 1):
        page.sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=page.width)
        cell: Any = page.sheet.cell(row, 1)
        put_text(cell, text)
        cell.font = look
        cell.alignment = Alignment(vertical="center", shrink_to_fit=True)
        page.sheet.row_dimensions[row].height = height
    page.note(
        4,
        "For: ______________________________     Date: ________________     Valid until: "
        "________________",
    )
    page.sheet.row_dimensions[4].height = 22
    return 4


def _scope(page: Page, row: int, takeoff: Takeoff, display: Display, net: str) -> int:
    page.heading(row, "Scope")
    counts = Counter(w.wall.name or w.wall.id for w in takeoff.walls)
    told = [f"{name} ({n} walls)" if n > 1 else name for name, n in counts.items()]
    beyond = len(told) - _NAMED
    more = f", and others: the sheet Walls lists all {len(takeoff.walls)} walls"
    names = ", ".join(told[:_NAMED]) + (more if beyond > 0 else "")
    number = len(takeoff.walls)
    page.live(
        row + 1,
        f'"Panelized stone veneer on {number} {"wall" if number == 1 else "walls"}, net '
        f'area "&TEXT({net},"#,##0.0")&" {display.area_unit}, with the items below."',
    )
    page.note(row + 2, names or "no walls")
    return row + 2


def _materials(page: Page, row: int, order: Order, table: PlacedTable, display: str) -> int:
    """Items side by side in two columns of the page; the last row used."""
    half = math.ceil(len(order.lines) / 2)
    write_heads(page, row, ("Materials", "Packages", "", "Materials", "Packages", ""))
    for n, line in enumerate(order.lines):
        column, at = (1, row + 1 + n) if n < half else (4, row + 1 + n - half)
        cells: list[Any] = [page.sheet.cell(at, column + k) for k in range(3)]
        put(cells[0], say(line.item, display))
        cells[0].alignment = Alignment(horizontal="left", shrink_to_fit=True, indent=1)
        put(
            cells[1],
            Formula(
                f'IF({table.cell("note", n)}="by others","by others",{table.cell("packages", n)})'
            ),
            "#,##0",
        )
        put(cells[2], Formula(table.cell("package", n)))
        cells[2].alignment = Alignment(horizontal="left", indent=1)
        cells[1].alignment = Alignment(horizontal="right")
        cells[0].font = cells[1].font = cells[2].font = font(size=10)
    return row + half


def _terms(page: Page, row: int, takeoff: Takeoff, order: Order) -> int:
    """Inclusions, exclusions, assumptions, cautions, signatures; the last row used."""
    blocks = _blocks(takeoff, order)
    for title, texts in blocks:
        page.heading(row, title)
        for text in texts:
            row += 1
            page.note(row, text)
        page.sheet.row_dimensions[row + 1].height = 6
        row += 2
    page.note(
        row,
        "Offered by: ________________________________     Accepted by: "
        "________________________________     Date: ______________",
    )
    page.sheet.row_dimensions[row].height = 30
    return row


def _blocks(takeoff: Takeoff, order: Order) -> Sequence[tuple[str, Sequence[str]]]:
    """Headings and the paragraphs under each."""
    job, display = takeoff.job, takeoff.job.output.display
    standing = "standing text: adapt it in the job file"
    included = ("Supply of the items listed, and their installation as counted", *job.bid.include)
    others = (f"{say(line.item, display)} (by others)" for line in order.lines if line.by_others)
    return (
        ("Included", ["; ".join(included)]),
        (
            f"Not included ({standing})" if is_default(job, "bid.exclude") else "Not included",
            ["; ".join((*job.bid.exclude, *others))],
        ),
        ("Assumptions", _assumed(takeoff, order)),
        ("Cautions", [say(caution, display) for caution in takeoff.cautions[:CAUTIONS_SHOWN]]),
    )


def _assumed(takeoff: Takeoff, order: Order) -> Sequence[str]:
    plan = (
        "Panels were laid out piece by piece on the drawn walls"
        if takeoff.plan
        else "Panels are estimated by area and run; no panel was laid out"
    )
    dated = (
        f" Prices of {order.prices_date}."
        if order.prices_date
        else " Prices carry no date: confirm them before use."
    )
    files = ", ".join(dict.fromkeys(file_name(d) for d in takeoff.drawings[:4]))
    return [
        f"Measured from {files or 'the drawings'} as drawn; sizes on site decide. {plan}. "
        f"Panel: {takeoff.product.product.name or 'as the product file says'}.{dated}"
    ]
