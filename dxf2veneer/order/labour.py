"""Hours of work by kind, and what they cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, CoursePlan, LabourLine, WallTakeoff
from dxf2veneer.order.arithmetic import cents, exact, tidy
from dxf2veneer.order.experience import EXPERIENCE, expected, kind_of
from dxf2veneer.order.stones import trim_cutting
from dxf2veneer.order.strips import cap_cutting


def labour_lines(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
) -> tuple[LabourLine, ...]:
    """Hours for pieces, corners, cuts, partial pieces, openings and stones.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan; without one the counts are what plans of such walls took.
        job: The job, for hours and wage.
        product: The panel line.

    Returns:
        A line for each kind of work.
    """
    openings = sum(not o.opening.part_of for w in walls for o in w.quantities.openings)
    caps = cap_cutting(walls, job, product).placed
    trims = sum(
        trim_cutting(side, walls, job, product).placed
        for side in ("head", "jambs", "sill")
        if getattr(job.trim, side)
    )
    flat, corner, cuts, partial = (
        _estimated(walls, product) if plan is None else _planned(walls, plan)
    )
    every, stones = message("labor-all-openings"), message("labor-stones", caps=caps, trims=trims)
    return (
        _line("flat", message("labor-flat"), "piece", flat, job),
        _line("corner", message("labor-corner"), "piece", corner, job),
        _line("cut", message("labor-cut"), "cut", cuts, job),
        _line("partial", message("labor-partial"), "piece", partial, job),
        _line("opening", message("labor-opening"), "opening", _Counted(openings, every), job),
        _line("stone", message("labor-stone"), "stone", _Counted(caps + trims, stones), job),
    )


def cost_of_cuts(cuts: int, job: Job) -> Decimal:
    """What crosscuts cost in labor.

    Args:
        cuts: How many.
        job: The job, for hours and wage.

    Returns:
        Money; 0 without a wage.
    """
    made = _line("cut", message("labor-cut"), "cut", _Counted(cuts, message("labor-cut")), job)
    return made.cost or Decimal(0)


class _Counted(NamedTuple):
    """How many, how they were counted, and by which rates."""

    quantity: float
    why: Message
    rates: tuple[float, ...] = ()


def _planned(walls: Sequence[WallTakeoff], plan: CoursePlan) -> tuple[_Counted, ...]:
    """Flat pieces, corner pieces, cuts and partial pieces of the course plan."""
    pieces = [p for w in walls for p in w.courses.pieces]
    return (
        _Counted(sum(p.unit == "flat" for p in pieces), message("labor-flat-by-plan")),
        _Counted(sum(p.unit == "corner" for p in pieces), message("labor-corner-by-plan")),
        _Counted(plan.cuts, message("labor-cuts-by-plan")),
        _Counted(sum(p.ripped or p.glued for p in pieces), message("labor-partial-by-plan")),
    )


def _estimated(walls: Sequence[WallTakeoff], product: Product) -> tuple[_Counted, ...]:
    """The same without a plan: what plans of such walls took."""
    counts = expected(walls, product)
    of_walls = [EXPERIENCE[kind_of(w, product)] for w in walls]
    face = product.coverage_area / 144.0  # square feet

    def counted(what: Literal["flat", "corner", "cuts", "partial"], why: Message) -> _Counted:
        rates = tuple(float(getattr(e, what)) / face for e in of_walls)
        return _Counted(_whole(getattr(counts, what)), why, rates)

    return (
        counted("flat", message("labor-flat-by-experience")),
        counted("corner", message("labor-corner-by-experience")),
        counted("cuts", message("labor-cuts-by-experience")),
        counted("partial", message("labor-partial-by-experience")),
    )


def _line(key: str, what: Message, unit: str, counted: _Counted, job: Job) -> LabourLine:
    """The line of a kind of work, whose hours stand under its key in the job."""
    quantity = counted.quantity
    each = exact(getattr(job.labour, key))
    hours = cents(tidy(quantity) * each)
    cost = None if job.labour.wage is None else cents(hours * exact(job.labour.wage))
    return LabourLine(
        key, what, float(quantity), unit, each, hours, cost, counted.why, counted.rates
    )


def _whole(value: float) -> int:
    """A number of pieces, rounded half up as a spreadsheet rounds."""
    return math.floor(round(value, 6) + 0.5)
