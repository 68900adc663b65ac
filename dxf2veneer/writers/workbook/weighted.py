"""Sums over walls in which each wall counts at a rate of its own."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from dxf2veneer.writers.workbook.cells import PlacedTable

_LONGEST = 8000
"""Characters of a formula; spreadsheets take 8,192 (from memory, not checked)."""


def weighted(table: PlacedTable, key: str, rates: Sequence[float]) -> str | None:
    """Formula text: each row of a column times its rate, added up.

    Args:
        table: The table.
        key: The column.
        rates: A rate for each row.

    Returns:
        The formula text; None where a spreadsheet would not take so long a one.
    """
    terms = []
    for rate, rows in groupby(range(len(rates)), key=lambda row: rates[row]):
        first, *rest = rows
        last = f":{table.letters[key]}{table.first + rest[-1]}" if rest else ""
        terms.append(f"{rate!r}*SUM({table.cell(key, first)}{last})")
    text = "+".join(terms)
    return text if len(text) <= _LONGEST else None
