"""What the drawing of one elevation is fitted into."""

from __future__ import annotations

from dataclasses import dataclass

from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.words import (
    alert_words,
)


@dataclass(frozen=True)
class Frame:
    """What the drawing of one elevation is fitted into: its ground, size and text height, in
    inches."""

    wall: WallTakeoff
    ground: Canvas
    text: float
    alert: str
    """What stands on top of the picture where the takeoff has errors."""
    width: float
    height: float
    course: float
    display: str

    @classmethod
    def of(cls, takeoff: Takeoff, wall: WallTakeoff) -> Frame:
        """The frame around one wall. Texts at the sides follow the courses, and the wall's size
        where it is large."""
        x0, y0, x1, y1 = wall.wall.box
        course = takeoff.product_of(wall.wall.id).panel.height
        text = max(min(0.45 * course, 6.0), (x1 - x0) / 130, (y1 - y0) / 90)
        alert = alert_words(takeoff)
        over = 5 if alert else 3
        return cls(
            wall,
            Canvas(x0 - 5 * text, y1 + over * text),
            text,
            alert,
            max(x1 - x0 + 15 * text, 34 * text),
            y1 - y0 + (over + 8) * text,
            course,
            takeoff.job.output.display,
        )

    @property
    def step(self) -> int:
        """Every how many courses a number and a height are written."""
        return next(
            n for n in (1, 2, 5, 10, 20, 50, 100, 1000) if n * self.course >= 1.15 * self.text
        )
