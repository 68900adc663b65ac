"""The sheet of labor and deliveries.

Work | quantity | hours | cost; days of the crew; weight of the deliveries, dead load.
"""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.goods import METRIC
from dxf2veneer.model import LabourLine, Order, OrderLine, Takeoff
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.writers.basis import by_invented
from dxf2veneer.writers.workbook.cells import PlacedTable, place, put, sheet_of, style_total
from dxf2veneer.writers.workbook.columns import MONEY, Column, Display, Formula, Row, Strong
from dxf2veneer.writers.workbook.computed import stale
from dxf2veneer.writers.workbook.input_items import NAMES, UNITS, weight_of, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.order import STALE, align_words
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.quantities import Quantities
from dxf2veneer.writers.workbook.scope import scope_key

_WHY = 56
"""Characters across the column that says why."""
NOT_GIVEN = "not given"
"""What stands for a load by an invented weight."""
DEAD_LOAD = (
    "Dead load: information for the designer, not a proof of anything. Whether the wall, "
    "its fastening and its support carry it is for "
    "the local code, the panel maker's instructions and a registered design professional to say."
)

_NOTE = (
    "Hours = quantity x hours each; cost = hours x wage, or quantity x money for one where that is "
    "given; each rounded once. Rates, wage and crew stand on the sheet Inputs. What has no rate is "
    f"in no sum. {caution_for(Reader.INSTALLER, Reader.CARRIER)}"
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
    quantities: Quantities,
    supplier: PlacedTable,
) -> PlacedTable:
    """Hours and cost of labor, days of the crew, weight of the deliveries, dead load.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        inputs: Where the inputs stand.
        walls: Where the walls stand.
        quantities: Where the quantities stand.
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
        Column("rate", "Money\nfor one", 12, "#,##0.00##"),
        Column("cost", f"Cost\n{order.currency}".strip(), 14, MONEY),
        Column("why", "Why this number", _WHY),
    ]
    write_title(sheet, "Labor and deliveries", _NOTE, columns)
    rows = [_work(n, work, inputs, takeoff, quantities) for n, work in enumerate(order.labour)]
    placed = place(sheet, HEADER, columns, rows, total=True)
    align_words(sheet, placed, ("why",))
    write_labour_total(sheet, placed)
    row = placed.last + 3
    net = walls.sum_where("net", **{scope_key(0): '"yes"'})
    facts = _facts(takeoff, order, inputs, placed, supplier, net)
    write_note(sheet, row, "Deliveries and dead load", columns=len(columns), bold=True)
    table = place(sheet, row + 1, _FACTS, facts)
    write_note(sheet, table.last + 1, DEAD_LOAD, columns=len(columns), lines=2)
    finish(sheet, takeoff, placed, last_row=table.last + 1, filtered=False)
    return placed


def work_inputs(inputs: Inputs, number: int) -> Row:
    """Hours each and money for one of a kind of work, as the inputs say.

    Args:
        inputs: Where the inputs stand.
        number: The work, from 0.

    Returns:
        Formulas by the key of their column; empty where the input is.
    """
    cells = {
        key: inputs.labour.cell(of, number) for key, of in (("each", "hours"), ("rate", "rate"))
    }
    return {key: Formula(f'IF({cell}="","",{cell})') for key, cell in cells.items()}


def _work(
    number: int, work: LabourLine, inputs: Inputs, takeoff: Takeoff, quantities: Quantities
) -> Row:
    """The row of one kind of work."""
    override = inputs.labour.cell("hand", number)
    show = takeoff.job.output.display
    told = _quoted(say(work.why, show))
    if not work.rates and work.key != "opening":
        told = f'IF({stale(0)}>0,"{STALE}: ","")&{told}'
    why = f'IF({override}="",{told},"override, on the sheet Inputs")'
    return {
        "what": say(work.what, show),
        "quantity": Formula(f'IF({override}="",{quantities.work(work)},{override})'),
        "unit": UNITS.get(work.unit, work.unit),
        **work_inputs(inputs, number),
        **work_formulas(),
        "why": Formula(why),
    }


NO_RATE = "no rate"
"""What stands for the cost of work that nobody gave a rate."""


def work_formulas() -> Row:
    """Hours and cost of one kind of work, by its quantity and hours each or money for one.

    Returns:
        Formulas by the key of their column.
    """
    wage, many = NAMES["wage"], "ROUND({quantity},6)"
    by_hours = f'IF({wage}="","",ROUND(ROUND({{hours}}*{wage},6),2))'
    none = f'IF({many}=0,0,"{NO_RATE}")'
    paid = f"ROUND(ROUND({many}*{{rate}},6),2)"
    return {
        "hours": Formula(f"ROUND(ROUND({many}*N({{each}}),6),2)"),
        "cost": Formula(f'IF({{rate}}<>"",{paid},IF({{each}}="",{none},{by_hours}))'),
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
    """Formula text: cost of all labor that has a rate.

    Args:
        table: The table.

    Returns:
        The formula; empty where a wage is missing.
    """
    unknown = f'SUMPRODUCT(--({table.range("cost")}=""))'
    return f'IF({unknown}>0,"",{table.sum("cost")})'


def unrated(table: PlacedTable) -> str:
    """Formula text: how many kinds of work have no rate.

    Args:
        table: The table.

    Returns:
        The formula.
    """
    return f'COUNTIF({table.range("cost")},"{NO_RATE}")'


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
        "what": Strong(f"Weight of deliveries{by_invented(order)}"),
        "value": Formula(supplier.total("weight")),
        "unit": weight_unit(takeoff),
    }
    yield {"what": "Pallets", "value": Formula(supplier.total("pallets")), "unit": "each"}
    flat: dict[str, OrderLine] = {}
    for line in order.lines:
        if line.item_key == "flat_panel":
            flat.setdefault(line.product, line)
    for name, line in flat.items():
        part = next((p for p in takeoff.parts if p.name == name), None)
        product = part.product if part else takeoff.product
        unit, face = weight_unit(takeoff), square_feet(product.coverage_area)
        if unit == "kg":
            face *= METRIC["sqft"][1]
        per, each = inputs.of(line, "per"), inputs.of(line, "weight")
        yield {
            "what": Strong(f"Dead load of flat panels{f', {name}' if name else ''}"),
            "value": Formula(_load(line, takeoff, per, each, face)),
            "unit": "kg/m²" if unit == "kg" else "lb/sq ft",
        }


def _load(line: OrderLine, takeoff: Takeoff, per: str, each: str, face: float) -> str:
    """Formula text: weight on a unit of wall. A number that nobody gave makes none until it is
    changed by hand."""
    invented = {"per_package": (per, line.per_package), "weight": (each, weight_of(line, takeoff))}
    same = [f"{cell}={value!r}" for key, (cell, value) in invented.items() if key in line.invented]
    load = f"{each}/({per}*{face!r})"
    if same:
        load = f'IF(OR({",".join(same)}),"{NOT_GIVEN}",{load})'
    return f'IF(N({each})=0,"not known",{load})'
