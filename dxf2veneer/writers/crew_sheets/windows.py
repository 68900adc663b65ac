"""Parts of a wall that fit a sheet at a scale at which every cut can be lettered."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.model import Piece, WallTakeoff
from dxf2veneer.writers.crew_sheets.labels import label_of

_SCALES = (48.0, 32.0, 24.0, 16.0, 12.0)
_METRIC_SCALES = (50.0, 25.0, 20.0, 10.0)
"""Usual scales from small to large, in feet and inches and metric. [common practice, no published
source]"""

_LETTERED = 0.95
"""Share of a wall's cuts that have their length on the piece, from which a scale is taken. Slivers
that even the last scale but one has no room for don't count, as they would take a sheet for every
few panels: they have their number in the list there."""


class Window(NamedTuple):
    """A part of a wall: its box in the drawing in inches, and which part it is."""

    x0: float
    y0: float
    x1: float
    y1: float
    number: int
    of: int

    def holds(self, piece: Piece) -> bool:
        """Whether the whole piece lies in it."""
        slack = 1e-6
        across = self.x0 - slack <= piece.x0 and piece.x1 <= self.x1 + slack
        return across and self.y0 - slack <= piece.y0 and piece.y1 <= self.y1 + slack

    def shows(self, piece: Piece) -> bool:
        """Whether a part of the piece lies in it."""
        across = piece.x1 > self.x0 and piece.x0 < self.x1
        return across and piece.y1 > self.y0 and piece.y0 < self.y1


def windows_of(
    wall: WallTakeoff,
    cut: Sequence[Piece],
    room: tuple[float, float],
    course: float,
    longest: float,
    display: str,
) -> tuple[float, tuple[Window, ...]]:
    """A scale at which cuts can be lettered, and the parts of a wall that fit a sheet at it.

    Of the scales at which the wall takes as few sheets the largest picture is taken. Parts side by
    side lap, so that each piece lies whole in one of them; parts one above the other meet at a
    course line.

    Args:
        wall: The wall with its courses.
        cut: Its pieces that are cut.
        room: Width and height of a sheet's room for the wall, in inches on paper.
        course: Height of a course in inches.
        longest: Length of the longest piece in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        How many times larger the building is than the sheet, and the parts from the bottom up and
        from left to right.
    """
    scales = _METRIC_SCALES if display == "metric" else _SCALES
    wide = [p for p in cut if label_of(p, 99, course, scales[-2], display)[1]]
    legible = [s for s in scales if _is_lettered(wide, course, s, display)]
    found = {s: _parts(wall, (room[0] * s, room[1] * s), course, longest) for s in legible}
    fewest = min(map(len, found.values()))
    scale = min(s for s, parts in found.items() if len(parts) == fewest)
    return scale, found[scale]


def _is_lettered(cut: Sequence[Piece], course: float, scale: float, display: str) -> bool:
    """Whether nearly all cuts have their length on the piece at a scale."""
    told = sum(label_of(p, 99, course, scale, display)[1] for p in cut)
    return told >= _LETTERED * len(cut)


def _parts(
    wall: WallTakeoff, room: tuple[float, float], course: float, lap: float
) -> tuple[Window, ...]:
    """The parts of a wall that fit a room, in inches of the building."""
    x0, base, x1, top = wall.wall.box
    wide, high = room
    columns = 1 if x1 - x0 <= wide else 1 + math.ceil((x1 - x0 - wide) / max(wide - lap, lap))
    width = min(wide, x1 - x0)
    step = (x1 - x0 - width) / (columns - 1) if columns > 1 else 0.0
    courses = wall.courses.courses
    in_one = max(1, math.floor(high / course))
    rows = max(1, math.ceil(len(courses) / in_one))
    each = math.ceil(len(courses) / rows) if courses else 0
    bands = []
    for row in range(rows):
        low = base if row == 0 else courses[row * each].y0
        is_last = row + 1 == rows
        bands.append((low, max(top, low) if is_last else courses[(row + 1) * each].y0))
    boxes = [
        (x0 + n * step, low, x0 + n * step + width, high)
        for low, high in bands
        for n in range(columns)
    ]
    return tuple(Window(*box, n, len(boxes)) for n, box in enumerate(boxes, 1))
