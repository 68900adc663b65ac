"""The sheets of what is bought and done: the order, the supplier's list without prices, labour.

Order       item | measured | allowance | needed | packages | price | cost | weight | the other way
| saves | why Supplier    item | packages | weight | pallets, and lines for the delivery Labour
work | quantity | hours | cost; days of the crew; dead load
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import LabourLine, Order, OrderLine, Takeoff
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.units import POUND_KG, SQUARE_FEET_PER_SQUARE_METRE, square_feet
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import (
    LINE_HEIGHT,
    PlacedTable,
    lines_of,
    place,
    put,
    sheet_of,
    style_total,
    write_note,
    write_title,
)
from dxf2veneer.writers.workbook.columns import Column, Display, Formula, Strong, Value
from dxf2veneer.writers.workbook.inputs import NAMES, OTHERS, UNITS, Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.quantities import Quantities, cost, needed, packages, weight

Row = dict[str, Value]
MISSING = "PRICE MISSING"
WHY = 56
"""Characters across the column that says why."""
_MONEY, _NUMBER = "#,##0.00", "#,##0.##"
DEAD_LOAD = (
    "Dead load: information for the designer, not a proof of anything. Whether the wall, "
    "its fastening and its support carry it is for "
    "the local code, the panel maker's instructions and a registered design professional to say."
)


def line_row(line: OrderLine, inputs: Inputs, measured: Value) -> Row:
    """The row of an item from its measured quantity on, by formulas over the inputs."""
    mode = inputs.of(line, "mode")
    return {
        "item": line.item,
        "mode": Formula(mode),
        "measured": measured,
        "unit": UNITS[line.unit],
        "allowance": Formula(
            f'IF({{mode}}="area",{inputs.of(line, "area")},{inputs.of(line, "layout")})'
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
            f'IF({inputs.of(line, "by")}="{OTHERS}","by others",IF({{cost}}="","{MISSING}",""))'
        ),
    }


def line_columns(currency: str) -> list[Column]:
    """The columns of ``line_row``."""
    heads = (
        ("item", "Item", 30, "General", False),
        ("mode", "Counted\nby", 11, "General", False),
        ("measured", "Measured", 11, _MONEY, False),
        ("unit", "Unit", 7, "General", False),
        ("allowance", "Allow-\nance %", 8, _NUMBER, False),
        ("needed", "Needed", 11, _MONEY, False),
        ("package", "Sold in", 9, "General", False),
        ("per", "Holds", 8, _NUMBER, False),
        ("packages", "Packages", 9.5, "#,##0", False),
        ("price", "Price", 10, "#,##0.00##", False),
        ("price_of", "of a", 9, "General", False),
        ("cost", f"Cost\n{currency}".strip(), 12, _MONEY, True),
        ("weight", "Weight\nlb", 11, "#,##0.0", True),
        ("note", "Note", 16, "General", False),
    )
    return [
        Column(key, title, width, form, summed=summed) for key, title, width, form, summed in heads
    ]


def missing(table: PlacedTable) -> str:
    """Formula text: how many prices are missing in a table of items."""
    return f'COUNTIF({table.range("note")},"{MISSING}")'


def add_order(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    inputs: Inputs,
    quantities: Quantities,
) -> PlacedTable:
    """The order: what counts, and beside it the other way of counting and what it would cost
    more."""
    sheet = sheet_of(book, "Order")
    metric = (
        [Column("metric", "Measured", 10, _MONEY), Column("metric_unit", "", 5)]
        if display.is_metric
        else []
    )
    columns = [
        *line_columns(order.currency),
        *metric,
        Column("other", "Packages,\nother way", 10, "#,##0"),
        Column("other_cost", "Cost,\nother way", 12, _MONEY),
        Column("saves", "This way\nsaves", 11, "#,##0.00;-#,##0.00;0.00"),
        Column("why", "Why this number", WHY),
    ]
    note = (
        "Measured quantities come from the sheet Quantities, all else from the sheet "
        "Inputs: change it there. needed = measured + allowance; packages are rounded up "
        "once for the whole job; cost = packages x price, to the cent. To the right, on "
        "the screen only: the other way of counting (by area where this one is by "
        "layout), and why."
    )
    write_title(sheet, "Order", note, [*line_columns(order.currency), *metric])
    rows = [_order_row(line, inputs, quantities, display) for line in order.lines]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, placed, ("mode", "package", "price_of", "note", "why"))
    for at, line in enumerate(order.lines, placed.first):
        sheet.row_dimensions[at].height = LINE_HEIGHT * max(
            lines_of(say(way.why, display.name), WHY) for way in line.ways
        )
    hide_total(sheet, placed)
    finish(
        sheet,
        takeoff,
        placed,
        last_row=placed.last + 1,
        printed_to="metric_unit" if metric else "note",
    )
    return placed


def align_words(sheet: Worksheet, table: PlacedTable, keys: Iterable[str]) -> None:
    """Words that formulas make stand left and wrap, as other texts do."""
    for key in keys:
        for at in range(table.first, table.last + 1):
            sheet[f"{table.letters[key]}{at}"].alignment = Alignment(
                horizontal="left", vertical="top", wrap_text=True, indent=1
            )


def hide_total(sheet: Worksheet, table: PlacedTable) -> None:
    """No sum of costs while a price is missing."""
    sheet[
        f"{table.letters['cost']}{table.last + 1}"
    ].value = f'=IF({missing(table)}>0,"no total",{table.sum("cost")})'


def _order_row(line: OrderLine, inputs: Inputs, quantities: Quantities, display: Display) -> Row:
    hand, mode = inputs.of(line, "hand"), inputs.of(line, "mode")

    def chosen(column: str, *, other: bool = False) -> str:
        layout, area = (quantities.of(line, way, column) for way in ("layout", "area"))
        if layout is None or area is None:
            return '""' if other else layout or area or "0"
        return (
            f'IF({mode}="area",{layout},{area})' if other else f'IF({mode}="area",{area},{layout})'
        )

    row = line_row(line, inputs, Formula(f'IF({hand}="",{chosen("measured")},{hand})'))
    row |= {
        "other": Formula(chosen("packages", other=True)),
        "other_cost": Formula(chosen("cost", other=True)),
        "saves": Formula('IF(OR({cost}="",{other_cost}=""),"",ROUND({other_cost}-{cost},2))'),
        "why": Formula(f'IF({hand}="",{chosen("why")},"override, on the sheet Inputs")'),
    }
    if display.is_metric and line.unit != "each":
        factor = f"/{SQUARE_FEET_PER_SQUARE_METRE!r}" if line.unit == "sqft" else "*0.3048"
        row |= {
            "metric": Formula("{measured}" + factor),
            "metric_unit": "m²" if line.unit == "sqft" else "m",
        }
    return row


def add_supplier(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    table: PlacedTable,
    inputs: Inputs,
) -> PlacedTable:
    """What to deliver: no price stands on this sheet."""
    sheet = sheet_of(book, "Supplier")
    columns = [
        Column("item", "Item", 34),
        Column("packages", "Packages", 11, "#,##0"),
        Column("package", "Sold in", 11),
        Column("per", "Holds", 10, _NUMBER),
        Column("unit", "Unit", 9),
        Column("weight", "Weight\nlb", 12, "#,##0.0", summed=True),
        *([Column("kg", "Weight\nkg", 12, "#,##0", summed=True)] if display.is_metric else []),
        Column("pallets", "Pallets", 10, "#,##0", summed=True),
        Column("note", "Note", 24),
    ]
    about = takeoff.job.job
    write_title(
        sheet,
        "List for the supplier",
        " · ".join(t for t in (about.company, about.name, takeoff.product.product.name) if t)
        or "Stone veneer",
        columns,
    )
    rows: list[Row] = [
        {
            "item": line.item,
            "packages": Formula(
                f'IF({inputs.of(line, "by")}="{OTHERS}","",{table.cell("packages", n)})'
            ),
            "package": Formula(table.cell("package", n)),
            "per": Formula(table.cell("per", n)),
            "unit": UNITS[line.unit],
            "weight": Formula(table.cell("weight", n)),
            "kg": Formula(f'IF({{weight}}="","",{{weight}}*{POUND_KG!r})'),
            "pallets": Formula(
                f'IF(OR({{packages}}="",N({inputs.of(line, "pallet")})=0),"",ROUNDUP(ROUND({{packages}}/{inputs.of(line, "pallet")},6),0))'
            ),
            "note": Formula(
                f'IF({inputs.of(line, "by")}="{OTHERS}","by others: not in this order","")'
            ),
        }
        for n, line in enumerate(order.lines)
    ]
    placed = place(sheet, HEADER, columns, rows, empty="nothing to order", total=True)
    align_words(sheet, placed, ("package", "note"))
    row = _lines_to_fill(sheet, placed.last + 3, len(columns))
    finish(sheet, takeoff, placed, last_row=row, filtered=False, one_page=len(rows) <= 40)
    sheet.page_setup.orientation = "portrait"
    return placed


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


def add_labour(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    walls_net: str,
    supplier: PlacedTable,
    quantities: Quantities,
) -> PlacedTable:
    """Hours and cost of labour, days of the crew, weight of the deliveries, dead load."""
    sheet = sheet_of(book, "Labor")
    money, show = order.currency, takeoff.job.output.display
    columns = [
        Column("what", "Work", 34),
        Column("quantity", "Quantity", 12, _MONEY),
        Column("unit", "Unit", 10),
        Column("each", "Hours each", 12, "0.###"),
        Column("hours", "Hours", 12, _MONEY, summed=True),
        Column("cost", f"Cost\n{money}".strip(), 14, _MONEY),
        Column("why", "Why this number", WHY),
    ]
    write_title(
        sheet,
        "Labor and deliveries",
        "Hours = quantity x hours each, cost = hours x wage, each rounded once. Hours, "
        "wage and crew stand on the sheet Inputs.",
        columns,
    )
    rows: list[Row] = []
    for n, work in enumerate(order.labour):
        hand = inputs.labour.cell("hand", n)
        rows.append(
            {
                "what": say(work.what, show),
                "quantity": Formula(f'IF({hand}="",{_done(work, takeoff, quantities)},{hand})'),
                "unit": work.unit,
                "each": Formula(inputs.labour.cell("hours", n)),
                **work_formulas(),
                "why": Formula(
                    f'IF({hand}="",{_quoted(say(work.why, show))},"override, on the sheet Inputs")'
                ),
            }
        )
    placed = place(sheet, HEADER, columns, rows, total=True)
    align_words(sheet, placed, ("why",))
    write_labour_total(sheet, placed)
    row = placed.last + 3
    facts = _facts(takeoff, order, inputs, placed, supplier, walls_net)
    write_note(sheet, row, "Deliveries and dead load", columns=len(columns), bold=True)
    table = place(
        sheet,
        row + 1,
        [
            Column("what", "What", 34),
            Column("value", "Amount", 12, _MONEY),
            Column("unit", "Unit", 10),
        ],
        facts,
    )
    write_note(sheet, table.last + 1, DEAD_LOAD, columns=len(columns), lines=2)
    finish(sheet, takeoff, placed, last_row=table.last + 1, filtered=False)
    return placed


def _done(work: LabourLine, takeoff: Takeoff, quantities: Quantities) -> str:
    """Formula text: how much work of a kind; without a plan, pieces follow the panels by area."""
    each = {} if takeoff.plan else {"flat": ("flat_panel", "1"), "corner": ("corner_panel", "2")}
    key, pieces = each.get(work.key, ("", ""))
    row = quantities.rows.get((key, "area"))
    return (
        repr(work.quantity) if row is None else f"{quantities.ways.cell('measured', row)}*{pieces}"
    )


def work_formulas() -> Row:
    """Hours and cost of one kind of work, by its quantity and hours each."""
    wage = NAMES["wage"]
    return {
        "hours": Formula("ROUND(ROUND(ROUND({quantity},6)*{each},6),2)"),
        "cost": Formula(f'IF({wage}="","",ROUND(ROUND({{hours}}*{wage},6),2))'),
    }


def write_labour_total(sheet: Worksheet, table: PlacedTable) -> None:
    """The sum of the cost of labour, where it is known, in the row of totals."""
    cell = sheet[f"{table.letters['cost']}{table.last + 1}"]
    put(cell, Formula(labour_sum(table)), _MONEY)
    style_total(cell)


def labour_sum(table: PlacedTable) -> str:
    """Formula text: cost of all labour, empty without a wage."""
    return f'IF({NAMES["wage"]}="","",{table.sum("cost")})'


def _quoted(text: str) -> str:
    """One of our own sentences as formula text."""
    return for_formula(text).replace("{", "{{").replace("}", "}}")


def _facts(
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    labour: PlacedTable,
    supplier: PlacedTable,
    walls_net: str,
) -> Iterable[Row]:
    yield {
        "what": "Days of the crew",
        "value": Formula(f"{labour.total('hours')}/({NAMES['crew']}*{NAMES['day']})"),
        "unit": "days",
    }
    yield {
        "what": "Net area of the walls",
        "value": Formula(walls_net),
        "unit": Display(takeoff.job.output.display).area_unit,
    }
    yield {
        "what": Strong("Weight of all deliveries"),
        "value": Formula(supplier.total("weight")),
        "unit": "lb",
    }
    yield {"what": "Pallets", "value": Formula(supplier.total("pallets")), "unit": "each"}
    flat = next((line for line in order.lines if line.key == "flat_panel"), None)
    if flat is not None:
        face = square_feet(takeoff.product.coverage_area)
        per, each = inputs.of(flat, "per"), inputs.of(flat, "weight")
        yield {
            "what": Strong("Dead load of flat panels"),
            "value": Formula(f'IF(N({each})=0,"not known",{each}/({per}*{face!r}))'),
            "unit": "lb/sq ft",
        }
