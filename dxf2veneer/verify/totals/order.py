"""The order against quantities and plan, its packages and money."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from decimal import Decimal
from typing import NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CHECK_JOIN_FT, CHECK_QUOTIENT
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.treatments import called
from dxf2veneer.model import Order, OrderLine, Reckoning, Takeoff
from dxf2veneer.verify.totals.comparing import (
    HALF_CENT,
    compare,
    equal,
    mismatch,
    of_alternate,
    within,
)

_BOUGHT_WITH = dict.fromkeys(("head_stone", "jamb_stone", "sill_stone"), "trim_stone")
"""Items that may be counted in the line of another."""
_OF_FEET = {"m": 0.3048, "m2": 0.3048 * 0.3048}
"""Meters in a foot, square meters in a square foot."""


def check_counts(takeoff: Takeoff, order: Order, without: Collection[str] = ()) -> Iterator[Notice]:
    """The order measures what the walls and the plan have.

    Args:
        takeoff: The finished takeoff.
        order: Its order.
        without: Keys of items that are looked at elsewhere.

    Yields:
        What does not agree.
    """
    lines: dict[str, list[OrderLine]] = {}
    for line in order.lines:
        lines.setdefault(line.item_key, []).append(line)
    yield from check_runs(takeoff, order, {run.item for run in _runs(takeoff)} - set(without))
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


def check_runs(takeoff: Takeoff, order: Order, items: Collection[str]) -> Iterator[Notice]:
    """What items were counted from is what the walls have of it.

    Args:
        takeoff: The finished takeoff.
        order: Its order.
        items: Keys of the items to look at.

    Yields:
        What does not agree.
    """
    lines: dict[str, list[OrderLine]] = {}
    for line in order.lines:
        lines.setdefault(line.item_key, []).append(line)
    for run in (run for run in _runs(takeoff) if run.item in items):
        own = lines.get(run.item) or lines.get(_BOUGHT_WITH.get(run.item, ""), [])
        for way in (w for line in own for w in line.ways if w.mode in run.modes):
            parts = math.fsum(
                s.value / _OF_FEET.get(s.unit, 1.0)
                for s in way.sources
                if run.source in ("", s.what.code)
            )
            yield from compare(
                message("run-of-order-line", item=run.item, run=run.name, mode=way.mode),
                parts,
                run.total,
                message("by-the-quantities"),
                slack=CHECK_JOIN_FT * len(way.sources),
            )
        if run.total > CHECK_QUOTIENT and not own and _is_wanted(run.item, takeoff):
            yield mismatch(message("order-line-missing", item=run.item, total=run.total))


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
        *_trim_runs(takeoff),
    ):
        yield _RunTotal(item, name, source, inches / 12.0, both)
    bare = {
        n.casefold()
        for one in takeoff.job.walls.treatments
        if one.barrier is False
        for n in one.walls
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


def _trim_runs(takeoff: Takeoff) -> Iterator[tuple[str, str, str, float]]:
    """The runs of trim that take stones: those with a width."""
    trim, t = takeoff.job.trim, takeoff.totals
    for item, name, source, width, inches in (
        ("head_stone", "head", "source-head", trim.head, t.trim_head),
        ("jamb_stone", "jambs", "source-jambs", trim.jambs, t.trim_jambs),
        ("sill_stone", "sill", "source-sill", trim.sill, t.trim_sill),
    ):
        yield item, name, source, inches if width > 0.0 else 0.0


def _is_wanted(key: str, takeoff: Takeoff) -> bool:
    """Whether an item belongs in every order that has a quantity of it: flat panels need a wall
    that corner pieces do not cover alone."""
    if key != "flat_panel":
        return True
    half = takeoff.product.corner.length / 2.0
    return _corner_run(takeoff) * half < takeoff.totals.net_area


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
                    of_alternate(alternate, message("parts-of-item", item=line.key, mode=way.mode)),
                    way.measured,
                    math.fsum(p.measured for p in way.parts) + way.added,
                    message("as-sum-of-parts"),
                )
            needed = way.measured * (100.0 + way.allowance_pct) / 100.0
            yield from compare(
                of_alternate(alternate, message("needed-of-item", item=line.key, mode=way.mode)),
                way.needed,
                needed,
                message("as-measured-and-allowance"),
            )
            yield from within(
                of_alternate(alternate, message("packages-of-item", item=line.key, mode=way.mode)),
                way.packages * line.per_package,
                way.needed - CHECK_QUOTIENT * line.per_package,
                way.needed + line.per_package,
                message("by-need-and-one-package"),
            )
            yield from _paid(alternate, line, way)


def _paid(alternate: str | None, line: OrderLine, way: Reckoning) -> Iterator[Notice]:
    price = None if line.by_others else line.price
    units = Decimal(way.packages) * (
        1 if line.price_per == "package" else Decimal(repr(line.per_package))
    )
    yield from equal(
        of_alternate(alternate, message("cost-of-item", item=line.key, mode=way.mode)),
        way.cost,
        None if price is None else units * price,
        message("by-packages-and-price"),
        slack=HALF_CENT,
    )
    each = None if line.by_others else line.package_weight_lb
    what = of_alternate(alternate, message("weight-of-item", item=line.key, mode=way.mode))
    if (way.weight_lb is None) != (each is None):
        yield mismatch(message("weight-and-package", what=what, weight=way.weight_lb, each=each))
    elif way.weight_lb is not None and each is not None:
        yield from compare(what, way.weight_lb, way.packages * each, message("by-its-packages"))
