"""What the rules that a candidate breaks cost, as length of panel."""

from __future__ import annotations

from dxf2veneer.basics.tolerances import (
    CLOSE_JOINT_COST,
    CUT_REPEATED_COST_IN,
    EXACT_IN,
    NARROW_LEG_COST_IN,
    NOTCH_IN,
    RULE_BROKEN_COST_IN,
    STAGGER_MISSED_COST,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.situation import Situation
from dxf2veneer.planning.sizes import LayingSizes


def corner_costs(situation: Situation, left: float, right: float) -> tuple[float, float]:
    """What the corner pieces of a candidate cost: cuts that do not vary, and narrow legs.

    Args:
        situation: The run in its situation.
        left: Length of the left corner piece in inches, 0 for none.
        right: Length of the right one.

    Returns:
        The cost as length of panel, and the least distance of their joints from those below.
    """
    run, sizes = situation.run, situation.sizes
    pieces: tuple[tuple[Side, float], ...] = (("left", left), ("right", right))
    vary, cost = sizes.vary - EXACT_IN, 0.0
    for side, length in pieces:
        if length:
            cost += CUT_REPEATED_COST_IN * sum(
                [abs(n - length) < vary for n in situation.varied.get(side, ())]
            )
    joints = [n for n in (left, run.length - right) if 0.0 < n < run.length]
    cost += NARROW_LEG_COST_IN * sum(
        [_is_narrow(run.x0 + x - notch, sizes) for notch in run.notches for x in joints]
    )
    return cost, min(
        [abs(x - u) for u in situation.below for x in joints], default=sizes.panel / 2.0
    )


def row_costs(
    situation: Situation,
    start: float,
    first: float,
    whole: int,
    cost: float,
    near: float,
    enough: float,
) -> float:
    """What the joints of a row of panels cost, together with what stands beside the row.

    Args:
        situation: The run in its situation.
        start: Where the row begins in the run, in inches.
        first: Length of its first piece.
        whole: Whole panels behind it: the row has one joint more; -1 for no joint.
        cost: What its corner pieces cost.
        near: The least distance of their joints from those below.
        enough: Where a joint is nearer than this, it is not asked which one is nearest.

    Returns:
        The cost as length of panel.
    """
    panel, stagger = situation.sizes.panel, situation.sizes.stagger
    at = start + first
    if whole >= 0:
        if situation.below:
            near = min(near, _nearest(situation, at, whole, enough))
        for notch in situation.run.notches:
            off = notch - situation.run.x0 - at
            cost += NARROW_LEG_COST_IN * _is_narrow(
                off - panel * max(0, min(whole, round(off / panel))), situation.sizes
            )
    if not situation.below and not situation.run.notches:
        return cost
    if near < stagger - EXACT_IN:
        cost += RULE_BROKEN_COST_IN + STAGGER_MISSED_COST * (stagger - near)
    return cost + CLOSE_JOINT_COST * max(0.0, panel / 2.0 - near)


def _is_narrow(off: float, sizes: LayingSizes) -> bool:
    """Whether a joint so far from an opening's side leaves a narrow leg beside it."""
    return NOTCH_IN < abs(off) < sizes.strip


def _nearest(situation: Situation, at: float, whole: int, enough: float) -> float:
    """The least distance of joints ``at`` and so many panels on from those below.

    Or the first distance below ``enough``.
    """
    panel = situation.sizes.panel
    near, end = panel / 2.0, at + panel * whole
    for r in situation.below:
        if r <= at:
            off = at - r
        elif r >= end:
            off = r - end
        else:
            off = (r - at) % panel
            if off > panel / 2.0:
                off = panel - off
        if off < near:
            near = off
            if near < enough:
                break
    return near
