"""The courses of a wall: bands, lines, where they miss heads and sills, heights to start at."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from dxf2veneer.geometry import Region
from dxf2veneer.model.pieces import Piece

CourseNumbers = Callable[[str, int], int]
"""The number that outputs give a course, by its wall's id and its index there."""
ConflictWhat = Literal["head", "sill", "top", "cap"]
StarterFrom = Literal["base", "level"]
"""What gave the starter line its height: the wall's base or a level line."""


@dataclass(frozen=True)
class Course:
    """One course of a wall: its number from the bottom (0 the first) and its band."""

    index: int
    y0: float
    y1: float


@dataclass(frozen=True)
class CourseLine:
    """One stretch of a course line, clipped to the wall less its openings. ``index`` is the course
    above the line; the line of index 0 is the starter line."""

    index: int
    x0: float
    x1: float
    y: float


@dataclass(frozen=True)
class Conflict:
    """A head, sill, top or cap against the course lines.

    ``strip`` is the height of the ripped piece left in ``course`` (0: the line runs clean), on the
    span from ``x0`` to ``x1``; ``move_up`` and ``move_down`` are how far the head, sill, top or cap
    would move up or down to meet a course line.
    """

    what: ConflictWhat
    opening: str | None
    course: int
    y: float
    strip: float
    sliver: bool
    x0: float
    x1: float
    move_up: float
    move_down: float

    @property
    def course_if_up(self) -> int:
        """The course that runs clean where it has moved up: the one over a head, under anything
        else."""
        return self.course + 1 if self.what == "head" else self.course

    @property
    def course_if_down(self) -> int:
        """The course that runs clean where it has moved down; -1 where that is the starter line."""
        return self.course_if_up - 1


@dataclass(frozen=True)
class WallCourses:
    """The courses of one wall, their lines, conflicts and, once planned, pieces."""

    wall: str
    starter_y: float
    starter_from: StarterFrom
    courses: tuple[Course, ...]
    lines: tuple[CourseLine, ...]
    starter_lines: tuple[CourseLine, ...]
    """Where the starter strip runs: level stretches above the base, interrupted at doors."""
    conflicts: tuple[Conflict, ...]
    pieces: tuple[Piece, ...] = ()
    field: Region = field(default_factory=Region)
    """What the pieces cover: the ground left for panels above the starter."""
    rise: int = 0
    """Courses from the level line that ties it to other walls up to its own first one; 0 where none
    does."""
    below: int = 0
    """Courses under its own first one, of walls whose courses have their numbers together with
    it."""

    def number(self, index: int) -> int:
        """The number that every output gives a course; walls on one level line share it.

        Args:
            index: Its index on this wall, 0 the first.

        Returns:
            The number, 1 the lowest course of those walls.
        """
        return self.below + index + 1

    @property
    def turn(self) -> int:
        """Whose turn it is at corners in its first course: 1 where that is an odd one, else 0."""
        return self.rise % 2


@dataclass(frozen=True)
class StartOption:
    """One height of the starter for walls whose courses run together, and what it would cost.

    ``height`` is the starter above the lowest base of the group, in inches; ``slivers`` strips
    lower than the job's limit at heads, sills, tops and caps; ``ripped`` how many pieces those
    strips take at least, in panel lengths; ``units`` flat and corner panels, None where they were
    not planned.
    """

    start: float
    """The ``courses.start`` that gives it."""
    height: float
    slivers: int
    strips: int
    """Heads, sills, tops and caps that are off the course lines."""
    ripped: int
    units: int | None
    is_present: bool = False
    """Whether the takeoff is laid with it."""
    is_best: bool = False
    fits: bool = True
    """Whether every starter of the group lies in the permitted range above its base."""


@dataclass(frozen=True)
class StartTable:
    """The present start, the best one and some between for one group of walls (ids)."""

    walls: tuple[str, ...]
    options: tuple[StartOption, ...]

    @property
    def present(self) -> StartOption:
        """The start that the takeoff is laid with."""
        return next(o for o in self.options if o.is_present)

    @property
    def best(self) -> StartOption:
        """The best start in the permitted range."""
        return next(o for o in self.options if o.is_best)

    @property
    def improves(self) -> bool:
        """Whether the best start leaves fewer slivers than the present one, or as many and less to
        rip."""
        best, present = self.best, self.present
        return (best.slivers, best.ripped, best.strips) < (
            present.slivers,
            present.ripped,
            present.strips,
        )
