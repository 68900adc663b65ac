"""The inputs of every item: how it is counted, what it is sold in, for how much, by whom."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.tolerances import QUOTIENT_PLACES
from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config.basis import BasisKind
from dxf2veneer.model import Order, OrderLine, Takeoff
from dxf2veneer.textio.escaping import without_folder
from dxf2veneer.wording import say
from dxf2veneer.wording.measures import ITEM_UNITS
from dxf2veneer.writers.basis import product_file
from dxf2veneer.writers.workbook.cells import (
    PlacedTable,
)
from dxf2veneer.writers.workbook.columns import INPUT_NUMBER, Column, Formula, Row, Value
from dxf2veneer.writers.workbook.input_cells import (
    allow_from_zero,
    allow_words,
    mark_input,
)

UNITS = ITEM_UNITS


OTHERS = "others"


BY_KIND = "by kind"
"""An allowance that each order reckons from what course plans of its kinds of walls took."""


JOB_WIDE = (
    "counting",
    "breakage",
    "scrap",
    "wage",
    "crew",
    "day",
    "minimum",
    "round_to",
    "rounding",
)


NAMES = dict(
    zip(
        JOB_WIDE,
        (
            "Counted_by",
            "Breakage_percent",
            "Scrap_percent",
            "Hourly_wage",
            "Crew_size",
            "Hours_of_a_day",
            "Least_price",
            "Round_price_to",
            "Rounding_of_price",
        ),
        strict=True,
    )
)
"""Names that the inputs for the whole job have in formulas."""


_PACKING = {"per_package": "content", "weight": "weight", "per_pallet": "pallets"}
"""What the packing of goods is called in a list."""

WIDTHS = (38, 11, 11, 11, 12, 7, 9, 9, 11, 10, 10, 10, 11, 100)


def terms_of(line: OrderLine) -> OrderLine:
    """What an item is sold in and for how much: the line without its quantities.

    Args:
        line: The item.

    Returns:
        An order line without its quantities.
    """
    return OrderLine(
        line.key,
        line.item,
        line.unit,
        line.mode,
        (),
        line.package,
        line.per_package,
        line.price,
        line.price_per,
        line.package_weight_lb,
        line.per_pallet,
        line.by_others,
        product=line.product,
        invented=line.invented,
    )


def item_lines(order: Order) -> tuple[list[OrderLine], dict[OrderLine, str]]:
    """The terms of every item of the bid and, with its name, of an alternate that sells it in
    another way.

    Args:
        order: The order.

    Returns:
        The terms, and the names of alternates by the terms that they alone have.
    """
    lines = list(dict.fromkeys(terms_of(line) for line in order.lines))
    names: dict[OrderLine, str] = {}
    for alternate in order.alternates:
        for line in map(terms_of, alternate.order.lines):
            if line not in lines:
                lines.append(line)
                names[line] = alternate.name
    return lines, names


def weight_unit(takeoff: Takeoff) -> str:
    """The unit of weights in the sheets.

    Args:
        takeoff: The takeoff.

    Returns:
        ``kg`` where goods are sold by kilograms, else ``lb``.
    """
    return "kg" if takeoff.product.is_metric else "lb"


def weight_of(line: OrderLine, takeoff: Takeoff) -> float | None:
    """Weight of a package in the unit of weights.

    Args:
        line: The item.
        takeoff: The takeoff.

    Returns:
        The weight; None where none is known.
    """
    pounds = line.package_weight_lb
    if pounds is None or not takeoff.product.is_metric:
        return pounds
    return round(POUND_KG * pounds, QUOTIENT_PLACES)


def item_columns(currency: str, weight: str) -> list[Column]:
    """The columns of the items.

    Args:
        currency: Currency of the prices, empty where none is named.
        weight: Unit of weights.

    Returns:
        The columns.
    """
    money = f"\n{currency}" if currency else ""
    heads = (
        ("item", "Item", "General"),
        ("mode", "Counted by", "General"),
        ("layout", "Allowance\nby layout %", INPUT_NUMBER),
        ("area", "Allowance\nby area %", INPUT_NUMBER),
        ("hand", "Quantity\noverride", INPUT_NUMBER),
        ("unit", "Unit", "General"),
        ("package", "Sold in", "General"),
        ("per", "Holds", INPUT_NUMBER),
        ("weight", f"Weight of a\npackage, {weight}", INPUT_NUMBER),
        ("pallet", "Packages\non a pallet", INPUT_NUMBER),
        ("price", f"Price{money}", "#,##0.00##"),
        ("price_of", "Price of a", "General"),
        ("by", "Supplied by", "General"),
        ("origin", "Where price and package came from", "General"),
    )
    return [
        Column(key, title, width, form)
        for (key, title, form), width in zip(heads, WIDTHS, strict=True)
    ]


def item_row(line: OrderLine, alternate: str, takeoff: Takeoff, order: Order) -> Row:
    """The row of an item.

    Args:
        line: The item.
        alternate: Name of the alternate that sells it in another way; empty for the bid.
        takeoff: The takeoff.
        order: The order.

    Returns:
        Values by the key of their column.
    """
    job = takeoff.job
    modes, item = _modes(line, order), say(line.item, job.output.display)
    own = next((a.mode for a in job.order.items if a.item == _item(line) and a.mode), None)
    follows = len(modes) == 2 and own is None
    return {
        "item": f"{item} ({alternate})" if alternate else item,
        "mode": Formula(NAMES["counting"]) if follows else line.mode,
        "layout": _allowance(line, "layout", order) if "layout" in modes else None,
        "area": _allowance(line, "area", order) if "area" in modes else None,
        "unit": UNITS[line.unit],
        "package": line.package,
        "per": line.per_package,
        "weight": weight_of(line, takeoff),
        "pallet": line.per_pallet,
        "price": None if line.price is None else float(line.price),
        "price_of": line.price_per,
        "by": OTHERS if line.by_others else "us",
        "origin": _sold(line, takeoff, order),
    }


def _item(line: OrderLine) -> str:
    return line.key.partition(" ")[0]


def _modes(line: OrderLine, order: Order) -> set[str]:
    """The ways in which an item is counted, in the bid or an alternate."""
    every = (order, *(a.order for a in order.alternates))
    return {
        way.mode for o in every for found in o.lines if found.key == line.key for way in found.ways
    }


def _allowance(line: OrderLine, mode: str, order: Order) -> Value:
    """The allowance of an item, following the job's where it has none of its own."""
    way = next(
        way
        for o in (order, *(a.order for a in order.alternates))
        for found in o.lines
        if found.key == line.key
        for way in found.ways
        if way.mode == mode
    )
    if way.is_own_allowance:
        return way.allowance_pct
    if way.usual_pct is not None:
        return BY_KIND
    return Formula(NAMES["breakage" if mode == "layout" else "scrap"])


def _sold(line: OrderLine, takeoff: Takeoff, order: Order) -> str:
    dated = f" of {order.prices_date}" if order.prices_date else ""
    price = (
        "no price" if line.price is None else f"price: {without_folder(order.prices_from)}{dated}"
    )
    product = next((p.product for p in takeoff.parts if p.name == line.product), takeoff.product)
    invented = ", ".join(_PACKING[key] for key in line.invented)
    told = f"; {BasisKind.INVENTED}: {invented}" if invented else ""
    return f"{price}; package: {product_file(product)}, or price file{told}"


def mark_items(sheet: Worksheet, items: PlacedTable, lines: Iterable[OrderLine]) -> None:
    """Mark the cells of the items that a person may change, and what they may hold.

    Args:
        sheet: The sheet.
        items: The table of items.
        lines: The items.
    """
    for at, _ in enumerate(lines, items.first):
        for key in (
            "mode",
            "layout",
            "area",
            "hand",
            "per",
            "weight",
            "pallet",
            "price",
            "price_of",
            "by",
        ):
            cell: Any = sheet[f"{items.letters[key]}{at}"]
            only_one = sheet[f"C{at}"].value is None or sheet[f"D{at}"].value is None
            if (key in ("layout", "area") and cell.value is None) or (key == "mode" and only_one):
                continue
            mark_input(cell)
            if key == "mode":
                allow_words(sheet, cell.coordinate, "layout,area")
    span = f"{items.first}:{{0}}{items.last}"
    for key, choices in (("price_of", "package,unit"), ("by", f"us,{OTHERS}")):
        letter = items.letters[key]
        allow_words(sheet, letter + span.format(letter), choices)
    for key in ("layout", "area", "hand", "weight", "pallet", "price"):
        letter = items.letters[key]
        allow_from_zero(sheet, letter + span.format(letter))
    letter = items.letters["per"]
    allow_from_zero(sheet, letter + span.format(letter), more=True)
