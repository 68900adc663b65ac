"""Texts of the overlay: made safe for a TEXT entity and placed so that they do not cover each other.

    box of a text, anchored in the middle of its left side, its middle or its right side

        x-------------+     +------x------+     +-------------x
        left                middle              right
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal

Box = tuple[float, float, float, float]
Align = Literal["left", "middle", "right"]

LETTER_WIDTH = 0.95
"""Width of a letter with its space, in text heights; wider than most fonts draw it."""

LINE_STEP = 1.6
"""Distance of lines of text, in text heights."""

LONGEST = 80
"""Longest text in characters; the rest is in the workbook."""

_MOST_STEPS = 60


def plain(text: str) -> str:
    """One line that a TEXT entity shows as it is.

    Control characters and line breaks become spaces, lone surrogates question marks, and the
    signs that TEXT takes for codes (``%%``, ``^``) lose their meaning.
    """
    shown = "".join(_shown(c) for c in text)
    one_line = re.sub(r"%{2,}", "%", " ".join(shown.split())).replace("^", "^ ")
    return one_line if len(one_line) <= LONGEST else one_line[: LONGEST - 1] + "…"


def _shown(character: str) -> str:
    kind = unicodedata.category(character)
    if kind == "Cs":
        return "?"
    return " " if kind in ("Cc", "Cf", "Zl", "Zp") else character


@dataclass(frozen=True)
class Line:
    """One line of text at its anchor; lengths in inches."""

    text: str
    x: float
    y: float
    height: float
    align: Align = "left"

    @property
    def box(self) -> Box:
        """What the text covers."""
        width = width_of(self.text, self.height)
        x0 = self.x - {"left": 0.0, "middle": width / 2, "right": width}[self.align]
        return x0, self.y - self.height / 2, x0 + width, self.y + self.height / 2


def width_of(text: str, height: float) -> float:
    """Width that a text of a height needs."""
    return len(text) * LETTER_WIDTH * height


def height_to_fit(lines: Iterable[str], *, width: float, height: float, most: float) -> float:
    """The greatest text height, up to ``most``, at which the lines lie within width x height."""
    listed = list(lines)
    longest = max(len(line) for line in listed)
    return min(most, width / (longest * LETTER_WIDTH), height / (len(listed) * LINE_STEP))


def overlap(a: Box, b: Box) -> bool:
    """Whether two boxes have ground in common."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


@dataclass
class Sheet:
    """The texts placed so far."""

    taken: list[Box] = field(default_factory=list)

    def place(self, line: Line, *, step: float | None = None) -> Line:
        """The line where it hides no other: moved by steps (one line of text upwards, where not
        given; a negative step goes down) until it is free."""
        step = LINE_STEP * line.height if step is None else step
        tries = (replace(line, y=line.y + n * step) for n in range(_MOST_STEPS))
        found = next((t for t in tries if self.is_free(t.box)), line)
        self.taken.append(found.box)
        return found

    def is_free(self, box: Box) -> bool:
        """Whether a box covers no text."""
        return not any(overlap(box, other) for other in self.taken)
