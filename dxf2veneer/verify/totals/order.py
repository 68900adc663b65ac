"""The order against quantities and plan, its packages and money, and the bid."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CHECK_JOIN_FT, CHECK_QUOTIENT
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.job import Job
from dxf2veneer.config.wall_rows import called
from dxf2veneer.model import LabourLine, Order, OrderLine, Reckoning, Takeoff
from dxf2veneer.verify.totals.comparing import compare, mismatch, within

_BOUGHT_WITH = dict.fromkeys(("head_stone", "jamb_stone", "sill_stone"), "trim_stone")
"""Items that may be counted in the line of another."""
_HALF_CENT = Decimal("0.005")
"""What a rounding to the cent can take off or add."""


def check_counts(takeoff: Takeoff, order: Order) -> Iterator[Notice]:
    """The order measures what the walls and the plan have.

    Args:
        takeoff: The finished takeoff.
        order: Its order.

    Yields:
        What does not agree.
    """
    lines: dict[str, list[OrderLine]] = {}
    for line in order.lines:
        lines.setdefault(line.item_key, []).append(line)
    for run in _runs(takeoff):
        own = lines.get(run.item) or lines.get(_BOUGHT_WITH.get(run.item, ""), [])
        for way in (w for line in own for w in line.ways if w.mode in run.modes):
            parts = math.fsum(s.value for s in way.sources if run.source in ("", s.what.code))
            yield from compare(
                message("run-of-order-line", item=run.item, run=run.name, mode=way.mode),
                parts,
                run.total,
                message("by-the-quantities"),
                slack=CHECK_JOIN_FT * len(way.sources),
            )
        if run.total > CHECK_QUOTIENT and not own and _is_wanted(run.item, takeoff):
            yield mismatch(message("order-line-missing", item=run.item, total=run.total))
    if takeoff.plan is not None:
        for key, count in (
            ("flat_panel", takeoff.plan.flat),
            ("corner_panel", takeoff.plan.corner),
        ):
            ways = [w for line in lines.get(key, ()) for w in line.ways]
            laid = math.fsum(w.measured - w.added for w in ways if w.mode == "layout")
            what = message("item-of-order", item=key)
            yield from compare(what, laid, count.units, message("by-course-plan"))
    yield from _check_colors(takeoff, order)
    fixtures = sum(
        o.opening.kind == "fixture" for w in takeoff.walls for o in w.quantities.openings
    )
    blocks = math.fsum(
        line.chosen.measured for line in order.lines if line.key.startswith("fixture_block")
    )
    what = message("fixture-blocks-of-order")
    yield from compare(what, blocks, fixtures, message("by-fixture-outlines"))


def _check_colors(takeoff: Takeoff, order: Order) -> Iterator[Notice]:
    """Panels of each color are those of the plan, and by area all colors are the whole."""
    colors = takeoff.product.blend.colors
    units = takeoff.plan.units if takeoff.plan else ()
    for item, kind in (("flat_panel", "flat"), ("corner_panel", "corner")) if colors else ():
        own = [line for line in order.lines if line.item_key == item]
        for name in (c.name for c in colors) if units and own else ():
            laid = math.fsum(
                w.measured - w.added
                for line in own
                for w in line.ways
                if w.mode == "layout" and line.key == f"{item} {color_key(name)}"
            )
            listed = sum(u.kind == kind and u.color == name for u in units)
            what = message("item-of-order", item=f"{item} {color_key(name)}")
            yield from compare(what, laid, listed, message("by-course-plan"))
        if own:
            shares = math.fsum(line.color_share for line in own)
            what = message("shares-of-order", item=item)
            yield from compare(what, shares, 1.0, message("by-the-whole"))


class _RunTotal(NamedTuple):
    """What the sources of an item measure: name, total in feet or square feet, and where it
    counts."""

    item: str
    name: str
    source: str
    """Code of the sources that measure it; empty for all of them."""
    total: float
    modes: tuple[str, ...]


def _runs(takeoff: Takeoff) -> Iterator[_RunTotal]:
    """Items with what their sources measure, and the methods of counting that rest on it."""
    t = takeoff.totals
    both, area = ("layout", "area"), ("area",)
    for item, name, source, inches in (
        ("starter_strip", "starter_run", "source-starter-run", t.starter_run),
        ("starter_fastener", "starter_run", "source-starter-run", t.starter_run),
        ("cap_stone", "cap_run", "source-cap-run", t.cap_run),
        ("cap_fastener", "cap_run", "source-cap-run", t.cap_run),
        ("head_stone", "head", "source-head", t.trim_head),
        ("jamb_stone", "jambs", "source-jambs", t.trim_jambs),
        ("sill_stone", "sill", "source-sill", t.trim_sill),
    ):
        yield _RunTotal(item, name, source, inches / 12.0, both)
    bare = {
        n.casefold() for one in takeoff.job.walls.treatments if not one.barrier for n in one.walls
    }
    behind = math.fsum(
        w.quantities.gross_area
        for w in takeoff.walls
        if bare.isdisjoint(called(w.wall.id, w.wall.name))
    )
    for item, name, source, square_inches in (
        ("wrb", "gross_area", "source-gross-area", behind),
        ("flat_panel", "net_area", "source-net-area", t.net_area),
    ):
        square_feet = square_inches / SQUARE_INCHES_PER_SQUARE_FOOT
        yield _RunTotal(item, name, source, square_feet, area)
    yield _RunTotal("corner_panel", "corner_run", "", _corner_run(takeoff) / 12.0, area)


def _is_wanted(key: str, takeoff: Takeoff) -> bool:
    """Whether an item belongs in every order that has a quantity of it.

    Trim stones need a width, and flat panels a wall that corner pieces do not cover alone.
    """
    trim, product = takeoff.job.trim, takeoff.product
    if key == "flat_panel":
        return _corner_run(takeoff) * product.corner.length / 2.0 < takeoff.totals.net_area
    return {"head_stone": trim.head, "jamb_stone": trim.jambs, "sill_stone": trim.sill}.get(
        key, 1.0
    ) > 0.0


def _corner_run(takeoff: Takeoff) -> float:
    """Inches of height that take corner pieces, one a course and half a corner panel long."""
    return takeoff.corner_run("outside") + takeoff.corner_run("inside") + takeoff.end_run


# ---------------------------------------------------------------- packages


def check_packages(order: Order, alternate: str | None = None) -> Iterator[Notice]:
    """Packages hold what is needed and none is idle; cost and weight follow from them.

    Args:
        order: An order.
        alternate: The name of the alternate that it belongs to, None for the bid itself.

    Yields:
        What does not agree.
    """
    for line in order.lines:
        for way in line.ways:
            if way.parts:
                yield from compare(
                    _of(alternate, message("parts-of-item", item=line.key, mode=way.mode)),
                    way.measured,
                    math.fsum(p.measured for p in way.parts) + way.added,
                    message("as-sum-of-parts"),
                )
            needed = way.measured * (100.0 + way.allowance_pct) / 100.0
            yield from compare(
                _of(alternate, message("needed-of-item", item=line.key, mode=way.mode)),
                way.needed,
                needed,
                message("as-measured-and-allowance"),
            )
            yield from within(
                _of(alternate, message("packages-of-item", item=line.key, mode=way.mode)),
                way.packages * line.per_package,
                way.needed - CHECK_QUOTIENT * line.per_package,
                way.needed + line.per_package,
                message("by-need-and-one-package"),
            )
            yield from _paid(alternate, line, way)


def _of(alternate: str | None, what: Message) -> Message:
    """What is compared, with the name of its alternate where it belongs to one."""
    return what if alternate is None else message("of-alternate", name=alternate, what=what)


def _paid(alternate: str | None, line: OrderLine, way: Reckoning) -> Iterator[Notice]:
    price = None if line.by_others else line.price
    units = Decimal(way.packages) * (
        1 if line.price_per == "package" else Decimal(repr(line.per_package))
    )
    yield from _equal(
        _of(alternate, message("cost-of-item", item=line.key, mode=way.mode)),
        way.cost,
        None if price is None else units * price,
        message("by-packages-and-price"),
        slack=_HALF_CENT,
    )
    each = None if line.by_others else line.package_weight_lb
    what = _of(alternate, message("weight-of-item", item=line.key, mode=way.mode))
    if (way.weight_lb is None) != (each is None):
        yield mismatch(message("weight-and-package", what=what, weight=way.weight_lb, each=each))
    elif way.weight_lb is not None and each is not None:
        yield from compare(what, way.weight_lb, way.packages * each, message("by-its-packages"))


# --------------------------------------------------------------------- bid


def check_bid(order: Order, alternate: str | None, job: Job) -> Iterator[Notice]:
    """Materials and labor are the sums of their lines; each line of the bid runs on from the last.

    Args:
        order: An order with its bid.
        alternate: The name of the alternate that it belongs to, None for the bid itself.
        job: Crew and working day.

    Yields:
        What does not agree.
    """
    costs = [line.chosen.cost for line in order.lines if not line.by_others]
    bid, by_lines = order.bid, message("as-sum-of-order-lines")
    what = _of(alternate, message("materials-of-bid"))
    yield from _equal(what, bid.lines[0].amount, _sum(costs), by_lines)
    what, work = _of(alternate, message("labor-of-bid")), [line.cost for line in order.labour]
    yield from _equal(what, bid.lines[1].amount, _sum(work), message("as-sum-of-labor-lines"))
    known = sum((c for c in costs if c is not None), Decimal(0))
    what = _of(alternate, message("priced-materials"))
    yield from _equal(what, bid.priced, known, message("as-sum-of-priced-lines"))
    yield from _running(order, alternate)
    for labour in order.labour:
        yield from _worked(order, labour, alternate)
    yield from compare(
        _of(alternate, message("working-days")),
        order.days * job.labour.crew * job.labour.day,
        float(sum(line.hours for line in order.labour)),
        message("hours-by-labor-lines"),
    )


def _running(order: Order, alternate: str | None) -> Iterator[Notice]:
    """Percentages and running totals, line by line."""
    running: Decimal | None = Decimal(0)
    for line in order.bid.lines:
        if line.percent is not None and line.base is not None:
            yield from _equal(
                _of(alternate, message("line-of-bid", name=line.name)),
                line.amount,
                line.base * line.percent / 100,
                message("as-percent-of-base", percent=str(line.percent), base=str(line.base)),
                slack=_HALF_CENT,
            )
        running = _sum([running, line.amount])
        what = _of(alternate, message("running-total-at-line", name=line.name))
        yield from _equal(what, line.running, running, message("by-lines-above"))


def _worked(order: Order, labour: LabourLine, alternate: str | None) -> Iterator[Notice]:
    """Hours and pay of one line of labor."""
    yield from _equal(
        _of(alternate, message("hours-of-labor", item=labour.key)),
        labour.hours,
        Decimal(repr(round(labour.quantity, 6))) * labour.hours_each,
        message("by-quantity-and-hours-each"),
        slack=_HALF_CENT,
    )
    yield from _equal(
        _of(alternate, message("cost-of-labor", item=labour.key)),
        labour.cost,
        None if order.wage is None else labour.hours * order.wage,
        message("by-hours-and-wage"),
        slack=_HALF_CENT,
    )


def _sum(amounts: list[Decimal | None]) -> Decimal | None:
    """The sum, None where an amount is not known."""
    known = [a for a in amounts if a is not None]
    return sum(known, Decimal(0)) if len(known) == len(amounts) else None


def _equal(
    what: Message,
    one: Decimal | None,
    two: Decimal | None,
    by: Message,
    *,
    slack: Decimal = Decimal(0),
) -> Iterator[Notice]:
    """An error where two amounts differ by more than ``slack``, or one of them is not known."""
    if one is None and two is None:
        return
    if one is None or two is None or abs(one - two) > slack:
        amounts = (None if a is None else str(a) for a in (one, two))
        first, second = amounts
        yield mismatch(message("amounts-differ", what=what, one=first, two=second, by=by))
