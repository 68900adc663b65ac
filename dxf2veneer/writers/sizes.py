"""Sizes of the overlay's texts: legible at the scale at which the drawing will be plotted.

A text is so many times larger in the drawing as the building is larger than the plot: 3/32 in on
paper is 4 1/2 in at 1/4" = 1'-0" (48 to 1).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.wording.measures import feet_inches
from dxf2veneer.writers.texts import LINE_STEP

_TEXT, _LEAST = 3 / 32, 1 / 16
"""Heights of texts on paper in inches: the usual one and the least. [our own default]"""

_TEXT_MM, _LEAST_MM = 2.5, 1.8
"""The same in millimeters (ISO 3098 steps heights 1.8, 2.5, 3.5; from memory)."""

_SCALES = (24.0, 32.0, 48.0, 64.0, 96.0, 128.0, 192.0)
_METRIC_SCALES = (20.0, 25.0, 50.0, 100.0, 200.0)
"""Scales that are usual for elevations, in feet-and-inches and metric. [common practice, no
published source]"""

_SHEET = (12.0, 7.0)
"""Room in inches for the largest wall on a sheet of 17 x 11 in or A3, texts around it left out.
[our own default]"""

_IN_COURSE = 0.6
"""Share of a course's height that a text in it may take."""

_STEPS = (1, 2, 5, 10, 20, 50, 100)


@dataclass(frozen=True)
class TextSizes:
    """Heights of texts in inches of the building."""

    scale: float
    is_guess: bool
    """Whether the job leaves the scale open, so that it was chosen after the largest wall."""
    text: float
    """Of most texts."""
    least: float
    """Below it a text can't be read on the plot."""
    course: float
    """Height of a course."""
    display: str

    @classmethod
    def of(cls, takeoff: Takeoff, drawing: Drawing) -> TextSizes:
        """The sizes for one drawing of a job."""
        output = takeoff.job.output
        course = min(p.panel.height for p in takeoff.products)
        boxes = [w.wall.box for w in takeoff.walls_of(drawing.index)]
        scale = output.plot_scale or _guess(boxes, course, output.display)
        metric = output.display == "metric"
        text, least = (
            (_TEXT_MM / MM_PER_INCH, _LEAST_MM / MM_PER_INCH) if metric else (_TEXT, _LEAST)
        )
        return cls(
            scale, output.plot_scale is None, text * scale, least * scale, course, output.display
        )

    @property
    def in_course(self) -> float:
        """Of texts that belong to a course: as usual, less where a course is low, never too small
        to read."""
        return max(min(self.text, _IN_COURSE * self.course), self.least)

    @property
    def course_step(self) -> int:
        """Every how many courses have a text, so that texts do not run into each other."""
        return next((n for n in _STEPS if n * self.course >= LINE_STEP * self.least), _STEPS[-1])

    @property
    def scale_text(self) -> str:
        """The scale as it stands on a sheet: ``1:50``, or ``1:48 (1/4" = 1'-0")``."""
        return scale_words(self.scale, self.display)


def scale_words(scale: float, display: str) -> str:
    """A scale as it stands on a sheet: ``1:50``, or ``1:48 (1/4" = 1'-0")``.

    Args:
        scale: How many times larger the building is than the plot.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The text.
    """
    ratio = f"1:{scale:g}"
    if display == "metric":
        return ratio
    paper = 12.0 / scale
    named = feet_inches(paper, denominator=32)
    return f"{ratio} ({named} = 1'-0\")" if (paper * 32).is_integer() and paper < 12.0 else ratio


def fitting_scale(width: float, height: float, room: tuple[float, float], display: str) -> float:
    """The largest usual scale at which a picture fits a room on paper.

    Args:
        width: Width of the picture in inches of the building.
        height: Its height likewise.
        room: Width and height of the room on paper, in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        How many times larger the building is; a whole number where no usual scale is small enough.
    """
    needed = max(width / room[0], height / room[1])
    usual = _METRIC_SCALES if display == "metric" else _SCALES
    return next((scale for scale in usual if scale >= needed), float(math.ceil(needed)))


def _guess(boxes: list[tuple[float, float, float, float]], course: float, display: str) -> float:
    """The largest usual scale at which the largest wall fits a sheet, but none so small that a
    course could not hold a legible number."""
    scales, least = (
        (_METRIC_SCALES, _LEAST_MM / MM_PER_INCH) if display == "metric" else (_SCALES, _LEAST)
    )
    width = max((x1 - x0 for x0, _, x1, _ in boxes), default=0.0)
    height = max((y1 - y0 for _, y0, _, y1 in boxes), default=0.0)
    legible = [s for s in scales if s * least * LINE_STEP <= course] or [scales[0]]
    fitting = (s for s in legible if width <= s * _SHEET[0] and height <= s * _SHEET[1])
    return next(fitting, legible[-1])
