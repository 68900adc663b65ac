"""Counts and lines of the order, product by product.

Each product's walls are counted with that product's numbers, and its lines say which product they
are of. Barrier and caulk are bought for all walls together where the product files name the same
goods, so that a begun roll or tube serves the next wall whatever is laid on it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, CoursePlan, OrderLine, Part, WallTakeoff
from dxf2veneer.order.added import with_additions
from dxf2veneer.order.arithmetic import Count
from dxf2veneer.order.colors import by_color
from dxf2veneer.order.lines import order_line
from dxf2veneer.order.panels import panels
from dxf2veneer.order.prices import Prices
from dxf2veneer.order.sheets import barrier_and_caulk, sheets
from dxf2veneer.order.stones import fixture_blocks, pooled, trim_stones
from dxf2veneer.order.strips import strips

_FOR_ALL = ("wrb", "caulk")
"""Items that are bought for all walls together where products name the same goods."""


class Lot(NamedTuple):
    """Walls of one product, as they are counted."""

    walls: Sequence[WallTakeoff]
    corners: Sequence[Corner]
    plan: CoursePlan | None
    job: Job
    product: Product
    prices: Prices
    """Those that are good for the product."""
    name: str = ""
    """What its lines say they are of; empty where the job has but one product."""
    own: frozenset[str] = frozenset()
    """Ways of counting for which the product has an allowance of its own."""


def lots_of(
    walls: Sequence[WallTakeoff], parts: Sequence[Part], job: Job, prices: Prices
) -> list[Lot]:
    """The walls of each product.

    Args:
        walls: All walls as laid out.
        parts: The parts of the job.
        job: The job, whose allowances a part may replace.
        prices: The prices as read.

    Returns:
        A lot for each part.

    Raises:
        SettingsError: An item has two prices of a product.
    """
    return [
        Lot(
            [w for w in walls if w.wall.id in part.walls],
            part.corners,
            part.plan,
            part.job,
            part.product,
            prices.of_product(part.product, is_own=part.is_own),
            part.name,
            frozenset(
                way
                for way, key in (("layout", "breakage"), ("area", "scrap"))
                if getattr(part.job.order, key) != getattr(job.order, key)
            ),
        )
        for part in parts
    ]


class Counted(NamedTuple):
    """The items of a lot before and after colors and additions."""

    lot: Lot
    plain: list[Count]
    counts: list[Count]

    @property
    def lines(self) -> list[OrderLine]:
        """The order's lines of them."""
        lot = self.lot
        return [_of_lot(order_line(c, lot.job, lot.product, lot.prices), lot) for c in self.counts]


def counted(lot: Lot, *, adds: bool = True, without: Sequence[str] = ()) -> Counted:
    """Count the items of a lot.

    Args:
        lot: The walls of one product.
        adds: Whether what the job adds by hand is added here.
        without: Keys of items that are counted elsewhere.

    Returns:
        Its counts and lines.

    Raises:
        SettingsError: A price is in a unit that its item is not sold in, or a roll of the barrier
            is shorter than its lap.
    """
    walls, corners, plan, job, product, prices = lot[:6]
    found = [
        *panels(walls, corners, plan, product),
        *strips(walls, job, product),
        *trim_stones(walls, job, product),
        *fixture_blocks(walls),
        *sheets(walls, corners, plan, job, product, prices),
    ]
    plain = sorted_counts([c for c in found if c.item.key not in without])
    counts = by_color(pooled(plain, job, prices), walls, plan, job, product)
    return Counted(lot, plain, with_additions(counts, job, product, prices) if adds else counts)


def sorted_counts(counts: Sequence[Count]) -> list[Count]:
    """The items that are needed at all, in the order of the list of items.

    Args:
        counts: Counts.

    Returns:
        Those of which there is any.
    """
    places = list(ITEMS)
    return sorted(
        (c for c in counts if any(m.measured > 0.0 for m in c.methods)),
        key=lambda c: places.index(c.item.key),
    )


def _of_lot(line: OrderLine, lot: Lot) -> OrderLine:
    """A line that says which product it is of, and which allowances are that one's own."""
    if not lot.name:
        return line
    ways = tuple(
        dataclasses.replace(w, is_own_allowance=w.is_own_allowance or w.mode in lot.own)
        for w in line.ways
    )
    return dataclasses.replace(
        line,
        key=f"{line.key} of {lot.name}",
        item=message("item-of-product", item=line.item, product=lot.name),
        ways=ways,
        product=lot.name,
    )


def counted_parts(
    lots: Sequence[Lot], walls: Sequence[WallTakeoff], corners: Sequence[Corner], job: Job
) -> list[Counted]:
    """Count every lot of a job of several products; what is bought for all together comes last.

    What the job adds by hand is of the first part: of the job's own product, which has a part then
    even if it has no walls.

    Args:
        lots: The walls of each product.
        walls: All walls as laid out.
        corners: All corners.
        job: The job.

    Returns:
        Each lot's counts, and those of barrier and caulk of all where the products' goods agree.

    Raises:
        SettingsError: As ``counted``.
    """
    first = lots[0]
    shared = [key for key in _FOR_ALL if _is_same_for_all(key, lots)]
    found = [counted(lot, adds=False, without=shared) for lot in lots]
    together = Lot(walls, corners, None, job, first.product, first.prices)
    both = barrier_and_caulk(walls, corners, job, first.product, first.prices)
    plain = sorted_counts([c for c in both if c.item.key in shared])
    added = with_additions([*found[0].counts, *plain], job, first.product, first.prices)
    found[0] = found[0]._replace(counts=[c for c in added if c.item.key not in shared])
    counts = [c for c in added if c.item.key in shared]
    return [*found, Counted(together, plain, counts)]


def _is_same_for_all(key: str, lots: Sequence[Lot]) -> bool:
    """Whether all products name the same goods for an item, at one price."""
    section = ITEMS[key].section
    goods = {(one.product.goods.of(section), one.prices.of(key, section)) for one in lots}
    return len(goods) == 1
