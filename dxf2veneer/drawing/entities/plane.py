"""How an entity's own plane lies in the drawing's: the plane map from entity to inches.

An entity of a plane kind has coordinates in a plane of its own (its object coordinate system, set
by the extrusion direction), and stands perhaps in blocks that scale, turn and mirror it. All of
it together is one affine map, and how that map treats a circle decides what an arc becomes:

    similar (one scale, turned, mirrored)     arc -> arc, the bulge's sign flips where mirrored
    not similar (unequal scales, sheared)     arc -> part of an ellipse
    tilted against the drawing's plane        can't be measured
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.math import OCS, Matrix44, Vec3

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import FLAT_IN, SIMILAR_RELATIVE, TILT_RELATIVE
from dxf2veneer.drawing.errors import EntityError
from dxf2veneer.geometry import Point


@dataclass(frozen=True, slots=True)
class Plane:
    """The affine map (x, y) -> origin + x u + y v."""

    origin: Point
    """Image of the origin."""
    u: Point
    """Image of the unit vector along x."""
    v: Point
    """Image of the unit vector along y."""

    def at(self, x: float, y: float) -> Point:
        """The image of a point."""
        return (
            x * self.u[0] + y * self.v[0] + self.origin[0],
            x * self.u[1] + y * self.v[1] + self.origin[1],
        )

    @property
    def determinant(self) -> float:
        """Signed factor by which areas grow; negative where the map mirrors."""
        return self.u[0] * self.v[1] - self.u[1] * self.v[0]

    @property
    def is_similar(self) -> bool:
        """Whether circles stay circles."""
        u2, v2 = self.u[0] ** 2 + self.u[1] ** 2, self.v[0] ** 2 + self.v[1] ** 2
        dot = self.u[0] * self.v[0] + self.u[1] * self.v[1]
        return (
            u2 > 0.0 and abs(u2 - v2) <= SIMILAR_RELATIVE * u2 and abs(dot) <= SIMILAR_RELATIVE * u2
        )

    @property
    def sense(self) -> float:
        """-1 where the map mirrors, else 1."""
        return -1.0 if self.determinant < 0.0 else 1.0


def plane_of(entity: DXFEntity, matrix: Matrix44, elevation: float = 0.0) -> Plane:
    """The map of a plane entity's own coordinates.

    Args:
        entity: The entity.
        matrix: The map to inches of what it stands in.
        elevation: Its height over its own plane.

    Returns:
        The map to inches.

    Raises:
        EntityError: Its plane is tilted against the drawing's.
    """
    extrusion = entity.dxf.get("extrusion")
    if extrusion is not None and not (
        extrusion.x == 0.0 and extrusion.y == 0.0 and extrusion.z > 0.0
    ):
        if not math.isfinite(extrusion.magnitude) or extrusion.magnitude == 0.0:
            raise EntityError(message("no-direction"))
        matrix = OCS(extrusion).matrix * matrix
    origin = matrix.transform(Vec3(0.0, 0.0, elevation))
    u, v = matrix.transform_direction(Vec3(1, 0, 0)), matrix.transform_direction(Vec3(0, 1, 0))
    if max(abs(u.z), abs(v.z)) > TILT_RELATIVE * max(u.magnitude, v.magnitude):
        raise EntityError(message("tilted"))
    return Plane((origin.x, origin.y), (u.x, u.y), (v.x, v.y))


def flat_points(points: list[Vec3], matrix: Matrix44) -> list[Point]:
    """The images of points in space.

    Args:
        points: The points.
        matrix: The map to inches.

    Returns:
        The points in inches.

    Raises:
        EntityError: They do not lie level in one plane.
    """
    placed = [matrix.transform(p) for p in points]
    heights = [p.z for p in placed]
    if placed and max(heights) - min(heights) > FLAT_IN:
        raise EntityError(message("not-level"))
    return [(p.x, p.y) for p in placed]
