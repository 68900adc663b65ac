"""The arithmetic of an order line: allowance, packages, money. A spreadsheet's formulas do the
same.

    needed    = measured * (1 + allowance / 100)
    packages  = ROUNDUP(ROUND(needed / per_package, 6), 0)
    cost      = ROUND(packages * price of a package, 2)

The quotient is rounded to 6 places before it is rounded up, because (1.1 - 1) * 10 is a hair more
than 1. Money is decimal, rounded half up (away from zero) to the cent once a line, as a
spreadsheet's ROUND does.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import QUOTIENT_PLACES
from dxf2veneer.config.goods import ITEMS, Item
from dxf2veneer.model import OfArea, OrderPart, OrderSource

CENT = Decimal("0.01")

Mode = Literal["layout", "area"]


class CountMethod(NamedTuple):
    """An item counted by one method, before anything is added."""

    mode: Mode
    """``layout``: piece by piece; ``area``: by area or run."""
    measured: float
    """How much of the item, in its unit."""
    why: Message
    """How it was counted."""
    sources: tuple[OrderSource, ...] = ()
    """What it was counted from."""
    usual: float | None = None
    """Per cent that course plans took beyond it, breakage aside; None where none say."""
    parts: tuple[OrderPart, ...] = ()
    """What is bought together, where that is more than one item."""
    added: float = 0.0
    """What the job adds by hand, below 0 what it takes off; ``measured`` holds it."""
    by_area: tuple[OfArea, ...] = ()
    """Of that the walls known by their area alone."""


class Count(NamedTuple):
    """An item counted by one or two methods."""

    item: Item
    key: str
    """The item's key; a fixture block's has its size behind it."""
    title: Message
    """What people call it."""
    methods: tuple[CountMethod, ...]
    color: str = ""
    """Name of the panels' color; empty where the product has but one."""
    share: float = 1.0
    """Its part of the item, by area."""


def count(key: str, *methods: CountMethod) -> Count:
    """An item's count under its own key and title.

    Args:
        key: The item's key in ``config.goods.ITEMS``.
        *methods: How it was counted, the one by layout first where there is one.

    Returns:
        The count.
    """
    item = ITEMS[key]
    return Count(item, key, message("item", title=item.title), methods)


def with_allowance(measured: float, percent: float) -> float:
    """What is needed.

    Args:
        measured: What was counted, in the item's unit.
        percent: How many per cent more.

    Returns:
        The quantity in the same unit.
    """
    return measured * (1.0 + percent / 100.0)


def with_breakage(usual: float, breakage: float) -> float:
    """Per cent to add where cutting loss and breakage come together.

    Args:
        usual: Per cent of cutting loss.
        breakage: Per cent of breakage on what is bought.

    Returns:
        Per cent in all, rounded to six places.
    """
    return round((100.0 + usual) * (1.0 + breakage / 100.0) - 100.0, QUOTIENT_PLACES)


def packages_of(needed: float, per_package: float) -> int:
    """Whole packages that hold what is needed.

    Args:
        needed: Quantity in the item's unit.
        per_package: What a package holds, in the same unit.

    Returns:
        The number of packages.
    """
    return math.ceil(round(needed / per_package, QUOTIENT_PLACES))


def exact(number: float) -> Decimal:
    """The decimal that people mean by a number: 0.1 is a tenth.

    Args:
        number: Any finite number.

    Returns:
        The decimal of its shortest spelling.
    """
    return Decimal(repr(float(number)))


def cents(amount: Decimal) -> Decimal:
    """An amount rounded to the cent, half a cent away from zero.

    Args:
        amount: Money, or hours.

    Returns:
        The amount with two places.
    """
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def tidy(quantity: float) -> Decimal:
    """A measured quantity for multiplying with money or hours.

    Args:
        quantity: In the item's unit.

    Returns:
        The quantity rounded to six places.
    """
    return exact(round(quantity, QUOTIENT_PLACES))
