"""Walls whose courses run together, and what each shift of their course lines counts for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import (
    HEIGHT_ROUNDING_IN,
    LINE_MEETS_IN,
    START_STEP_IN,
    STARTS_AT_ONCE,
)
from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.meetings import meetings
from dxf2veneer.coursing.starter import starter_height
from dxf2veneer.model import Corner, Wall, WallQuantities

Score = tuple[int, int, int, int]
"""Walls whose starter is out of range, slivers, pieces to rip, strips: less is better, in this
order."""


@dataclass(frozen=True)
class CourseGroup:
    """Walls that share one shift, and what their course lines meet. Lengths in inches."""

    walls: tuple[str, ...]
    """Their ids."""
    bases: tuple[float, ...]
    """Lowest height of each wall's outline."""
    levels: tuple[float | None, ...]
    """Height of each wall's level line, None without one."""
    shift: float
    """The present start."""
    clearance: float
    """Least height of a starter above its base."""
    highest: tuple[float, ...]
    """Greatest height of each wall's starter above its base. Where the job names none, it is no
    less than where the starter stands at the present start, which is thus always in range."""
    sliver: float
    """A strip lower than this is a sliver."""
    height: float
    """Height of a course."""
    step: float
    """Multiples of it read well: a round number of inches or millimeters."""
    y: NDArray[np.float64]
    """Height of each head, sill, top or cap; the next three arrays go with it."""
    is_head: NDArray[np.bool_]
    """Whether it is a head, over which the strip lies."""
    pieces: NDArray[np.int64]
    """Least number of pieces of a strip at it, in panel lengths."""
    owner: NDArray[np.int64]
    """Index of its wall."""

    @property
    def is_free(self) -> bool:
        """Whether every wall hangs on a level line, so that the lines repeat after a course."""
        return None not in self.levels

    @property
    def range(self) -> tuple[float, float]:
        """Least and greatest shift looked at."""
        if self.is_free:
            half = self.height / 2 + 2 * LINE_MEETS_IN
            return self.shift - half, self.shift + half
        on_base = [h for h, level in zip(self.highest, self.levels, strict=True) if level is None]
        return 0.0, max(on_base) - self.clearance

    def starters(self, start: float) -> list[float]:
        """Height of each wall's starter above its base."""
        return [
            starter_height(base, level, self.height, self.clearance, start)[0] - base
            for base, level in zip(self.bases, self.levels, strict=True)
        ]

    def starter(self, start: float) -> float:
        """Height of the starter above the lowest base."""
        return self.starters(start)[self.bases.index(min(self.bases))]

    def over_line(self, wall: int) -> float:
        """Height through which a wall's course lines run at a shift of 0, by its index."""
        level = self.levels[wall]
        return self.bases[wall] + self.clearance if level is None else level

    def is_same(self, one: float, other: float) -> bool:
        """Whether two starts put every starter at the same height: a course apart, with levels."""
        return all(
            abs(a - b) <= LINE_MEETS_IN
            for a, b in zip(self.starters(one), self.starters(other), strict=True)
        )

    def scores(self, starts: Sequence[float]) -> list[Score]:
        """The score of each start."""
        chunks = range(0, len(starts), STARTS_AT_ONCE)
        return [s for at in chunks for s in self._scores(starts[at : at + STARTS_AT_ONCE])]

    def _scores(self, starts: Sequence[float]) -> list[Score]:
        rows = [self.starters(s) for s in starts]
        above_base = np.array(rows).reshape(len(starts), len(self.walls))
        low, high = self.clearance - LINE_MEETS_IN, np.array(self.highest) + LINE_MEETS_IN
        outside = (above_base < low - HEIGHT_ROUNDING_IN) | (above_base > high + HEIGHT_ROUNDING_IN)
        above = self.y - (np.array(self.bases) + above_base)[:, self.owner]
        into = np.mod(above, self.height)
        off = (above > -LINE_MEETS_IN) & (np.minimum(into, self.height - into) > LINE_MEETS_IN)
        strip = np.where(self.is_head, self.height - into, into)
        slivers = off & (strip < self.sliver - HEIGHT_ROUNDING_IN)
        counts = (outside.sum(axis=1), slivers.sum(axis=1), (off * self.pieces).sum(axis=1))
        return [
            (int(a), int(b), int(c), int(d))
            for a, b, c, d in zip(*counts, off.sum(axis=1), strict=True)
        ]


def course_groups(
    measured: Sequence[WallQuantities], corners: Sequence[Corner], job: Job, product: Product
) -> tuple[CourseGroup, ...]:
    """The groups of walls whose courses run together, each with all that its lines can meet.

    Args:
        measured: The walls with their openings and veneer.
        corners: Corners that join walls.
        job: Present start, permitted range, sliver limit; its units decide which starts read well.
        product: Height of a course, length of a panel.

    Returns:
        One group for each set of tied walls, in the walls' order.
    """
    by_id = {m.wall.id: m for m in measured}
    return tuple(
        _group([by_id[i] for i in ids], job, product)
        for ids in walls_together([m.wall for m in measured], corners)
    )


def _group(walls: Sequence[WallQuantities], job: Job, product: Product) -> CourseGroup:
    """The walls with all that their course lines can meet."""
    met = [(i, m) for i, w in enumerate(walls) for m in meetings(w, job, product)]
    length, clearance = product.panel.length, _clearance([w.wall for w in walls], job)
    pieces = [max(1, math.ceil((m.x1 - m.x0) / length - HEIGHT_ROUNDING_IN)) for _, m in met]
    return CourseGroup(
        walls=tuple(w.wall.id for w in walls),
        bases=tuple(w.wall.box[1] for w in walls),
        levels=tuple(w.wall.level_y for w in walls),
        shift=job.courses.shift,
        clearance=clearance,
        highest=tuple(_highest(w.wall, clearance, job, product) for w in walls),
        sliver=job.courses.sliver,
        height=product.panel.height,
        step=1 / MM_PER_INCH if job.output.display == "metric" else START_STEP_IN,
        y=np.array([m.y for _, m in met], dtype=np.float64),
        is_head=np.array([m.what == "head" for _, m in met], dtype=np.bool_),
        pieces=np.array(pieces, dtype=np.int64),
        owner=np.array([i for i, _ in met], dtype=np.int64),
    )


def _highest(wall: Wall, clearance: float, job: Job, product: Product) -> float:
    """Greatest height of a wall's starter above its base: as the job says, else a little over the
    clearance, or where it stands at the present start."""
    courses, base = job.courses, wall.box[1]
    most = clearance + courses.highest - courses.clearance
    if courses.clearance_most is not None:
        return most
    height = product.panel.height
    stands, _ = starter_height(base, wall.level_y, height, clearance, courses.shift)
    return max(most, stands - base)


def _clearance(walls: Sequence[Wall], job: Job) -> float:
    """The clearance of walls whose courses run together. Raises SettingsError where they have
    different ones."""
    found = {w.id: job.clearance_of(w.id, w.name) for w in walls}
    if len(set(found.values())) > 1:
        place = job.origin_of("walls.treatments").place(folders=True)
        raise SettingsError(message("clearances-differ", place=place, walls=tuple(found)))
    return found[walls[0].id]


def walls_together(walls: Sequence[Wall], corners: Sequence[Corner]) -> tuple[tuple[str, ...], ...]:
    """Walls whose courses run together: on one level line, joined at a corner, or through others.

    Args:
        walls: The walls.
        corners: Corners that join them.

    Returns:
        Ids of the walls of each group, in the walls' order.
    """
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
