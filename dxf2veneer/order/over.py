"""What a plan costs over the cheapest one, in money: panels and labor for crosscuts."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan
from dxf2veneer.order.arithmetic import Count
from dxf2veneer.order.labour import cost_of_cuts
from dxf2veneer.order.lines import order_line
from dxf2veneer.order.prices import Prices


def money_over(
    counts: Sequence[Count],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices,
) -> Decimal | None:
    """What panels and crosscuts of a plan cost more than those of the cheapest plan.

    Args:
        counts: The items as counted.
        plan: The course plan, where there is one.
        job: The job, for allowances, hours and wage.
        product: The panel line.
        prices: The prices.

    Returns:
        Money, breakage and whole packages with it, below 0 where it costs less; labor only where
        there is a wage. What was added by hand costs the same with any plan. None where panels
        have no price, or the plan is the cheapest.
    """
    if plan is None or plan.plain is None:
        return None
    plain = {"flat_panel": plan.plain.flat, "corner_panel": plan.plain.corner}
    now_panels = {"flat_panel": plan.flat.units, "corner_panel": plan.corner.units}
    over = cost_of_cuts(plan.cuts, job) - cost_of_cuts(plan.plain.cuts, job)
    for count in counts:
        if count.item.key not in plain:
            continue
        part = plain[count.item.key] / max(1, now_panels[count.item.key])
        ways = tuple(
            m._replace(measured=part * (m.measured - m.added) + m.added)
            if m.mode == "layout"
            else m
            for m in count.methods
        )
        now, then = (
            order_line(c, job, product, prices) for c in (count, count._replace(methods=ways))
        )
        if now.by_others:
            continue
        if now.chosen.cost is None or then.chosen.cost is None:
            return None
        over += now.chosen.cost - then.chosen.cost
    return over
