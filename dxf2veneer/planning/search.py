"""The cheapest of several plans: a beam search in several orders, then an exact one of small jobs.

What an offcut is worth while it lies at hand, what a cut costs beside it, and in which order walls
are best laid, are guesses of the beam search; no guess is best for all jobs. So a few are tried,
each packed into panels, and the plans compared by what they really cost. The order is one of the
search alone: a crew lays the walls as they are numbered. Then sections of the plan of fewest panels
are laid anew (``relaying``), a small job as a whole. Neither depends on the job's price of a cut:
that alone compares. So of all plans made here before joints are moved for their look (``look``)

- the one taken is not dominated: none has fewer panels and no more cuts, or fewer cuts and no more
  panels; for either would cost less;
- dearer panels never buy more of them: for P + c C <= P' + c C' and P' + c' C' <= P + c' C with
  c' < c add up to (c - c') (C - C') <= 0, so that C' >= C, and hence P' <= P.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Literal, NamedTuple

from dxf2veneer.basics.tolerances import (
    BALANCE_RUNS,
    BALANCE_TIMES,
    BAY_JOB_TRIES,
    CUT_TRIES,
    EXACT_RUNS,
    FEW_RUNS,
    PLAN_PACKING_STEPS,
    SMALL_JOB_RUNS,
    TRIES,
)
from dxf2veneer.model import PanelCounts
from dxf2veneer.planning.balancing.search import balanced
from dxf2veneer.planning.crew.search import near_offcuts
from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.cutting_stock.panels import CutPanel, cut_stock
from dxf2veneer.planning.few_lengths import with_few_lengths
from dxf2veneer.planning.layout import LaidRun, Layout, lay
from dxf2veneer.planning.look.search import quieted
from dxf2veneer.planning.relaying.faces import faces_anew, is_of_faces
from dxf2veneer.planning.relaying.search import Relaid, laid_anew
from dxf2veneer.planning.room.search import with_room
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Walls = Sequence[Sequence[Sequence[Run]]]
Try = tuple[bool, str, tuple[float, float, float]]
"""Whether offcuts stay on their wall; the order of the walls; the worth of an inch of offcut, the
cost of holding one in inches, and the cuts that a panel is worth."""


Change = Literal["look", "lengths", "near", "room"]
"""Joints moved for their look or to few lengths, offcuts kept near, room for edges that are off."""


class LaidPlan(NamedTuple):
    """The runs as laid, on how many of them a rule is broken, and the panels."""

    laid: list[LaidRun]
    broken: int
    units: tuple[CutPanel, ...]
    is_cut_short: bool = False
    """Whether the search for fewer panels ended before it had tried all it meant to."""
    before: tuple[tuple[Change, PanelCounts], ...] = ()
    """What was done to the cheapest plan afterwards, in order, and what it took before that."""

    @property
    def cuts(self) -> int:
        """Crosscuts."""
        return sum(unit.cuts for unit in self.units)

    @property
    def counts(self) -> PanelCounts:
        """Panels and crosscuts."""
        flat = sum(unit.kind == "flat" for unit in self.units)
        return PanelCounts(flat, len(self.units) - flat, self.cuts)

    def changed(self, by: Change, laid: list[LaidRun], units: tuple[CutPanel, ...]) -> LaidPlan:
        """The plan with other joints or panels, which remembers what it took before."""
        return self._replace(laid=laid, units=units, before=(*self.before, (by, self.counts)))

    def over(self, by: Change) -> tuple[int, int]:
        """Panels and crosscuts more after a change than before it."""
        names = [name for name, _ in self.before]
        if by not in names:
            return 0, 0
        states = [*(counts for _, counts in self.before), self.counts]
        at = names.index(by)
        return (
            states[at + 1].total - states[at].total,
            states[at + 1].cuts - states[at].cuts,
        )

    def cost(self, cut: float) -> tuple[int, float]:
        """Rules broken first, then length of panel, a cut being worth ``cut`` of it."""
        return self.broken, sum(unit.length for unit in self.units) + cut * self.cuts


def cheapest_plan(
    runs: Walls,
    sizes: LayingSizes,
    *,
    within_walls: bool,
    nodes: int = 0,
    panels_alone: bool = False,
    look: float | None = None,
    lengths: Sequence[float] = (),
    few_cuts: bool = False,
    wait: int | None = None,
    off: float = 0.0,
    known: Sequence[LaidPlan] = (),
) -> LaidPlan:
    """The cheapest plan found: with the fewest broken rules, then of least panels and cuts.

    For a job that is not small a plan that breaks no rule and needs no more panels than the bound
    ends the search; of a small one all are made, so that leave to use offcuts anywhere never makes
    it dearer; where few crosscuts are asked for likewise.

    Args:
        runs: The runs of each course of each wall.
        sizes: Lengths and limits, in inches.
        within_walls: Whether offcuts stay on the wall where they were cut.
        nodes: How often the exact search of a small job may branch; 0 leaves it out.
        panels_alone: Whether the number of panels alone is asked for: then as many as the bound
            end the search of a small job too, whatever it costs.
        look: The share of its panels that a quieter look of its joints may cost, from 0 to 1; None
            leaves them where they are. Not where offcuts stay on their wall.
        lengths: The shares of its panels that few different lengths to cut may cost, tried in turn
            until one is enough. Not where offcuts stay on their wall.
        few_cuts: Whether ways to few crosscuts are tried too, which take more panels.
        wait: For how many courses an offcut may wait that is used near; None lets it go anywhere.
        off: By how much edges may be off on site, in inches; 0 makes no room for that.
        known: Plans of the same runs that are known already; the one returned costs no more, before
            it is changed for its look and the like.

    Returns:
        The plan.
    """
    bound = _bound(runs, sizes, within_walls=within_walls)
    is_small = _is_small(runs)
    plans: list[LaidPlan] = []
    for plan in _plans(runs, sizes, within_walls=within_walls, few_cuts=few_cuts):
        plans.append(plan)
        is_enough = not plan.broken and len(plan.units) <= bound
        if is_enough and (panels_alone or not (is_small or few_cuts)):
            break
    base = min(plans, key=_by_panels)
    if not within_walls:
        plans += list(_balanced(base, sizes, bound)) or [_packed_anew(base, sizes)]
        base = min(plans, key=_by_panels)
        if len(base.units) > bound and not base.broken and is_of_faces(base.laid, sizes):
            plans += [
                _packed_anew(base._replace(laid=one), sizes) for one in faces_anew(base.laid, sizes)
            ]
            base = min(plans, key=_by_panels)
    found = _exact(base, sizes, nodes) if len(base.units) > bound and not within_walls else None
    if found is not None and found.laid is not None:
        plans.append(LaidPlan(found.laid, base.broken, found.units))
    plans += known
    best = min(plans, key=_by_panels if panels_alone else lambda plan: plan.cost(sizes.cut))
    best = best._replace(is_cut_short=found is not None and found.is_cut_short)
    if panels_alone:
        return best
    if not within_walls:
        best = _changed(best, sizes, look, lengths, wait)
    if off:
        room = with_room(best.laid, best.units, sizes, off=off)
        best = _packed(best, "room", room, sizes)
    return best


def _changed(
    plan: LaidPlan,
    sizes: LayingSizes,
    look: float | None,
    lengths: Sequence[float],
    wait: int | None,
) -> LaidPlan:
    """The plan with what is asked for beside few panels and cuts."""
    if look is not None:
        more = math.floor(look * len(plan.units))
        laid = quieted(plan.laid, plan.units, sizes, more=more)
        plan = _within(plan, "look", laid, sizes, more) or plan
    for share in lengths:
        more = math.floor(share * len(plan.units))
        laid = with_few_lengths(plan.laid, plan.units, sizes, more=more)
        found = _within(plan, "lengths", laid, sizes, more)
        if found is not None:
            plan = found
            break
    if wait is not None:
        near = near_offcuts(plan.laid, plan.units, sizes, wait=wait)
        plan = _packed(plan, "near", near, sizes)
    return plan


def _by_panels(plan: LaidPlan) -> tuple[int, int, int]:
    """Rules broken, then panels, then cuts."""
    return plan.broken, len(plan.units), plan.cuts


def _balanced(plan: LaidPlan, sizes: LayingSizes, bound: int) -> Iterator[LaidPlan]:
    """The plan with its joints moved, and that one's again, while that saves panels; the joints of
    a bay have few places, and a plan of as many panels may lead on."""
    has_bay = _has_bay(plan)
    for _ in range(BALANCE_TIMES if len(plan.laid) <= BALANCE_RUNS else 1):
        laid = None
        if len(plan.units) > bound:
            laid = balanced(plan.laid, plan.units, sizes, enough=bound)
        if laid is None:
            return
        units = cut_stock(laid, sizes, within_walls=False)
        if len(units) > len(plan.units):
            return
        is_last = len(units) == len(plan.units) and not has_bay
        plan = LaidPlan(laid, plan.broken, units)
        yield plan
        if is_last:
            return


def _within(
    plan: LaidPlan, by: Change, laid: list[LaidRun] | None, sizes: LayingSizes, more: int
) -> LaidPlan | None:
    """The plan with its joints moved and its parts packed anew; None where no way was found or it
    takes more than so many panels more."""
    if laid is None:
        return None
    units = cut_stock(laid, sizes, within_walls=False)
    return plan.changed(by, laid, units) if len(units) <= len(plan.units) + more else None


def _packed(plan: LaidPlan, by: Change, laid: list[LaidRun] | None, sizes: LayingSizes) -> LaidPlan:
    """The plan with its parts in the panels that they are numbered for; itself where no way was
    found."""
    if laid is None:
        return plan
    return plan.changed(by, laid, cut_stock(laid, sizes, is_packed=True))


def _packed_anew(plan: LaidPlan, sizes: LayingSizes) -> LaidPlan:
    """The plan with its parts packed into as few panels as can be found."""
    return plan._replace(units=cut_stock(plan.laid, sizes, within_walls=False))


def _exact(plan: LaidPlan, sizes: LayingSizes, nodes: int) -> Relaid | None:
    """A small plan laid anew as a whole; None for one that is big, breaks a rule, or has a bay."""
    if not nodes or plan.broken or len(plan.laid) > EXACT_RUNS or _has_bay(plan):
        return None
    return laid_anew(plan.laid, plan.units, range(len(plan.laid)), sizes, nodes)


def _has_bay(plan: LaidPlan) -> bool:
    """Whether runs of a plan meet at mitres."""
    return any("mitre" in (one.run.left, one.run.right) for one in plan.laid)


def _plans(
    runs: Walls, sizes: LayingSizes, *, within_walls: bool, few_cuts: bool
) -> Iterator[LaidPlan]:
    """A plan for each try; of a small job also those with offcuts that stay on their wall, so that
    leave to use them anywhere never makes it dearer.

    Parts of a plan whose joints are moved afterwards are packed then.
    """
    is_small = _is_small(runs)
    effort = PLAN_PACKING_STEPS if within_walls or is_small else 0
    tries = _tries(runs, within_walls=within_walls) + list(CUT_TRIES) * few_cuts
    for scope, order, (worth, holding, cuts_per_panel) in tries:
        weighted = dataclasses.replace(
            sizes, worth=worth, holding=holding, cut=sizes.panel / cuts_per_panel
        )
        layout = _laid_in(_ORDERS[order], runs, weighted, within_walls=scope)
        for together in sorted({within_walls, within_walls or (scope and is_small)}):
            units = cut_stock(layout.laid, sizes, within_walls=together, effort=effort)
            yield LaidPlan(layout.laid, layout.broken, units)


def _tries(runs: Walls, *, within_walls: bool) -> list[Try]:
    """What a job is tried with: one try where it is long, and most of its joints are moved then.

    They are not where offcuts stay on their wall, beside a bay's mitre, or on walls laid alike.
    """
    every = [run for courses in runs for course in courses for run in course]
    tries: Sequence[Try] = BAY_JOB_TRIES if any(map(_is_mitred, every)) else TRIES
    if 2 * sum(run.like is not None for run in every) >= len(every):
        tries = tuple(dict.fromkeys((*TRIES, *BAY_JOB_TRIES)))
    apart = [(True, order, weights) for _, order, weights in tries]
    if within_walls:
        return apart
    still = math.fsum(run.length for run in every if run.like is not None or _is_mitred(run))
    if len(every) > FEW_RUNS and 2.0 * still < math.fsum(run.length for run in every):
        tries = tries[:1]
    return list(dict.fromkeys([*tries, *apart] if _is_small(runs) and len(runs) > 1 else tries))


def _is_mitred(run: Run) -> bool:
    """Whether it stands at the corner of a bay."""
    return any(edge.kind == "mitre" for _, edge in run.edges)


def _is_small(runs: Walls) -> bool:
    """Whether a job has so few runs that more is tried with it."""
    return sum(len(course) for courses in runs for course in courses) <= SMALL_JOB_RUNS


def _laid_in(
    key: Callable[[Sequence[Sequence[Run]]], float],
    runs: Walls,
    sizes: LayingSizes,
    *,
    within_walls: bool,
) -> Layout:
    """The walls laid in the order of a key, and put back into their own."""
    order = sorted(range(len(runs)), key=lambda i: key(runs[i]))
    layout = lay([runs[i] for i in order], sizes, within_walls=within_walls)
    coming = iter(layout.laid)
    by_wall = {i: [next(coming) for course in runs[i] for _ in course] for i in order}
    return Layout([one for i in range(len(runs)) for one in by_wall[i]], layout.broken)


def _mean_length(courses: Sequence[Sequence[Run]]) -> float:
    """Mean length of a wall's runs: narrow walls, as columns, have the least choice."""
    lengths = [run.length for course in courses for run in course]
    return math.fsum(lengths) / max(1, len(lengths))


def _count(courses: Sequence[Sequence[Run]]) -> float:
    """Runs of a wall."""
    return float(sum(len(course) for course in courses))


_ORDERS: dict[str, Callable[[Sequence[Sequence[Run]]], float]] = {
    "numbered": lambda _: 0.0,
    "narrow first": _mean_length,
    "few runs first": _count,
}


def _bound(runs: Walls, sizes: LayingSizes, *, within_walls: bool) -> int:
    """What no plan can do without; the sum of the walls' where they share nothing."""
    walls = [[run for course in courses for run in course] for courses in runs]
    jobs = walls if within_walls else [[run for wall in walls for run in wall]]
    return sum(job_bounds(job, sizes).total for job in jobs)
