"""The starter height that suits a group of walls best: exact, not sampled.

One shift s of all course lines is sought for each group of walls whose courses run together (one
level line, a corner, or both at one remove), so that lines that run on from wall to wall still do.
What is wanted of s, in this order: every starter in the permitted range above its base, fewest
slivers at heads, sills, tops and caps, fewest pieces to rip, fewest strips, fewest panels, and then
the s nearest to the present one.

    hi  - - - - - - -   greatest height of the starter      breaks   |     |  |        |
        ~~~~~~~~~~~~~   starter line, at s                  score  4 | 3 4 |1 | 3    4 |
    lo  - - - - - - -   base + clearance                             lo    a line     hi
        =============   base                                               meets a head

Why finitely many candidates are enough: let H be the height of a course, c = ``LINE_MEETS_IN``
and r a height through which a wall's lines run at s = 0 (its level line, else base + clearance).
What a head, sill, top or cap at y counts for depends on s through three questions:
  - is it clean: is u = (y - r - s) mod H within c of 0 or of H;
  - is its strip (H - u over a head, else u) lower than the sliver limit, less rounding;
  - does it lie at least c below the starter line, where nothing counts. Without a level line that
    turns where y - r - s = -c, hence where u = H - c; with one the starter is a line of the wall
    too, so the same holds, or the starter jumps by a course, which is the next question;
and a wall's range through one more:
  - where does its starter lie: with a level line it jumps by a course where a line lies c below
    base + clearance, and leaves the range where that line lies c above the greatest height.
The answer of each turns only at values of s that are congruent, mod H, to a few numbers. Those in
[lo, hi], with lo and hi, are the breaks. Between two neighboring breaks no answer turns, so every
count is constant on the open interval between them; and the breaks themselves together with one
point of each interval take every value that the score takes in [lo, hi]. The least of them is the
least there is. (A break is taken ``INSIDE_BREAK_IN`` to the side whose answer it shares, so that
rounding does not decide it. Where all walls of a group have level lines, the course lines repeat
after H, and one course of shifts and a little more is looked through.) Points that read well are
added to the candidates, which can't hide a better one.

Of each stretch of starts that have the least score one start is handed on, for a plan to tell them
apart: within a stretch no head, sill or top crosses a course line, so the runs of walls without
slopes and arches stay as they are.
"""

from __future__ import annotations

import logging
import math
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from dxf2veneer.basics.tolerances import INSIDE_BREAK_IN, LINE_MEETS_IN, STARTS_PLANNED
from dxf2veneer.coursing.groups import CourseGroup, Score

_LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class Stretch:
    """Neighboring candidates of one score; what lies between them scores the same."""

    score: Score
    candidates: tuple[tuple[float, bool], ...]
    """Each is (start in inches, whether it reads well): the present start, an end of the range, a
    start at which a line meets something or a strip is as high as the limit, a round number."""

    def distance(self, present: float) -> float:
        """How far the present start lies from it."""
        return min(abs(s - present) for s, _ in self.candidates)

    def holds(self, start: float) -> bool:
        """Whether a start lies between its ends."""
        return self.candidates[0][0] <= start <= self.candidates[-1][0]

    @property
    def legible(self) -> list[float]:
        """The starts in it that read well."""
        return [start for start, reads_well in self.candidates if reads_well]

    def pick(self, present: float) -> float:
        """The start nearest to the present, of those that read well where there are any."""
        return min(
            self.legible or [s for s, _ in self.candidates], key=lambda s: (abs(s - present), s)
        )


@dataclass(frozen=True)
class StartSearch:
    """What was found for one group of walls."""

    group: CourseGroup
    stretches: tuple[Stretch, ...]
    """All of the permitted range, from the lowest start up."""
    tied: tuple[float, ...]
    """Starts of the least score, of each stretch that has it the nearest to the present start, the
    nearest first: which of them takes fewest panels only a plan can say."""


def search_start(group: CourseGroup) -> StartSearch:
    """The starts that suit a group of walls best, with all others in order.

    Args:
        group: The walls, the permitted range and what the course lines can meet.

    Returns:
        Every stretch of equal score, and up to ``STARTS_PLANNED`` starts of the least score.
    """
    candidates = _candidates(group)
    scored = zip(group.scores([s for s, _ in candidates]), candidates, strict=True)
    stretches = tuple(
        Stretch(score, tuple(c for _, c in run))
        for score, run in groupby(scored, key=lambda pair: pair[0])
    )
    tied = _tied(stretches, group)
    _LOG.debug(
        "start of %s: %d candidates in %d stretches, %d of the least score %s",
        ", ".join(group.walls),
        len(candidates),
        len(stretches),
        len(tied),
        min(s.score for s in stretches),
    )
    return StartSearch(group, stretches, tied)


def _tied(stretches: tuple[Stretch, ...], group: CourseGroup) -> tuple[float, ...]:
    """A start of each stretch of the least score, the nearest first, none twice."""
    least = min(s.score for s in stretches)
    best = sorted(
        (s for s in stretches if s.score == least),
        key=lambda s: (s.distance(group.shift), s.candidates),
    )
    picked: list[float] = []
    for start in (s.pick(group.shift) for s in best):
        if not any(group.is_same(start, other) for other in picked):
            picked.append(start)
    return tuple(picked[:STARTS_PLANNED])


def _candidates(group: CourseGroup) -> list[tuple[float, bool]]:
    """Every break in the range, its ends, and in each interval between its middle and the round
    numbers next to its ends."""
    (low, high), step = group.range, group.step
    found: dict[float, bool] = {}

    def add(start: float, reads_well: bool) -> None:
        start += 0.0  # no minus zero
        if low <= start <= high:
            found[start] = reads_well or found.get(start, False)

    for residue, reads_well in breaks_of(group).items():
        first = math.ceil((low - residue) / group.height)
        last = math.floor((high - residue) / group.height)
        for k in range(first - 1, last + 2):
            add(residue + k * group.height, reads_well)
    add(low, not group.is_free)
    add(high, not group.is_free)
    add(group.shift, True)
    for a, b in pairwise(sorted(found)):
        add((a + b) / 2, False)
        for near in (math.floor(a / step + 1) * step, math.ceil(b / step - 1) * step):
            if a < near < b:
                add(near, True)
    return sorted(found.items())


def breaks_of(group: CourseGroup) -> dict[float, bool]:
    """Where the score can turn.

    Args:
        group: The walls and what the course lines can meet.

    Returns:
        Any one of the shifts that are congruent mod H, with whether it reads well.
    """
    walls = list(zip(group.bases, group.levels, group.highest, strict=True))
    through = [group.over_line(wall) for wall in range(len(walls))]
    meets = group.y - np.array(through)[group.owner]
    clean = LINE_MEETS_IN - INSIDE_BREAK_IN
    at_limit = np.where(group.is_head, meets + group.sliver, meets - group.sliver)
    no_sliver = np.where(group.is_head, -INSIDE_BREAK_IN, INSIDE_BREAK_IN)
    breaks = {
        float(v): False for a in (meets - clean, meets + clean, at_limit + no_sliver) for v in a
    }
    breaks |= {float(v): True for a in (meets, at_limit) for v in a}
    for base, level, most in walls:
        if level is not None:
            lowest = base + group.clearance - level
            highest = base + most - level
            breaks |= {lowest - clean: False, highest + clean: False, lowest: True, highest: True}
    return breaks
