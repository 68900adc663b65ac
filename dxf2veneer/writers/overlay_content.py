"""What the overlay shows of a takeoff, and where its texts go. Everything in inches.

           W1 North
           net 118.40 sq ft                title above the wall
           +------------------------+
      C12  |      .---.             |      course numbers left of it
      ...  |      |W1-O2 window     |      openings named inside
       C1  |      '---'             |
           +------------------------+
           end 8'-0"   corner C1 outside   edges below their foot
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Conflict, Drawing, Edge, OpeningQuantities, Takeoff, WallQuantities, WallTakeoff
from dxf2veneer.notices import Notice
from dxf2veneer.units import area_text, length_text, square_feet
from dxf2veneer.writers.overlay_layers import EDGE_LAYER, Tags
from dxf2veneer.writers.overlay_pen import Pen
from dxf2veneer.writers.overlay_text import (
    LINE_STEP,
    Align,
    Box,
    Line,
    Sheet,
    height_to_fit,
    overlap,
    plain,
    width_of,
)

TEXT_SHARE = 0.4
"""Height of the overlay's texts, in course heights."""

_TITLE, _LEAST = 1.25, 0.75
"""Heights of a wall's text at most, and of a notice's, in those of the others."""

_GROUP_REACH = 4.0
"""Notices of one code nearer than this share a text, in text heights."""

_FILL = 0.9
"""Share of an opening's width and height that its texts may take."""


def draw(takeoff: Takeoff, drawing: Drawing, pen: Pen) -> None:
    """Draw everything of one drawing: outlines first, so that the starter strip, caps and edges that
    lie on them are seen, and texts last, so that no line hides them."""
    walls = takeoff.walls_of(drawing.index)
    notices = [n for n in takeoff.notices if n.drawing == drawing.index and _is_placed(n)]
    for wall in walls:
        _outlines(wall, pen)
        _courses(wall, pen)
        _bands(wall, pen)
        _slivers(wall, pen)
        _edges(wall, pen)
    _Lettering(takeoff, drawing, pen).write(walls, notices)


def _joined(handles: Iterable[str]) -> str | None:
    return ",".join(handles) or None


def _courses(wall: WallTakeoff, pen: Pen) -> None:
    for line in wall.courses.lines:
        pen.line("course", (line.x0, line.y), (line.x1, line.y), Tags("course line", wall.wall.id, course=line.index))
    for line in wall.courses.starter_lines:
        pen.line("starter", (line.x0, line.y), (line.x1, line.y), Tags("starter", wall.wall.id, course=line.index))


def _bands(wall: WallTakeoff, pen: Pen) -> None:
    for path in wall.quantities.trim_region.paths:
        pen.path("trim", path, Tags("trim", wall.wall.id))
    for path in wall.quantities.cap_region.paths:
        pen.path("cap", path, Tags("cap", wall.wall.id))
    for mark in wall.wall.caps:
        pen.line("cap", (mark.x0, mark.y), (mark.x1, mark.y), Tags("cap mark", wall.wall.id, source=mark.handle))


def _slivers(wall: WallTakeoff, pen: Pen) -> None:
    for conflict in wall.courses.conflicts:
        box = strip_box(conflict)
        if conflict.sliver and box[0] < box[2] and box[1] < box[3]:
            tags = Tags(f"sliver at {conflict.what}", wall.wall.id, conflict.opening, conflict.course)
            pen.fill("sliver", box, tags)


def strip_box(conflict: Conflict) -> Box:
    """The strip of a conflict: above a head, below a sill, top or cap."""
    y = conflict.y
    y0, y1 = (y, y + conflict.strip) if conflict.what == "head" else (y - conflict.strip, y)
    return conflict.x0, y0, conflict.x1, y1


def _outlines(wall: WallTakeoff, pen: Pen) -> None:
    for path in wall.wall.region.paths:
        pen.path("wall", path, Tags("wall", wall.wall.id, source=_joined(wall.wall.handles)))
    for opening in wall.wall.openings:
        for path in opening.region.paths:
            tags = Tags(opening.kind, wall.wall.id, opening.id, source=_joined(opening.handles))
            pen.path("opening", path, tags)


def _edges(wall: WallTakeoff, pen: Pen) -> None:
    for edge in wall.wall.edges:
        pen.line(EDGE_LAYER[edge.kind], (edge.x, edge.y0), (edge.x, edge.y1), _edge_tags(wall, edge))


def _edge_tags(wall: WallTakeoff, edge: Edge) -> Tags:
    return Tags(f"{edge.side} edge", wall.wall.id, corner=edge.corner, source=edge.handle)


def _is_placed(notice: Notice) -> bool:
    return notice.at_in is not None and all(map(math.isfinite, notice.at_in))


class _Lettering:
    """Writes the texts of one drawing, the fixed ones first, the movable ones where room is left."""

    def __init__(self, takeoff: Takeoff, drawing: Drawing, pen: Pen) -> None:
        self._display = takeoff.job.output.display
        self._height = TEXT_SHARE * takeoff.product.panel.height
        self._labels = [_around(label.at, 2 * self._height) for label in drawing.labels]
        self._pen = pen
        self._sheet = Sheet()

    def write(self, walls: Sequence[WallTakeoff], notices: Sequence[Notice]) -> None:
        for wall in walls:
            self._numbers(wall, [w.wall.box for w in walls if w is not wall])
        marks = [_around(_place(n), self._height / 2) for n in notices]
        for wall in walls:
            for opening in wall.quantities.openings:
                self._opening(wall.wall.id, opening, marks)
        for wall in walls:
            self._title(wall.quantities)
            for edge in wall.wall.edges:
                self._edge(wall, edge)
        for group in _groups(notices, reach=_GROUP_REACH * self._height):
            self._notices(group)

    def _numbers(self, wall: WallTakeoff, others: Sequence[Box]) -> None:
        """Course numbers in a column left of the wall, or inside where something else stands there."""
        if not wall.courses.courses:
            return
        texts = [str(course.index + 1) for course in wall.courses.courses]
        top = wall.wall.box[3]
        x, align = self._column(wall.wall.box, max(width_of(t, self._height) for t in texts), others)
        for text, course in zip(texts, wall.courses.courses, strict=True):
            line = Line(text, x, (course.y0 + min(course.y1, top)) / 2, self._height, align)
            self._sheet.taken.append(line.box)
            self._pen.text("number", line, Tags("course number", wall.wall.id, course=course.index))

    def _column(self, wall: Box, width: float, others: Sequence[Box]) -> tuple[float, Align]:
        """Where the course numbers stand: x and alignment."""
        x0, y0, _, y1 = wall
        gap = self._height
        for right in (x0 - gap, x0 - 2 * gap - width, x0 - 3 * gap - 2 * width):
            room = (right - width, y0, right, y1)
            if self._sheet.is_free(room) and not any(overlap(room, box) for box in (*others, *self._labels)):
                return right, "right"
        return x0 + gap, "left"

    def _opening(self, wall: str, measured: OpeningQuantities, marks: Sequence[Box]) -> None:
        """Id with kind, name and area inside the opening, as large as they fit, clear of notice marks."""
        opening = measured.opening
        area = area_text(square_feet(measured.area), self._display)
        texts = [f"{opening.id} {opening.kind}", opening.name, area, "" if measured.deducted else "not deducted"]
        texts = [plain(t) for t in texts if t]
        x0, y0, x1, y1 = _room(opening.box, marks)
        height = height_to_fit(texts, width=(x1 - x0) * _FILL, height=(y1 - y0) * _FILL, most=self._height)
        first = (y0 + y1) / 2 + (len(texts) - 1) * LINE_STEP * height / 2
        for n, text in enumerate(texts):
            line = Line(text, (x0 + x1) / 2, first - n * LINE_STEP * height, height, "middle")
            placed = self._sheet.place(line, step=-LINE_STEP * height)
            self._pen.text("label", placed, Tags("opening text", wall, opening.id))

    def _title(self, measured: WallQuantities) -> None:
        """Id, name and areas above the wall, no wider than the wall where that is legible."""
        wall = measured.wall
        areas = {
            "net": measured.net_area,
            "gross": measured.gross_area,
            "less openings": measured.deducted_area,
            "less trim": measured.trim_area,
            "less cap": measured.cap_area,
        }
        shown = {what: area for what, area in areas.items() if area or what == "net"}
        texts = [plain(f"{wall.id} {wall.name}")]
        texts += [f"{what} {area_text(square_feet(area), self._display)}" for what, area in shown.items()]
        x0, _, x1, y1 = wall.box
        fitting = height_to_fit(texts, width=x1 - x0, height=math.inf, most=self._height * _TITLE)
        height = max(fitting, self._height * _LEAST)
        for n, text in enumerate(reversed(texts)):
            line = self._sheet.place(Line(text, x0, y1 + (1.25 + n) * LINE_STEP * height, height))
            self._pen.text("label", line, Tags("wall text", wall.id))

    def _edge(self, wall: WallTakeoff, edge: Edge) -> None:
        """Corner, kind and height of an edge below its foot."""
        corner = f"corner {edge.corner} " if edge.corner else ""
        text = plain(f"{corner}{edge.kind} {length_text(edge.length, self._display)}")
        inwards = self._height / 2 if edge.side == "left" else -self._height / 2
        line = Line(text, edge.x + inwards, edge.y0 - LINE_STEP * self._height, self._height, edge.side)
        placed = self._sheet.place(line, step=-LINE_STEP * self._height)
        self._pen.text(EDGE_LAYER[edge.kind], placed, _edge_tags(wall, edge))

    def _notices(self, group: Sequence[Notice]) -> None:
        """A diamond at each place and one text for the group: level, code and how many; a line leads
        to the text where it had to move."""
        for notice in group:
            self._pen.path("notice", self._diamond(notice), _notice_tags(notice))
        first = group[0]
        x, y = _place(first)
        count = f" x {len(group)}" if len(group) > 1 else ""
        text = f"{first.level.upper()} {first.code}{count}"
        right = max(_place(notice)[0] for notice in group) + self._height
        line = self._sheet.place(Line(text, right, y, self._height * _LEAST))
        if line.y != y:
            self._pen.line("notice", (x, y), (line.x, line.y), _notice_tags(first))
        self._pen.text("notice", line, _notice_tags(first))

    def _diamond(self, notice: Notice) -> Path:
        (x, y), half = _place(notice), self._height / 2
        return Path.polygon([(x - half, y), (x, y - half), (x + half, y), (x, y + half)])


def _room(box: Box, marks: Iterable[Box]) -> Box:
    """What of a box is left above or below the marks in it, whichever is higher."""
    x0, y0, x1, y1 = box
    for mark in marks:
        if overlap(mark, (x0, y0, x1, y1)):
            low, high = max((y0, mark[1]), (mark[3], y1), key=lambda span: span[1] - span[0])
            if high > low:
                y0, y1 = low, high
    return x0, y0, x1, y1


def _around(point: Point, reach: float) -> Box:
    return point[0] - reach, point[1] - reach, point[0] + reach, point[1] + reach


def _place(notice: Notice) -> Point:
    return notice.at_in or (0.0, 0.0)


def _notice_tags(notice: Notice) -> Tags:
    return Tags("notice", notice=notice.code, source=notice.handle)


def _groups(notices: Iterable[Notice], *, reach: float) -> list[list[Notice]]:
    """Notices of one code within ``reach`` of a group's first one, together."""
    groups: list[list[Notice]] = []
    for notice in notices:
        near = (g for g in groups if g[0].code == notice.code and math.dist(_place(g[0]), _place(notice)) <= reach)
        group = next(near, None)
        if group is None:
            groups.append([notice])
        else:
            group.append(notice)
    return groups
