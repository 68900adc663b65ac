"""The judge of a finished course plan: it reports every violation of every rule of laying.

It is independent of the planner: it shares no code with it and believes nothing that a plan says of
itself. From each wall's field, edges and pieces it works out runs, ends and joints anew, and by
other means: the planner walks along boundaries, the judge cuts upright slices out of shapes.

    runs.py       the runs of a wall, what stands at their ends, what was laid in them
    cover.py      cover: the pieces cover the field exactly
    stock.py      stock: each piece is cut from one panel that has room for it
    declared.py   declared: what a piece says of itself; the least strip (L24)
    strips.py     upright slices of a shape, and the level strips among them
    laying.py     the rules about pieces in their runs: L3 to L9, L12, L13
    reasons.py    the plan's reasons beside what was found, and what is laid already
    findings.py   what was found, as notices

What each rule says stands in ``config.rules``.
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.rules import JUDGED, RuleId
from dxf2veneer.model import CoursePlan, RuleBreak, WallTakeoff
from dxf2veneer.verify.plan.cover import cover_breaks
from dxf2veneer.verify.plan.declared import declared_breaks
from dxf2veneer.verify.plan.laying import laying_breaks
from dxf2veneer.verify.plan.reasons import with_laid, with_reasons
from dxf2veneer.verify.plan.runs import judged_wall
from dxf2veneer.verify.plan.stock import stock_breaks

__all__ = ["judge", "with_laid", "with_reasons"]


def judge(
    walls: Sequence[WallTakeoff], plan: CoursePlan, job: Job, product: Product
) -> tuple[RuleBreak, ...]:
    """Every violation of every rule in the laid walls and the panels of their plan.

    Args:
        walls: The walls with their pieces.
        plan: The panels that are bought, and the counts.
        job: Settings that rules depend on.
        product: Sizes and laying rules of the panel.

    Returns:
        The violations by wall (the job's counts first), course, place and rule. Reasons are not
        looked at: see ``with_reasons``.
    """
    judged = [judged_wall(w) for w in walls]
    breaks: list[RuleBreak] = []
    for wall in judged:
        breaks += cover_breaks(wall, job, product)
        breaks += declared_breaks(wall, job, product)
    breaks += laying_breaks(judged, job, product)
    breaks += stock_breaks(judged, plan, job, product)
    order = {w.wall.id: i for i, w in enumerate(walls)}

    def place(b: RuleBreak) -> tuple[int, int, tuple[float, float], int, str]:
        return order.get(b.wall, -1), b.course, b.at, JUDGED.index(RuleId(b.rule)), b.message.code

    return tuple(sorted(breaks, key=place))
