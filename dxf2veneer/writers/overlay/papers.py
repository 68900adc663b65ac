"""Drawings of our own for the crew: all walls at full size, unfolded round their corners, and crew
sheets as layouts that look at them.

model space                                 layout W1
  W1 |   W2   | W3      full size     +-----------------------+
 ----+--------+----                   | W1  1:24              |
  W4 |   W5   |                       | [window]    cut list  |
                                      +-----------------------+
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new

from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.writers.overlay.content import draw_wall
from dxf2veneer.writers.overlay.crew import draw_sheets
from dxf2veneer.writers.overlay.layers import EntityTags, layer_names
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.saving import check_names, same_bytes_always, save
from dxf2veneer.writers.texts import LINE_STEP, Line
from dxf2veneer.writers.unfolded.courses import begins_at
from dxf2veneer.writers.unfolded.strips import Placed, stacked
from dxf2veneer.writers.words import EDGE_WORDS, wall_title

_VERSION = "R2010"
_NUMBER, _NAME, _GAP = 0.42, 0.6, 6.0
"""Heights of course numbers and names, and distance of strips, in heights of a course."""


def write_crew_drawing(takeoff: Takeoff, path: Path) -> None:
    """Write the crew sheets as a drawing: a layout for each sheet, whole or not at all.

    Args:
        takeoff: The takeoff, with a course plan.
        path: The file to write.

    Raises:
        OverlayError: The prefix of layer names is too long.
        OSError: It can't be written.
    """
    doc, pen = _blank(takeoff, path)
    places = {p.entry.wall.id: p for p in _walls(takeoff, pen)}
    draw_sheets(takeoff, doc, pen, places)
    _save(doc, pen, path)


def write_unfolded_drawing(takeoff: Takeoff, path: Path) -> None:
    """Write all walls at full size, those that meet side by side, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write.

    Raises:
        OverlayError: The prefix of layer names is too long.
        OSError: It can't be written.
    """
    doc, pen = _blank(takeoff, path)
    for placed in _walls(takeoff, pen):
        with pen.moved(placed.dx, placed.dy):
            _number(takeoff, placed, pen)
    _save(doc, pen, path)


def _blank(takeoff: Takeoff, path: Path) -> tuple[Document, Pen]:
    """An empty drawing in the reader's unit, and a pen for it."""
    unit = unit_by_name("mm" if takeoff.job.output.display == "metric" else "in")
    with same_bytes_always():
        doc = new(_VERSION)
    doc.header["$INSUNITS"] = unit.code
    doc.header["$MEASUREMENT"] = int(unit.name == "mm")
    prefix = takeoff.job.output.layer_prefix
    check_names(doc, path, prefix, layer_names(prefix).values())
    pen = Pen(
        doc,
        prefix=prefix,
        inches_per_unit=float(unit.inches),
        course_in=min(p.panel.height for p in takeoff.products),
        with_source=False,
    )
    return doc, pen


def _walls(takeoff: Takeoff, pen: Pen) -> Iterator[Placed]:
    """Draws all walls at full size; where each stands."""
    course = takeoff.product.panel.height
    for placed in stacked(takeoff, _GAP * course):
        with pen.moved(placed.dx, placed.dy):
            draw_wall(takeoff, placed.entry, pen, size=_NUMBER * course)
            _name(takeoff, placed, pen)
        yield placed


def _name(takeoff: Takeoff, placed: Placed, pen: Pen) -> None:
    """The wall's id and name under it, and over its left edge the corner round which it stands."""
    wall, course = placed.entry.wall, takeoff.product.panel.height
    size = _NAME * course
    x0, y0, x1, _ = wall.box
    tags = EntityTags("wall text", wall.id)
    under = Line(wall_title(placed.entry), (x0 + x1) / 2, y0 - LINE_STEP * size, size, "middle")
    pen.text("label", under, tags)
    for edge in wall.edges:
        if placed.corner and edge.corner == placed.corner and edge.side == "left":
            words = f"{EDGE_WORDS[edge.kind]} {edge.corner}"
            pen.text("label", Line(words, edge.x, edge.y1 + size, size, "middle"), tags)


def _number(takeoff: Takeoff, placed: Placed, pen: Pen) -> None:
    """Course numbers inside the left edge, clear of the mark of a corner piece's hand."""
    courses = placed.entry.courses
    size = _NUMBER * takeoff.product_of(courses.wall).panel.height
    top = placed.entry.wall.box[3]
    for course in courses.courses:
        high = min(course.y1, top)
        middle = (course.y0 + high) / 2
        left = begins_at(placed.entry, middle, size)
        if left is not None and high - course.y0 >= size:
            at = Line(str(courses.number(course.index)), left + size, middle, size)
            pen.text("number", at, EntityTags("course number", courses.wall, course=course.index))


def _save(doc: Document, pen: Pen, path: Path) -> None:
    pen.seal(BLANK_SEAL)
    with same_bytes_always():
        write_whole(path, lambda part: save(doc, part))
