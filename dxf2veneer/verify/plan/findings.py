"""What the judge of the plan found, as notices: one for each rule and wall, the first place named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from dxf2veneer.model import RuleBreak, Wall
from dxf2veneer.notices import Notice

_FAULTS = ("cover", "stock", "declared")
"""Not rules of laying but what makes a plan a plan: broken, the tool itself is wrong."""


def tell_breaks(breaks: Iterable[RuleBreak], walls: Iterable[Wall]) -> Iterator[Notice]:
    """Notices of broken rules: faults of the plan, rules that yield for a reason, rules broken without one."""
    by_id = {wall.id: wall for wall in walls}

    def group(b: RuleBreak) -> tuple[str, str, str]:
        return b.wall, b.rule, _code(b)

    for (wall_id, rule, code), same in groupby(sorted(breaks, key=group), key=group):
        found = list(same)
        first = found[0]
        places = (
            f"course {first.course + 1}"
            if len(found) == 1
            else f"{len(found)} places, the first in course {first.course + 1}"
        )
        reason = f"; {first.why}" if first.why else ""
        where = f" of {wall_id}, {places}" if wall_id else ""
        wall = by_id.get(wall_id)
        message = f"rule {rule}{where}: {first.message}{reason}"
        yield Notice(
            code,
            message,
            drawing=wall.drawing if wall else None,
            layer=wall.layer if wall else None,
            handle=wall.handles[0] if wall else None,
            at_in=first.at if wall else None,
        )


def _code(broken: RuleBreak) -> str:
    if broken.rule in _FAULTS:
        return "PLAN_FAULT"
    return "RULE_YIELDS" if broken.why else "RULE_BROKEN"
