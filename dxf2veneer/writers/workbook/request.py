"""A request for quotation to the supplier: items and packages, no price; a workbook or a CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from openpyxl import Workbook

from dxf2veneer.model import Order, Takeoff
from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.textio.whole_files import Cell, write_csv
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.alert import add_alert
from dxf2veneer.writers.workbook.cells import place
from dxf2veneer.writers.workbook.columns import QUANTITY, Column, Row
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.saving import save_book

_HEADS = ("item", "packages", "package", "holds", "unit", "price_of_a_package", "lead_time")
_UNITS = {"each": "each", "ft": "ft", "sqft": "sq ft"}


def write_request(takeoff: Takeoff, order: Order, path: Path) -> None:
    """Write the request, whole or not at all: as CSV where the file's name ends so, else as .xlsx.

    Args:
        takeoff: The takeoff.
        order: Its order; what others supply is left out.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    display = takeoff.job.output.display
    rows: list[tuple[Cell, ...]] = [
        (
            say(line.item, display),
            line.chosen.packages,
            line.package,
            line.per_package,
            _UNITS[line.unit],
            None,
            None,
        )
        for line in order.lines
        if not line.by_others
    ]
    if path.suffix.lower() == ".csv":
        write_csv(path, _HEADS, rows)
        return
    save_book(lambda: _book(takeoff, rows), path)


def _book(takeoff: Takeoff, rows: list[tuple[Cell, ...]]) -> Workbook:
    book = Workbook()
    sheet: Any = book.active
    sheet.title = "Request"
    columns = [
        Column("item", "Item", 36),
        Column("packages", "Packages", 10, "#,##0"),
        Column("package", "Sold in", 11),
        Column("holds", "Holds", 9, QUANTITY),
        Column("unit", "Unit", 8),
        Column("price", "Price of\na package", 13, "#,##0.00"),
        Column("lead", "Lead time", 16),
    ]
    about = takeoff.job.job
    names = (about.company, about.name, takeoff.product.product.name)
    write_title(sheet, "Request for quotation", " · ".join(filter(None, names)), columns)
    listed: list[Row] = [
        dict(zip([c.key for c in columns], row, strict=True))  # type: ignore[arg-type]
        for row in rows
    ]
    placed = place(sheet, HEADER, columns, listed, empty="nothing to order")
    row = placed.last + 2
    for text in (
        "Please quote the packages above, and fill in price and lead time.",
        "Deliver to: ______________________________     Wanted on: ____________________",
        "Freight and unloading: ____________________     Quote valid until: ____________________",
        "Returns of unopened packages: ____________________________________________",
        "Quoted by: ______________________________     Date: ____________________",
    ):
        write_note(sheet, row, text, columns=len(columns), lines=2)
        row += 1
    finish(sheet, takeoff, placed, last_row=row - 1, filtered=False, one_page=len(rows) <= 40)
    sheet.page_setup.orientation = "portrait"
    add_alert(book, takeoff)
    book.properties.title = for_cell(about.name) or "Request for quotation"
    book.properties.creator = for_cell(about.company) or "dxf2veneer"
    return book
