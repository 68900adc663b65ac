"""What other places for the joints of a run cost in looks: the patterns that they would make.

Counted are joints in line with one two courses below or above, more where that stands in a ladder
already; the next step of a stair; corner pieces as long as those of the courses below and above
round the corner; joints in line with a jamb.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    LOOK_CORNER_COST,
    LOOK_EDGE_IN,
    LOOK_JAMB_COST,
    LOOK_LADDER_COST,
    LOOK_LINE_IN,
    LOOK_STAIR_COST,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.balancing.moves import Places
from dxf2veneer.planning.layout import LaidRun

Costs = NDArray[np.float64]
Corner = tuple[int, Side]
"""A corner piece: the position of its run, and its side."""


class _Near(NamedTuple):
    """The runs so many courses away that lie over or under a run."""

    below: tuple[tuple[int, ...], ...]
    """One, two, three and four courses below."""
    above: tuple[tuple[int, ...], ...]


class Pattern:
    """The patterns that the joints of a plan make; joints are read as they are moved."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        joints: Sequence[Sequence[float]],
        corner_pieces: Mapping[Corner, float],
        panel: float,
        vary: float,
    ) -> None:
        """The runs, the x of their joints and the lengths of their corner pieces, which change; a
        panel's length, and what corner pieces vary by, in inches."""
        self._laid, self._joints, self._corner_pieces = laid, joints, corner_pieces
        self._panel, self._vary = panel, vary
        self._near = list(_near(laid))
        self.second = [near.below[1] + near.above[1] for near in self._near]
        """For each run those two courses below and above."""
        self._round = _round_corners(laid)

    def costs(self, i: int, places: Places) -> Costs:
        """What each place of a run's joints costs.

        Args:
            i: Position of the run.
            places: Places for its joints.

        Returns:
            Costs in patterns, one joint in line being 1.
        """
        found = np.zeros(len(places.first))
        marks = [*self._in_line(i), *self._stairs(i), *self._jambs(i)]
        if marks:
            xs, costs = np.array(marks).T
            found += _met(self._laid[i], places, xs, self._panel) @ costs
        sides: tuple[tuple[Side, Costs], ...] = (("left", places.left), ("right", places.right))
        for side, lengths in sides:
            for other in self._round.get((i, side), ()):
                if other in self._corner_pieces:
                    is_near = abs(lengths - self._corner_pieces[other]) < self._vary
                    found += LOOK_CORNER_COST * is_near
        return found

    def below(self, i: int) -> tuple[int, ...]:
        """The runs two courses below a run."""
        return self._near[i].below[1]

    def repeats(self, i: int) -> bool:
        """Whether all joints of a run of three pieces and more stand over those two below."""
        run, xs = self._laid[i].run, sorted(self._joints[i])
        if len(xs) < 2:
            return False
        under = sorted(x for x in self._of(self.below(i)) if run.x0 < x < run.x1)
        return len(xs) == len(under) and all(
            abs(a - b) <= LOOK_LINE_IN for a, b in zip(xs, under, strict=True)
        )

    def _of(self, runs: Sequence[int]) -> list[float]:
        return [x for j in runs for x in self._joints[j]]

    def _in_line(self, i: int) -> Iterator[tuple[float, float]]:
        """Joints two courses away, and what it costs to stand in line with each."""
        for rows in self._near[i]:
            beyond = self._of(rows[3])
            for x in self._of(rows[1]):
                is_ladder = any(abs(x - far) <= LOOK_LINE_IN for far in beyond)
                yield x, 1.0 + LOOK_LADDER_COST * is_ladder

    def _stairs(self, i: int) -> Iterator[tuple[float, float]]:
        """Places where a joint would go on by the step of three courses beside it, and the cost."""
        reach = self._panel / 2.0 + LOOK_LINE_IN
        for rows in self._near[i]:
            first, second, third = (self._of(row) for row in rows[:3])
            for a, b in itertools.product(first, second):
                if LOOK_LINE_IN < abs(a - b) <= reach and any(
                    abs(2.0 * b - a - c) <= LOOK_LINE_IN for c in third
                ):
                    yield 2.0 * a - b, LOOK_STAIR_COST

    def _jambs(self, i: int) -> Iterator[tuple[float, float]]:
        """The uprights of openings that meet the run, and what it costs to stand in line."""
        for x in self._laid[i].run.notches:
            yield x, LOOK_JAMB_COST


def _met(one: LaidRun, places: Places, xs: Costs, panel: float) -> Costs:
    """How much a joint of each place stands in line with each x: 1 in line, 0 well apart."""
    off = xs - one.run.x0
    apart = np.full((len(places.first), len(xs)), panel)
    if places.first[0]:
        beyond = off - places.first[:, None]
        number = np.clip(np.rint(beyond / panel), 0, places.whole[:, None])
        apart = np.abs(beyond - number * panel)
    if places.left[0]:
        apart = np.minimum(apart, np.abs(off - places.left[:, None]))
    if places.right[0]:
        apart = np.minimum(apart, np.abs(one.run.length - places.right[:, None] - off))
    return np.clip((LOOK_LINE_IN + LOOK_EDGE_IN - apart) / LOOK_EDGE_IN, 0.0, 1.0)


def _near(laid: Sequence[LaidRun]) -> Iterator[_Near]:
    """For each run those of four courses below and above."""
    by_course: dict[tuple[str, int], list[int]] = defaultdict(list)
    for i, one in enumerate(laid):
        by_course[one.run.wall, one.run.course].append(i)
    for one in laid:
        sides = [
            tuple(
                tuple(
                    j
                    for j in by_course.get((one.run.wall, one.run.course + sign * n), ())
                    if laid[j].run.x0 < one.run.x1 and laid[j].run.x1 > one.run.x0
                )
                for n in range(1, 5)
            )
            for sign in (-1, 1)
        ]
        yield _Near(*sides)


def _round_corners(laid: Sequence[LaidRun]) -> dict[Corner, list[Corner]]:
    """For each corner piece those of the courses below and above round its corner."""
    placed: dict[tuple[str, int], list[Corner]] = defaultdict(list)
    for i, one in enumerate(laid):
        for side, edge in one.run.edges:
            if edge.corner and one.run.end(side) == "corner":
                placed[edge.corner, one.run.turn].append((i, side))
    return {
        corner: [*placed.get((name, turn - 1), ()), *placed.get((name, turn + 1), ())]
        for (name, turn), corners in placed.items()
        for corner in corners
    }
