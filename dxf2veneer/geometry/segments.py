"""Straight lines and circular arcs, measured in closed form.

Glossary
--------
segment   the straight line or the circular arc from one vertex to the next
chord     the straight distance between a segment's two ends
bulge     tan(included angle / 4) of an arc; 0 is a straight line, 1 a half circle,
          positive where the arc runs counter-clockwise from its first end
          (DXF reference, SetBulge: bulge = 2 x rise / chord)
rise      greatest distance of the arc from its chord

              .--- rise ---.
           ,-'              '-,
          p ------ chord ------ q
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from dxf2veneer.basics.tolerances import CHORDS_OF_AN_ARC, SMALL_BULGE

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Segment:
    """One straight or circular stretch from ``start`` to ``end``."""

    start: Point
    """Where it begins."""
    end: Point
    """Where it ends."""
    bulge: float = 0.0
    """As the glossary says; 0 for a straight one."""

    @property
    def is_arc(self) -> bool:
        """Whether the segment is curved."""
        return self.bulge != 0.0

    @property
    def chord(self) -> float:
        """Straight distance between the ends."""
        return math.dist(self.start, self.end)

    @property
    def angle(self) -> float:
        """Included angle in radians, signed like the bulge, tan(angle/4) (DXF reference)."""
        return 4.0 * math.atan(self.bulge)

    @property
    def length(self) -> float:
        """Length along the segment: the chord, or radius x angle for an arc."""
        b = abs(self.bulge)
        if b < SMALL_BULGE:  # series of c (1+b^2) atan(b) / b
            return self.chord * (1.0 + b * b * (2.0 / 3.0 - b * b * 2.0 / 15.0))
        return self.chord * (1.0 + b * b) * math.atan(b) / b

    @property
    def segment_area(self) -> float:
        """Signed area between arc and chord: r^2/2 (angle - sin angle), written with the bulge."""
        b, c = self.bulge, self.chord
        if abs(b) < SMALL_BULGE:
            return c * c * b / 3.0 * (1.0 + b * b * (0.2 - b * b / 35.0))
        return c * c / (8.0 * b * b) * ((1.0 + b * b) ** 2 * math.atan(b) - b * (1.0 - b * b))

    @property
    def radius(self) -> float:
        """Radius of the arc; infinite for a straight segment."""
        b = abs(self.bulge)
        return self.chord * (1.0 + b * b) / (4.0 * b) if b else math.inf

    @property
    def center(self) -> Point:
        """Center of the arc's circle. Raises ZeroDivisionError on a straight segment."""
        (x0, y0), (x1, y1) = self.start, self.end
        away = (1.0 - self.bulge * self.bulge) / (4.0 * self.bulge)
        return ((x0 + x1) / 2 - away * (y1 - y0), (y0 + y1) / 2 + away * (x1 - x0))

    @property
    def reversed(self) -> Segment:
        """The same stretch walked the other way."""
        return Segment(self.end, self.start, 0.0 - self.bulge)

    def point_at(self, fraction: float) -> Point:
        """The point at that fraction of the length, 0 the start and 1 the end."""
        (x0, y0), (x1, y1) = self.start, self.end
        if fraction <= 0.0:
            return self.start
        if fraction >= 1.0:
            return self.end
        if not self.is_arc:
            return (x0 + fraction * (x1 - x0), y0 + fraction * (y1 - y0))
        half, part = self.angle / 2.0, self.angle * fraction / 2.0
        # along the chord from start: |p| = 2 r sin(part), turned from the chord by (half - part)
        reach = math.sin(part) / math.sin(half)
        turn = part - half
        dx, dy = x1 - x0, y1 - y0
        cos, sin = math.cos(turn), math.sin(turn)
        return (x0 + reach * (dx * cos - dy * sin), y0 + reach * (dx * sin + dy * cos))

    def fraction_of(self, point: Point) -> float:
        """The fraction of the length at which a point of the segment lies (nearest for others)."""
        (x0, y0), (x1, y1) = self.start, self.end
        if not self.is_arc:
            dx, dy = x1 - x0, y1 - y0
            square = dx * dx + dy * dy
            if square == 0.0:
                return 0.0
            return min(1.0, max(0.0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / square))
        cx, cy = self.center
        from_start = math.atan2(point[1] - cy, point[0] - cx) - math.atan2(y0 - cy, x0 - cx)
        sense = math.copysign(1.0, self.bulge)
        share = (from_start * sense) % math.tau / abs(self.angle)
        if share <= 1.0:
            return share
        beyond = (share - 1.0) * abs(self.angle)
        before = math.tau - share * abs(self.angle)
        return 1.0 if beyond <= before else 0.0

    def split(self, fractions: Iterable[float]) -> tuple[Segment, ...]:
        """The parts between the given fractions of the length, in order; arcs stay arcs."""
        cuts = sorted({0.0, 1.0, *(f for f in fractions if 0.0 < f < 1.0)})
        points = [self.point_at(f) for f in cuts]
        return tuple(
            Segment(p, q, math.tan(self.angle * (f1 - f0) / 4.0) if self.is_arc else 0.0)
            for p, q, f0, f1 in zip(points, points[1:], cuts, cuts[1:], strict=False)
        )

    def flatten(self, *, rise_in: float) -> list[Point]:
        """Points along the segment, both ends included, no chord farther than ``rise_in`` from it.

        Arcs of miles get no more than ``CHORDS_OF_AN_ARC``.
        """
        if not self.is_arc:
            return [self.start, self.end]
        step = (
            4.0 * math.asin(math.sqrt(rise_in / self.radius / 2.0))
            if self.radius > rise_in
            else math.pi / 4
        )
        step = min(max(step, abs(self.angle) / CHORDS_OF_AN_ARC), math.pi / 4)
        count = max(2, math.ceil(abs(self.angle) / step))
        return [self.point_at(i / count) for i in range(count + 1)]

    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y that the segment reaches: (x0, y0, x1, y1)."""
        xs, ys = [self.start[0], self.end[0]], [self.start[1], self.end[1]]
        if self.is_arc:
            (cx, cy), r = self.center, self.radius
            first = math.atan2(self.start[1] - cy, self.start[0] - cx)
            sense = math.copysign(1.0, self.bulge)
            for quarter in range(4):
                turned = ((quarter * math.pi / 2 - first) * sense) % math.tau
                if turned < abs(self.angle):
                    xs.append(cx + r * (1, 0, -1, 0)[quarter])
                    ys.append(cy + r * (0, 1, 0, -1)[quarter])
        return min(xs), min(ys), max(xs), max(ys)


def bulge_through(start: Point, middle: Point, end: Point) -> float:
    """Bulge of the arc through three points.

    The inscribed angle at ``middle`` is pi - angle/2 (Euclid III.20), and tan(angle/4) follows.

    Args:
        start: Where the arc begins.
        middle: A point on it.
        end: Where it ends.

    Returns:
        The bulge, positive counter-clockwise; 0 where the three are in line.
    """
    ax, ay = start[0] - middle[0], start[1] - middle[1]
    bx, by = end[0] - middle[0], end[1] - middle[1]
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    if cross == 0.0:
        return 0.0
    inscribed = math.atan2(abs(cross), dot)
    return math.copysign(math.tan((math.pi - inscribed) / 2.0), -cross)


def stray(segment: Segment, point: Point) -> float:
    """Distance of a point near a segment from it, to first order.

    With h half the chord, x along it from its middle and y to its left, the arc of bulge b is where
    b (x^2 + y^2 - h^2) - y h (1 - b^2) = 0, and the gradient there has the length h (1 + b^2). The
    form holds for b = 0 too and loses no digits where the radius is huge.

    Args:
        segment: An arc or a straight segment.
        point: The point, in the same unit.

    Returns:
        The distance, in the same unit.
    """
    (x0, y0), (x1, y1) = segment.start, segment.end
    chord, b = segment.chord, segment.bulge
    if chord == 0.0:
        return math.dist(point, segment.start)
    h, mx, my = chord / 2.0, point[0] - (x0 + x1) / 2.0, point[1] - (y0 + y1) / 2.0
    x = (mx * (x1 - x0) + my * (y1 - y0)) / chord
    y = (my * (x1 - x0) - mx * (y1 - y0)) / chord
    beyond = max(0.0, abs(x) - h) if b == 0.0 else 0.0
    return math.hypot(
        (b * (x * x + y * y - h * h) - y * h * (1.0 - b * b)) / (h * (1.0 + b * b)), beyond
    )
