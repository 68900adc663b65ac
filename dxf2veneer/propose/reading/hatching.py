"""Hatches: their boundaries as points, and how far apart the lines of their pattern lie."""

from __future__ import annotations

import math
from typing import Any

from ezdxf.entities.spline import Spline
from ezdxf.math import Vec3

from dxf2veneer.propose.reading.curves import Point, arc_points, bulged_points, spline_points

_TEXT_BOX = 8
"""Boundary flag of the room left blank round a text (DXF reference, HATCH, code 92)."""


def loops_of(hatch: Any) -> list[list[Point]]:
    """The boundaries of a hatch as closed runs of points, those round texts left out.

    Args:
        hatch: a HATCH or MPOLYGON of the DXF library.

    Returns:
        Points of each boundary of three points or more, the first not repeated.
    """
    loops = []
    for path in hatch.paths:
        if path.path_type_flags & _TEXT_BOX:
            continue
        if hasattr(path, "vertices"):
            loops.append(
                bulged_points([(float(x), float(y), float(b)) for x, y, b in path.vertices], True)
            )
        else:
            loops.append(_chained([points for points in map(_edge, path.edges) if points]))
    return [loop for loop in loops if len(loop) > 2]


def line_families(hatch: Any) -> tuple[tuple[float, float, bool], ...]:
    """For each family of pattern lines its angle in degrees, the distance of its lines, whether
    they are dashed.

    Args:
        hatch: a HATCH or MPOLYGON of the DXF library.

    Returns:
        Rows of angle (0 to 180), distance in drawing units, dashed; none for solid ones.
    """
    pattern = getattr(hatch, "pattern", None)
    found = []
    for line in pattern.lines if pattern else ():
        angle = math.radians(line.angle)
        across = abs(line.offset.y * math.cos(angle) - line.offset.x * math.sin(angle))
        found.append((float(line.angle) % 180.0, float(across), bool(line.dash_length_items)))
    return tuple(found)


def _edge(edge: Any) -> list[Point]:
    kind = edge.EDGE_TYPE
    if kind == "LineEdge":
        return [(edge.start.x, edge.start.y), (edge.end.x, edge.end.y)]
    if kind == "ArcEdge":
        start = math.radians(edge.start_angle)
        sweep = (math.radians(edge.end_angle) - start) % math.tau or math.tau
        points = arc_points((edge.center.x, edge.center.y), edge.radius, start, sweep)
        return points if edge.ccw else points[::-1]
    if kind == "EllipseEdge":
        return _ellipse(edge)
    return _spline(edge)


def _ellipse(edge: Any) -> list[Point]:
    start = edge.start_param
    sweep = (edge.end_param - start) % math.tau or math.tau
    ux, uy = edge.major_axis.x, edge.major_axis.y
    vx, vy = -uy * edge.ratio, ux * edge.ratio
    unit = arc_points((0.0, 0.0), 1.0, start, sweep)
    points = [(edge.center.x + c * ux + s * vx, edge.center.y + c * uy + s * vy) for c, s in unit]
    return points if edge.ccw else points[::-1]


def _spline(edge: Any) -> list[Point]:
    spline = Spline.new(dxfattribs={"degree": edge.degree})
    spline.control_points = [Vec3(p) for p in edge.control_points]
    spline.knots, spline.weights = edge.knot_values, edge.weights
    return spline_points(spline.construction_tool())


def _chained(edges: list[list[Point]]) -> list[Point]:
    """The edges end to end, each turned so that it goes on from the one before."""
    if not edges:
        return []
    first = edges[0]
    if len(edges) > 1:
        ends = edges[1][0], edges[1][-1]
        if min(math.dist(first[0], p) for p in ends) < min(math.dist(first[-1], p) for p in ends):
            first = first[::-1]
    chain = list(first)
    for edge in edges[1:]:
        turned = math.dist(chain[-1], edge[-1]) < math.dist(chain[-1], edge[0])
        chain += (edge[::-1] if turned else edge)[1:]
    return chain[:-1] if len(chain) > 2 and math.dist(chain[0], chain[-1]) < 1e-9 else chain
