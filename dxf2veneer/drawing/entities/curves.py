"""Circular arcs, elliptic arcs and splines as paths."""

from __future__ import annotations

import math
from itertools import pairwise

from ezdxf.entities.spline import Spline
from ezdxf.math import BSpline, Matrix44, Vec3, fit_points_to_cad_cv

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import CURVE_RISE_SHARE, SLIM_ELLIPSE_SHARE
from dxf2veneer.drawing.entities.plane import Plane, flat_points
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.geometry import Path, Point, Segment


def round_path(plane: Plane, start: float, sweep: float) -> Path:
    """The image of a part of the unit circle.

    An arc where the map is similar, else three-point arcs along the ellipse.

    Args:
        plane: The map to inches.
        start: Where it begins, in radians.
        sweep: How far it turns counter-clockwise, in radians; a full turn closes.

    Returns:
        The path in inches.

    Raises:
        EntityError: The ellipse has no width.
    """
    full = sweep >= math.tau * (1.0 - 1e-12)
    if plane.is_similar:
        if full:
            return Path.circle(plane.origin, math.hypot(*plane.u))
        count = 1 if sweep <= math.pi else 2
        bulge = plane.sense * math.tan(sweep / count / 4.0)
        angles = [start + sweep * i / count for i in range(count + 1)]
        points = [plane.at(math.cos(a), math.sin(a)) for a in angles]
        return Path((*((x, y, bulge) for x, y in points[:-1]), (*points[-1], 0.0)), closed=False)
    rise = _rise(plane, 1.0)
    about = Plane((0.0, 0.0), plane.u, plane.v)  # the curve near the origin keeps its digits

    def at(t: float) -> Point:
        angle = start + sweep * t
        return about.at(math.cos(angle), math.sin(angle))

    pieces = max(2, math.ceil(sweep / (math.pi / 4)))
    return Path.curve(at, closed=full, pieces=pieces, rise_in=rise).moved(*plane.origin)


def _rise(plane: Plane, radius: float) -> float:
    """How near arcs follow the ellipse that a circle becomes: by the mean of its half axes, so that
    thin ellipses are followed more closely. Raises EntityError where it has no width at all."""
    longest = max(math.hypot(*plane.u), math.hypot(*plane.v))
    mean = math.sqrt(abs(plane.determinant))
    if mean <= SLIM_ELLIPSE_SHARE * longest:
        raise EntityError(message("flattened-to-a-line"))
    return CURVE_RISE_SHARE * radius * mean


def bulged_path(plane: Plane, vertices: list[tuple[float, float, float]], closed: bool) -> Path:
    """The image of a polyline; under unequal scales its arcs become three-point arcs.

    Args:
        plane: The map to inches.
        vertices: (x, y, bulge) of each.
        closed: Whether the last is joined to the first.

    Returns:
        The path in inches.

    Raises:
        EntityError: An arc is flattened to a line.
    """
    if plane.is_similar or not any(b for _, _, b in vertices):
        placed = ((*plane.at(x, y), plane.sense * b if b else 0.0) for x, y, b in vertices)
        return Path(tuple(placed), closed)
    segments: list[Segment] = []
    for segment in Path(tuple(vertices), closed).segments:
        segments.extend(
            _placed_arc(plane, segment) if segment.is_arc else [_placed_line(plane, segment)]
        )
    return Path.chain(segments, closed=closed)


def _placed_line(plane: Plane, line: Segment) -> Segment:
    return Segment(plane.at(*line.start), plane.at(*line.end))


def _placed_arc(plane: Plane, arc: Segment) -> tuple[Segment, ...]:
    pieces = max(2, math.ceil(abs(arc.angle) / (math.pi / 4)))
    return Path.curve(
        lambda t: plane.at(*arc.point_at(t)),
        closed=False,
        pieces=pieces,
        rise_in=_rise(plane, arc.radius),
    ).segments


def spline_path(entity: Spline, matrix: Matrix44) -> Path:
    """A spline from control or fit points; each stretch between knots is smooth by itself.

    Args:
        entity: The spline.
        matrix: The map to inches.

    Returns:
        The path in inches.

    Raises:
        EntityError: It has too few points, no length, or does not lie level.
    """
    spline = _tool(entity)
    spline = spline.transform(matrix)
    controls = list(spline.control_points)
    flat_points(controls, Matrix44())
    if not all(math.isfinite(v) for p in controls for v in p.xyz):
        raise EntityError(message("control-points-not-finite"))
    xs, ys = [p.x for p in controls], [p.y for p in controls]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    size = max(math.sqrt(width * height), math.hypot(width, height) / 20)
    segments: list[Segment] = []
    breaks = _breaks(spline)
    for t0, t1 in pairwise(breaks):
        segments.extend(_stretch(spline, t0, t1, size * CURVE_RISE_SHARE))
    segments = _joined(segments)
    if not segments:
        raise EntityError(message("no-length"))
    meets = math.dist(segments[0].start, segments[-1].end) <= size * 1e-9
    if meets:
        segments[-1] = Segment(segments[-1].start, segments[0].start, segments[-1].bulge)
    return Path.chain(segments, closed=meets)


def _tool(entity: Spline) -> BSpline:
    if entity.control_point_count():
        return entity.construction_tool()
    points = [Vec3(p) for p in entity.fit_points]
    if entity.closed and len(points) > 2 and not points[0].isclose(points[-1]):
        points.append(points[0])
    if len(points) < 2:
        raise EntityError(message("too-few-points"))
    tangents = None
    if entity.dxf.hasattr("start_tangent") and entity.dxf.hasattr("end_tangent"):
        tangents = [entity.dxf.start_tangent, entity.dxf.end_tangent]
    return fit_points_to_cad_cv(points, tangents=tangents)


def _breaks(spline: BSpline) -> list[float]:
    """The distinct knots of the domain.

    It runs from the knot of the degree's number to that of the count's: a periodic spline's knots
    reach beyond it.
    """
    knots = spline.knots()
    first, last = knots[spline.degree], knots[spline.count]
    least = (last - first) * 1e-9
    breaks = [first]
    for knot in knots[spline.degree + 1 : spline.count + 1]:
        if knot - breaks[-1] > least:
            breaks.append(knot)
    return breaks


def _stretch(spline: BSpline, t0: float, t1: float, rise: float) -> tuple[Segment, ...]:
    def at(t: float) -> Point:
        p = spline.point(t1 if t >= 1.0 else t0 + (t1 - t0) * t)
        return p.x, p.y

    if spline.degree == 1:
        return (Segment(at(0.0), at(1.0)),)
    return Path.curve(at, closed=False, pieces=2, rise_in=rise).segments


def _joined(segments: list[Segment]) -> list[Segment]:
    """Segments of which each starts exactly where the one before ended."""
    return [
        s if i == 0 else Segment(segments[i - 1].end, s.end, s.bulge)
        for i, s in enumerate(segments)
    ]
