"""Texts of the overlay, placed so that they do not cover each other.

box of a text, anchored in the middle of its left side, its middle or its right side

    x-------------+     +------x------+     +-------------x
    left                middle              right
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Box = tuple[float, float, float, float]
Align = Literal["left", "middle", "right"]

LETTER_WIDTH = 0.95
"""Width of a letter with its space, in text heights; wider than most fonts draw it."""

LINE_STEP = 1.6
"""Distance of lines of text, in text heights."""

_LEADING = 0.3
"""Least distance of a text that was moved from those above and below it, in text heights."""

_MOST_STEPS = 60


@dataclass(frozen=True)
class Line:
    """One line of text at its anchor; lengths in inches."""

    text: str
    x: float
    y: float
    height: float
    align: Align = "left"
    narrow: float = 1.0
    """Width of the letters in that of a text's font."""

    @property
    def box(self) -> Box:
        """What the text covers."""
        width = width_of(self.text, self.height) * self.narrow
        x0 = self.x - {"left": 0.0, "middle": width / 2, "right": width}[self.align]
        return x0, self.y - self.height / 2, x0 + width, self.y + self.height / 2


def width_of(text: str, height: float) -> float:
    """Width that a text of a height needs.

    Args:
        text: The text.
        height: Its height.

    Returns:
        The width, in the unit of the height.
    """
    return len(text) * LETTER_WIDTH * height


def height_to_fit(lines: Iterable[str], *, width: float, height: float, most: float) -> float:
    """The greatest text height, up to ``most``, at which the lines lie within width x height.

    Args:
        lines: The lines of text.
        width: The width they must lie in.
        height: The height they must lie in.
        most: The greatest height in inches.

    Returns:
        The height.
    """
    listed = list(lines)
    longest = max(len(line) for line in listed)
    return min(most, width / (longest * LETTER_WIDTH), height / (len(listed) * LINE_STEP))


def overlap(a: Box, b: Box) -> bool:
    """Whether two boxes have ground in common.

    Args:
        a: A box: least x and y, greatest x and y.
        b: Another box.

    Returns:
        True where they overlap.
    """
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def within(a: Box, b: Box) -> bool:
    """Whether box a lies in box b.

    Args:
        a: A box: least x and y, greatest x and y.
        b: Another box.

    Returns:
        True where it does.
    """
    return a[0] >= b[0] and a[1] >= b[1] and a[2] <= b[2] and a[3] <= b[3]


_CELL = 24.0
"""Size in inches of the cells by which a sheet finds what lies near."""
_MOST_CELLS = 10_000


class Sheet:
    """The ground that texts have taken so far, in cells so that a crowded sheet stays quick."""

    def __init__(self, taken: Iterable[Box] = ()) -> None:
        """A sheet on which some boxes are taken."""
        self._cells: dict[tuple[int, int], list[Box]] = {}
        self._vast: list[Box] = []
        for box in taken:
            self.take(box)

    def take(self, box: Box) -> None:
        """Keep others off a box."""
        if _is_vast(box):
            self._vast.append(box)
            return
        for cell in _cells_of(box):
            self._cells.setdefault(cell, []).append(box)

    def place(self, line: Line, *, step: float | None = None) -> Line:
        """The line where it hides no other: moved by steps (one line of text upwards, where not
        given; a negative step goes down) until it is free."""
        return self.place_block([line], step=LINE_STEP * line.height if step is None else step)[0]

    def place_block(self, lines: Sequence[Line], *, step: float, gap: float = 0.0) -> list[Line]:
        """Lines that belong together, moved as one by steps until none of them hides another text
        or stands nearer than ``gap`` above or below one."""
        tries = ([replace(line, y=line.y + n * step) for line in lines] for n in range(_MOST_STEPS))
        found = next(
            (block for block in tries if all(self.is_free(_apart(line, gap)) for line in block)),
            list(lines),
        )
        for line in found:
            self.take(line.box)
        return found

    def is_free(self, box: Box) -> bool:
        """Whether a box covers nothing that is taken."""
        return not any(overlap(box, other) for other in self._near(box))

    def free_below(self, box: Box, *, gap: float, reach: float) -> Box:
        """A box lowered until it covers nothing that is taken.

        Args:
            box: The box.
            gap: What is left free between it and what stands above it.
            reach: How far it may be lowered.

        Returns:
            The lowered box; the box as it is where nothing in reach is free.
        """
        x0, y0, x1, y1 = box
        down = 0.0
        while down <= reach:
            here = x0, y0 - down, x1, y1 - down
            feet = [other[1] for other in self._near(here) if overlap(here, other)]
            if not feet:
                return here
            lower = y1 - min(feet) + gap
            if not lower > down:
                break  # too far out for a float to tell the next place from this
            down = lower
        return box

    def _near(self, box: Box) -> Iterable[Box]:
        """What is taken and may be covered by a box."""
        if _is_vast(box):
            return self.taken
        near = (other for cell in _cells_of(box) for other in self._cells.get(cell, ()))
        return (*self._vast, *near)

    @property
    def taken(self) -> list[Box]:
        """Every box that is taken, once."""
        return list(
            dict.fromkeys((*self._vast, *(box for cell in self._cells.values() for box in cell)))
        )


def _apart(line: Line, gap: float) -> Box:
    """The box of a text with room for a space at its sides and a gap above and below, at least a
    fraction of its height."""
    x0, y0, x1, y1 = line.box
    gap = max(gap, _LEADING * line.height)
    return x0 - line.height / 2, y0 - gap, x1 + line.height / 2, y1 + gap


def _is_vast(box: Box) -> bool:
    """Whether a box covers so many cells that it is looked at by itself."""
    return (box[2] - box[0]) * (box[3] - box[1]) > _MOST_CELLS * _CELL * _CELL or max(
        box[2] - box[0], box[3] - box[1]
    ) > _MOST_CELLS * _CELL


def _cells_of(box: Box) -> Iterator[tuple[int, int]]:
    for i in range(math.floor(box[0] / _CELL), math.floor(box[2] / _CELL) + 1):
        for j in range(math.floor(box[1] / _CELL), math.floor(box[3] / _CELL) + 1):
            yield i, j
