"""Texts of walls on the overlay: those with a fixed place first, the others where room is left.

         W1 North
         net 118.40 sq ft                       title above the wall
                           top: strip 4", up 4"
         +------------------------+
7'-4" 12 |      .---.             |      heights and numbers of courses left of it
...      |      |head: strip 6"   |      heads and sills off the course lines inside the opening
    4" 1 |      |W1-O2 window     |      openings named inside
         +------------------------+
         end 8'-0"   corner C1 outside   edges below their foot, then what found no room inside
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import shapely

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import (
    Conflict,
    Edge,
    Opening,
    OpeningQuantities,
    Takeoff,
    WallCount,
    WallTakeoff,
)
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.writers.overlay.layers import EDGE_LAYER, EntityTags, Key
from dxf2veneer.writers.overlay.marks import PlaceMark
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import (
    LINE_STEP,
    Align,
    Box,
    Line,
    Sheet,
    height_to_fit,
    overlap,
    width_of,
    within,
)
from dxf2veneer.writers.words import datum_of, off_course, strip_words

_TITLE = 1.25
"""Height of a wall's text at most, in that of the others."""

_FILL = 0.9
"""Share of an opening's width and height that its texts may take."""

_ADVICE_FILL = 0.96
"""Share of an opening's width that the text of a head or sill may take."""

_TRIES = 12
_COLUMN_TRIES = 2


class Lettering:
    """Writes the texts of the walls of one drawing."""

    def __init__(self, sizes: TextSizes, pen: Pen, sheet: Sheet) -> None:
        """Lettering of some sizes onto a sheet on which other texts stand already."""
        self._sizes = sizes
        self._display = sizes.display
        self._height = sizes.text
        self._pen = pen
        self._sheet = sheet
        self._listed: dict[str, list[tuple[Key, str, EntityTags]]] = {}
        """By wall what stands in the list under it."""

    def write(
        self, takeoff: Takeoff, walls: Sequence[WallTakeoff], marks: Sequence[PlaceMark]
    ) -> None:
        """All texts of the walls; ``marks`` will stand in openings too and are kept clear."""
        for wall in walls:
            self._numbers(wall, [w.wall.box for w in walls if w is not wall])
        boxes = [mark.box(self._height / 2) for mark in marks]
        counts = {count.wall: count for count in takeoff.plan.walls} if takeoff.plan else {}
        for wall in walls:
            for opening in wall.quantities.openings:
                self._opening(wall, opening, boxes)
        for wall in walls:
            self._title(wall, counts.get(wall.wall.id))
            others = [w.wall.box for w in walls if w is not wall]
            for edge in wall.wall.edges:
                self._edge(wall, edge, others)
        for wall in walls:
            self._off_course(wall)

    # ------------------------------------------------------------ courses

    def _numbers(self, wall: WallTakeoff, others: Sequence[Box]) -> None:
        """Numbers of the courses in their middle and heights of their lower lines, in columns
        beside the wall."""
        shown = wall.courses.courses[:: self._sizes.course_step]
        if not shown:
            return
        size, gap, top = self._sizes.in_course, self._height, wall.wall.box[3]
        numbers = [str(wall.courses.number(course.index)) for course in shown]
        heights = [length_text(course.y0 - datum_of(wall), self._display) for course in shown]
        wide, wider = (max(width_of(t, size) for t in texts) for texts in (numbers, heights))
        both = self._columns(wall.wall.box, wide + gap + wider, others)
        x, align = (
            both or self._columns(wall.wall.box, wide, others) or (wall.wall.box[0] + gap, "left")
        )
        for text, course in zip(numbers, shown, strict=True):
            line = Line(text, x, (course.y0 + min(course.y1, top)) / 2, size, align)
            self._course_text("number", line, "course number", wall, course.index)
        if both is None:
            return
        x += wide + gap if align == "left" else -wide - gap
        for text, course in zip(heights, shown, strict=True):
            self._course_text(
                "height", Line(text, x, course.y0, size, align), "course height", wall, course.index
            )

    def _course_text(
        self, layer: Key, line: Line, what: str, wall: WallTakeoff, course: int
    ) -> None:
        self._sheet.take(line.box)
        self._pen.text(layer, line, EntityTags(what, wall.wall.id, course=course))

    def _columns(
        self, wall: Box, width: float, others: Sequence[Box]
    ) -> tuple[float, Align] | None:
        """Place and alignment of columns of some width: left of the wall, further left, right of
        it, further right; None where other walls or texts stand everywhere."""
        x0, y0, x1, y1 = wall
        steps = [self._height + n * (self._height + width) for n in range(_COLUMN_TRIES)]
        left = ((x0 - step, x0 - step - width, "right") for step in steps)
        right = ((x1 + step, x1 + step, "left") for step in steps)
        for x, start, align in (*left, *right):
            if self._is_clear((start, y0, start + width, y1), others):
                return x, "right" if align == "right" else "left"
        return None

    def _is_clear(self, room: Box, others: Sequence[Box]) -> bool:
        return self._sheet.is_free(room) and not any(overlap(room, box) for box in others)

    # ----------------------------------------------------------- openings

    def _opening(
        self, wall: WallTakeoff, measured: OpeningQuantities, marks: Sequence[Box]
    ) -> None:
        """Id with kind, name and area inside the opening, as large as they fit, clear of marks."""
        opening = measured.opening
        area = area_text(square_feet(measured.area), self._display)
        texts = [
            f"{opening.id} {opening.kind}",
            opening.name,
            area,
            "" if measured.deducted else "not deducted",
        ]
        texts = [for_dxf(t) for t in texts if t]
        x0, y0, x1, y1 = _room(opening.box, marks)
        height = height_to_fit(
            texts, width=(x1 - x0) * _FILL, height=(y1 - y0) * _FILL, most=self._height
        )
        if height < self._sizes.least:
            self._small(wall, opening, texts)
            return
        first = (y0 + y1) / 2 + (len(texts) - 1) * LINE_STEP * height / 2
        block = [
            Line(text, (x0 + x1) / 2, first - n * LINE_STEP * height, height, "middle")
            for n, text in enumerate(texts)
        ]
        for line in self._sheet.place_block(block, step=-LINE_STEP * height):
            self._pen.text("label", line, EntityTags("opening text", wall.wall.id, opening.id))

    def _small(self, wall: WallTakeoff, opening: Opening, texts: Sequence[str]) -> None:
        """The id alone in an opening that has no room for more, or beside it; all else in a list
        under the wall."""
        size = self._sizes.least
        x0, y0, x1, y1 = opening.box
        tags = EntityTags("opening text", wall.wall.id, opening.id)
        short = opening.id.rpartition("-")[2]
        inside = Line(short, (x0 + x1) / 2, (y0 + y1) / 2, size, "middle")
        beside = Line(short, x1 + size / 2, (y0 + y1) / 2, size)
        has_room = within(inside.box, opening.box) and self._sheet.is_free(inside.box)
        line = inside if has_room else beside
        self._pen.text("label", self._sheet.place(line), tags)
        self._listed.setdefault(wall.wall.id, []).append(("label", "; ".join(texts), tags))

    # --------------------------------------------------------- off course

    def _off_course(self, wall: WallTakeoff) -> None:
        """Height of each strip and the shorter move that clears it: in the opening, above a top or
        cap, or in a list under the wall where that has no room."""
        openings = {o.id: o for o in wall.wall.openings}
        listed = self._listed.pop(wall.wall.id, [])
        for conflict in off_course(wall):
            text = strip_words(conflict, self._display)
            tags = EntityTags(
                f"{conflict.what} off course", wall.wall.id, conflict.opening, conflict.course
            )
            opening = openings.get(conflict.opening or "")
            block = (
                self._in_opening(text, conflict, opening)
                if opening
                else self._above(text, conflict)
            )
            if not block:
                listed.append(("off", for_dxf(f"{conflict.opening or wall.wall.id} {text}"), tags))
            for line in block:
                self._sheet.take(line.box)
                self._pen.text("off", line, tags)
        size, step = self._sizes.least, LINE_STEP * self._sizes.least
        x, y = wall.wall.box[0], wall.wall.box[1] - 2 * LINE_STEP * self._height
        placed = self._sheet.place_block(
            [Line(text, x, y - n * step, size) for n, (_, text, _) in enumerate(listed)], step=-step
        )
        for line, (layer, _, tags) in zip(placed, listed, strict=True):
            self._pen.text(layer, line, tags)

    def _in_opening(self, text: str, conflict: Conflict, opening: Opening) -> Sequence[Line]:
        """The text in one line, or in two where one is not legible."""
        x0, y0, x1, y1 = opening.box
        inside = opening.region.polygon
        for texts in ([text], text.split(", ")):
            height = height_to_fit(
                texts, width=(x1 - x0) * _ADVICE_FILL, height=(y1 - y0) / 3, most=self._height
            )
            step = LINE_STEP * height
            first, along = (
                (y1 - step, -step) if conflict.what == "head" else (y0 + len(texts) * step, step)
            )
            for n in range(_TRIES if height >= self._sizes.least else 0):
                block = [
                    Line(t, (x0 + x1) / 2, first + n * along - k * step, height, "middle")
                    for k, t in enumerate(texts)
                ]
                if all(
                    inside.contains(shapely.box(*t.box)) and self._sheet.is_free(t.box)
                    for t in block
                ):
                    return block
        return ()

    def _above(self, text: str, conflict: Conflict) -> Sequence[Line]:
        height = height_to_fit(
            [text], width=conflict.x1 - conflict.x0, height=math.inf, most=self._height
        )
        if height < self._sizes.least:
            return ()
        step = LINE_STEP * height
        lines = (
            Line(text, conflict.x1, conflict.y + (n + 1) * step, height, "right")
            for n in range(_TRIES)
        )
        return next(([t] for t in lines if self._sheet.is_free(t.box)), ())

    # -------------------------------------------------------------- walls

    def _title(self, entry: WallTakeoff, count: WallCount | None) -> None:
        """Id, name, areas and panels above the wall, no wider than the wall where that is
        legible."""
        wall, measured = entry.wall, entry.quantities
        areas = {
            "net": measured.net_area,
            "gross": measured.gross_area,
            "less openings": measured.deducted_area,
            "less trim": measured.trim_area,
            "less cap": measured.cap_area,
        }
        shown = {what: area for what, area in areas.items() if area or what == "net"}
        texts = [for_dxf(f"{wall.id} {wall.name}")]
        texts += [
            f"{what} {area_text(square_feet(area), self._display)}" for what, area in shown.items()
        ]
        if count:
            texts.append(f"panels {count.flat} flat, {count.corner} corner")
        x0, _, x1, y1 = wall.box
        fitting = height_to_fit(texts, width=x1 - x0, height=math.inf, most=self._height * _TITLE)
        height = max(fitting, self._sizes.least)
        block = [
            Line(text, x0, y1 + (1.25 + n) * LINE_STEP * height, height)
            for n, text in enumerate(reversed(texts))
        ]
        for line in self._sheet.place_block(
            block, step=LINE_STEP * height, gap=LINE_STEP * height / 2
        ):
            self._pen.text("label", line, EntityTags("wall text", wall.id))

    def _edge(self, wall: WallTakeoff, edge: Edge, others: Sequence[Box]) -> None:
        """Corner, kind and height of an edge below its foot; of a plain edge, which asks for
        nothing, only where neither texts nor another wall's pieces stand there."""
        corner = f"corner {edge.corner} " if edge.corner else ""
        text = for_dxf(f"{corner}{edge.kind} {length_text(edge.length, self._display)}")
        align: Align = edge.side
        inwards = self._height / 2 if edge.side == "left" else -self._height / 2
        line = Line(text, edge.x + inwards, edge.y0 - LINE_STEP * self._height, self._height, align)
        if edge.kind == "butt" and not self._is_clear(line.box, others):
            return
        if not self._sheet.is_free(line.box):
            line = replace(
                line, text=f"{wall.wall.id} {text}"
            )  # where it will stand it could be of the wall beside
        placed = self._sheet.place(line, step=-LINE_STEP * self._height)
        tags = EntityTags(f"{edge.side} edge", wall.wall.id, corner=edge.corner, source=edge.handle)
        self._pen.text(EDGE_LAYER[edge.kind], placed, tags)


def _room(box: Box, marks: Sequence[Box]) -> Box:
    """What of a box is left above or below the marks in it, whichever is higher."""
    x0, y0, x1, y1 = box
    for mark in marks:
        if overlap(mark, (x0, y0, x1, y1)):
            low, high = max((y0, mark[1]), (mark[3], y1), key=lambda span: span[1] - span[0])
            if high > low:
                y0, y1 = low, high
    return x0, y0, x1, y1
