"""How a check says what does not agree, and how far two numbers may be apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CHECK_ROUNDING
from dxf2veneer.model import Wall


def mismatch(what: Message, wall: Wall | None = None) -> Notice:
    """The error about numbers that do not agree.

    Args:
        what: What does not agree.
        wall: The wall that it is about, if there is one.

    Returns:
        The notice, at the wall's lower left corner.
    """
    if wall is None:
        return Notice("CROSS_CHECK", what)
    return Notice(
        "CROSS_CHECK",
        what,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=wall.handles[0],
        at_in=wall.box[:2],
    )


def compare(
    what: Message,
    one: float,
    two: float,
    by: Message,
    *,
    slack: float = 0.0,
    wall: Wall | None = None,
) -> Iterator[Notice]:
    """An error where two numbers for one thing are farther apart than rounding and ``slack``.

    Args:
        what: The thing.
        one: Its number as the takeoff has it.
        two: The number got by the second way, in the same unit.
        by: The second way.
        slack: What the two may differ by beside rounding, in that unit.
        wall: The wall that it is about, if there is one.

    Yields:
        The error, if there is one. A NaN agrees with nothing.
    """
    if not abs(one - two) <= slack + CHECK_ROUNDING * max(abs(one), abs(two)):
        yield mismatch(message("numbers-differ", what=what, one=one, two=two, by=by), wall)


def within(
    what: Message,
    value: float,
    low: float,
    high: float,
    by: Message,
    *,
    wall: Wall | None = None,
) -> Iterator[Notice]:
    """An error where a number lies outside its bounds.

    Args:
        what: The thing.
        value: Its number.
        low: The least that it can be, in the same unit.
        high: The most that it can be.
        by: Where the bounds come from.
        wall: The wall that it is about, if there is one.

    Yields:
        The error, if there is one.
    """
    slack = CHECK_ROUNDING * abs(value)
    if not low - slack <= value <= high + slack:
        what_is = message("number-out-of-bounds", what=what, value=value, low=low, high=high, by=by)
        yield mismatch(what_is, wall)


HALF_CENT = Decimal("0.005")
"""What a rounding to the cent can take off or add."""


def of_alternate(alternate: str | None, what: Message) -> Message:
    """What is compared, with the name of its alternate.

    Args:
        alternate: The name; None for the bid itself.
        what: What is compared.

    Returns:
        The message.
    """
    return what if alternate is None else message("of-alternate", name=alternate, what=what)


def summed(amounts: Sequence[Decimal | None]) -> Decimal | None:
    """A sum of money.

    Args:
        amounts: The amounts.

    Returns:
        The sum, None where an amount is not known.
    """
    known = [a for a in amounts if a is not None]
    return sum(known, Decimal(0)) if len(known) == len(amounts) else None


def equal(
    what: Message,
    one: Decimal | None,
    two: Decimal | None,
    by: Message,
    *,
    slack: Decimal = Decimal(0),
) -> Iterator[Notice]:
    """An error where two amounts differ by more than ``slack``, or one of them is not known.

    Args:
        what: What is compared.
        one: The amount.
        two: The same by other means.
        by: Those means.
        slack: How far they may be apart.

    Yields:
        What does not agree.
    """
    if one is None and two is None:
        return
    if one is None or two is None or abs(one - two) > slack:
        first, second = (None if a is None else str(a) for a in (one, two))
        yield mismatch(message("amounts-differ", what=what, one=first, two=second, by=by))
