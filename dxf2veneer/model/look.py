"""How the joints of the laid walls look: what a mason would call a pattern (rule L25)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.geometry import Point

FlawKind = Literal["in-line", "ladder", "stair", "repeat", "corner", "jamb", "short"]
"""A joint in line with one two courses below; a ladder of such joints; a stair of joints that climb
by one step; a course that repeats the one two below; corner pieces of one length in successive
courses round a corner; a joint in line with a jamb; short pieces one above the other."""


@dataclass(frozen=True)
class Flaw:
    """A place where the joints make a pattern."""

    kind: FlawKind
    wall: str
    """Id of the wall."""
    course: int
    """The uppermost of its courses, 0 the first."""
    at: Point
    """Its place in that course, in inches."""
    courses: int
    """How many courses it runs through, those between counted."""


@dataclass(frozen=True)
class Look:
    """The figures of the whole job.

    Of ``over`` joints that have ground two courses below, ``in_line`` stand in line with a joint
    there. Of ``turns`` pairs of successive courses round a corner ``equal_turns`` have corner
    pieces of one length. ``ladder`` is the most joints one above the other at every second course,
    ``stair`` the most courses through which joints climb by one step, ``repeats`` the courses that
    repeat the joints two below.
    """

    joints: int
    over: int
    in_line: int
    ladder: int
    stair: int
    repeats: int
    turns: int
    equal_turns: int
    jambs: int
    """Joints in line with a jamb."""
    shorts: int
    """Short pieces that stand in a column of three and more at one end of their runs."""
    flaws: tuple[Flaw, ...]
    """By wall, course and place."""

    @property
    def in_line_share(self) -> float:
        """Share of joints in line with one two courses below, from 0 to 1."""
        return self.in_line / self.over if self.over else 0.0

    @property
    def equal_turns_share(self) -> float:
        """Share of successive courses with equal corner pieces round a corner, from 0 to 1."""
        return self.equal_turns / self.turns if self.turns else 0.0
