"""The fewest panels of a small wall, proven, by an exact model: what the planner is measured
against.

Joints stand on a grid, so the answer is the least number of units of plans on that grid: no plan on
the grid has fewer, and a plan off the grid may. It is an upper bound of the true optimum, and
equals it where it meets a lower bound.

Every run is a network in which a plan is one path from its left to its right end:

    start --corner piece--> S --any part-----------------------------> E --corner piece--> end
                            S --first part--> J --whole--> J --last--> E

S, E: where the flat stretch begins and ends (a cut end may stand there); J: a joint of two factory
ends. A first part keeps its unit's right end, a last part the left, a single one neither; between
two joints only a whole panel fits. Joints of courses that follow one another are at least the
stagger apart, so of the joints of both within less than that there is one at most. Units are
counted by pattern: one left part, one right part and any others that fit with their cuts. All
lengths are in steps of the grid inside; HiGHS (through SciPy) finds and proves the least.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array


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


class Best(NamedTuple):
    """The proven best plan on the grid."""

    units: int
    flat: int
    corner: int
    cuts: int
    lengths: list
    """For every course and run the lengths of its pieces from the left."""


@dataclass(frozen=True)
class Rules:
    """Lengths and limits, in inches."""

    grid: float = 4.0
    panel: float = 36.0
    corner: float = 36.0
    kerf: float = 0.0
    stagger: float = 8.0
    least: float = 8.0
    unequal: float = 1.0
    vary: float = 1.0
    column: float = 16.0

    def steps(self, inches):
        """The length in steps of the grid."""
        steps = round(inches / self.grid)
        assert abs(steps * self.grid - inches) < 1e-9, f"{inches} is not on the grid of {self.grid}"
        return steps

    @property
    def longest_corner(self):
        return self.corner - self.least - self.kerf


class Part(NamedTuple):
    """A kind of part: of a flat or a corner unit, hand, length in steps, whether the length was
    free."""

    unit: str
    hand: str
    size: int
    free: bool = True


class Arc(NamedTuple):
    """One piece in one run: from a node to a node, nodes being (what, steps from the wall's
    left)."""

    run: tuple[int, int]
    tail: tuple[str, int]
    head: tuple[str, int]
    part: Part


def fewest_units(courses, **rules):
    """The least number of flat and corner units of a wall, its courses from the bottom up, on a
    grid.

    An empty course parts two walls: nothing has to stand apart across it.
    """
    return best_plan(courses, **rules).units


def best_plan(courses, *, cuts_per_panel=None, seconds=60.0, **rules):
    """The plan of fewest units, or of least units + cuts / cuts_per_panel where that is given."""
    rule = Rules(**rules)
    arcs = [
        a
        for c, course in enumerate(courses)
        for r, run in enumerate(course)
        for a in _arcs((c, r), run, rule)
    ]
    patterns = _patterns({a.part for a in arcs}, rule)
    model = _Model(len(arcs) + len(patterns))
    _paths(model, arcs)
    _stagger(model, arcs, len(courses), rule)
    _vary(model, arcs, courses, rule)
    _supply(model, arcs, patterns)
    cuts = [_cuts(p, rule) for p in patterns]
    worth = 1 / cuts_per_panel if cuts_per_panel else 0.0
    most = sum(int(run.length // rule.panel) + 4 for course in courses for run in course)
    values = model.least(
        [0.0] * len(arcs) + [1 + worth * n for n in cuts], 0.0 if worth else 0.99 / most, seconds
    )
    used = [round(v) for v in values[len(arcs) :]]
    assert sum(used) <= most  # so that a gap of 0.99 / most is less than one unit
    flat = sum(n for n, p in zip(used, patterns, strict=True) if p[0].unit == "flat")
    chosen = sorted(
        (a for a, v in zip(arcs, values, strict=False) if v > 0.5), key=lambda a: (a.run, a.tail[1])
    )
    lengths = [
        [[a.part.size * rule.grid for a in chosen if a.run == (c, r)] for r in range(len(course))]
        for c, course in enumerate(courses)
    ]
    return Best(
        sum(used),
        flat,
        sum(used) - flat,
        sum(n * c for n, c in zip(used, cuts, strict=True)),
        lengths,
    )


# ------------------------------------------------------------- the pieces


def _arcs(at, run, rule):
    """Every piece that could stand somewhere in a run."""
    x0, x1 = rule.steps(run.x0), rule.steps(run.x1)
    least = min(rule.steps(rule.least), x1 - x0)
    left, right = run.left == "corner", run.right == "corner"
    longest = int(rule.longest_corner / rule.grid + 1e-9)
    if left != right and x1 - x0 <= longest:
        hand = "left" if left else "right"
        yield Arc(at, ("start", x0), ("end", x1), Part("corner", hand, x1 - x0, free=False))
        if run.face <= rule.column:  # a narrow column (L12)
            return
    begins = [x0 + n for n in range(least, longest + 1) if x0 + n < x1] if left else [x0]
    ends = [x1 - n for n in range(least, longest + 1) if x0 < x1 - n] if right else [x1]
    for a in begins if left else ():
        yield Arc(at, ("start", x0), ("S", a), Part("corner", "left", a - x0))
        if right and a in ends:
            yield Arc(at, ("start", x0), ("E", a), Part("corner", "left", a - x0))
    for b in ends if right else ():
        yield Arc(at, ("E", b), ("end", x1), Part("corner", "right", x1 - b))
    begin, end = ("S" if left else "start"), ("E" if right else "end")
    yield from _flat_arcs(
        at, [(begin, a) for a in begins], [(end, b) for b in ends], least, rule.steps(rule.panel)
    )


def _flat_arcs(at, begins, ends, least, panel):
    joints = range(min(a for _, a in begins) + least, max(b for _, b in ends) - least + 1)
    for (begin, a), (end, b) in itertools.product(begins, ends):
        if least <= b - a <= panel:
            yield Arc(at, (begin, a), (end, b), Part("flat", "any", b - a))
    for j in joints:
        yield from (
            Arc(at, n, ("J", j), _sized("right", j - n[1], panel))
            for n in begins
            if least <= j - n[1] <= panel
        )
        yield from (
            Arc(at, ("J", j), n, _sized("left", n[1] - j, panel))
            for n in ends
            if least <= n[1] - j <= panel
        )
        if j + panel in joints:
            yield Arc(at, ("J", j), ("J", j + panel), Part("flat", "any", panel))


def _sized(hand, size, panel):
    return Part("flat", "any" if size == panel else hand, size)  # a whole panel has both its ends


# -------------------------------------------------------------- the units


def _patterns(parts, rule):
    """Every set of parts that one unit can be cut into, no two sets alike."""
    by = defaultdict(list)
    for part in sorted(parts):
        by[part.unit, part.hand].append(part)
    found = set()
    for unit, length in (("flat", rule.panel), ("corner", rule.corner)):
        capacity = rule.steps(length) + rule.steps(rule.kerf)
        for left, right in itertools.product([None, *by[unit, "left"]], [None, *by[unit, "right"]]):
            ends = [p for p in (left, right) if p]
            if (
                len(ends) == 2
                and unit == "corner"
                and left.free
                and right.free
                and abs(left.size - right.size) * rule.grid < rule.unequal
            ):
                continue
            found |= {
                tuple(p)
                for p in _filled(ends, by[unit, "any"], capacity, rule.steps(rule.kerf))
                if p
            }
    return sorted(found)


def _filled(chosen, others, capacity, kerf):
    """The chosen parts with every number of others that fits."""
    room = capacity - sum(p.size + kerf for p in chosen)
    if room < 0:
        return
    yield chosen
    for i, other in enumerate(others):
        yield from _filled([*chosen, other], others[i:], capacity, kerf)


def _cuts(pattern, rule):
    """Crosscuts to get the parts out: between them, and one more where something is left over."""
    length = rule.panel if pattern[0].unit == "flat" else rule.corner
    used = sum(p.size for p in pattern) * rule.grid + rule.kerf * (len(pattern) - 1)
    return len(pattern) - 1 + (used < length - 1e-9)


# -------------------------------------------------------------- the model


class _Model:
    """Rows of a linear model of whole numbers, each from low to high."""

    def __init__(self, columns):
        self.columns, self.rows, self.low, self.high = columns, [], [], []

    def add(self, row, low, high):
        """One row: column -> factor."""
        self.rows.append(row)
        self.low.append(low)
        self.high.append(high)

    def least(self, costs, gap, seconds):
        """The columns' values at least cost, proven to within a share of it; fails where it
        isn't."""
        entries = [(i, j, v) for i, row in enumerate(self.rows) for j, v in row.items()]
        i, j, v = zip(*entries, strict=True)
        matrix = coo_array((v, (i, j)), shape=(len(self.rows), self.columns)).tocsc()
        found = milp(
            np.array(costs),
            constraints=LinearConstraint(matrix, self.low, self.high),
            integrality=np.ones(self.columns),
            bounds=Bounds(0, np.inf),
            options={"time_limit": seconds, "mip_rel_gap": gap},
        )
        if found.status != 0:
            raise ValueError(f"no proven optimum: {found.message}")
        return found.x


def _paths(model, arcs):
    """One path through every run."""
    flow = defaultdict(Counter)
    for k, arc in enumerate(arcs):
        flow[arc.run, arc.tail][k] += 1
        flow[arc.run, arc.head][k] -= 1
    for (_, (what, _)), row in flow.items():
        needs = {"start": 1, "end": -1}.get(what, 0)
        model.add(row, needs, needs)


def _stagger(model, arcs, courses, rule):
    """Of the joints of two courses within less than the stagger, one at most."""
    joints = defaultdict(Counter)
    for k, arc in enumerate(arcs):
        if arc.head[0] != "end":
            joints[arc.run[0], arc.head[1]][k] = 1
    width = rule.steps(rule.stagger)
    places = sorted({x for _, x in joints})
    for c, x in itertools.product(range(courses - 1), places):
        below, above = (
            sum((joints[d, x + n] for n in range(width) if (d, x + n) in joints), Counter())
            for d in (c, c + 1)
        )
        if below and above:
            model.add(below + above, 0, 1)


def _vary(model, arcs, courses, rule):
    """Corner pieces that follow one another at an edge are of different length, unless one fills
    its run."""
    at_edge = defaultdict(lambda: defaultdict(Counter))
    for k, arc in enumerate(arcs):
        if arc.part.unit == "corner" and arc.part.free:
            x = arc.tail[1] if arc.part.hand == "left" else arc.head[1]
            at_edge[arc.part.hand, x][arc.run][arc.part.size] = (
                *at_edge[arc.part.hand, x][arc.run].get(arc.part.size, ()),
                k,
            )
    for by_run in at_edge.values():
        for one, other in itertools.pairwise(sorted(by_run)):
            for size, ks in by_run[one].items():
                near = [
                    k
                    for s, found in by_run[other].items()
                    if abs(s - size) * rule.grid < rule.vary
                    for k in found
                ]
                model.add(dict.fromkeys([*ks, *near], 1), 0, 1)


def _supply(model, arcs, patterns):
    """As many parts of each kind cut as laid."""
    rows = defaultdict(Counter)
    for k, arc in enumerate(arcs):
        rows[arc.part][k] -= 1
    for k, pattern in enumerate(patterns):
        for part in pattern:
            rows[part][len(arcs) + k] += 1
    for row in rows.values():
        model.add(row, 0, 0)
