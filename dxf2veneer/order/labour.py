"""Hours of work by kind, and what they cost."""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, CoursePlan, LabourLine, WallTakeoff
from dxf2veneer.order.panels import corner_pieces, flat_by_area
from dxf2veneer.order.reckon import cents, exact, tidy
from dxf2veneer.order.stones import trim_cutting
from dxf2veneer.order.strips import cap_cutting

_UNPLANNED = "not counted without a course plan"


def labour_lines(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
) -> tuple[LabourLine, ...]:
    """Hours for pieces, corners, cuts, partial pieces, openings and stones, as the job's hours say."""
    hours = job.labour
    pieces = [p for w in walls for p in w.courses.pieces]
    openings = sum(len(w.quantities.openings) for w in walls)
    caps = cap_cutting(walls, job, product).placed
    trims = sum(
        trim_cutting(side, walls, job, product).placed
        for side in ("head", "jambs", "sill")
        if getattr(job.trim, side)
    )
    partial = sum(p.ripped or p.glued for p in pieces)
    if plan is None:
        flat, flat_why = (
            flat_by_area(walls, corners, product, job.output.display).measured,
            "flat panels by area",
        )
        corner, corner_why = (
            2.0 * corner_pieces(walls, corners, product, job.output.display).measured,
            "corner pieces by corner run",
        )
    else:
        flat, flat_why = sum(p.unit == "flat" for p in pieces), "flat pieces of the course plan"
        corner, corner_why = (
            sum(p.unit == "corner" for p in pieces),
            "corner pieces of the course plan",
        )
    return (
        _line("flat", "Lay flat pieces", flat, "piece", hours.flat, flat_why, job),
        _line("corner", "Lay corner pieces", corner, "piece", hours.corner, corner_why, job),
        _line(
            "cut",
            "Cut across",
            plan.cuts if plan else 0,
            "cut",
            hours.cut,
            "crosscuts of the course plan" if plan else _UNPLANNED,
            job,
        ),
        _line(
            "partial",
            "Rip or glue",
            partial,
            "piece",
            hours.partial,
            "ripped or glued pieces of the course plan" if plan else _UNPLANNED,
            job,
        ),
        _line(
            "opening",
            "Work round openings",
            openings,
            "opening",
            hours.opening,
            "openings of all kinds, fixtures included",
            job,
        ),
        _line(
            "stone",
            "Set caps and trim stones",
            caps + trims,
            "stone",
            hours.stone,
            f"{caps} cap stones and {trims} trim stones as laid",
            job,
        ),
    )


def _line(
    key: str, what: str, quantity: float, unit: str, each: float, why: str, job: Job
) -> LabourLine:
    hours = cents(tidy(quantity) * exact(each))
    cost = None if job.labour.wage is None else cents(hours * exact(job.labour.wage))
    return LabourLine(key, what, float(quantity), unit, exact(each), hours, cost, why)
