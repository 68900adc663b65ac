"""Paths made of straight and circular segments.

Every curve of a drawing becomes such a path: ellipses and splines through three-point arcs, so
that one representation carries areas and lengths to the accuracy promised for them.
Lengths are inches and areas square inches when the path comes out of ``dxf2veneer.drawing``; the
mathematics here does not care.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from dxf2veneer.geometry.segments import Point, Segment, bulge_through, stray

Vertex = tuple[float, float, float]
"""x, y and the bulge of the segment that starts here."""


@dataclass(frozen=True)
class Path:
    """Vertices joined by straight or circular segments; a closed path joins its last to its first.

    The last bulge of an open path has no meaning and is ignored.
    """

    vertices: tuple[Vertex, ...]
    """(x, y, bulge of the segment that starts there)."""
    closed: bool = True
    """Whether the last vertex is joined to the first."""

    @classmethod
    def polygon(cls, points: Iterable[Point], *, closed: bool = True) -> Path:
        """A path of straight segments through the points."""
        return cls(tuple((float(x), float(y), 0.0) for x, y in points), closed)

    @classmethod
    def box_of(cls, x0: float, y0: float, x1: float, y1: float) -> Path:
        """The closed rectangle, counter-clockwise."""
        return cls.polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])

    @classmethod
    def circle(cls, center: Point, radius: float) -> Path:
        """The full circle as two half arcs, counter-clockwise."""
        x, y = center
        return cls(((x - radius, y, 1.0), (x + radius, y, 1.0)))

    @classmethod
    def chain(cls, segments: Iterable[Segment], *, closed: bool) -> Path:
        """The path through consecutive segments (each starts where the one before ended)."""
        listed = list(segments)
        vertices = [(s.start[0], s.start[1], s.bulge) for s in listed]
        if not closed and listed:
            vertices.append((*listed[-1].end, 0.0))
        return cls(tuple(vertices), closed)

    @classmethod
    def curve(
        cls, at: Callable[[float], Point], *, closed: bool, pieces: int, rise_in: float
    ) -> Path:
        """A smooth curve ``at(t)``, t from 0 to 1, as arcs through three points each.

        ``pieces`` are the stretches to begin with; each is halved until the arc through its ends
        and middle passes within ``rise_in`` of the curve's quarter points. The error of area and
        length falls with the fourth power of the step, where chords fall with the second.
        """
        segments: list[Segment] = []
        for i in range(pieces):
            segments.extend(_arcs(at, i / pieces, (i + 1) / pieces, rise_in, 12))
        if closed and segments:
            last = segments[-1]
            segments[-1] = Segment(last.start, segments[0].start, last.bulge)
        return cls.chain(segments, closed=closed)

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """The segments in order; stretches of no length are left out."""
        following = self.vertices[1:] + (self.vertices[:1] if self.closed else ())
        return tuple(
            Segment((x0, y0), (x1, y1), b)
            for (x0, y0, b), (x1, y1, _) in zip(self.vertices, following, strict=False)
            if (x0, y0) != (x1, y1)
        )

    @cached_property
    def signed_area(self) -> float:
        """Enclosed area, positive where the path runs counter-clockwise.

        Shoelace formula with the circular segments of the arcs added.
        """
        if not self.closed or len(self.vertices) < 2:
            return 0.0
        ox, oy, _ = self.vertices[0]
        shoelace = math.fsum(
            (s.start[0] - ox) * (s.end[1] - oy) - (s.end[0] - ox) * (s.start[1] - oy)
            for s in self.segments
        )
        return shoelace / 2.0 + math.fsum(s.segment_area for s in self.segments)

    @property
    def area(self) -> float:
        """Enclosed area; 0 for an open path."""
        return abs(self.signed_area)

    @cached_property
    def length(self) -> float:
        """Length along the path; the perimeter of a closed one."""
        return math.fsum(s.length for s in self.segments)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y that the path reaches: (x0, y0, x1, y1)."""
        boxes = [s.box() for s in self.segments] or [(x, y, x, y) for x, y, _ in self.vertices]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )

    @property
    def points(self) -> tuple[Point, ...]:
        """The vertices without their bulges."""
        return tuple((x, y) for x, y, _ in self.vertices)

    @cached_property
    def reversed(self) -> Path:
        """The same path walked the other way."""
        backwards = [s.reversed for s in reversed(self.segments)]
        return Path.chain(backwards, closed=self.closed)

    @property
    def counter_clockwise(self) -> Path:
        """The path, turned if need be so that its inside lies to the left."""
        return self if self.signed_area >= 0 else self.reversed

    def flatten(self, *, rise_in: float) -> list[Point]:
        """Points along the path, chords within ``rise_in`` of it; a closed one repeats no point."""
        flat: list[Point] = []
        for segment in self.segments:
            flat.extend(segment.flatten(rise_in=rise_in)[:-1])
        if not self.closed and self.segments:
            flat.append(self.segments[-1].end)
        return flat

    def moved(self, dx: float, dy: float) -> Path:
        """The path shifted by (dx, dy)."""
        return Path(tuple((x + dx, y + dy, b) for x, y, b in self.vertices), self.closed)

    def scaled(self, factor: float) -> Path:
        """The path scaled about the origin by a positive factor."""
        return Path(tuple((x * factor, y * factor, b) for x, y, b in self.vertices), self.closed)

    def __iter__(self) -> Iterator[Segment]:
        return iter(self.segments)


def _arcs(
    at: Callable[[float], Point], t0: float, t1: float, rise_in: float, depth: int
) -> list[Segment]:
    """Three-point arcs along a smooth curve between two parameters, halved where they stray."""
    middle = (t0 + t1) / 2.0
    p, m, q = at(t0), at(middle), at(t1)
    arc = Segment(p, q, bulge_through(p, m, q))
    if (
        depth
        and max(stray(arc, at((t0 + middle) / 2)), stray(arc, at((middle + t1) / 2))) > rise_in
    ):
        return _arcs(at, t0, middle, rise_in, depth - 1) + _arcs(at, middle, t1, rise_in, depth - 1)
    return [arc]
