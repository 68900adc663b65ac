"""A strip of walls with its pieces: courses run through, corners are named."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.geometry.boundary import level_stretches
from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.colors import color_marks
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.elevation.pieces import tint_of
from dxf2veneer.writers.markup import Markup, tag
from dxf2veneer.writers.unfolded.strips import Placed
from dxf2veneer.writers.words import EDGE_WORDS, datum_of


def coursed(takeoff: Takeoff, placed: Placed, ground: Canvas) -> Iterator[Markup]:
    """One wall of a strip.

    Args:
        takeoff: The takeoff.
        placed: The wall.
        ground: Places of its drawing in the picture.

    Returns:
        The drawing, from the back to the front.
    """
    entry, course = placed.entry, takeoff.product.panel.height
    marks = color_marks(takeoff)
    yield tag("path", {"class": "veneer", "d": ground.region(entry.wall.region)})
    shapes = [
        tag("path", {"class": f"p {tint_of(p, marks)}", "d": ground.piece(p)})
        for p in entry.courses.pieces
    ]
    yield tag("g", {"stroke-width": 0.025 * course, "fill-rule": "evenodd"}, *shapes)
    if not shapes:
        lines = "".join(ground.line(c.x0, c.y, c.x1, c.y) for c in entry.courses.lines)
        yield tag("path", {"class": "course", "d": lines, "stroke-width": 0.04 * course})
    openings = "".join(ground.region(o.region) for o in entry.wall.openings)
    yield tag("path", {"class": "opening", "d": openings, "stroke-width": 0.06 * course})
    outline = ground.region(entry.wall.region)
    yield tag("path", {"class": "wall", "d": outline, "stroke-width": 0.12 * course})
    yield from _numbers(takeoff, placed, ground)
    yield from _edges(takeoff, placed, ground)


def _numbers(takeoff: Takeoff, placed: Placed, ground: Canvas) -> Iterator[Markup]:
    """Course numbers just inside the left edge, with the height of every fifth line."""
    entry, display = placed.entry, takeoff.job.output.display
    size = 0.42 * takeoff.product.panel.height
    for course in entry.courses.courses:
        high = min(course.y1, entry.wall.box[3])
        begins = begins_at(placed.entry, (course.y0 + high) / 2, size)
        if high - course.y0 < size or begins is None:
            continue
        x = ground.x(begins) + 0.3 * size
        y = ground.y((course.y0 + high) / 2) + 0.36 * size
        told = entry.courses.number(course.index)
        words = str(told)
        if told % 5 == 1:
            words += f"  {length_text(course.y0 - datum_of(entry), display)}"
        halo: dict[str, str | float | None] = {
            "stroke": "#ffffff",
            "stroke-width": 0.25 * size,
            "paint-order": "stroke",
        }
        about: dict[str, str | float | None] = {"x": x, "y": y, "font-size": size, **halo}
        yield tag("text", {**about, "font-weight": "700"}, words)


def begins_at(entry: WallTakeoff, y: float, size: float) -> float | None:
    """Where a wall begins at a height, clear of a rake.

    Args:
        entry: The wall.
        y: The height in the drawing, in inches.
        size: How high what stands there is, in inches.

    Returns:
        x in inches; None where the wall has no veneer there.
    """
    veneer = entry.quantities.veneer
    rows = [level_stretches(veneer, y + dy * size) for dy in (-0.5, 0.5)]
    return max(row[0][0] for row in rows) if all(rows) else None


def _edges(takeoff: Takeoff, placed: Placed, ground: Canvas) -> Iterator[Markup]:
    """The corner at the left edge: what it is and its id, above it."""
    course = takeoff.product.panel.height
    for edge in placed.entry.wall.edges:
        line = ground.line(edge.x, edge.y0, edge.x, edge.y1)
        about: dict[str, str | float | None] = {"class": f"edge {edge.kind}", "d": line}
        yield tag("path", {**about, "stroke-width": 0.3 * course})
        if placed.corner and edge.corner == placed.corner and edge.side == "left":
            place: dict[str, str | float | None] = {
                "x": ground.x(edge.x),
                "y": ground.y(edge.y1) - 0.5 * course,
                "font-size": 0.6 * course,
                "text-anchor": "middle",
                "font-weight": "700",
            }
            yield tag("text", place, f"{EDGE_WORDS[edge.kind]} {edge.corner}")
