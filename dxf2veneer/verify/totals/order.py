"""The order against quantities and plan, its packages and money, and the bid."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import Decimal

from dxf2veneer.config.job import Job
from dxf2veneer.model import Order, OrderLine, Reckoning, Takeoff
from dxf2veneer.notices import Notice
from dxf2veneer.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.verify.totals.telling import compare, mismatch, within

_CENT = Decimal("0.01")
_PLACE = 1e-5
"""Quotients are rounded to six places before they are rounded up."""
_JOIN_FT = 0.02


def check_counts(takeoff: Takeoff, order: Order) -> Iterator[Notice]:
    """The order measures what the walls and the plan have."""
    lines = {line.key: line for line in order.lines}
    for key, what, total, modes in _runs(takeoff):
        for way in (w for w in lines[key].ways if w.mode in modes) if key in lines else ():
            parts = math.fsum(s.value for s in way.sources if what in ("", s.what.code))
            slack = _JOIN_FT * len(way.sources)
            yield from compare(
                f"{key}: {what.removeprefix('source-').replace('-', ' ') or 'run'} of its {way.mode} reckoning",
                parts,
                total,
                "by the quantities",
                slack=slack,
            )
        if total > _PLACE and key not in lines and _is_wanted(key, takeoff):
            yield mismatch(
                f"{key} is missing from the order, though the quantities have {total:.10g} of it"
            )
    if takeoff.plan is not None:
        for key, count in (
            ("flat_panel", takeoff.plan.flat),
            ("corner_panel", takeoff.plan.corner),
        ):
            laid = (
                next((w.measured for w in lines[key].ways if w.mode == "layout"), 0.0)
                if key in lines
                else 0.0
            )
            yield from compare(f"{key} of the order", laid, count.units, "in the course plan")
    fixtures = sum(
        o.opening.kind == "fixture" for w in takeoff.walls for o in w.quantities.openings
    )
    blocks = math.fsum(
        line.chosen.measured for line in order.lines if line.key.startswith("fixture_block")
    )
    yield from compare("fixture blocks of the order", blocks, fixtures, "by the fixture outlines")


def _runs(takeoff: Takeoff) -> Iterator[tuple[str, str, float, tuple[str, ...]]]:
    """Items with what their sources measure, in feet or square feet, the total of that in the quantities, and
    the ways of reckoning that rest on it."""
    t = takeoff.totals
    both, area = ("layout", "area"), ("area",)
    yield "starter_strip", "source-starter-run", t.starter_run / 12.0, both
    yield "starter_fastener", "source-starter-run", t.starter_run / 12.0, both
    yield "cap_stone", "source-cap-run", t.cap_run / 12.0, both
    yield "cap_fastener", "source-cap-run", t.cap_run / 12.0, both
    yield "head_stone", "source-head", t.trim_head / 12.0, both
    yield "jamb_stone", "source-jambs", t.trim_jambs / 12.0, both
    yield "sill_stone", "source-sill", t.trim_sill / 12.0, both
    yield "wrb", "source-gross-area", t.gross_area / SQUARE_INCHES_PER_SQUARE_FOOT, area
    yield "flat_panel", "source-net-area", t.net_area / SQUARE_INCHES_PER_SQUARE_FOOT, area
    yield "corner_panel", "", _corner_run(takeoff) / 12.0, area


def _is_wanted(key: str, takeoff: Takeoff) -> bool:
    """Whether an item belongs into every order that has a quantity of it: trim stones need a width, and
    flat panels a wall that corner pieces do not cover alone."""
    trim, product = takeoff.job.trim, takeoff.product
    if key == "flat_panel":
        return _corner_run(takeoff) * product.corner.length / 2.0 < takeoff.totals.net_area
    return {"head_stone": trim.head, "jamb_stone": trim.jambs, "sill_stone": trim.sill}.get(
        key, 1.0
    ) > 0.0


def _corner_run(takeoff: Takeoff) -> float:
    """Inches of height that take corner pieces, one a course and half a corner panel long."""
    return takeoff.corner_run("outside") + takeoff.corner_run("inside") + takeoff.end_run


def check_packages(order: Order, name: str) -> Iterator[Notice]:
    """Packages hold what is needed and none is idle; cost and weight follow from them."""
    for line in order.lines:
        for way in line.ways:
            what = f"{name}{line.key} by {way.mode}"
            needed = way.measured * (100.0 + way.allowance_pct) / 100.0
            yield from compare(
                f"{what}: needed", way.needed, needed, "as measured and its allowance"
            )
            slack = _PLACE * line.per_package
            holds = way.packages * line.per_package
            yield from within(
                f"{what}: what the packages hold",
                holds,
                way.needed - slack,
                way.needed + line.per_package,
                "what is needed and less than a package more",
            )
            yield from _paid(what, line, way)


def _paid(what: str, line: OrderLine, way: Reckoning) -> Iterator[Notice]:
    price = None if line.by_others else line.price
    units = Decimal(way.packages) * (
        1 if line.price_per == "package" else Decimal(repr(line.per_package))
    )
    if (way.cost is None) != (price is None) or (
        way.cost is not None and price is not None and abs(way.cost - units * price) > _CENT / 2
    ):
        yield mismatch(
            f"{what}: cost is {way.cost}, but {None if price is None else units * price} by packages and price"
        )
    each = None if line.by_others else line.package_weight_lb
    if (way.weight_lb is None) != (each is None):
        yield mismatch(f"{what}: weight is {way.weight_lb}, that of a package {each}")
    elif way.weight_lb is not None and each is not None:
        yield from compare(f"{what}: weight", way.weight_lb, way.packages * each, "by its packages")


def check_bid(order: Order, name: str, job: Job) -> Iterator[Notice]:
    """Materials and labour are the sums of their lines, and each line of the bid runs on from the one before."""
    costs = [line.chosen.cost for line in order.lines if not line.by_others]
    work = [line.cost for line in order.labour]
    bid = order.bid
    yield from _equal(
        f"{name}materials of the bid",
        bid.lines[0].amount,
        _sum(costs),
        "as the sum of the order's lines",
    )
    yield from _equal(
        f"{name}labour of the bid",
        bid.lines[1].amount,
        _sum(work),
        "as the sum of the labour lines",
    )
    yield from _equal(
        f"{name}priced materials",
        bid.priced,
        sum((c for c in costs if c is not None), Decimal(0)),
        "as the sum of the priced lines",
    )
    running: Decimal | None = Decimal(0)
    for line in bid.lines:
        if line.percent is not None and line.base is not None:
            share = line.base * line.percent / 100
            yield from _equal(
                f"{name}{line.name or line.key}",
                line.amount,
                share,
                f"as {line.percent} per cent of {line.base}",
                slack=_CENT / 2,
            )
        running = _sum([running, line.amount])
        yield from _equal(
            f"{name}running total at {line.name or line.key}", line.running, running, "by the lines above"
        )
    for labour in order.labour:
        hours = Decimal(repr(round(labour.quantity, 6))) * labour.hours_each
        yield from _equal(
            f"{name}hours of {labour.key}",
            labour.hours,
            hours,
            "by quantity and hours each",
            slack=_CENT / 2,
        )
        pay = None if order.wage is None else labour.hours * order.wage
        yield from _equal(
            f"{name}cost of {labour.key}", labour.cost, pay, "by hours and wage", slack=_CENT / 2
        )
    crew = job.labour.crew * job.labour.day
    yield from compare(
        f"{name}working days",
        order.days * crew,
        float(sum(line.hours for line in order.labour)),
        "hours by the labour lines",
    )


def _sum(amounts: list[Decimal | None]) -> Decimal | None:
    """The sum, None where an amount is not known."""
    known = [a for a in amounts if a is not None]
    return sum(known, Decimal(0)) if len(known) == len(amounts) else None


def _equal(
    what: str, one: Decimal | None, two: Decimal | None, by: str, *, slack: Decimal = Decimal(0)
) -> Iterator[Notice]:
    if one is None and two is None:
        return
    if one is None or two is None or abs(one - two) > slack:
        yield mismatch(f"{what} is {one}, but {two} {by}")
