"""The order and the bid in plain dicts, for the result file.

Money is a number with at most two decimals, null where a price is missing.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.additions import Addition
from dxf2veneer.config.advice import Leave
from dxf2veneer.config.bidding import AlternateChoice, ItemAllowance
from dxf2veneer.config.blend import WallShare
from dxf2veneer.config.charges import Charge
from dxf2veneer.config.letter import UnitPrice
from dxf2veneer.config.pricing import PriceColumn, PriceName
from dxf2veneer.config.tasks import Task
from dxf2veneer.config.treatments import Treatment
from dxf2veneer.config.wall_rows import WallRow
from dxf2veneer.model import (
    Alternate,
    BidLine,
    Delivery,
    ElevationShare,
    LabourLine,
    Order,
    OrderLine,
    OrderPart,
    OrderShare,
    OrderSource,
    Reckoning,
    StudReach,
)
from dxf2veneer.wording import say
from dxf2veneer.writers.result.message_data import message_data
from dxf2veneer.writers.result.plan import piece_id
from dxf2veneer.writers.result.shape_order import (
    AlternateJson,
    BidJson,
    BidLineJson,
    DeliveryJson,
    ElevationShareJson,
    LabourLineJson,
    OrderLineJson,
    OrderPartJson,
    OrderSourceJson,
    OrderTotalsJson,
    OrderWayJson,
    ShareJson,
    StudReachJson,
)


def order_dicts(order: Order, display: str) -> list[OrderLineJson]:
    """The lines of an order.

    Args:
        order: The order.
        display: Units of its English lines: ``imperial`` or ``metric``.

    Returns:
        The fields of every line.
    """
    return [_line(line, display) for line in order.lines]


def bid_dict(order: Order, display: str) -> BidJson:
    """What an order costs, weighs and takes to install, and the alternates beside it.

    Args:
        order: The order.
        display: Units of its English lines: ``imperial`` or ``metric``.

    Returns:
        The fields of the bid.
    """
    found: BidJson = {
        "currency": order.currency,
        "prices_from": order.prices_from,
        "prices_date": order.prices_date,
        "labour": [_labour(line, display) for line in order.labour],
        "wage": _money(order.wage),
        "days": order.days,
        "lines": [_bid_line(line) for line in order.bid.lines],
        "priced": float(order.bid.priced),
        "missing": list(order.bid.missing),
        "open": [say(what, display) for what in order.bid.open],
        "total": _money(order.bid.total),
        "dead_load_psf": order.dead_load_psf,
        "pallets": order.pallets,
        "few_studs": [_reach(reach) for reach in order.few_studs],
        "alternates": [_alternate(a, display) for a in order.alternates],
        "deliveries": [_delivery(d, display) for d in order.deliveries],
    }
    if order.colors_over:
        over = order.colors_over
        found["colors_over"] = {
            "flat_packages": over.flat_packages,
            "corner_packages": over.corner_packages,
            "money": _money(over.money),
        }
    return found


def setting_value(value: Any) -> Any:
    """A setting's value as JSON holds it.

    Args:
        value: The value.

    Returns:
        The value; the tables of allowances, tasks, lines of the bid and so on as objects.
    """
    if isinstance(value, tuple):
        tables = (
            ItemAllowance
            | Charge
            | Task
            | AlternateChoice
            | WallShare
            | UnitPrice
            | PriceColumn
            | PriceName
            | WallRow
            | Treatment
            | Addition
            | Leave
        )
        return [_table(v) if isinstance(v, tables) else v for v in value]
    return value


def _table(value: Any) -> dict[str, Any]:
    """A table of the job file; an alternate that adds no wall has no key for it."""
    made: dict[str, Any] = value._asdict()
    return {k: v for k, v in made.items() if k != "adds" or v}


def order_totals(order: Order | None) -> OrderTotalsJson:
    """The order's share of the totals.

    Args:
        order: The order, if there is one.

    Returns:
        Cost of materials, hours of work, weight in pounds; nulls without an order.
    """
    if order is None:
        return {"cost": None, "labour_hours": None, "weight_lb": None}
    return {
        "cost": _money(order.materials),
        "labour_hours": float(order.hours),
        "weight_lb": order.weight_lb,
    }


def share_dict(share: ElevationShare) -> ElevationShareJson:
    """An elevation's part of the order.

    Args:
        share: The part.

    Returns:
        Its fields, those of its walls among them.
    """
    return {
        "elevation": share.name,
        "net_area_sqft": square_feet(share.net_area),
        **_share(share),
        "walls": [{"wall": one.wall, **_share(one)} for one in share.walls],
    }


def _share(share: OrderShare | ElevationShare) -> ShareJson:
    return {
        "materials": _money(share.materials),
        "labour": _money(share.labour),
        "price": _money(share.price),
        "hours": float(share.hours),
        "packages": {one.key: float(one.packages) for one in share.packages},
    }


def _line(line: OrderLine, display: str) -> OrderLineJson:
    chosen = line.chosen
    made: OrderLineJson = {
        "key": line.key,
        "item": say(line.item, display),
        "item_data": message_data(line.item),
        "measured": chosen.measured,
        "unit": line.unit,
        "allowance_pct": chosen.allowance_pct,
        "needed": chosen.needed,
        "package": line.package,
        "per_package": line.per_package,
        "packages": chosen.packages,
        "unit_price": _money(line.price),
        "price_per": line.price_per,
        "cost": _money(chosen.cost),
        "package_weight_lb": line.package_weight_lb,
        "weight_lb": chosen.weight_lb,
        "per_pallet": line.per_pallet,
        "pallets": line.pallets,
        "by_others": line.by_others,
        "mode": line.mode,
        "basis": say(chosen.why, display),
        "basis_data": message_data(chosen.why),
        "sources": [_source(s, display) for s in chosen.sources],
        "parts": [_part(p, display) for p in chosen.parts],
        "added": chosen.added,
        "unopened": line.unopened,
        "other_way": None if line.other is None else _way(line.other, display),
    }
    return {**made, "product": line.product} if line.product else made


def _delivery(one: Delivery, display: str) -> DeliveryJson:
    return {
        "phase": one.phase,
        "walls": list(one.walls),
        "weight_lb": one.weight_lb,
        "pallets": one.pallets,
        "loads": one.loads,
        "items": [
            {
                "key": item.key,
                "item": say(item.item, display),
                "package": item.package,
                "packages": item.packages,
                "weight_lb": item.weight_lb,
                "cost": _money(item.cost),
                "pallets": [
                    {"pallets": p.pallets, "packages": p.packages, "weight_lb": p.weight_lb}
                    for p in item.pallets
                ],
                "ahead": item.ahead,
            }
            for item in one.items
        ],
    }


def _way(way: Reckoning, display: str) -> OrderWayJson:
    return {
        "mode": way.mode,
        "measured": way.measured,
        "allowance_pct": way.allowance_pct,
        "needed": way.needed,
        "packages": way.packages,
        "cost": _money(way.cost),
        "weight_lb": way.weight_lb,
        "basis": say(way.why, display),
        "basis_data": message_data(way.why),
        "sources": [_source(s, display) for s in way.sources],
        "parts": [_part(p, display) for p in way.parts],
        "added": way.added,
    }


def _part(part: OrderPart, display: str) -> OrderPartJson:
    return {
        "key": part.key,
        "item": say(part.title, display),
        "item_data": message_data(part.title),
        "measured": part.measured,
        "basis": say(part.why, display),
        "basis_data": message_data(part.why),
    }


def _source(source: OrderSource, display: str) -> OrderSourceJson:
    return {
        "ref": source.ref,
        "what": say(source.what, display),
        "what_data": message_data(source.what),
        "value": source.value,
        "unit": source.unit,
    }


def _labour(line: LabourLine, display: str) -> LabourLineJson:
    return {
        "key": line.key,
        "what": say(line.what, display),
        "what_data": message_data(line.what),
        "quantity": line.quantity,
        "unit": line.unit,
        "measure": line.measure or None,
        "hours_each": _money(line.hours_each),
        "rate": _money(line.rate),
        "hours": float(line.hours),
        "cost": _money(line.cost),
        "open": line.is_open,
        "basis": say(line.why, display),
        "basis_data": message_data(line.why),
    }


def _bid_line(line: BidLine) -> BidLineJson:
    return {
        "key": line.key,
        "name": say(line.title),
        "kind": line.kind or None,
        "how": line.how,
        "value": _money(line.value),
        "per": line.per,
        "per_unit": line.unit or None,
        "quantity": _money(line.quantity),
        "of": list(line.of),
        "base": _money(line.base),
        "amount": _money(line.amount),
        "running": _money(line.running),
        "working": say(line.working),
        "working_data": message_data(line.working),
    }


def _reach(reach: StudReach) -> StudReachJson:
    return {
        "piece": piece_id(reach.piece),
        "studs": reach.studs,
        "x0_in": reach.x0,
        "x1_in": reach.x1,
    }


def _alternate(alternate: Alternate, display: str) -> AlternateJson:
    order = alternate.order
    return {
        "name": alternate.name,
        "what": say(alternate.what, display),
        "what_data": message_data(alternate.what),
        "order": order_dicts(order, display),
        "lines": [_bid_line(line) for line in order.bid.lines],
        "missing": list(order.bid.missing),
        "open": [say(what, display) for what in order.bid.open],
        "total": _money(order.bid.total),
        **order_totals(order),
    }


def _money(amount: Decimal | None) -> float | None:
    return None if amount is None else float(amount)
