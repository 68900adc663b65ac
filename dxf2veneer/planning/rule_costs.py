"""What the rules that a candidate breaks cost, as length of panel."""

from __future__ import annotations

from collections.abc import Sequence

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
from dxf2veneer.planning.situation import Ground, Row
from dxf2veneer.planning.sizes import LayingSizes


def corner_and_row_costs(
    ground: Ground, left: float, right: float, rows: Sequence[Row], *, strict: bool
) -> list[float]:
    """What the rules cost that a run's corner pieces break with each of several rows between them.

    Args:
        ground: The run with what lies below.
        left: Length of the left corner piece in inches, 0 for none.
        right: Length of the right one.
        rows: The rows of flat pieces between them.
        strict: Whether it is not asked how near a joint is that breaks the stagger.

    Returns:
        The cost for each row, as length of panel.
    """
    known = ground.costs.setdefault((left, right, strict), {})
    new = [row for row in rows if row not in known]
    if new:
        known.update(zip(new, _costs(ground, left, right, new, strict), strict=True))
    return [known[row] for row in rows]


def _costs(
    ground: Ground, left: float, right: float, rows: Sequence[Row], strict: bool
) -> list[float]:
    """What the rules cost, found out for each row."""
    cost, beside = _corner_costs(ground, left, right)
    below, notches = ground.below, ground.run.notches
    if not below and not notches:
        return [cost] * len(rows)
    panel, stagger = ground.sizes.panel, ground.sizes.stagger - EXACT_IN
    half, enough = panel / 2.0, stagger if strict else 0.0
    found = []
    for first, whole, last in rows:
        near, own = beside, cost
        if last:  # the row has a joint
            at = left + first
            if below:
                near = _nearest(below, at, whole, panel, enough, min(near, half))
            for notch in notches:
                off = notch - ground.run.x0 - at
                off -= panel * max(0, min(whole, round(off / panel)))
                own += NARROW_LEG_COST_IN * _is_narrow(off, ground.sizes)
        if near < stagger:
            own += RULE_BROKEN_COST_IN + STAGGER_MISSED_COST * (ground.sizes.stagger - near)
        found.append(own + CLOSE_JOINT_COST * (half - near) if near < half else own)
    return found


def _corner_costs(ground: Ground, left: float, right: float) -> tuple[float, float]:
    """What corner pieces cost: cuts that do not vary, and narrow legs.

    With it the least distance of their joints from those below.
    """
    run, sizes = ground.run, ground.sizes
    if not left and not right:
        return 0.0, sizes.panel / 2.0
    pieces: tuple[tuple[Side, float], ...] = (("left", left), ("right", right))
    vary, cost = sizes.vary - EXACT_IN, 0.0
    for side, length in pieces:
        if length:
            cost += CUT_REPEATED_COST_IN * sum(
                [abs(n - length) < vary for n in ground.varied.get(side, ())]
            )
    joints = [n for n in (left, run.length - right) if 0.0 < n < run.length]
    if run.notches:
        cost += NARROW_LEG_COST_IN * sum(
            [_is_narrow(run.x0 + x - notch, sizes) for notch in run.notches for x in joints]
        )
    return cost, min([abs(x - u) for u in ground.below for x in joints], default=sizes.panel / 2.0)


def _is_narrow(off: float, sizes: LayingSizes) -> bool:
    """Whether a joint so far from an opening's side leaves a narrow leg beside it."""
    return NOTCH_IN < abs(off) < sizes.strip


def _nearest(
    below: Sequence[float], at: float, whole: int, panel: float, enough: float, near: float
) -> float:
    """The least distance of joints ``at`` and so many panels on from those below, or the first
    distance below ``enough``; ``near`` where none is less."""
    half, end = panel / 2.0, at + panel * whole
    for r in below:
        if r <= at:
            off = at - r
        elif r >= end:
            off = r - end
        else:
            off = (r - at) % panel
            if off > half:
                off = panel - off
        if off < near:
            near = off
            if near < enough:
                break
    return near
