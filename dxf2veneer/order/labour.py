"""Hours of work by kind, and what they cost."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.tasks import STANDARD, Task, in_rate_unit
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    LabourLine,
    OfArea,
    OrderSource,
    Part,
    Piece,
    WallTakeoff,
)
from dxf2veneer.order.arithmetic import cents, exact, tidy
from dxf2veneer.order.by_area import work_by_area
from dxf2veneer.order.experience import EXPERIENCE, expected, kind_of
from dxf2veneer.order.measured import Pieces, measures
from dxf2veneer.order.stones import TrimSide, trim_cutting
from dxf2veneer.order.strips import cap_cutting


class Labour(NamedTuple):
    """Work, and the measures that its quantities and the bid's rates go by."""

    lines: tuple[LabourLine, ...]
    measures: dict[str, float]


def labour_of(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    parts: Sequence[Part] = (),
) -> Labour:
    """Hours for pieces, corners, cuts, partial pieces, openings and stones, for what the trade does
    on every wall, and for the user's own tasks.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan; without one the counts are what plans of such walls took.
        job: The job, for hours, rates and wage.
        product: The panel line.
        parts: The walls of each product, where the job has several.

    Returns:
        A line for each kind of work, and the measures.
    """
    lots = [
        _Lot([w for w in walls if w.wall.id in part.walls], part.job, part.product)
        for part in parts
    ] or [_Lot(walls, job, product)]
    lot_of = {w.wall.id: lot for lot in lots for w in lot.walls}
    openings = _by_wall(walls, lambda w: sum(not o.opening.part_of for o in w.quantities.openings))
    stones_of = _by_wall(walls, lambda w: _stones(w, lot_of[w.wall.id]))
    caps = sum(_caps(lot) for lot in lots)
    trims = sum(_trims(lot) for lot in lots)
    flat, corner, cuts, partial = _estimated(walls, lots) if plan is None else _planned(walls, plan)
    pieces = Pieces(flat.quantity, corner.quantity, cuts.quantity, partial.quantity)
    more = {
        key: tuple(one._replace(value=_in_rates(key, one.value, job)) for one in own)
        for key, own in work_by_area(job.order.additions, product).items()
    }
    ours = measures(walls, corners, pieces, job.walls)
    measured = _with_more({key: _in_rates(key, value, job) for key, value in ours.items()}, more)
    flat, corner, cuts, partial = (
        _more_of(counted, more[key])
        for counted, key in (
            (flat, "flat_pieces"),
            (corner, "corner_pieces"),
            (cuts, "cuts"),
            (partial, "partial_pieces"),
        )
    )
    every, stones = message("labor-all-openings"), message("labor-stones", caps=caps, trims=trims)
    return Labour(
        (
            _line("flat", message("labor-flat"), "piece", flat, job),
            _line("corner", message("labor-corner"), "piece", corner, job),
            _line("cut", message("labor-cut"), "cut", cuts, job),
            _line("partial", message("labor-partial"), "piece", partial, job),
            _line("opening", message("labor-opening"), "opening", _of_walls(openings, every), job),
            _line("stone", message("labor-stone"), "stone", _of_walls(stones_of, stones), job),
            *_standard(measured, more, job),
            *(_task(task, measured, more, job) for task in job.labour.tasks),
        ),
        measured,
    )


_STANDARD = {
    "layout": message("labor-layout"),
    "barrier": message("labor-barrier"),
    "strips": message("labor-strips"),
    "caulk": message("labor-caulk"),
    "setup": message("labor-setup"),
    "cleanup": message("labor-cleanup"),
    "scaffold": message("labor-scaffold"),
}


More = Mapping[str, Sequence[OfArea]]
"""What walls known by their area alone have of each measure."""


def _in_rates(measure: str, value: float, job: Job) -> float:
    """A measure in the unit that the job's rates go by."""
    return in_rate_unit(measure, job.metric_rates)[1] * value


def _with_more(measured: Mapping[str, float], more: More) -> dict[str, float]:
    """The measures, with those walls."""
    return {
        key: value + math.fsum(one.value for one in more.get(key, ()))
        for key, value in measured.items()
    }


def _standard(measured: Mapping[str, float], more: More, job: Job) -> Iterator[LabourLine]:
    """What the trade does on every wall; open questions where the job gives no hours."""
    for key, measure in STANDARD.items():
        counted = _of_measure(measure, measured, more, job)
        unit = "job" if measure == "job" else in_rate_unit(measure, job.metric_rates)[0]
        yield _line(key, _STANDARD[key], unit, counted, job)


def _of_measure(measure: str, measured: Mapping[str, float], more: More, job: Job) -> _Counted:
    """A count that is a measure of the takeoff."""
    why, own = message("labor-by-measure", measure=measure), tuple(more.get(measure, ()))
    unit, _ = in_rate_unit(measure, job.metric_rates)
    return _Counted(measured[measure], _told(why, own, unit), measure=measure, by_area=own)


def _task(task: Task, measured: Mapping[str, float], more: More, job: Job) -> LabourLine:
    """A task of the user's own.

    An hour by hand takes an hour, and a day one of the whole crew, unless money is given for it.
    """
    work = job.labour
    if task.measure is not None:
        unit, _ = in_rate_unit(task.measure, job.metric_rates)
        counted = _of_measure(task.measure, measured, more, job)
    else:
        counted = _Counted(task.quantity or 0.0, message("labor-by-hand"))
        unit = task.unit or "each"
    usual = {"hour": Decimal(1), "day": exact(work.crew) * exact(work.day)}
    each = None if task.hours is None else exact(task.hours)
    if each is None and task.rate is None and task.measure is None:
        each = usual.get(unit)
    rate = None if task.rate is None else exact(task.rate)
    what = message("as-written", text=task.name)
    return _worked(f"task {task.name}", what, unit, counted, each, rate, job)


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
    measure: str = ""
    sources: tuple[OrderSource, ...] = ()
    by_area: tuple[OfArea, ...] = ()


def _more_of(counted: _Counted, more: Sequence[OfArea]) -> _Counted:
    """A count, with what walls known by their area alone have of it."""
    return counted._replace(
        quantity=counted.quantity + math.fsum(one.value for one in more),
        why=_told(counted.why, more),
        by_area=tuple(more),
    )


def _told(why: Message, more: Sequence[OfArea], unit: str = "") -> Message:
    told = tuple(
        message("added", quantity=one.value, is_more=True, reason=one.wall, unit=unit)
        for one in more
    )
    return message("with-added", why=why, added=told) if told else why


def _by_wall(
    walls: Sequence[WallTakeoff], many: Callable[[WallTakeoff], float]
) -> tuple[OrderSource, ...]:
    """A count wall by wall."""
    what = message("source-work")
    return tuple(OrderSource(w.wall.id, what, float(many(w)), "each") for w in walls)


def _of_walls(sources: tuple[OrderSource, ...], why: Message) -> _Counted:
    """A count that is a sum over walls."""
    return _Counted(math.fsum(s.value for s in sources), why, sources=sources)


class _Lot(NamedTuple):
    """Walls that are laid with one product."""

    walls: Sequence[WallTakeoff]
    job: Job
    product: Product


def _caps(lot: _Lot) -> int:
    return cap_cutting(*lot).placed


def _trims(lot: _Lot) -> int:
    sides: tuple[TrimSide, ...] = ("head", "jambs", "sill")
    return sum(trim_cutting(s, *lot).placed for s in sides if getattr(lot.job.trim, s))


def _stones(wall: WallTakeoff, lot: _Lot) -> int:
    """Caps and trim stones that are laid on a wall."""
    alone = lot._replace(walls=[wall])
    return _caps(alone) + _trims(alone)


def _planned(walls: Sequence[WallTakeoff], plan: CoursePlan) -> tuple[_Counted, ...]:
    """Flat pieces, corner pieces, cuts and partial pieces of the course plan."""
    cuts = {count.wall: float(count.cuts) for count in plan.walls}

    def counted(why: Message, is_one: Callable[[Piece], bool]) -> _Counted:
        return _of_walls(_by_wall(walls, lambda w: sum(map(is_one, w.courses.pieces))), why)

    return (
        counted(message("labor-flat-by-plan"), lambda p: p.unit == "flat"),
        counted(message("labor-corner-by-plan"), lambda p: p.unit == "corner"),
        _Counted(
            plan.cuts,
            message("labor-cuts-by-plan"),
            sources=_by_wall(walls, lambda w: cuts[w.wall.id]),
        ),
        counted(message("labor-partial-by-plan"), lambda p: bool(p.ripped or p.glued)),
    )


def _estimated(walls: Sequence[WallTakeoff], lots: Sequence[_Lot]) -> tuple[_Counted, ...]:
    """The same without a plan: what plans of such walls took."""
    counts = [expected(lot.walls, lot.product) for lot in lots]
    of_wall = {w.wall.id: (w, lot.product) for lot in lots for w in lot.walls}
    of_walls = [of_wall[w.wall.id] for w in walls]

    def counted(what: Literal["flat", "corner", "cuts", "partial"], why: Message) -> _Counted:
        rates = tuple(
            float(getattr(EXPERIENCE[kind_of(w, product)], what))
            / (product.coverage_area / 144.0)  # square feet
            for w, product in of_walls
        )
        return _Counted(_whole(math.fsum(getattr(c, what) for c in counts)), why, rates)

    return (
        counted("flat", message("labor-flat-by-experience")),
        counted("corner", message("labor-corner-by-experience")),
        counted("cuts", message("labor-cuts-by-experience")),
        counted("partial", message("labor-partial-by-experience")),
    )


def _line(key: str, what: Message, unit: str, counted: _Counted, job: Job) -> LabourLine:
    """The line of a kind of work, whose hours stand under its key in the job."""
    given = getattr(job.labour, key)
    each = None if given is None else exact(given)
    return _worked(key, what, unit, counted, each, None, job)


def _worked(
    key: str,
    what: Message,
    unit: str,
    counted: _Counted,
    each: Decimal | None,
    rate: Decimal | None,
    job: Job,
) -> LabourLine:
    """Hours and cost of work, by hours each or by money for one."""
    quantity, wage = tidy(counted.quantity), job.labour.wage
    hours = cents(quantity * each) if each is not None else Decimal(0)
    cost: Decimal | None = None
    if rate is not None:
        cost = cents(quantity * rate)
    elif each is None:
        cost = None if quantity else Decimal(0)
    elif wage is not None:
        cost = cents(hours * exact(wage))
    return LabourLine(
        key,
        what,
        float(counted.quantity),
        unit,
        each,
        hours,
        cost,
        counted.why,
        counted.rates,
        rate,
        counted.measure,
        counted.sources,
        counted.by_area,
    )


def _whole(value: float) -> int:
    """A number of pieces, rounded half up as a spreadsheet rounds."""
    return math.floor(round(value, 6) + 0.5)
