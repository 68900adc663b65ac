"""What pointing at an outline makes of the walls and openings: each as a function of the marks.

+--------+-----+     an outline made a wall takes the place of what was nearly the same, takes
| W1     | new |     its own from a wall that it lies in, and leaves out the small wing that
|        |     |     stands before it. An outline that is nothing is cut off
+--------+-----+
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.page.fitting import HAIR, HELD, SAME, border_shared, likeness, standing
from dxf2veneer.page.marks import Kind, Mark, Marks, Points, corners_of

_REPLACES = 0.4
"""A wall as like to a new one as this was meant to be the new one. Our own default."""
_INSIDE = 0.9
"""A wall this much of which lies in a new one lies in it. Our own default."""
_WING = 0.3
"""A wall smaller than this share of a new one that holds it stands before it. Our own default."""
_REST = 0.25
"""What a new wall leaves over of one that it lies in stays a wall where it is this share of it.
Our own default."""


class ShapeError(TakeoffError):
    """An outline can't become that."""


def made(marks: Marks, kind: Kind, outline: Points) -> Marks:
    """An outline made a wall or an opening.

    A mark that is the same area becomes the new kind; openings inside a new opening give way to it.
    A door whose leaf ends a little above the wall's base is taken down to it.

    Args:
        marks: The marks before.
        kind: What it is.
        outline: Its corners.

    Returns:
        The marks after.
    """
    if kind in ("door", "garage"):
        outline = standing(marks, outline)
    area = Polygon(outline)
    same = [m for m in marks.marks if likeness(m.polygon, area) >= SAME]
    rest = [m for m in marks.marks if m not in same]
    name = next((m.name for m in same if m.name), "")
    if kind == "wall":
        return _with_wall(marks, marks.having(rest), name, area)
    rest = [m for m in rest if m.kind == "wall" or _common(m, area) < HELD * m.polygon.area]
    return marks.having([*rest, Mark(marks.next_id, kind, "", outline)])


def _with_wall(before: Marks, marks: Marks, name: str, area: Polygon) -> Marks:
    """A new wall among others: these are replaced, parted, or stand before it."""
    kept: list[Mark] = []
    for mark in marks.marks:
        common = 0.0 if mark.kind != "wall" else _common(mark, area)
        if common <= HAIR * area.area:
            kept.append(mark)
        elif common >= _INSIDE * mark.polygon.area:
            if mark.polygon.area < _WING * area.area:
                kept.append(mark)
                area = max(_polygons(area.difference(mark.polygon)), key=_size, default=area)
            else:
                name = name or mark.name
        elif likeness(mark.polygon, area) >= _REPLACES and (
            mark.polygon.area - common < _REST * mark.polygon.area
        ):
            name = name or mark.name
        else:
            left = mark.polygon.difference(area)
            has_hole = any(part.interiors for part in _polygons(left))
            kept.append(mark if has_hole else _with_outline(mark, _whole(left)))
    new = Mark(before.next_id, "wall", name, corners_of(area.exterior.coords))
    return without_strays(before, marks.having([*kept, new]))


def cleared(marks: Marks, outline: Points) -> Marks:
    """An area made nothing: a mark that is this area, or an opening that holds most of it, is taken
    out. Where there is none, the area is cut off the walls that it lies in, with its openings.

    Args:
        marks: The marks before.
        outline: The area's corners.

    Returns:
        The marks after.

    Raises:
        ShapeError: A wall would have a hole.
    """
    area = Polygon(outline)
    gone = [m for m in marks.marks if likeness(m.polygon, area) >= SAME] or [
        m for m in marks.openings if _common(m, area) >= HELD * area.area
    ]
    if gone:
        return without_strays(marks, marks.having(m for m in marks.marks if m not in gone))
    held = [m for m in marks.openings if _common(m, area) >= HELD * m.polygon.area]
    if sum(m.polygon.area for m in held) >= HELD * area.area:
        return marks.having(m for m in marks.marks if m not in held)
    for wall in marks.walls:
        if _common(wall, area) > HAIR * area.area:
            marks = reshaped(marks, wall, wall.polygon.difference(area))
    return marks.having(m for m in marks.marks if m not in held)


def joined(marks: Marks, outline: Points) -> Marks:
    """An area made part of the wall with which it has the longest stretch of border in common. An
    area that lies in a wall goes from it to the next.

    Args:
        marks: The walls there are.
        outline: Corners of the area, counter-clockwise.

    Returns:
        The marks with the grown wall.

    Raises:
        ShapeError: No wall lies beside it, or the two enclose a hole.
    """
    area = Polygon(outline)
    beside = [
        (border_shared(m.polygon, area), m.id)
        for m in marks.walls
        if _common(m, area) < _INSIDE * area.area
    ]
    length, wall = max(beside, default=(0.0, 0))
    if length <= 0.0:
        raise ShapeError(message("page-no-wall-beside"))
    held = marks.by_id(wall)
    for other in marks.walls:  # what stands before the area stays
        if other != held and _common(other, area) >= _INSIDE * other.polygon.area:
            area = area.difference(other.polygon)
    # a hair between the two, or over one another, is none
    hair = HAIR * area.length
    both = held.polygon.buffer(hair, join_style="mitre").union(
        area.buffer(hair, join_style="mitre")
    )
    return reshaped(marks, held, both.buffer(-hair, join_style="mitre"))


def reshaped(marks: Marks, wall: Mark, shape: BaseGeometry) -> Marks:
    """A wall with another outline: the largest part of a shape. Other walls give way to it.

    Args:
        marks: The marks before.
        wall: The wall.
        shape: What it is to cover.

    Returns:
        The marks after.

    Raises:
        ShapeError: Nothing is left of it or of another, or one would have a hole.
    """
    new = _with_outline(wall, _whole(shape))
    grown = new.polygon.difference(wall.polygon)
    return without_strays(marks, marks.having(_beside(m, new, grown) for m in marks.marks))


def _beside(mark: Mark, new: Mark, grown: BaseGeometry) -> Mark:
    """A mark beside a wall that has grown; that wall itself as it is new."""
    if mark.id == new.id:
        return new
    if mark.kind != "wall" or _common(mark, grown) <= HAIR * new.polygon.area:
        return mark
    return _with_outline(mark, _whole(mark.polygon.difference(grown)))


def _whole(shape: BaseGeometry) -> Polygon:
    """The largest part of a shape. Raises ShapeError where it has a hole, or there is none."""
    hair = HAIR * shape.length
    slim = shape.buffer(-hair, join_style="mitre").buffer(hair, join_style="mitre")  # no spikes
    largest = max(_polygons(slim), key=_size, default=None)
    if largest is None or largest.interiors:
        raise ShapeError(message("page-wall-with-hole"))
    return largest


def parted(marks: Marks, wall: Mark, parts: Iterable[Polygon]) -> Marks:
    """A wall made several: the first part keeps its name.

    Args:
        marks: The marks before.
        wall: The wall.
        parts: What becomes of it.

    Returns:
        The marks after.
    """
    new: list[Mark] = []
    for part in parts:
        mark = _with_outline(wall, part)
        new.append(dataclasses.replace(mark, id=marks.next_id + len(new), name="") if new else mark)
    rest = [m for m in marks.marks if m.id != wall.id]
    return without_strays(marks, marks.having([*rest, *new]))


def _with_outline(mark: Mark, area: Polygon) -> Mark:
    """A mark with another outline, of which a proposal says nothing. Raises ShapeError."""
    outline = corners_of(area.exterior.coords)
    if not outline:
        raise ShapeError(message("page-outline-encloses-nothing"))
    return dataclasses.replace(mark, outline=outline, note="", sure=None)


def without_strays(before: Marks, after: Marks) -> Marks:
    """Marks without the openings that lay in a wall before and lie in none now.

    Args:
        before: The marks before a change.
        after: The marks after it.

    Returns:
        The marks that stay.
    """

    def lies(opening: Mark, marks: Marks) -> bool:
        at = opening.polygon.representative_point()
        return any(w.polygon.covers(at) for w in marks.walls)

    return after.having(
        m for m in after.marks if m.kind == "wall" or lies(m, after) or not lies(m, before)
    )


def _common(mark: Mark, area: BaseGeometry) -> float:
    return float(mark.polygon.intersection(area).area)


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [p for p in parts if isinstance(p, Polygon) and not p.is_empty]


def _size(area: Polygon) -> float:
    return float(area.area)
