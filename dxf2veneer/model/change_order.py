"""A change order: what the customer reads of two takeoffs compared. It holds no cost."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from dxf2veneer.basics.messages import Message
from dxf2veneer.model.revision import Figure


class EarlierChange(NamedTuple):
    """A change order before this one."""

    number: str
    amount: Decimal
    """Below 0 for one that deducts."""


@dataclass(frozen=True)
class ChangeTerms:
    """What the user says of a change order; texts are empty where nothing is said."""

    number: str = ""
    date: str = ""
    reason: str = ""
    contract: Decimal | None = None
    """The price agreed on before any change."""
    earlier: tuple[EarlierChange, ...] = ()


class OrderedChange(NamedTuple):
    """What changed on a wall, and its price."""

    wall: str
    """Its id and name."""
    told: tuple[Message, ...]
    net_area_sqft: float
    """Now less before."""
    price: Decimal | None
    """Above 0 an add, below 0 a deduct; None where it is not known."""


class MeasuredChange(NamedTuple):
    """A figure of the whole before and now."""

    key: str
    """One of ``FIGURES``; neither hours nor money."""
    old: Figure
    new: Figure


@dataclass(frozen=True)
class ChangeOrder:
    """Everything that the customer reads."""

    job: str
    company: str
    sender: tuple[str, ...]
    customer: str
    address: tuple[str, ...]
    signed_by: str
    terms: ChangeTerms
    old_sources: tuple[str, ...]
    """Drawings before, with the beginning of their digests."""
    new_sources: tuple[str, ...]
    changes: tuple[OrderedChange, ...]
    add: Decimal | None
    """Sum of the walls that cost more."""
    deduct: Decimal | None
    """Sum of the walls that cost less; 0 or below."""
    rest: Decimal | None
    """What falls to no changed wall: goods come in whole packages, charges are for the job."""
    total: Decimal | None
    """Of this change; None where a price is missing."""
    contract: Decimal | None
    """The price before any change; that of the takeoff before where the user gives none."""
    figures: tuple[MeasuredChange, ...]
    currency: str
    display: str
    """Units for the reader: ``imperial`` or ``metric``."""
    cautions: tuple[Message, ...]

    @property
    def earlier(self) -> Decimal:
        """Sum of the earlier change orders."""
        return sum((one.amount for one in self.terms.earlier), Decimal(0))

    @property
    def to_date(self) -> Decimal | None:
        """The price with all changes, this one among them."""
        if self.contract is None or self.total is None:
            return None
        return self.contract + self.earlier + self.total
