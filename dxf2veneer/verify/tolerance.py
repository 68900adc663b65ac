"""What becomes of a laid plan when walls and openings are off on site (rule L27).

Worked out from pieces and panels alone, beside the planner: every corner of the box of errors.

     left edge off by dl                                      right edge off by dr
       <-|   corner   |   first   |   whole   |   last   |->        outward above 0

- Runs of neighboring courses that end at one upright, a wall's edge or a jamb, have one error
  there.
- A corner piece stays as it is cut and goes with its corner; the flat piece beside it takes up the
  error. Where a run has no flat piece its corner pieces do.
- Joints stay where they are drawn. Where an end piece can't take up its error, being a whole panel,
  or of a panel that is used up, or too short, the row moves by what is missing, and the piece at
  the other end takes that.
- Panels have to do in all runs at once: pieces that share one share what is left of it
  (``growth``).
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from dxf2veneer.basics.tolerances import JUDGE_LENGTH_IN, JUDGE_PLACE_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Edge, Fragile, FragileKind, Tolerance, WallTakeoff
from dxf2veneer.verify.growth import Growth, ends_of
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart, judged_wall

Errors = tuple[float, float]
"""By how much the left and the right edge of a run lie farther out than drawn, in inches."""


def tolerance_of(walls: Sequence[WallTakeoff], job: Job, product: Product) -> Tolerance | None:
    """Where the laid plan leaves no room for edges that are off.

    Args:
        walls: The walls with their pieces.
        job: By how much edges may be off; the saw cut.
        product: The panels, the least piece, the stagger, and what corner pieces differ by.

    Returns:
        The figures and places; None where the job allows for no errors.
    """
    off = job.plan.tolerance
    if not off:
        return None
    judged = [judged_wall(w) for w in walls]
    runs = [run for wall in judged for run in wall.runs if run.laid]
    growth = Growth(runs, job, product)
    tried = {id(run): _Tried(run, growth.of(i), off, product) for i, run in enumerate(runs)}
    found = [each for one in tried.values() for each in one.places()]
    for wall in judged:
        found += _staggers(wall, tried, product)
        found += _varying(wall, tried, product)
    found += _halves(runs, tried, product)
    order = {w.wall.id: i for i, w in enumerate(walls)}
    places = sorted(
        (place for _, place in found), key=lambda p: (order[p.wall], p.course, p.at, p.kind)
    )
    return Tolerance(off, len(runs), len(runs) - len({id(run) for run, _ in found}), tuple(places))


_Found = tuple[JudgedRun, Fragile]


class _Tried:
    """A run in every corner of its box of errors."""

    def __init__(
        self, run: JudgedRun, growth: tuple[float, float] | None, off: float, product: Product
    ) -> None:
        self.run, self._off, self._least = run, off, product.laying.least_piece
        self._has_room = growth is not None
        self._ends = ends_of(run)
        self.shifts: dict[Errors, float] = {}
        """By corner of the box how far the row moves to the right."""
        self.changes: dict[int, tuple[float, float]] = {}
        """By the identity of a corner piece that takes up errors how much longer it gets at least
        and at most."""
        spare = [max(0.0, one.length - self._least) for one in self._ends]
        more = growth or (math.inf, math.inf)
        lengths: dict[int, list[float]] = defaultdict(list)
        for dl, dr in itertools.product((-off, off), repeat=2):
            low = max(-spare[0] - dl, dr - more[1])
            high = min(more[0] - dl, dr + spare[1])
            if self._ends.is_one:
                low = high = 0.0
            shift = min(max(0.0, low), high) if low <= high else (low + high) / 2.0
            self.shifts[dl, dr] = shift
            if self._ends.is_one:
                lengths[id(self._ends.left)].append(dl + dr)
            else:
                lengths[id(self._ends.left)].append(dl + shift)
                lengths[id(self._ends.right)].append(dr - shift)
        if self._ends.left.unit == "corner":
            self.changes = {key: (min(each), max(each)) for key, each in lengths.items()}

    def places(self) -> Iterator[_Found]:
        """Where it is too long for its panels, or leaves a piece below the least."""
        first, last = self._ends
        if not self._has_room:
            yield self.place("long", last.middle, 2.0 * self._off)
        short = min(first, last, key=lambda one: one.length)
        if short.length < self._least - JUDGE_LENGTH_IN:
            return  # a broken rule already
        spare = first.length - self._least
        spare += 0.0 if self._ends.is_one else last.length - self._least
        if spare < 2.0 * self._off - JUDGE_LENGTH_IN:
            yield self.place("short", short.middle, 2.0 * self._off - spare)

    def place(self, kind: FragileKind, at: tuple[float, float], by: float) -> _Found:
        """A place in this run."""
        return self.run, Fragile(kind, self.run.wall, self.run.course.index, at, by)

    def joints(self) -> Iterator[tuple[float, str]]:
        """The x of each joint, and what it moves with: an edge, or the row."""
        for a, b in pairwise(self.run.laid):
            if a is self.run.laid[0] and a.unit == "corner" and b.unit == "flat":
                yield b.x0, "left"
            elif b is self.run.laid[-1] and b.unit == "corner" and a.unit == "flat":
                yield b.x0, "right"
            else:
                yield b.x0, "row"

    def moved(self, what: str, errors: Errors) -> float:
        """How far a joint moves to the right."""
        if what == "row":
            return self.shifts[errors]
        return -errors[0] if what == "left" else errors[1]


def _staggers(wall: JudgedWall, tried: Mapping[int, _Tried], product: Product) -> Iterator[_Found]:
    """Joints of adjacent courses that come nearer than the stagger, each told at the upper one."""
    for index, uppers in wall.by_course.items():
        for upper in (tried[id(run)] for run in uppers if run.laid):
            for lower in (tried[id(run)] for run in wall.by_course.get(index - 1, ()) if run.laid):
                yield from _near(upper, lower, product.laying.stagger)


def _near(upper: _Tried, lower: _Tried, stagger: float) -> Iterator[_Found]:
    both = list(_corners(upper, lower))
    for x, what in upper.joints():
        for other, below in lower.joints():
            gap = x - other
            if not stagger - JUDGE_LENGTH_IN <= abs(gap):
                continue  # a broken rule already
            moves = (upper.moved(what, a) - lower.moved(below, b) for a, b in both)
            least = min(math.copysign(1.0, gap) * (gap + move) for move in moves)
            if least < stagger - JUDGE_LENGTH_IN:
                at = x, upper.run.course.y0
                yield upper.place("stagger", at, stagger - least)


def _corners(upper: _Tried, lower: _Tried) -> Iterator[tuple[Errors, Errors]]:
    """The corners of the box of two runs: one error where both end at one upright."""
    is_one = [
        abs(a.x - b.x) <= JUDGE_PLACE_IN
        for a, b in (
            (upper.run.left, lower.run.left),
            (upper.run.right, lower.run.right),
        )
    ]
    for a, b in itertools.product(upper.shifts, lower.shifts):
        if all(a[n] == b[n] or not is_one[n] for n in (0, 1)):
            yield a, b


def _varying(wall: JudgedWall, tried: Mapping[int, _Tried], product: Product) -> Iterator[_Found]:
    """Successive corner pieces at one edge that come to be alike (L4)."""
    at_edge: dict[Edge, list[tuple[JudgedRun, LaidPart]]] = defaultdict(list)
    for run in wall.runs:
        for end, one in zip((run.left, run.right), (*run.laid[:1], *run.laid[-1:]), strict=False):
            if end.edge and one.unit == "corner" and one.end(end.side) == "finished":
                at_edge[end.edge].append((run, one))
    for placed in at_edge.values():
        for below, above in pairwise(placed):
            if len(below[0].laid) > 1 or len(above[0].laid) > 1:
                yield from _alike(above, below, tried, product.corner.vary)


def _halves(
    runs: Sequence[JudgedRun], tried: Mapping[int, _Tried], product: Product
) -> Iterator[_Found]:
    """Pieces of one corner panel that come to be equal (L4)."""
    halves: dict[str, list[tuple[JudgedRun, LaidPart]]] = defaultdict(list)
    for run in runs:
        for one in run.laid:
            if one.unit == "corner":
                halves[one.stock].append((run, one))
    for pair in halves.values():
        if len(pair) == 2 and all(len(run.laid) > 1 for run, _ in pair):
            yield from _alike(pair[1], pair[0], tried, product.corner.unequal)


def _alike(
    one: tuple[JudgedRun, LaidPart],
    other: tuple[JudgedRun, LaidPart],
    tried: Mapping[int, _Tried],
    apart: float,
) -> Iterator[_Found]:
    """Corner pieces whose lengths come nearer to one another than they may."""
    (run, piece), (beside, second) = one, other
    gap = piece.length - second.length
    own = tried[id(run)].changes.get(id(piece), (0.0, 0.0))
    others = tried[id(beside)].changes.get(id(second), (0.0, 0.0))
    least = gap + own[0] - others[1] if gap > 0.0 else -(gap + own[1] - others[0])
    if abs(gap) >= apart - JUDGE_LENGTH_IN and least < apart - JUDGE_LENGTH_IN:
        yield tried[id(run)].place("halves", piece.middle, apart - least)
