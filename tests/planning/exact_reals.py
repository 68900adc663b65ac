"""The fewest panels of a small job, proven over all real lengths: no grid that a layout could slip
through.

Written from the rules of laying alone. Where joints stand and how long pieces are is free; what is
discrete are the ways a run can be divided (``Way``), which panel each part is cut from, and on
which side of one another joints stand. HiGHS (through SciPy) finds the least and proves it.

    |c| first |   q whole panels   | last |c|     a row: factory ends meet in its joints (L9)
    |c|       single      |c|                     a flat piece with both ends cut
    |c|c|                                         corner pieces alone

Rules: joints of adjacent courses apart (L3), corner pieces no shorter than the least and leaving as
much of their panel, halves of a panel unequal, cuts varied from course to course (L4), a left and a
right piece of a corner panel (L5 to L8), factory ends in joints (L9), narrow columns in corner
pieces alone (L12), both sides of a bay's mitre out of one panel (L13), a saw cut between parts.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array


@dataclass(frozen=True)
class Rules:
    """Lengths and limits, in inches."""

    panel: float = 36.0
    corner: float = 36.0
    kerf: float = 0.125
    stagger: float = 8.0
    least: float = 8.0
    unequal: float = 1.0
    vary: float = 1.0
    column: float = 16.0

    @property
    def longest_corner(self):
        return self.corner - self.kerf - self.least


@dataclass(frozen=True)
class Run:
    """One stretch of a course from x0 to x1, overhangs included, with what happens at its ends."""

    x0: float
    x1: float
    left: str = "plain"
    right: str = "plain"
    face: float = math.inf
    """Width between two outside corners, for the face of a column."""

    @property
    def length(self):
        return self.x1 - self.x0


class Way(NamedTuple):
    """A way to divide a run: corner pieces, what stands between them, whole panels in a row."""

    left: bool
    right: bool
    flat: str
    """"row", "single" or nothing."""
    whole: int = 0

    @property
    def is_alone(self):
        """Whether a corner piece fills the run."""
        return not self.flat and self.left != self.right


def ways(run, rules):
    """Every way to divide a run that its length allows."""
    left, right, m = run.left == "corner", run.right == "corner", run.length
    if left != right:
        if m <= rules.longest_corner + 1e-9 and "mitre" not in (run.left, run.right):
            yield Way(left, right, "")
        if m < 2 * rules.least or run.face <= rules.column:
            return
    if left and right:
        yield Way(True, True, "")
    yield Way(left, right, "single")
    for whole in range(int(m / rules.panel) + 1):
        yield Way(left, right, "row", whole)


PARTS = {"C<": "left", "first": "right", "single": "any", "last": "left", "C>": "right"}
"""The parts of a run from the left, and the end of its panel that each keeps."""


def has(way, part):
    """Whether a way has that part."""
    return {"C<": way.left, "C>": way.right, "single": way.flat == "single"}.get(
        part, way.flat == "row"
    )


class _Model:
    """A mixed-integer program: columns with bounds, rows from low to high."""

    def __init__(self):
        self.low, self.high, self.whole, self.cost = [], [], [], []
        self.rows = []

    def column(self, low, high, *, whole=False, cost=0.0):
        for values, value in zip(
            (self.low, self.high, self.whole, self.cost), (low, high, whole, cost), strict=True
        ):
            values.append(value)
        return len(self.low) - 1

    def row(self, terms, low=-np.inf, high=np.inf):
        """One row of (factor, column) terms, repeated columns added up."""
        summed = defaultdict(float)
        for factor, column in terms:
            summed[column] += factor
        self.rows.append((summed, low, high))

    def least(self, seconds):
        """Values and cost of a proven optimum."""
        entries = [(i, j, v) for i, (row, _, _) in enumerate(self.rows) for j, v in row.items()]
        i, j, v = zip(*entries, strict=True)
        matrix = coo_array((v, (i, j)), shape=(len(self.rows), len(self.low))).tocsc()
        found = milp(
            np.array(self.cost),
            constraints=LinearConstraint(
                matrix, [low for _, low, _ in self.rows], [high for _, _, high in self.rows]
            ),
            integrality=np.array(self.whole, dtype=int),
            bounds=Bounds(self.low, self.high),
            options={"time_limit": seconds},
        )
        if found.status == 1:
            raise TimeoutError("no proven optimum in time")
        if found.status == 2:
            raise ValueError("no layout keeps all rules")
        return found.x, round(found.fun)


def fewest_panels(
    courses, rules=None, *, mitres=(), parted=0, count=("flat", "corner"), seconds=60.0
):
    """The least number of panels of the kinds in ``count`` over all layouts that keep the rules.

    ``courses`` are lists of runs from the bottom up, an empty one parting two walls; ``mitres`` are
    pairs of (course, run) whose right and left ends meet at a bay's corner; ``parted`` of them may
    have their two sides from two panels.

    Raises ValueError where no layout keeps all rules, TimeoutError where the search takes too long.
    """
    job = _Job(courses, rules or Rules(), mitres, count)
    if mitres:
        job.model.row([(1.0, column) for column in job.parted], high=parted)
    return job.model.least(seconds)[1]


class _Joint(NamedTuple):
    """A joint that a run may have: where it stands, and whether it is there, as sums of columns."""

    x: float
    terms: list
    there: list


class _Job:
    """The model of a job with its columns by run and part."""

    def __init__(self, courses, rules, mitres, count):
        self.rules, self.model = rules, _Model()
        self.price = {kind: float(kind in count) for kind in ("flat", "corner")}
        self.runs = {(c, r): run for c, row in enumerate(courses) for r, run in enumerate(row)}
        self.wall = list(itertools.accumulate(int(not row) for row in courses))
        self.chosen, self.length, self.inside = {}, {}, {}
        for at, run in self.runs.items():
            self._divide(at, run)
        self._cut(corner=False)
        self._cut(corner=True)
        self._halves_differ()
        for one, other in itertools.combinations(self.runs, 2):
            if other[0] == one[0] + 1:
                self._stand_apart(one, other)
        self._vary()
        self.parted = [self.model.column(0, 1, whole=True) for _ in mitres]
        for (one, other), parted in zip(mitres, self.parted, strict=True):
            self._share(one, other, parted)

    def _chosen(self, at, test):
        """Terms that add up to whether the way of a run passes the test."""
        return [(1.0, column) for way, column in self.chosen[at].items() if test(way)]

    def _free(self, key):
        """Terms for whether the run has the corner piece, its length free."""
        return self._chosen(key[0], lambda way: has(way, key[1]) and not way.is_alone)

    def _divide(self, at, run):
        """One way for each run; its pieces make up its length."""
        model, rules = self.model, self.rules
        self.chosen[at] = {
            way: model.column(0, 1, whole=True, cost=self.price["flat"] * way.whole)
            for way in ways(run, rules)
        }
        model.row([(1.0, column) for column in self.chosen[at].values()], 1, 1)
        sums = [(rules.panel * way.whole, column) for way, column in self.chosen[at].items()]
        least = min(rules.least, run.length)
        for part in PARTS:
            there = self._chosen(at, lambda way, part=part: has(way, part))
            if not there:
                continue
            most = min(run.length, rules.longest_corner if "C" in part else rules.panel)
            column = self.length[at, part] = model.column(0, most)
            model.row([(1.0, column), *[(-most, c) for _, c in there]], high=0)
            model.row([(1.0, column), *[(-least, c) for _, c in there]], low=0)
            sums.append((1.0, column))
        model.row(sums, run.length, run.length)

    def _cut(self, *, corner):
        """Which panel of a kind each part is cut from; a panel is known by its first part."""
        model, rules = self.model, self.rules
        parts = [key for key in self.length if ("C" in key[1]) == corner]
        size = rules.corner if corner else rules.panel
        price = self.price["corner" if corner else "flat"]
        whose, taken = defaultdict(list), defaultdict(list)
        for j, first in enumerate(parts):
            opened = model.column(0, 1, whole=True, cost=price)
            room, hands = [(-size - rules.kerf, opened)], defaultdict(list)
            for key in parts[j:]:
                is_in = opened if key == first else model.column(0, 1, whole=True)
                length = model.column(0, size)
                self.inside[key, first] = is_in
                model.row([(1.0, length), (-size, is_in)], high=0)
                model.row([(1.0, is_in), (-1.0, opened)], high=0)
                room += [(1.0, length), (rules.kerf, is_in)]
                hands[PARTS[key[1]]].append((1.0, is_in))
                whose[key].append((-1.0, is_in))
                taken[key].append((-1.0, length))
            model.row(room, high=0)
            for hand in ("left", "right"):
                if hands[hand]:
                    model.row([*hands[hand], (-1.0, opened)], high=0)
        for key in parts:
            there = self._chosen(key[0], lambda way, part=key[1]: has(way, part))
            model.row([*there, *whose[key]], 0, 0)
            model.row([(1.0, self.length[key]), *taken[key]], 0, 0)

    def _either(self, terms, apart, conditions, offset=0.0):
        """The sum of the terms and the offset is ``apart`` or more, or minus that or less, if all
        conditions, sums of columns that are 0 or 1, are 1."""
        far = 200.0
        side, free = self.model.column(0, 1, whole=True), far * len(conditions)
        met = [(-far, column) for condition in conditions for _, column in condition]
        self.model.row([*terms, (far, side), *met], low=apart - offset - free)
        reverse = [(-factor, column) for factor, column in terms]
        self.model.row([*reverse, (-far, side), *met], low=apart + offset - far - free)

    # ---------------------------------------------------------------- the rules

    def _joints(self, at):
        """Every joint that a run may have."""
        run, lengths = self.runs[at], {part: c for (a, part), c in self.length.items() if a == at}
        if "C<" in lengths:
            there = self._chosen(at, lambda way: way.left and not way.is_alone)
            yield _Joint(run.x0, [(1.0, lengths["C<"])], there)
        if "C>" in lengths:
            there = self._chosen(at, lambda way: way.right and bool(way.flat))
            yield _Joint(run.x1, [(-1.0, lengths["C>"])], there)
        begin = [(1.0, lengths[part]) for part in ("C<", "first") if part in lengths]
        for i in range(1 + max(way.whole for way in self.chosen[at])):
            there = self._chosen(at, lambda way, i=i: way.flat == "row" and way.whole >= i)
            if there:
                yield _Joint(run.x0 + i * self.rules.panel, begin, there)

    def _stand_apart(self, one, other):
        """Joints of adjacent courses (L3)."""
        for a, b in itertools.product(self._joints(one), self._joints(other)):
            reverse = [(-factor, column) for factor, column in b.terms]
            self._either(
                [*a.terms, *reverse], self.rules.stagger, [a.there, b.there], offset=a.x - b.x
            )

    def _vary(self):
        """Corner pieces that follow one another at an edge differ (L4)."""
        before = {}
        for key in self.length:
            (course, _), part = at, _ = key
            if "C" not in part:
                continue
            run = self.runs[at]
            edge = (self.wall[course], part, run.x0 if part == "C<" else run.x1)
            if edge in before:
                last = before[edge]
                self._either(
                    [(1.0, self.length[key]), (-1.0, self.length[last])],
                    self.rules.vary,
                    [self._free(key), self._free(last)],
                )
            before[edge] = key

    def _halves_differ(self):
        """The two pieces of a corner panel are unequal where both were free (L4)."""
        for one, other in itertools.product(self.length, self.length):
            if (one[1], other[1]) != ("C<", "C>"):
                continue
            both = self.model.column(0, 1)
            for panel in {first for _, first in self.inside}:
                pair = [self.inside.get((key, panel)) for key in (one, other)]
                if None not in pair:
                    self.model.row([(1.0, both), *[(-1.0, column) for column in pair]], low=-1)
            self._either(
                [(1.0, self.length[one]), (-1.0, self.length[other])],
                self.rules.unequal,
                [[(1.0, both)], self._free(one), self._free(other)],
            )

    def _share(self, one, other, parted):
        """The pieces on both sides of a mitre come from one panel (L13), unless it is parted."""
        sides = [(1.0, one, ("single", "last")), (-1.0, other, ("single", "first"))]
        for panel in {first for _, first in self.inside}:
            terms = [
                (sign, self.inside[(at, part), panel])
                for sign, at, parts in sides
                for part in parts
                if ((at, part), panel) in self.inside
            ]
            if terms:
                self.model.row([*terms, (-1.0, parted)], high=0)
                self.model.row([*terms, (1.0, parted)], low=0)
