"""The sheets of the estimate, and which of them are printed."""

from __future__ import annotations

from typing import Any

from dxf2veneer.config.checks import as_choice, as_names

ALL = "all"
"""Prints every sheet."""
FIRST = "Summary"
ORDER = ("Price", "Order", "Inputs", "Supplier", "Labor", "Quantities")
"""The sheets that an order adds, after the summary."""
OTHERS = "Alternates"
"""What alternates add to them."""
SHARES = "Shares"
"""What cost, hours and price by wall add to them."""
PLAN = ("Panels", "Rule check")
"""The sheets that a course plan adds."""
PLANS = "Plans"
"""What plans to choose from add to them."""
KEPT = "Kept changes"
"""What changes by hand in an earlier workbook add."""
CHECKS = ("Walls", "Openings", "Corners", "Trim", "Course check", "Notices", "Assumptions")
"""The sheets of every estimate, after the summary."""
SHEETS = (FIRST, KEPT, *ORDER, SHARES, OTHERS, *PLAN, PLANS, *CHECKS)
"""The sheets that an estimate can have."""
USUAL = (
    "Summary",
    "Price",
    "Order",
    "Inputs",
    "Labor",
    "Alternates",
    "Walls",
    "Openings",
    "Notices",
)
"""What a house needs on paper; the others show how it was worked out."""


def as_sheets(value: Any) -> tuple[str, ...]:
    """Check a list of sheets.

    Args:
        value: What the file holds: one text or a list.

    Returns:
        The names.

    Raises:
        WrongValueError: It is no list of texts, or no sheet has one of the names.
    """
    return tuple(as_choice(ALL, *SHEETS)(name) for name in as_names(value))
