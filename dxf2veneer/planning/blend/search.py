"""Which color each panel has: shares first, then spread.

In the order of laying each panel takes the color that its walls lack most and that lies farthest
from it (what is off is carried on, as in error diffusion). Then panels change colors, each with one
near by or by itself, as long as that lowers the cost:

    cost = pushes between panels of one color (``near``)
         + for every wall and color: what its area is off its share, in panels, squared; much more
           beyond half a panel
         + the same for the flat and for the corner panels of the job, from half a panel on

A color belongs to a panel, so that its offcuts carry it wherever they go.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    BLEND_EVEN_COST,
    BLEND_LEAST_GAIN,
    BLEND_OFF,
    BLEND_OFF_COST,
    BLEND_SWEEPS,
    BLEND_TRIES,
)
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import PieceUnit, StockUnit, WallTakeoff
from dxf2veneer.planning.blend.near import Near, Spot, near_of, spots_of

_KINDS: tuple[PieceUnit, ...] = ("flat", "corner")

Change = tuple[int, int]
"""A panel, and the color it gets."""


def with_colors(
    walls: Sequence[WallTakeoff],
    units: Sequence[StockUnit],
    first: Mapping[str, str],
    job: Job,
    product: Product,
    kept: Mapping[str, str] = MappingProxyType({}),
) -> tuple[StockUnit, ...]:
    """The panels with their colors.

    Args:
        walls: The walls with their pieces.
        units: The panels that they are cut from.
        first: By the id of each wall the first of those that it rises together with.
        job: The job, which may give walls shares of their own.
        product: Colors, and sizes in inches.
        kept: By the id of a panel the color that it has already.

    Returns:
        The panels in the same order; as they are where the product has no colors.
    """
    names = [c.name for c in product.blend.colors]
    if not names or not units:
        return tuple(units)
    face = product.coverage_area
    spots = spots_of(walls, units, face)
    usual = [product.blend.shares[name] for name in names]
    near = near_of(walls, spots, len(units), usual, face, product.panel.thickness)
    shares = [product.blend.shares_on((w.wall.id, w.wall.name), job.plan.blend) for w in walls]
    wanted = np.array([list(own.values()) for own in shares])
    fixed = {u: names.index(kept[x.id]) for u, x in enumerate(units) if kept.get(x.id) in names}
    choice = _Choice(units, spots, near, wanted, fixed, face=face)
    choice.lay(_order(walls, spots, first, len(units)))
    choice.mend()
    return tuple(replace(unit, color=names[c]) for unit, c in zip(units, choice.color, strict=True))


def _order(
    walls: Sequence[WallTakeoff], spots: Sequence[Spot], first: Mapping[str, str], units: int
) -> list[int]:
    """The panels in the order in which their first pieces are laid."""
    group = {wall.wall.id: n for n, wall in reversed(list(enumerate(walls)))}
    when: dict[int, tuple[int, int, int, float]] = {}
    for spot in spots:
        wall = walls[spot.wall]
        together = group[first.get(wall.wall.id, wall.wall.id)]
        key = together, wall.courses.rise + spot.piece.course, spot.wall, spot.piece.x0
        when[spot.unit] = min(when.get(spot.unit, key), key)
    return sorted(range(units), key=lambda u: (when[u], u))


class _Choice:
    """Colors of panels while they are chosen."""

    def __init__(
        self,
        units: Sequence[StockUnit],
        spots: Sequence[Spot],
        near: Near,
        wanted: NDArray[np.float64],
        fixed: Mapping[int, int],
        *,
        face: float,
    ) -> None:
        """The panels, their pieces, how near these lie, by wall and color the wanted share, and
        by panel the color that stays."""
        self._fixed = fixed
        self._near, self._walls = near, len(wanted)
        colors = wanted.shape[1]
        self.color = [-1] * len(units)
        self._beside = np.zeros((len(units), colors))
        """By panel and color what the panels near it push, if it had that color."""
        self._off = np.zeros((len(wanted) + len(_KINDS), colors))
        """By wall, then by kind of panel, and color: panels more than the share."""
        on: list[dict[int, float]] = [defaultdict(float) for _ in units]
        for spot in spots:
            on[spot.unit][spot.wall] += spot.faces
        self._books: list[list[tuple[int, float, NDArray[np.float64]]]] = []
        """Of each panel the rows of ``_off`` that it counts in, by how much, and what it owes."""
        for unit, own in zip(units, on, strict=True):
            owed = sum((faces * wanted[w] for w, faces in own.items()), np.zeros(colors))
            kind = self._walls + _KINDS.index(unit.kind)
            self._books.append(
                [(w, faces, faces * wanted[w]) for w, faces in own.items()]
                + [(kind, 1.0, owed / sum(own.values()))]
            )

    # ------------------------------------------------------------ in order

    def lay(self, order: Sequence[int]) -> None:
        """A first color for each panel, in that order."""
        for u in order:
            for row, _, owed in self._books[u]:
                self._off[row] -= owed
            costs = [
                self._beside[u, c] + self._cost_off([(u, c)]) for c in range(self._beside.shape[1])
            ]
            self._take((u, self._fixed.get(u, int(np.argmin(np.round(costs, 9))))))

    def _take(self, change: Change) -> None:
        """Give a panel a color."""
        u, c = change
        row = self._row(u)
        others, old = self._near.others[row], self.color[u]
        for color, sign in ((old, -1.0), (c, 1.0)):
            if color >= 0:
                self._beside[others, color] += sign * self._near.push[color, row]
                for book, amount, _ in self._books[u]:
                    self._off[book, color] += sign * amount
        self.color[u] = c

    def _row(self, u: int) -> slice:
        return slice(int(self._near.first[u]), int(self._near.first[u + 1]))

    def _cost_off(self, changes: Sequence[Change]) -> float:
        """What changes cost in shares that are off; below 0 where they gain."""
        moved: dict[tuple[int, int], float] = defaultdict(float)
        for u, c in changes:
            for row, amount, _ in self._books[u]:
                moved[row, c] += amount
                if self.color[u] >= 0:
                    moved[row, self.color[u]] -= amount
        return sum(
            self._price(row, self._off[row, c] + by) - self._price(row, self._off[row, c])
            for (row, c), by in moved.items()
        )

    def _price(self, row: int, off: float) -> float:
        """What a share costs that is off by so many panels."""
        beyond = max(0.0, abs(off) - BLEND_OFF)
        even = BLEND_EVEN_COST * off * off if row < self._walls else 0.0
        return float(even + BLEND_OFF_COST * beyond * beyond)

    # ----------------------------------------------------------- exchanges

    def mend(self) -> None:
        """Exchange colors while that lowers the cost."""
        todo = set(range(len(self.color))) - set(self._fixed)
        for _ in range(BLEND_SWEEPS):
            again: set[int] = set()
            for u in sorted(todo):
                best = self._best(u)
                for change in best:
                    self._take(change)
                for v, _ in best:
                    again |= {v, *self._near.others[self._row(v)].tolist()}
            if not again:
                return
            todo = again - set(self._fixed)

    def _best(self, u: int) -> tuple[Change, ...]:
        """The changes that lower the cost most; none where none does."""
        least = -BLEND_LEAST_GAIN
        best: tuple[Change, ...] = ()
        for spread, changes in self._ways(u):
            cost = spread + self._cost_off(changes)
            if cost < least - BLEND_LEAST_GAIN:
                least, best = cost, changes
        return best

    def _ways(self, u: int) -> Iterator[tuple[float, tuple[Change, ...]]]:
        """Another color for a panel, or that of one near by, and what it costs in pushes."""
        a = self.color[u]
        for c in range(self._beside.shape[1]):
            if c != a:
                yield float(self._beside[u, c] - self._beside[u, a]), ((u, c),)
        row = self._row(u)
        others = self._near.others[row]
        theirs = np.array([self.color[v] for v in others], dtype=np.int64)
        push = self._near.push[:, row]
        costs = (
            self._beside[u, theirs]
            - self._beside[u, a]
            + self._beside[others, a]
            - self._beside[others, theirs]
            - push[a]
            - push[theirs, np.arange(len(others))]
        )
        costs[theirs == a] = np.inf
        costs[[int(v) in self._fixed for v in others]] = np.inf
        for n in np.argsort(np.round(costs, 9), kind="stable")[:BLEND_TRIES]:
            if costs[n] < np.inf:
                yield float(costs[n]), ((u, int(theirs[n])), (int(others[n]), a))
