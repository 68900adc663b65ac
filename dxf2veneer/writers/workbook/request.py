"""A request for quotation: items and packages, no price; a workbook or a CSV.

What each supplier is asked for stands together: the sheet of a workbook, or rows of a CSV one after
another. A supplier is who gave the price before; goods without one stand together at the end.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook

from dxf2veneer.basics.tolerances import QUOTIENT_PLACES
from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.textio.whole_files import Cell, write_csv
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.wording.measures import ITEM_UNITS
from dxf2veneer.writers.basis import packing_told
from dxf2veneer.writers.csv_lines import warnings_first
from dxf2veneer.writers.words import unconfirmed_words
from dxf2veneer.writers.workbook.alert import add_alert
from dxf2veneer.writers.workbook.cells import place
from dxf2veneer.writers.workbook.columns import QUANTITY, Column, Display, Row
from dxf2veneer.writers.workbook.input_items import weight_unit
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.saving import save_book

_HEADS = (
    "key", "item", "size", "product", "packages", "package", "holds", "unit", "weight",
    "weight_unit", "pallets", "price_of_a_package", "lead_time", "price_expired", "supplier", "job",
    "company",
)  # fmt: skip
_UNNAMED = "No supplier named"
_TITLE_LENGTH = 28
"""Spreadsheet programs take 31 characters as a sheet's title (from memory); a number may follow."""
_EXPIRED = "Prices that have expired show the last day they held; please quote them anew."
_TO_FILL_IN = (
    "Please quote the packages above, and fill in price and lead time.",
    "Deliver to: ______________________________     Wanted on: ____________________",
    "Freight and unloading: ____________________     Quote valid until: ____________________",
    "Returns of unopened packages: ____________________________________________",
    "Quoted by: ______________________________     Date: ____________________",
)


def write_request(takeoff: Takeoff, order: Order, path: Path) -> None:
    """Write the request, whole or not at all: as CSV where the file's name ends so, else as .xlsx.

    It names the last day of a price that has expired, never the price. In a CSV errors of the
    takeoff, and that nobody has confirmed it, stand in the first rows, and what a carrier must know
    under the key ``caution`` in the last one.

    Args:
        takeoff: The takeoff.
        order: Its order; what others supply is left out.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    asked = by_supplier(line for line in order.lines if not line.by_others)
    if path.suffix.lower() == ".csv":
        about = takeoff.job.job
        first = warnings_first(
            len(_HEADS),
            errors=takeoff.errors,
            unconfirmed=unconfirmed_words(takeoff),
            display=takeoff.job.output.display,
        )
        rows = [
            (*_row(line, takeoff), supplier, about.name, about.company)
            for supplier, lines in asked.items()
            for line in lines
        ]
        told = ("caution", _caution(order), *[None] * (len(_HEADS) - 2))
        write_csv(path, _HEADS, (*first, *rows, told))
        return
    save_book(lambda: _book(takeoff, order, asked), path)


def _caution(order: Order) -> str:
    """What a carrier must know, and which packages and weights nobody gave."""
    return f"{caution_for(Reader.CARRIER)} {packing_told(order)}".strip()


def by_supplier(lines: Iterable[OrderLine]) -> dict[str, list[OrderLine]]:
    """Lines by who is asked for them, in their order; those of nobody last.

    Args:
        lines: Lines of an order.

    Returns:
        Lines by supplier, as the first line writes the name: capitals and spaces make no other
        supplier. Empty stands for nobody; at least this one is there.
    """
    names: dict[str, str] = {}
    found: dict[str, list[OrderLine]] = {}
    for line in lines:
        name = " ".join(line.supplier.split())
        found.setdefault(names.setdefault(name.casefold(), name), []).append(line)
    unnamed = found.pop("", [])
    return {**found, "": unnamed} if unnamed or not found else found


def _row(line: OrderLine, takeoff: Takeoff) -> tuple[Cell, ...]:
    """The cells of an item, but for supplier, job and company."""
    weight = line.chosen.weight_lb
    if weight is not None and takeoff.product.is_metric:
        weight = round(POUND_KG * weight, QUOTIENT_PLACES)
    return (
        line.key, say(line.item, takeoff.job.output.display), _size(line, takeoff),
        line.product or ", ".join(takeoff.product_names), line.chosen.packages, line.package,
        line.per_package, ITEM_UNITS[line.unit], weight, weight_unit(takeoff), line.pallets, None,
        None, line.expired.isoformat() if line.expired else None,
    )  # fmt: skip


def _size(line: OrderLine, takeoff: Takeoff) -> str:
    """Face length and height of panels and stones, the length of strips; empty for other items."""
    product = next((p.product for p in takeoff.parts if p.name == line.product), takeoff.product)
    goods = product.goods
    height = product.panel.height
    sizes: dict[str, tuple[float, ...]] = {
        "flat_panel": (product.panel.length, height),
        "corner_panel": (product.corner.length, height),
        "starter_strip": (goods.starter_strip.length,),
        "cap_stone": (goods.cap_stone.length, product.cap.height),
        **dict.fromkeys(
            ("trim_stone", "head_stone", "jamb_stone", "sill_stone"),
            (goods.trim_stone.length, goods.trim_stone.height),
        ),
    }
    display = Display(takeoff.job.output.display)
    return " x ".join(map(display.tape, sizes.get(line.item_key, ())))


def _book(takeoff: Takeoff, order: Order, asked: Mapping[str, Sequence[OrderLine]]) -> Workbook:
    book = Workbook()
    del book[book.sheetnames[0]]
    for supplier, lines in asked.items():
        to = supplier or (_UNNAMED if len(asked) > 1 else "")
        sheet = book.create_sheet(_sheet_title(to or "Request"))
        _fill(sheet, takeoff, to, dataclasses.replace(order, lines=tuple(lines)))
    add_alert(book, takeoff, dict.fromkeys(book.sheetnames, 3))
    about = takeoff.job.job
    book.properties.title = for_cell(about.name) or "Request for quotation"
    book.properties.creator = for_cell(about.company) or "dxf2veneer"
    return book


def _sheet_title(name: str) -> str:
    """A name as the title of a sheet, with room for a number behind one that is taken."""
    plain = re.sub(r"[\[\]:*?/\\]", " ", for_cell(name))
    short = " ".join(plain.split())[:_TITLE_LENGTH].strip("' ")
    return "Request" if short.casefold() in ("", "history") else short


def _fill(sheet: Any, takeoff: Takeoff, to: str, order: Order) -> None:
    """What one supplier is asked for: an order of no other lines."""
    expired = any(line.expired for line in order.lines)
    columns = _columns(takeoff, expired=expired)
    about = takeoff.job.job
    names = (about.company, about.name, to)
    write_title(sheet, "Request for quotation", " · ".join(filter(None, names)), columns)
    keys = {c.key for c in columns}
    listed: list[Row] = [
        {key: cell for key, cell in zip(_HEADS, _row(line, takeoff), strict=False) if key in keys}  # type: ignore[misc]
        for line in order.lines
    ]
    placed = place(sheet, HEADER, columns, listed, empty="nothing to order", total=True)
    row = placed.last + 3
    for text in (*((_EXPIRED,) if expired else ()), *_TO_FILL_IN, _caution(order)):
        write_note(sheet, row, text, columns=len(columns), lines=2)
        row += 1
    finish(
        sheet, takeoff, placed, last_row=row - 1, filtered=False, one_page=len(order.lines) <= 40
    )


def _columns(takeoff: Takeoff, *, expired: bool) -> list[Column]:
    columns = [
        Column("item", "Item", 30),
        Column("size", "Size", 20),
        Column("product", "Product", 24),
        Column("packages", "Packages", 10, "#,##0"),
        Column("package", "Sold in", 11),
        Column("holds", "Holds", 9, QUANTITY),
        Column("unit", "Unit", 8),
        Column("weight", f"Weight\n{weight_unit(takeoff)}", 11, "#,##0.0", summed=True),
        Column("pallets", "Pallets", 9, "#,##0", summed=True),
        Column("price_of_a_package", "Price of\na package", 13, "#,##0.00"),
        Column("lead_time", "Lead time", 16),
    ]
    return [*columns, Column("price_expired", "Last price\nheld until", 13)] if expired else columns
