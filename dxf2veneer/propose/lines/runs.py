"""Runs: lines in one line joined, however many pieces they were drawn in.

---- ------      ---     ->     --------------
  -------                          (doubled, overlapping, split within the gap: one run)
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons

_STRAIGHT_DEG = 0.25
"""Lines whose directions differ by less may be one run."""
_LEVEL_DEG = 0.5
"""Lines this near to level or upright count as such."""


@dataclass(frozen=True, eq=False)
class Runs:
    """Runs and which segments they are made of.

    Attributes:
        segments: what they are made of, shape (n, 4).
        lines: shape (r, 4), from the lower left end to the other (upright ones from the bottom up).
        member: the run of each segment, shape (n,).
        gap: ends this near to each other meet, in drawing units.
        left_out: outlines of what else was drawn there; an end on one of them is not loose.
    """

    segments: Floats
    lines: Floats
    member: Ints
    gap: float
    left_out: Polygons = field(default_factory=lambda: np.empty(0, dtype=object))

    def of(self, segments: Floats) -> Runs:
        """The runs of other segments.

        Args:
            segments: shape (m, 4), none of length zero.

        Returns:
            The runs; these themselves where they are made of just those segments.
        """
        same = np.array_equal(segments, self.segments)
        return self if same else runs_of(segments, gap=self.gap, left_out=self.left_out)

    @cached_property
    def length(self) -> Floats:
        """Length of each run."""
        return np.hypot(self.lines[:, 2] - self.lines[:, 0], self.lines[:, 3] - self.lines[:, 1])

    @cached_property
    def level(self) -> NDArray[np.bool_]:
        """Whether each run is level."""
        return np.asarray(
            np.abs(self.lines[:, 3] - self.lines[:, 1]) <= np.radians(_LEVEL_DEG) * self.length
        )

    @cached_property
    def upright(self) -> NDArray[np.bool_]:
        """Whether each run is upright."""
        return np.asarray(
            np.abs(self.lines[:, 2] - self.lines[:, 0]) <= np.radians(_LEVEL_DEG) * self.length
        )

    @cached_property
    def shapes(self) -> Polygons:
        """The runs as linestrings."""
        return np.asarray(shapely.linestrings(self.lines.reshape(-1, 2, 2)))

    @cached_property
    def drawn(self) -> shapely.STRtree:
        """The tree in which the segments are looked up."""
        return shapely.STRtree(shapely.linestrings(self.segments.reshape(-1, 2, 2)))

    @cached_property
    def tree(self) -> shapely.STRtree:
        """The tree in which the runs are looked up."""
        return shapely.STRtree(self.shapes)

    @cached_property
    def at_left_out(self) -> Ints:
        """The ends that lie on the outline of what was left out, numbered as in ``meetings``."""
        ends = shapely.points(self.lines.reshape(-1, 2))
        outlines = shapely.STRtree(shapely.boundary(self.left_out))
        met = outlines.query(ends, predicate="dwithin", distance=2.0 * self.gap)
        return np.asarray(np.unique(met[0]), dtype=np.int64)

    @cached_property
    def meetings(self) -> tuple[Ints, Ints]:
        """Ends and other runs that they lie on, a pair for each: the number of the end, that of its
        run doubled and one more for the last end, and the number of the other run."""
        ends = shapely.points(self.lines.reshape(-1, 2))
        end, other = self.tree.query(ends, predicate="dwithin", distance=2.0 * self.gap)
        apart = end // 2 != other
        return end[apart], other[apart]


def runs_of(segments: Floats, *, gap: float, left_out: Polygons | None = None) -> Runs:
    """Segments in one line, at most the gap apart, joined to runs.

    Args:
        segments: shape (n, 4), none of length zero.
        gap: greatest distance between pieces along the line, and sideways, in drawing units.
        left_out: outlines of what else was drawn there, see ``Runs``.

    Returns:
        The runs.
    """
    outlines = np.empty(0, dtype=object) if left_out is None else left_out
    if not len(segments):
        return Runs(segments, np.empty((0, 4)), np.empty(0, np.int64), gap, outlines)
    centre = segments.reshape(-1, 2).mean(axis=0)
    start, end = segments[:, :2] - centre, segments[:, 2:] - centre
    delta = end - start
    angle = np.degrees(np.arctan2(delta[:, 1], delta[:, 0])) % 180.0
    angle[angle > 180.0 - _STRAIGHT_DEG] = 0.0
    group = _clusters(angle, _STRAIGHT_DEG)
    theta = np.radians(_means(angle, group, np.hypot(*delta.T)))[group]
    along, across = (
        np.stack([np.cos(theta), np.sin(theta)], 1),
        np.stack([-np.sin(theta), np.cos(theta)], 1),
    )
    offset = np.einsum("ij,ij->i", across, (start + end) / 2.0)
    line = _clusters_within(group, offset, gap / 2.0)
    t0, t1 = np.einsum("ij,ij->i", along, start), np.einsum("ij,ij->i", along, end)
    low, high = np.minimum(t0, t1), np.maximum(t0, t1)
    order = np.lexsort((low, line))
    reach = _running_reach(line[order], high[order])
    begins = np.ones(len(order), dtype=bool)
    begins[1:] = (line[order][1:] != line[order][:-1]) | (low[order][1:] > reach[:-1] + gap)
    number = np.cumsum(begins) - 1
    member = np.empty(len(order), dtype=np.int64)
    member[order] = number
    at = np.flatnonzero(begins)
    first, last = low[order][at], np.maximum.reduceat(high[order], at)
    weight = np.add.reduceat((high - low)[order], at)
    shift = np.add.reduceat((offset * (high - low))[order], at) / np.maximum(weight, 1e-300)
    way, side = along[order][at], across[order][at]
    ends = [way * t[:, None] + side * shift[:, None] + centre for t in (first, last)]
    lines = np.hstack(ends)
    steep = np.abs(lines[:, 2] - lines[:, 0]) <= np.radians(_LEVEL_DEG) * np.hypot(
        lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1]
    )
    turn = np.where(steep, lines[:, 1] > lines[:, 3], lines[:, 0] > lines[:, 2])
    return Runs(
        segments, np.where(turn[:, None], lines[:, [2, 3, 0, 1]], lines), member, gap, outlines
    )


def _clusters(values: Floats, apart: float) -> Ints:
    """Numbers of groups of values with no step over ``apart`` between neighbours."""
    order = np.argsort(values, kind="stable")
    steps = np.concatenate([[0], np.cumsum(np.diff(values[order]) > apart)])
    result = np.empty(len(values), dtype=np.int64)
    result[order] = steps
    return result


def _clusters_within(group: Ints, values: Floats, apart: float) -> Ints:
    """The same inside each group."""
    order = np.lexsort((values, group))
    new = (np.diff(group[order]) != 0) | (np.diff(values[order]) > apart)
    result = np.empty(len(values), dtype=np.int64)
    result[order] = np.concatenate([[0], np.cumsum(new)])
    return result


def _means(values: Floats, group: Ints, weights: Floats) -> Floats:
    """The weighted mean of the values in each group."""
    return np.asarray(np.bincount(group, values * weights) / np.bincount(group, weights))


def _running_reach(line: Ints, high: Floats) -> Floats:
    """For ordered pieces the farthest end so far on the same line."""
    span = float(high.max() - high.min()) + 1.0
    lifted = np.maximum.accumulate(high - high.min() + line * span)
    return np.asarray(lifted - line * span + high.min())
