"""Where the offcuts of a plan go: what a crew carries, and what lies about meanwhile (rule L26)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Handling:
    """The figures of the whole job, laid as a crew does: walls that meet at corners together,
    course by course, one such group of walls after the other.

    Of a panel cut in two or more the part that is laid first is no offcut; the others are
    ``offcuts``, and wait from the course in which the panel is cut to their own.
    """

    offcuts: int
    far: int
    """Those used neither on the wall where they were cut nor on the next one round a corner."""
    late: int
    """Those that wait for more courses than the job allows."""
    longest: int
    """The most courses for which one waits within the walls that rise together."""
    waiting: int
    """The most that wait at once, when a course is done."""
    lengths: int
    """Different lengths that pieces are cut to, to the nearest 1/16 in."""
