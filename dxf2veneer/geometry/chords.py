"""Arcs on their way through a polygon library and back.

Shapely works on straight lines. So that arcs come out of its overlays and polygonizing as the arcs
they were, every segment is entered here before: arcs are cut exactly where they meet others, then
flattened to chords whose ends lie on a grid, and the chords are remembered. A ring that shapely
returns is walked chord by chord, and runs of chords of one arc become that arc again, between the
exact end points.

    arc a          chords 0 1 2 3 4 of a        ring uses 1 2 3        sub-arc of a
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import shapely

from dxf2veneer.basics.tolerances import FLATTEN_IN
from dxf2veneer.geometry.paths import Path
from dxf2veneer.geometry.segments import Point, Segment

_Key = tuple[int, int]


class Chords:
    """The memory of which chord belongs to which arc, on one grid."""

    def __init__(self, *, grid_in: float, rise_in: float = FLATTEN_IN) -> None:
        """An empty memory.

        Args:
            grid_in: Step in inches of the grid that points snap to.
            rise_in: Greatest distance in inches of a chord from its arc.
        """
        self.grid_in = grid_in
        self._rise_in = rise_in
        self._exact: dict[_Key, Point] = {}
        self._owner: dict[tuple[_Key, _Key], tuple[int, int, int]] = {}
        self._arcs: list[tuple[Segment, int]] = []

    def key(self, point: Sequence[float]) -> _Key:
        """The point's place on the grid."""
        return round(point[0] / self.grid_in), round(point[1] / self.grid_in)

    def enter(self, segment: Segment) -> list[Point]:
        """Remember a segment; its points on the grid, ends included."""
        flat = segment.flatten(rise_in=self._rise_in)
        keys = [self.key(p) for p in flat]
        self._exact.setdefault(keys[0], segment.start)
        self._exact.setdefault(keys[-1], segment.end)
        if segment.is_arc:
            arc, count = len(self._arcs), len(flat) - 1
            self._arcs.append((segment, count))
            for i, pair in enumerate(pairwise(keys)):
                self._owner.setdefault(pair, (arc, i, 1))
                self._owner.setdefault(pair[::-1], (arc, i, -1))
        return [(kx * self.grid_in, ky * self.grid_in) for kx, ky in keys]

    def restore(self, ring: Iterable[Sequence[float]], *, closed: bool = True) -> Path:
        """The path of a shapely ring (its first point repeated at the end) with its arcs."""
        points = [(p[0], p[1]) for p in ring]
        keys = [self.key(p) for p in points]
        owners = [self._owner.get(pair) for pair in pairwise(keys)]
        first = _first_break(owners) if closed else 0
        order = [(first + i) % len(owners) for i in range(len(owners))]
        segments: list[Segment] = []
        run: list[int] = []
        for i in order:
            if run and not _goes_on(owners[run[-1]], owners[i]):
                segments.append(self._segment(run, points, keys, owners))
                run = []
            run.append(i)
        if run:
            segments.append(self._segment(run, points, keys, owners))
        return Path.chain(segments, closed=closed)

    def _segment(
        self,
        run: list[int],
        points: list[Point],
        keys: list[_Key],
        owners: list[tuple[int, int, int] | None],
    ) -> Segment:
        start = self._exact.get(keys[run[0]], points[run[0]])
        end = self._exact.get(keys[run[-1] + 1], points[run[-1] + 1])
        owner = owners[run[0]]
        if owner is None:
            return Segment(start, end)
        arc, count = self._arcs[owner[0]]
        return Segment(start, end, math.tan(owner[2] * arc.angle * len(run) / count / 4.0))


def _goes_on(before: tuple[int, int, int] | None, after: tuple[int, int, int] | None) -> bool:
    """Whether two chords follow each other on one arc in one sense."""
    if before is None or after is None:
        return False
    return before[0] == after[0] and before[2] == after[2] and after[1] - before[1] == after[2]


def _first_break(owners: list[tuple[int, int, int] | None]) -> int:
    """Where to begin walking a ring so that no arc is cut by the beginning."""
    for i in range(len(owners)):
        if not _goes_on(owners[i - 1], owners[i]):
            return i
    return 0


def node_arcs(segments: Sequence[Segment], *, touch_in: float) -> list[tuple[Segment, ...]]:
    """Segments cut exactly wherever an arc and another segment meet.

    Meetings of two straight segments are left to shapely.

    Args:
        segments: The segments, in inches.
        touch_in: A meeting nearer to an end than this, in inches, counts as that end.

    Returns:
        For each segment its parts in order; arcs stay arcs.
    """
    arcs = [i for i, s in enumerate(segments) if s.is_arc]
    if not arcs:
        return [(s,) for s in segments]
    boxes = np.array([s.box() for s in segments])
    grown = shapely.box(
        boxes[:, 0] - touch_in,
        boxes[:, 1] - touch_in,
        boxes[:, 2] + touch_in,
        boxes[:, 3] + touch_in,
    )
    tree = shapely.STRtree(grown)
    pairs = tree.query(grown[arcs])
    cuts: dict[int, list[float]] = {}
    for which, other in zip(*pairs, strict=True):
        i, j = arcs[int(which)], int(other)
        if i == j or (segments[j].is_arc and j < i):
            continue
        for point in meetings(segments[i], segments[j], touch_in=touch_in):
            for k in (i, j):
                cuts.setdefault(k, []).append(segments[k].fraction_of(point))
    return [_cut(segment, cuts.get(i, []), touch_in) for i, segment in enumerate(segments)]


def _cut(segment: Segment, fractions: list[float], touch_in: float) -> tuple[Segment, ...]:
    """The parts of a segment between the fractions, those nearer than ``touch_in`` left out."""
    edge = touch_in / segment.length if segment.length else 1.0
    inner = _apart(sorted(f for f in fractions if edge < f < 1.0 - edge), edge)
    return segment.split(inner) if inner else (segment,)


def _apart(fractions: list[float], least: float) -> list[float]:
    """Ascending fractions without those that repeat the one before."""
    kept: list[float] = []
    for f in fractions:
        if not kept or f - kept[-1] > least:
            kept.append(f)
    return kept


def meetings(arc: Segment, other: Segment, *, touch_in: float) -> list[Point]:
    """Points where an arc meets another segment.

    Args:
        arc: The arc.
        other: An arc or a straight segment.
        touch_in: How near a point must lie to both, in inches.

    Returns:
        The points; one found in two ways stands twice.
    """
    found = _circle_circle(arc, other, touch_in) if other.is_arc else _circle_line(arc, other)
    found += [p for p in (other.start, other.end) if _on(arc, p, touch_in)]
    found += [p for p in (arc.start, arc.end) if _on(other, p, touch_in)]
    return [p for p in found if _on(arc, p, touch_in) and _on(other, p, touch_in)]


def _on(segment: Segment, point: Point, touch_in: float) -> bool:
    return math.dist(segment.point_at(segment.fraction_of(point)), point) <= touch_in


def _circle_line(arc: Segment, line: Segment) -> list[Point]:
    (cx, cy), r = arc.center, arc.radius
    (x0, y0), (x1, y1) = line.start, line.end
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    if square == 0.0:
        return []
    foot = ((cx - x0) * dx + (cy - y0) * dy) / square
    px, py = x0 + foot * dx, y0 + foot * dy
    left = r * r - (px - cx) ** 2 - (py - cy) ** 2
    if left < -1e-9 * r * r:
        return []
    half = math.sqrt(max(0.0, left) / square)
    return [(x0 + f * dx, y0 + f * dy) for f in (foot - half, foot + half)]


def _circle_circle(one: Segment, two: Segment, touch_in: float) -> list[Point]:
    (ax, ay), ra, (bx, by), rb = one.center, one.radius, two.center, two.radius
    apart = math.dist((ax, ay), (bx, by))
    if apart <= touch_in:
        return []  # one circle or concentric ones: what they share are ends, which the caller adds
    along = (apart * apart + ra * ra - rb * rb) / (2.0 * apart)
    left = ra * ra - along * along
    if left < -1e-9 * ra * ra:
        return []
    up = math.sqrt(max(0.0, left))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    return [(ax + along * ux - s * up * uy, ay + along * uy + s * up * ux) for s in (1.0, -1.0)]
