"""A hidden sheet that keeps what was computed for every cell that a person may change.

    sheet | row | heading | as computed | now | changed | what changes with it

``now`` reads the cell, also where rows were put in above it, so that the workbook knows by itself
what was changed by hand: what was laid out before is STALE, and the next takeoff can keep the
changes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

from openpyxl.styles import PatternFill
from openpyxl.utils import quote_sheetname
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.writers.workbook.cells import TINT, place, put_text, sheet_of
from dxf2veneer.writers.workbook.columns import Column, Formula, Row
from dxf2veneer.writers.workbook.input_cells import INPUT
from dxf2veneer.writers.workbook.measures import HEADER
from dxf2veneer.writers.workbook.page import write_title

TITLE = "As computed"
"""Name of the sheet."""
COLUMNS = ("sheet", "row", "heading", "computed", "now", "changed", "group")
MEASURES, DEDUCTION, INPUTS = "measures", "deduction", "inputs"
"""What changes with a cell: what panels were laid out on, areas alone, the order."""
_MEASURED = ("Walls", "Openings", "Corners", "Trim")


class InputCell(NamedTuple):
    """A cell that a person may change, by what stands beside and above it."""

    sheet: str
    row: str
    """The first cell of its row; a number behind it where several rows begin alike."""
    heading: str
    cell: Any
    group: str


def changed_name(group: str) -> str:
    """The name of the cell that counts changes.

    Args:
        group: What changes with them.

    Returns:
        The name, for formulas.
    """
    return f"Changed_{group}"


def stale(number: int) -> str:
    """Formula text: how many changes by hand the layout of an order has not seen.

    Args:
        number: 0 for the bid's own, from 1 for alternates.

    Returns:
        Formula text of a number.
    """
    return f"({changed_name(MEASURES)}+{changed_name(f'walls_{number}')})"


def add_computed(book: Workbook, orders: int) -> list[InputCell]:
    """Fill the sheet, and name the cells that count changes.

    Args:
        book: The workbook, otherwise whole.
        orders: How many orders it has, alternates among them.

    Returns:
        The cells that a person may change.
    """
    found = list(_input_cells(book))
    sheet = sheet_of(book, TITLE)
    columns = [
        Column("sheet", "Sheet", 12),
        Column("row", "Row", 34),
        Column("heading", "Heading", 30),
        Column("computed", "As computed", 14),
        Column("now", "Now", 14),
        Column("changed", "Changed", 9, "0"),
        Column("group", "With it changes", 14),
    ]
    note = "What the takeoff computed for every tinted cell of the other sheets. Leave it as it is."
    write_title(sheet, TITLE, note, columns)
    placed = place(sheet, HEADER, columns, [_row(one) for one in found], empty="none")
    for at, one in enumerate(found, placed.first):
        cell: Any = sheet.cell(at, 4)
        cell.value = one.cell.value
        if isinstance(one.cell.value, str):
            cell.data_type = one.cell.data_type
            cell.quotePrefix = cell.data_type == "s"
    groups = (MEASURES, DEDUCTION, INPUTS, *(f"walls_{n}" for n in range(orders)))
    for at, group in enumerate(groups, placed.first):
        put_text(sheet[f"I{at}"], group)
        sheet[f"J{at}"] = "=" + placed.sum_where("changed", group=f'"{group}"')
        name = changed_name(group)
        book.defined_names[name] = DefinedName(name, attr_text=f"'{TITLE}'!$J${at}")
    sheet.sheet_state = "hidden"
    return found


def _row(one: InputCell) -> Row:
    where = f"{quote_sheetname(one.sheet)}!{one.cell.coordinate}"
    near = "IF(ABS({computed}-{now})>0.000000001,1,0)"
    numbers = "AND(ISNUMBER({computed}),ISNUMBER({now}))"
    return {
        "sheet": one.sheet,
        "row": one.row,
        "heading": one.heading,
        "now": Formula(f'IF({where}="","",{where})'),
        "changed": Formula(f'IF({numbers},{near},IF({{computed}}&""={{now}}&"",0,1))'),
        "group": one.group,
    }


def _input_cells(book: Workbook) -> Iterator[InputCell]:
    """The tinted cells of all sheets, in order."""
    fills: Any = vars(book)["_fills"]
    tinted = fills.add(INPUT)
    heading = fills.add(PatternFill("solid", fgColor=TINT))
    seen: Counter[tuple[str, str, str]] = Counter()
    for sheet in book.worksheets:
        heads: dict[int, str] = {}
        for row in sheet.iter_rows():
            for cell in row:
                fill = cell._style.fillId if cell.has_style else 0  # type: ignore[union-attr]
                if fill == heading and cell.value:
                    heads[cell.column] = " ".join(str(cell.value).split())
                if fill != tinted or type(cell).__name__ == "MergedCell":
                    continue
                label = str(row[0].value or "-")
                key = (sheet.title, label, heads.get(cell.column or 0, ""))
                seen[key] += 1
                name = label if seen[key] == 1 else f"{label} ({seen[key]})"
                scopes = [column for column, text in heads.items() if text.startswith("In ")]
                group = _group(sheet, key[2])
                if group == MEASURES and cell.column in scopes:
                    group = f"walls_{scopes.index(cell.column)}"
                yield InputCell(key[0], name, key[2], cell, group)


def _group(sheet: Worksheet, heading: str) -> str:
    """What changes with a cell under a heading."""
    if sheet.title not in _MEASURED:
        return INPUTS
    if heading.startswith("Deducted"):
        return DEDUCTION
    return MEASURES
