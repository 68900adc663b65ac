"""The sheet of inputs: what a person may change about the order, and where each came from.

    for the whole job    how items are counted, breakage, scrap, wage, crew, hours of a day
    items                way of counting, allowances, override, package, weight, price, by whom
    labor                hours or money for one piece, cut, opening, stone, sq ft, ft
    lines of the bid     what comes after materials and labor, with two spare ones

The order, the bid and what is sent to the supplier are formulas over these cells.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.charges import KINDS
from dxf2veneer.config.job import Job
from dxf2veneer.config.tasks import STANDARD
from dxf2veneer.model import LabourLine, Order, OrderLine, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import (
    is_default,
    setting_origin_line,
)
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import INPUT_NUMBER, Column, Formula, Row, Value
from dxf2veneer.writers.workbook.input_cells import (
    allow_from_zero,
    allow_words,
    mark_input,
    merge_last,
)
from dxf2veneer.writers.workbook.input_items import (
    JOB_WIDE,
    NAMES,
    UNITS,
    item_columns,
    item_lines,
    item_row,
    mark_items,
    terms_of,
    weight_unit,
)
from dxf2veneer.writers.workbook.input_items import (
    WIDTHS as ITEM_WIDTHS,
)
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.summary_parts import WIDTHS

SPARE = 2
"""Empty rows for further lines of the bid."""


@dataclass(frozen=True)
class Inputs:
    """Where the inputs stand."""

    items: PlacedTable
    rows: Mapping[OrderLine, int]
    labour: PlacedTable
    charges: PlacedTable
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
    columns = item_columns(order.currency, weight_unit(takeoff))
    note = (
        "Tinted cells are yours to change; order, labor, bid and supplier's list follow. "
        "A row's own allowance or way of counting may be "
        "typed over the formula that takes the job's; by kind is what course plans of such "
        "walls took, and breakage. An empty price is a missing one: it "
        "leaves the bid without a total. To the right, on the screen only: where an item's price "
        "and package came from."
    )
    printed = columns[:-1]
    write_title(sheet, "Inputs", note, printed)
    wide = _job_wide(book, sheet, takeoff.job, order)
    lines, names = item_lines(order)
    row = wide.last + 2
    write_note(sheet, row, "Items", columns=len(columns), bold=True)
    listed = [item_row(line, names.get(line, ""), takeoff, order) for line in lines]
    items = place(sheet, row + 1, columns, listed, empty="nothing to order")
    mark_items(sheet, items, lines)
    labour = _labour(sheet, items.last + 2, takeoff.job, order, len(printed))
    charges = _charges(sheet, labour.last + 2, takeoff.job, order, len(printed))
    finish(
        sheet,
        takeoff,
        items,
        last_row=charges.last + 1,
        filtered=False,
        printed_to=printed[-1].key,
    )
    sheet.freeze_panes = None
    return Inputs(
        items,
        {line: n for n, line in enumerate(lines)},
        labour,
        charges,
        takeoff.job.output.display,
    )


# ------------------------------------------------------------ for the whole job


_SCRAP = ("Scrap, on what is counted by area", "Scrap, on what else is counted by area")
"""With a scrap of the job's own, and without: panels then take what course plans took."""


def _job_wide(book: Workbook, sheet: Worksheet, job: Job, order: Order) -> PlacedTable:
    columns = [
        Column("what", "For the whole job", ITEM_WIDTHS[0]),
        Column("value", "Value", ITEM_WIDTHS[1], INPUT_NUMBER),
        Column("unit", "Unit", ITEM_WIDTHS[2]),
        Column("origin", "Where it came from", ITEM_WIDTHS[3]),
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
            ("Least price of a job", job.bid.minimum, order.currency, "bid.minimum"),
            ("Round the price to a multiple of", job.bid.round_to, "", "bid.round_to"),
            ("Round the price to the nearest or up", job.bid.rounding, "", "bid.rounding"),
        )
    ]
    placed = place(sheet, HEADER, columns, rows)
    for at, name in enumerate(JOB_WIDE, placed.first):
        mark_input(sheet[f"B{at}"])
        book.defined_names[NAMES[name]] = DefinedName(
            NAMES[name], attr_text=f"'{sheet.title}'!$B${at}"
        )
    allow_words(sheet, f"B{placed.first}", "layout,area")
    allow_from_zero(sheet, f"B{placed.first + 1}:B{placed.last - 1}")
    allow_words(sheet, f"B{placed.last}", "nearest,up")
    merge_last(sheet, placed, len(WIDTHS))
    return placed


def _origin(job: Job, key: str) -> str:
    if not is_default(job, key):
        return setting_origin_line(job, key)
    if key == "labour.wage":
        return "none given: type one in, or the bid has no total"
    if key in ("bid.minimum", "bid.round_to"):
        return "none given"
    if key.partition(".")[2] in STANDARD:
        return "NOT ANSWERED: the price leaves this work out; 0 where it is not yours to do"
    return "default: our own starting point, your records are better"


# ------------------------------------------------- labor and lines of the bid


def _labour(sheet: Worksheet, row: int, job: Job, order: Order, width: int) -> PlacedTable:
    write_note(sheet, row, "Labor", columns=width, bold=True)
    columns = [
        Column("what", "Work", ITEM_WIDTHS[0]),
        Column("hours", "Hours each", ITEM_WIDTHS[1], INPUT_NUMBER),
        Column("unit", "For one", ITEM_WIDTHS[2]),
        Column("hand", "Quantity\noverride", ITEM_WIDTHS[3], INPUT_NUMBER),
        Column("rate", f"Money for\none {order.currency}".strip(), ITEM_WIDTHS[4], INPUT_NUMBER),
        Column("origin", "Where it came from", ITEM_WIDTHS[5]),
    ]
    rows = [_work(work, job) for work in order.labour]
    placed = place(sheet, row + 1, columns, rows)
    for at in range(placed.first, placed.last + 1):
        for letter in "BDE":
            mark_input(sheet[f"{letter}{at}"])
    for letter in "BDE":
        allow_from_zero(sheet, f"{letter}{placed.first}:{letter}{placed.last}")
    merge_last(sheet, placed, width)
    return placed


def _work(work: LabourLine, job: Job) -> Row:
    """The inputs of one kind of work. A day by hand is one of the whole crew, as it is now."""
    is_task = work.key.startswith("task ")
    hours: Value = None if work.hours_each is None else float(work.hours_each)
    named = {f"task {t.name}": t for t in job.labour.tasks}
    if work.unit == "day" and is_task and hours and named[work.key].hours is None:
        hours = Formula(f"{NAMES['crew']}*{NAMES['day']}")
    return {
        "what": say(work.what, job.output.display),
        "hours": hours,
        "unit": UNITS.get(work.unit, work.unit),
        "rate": None if work.rate is None else float(work.rate),
        "origin": _origin(job, "labour.tasks" if is_task else f"labour.{work.key}"),
    }


def _charges(sheet: Worksheet, row: int, job: Job, order: Order, width: int) -> PlacedTable:
    """The lines of the bid after materials and labor."""
    write_note(sheet, row, "Lines of the bid, one after the other", columns=width, bold=True)
    heads = (
        ("name", "Name"),
        ("value", "Value"),
        ("how", "Worked as"),
        ("per", "Rate for\neach of"),
        ("of", "Of which\nkinds"),
        ("least", "At least"),
        ("below", "Only while\nbelow"),
        ("kind", "Kind"),
        ("share", "Margins\nfrom here"),
        ("origin", "Where it came from"),
    )
    columns = [
        Column(key, title, wide, INPUT_NUMBER if key in _NUMBERS else "General")
        for (key, title), wide in zip(heads, ITEM_WIDTHS, strict=False)
    ]
    origin = setting_origin_line(job, "bid.lines")
    rows: list[Row] = [
        {
            "name": charge.name,
            "value": charge.value,
            "how": charge.how,
            "per": charge.per or "",
            "of": ", ".join(charge.of) or "all above",
            "least": charge.least,
            "below": charge.below,
            "kind": charge.kind,
            "origin": origin,
        }
        for charge in job.bid.lines
    ]
    spare = "spare row: name, value, kind; worked as amount, rate, percent or margin"
    empty: Row = {"how": "percent", "per": "", "of": "all above", "kind": "lump", "origin": spare}
    rows += [dict(empty) for _ in range(SPARE)]
    for n, charged in enumerate(rows):
        below = "" if n == len(rows) - 1 else f"+N(I{row + 3 + n})"
        charged["share"] = Formula(f'IF({{how}}="margin",N({{value}}){below},0)')
    placed = place(sheet, row + 1, columns, rows)
    for at, _ in enumerate(rows, placed.first):
        for letter in "ABCDEFGH":
            mark_input(sheet[f"{letter}{at}"])
        allow_words(sheet, f"C{at}", "amount,rate,percent,margin")
    allow_words(sheet, f"H{placed.first}:H{placed.last}", ",".join(KINDS))
    note = (
        "rate is for each of what the list below names; percent is of the cost of the kinds "
        "named, or of all above; margin is per cent of the price, and margins that stand "
        "together are of the same price."
    )
    write_note(sheet, placed.last + 1, note, columns=width)
    merge_last(sheet, placed, width)
    return placed


_NUMBERS = ("value", "least", "below", "share")
