"""Lines of the bid after materials and labor: lump sums, freight, allowances, permits, tax,
contingency, overhead, profit.

A line is worked in one of four ways: an amount, so much for each of something, per cent of costs
above it, or a margin, which is per cent of the price. Margins that stand together are of the same
price, that below the last of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.units import WrongItemError
from dxf2veneer.config.checks import (
    as_choice,
    as_name,
    as_names,
    as_number,
    as_tables,
    refuse_twice,
)
from dxf2veneer.config.tasks import MEASURES, in_rate_unit

How = Literal["amount", "rate", "percent", "margin"]

KINDS = (
    "materials",
    "labour",
    "lump",
    "freight",
    "equipment",
    "subcontract",
    "allowance",
    "permit",
    "bond",
    "tax",
    "contingency",
    "overhead",
    "profit",
)
"""Kinds of cost, by which a tax or another per cent is taken; goods are ``materials`` and work is
``labour``."""

DELIVERED = ("pallets", "pounds", "hundredweight", "kilograms")
"""What a rate of freight may go by: weights are those of all deliveries."""

WORKED = ("hours", "days")
"""What a rate may go by besides: hours of work, and days of the crew, a begun one whole."""


class Charge(NamedTuple):
    """A line of the bid. One of ``amount``, ``rate``, ``percent`` and ``margin`` is given."""

    name: str
    kind: str
    """One of ``KINDS``."""
    amount: float | None = None
    """A lump sum."""
    rate: float | None = None
    """Money for each of what ``per`` names."""
    per: str | None = None
    percent: float | None = None
    """Per cent of the cost that ``of`` names."""
    margin: float | None = None
    """Per cent of the price."""
    of: tuple[str, ...] = ()
    """Kinds of lines above that it is taken of; none of them for the running total."""
    least: float | None = None
    """The least that the line comes to."""
    below: float | None = None
    """The line counts only while what it is taken of is below this."""

    @property
    def how(self) -> How:
        """The way it is worked."""
        if self.amount is not None:
            return "amount"
        if self.rate is not None:
            return "rate"
        return "percent" if self.percent is not None else "margin"

    @property
    def value(self) -> float:
        """The amount, the rate or the per cent."""
        return float(getattr(self, self.how))

    def working(self, is_metric: bool) -> Message:
        """How the line is worked, in words.

        Args:
            is_metric: Whether rates go by square meters and meters.

        Returns:
            The words.
        """
        value, below = self.value, self.below
        if self.amount is not None:
            return message("bid-by-amount", below=below, of=self.of)
        if self.rate is not None:
            per, unit = self.per or "", in_rate_unit(self.per or "", is_metric)[0]
            each = message("rate-for-each", value=value, per=per, unit=unit)
            return message("bid-by-rate", each=each, least=self.least, below=below, of=self.of)
        if self.margin is not None:
            return message("bid-by-margin", value=value)
        return message("bid-by-percent", value=value, of=self.of, least=self.least, below=below)


def as_charges(value: Any) -> tuple[Charge, ...]:
    """Check the lines of the bid.

    Args:
        value: What the file holds.

    Returns:
        The lines.

    Raises:
        WrongValueError: A table has a wrong or no value, or two have one name.
        WrongItemError: A line says too little, too much or something that is not so.
    """
    charges: tuple[Charge, ...] = _as_tables(value)
    refuse_twice(charge.name for charge in charges)
    for charge in charges:
        for wrong in _faults(charge):
            raise WrongItemError(wrong, charge.name)
    for number, charge in enumerate(charges):
        above = {"materials", "labour", *(c.kind for c in charges[:number])}
        if absent := tuple(kind for kind in charge.of if kind not in above):
            raise WrongItemError(message("charge-of-none-above", kinds=absent), charge.name)
        if margins_from(charges, number) >= 100.0:
            raise WrongItemError(message("charge-margins-whole"), charge.name)
    return charges


def margins_from(charges: tuple[Charge, ...], number: int) -> float:
    """Per cent of the price that a line and the margins right after it take together.

    Args:
        charges: The lines of the bid.
        number: A line, from 0.

    Returns:
        The sum; 0 where the line is no margin.
    """
    summed = 0.0
    for charge in charges[number:]:
        if charge.margin is None:
            break
        summed += charge.margin
    return summed


def _faults(charge: Charge) -> Iterator[Message]:
    """What is wrong with a line as a whole."""
    given = [charge.amount, charge.rate, charge.percent, charge.margin]
    if sum(value is not None for value in given) != 1:
        yield message("charge-wants-one-way")
    if (charge.rate is None) != (charge.per is None):
        yield message("charge-wants-per", known=(*DELIVERED, *WORKED, *MEASURES))
    if charge.percent is not None and "margin" in charge.name.casefold():
        yield message("charge-is-markup", percent=charge.percent)
    if charge.margin is not None and "markup" in charge.name.casefold().replace("-", ""):
        yield message("charge-is-margin", percent=charge.margin)
    limits = (charge.least, charge.below)
    if charge.margin is not None and (charge.of or limits != (None, None)):
        yield message("charge-margin-of-all")
    if charge.of and charge.percent is None and charge.below is None:
        yield message("charge-of-unused")


_as_tables = as_tables(
    Charge,
    name=(as_name, ...),
    kind=(as_choice(*KINDS), "lump"),
    amount=(as_number(-1e9, 1e9), None),
    rate=(as_number(0.0, 1e9), None),
    per=(as_choice(*DELIVERED, *WORKED, *MEASURES), None),
    percent=(as_number(-100.0, 1000.0), None),
    margin=(as_number(0.0, 99.0), None),
    of=(lambda value: tuple(as_choice(*KINDS)(v) for v in as_names(value)), ()),
    least=(as_number(0.0, 1e9), None),
    below=(as_number(0.0, 1e9), None),
)
