"""One entity as straight segments, in the coordinates of the block or space it stands in.

Depth is left away: what is looked at from above counts. Arcs become chords of equal angle, whatever
their radius, so that scaling a drawing changes nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from typing import Any

from ezdxf.math import OCS, BSpline, Vec3, bulge_to_arc, fit_points_to_cad_cv

Point = tuple[float, float]
Run = tuple[list[Point], bool]
"""Points joined by straight lines, and whether the last is joined to the first."""

_STEP = math.tau / 64
"""Greatest angle of a chord: a circle's area comes out 0.16 % small."""
_PER_KNOT = 6
"""Chords of a spline between two knots."""
_MOST_POINTS = 2_000
"""Points of one spline that are looked at [our own limit]."""
_SPLINE_FRAME = 16
"""Vertex flag of a spline's control point, which is not on the curve (DXF reference, VERTEX)."""


def runs_of(entity: Any, kind: str) -> list[Run]:
    """The entity's runs of points; none where its kind draws no line.

    Args:
        entity: an entity of the DXF library.
        kind: its kind, such as LINE.
    Returns:
        Runs in the coordinates of the entity's space, turned out of its own plane.
    Raises:
        Whatever the library raises on bad data; see ``drawing.entities.kinds.BAD_DATA``.
    """
    reader = _READERS.get(kind)
    if reader is None:
        return []
    runs = reader(entity)
    extrusion = entity.dxf.get("extrusion") if kind in _PLANE else None
    if extrusion is None or (extrusion.x == 0.0 and extrusion.y == 0.0 and extrusion.z > 0.0):
        return runs
    ocs = OCS(extrusion)
    return [
        ([_flat(ocs.to_wcs(Vec3(x, y, 0.0))) for x, y in points], closed) for points, closed in runs
    ]


def arc_points(centre: Point, radius: float, start: float, sweep: float) -> list[Point]:
    """Points along an arc; angles in radians, ``sweep`` negative for clockwise.

    Args:
        centre: of the arc.
        radius: of the arc.
        start: angle of the first point, in radians from the x axis.
        sweep: angle from the first to the last point, in radians.

    Returns:
        Both ends and the points between.
    """
    x, y = centre
    return [(x + radius * c, y + radius * s) for c, s in unit_arc(start, sweep)]


def unit_arc(start: float, sweep: float) -> list[Point]:
    """Points along an arc of radius 1 round the origin.

    Args:
        start: angle of the first point, in radians from the x axis.
        sweep: angle from the first to the last point, in radians, negative for clockwise.

    Returns:
        Both ends and the points between.
    """
    count = max(2, math.ceil(abs(sweep) / _STEP - 1e-9))
    angles = (start + sweep * i / count for i in range(count + 1))
    return [(math.cos(a), math.sin(a)) for a in angles]


def unit_circle() -> list[Point]:
    """Points along a circle of radius 1 round the origin.

    Returns:
        The points, the first not repeated.
    """
    return unit_arc(0.0, math.tau)[:-1]


def sweep_of(start: float, end: float) -> tuple[float, float]:
    """Where an arc starts and how far it turns, counter-clockwise.

    Args:
        start: angle of its start, in degrees.
        end: angle of its end, in degrees.

    Returns:
        Both in radians; a full turn where start and end are one.
    """
    first = math.radians(start)
    return first, (math.radians(end) - first) % math.tau or math.tau


def bulged_points(vertices: Sequence[tuple[float, float, float]], closed: bool) -> list[Point]:
    """Points along a polyline of x, y, bulge; a closed one repeats no point.

    Args:
        vertices: x, y and bulge of each (DXF reference, LWPOLYLINE, code 42).
        closed: whether the last is joined to the first.

    Returns:
        The points in order.
    """
    if not any(b for _, _, b in vertices):
        return [(x, y) for x, y, _ in vertices]
    points: list[Point] = []
    following = [*vertices[1:], vertices[0]] if closed else list(vertices[1:])
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, following, strict=False):
        points.append((x0, y0))
        if bulge and (x0, y0) != (x1, y1):
            points += _bulge((x0, y0), (x1, y1), bulge)
    return points if closed else [*points, (vertices[-1][0], vertices[-1][1])]


def _bulge(start: Point, end: Point, bulge: float) -> list[Point]:
    """Points between the ends of a bulged segment."""
    centre, first, last, radius = bulge_to_arc(start, end, bulge)
    sweep = (last - first) % math.tau
    points = arc_points((centre.x, centre.y), radius, first, sweep)[1:-1]
    return points if bulge > 0 else points[::-1]


def spline_points(spline: BSpline) -> list[Point]:
    """Points along a spline, a few between each two knots.

    Args:
        spline: of the DXF library.

    Returns:
        The points in order, those of a straight one its control points.
    """
    if spline.degree == 1:
        return [_flat(p) for p in spline.control_points]
    knots = spline.knots()
    breaks = sorted(set(knots[spline.degree : spline.count + 1]))
    steps = max(1, min(_PER_KNOT, _MOST_POINTS // max(1, len(breaks))))
    parameters = [a + (b - a) * i / steps for a, b in pairwise(breaks) for i in range(steps)]
    return [_flat(p) for p in spline.points([*parameters, breaks[-1]])]


def _flat(p: Any) -> Point:
    return (p[0], p[1])


def _line(entity: Any) -> list[Run]:
    start, end = entity.dxf.start, entity.dxf.end
    return [([(start.x, start.y), (end.x, end.y)], False)]


def _lwpolyline(entity: Any) -> list[Run]:
    vertices = [(float(x), float(y), float(b)) for x, y, b in entity.get_points("xyb")]
    closed = bool(entity.closed)
    return [(bulged_points(vertices, closed), closed)] if vertices else []


def _polyline(entity: Any) -> list[Run]:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        return [run for face in entity.virtual_entities() for run in runs_of(face, face.dxftype())]
    shown = [v for v in entity.vertices if not v.dxf.get("flags", 0) & _SPLINE_FRAME]
    vertices = [
        (
            v.dxf.location.x,
            v.dxf.location.y,
            0.0 if entity.is_3d_polyline else v.dxf.get("bulge", 0.0),
        )
        for v in shown
    ]
    closed = bool(entity.is_closed)
    return [(bulged_points(vertices, closed), closed)] if vertices else []


def _circle(entity: Any) -> list[Run]:
    centre = entity.dxf.center
    return [(arc_points((centre.x, centre.y), entity.dxf.radius, 0.0, math.tau)[:-1], True)]


def _arc(entity: Any) -> list[Run]:
    centre = entity.dxf.center
    start, sweep = sweep_of(entity.dxf.start_angle, entity.dxf.end_angle)
    return [(arc_points((centre.x, centre.y), entity.dxf.radius, start, sweep), False)]


def _ellipse(entity: Any) -> list[Run]:
    tool = entity.construction_tool()
    start = tool.start_param
    sweep = (tool.end_param - start) % math.tau
    full = sweep < 1e-9 or math.tau - sweep < 1e-9
    count = max(2, math.ceil((math.tau if full else sweep) / _STEP - 1e-9))
    angles = [start + (math.tau if full else sweep) * i / count for i in range(count + (not full))]
    return [([_flat(p) for p in tool.vertices(angles)], full)]


def _spline(entity: Any) -> list[Run]:
    if entity.control_point_count():
        tool = entity.construction_tool()
    else:
        fit = [Vec3(p) for p in entity.fit_points]
        if entity.closed and len(fit) > 2 and not fit[0].isclose(fit[-1]):
            fit.append(fit[0])
        if len(fit) < 2:
            return []
        tool = fit_points_to_cad_cv(fit)
    return [(spline_points(tool), False)]


def _quad(entity: Any) -> list[Run]:
    corners = [
        entity.dxf.get(f"vtx{i}") for i in (0, 1, 3, 2)
    ]  # the last two are stored crossed (DXF reference, SOLID)
    return [(_distinct(corners), True)]


def _face(entity: Any) -> list[Run]:
    return [(_distinct(entity.dxf.get(f"vtx{i}") for i in range(4)), True)]


def _distinct(corners: Iterable[Any]) -> list[Point]:
    return list(dict.fromkeys(_flat(c) for c in corners if c is not None))


def _leader(entity: Any) -> list[Run]:
    points = [_flat(p) for p in entity.vertices]
    return [(points, False)] if len(points) > 1 else []


def _multiline(entity: Any) -> list[Run]:
    return [run for part in entity.virtual_entities() for run in runs_of(part, part.dxftype())]


_READERS: dict[str, Callable[[Any], list[Run]]] = {
    "LINE": _line,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
    "CIRCLE": _circle,
    "ARC": _arc,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "SOLID": _quad,
    "TRACE": _quad,
    "3DFACE": _face,
    "MLINE": _multiline,
    "LEADER": _leader,
}
_PLANE = ("LWPOLYLINE", "POLYLINE", "CIRCLE", "ARC", "SOLID", "TRACE")
"""Kinds whose coordinates are those of a plane of their own (DXF reference, object coordinate
systems)."""
