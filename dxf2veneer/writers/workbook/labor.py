"""The sheet of labor and deliveries.

Work | quantity | hours | cost; days of the crew; weight of the deliveries, dead load.
"""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.units import SQUARE_FEET_PER_SQUARE_METER, square_feet
from dxf2veneer.model import LabourLine, Order, Takeoff
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import PlacedTable, place, put, sheet_of, style_total
from dxf2veneer.writers.workbook.columns import MONEY, Column, Display, Formula, Row, Strong
from dxf2veneer.writers.workbook.input_items import NAMES
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import WHY, align_words
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.weighted import weighted

DEAD_LOAD = (
    "Dead load: information for the designer, not a proof of anything. Whether the wall, "
    "its fastening and its support carry it is for "
    "the local code, the panel maker's instructions and a registered design professional to say."
)

_NOTE = (
    "Hours = quantity x hours each, cost = hours x wage, each rounded once. Hours, wage and crew "
    "stand on the sheet Inputs."
)
_FACTS = (
    Column("what", "What", 34),
    Column("value", "Amount", 12, MONEY),
    Column("unit", "Unit", 10),
)


def add_labour(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    walls: PlacedTable,
    supplier: PlacedTable,
) -> PlacedTable:
    """Hours and cost of labor, days of the crew, weight of the deliveries, dead load.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        inputs: Where the inputs stand.
        walls: Where the walls stand.
        supplier: The supplier's list.

    Returns:
        Where the table of labor stands.
    """
    sheet = sheet_of(book, "Labor")
    columns = [
        Column("what", "Work", 34),
        Column("quantity", "Quantity", 12, MONEY),
        Column("unit", "Unit", 10),
        Column("each", "Hours each", 12, "0.###"),
        Column("hours", "Hours", 12, MONEY, summed=True),
        Column("cost", f"Cost\n{order.currency}".strip(), 14, MONEY),
        Column("why", "Why this number", WHY),
    ]
    write_title(sheet, "Labor and deliveries", _NOTE, columns)
    rows = [
        _work(work, inputs.labour.cell("hand", n), inputs.labour.cell("hours", n), takeoff, walls)
        for n, work in enumerate(order.labour)
    ]
    placed = place(sheet, HEADER, columns, rows, total=True)
    align_words(sheet, placed, ("why",))
    write_labour_total(sheet, placed)
    row = placed.last + 3
    facts = _facts(takeoff, order, inputs, placed, supplier, walls.sum("net"))
    write_note(sheet, row, "Deliveries and dead load", columns=len(columns), bold=True)
    table = place(sheet, row + 1, _FACTS, facts)
    write_note(sheet, table.last + 1, DEAD_LOAD, columns=len(columns), lines=2)
    finish(sheet, takeoff, placed, last_row=table.last + 1, filtered=False)
    return placed


def _work(work: LabourLine, override: str, hours: str, takeoff: Takeoff, walls: PlacedTable) -> Row:
    """The row of one kind of work; ``override`` and ``hours`` are its cells of the inputs."""
    show = takeoff.job.output.display
    why = f'IF({override}="",{_quoted(say(work.why, show))},"override, on the sheet Inputs")'
    done = _done(work, walls, Display(show))
    return {
        "what": say(work.what, show),
        "quantity": Formula(f'IF({override}="",{done},{override})'),
        "unit": work.unit,
        "each": Formula(hours),
        **work_formulas(),
        "why": Formula(why),
    }


def _done(work: LabourLine, walls: PlacedTable, display: Display) -> str:
    """Formula text: how much work of a kind; without a plan it follows the walls' net areas."""
    if not work.rates:
        return repr(work.quantity)
    per_hundred = SQUARE_FEET_PER_SQUARE_METER / 100.0 if display.is_metric else 0.01
    total = weighted(walls, "net", [rate * per_hundred for rate in work.rates])
    return repr(work.quantity) if total is None else f"ROUND(ROUND({total},6),0)"


def work_formulas() -> Row:
    """Hours and cost of one kind of work, by its quantity and hours each.

    Returns:
        Formulas by the key of their column.
    """
    wage = NAMES["wage"]
    return {
        "hours": Formula("ROUND(ROUND(ROUND({quantity},6)*{each},6),2)"),
        "cost": Formula(f'IF({wage}="","",ROUND(ROUND({{hours}}*{wage},6),2))'),
    }


def write_labour_total(sheet: Worksheet, table: PlacedTable) -> None:
    """The sum of the cost of labor, where it is known, in the row of totals.

    Args:
        sheet: The sheet.
        table: The table.
    """
    cell = sheet[f"{table.letters['cost']}{table.last + 1}"]
    put(cell, Formula(labour_sum(table)), MONEY)
    style_total(cell)


def labour_sum(table: PlacedTable) -> str:
    """Formula text: cost of all labor.

    Args:
        table: The table.

    Returns:
        The formula; empty without a wage.
    """
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
    flat = next((line for line in order.lines if line.item_key == "flat_panel"), None)
    if flat is not None:
        face = square_feet(takeoff.product.coverage_area)
        per, each = inputs.of(flat, "per"), inputs.of(flat, "weight")
        yield {
            "what": Strong("Dead load of flat panels"),
            "value": Formula(f'IF(N({each})=0,"not known",{each}/({per}*{face!r}))'),
            "unit": "lb/sq ft",
        }
