"""Places that do not hold when edges are off on site, as overlay and picture mark them."""

from __future__ import annotations

from dxf2veneer.geometry import Point
from dxf2veneer.model import Fragile, Takeoff, WallTakeoff


def fragile_on(takeoff: Takeoff, wall: WallTakeoff) -> tuple[Fragile, ...]:
    """The places of a wall that do not hold with every edge off.

    Args:
        takeoff: The takeoff.
        wall: One of its walls.

    Returns:
        The places; none without a plan, or where the job allows for no errors.
    """
    found = takeoff.plan.tolerance if takeoff.plan else None
    return found.on(wall.wall.id) if found else ()


def fragile_mark(wall: WallTakeoff, place: Fragile) -> tuple[Point, Point, Point]:
    """A triangle that stands on the foot of the course at a place that does not hold.

    Args:
        wall: The wall.
        place: The place.

    Returns:
        Its corners in inches, the top last.
    """
    course = wall.courses.courses[place.course]
    size, x = _MARK * (course.y1 - course.y0), place.at[0]
    return (x - size / 2, course.y0), (x + size / 2, course.y0), (x, course.y0 + size)


_MARK = 0.16
"""Size of that triangle, in heights of a course."""
