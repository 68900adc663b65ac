"""The course plan: the whole job laid out panel by panel, with its lower bounds beside it."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import get_args

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import LENGTHS_SHARES, LOOK_SHARE
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    Bound,
    ColorCount,
    CoursePlan,
    PanelCounts,
    Piece,
    PieceRef,
    PieceUnit,
    RuleBreak,
    StockCount,
    StockUnit,
    WallCount,
    WallTakeoff,
)
from dxf2veneer.planning.alike import Courses, likes_of, tied_walls, untied, with_likes
from dxf2veneer.planning.bay_pairs import forced_apart
from dxf2veneer.planning.bay_proof import stacks_of
from dxf2veneer.planning.blend.search import with_colors
from dxf2veneer.planning.crew.rising import laying_order, rising_together
from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.cutting_stock.dual_bound import dual_bound
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef, numbered
from dxf2veneer.planning.exceptions import exceptions_of
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.look.mending import mends_of
from dxf2veneer.planning.placement import PlacedPiece, place_pieces
from dxf2veneer.planning.runs import Reach, Run, runs_of
from dxf2veneer.planning.search import Change, LaidPlan, cheapest_plan
from dxf2veneer.planning.sizes import LayingSizes

_LOOK_SHARES = {"off": None, "free": 0.0, "quiet": LOOK_SHARE}
"""By the word of the setting, the share of panels that a quiet look may cost."""


def plan_panels(
    walls: Sequence[WallTakeoff], job: Job, product: Product
) -> tuple[tuple[WallTakeoff, ...], CoursePlan]:
    """Lay out the whole job panel by panel.

    Args:
        walls: The walls with their courses, in the order in which a crew lays them. Offcuts go from
            wall to wall in that order, or stay on their wall where the job says so.
        job: Settings of the plan.
        product: Sizes and laying rules of the panel, in inches.

    Returns:
        The walls with their pieces, and the plan of the job without the judge's findings.
    """
    sizes = LayingSizes.of(job, product)
    reach = Reach.of(job, product)
    runs = [runs_of(w.wall, w.courses, reach) for w in walls]
    like = likes_of(walls, runs) if job.plan.alike else {}
    marked = with_likes(runs, like, sizes)
    known = () if job.plan.alike else tuple(_alike(runs, likes_of(walls, runs), sizes, job))
    found = _found(marked, sizes, job, known=known)
    units = numbered(found.units, laying_order(found.laid))
    done, plan = finished_plan(walls, runs, found.laid, units, job, product, sizes)
    over = {by: found.over(by) for by in get_args(Change)}
    return done, dataclasses.replace(
        plan,
        walls=tuple(dataclasses.replace(w, like=like.get(w.wall)) for w in plan.walls),
        alike_over=_alike_over(marked, plan, sizes, job),
        is_cut_short=found.is_cut_short,
        mends=() if job.plan.offcuts == "wall" else tuple(mends_of(found.laid, units, sizes)),
        look_panels=over["look"][0],
        look_cuts=over["look"][1],
        lengths_panels=over["lengths"][0],
        lengths_cuts=over["lengths"][1],
        near_panels=over["near"][0],
        near_cuts=over["near"][1],
        room_panels=over["room"][0],
        room_cuts=over["room"][1],
        plain=found.before[0][1] if found.before else None,
    )


def finished_plan(
    walls: Sequence[WallTakeoff],
    runs: Sequence[Courses],
    laid: Sequence[LaidRun],
    units: Sequence[CutPanel],
    job: Job,
    product: Product,
    sizes: LayingSizes,
    colors: Mapping[str, str] = MappingProxyType({}),
) -> tuple[tuple[WallTakeoff, ...], CoursePlan]:
    """Walls with their pieces, and counts, bounds and exceptions, of runs as laid.

    Args:
        walls: The walls with their courses.
        runs: The runs of each course of each wall.
        laid: The runs as laid, in the same order.
        units: The panels of their parts, with ids.
        job: Settings of the plan.
        product: Sizes, laying rules and colors of the panel.
        sizes: Lengths and limits, in inches.
        colors: By the id of a panel the color that it has already.

    Returns:
        The walls with their pieces, and the plan.
    """
    when = laying_order(laid)
    placed = place_pieces(laid, units, walls, job.recognise.bay_angle / 2.0)
    done = tuple(
        dataclasses.replace(
            w,
            courses=dataclasses.replace(
                w.courses, pieces=tuple(p.piece for p in placed.get(w.wall.id, ()))
            ),
        )
        for w in walls
    )
    exceptions = tuple(exceptions_of(laid, units, done, sizes))
    plan = _plan(done, runs, laid, units, when, placed, sizes, exceptions, job, product, colors)
    return done, plan


def panels_needed(walls: Sequence[WallTakeoff], job: Job, product: Product) -> int:
    """The panels that a plan of the walls takes, flat and corner ones together.

    Args:
        walls: The walls with their courses.
        job: Settings of the plan.
        product: Sizes and laying rules of the panel, in inches.

    Returns:
        What the plan of ``plan_panels`` has, without making it in full.
    """
    sizes = LayingSizes.of(job, product)
    reach = Reach.of(job, product)
    runs = [runs_of(w.wall, w.courses, reach) for w in walls]
    like = likes_of(walls, runs) if job.plan.alike else {}
    return len(_found(with_likes(runs, like, sizes), sizes, job).units)


def plain_counts(
    walls: Sequence[WallTakeoff], runs: Sequence[Courses], sizes: LayingSizes, job: Job
) -> PanelCounts:
    """What the plan of fewest panels and cuts takes, nothing being laid or cut yet.

    Args:
        walls: The walls with their courses.
        runs: The runs of each course of each wall.
        sizes: Lengths and limits, in inches.
        job: Settings of the plan.

    Returns:
        Panels and crosscuts.
    """
    like = likes_of(walls, runs) if job.plan.alike else {}
    return _plain(with_likes(runs, like, sizes), sizes, job).counts


def _alike_over(runs: Sequence[Courses], plan: CoursePlan, sizes: LayingSizes, job: Job) -> int:
    """Panels that the walls drawn alike take more alike than each for itself, without the others.

    So it costs time for these walls alone.
    """
    own = tied_walls(runs)
    if not own or plan.total == plan.bound:
        return 0
    alike = plan.total - plan.over if len(own) == len(runs) else _fewest(own, sizes, job)
    return max(0, alike - _fewest(untied(own), sizes, job))


def _fewest(runs: Sequence[Courses], sizes: LayingSizes, job: Job) -> int:
    return len(_found(runs, sizes, job, panels_alone=True).units)


def _alike(
    runs: Sequence[Courses], like: Mapping[str, str], sizes: LayingSizes, job: Job
) -> Iterator[LaidPlan]:
    """The plan with walls drawn alike laid alike, told as one in which they need not be; none where
    no walls are."""
    marked = with_likes(runs, like, sizes)
    if tied_walls(marked):
        plan = _plain(marked, sizes, job)
        yield plan._replace(
            laid=[
                dataclasses.replace(one, run=dataclasses.replace(one.run, like=None))
                for one in plan.laid
            ]
        )


def _plain(runs: Sequence[Courses], sizes: LayingSizes, job: Job) -> LaidPlan:
    """The plan before it is changed for its look and the like."""
    return cheapest_plan(
        runs,
        sizes,
        within_walls=job.plan.offcuts == "wall",
        nodes=round(job.plan.search),
        few_cuts=job.plan.aim == "cuts",
    )


def _found(
    runs: Sequence[Courses],
    sizes: LayingSizes,
    job: Job,
    *,
    panels_alone: bool = False,
    known: Sequence[LaidPlan] = (),
) -> LaidPlan:
    return cheapest_plan(
        runs,
        sizes,
        within_walls=job.plan.offcuts == "wall",
        nodes=round(job.plan.search),
        panels_alone=panels_alone,
        look=_LOOK_SHARES[job.plan.look],
        lengths=LENGTHS_SHARES if job.plan.aim == "lengths" else (),
        few_cuts=job.plan.aim == "cuts",
        wait=math.floor(job.plan.offcut_wait) if job.plan.offcuts == "near" else None,
        off=job.plan.tolerance,
        known=known,
    )


def _plan(
    walls: Sequence[WallTakeoff],
    runs: Sequence[Sequence[Sequence[Run]]],
    laid: Sequence[LaidRun],
    units: Sequence[CutPanel],
    when: Sequence[int],
    placed: dict[str, list[PlacedPiece]],
    sizes: LayingSizes,
    exceptions: tuple[RuleBreak, ...],
    job: Job,
    product: Product,
    kept: Mapping[str, str],
) -> CoursePlan:
    named = {
        p.ref: PieceRef(wall, p.piece.course, p.piece.number)
        for wall, own in reversed(placed.items())
        for p in reversed(own)
    }
    pieces = {p.ref: p.piece for own in placed.values() for p in own}
    by_wall = [[run for course in own for run in course] for own in runs]
    within = job.plan.offcuts == "wall"
    stacks, parted = ([], 0) if within else stacks_of(laid, units, sizes)
    met = {id(run) for stack in stacks for row in stack for run in row}
    bounds, both, counted = [], 0, 0
    for group in by_wall if within else [[run for own in by_wall for run in own]]:
        names = {run.wall for run in group}
        own = Counter(u.kind for u in units if laid[u.parts[0][0].run].run.wall in names)
        bounds.append(job_bounds(group, sizes, corner_units=own["corner"]))
        single = [r for r in (o.run for o in laid) if r.wall in names and id(r) not in met]
        known, enough = bounds[-1].total, own.total()
        more = dual_bound(single, sizes, known=known, enough=enough, stacks=stacks, parted=parted)
        both += more
        counted = parted if more > known else counted
    plain = [
        StockUnit(u.id, u.kind, u.length, tuple(named[ref] for ref, _ in u.parts), u.used, u.kerfs)
        for u in units
    ]
    stock = with_colors(walls, plain, rising_together(laid), job, product, kept)
    colors = tuple(c.name for c in product.blend.colors)
    first = Counter(
        (laid[_as_laid(unit, when)[0].run].run.wall, one.color, one.kind)
        for one, unit in zip(stock, units, strict=True)
    )
    return CoursePlan(
        units=stock,
        flat=_count("flat", units, laid, pieces, _summed([b.flat for b in bounds])),
        corner=_count("corner", units, laid, pieces, _summed([b.corner for b in bounds])),
        walls=tuple(
            dataclasses.replace(count, colors=tuple(_colors(count.wall, colors, first)))
            for count in _walls(walls, by_wall, laid, units, when, sizes)
        ),
        bound=both,
        bound_parted=counted,
        exceptions=exceptions,
        forced_apart=tuple(forced_apart(laid, units, sizes)),
    )


def _summed(bounds: Sequence[tuple[Bound, ...]]) -> tuple[Bound, ...]:
    """The bounds of walls that share nothing, added up; those of one job as they are."""
    if len(bounds) == 1:
        return bounds[0]
    units = sum(max(b.units for b in own) for own in bounds)
    return (Bound("length", units, message("bound-sum-of-walls", walls=len(bounds))),)


def _count(
    kind: PieceUnit,
    units: Sequence[CutPanel],
    laid: Sequence[LaidRun],
    pieces: dict[PartRef, Piece],
    bounds: tuple[Bound, ...],
) -> StockCount:
    own = [u for u in units if u.kind == kind]
    refs = [ref for u in own for ref, _ in u.parts]
    kept = "factory" if kind == "flat" else "finished"
    ends = [(pieces[ref].left == kept, pieces[ref].right == kept) for ref in refs]
    return StockCount(
        units=len(own),
        pieces=len(refs),
        pieces_length=math.fsum(laid[ref.run].lengths[ref.piece] for ref in refs),
        cuts=sum(u.cuts for u in own),
        left=ends.count((True, False)),
        right=ends.count((False, True)),
        bounds=bounds,
    )


def _walls(
    walls: Sequence[WallTakeoff],
    runs: Sequence[Sequence[Run]],
    laid: Sequence[LaidRun],
    units: Sequence[CutPanel],
    when: Sequence[int],
    sizes: LayingSizes,
) -> Iterator[WallCount]:
    """Each wall's share: units by the wall that first cuts them."""
    first: dict[tuple[str, str], int] = defaultdict(int)
    for unit in units:
        first[laid[_as_laid(unit, when)[0].run].run.wall, unit.kind] += 1
    pieces: dict[str, int] = defaultdict(int)
    for one in laid:
        pieces[one.run.wall] += len(one.lengths)
    cuts: dict[str, int] = defaultdict(int)
    for unit in units:
        for wall, count in _cuts(unit, laid, when):
            cuts[wall] += count
    shares, together = _shares(units, laid), rising_together(laid)
    for taken, own in zip(walls, runs, strict=True):
        name = taken.wall.id
        height = sizes.height
        bought = height * (first[name, "flat"] * sizes.panel + first[name, "corner"] * sizes.corner)
        covered = math.fsum(piece.area for piece in taken.courses.pieces)
        yield WallCount(
            wall=name,
            flat=first[name, "flat"],
            corner=first[name, "corner"],
            share=shares[name],
            pieces=pieces[name],
            cuts=cuts[name],
            bound=job_bounds(own, sizes).total,
            waste=1.0 - covered / bought if bought else 0.0,
            rises_with=together.get(name, name),
        )


def _colors(
    wall: str, colors: Sequence[str], first: Counter[tuple[str, str, PieceUnit]]
) -> Iterator[ColorCount]:
    """The units first cut for a wall, by color."""
    for name in colors:
        yield ColorCount(name, first[wall, name, "flat"], first[wall, name, "corner"])


def _shares(units: Sequence[CutPanel], laid: Sequence[LaidRun]) -> dict[str, float]:
    """Each wall's units if those who share one each pay for the length of their parts."""
    shares: dict[str, float] = defaultdict(float)
    for unit in units:
        parts = [
            (laid[ref.run].run.wall, laid[ref.run].lengths[ref.piece]) for ref, _ in unit.parts
        ]
        whole = math.fsum(length for _, length in parts)
        for wall, length in parts:
            shares[wall] += length / whole
    return shares


def _as_laid(unit: CutPanel, when: Sequence[int]) -> list[PartRef]:
    """The unit's parts in the order in which they are laid."""
    return sorted((ref for ref, _ in unit.parts), key=lambda ref: (when[ref.run], ref.piece))


def _cuts(
    unit: CutPanel, laid: Sequence[LaidRun], when: Sequence[int]
) -> Iterator[tuple[str, int]]:
    """The unit's cuts by the wall that makes them: one for each part as it is laid, the rest with
    the last."""
    walls = [laid[ref.run].run.wall for ref in _as_laid(unit, when)]
    left = unit.cuts
    for wall in walls[:-1]:
        yield wall, min(1, left)
        left -= min(1, left)
    yield walls[-1], left
