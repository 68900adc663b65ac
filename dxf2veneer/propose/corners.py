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


def corners_of(walls: Sequence[ProposedWall], *, metre: float) -> tuple[ProposedCorner, ...]:
    """The outermost upright sides of each view's walls, paired between views where heights agree.

    Args:
        walls: the walls of all elevations.
        metre: drawing units in a metre.

    Returns:
        Corners, those with a partner first found first.
    """
    ends: list[tuple[str, _Side]] = []
    for view in dict.fromkeys(w.view for w in walls):
        sides = [s for w in walls if w.view == view for s in _sides(w, metre)]
        for side, best in (("left", min), ("right", max)):
            own = [s for s in sides if s.side == side]
            if own:
                ends.append((view, best(own, key=lambda s: s.x)))
    rights = [(v, s) for v, s in ends if s.side == "right"]
    left = [(v, s) for v, s in ends if s.side == "left"]
    alike = [
        (r, s)
        for r in rights
        for s in left
        if r[0] != s[0] and abs(_high(r[1]) - _high(s[1])) <= constants.CORNER_HEIGHTS_M * metre
    ]
    found: list[ProposedCorner] = []
    for view, right in rights:
        partners = [other for r, other in alike if r == (view, right)]
        name = f"C{len(found) + 1}"
        if len(partners) == 1 and _is_settled((view, right), partners[0], alike):
            other = partners[0][1]
            left.remove(partners[0])
            edges = ((right.wall.id, "right"), (other.wall.id, "left"))
            found.append(
                ProposedCorner(
                    name,
                    "outside",
                    edges,
                    (right.line, other.line),
                    0.6,
                    Reason("CORNER_HEIGHTS_AGREE", {"height": right.y1 - right.y0}),
                )
            )
        else:
            reason = Reason("CORNER_ALONE", {"candidates": len(partners)})
            found.append(
                ProposedCorner(
                    name, "outside", ((right.wall.id, "right"),), (right.line,), 0.5, reason
                )
            )
    for _, lone in left:
        found.append(
            ProposedCorner(
                f"C{len(found) + 1}",
                "outside",
                ((lone.wall.id, "left"),),
                (lone.line,),
                0.5,
                Reason("CORNER_ALONE", {"candidates": 0}),
            )
        )
    return tuple(found)


def _high(side: _Side) -> float:
    return side.y1 - side.y0


def _is_settled(
    right: tuple[str, _Side],
    left: tuple[str, _Side],
    alike: Sequence[tuple[tuple[str, _Side], tuple[str, _Side]]],
) -> bool:
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
