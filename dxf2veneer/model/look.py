"""How the joints of the laid walls look: what a mason would call a pattern (rule L25)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.geometry import Point

FlawKind = Literal["in-line", "ladder", "stair", "repeat", "corner", "jamb", "short"]
"""A joint in line with one two courses below; a ladder of such joints; a stair of joints that climb
by one step; a course that repeats the one two below; corner pieces of one length in successive
courses round a corner; a joint in line with a jamb; short pieces one above the other."""

_WORST: tuple[FlawKind, ...] = ("ladder", "stair", "repeat", "short", "corner", "jamb", "in-line")
WORST_SHOWN = 5
"""Places that are told as the worst."""


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
class Mend:
    """What other joints of one run would take, in which fewer stand in a pattern."""

    wall: str
    """Id of the wall."""
    course: int
    """The course, 0 the first."""
    x0: float
    """Where the run begins and ends, in inches."""
    x1: float
    panels: int | None
    """Panels more for that; None where no other joints of this run alone keep all rules."""


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

    @property
    def score(self) -> float:
        """Patterns for a hundred joints: joints in line two courses apart or with a jamb, equal
        corner pieces round a corner, stairs, repeated courses, and short pieces in columns."""
        stairs = sum(flaw.kind == "stair" for flaw in self.flaws)
        found = self.in_line + self.jambs + self.equal_turns + self.repeats + self.shorts + stairs
        return 100.0 * found / self.joints if self.joints else 0.0

    @property
    def worst(self) -> tuple[Flaw, ...]:
        """The places that look worst: longest patterns first, then by what they are; of a kind
        one in each course of a wall."""
        ranked = sorted(self.flaws, key=lambda flaw: (-flaw.courses, _WORST.index(flaw.kind)))
        once = {(flaw.kind, flaw.wall, flaw.course): flaw for flaw in reversed(ranked)}
        return tuple([flaw for flaw in ranked if flaw in once.values()][:WORST_SHOWN])


def mending(flaw: Flaw, mends: Iterable[Mend]) -> Mend | None:
    """The cheapest way to other joints in one of the runs that make a pattern.

    Args:
        flaw: The pattern.
        mends: What other joints would take, run by run.

    Returns:
        That way, one that can be had before others; None where no run of the pattern was tried.
    """
    step = 2 if flaw.kind in ("in-line", "ladder", "repeat") else 1
    courses = range(flaw.course, flaw.course - flaw.courses, -step)
    own = [
        mend
        for mend in mends
        if mend.wall == flaw.wall and mend.course in courses and mend.x0 <= flaw.at[0] <= mend.x1
    ]
    return min(own, key=lambda m: (m.panels is None, m.panels or 0), default=None)
