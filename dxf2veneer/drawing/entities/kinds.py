"""One entity of the drawing as a path, or as a label."""

from __future__ import annotations

import math
import struct
from collections.abc import Callable
from typing import Any

from ezdxf.lldxf.const import DXFError
from ezdxf.math import Matrix44, Vec3
from ezdxf.tools.text import plain_mtext, plain_text

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import LABEL_LETTERS, TILT_RELATIVE
from dxf2veneer.drawing.entities.curves import bulged_path, round_path, spline_path
from dxf2veneer.drawing.entities.plane import Plane, flat_points, plane_of
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.geometry import Path, Point

BAD_DATA = (
    EntityError,
    DXFError,
    ValueError,
    ArithmeticError,
    TypeError,
    LookupError,
    AttributeError,
    struct.error,
)
"""What reading one bad entity can raise; none of it may cost the others."""

_SPLINE_FRAME = 16
"""Vertex flag of a spline's control point, which is not on the curve (DXF reference, VERTEX)."""


def _need(entity: Any, name: str) -> Any:
    """An attribute that has to be there."""
    if not entity.dxf.hasattr(name):
        raise EntityError(message("attribute-missing", name=name))
    return entity.dxf.get(name)


def _line(entity: Any, matrix: Matrix44) -> Path:
    return Path.polygon(
        flat_points([_need(entity, "start"), _need(entity, "end")], matrix), closed=False
    )


def _lwpolyline(entity: Any, matrix: Matrix44) -> Path:
    plane = plane_of(entity, matrix, entity.dxf.get("elevation", 0.0))
    return bulged_path(
        plane,
        [(float(x), float(y), float(b)) for x, y, b in entity.get_points("xyb")],
        entity.closed,
    )


def _polyline(entity: Any, matrix: Matrix44) -> Path:
    shown = [v for v in entity.vertices if not v.dxf.get("flags", 0) & _SPLINE_FRAME]
    points = [_need(v, "location") for v in shown]
    if entity.is_3d_polyline:
        return Path.polygon(flat_points([Vec3(p) for p in points], matrix), closed=entity.is_closed)
    plane = plane_of(entity, matrix, Vec3(entity.dxf.get("elevation", (0, 0, 0))).z)
    vertices = [(p[0], p[1], v.dxf.get("bulge", 0.0)) for p, v in zip(points, shown, strict=True)]
    return bulged_path(plane, vertices, entity.is_closed)


def _round(entity: Any, matrix: Matrix44, start: float, sweep: float) -> Path:
    center, radius = Vec3(_need(entity, "center")), _need(entity, "radius")
    if not radius > 0.0 or not math.isfinite(radius):
        raise EntityError(message("radius-unusable", radius=str(radius)))
    plane = plane_of(entity, matrix, center.z)
    u, v = ((c[0] * radius, c[1] * radius) for c in (plane.u, plane.v))
    return round_path(Plane(plane.at(center.x, center.y), u, v), start, sweep)


def _circle(entity: Any, matrix: Matrix44) -> Path:
    return _round(entity, matrix, 0.0, math.tau)


def _arc(entity: Any, matrix: Matrix44) -> Path:
    start, end = (
        math.radians(_need(entity, "start_angle")),
        math.radians(_need(entity, "end_angle")),
    )
    return _round(entity, matrix, start, sweep_of(start, end))


def _ellipse(entity: Any, matrix: Matrix44) -> Path:
    center, major = Vec3(_need(entity, "center")), Vec3(_need(entity, "major_axis"))
    ratio = abs(_need(entity, "ratio"))
    normal = Vec3(entity.dxf.get("extrusion", (0, 0, 1)))
    if not major.magnitude * ratio > 0.0 or normal.magnitude == 0.0:
        raise EntityError(message("axis-unusable"))
    minor = normal.cross(major).normalize(major.magnitude * ratio)
    o, u, v = (
        matrix.transform(center),
        matrix.transform_direction(major),
        matrix.transform_direction(minor),
    )
    if max(abs(u.z), abs(v.z)) > TILT_RELATIVE * max(u.magnitude, v.magnitude):
        raise EntityError(message("tilted"))
    start, end = entity.dxf.get("start_param", 0.0), entity.dxf.get("end_param", math.tau)
    return round_path(Plane((o.x, o.y), (u.x, u.y), (v.x, v.y)), start, sweep_of(start, end))


def sweep_of(start: float, end: float) -> float:
    """Counter-clockwise angle from one direction to another.

    Args:
        start: The first, in radians.
        end: The second, in radians.

    Returns:
        Radians above 0 and up to a full turn.
    """
    sweep = (end - start) % math.tau
    return math.tau if sweep < 1e-9 or math.tau - sweep < 1e-9 else sweep


def _spline(entity: Any, matrix: Matrix44) -> Path:
    return spline_path(entity, matrix)


READERS: dict[str, Callable[[Any, Matrix44], Path]] = {
    "LINE": _line,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
    "CIRCLE": _circle,
    "ARC": _arc,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
}
"""How each kind of curve is read; every reader raises EntityError where it can't."""

TEXTS = ("TEXT", "MTEXT", "ATTRIB")
"""The kinds of text that a person sees in the drawing."""


def kind_of(entity: Any) -> str:
    """The entity's kind as its readers and messages call it; meshes are no polylines.

    Args:
        entity: The entity.

    Returns:
        Its DXF type, with a word behind it for a mesh.
    """
    kind = str(entity.dxftype())
    if kind == "POLYLINE" and (entity.is_poly_face_mesh or entity.is_polygon_mesh):
        return "POLYLINE (mesh)"
    return kind


def _plain(entity: Any) -> str:
    """The text without its codes; of one that is longer than any label the beginning."""
    if entity.dxftype() == "MTEXT":
        return str(plain_mtext(entity.text[:LABEL_LETTERS]))
    return str(plain_text(entity.dxf.get("text", "")[:LABEL_LETTERS]))


def label_of(entity: Any, matrix: Matrix44) -> tuple[str, Point]:
    """What a text says, and where; a POINT has a place and no text.

    Args:
        entity: The entity.
        matrix: The map to inches.

    Returns:
        The plain text on one line, and the insertion point in inches.

    Raises:
        EntityError: It has no place.
    """
    if entity.dxftype() == "POINT":
        (spot,) = flat_points([Vec3(_need(entity, "location"))], matrix)
        return "", spot
    text = " ".join(_plain(entity).split())
    if entity.dxftype() == "MTEXT":
        (at,) = flat_points([Vec3(_need(entity, "insert"))], matrix)
    else:
        aligned = entity.dxf.get("halign", 0) or entity.dxf.get("valign", 0)
        fitted = entity.dxf.get("halign", 0) in (
            3,
            5,
        )  # spread between two points, of which insert is the first
        place = entity.dxf.get("align_point") if aligned and not fitted else None
        where = Vec3(place if place is not None else _need(entity, "insert"))
        at = plane_of(entity, matrix, where.z).at(where.x, where.y)
    if not all(map(math.isfinite, at)):
        raise EntityError(message("coordinates-not-finite"))
    return text, at
