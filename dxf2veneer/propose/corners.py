"""Corner edges: upright sides of walls, and the side of another elevation that each meets.

A building seen from four sides shows every corner twice: as the right side of one elevation and the
left side of another, of the same height. Two free sides whose heights agree are proposed as one
where no other two could be it: two elevations meet at one corner, never at two.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from dxf2veneer.propose import constants
from dxf2veneer.propose.proposal import Box, ProposedCorner, ProposedWall, Reason


class _Side(NamedTuple):
    wall: ProposedWall
    side: str
    x: float
    y0: float
    y1: float

    @property
    def line(self) -> Box:
        return (self.x, self.y0, self.x, self.y1)


_End = tuple[str, _Side]
"""A view, and the outermost side of its walls on one side."""


def corners_of(walls: Sequence[ProposedWall], *, metre: float) -> tuple[ProposedCorner, ...]:
    """The outermost upright sides of each view's walls, paired between views where heights agree.

    Args:
        walls: the walls of all elevations.
        metre: drawing units in a metre.

    Returns:
        Corners, those with a partner first found first.
    """
    ends = _outermost(walls, metre)
    rights = [end for end in ends if end[1].side == "right"]
    left = [end for end in ends if end[1].side == "left"]
    alike = [
        (r, s)
        for r in rights
        for s in left
        if r[0] != s[0] and abs(_high(r[1]) - _high(s[1])) <= constants.CORNER_HEIGHTS_M * metre
    ]
    found: list[ProposedCorner] = []
    for right in rights:
        partners = [other for r, other in alike if r == right]
        name = f"C{len(found) + 1}"
        if len(partners) == 1 and _is_settled(right, partners[0], alike):
            left.remove(partners[0])
            found.append(_paired(name, right[1], partners[0][1]))
        else:
            found.append(_alone(name, right[1], len(partners)))
    for _, lone in left:
        found.append(_alone(f"C{len(found) + 1}", lone, 0))
    return tuple(found)


def _outermost(walls: Sequence[ProposedWall], metre: float) -> list[_End]:
    """The leftmost left side and the rightmost right side of each view's walls, where no other wall
    lies beyond."""
    ends: list[_End] = []
    reach = constants.CORNER_HEIGHTS_M * metre
    for view in dict.fromkeys(w.view for w in walls):
        own = [w for w in walls if w.view == view]
        x = [x for w in own for x, _ in w.outline]
        sides = [s for w in own for s in _sides(w, metre)]
        for side, best, end in (("left", min, min(x)), ("right", max, max(x))):
            outer = [s for s in sides if s.side == side and abs(s.x - end) <= reach]
            if outer:
                ends.append((view, best(outer, key=lambda s: s.x)))
    return ends


def _paired(name: str, right: _Side, left: _Side) -> ProposedCorner:
    edges = ((right.wall.id, "right"), (left.wall.id, "left"))
    reason = Reason("CORNER_HEIGHTS_AGREE", {"height": _high(right)})
    return ProposedCorner(name, "outside", edges, (right.line, left.line), 0.6, reason)


def _alone(name: str, side: _Side, candidates: int) -> ProposedCorner:
    reason = Reason("CORNER_ALONE", {"candidates": candidates})
    edges = ((side.wall.id, side.side),)
    return ProposedCorner(name, "outside", edges, (side.line,), 0.5, reason)


def _high(side: _Side) -> float:
    return side.y1 - side.y0


def _is_settled(right: _End, left: _End, alike: Sequence[tuple[_End, _End]]) -> bool:
    """Whether no other pair takes the left side, or joins the same two views round the other way:
    two elevations meet at one corner, and nothing says at which."""
    lefts = [r for r, other in alike if other == left]
    back = [1 for r, other in alike if (r[0], other[0]) == (left[0], right[0])]
    return len(lefts) == 1 and not back


def _sides(wall: ProposedWall, metre: float) -> list[_Side]:
    """The upright sides of a wall: going counter-clockwise, right ones lead up and left ones
    down."""
    result = []
    for (xa, ya), (xb, yb) in pairwise((*wall.outline, wall.outline[0])):
        if abs(xb - xa) <= 0.01 * abs(yb - ya) and abs(yb - ya) >= constants.CORNER_LEAST_M * metre:
            result.append(
                _Side(
                    wall, "right" if yb > ya else "left", (xa + xb) / 2.0, min(ya, yb), max(ya, yb)
                )
            )
    return result
