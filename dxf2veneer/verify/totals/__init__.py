"""Cross-checks at the end of every takeoff: each number is got a second way, and the two agree.

The judge looks at the course plan piece by piece; here sums and bounds are compared. Nothing of the
code that measured, recognized, planned or ordered is used again. A difference is the error
``CROSS_CHECK``.

    areas.py      flattened outlines; gross = net + what came off; what is left for panels
    runs.py       starter against base; corners against their edges; totals against walls
    units.py      pieces against the field, their units, and the heights of corners and ends
    order.py      order lines against quantities and plan; packages, money and weight; the bid
    parts.py      of several products each by itself, and their sums
    comparing.py  how far two numbers may be apart, and how it is said
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, CoursePlan, Takeoff, WallTakeoff
from dxf2veneer.verify.totals.areas import check_areas, check_deduction
from dxf2veneer.verify.totals.bid import check_bid, check_measures
from dxf2veneer.verify.totals.deliveries import check_deliveries
from dxf2veneer.verify.totals.order import check_counts, check_packages
from dxf2veneer.verify.totals.parts import check_parts
from dxf2veneer.verify.totals.runs import check_caps, check_corners, check_starter, check_totals
from dxf2veneer.verify.totals.units import (
    check_colors,
    check_corner_pieces,
    check_cover,
    check_units,
)

__all__ = ["check_laid", "check_takeoff"]


def check_laid(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
) -> list[Notice]:
    """What does not agree among walls, corners and plan, before anything is ordered.

    Args:
        walls: The walls with quantities, courses and pieces.
        corners: The corners of the job.
        plan: The course plan, None where none was made.
        job: Settings that numbers depend on.
        product: Sizes of the panels.

    Returns:
        One error for each pair of numbers that does not agree.
    """
    found = [
        *check_areas(walls),
        *check_deduction(walls, job),
        *check_starter(walls, job),
        *check_caps(walls, product),
        *check_corners(walls, corners),
    ]
    if plan is not None:
        found += check_cover(walls, job, product)
        found += check_units(walls, plan, job, product)
        found += check_colors(plan, product)
        found += check_corner_pieces(walls, plan, product)
    return found


def check_takeoff(takeoff: Takeoff) -> list[Notice]:
    """What does not agree in totals, order and bid, alternates included.

    Args:
        takeoff: The finished takeoff.

    Returns:
        One error for each pair of numbers that does not agree.
    """
    found = list(check_totals(takeoff))
    if takeoff.order is None:
        return found
    check = check_parts if takeoff.parts else check_counts
    found += check(takeoff, takeoff.order)
    found += check_measures(takeoff, takeoff.order)
    orders = [(None, takeoff.order), *((a.name, a.order) for a in takeoff.order.alternates)]
    for name, order in orders:
        found += [
            *check_packages(order, name),
            *check_deliveries(order),
            *check_bid(order, name, takeoff.job),
        ]
    return found
