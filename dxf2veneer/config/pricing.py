"""The job's section about its price file: names of a supplier's columns and goods, suppliers, the
day that prices must hold on.

What a price file holds is described in docs/prices.md; ``order.prices`` names it.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.basis import Basis, BasisKind
from dxf2veneer.config.checks import (
    as_choice,
    as_name,
    as_names,
    as_tables,
    as_text,
    refuse_twice,
)
from dxf2veneer.config.settings import setting

COLUMNS = (
    "item",
    "unit",
    "price",
    "package",
    "weight",
    "product",
    "supplier",
    "date",
    "valid_until",
    "currency",
)
"""The columns of a price file."""
OF_THE_LINE = frozenset(
    ("flat_panel", "corner_panel", "starter_strip", "cap_stone", "trim_stone", "fixture_block")
)
"""Sections of goods that a panel line brings itself, so that another line's price is not theirs.
Our own default: fasteners, barrier, lath, adhesive and caulk go with any line."""


class PriceColumn(NamedTuple):
    """A column of a supplier's list and the one of ours that it is."""

    theirs: str
    ours: str


class PriceName(NamedTuple):
    """What a supplier's list calls an item, and the product that it belongs to (empty: any)."""

    theirs: str
    item: str
    product: str


def as_day(value: Any) -> datetime.date:
    """Check a day.

    Args:
        value: What was written: a date, or text such as 2026-03-02.

    Returns:
        The day.

    Raises:
        WrongValueError: It is something else.
    """
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    try:
        return datetime.date.fromisoformat(str(value).strip().removesuffix(" 00:00:00"))
    except ValueError:
        raise WrongValueError(message("wants-day")) from None


def _as_day_text(value: Any) -> str:
    """A day as text, as job files and results hold it."""
    return as_day(value).isoformat()


_column_tables = as_tables(PriceColumn, theirs=(as_name, ...), ours=(as_choice(*COLUMNS), ...))
_name_tables = as_tables(
    PriceName, theirs=(as_name, ...), item=(as_name, ...), product=(as_text, "")
)


def _as_columns(value: Any) -> tuple[PriceColumn, ...]:
    found: tuple[PriceColumn, ...] = _column_tables(value)
    refuse_twice(c.theirs for c in found)
    refuse_twice(c.ours for c in found)
    return found


def _as_price_names(value: Any) -> tuple[PriceName, ...]:
    found: tuple[PriceName, ...] = _name_tables(value)
    refuse_twice(n.theirs for n in found)
    return found


@dataclass(frozen=True)
class Pricing:
    """How the price file is read, where it is a supplier's own list, and whose prices count."""

    columns: tuple[PriceColumn, ...] = setting(
        (),
        "columns of the price file under other names: theirs and ours (item, unit, price, package, "
        "weight, product, supplier, date, valid_until, currency)",
        _as_columns,
        '[{ theirs = "Article", ours = "item" }, { theirs = "Net", ours = "price" }]',
    )
    names: tuple[PriceName, ...] = setting(
        (),
        "what the price file calls an item: theirs, item and, where it is of one product, product; "
        "rows that are about no item are then left out",
        _as_price_names,
        '[{ theirs = "SF-3608", item = "flat_panel", product = "Split-face panel" }]',
    )
    suppliers: tuple[str, ...] = setting(
        (),
        "suppliers whose prices are taken, the first that has one; needed where several price an "
        "item",
        as_names,
        '["Yard North", "Yard South"]',
    )
    as_of: str | None = setting(
        None,
        "the day on which prices must still hold, as 2026-03-02; today where it is left out",
        _as_day_text,
        '"2026-03-02"',
        basis=Basis(BasisKind.OWN, "today"),
    )

    def settled_day(self) -> datetime.date:
        """The day on which prices must hold; today, which may be another at the next call, where
        the job names none."""
        return datetime.date.today() if self.as_of is None else as_day(self.as_of)


AS_WRITTEN = Pricing()
"""A price file with our own names of columns and items."""
