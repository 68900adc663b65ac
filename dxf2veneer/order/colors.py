"""Panels by color: each color of the product is a line of the order, in packages of its own."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dxf2veneer.basics.messages import message
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import ColorsOver, CoursePlan, OrderLine, OrderSource, WallTakeoff
from dxf2veneer.order.arithmetic import Count, CountMethod
from dxf2veneer.order.bid import total
from dxf2veneer.order.lines import order_line
from dxf2veneer.order.prices import Prices

PANELS = ("flat_panel", "corner_panel")
"""Items that come in colors."""


def by_color(
    counts: Sequence[Count],
    walls: Sequence[WallTakeoff],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
) -> list[Count]:
    """The counts with panels divided into colors.

    Args:
        counts: The items as counted.
        walls: The walls, for the shares of each.
        plan: The course plan, which has the color of each panel; without one they go by shares.
        job: The job, which may give walls shares of their own.
        product: The colors.

    Returns:
        The counts; a count of panels becomes one for each color. As they are where the product has
        but one.
    """
    if not product.blend.colors:
        return list(counts)
    found: list[Count] = []
    shares = _shares(walls, job, product)
    for count in counts:
        found += _divided(count, plan, shares) if count.key in PANELS else [count]
    return found


def _shares(walls: Sequence[WallTakeoff], job: Job, product: Product) -> dict[str, float]:
    """Each color's share of the job's net area."""
    net = math.fsum(w.quantities.net_area for w in walls)
    on = [(w, product.blend.shares_on((w.wall.id, w.wall.name), job.plan.blend)) for w in walls]
    return {
        name: math.fsum(w.quantities.net_area * own[name] for w, own in on) / net if net else usual
        for name, usual in product.blend.shares.items()
    }


def _divided(count: Count, plan: CoursePlan | None, shares: dict[str, float]) -> Iterator[Count]:
    for name, share in shares.items():
        yield count._replace(
            key=f"{count.key} {color_key(name)}",
            title=message("item-of-color", item=count.title, color=name),
            color=name,
            share=share,
            methods=tuple(_method(m, count.key, name, share, plan) for m in count.methods),
        )


def _method(
    method: CountMethod, key: str, color: str, share: float, plan: CoursePlan | None
) -> CountMethod:
    """One way of counting, for one color."""
    if method.mode == "area" or plan is None:
        why = message("color-by-area", share=100.0 * share, why=method.why)
        return method._replace(measured=share * method.measured, why=why)
    kind = "flat" if key == "flat_panel" else "corner"
    own = sum(u.color == color and u.kind == kind for u in plan.units)
    what = message("source-panels-laid") if kind == "flat" else message("source-panels-cut")
    sources = tuple(
        OrderSource(w.wall, what, c.flat if kind == "flat" else c.corner, "each")
        for w in plan.walls
        for c in w.colors
        if c.color == color
    )
    why = message("color-by-plan", panels=own, whole=method.measured, kind=kind, color=color)
    return method._replace(measured=own, why=why, sources=sources)


def colors_over(
    counts: Sequence[Count],
    lines: Sequence[OrderLine],
    job: Job,
    product: Product,
    prices: Prices,
) -> ColorsOver | None:
    """What dividing the panels into colors takes more than as many of one color.

    Args:
        counts: The items as counted before they were divided.
        lines: The order's lines.
        job: The job, for allowances.
        product: The panel line.
        prices: The prices.

    Returns:
        Packages and money more; None where the product has but one color, or no panel is ordered.
    """
    whole = [order_line(c, job, product, prices) for c in counts if c.key in PANELS]
    if not product.blend.colors or not whole:
        return None
    divided = [line for line in lines if line.item_key in PANELS]
    packages = {
        key: sum(n.chosen.packages for n in divided if n.item_key == key)
        - sum(n.chosen.packages for n in whole if n.key == key)
        for key in PANELS
    }
    now, then = (total(n.chosen.cost for n in own) for own in (divided, whole))
    money = None if now is None or then is None else now - then
    return ColorsOver(packages["flat_panel"], packages["corner_panel"], money)
