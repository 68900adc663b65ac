"""The order, the labor and the bid in the result."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired, TypedDict

from dxf2veneer.writers.result.shape_values import Inches, Limit, MessageJson, PieceId


class OrderSourceJson(TypedDict):
    """Where a quantity comes from: a wall, an opening or a corner, what was taken of it and how
    much."""

    ref: str
    what: str
    what_data: MessageJson | None
    value: float
    unit: Literal["each", "ft", "sqft", "m", "m2"]


class OrderPartJson(TypedDict):
    """An item that is bought together with others in a line."""

    key: Annotated[str, "The item's key."]
    item: str
    item_data: MessageJson | None
    measured: float
    basis: str
    basis_data: MessageJson | None


class OrderWayJson(TypedDict):
    """An item of the order reckoned in one way."""

    mode: Annotated[
        Literal["layout", "area"],
        "Counted piece by piece, breakage added; or by area or run, scrap added.",
    ]
    measured: float
    allowance_pct: float
    needed: float
    packages: Annotated[int, Limit("minimum", 0)]
    cost: float | None
    weight_lb: float | None
    basis: str
    basis_data: MessageJson | None
    sources: list[OrderSourceJson]
    parts: Annotated[
        list[OrderPartJson], "Items that are bought together here; empty where it is one."
    ]
    added: Annotated[
        float, "What the job adds by hand, below 0 what it takes off; part of `measured`."
    ]


class OrderLineJson(TypedDict):
    """One line of the order, in the way that counts. needed = measured x (1 + allowance_pct /
    100); packages = needed / per_package, rounded to 6 places and then up; cost rounded half up
    to the cent."""

    key: Annotated[
        str,
        "The item's key; fixture blocks have their size behind it, items of one of several "
        "products its name.",
    ]
    product: NotRequired[
        Annotated[
            str,
            "Name of the product that it is of, in a job of several; left out of what is bought "
            "for all of them together.",
        ]
    ]
    item: str
    item_data: MessageJson | None
    measured: float
    unit: Literal["each", "ft", "sqft", "m", "m2"]
    allowance_pct: float
    needed: float
    package: str
    per_package: float
    packages: Annotated[int, Limit("minimum", 0)]
    unit_price: Annotated[float | None, "Price of what `price_per` says; null where none is known."]
    price_per: Literal["unit", "package"]
    cost: float | None
    package_weight_lb: float | None
    weight_lb: float | None
    per_pallet: float | None
    pallets: Annotated[int | None, Limit("minimum", 0)]
    by_others: Annotated[bool, "Counted, but neither priced nor weighed."]
    mode: Annotated[
        Literal["layout", "area"],
        "Counted piece by piece, breakage added; or by area or run, scrap added.",
    ]
    basis: Annotated[str, "Why this number."]
    basis_data: MessageJson | None
    sources: list[OrderSourceJson]
    parts: Annotated[
        list[OrderPartJson], "Items that are bought together here; empty where it is one."
    ]
    added: Annotated[
        float, "What the job adds by hand, below 0 what it takes off; part of `measured`."
    ]
    unopened: Annotated[
        int, "Packages that stay closed where nothing breaks; 0 for what was counted by area."
    ]
    other_way: Annotated[
        OrderWayJson | None, "The same item reckoned in the other way, where there is one."
    ]


class LabourLineJson(TypedDict):
    """Work of one kind: hours = quantity x hours_each, cost = hours x wage or quantity x rate,
    each rounded half up to two places."""

    key: str
    what: str
    what_data: MessageJson | None
    quantity: float
    unit: str
    measure: Annotated[str | None, "The measure of the takeoff that the quantity is."]
    hours_each: Annotated[float | None, "Hours of one person for one; null where nobody says."]
    rate: Annotated[float | None, "Money for one, where that is given."]
    hours: float
    cost: float | None
    open: Annotated[bool, "Work that nobody gave a rate: it is in no sum."]
    basis: str
    basis_data: MessageJson | None


class BidLineJson(TypedDict):
    """One line of the bid; null where a price, a weight or the wage is missing."""

    key: Literal["materials", "labour", "charge", "minimum", "rounding"]
    name: str
    kind: Annotated[str | None, "Kind of cost; null for minimum and rounding."]
    how: Annotated[
        Literal["amount", "rate", "percent", "margin"] | None,
        "The way a charge is worked: a margin is per cent of the price, percent is of costs.",
    ]
    value: Annotated[float | None, "The amount, the rate or the per cent as given."]
    per: Annotated[str | None, "What a rate is for each of."]
    per_unit: Annotated[str | None, "The unit of an area, a run or a count among these."]
    quantity: Annotated[float | None, "How many of that there are."]
    of: Annotated[list[str], "Kinds of cost that it is taken of; none for the running total."]
    base: float | None
    amount: float | None
    running: float | None
    working: Annotated[str, "How the amount comes about."]
    working_data: MessageJson | None


class StudReachJson(TypedDict):
    """A piece that reaches too few studs."""

    piece: PieceId
    studs: Annotated[int, Limit("minimum", 0)]
    x0_in: Inches
    x1_in: Inches


class OrderTotalsJson(TypedDict):
    """Sums of an order."""

    cost: Annotated[float | None, "Cost of materials; null where a price is missing."]
    labour_hours: Annotated[float | None, "Hours of work; null until an order is worked out."]
    weight_lb: Annotated[float | None, "Weight of all deliveries."]


class AlternateJson(OrderTotalsJson):
    """Another bid beside the first."""

    name: str
    what: str
    what_data: MessageJson | None
    order: list[OrderLineJson]
    lines: list[BidLineJson]
    missing: list[str]
    open: list[str]
    total: float | None


class ColorsOverJson(TypedDict):
    """What panels in several colors take more than as many in one."""

    flat_packages: int
    corner_packages: int
    money: Annotated[float | None, "Null where panels have no price."]


class PalletJson(TypedDict):
    """Pallets of an item that hold alike."""

    pallets: Annotated[int, Limit("minimum", 1)]
    packages: Annotated[int, "On each of them."]
    weight_lb: Annotated[float | None, "Of the packages on each."]


class DeliveredJson(TypedDict):
    """An item of a delivery."""

    key: str
    item: str
    package: str
    packages: Annotated[int, Limit("minimum", 1)]
    weight_lb: float | None
    cost: float | None
    pallets: list[PalletJson]
    ahead: Annotated[int, "Panels first cut here of which later phases have pieces."]


class DeliveryJson(TypedDict):
    """What one phase needs beyond what the phases before it have left over."""

    phase: Annotated[str, "Empty for walls of no phase."]
    walls: list[str]
    weight_lb: float | None
    pallets: Annotated[int, Limit("minimum", 0)]
    loads: Annotated[
        int | None,
        "Null where the truck or a weight is not given, or a pallet is too heavy for it.",
    ]
    items: list[DeliveredJson]


class ShareJson(TypedDict):
    """A part of the order; those of all walls sum up to it exactly, and so do those of all
    elevations."""

    materials: float | None
    labour: float | None
    price: Annotated[float | None, "Its part of what is bid."]
    hours: float
    packages: Annotated[dict[str, float], "Parts of the packages by the key of the order's line."]


class WallShareJson(ShareJson):
    """A wall's part of the order."""

    wall: str


class ElevationShareJson(ShareJson):
    """The walls of one name together."""

    elevation: str
    net_area_sqft: float
    walls: list[WallShareJson]


class BidJson(TypedDict):
    """What the order costs, weighs and takes to install."""

    currency: str
    prices_from: str
    prices_date: str
    labour: list[LabourLineJson]
    wage: float | None
    days: float
    lines: list[BidLineJson]
    priced: Annotated[float, "Sum of the lines that have a price."]
    missing: Annotated[
        list[str],
        "Keys of the items without a price, `labour` without a wage, `weight` without a weight.",
    ]
    open: Annotated[list[str], "Work without a rate, which the total leaves out."]
    total: Annotated[float | None, "Null while anything is missing."]
    dead_load_psf: Annotated[
        float | None,
        "Weight of flat panels on a square foot of wall: information for the designer.",
    ]
    pallets: Annotated[int, Limit("minimum", 0)]
    few_studs: list[StudReachJson]
    colors_over: NotRequired[
        Annotated[ColorsOverJson, "Left out where the product has but one color."]
    ]
    alternates: list[AlternateJson]
    deliveries: Annotated[list[DeliveryJson], "One for each phase of the job."]
