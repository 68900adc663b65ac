"""The list for the supplier, without prices: item, packages, weight, pallets, delivery."""

from __future__ import annotations

from typing import Any

from openpyxl.workbook import Workbook

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.writers.basis import packing_told
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import QUANTITY, Column, Display, Formula, Row
from dxf2veneer.writers.workbook.input_items import OTHERS, UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import align_words
from dxf2veneer.writers.workbook.page import write_note, write_title


def add_supplier(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    table: PlacedTable,
    inputs: Inputs,
) -> PlacedTable:
    """What to deliver: no price stands on this sheet.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        display: Units of the sheets.
        table: The order.
        inputs: Where the inputs stand.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Supplier")
    columns = _columns(display, weight_unit(takeoff))
    about = takeoff.job.job
    names = (about.company, about.name, *takeoff.product_names)
    head = " · ".join(filter(None, names)) or "Stone veneer"
    note = " ".join(filter(None, (f"{head}.", packing_told(order), caution_for(Reader.CARRIER))))
    write_title(sheet, "List for the supplier", note, columns)
    rows = [_item(line, n, display, table, inputs) for n, line in enumerate(order.lines)]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, placed, ("package", "note"))
    row = _lines_to_fill(sheet, placed.last + 3, len(columns))
    finish(sheet, takeoff, placed, last_row=row, filtered=False, one_page=len(rows) <= 40)
    sheet.page_setup.orientation = "portrait"
    return placed


def _columns(display: Display, weight: str) -> list[Column]:
    return [
        Column("item", "Item", 34),
        Column("packages", "Packages", 11, "#,##0"),
        Column("package", "Sold in", 11),
        Column("per", "Holds", 10, QUANTITY),
        Column("unit", "Unit", 9),
        Column("weight", f"Weight\n{weight}", 12, "#,##0.0", summed=True),
        *(
            [Column("kg", "Weight\nkg", 12, "#,##0", summed=True)]
            if display.is_metric and weight == "lb"
            else []
        ),
        Column("pallets", "Pallets", 10, "#,##0", summed=True),
        Column("note", "Note", 24),
    ]


def _item(line: OrderLine, n: int, display: Display, table: PlacedTable, inputs: Inputs) -> Row:
    """The row of an item, the ``n``-th of the order."""
    by, pallet = inputs.of(line, "by"), inputs.of(line, "pallet")
    pallets = f"ROUNDUP(ROUND({{packages}}/{pallet},6),0)"
    pallets += f"+{line.parted_pallets}" if line.parted_pallets else ""
    return {
        "item": say(line.item, display.name),
        "packages": Formula(f'IF({by}="{OTHERS}","",{table.cell("packages", n)})'),
        "package": Formula(table.cell("package", n)),
        "per": Formula(table.cell("per", n)),
        "unit": UNITS[line.unit],
        "weight": Formula(table.cell("weight", n)),
        "kg": Formula(f'IF({{weight}}="","",{{weight}}*{POUND_KG!r})'),
        "pallets": Formula(f'IF(OR({{packages}}="",N({pallet})=0),"",{pallets})'),
        "note": Formula(f'IF({by}="{OTHERS}","by others: not in this order","")'),
    }


def _lines_to_fill(sheet: Any, row: int, width: int) -> int:
    """Blank lines about the delivery; the last row used."""
    write_note(sheet, row, "Delivery", columns=width, bold=True)
    texts = (
        "Deliver to: ______________________________________     Wanted on: ____________________",
        "Name and telephone on site: ________________________     Order no.: ____________________",
        "Unloading, access, where to set the pallets down: "
        "__________________________________________",
        "Panels of one job from one production where possible; keep pallets dry and "
        "level. Check the count before signing.",
        "Weights are those of the packages as the product file gives them; the carrier's "
        "scale decides.",
    )
    for at, text in enumerate(texts, row + 1):
        write_note(sheet, at, text, columns=width, lines=2 if at < row + 4 else 1)
    return row + len(texts)
