"""What an outline is, as far as its place among the marks tells: a wall, a door, a window."""

from __future__ import annotations

from typing import Literal

from shapely.geometry import Polygon

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.page.marks import Kind, Mark, Marks, Points
from dxf2veneer.propose import constants

Fit = Kind | Literal["part"]
"""What an outline may be: a mark, or a part of the wall beside it."""

SAME = 0.9
"""Two outlines whose common area is this share of their united area are one. Our own default."""
HELD = 0.5
"""An opening this much of which lies in a new opening gives way to it. Our own default."""
HAIR = 1e-6
"""What lies this near to another border, as a share of an outline's border, lies on it."""
_BESIDE = 0.3
"""What lies in no wall and has this share of its border in common with a larger one is a part of
it: a gable, a strip along its side. Our own default; the kind can be chosen."""
_LITTLE = 0.05
"""Two areas with less than this share of the smaller in common lie beside each other. Our own
default."""
_GARAGE_IN = constants.GARAGE_LEAST_M * 1000.0 / MM_PER_INCH
"""Least width of a garage door, as the proposal has it."""
_STANDS = 0.06
"""An opening whose sill lies this share of its height or less above the wall's base is taken to be
a door. Our own default; the kind can be changed."""
_MOSTLY = 0.6
"""An outline that takes up more than this share of a wall is a wall, not an opening of it. Our own
default; the kind can be chosen."""


def fitting_kind(marks: Marks, outline: Points) -> Fit:
    """What an outline most likely is: in a wall a window, or a door where it stands on the base;
    beside one a part of it.

    Args:
        marks: The walls there are.
        outline: Its corners.

    Returns:
        The kind.
    """
    area = Polygon(outline)
    wall = wall_round(marks, outline)
    if wall is None:
        shared = (border_shared(m.polygon, area) for m in marks.walls if _is_beside(m, area))
        return "part" if max(shared, default=0.0) >= _BESIDE * area.length else "wall"
    if area.area > _MOSTLY * wall.area:
        return "wall"
    left, sill, right, head = area.bounds
    if sill - wall.bounds[1] > _STANDS * (head - sill):
        return "window"
    inches = marks.unit.inches
    return "garage" if inches and (right - left) * inches >= _GARAGE_IN else "door"


def _is_beside(wall: Mark, area: Polygon) -> bool:
    """Whether an area may be a part of the wall beside it: the wall is larger, the two have next to
    nothing in common, and the area does not stand on it higher than the wall itself is, as a storey
    does on a plinth."""
    common = wall.polygon.intersection(area).area
    _, base, _, top = wall.polygon.bounds
    _, foot, _, head = area.bounds
    stands = foot >= top - _LITTLE * (top - base) and head - foot > top - base
    return bool(wall.polygon.area > area.area and common <= _LITTLE * area.area and not stands)


def border_shared(wall: Polygon, area: Polygon) -> float:
    """Length of an area's border that runs along or in a wall.

    Args:
        wall: The wall's area.
        area: The other area.

    Returns:
        The length in drawing units.
    """
    near = wall.buffer(HAIR * area.length, join_style="mitre")
    return float(area.exterior.intersection(near).length)


def kind_there(marks: Marks, outline: Points) -> Kind | None:
    """What an outline is marked as.

    Args:
        marks: The marks there are.
        outline: Its corners.

    Returns:
        The kind; None where no mark is the same area.
    """
    area = Polygon(outline)
    return next((m.kind for m in marks.marks if likeness(m.polygon, area) >= SAME), None)


def standing(marks: Marks, outline: Points) -> Points:
    """An outline taken down to the base of the wall it lies in, where it ends a little above it.

    Args:
        marks: The walls there are.
        outline: Its corners.

    Returns:
        The corners, those at its foot moved.
    """
    wall = wall_round(marks, outline)
    _, sill, _, head = Polygon(outline).bounds
    if wall is None or not 0.0 < sill - wall.bounds[1] <= _STANDS * (head - sill):
        return outline
    return tuple((x, wall.bounds[1] if y == sill else y) for x, y in outline)


def wall_round(marks: Marks, outline: Points) -> Polygon | None:
    """The smallest wall that holds most of an outline, and is not the same as it.

    Args:
        marks: The walls there are.
        outline: The outline's corners.

    Returns:
        Its area; None where there is none.
    """
    area = Polygon(outline)
    walls = [
        m.polygon
        for m in marks.walls
        if m.polygon.area > area.area
        and m.polygon.intersection(area).area > HELD * area.area
        and likeness(m.polygon, area) < SAME
    ]
    return min(walls, key=lambda w: w.area, default=None)


def likeness(a: Polygon, b: Polygon) -> float:
    """How alike two areas are.

    Args:
        a: One.
        b: The other.

    Returns:
        Their common area as a share of their united area, from 0 to 1.
    """
    both = a.union(b).area
    return float(a.intersection(b).area / both) if both else 0.0
