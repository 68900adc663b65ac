"""Course lines and slivers of the walls, by the stages of a takeoff, for drawing over them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from dxf2veneer.app.parts import laid_out, with_walls_named
from dxf2veneer.app.proposing import in_views
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.product import load_product
from dxf2veneer.drawing import load_drawing
from dxf2veneer.model import Conflict, WallCourses, WallTakeoff
from dxf2veneer.page.marks import Marks
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import error_line
from dxf2veneer.wording.measures import length_text


def courses(path: Path, job: Job, marks: Marks) -> dict[str, Any]:
    """The courses of the walls as a takeoff lays them, without pieces.

    Args:
        path: The drawing.
        job: The settings, with the marks in them.
        marks: The marks.

    Returns:
        ``walls``: for each its number, course lines and slivers in drawing units; ``problem``: why
        there are none, empty where there are.
    """
    if not (marks.walls or job.layers.wall):
        return {"walls": [], "problem": "There is no wall yet"}
    plain = with_settings(job, plan__panels=False)
    try:
        product = load_product(job.product_path)
        drawing = load_drawing(path, in_views(plain, path), 0)
        found = recognise([drawing], plain)
        plain = with_walls_named(plain, found.walls, [drawing])
        laid = laid_out(found.walls, found.corners, plain, product)
    except TakeoffError as error:
        return {"walls": [], "problem": error_line(error, job.output.display)}
    per_inch = 1.0 / drawing.inches_per_unit
    return {"walls": [_wall(w, per_inch, job.output.display) for w in laid.walls], "problem": ""}


def _wall(wall: WallTakeoff, per_inch: float, display: str) -> dict[str, Any]:
    listed = wall.courses
    return {
        "id": wall.wall.id,
        "count": len(listed.courses),
        "lines": [[v * per_inch for v in (c.x0, c.y, c.x1, c.y)] for c in listed.lines],
        "starter": [[v * per_inch for v in (c.x0, c.y, c.x1, c.y)] for c in listed.starter_lines],
        "slivers": [_sliver(c, listed, per_inch, display) for c in listed.conflicts if c.sliver],
    }


def _sliver(
    conflict: Conflict, listed: WallCourses, per_inch: float, display: str
) -> dict[str, Any]:
    low, high = conflict.y - conflict.strip, conflict.y
    if conflict.what == "head":  # what is left of a course above a head
        low, high = conflict.y, conflict.y + conflict.strip
    where = f"{conflict.what} of {conflict.opening}" if conflict.opening else f"{conflict.what}"
    is_course = any(c.index == conflict.course for c in listed.courses)
    number = f", course {listed.number(conflict.course)}" if is_course else ""
    box = [v * per_inch for v in (conflict.x0, low, conflict.x1, high)]
    strip = length_text(conflict.strip, display)
    return {"box": box, "text": f"{listed.wall}: {strip} left at the {where}{number}"}
