"""The order's lines as CSV, for other programs and for a spreadsheet.

Numbers stand with a decimal point, quantities not rounded; an empty cell is a price that is not
known.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from dxf2veneer.basics.notices import Notice
from dxf2veneer.model import Order, OrderLine
from dxf2veneer.textio.whole_files import Cell, write_csv
from dxf2veneer.wording import say

COLUMNS = (
    "key", "item", "counted", "measured", "unit", "allowance_pct", "needed", "package",
    "per_package", "packages", "price", "price_per", "cost", "currency", "weight_lb", "pallets",
    "by_others", "why",
)  # fmt: skip


def write_lines(
    order: Order,
    path: Path,
    *,
    errors: Sequence[Notice] = (),
    unconfirmed: str = "",
    display: str = "imperial",
) -> None:
    """Write the order's lines as CSV, whole or not at all.

    Args:
        order: The order.
        path: The file to write.
        errors: Errors of the takeoff. They stand in the first rows, under the key ``error``, so
            that nobody orders by mistake.
        unconfirmed: What stands in the very first row, under the key ``unconfirmed``, where the
            takeoff is of a proposal that nobody has confirmed.
        display: Units of the English lines: ``imperial`` or ``metric``.

    Raises:
        OSError: Nothing can be written there.
    """
    first = warnings_first(len(COLUMNS), errors=errors, unconfirmed=unconfirmed, display=display)
    rows = (_row(line, order.currency, display) for line in order.lines)
    write_csv(path, COLUMNS, (*first, *rows))


def warnings_first(
    width: int, *, errors: Sequence[Notice], unconfirmed: str, display: str
) -> list[tuple[Cell, ...]]:
    """The rows above the items that say why nobody should order by them.

    Args:
        width: How many columns the table has, a key and an item first.
        errors: Errors of the takeoff.
        unconfirmed: What is said of a proposal that nobody has confirmed; empty of others.
        display: Units of the English lines: ``imperial`` or ``metric``.

    Returns:
        The rows, none where nothing is wrong.
    """
    heads = [("unconfirmed", f"{unconfirmed}: do not order by this list")] if unconfirmed else []
    heads += [
        ("error", f"do not order by this list; {n.code}: {say(n.message, display)}") for n in errors
    ]
    return [(*head, *[""] * (width - 2)) for head in heads]


def _row(line: OrderLine, currency: str, display: str) -> tuple[Cell, ...]:
    chosen = line.chosen
    return (
        line.key, say(line.item, display), chosen.mode, chosen.measured, line.unit,
        chosen.allowance_pct, chosen.needed, line.package, line.per_package, chosen.packages,
        line.price, line.price_per, chosen.cost, currency,
        chosen.weight_lb, line.pallets, "yes" if line.by_others else "no",
        say(chosen.why, display),
    )  # fmt: skip
