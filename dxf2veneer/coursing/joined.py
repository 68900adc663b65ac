"""Walls that meet at a corner and whose courses may not: bases at different heights that no level line ties."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product as pairs_of

from dxf2veneer.coursing.bands import CLEAN_IN
from dxf2veneer.model import Corner, WallTakeoff
from dxf2veneer.notices import Notice
from dxf2veneer.wording.measures import length_text


def tell_untied(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], height: float, show: str
) -> Iterator[Notice]:
    """A notice for each two walls of a corner whose courses don't run on as drawn, with no level line on both.

    They run on where the first courses lie two courses apart, or four and so on: then corner pieces take turns
    too. At a bay, where no wall carries a corner piece, any whole number of courses will do. Only elevations
    drawn side by side are compared, whose edges at the corner overlap in height: of others nobody knows how
    high one stands above the other.
    """
    by_id = {w.wall.id: w for w in walls}
    for corner in corners:
        ends = {
            side: [by_id[wall] for wall, of in corner.edges if of == side and wall in by_id]
            for side in ("right", "left")
        }
        step = height if corner.kind == "mitre" else 2.0 * height
        for one, other in pairs_of(ends["right"], ends["left"]):
            apart = other.courses.starter_y - one.courses.starter_y
            tied = one.wall.level_y is not None and other.wall.level_y is not None
            if not tied and _off(apart, step) > CLEAN_IN and _side_by_side(one, other, corner.id):
                yield _notice(one, other, corner.id, apart, height, show)


def _side_by_side(one: WallTakeoff, other: WallTakeoff, corner: str) -> bool:
    """Whether the walls' edges at the corner are drawn in one drawing at overlapping heights."""
    mine, others = ([e for e in w.wall.edges if e.corner == corner] for w in (one, other))
    return one.wall.drawing == other.wall.drawing and any(
        min(a.y1, b.y1) - max(a.y0, b.y0) > CLEAN_IN for a, b in pairs_of(mine, others)
    )


def _off(apart: float, step: float) -> float:
    """How far a height is from a whole number of steps."""
    into = abs(apart) % step
    return min(into, step - into)


def _notice(
    one: WallTakeoff, other: WallTakeoff, corner: str, apart: float, height: float, show: str
) -> Notice:
    off = _off(apart, height)
    so = (
        f"their course lines miss each other by {length_text(off, show)}"
        if off > CLEAN_IN
        else "both may have their corner piece in the same course"
    )
    wall = other.wall
    message = (
        f"{one.wall.id} and {wall.id} meet at corner {corner}, but the first course of {wall.id} is drawn {length_text(abs(apart), show)} "
        f"{'higher' if apart > 0 else 'lower'} and no level line ties the two: as drawn, {so}"
    )
    return Notice(
        "CORNER_UNTIED",
        message,
        drawing=wall.drawing,
        layer=wall.layer,
        handle=wall.handles[0],
        at_in=wall.box[:2],
    )
