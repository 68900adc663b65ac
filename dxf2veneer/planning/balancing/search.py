"""The plan with its joints moved, run by run, until all parts fit into fewer panels.

Every run is taken out in turn and put back where it costs least, by the prices that all the others
make (``needed``), with its joints apart from those below and above. Where most panels are needed
the price goes up from round to round. Then parts get panels, and exact lengths (``fitting``). It
goes by counts of rounds, never by the clock.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    BALANCE_MANY_TRIES,
    BALANCE_MOVES,
    BALANCE_PUSHES,
    BALANCE_ROUNDS,
    BALANCE_RUNS,
    BALANCE_TRIES,
    EXACT_IN,
    NOTCH_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.alike import twins_of
from dxf2veneer.planning.balancing.divided import (
    Division,
    Key,
    Shared,
    divisions_of,
    lost_of,
    neighbors_of,
)
from dxf2veneer.planning.balancing.fitting import Fitting
from dxf2veneer.planning.balancing.mitred import MitrePanels
from dxf2veneer.planning.balancing.moves import (
    Array,
    Choices,
    Counted,
    Places,
    distances,
    places_of,
    possible,
    shifted,
)
from dxf2veneer.planning.balancing.needed import NeededPanels, Ticks
from dxf2veneer.planning.balancing.pairing import Pairing
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.sections import edges_of
from dxf2veneer.planning.relaying.ways import HANDS, Name
from dxf2veneer.planning.sizes import LayingSizes


class _Known(NamedTuple):
    """The choices of a run while its division and the greatest lengths of its flat parts stay."""

    now: Division
    most: tuple[float, float]
    choices: Choices | None


class Balance:
    """A plan whose joints are moved."""

    def __init__(
        self, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
    ) -> None:
        """A plan as laid, all rules kept, with its panels."""
        self.laid, self.sizes = laid, sizes
        self.shared = Shared.of(laid, units, sizes)
        self.twins = twins_of(one.run for one in laid)
        self.divisions = divisions_of(laid, self.shared.still(laid), self.twins, sizes)
        again = {j for twins in self.twins.values() for j in twins}
        self.moved = [i for i in self.divisions if i not in again]
        """The runs that are moved, their twins with them."""
        self.mitred = MitrePanels(laid, self.divisions, self.shared, sizes)
        self.rows = self.mitred.rows(self.divisions, sizes)
        self.more: dict[Key, float] = {}
        self.beside: dict[Key, tuple[tuple[PartRef, ...], float]] = {}
        self.hands: dict[Key, Hand] = {}
        self.flat = NeededPanels(sizes.panel, sizes.kerf)
        self.corner = NeededPanels(sizes.corner, sizes.kerf)
        self._tries = BALANCE_MANY_TRIES if len(laid) <= BALANCE_RUNS else BALANCE_TRIES
        self._near = neighbors_of(laid, sizes.stagger)
        self._joints = [one.joints for one in laid]
        self._varied: dict[tuple[int, Side], list[int]] = {}
        for (_, side, _), runs in edges_of(laid).items():
            for i, j in itertools.pairwise(runs):
                self._varied.setdefault((i, side), []).append(j)
                self._varied.setdefault((j, side), []).append(i)
        self._corner_pieces = {
            (i, side): laid[i].lengths[0 if side == "left" else -1] for i, side in self._varied
        }
        self._raised: dict[int, list[tuple[Ticks, int]]] = {}
        """By run the counts that its parts raise."""
        self._known: dict[int, _Known] = {}
        self._longest: dict[Key, float] = {}
        self._known_beside: dict[int, list[float]] = {}
        self._count_all()

    def _count_all(self) -> None:
        """Put all parts of the plan into the counts."""
        for i, one in enumerate(self.laid):
            if i in self.divisions:
                self._name_parts(i, one)
                self._raised[i] = self._raised_by(i)
                self._put(i, 1)
                continue
            corners = {cut.piece: cut.hand for cut in one.cuts if cut.is_corner}
            for piece, length in enumerate(one.lengths):
                ref = PartRef(i, piece)
                if piece in corners:
                    self.corner.put(corners[piece], self.corner.ticks(length))
                elif ref in self.shared.whole:
                    self.flat.put("left", self.flat.room)
                elif ref in self.shared.hands:
                    _, more = self.shared.beside.get(ref, ((), 0.0))
                    self.flat.put(self.shared.hands[ref], self.flat.ticks(length + more))
        for _ in self.mitred.panels:
            self.flat.put("left", self.flat.room)

    def _name_parts(self, i: int, one: LaidRun) -> None:
        """Hands of a free run's flat parts, and what goes with them."""
        division = self.divisions[i]
        begin = int(division.left > 0.0)
        places: dict[Name, int] = {"single": begin}
        if division.first:
            places = {"first": begin, "last": begin + 1 + division.whole}
        for name, place in places.items():
            ref, hand = PartRef(i, place), HANDS[name]
            self.hands[i, name] = self.shared.hands.get(ref, "left" if hand == "any" else hand)
            if ref in self.shared.beside:
                self.beside[i, name] = self.shared.beside[ref]
                self.more[i, name] = self.shared.beside[ref][1]
            if lost := lost_of(self.laid, (i, name)):
                self.more[i, name] = self.more.get((i, name), 0.0) + lost

    def _raised_by(self, i: int) -> list[tuple[Ticks, int]]:
        """The counts that a free run's parts raise, and by how much."""
        division = self.divisions[i]
        found = [(self.flat.counts, division.whole)] if division.whole else []
        for name, length in division.parts(self.laid[i].run.length, self.sizes.panel):
            if name.startswith("corner"):
                found.append((self.corner.raised(HANDS[name], self.corner.ticks(length)), 1))
            elif (i, name) not in self.mitred.of:
                ticks = self.flat.ticks(length + self.more.get((i, name), 0.0))
                found.append((self.flat.raised(self.hands[i, name], ticks), 1))
        return found

    def _put(self, i: int, number: int) -> None:
        """Count a free run's parts, or take them away."""
        for counts, by in self._raised[i]:
            counts += number * by

    def pairing(self) -> Pairing:
        """The parts as they are now, put into panels."""
        return Pairing(
            self.laid,
            self.divisions,
            self.shared,
            self.hands,
            self.beside,
            self.mitred,
            self.sizes,
        )

    def fitted(
        self, most: int, second: Sequence[Sequence[int]] = (), apart: float = 0.0
    ) -> list[LaidRun] | None:
        """The runs with exact lengths and their panels.

        Args:
            most: How many panels there may be.
            second: For each run others whose joints keep ``apart`` from its own, by their x.
            apart: A distance in inches.

        Returns:
            The runs; None where they take more panels, or no lengths keep all rules.
        """
        pairing = self.pairing()
        if pairing.panels > most:
            return None
        near = [(self._near, self.sizes.stagger), (second, apart)][: 1 + bool(second)]
        rooms = list(pairing.rooms())
        program = Fitting(self.laid, self.divisions, self.twins, near, rooms, self.sizes)
        fitted = program.solve()
        return None if fitted is None else pairing.laid(*fitted)

    @property
    def panels(self) -> int:
        """Flat and corner panels that the parts need."""
        return self.flat.most + self.corner.most

    def run(self, enough: int) -> None:
        """Move the joints of all runs in turn, until as many panels are enough, or rounds end.

        Flat panels are dear from one below what they are now: each round is after that one.
        """
        fewest, best = self.panels, dict(self.divisions)
        most = BALANCE_MOVES // max(1, len(self.moved))
        rounds = min(max(most, BALANCE_ROUNDS[0]), BALANCE_ROUNDS[1])
        for turn in range(rounds):
            go_on()
            levels = max(self.flat.mean, self.flat.most - 1), self.corner.hands
            for i in self.moved:
                self._move(i, levels)
            if turn % BALANCE_PUSHES == BALANCE_PUSHES - 1:
                self._push_rows(levels)
            if self.panels < fewest:
                fewest, best = self.panels, dict(self.divisions)
            if fewest <= enough:
                break
            self.flat.weigh()
            if self.corner.most > self.corner.hands:
                self.corner.weigh()
        self.divisions = best

    def _move(self, i: int, levels: tuple[int, int]) -> None:
        """Move the joints of a run to where they cost least."""
        choices = self._choices_of(i)
        if choices:
            self._move_to(choices, levels)

    def _choices_of(self, i: int) -> Choices | None:
        """The places for the joints of a run where its parts fit."""
        now, (first, last) = self.divisions[i], self._flat_keys(i)
        most = self._most(first), self._most(last)
        known = self._known.get(i)
        if known is None or known.now != now or known.most != most:
            places = places_of(now, self.laid[i].run.length, self.sizes)
            choices = self._choices([(i, places)], possible(places, most, self.sizes))
            known = self._known[i] = _Known(now, most, choices)
        return known.choices

    def _push_rows(self, levels: tuple[int, int]) -> None:
        """Move the joints of runs that meet at mitres, from each run to both sides."""
        for row in self.rows:
            for n in range(len(row)):
                self._push(row[n:], -1.0, levels)
                self._push(row[n::-1], 1.0, levels)

    def _push(self, row: Sequence[int], sign: float, levels: tuple[int, int]) -> None:
        """Move the joints of runs that meet at mitres to where they cost least."""
        choices = self._pushed(row, sign)
        if choices:
            self._move_to(choices, levels)

    def _pushed(self, row: Sequence[int], sign: float) -> Choices | None:
        """The places for the joints of runs that meet at mitres, each moved by what its panel
        doesn't take up."""
        sizes, fits, by = self.sizes, np.array(True), distances(self.sizes.panel)
        moved = []
        lengths: dict[Key, Array] = {}
        for n, i in enumerate(row):
            if n:
                by = np.maximum(0.0, by - self.mitred.spare(row[n - 1], i, self.divisions))
            places = shifted(self.divisions[i], self.laid[i].run.length, sign * by, sizes)
            moved.append((i, places))
            first, last = self._flat_keys(i)
            most = sizes.panel - self.more.get(first, 0.0), sizes.panel - self.more.get(last, 0.0)
            fits = fits & possible(places, most, sizes)
            lengths[first], lengths[last] = places.first - places.left, places.last
        for panel in self.mitred.panels_of(row):
            whole = self.mitred.sum_of(panel, lengths, self.divisions)
            fits = fits & (whole <= panel.room + EXACT_IN)
        return self._choices(moved, fits)

    def _move_to(self, choices: Choices, levels: tuple[int, int]) -> None:
        """Move the joints of runs to those of their places that cost least together."""
        alike = [(i, places, (i, *self.twins.get(i, ()))) for i, places in choices.places]
        own = [j for _, _, twins in alike for j in twins]
        for j in own:
            self._put(j, -1)
        costs = self._costs(choices, levels)
        (cheaper,) = (costs < costs[0]).nonzero()
        if len(cheaper):
            order = cheaper[costs[cheaper].argsort(kind="stable")[: self._tries]]
            for k in order[choices.is_open[order]].tolist():
                found = [(twins, places.division(k)) for _, places, twins in alike]
                if all([self._is_allowed(twins[0], division) for twins, division in found]):
                    for twins, division in found:
                        for j in twins:
                            self._place(j, division)
                    break
                choices.is_open[k] = False
        for j in own:
            self._put(j, 1)

    def _costs(self, choices: Choices, levels: tuple[int, int]) -> NDArray[Any]:
        """What each of some places costs, their runs taken out of the counts."""
        return choices.costs(self.flat, self.corner, levels)

    def _place(self, i: int, division: Division) -> None:
        """Move a run's joints."""
        self.divisions[i] = division
        self._raised[i] = self._raised_by(i)
        self._joints[i] = division.joints(self.laid[i].run, self.sizes.panel)
        own = division.left, division.right
        self._corner_pieces[i, "left"], self._corner_pieces[i, "right"] = own
        beside = *self._varied.get((i, "left"), ()), *self._varied.get((i, "right"), ())
        for j in (*self._near[i], *beside):
            self._known_beside.pop(j, None)
            if (known := self._known.get(j)) is not None and known.choices is not None:
                known.choices.is_open.fill(True)

    def _flat_keys(self, i: int) -> tuple[Key, Key]:
        """The first and the last flat part of a run that are no whole panels."""
        return (i, "first"), (i, "last" if self.divisions[i].first else "single")

    def _most(self, key: Key) -> float:
        """The greatest length of a flat part."""
        if key in self.mitred.of:
            return self.mitred.most(key, self.divisions)
        if key not in self._longest:
            i, name = key
            more = [self.more.get((j, name), 0.0) for j in (i, *self.twins.get(i, ()))]
            self._longest[key] = self.sizes.panel - max(more)
        return self._longest[key]

    def _choices(
        self, moved: Sequence[tuple[int, Places]], fits: NDArray[np.bool_]
    ) -> Choices | None:
        """The places that fit, with the parts for which panels are looked for."""
        none = np.zeros(len(moved[0][1].last), dtype=np.int64)
        times = 1 + len(self.twins.get(moved[0][0], ()))
        found = Counted(none, none, none, none, none, times)
        for i, places in moved:
            first, last = self._flat_keys(i)
            found = found._replace(whole=found.whole + places.whole)
            if last not in self.mitred.of:
                ticks = self.flat.all_ticks(places.last + self.more.get(last, 0.0))
                found = found._replace(left=ticks)
            if places.first[0] and first not in self.mitred.of:
                length = places.first - places.left + self.more.get(first, 0.0)
                found = found._replace(right=self.flat.all_ticks(length))
            if places.left[0]:
                found = found._replace(corner_left=self.corner.all_ticks(places.left))
            if places.right[0]:
                found = found._replace(corner_right=self.corner.all_ticks(places.right))
        return Choices.of(moved, fits, found)

    def _is_allowed(self, i: int, division: Division) -> bool:
        """Whether joints keep apart from those beside them, and corner pieces vary."""
        run, sizes = self.laid[i].run, self.sizes
        sides: tuple[tuple[Side, float], ...] = ("left", division.left), ("right", division.right)
        for side, length in sides:
            for j in self._varied.get((i, side), ()):
                if abs(self._corner_pieces[j, side] - length) < sizes.vary - EXACT_IN:
                    return False
        if run.left == run.right == "corner" and not self._halves_differ(division):
            return False
        joints = division.joints(run, sizes.panel)
        for notch in run.notches:
            for x in joints:
                if NOTCH_IN < abs(x - notch) < sizes.strip:
                    return False
        return _are_apart(joints, self._beside(i), sizes.stagger - EXACT_IN)

    def _beside(self, i: int) -> list[float]:
        """The joints below and above a run, from the left; kept until one of them moves."""
        known = self._known_beside.get(i)
        if known is None:
            known = sorted(x for j in self._near[i] for x in self._joints[j])
            self._known_beside[i] = known
        return known

    def _halves_differ(self, division: Division) -> bool:
        """Whether both corner pieces of a run could come from one panel."""
        return abs(division.left - division.right) >= self.sizes.unequal - EXACT_IN


def _are_apart(joints: Sequence[float], others: Sequence[float], apart: float) -> bool:
    """Whether each joint stands apart from the nearest of others, which go from the left."""
    for x in joints:
        at = bisect_left(others, x)
        if at and x - others[at - 1] < apart:
            return False
        if at < len(others) and others[at] - x < apart:
            return False
    return True


def balanced(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes, *, enough: int
) -> list[LaidRun] | None:
    """A plan with its joints moved so that it takes fewer panels.

    Args:
        laid: The runs of a plan as laid, all rules kept; offcuts go from wall to wall.
        units: Its panels.
        sizes: Lengths and limits, in inches.
        enough: A number of panels that is as good as any.

    Returns:
        The runs as laid then, with the numbers of their panels; None where no way was found.
    """
    balance = Balance(laid, units, sizes)
    balance.run(enough)
    return balance.fitted(len(units))
