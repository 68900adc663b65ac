"""The order and the bid: what is bought, labour, and prices."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.config.goods import ItemUnit
from dxf2veneer.model.pieces import PieceRef
from dxf2veneer.notices import Notice


class OrderSource(NamedTuple):
    """Where a quantity comes from: the id of a wall, opening or corner (or ``plan``), what was taken of it,
    how much, and the unit of that: ``sqft``, ``ft`` or ``each``."""

    ref: str
    what: str
    value: float
    unit: ItemUnit


@dataclass(frozen=True)
class Reckoning:
    """One way of reckoning an order line. Everything after ``measured`` follows by four formulas:

    needed = measured x (1 + allowance_pct / 100); packages = needed / per_package, rounded to 6 places
    and then up; cost = packages x price of a package, rounded to the cent, half a cent up; weight =
    packages x weight of a package. They are worked once for the job, never wall by wall.
    """

    mode: Literal["layout", "area"]
    """``layout``: piece by piece, breakage added; ``area``: by area or run, scrap added (rule L2)."""
    measured: float
    why: str
    allowance_pct: float
    needed: float
    packages: int
    cost: Decimal | None
    weight_lb: float | None
    sources: tuple[OrderSource, ...] = ()


@dataclass(frozen=True)
class OrderLine:
    """One item of the order. ``ways`` are the one or two ways of reckoning it; ``mode`` says which counts.

    ``price`` is that of one package or of one unit, as ``price_per`` says; None where none is known.
    """

    key: str
    """The item's key; fixture blocks have their size behind it."""
    item: str
    unit: ItemUnit
    mode: Literal["layout", "area"]
    ways: tuple[Reckoning, ...]
    package: str
    per_package: float
    price: Decimal | None
    price_per: Literal["unit", "package"]
    package_weight_lb: float | None
    per_pallet: float | None
    """Packages on a pallet, None where it comes on none."""
    by_others: bool = False
    """Counted, but neither priced nor weighed: someone else supplies it."""

    @property
    def chosen(self) -> Reckoning:
        """The way that counts."""
        return next(w for w in self.ways if w.mode == self.mode)

    @property
    def other(self) -> Reckoning | None:
        """The other way, where there is one."""
        return next((w for w in self.ways if w.mode != self.mode), None)

    @property
    def package_price(self) -> Decimal | None:
        """Price of a package, not rounded."""
        if self.price is None or self.price_per == "package":
            return self.price
        return self.price * Decimal(repr(self.per_package))

    @property
    def pallets(self) -> int | None:
        """Pallets begun by the packages; None where the item comes on none."""
        return math.ceil(self.chosen.packages / self.per_pallet) if self.per_pallet else None


@dataclass(frozen=True)
class LabourLine:
    """Work of one kind: hours = quantity x hours_each and cost = hours x wage, each rounded half up to
    two places."""

    key: str
    what: str
    quantity: float
    unit: str
    hours_each: Decimal
    hours: Decimal
    cost: Decimal | None
    why: str


@dataclass(frozen=True)
class BidLine:
    """One line of the bid. A percentage is of ``base``, and ``amount`` is rounded half up to the cent;
    ``running`` is the sum down to this line. None where a price or the wage is missing."""

    name: str
    percent: Decimal | None
    on: Literal["running", "direct", "materials", "labour"] | None
    base: Decimal | None
    amount: Decimal | None
    running: Decimal | None


@dataclass(frozen=True)
class BidSum:
    """The bid from materials and labour down to the total.

    ``priced`` sums the lines that have a price; ``missing`` are the keys of those that have none, and
    ``labour`` for the wage. While anything is missing there is no total.
    """

    lines: tuple[BidLine, ...]
    priced: Decimal
    missing: tuple[str, ...]

    @property
    def total(self) -> Decimal | None:
        """What is bid; None while a price or the wage is missing."""
        return self.lines[-1].running


@dataclass(frozen=True)
class StudReach:
    """A piece that reaches too few studs, and how many it reaches."""

    piece: PieceRef
    studs: int
    x0: float
    x1: float


@dataclass(frozen=True)
class Alternate:
    """Another bid beside the first: its name, what is different, its order."""

    name: str
    what: str
    order: Order


@dataclass(frozen=True)
class Order:
    """What is bought, delivered, installed and paid.

    ``dead_load_psf`` is the weight of flat panels on a square foot of wall, None where no weight is
    known: information for the designer, not a proof of anything.
    """

    lines: tuple[OrderLine, ...]
    labour: tuple[LabourLine, ...]
    bid: BidSum
    currency: str
    prices_from: str
    """File of the prices, empty without one."""
    prices_date: str
    wage: Decimal | None
    days: float
    """Working days of the crew."""
    dead_load_psf: float | None
    few_studs: tuple[StudReach, ...]
    notices: tuple[Notice, ...]
    alternates: tuple[Alternate, ...] = ()

    @property
    def hours(self) -> Decimal:
        """Hours of work."""
        return sum((line.hours for line in self.labour), Decimal(0))

    @property
    def weight_lb(self) -> float | None:
        """Weight of all deliveries; None where the weight of an item is not known."""
        weights = [line.chosen.weight_lb for line in self.lines if not line.by_others]
        return None if None in weights else math.fsum(w for w in weights if w is not None)

    @property
    def materials(self) -> Decimal | None:
        """Cost of all items that are not by others; None where a price is missing."""
        return self.bid.lines[0].amount

    @property
    def pallets(self) -> int:
        """Pallets of the items that come on pallets."""
        return sum(line.pallets or 0 for line in self.lines if not line.by_others)
