"""Quantities of the order that no drawing and no wall's sizes give: added or taken off by hand,
each with its reason, and walls of which the area alone is known.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.checks import (
    as_area,
    as_choice,
    as_length,
    as_number,
    as_tables,
    as_text,
    refuse_twice,
)
from dxf2veneer.config.goods import ITEMS

_APART = ("fixture_block", "head_stone", "jamb_stone", "sill_stone")
"""Items that go by their size, or come out of the boxes of another."""
_MOST = 1e6


class Addition(NamedTuple):
    """So much of an item more or, below 0, less; or a wall by its area."""

    reason: str
    """Why, in the user's words."""
    item: str
    """Key of the item; empty for a wall by its area."""
    quantity: float
    """In the item's unit."""
    area: float
    """Square feet of a wall by its area; 0 for an item."""
    corners: float
    """Inches of that wall's corners and finished ends."""


_as_tables = as_tables(
    Addition,
    reason=(as_text, ...),
    item=(as_choice(*(key for key in ITEMS if key not in _APART)), ""),
    quantity=(as_number(-_MOST, _MOST), 0.0),
    area=(as_area(_MOST), 0.0),
    corners=(as_length(), 0.0),
)


def as_additions(value: Any) -> tuple[Addition, ...]:
    """Check a list of additions.

    Args:
        value: Tables with reason and either item and quantity, or area and perhaps corners.

    Returns:
        The additions.

    Raises:
        WrongValueError: One has no reason, or not one of the two; two walls by their area have the
            same reason, by which outputs call them.
    """
    found: tuple[Addition, ...] = _as_tables(value)
    for number, one in enumerate(found, 1):
        if not one.reason.strip():
            raise WrongValueError(message("wants-reason", number=number))
        of_item, of_wall = bool(one.item and one.quantity), bool(one.area)
        mixed = (one.item or one.quantity) and (one.area or one.corners)
        if of_item == of_wall or mixed:
            raise WrongValueError(message("wants-item-or-area", number=number))
    refuse_twice(one.reason for one in found if one.area)
    return found
