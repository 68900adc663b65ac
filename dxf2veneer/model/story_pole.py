"""The story pole: every height that a mason marks on a rod, above one level."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.model.courses import ConflictWhat

PoleDatum = Literal["level", "base"]
"""What heights are counted from: the level line that ties walls together or, without one, the
lowest of their bases."""
PoleWhat = Literal[
    "level",
    "base",
    "starter",
    "course",
    "head",
    "springing",
    "crown",
    "slope foot",
    "slope top",
    "sill",
    "panels",
    "cap",
    "top",
]
"""``head`` and ``sill`` are those of the opening; an arched head has a springing and a crown, a
sloped one its foot and top; ``panels`` is where panels end over or under it because trim lies
between; ``course`` is the lower line of a course."""


@dataclass(frozen=True)
class PoleMark:
    """One mark on the rod."""

    what: PoleWhat
    """What it marks."""
    height: float
    """Above the datum, in inches; below 0 under it."""
    refs: tuple[str, ...]
    """Ids of what lies there: openings for heads, sills and panels, else walls."""
    course: int | None = None
    """The number of the course that it lies in, or begins."""
    strip: float = 0.0
    """Height of the strip that its course is ripped to there, in inches; 0 where the course line
    runs clean."""
    is_sliver: bool = False
    """Whether that strip is lower than the job allows."""
    beyond: ConflictWhat | None = None
    """For ``panels`` whether they end over a head or under a sill."""


@dataclass(frozen=True)
class StoryPole:
    """The rod of walls whose course lines are the same."""

    drawing: int
    """Index of their drawing."""
    walls: tuple[str, ...]
    """Their ids."""
    datum: PoleDatum
    """What heights are counted from."""
    course_height: float
    """Height of a course in inches."""
    marks: tuple[PoleMark, ...]
    """From the bottom up."""

    @property
    def bottom(self) -> float:
        """Height of the lowest mark."""
        return self.marks[0].height

    @property
    def top(self) -> float:
        """Height of the highest mark."""
        return self.marks[-1].height

    @property
    def name(self) -> str:
        """What the rod is called: its walls."""
        return ", ".join(self.walls)
