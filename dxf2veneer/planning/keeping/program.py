"""The fewest changed pieces over all runs: one way for each, by a mixed-integer program.

What it looks for: no rule broken that need not be, then the fewest pieces cut otherwise, added or
taken away, then the fewest parts that their panel has no room for. First every run has only the
ways that change one piece at most. A plan of those that breaks no rule is proved: a run that is not
as long as before changes one piece at least. Where rules are broken, runs about the place get all
their ways, over more and more courses.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    KEEP_BAY_REACH,
    KEEP_CORNER_COST,
    KEEP_NODES,
    KEEP_PANEL_COST,
    KEEP_PIECE_COST,
    KEEP_REACHES,
    KEEP_RULE_COST,
    KEEP_WAYS,
    SAW_FIT_IN,
)
from dxf2veneer.planning.keeping.bays import BayRows
from dxf2veneer.planning.keeping.before import OldRun
from dxf2veneer.planning.keeping.ways import Way, joints, wide_ways
from dxf2veneer.planning.relaying.program import Program
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

_TIE = 0.4
_HALF = 0.5
_MUCH = 1e4
"""More than the parts of a panel can be too long, in inches."""

Pair = tuple[int, int]


@dataclass(frozen=True)
class Kept:
    """Runs as measured with the runs before, and the ways known for each."""

    runs: Sequence[Run]
    old: Sequence[OldRun | None]
    sizes: LayingSizes
    fixed: frozenset[int]
    """Positions of runs that are laid already, or whose wall stays as it is."""

    def fewest(self, ways: Sequence[Sequence[Way]]) -> list[Way]:
        """One way for each run.

        Args:
            ways: The ways that change one piece at most, at least one for each run.

        Returns:
            The ways taken.
        """
        listed = [list(own) for own in ways]
        near, edges = list(self._near()), list(self._edges())
        bays = BayRows(self.runs, self.old, self.fixed, self.sizes)
        taken, broken = self._solved(listed, near, edges, bays)
        for reach in KEEP_REACHES:
            begun = self._amiss(taken, broken)
            if not begun:
                break
            wanted = bays.wanted(begun, near, min(reach, KEEP_BAY_REACH), taken)
            about = self._about(begun, near, reach)
            for i in sorted((about | set(wanted)) - self.fixed):
                if sum(map(len, listed)) > KEEP_WAYS:
                    break
                under = [x for j in _partners(i, near) for x in joints(self.runs[j], taken[j])]
                ends, few = wanted.get(i, ()), i in wanted
                more = wide_ways(self.runs[i], self.old[i], under, self.sizes, ends, few=few)
                listed[i] = _each_once([*listed[i], *more])
            taken, broken = self._solved(listed, near, edges, bays)
        return taken

    def _amiss(self, taken: Sequence[Way], broken: set[Pair]) -> set[int]:
        """Runs at which something is broken that was not before."""
        found = {i for i, way in enumerate(taken) if way.is_broken and i not in self.fixed}
        for i, j in broken:
            if taken[i].changed or taken[j].changed or {i, j} & self.fixed:
                found |= {i, j}
        return found - self.fixed

    def _about(self, begun: set[int], near: Sequence[Pair], reach: int) -> set[int]:
        found = set(begun)
        for _ in range(reach):
            found |= {j for pair in near if found & set(pair) for j in pair}
        return found

    def _near(self) -> Iterator[Pair]:
        """Runs of neighboring courses whose joints may be too near."""
        by_course: dict[tuple[str, int], list[int]] = defaultdict(list)
        for i, run in enumerate(self.runs):
            by_course[run.wall, run.course].append(i)
        reach = self.sizes.stagger
        for (wall, course), own in by_course.items():
            for i in own:
                for j in by_course.get((wall, course + 1), ()):
                    a, b = self.runs[i], self.runs[j]
                    if a.x0 < b.x1 + reach and b.x0 < a.x1 + reach:
                        yield i, j

    def _edges(self) -> Iterator[tuple[int, int, int]]:
        """Runs with successive corner pieces at one edge: the two, and the piece's place."""
        last: dict[tuple[str, str, float], int] = {}
        for i, run in enumerate(self.runs):
            for side, edge in run.edges:
                if run.end(side) != "corner":
                    continue
                key = run.wall, side, edge.x
                if key in last:
                    yield last[key], i, 0 if side == "left" else -1
                last[key] = i

    # ------------------------------------------------------------ the program

    def _solved(
        self,
        ways: Sequence[Sequence[Way]],
        near: Sequence[Pair],
        edges: Sequence[tuple[int, int, int]],
        bays: BayRows,
    ) -> tuple[list[Way], set[Pair]]:
        """The ways taken, and pairs of runs between which a rule is broken."""
        program = Program()
        columns = [[program.switch(_cost(way)) for way in own] for own in ways]
        for own in columns:
            program.row([(1.0, c) for c in own], low=1.0, high=1.0)
        places = [[joints(run, w) for w in own] for run, own in zip(self.runs, ways, strict=True)]
        least, vary = self.sizes.stagger - EXACT_IN, self.sizes.vary - EXACT_IN
        spare: dict[Pair, list[int]] = defaultdict(list)

        def apart(i: int, j: int, clash: Sequence[tuple[int, list[int]]]) -> None:
            if not clash:
                return
            spare[i, j].append(program.switch(KEEP_RULE_COST))
            for a, others in clash:
                terms = [(1.0, columns[i][a]), *((1.0, columns[j][b]) for b in others)]
                program.row([*terms, (-1.0, spare[i, j][-1])], high=1.0)

        for i, j in near:
            apart(i, j, list(_clashes(places[i], places[j], least)))
        for i, j, end in edges:
            clash = [
                (a, [b for b, other in enumerate(ways[j]) if _alike(way, other, end, vary)])
                for a, way in enumerate(ways[i])
            ]
            apart(i, j, [(a, others) for a, others in clash if others])
        for row in bays.rows:
            for i, j in pairwise(row):
                apart(i, j, list(self._parted(i, j, ways[i], ways[j])))
                spare[i, j] = spare[i, j] or [program.switch(KEEP_RULE_COST)]
            self._hold_narrow(program, row, ways, columns, spare)
        self._hold_panels(program, ways, columns)
        program.tell_apart(_TIE)
        values, _ = program.least(KEEP_NODES)
        if values is None:  # no end in sight: the first way of each
            return [own[0] for own in ways], set()
        taken = [
            next(w for w, c in zip(own, cs, strict=True) if values[c] > _HALF)
            for own, cs in zip(ways, columns, strict=True)
        ]
        return taken, {p for p, cs in spare.items() if any(values[c] > _HALF for c in cs)}

    def _parted(
        self, i: int, j: int, lefts: Sequence[Way], rights: Sequence[Way]
    ) -> Iterator[tuple[int, list[int]]]:
        """Ways of the run left of a mitred corner with those right of it that leave its two sides
        no room in one panel (rule L13)."""
        lost = self.runs[i].lost[1] + self.runs[j].lost[0]
        room = self.sizes.panel - self.sizes.kerf - lost + SAW_FIT_IN
        for a, way in enumerate(lefts):
            others = [
                b for b, other in enumerate(rights) if way.lengths[-1] + other.lengths[0] > room
            ]
            if others:
                yield a, others

    def _hold_narrow(
        self,
        program: Program,
        row: Sequence[int],
        ways: Sequence[Sequence[Way]],
        columns: Sequence[Sequence[int]],
        spare: dict[Pair, list[int]],
    ) -> None:
        """A face of one piece and the sides of both its corners fit into one panel, or one of them
        is parted (L13)."""
        kerf, far = self.sizes.kerf, 4.0 * self.sizes.panel
        for before, i, after in zip(row, row[1:], row[2:], strict=False):
            alone = [c for way, c in zip(ways[i], columns[i], strict=True) if len(way.lengths) == 1]
            if not alone:
                continue
            own = [self.runs[k].lost for k in (before, i, after)]
            lost = own[0][1] + sum(own[1]) + own[2][0]
            rights, lefts = (
                [(way.lengths[end], c) for way, c in zip(ways[k], columns[k], strict=True)]
                for k, end in ((before, -1), (after, 0))
            )
            parted = [(-far, spare[pair][-1]) for pair in ((before, i), (i, after))]
            room = self.sizes.panel - 2.0 * kerf - lost - self.runs[i].length + SAW_FIT_IN
            served = [(far, column) for column in alone]
            program.row([*rights, *lefts, *parted, *served], high=room + far)

    def _hold_panels(
        self,
        program: Program,
        ways: Sequence[Sequence[Way]],
        columns: Sequence[Sequence[int]],
    ) -> None:
        """What the parts of a panel take fits into it, or something is taken out."""
        parts: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for i, old in enumerate(self.old):
            for k, part in enumerate(old.parts if old else ()):
                parts[part.stock].append((i, k))
        sizes = self.sizes
        for owned in parts.values():
            if all(len(ways[i]) == 1 and not ways[i][0].changed for i, _ in owned):
                continue
            first = self.old[owned[0][0]]
            assert first is not None
            is_corner = first.parts[owned[0][1]].unit == "corner"
            room = (sizes.corner if is_corner else sizes.panel) + sizes.kerf + SAW_FIT_IN
            out = program.switch(KEEP_PANEL_COST)
            program.row([*self._taken(owned, ways, columns), (-_MUCH, out)], high=room)
            if is_corner and len(owned) == 2 and owned[0][0] != owned[1][0]:
                self._keep_unequal(program, ways, columns, owned, out)

    def _taken(
        self,
        owned: Sequence[tuple[int, int]],
        ways: Sequence[Sequence[Way]],
        columns: Sequence[Sequence[int]],
    ) -> list[tuple[float, int]]:
        """What some parts take of their panel, each with a saw cut."""
        return [
            (way.lengths[way.old.index(k)] + self.sizes.kerf, column)
            for i, k in owned
            for way, column in zip(ways[i], columns[i], strict=True)
            if k in way.old
        ]

    def _keep_unequal(
        self,
        program: Program,
        ways: Sequence[Sequence[Way]],
        columns: Sequence[Sequence[int]],
        owned: Sequence[tuple[int, int]],
        out: int,
    ) -> None:
        """The two halves of a corner panel differ, or one is taken out."""
        (i, k), (j, m) = owned
        for way, column in zip(ways[i], columns[i], strict=True):
            terms = [
                (1.0, other)
                for way2, other in zip(ways[j], columns[j], strict=True)
                if not is_unequal(way, k, way2, m, self.sizes)
            ]
            if terms:
                program.row([(1.0, column), *terms, (-1.0, out)], high=1.0)


def is_unequal(one: Way, k: int, other: Way, m: int, sizes: LayingSizes) -> bool:
    """Whether two halves of a corner panel may be cut from it (rule L4).

    Args:
        one: How the run of the first is laid.
        k: Its place in the run before.
        other: How the run of the second is laid.
        m: Its place.
        sizes: Lengths and limits, in inches.

    Returns:
        Whether they differ enough, or one fills its run.
    """
    if k not in one.old or m not in other.old or 1 in (len(one.lengths), len(other.lengths)):
        return True
    a, b = one.lengths[one.old.index(k)], other.lengths[other.old.index(m)]
    return abs(a - b) >= sizes.unequal - EXACT_IN


def _cost(way: Way) -> float:
    return (
        KEEP_PIECE_COST * way.changed
        + KEEP_CORNER_COST * way.corners
        + KEEP_RULE_COST * way.is_broken
    )


def _clashes(
    lower: Sequence[Sequence[float]], upper: Sequence[Sequence[float]], least: float
) -> Iterator[tuple[int, list[int]]]:
    """Ways of the lower run with those of the upper that have a joint too near."""
    for a, xs in enumerate(lower):
        others = [
            b for b, us in enumerate(upper) if any(abs(x - u) < least for x in xs for u in us)
        ]
        if others:
            yield a, others


def _alike(one: Way, other: Way, end: int, vary: float) -> bool:
    """Whether successive corner pieces do not vary (rule L4)."""
    is_free = len(one.lengths) > 1 or len(other.lengths) > 1
    return is_free and abs(one.lengths[end] - other.lengths[end]) < vary


def _partners(i: int, near: Sequence[Pair]) -> Iterator[int]:
    for a, b in near:
        if i == a:
            yield b
        elif i == b:
            yield a


def _each_once(ways: Sequence[Way]) -> list[Way]:
    found: Mapping[tuple[float, ...], Way] = {
        tuple(round(n, 6) for n in way.lengths): way for way in reversed(ways)
    }
    return list(found.values())[::-1]
