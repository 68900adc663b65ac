"""The plan's reasons beside what the judge found."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterable

from dxf2veneer.model import RuleBreak
from dxf2veneer.tolerances import REASON_REACH_IN


def with_reasons(
    breaks: Iterable[RuleBreak], yielded: Iterable[RuleBreak], *, near_in: float = REASON_REACH_IN
) -> tuple[RuleBreak, ...]:
    """The breaks, each with the plan's reason where it gave one for that rule, wall, course and place.

    ``near_in`` is the panel's length. Of several reasons the nearest counts. A reason which the judge
    can check must have been seen by it: for L24 that the strip is the field's own, for L4 that the
    run is shorter than the least piece where that is what the reason says. Otherwise it is left out.
    """
    reasons: dict[tuple[str, str, int], list[RuleBreak]] = defaultdict(list)
    for reason in yielded:
        reasons[reason.rule, reason.wall, reason.course].append(reason)
    found = []
    for broken in breaks:
        near = [
            r
            for r in reasons[broken.rule, broken.wall, broken.course]
            if abs(r.at[0] - broken.at[0]) <= near_in and _holds(r, broken)
        ]
        nearest = min(
            near, key=lambda r: (abs(r.at[0] - broken.at[0]), r.at, r.message), default=None
        )
        found.append(
            dataclasses.replace(broken, why=nearest.why or nearest.message) if nearest else broken
        )
    return tuple(found)


def _holds(reason: RuleBreak, broken: RuleBreak) -> bool:
    if broken.forced:
        return True
    told = f"{reason.message} {reason.why}"
    return not (
        broken.rule == "L24" or (broken.rule == "L4" and "least piece" in told and "run" in told)
    )
