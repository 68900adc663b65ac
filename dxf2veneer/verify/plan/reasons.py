"""The plan's reasons beside what the judge found."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterable

from dxf2veneer.basics.tolerances import REASON_REACH_IN
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import LaidCourse, RuleBreak

_SEEN_BY_JUDGE = ("run-shorter-than-least-piece", "column-wider-than-corner-piece")
"""Codes of reasons that count only where the judge saw for itself that it is so."""


def with_reasons(
    breaks: Iterable[RuleBreak],
    exceptions: Iterable[RuleBreak],
    *,
    near_in: float = REASON_REACH_IN,
) -> tuple[tuple[RuleBreak, ...], tuple[RuleBreak, ...]]:
    """The breaks, each with the plan's reason for that rule, wall, course and place.

    Of several reasons the nearest counts. A reason which the judge can check must have been seen by
    it: for the least strip that the strip is the field's own, for the least piece that the run is
    shorter where that is the reason. Otherwise it is left out.

    Args:
        breaks: What the judge found.
        exceptions: What the plan gave reasons for.
        near_in: How far along the course a reason holds, in inches: a panel's length.

    Returns:
        The breaks in their order, forced and with its ``why`` where there is a reason; and the
        reasons that meet a break.
    """
    reasons: dict[tuple[str, str, int], list[RuleBreak]] = defaultdict(list)
    for reason in exceptions:
        reasons[reason.rule, reason.wall, reason.course].append(reason)
    found, met = [], set()
    for broken in breaks:
        near = [
            r
            for r in reasons[broken.rule, broken.wall, broken.course]
            if abs(r.at[0] - broken.at[0]) <= near_in and _holds(r, broken)
        ]
        nearest = min(
            near, key=lambda r: (abs(r.at[0] - broken.at[0]), r.at, r.message.code), default=None
        )
        if nearest is None:
            found.append(broken)
            continue
        met.add(id(nearest))
        why = nearest.why or nearest.message
        found.append(dataclasses.replace(broken, why=why, forced=True))
    kept = [reason for own in reasons.values() for reason in own if id(reason) in met]
    return tuple(found), tuple(kept)


def with_laid(breaks: Iterable[RuleBreak], laid: Iterable[LaidCourse]) -> tuple[RuleBreak, ...]:
    """The breaks, those marked as laid of which every piece is.

    Args:
        breaks: What the judge found. Of a wall the lowest courses are laid, so that what a course
            breaks with the one below is laid where the course is.
        laid: Courses that are laid already.

    Returns:
        The breaks in their order.
    """
    done = {(one.wall, one.course) for one in laid}
    return tuple(
        dataclasses.replace(b, as_laid={(b.wall, b.course), *b.beside} <= done) for b in breaks
    )


def _holds(reason: RuleBreak, broken: RuleBreak) -> bool:
    """Whether the judge has seen what the reason says, where it can."""
    if broken.forced:
        return True
    if broken.rule == RuleId.LEAST_STRIP:
        return False
    return (reason.why or reason.message).code not in _SEEN_BY_JUDGE
