"""What the page is told of a place in the drawing, as plain data."""

from __future__ import annotations

from typing import Any

from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.page.edits import edited
from dxf2veneer.page.fitting import fitting_kind, kind_there
from dxf2veneer.page.marks import Marks, Point
from dxf2veneer.page.pointing import Ground
from dxf2veneer.page.state import size_text


def outlines_at(ground: Ground, marks: Marks, display: str, at: Point) -> list[dict[str, Any]]:
    """Outlines round a place.

    Args:
        ground: What lies under the pointer.
        marks: The marks there are.
        display: Units for the reader.
        at: The place in drawing units.

    Returns:
        Smallest first: points, size, what kind would fit, what it is.
    """
    return [
        {
            "points": [list(p) for p in outline],
            "size": size_text(outline, marks.unit.inches, display),
            "fits": kind_there(marks, outline) or fitting_kind(marks, outline),
            "is": kind_there(marks, outline),
        }
        for outline in ground.outlines_at(at)
    ]


def bound_at(
    ground: Ground, marks: Marks, display: str, at: Point, reach: float, how: str
) -> dict[str, Any] | None:
    """The line next to a place, and the walls as it would bound them.

    Args:
        ground: What lies under the pointer.
        marks: The marks there are.
        display: Units for the reader.
        at: The place in drawing units.
        reach: How far away the line may be.
        how: What is to become of the wall, see ``bounds``.

    Returns:
        The line, outlines and their sizes; None without a line or a wall.
    """
    line = ground.line_at(at, reach)
    if line is None:
        return None
    try:
        after = edited(marks, {"do": "bound", "line": line, "at": at, "how": how})
    except TakeoffError:
        return None
    made = [m.outline for m in after.walls if m not in marks.walls]
    return {
        "line": [list(p) for p in line],
        "outlines": [[list(p) for p in outline] for outline in made],
        "sizes": [size_text(outline, marks.unit.inches, display) for outline in made],
    }
