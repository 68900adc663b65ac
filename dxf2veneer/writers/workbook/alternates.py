"""The sheet of the alternates: items and labor of each, by formulas over the inputs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Alternate, BidSum, Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import MONEY, Column, Formula, Row
from dxf2veneer.writers.workbook.input_items import UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.labor import work_formulas, work_inputs, write_labour_total
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import align_words, hide_total, line_columns, line_row
from dxf2veneer.writers.workbook.page import write_note, write_title


@dataclass(frozen=True)
class Priced:
    """An order in the workbook: its name, its tables of items and of labor."""

    name: str
    what: str
    items: PlacedTable
    labour: PlacedTable
    bid: BidSum
    pallets: str
    """Formula text: pallets of all deliveries."""
    walls: PlacedTable | None = None
    """Where its walls stand; None where no sheet has them."""
    in_kilograms: bool = False
    """Whether the sheets' weights are kilograms."""


def add_alternates(book: Workbook, takeoff: Takeoff, order: Order, inputs: Inputs) -> list[Priced]:
    """The items and the labor of every alternate, one under the other, by formulas over the
    inputs.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        inputs: Where the inputs stand.

    Returns:
        Them, as the bid shows them beside itself.
    """
    sheet = sheet_of(book, "Alternates")
    columns = [
        *line_columns(order.currency, weight_unit(takeoff)),
        Column("pallets", "Pallets", 8, "#,##0", summed=True),
    ]
    note = (
        "Each alternate was laid out and counted anew; its quantities are numbers of that "
        "layout and do not follow the sheets of the walls. "
        "Prices, packages, allowances, hours and lines of the bid follow the sheet Inputs."
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
        row_of = line_row(line, inputs, Formula(f'IF({{mode}}="area",{area!r},{layout!r})'))
        pallet = inputs.of(line, "pallet")
        stood = f"ROUNDUP(ROUND({{packages}}/{pallet},6),0)"
        stood += f"+{line.parted_pallets}" if line.parted_pallets else ""
        none = f'OR({{note}}="by others",N({pallet})=0)'
        rows.append({**row_of, "pallets": Formula(f'IF({none},"",{stood})')})
    items = place(sheet, row, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, items, ("mode", "package", "price_of", "note"))
    hide_total(sheet, items)
    work = [
        Column("what", "Work", 30),
        Column("quantity", "Quantity", 9, "#,##0.##"),
        Column("each", "Hours\neach", 11, "0.###"),
        Column("unit", "Unit", 9),
        Column("hours", "Hours", 8, MONEY, summed=True),
        Column("rate", "Money\nfor one", 10, "#,##0.00##"),
        Column("cost", "Cost", 11, MONEY),
    ]
    listed: list[Row] = [
        {
            "what": say(w.what, display),
            "quantity": w.quantity,
            "unit": UNITS.get(w.unit, w.unit),
            **work_inputs(inputs, n),
            **work_formulas(),
        }
        for n, w in enumerate(order.labour)
    ]
    labour = place(sheet, items.last + 3, work, listed, total=True)
    write_labour_total(sheet, labour)
    what = say(alternate.what, display)
    return Priced(alternate.name, what, items, labour, order.bid, items.sum("pallets"))
