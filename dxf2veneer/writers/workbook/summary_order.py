"""What people look for first on the summary: price, boxes, corners, hours, weight, and what is
still open."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.notices import Level, facts
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.model import Order, Takeoff
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import by_invented, own_defaults
from dxf2veneer.writers.workbook.cells import PlacedTable, font
from dxf2veneer.writers.workbook.columns import MONEY, Display, Formula, Value
from dxf2veneer.writers.workbook.input_items import NAMES, weight_unit
from dxf2veneer.writers.workbook.labor import NO_RATE, labour_sum, unrated
from dxf2veneer.writers.workbook.order import missing
from dxf2veneer.writers.workbook.page import write_note
from dxf2veneer.writers.workbook.scope import scope_key
from dxf2veneer.writers.workbook.summary_parts import (
    LINE,
    WIDTH,
    Sources,
    write_headings,
    write_line,
)
from dxf2veneer.writers.workbook.tiles import Tile, write_tiles

_UNPRICED = "What do items without a price cost? The supplier knows; the sheet Order marks them. "
_NO_WAGE = "What does an hour of work cost you? The sheet Inputs has a place for it. "
_UNRATED = "Is this work yours? It has no rate on the sheet Inputs and is not in the price: "
_LONGEST = 400
"""Signs of the names of work without a rate."""
_SHOWN = 6
"""Facts that the summary names; the others stand on the sheet of notices."""
_WHOLE = "#,##0"
_LIVE = ("PRICE_MISSING", "WORK_UNRATED")
"""Notices whose facts a formula tells: they go once the prices and hours are typed in."""


@dataclass(frozen=True)
class OrderCells:
    """Where the order stands in the workbook."""

    price: str
    """The cell of the total."""
    items: PlacedTable
    labour: PlacedTable
    supplier: PlacedTable


def write_first(
    sheet: Worksheet,
    row: int,
    takeoff: Takeoff,
    order: Order,
    display: Display,
    sources: Sources,
    cells: OrderCells,
) -> int:
    """The boxes of the order, and the open questions.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        takeoff: The takeoff.
        order: Its order.
        display: Units of the sheets.
        sources: The tables that the summary adds up.
        cells: Where the order stands.

    Returns:
        The last row used.
    """
    net = sources.walls.sum_where("net", **{scope_key(0): '"yes"'})
    asked = _asked(takeoff, order)
    live = {
        f"{missing(cells.items)}>0": f'"{_UNPRICED}"',
        f'{labour_sum(cells.labour)}=""': f'"{_NO_WAGE}"',
        f"{unrated(cells.labour)}>0": _unrated_words(takeoff, order, cells.labour),
    }
    open_facts = "+".join(f"IF({is_so},1,0)" for is_so in live)
    price = f'IF(ISNUMBER({cells.price}),{cells.price},"no price yet")'
    by_area = math.fsum(one.area for one in takeoff.job.order.additions)
    offered = (
        f"({net}+{display.area(by_area * SQUARE_INCHES_PER_SQUARE_FOOT)!r})" if by_area else net
    )
    shown = f"ROUND({offered},2)"  # as the letter shows it, so that both have one price
    each = f'IF({shown}=0,"",ROUND({cells.price}/{shown},2))'
    per = f'IF(ISNUMBER({cells.price}),{each},"no price yet")'
    of_area = "price / net area" + (", walls by area too" if by_area else "")
    corners = f"{sources.corner_run('outside')}+{sources.corner_run('inside')}"
    hours = cells.labour.total("hours")
    unit = f", {order.currency}" if order.currency else ""
    write_tiles(sheet, row, (
        Tile(f"Price{unit}", price, MONEY, "the sheet Price says how"),
        Tile(f"Net area, {display.area_unit}", net, _WHOLE + ".00", "of stone on the walls"),
        Tile(f"Price per {display.area_unit}{unit}", per, MONEY, of_area),
        Tile("Open questions", f"{len(asked)}+{open_facts}", _WHOLE, "named below"),
    ))  # fmt: skip
    write_tiles(sheet, row + 4, (
        _boxes(order, cells, "flat_panel", "flat panels"),
        _boxes(order, cells, "corner_panel", "corner panels"),
        Tile(f"Corners, {display.run_unit}", corners, display.run_format, "outside and inside"),
        Tile(f"Weight, {weight_unit(takeoff)}", cells.supplier.total("weight"), _WHOLE,
             f"of deliveries{by_invented(order)}"),
    ))  # fmt: skip
    write_tiles(sheet, row + 8, (
        Tile("Hours", hours, "#,##0.0", "of one person"),
        Tile("Crew days", f"{hours}/({NAMES['crew']}*{NAMES['day']})", "#,##0.0",
             '=' + f'"crew of "&{NAMES["crew"]}&", "&{NAMES["day"]}&" hours a day"'),
        Tile("Pallets", cells.supplier.total("pallets"), _WHOLE, "of all deliveries"),
        Tile("Walls", f"{len(takeoff.walls)}", _WHOLE, f"{takeoff.totals.openings} openings"),
    ))  # fmt: skip
    if takeoff.parts:
        row = _by_product(sheet, row + 12, takeoff, order, cells) - 10
    unrated_work = (say(w.what, takeoff.job.output.display) for w in order.labour if w.is_open)
    longest = len(_UNPRICED + _NO_WAGE + _UNRATED + ", ".join(unrated_work))
    return _questions(sheet, row + 12, asked, live, lines=math.ceil(longest / LINE))


def _by_product(
    sheet: Worksheet, row: int, takeoff: Takeoff, order: Order, cells: OrderCells
) -> int:
    """Packages of each panel of every product; the last row used."""
    heads = {"A": "Product", "B": "", "C": "Walls", "E": "Flat panels", "G": "Corner"}
    write_headings(sheet, row, {**heads, "D": "", "F": "sold in", "H": "sold in"})
    for part in takeoff.parts:
        row += 1
        line: dict[str, Value] = {"A": part.name, "B": "", "C": len(part.walls), "D": ""}
        for key, letter, beside in (("flat_panel", "E", "F"), ("corner_panel", "G", "H")):
            own = [
                (n, o)
                for n, o in enumerate(order.lines)
                if (o.item_key, o.product) == (key, part.name)
            ]
            many = "+".join(f"N({cells.items.cell('packages', n)})" for n, _ in own)
            line |= {letter: Formula(many or "0"), beside: own[0][1].package if own else ""}
        write_line(sheet, row, line, _WHOLE)
    return row


def _unrated_words(takeoff: Takeoff, order: Order, labour: PlacedTable) -> str:
    """Formula text: the work that has no rate, by name."""
    names = (say(work.what, takeoff.job.output.display) for work in order.labour)
    found = "&".join(
        f'IF({labour.cell("cost", n)}="{NO_RATE}",{for_formula(f", {name}")},"")'
        for n, name in enumerate(names)
    )
    return f'"{_UNRATED}"&MID({found},3,{_LONGEST})&"."'


def _boxes(order: Order, cells: OrderCells, key: str, name: str) -> Tile:
    """Packages of one kind of panel, all colors together."""
    found = [(n, line) for n, line in enumerate(order.lines) if line.item_key == key]
    package = found[0][1].package if found else "box"
    plural = "Boxes" if package == "box" else f"{package.capitalize()}s"
    formula = "+".join(f"N({cells.items.cell('packages', n)})" for n, _ in found) or "0"
    needed = "+".join(f"N({cells.items.cell('needed', n)})" for n, _ in found) or "0"
    return Tile(
        f"{plural} of {name}",
        formula,
        _WHOLE,
        f"=ROUND({needed},0)",
        '#,##0" panels, with allowance"',
    )


def _asked(takeoff: Takeoff, order: Order) -> list[str]:
    """What is open besides prices, wage and rates, a line for each fact."""
    display = takeoff.job.output.display
    lines = []
    ours = own_defaults(takeoff, order)
    if ours:
        lines.append(f"Do these hold for your jobs? They are the program's own: {', '.join(ours)}")
    grave = [n for n in takeoff.notices if n.level is not Level.INFO and n.code not in _LIVE]
    for fact in facts(grave):
        count = sum(n.count for n in fact)
        more = f" ({count} places)" if count > 1 else ""
        lines.append(f"{say(fact[0].message, display)}{more}")
    return lines


def _questions(
    sheet: Worksheet, row: int, asked: list[str], live: Mapping[str, str], *, lines: int
) -> int:
    """A line for each open question, after what is told by formulas; the last row used."""
    write_note(sheet, row, "Open questions", columns=WIDTH, bold=True)
    row += 1
    write_note(sheet, row, "", columns=WIDTH, lines=lines)
    cell: Any = sheet.cell(row, 1)
    told = "&".join(f'IF({is_so},{words},"")' for is_so, words in live.items())
    otherwise = "All items have a price." if asked else "None."
    cell.value = f'={told}&IF(OR({",".join(live)}),"","{otherwise}")'
    cell.data_type, cell.quotePrefix = "f", False
    cell.font = font(color="444444")
    shown = asked[:_SHOWN]
    if len(asked) > _SHOWN:
        shown.append(f"And {len(asked) - _SHOWN} more: see the sheet Notices.")
    for text in shown:
        row += 1
        write_note(sheet, row, text, columns=WIDTH, lines=min(2, math.ceil(len(text) / LINE)))
    return row
