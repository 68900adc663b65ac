"""Course plans of several products as one: sums of what each has, panels numbered on."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence

from dxf2veneer.app.laying import LaidOut
from dxf2veneer.basics.messages import message
from dxf2veneer.config.job import Job
from dxf2veneer.model import (
    Bound,
    CoursePlan,
    Look,
    Mitres,
    PanelCounts,
    StockCount,
    Tolerance,
    WallTakeoff,
)
from dxf2veneer.verify.handling import handling_of


def numbered_on(laid: LaidOut, flat: int, corner: int) -> LaidOut:
    """A part whose panels are numbered on from those of the parts before it.

    Args:
        laid: The part as laid out.
        flat: Flat panels of the parts before.
        corner: Corner panels of the parts before.

    Returns:
        The part; F1 has become F41 behind forty flat panels.
    """
    if laid.plan is None or not (flat or corner):
        return laid

    def on(id_: str) -> str:
        return f"{id_[0]}{int(id_[1:]) + (flat if id_[0] == 'F' else corner)}"

    return _numbered(laid, on)


def numbered_apart(laid: LaidOut, before: CoursePlan | None, taken: set[str]) -> LaidOut:
    """A part that keeps a plan, whose new panels have no number of another part.

    Args:
        laid: The part as laid out now.
        before: Its plan before, whose panels keep their numbers.
        taken: Numbers of all parts, which those of the new panels join.

    Returns:
        The part; a new F33 has become F43 where F42 was the last of all parts.
    """
    if laid.plan is None or before is None:
        return laid
    kept = {u.id for u in before.units}
    names = {id_: id_ for id_ in kept}
    for id_ in (u.id for u in laid.plan.units if u.id not in kept):
        last = max((int(one[1:]) for one in taken if one[0] == id_[0]), default=0)
        names[id_] = f"{id_[0]}{last + 1}"
        taken.add(names[id_])
    return _numbered(laid, names.__getitem__)


def _numbered(laid: LaidOut, on: Callable[[str], str]) -> LaidOut:
    """A part with other numbers of its panels."""
    if laid.plan is None:
        return laid
    units = tuple(dataclasses.replace(u, id=on(u.id)) for u in laid.plan.units)
    walls = tuple(
        dataclasses.replace(
            w,
            courses=dataclasses.replace(
                w.courses,
                pieces=tuple(dataclasses.replace(p, stock=on(p.stock)) for p in w.courses.pieces),
            ),
        )
        for w in laid.walls
    )
    return laid._replace(walls=walls, plan=dataclasses.replace(laid.plan, units=units))


def joined_plan(plans: Sequence[CoursePlan], walls: Sequence[WallTakeoff], job: Job) -> CoursePlan:
    """Plans of several products as one.

    Args:
        plans: The plans; no panel of one is another's.
        walls: All walls as laid out, in their order.
        job: The job, for how long offcuts may wait.

    Returns:
        One plan of their units. Its bound is the sum of theirs: what none of them can do without,
        they cannot do without together, as no offcut passes from one to another.
    """
    if len(plans) == 1:
        return plans[0]
    by_wall = {count.wall: count for plan in plans for count in plan.walls}
    joined = CoursePlan(
        units=tuple(u for plan in plans for u in plan.units),
        flat=_count([plan.flat for plan in plans]),
        corner=_count([plan.corner for plan in plans]),
        walls=tuple(by_wall[w.wall.id] for w in walls),
        bound=sum(plan.bound for plan in plans),
        bound_parted=sum(plan.bound_parted for plan in plans),
        exceptions=tuple(e for plan in plans for e in plan.exceptions),
        breaks=tuple(b for plan in plans for b in plan.breaks),
        alike_over=sum(plan.alike_over for plan in plans),
        is_cut_short=any(plan.is_cut_short for plan in plans),
        look_panels=sum(plan.look_panels for plan in plans),
        look_cuts=sum(plan.look_cuts for plan in plans),
        near_panels=sum(plan.near_panels for plan in plans),
        near_cuts=sum(plan.near_cuts for plan in plans),
        lengths_panels=sum(plan.lengths_panels for plan in plans),
        lengths_cuts=sum(plan.lengths_cuts for plan in plans),
        plain=_plain(plans),
        look=_look([plan.look for plan in plans if plan.look]),
        mends=tuple(m for plan in plans for m in plan.mends),
        room_panels=sum(plan.room_panels for plan in plans),
        room_cuts=sum(plan.room_cuts for plan in plans),
        tolerance=_tolerance([plan.tolerance for plan in plans if plan.tolerance]),
        forced_apart=tuple(f for plan in plans for f in plan.forced_apart),
        mitres=Mitres(tuple(p for plan in plans if plan.mitres for p in plan.mitres.pairs)),
    )
    return dataclasses.replace(joined, handling=handling_of(walls, joined, job.plan.offcut_wait))


def _count(counts: Sequence[StockCount]) -> StockCount:
    """Units of one kind of all products."""
    least = sum(c.lower_bound for c in counts)
    why = message("bound-of-products", bounds=tuple(c.lower_bound for c in counts))
    return StockCount(
        units=sum(c.units for c in counts),
        pieces=sum(c.pieces for c in counts),
        pieces_length=math.fsum(c.pieces_length for c in counts),
        cuts=sum(c.cuts for c in counts),
        left=sum(c.left for c in counts),
        right=sum(c.right for c in counts),
        bounds=(Bound("length", least, why),),
    )


def _plain(plans: Sequence[CoursePlan]) -> PanelCounts | None:
    """The plans of fewest panels and cuts together; None where these are they."""
    if all(plan.plain is None for plan in plans):
        return None
    each = [p.plain or PanelCounts(p.flat.units, p.corner.units, p.cuts) for p in plans]
    return PanelCounts(*(sum(column) for column in zip(*each, strict=True)))


def _look(looks: Sequence[Look]) -> Look | None:
    if not looks:
        return None
    return Look(
        joints=sum(one.joints for one in looks),
        over=sum(one.over for one in looks),
        in_line=sum(one.in_line for one in looks),
        ladder=max(one.ladder for one in looks),
        stair=max(one.stair for one in looks),
        repeats=sum(one.repeats for one in looks),
        turns=sum(one.turns for one in looks),
        equal_turns=sum(one.equal_turns for one in looks),
        jambs=sum(one.jambs for one in looks),
        shorts=sum(one.shorts for one in looks),
        flaws=tuple(flaw for one in looks for flaw in one.flaws),
    )


def _tolerance(parts: Sequence[Tolerance]) -> Tolerance | None:
    if not parts:
        return None
    return Tolerance(
        off=parts[0].off,
        runs=sum(one.runs for one in parts),
        held=sum(one.held for one in parts),
        places=tuple(place for one in parts for place in one.places),
    )
