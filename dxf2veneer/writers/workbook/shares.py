"""The sheet of shares: cost, boxes, hours and price by wall, elevation and phase; deliveries.

    walls         net area | materials | labor | hours | price | boxes          live
    elevations    sums of their walls
    phases        sums of their walls, where the job has phases
    deliveries    packages of each phase                                        as computed
    causes        each wall's part of every item and of every kind of work

A wall's amount is the sum over items of cost x its part. The parts are the takeoff's, or nothing
where the wall is out of the bid. Of what goes by net or gross area they are that times what the
wall's area is now over what it was; pieces, cuts, openings and runs stay. Amounts are rounded as a
running total, so that they sum up to the price. So they follow the other sheets.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config import printing
from dxf2veneer.model import (
    Delivered,
    Delivery,
    ElevationShare,
    LabourLine,
    Order,
    OrderLine,
    OrderShare,
    Takeoff,
)
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.cells import (
    PlacedTable,
    place,
    put,
    put_text,
    sheet_of,
    style_header,
)
from dxf2veneer.writers.workbook.columns import MONEY, Column, Display, Formula, Row
from dxf2veneer.writers.workbook.computed import INPUTS, changed_name, stale
from dxf2veneer.writers.workbook.input_items import weight_unit
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title
from dxf2veneer.writers.workbook.scope import scope_key
from dxf2veneer.writers.workbook.summary_order import OrderCells

_NOTE = (
    "Each wall's part of cost, hours, boxes and price, rounded so that the parts sum up. "
    "Elevations and phases are sums of their walls. They follow prices, quantities, areas and "
    "what is in the bid; the deliveries below are as computed."
)
_PART = "0.0000"
_SUMMED = ("net", "materials", "labour", "hours", "price", "flat", "corner")
_PANELS = {"flat": "flat_panel", "corner": "corner_panel"}
_RUNNING = {"materials": "m", "labour": "l", "hours": "h", "price": "p"}
"""Amounts that are rounded as running totals, and the column of each before that."""
_KINDS = {"net area": "now", "gross area": "gross", "as computed": "is"}
"""What a wall's part of an item or of work goes by, and the column of it now over as computed."""
_LAID = ("flat", "corner", "cut", "partial")
"""Kinds of work that are counted piece by piece where there is a plan."""


@dataclass(frozen=True)
class _Sheet:
    """What the sheet is made from, and where its tables begin."""

    takeoff: Takeoff
    order: Order
    display: Display
    walls: PlacedTable
    cells: OrderCells
    causes: int
    """Row of the head of the table of causes."""

    @property
    def shares(self) -> Sequence[OrderShare]:
        return self.takeoff.shares

    def parts(self, kind: str, row: int) -> str:
        """Cells of the causes across all items, or all kinds of work, in a row from the head."""
        items, works = len(self.order.lines), len(self.order.labour)
        first = 2 if kind == "items" else 2 + items
        last = first + (items if kind == "items" else works) - 1
        at = self.causes + row
        return f"${get_column_letter(first)}${at}:${get_column_letter(last)}${at}"


def add_shares(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    walls: PlacedTable,
    cells: OrderCells,
) -> None:
    """Fill the sheet.

    Args:
        book: The workbook.
        takeoff: The takeoff, with its shares.
        order: Its order.
        display: Units of the sheets.
        walls: Where the walls stand.
        cells: Where the order stands.
    """
    sheet: Any = sheet_of(book, printing.SHARES)
    groups = [("By elevation", "Elevation", takeoff.elevations)]
    if takeoff.phases:
        groups.append(("By phase", "Phase", takeoff.phases))
    rows = sum(len(g) + 4 for _, _, g in groups)
    parcels = list(_parcels(order.deliveries, display, takeoff))
    at = HEADER + len(takeoff.shares) + 3
    made = _Sheet(takeoff, order, display, walls, cells, at + rows + len(parcels) + 6)
    columns = [*_columns("Wall", order, display), *_helpers()]
    printed = columns[: -len(_helpers())]
    write_title(sheet, printing.SHARES, _NOTE, printed)
    placed = place(sheet, HEADER, columns, _walls(made), empty="no walls", total=True)
    for title, head, parts in groups:
        write_note(sheet, at, title, columns=len(printed), bold=True)
        listed = [_group(made, one, placed) for one in parts]
        at = place(sheet, at + 1, _columns(head, order, display), listed, total=True).last + 3
    write_note(sheet, at, "Deliveries", columns=len(printed), bold=True)
    late = f"({changed_name(INPUTS)}+{stale(0)})"
    words = "STALE: packed before changes by hand. Put them into the job file and run the takeoff"
    write_note(sheet, at + 1, "", columns=len(printed))
    put(sheet.cell(at + 1, 1), Formula(f'IF({late}>0,"{words}","As computed.")'))
    last = place(sheet, at + 2, _delivery_columns(order, takeoff), parcels).last
    _causes(sheet, made)
    finish(
        sheet, takeoff, placed, last_row=last, filtered=False, printed_to=printed[-1].key,
    )  # fmt: skip


def _columns(first: str, order: Order, display: Display) -> list[Column]:
    money = f"\n{order.currency}" if order.currency else ""
    return [
        Column("wall", first, 20),
        Column("name", "Elevation" if first == "Wall" else "Walls", 24),
        Column("phase", "Phase" if first == "Wall" else "How many", 14),
        Column("net", f"Net\n{display.area_unit}", 11, MONEY, summed=True),
        Column("materials", f"Materials{money}", 12, MONEY, summed=True),
        Column("labour", f"Labor{money}", 12, MONEY, summed=True),
        Column("hours", "Hours", 9, MONEY, summed=True),
        Column("price", f"Price{money}", 13, MONEY, summed=True),
        Column("flat", "Flat\npanels, boxes", 12, MONEY, summed=True),
        Column("corner", "Corner\npanels, boxes", 12, MONEY, summed=True),
    ]


def _helpers() -> list[Column]:
    """Columns for the screen: in the bid or not, how large now, and amounts before rounding."""
    heads = {"is": "In the\nbid", "now": "Net, now / as\ncomputed",
             "gross": "Gross, now / as\ncomputed", "m": "Materials,\nexact", "l": "Labor,\nexact",
             "h": "Hours,\nexact", "p": "Direct\ncost"}  # fmt: skip
    return [Column(key, title, 12, "#,##0.00####") for key, title in heads.items()]


def _walls(made: _Sheet) -> Iterator[Row]:
    totals = _totals(made)
    first, last = HEADER + 1, HEADER + len(made.shares)
    drawn = len(made.takeoff.walls)
    for n, share in enumerate(made.shares):
        row = 5 + n
        area = made.display.area(share.net_area)
        net, now = Formula(f"{area!r}*{{now}}"), {key: Formula("1") for key in _KINDS.values()}
        if n < drawn:
            is_in = f'{made.walls.cell(scope_key(0), n)}="yes"'
            net = Formula(f"IF({is_in},{made.walls.cell('net', n)},0)")
            gross = made.display.area(made.takeoff.walls[n].quantities.gross_area)
            ratios = {"is": "1", "now": _over(made.walls.cell("net", n), area),
                      "gross": _over(made.walls.cell("gross", n), gross)}  # fmt: skip
            now = {key: Formula(f"IF({is_in},{ratio},0)") for key, ratio in ratios.items()}
        found: Row = {
            "wall": share.wall,
            "name": share.elevation,
            "phase": share.phase,
            "net": net,
            **now,
            "m": _exact(made, "items", row, 2),
            "l": _exact(made, "work", row, 2),
            "h": _exact(made, "work", row, 3),
            "p": Formula("N({materials})+N({labour})"),
            **{key: Formula(_boxes(made, row, item)) for key, item in _PANELS.items()},
        }
        for key, exact in _RUNNING.items():
            column = _letter_of(exact, made)
            span = f"${column}${first}:${column}"
            whole, total, walls = f"SUM({span}${last})", totals[key], len(made.shares)
            ends = [
                f"ROUND(ROUND({total}*IF({whole}=0,{many / walls!r},{upto}/{whole}),6),2)"
                for many, upto in (
                    (n + 1, f"SUM({span}{first + n})"),
                    (n, f"SUM({span}{first + n - 1})" if n else "0"),
                )
            ]
            found[key] = Formula(f'IF(ISNUMBER({total}),ROUND({ends[0]}-{ends[1]},2),"")')
        yield found


def _exact(made: _Sheet, kind: str, row: int, each: int) -> Formula:
    """A wall's sum over items, or kinds of work, of its part x what a whole part comes to."""
    parts, by = f"{made.parts(kind, row)},{made.parts(kind, each)}", made.parts(kind, 4)
    return Formula(
        "+".join(f'{{{key}}}*SUMPRODUCT({parts},--({by}="{name}"))' for name, key in _KINDS.items())
    )


def _over(now: str, computed: float) -> str:
    """Formula text: what a cell says now over what was computed."""
    return f"{now}/{computed!r}" if computed else "1"


def _by_kind(cell: str, texts: Mapping[str, str]) -> str:
    """Formula text: that of what a cell says a part goes by."""
    net, gross, laid = (texts[key] for key in _KINDS.values())
    return f'IF({cell}="net area",{net},IF({cell}="gross area",{gross},{laid}))'


def _totals(made: _Sheet) -> dict[str, str]:
    """Formula text: what the walls share, by column."""
    items, labour = made.cells.items, made.cells.labour
    return {
        "materials": items.total("cost"),
        "labour": labour.total("cost"),
        "hours": labour.total("hours"),
        "price": made.cells.price,
    }


def _boxes(made: _Sheet, row: int, item: str) -> str:
    """Formula text: a wall's packages of one kind of panel."""
    terms = []
    for n, line in enumerate(made.order.lines):
        if line.item_key == item:
            column, at = get_column_letter(2 + n), made.causes
            part, every = f"{column}{at + row}", f"{column}${at + 1}"
            packages = made.cells.items.cell("packages", n)
            now = _by_kind(f"{column}${at + 4}", {key: f"{{{key}}}" for key in _KINDS.values()})
            terms.append(f"IF({every}=0,0,{now}*{part}/{every}*N({packages}))")
    return "+".join(terms) or "0"


def _group(made: _Sheet, group: ElevationShare, walls: PlacedTable) -> Row:
    """The sums of some walls."""
    rows = {id(share): walls.first + n for n, share in enumerate(made.shares)}
    names = ", ".join(one.wall for one in group.walls)
    found: Row = {"wall": group.name or "none", "name": names, "phase": f"{len(group.walls)}"}
    for key in _SUMMED:
        letter = walls.letters[key]
        cells = [f"{letter}{rows[id(one)]}" for one in group.walls]
        known = f"ISNUMBER({letter}{walls.first})"
        found[key] = Formula(f'IF({known},{"+".join(f"N({cell})" for cell in cells)},"")')
    return found


def _delivery_columns(order: Order, takeoff: Takeoff) -> list[Column]:
    return [
        Column("phase", "Delivery", 20),
        Column("item", "Item", 24),
        Column("package", "Sold in", 14),
        Column("packages", "Packages", 11, "#,##0"),
        Column("weight", f"Weight\n{weight_unit(takeoff)}", 12, "#,##0.0"),
        Column("cost", f"Cost\n{order.currency}".strip(), 12, MONEY),
        Column("pallets", "Pallets", 9, "#,##0"),
        Column("loads", "Packages\non each", 13),
    ]


def _parcels(deliveries: Sequence[Delivery], display: Display, takeoff: Takeoff) -> Iterator[Row]:
    """A row for each item of each delivery."""
    each = POUND_KG if takeoff.product.is_metric else 1.0
    for number, delivery in enumerate(deliveries, 1):
        name = delivery.phase or f"Delivery {number}"
        if delivery.loads:
            name += f", loads: {delivery.loads}"
        for item in delivery.items:
            yield {
                "phase": name,
                "item": say(item.item, display.name),
                "package": item.package,
                "packages": item.packages,
                "weight": None if item.weight_lb is None else each * item.weight_lb,
                "cost": None if item.cost is None else float(item.cost),
                "pallets": sum(p.pallets for p in item.pallets) or None,
                "loads": _on_pallets(item),
            }


def _on_pallets(item: Delivered) -> str:
    """How many packages stand on each pallet: full ones, then the rest."""
    return ", ".join(
        f"{p.pallets} x {p.packages}" if p.pallets > 1 else f"{p.packages}" for p in item.pallets
    )


def _causes(sheet: Any, made: _Sheet) -> None:
    """Each wall's part of 1 of every item and of every kind of work, and what a whole part costs
    now."""
    order, display, at = made.order, made.display, made.causes
    labour, items, count = made.cells.labour, made.cells.items, len(made.shares)
    titles = [say(line.item, display.name) for line in order.lines]
    titles += [say(work.what, display.name) for work in order.labour]
    for number, title in enumerate(["What each wall causes", *titles], 1):
        put_text(sheet.cell(at, number), title)
        style_header(sheet.cell(at, number))
    names = ("All walls, now", "Cost for each", "Hours for each", "Goes by")
    for row, name in enumerate(names, at + 1):
        put_text(sheet.cell(row, 1), name)
    letters = {key: _letter_of(key, made) for key in _KINDS.values()}
    now = PlacedTable(sheet.title, 0, HEADER + 1, HEADER + count, letters)
    goes_by = [_item_goes_by(n, line, made) for n, line in enumerate(order.lines)]
    goes_by += [f'"{_work_goes_by(work, made)}"' for work in order.labour]
    for n in range(len(titles)):
        letter = get_column_letter(2 + n)
        parts = f"{letter}{at + 5}:{letter}{at + 4 + count}"
        sums = {key: f"SUMPRODUCT({parts},{now.range(key)})" for key in letters}
        put(sheet.cell(at + 1, 2 + n), Formula(_by_kind(f"{letter}{at + 4}", sums)), _PART)
        put(sheet.cell(at + 4, 2 + n), Formula(goes_by[n]))
        of_work = n - len(order.lines)
        costs = items.cell("cost", n) if of_work < 0 else labour.cell("cost", of_work)
        hours = "0" if of_work < 0 else labour.cell("hours", of_work)
        for row, amount in ((at + 2, costs), (at + 3, hours)):
            every = f"{letter}{at + 1}"
            each = Formula(f"IF({every}=0,0,N({amount})/{every})")
            put(sheet.cell(row, 2 + n), each, MONEY)
    for row, share in enumerate(made.shares, at + 5):
        put_text(sheet.cell(row, 1), share.wall)
        for number, part in enumerate((*share.of_items, *share.of_work), 2):
            put(sheet.cell(row, number), part, _PART)


def _item_goes_by(number: int, line: OrderLine, made: _Sheet) -> str:
    """Formula text: what walls' parts of an item go by."""
    if line.item_key in ("flat_panel", "panel_fastener"):
        return f'IF({made.cells.items.cell("mode", number)}="area","net area","as computed")'
    return '"gross area"' if line.item_key == "wrb" else '"as computed"'


def _work_goes_by(work: LabourLine, made: _Sheet) -> str:
    """What walls' parts of a kind of work go by: a key of ``_KINDS``."""
    if work.measure in ("gross_area", "barrier_area"):
        return "gross area"
    is_counted = work.key in ("opening", "stone") or (made.takeoff.plan and work.key in _LAID)
    if is_counted or work.measure not in ("", "job", "net_area"):
        return "as computed"
    return "net area"


def _letter_of(key: str, made: _Sheet) -> str:
    keys = [c.key for c in (*_columns("Wall", made.order, made.display), *_helpers())]
    return get_column_letter(keys.index(key) + 1)
