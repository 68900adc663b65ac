"""The bid: one page for the client, and the sheet of the alternates behind it.

company, job, dates to fill in
scope                what is veneered, how much of it
materials            item | packages
price                materials, labour, percentages, total | alternates beside it
included, excluded, assumptions, cautions, signatures
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Alternate, Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.origins import is_default
from dxf2veneer.writers.words import file_name
from dxf2veneer.writers.workbook.cells import (
    ACCENT,
    PlacedTable,
    font,
    place,
    put,
    put_text,
    set_page,
    sheet_of,
    style_header,
    style_total,
    write_note,
    write_title,
)
from dxf2veneer.writers.workbook.columns import Column, Display, Formula, Value
from dxf2veneer.writers.workbook.inputs import NAMES, Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import (
    align_words,
    hide_total,
    labour_sum,
    line_columns,
    line_row,
    missing,
    work_formulas,
    write_labour_total,
)

_MONEY = "#,##0.00"
_WIDTHS = (30.0, 11.0, 15.0, 29.0, 13.0, 13.0)
_FIRST = 3
LEAST_WIDTH = 6
CAUTIONS = 3


@dataclass(frozen=True)
class Priced:
    """An order in the workbook: its name, its tables of items and of labour."""

    name: str
    what: str
    items: PlacedTable
    labour: PlacedTable


# ------------------------------------------------------------------- alternates


def add_alternates(book: Workbook, takeoff: Takeoff, order: Order, inputs: Inputs) -> list[Priced]:
    """The items and the labour of every alternate, one under the other, by formulas over the
    inputs."""
    sheet = sheet_of(book, "Alternates")
    columns = line_columns(order.currency)
    note = (
        "Each alternate was laid out and counted anew; its quantities are numbers of that "
        "layout and do not follow the sheets of the walls. "
        "Prices, packages, allowances, hours and percentages follow the sheet Inputs."
    )
    write_title(sheet, "Alternates", note, columns)
    made, row = [], HEADER
    for alternate in order.alternates:
        write_note(
            sheet,
            row - 1,
            f"{alternate.name}: {say(alternate.what, takeoff.job.output.display)}",
            columns=len(columns),
            bold=True,
        )
        priced = _alternate(sheet, row, alternate, inputs, columns, takeoff.job.output.display)
        made.append(priced)
        row = priced.labour.last + 5
    finish(sheet, takeoff, made[0].items, last_row=row - 4, filtered=False)
    return made


def _alternate(
    sheet: Worksheet,
    row: int,
    alternate: Alternate,
    inputs: Inputs,
    columns: Sequence[Column],
    display: str,
) -> Priced:
    order = alternate.order
    rows = []
    for line in order.lines:
        amounts = {way.mode: way.measured for way in line.ways}
        layout, area = (amounts.get(mode, line.chosen.measured) for mode in ("layout", "area"))
        rows.append(line_row(line, inputs, Formula(f'IF({{mode}}="area",{area!r},{layout!r})')))
    items = place(sheet, row, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, items, ("mode", "package", "price_of", "note"))
    hide_total(sheet, items)
    work = [
        Column("what", "Work", 30),
        Column("quantity", "Quantity", 9, "#,##0.##"),
        Column("each", "Hours\neach", 11, "0.###"),
        Column("unit", "Unit", 9),
        Column("hours", "Hours", 8, _MONEY, summed=True),
        Column("cost", "Cost", 11, _MONEY),
    ]
    listed: list[dict[str, Value]] = [
        {
            "what": say(w.what, display),
            "quantity": w.quantity,
            "unit": w.unit,
            "each": Formula(inputs.labour.cell("hours", n)),
            **work_formulas(),
        }
        for n, w in enumerate(order.labour)
    ]
    labour = place(sheet, items.last + 3, work, listed, total=True)
    write_labour_total(sheet, labour)
    return Priced(alternate.name, say(alternate.what, display), items, labour)


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
    """Fill the bid; the cell of its total, for a formula on any sheet. ``orders`` are the bid's own
    and the alternates."""
    sheet = sheet_of(book, "Bid")
    width = max(LEAST_WIDTH, 2 + len(orders))
    for number, wide in enumerate(_widths(width), 1):
        sheet.column_dimensions[get_column_letter(number)].width = wide
    page = _Page(sheet, width)
    row = _head(page, takeoff, order)
    row = _scope(page, row + 2, takeoff, display, net)
    row = _materials(page, row + 2, order, orders[0].items)
    row, total = _price(page, row + 2, order, inputs, orders)
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


def _widths(width: int) -> tuple[float, ...]:
    """Widths of the page's columns; further ones are those of further alternates."""
    return (*_WIDTHS, *[_WIDTHS[-1]] * (width - len(_WIDTHS)))


@dataclass(frozen=True)
class _Page:
    """The sheet being filled and how many columns it has."""

    sheet: Worksheet
    width: int

    def heading(self, row: int, text: str) -> None:
        write_note(self.sheet, row, text, columns=self.width, bold=True)

    def note(self, row: int, text: str, *, bold: bool = False) -> None:
        room = sum(_widths(self.width)) * 1.15
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


def _head(page: _Page, takeoff: Takeoff, order: Order) -> int:
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


def _scope(page: _Page, row: int, takeoff: Takeoff, display: Display, net: str) -> int:
    page.heading(row, "Scope")
    names = ", ".join(w.wall.name or w.wall.id for w in takeoff.walls[:12]) + (
        " and others" if len(takeoff.walls) > 12 else ""
    )
    number = len(takeoff.walls)
    page.live(
        row + 1,
        f'"Panelized stone veneer on {number} {"wall" if number == 1 else "walls"}, net '
        f'area "&TEXT({net},"#,##0.0")&" {display.area_unit}, with the items below."',
    )
    page.note(row + 2, names or "no walls")
    return row + 2


def _materials(page: _Page, row: int, order: Order, table: PlacedTable) -> int:
    """Items side by side in two columns of the page; the last row used."""
    half = math.ceil(len(order.lines) / 2)
    _heads(page, row, ("Materials", "Packages", "", "Materials", "Packages", ""))
    for n, line in enumerate(order.lines):
        column, at = (1, row + 1 + n) if n < half else (4, row + 1 + n - half)
        cells: list[Any] = [page.sheet.cell(at, column + k) for k in range(3)]
        put(cells[0], line.item)
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


def _heads(page: _Page, row: int, texts: Sequence[str]) -> None:
    for number in range(1, page.width + 1):
        text = texts[number - 1] if number <= len(texts) else ""
        cell: Any = page.sheet.cell(row, number)
        put_text(cell, text)
        style_header(cell, "right" if text in ("Packages", "%") else "left")


def _price(
    page: _Page, row: int, order: Order, inputs: Inputs, orders: Sequence[Priced]
) -> tuple[int, str]:
    """The price of the bid and of every alternate, side by side; the last row used and the cell of
    the total."""
    sheet = page.sheet
    shares = range(inputs.shares.first, inputs.shares.last + 1)
    _heads(
        page,
        row,
        (
            f"Price{f', {order.currency}' if order.currency else ''}",
            "%",
            "This bid",
            *(o.name for o in orders[1:]),
        ),
    )
    for number in range(_FIRST, _FIRST + len(orders)):
        sheet.cell(row, number).alignment = Alignment(
            horizontal="right", vertical="center", wrap_text=True
        )
    sheet.row_dimensions[row].height = (
        15
        * max(
            math.ceil(len(o.name) / wide)
            for o, wide in zip(orders, _widths(page.width)[2:], strict=False)
        )
        + 4
    )
    for down, line in enumerate(order.bid.lines[:2], 1):  # materials, labor
        _label(sheet, row + down, line.name)
    for n, at in enumerate(shares):
        name = f"'Inputs'!A{at}"
        put(_cell(sheet, row + 3 + n, 1), Formula(f'IF({name}="","",{name})'))
        put(
            _cell(sheet, row + 3 + n, 2),
            Formula(f"IF('Inputs'!B{at}=\"\",\"\",'Inputs'!B{at})"),
            "#,##0.##",
        )
        sheet.cell(row + 3 + n, 1).alignment = Alignment(horizontal="left", indent=1)
        if at > inputs.shares.last - 2:
            sheet.row_dimensions[row + 3 + n].height = 5
    last = row + 3 + len(shares)
    _label(sheet, last, "Total")
    _label(sheet, last + 1, "Compared with this bid")
    for number, priced in enumerate(orders, _FIRST):
        _amounts(sheet, row, number, priced, shares)
        letter = get_column_letter(number)
        if number > _FIRST:
            put(
                _cell(sheet, last + 1, number),
                Formula(
                    f'IF(OR({letter}{last}="no total",C{last}="no '
                    f'total"),"",ROUND({letter}{last}-C{last},2))'
                ),
                "+#,##0.00;-#,##0.00;0.00",
            )
    for number in range(1, page.width + 1):
        style_total(_cell(sheet, last, number))
    return _said_of_price(page, last + 2, orders), f"C{last}"


def _label(sheet: Worksheet, row: int, text: str) -> None:
    put(_cell(sheet, row, 1), text)
    put(_cell(sheet, row, 2), None)


def _cell(sheet: Worksheet, row: int, number: int) -> Any:
    return sheet.cell(row, number)


def _amounts(sheet: Worksheet, row: int, number: int, priced: Priced, shares: range) -> None:
    """One column of the price: materials, labour, percentages of what they say, total."""
    letter = get_column_letter(number)
    materials, work = f"{letter}{row + 1}", f"{letter}{row + 2}"
    put(
        _cell(sheet, row + 1, number),
        Formula(f'IF({missing(priced.items)}>0,"",ROUND({priced.items.sum("cost")},2))'),
        _MONEY,
    )
    put(_cell(sheet, row + 2, number), Formula(labour_sum(priced.labour)), _MONEY)
    for n, at in enumerate(shares):
        here = row + 3 + n
        percent, on = f"'Inputs'!B{at}", f"'Inputs'!C{at}"
        running, direct = f"SUM({letter}{row + 1}:{letter}{here - 1})", f"{materials}+{work}"
        base = _chosen(on, materials, work, f"IF({on}=\"direct\",{direct},{running})")
        both = f'OR({materials}="",{work}="")'
        lacking = _chosen(on, f'{materials}=""', f'{work}=""', both)
        put(
            _cell(sheet, here, number),
            Formula(f'IF({percent}="","",IF({lacking},"",ROUND(ROUND({base}*{percent}/100,6),2)))'),
            _MONEY,
        )
    last = row + 3 + len(shares)
    put(
        _cell(sheet, last, number),
        Formula(
            f'IF(OR({materials}="",{work}=""),"no '
            f'total",ROUND(SUM({letter}{row + 1}:{letter}{last - 1}),2))'
        ),
        _MONEY,
    )


def _chosen(on: str, materials: str, work: str, other: str) -> str:
    """Formula text: one of three by what a percentage is taken of."""
    return f'IF({on}="materials",{materials},IF({on}="labour",{work},{other}))'


def _said_of_price(page: _Page, row: int, orders: Sequence[Priced]) -> int:
    """What is missing, and what the alternates are; the last row used."""
    items = orders[0].items
    count = missing(items)
    page.live(
        row,
        f'IF({count}>0,"NO TOTAL: items without a price: "&{count}&", see the sheet Order. '
        f'","")&IF({NAMES["wage"]}="","NO TOTAL: no wage is given on the sheet '
        'Inputs.","")',
    )
    for priced in orders[1:]:
        row += 1
        page.note(row, f"{priced.name}: {priced.what}")
    return row


def _terms(page: _Page, row: int, takeoff: Takeoff, order: Order) -> int:
    """Inclusions, exclusions, assumptions, cautions, signatures; the last row used."""
    job = takeoff.job
    others = [line.item for line in order.lines if line.by_others]
    standing = (
        " (standing text: adapt it in the job file)"
        if is_default(job.source_of("bid.exclude"))
        else ""
    )
    blocks = (
        (
            "Included",
            [
                "; ".join(
                    (
                        "Supply of the items listed, and their installation as counted",
                        *job.bid.include,
                    )
                )
            ],
        ),
        (
            f"Not included{standing}",
            ["; ".join((*job.bid.exclude, *(f"{item} (by others)" for item in others)))],
        ),
        ("Assumptions", list(_assumed(takeoff, order))),
        ("Cautions", [say(caution, job.output.display) for caution in takeoff.cautions[:CAUTIONS]]),
    )
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
