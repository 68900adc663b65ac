"""Plans to choose from: the job laid out once for each word of ``plan.aim``, and counted.

Walls, courses and prices are those of the takeoff; panels, crosscuts, look, offcuts and money are
counted by what counts those of the takeoff itself.
"""

from __future__ import annotations

import dataclasses
import logging
from collections.abc import Iterator, Sequence
from decimal import Decimal

from dxf2veneer.app.laying import planned
from dxf2veneer.app.stages import Progress, timed, unwatched
from dxf2veneer.basics.messages import message
from dxf2veneer.config.aims import AIMS, without_aim
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    BeatenPlan,
    Corner,
    CoursePlan,
    Order,
    PlanChoice,
    PlanChoices,
    WallTakeoff,
)
from dxf2veneer.order import order
from dxf2veneer.order.alternates import prices_of

_LOG = logging.getLogger(__name__)


def plans_compared(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan,
    own: Order,
    job: Job,
    product: Product,
    progress: Progress = unwatched,
) -> PlanChoices:
    """The plans that the job can choose from, its own among them.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The plan of the takeoff.
        own: Its order.
        job: The job.
        product: The panel.
        progress: Is given each plan as it is begun.

    Returns:
        The plans; one that another beats in all that is shown is left out, the takeoff's own too.
    """
    begun = {aim: _asked(job, aim) for aim in AIMS}
    taken = [aim for aim, asked in begun.items() if _is_same(asked, job)]
    found = [_choice(tuple(taken[:1]), plan, own, product, is_taken=True)]
    prices = prices_of(job)
    for number, (aim, asked) in enumerate(begun.items(), 1):
        if aim in taken:
            continue
        progress(message("comparing-plan", aim=aim, number=number, plans=len(AIMS)))
        with timed(_LOG, f"plan for {aim}"):
            laid, other, _ = planned(walls, asked, product)
            if other is not None:
                made = order(laid, corners, other, asked, product, prices)
                found.append(_choice((aim,), other, made, product))
    kept = list(_each_once(found))
    order_of = list(AIMS)
    kept.sort(key=lambda c: order_of.index(c.aims[0]) if c.aims else -1)
    best = {id(c): next((o for o in kept if o.beats(c)), None) for c in kept}
    listed = tuple(c for c in kept if best[id(c)] is None)
    return PlanChoices(
        listed,
        tuple(
            BeatenPlan(c, next(o for o in listed if o.beats(c)))
            for c in kept
            if best[id(c)] is not None
        ),
    )


def _asked(job: Job, aim: str) -> Job:
    """The job with another aim, and nothing that its own brought."""
    return with_settings(without_aim(job), plan__aim=aim)


def _is_same(asked: Job, job: Job) -> bool:
    """Whether two jobs ask for the same plan."""
    one, other = (
        dataclasses.replace(j.plan, aim=j.plan.aim if j.plan.aim in ("cuts", "lengths") else None)
        for j in (asked, job)
    )
    return one == other


def _each_once(found: Sequence[PlanChoice]) -> Iterator[PlanChoice]:
    """The plans, those with the same figures as one, with all their words."""
    by_figures: dict[tuple[float, ...], PlanChoice] = {}
    for one in found:
        first = by_figures.get(one.figures)
        aims = (*first.aims, *one.aims) if first else one.aims
        aims = tuple(aim for aim in AIMS if aim in aims)
        by_figures[one.figures] = dataclasses.replace(first or one, aims=aims)
    yield from by_figures.values()


def _choice(
    aims: tuple[str, ...],
    plan: CoursePlan,
    made: Order,
    product: Product,
    *,
    is_taken: bool = False,
) -> PlanChoice:
    """The figures of a plan, as the judge and the order count them."""
    panels = [line for line in made.lines if line.item_key in ("flat_panel", "corner_panel")]

    def packages(key: str) -> int | None:
        own = [line.chosen.packages for line in panels if line.item_key == key]
        return sum(own) if own and f"{key}.per_package" not in product.generic else None

    look, handling = plan.look, plan.handling
    goods = sum((n.chosen.cost or Decimal(0) for n in made.lines), start=Decimal(0))
    is_priced = all(line.by_others or line.chosen.cost is not None for line in panels)
    has_price = any(line.chosen.cost is not None for line in panels)
    return PlanChoice(
        aims=aims,
        is_taken=is_taken,
        flat=plan.flat.units,
        corner=plan.corner.units,
        flat_packages=packages("flat_panel"),
        corner_packages=packages("corner_panel"),
        cuts=plan.cuts,
        lengths=handling.lengths if handling else 0,
        waiting=handling.waiting if handling else 0,
        far=handling.far if handling else 0,
        in_line=look.in_line_share if look else 0.0,
        patterns=sum(f.kind not in ("in-line", "ladder") for f in look.flaws) if look else 0,
        broken=sum(b.state == "broken" for b in plan.breaks),
        goods=goods if is_priced and has_price else None,
        cutting=next((line.cost for line in made.labour if line.key == "cut"), None),
    )
