"""The sheet of the order.

item | measured | allowance | needed | packages | price | cost | weight | the other way | why
"""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.styles import Alignment
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.units import FOOT_M, SQUARE_FEET_PER_SQUARE_METER
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.writers.basis import packing_told
from dxf2veneer.writers.workbook.cells import LINE_HEIGHT, PlacedTable, lines_of, place, sheet_of
from dxf2veneer.writers.workbook.columns import (
    MONEY,
    QUANTITY,
    Column,
    Display,
    Formula,
    Row,
    Value,
)
from dxf2veneer.writers.workbook.computed import DEDUCTION, changed_name, stale
from dxf2veneer.writers.workbook.input_items import OTHERS, UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_title
from dxf2veneer.writers.workbook.quantities import (
    Quantities,
    allowance,
    cost,
    needed,
    packages,
    weight,
)

MISSING = "PRICE MISSING"
STALE = "STALE"
WHY = 220
"""Characters across the column that says why."""

_NOTE = (
    "Measured quantities come from the sheet Quantities, all else from the sheet Inputs: change "
    "it there. needed = measured + allowance; packages are rounded up once for the whole job; "
    "cost = packages x price, to the cent. To the right, on the screen only: the other way of "
    "counting (by area where this one is by layout), and why. "
    f"{caution_for(Reader.BUYER, Reader.CARRIER)}"
)


def line_row(line: OrderLine, inputs: Inputs, quantities: Quantities, measured: Value) -> Row:
    """The row of an item from its measured quantity on, by formulas over the inputs.

    Args:
        line: The item.
        inputs: Where the inputs stand.
        quantities: Where the quantities of its order stand.
        measured: The measured quantity, a number or a formula.

    Returns:
        Values by the key of their column.
    """
    mode, usual = inputs.of(line, "mode"), quantities.usual
    late = "FALSE"
    if quantities.stays:
        late = f"{stale(quantities.number)}+{changed_name(DEDUCTION)}>0"
    elif any(way.mode == "layout" for way in line.ways):
        late = f'AND({{mode}}="layout",{stale(quantities.number)}>0)'
    return {
        "item": say(line.item, inputs.display),
        "mode": Formula(mode),
        "measured": measured,
        "unit": UNITS[line.unit],
        "allowance": Formula(
            f'IF({{mode}}="area",{allowance(line, "area", inputs, usual)},'
            f"{allowance(line, 'layout', inputs, usual)})"
        ),
        "needed": Formula(needed("{measured}", "{allowance}")),
        "package": Formula(inputs.of(line, "package")),
        "per": Formula(inputs.of(line, "per")),
        "packages": Formula(packages("{needed}", line, inputs)),
        "price": Formula(f'IF({inputs.of(line, "price")}="","",{inputs.of(line, "price")})'),
        "price_of": Formula(inputs.of(line, "price_of")),
        "cost": Formula(cost("{packages}", line, inputs)),
        "weight": Formula(weight("{packages}", line, inputs)),
        "note": Formula(
            f'IF({inputs.of(line, "by")}="{OTHERS}","by others",'
            f'IF({{cost}}="","{MISSING}",IF({late},"{STALE}","")))'
        ),
    }


def line_columns(currency: str, weight: str) -> list[Column]:
    """The columns of ``line_row``.

    Args:
        currency: Currency of the prices, empty where none is named.
        weight: Unit of weights.

    Returns:
        The columns.
    """
    heads = (
        ("item", "Item", 30, "General", False),
        ("mode", "Counted\nby", 11, "General", False),
        ("measured", "Measured", 11, MONEY, False),
        ("unit", "Unit", 7, "General", False),
        ("allowance", "Allow-\nance %", 8, QUANTITY, False),
        ("needed", "Needed", 11, MONEY, False),
        ("package", "Sold in", 9, "General", False),
        ("per", "Holds", 8, QUANTITY, False),
        ("packages", "Packages", 9.5, "#,##0", False),
        ("price", "Price", 10, "#,##0.00##", False),
        ("price_of", "of a", 9, "General", False),
        ("cost", f"Cost\n{currency}".strip(), 12, MONEY, True),
        ("weight", f"Weight\n{weight}", 11, "#,##0.0", True),
        ("note", "Note", 16, "General", False),
    )
    return [
        Column(key, title, width, form, summed=summed) for key, title, width, form, summed in heads
    ]


def missing(table: PlacedTable) -> str:
    """Formula text: how many prices are missing in a table of items.

    Args:
        table: The table.

    Returns:
        The formula.
    """
    return f'COUNTIF({table.range("note")},"{MISSING}")'


def add_order(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    inputs: Inputs,
    quantities: Quantities,
) -> PlacedTable:
    """The order: what counts, and beside it the other way of counting and what it would cost more.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        display: Units of the sheets.
        inputs: Where the inputs stand.
        quantities: Where the quantities stand.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Order")
    printed = line_columns(order.currency, weight_unit(takeoff))
    if display.is_metric and not takeoff.product.is_metric:
        printed += [Column("metric", "Measured", 10, MONEY), Column("metric_unit", "", 5)]
    columns = [
        *printed,
        Column("other", "Packages,\nother way", 10, "#,##0"),
        Column("other_cost", "Cost,\nother way", 12, MONEY),
        Column("saves", "This way\nsaves", 11, "#,##0.00;-#,##0.00;0.00"),
        Column("why", "Why this number", WHY),
    ]
    write_title(sheet, "Order", f"{_NOTE} {packing_told(order)}".strip(), printed)
    rows = [_order_row(line, inputs, quantities, display) for line in order.lines]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, placed, ("mode", "package", "price_of", "note", "why"))
    for at, line in enumerate(order.lines, placed.first):
        sheet.row_dimensions[at].height = LINE_HEIGHT * max(
            lines_of(say(way.why, display.name), WHY) for way in line.ways
        )
    hide_total(sheet, placed)
    finish(sheet, takeoff, placed, last_row=placed.last + 1, printed_to=printed[-1].key)
    return placed


def align_words(sheet: Worksheet, table: PlacedTable, keys: Iterable[str]) -> None:
    """Words that formulas make stand left and wrap, as other texts do.

    Args:
        sheet: The sheet.
        table: The table.
        keys: Keys of the columns.
    """
    for key in keys:
        for at in range(table.first, table.last + 1):
            sheet[f"{table.letters[key]}{at}"].alignment = Alignment(
                horizontal="left", vertical="top", wrap_text=True, indent=1
            )


def hide_total(sheet: Worksheet, table: PlacedTable) -> None:
    """No sum of costs while a price is missing.

    Args:
        sheet: The sheet.
        table: The table.
    """
    sheet[
        f"{table.letters['cost']}{table.last + 1}"
    ].value = f'=IF({missing(table)}>0,"no total",{table.sum("cost")})'


def _order_row(line: OrderLine, inputs: Inputs, quantities: Quantities, display: Display) -> Row:
    hand = inputs.of(line, "hand")

    def chosen(column: str, *, other: bool = False) -> str:
        return quantities.chosen(line, column, inputs, other=other)

    measured = Formula(f'IF({hand}="",{chosen("measured")},{hand})')
    row = line_row(line, inputs, quantities, measured)
    row |= {
        "other": Formula(chosen("packages", other=True)),
        "other_cost": Formula(chosen("cost", other=True)),
        "saves": Formula('IF(OR({cost}="",{other_cost}=""),"",ROUND({other_cost}-{cost},2))'),
        "why": Formula(f'IF({hand}="",{chosen("why")},"override, on the sheet Inputs")'),
    }
    if display.is_metric and line.unit in ("ft", "sqft"):
        factor = f"/{SQUARE_FEET_PER_SQUARE_METER!r}" if line.unit == "sqft" else f"*{FOOT_M!r}"
        row |= {
            "metric": Formula("{measured}" + factor),
            "metric_unit": "m²" if line.unit == "sqft" else "m",
        }
    return row
