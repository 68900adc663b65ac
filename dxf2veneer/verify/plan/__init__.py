"""The judge of a finished course plan: it reports every violation of every rule of laying.

It is independent of the planner: it shares no code with it and believes nothing that a plan says of
itself. From each wall's field, edges and pieces it works out runs, ends and joints anew.

rule       what must hold (common practice of the trade, no published source, but for the first three and L24)
---------  ---------------------------------------------------------------------------------------
cover      the pieces of a wall cover its field exactly, each in its course, overhangs aside
stock      each piece is cut from one unit, which has room for it and its cuts; the counts are true
declared   a piece's kind, flags, numbers and outline are those of the ground it covers
L3         joints of adjacent courses stand apart
L4         no piece is too short; the two pieces of a corner panel are unequal; its cut varies
L5         a corner piece has its finished end at the edge, its cut one away; no whole corner panel
L6, L7     at outside and inside corners the walls take turns, course by course
L8         at an end every course has a corner piece of that hand, with the same overhang
L9         inside a run flat pieces meet factory end to factory end; finished ends only at edges
L12        a run that one corner piece can fill holds no flat piece
L13        at a bay the ends are mitred, both sides from one panel
L24        no strip is lower than the job's limit (our own default)
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, RuleBreak, WallTakeoff
from dxf2veneer.verify.plan.cover import cover_breaks
from dxf2veneer.verify.plan.declared import declared_breaks
from dxf2veneer.verify.plan.laying import laying_breaks
from dxf2veneer.verify.plan.reasons import with_reasons
from dxf2veneer.verify.plan.runs import judged_wall
from dxf2veneer.verify.plan.stock import stock_breaks

RULES = (
    "cover",
    "stock",
    "declared",
    "L3",
    "L4",
    "L5",
    "L6",
    "L7",
    "L8",
    "L9",
    "L12",
    "L13",
    "L24",
)
"""Ids of the rules that the judge knows."""

__all__ = ["RULES", "judge", "with_reasons"]


def judge(
    walls: Sequence[WallTakeoff], plan: CoursePlan, job: Job, product: Product
) -> tuple[RuleBreak, ...]:
    """Every violation of every rule in the laid walls and the units of their plan.

    Sorted by wall (the job's counts first), course, place and rule. Reasons are not looked at: see
    ``with_reasons``.
    """
    grounds = [judged_wall(w) for w in walls]
    breaks: list[RuleBreak] = []
    for ground in grounds:
        breaks += cover_breaks(ground, job)
        breaks += declared_breaks(ground, job, product)
    breaks += laying_breaks(grounds, job, product)
    breaks += stock_breaks(grounds, plan, job, product)
    order = {w.wall.id: i for i, w in enumerate(walls)}
    return tuple(
        sorted(
            breaks,
            key=lambda b: (order.get(b.wall, -1), b.course, b.at, RULES.index(b.rule), b.message),
        )
    )
