"""What the overlay shows of a takeoff: outlines, courses, conflicts, the plan, texts last. In
inches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dxf2veneer.geometry import Path
from dxf2veneer.model import Conflict, Drawing, Edge, Takeoff, WallTakeoff
from dxf2veneer.writers.colors import color_marks
from dxf2veneer.writers.fragile import fragile_on
from dxf2veneer.writers.overlay.labels import label_pieces
from dxf2veneer.writers.overlay.layers import EDGE_LAYER, EntityTags
from dxf2veneer.writers.overlay.legend import draw_legend
from dxf2veneer.writers.overlay.lettering import Lettering
from dxf2veneer.writers.overlay.marks import draw_marks, marks_of
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.plan import draw_changes, draw_colors, draw_fragile, draw_plan
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import Box, Sheet

_USER_REACH = 2.0
"""How far around a text whose size is not known no other is put, in text heights."""

_POINTER = 0.6
"""Size of the mark at a head, sill, top or cap, in text heights."""


def draw(
    takeoff: Takeoff, drawing: Drawing, pen: Pen, *, taken: Sequence[Box], day: str
) -> Box | None:
    """Draw everything of one drawing.

    Outlines come first, so that the starter strip, caps and edges that lie on them are seen, and
    texts last, so that no line hides them. ``taken`` are boxes of the drawing's own texts, ``day``
    is what the title says of the date.

    Args:
        takeoff: The takeoff.
        drawing: The drawing.
        pen: Draws.
        taken: Boxes of the drawing's own texts.
        day: What the title says of the date.

    Returns:
        The box around its walls, legend and title in inches; None without walls.
    """
    walls = takeoff.walls_of(drawing.index)
    sizes = TextSizes.of(takeoff, drawing)
    for wall in walls:
        draw_wall(takeoff, wall, pen, size=_POINTER * sizes.text)
    reach = _USER_REACH * sizes.text
    around = [
        (x - reach, y - reach, x + reach, y + reach)
        for x, y in (label.at for label in drawing.labels)
    ]
    sheet = Sheet((*taken, *around))
    marks = marks_of(takeoff, drawing)
    Lettering(sizes, pen, sheet).write(takeoff, walls, marks)
    draw_marks(marks, pen, sizes, sheet, [o.box for w in walls for o in w.wall.openings])
    label_pieces(walls, takeoff, pen, sizes, sheet)
    return draw_legend(takeoff, drawing, pen, sizes, sheet, day=day) if walls else None


def draw_wall(takeoff: Takeoff, wall: WallTakeoff, pen: Pen, *, size: float) -> None:
    """Everything of one wall but its texts.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        pen: Draws.
        size: Size in inches of the mark at a head, sill, top or cap.
    """
    _outlines(wall, pen)
    _bands(wall, pen)
    _courses(wall, pen)
    draw_plan(wall, pen)
    draw_colors(wall, color_marks(takeoff), pen)
    draw_changes(wall, takeoff.changes, pen)
    draw_fragile(wall, fragile_on(takeoff, wall), pen)
    _slivers(wall, pen)
    _edges(wall, pen)
    _off_course(wall, pen, size=size)


def _joined(handles: Iterable[str]) -> str | None:
    return ",".join(handles) or None


def _courses(wall: WallTakeoff, pen: Pen) -> None:
    for line in wall.courses.lines:
        pen.line(
            "course",
            (line.x0, line.y),
            (line.x1, line.y),
            EntityTags("course line", wall.wall.id, course=line.index),
        )
    for line in wall.courses.starter_lines:
        pen.line(
            "starter",
            (line.x0, line.y),
            (line.x1, line.y),
            EntityTags("starter", wall.wall.id, course=line.index),
        )


def _bands(wall: WallTakeoff, pen: Pen) -> None:
    for path in wall.quantities.trim_region.paths:
        pen.path("trim", path, EntityTags("trim", wall.wall.id))
    for path in wall.quantities.cap_region.paths:
        pen.path("cap", path, EntityTags("cap", wall.wall.id))
    for mark in wall.wall.caps:
        pen.line(
            "cap",
            (mark.x0, mark.y),
            (mark.x1, mark.y),
            EntityTags("cap mark", wall.wall.id, source=mark.handle),
        )


def _slivers(wall: WallTakeoff, pen: Pen) -> None:
    for conflict in wall.courses.conflicts:
        box = strip_box(conflict)
        if conflict.sliver and box[0] < box[2] and box[1] < box[3]:
            pen.fill("sliver", box, _conflict_tags(f"sliver at {conflict.what}", wall, conflict))


def strip_box(conflict: Conflict) -> Box:
    """The strip of a conflict: above a head, below a sill, top or cap.

    Args:
        conflict: The head, sill, top or cap.

    Returns:
        The box in inches.
    """
    y = conflict.y
    y0, y1 = (y, y + conflict.strip) if conflict.what == "head" else (y - conflict.strip, y)
    return conflict.x0, y0, conflict.x1, y1


def _off_course(wall: WallTakeoff, pen: Pen, *, size: float) -> None:
    """A triangle at each head, sill, top and cap that no course line meets; its tip is at the
    veneer's edge."""
    for conflict in wall.courses.conflicts:
        if conflict.strip > 0.0:
            x, y = (conflict.x0 + conflict.x1) / 2, conflict.y
            back = y - size if conflict.what == "head" else y + size
            mark = Path.polygon([(x, y), (x - size / 2, back), (x + size / 2, back)])
            pen.path("off", mark, _conflict_tags(f"{conflict.what} off course", wall, conflict))


def _conflict_tags(what: str, wall: WallTakeoff, conflict: Conflict) -> EntityTags:
    return EntityTags(what, wall.wall.id, conflict.opening, conflict.course)


def _outlines(wall: WallTakeoff, pen: Pen) -> None:
    for path in wall.wall.region.paths:
        pen.path("wall", path, EntityTags("wall", wall.wall.id, source=_joined(wall.wall.handles)))
    for opening in wall.wall.openings:
        for path in opening.region.paths:
            tags = EntityTags(
                opening.kind, wall.wall.id, opening.id, source=_joined(opening.handles)
            )
            pen.path("opening", path, tags)


def _edges(wall: WallTakeoff, pen: Pen) -> None:
    for edge in wall.wall.edges:
        pen.line(EDGE_LAYER[edge.kind], (edge.x, edge.y0), (edge.x, edge.y1), edge_tags(wall, edge))


def edge_tags(wall: WallTakeoff, edge: Edge) -> EntityTags:
    """Tags of what belongs to a side edge.

    Args:
        wall: The wall.
        edge: The side edge.

    Returns:
        The tags.
    """
    return EntityTags(f"{edge.side} edge", wall.wall.id, corner=edge.corner, source=edge.handle)
