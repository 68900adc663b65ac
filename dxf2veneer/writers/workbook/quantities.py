"""The sheet of quantities: every item in each way it was counted, and below it the rows it was
counted from.

A source that another sheet holds is a link to it, so that a corrected wall, opening or corner
corrects the order. What was cut from pieces of stock length, or laid out piece by piece, is a count
that no formula can redo: its sources stand beside it for reading.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from openpyxl.utils import quote_sheetname
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import LabourLine, OrderLine, Reckoning, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import PlacedTable, place, put, sheet_of
from dxf2veneer.writers.workbook.columns import Column, Display, Formula, Row
from dxf2veneer.writers.workbook.counting import Sources
from dxf2veneer.writers.workbook.input_items import NAMES, OTHERS, UNITS, weight_unit
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.links import into
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import widen, write_note, write_title
from dxf2veneer.writers.workbook.reckoned import Measured
from dxf2veneer.writers.workbook.scope import measure_of_walls
from dxf2veneer.writers.workbook.subjects import Subject


@dataclass(frozen=True)
class Usual:
    """What course plans took beyond panels by area, and breakage with it."""

    cell: str
    """The cell of what they took for the walls of the order."""
    breakages: Mapping[str, str]
    """Formula text of the breakage of a product, by its name."""

    def allowance(self, line: OrderLine, mode: str) -> str | None:
        """Formula text: per cent added to an item counted in one way; None where course plans do
        not say."""
        pct = next((way.usual_pct for way in line.ways if way.mode == mode), None)
        if pct is None:
            return None
        took = repr(pct) if line.product else self.cell
        breakage = self.breakages.get(line.product, NAMES["breakage"])
        return f"ROUND((100+{took})*(1+{breakage}/100)-100,6)"


@dataclass(frozen=True)
class Quantities:
    """Where each way of counting an item stands."""

    ways: PlacedTable
    rows: Mapping[tuple[str, str], int]
    """(item's key, way) to its row, counted from 0."""
    usual: Usual
    """What course plans of these walls took."""
    spans: Mapping[str, tuple[int, int]]
    """First and last row of the sources of a kind of work, by its key."""
    measures: Mapping[str, str]
    """Formula text of work that is a measure of the walls, by its key."""
    number: int
    """0 for the bid's own, from 1 for alternates."""
    stays: bool
    """Whether it stays as computed when walls are changed by hand."""

    def of(self, line: OrderLine, mode: str, column: str) -> str | None:
        """A cell of an item's way, for a formula on any sheet; None where the item is not counted
        so."""
        row = self.rows.get((line.key, mode))
        return None if row is None else self.ways.cell(column, row)

    def chosen(self, line: OrderLine, column: str, inputs: Inputs, *, other: bool = False) -> str:
        """Formula text: a cell of the way by which an item is counted.

        Args:
            line: The item.
            column: Key of the column.
            inputs: Where the inputs stand, which say the way.
            other: Whether the other way is meant.

        Returns:
            The formula text; an empty text where there is no other way.
        """
        layout, area = (self.of(line, way, column) for way in ("layout", "area"))
        if layout is None or area is None:
            return '""' if other else layout or area or "0"
        yes, no = (layout, area) if other else (area, layout)
        return f'IF({inputs.of(line, "mode")}="area",{yes},{no})'

    def work(self, work: LabourLine) -> str:
        """Formula text: how much work there is of a kind."""
        more = f"+{work.added!r}" if work.added else ""
        if work.key in self.measures:
            return f"ROUND({self.measures[work.key]}{more},6)" if more else self.measures[work.key]
        span = self.spans.get(work.key)
        if span is None:
            return repr(work.quantity)
        total = f"SUM({quote_sheetname(self.ways.sheet)}!$C${span[0]}:$C${span[1]})"
        return f"ROUND(ROUND({total},6),0){more}" if work.rates else f"{total}{more}"


def needed(measured: str, allowance: str) -> str:
    """Formula text: measured and so many per cent more.

    Args:
        measured: Formula text of what was measured.
        allowance: Formula text of the per cent added.

    Returns:
        The formula.
    """
    return f"{measured}*(1+{allowance}/100)"


def allowance(line: OrderLine, mode: str, inputs: Inputs, usual: Usual) -> str:
    """Formula text: per cent added to an item counted in one way.

    Args:
        line: The item.
        mode: The way of counting.
        inputs: Where the inputs stand.
        usual: What course plans of this order's walls took.

    Returns:
        The input; where that says so, what course plans of this order's walls took and breakage.
    """
    given = inputs.of(line, mode)
    took = usual.allowance(line, mode)
    return given if took is None else f"IF(ISNUMBER({given}),{given},{took})"


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
    paid = f'IF({price}="",IF({packages_cell}=0,0,""),ROUND(ROUND({amount},6),2))'
    return f'IF({by}="{OTHERS}","",{paid})'


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
    book: Workbook, takeoff: Takeoff, currency: str, inputs: Inputs, counted: Sources
) -> Quantities:
    """Fill a sheet of quantities.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        currency: Currency of the prices.
        inputs: Where the inputs stand.
        counted: What the quantities of an order were counted from.

    Returns:
        Where the quantities stand.
    """
    subject, display = counted.subject, counted.display
    sheet = sheet_of(book, subject.title)
    columns = _columns(currency, weight_unit(takeoff))
    about = f"{subject.name}: " if subject.name else ""
    note = (
        f"{about}each item by layout (piece by piece, breakage added) and by area or run (scrap "
        "added). Quantities in the units that the goods are sold in. "
        "Sources that another sheet holds are linked: correct them there."
    )
    write_title(sheet, subject.title, note[0].upper() + note[1:], columns)
    listed = [(line, way) for line in subject.lines for way in line.ways]
    first = HEADER + max(1, len(listed)) + 5
    sources, spans, work = _listed(listed, subject, counted, first)
    rows: dict[tuple[str, str], int] = {
        (line.key, way.mode): n for n, (line, way) in enumerate(listed)
    }
    cells = {key: f"C{HEADER + 1 + n}" for key, n in rows.items()}
    measured = Measured(subject, inputs, spans, cells)
    usual = Usual(f"{quote_sheetname(sheet.title)}!$E${first - 4}", _breakages(takeoff, subject))
    ways = place(
        sheet,
        HEADER,
        columns,
        [_way(line, way, inputs, measured, display, usual) for line, way in listed],
        empty="nothing to order",
    )
    _write_usual(sheet, first - 4, takeoff, subject, measured)
    write_note(
        sheet, first - 2, "What each number was counted from", columns=len(columns), bold=True
    )
    width = sheet.column_dimensions["G"].width
    last = place(sheet, first - 1, _source_columns(), sources, empty="nothing").last
    sheet.column_dimensions["G"].width = width
    widen(sheet, range(first - 1, last + 1), 7, len(columns))
    finish(sheet, takeoff, ways, last_row=last, filtered=False)
    behind = all(one.barrier is not False for one in takeoff.job.walls.treatments)
    measures = _measures(subject, display, ways, rows, behind) if subject.follows else {}
    return Quantities(ways, rows, usual, work, measures, subject.number, subject.stays)


def _breakages(takeoff: Takeoff, subject: Subject) -> dict[str, str]:
    """Formula text of each product's own breakage, by its name."""
    own = {p.name: p.job.order.breakage for p in subject.parts}
    return {name: repr(pct) for name, pct in own.items() if pct != takeoff.job.order.breakage}


def _measures(
    subject: Subject,
    display: Display,
    ways: PlacedTable,
    rows: Mapping[tuple[str, str], int],
    behind_all: bool,
) -> dict[str, str]:
    """Work that is a measure of the walls or as long as the caulk, by its key; ``behind_all`` where
    every wall has a barrier."""
    found = {}
    for work in subject.labour:
        is_gross = work.measure == "barrier_area" and behind_all
        measure = "gross_area" if is_gross else work.measure
        text = measure_of_walls(measure, subject.scope.walls, display, work.unit, subject.number)
        if work.measure == "caulk_run" and ("caulk", "area") in rows:
            text = _caulk_run(subject, ways.cell("measured", rows["caulk", "area"]), work.unit)
        if text:
            found[work.key] = text
    return found


def _caulk_run(subject: Subject, measured: str, unit: str) -> str:
    """Formula text: the caulk's run in a unit, without what was added by hand."""
    ways = [w for line in subject.lines if line.key == "caulk" for w in line.ways]
    added = math.fsum(way.added for way in ways if way.mode == "area")
    joints = f"({measured}-{added!r})" if added else measured
    goods = Display("metric" if subject.product.is_metric else "imperial")
    return f"ROUND({joints}{into(unit, goods)},6)"


def _listed(
    listed: list[tuple[OrderLine, Reckoning]], subject: Subject, counted: Sources, first: int
) -> tuple[list[Row], dict[tuple[str, str], tuple[int, int]], dict[str, tuple[int, int]]]:
    """The rows of the sources from a row on, and which of them are whose."""
    rows: list[Row] = []
    spans: dict[tuple[str, str], tuple[int, int]] = {}
    work: dict[str, tuple[int, int]] = {}
    for line, way in listed:
        if way.sources:
            start = first + len(rows)
            spans[line.key, way.mode] = (start, start + len(way.sources) - 1)
            rows += counted.of_way(line, way)
    for done in subject.labour:
        own = counted.of_work(done)
        if own:
            work[done.key] = (first + len(rows), first + len(rows) + len(own) - 1)
            rows += own
    return rows, spans, work


def _write_usual(
    sheet: Worksheet, row: int, takeoff: Takeoff, subject: Subject, measured: Measured
) -> None:
    """What course plans of these walls took beyond panels by area and corner run."""
    ways = [way for line in subject.lines for way in line.ways if way.usual_pct is not None]
    ways = [] if subject.parts else ways  # each product's own stands with its allowances
    flat = next((n.key for n in subject.lines if n.item_key == "flat_panel"), "")
    rates = [w.rate for w in takeoff.estimate.walls] if subject.follows else []
    text = measured.usual(measured.spans.get((flat, "area")), rates) if ways else None
    put(sheet[f"A{row}"], "What course plans of such walls took beyond" if ways else None)
    if ways:
        value = Formula(text) if text else ways[0].usual_pct
        put(sheet[f"E{row}"], value, "#,##0.##")


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
    line: OrderLine,
    way: Reckoning,
    inputs: Inputs,
    measured: Measured,
    display: Display,
    usual: Usual,
) -> Row:
    return {
        "item": say(line.item, display.name),
        "mode": way.mode,
        "measured": measured.of(line, way),
        "unit": UNITS[line.unit],
        "allowance": Formula(allowance(line, way.mode, inputs, usual)),
        "needed": Formula(needed("{measured}", "{allowance}")),
        "packages": Formula(packages("{needed}", line, inputs)),
        "cost": Formula(cost("{packages}", line, inputs)),
        "weight": Formula(weight("{packages}", line, inputs)),
        "why": say(way.why, display.name),
    }
