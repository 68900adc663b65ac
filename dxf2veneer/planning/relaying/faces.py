"""A job of column faces laid anew: where the joint of every course stands, for the whole job.

Each run has a corner at one end, and is one corner piece or a corner piece and a flat piece:

    |   flat   | corner |     course i + 1     joints of neighbors keep the stagger (L3), corner
    | corner |   flat   |     course i         pieces at an edge vary (L4)

One length c tells how a run is laid, 0 for a corner piece alone. How many panels some lengths take
is soon counted: a corner panel gives one piece of each hand, and flat pieces with two cut ends go
into panels like bins. So the lengths are found by threshold accepting: one run after another gets
another length that its neighbors allow, and keeps it unless the plan gets worse by more than a
threshold that sinks to nothing (G. Dueck, T. Scheuer, Threshold accepting, Journal of Computational
Physics 90, 1990). Chance comes from a generator with a seed, and all costs are whole numbers: the
same drawing gives the same plan.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left, insort
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from dxf2veneer.basics.tolerances import (
    BALANCE_TICK_IN,
    EXACT_IN,
    FACE_ALIKE,
    FACE_STARTS,
    FACE_STEPS,
    FACE_THRESHOLD,
)
from dxf2veneer.planning.alike import twins_of
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.run_kinds import is_one_corner_piece
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.sections import edges_of
from dxf2veneer.planning.sizes import LayingSizes

_PANEL, _NEAR = 1000, 100
"""Cost of a panel; the most that two corner pieces cost that are just too long for one."""
_BEGINNINGS = 200
"""How often lengths are chosen by chance until all of them have a place."""
_PARTNERS = 4
"""Runs looked at for a length that fits into a panel with theirs."""
Lengths = dict[int, int]
"""By the position of a run the ticks of its corner piece, 0 where that fills it."""


@dataclass(frozen=True)
class _Face:
    """A run, with those that are laid like it: how many; lengths and places in ticks."""

    number: int
    is_left: bool
    low: float
    high: float
    """Where its left and right ends are."""
    whole: int
    """Its length, rounded up."""
    may_be_alone: bool
    least: int
    most: int
    """Of a corner piece with a flat piece beside it; the least is above the most where there is
    none."""

    @classmethod
    def of(cls, one: LaidRun, number: int, sizes: LayingSizes) -> _Face:
        """A run looked at."""
        run, m = one.run, one.run.length
        may_be_alone = m <= sizes.longest_corner + EXACT_IN
        least = max(sizes.least, m - sizes.panel)
        most = min(sizes.longest_corner, m - sizes.least)
        is_divided = least <= most + EXACT_IN and not is_one_corner_piece(run, sizes)
        return cls(
            number,
            run.left == "corner",
            run.x0 / BALANCE_TICK_IN,
            run.x1 / BALANCE_TICK_IN,
            _up(m),
            may_be_alone,
            _up(least) if is_divided else 1,
            _down(most) if is_divided else 0,
        )

    def place(self, corner: float) -> float:
        """The place of its joint, or from that the length of its corner piece."""
        return self.low + corner if self.is_left else self.high - corner

    def corner_at(self, place: float) -> float:
        """The length of the corner piece that puts the joint there."""
        return place - self.low if self.is_left else self.high - place


def _up(inches: float) -> int:
    return math.ceil((inches - EXACT_IN) / BALANCE_TICK_IN)


def _down(inches: float) -> int:
    return math.floor((inches + EXACT_IN) / BALANCE_TICK_IN)


class Faces:
    """The faces of a job, all of whose runs have a corner at one end and at most one flat piece."""

    def __init__(
        self, laid: Sequence[LaidRun], twins: Mapping[int, tuple[int, ...]], sizes: LayingSizes
    ) -> None:
        """The runs of a plan as laid, and by the position of a run those that are laid like it."""
        self.laid, self.twins, self.sizes = laid, twins, sizes
        again = {j for twins in self.twins.values() for j in twins}
        heads = [i for i in range(len(laid)) if i not in again]
        self.faces = {i: _Face.of(laid[i], 1 + len(self.twins.get(i, ())), sizes) for i in heads}
        self.free = [i for i, face in self.faces.items() if face.least <= face.most]
        self.beside = self._beside(heads)
        self.varied = self._varied()
        self.corner = _down(sizes.corner - sizes.kerf)
        self.panel, self.kerf = _down(sizes.panel + sizes.kerf), _up(sizes.kerf)
        self.stagger, self.vary, self.unequal = map(_up, (sizes.stagger, sizes.vary, sizes.unequal))

    def _beside(self, heads: Sequence[int]) -> dict[int, list[int]]:
        """The runs of the courses below and above each."""
        by_course: dict[tuple[str, int], list[int]] = defaultdict(list)
        for i in heads:
            by_course[self.laid[i].run.wall, self.laid[i].run.course].append(i)
        return {
            i: [
                j
                for by in (-1, 1)
                for j in by_course.get((self.laid[i].run.wall, self.laid[i].run.course + by), ())
            ]
            for i in heads
        }

    def _varied(self) -> dict[int, list[int]]:
        """The runs before and after each at its edge."""
        found: dict[int, list[int]] = {i: [] for i in self.faces}
        for runs in edges_of(self.laid).values():
            for i, j in itertools.pairwise(runs):
                if i in found and j in found:
                    found[i].append(j)
                    found[j].append(i)
        return found

    def now(self) -> Lengths | None:
        """The lengths as laid, or next to them where those are between two ticks."""

        def nearest(i: int, spans: Sequence[tuple[int, int]]) -> int | None:
            lengths, is_left = self.laid[i].lengths, self.faces[i].is_left
            at = _down(lengths[0 if is_left else -1])
            if len(lengths) == 1:
                return 0
            ends = (min(max(at, low), high) for low, high in spans)
            return min(ends, key=lambda n: abs(n - at), default=None)

        return self._one_by_one(nearest)

    def by_chance(self, chance: Random) -> Lengths | None:
        """Lengths by chance; None where none were found that keep the rules."""

        def any_of(i: int, spans: Sequence[tuple[int, int]]) -> int | None:
            if self.faces[i].may_be_alone and (not spans or chance.randrange(2)):
                return 0
            if not spans:
                return None
            low, high = chance.choice(spans)
            return chance.choice((low, high, chance.randint(low, high)))

        tried = (self._one_by_one(any_of) for _ in range(_BEGINNINGS))
        return next((found for found in tried if found is not None), None)

    def _one_by_one(
        self, choose: Callable[[int, Sequence[tuple[int, int]]], int | None]
    ) -> Lengths | None:
        """Lengths chosen from the bottom up, each where those below allow it; None where one has
        no place."""
        found: Lengths = {}
        for i in self.faces:
            chosen = choose(i, self._spans(i, found))
            if chosen is None:
                return None
            found[i] = chosen
        return found

    def _spans(self, i: int, lengths: Mapping[int, int]) -> list[tuple[int, int]]:
        """From where to where the corner piece of a run may reach beside the others."""
        face, taken = self.faces[i], []
        for j in self.beside[i]:
            if lengths.get(j):
                at = face.corner_at(self.faces[j].place(lengths[j]))
                apart = self.stagger - EXACT_IN
                taken.append((math.floor(at - apart) + 1, math.ceil(at + apart) - 1))
        for j in self.varied[i]:
            if n := lengths.get(j):
                taken.append((n - self.vary + 1, n + self.vary - 1))
        found, at = [], face.least
        for low, high in sorted(taken):
            if low > at:
                found.append((at, min(low - 1, face.most)))
            at = max(at, high + 1)
        found.append((at, face.most))
        return [(low, high) for low, high in found if low <= high]

    def cost(self, lengths: Lengths) -> int:
        """Panels, and what they are short of one fewer."""
        left: list[tuple[int, bool]] = []
        right: list[tuple[int, bool]] = []
        flats: list[int] = []
        for i, corner in lengths.items():
            face = self.faces[i]
            piece = corner or face.whole, corner > 0
            (left if face.is_left else right).extend([piece] * face.number)
            if corner:
                flats += [face.whole - corner + self.kerf] * face.number
        pairs, short = self._pairs(sorted(left), sorted(right, reverse=True))
        rooms: list[int] = []
        for n in sorted(flats, reverse=True):  # best fit decreasing
            at = bisect_left(rooms, n)
            insort(rooms, (rooms.pop(at) if at < len(rooms) else self.panel) - n)
        short -= rooms[-1] // 10 if rooms else 0
        return _PANEL * (len(left) + len(right) - pairs + len(rooms)) + short

    def _pairs(
        self, left: list[tuple[int, bool]], right: list[tuple[int, bool]]
    ) -> tuple[int, int]:
        """How many pairs the corner pieces make, and by how much others are too long.

        The longest right one that fits goes with the shortest left one, which makes the most; where
        the two are too much alike (L4), with the next. Of each piece it is known whether it was cut
        at choice.
        """
        pairs = short = 0
        for n, is_free in right:
            at = pairs
            while (
                at < len(left) and is_free and left[at][1] and abs(n - left[at][0]) < self.unequal
            ):
                at += 1
            if at == len(left):
                continue
            over = n + left[at][0] - self.corner
            if over <= 0:
                left[pairs], left[at] = left[at], left[pairs]
                pairs += 1
            else:
                short += min(over, _NEAR)
        return pairs, short

    def _others(self, i: int, lengths: Lengths, chance: Random) -> list[int]:
        """Other lengths for a run: limits, chance, and what fills a panel with parts of others."""
        face, spans = self.faces[i], self._spans(i, lengths)
        found = [0] if face.may_be_alone else []
        for low, high in spans:
            found += [low, high, chance.randint(low, high)]
        room, rests = self.panel, []
        for j in chance.sample(list(self.faces), min(_PARTNERS, len(self.faces))):
            other = self.faces[j]
            if other.is_left != face.is_left:
                rests.append(self.corner - (lengths[j] or other.whole))
            if lengths[j]:
                room -= other.whole - lengths[j] + self.kerf
                rests.append(face.whole - (room - self.kerf))
        found += [n for n in rests if any(low <= n <= high for low, high in spans)]
        return found

    def better(self, lengths: Lengths, chance: Random) -> tuple[int, Lengths]:
        """The cheapest lengths found from some others on, with what they cost."""
        now, cost = dict(lengths), self.cost(lengths)
        best = cost, dict(now)
        worse = FACE_THRESHOLD * (FACE_ALIKE if self.twins else 1)
        for left in range(FACE_STEPS, 0, -1):
            i = chance.choice(self.free)
            others, old = self._others(i, now, chance), now[i]
            if not others:
                continue
            now[i] = chance.choice(others)
            after = self.cost(now) if now[i] != old else cost
            if after > cost + worse * left // FACE_STEPS:
                now[i] = old
                continue
            cost = after
            if cost < best[0]:
                best = cost, dict(now)
        return best

    def layout(self, lengths: Lengths) -> list[LaidRun]:
        """The runs with corner pieces of these lengths, every part in a panel of its own."""
        found = list(self.laid)
        number = itertools.count()
        for head, corner in lengths.items():
            for i in (head, *self.twins.get(head, ())):
                run, is_left = self.laid[i].run, self.faces[head].is_left
                hand: Hand = "left" if is_left else "right"
                own = [corner * BALANCE_TICK_IN] if corner else [run.length]
                cuts = [Cut(0, hand, next(number), True)]
                if corner:
                    own.append(run.length - own[0])
                    cuts.append(Cut(1, "any", next(number), False))
                if not is_left:
                    own.reverse()
                    cuts = [c._replace(piece=len(own) - 1 - c.piece) for c in reversed(cuts)]
                found[i] = LaidRun(run, tuple(own), tuple(cuts))
        return found


def is_of_faces(laid: Sequence[LaidRun], sizes: LayingSizes) -> bool:
    """Whether all runs of a plan have a corner at one end and one flat piece at most.

    Args:
        laid: The runs as laid.
        sizes: Lengths and limits, in inches.

    Returns:
        Whether the plan can be laid anew by ``faces_anew``.
    """
    longest = sizes.longest_corner + sizes.panel + EXACT_IN
    return all(
        {one.run.left, one.run.right} == {"corner", "plain"}
        and len(one.lengths) <= 2
        and one.run.length <= longest
        and not one.run.notches
        for one in laid
    )


def faces_anew(laid: Sequence[LaidRun], sizes: LayingSizes) -> Iterator[list[LaidRun]]:
    """The runs of a job of column faces laid anew, in several ways that take few panels.

    Args:
        laid: The runs of a plan as laid, all rules kept; see ``is_of_faces``.
        sizes: Lengths and limits, in inches.

    Yields:
        The runs as laid then, every part in a panel of its own, to be packed.
    """
    faces = Faces(laid, twins_of(one.run for one in laid), sizes)
    if not faces.free:
        return
    alike = faces if faces.twins else Faces(laid, _equal_faces(laid), sizes)
    for seed in range(FACE_STARTS):
        chance = Random(seed)
        begin = faces.now() if seed % 2 else alike.by_chance(chance)
        if begin is None:
            continue
        if not seed % 2 and alike.twins and alike is not faces:
            found = alike.better(begin, chance)[1]
            begin = {j: found[i] for i in found for j in (i, *alike.twins.get(i, ()))}
        yield faces.layout(faces.better(begin, chance)[1])


def _equal_faces(laid: Sequence[LaidRun]) -> dict[int, tuple[int, ...]]:
    """By the position of a run those of equal faces: laid alike at first, they take few panels
    sooner."""
    by_wall: dict[str, list[int]] = defaultdict(list)
    for i, one in enumerate(laid):
        by_wall[one.run.wall].append(i)
    firsts: dict[tuple[tuple[int, float, float, str], ...], list[int]] = {}
    found: dict[int, tuple[int, ...]] = defaultdict(tuple)
    for own in by_wall.values():
        runs = [laid[i].run for i in own]
        begin = min(run.x0 for run in runs)
        key = tuple(
            (run.course, round(run.x0 - begin, 4), round(run.x1 - begin, 4), run.left)
            for run in runs
        )
        for i, j in zip(firsts.setdefault(key, own), own, strict=True):
            if i != j:
                found[i] += (j,)
    return dict(found)
