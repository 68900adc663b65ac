"""Several products in one job: each by its own walls and plan, and their sums."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.model import Order, Part, Takeoff, Totals
from dxf2veneer.verify.totals.comparing import compare, mismatch
from dxf2veneer.verify.totals.order import check_counts, check_runs

_FOR_ALL = ("wrb",)
"""Items that may be bought for the walls of all products together."""


def check_parts(takeoff: Takeoff, order: Order) -> Iterator[Notice]:
    """Every product's items are those of its own walls and plan; walls and panels of all products
    are the job's; the barrier is behind all of them.

    Args:
        takeoff: The finished takeoff, of several products.
        order: Its order.

    Yields:
        What does not agree.
    """
    shared = {line.item_key for line in order.lines if not line.product}.intersection(_FOR_ALL)
    for part in takeoff.parts:
        yield from check_counts(_alone(takeoff, part), _lines_of(order, part.name), shared)
    yield from check_runs(takeoff, order, shared)
    ids = sorted(wall for part in takeoff.parts for wall in part.walls)
    if ids != sorted(w.wall.id for w in takeoff.walls):
        yield mismatch(message("walls-of-products", walls=tuple(ids)))
    plan, by_products = takeoff.plan, message("as-sum-of-products")
    if plan is None:
        return
    plans = [part.plan for part in takeoff.parts if part.plan]
    for item, total, each in (
        ("flat_panel", plan.flat.units, [one.flat.units for one in plans]),
        ("corner_panel", plan.corner.units, [one.corner.units for one in plans]),
        ("bound", plan.bound, [one.bound for one in plans]),
    ):
        yield from compare(message("item-of-order", item=item), total, sum(each), by_products)
    of_wall = {wall: part.name for part in takeoff.parts for wall in part.walls}
    for unit in plan.units:
        if len({of_wall[ref.wall] for ref in unit.parts}) > 1:
            yield mismatch(message("panel-of-products", panel=unit.id))


def _alone(takeoff: Takeoff, part: Part) -> Takeoff:
    """The walls of one product as a takeoff of their own."""
    walls = tuple(w for w in takeoff.walls if w.wall.id in part.walls)
    return dataclasses.replace(
        takeoff,
        job=part.job,
        product=part.product,
        walls=walls,
        corners=part.corners,
        totals=Totals.of(w.quantities for w in walls),
        plan=part.plan,
        parts=(),
    )


def _lines_of(order: Order, product: str) -> Order:
    """An order with the lines of one product alone."""
    return dataclasses.replace(order, lines=tuple(n for n in order.lines if n.product == product))
