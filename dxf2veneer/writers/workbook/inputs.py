"""The sheet of inputs: everything about the order that a person may change, each with where it came
from.

    for the whole job    how items are counted, breakage, scrap, wage, crew, hours of a day
    items                one row each: way, allowances, quantity override, package, weight, price,
    by whom labour               hours for one piece, cut, opening or stone percentages          the
    lines of the bid after materials and labour, with two spare ones

The order, the bid and what is sent to the supplier are formulas over these cells.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import PatternFill
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.job import Job
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.textio.escaping import without_folder
from dxf2veneer.wording import origin_line, say
from dxf2veneer.wording.origins import is_default
from dxf2veneer.writers.workbook.cells import (
    PlacedTable,
    font,
    place,
    sheet_of,
    widen,
    write_note,
    write_title,
)
from dxf2veneer.writers.workbook.columns import Column, Formula, Value
from dxf2veneer.writers.workbook.measures import HEADER, finish

Row = dict[str, Value]
UNITS = {"each": "each", "ft": "ft", "sqft": "sq ft"}
OTHERS = "others"
SPARE = 2
"""Empty rows for further percentages."""
_INPUT = PatternFill("solid", fgColor="FFF6D6")
_WIDE = ("counting", "breakage", "scrap", "wage", "crew", "day")
NAMES = dict(
    zip(
        _WIDE,
        (
            "Counted_by",
            "Breakage_percent",
            "Scrap_percent",
            "Hourly_wage",
            "Crew_size",
            "Hours_of_a_day",
        ),
        strict=True,
    )
)
"""Names that the inputs for the whole job have in formulas."""
WIDTHS = (34, 12, 11, 11, 13, 8, 11, 11, 11, 10, 11, 11, 11, 60)
_MONEY, _NUMBER = "#,##0.00", "#,##0.####"


@dataclass(frozen=True)
class Inputs:
    """Where the inputs stand."""

    items: PlacedTable
    rows: Mapping[OrderLine, int]
    labour: PlacedTable
    shares: PlacedTable

    def of(self, line: OrderLine, column: str) -> str:
        """The cell of an item's input, for a formula on any sheet."""
        return self.items.cell(column, self.rows[_terms(line)])


def add_inputs(book: Workbook, takeoff: Takeoff, order: Order) -> Inputs:
    """Fill the sheet of inputs."""
    sheet = sheet_of(book, "Inputs")
    columns = _item_columns(order.currency)
    note = (
        "Tinted cells are yours to change; order, labour, bid and supplier's list follow. "
        "A row's own allowance or way of counting may be "
        "typed over the formula that takes the job's. An empty price is a missing one: it "
        "leaves the bid without a total."
    )
    write_title(sheet, "Inputs", note, columns)
    wide = _job_wide(book, sheet, takeoff.job, order)
    lines, names = _lines(order)
    row = wide.last + 2
    write_note(sheet, row, "Items", columns=len(columns), bold=True)
    listed = [_item_row(line, names.get(line, ""), takeoff, order) for line in lines]
    items = place(sheet, row + 1, columns, listed, empty="nothing to order")
    _mark_items(sheet, items, lines)
    labour = _labour(sheet, items.last + 2, takeoff.job, order, len(columns))
    shares = _shares(sheet, labour.last + 2, takeoff.job, len(columns))
    finish(sheet, takeoff, items, last_row=shares.last, filtered=False)
    sheet.freeze_panes = None
    return Inputs(items, {line: n for n, line in enumerate(lines)}, labour, shares)


def _terms(line: OrderLine) -> OrderLine:
    """What an item is sold in and for how much: the line without its quantities."""
    return OrderLine(
        line.key,
        line.item,
        line.unit,
        line.mode,
        (),
        line.package,
        line.per_package,
        line.price,
        line.price_per,
        line.package_weight_lb,
        line.per_pallet,
        line.by_others,
    )


def _lines(order: Order) -> tuple[list[OrderLine], dict[OrderLine, str]]:
    """The terms of every item of the bid and, with its name, of an alternate that sells it in
    another way."""
    lines = list(dict.fromkeys(_terms(line) for line in order.lines))
    names: dict[OrderLine, str] = {}
    for alternate in order.alternates:
        for line in map(_terms, alternate.order.lines):
            if line not in lines:
                lines.append(line)
                names[line] = alternate.name
    return lines, names


# ------------------------------------------------------------ for the whole job


def _job_wide(book: Workbook, sheet: Worksheet, job: Job, order: Order) -> PlacedTable:
    columns = [
        Column("what", "For the whole job", WIDTHS[0]),
        Column("value", "Value", WIDTHS[1], _NUMBER),
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
            ("Scrap, on what is counted by area", o.scrap, "%", "order.scrap"),
            ("Wage per hour", wage, order.currency, "labour.wage"),
            ("Crew size", work.crew, "people", "labour.crew"),
            ("Hours in a working day", work.day, "h", "labour.day"),
        )
    ]
    placed = place(sheet, HEADER, columns, rows)
    for at, name in enumerate(_WIDE, placed.first):
        _mark(sheet[f"B{at}"])
        book.defined_names[NAMES[name]] = DefinedName(
            NAMES[name], attr_text=f"'{sheet.title}'!$B${at}"
        )
    _choose(sheet, f"B{placed.first}", "layout,area")
    _from_zero(sheet, f"B{placed.first + 1}:B{placed.last}")
    _merge_last(sheet, placed, len(WIDTHS))
    return placed


def _origin(job: Job, key: str) -> str:
    found = job.source_of(key)
    if not is_default(found):
        return origin_line(found)
    return (
        "none given: type one in, or the bid has no total"
        if key == "labour.wage"
        else "default: our own starting point, your records are better"
    )


# ----------------------------------------------------------------------- items


def _item_columns(currency: str) -> list[Column]:
    money = f"\n{currency}" if currency else ""
    heads = (
        ("item", "Item", "General"),
        ("mode", "Counted by", "General"),
        ("layout", "Allowance\nby layout %", _NUMBER),
        ("area", "Allowance\nby area %", _NUMBER),
        ("hand", "Quantity\noverride", _NUMBER),
        ("unit", "Unit", "General"),
        ("package", "Sold in", "General"),
        ("per", "Holds", _NUMBER),
        ("weight", "Weight of a\npackage, lb", _NUMBER),
        ("pallet", "Packages\non a pallet", _NUMBER),
        ("price", f"Price{money}", "#,##0.00##"),
        ("price_of", "Price of a", "General"),
        ("by", "Supplied by", "General"),
        ("origin", "Where price and package came from", "General"),
    )
    return [
        Column(key, title, width, form)
        for (key, title, form), width in zip(heads, WIDTHS, strict=True)
    ]


def _item_row(line: OrderLine, alternate: str, takeoff: Takeoff, order: Order) -> Row:
    job = takeoff.job
    modes = _modes(line, order)
    own = next((a.mode for a in job.order.items if a.item == _item(line) and a.mode), None)
    follows = len(modes) == 2 and own is None
    return {
        "item": f"{line.item} ({alternate})" if alternate else line.item,
        "mode": Formula(NAMES["counting"]) if follows else line.mode,
        "layout": _allowance(line, "layout", job) if "layout" in modes else None,
        "area": _allowance(line, "area", job) if "area" in modes else None,
        "unit": UNITS[line.unit],
        "package": line.package,
        "per": line.per_package,
        "weight": line.package_weight_lb,
        "pallet": line.per_pallet,
        "price": None if line.price is None else float(line.price),
        "price_of": line.price_per,
        "by": OTHERS if line.by_others else "us",
        "origin": _sold(line, takeoff, order),
    }


def _item(line: OrderLine) -> str:
    return line.key.partition(" ")[0]


def _modes(line: OrderLine, order: Order) -> set[str]:
    """The ways in which an item is counted, in the bid or an alternate."""
    every = (order, *(a.order for a in order.alternates))
    return {
        way.mode for o in every for found in o.lines if found.key == line.key for way in found.ways
    }


def _allowance(line: OrderLine, mode: str, job: Job) -> Value:
    own = next(
        (
            a.percent
            for a in job.order.items
            if a.item == _item(line) and a.percent is not None and a.mode in (None, mode)
        ),
        None,
    )
    return own if own is not None else Formula(NAMES["breakage" if mode == "layout" else "scrap"])


def _sold(line: OrderLine, takeoff: Takeoff, order: Order) -> str:
    dated = f" of {order.prices_date}" if order.prices_date else ""
    price = (
        "no price" if line.price is None else f"price: {without_folder(order.prices_from)}{dated}"
    )
    return f"{price}; package: {without_folder(takeoff.product.file)}, or price file"


def _mark_items(sheet: Worksheet, items: PlacedTable, lines: Iterable[OrderLine]) -> None:
    for at, _ in enumerate(lines, items.first):
        for key in (
            "mode",
            "layout",
            "area",
            "hand",
            "per",
            "weight",
            "pallet",
            "price",
            "price_of",
            "by",
        ):
            cell: Any = sheet[f"{items.letters[key]}{at}"]
            only_one = sheet[f"C{at}"].value is None or sheet[f"D{at}"].value is None
            if (key in ("layout", "area") and cell.value is None) or (key == "mode" and only_one):
                continue
            _mark(cell)
            if key == "mode":
                _choose(sheet, cell.coordinate, "layout,area")
    span = f"{items.first}:{{0}}{items.last}"
    for key, choices in (("price_of", "package,unit"), ("by", f"us,{OTHERS}")):
        letter = items.letters[key]
        _choose(sheet, letter + span.format(letter), choices)
    for key in ("layout", "area", "hand", "weight", "pallet", "price"):
        letter = items.letters[key]
        _from_zero(sheet, letter + span.format(letter))
    letter = items.letters["per"]
    _from_zero(sheet, letter + span.format(letter), more=True)


# -------------------------------------------------------- labour and percentages


def _labour(sheet: Worksheet, row: int, job: Job, order: Order, width: int) -> PlacedTable:
    write_note(sheet, row, "Labor", columns=width, bold=True)
    columns = [
        Column("what", "Work", WIDTHS[0]),
        Column("hours", "Hours each", WIDTHS[1], _NUMBER),
        Column("unit", "For one", WIDTHS[2]),
        Column("hand", "Quantity\noverride", WIDTHS[3], _NUMBER),
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
        _mark(sheet[f"B{at}"])
        _mark(sheet[f"D{at}"])
    for letter in "BD":
        _from_zero(sheet, f"{letter}{placed.first}:{letter}{placed.last}")
    _merge_last(sheet, placed, width)
    return placed


def _shares(sheet: Worksheet, row: int, job: Job, width: int) -> PlacedTable:
    write_note(sheet, row, "Percentages of the bid, one after the other", columns=width, bold=True)
    columns = [
        Column("name", "Name", WIDTHS[0]),
        Column("percent", "Percent", WIDTHS[1], _NUMBER),
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
            _mark(sheet[f"{letter}{at}"])
    _choose(sheet, f"C{placed.first}:C{placed.last}", "running,direct,materials,labour")
    _merge_last(sheet, placed, width)
    return placed


# ------------------------------------------------------------------------ looks


def _mark(cell: Any) -> None:
    """The look of a cell that may be changed."""
    cell.fill = _INPUT
    cell.font = font(color="1F4E9E")


def _choose(sheet: Worksheet, cells: str, choices: str) -> None:
    rule = DataValidation(
        type="list", formula1=f'"{choices}"', allow_blank=False, showErrorMessage=True
    )
    rule.error = choices.replace(",", " or ")
    rule.add(cells)
    sheet.add_data_validation(rule)


def _from_zero(sheet: Worksheet, cells: str, *, more: bool = False) -> None:
    """Only numbers from 0, or above it."""
    rule = DataValidation(
        type="decimal",
        operator="greaterThan" if more else "greaterThanOrEqual",
        formula1="0",
        allow_blank=not more,
        showErrorMessage=True,
    )
    rule.error = "a number above 0" if more else "a number from 0"
    rule.add(cells)
    sheet.add_data_validation(rule)


def _merge_last(sheet: Worksheet, placed: PlacedTable, width: int) -> None:
    """The last column of a table reaches over the rest of the sheet's columns."""
    first = len(placed.letters)
    rows = range(placed.header, placed.last + 1)
    widen(sheet, rows, first, width)
    for at in rows:
        sheet.row_dimensions[at].height = (
            15 if at > placed.header else 34 if "hand" in placed.letters else 19
        )
