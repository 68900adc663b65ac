"""The bid: sums of its lines, each charge as the job says, margins by the price, totals."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import Decimal

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CHECK_QUOTIENT
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.job import Job
from dxf2veneer.config.treatments import called
from dxf2veneer.model import BidLine, LabourLine, Order, Takeoff
from dxf2veneer.verify.totals.comparing import HALF_CENT, compare, equal, of_alternate, summed


def check_bid(order: Order, alternate: str | None, job: Job) -> Iterator[Notice]:
    """Materials and labor are the sums of their lines; each line of the bid is worth what its words
    say and runs on from the last.

    Args:
        order: An order with its bid.
        alternate: The name of the alternate that it belongs to, None for the bid itself.
        job: Crew and working day, least price and rounding.

    Yields:
        What does not agree.
    """
    costs = [line.chosen.cost for line in order.lines if not line.by_others]
    bid, by_lines = order.bid, message("as-sum-of-order-lines")
    what = of_alternate(alternate, message("materials-of-bid"))
    yield from equal(what, bid.lines[0].amount, summed(costs), by_lines)
    rated = [line.cost for line in order.labour if line.hours_each is not None or line.cost]
    work = [cost for cost in rated if cost is None or cost]
    what = of_alternate(alternate, message("labor-of-bid"))
    yield from equal(what, bid.lines[1].amount, summed(work), message("as-sum-of-labor-lines"))
    known = sum((c for c in costs if c is not None), Decimal(0))
    what = of_alternate(alternate, message("priced-materials"))
    yield from equal(what, bid.priced, known, message("as-sum-of-priced-lines"))
    yield from _running(order, alternate)
    for at, line in enumerate(bid.lines):
        yield from _charge(order, at, line, alternate, job)
    yield from _margins(order, alternate)
    yield from _ending(order, alternate, job)
    for labour in order.labour:
        yield from _worked(order, labour, alternate)
    yield from compare(
        of_alternate(alternate, message("working-days")),
        order.days * job.labour.crew * job.labour.day,
        float(sum(line.hours for line in order.labour)),
        message("hours-by-labor-lines"),
    )


def check_measures(takeoff: Takeoff, order: Order) -> Iterator[Notice]:
    """Work and rates that go by an area or a run of the takeoff have its total.

    Args:
        takeoff: The finished takeoff.
        order: Its order.

    Yields:
        What does not agree.
    """
    t = takeoff.totals
    inches = {"starter_run": t.starter_run, "cap_run": t.cap_run}
    inches["trim_run"] = t.trim_head + t.trim_jambs + t.trim_sill
    inches["corner_run"] = math.fsum(c.run for c in takeoff.corners)
    areas = {"net_area": t.net_area, "gross_area": t.gross_area}
    bare = {
        name.casefold()
        for one in takeoff.job.walls.treatments
        if one.barrier is False
        for name in one.walls
    }
    areas["barrier_area"] = math.fsum(
        w.quantities.gross_area
        for w in takeoff.walls
        if bare.isdisjoint(called(w.wall.id, w.wall.name))
    )
    feet = {key: run / 12.0 for key, run in inches.items()}
    by_hand = math.fsum(one.area for one in takeoff.job.order.additions)
    feet |= {key: area / SQUARE_INCHES_PER_SQUARE_FOOT + by_hand for key, area in areas.items()}
    if takeoff.job.metric_rates:
        feet = {k: v * (0.3048**2 if k in areas else 0.3048) for k, v in feet.items()}
    feet |= {"openings": float(t.openings), "walls": float(len(takeoff.walls)), "job": 1.0}
    used = [(line.key, line.measure, line.quantity) for line in order.labour]
    for line, asked in zip(order.bid.lines[2:], takeoff.job.bid.lines, strict=False):
        if line.quantity is not None:
            used.append((line.name, asked.per or "", float(line.quantity)))
    for name, measure, quantity in used:
        if measure in feet:
            what = message("quantity-of-work", item=name)
            yield from compare(
                what,
                quantity,
                feet[measure],
                message("by-the-quantities"),
                slack=CHECK_QUOTIENT,
            )


def _running(order: Order, alternate: str | None) -> Iterator[Notice]:
    """The running totals, line by line."""
    running: Decimal | None = Decimal(0)
    for line in order.bid.lines:
        running = summed([running, line.amount])
        what = of_alternate(alternate, message("running-total-at-line", name=_name(line)))
        yield from equal(what, line.running, running, message("by-lines-above"))


def _name(line: BidLine) -> str:
    return line.name or line.key


def _charge(
    order: Order, at: int, line: BidLine, alternate: str | None, job: Job
) -> Iterator[Notice]:
    """A lump sum, a rate or a per cent is what the job says of what it is taken of."""
    if line.key != "charge" or line.how == "margin":
        return
    asked = job.bid.lines[at - 2]
    above = order.bid.lines[:at]
    taken = summed([a.amount for a in above if a.kind in asked.of or not asked.of])
    worth: Decimal | None
    if asked.amount is not None:
        worth = Decimal(repr(asked.amount))
    elif asked.rate is not None:
        many = _many(order, asked.per or "", job)
        worth = (
            line.amount if many is _UNSEEN else None if many is None else many * _dec(asked.rate)
        )
    else:
        worth = None if taken is None else taken * _dec(asked.percent or 0.0) / 100
    if worth is not None and asked.least is not None and worth < _dec(asked.least):
        worth = _dec(asked.least)
    if asked.below is not None:
        met = taken is not None and taken < _dec(asked.below)
        worth = None if taken is None else worth if met else Decimal(0)
    what = of_alternate(alternate, message("line-of-bid", name=_name(line)))
    yield from equal(what, line.amount, worth, message("as-job-says"), slack=HALF_CENT)


def _dec(number: float) -> Decimal:
    return Decimal(repr(number))


_UNSEEN = Decimal("NaN")
"""A measure of the takeoff, which the order alone does not show."""


def _many(order: Order, per: str, job: Job) -> Decimal | None:
    """How many a rate goes by, from the order alone."""
    ours = [line for line in order.lines if not line.by_others]
    if per == "pallets":
        on = {line.key: line.per_pallet for line in ours if line.per_pallet}
        come = [item for one in order.deliveries for item in one.items if item.key in on]
        return Decimal(sum(-(-item.packages // on[item.key]) for item in come))
    hours = math.fsum(float(line.hours) for line in order.labour)
    if per == "hours":
        return _dec(round(hours, 2))
    if per == "days":
        return Decimal(math.ceil(hours / job.labour.crew / job.labour.day - CHECK_QUOTIENT))
    pounds = {"pounds": "1", "hundredweight": "0.01", "kilograms": "0.45359237"}
    if per not in pounds:
        return _UNSEEN
    weights = [line.chosen.weight_lb for line in ours]
    if None in weights:
        return None
    return _dec(round(math.fsum(w or 0.0 for w in weights), 6)) * Decimal(pounds[per])


def _margins(order: Order, alternate: str | None) -> Iterator[Notice]:
    """A margin is its per cent of the price below the last of those that stand together; the cents
    that each of them was rounded by add up."""
    lines = order.bid.lines
    for at, line in enumerate(lines):
        if line.how != "margin" or line.value is None:
            continue
        last = at
        while last + 1 < len(lines) and lines[last + 1].how == "margin":
            last += 1
        price = lines[last].running
        what = of_alternate(alternate, message("line-of-bid", name=_name(line)))
        worth = None if price is None else price * line.value / 100
        by = message("as-percent-of-price", percent=str(line.value), price=str(price))
        rest = 100 - sum(other.value or 0 for other in lines[at : last + 1])
        slack = HALF_CENT * 100 * (last - at + 1) / rest
        yield from equal(what, line.amount, worth, by, slack=slack)


def _ending(order: Order, alternate: str | None, job: Job) -> Iterator[Notice]:
    """The price is no less than the least, and a multiple of its step near to what it was."""
    price, bid = order.bid.total, job.bid
    if price is None:
        return
    if bid.minimum is not None and price < _dec(bid.minimum):
        what = of_alternate(alternate, message("price-of-bid"))
        yield from equal(what, price, _dec(bid.minimum), message("as-least-price"))
    if bid.round_to is None:
        return
    step, added = _dec(bid.round_to), order.bid.lines[-1].amount or Decimal(0)
    what = of_alternate(alternate, message("price-of-bid"))
    left = price % step
    yield from equal(what, price, price - left, message("as-multiple-of", step=str(step)))
    is_up = bid.rounding == "up"
    is_least = bid.minimum is not None and price - step < _dec(bid.minimum)
    low, high = Decimal(0) if is_up else -step / 2, step if is_up or is_least else step / 2
    if not low <= added <= high:
        what = of_alternate(alternate, message("line-of-bid", name="rounding"))
        yield from equal(what, added, Decimal(0), message("as-multiple-of", step=str(step)))


def _worked(order: Order, labour: LabourLine, alternate: str | None) -> Iterator[Notice]:
    """Hours and pay of one line of labor."""
    many = Decimal(repr(round(labour.quantity, 6)))
    yield from equal(
        of_alternate(alternate, message("hours-of-labor", item=labour.key)),
        labour.hours,
        many * (labour.hours_each or 0),
        message("by-quantity-and-hours-each"),
        slack=HALF_CENT,
    )
    what: Message = of_alternate(alternate, message("cost-of-labor", item=labour.key))
    if labour.rate is not None:
        paid: Decimal | None = many * labour.rate
    elif labour.hours_each is None:
        paid = None if many else Decimal(0)
    else:
        paid = None if order.wage is None else labour.hours * order.wage
    yield from equal(what, labour.cost, paid, message("by-hours-and-wage"), slack=HALF_CENT)
