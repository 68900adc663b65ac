"""The order's lines as CSV, for other programs and for a spreadsheet.

Numbers stand with a decimal point, quantities not rounded; an empty cell is a price that is not known.
Texts can't run as formulas (escaping.py).
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

from dxf2veneer.escaping import for_csv
from dxf2veneer.model import Order, OrderLine
from dxf2veneer.writers.files import write_whole

COLUMNS = (
    "key", "item", "counted", "measured", "unit", "allowance_pct", "needed", "package", "per_package", "packages",
    "price", "price_per", "cost", "currency", "weight_lb", "pallets", "by_others", "why",
)  # fmt: skip


def write_lines(order: Order, path: Path) -> None:
    """Write the order's lines as UTF-8 CSV, whole or not at all. Raises OSError where nothing can be written."""

    def write(draft: Path) -> None:
        # the byte order mark tells a spreadsheet that the text is UTF-8
        with draft.open("w", encoding="utf-8-sig", newline="") as file:
            table = csv.writer(file, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
            table.writerow(COLUMNS)
            table.writerows(_row(line, order.currency) for line in order.lines)

    write_whole(path, write)


def _row(line: OrderLine, currency: str) -> list[str]:
    chosen = line.chosen
    return [
        for_csv(line.key), for_csv(line.item), chosen.mode, _number(chosen.measured), line.unit, _number(chosen.allowance_pct),
        _number(chosen.needed), for_csv(line.package), _number(line.per_package), str(chosen.packages),
        _money(line.price), line.price_per, _money(chosen.cost), for_csv(currency),
        "" if chosen.weight_lb is None else _number(chosen.weight_lb), "" if line.pallets is None else str(line.pallets),
        "yes" if line.by_others else "no", for_csv(chosen.why),
    ]  # fmt: skip


def _number(value: float) -> str:
    """The shortest text that reads back as the same number."""
    return repr(float(value)).removesuffix(".0")


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:f}"
