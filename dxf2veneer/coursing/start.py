"""The starter height that suits a group of walls best: exact, not sampled.

One shift s of all course lines is sought for each group of walls whose courses run together (one
level line, a corner, or both at one remove), so that lines that run on from wall to wall still do.
What is wanted of s, in this order: every starter in the permitted range above its base, fewest
slivers at heads, sills, tops and caps, fewest pieces to rip, fewest strips, fewest units, and then
the s nearest to the present one.

    hi  - - - - - - -   greatest height of the starter      breaks   |     |  |        |
        ~~~~~~~~~~~~~   starter line, at s                  score  4 | 3 4 |1 | 3    4 |
    lo  - - - - - - -   base + clearance                             lo    a line     hi
        =============   base                                               meets a head

Why finitely many candidates are enough: let H be the height of a course, c = ``CLEAN_IN`` and r a
height through which a wall's lines run at s = 0 (its level line, else base + clearance). What a
head, sill, top or cap at y counts for depends on s through three questions:
  - is it clean: is u = (y - r - s) mod H within c of 0 or of H;
  - is its strip (H - u over a head, else u) lower than the sliver limit, less rounding;
  - does it lie at least c below the starter line, where nothing counts. Without a level line that
    turns where y - r - s = -c, hence where u = H - c; with one the starter is a line of the wall
    too, so the same holds, or the starter jumps by a course, which is the next question;
and a wall's range through one more:
  - where does its starter lie: with a level line it jumps by a course where a line lies c below
    base + clearance, and leaves the range where that line lies c above the greatest height.
The answer of each turns only at values of s that are congruent, mod H, to a few numbers. Those in
[lo, hi], with lo and hi, are the breaks. Between two neighbouring breaks no answer turns, so every
count is constant on the open interval between them; and the breaks themselves together with one
point of each interval take every value that the score takes in [lo, hi]. The least of them is the
least there is. (A break is taken ``_INSIDE_IN`` to the side whose answer it shares, so that rounding
does not decide it. Where all walls of a group have level lines, the course lines repeat after H, and
one course of shifts and a little more is looked through.) Points that read well are added to the candidates,
which can't hide a better one.

Units are asked for only between stretches of starts whose score is the same, once for each: within
a stretch no head, sill or top crosses a course line, so the runs of walls without slopes and arches
stay as they are.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.bands import CLEAN_IN, EQUAL_IN
from dxf2veneer.coursing.start_groups import Group, Score, group_of, groups
from dxf2veneer.model import Corner, StartOption, StartTable, WallQuantities

UnitsOf = Callable[[tuple[str, ...], float], int]
"""Flat and corner units that walls (ids) take with a start."""

_INSIDE_IN = EQUAL_IN / 2
"""More than rounding, less than what counts as a difference."""
_SHOWN = 6
"""Rows of a table of starts."""
_PLANNED = 6
"""Stretches of equal score that are planned to compare their units; the nearest ones."""


@dataclass(frozen=True)
class _Stretch:
    """Neighbouring candidates of one score; what lies between them scores the same.

    Each is (start, whether it reads well): the present start, an end of the range, a start at which a
    line meets something or a strip is as high as the limit, a round number.
    """

    score: Score
    candidates: tuple[tuple[float, bool], ...]

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


def start_tables(
    measured: Sequence[WallQuantities],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    units_of: UnitsOf | None = None,
) -> tuple[StartTable, ...]:
    """For each group of walls the present start, the best one and some others, from the lowest up.

    ``units_of`` is asked only between starts whose other counts are equal, and where the best start is
    asked for, for it plans the walls anew; without it the nearest is best. With ``courses.start`` at ``best`` the present start is the best one.
    """
    by_id = {m.wall.id: m for m in measured}
    tied = groups([m.wall for m in measured], corners)
    is_asked = job.courses.start == "best"
    return tuple(
        _table(
            group_of([by_id[i] for i in ids], job, product),
            is_asked,
            units_of if is_asked else None,
        )
        for ids in tied
    )


# ------------------------------------------------------------------- search


def _breaks(group: Group) -> dict[float, bool]:
    """Where the score can turn, as any one of the shifts that are congruent mod H, and whether it reads well."""
    through = np.array(
        [
            w.wall.box[1] + group.rule.clearance if w.wall.level_y is None else w.wall.level_y
            for w in group.walls
        ]
    )
    meets = group.y - through[group.owner]
    clean = CLEAN_IN - _INSIDE_IN
    at_limit = np.where(group.is_head, meets + group.rule.sliver, meets - group.rule.sliver)
    no_sliver = np.where(group.is_head, -_INSIDE_IN, _INSIDE_IN)
    breaks = {
        float(v): False for a in (meets - clean, meets + clean, at_limit + no_sliver) for v in a
    }
    breaks |= {float(v): True for a in (meets, at_limit) for v in a}
    for wall in group.walls:
        if wall.wall.level_y is not None:
            lowest = wall.wall.box[1] + group.rule.clearance - wall.wall.level_y
            highest = lowest + group.rule.highest - group.rule.clearance
            breaks |= {lowest - clean: False, highest + clean: False, lowest: True, highest: True}
    return breaks


def _candidates(group: Group) -> list[tuple[float, bool]]:
    """Every break in the range, its ends, and in each interval between its middle and the round
    numbers next to its ends."""
    (low, high), step = group.range, group.step
    found: dict[float, bool] = {}

    def add(start: float, reads_well: bool) -> None:
        start += 0.0  # no minus zero
        if low <= start <= high:
            found[start] = reads_well or found.get(start, False)

    for residue, reads_well in _breaks(group).items():
        first, last = (
            math.ceil((low - residue) / group.height),
            math.floor((high - residue) / group.height),
        )
        for k in range(first - 1, last + 2):
            add(residue + k * group.height, reads_well)
    for start, reads_well in (
        (low, not group.is_free),
        (high, not group.is_free),
        (group.rule.shift, True),
    ):
        add(start, reads_well)
    for a, b in pairwise(sorted(found)):
        add((a + b) / 2, False)
        for near in (math.floor(a / step + 1) * step, math.ceil(b / step - 1) * step):
            if a < near < b:
                add(near, True)
    return sorted(found.items())


def _stretches(group: Group) -> list[_Stretch]:
    """The candidates in order, neighbours of one score together."""
    candidates = _candidates(group)
    scored = zip(group.scores([s for s, _ in candidates]), candidates, strict=True)
    return [
        _Stretch(score, tuple(c for _, c in run))
        for score, run in groupby(scored, key=lambda pair: pair[0])
    ]


def _best(
    stretches: Sequence[_Stretch], group: Group, units_of: UnitsOf | None
) -> tuple[float, dict[float, int]]:
    """A start of the least score; of several stretches of it the one of fewest units, then the nearest,
    then the lowest. With it the units of the starts that were planned."""
    present = group.rule.shift
    least = min(s.score for s in stretches)
    tied = sorted(
        (s for s in stretches if s.score == least),
        key=lambda s: (s.distance(present), s.candidates),
    )
    picked: list[float] = []
    for start in (s.pick(present) for s in tied):
        if not any(group.is_same(start, other) for other in picked):
            picked.append(start)
    picked = picked[:_PLANNED]
    if units_of is None or len(picked) == 1:
        return picked[0], {}
    units = {start: units_of(group.ids, start) for start in picked}
    return min(picked, key=lambda s: units[s]), units


# -------------------------------------------------------------------- table


def _table(group: Group, asks_best: bool, units_of: UnitsOf | None) -> StartTable:
    stretches = _stretches(group)
    best, units = _best(stretches, group, units_of)
    laid = best if asks_best else group.rule.shift
    shown = sorted(_shown(stretches, group, (laid, best)))
    options = tuple(
        StartOption(
            start=start,
            height=group.starter(start),
            slivers=slivers,
            strips=strips,
            ripped=ripped,
            units=units.get(start),
            is_present=start == laid,
            is_best=start == best,
            fits=not outside,
        )
        for start, (outside, slivers, ripped, strips) in zip(
            shown, group.scores(shown), strict=True
        )
    )
    return StartTable(group.ids, options)


def _shown(stretches: Sequence[_Stretch], group: Group, first: Iterable[float]) -> list[float]:
    """Starts to show: the first ones, those of the lowest and of the highest starter in range, and the
    best ones of further stretches, none twice. Stretches without a start that reads well are left out."""
    present, least = group.rule.shift, min(s.score[0] for s in stretches)
    fit = [s for s in stretches if s.score[0] == least and s.legible]
    fit.sort(key=lambda s: (s.score, s.distance(present), s.candidates))
    legible = [start for s in fit for start in s.legible]
    shown = list(dict.fromkeys(first))

    def height(
        start: float,
    ) -> float:  # equal where rounding alone differs, a course apart for instance
        return round(group.starter(start), 6)

    legible.sort(key=lambda s: (abs(s - present), s))
    for start in (min(legible, key=height), max(legible, key=height)) if legible else ():
        if not any(group.is_same(start, s) for s in shown):
            shown.append(start)
    for stretch in fit:
        start = stretch.pick(present)
        if len(shown) < _SHOWN and not any(
            stretch.holds(s) or group.is_same(start, s) for s in shown
        ):
            shown.append(start)
    return shown
