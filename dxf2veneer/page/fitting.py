"""What an outline is, as far as its place among the marks tells: a wall, a door, a window."""

from __future__ import annotations

from shapely.geometry import Polygon

from dxf2veneer.page.marks import Kind, Marks, Points

SAME = 0.9
"""Two outlines whose common area is this share of their united area are one. Our own default."""
HELD = 0.5
"""An opening this much of which lies in a new opening gives way to it. Our own default."""
_STANDS = 0.06
"""An opening whose sill lies this share of its height or less above the wall's base is taken to be
a door. Our own default; the kind can be changed."""
_MOSTLY = 0.6
"""An outline that takes up more than this share of a wall is a wall, not an opening of it. Our own
default; the kind can be chosen."""


def fitting_kind(marks: Marks, outline: Points) -> Kind:
    """What an outline most likely is: in a wall a window, or a door where it stands on the base.

    Args:
        marks: The walls there are.
        outline: Its corners.

    Returns:
        The kind.
    """
    wall = wall_round(marks, outline)
    if wall is None or Polygon(outline).area > _MOSTLY * wall.area:
        return "wall"
    _, sill, _, head = Polygon(outline).bounds
    return "door" if sill - wall.bounds[1] <= _STANDS * (head - sill) else "window"


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
