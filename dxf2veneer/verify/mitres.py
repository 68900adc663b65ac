"""Whether the two sides of bay corners lie side by side in one panel (rule L13).

    panel F7   |==== piece of wall A ====\\== piece of wall B ====|      one cut parts them, and the
                                                                       pattern runs round the corner

Worked out from pieces, edges and panels alone, beside the planner.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from dxf2veneer.basics.tolerances import JUDGE_SAWDUST_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    CoursePlan,
    MitredPair,
    Mitres,
    MitreState,
    PieceRef,
    Side,
    WallTakeoff,
)
from dxf2veneer.verify.plan.cover import behind_of
from dxf2veneer.verify.plan.laying import met_at
from dxf2veneer.verify.plan.runs import JudgedRun, LaidPart, judged_wall

_Placed = tuple[JudgedRun, LaidPart]


def mitres_of(walls: Sequence[WallTakeoff], plan: CoursePlan, job: Job, product: Product) -> Mitres:
    """How the two sides of a plan's bay corners lie in their panels.

    Args:
        walls: The walls with their pieces.
        plan: Its panels, and the pairs that no layout has side by side.
        job: The saw cut, the angle of bays and which of their corners turn toward you.
        product: The stone's thickness.

    Returns:
        The pairs; none where the job has no bay.
    """
    parts = {unit.id: unit.parts for unit in plan.units}
    found = []
    judged = [judged_wall(w) for w in walls]
    for (corner, _), sides in sorted(met_at(judged, ("mitre",)).items()):
        ends: dict[Side, list[_Placed]] = {
            side: [(run, one) for run, one, _ in own if one.end(side) == "mitre"]
            for side, own in sides.items()
        }
        if not ends.get("right") or not ends.get("left"):
            continue
        (other, before), (run, after) = ends["right"][0], ends["left"][0]
        behind = behind_of(other, before, job, product)[1] + behind_of(run, after, job, product)[0]
        between = job.plan.kerf + behind
        left, right = _ref(ends["right"][0]), _ref(ends["left"][0])
        state: MitreState = "broken"
        if _are_beside(before, after, left, right, parts.get(after.stock, ()), between):
            state = "kept"
        elif (run.wall, run.course.index) in plan.forced_apart:
            state = "forced"
        found.append(MitredPair(corner, left, right, state))
    return Mitres(tuple(found))


def _ref(placed: _Placed) -> PieceRef:
    run, one = placed
    return PieceRef(run.wall, run.course.index, min(one.numbers))


def _are_beside(
    one: LaidPart,
    other: LaidPart,
    left: PieceRef,
    right: PieceRef,
    parts: Sequence[PieceRef],
    between: float,
) -> bool:
    """Whether a part lies just left of another in one panel, so much between."""
    if one.stock != other.stock or (left, right) not in set(pairwise(parts)):
        return False
    return abs(other.at - one.at - one.length - between) <= JUDGE_SAWDUST_IN
