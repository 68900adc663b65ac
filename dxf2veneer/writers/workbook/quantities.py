"""The sheet of quantities: every item in each way it was counted, and below it the rows it was
counted from.

A source that another sheet holds is a link to it, so that a corrected wall, opening or corner
corrects the order. What was cut from pieces of stock length, or laid out piece by piece, is a count
that no formula can redo: its sources stand beside it for reading.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from openpyxl.workbook import Workbook

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.goods import METRIC, ItemUnit
from dxf2veneer.model import Order, OrderLine, OrderPart, OrderSource, Reckoning, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import Column, Display, Formula, Row, Value
from dxf2veneer.writers.workbook.input_items import NAMES, OTHERS, UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.links import Links
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import widen, write_note, write_title

_BY_RUN = (
    "corner_panel",
    "starter_strip",
    "starter_fastener",
    "cap_stone",
    "cap_fastener",
    "head_stone",
    "jamb_stone",
    "sill_stone",
)
"""Items that are so many for a foot of run when they are counted by run."""
_SUMMED = {
    ("flat_panel", "layout"),
    ("corner_panel", "layout"),
    ("panel_fastener", "layout"),
    ("fixture_block", "layout"),
    ("caulk", "area"),
    *((item, mode) for item in ("lath", "flashing", "adhesive") for mode in ("layout", "area")),
}
"""Items that in a way of counting are the sum of their sources."""


@dataclass(frozen=True)
class Quantities:
    """Where each way of counting an item stands."""

    ways: PlacedTable
    rows: Mapping[tuple[str, str], int]
    """(item's key, way) to its row, counted from 0."""

    def of(self, line: OrderLine, mode: str, column: str) -> str | None:
        """A cell of an item's way, for a formula on any sheet; None where the item is not counted
        so."""
        row = self.rows.get((line.key, mode))
        return None if row is None else self.ways.cell(column, row)


def needed(measured: str, allowance: str) -> str:
    """Formula text: measured and so many per cent more.

    Args:
        measured: Formula text of what was measured.
        allowance: Formula text of the per cent added.

    Returns:
        The formula.
    """
    return f"{measured}*(1+{allowance}/100)"


def allowance(line: OrderLine, mode: str, inputs: Inputs) -> str:
    """Formula text: per cent added to an item counted in one way.

    Args:
        line: The item.
        mode: The way of counting.
        inputs: Where the inputs stand.

    Returns:
        The input; where that says so, what course plans of this order's walls took and breakage.
    """
    given = inputs.of(line, mode)
    usual = next((way.usual_pct for way in line.ways if way.mode == mode), None)
    if usual is None:
        return given
    took = f"ROUND({100.0 + usual!r}*(1+{NAMES['breakage']}/100)-100,6)"
    return f"IF(ISNUMBER({given}),{given},{took})"


def packages(needed_cell: str, line: OrderLine, inputs: Inputs) -> str:
    """Formula text: whole packages, rounded up once for the job.

    Args:
        needed_cell: The cell of what is needed.
        line: The item.
        inputs: Where the inputs stand.

    Returns:
        The formula. The quotient is rounded to 6 places first, as (1.1-1)*10 is a hair more than 1.
    """
    return f"ROUNDUP(ROUND({needed_cell}/{inputs.of(line, 'per')},6),0)"


def cost(packages_cell: str, line: OrderLine, inputs: Inputs) -> str:
    """Formula text: cost to the cent; empty where the price is missing or others supply it.

    Args:
        packages_cell: The cell of the packages.
        line: The item.
        inputs: Where the inputs stand.

    Returns:
        The formula; empty where the price is missing or others supply it.
    """
    price, per, price_of, by = (inputs.of(line, key) for key in ("price", "per", "price_of", "by"))
    amount = f'{packages_cell}*IF({price_of}="unit",{per},1)*{price}'
    return f'IF(OR({by}="{OTHERS}",{price}=""),"",ROUND(ROUND({amount},6),2))'


def weight(packages_cell: str, line: OrderLine, inputs: Inputs) -> str:
    """Formula text: weight of the packages; empty where others supply them or no weight is known.

    Args:
        packages_cell: The cell of the packages.
        line: The item.
        inputs: Where the inputs stand.

    Returns:
        The formula; empty where others supply them or no weight is known.
    """
    each, by = inputs.of(line, "weight"), inputs.of(line, "by")
    return f'IF(OR({by}="{OTHERS}",{each}=""),"",{packages_cell}*{each})'


def add_quantities(
    book: Workbook, takeoff: Takeoff, order: Order, display: Display, inputs: Inputs, links: Links
) -> Quantities:
    """Fill the sheet of quantities.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order.
        display: Units of the sheets.
        inputs: Where the inputs stand.
        links: Formulas from one sheet to another.

    Returns:
        Where the quantities stand.
    """
    sheet = sheet_of(book, "Quantities")
    columns = _columns(order.currency, weight_unit(takeoff))
    note = (
        "Each item by layout (piece by piece, breakage added) and by area or run (scrap "
        "added). Quantities in the units that the goods are sold in. "
        "Sources that another sheet holds are linked: correct them there."
    )
    write_title(sheet, "Quantities", note, columns)
    listed = [(line, way) for line in order.lines for way in line.ways]
    first = HEADER + max(1, len(listed)) + 4
    spans = _spans(listed, first)
    rows: dict[tuple[str, str], int] = {
        (line.key, way.mode): n for n, (line, way) in enumerate(listed)
    }
    measured = _Measured(takeoff, spans, {key: f"C{HEADER + 1 + n}" for key, n in rows.items()})
    ways = place(
        sheet,
        HEADER,
        columns,
        [_way(line, way, inputs, measured, display) for line, way in listed],
        empty="nothing to order",
    )
    write_note(
        sheet, first - 2, "What each number was counted from", columns=len(columns), bold=True
    )
    sources = [
        _source(line, way, source, link, display)
        for line, way in listed
        for source, link in zip(way.sources, links.of(line, way, display), strict=True)
    ]
    width = sheet.column_dimensions["G"].width
    last = place(sheet, first - 1, _source_columns(), sources, empty="nothing").last
    sheet.column_dimensions["G"].width = width
    widen(sheet, range(first - 1, last + 1), 7, len(columns))
    finish(sheet, takeoff, ways, last_row=last, filtered=False)
    return Quantities(ways, rows)


def _columns(currency: str, weight: str) -> list[Column]:
    return [
        Column("item", "Item", 30),
        Column("mode", "Way", 10),
        Column("measured", "Measured", 12, "#,##0.00"),
        Column("unit", "Unit", 9),
        Column("allowance", "Allowance\n%", 11, "#,##0.##"),
        Column("needed", "Needed", 12, "#,##0.00"),
        Column("packages", "Packages", 11, "#,##0"),
        Column("cost", f"Cost\n{currency}".strip(), 12, "#,##0.00"),
        Column("weight", f"Weight\n{weight}", 11, "#,##0.0"),
        Column("why", "Why this number", 86),
    ]


def _source_columns() -> list[Column]:
    return [
        Column("item", "Item", 30),
        Column("mode", "Way", 10),
        Column("value", "Quantity", 12, "#,##0.00"),
        Column("unit", "Unit", 9),
        Column("ref", "Where", 11),
        Column("sheet", "Linked to", 12),
        Column("what", "What was taken of it", 90),
    ]


def _way(
    line: OrderLine, way: Reckoning, inputs: Inputs, measured: _Measured, display: Display
) -> Row:
    return {
        "item": say(line.item, display.name),
        "mode": way.mode,
        "measured": measured.of(line, way),
        "unit": UNITS[line.unit],
        "allowance": Formula(allowance(line, way.mode, inputs)),
        "needed": Formula(needed("{measured}", "{allowance}")),
        "packages": Formula(packages("{needed}", line, inputs)),
        "cost": Formula(cost("{packages}", line, inputs)),
        "weight": Formula(weight("{packages}", line, inputs)),
        "why": say(way.why, display.name),
    }


def _source(
    line: OrderLine,
    way: Reckoning,
    source: OrderSource,
    link: tuple[str, str],
    display: Display,
) -> Row:
    sheet, text = link
    return {
        "item": say(line.item, display.name),
        "mode": way.mode,
        "value": Formula(text) if text else source.value,
        "unit": UNITS[source.unit],
        "ref": source.ref,
        "what": say(source.what, display.name),
        "sheet": sheet,
    }


def _spans(
    listed: list[tuple[OrderLine, Reckoning]], first: int
) -> dict[tuple[str, str], tuple[int, int]]:
    """First and last row of each way's sources."""
    spans: dict[tuple[str, str], tuple[int, int]] = {}
    row = first
    for line, way in listed:
        if way.sources:
            spans[line.key, way.mode] = (row, row + len(way.sources) - 1)
            row += len(way.sources)
    return spans


@dataclass(frozen=True)
class _Measured:
    """Measured quantities as formulas over the rows of their sources, where a formula says them."""

    takeoff: Takeoff
    spans: Mapping[tuple[str, str], tuple[int, int]]
    cells: Mapping[tuple[str, str], str]

    def of(self, line: OrderLine, way: Reckoning) -> Value:
        """The formula, or the number where it was counted piece by piece, with what was added by
        hand."""
        counted = self._counted(line, way)
        if isinstance(counted, Formula) and way.added:
            return Formula(f"{counted.text}+{way.added!r}")
        return counted

    def _counted(self, line: OrderLine, way: Reckoning) -> Value:
        """The formula of what was counted, or the whole number where there is none."""
        span = self.spans.get((line.key, way.mode))
        if span is None:
            return way.measured
        item = line.item_key
        summed = f"SUM(C{span[0]}:C{span[1]})"
        if (item, way.mode) in _SUMMED:
            return Formula(summed)
        if way.mode == "layout":
            return way.measured
        return self._by_area(line, way, span, summed)

    def _by_area(
        self, line: OrderLine, way: Reckoning, span: tuple[int, int], summed: str
    ) -> Value:
        """The formula of an item counted by area or run."""
        item = line.item_key
        if item in ("flat_panel", "panel_fastener") and self.takeoff.job.order.additions:
            return way.measured  # these follow from panels, which may hold what was added by hand
        if item == "flat_panel":
            part = "" if line.color_share == 1.0 else f"*{line.color_share!r}"
            return Formula(self._flat(summed) + part)
        if item == "panel_fastener":
            return Formula(self._fasteners())
        if item == "wrb":
            return Formula(self._barrier(span))
        if way.parts:
            return Formula(_by_parts(way.parts, span[0]))
        total = math.fsum(s.value for s in way.sources)
        if item in _BY_RUN and total:
            return Formula(f"{summed}*{(way.measured - way.added) / total!r}")
        return way.measured

    def _flat(self, net: str) -> str:
        """Net area less what corner pieces cover, over a panel's face."""
        product = self.takeoff.product
        one = METRIC["sqft"][1] if product.is_metric else 1.0
        each = one * square_feet(product.corner.length * product.panel.height)
        corners, face = self._area_of("corner_panel"), one * square_feet(product.coverage_area)
        return f"({net}-MIN({net},{corners}*{each!r}))/{face!r}"

    def _area_of(self, item: str) -> str:
        """Formula text of an item's quantity by area, all colors together."""
        own = [
            cell
            for (key, mode), cell in self.cells.items()
            if mode == "area" and key.partition(" ")[0] == item
        ]
        return own[0] if len(own) == 1 else f"({'+'.join(own) or '0'})"

    def _fasteners(self) -> str:
        """So many for a flat panel, so many for each half of a corner panel."""
        product = self.takeoff.product
        rule = product.goods.panel_fastener
        each = rule.long if product.corner.length / 2.0 >= rule.long_from - 1e-6 else rule.short
        flat, corner = (self._area_of(key) for key in ("flat_panel", "corner_panel"))
        return f"{flat}*{rule.long!r}+{corner}*{2.0 * each!r}"

    def _barrier(self, span: tuple[int, int]) -> str:
        """Gross area with the laps of a roll, and an overlap along the corners."""
        roll = self.takeoff.product.goods.wrb
        length = roll.per_package * 144.0 / roll.width
        laps = roll.width / (roll.width - roll.lap_level) * length / (length - roll.lap_upright)
        unit, value = (f"{letter}{span[0]}:{letter}{span[1]}" for letter in "DC")
        is_metric = self.takeoff.product.is_metric
        units: tuple[ItemUnit, ...] = ("m2", "m") if is_metric else ("sqft", "ft")
        gross, corners = (f'SUMIFS({value},{unit},"{UNITS[name]}")' for name in units)
        lap = roll.lap_corner / 12.0 * (METRIC["ft"][1] if is_metric else 1.0)
        return f"{roll.layers!r}*({gross}*{laps!r}+{corners}*{lap!r})"


def _by_parts(parts: Sequence[OrderPart], first: int) -> str:
    """Each part by its own run; their sources stand one after the other from row ``first``."""
    terms = []
    for part in parts:
        last = first + len(part.sources) - 1
        total = math.fsum(s.value for s in part.sources)
        if total:
            terms.append(f"SUM(C{first}:C{last})*{part.measured / total!r}")
        first = last + 1
    return "+".join(terms) or "0"
