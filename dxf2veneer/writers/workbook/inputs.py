"""The sheet of inputs: what a person may change about the order, and where each came from.

    for the whole job    how items are counted, breakage, scrap, wage, crew, hours of a day
    items                way of counting, allowances, override, package, weight, price, by whom
    labor                hours for one piece, cut, opening or stone
    percentages          the lines of the bid after materials and labor, with two spare ones

The order, the bid and what is sent to the supplier are formulas over these cells.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.job import Job
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import (
    is_default,
    setting_origin_line,
)
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import INPUT_NUMBER, Column, Row
from dxf2veneer.writers.workbook.input_cells import (
    allow_from_zero,
    allow_words,
    mark_input,
    merge_last,
)
from dxf2veneer.writers.workbook.input_items import (
    JOB_WIDE,
    NAMES,
    item_columns,
    item_lines,
    item_row,
    mark_items,
    terms_of,
)
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.summary_parts import WIDTHS

SPARE = 2
"""Empty rows for further percentages."""


@dataclass(frozen=True)
class Inputs:
    """Where the inputs stand."""

    items: PlacedTable
    rows: Mapping[OrderLine, int]
    labour: PlacedTable
    shares: PlacedTable
    display: str
    """Units of the English lines."""

    def of(self, line: OrderLine, column: str) -> str:
        """The cell of an item's input, for a formula on any sheet."""
        return self.items.cell(column, self.rows[terms_of(line)])


def add_inputs(book: Workbook, takeoff: Takeoff, order: Order) -> Inputs:
    """Fill the sheet of inputs.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.

    Returns:
        Where the inputs stand.
    """
    sheet = sheet_of(book, "Inputs")
    columns = item_columns(order.currency)
    note = (
        "Tinted cells are yours to change; order, labor, bid and supplier's list follow. "
        "A row's own allowance or way of counting may be "
        "typed over the formula that takes the job's; by kind is what course plans of such "
        "walls took, and breakage. An empty price is a missing one: it "
        "leaves the bid without a total."
    )
    write_title(sheet, "Inputs", note, columns)
    wide = _job_wide(book, sheet, takeoff.job, order)
    lines, names = item_lines(order)
    row = wide.last + 2
    write_note(sheet, row, "Items", columns=len(columns), bold=True)
    listed = [item_row(line, names.get(line, ""), takeoff, order) for line in lines]
    items = place(sheet, row + 1, columns, listed, empty="nothing to order")
    mark_items(sheet, items, lines)
    labour = _labour(sheet, items.last + 2, takeoff.job, order, len(columns))
    shares = _shares(sheet, labour.last + 2, takeoff.job, len(columns))
    finish(sheet, takeoff, items, last_row=shares.last, filtered=False)
    sheet.freeze_panes = None
    return Inputs(
        items, {line: n for n, line in enumerate(lines)}, labour, shares, takeoff.job.output.display
    )


# ------------------------------------------------------------ for the whole job


_SCRAP = ("Scrap, on what is counted by area", "Scrap, on what else is counted by area")
"""With a scrap of the job's own, and without: panels then take what course plans took."""


def _job_wide(book: Workbook, sheet: Worksheet, job: Job, order: Order) -> PlacedTable:
    columns = [
        Column("what", "For the whole job", WIDTHS[0]),
        Column("value", "Value", WIDTHS[1], INPUT_NUMBER),
        Column("unit", "Unit", WIDTHS[2]),
        Column("origin", "Where it came from", WIDTHS[3]),
    ]
    o, work = job.order, job.labour
    wage = None if order.wage is None else float(order.wage)
    rows: list[Row] = [
        {"what": what, "value": value, "unit": unit, "origin": _origin(job, key)}
        for what, value, unit, key in (
            ("Counted by layout or by area", o.allowance, "", "order.allowance"),
            ("Breakage, on what is counted by layout", o.breakage, "%", "order.breakage"),
            (_SCRAP[o.scrap is None], o.other_scrap, "%", "order.scrap"),
            ("Wage per hour", wage, order.currency, "labour.wage"),
            ("Crew size", work.crew, "people", "labour.crew"),
            ("Hours in a working day", work.day, "h", "labour.day"),
        )
    ]
    placed = place(sheet, HEADER, columns, rows)
    for at, name in enumerate(JOB_WIDE, placed.first):
        mark_input(sheet[f"B{at}"])
        book.defined_names[NAMES[name]] = DefinedName(
            NAMES[name], attr_text=f"'{sheet.title}'!$B${at}"
        )
    allow_words(sheet, f"B{placed.first}", "layout,area")
    allow_from_zero(sheet, f"B{placed.first + 1}:B{placed.last}")
    merge_last(sheet, placed, len(WIDTHS))
    return placed


def _origin(job: Job, key: str) -> str:
    if not is_default(job, key):
        return setting_origin_line(job, key)
    return (
        "none given: type one in, or the bid has no total"
        if key == "labour.wage"
        else "default: our own starting point, your records are better"
    )


# ----------------------------------------------------------------------- items


# -------------------------------------------------------- labor and percentages


def _labour(sheet: Worksheet, row: int, job: Job, order: Order, width: int) -> PlacedTable:
    write_note(sheet, row, "Labor", columns=width, bold=True)
    columns = [
        Column("what", "Work", WIDTHS[0]),
        Column("hours", "Hours each", WIDTHS[1], INPUT_NUMBER),
        Column("unit", "For one", WIDTHS[2]),
        Column("hand", "Quantity\noverride", WIDTHS[3], INPUT_NUMBER),
        Column("origin", "Where it came from", WIDTHS[4]),
    ]
    rows: list[Row] = [
        {
            "what": say(work.what, job.output.display),
            "hours": float(work.hours_each),
            "unit": work.unit,
            "origin": _origin(job, f"labour.{work.key}"),
        }
        for work in order.labour
    ]
    placed = place(sheet, row + 1, columns, rows)
    for at in range(placed.first, placed.last + 1):
        mark_input(sheet[f"B{at}"])
        mark_input(sheet[f"D{at}"])
    for letter in "BD":
        allow_from_zero(sheet, f"{letter}{placed.first}:{letter}{placed.last}")
    merge_last(sheet, placed, width)
    return placed


def _shares(sheet: Worksheet, row: int, job: Job, width: int) -> PlacedTable:
    write_note(sheet, row, "Percentages of the bid, one after the other", columns=width, bold=True)
    columns = [
        Column("name", "Name", WIDTHS[0]),
        Column("percent", "Percent", WIDTHS[1], INPUT_NUMBER),
        Column("on", "Of", WIDTHS[2]),
        Column("origin", "Of what it is taken, and where it came from", WIDTHS[3]),
    ]
    said = "running: the total so far; direct: materials and labor; or one of the two; "
    rows: list[Row] = [
        {
            "name": s.name,
            "percent": s.percent,
            "on": s.on,
            "origin": said + _origin(job, "bid.percentages"),
        }
        for s in job.bid.percentages
    ]
    rows += [
        {"on": "running", "origin": "spare row: give it a name and a percentage"}
        for _ in range(SPARE)
    ]
    placed = place(sheet, row + 1, columns, rows)
    for at in range(placed.first, placed.last + 1):
        for letter in "ABC":
            mark_input(sheet[f"{letter}{at}"])
    allow_words(sheet, f"C{placed.first}:C{placed.last}", "running,direct,materials,labour")
    merge_last(sheet, placed, width)
    return placed


# ------------------------------------------------------------------------ looks
