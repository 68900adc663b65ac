"""Walls as measured, laid with as few changed pieces as possible against the plan before."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

from dxf2veneer.basics.tolerances import EXACT_IN, SITE_JOINT_IN, WHOLE_PANEL_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, LaidCourse, WallTakeoff
from dxf2veneer.planning.balancing.divided import is_mitred
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.crew.rising import near_walls
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.keeping.bays import corners_kept
from dxf2veneer.planning.keeping.before import OldPart, OldRun, matched, runs_before
from dxf2veneer.planning.keeping.panels import KeptPart, panels_for, stocks_of
from dxf2veneer.planning.keeping.program import Kept
from dxf2veneer.planning.keeping.ways import Way, narrow_ways, wide_ways
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.plan import finished_plan, plain_counts
from dxf2veneer.planning.runs import Reach, Run, runs_of
from dxf2veneer.planning.sizes import LayingSizes


def plan_kept(
    walls: Sequence[WallTakeoff],
    before: Sequence[WallTakeoff],
    plan: CoursePlan,
    laid: Sequence[LaidCourse],
    job: Job,
    product: Product,
) -> tuple[tuple[WallTakeoff, ...], CoursePlan]:
    """Lay out walls as measured, keeping what can be kept of the plan before.

    Args:
        walls: The walls as measured, with the courses of the plan before.
        before: The walls with their pieces before.
        plan: Their panels.
        laid: Courses that are laid already: they stay as they are.
        job: Settings of the plan.
        product: Sizes and laying rules of the panel, in inches.

    Returns:
        The walls with their pieces, and the plan without the judge's findings. Panels keep their
        numbers.
    """
    sizes, reach = LayingSizes.of(job, product), Reach.of(job, product)
    by_wall = [runs_of(w.wall, w.courses, reach) for w in walls]
    runs = [run for courses in by_wall for course in courses for run in course]
    old = matched(runs, runs_before(before, plan))
    stated = {(one.wall, one.course): one for one in laid}
    real = [_real_way(r, o, stated.get((r.wall, r.course))) for r, o in zip(runs, old, strict=True)]
    ways = [
        [way] if way else narrow_ways(run, o, sizes) if o else _new_ways(run, sizes)
        for run, o, way in zip(runs, old, real, strict=True)
    ]
    is_laid = [(run.wall, run.course) in stated for run in runs]
    fixed = frozenset(i for i, done in enumerate(is_laid) if done)
    taken = Kept(runs, old, sizes, fixed).fewest(ways)
    corners = corners_kept(runs, taken, sizes)
    parts = [
        part._replace(corner=corners.get(part.ref))
        for i, (run, way) in enumerate(zip(runs, taken, strict=True))
        for part in _parts(i, run, old[i], way, is_laid[i], sizes)
    ]
    bare = [LaidRun(run, way.lengths, ()) for run, way in zip(runs, taken, strict=True)]
    units = panels_for(parts, plan.units, sizes, _may_share(bare, job))
    number = stocks_of(units)
    done = [
        LaidRun(one.run, one.lengths, _cuts(own, number, sizes))
        for one, own in zip(bare, _by_run(parts, len(bare)), strict=True)
    ]
    colors = {unit.id: unit.color for unit in plan.units if unit.color}
    found, kept = finished_plan(walls, by_wall, done, units, job, product, sizes, colors)
    anew = plain_counts(walls, by_wall, sizes, job)
    return found, dataclasses.replace(kept, plain=anew, is_plain_anew=True)


def _new_ways(run: Run, sizes: LayingSizes) -> list[Way]:
    """Ways to lay a run that was not there before; at least one."""
    found = wide_ways(run, None, (), sizes)
    if found:
        return found
    pieces = max(1, math.ceil(run.length / sizes.panel - WHOLE_PANEL_IN))
    each = (run.length / pieces,) * pieces
    return [Way(each, (None,) * pieces, pieces, is_broken=True)]


def _real_way(run: Run, old: OldRun | None, stated: LaidCourse | None) -> Way | None:
    """How a run was really laid; None where it was laid as planned, or is not laid yet."""
    if stated is None or stated.joints is None:
        return None
    planned = old.joints if old else []
    inside = [x for x in stated.joints if run.x0 + EXACT_IN < x < run.x1 - EXACT_IN]
    snapped = [next((p for p in planned if abs(p - x) <= SITE_JOINT_IN), x) for x in inside]
    lengths = tuple(b - a for a, b in pairwise([run.x0, *snapped, run.x1]))
    count = len(old.parts) if old else 0
    places: tuple[int | None, ...] = tuple(
        k if len(lengths) == count else _end_place(k, len(lengths), count)
        for k in range(len(lengths))
    )
    kept = sum(
        place is not None and old is not None and abs(old.parts[place].length - n) <= EXACT_IN
        for place, n in zip(places, lengths, strict=True)
    )
    return Way(lengths, places, max(len(lengths), count) - kept)


def _end_place(k: int, new: int, old: int) -> int | None:
    """The place before of the first and of the last piece; None of any other."""
    if k == 0 and old:
        return 0
    return old - 1 if k == new - 1 and old > 1 else None


def _parts(
    i: int, run: Run, old: OldRun | None, way: Way, is_laid: bool, sizes: LayingSizes
) -> list[KeptPart]:
    """The parts of a run with the panels that they had."""
    one = LaidRun(run, way.lengths, ())
    count = len(way.lengths)
    found = []
    for k, (length, place) in enumerate(zip(way.lengths, way.old, strict=True)):
        was: OldPart | None = old.parts[place] if old and place is not None else None
        mitres = (k == 0 and run.left == "mitre", k == count - 1 and run.right == "mitre")
        ends = (k == 0 and run.left == "corner", k == count - 1 and run.right == "corner")
        unit = was.unit if was else "corner" if any(ends) else "flat"
        changed = was is None or abs(was.length - length) > EXACT_IN
        is_whole = unit == "flat" and length >= sizes.panel - WHOLE_PANEL_IN
        found.append(
            KeptPart(
                ref=PartRef(i, k),
                length=length,
                unit=unit,
                hand="left" if is_whole else _hand(k, one, was, unit, ends),
                stock=was.stock if was else None,
                is_changed=changed,
                is_laid=is_laid,
                is_alone=count == 1,
                mitres=mitres,
                lost=(run.lost[0] * mitres[0], run.lost[1] * mitres[1]),
                corner=None,
            )
        )
    return found


def _hand(k: int, one: LaidRun, was: OldPart | None, unit: str, ends: tuple[bool, bool]) -> Hand:
    """The end of its panel that a part keeps: toward the other flat pieces of its run."""
    if unit == "corner":
        return "left" if ends[0] else "right"
    flats = [
        j
        for j in range(len(one.lengths))
        if not (j == 0 and one.run.left == "corner")
        and not (j == len(one.lengths) - 1 and one.run.right == "corner")
    ]
    if len(flats) > 1:
        return "right" if k == flats[0] else "left"
    return was.hand if was and is_mitred(one, k) else "any"


def _may_share(laid: Sequence[LaidRun], job: Job) -> Callable[[int, int], bool]:
    """Whether the parts of two runs may come to share a panel, by the job's way with offcuts."""
    near = near_walls(laid) if job.plan.offcuts == "near" else {}

    def allowed(i: int, j: int) -> bool:
        a, b = laid[i].run, laid[j].run
        if job.plan.offcuts == "wall":
            return a.wall == b.wall
        if job.plan.offcuts == "near":
            return b.wall in near[a.wall] and abs(a.turn - b.turn) <= job.plan.offcut_wait
        return True

    return allowed


def _by_run(parts: Sequence[KeptPart], count: int) -> list[list[KeptPart]]:
    found: list[list[KeptPart]] = [[] for _ in range(count)]
    for part in parts:
        found[part.ref.run].append(part)
    return found


def _cuts(
    parts: Sequence[KeptPart], number: Mapping[PartRef, int], sizes: LayingSizes
) -> tuple[Cut, ...]:
    """The parts of a run that share panels; a whole panel shares none."""
    return tuple(
        Cut(p.ref.piece, p.hand, number[p.ref], p.unit == "corner")
        for p in parts
        if p.unit == "corner" or p.length < sizes.panel - WHOLE_PANEL_IN
    )
