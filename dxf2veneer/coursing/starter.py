"""The height of the starter line."""

from __future__ import annotations

import math

from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.model import StarterFrom


def starter_height(
    base: float, level: float | None, height: float, clearance: float, shift: float
) -> tuple[float, StarterFrom]:
    """Height of the starter line, and whether the base or a level line gave it.

    Without a level line: base + clearance + shift. With one, course lines run through the level
    line, shifted, and the starter is the lowest of them not below base + clearance.

    Args:
        base: Lowest height of the wall's outline, in inches.
        level: Height of the wall's level line, None without one.
        height: Height of a course, in inches.
        clearance: Least height of the starter above the base, in inches.
        shift: Shift of all course lines, in inches, up or down.

    Returns:
        The height in the drawing's own coordinates, in inches, and its origin.
    """
    lowest = base + clearance
    if level is None:
        return lowest + shift, "base"
    through = level + shift
    steps = math.ceil((lowest - through - LINE_MEETS_IN) / height)
    return through + steps * height, "level"
