"""Walls whose courses run together, and what each shift of their course lines counts for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.config.job import Courses, Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.bands import CLEAN_IN, EQUAL_IN, meetings, starter_height
from dxf2veneer.model import Corner, Wall, WallQuantities
from dxf2veneer.units import MM_PER_INCH

Score = tuple[int, int, int, int]
"""Walls whose starter is out of range, slivers, pieces to rip, strips: less is better, in this order."""


@dataclass(frozen=True)
class Group:
    """Walls that share one shift, and what their course lines meet: one entry of each array a meeting."""

    walls: tuple[WallQuantities, ...]
    rule: Courses
    height: float
    step: float
    """A round number of inches or millimetres: multiples of it read well."""
    y: NDArray[np.float64]
    is_head: NDArray[np.bool_]
    pieces: NDArray[np.int64]
    owner: NDArray[np.int64]

    @property
    def ids(self) -> tuple[str, ...]:
        """The walls' ids."""
        return tuple(w.wall.id for w in self.walls)

    @property
    def is_free(self) -> bool:
        """Whether every wall hangs on a level line, so that the lines repeat after a course."""
        return all(w.wall.level_y is not None for w in self.walls)

    @property
    def range(self) -> tuple[float, float]:
        """Least and greatest shift looked at."""
        if self.is_free:
            half = self.height / 2 + 2 * CLEAN_IN
            return self.rule.shift - half, self.rule.shift + half
        return 0.0, self.rule.highest - self.rule.clearance

    def starters(self, start: float) -> list[float]:
        """Height of each wall's starter above its base."""
        rule = replace(self.rule, start=start)
        bases = [w.wall.box[1] for w in self.walls]
        return [
            starter_height(b, w.wall.level_y, self.height, rule)[0] - b
            for w, b in zip(self.walls, bases, strict=True)
        ]

    def starter(self, start: float) -> float:
        """Height of the starter above the lowest base."""
        lowest = min(range(len(self.walls)), key=lambda i: self.walls[i].wall.box[1])
        return self.starters(start)[lowest]

    def is_same(self, one: float, other: float) -> bool:
        """Whether two starts put every starter at the same height: a course apart, with level lines."""
        return all(
            abs(a - b) <= CLEAN_IN
            for a, b in zip(self.starters(one), self.starters(other), strict=True)
        )

    def scores(self, starts: Sequence[float]) -> list[Score]:
        """The score of each start."""
        return [
            s for at in range(0, len(starts), 1000) for s in self._scores(starts[at : at + 1000])
        ]

    def _scores(self, starts: Sequence[float]) -> list[Score]:
        above_base = np.array([self.starters(s) for s in starts]).reshape(
            len(starts), len(self.walls)
        )
        low, high = self.rule.clearance - CLEAN_IN, self.rule.highest + CLEAN_IN
        outside = ((above_base < low - EQUAL_IN) | (above_base > high + EQUAL_IN)).sum(axis=1)
        bases = np.array([w.wall.box[1] for w in self.walls])
        above = self.y - (bases + above_base)[:, self.owner]
        into = np.mod(above, self.height)
        off = (above > -CLEAN_IN) & (np.minimum(into, self.height - into) > CLEAN_IN)
        strip = np.where(self.is_head, self.height - into, into)
        slivers = (off & (strip < self.rule.sliver - EQUAL_IN)).sum(axis=1)
        ripped = (off * self.pieces).sum(axis=1)
        return [
            (int(a), int(b), int(c), int(d))
            for a, b, c, d in zip(outside, slivers, ripped, off.sum(axis=1), strict=True)
        ]


def group_of(walls: Sequence[WallQuantities], job: Job, product: Product) -> Group:
    """The walls with all that their course lines can meet."""
    met = [(i, m) for i, w in enumerate(walls) for m in meetings(w, job, product)]
    return Group(
        walls=tuple(walls),
        rule=replace(job.courses, start=job.courses.shift),
        height=product.panel.height,
        step=1 / MM_PER_INCH if job.output.display == "metric" else 1 / 16,
        y=np.array([m.y for _, m in met], dtype=np.float64),
        is_head=np.array([m.what == "head" for _, m in met], dtype=np.bool_),
        pieces=np.array(
            [max(1, math.ceil((m.x1 - m.x0) / product.panel.length - EQUAL_IN)) for _, m in met],
            dtype=np.int64,
        ),
        owner=np.array([i for i, _ in met], dtype=np.int64),
    )


def groups(walls: Sequence[Wall], corners: Sequence[Corner]) -> tuple[tuple[str, ...], ...]:
    """Ids of walls whose courses run together: tied by one level line, joined at a corner, or through
    others; in the walls' order."""
    leader = {w.id: w.id for w in walls}

    def first(wall: str) -> str:
        while leader[wall] != wall:
            wall = leader[wall]
        return wall

    ties = [[wall for wall, _ in corner.edges] for corner in corners]
    ties += [
        [w.id for w in walls if (w.drawing, w.level_y) == (o.drawing, o.level_y)]
        for o in walls
        if o.level_y is not None
    ]
    for tied in ties:
        for wall in tied[1:]:
            leader[first(wall)] = first(tied[0])
    heads = dict.fromkeys(first(w.id) for w in walls)
    return tuple(tuple(w.id for w in walls if first(w.id) == head) for head in heads)
