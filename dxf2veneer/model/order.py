"""The order and the bid: what is bought, labor, and prices."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.goods import ItemUnit, Packing
from dxf2veneer.config.product import Product
from dxf2veneer.model.deliveries import Delivery
from dxf2veneer.model.parts import Part
from dxf2veneer.model.pieces import PieceRef


class OrderSource(NamedTuple):
    """Where a quantity comes from."""

    ref: str
    """Id of a wall, opening or corner."""
    what: Message
    """What was taken of it; codes begin with ``source-``."""
    value: float
    """How much."""
    unit: ItemUnit
    """The unit of that."""
    beyond: float = 0.0
    """What is bought beyond it, such as stones over the width of the jambs, in the same unit."""


class OfArea(NamedTuple):
    """A part that a wall of which the area alone is known has of a quantity."""

    wall: str
    """What the user calls it: the reason of the addition."""
    value: float


class OrderPart(NamedTuple):
    """One of the items that are bought together in a line, as counted for itself."""

    key: str
    """Key of the item."""
    title: Message
    """What people call it."""
    measured: float
    """How much of it, in the line's unit."""
    why: Message
    """How it was counted."""
    sources: tuple[OrderSource, ...]
    """What it was counted from; those of the line are these, part by part."""


@dataclass(frozen=True)
class Reckoning:
    """An order line worked by one method. What follows ``measured`` follows by four formulas:

    needed = measured x (1 + allowance_pct / 100); packages = needed / per_package, rounded to 6
    places and then up; cost = packages x price of a package, rounded to the cent, half a cent up;
    weight = packages x weight of a package. They are worked once for the job, never wall by wall.
    """

    mode: Literal["layout", "area"]
    """``layout``: piece by piece, breakage added; ``area``: by area or run, scrap added, or what
    course plans took and breakage."""
    measured: float
    """What was counted, in the line's unit."""
    why: Message
    """How it was counted."""
    allowance_pct: float
    """Per cent added."""
    usual_pct: float | None
    """The part of it that course plans took, breakage aside; None where it is no such figure."""
    is_own_allowance: bool
    """Whether the job gives the item this per cent; else it follows the job's."""
    needed: float
    packages: int
    cost: Decimal | None
    """None without a price, and where others supply the item."""
    weight_lb: float | None
    """None where others supply the item."""
    sources: tuple[OrderSource, ...] = ()
    """What it was counted from."""
    parts: tuple[OrderPart, ...] = ()
    """What is bought together in this line, of which ``measured`` is the sum; empty for one
    item."""
    added: float = 0.0
    """What the job adds by hand, below 0 what it takes off; ``measured`` holds it, the sources
    don't."""
    by_area: tuple[OfArea, ...] = ()
    """Of that the walls known by their area alone."""


@dataclass(frozen=True)
class OrderLine:
    """One item of the order."""

    key: str
    """The item's key; fixture blocks have their size behind it, panels in several colors theirs,
    and items of one of several products that one's name."""
    item: Message
    """What people call it."""
    unit: ItemUnit
    mode: Literal["layout", "area"]
    """The method that counts."""
    ways: tuple[Reckoning, ...]
    """The line by each of its one or two methods."""
    package: str
    """What it is sold in, as the product file calls it."""
    per_package: float
    """How much a package holds, in the line's unit."""
    price: Decimal | None
    """Price of one package or of one unit; None where none is known."""
    price_per: Literal["unit", "package"]
    package_weight_lb: float | None
    per_pallet: int | None
    """Packages on a pallet, None where it comes on none."""
    by_others: bool = False
    """Counted, but neither priced nor weighed: someone else supplies it."""
    color_share: float = 1.0
    """Of panels of one color their part of the item, by area."""
    parted_pallets: int = 0
    """Pallets begun besides, because the item comes in several deliveries."""
    product: str = ""
    """Name of the product that it is of, where the job has several; empty for what is bought for
    all of them together."""
    invented: tuple[Packing, ...] = ()
    """Which of ``per_package``, ``weight`` and ``per_pallet`` nobody gave: invented for a demo."""
    supplier: str = ""
    """Who gives its price; empty where the price names nobody or there is none."""
    expired: datetime.date | None = None
    """The last day of its price, where that lies before the day of the bid."""

    @property
    def item_key(self) -> str:
        """Key of the item, without the size of a block, the color of a panel or the product."""
        return self.key.partition(" ")[0]

    @property
    def plain_key(self) -> str:
        """Key without the product."""
        return self.key.removesuffix(f" of {self.product}") if self.product else self.key

    @property
    def chosen(self) -> Reckoning:
        """The line by the method that counts."""
        return next(w for w in self.ways if w.mode == self.mode)

    @property
    def other(self) -> Reckoning | None:
        """The line by the other method, where there is one."""
        return next((w for w in self.ways if w.mode != self.mode), None)

    @property
    def has_given_weight(self) -> bool:
        """Whether what one of it weighs is more than an invented number."""
        return {"per_package", "weight"}.isdisjoint(self.invented)

    @property
    def package_price(self) -> Decimal | None:
        """Price of a package, not rounded."""
        if self.price is None or self.price_per == "package":
            return self.price
        return self.price * Decimal(repr(self.per_package))

    @property
    def unopened(self) -> int:
        """Packages that stay closed, and may go back, where nothing breaks; 0 of what was counted
        by area or run, which says nothing of what is cut."""
        measured = self.chosen.measured / self.per_package
        is_counted = self.mode == "layout" and not self.by_others
        return self.chosen.packages - math.ceil(round(measured, 6)) if is_counted else 0

    @property
    def pallets(self) -> int | None:
        """Pallets begun by the packages of all deliveries; None where the item comes on none."""
        if not self.per_pallet:
            return None
        return math.ceil(self.chosen.packages / self.per_pallet) + self.parted_pallets


@dataclass(frozen=True)
class LabourLine:
    """Work of one kind: hours = quantity x hours_each, and cost = hours x wage, or quantity x rate
    where money is given for one; each rounded half up to two places."""

    key: str
    """The setting of the section ``labour`` that holds its hours; a task of the user's own has
    ``task`` and its name."""
    what: Message
    """What the work is."""
    quantity: float
    unit: str
    """What the quantity counts: piece, cut, opening, stone, sqft, ft, each, job, hour or day."""
    hours_each: Decimal | None
    """Hours of one person for one; None where nobody says."""
    hours: Decimal
    cost: Decimal | None
    """None without a wage, and where the line is an open question."""
    why: Message
    """How the quantity was counted."""
    rates: tuple[float, ...] = ()
    """For each wall the quantity on 100 sq ft of its net area, where it was estimated by that."""
    rate: Decimal | None = None
    """Money for one, where that is given."""
    measure: str = ""
    """The measure of the takeoff that the quantity is; empty where it is none."""
    sources: tuple[OrderSource, ...] = ()
    """The quantity wall by wall, where it is a sum over walls."""
    by_area: tuple[OfArea, ...] = ()
    """Of the quantity the walls known by their area alone; sources and rates don't hold it."""

    @property
    def added(self) -> float:
        """How much of the quantity walls known by their area alone have."""
        return math.fsum(one.value for one in self.by_area)

    @property
    def is_open(self) -> bool:
        """Whether the work is there and nobody says what it takes: it is in no sum."""
        return self.hours_each is None and self.rate is None and self.quantity > 0.0


@dataclass(frozen=True)
class BidLine:
    """One line of the bid; money is None where a price, a weight or the wage is missing."""

    key: Literal["materials", "labour", "charge", "minimum", "rounding"]
    """``minimum`` lifts the price to the least, ``rounding`` to a round figure."""
    name: str
    """The user's own name of a charge; empty on the other lines."""
    kind: str
    """Kind of cost, by which other lines are taken of it; empty for minimum and rounding."""
    working: Message
    """How the amount comes about."""
    amount: Decimal | None
    """The line's own amount, rounded half up to the cent."""
    running: Decimal | None
    """The sum down to this line."""
    how: Literal["amount", "rate", "percent", "margin"] | None = None
    """The way a charge is worked."""
    value: Decimal | None = None
    """The amount, the rate or the per cent as given."""
    per: str | None = None
    """What a rate is for each of."""
    unit: str = ""
    """The unit of an area, a run or a count among these."""
    quantity: Decimal | None = None
    """How many of that there are."""
    of: tuple[str, ...] = ()
    """Kinds of cost that a charge is taken of; none of them for the running total."""
    base: Decimal | None = None
    """How much that is; of a margin the running total above it."""
    share: Decimal | None = None
    """Per cent of the price that a margin and those right after it take together."""

    @property
    def title(self) -> Message:
        """What people call the line."""
        if self.key == "materials":
            return message("bid-materials")
        if self.key == "labour":
            return message("bid-labor")
        if self.key == "minimum":
            return message("bid-minimum")
        if self.key == "rounding":
            return message("bid-rounding")
        return message("as-written", text=self.name)


@dataclass(frozen=True)
class BidSum:
    """The bid from materials and labor down to the total. While anything is missing there is
    none; work that is an open question is left out of it and named.
    """

    lines: tuple[BidLine, ...]
    priced: Decimal
    """Sum of the lines that have a price."""
    missing: tuple[str, ...]
    """Keys of the lines that have none, ``labour`` for the wage and ``weight`` for freight by
    weight where a weight is not known."""
    open: tuple[Message, ...] = ()
    """Work without a rate: it is not in the total."""

    @property
    def total(self) -> Decimal | None:
        """What is bid; None while a price, a weight or the wage is missing."""
        return self.lines[-1].running


@dataclass(frozen=True)
class StudReach:
    """A piece that reaches too few studs, and how many it reaches."""

    piece: PieceRef
    studs: int
    x0: float
    x1: float


class ColorsOver(NamedTuple):
    """What panels in several colors take more than as many in one: each color is rounded up to
    whole packages for itself."""

    flat_packages: int
    corner_packages: int
    money: Decimal | None
    """None without prices."""


@dataclass(frozen=True)
class Alternate:
    """Another bid beside the first."""

    name: str
    """The user's own name."""
    what: Message
    """What is different."""
    order: Order
    walls: tuple[str, ...]
    """Ids of the walls that it is for."""
    product: Product
    """The panel line that they are laid with."""
    adds: bool = False
    """Whether it has walls that the base bid leaves out."""
    parts: tuple[Part, ...] = ()
    """Its walls by product, where the job has several."""
    difference: Decimal | None = None
    """Its total less the first bid's; None where one of them is not known."""


@dataclass(frozen=True)
class Order:
    """What is bought, delivered, installed and paid."""

    lines: tuple[OrderLine, ...]
    labour: tuple[LabourLine, ...]
    bid: BidSum
    currency: str
    prices_from: str
    """Name of the price file, without its folder; empty without one."""
    prices_date: str
    """Date of the prices, as written."""
    wage: Decimal | None
    days: float
    """Working days of the crew."""
    dead_load_psf: float | None
    """Weight of flat panels on a square foot of wall, None where no weight is known: information
    for the designer, not a proof of anything."""
    few_studs: tuple[StudReach, ...]
    notices: tuple[Notice, ...]
    alternates: tuple[Alternate, ...] = ()
    priced_on: datetime.date | None = None
    """The day on which prices had to hold; None where none has a last day."""
    colors_over: ColorsOver | None = None
    """What colors take more; None where the product has but one."""
    deliveries: tuple[Delivery, ...] = ()
    """One for each phase of the job."""
    measures: tuple[tuple[str, float], ...] = ()
    """What rates can go by, by the keys of ``config.tasks.MEASURES``."""
    over: Decimal | None = None
    """What panels and crosscuts cost more than those of the plan of fewest panels and cuts; None
    without prices, and where the plan is that one."""

    @property
    def hours(self) -> Decimal:
        """Hours of work."""
        return sum((line.hours for line in self.labour), Decimal(0))

    @property
    def weight_lb(self) -> float | None:
        """Weight of all deliveries; None where the weight of an item is not known."""
        return weight_of(self.lines)

    @property
    def materials(self) -> Decimal | None:
        """Cost of all items that are not by others; None where a price is missing."""
        return self.bid.lines[0].amount

    @property
    def pallets(self) -> int:
        """Pallets of the items that come on pallets."""
        return pallets_of(self.lines)


def weight_of(lines: Iterable[OrderLine]) -> float | None:
    """Weight of all deliveries.

    Args:
        lines: The order's lines.

    Returns:
        Pounds; None where the weight of an item is not known.
    """
    weights = [line.chosen.weight_lb for line in lines if not line.by_others]
    return None if None in weights else math.fsum(w for w in weights if w is not None)


def pallets_of(lines: Iterable[OrderLine]) -> int:
    """Pallets of the items that come on pallets.

    Args:
        lines: The order's lines.

    Returns:
        How many.
    """
    return sum(line.pallets or 0 for line in lines if not line.by_others)
