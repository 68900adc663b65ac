"""Courses that are laid already, as a file of site measures states them."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.config.site_file import WallMeasures
from dxf2veneer.model import LaidCourse, Wall
from dxf2veneer.site.slips import Sizes, slip


def laid_courses(wall: Wall, own: WallMeasures, sizes: Sizes, below: int) -> Iterator[LaidCourse]:
    """The courses of a wall that are laid already.

    Args:
        wall: The wall as measured.
        own: What the sheet says of it.
        sizes: Names the sheet.
        below: Courses under its first one, of walls whose courses count with its own.

    Yields:
        Them from the bottom up.

    Raises:
        SettingsError: Joints of a course that is not laid, of one course twice, or out of order.
    """
    real: dict[int, tuple[float, ...]] = {}
    for one in own.joints:
        if one.at is None:
            continue
        if not below < one.course <= below + own.laid:
            above = message("site-joints-not-laid", wall=wall.id, course=one.course, laid=own.laid)
            raise slip(sizes.sheet, wall.id, "joints", above)
        if one.course in real:
            twice = message("site-joints-twice", wall=wall.id, course=one.course)
            raise slip(sizes.sheet, wall.id, "joints", twice)
        real[one.course] = _in_order(wall, one.course, one.at, own.fixed, sizes)
    origin, joints = (sizes.sheet.file.origin(wall.id, key) for key in ("laid", "joints"))
    for course in range(own.laid):
        at = real.get(below + course + 1)
        yield LaidCourse(wall.id, course, at, origin if at is None else joints)


def _in_order(
    wall: Wall, course: int, at: tuple[float, ...], fixed: str, sizes: Sizes
) -> tuple[float, ...]:
    """The joints' x from left to right."""
    x0, _, x1, _ = wall.box
    if list(at) != sorted(set(at)) or at[0] <= 0.0 or at[-1] >= x1 - x0:
        order = message("site-joints-order", wall=wall.id, course=course, width=Length(x1 - x0))
        raise slip(sizes.sheet, wall.id, "joints", order)
    return tuple(x0 + x for x in at) if fixed == "left" else tuple(x1 - x for x in at[::-1])
