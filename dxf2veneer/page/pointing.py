"""What lies under the pointer: outlines between lines, from the smallest to the largest, and the
ends, crossings and lines to snap to.

    +-----------------------+     a pointer in the left pane: first the pane, then the sash, then
    |   +-------------+     |     the wall. An outline is the outer side of a face, or of all that
    |   | +--+   +--+ |     |     lies in a hole of one
    |   | |x |   |  | |     |
    |   | +--+   +--+ |     |
    |   +-------------+     |
    +-----------------------+
"""

from __future__ import annotations

import math
import threading
from collections.abc import Sequence
from copy import copy
from functools import cached_property
from itertools import combinations
from typing import Any, Literal, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.page.fitting import likeness
from dxf2veneer.page.lines import extent
from dxf2veneer.page.marks import Point, Points, corners_of
from dxf2veneer.page.outlines import GAP, LIKE, outlines_of
from dxf2veneer.page.placed import Placed
from dxf2veneer.propose.scene import Box, Scene

_MOST = 20
"""Outlines offered for one place."""
_NEAREST = 40
"""Lines looked at for a snap."""
_MOST_LINES = 40_000
"""Segments of a view that are taken at once: about 4 s on one core. Our own default."""
_FEW_LINES = 8_000
"""Segments of a sheet that are taken at once where its views are not known, or a place lies in
none. Our own default: well under a second, since nothing is made ready there."""
_PARTS = 12
"""Parts of a larger view, or of what lies in none, across its longer side. Our own default."""

Floats = NDArray[np.float64]
_NONE: NDArray[Any] = np.empty(0, dtype=object)


class Snap(NamedTuple):
    """A place to snap to."""

    at: Point
    """In drawing units."""
    what: Literal["end", "crossing", "line"]
    """What is there."""


class _Offered:
    """Polygons, and a tree to find those round a place."""

    def __init__(self, polygons: NDArray[Any]) -> None:
        self._polygons, self._tree = polygons, shapely.STRtree(polygons)

    def round(self, place: Any) -> NDArray[Any]:
        """Those that a place lies in."""
        return np.asarray(self._polygons[self._tree.query(place, predicate="within")])


class Ground:
    """The lines of a scene, and the outlines between them, view by view as they are asked for."""

    def __init__(
        self,
        scene: Scene,
        views: Sequence[Box],
        also: Sequence[Points] = (),
        inches: float | None = None,
    ) -> None:
        """Lines of a scene.

        Args:
            scene: Everything visible.
            views: Boxes of its views; what lies in none is taken together.
            also: Further outlines to offer: those that the drawing proposes.
            inches: Inches in a drawing unit, as far as it is known; what may be a wall or a part of
                one is told by its size, so that none is offered without.
        """
        self._scene = scene
        self._inches = inches
        self._also = [shapely.Polygon(points) for points in also]
        self._views = sorted(views, key=_size)
        self._outlines: dict[Box, tuple[_Offered, _Offered]] = {}
        self._placed = Placed(scene)
        self._lock = threading.Lock()

    @cached_property
    def _boxes(self) -> Floats:
        """For each segment the box of its entity."""
        scene = self._scene
        return scene.boxes[scene.owner] if len(scene.owner) else np.zeros((0, 4))

    @cached_property
    def _extent(self) -> Box:
        return extent(self._scene)

    @cached_property
    def _lines(self) -> shapely.STRtree:
        """The segments as lines in a tree, by their numbers."""
        return shapely.STRtree(shapely.linestrings(self._scene.segments.reshape(-1, 2, 2)))

    def offering(self, also: Sequence[Points], views: Sequence[Box], inches: float) -> Ground:
        """The same lines with other views and other outlines to offer, in another unit."""
        other = copy(self)
        other._outlines = {}
        other._inches = inches
        other._also = [shapely.Polygon(points) for points in also]
        other._views = sorted(views, key=_size)
        return other

    def outlines_at(self, at: Point) -> list[Points]:
        """The outlines round a point, smallest first.

        Args:
            at: The point in drawing units.

        Returns:
            Corners of each; empty where nothing closes round the point.
        """
        place, (outlines, areas) = shapely.Point(at), self._of_box(self._box_at(at))
        found = [*outlines.round(place), *(o for o in self._also if o.contains(place))]
        kept: list[Any] = []
        for outline in sorted(found, key=lambda o: -float(o.area)):
            if not kept or not _looks_like(outline, kept[-1]):
                kept.append(outline)
        for area in [*areas.round(place), *self._placed.round(at)]:
            if all(likeness(area, other) < LIKE for other in kept):
                kept.append(area)
        corners = (corners_of(o.exterior.coords) for o in sorted(kept, key=lambda o: float(o.area)))
        return [c for c in corners if c][:_MOST]

    def line_at(self, at: Point, reach: float) -> tuple[Point, Point] | None:
        """The line next to a point.

        Args:
            at: The point in drawing units.
            reach: How far away it may be.

        Returns:
            Its ends; None where there is none. Of lines that are as near, the longest.
        """
        point = shapely.Point(at)
        near = self._lines.query(point, predicate="dwithin", distance=reach)
        if not len(near):
            return None
        lines = self._lines.geometries[near]
        length = shapely.length(lines)
        best = np.argmin(shapely.distance(lines, point) / reach - np.minimum(length / reach, 4.0))
        (x0, y0), (x1, y1) = shapely.get_coordinates(lines[best]).tolist()
        return ((x0, y0), (x1, y1)) if length[best] > 0.0 else None

    def snap(self, at: Point, reach: float) -> Snap | None:
        """The end, else the crossing, else the line next to a point.

        Args:
            at: The point in drawing units.
            reach: How far away it may be.

        Returns:
            The place; None where there is none.
        """
        point = shapely.Point(at)
        near = self._lines.query(point, predicate="dwithin", distance=reach)
        if not len(near):
            return None
        lines = self._lines.geometries[near[:_NEAREST]]
        ends = [tuple(c) for line in lines for c in line.coords]
        crossings = [
            (meeting.x, meeting.y)
            for a, b in combinations(lines, 2)
            if (meeting := a.intersection(b)).geom_type == "Point"
        ]
        for what, places in (("end", ends), ("crossing", crossings)):
            within = [p for p in places if _apart(p, at) <= reach]
            if within:
                x, y = min(within, key=lambda p: _apart(p, at))
                return Snap((float(x), float(y)), "end" if what == "end" else "crossing")
        foot = min(
            (line.interpolate(line.project(point)) for line in lines),
            key=lambda p: float(p.distance(point)),
        )
        return Snap((float(foot.x), float(foot.y)), "line")

    def lies_on_lines(self, corners: Points, reach: float) -> bool:
        """Whether every corner lies at a line.

        Args:
            corners: Corners of an outline.
            reach: How far a corner may lie from the nearest line.
        """
        points = shapely.points(np.array(corners))
        hit = self._lines.query(points, predicate="dwithin", distance=reach)[0]
        return len(np.unique(hit)) == len(points)

    def get_ready(self, views: Sequence[Box]) -> None:
        """Find the outlines of views before anybody points at them.

        Args:
            views: Boxes of some of the views.
        """
        for box in views:
            self._of_box(self._box_at(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)))

    def _box_at(self, at: Point) -> Box:
        """The view that holds a point; where there is none, or where it holds too many lines to be
        ready at once, a part of the sheet round the point."""
        view = next((b for b in self._views if _holds(b, at)), None)
        whole, most = (view, _MOST_LINES) if view else (self._extent, _FEW_LINES)
        if np.count_nonzero(self._meets(whole)) <= most:
            return whole
        x0, y0, x1, y1 = whole
        step = max(x1 - x0, y1 - y0, 1e-9) / _PARTS
        i, j = (math.floor((v - v0) / step) for v, v0 in zip(at, (x0, y0), strict=True))
        return x0 + (i - 1) * step, y0 + (j - 1) * step, x0 + (i + 2) * step, y0 + (j + 2) * step

    def _of_box(self, box: Box) -> tuple[_Offered, _Offered]:
        """Outlines between the lines that meet a box, and areas that a wall may be."""
        from dxf2veneer.page.areas import areas_of

        with self._lock:
            if box not in self._outlines:
                segments = self._scene.segments[self._meets(box)]
                areas = areas_of(segments, self._inches) if self._inches else _NONE
                self._outlines[box] = _Offered(outlines_of(segments)), _Offered(areas)
            return self._outlines[box]

    def _meets(self, box: Box) -> NDArray[np.bool_]:
        """Which segments belong to entities whose boxes meet a box."""
        b = self._boxes
        keep = (b[:, 0] <= box[2]) & (b[:, 2] >= box[0]) & (b[:, 1] <= box[3]) & (b[:, 3] >= box[1])
        return np.asarray(keep)


def _looks_like(outline: Any, larger: Any) -> bool:
    """Whether an outline and the next larger one are the two sides of a line, or differ by what is
    let into one of them: nobody would want the smaller."""
    size = max(larger.bounds[2] - larger.bounds[0], larger.bounds[3] - larger.bounds[1])
    apart = max(abs(a - b) for a, b in zip(outline.bounds, larger.bounds, strict=True))
    return bool(outline.area >= LIKE * larger.area or apart <= GAP * size)


def _size(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _holds(box: Box, at: Point) -> bool:
    return box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3]


def _apart(a: Sequence[float], b: Point) -> float:
    return float(np.hypot(a[0] - b[0], a[1] - b[1]))
