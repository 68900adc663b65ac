"""Which walls stand beside one another round their corners, and where each is drawn.

W1 right = W2 left, W2 right = W3 left        W1 |   W2   | W3
                                             ----+--------+----
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.model import Corner, Takeoff, WallTakeoff


class Placed(NamedTuple):
    """A wall in a strip."""

    entry: WallTakeoff
    dx: float
    """Added to an x of the drawing; 0 is the left end of the strip."""
    dy: float
    """Added to a y of the drawing, so that course lines run through."""
    corner: str
    """Id of the corner at its left edge, where the wall before it meets it; empty for the first."""


Strip = tuple[Placed, ...]


def strips_of(takeoff: Takeoff) -> tuple[Strip, ...]:
    """All walls of the job in strips, each wall once.

    A strip begins with a wall that no other meets at its left edge; where walls go all the way
    round a building it is parted before the first of them. Heights follow the level lines of both
    walls at a corner, or the lower ends of its two edges.

    Args:
        takeoff: The takeoff.

    Returns:
        The strips in the order of their first walls.
    """
    by_id = {w.wall.id: w for w in takeoff.walls}
    after = _neighbors(takeoff.corners)
    before = {right: left for left, (right, _) in after.items()}
    left_over = dict.fromkeys(by_id)
    strips = []
    for wall in [*(w for w in by_id if w not in before), *by_id]:
        if wall not in left_over:
            continue
        strip: list[Placed] = []
        corner = ""
        while wall in left_over:
            del left_over[wall]
            strip.append(_beside(strip, by_id[wall], corner))
            if wall not in after:
                break
            wall, corner = after[wall]
        strips.append(tuple(strip))
    number = {wall: n for n, wall in enumerate(by_id)}
    return tuple(sorted(strips, key=lambda s: min(number[p.entry.wall.id] for p in s)))


def stacked(takeoff: Takeoff, gap: float) -> list[Placed]:
    """All walls with their strips one below the other.

    Args:
        takeoff: The takeoff.
        gap: Distance of the strips in inches.

    Returns:
        The walls; the upper left corner of the first strip is the origin.
    """
    found, top = list[Placed](), 0.0
    for strip in strips_of(takeoff):
        left = min(p.entry.wall.box[0] + p.dx for p in strip)
        high = max(p.entry.wall.box[3] + p.dy for p in strip)
        found += [p._replace(dx=p.dx - left, dy=p.dy + top - high) for p in strip]
        top = min(p.entry.wall.box[1] + p.dy for p in found) - gap
    return found


def _neighbors(corners: Sequence[Corner]) -> dict[str, tuple[str, str]]:
    """By the wall whose right edge is at a corner the wall whose left edge is, and the corner;
    where several walls make one side, the first of them."""
    found: dict[str, tuple[str, str]] = {}
    taken = set()
    for corner in corners:
        rights = [wall for wall, side in corner.edges if side == "right"]
        lefts = [wall for wall, side in corner.edges if side == "left"]
        for right, left in zip(rights[:1], lefts[:1], strict=False):
            if right not in found and left not in taken and left != right:
                found[right] = left, corner.id
                taken.add(left)
    return found


def _beside(strip: Sequence[Placed], entry: WallTakeoff, corner: str) -> Placed:
    """A wall at the right end of a strip."""
    x0, base, _, _ = entry.wall.box
    if not strip:
        return Placed(entry, -x0, -base, "")
    last = strip[-1]
    end = last.entry.wall.box[2] + last.dx
    one, other = last.entry.wall, entry.wall
    if one.level_y is not None and other.level_y is not None:
        return Placed(entry, end - x0, one.level_y + last.dy - other.level_y, corner)
    lower = [
        edge.y0
        for wall, side in ((one, "right"), (other, "left"))
        for edge in wall.edges
        if edge.corner == corner and edge.side == side
    ]
    low, high = (lower[0], lower[-1]) if lower else (one.box[1], base)
    return Placed(entry, end - x0, low + last.dy - high, corner)
