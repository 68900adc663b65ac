"""Edges of walls and level places that a person points at, as lines of the job file."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.page.marks import LineMark, Mark, Marks, Point

_SLOPE = 0.01
"""A side that leaves the upright or the level by no more than this is upright or level. Our own
default."""
_LONGEST_TAG = 12

Ends = tuple[Point, Point]


class EdgeError(TakeoffError):
    """Nothing is there that could be marked."""


def marked(marks: Marks, kind: str, at: Point, reach: float) -> Marks:
    """A line of a kind at the edge that was pointed at; ``nothing`` takes the lines there out.

    Args:
        marks: The marks before.
        kind: One of ``LINE_KINDS``, or ``nothing``.
        at: Where, in drawing units.
        reach: How far from it the edge may be.

    Returns:
        The marks after; what marked the same edge before is replaced.

    Raises:
        EdgeError: There is no such edge.
    """
    if kind == "nothing":
        kept = [m for m in marks.lines if _distance(m.points, at) > reach]
        return dataclasses.replace(marks, lines=tuple(kept))
    ends = _level(marks, at) if kind == "level" else _edge(marks, kind, at, reach)
    if ends is None:
        raise EdgeError(message("page-no-edge", kind=kind))
    kept = [m for m in marks.lines if m.points != ends]
    new = LineMark(marks.next_id, kind, "", ends)
    return dataclasses.replace(marks, lines=(*kept, new))


def tagged(marks: Marks, mark: int, tag: str) -> Marks:
    """A line with a tag; two edges with one tag are one corner.

    Args:
        marks: The marks before.
        mark: The line's id.
        tag: The tag, such as ``A``; empty for none.

    Returns:
        The marks after.
    """
    plain = "".join(tag.replace("=", "").split()).upper()[:_LONGEST_TAG]
    lines = (dataclasses.replace(m, tag=plain) if m.id == mark else m for m in marks.lines)
    return dataclasses.replace(marks, lines=tuple(lines))


def wall_at(marks: Marks, line: LineMark) -> Mark | None:
    """The wall on whose outline a line lies.

    Args:
        marks: The walls.
        line: The line.

    Returns:
        The wall; None for a line that lies on none.
    """
    return next((w for w in marks.walls if line.points in set(_sides(w))), None)


def _edge(marks: Marks, kind: str, at: Point, reach: float) -> Ends | None:
    """The nearest upright side of a wall, for a cap the nearest level one."""
    wanted = _is_level if kind == "cap" else _is_upright
    sides = [side for wall in marks.walls for side in _sides(wall) if wanted(side)]
    near = min(sides, key=lambda side: _distance(side, at), default=None)
    return near if near is not None and _distance(near, at) <= reach else None


def _level(marks: Marks, at: Point) -> Ends | None:
    """A level line at a height, across the walls that stand there."""
    boxes = [w.polygon.bounds for w in marks.walls]
    crossed = [b for b in boxes if b[1] - (b[3] - b[1]) / 2 <= at[1] <= b[3]]
    if not any(b[0] <= at[0] <= b[2] for b in crossed):
        return None
    return (min(b[0] for b in crossed), at[1]), (max(b[2] for b in crossed), at[1])


def _sides(wall: Mark) -> Iterable[Ends]:
    """The sides of an outline, each from its lower or left end."""
    corners: Sequence[Point] = wall.outline
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        low, high = sorted((a, b), key=lambda p: (p[1], p[0]))
        yield (low, high)


def _is_upright(side: Ends) -> bool:
    (x0, y0), (x1, y1) = side
    return abs(x1 - x0) <= _SLOPE * abs(y1 - y0)


def _is_level(side: Ends) -> bool:
    (x0, y0), (x1, y1) = side
    return abs(y1 - y0) <= _SLOPE * abs(x1 - x0)


def _distance(side: Ends, at: Point) -> float:
    (x0, y0), (x1, y1) = side
    dx, dy = x1 - x0, y1 - y0
    length = dx * dx + dy * dy
    share = max(0.0, min(1.0, ((at[0] - x0) * dx + (at[1] - y0) * dy) / length))
    return math.hypot(at[0] - x0 - share * dx, at[1] - y0 - share * dy)
