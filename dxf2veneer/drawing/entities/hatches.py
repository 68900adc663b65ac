"""A hatch as an area: its outer boundaries are outlines, its islands are left blank.

     ______________
    |//////////////|     outer boundary   an outline
    |///  ____  ///|     island           no hatch inside: an opening
    |/// |    | ///|     island in an island: hatched again, where the hatch's style says so
    |///_|____|_///|

How deep a boundary lies in others decides, not its flags, which writers set as they like. Room left
blank for a text is no island.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from ezdxf.entities.spline import Spline
from ezdxf.math import Matrix44, Vec3

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import ENDS_MEET_IN, THIN_IN
from dxf2veneer.drawing.entities.curves import bulged_path, round_path, spline_path
from dxf2veneer.drawing.entities.kinds import sweep_of
from dxf2veneer.drawing.entities.plane import Plane, plane_of
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.drawing.outlines.tidying import tidy
from dxf2veneer.geometry import Path, Point, Region, Segment

_TEXT_BOX = 8
"""Boundary flag of the room left blank round a text (DXF reference, HATCH, code 92)."""

_ALL, _OUTER_AND_ISLANDS, _OUTER = 99, 1, 0
_DEEPEST = {0: _ALL, 1: _OUTER_AND_ISLANDS, 2: _OUTER}
"""Deepest boundary that counts, by hatch style: by turns, outermost area only, islands ignored
(DXF reference, HATCH, code 75)."""


@dataclass(frozen=True)
class Boundary:
    """One closed boundary of a hatch, in inches."""

    path: Path
    """The boundary."""
    is_island: bool = False
    """Whether no hatch is inside."""
    gap_in: float = 0.0
    """The widest gap between its edges that was closed."""


def pattern_of(hatch: Any) -> str:
    """The name of a hatch's pattern.

    Args:
        hatch: The entity.

    Returns:
        The name, SOLID for a filled one.
    """
    return (
        "SOLID"
        if hatch.dxf.get("solid_fill", 0)
        else str(hatch.dxf.get("pattern_name", "")).strip()
    )


def boundaries(hatch: Any, matrix: Matrix44, *, gap_in: float) -> list[Boundary]:
    """The boundaries of a hatch that count.

    Args:
        hatch: The entity.
        matrix: The map to inches.
        gap_in: The widest gap between edges that is closed, in inches.

    Returns:
        The boundaries in inches, the largest first.

    Raises:
        EntityError: One of them can't be read: a hatch short of an island would be too large.
    """
    plane = plane_of(hatch, matrix, Vec3(hatch.dxf.get("elevation", (0, 0, 0))).z)
    paths = [p for p in hatch.paths if not p.path_type_flags & _TEXT_BOX]
    if not paths:
        raise EntityError(message("no-boundary"))
    found = [
        _polyline(p, plane) if hasattr(p, "vertices") else _edges(p, plane, gap_in) for p in paths
    ]
    found.sort(key=lambda b: (-b.path.area, b.path.box))
    deepest = _DEEPEST.get(hatch.dxf.get("hatch_style", 0), _ALL)
    depths = _depths([b.path for b in found])
    return [
        Boundary(b.path, depth % 2 == 1, b.gap_in)
        for b, depth in zip(found, depths, strict=True)
        if depth <= deepest
    ]


def _polyline(path: Any, plane: Plane) -> Boundary:
    """A polyline boundary, which is closed whatever its flag says."""
    vertices = [(float(x), float(y), float(b)) for x, y, b in path.vertices]
    if vertices and not path.is_closed:
        vertices[-1] = (*vertices[-1][:2], 0.0)
    return Boundary(tidy(bulged_path(plane, vertices, True)))


def _edges(path: Any, plane: Plane, gap_in: float) -> Boundary:
    """A boundary of edges in order, each in either direction."""
    drawn = [_EDGES[e.EDGE_TYPE](e, plane) for e in path.edges]
    for edge in drawn:
        if not all(math.isfinite(v) for vertex in edge.vertices for v in vertex):
            raise EntityError(message("coordinates-not-finite"))
    edges = [e for e in drawn if e.segments]
    if not edges:
        raise EntityError(message("boundary-without-edges"))
    if len(edges) == 1 and edges[0].closed:
        return Boundary(tidy(edges[0]))
    segments, widest = _chain([e.segments for e in edges], gap_in)
    return Boundary(tidy(Path.chain(segments, closed=True)), gap_in=widest)


def _chain(edges: Sequence[tuple[Segment, ...]], gap_in: float) -> tuple[list[Segment], float]:
    """The edges joined end to end and round to the first, and the widest gap that was closed."""
    chain = list(edges[0])
    if len(edges) > 1:
        ends = edges[1][0].start, edges[1][-1].end
        if min(math.dist(chain[0].start, p) for p in ends) < min(
            math.dist(chain[-1].end, p) for p in ends
        ):
            chain = _backwards(edges[0])
    widest = 0.0
    for edge in edges[1:]:
        end = chain[-1].end
        turned = math.dist(end, edge[-1].end) < math.dist(end, edge[0].start)
        following = _backwards(edge) if turned else list(edge)
        widest = max(widest, _join(chain, following[0].start, gap_in))
        chain += [Segment(chain[-1].end, following[0].end, following[0].bulge), *following[1:]]
    widest = max(widest, _join(chain, chain[0].start, gap_in))
    last = chain[-1]
    return [*chain[:-1], Segment(last.start, chain[0].start, last.bulge)], widest


def _backwards(edge: Sequence[Segment]) -> list[Segment]:
    return [s.reversed for s in reversed(edge)]


def _join(chain: list[Segment], to: Point, gap_in: float) -> float:
    """Run the chain on to a point where there is a gap to see; the gap (0 where none)."""
    gap = math.dist(chain[-1].end, to)
    if gap <= ENDS_MEET_IN:
        return 0.0
    if gap > gap_in:
        raise EntityError(message("boundary-open"))
    chain.append(Segment(chain[-1].end, to))
    return gap


# ------------------------------------------------------------------- edges


def _line(edge: Any, plane: Plane) -> Path:
    return Path.polygon(
        [plane.at(edge.start.x, edge.start.y), plane.at(edge.end.x, edge.end.y)], closed=False
    )


def _arc(edge: Any, plane: Plane) -> Path:
    if not edge.radius > 0.0 or not math.isfinite(edge.radius):
        raise EntityError(message("arc-radius-unusable", radius=str(edge.radius)))
    start, end = math.radians(edge.start_angle), math.radians(edge.end_angle)
    return _turned(
        edge, _axes(plane, edge.center, (edge.radius, 0.0), (0.0, edge.radius)), start, end
    )


def _ellipse(edge: Any, plane: Plane) -> Path:
    x, y = edge.major_axis.x, edge.major_axis.y
    if not math.hypot(x, y) * abs(edge.ratio) > 0.0:
        raise EntityError(message("ellipse-axis-unusable"))
    axes = _axes(plane, edge.center, (x, y), (-y * edge.ratio, x * edge.ratio))
    return _turned(edge, axes, edge.start_param, edge.end_param)


def _axes(plane: Plane, center: Any, major: Point, minor: Point) -> Plane:
    """The map of the unit circle to an arc or ellipse with these half axes."""
    flat = Plane((0.0, 0.0), plane.u, plane.v)
    return Plane(plane.at(center.x, center.y), flat.at(*major), flat.at(*minor))


def _turned(edge: Any, axes: Plane, start: float, end: float) -> Path:
    """The arc from start to end; its angles run counter-clockwise even where the edge does not."""
    path = round_path(axes, start, sweep_of(start, end))
    return path if edge.ccw else path.reversed


def _spline(edge: Any, plane: Plane) -> Path:
    spline = Spline.new(dxfattribs={"degree": edge.degree})
    spline.control_points = [Vec3(p) for p in edge.control_points]
    spline.knots, spline.weights = edge.knot_values, edge.weights
    spline.fit_points = [Vec3(p) for p in edge.fit_points]
    if edge.start_tangent is not None and edge.end_tangent is not None:
        spline.dxf.start_tangent, spline.dxf.end_tangent = (
            Vec3(edge.start_tangent),
            Vec3(edge.end_tangent),
        )
    rows = [*plane.u, 0, 0, *plane.v, 0, 0, 0, 0, 1, 0, *plane.origin, 0, 1]
    return spline_path(spline, Matrix44(rows))


_EDGES: dict[str, Callable[[Any, Plane], Path]] = {
    "LineEdge": _line,
    "ArcEdge": _arc,
    "EllipseEdge": _ellipse,
    "SplineEdge": _spline,
}


# ------------------------------------------------------------------- depth


def _depths(paths: Sequence[Path]) -> list[int]:
    """In how many of the others each path lies; the paths come largest first.

    A path that crosses itself has no inside: it lies in none, holds none, and is reported later.
    """
    regions = [r if r.polygon.is_valid else Region() for r in map(Region.of, paths)]
    return [
        sum(_inside(region, outer) for outer in regions[:i]) for i, region in enumerate(regions)
    ]


def _inside(inner: Region, outer: Region) -> bool:
    slack = THIN_IN * inner.perimeter
    if (
        inner.is_empty or outer.area - inner.area <= slack
    ):  # of two that are the same, neither lies in the other
        return False
    (x0, y0, x1, y1), (ox0, oy0, ox1, oy1) = inner.box, outer.box
    apart = x1 <= ox0 or ox1 <= x0 or y1 <= oy0 or oy1 <= y0
    return not apart and inner.area - inner.intersection(outer).area <= slack
