"""The cheapest of several layouts: the beam search tried with several weightings.

What an offcut is worth while it lies at hand, and what a cut costs beside it, is a guess of the
beam search; no guess is best for all jobs. So a few are tried, each packed into panels, and the
plans compared by what they really cost. The weightings do not depend on the job's price of a cut:
that alone compares. So of all plans made here

- the one taken is not dominated: none has fewer panels and no more cuts, or fewer cuts and no more
  panels; for either would cost less;
- dearer panels never buy more of them: for P + c C <= P' + c C' and P' + c' C' <= P + c' C with
  c' < c add up to (c - c') (C - C') <= 0, so that C' >= C, and hence P' <= P.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import SMALL_JOB_RUNS, WEIGHTINGS
from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.cutting_stock.panels import CutPanel, cut_stock
from dxf2veneer.planning.layout import LaidRun, lay
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes


class LaidPlan(NamedTuple):
    """The runs as laid, on how many of them a rule is broken, and the panels."""

    laid: list[LaidRun]
    broken: int
    units: tuple[CutPanel, ...]

    @property
    def cuts(self) -> int:
        """Crosscuts."""
        return sum(unit.cuts for unit in self.units)

    def cost(self, cut: float) -> tuple[int, float]:
        """Rules broken first, then length of panel, a cut being worth ``cut`` of it."""
        return self.broken, sum(unit.length for unit in self.units) + cut * self.cuts


def cheapest_plan(
    runs: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes, *, within_walls: bool
) -> LaidPlan:
    """The cheapest plan found: with the fewest broken rules, then of least panels and cuts.

    A plan that breaks no rule and needs no more panels than the bound ends the search.

    Args:
        runs: The runs of each course of each wall.
        sizes: Lengths and limits, in inches.
        within_walls: Whether offcuts stay on the wall where they were cut.

    Returns:
        The plan.
    """
    bound = _bound(runs, sizes, within_walls=within_walls)
    plans: list[LaidPlan] = []
    for plan in _plans(runs, sizes, within_walls=within_walls):
        plans.append(plan)
        if not plan.broken and len(plan.units) <= bound:
            break
    return min(plans, key=lambda plan: plan.cost(sizes.cut))


def _plans(
    runs: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes, *, within_walls: bool
) -> Iterator[LaidPlan]:
    """A plan for each weighting; of a job of several walls the first with offcuts that stay on
    their wall, so that walls that are alike are laid alike; of a small job all of both."""
    scopes = (True, len(runs) == 1 or within_walls)
    tries = list(zip(scopes, WEIGHTINGS, strict=True))
    count = sum(len(course) for courses in runs for course in courses)
    if scopes[0] != scopes[1] and count <= SMALL_JOB_RUNS:
        tries += zip(reversed(scopes), WEIGHTINGS, strict=True)
    for scope, (worth, holding, cuts_per_panel) in tries:
        weighted = dataclasses.replace(
            sizes, worth=worth, holding=holding, cut=sizes.panel / cuts_per_panel
        )
        layout = lay(runs, weighted, within_walls=scope)
        units = cut_stock(layout.laid, sizes, within_walls=within_walls)
        yield LaidPlan(layout.laid, layout.broken, units)


def _bound(
    runs: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes, *, within_walls: bool
) -> int:
    """What no plan can do without; the sum of the walls' where they share nothing."""
    walls = [[run for course in courses for run in course] for courses in runs]
    jobs = walls if within_walls else [[run for wall in walls for run in wall]]
    return sum(job_bounds(job, sizes).total for job in jobs)
