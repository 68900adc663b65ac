"""The program of a section: every layout of its free runs, as rows and columns.

Discrete are the ways to divide a run, the panel of each part, and on which side of one another two
joints stand; lengths are free, so that no grid limits them.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.model import Side
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.program import Program, Term
from dxf2veneer.planning.relaying.sections import Room, Stock, edges_of, relaid, rooms_of
from dxf2veneer.planning.relaying.ways import HANDS, Name, Way, ways_of
from dxf2veneer.planning.sizes import LayingSizes


class _Joint(NamedTuple):
    """A joint that a run may have: its place and whether it is there, as sums of columns, and
    between which places it lies."""

    x: float
    terms: tuple[Term, ...]
    there: tuple[Term, ...]
    span: tuple[float, float]


Key = tuple[int, Name]
"""A part: the position of its run, and its name."""


class JointsProgram:
    """The program of the joints of some free runs of a plan: how each is divided, and how its
    joints keep apart from those beside it."""

    def __init__(self, laid: Sequence[LaidRun], free: Sequence[int], sizes: LayingSizes) -> None:
        """A way for each run; ``free`` are the positions of the runs to lay anew."""
        self.laid, self.free, self.sizes = laid, sorted(free), sizes
        self.program = Program()
        self.chosen: dict[int, dict[Way, int]] = {}
        self.length: dict[Key, int] = {}
        for i in self.free:
            self._divide(i)

    # ------------------------------------------------------------ columns

    def _of(self, i: int, test: Callable[[Way], bool]) -> tuple[Term, ...]:
        """Terms that add up to whether the way of a run passes the test."""
        return tuple((1.0, column) for way, column in self.chosen[i].items() if test(way))

    def _divide(self, i: int) -> None:
        """One way for the run; its pieces make up its length."""
        run, sizes, program = self.laid[i].run, self.sizes, self.program
        self.chosen[i] = {way: program.switch(cost=float(way.whole)) for way in ways_of(run, sizes)}
        program.row([(1.0, column) for column in self.chosen[i].values()], 1.0, 1.0)
        total = [(sizes.panel * way.whole, c) for way, c in self.chosen[i].items() if way.whole]
        least = min(sizes.least, run.length)
        for name in HANDS:
            there = self._of(i, lambda way, name=name: way.has(name))  # type: ignore[misc]
            if not there:
                continue
            longest = sizes.longest_corner if name.startswith("corner") else sizes.panel
            most = min(run.length, longest)
            column = self.length[i, name] = program.column(0.0, most)
            program.row([(1.0, column), *[(-most, c) for _, c in there]], high=0.0)
            program.row([(1.0, column), *[(-least, c) for _, c in there]], low=0.0)
            total.append((1.0, column))
        program.row(total, run.length, run.length)

    def _either(
        self,
        terms: Sequence[Term],
        apart: float,
        conditions: Sequence[Sequence[Term]],
        offset: float,
        span: tuple[float, float],
    ) -> None:
        """Terms and offset make ``apart`` or more, or minus that or less, if all conditions, sums
        that are 0 or 1, are 1; their sum then lies within ``span``."""
        low, high = span
        if low >= apart - EXACT_IN or high <= EXACT_IN - apart:
            return
        far = apart + abs(offset) + sum(abs(f) * self.program.high(c) for f, c in terms)
        met = [(-far, column) for condition in conditions for _, column in condition]
        spare = far * len(conditions)
        reverse = [(-f, c) for f, c in terms]
        if high < apart - EXACT_IN:
            self.program.row([*reverse, *met], low=apart + offset - spare)
        elif low > EXACT_IN - apart:
            self.program.row([*terms, *met], low=apart - offset - spare)
        else:
            side, up, down = self.program.switch(), apart - low, apart + high
            self.program.row([*terms, (up, side), *met], low=apart - offset - spare)
            self.program.row([*reverse, (-down, side), *met], low=apart + offset - down - spare)

    # ------------------------------------------------------------ rules

    def _joints(self, i: int) -> Iterator[_Joint]:
        """Every joint that a free run may have."""
        run, least, panel = self.laid[i].run, self.sizes.least, self.sizes.panel
        low, high = run.x0 + least, run.x1 - least
        longest = self.sizes.longest_corner
        left, right = self.length.get((i, "corner left")), self.length.get((i, "corner right"))
        if left is not None and (there := self._of(i, lambda w: w.left and not w.is_alone)):
            yield _Joint(run.x0, ((1.0, left),), there, (low, min(high, run.x0 + longest)))
        if right is not None and (there := self._of(i, lambda w: w.right and bool(w.flat))):
            yield _Joint(run.x1, ((-1.0, right),), there, (max(low, run.x1 - longest), high))
        first = self.length.get((i, "first"))
        begin = tuple((1.0, column) for column in (left, first) if column is not None)
        reach = panel + (longest if left is not None else 0.0)
        for n in range(1 + max(way.whole for way in self.chosen[i])):
            if there := self._of(i, lambda w, n=n: w.flat == "row" and w.whole >= n):  # type: ignore[misc]
                x = run.x0 + n * panel
                yield _Joint(x, begin, there, (x + least * len(begin), min(high, x + reach)))

    def keep_apart(self) -> None:
        """Joints of adjacent courses stand apart (L3), and leave no narrow leg at an opening."""
        by_course: dict[tuple[str, int], list[int]] = defaultdict(list)
        for i, one in enumerate(self.laid):
            by_course[one.run.wall, one.run.course].append(i)
        own = {i: list(self._joints(i)) for i in self.free}
        for i in self.free:
            run = self.laid[i].run
            for other in by_course.get((run.wall, run.course - 1), ()):
                for a, b in itertools.product(own[i], own.get(other, ())):
                    terms = [*a.terms, *[(-f, c) for f, c in b.terms]]
                    span = (a.span[0] - b.span[1], a.span[1] - b.span[0])
                    self._either(terms, self.sizes.stagger, [a.there, b.there], a.x - b.x, span)
            beside = [*by_course.get((run.wall, run.course - 1), ())]
            beside += by_course.get((run.wall, run.course + 1), ())
            fixed = [x for o in beside if o not in own for x in self.laid[o].joints]
            places = [(x, self.sizes.stagger) for x in fixed]
            places += [(x, self.sizes.strip) for x in run.notches if not self._is_met(i, x)]
            for joint, (x, reach) in itertools.product(own[i], places):
                span = (joint.span[0] - x, joint.span[1] - x)
                self._either(joint.terms, reach, [joint.there], joint.x - x, span)

    def _is_met(self, i: int, notch: float) -> bool:
        """Whether a joint stands at an opening's side, or near it, already."""
        return any(abs(x - notch) < self.sizes.strip for x in self.laid[i].joints)


class SectionProgram(JointsProgram):
    """The program of some free runs of a plan, with their panels."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        stock: Stock,
        free: Sequence[int],
        sizes: LayingSizes,
    ) -> None:
        """All rules as rows; ``free`` are the positions of the runs to lay anew."""
        super().__init__(laid, free, sizes)
        self.stock = stock
        self.inside: dict[tuple[Key, object], int] = {}
        rooms = list(rooms_of(stock, frozenset(free), sizes))
        for is_corner in (False, True):
            own = [room for room in rooms if room.is_corner == is_corner]
            self._cut(
                [k for k in self.length if k[1].startswith("corner") == is_corner], own, is_corner
            )
        self._halves_differ(rooms)
        self.keep_apart()
        self._vary()

    def _cut(self, parts: Sequence[Key], rooms: Sequence[Room], is_corner: bool) -> None:
        """What each part is cut from: room in a panel, or a new one known by its first part."""
        program, sizes = self.program, self.sizes
        size = sizes.corner if is_corner else sizes.panel
        whose: dict[Key, list[Term]] = defaultdict(list)
        taken: dict[Key, list[Term]] = defaultdict(list)

        def fill(place: object, keys: Sequence[Key], room: float, opened: int | None) -> None:
            used: list[Term] = [] if opened is None else [(-room, opened)]
            hands: dict[Hand, list[Term]] = defaultdict(list)
            for key in keys:
                is_first = opened is not None and key == keys[0]
                switch = opened if is_first and opened is not None else program.switch()
                most = min(size, room - sizes.kerf)
                length = program.column(0.0, most)
                self.inside[key, place] = switch
                program.row([(1.0, length), (-most, switch)], high=0.0)
                if opened is not None and not is_first:
                    program.row([(1.0, switch), (-1.0, opened)], high=0.0)
                used += [(1.0, length), (sizes.kerf, switch)]
                hands[HANDS[key[1]]].append((1.0, switch))
                whose[key].append((-1.0, switch))
                taken[key].append((-1.0, length))
            program.row(used, high=0.0 if opened is not None else room)
            for hand in ("left", "right"):
                if len(hands[hand]) > 1:
                    program.row(hands[hand], high=1.0)

        for room in rooms:
            keys = [key for key in parts if HANDS[key[1]] in room.hands]
            if keys:
                fill(room.number, keys, room.length, None)
        for j, first in enumerate(parts):
            fill(first, parts[j:], size + sizes.kerf, program.switch(cost=1.0))
        for key in parts:
            there = self._of(key[0], lambda way, key=key: way.has(key[1]))  # type: ignore[misc]
            program.row([*there, *whose[key]], 0.0, 0.0)
            program.row([(1.0, self.length[key]), *taken[key]], 0.0, 0.0)

    def _vary(self) -> None:
        """Corner pieces that follow one another at an edge differ, unless both fill their runs."""
        for (_, side, _), runs in edges_of(self.laid).items():
            for i, j in itertools.pairwise(runs):
                if i in self.chosen or j in self.chosen:
                    self._differ(i, j, side)

    def _differ(self, i: int, j: int, side: Side) -> None:
        """The corner pieces of two runs differ in length."""
        name: Name = "corner left" if side == "left" else "corner right"
        terms: list[Term] = []
        offset, divided = 0.0, []
        for sign, k in ((1.0, i), (-1.0, j)):
            if k in self.chosen:
                terms.append((sign, self.length[k, name]))
                condition = self._of(k, lambda w: not w.is_alone)
                if len(condition) == len(self.chosen[k]):
                    condition = ()
                elif not condition:
                    continue
                divided.append(condition)
            else:
                one = self.laid[k]
                offset += sign * (one.lengths[0] if side == "left" else one.lengths[-1])
                if len(one.lengths) > 1:
                    divided.append(())
        span = (-self.sizes.corner, self.sizes.corner)
        for condition in [()] if () in divided else divided:
            self._either(terms, self.sizes.vary, [condition] if condition else [], offset, span)

    def _halves_differ(self, rooms: Sequence[Room]) -> None:
        """The two pieces of a corner panel are unequal where both were free (L4)."""
        halves = {room.number: room.half for room in rooms if room.half is not None}
        names = [key for key in self.length if key[1].startswith("corner")]
        free = {k: self._of(k[0], lambda w: not w.is_alone) for k in names}
        span = (-self.sizes.corner, self.sizes.corner)
        for (key, place), switch in self.inside.items():
            if isinstance(place, int) and place in halves and free.get(key):
                conditions = [((1.0, switch),), free[key]]
                terms = [(1.0, self.length[key])]
                self._either(terms, self.sizes.unequal, conditions, -halves[place], span)
        for one, other in itertools.product(names, names):
            if (one[1], other[1]) != ("corner left", "corner right"):
                continue
            if not free[one] or not free[other]:
                continue
            both = self.program.column(0.0, 1.0)
            for place in names:
                pair = [self.inside.get((key, place)) for key in (one, other)]
                switches = [column for column in pair if column is not None]
                if len(switches) == 2:
                    self.program.row([(1.0, both), *[(-1.0, c) for c in switches]], low=-1.0)
            terms = [(1.0, self.length[one]), (-1.0, self.length[other])]
            conditions = [((1.0, both),), free[one], free[other]]
            self._either(terms, self.sizes.unequal, conditions, 0.0, span)

    # ------------------------------------------------------------ the way back

    def layout(self, values: Sequence[float]) -> dict[int, LaidRun]:
        """The free runs as the program's values lay them; panels numbered anew."""
        new: dict[object, int] = {}
        found = {}
        fresh = 1 + max([number for number, _ in self.stock.parts.values()], default=0)
        for i in self.free:
            way = max(self.chosen[i], key=lambda w: values[self.chosen[i][w]])
            lengths, places = self._pieces(i, way, values)
            cuts = []
            for n, name in places:
                place = max(
                    (p for (key, p) in self.inside if key == (i, name)),
                    key=lambda p: values[self.inside[(i, name), p]],
                )
                number = (
                    place if isinstance(place, int) else new.setdefault(place, fresh + len(new))
                )
                cuts.append(Cut(n, HANDS[name], number, name.startswith("corner")))
            found[i] = relaid(self.laid[i], lengths, cuts, self.sizes)
        return found

    def _pieces(
        self, i: int, way: Way, values: Sequence[float]
    ) -> tuple[list[float], list[tuple[int, Name]]]:
        """The lengths of a run's pieces, and which of them are parts of shared panels."""
        names = [name for name in HANDS if way.has(name)]
        exact = {name: round(values[self.length[i, name]], 6) for name in names}
        rest = self.laid[i].run.length - way.whole * self.sizes.panel
        close = "last" if "last" in names else "single" if "single" in names else names[-1]
        exact[close] = rest - sum(n for name, n in exact.items() if name != close)
        lengths: list[float] = []
        places = []
        for name in names:
            if name == "last":
                lengths += [self.sizes.panel] * way.whole
            places.append((len(lengths), name))
            lengths.append(exact[name])
        return lengths, places
