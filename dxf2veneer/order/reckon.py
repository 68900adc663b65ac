"""The arithmetic of an order line: allowance, packages, money. A spreadsheet's formulas give the same.

    needed    = measured * (1 + allowance / 100)
    packages  = ROUNDUP(ROUND(needed / per_package, 6), 0)
    cost      = ROUND(packages * price of a package, 2)

The quotient is rounded to 6 places before it is rounded up, because (1.1 - 1) * 10 is a hair more than 1.
Money is decimal, rounded half up (away from zero) to the cent once a line, as a spreadsheet's ROUND does.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal, NamedTuple

from dxf2veneer.config.goods import ITEMS, Item
from dxf2veneer.model import OrderSource

CENT = Decimal("0.01")
_PLACES = 6

Mode = Literal["layout", "area"]


class Way(NamedTuple):
    """An item counted in one way, before anything is added: how much, why, from where."""

    mode: Mode
    measured: float
    why: str
    sources: tuple[OrderSource, ...] = ()


class Count(NamedTuple):
    """An item counted in one or two ways. ``key`` and ``title`` are the item's, or say more."""

    item: Item
    key: str
    title: str
    ways: tuple[Way, ...]


def count(key: str, *ways: Way) -> Count:
    """An item's count under its own key and title."""
    item = ITEMS[key]
    return Count(item, key, item.title, ways)


def with_allowance(measured: float, percent: float) -> float:
    """What is needed: measured and so many per cent more."""
    return measured * (1.0 + percent / 100.0)


def packages_of(needed: float, per_package: float) -> int:
    """Whole packages that hold what is needed."""
    return math.ceil(round(needed / per_package, _PLACES))


def exact(number: float) -> Decimal:
    """The decimal that people mean by a number: 0.1 is a tenth."""
    return Decimal(repr(float(number)))


def cents(amount: Decimal) -> Decimal:
    """An amount rounded to the cent, half a cent away from zero."""
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def tidy(quantity: float) -> Decimal:
    """A measured quantity for multiplying with money or hours: rounded to 6 places."""
    return exact(round(quantity, _PLACES))


def plain(number: float) -> str:
    """A number for a sentence: at most two decimals, none where it is whole."""
    text = f"{number:,.2f}"
    return text.rstrip("0").rstrip(".")
