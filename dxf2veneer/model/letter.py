"""The customer's bid: what stands in the letter, and nothing of how its price came about."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message


class ScopeWall(NamedTuple):
    """A wall of the scope, with its part of the letter's net area."""

    name: str
    """Empty where it has none that tells it from the elevation's other walls."""
    net_area: Decimal
    product: str = ""
    """Name of its panel, where the job has several."""
    number: int = 0
    """Its number in the elevation, from 1; 0 where it is all of it."""


class ScopeElevation(NamedTuple):
    """An elevation of the scope."""

    name: str
    walls: tuple[ScopeWall, ...]
    """None for a wall that is known by its area alone."""
    net_area: Decimal
    """Sum of its walls."""
    price: Decimal | None
    """Its price, where prices are stated by elevation."""


class OfferedAlternate(NamedTuple):
    """An alternate: what it adds to the price, below 0 where it deducts; None where unknown."""

    name: str
    what: Message
    difference: Decimal | None


class ChangePrice(NamedTuple):
    """A price for changes."""

    name: str
    price: Decimal
    unit: str


@dataclass(frozen=True)
class BidLetter:
    """Everything that the customer reads."""

    job: str
    note: str
    company: str
    sender: tuple[str, ...]
    customer: str
    address: tuple[str, ...]
    date: str
    valid: str
    signed_by: str
    drawings: tuple[str, ...]
    """Names of the drawings, without folders."""
    by_area: tuple[str, ...]
    """Names of walls known by their area alone."""
    by_sizes: tuple[str, ...]
    """Walls that no drawing shows."""
    product: str
    """Name of the panel; of several which is on which walls."""
    scope: tuple[ScopeElevation, ...]
    net_area: Decimal
    """In square feet, or in square meters with metric display, to a hundredth; the sum of the
    elevations."""
    pricing: Literal["lump", "elevation", "area"]
    price: Decimal | None
    """The bid's total. None where it is not complete."""
    rate: Decimal | None
    """What the price comes to for a square foot, or for a square meter with metric display,
    rounded to the cent; None where prices are not by area."""
    currency: str
    alternates: tuple[OfferedAlternate, ...]
    unit_prices: tuple[ChangePrice, ...]
    items: tuple[Message, ...]
    """What is supplied and installed."""
    supplied: tuple[Message, ...]
    """What is supplied alone: nobody says what its installation takes."""
    by_others: tuple[Message, ...]
    include: tuple[str, ...]
    exclude: tuple[str, ...]
    unrated: tuple[Message, ...]
    """Work that the price leaves out, as nobody says what it takes."""
    assume: tuple[str, ...]
    is_laid_out: bool
    """Whether panels were laid out one by one."""
    cautions: tuple[Message, ...]
    display: str
    """Units of the letter: ``imperial`` or ``metric``."""
