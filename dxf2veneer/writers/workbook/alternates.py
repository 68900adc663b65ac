"""The sheet of the alternates: items and labor of each, by formulas over the inputs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import BidSum, Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import MONEY, Column, Formula, Row
from dxf2veneer.writers.workbook.input_items import UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.labor import work_formulas, work_inputs, write_labour_total
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import align_words, hide_total, line_columns, line_row
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.quantities import Quantities
from dxf2veneer.writers.workbook.subjects import Subject


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
    number: int = 0
    """0 for the bid's own, from 1 for alternates."""
    in_kilograms: bool = False
    """Whether the sheets' weights are kilograms."""


def add_alternates(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    subjects: Sequence[Subject],
    quantities: Sequence[Quantities],
) -> list[Priced]:
    """The items and the labor of every alternate, one under the other, by formulas over the
    inputs.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        inputs: Where the inputs stand.
        subjects: The bid's own order and the alternates.
        quantities: Where the quantities of each stand.

    Returns:
        Them, as the bid shows them beside itself.
    """
    sheet = sheet_of(book, "Alternates")
    columns = [
        *line_columns(order.currency, weight_unit(takeoff)),
        Column("pallets", "Pallets", 8, "#,##0", summed=True),
    ]
    note = (
        "Each alternate is counted as the bid is, on the walls that the sheet Walls says yes to; "
        "panels by layout are those of a layout of its own. One that adds walls stays as computed "
        "when walls are changed by hand. A quantity that is overridden on the "
        "sheet Inputs is so many times more or less here too. "
        "Prices, packages, allowances, hours and lines of the bid follow the sheet Inputs."
    )
    write_title(sheet, "Alternates", note, columns)
    made, row = [], HEADER
    for number, alternate in enumerate(order.alternates, 1):
        what = say(alternate.what, takeoff.job.output.display)
        write_note(sheet, row - 1, f"{alternate.name}: {what}", columns=len(columns), bold=True)
        writer = _Alternate(sheet, inputs, subjects[number], quantities[0], quantities[number])
        items = writer.items(row, columns)
        labour = writer.labour(items.last + 3, takeoff.job.output.display)
        walls = subjects[number].scope.walls if subjects[number].follows else None
        made.append(
            Priced(
                alternate.name,
                what,
                items,
                labour,
                alternate.order.bid,
                items.sum("pallets"),
                walls,
                number,
            )
        )
        row = labour.last + 5
    finish(sheet, takeoff, made[0].items, last_row=row - 4, filtered=False)
    return made


@dataclass(frozen=True)
class _Alternate:
    """One alternate on its sheet; an override of the bid's is as many times the quantity here."""

    sheet: Worksheet
    inputs: Inputs
    subject: Subject
    of_bid: Quantities
    own: Quantities

    def items(self, row: int, columns: Sequence[Column]) -> PlacedTable:
        """The table of its items."""
        rows = []
        for line in self.subject.lines:
            bid, own = (q.chosen(line, "measured", self.inputs) for q in (self.of_bid, self.own))
            measured = _overridden(self.inputs.of(line, "hand"), bid, own)
            row_of = line_row(line, self.inputs, self.own, Formula(measured))
            pallet = self.inputs.of(line, "pallet")
            stood = f"ROUNDUP(ROUND({{packages}}/{pallet},6),0)"
            stood += f"+{line.parted_pallets}" if line.parted_pallets else ""
            none = f'OR({{note}}="by others",N({pallet})=0)'
            rows.append({**row_of, "pallets": Formula(f'IF({none},"",{stood})')})
        items = place(self.sheet, row, columns, rows, empty="nothing to order", total=True)
        align_words(self.sheet, items, ("mode", "package", "price_of", "note"))
        hide_total(self.sheet, items)
        return items

    def labour(self, row: int, display: str) -> PlacedTable:
        """The table of its labor."""
        columns = [
            Column("what", "Work", 30),
            Column("quantity", "Quantity", 9, "#,##0.##"),
            Column("each", "Hours\neach", 11, "0.###"),
            Column("unit", "Unit", 9),
            Column("hours", "Hours", 8, MONEY, summed=True),
            Column("rate", "Money\nfor one", 10, "#,##0.00##"),
            Column("cost", "Cost", 11, MONEY),
        ]
        listed: list[Row] = []
        for n, work in enumerate(self.subject.labour):
            hand = self.inputs.labour.cell("hand", n)
            done = _overridden(hand, self.of_bid.work(work), self.own.work(work))
            listed.append(
                {
                    "what": say(work.what, display),
                    "quantity": Formula(done),
                    "unit": UNITS.get(work.unit, work.unit),
                    **work_inputs(self.inputs, n),
                    **work_formulas(),
                }
            )
        labour = place(self.sheet, row, columns, listed, total=True)
        write_labour_total(self.sheet, labour)
        return labour


def _overridden(hand: str, bid: str, own: str) -> str:
    """Formula text: an alternate's quantity, as many times more or less as the bid's is by hand."""
    return f'IF({hand}="",{own},IF({bid}=0,{own},{own}*{hand}/({bid})))'
