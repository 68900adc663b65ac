"""What the judge of the plan found, as notices: one for each rule and wall, at the first place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.rules import PLAN_FAULTS
from dxf2veneer.model import RuleBreak, RuleState, WallTakeoff

_CODES: Mapping[RuleState, str] = {
    "forced": "RULE_YIELDS",
    "as laid": "RULE_AS_LAID",
    "broken": "RULE_BROKEN",
}


def notices_of(breaks: Iterable[RuleBreak], walls: Iterable[WallTakeoff]) -> Iterator[Notice]:
    """Notices of broken rules.

    Args:
        breaks: What the judge found, with the plan's reasons.
        walls: The walls that they name.

    Yields:
        ``PLAN_FAULT`` for faults of the plan, ``RULE_YIELDS`` for rules that are forced to give
        way, ``RULE_AS_LAID`` for those that were laid so, ``RULE_BROKEN`` for broken ones.
    """
    by_id = {entry.wall.id: entry for entry in walls}

    def group(b: RuleBreak) -> tuple[str, str, str]:
        return b.wall, b.rule, _code(b)

    for (wall_id, rule, code), same in groupby(sorted(breaks, key=group), key=group):
        found = list(same)
        first = found[0]
        entry = by_id.get(wall_id)
        wall = entry.wall if entry else None
        yield Notice(
            code,
            message(
                "rule-broken",
                rule=str(rule),
                wall=wall_id,
                places=len(found),
                course=entry.courses.number(first.course) if entry else first.course + 1,
                found=first.message,
                forced=first.forced,
                state=first.state,
                why=first.why,
            ),
            drawing=wall.drawing if wall else None,
            layer=wall.layer if wall else None,
            handle=wall.handles[0] if wall else None,
            at_in=first.at if wall else None,
        )


def _code(broken: RuleBreak) -> str:
    if broken.rule in PLAN_FAULTS:
        return "PLAN_FAULT"
    return _CODES[broken.state]
