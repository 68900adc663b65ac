"""A request for quotation to the supplier: items and packages, no price; a workbook or a CSV."""

from __future__ import annotations

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
    "weight_unit", "pallets", "price_of_a_package", "lead_time", "job", "company",
)  # fmt: skip


def write_request(takeoff: Takeoff, order: Order, path: Path) -> None:
    """Write the request, whole or not at all: as CSV where the file's name ends so, else as .xlsx.

    In a CSV errors of the takeoff, and that nobody has confirmed it, stand in the first rows, and
    what a carrier must know under the key ``caution`` in the last one.

    Args:
        takeoff: The takeoff.
        order: Its order; what others supply is left out.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    rows = [_row(line, takeoff) for line in order.lines if not line.by_others]
    if path.suffix.lower() == ".csv":
        about = takeoff.job.job
        first = warnings_first(
            len(_HEADS),
            errors=takeoff.errors,
            unconfirmed=unconfirmed_words(takeoff),
            display=takeoff.job.output.display,
        )
        listed = ((*row, about.name, about.company) for row in rows)
        told = ("caution", _caution(order), *[None] * (len(_HEADS) - 2))
        write_csv(path, _HEADS, (*first, *listed, told))
        return
    save_book(lambda: _book(takeoff, order, rows), path)


def _caution(order: Order) -> str:
    """What a carrier must know, and which packages and weights nobody gave."""
    return f"{caution_for(Reader.CARRIER)} {packing_told(order)}".strip()


def _row(line: OrderLine, takeoff: Takeoff) -> tuple[Cell, ...]:
    """The cells of an item, but for job and company."""
    weight = line.chosen.weight_lb
    if weight is not None and takeoff.product.is_metric:
        weight = round(POUND_KG * weight, QUOTIENT_PLACES)
    return (
        line.key, say(line.item, takeoff.job.output.display), _size(line, takeoff),
        line.product or ", ".join(takeoff.product_names), line.chosen.packages, line.package,
        line.per_package, ITEM_UNITS[line.unit], weight, weight_unit(takeoff), line.pallets, None,
        None,
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


def _book(takeoff: Takeoff, order: Order, rows: list[tuple[Cell, ...]]) -> Workbook:
    book = Workbook()
    sheet: Any = book.active
    sheet.title = "Request"
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
    about = takeoff.job.job
    names = (about.company, about.name)
    write_title(sheet, "Request for quotation", " · ".join(filter(None, names)), columns)
    listed: list[Row] = [
        {key: cell for key, cell in zip(_HEADS, row, strict=False) if key in keys}  # type: ignore[misc]
        for keys in ({c.key for c in columns},)
        for row in rows
    ]
    placed = place(sheet, HEADER, columns, listed, empty="nothing to order", total=True)
    row = placed.last + 3
    for text in (
        "Please quote the packages above, and fill in price and lead time.",
        "Deliver to: ______________________________     Wanted on: ____________________",
        "Freight and unloading: ____________________     Quote valid until: ____________________",
        "Returns of unopened packages: ____________________________________________",
        "Quoted by: ______________________________     Date: ____________________",
        _caution(order),
    ):
        write_note(sheet, row, text, columns=len(columns), lines=2)
        row += 1
    finish(sheet, takeoff, placed, last_row=row - 1, filtered=False, one_page=len(rows) <= 40)
    add_alert(book, takeoff)
    book.properties.title = for_cell(about.name) or "Request for quotation"
    book.properties.creator = for_cell(about.company) or "dxf2veneer"
    return book
