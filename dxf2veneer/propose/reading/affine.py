"""Where references put the content of blocks: affine maps of the plane."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from ezdxf.math import OCS, Vec3

from dxf2veneer.drawing.entities.blocks import columns_rows
from dxf2veneer.propose.scene import Box, Dimension, Floats, Hatch, Text


@dataclass(frozen=True, slots=True)
class Affine:
    """The map (x, y) -> (a x + b y + e, c x + d y + f)."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The image of a point."""
        return self.a * x + self.b * y + self.e, self.c * x + self.d * y + self.f

    def points(self, points: Floats) -> Floats:
        """The images of rows of x, y."""
        turn = np.array([[self.a, self.c], [self.b, self.d]])
        return np.asarray(points @ turn + (self.e, self.f), float)

    def segments(self, segments: Floats) -> Floats:
        """The images of rows of x0, y0, x1, y1."""
        return self.points(segments.reshape(-1, 2)).reshape(-1, 4)

    def box(self, box: Box) -> Box:
        """The box of the image of a box."""
        corners = [self.at(x, y) for x in box[::2] for y in box[1::2]]
        return (
            min(p[0] for p in corners),
            min(p[1] for p in corners),
            max(p[0] for p in corners),
            max(p[1] for p in corners),
        )

    def text(self, t: Text) -> Text:
        """A text, moved, scaled and turned."""
        angle = math.radians(t.rotation)
        direction = (
            self.a * math.cos(angle) + self.b * math.sin(angle),
            self.c * math.cos(angle) + self.d * math.sin(angle),
        )
        x, y = self.at(t.x, t.y)
        turned = math.degrees(math.atan2(direction[1], direction[0]))
        return t._replace(
            x=x,
            y=y,
            height=t.height * math.hypot(self.b, self.d),
            rotation=turned,
            box=self.box(t.box),
        )

    def hatch(self, h: Hatch) -> Hatch:
        """A hatch, its pattern scaled by the square root of the change of area."""
        factor = math.sqrt(abs(self.a * self.d - self.b * self.c))
        turn = math.degrees(math.atan2(self.c, self.a))
        lines = tuple(
            ((angle + turn) % 180.0, gap * factor, dashed) for angle, gap, dashed in h.lines
        )
        return h._replace(box=self.box(h.box), loops=tuple(map(self.points, h.loops)), lines=lines)

    def dimension(self, d: Dimension) -> Dimension:
        """A dimension, its length scaled like that between its points."""
        (x0, y0), (x1, y1) = self.at(d.x0, d.y0), self.at(d.x1, d.y1)
        before = math.dist((d.x0, d.y0), (d.x1, d.y1))
        factor = math.dist((x0, y0), (x1, y1)) / before if before else 1.0
        return d._replace(
            measured=d.measured * factor,
            height=d.height * factor,
            x0=x0,
            y0=y0,
            x1=x1,
            y1=y1,
            box=self.box(d.box),
        )


def affine_maps(insert: Any, base: Vec3, most: int) -> Iterable[Affine]:
    """The map of each row and column of a reference, seen from above.

    Args:
        insert: an INSERT of the DXF library.
        base: base point of its block.
        most: greatest number of rows times columns; more place nothing.

    Returns:
        Maps from the block's coordinates to those of the reference's space; none where a scale is
        0.
    """
    dxf = insert.dxf
    sx, sy, angle = (
        dxf.get("xscale", 1.0),
        dxf.get("yscale", 1.0),
        math.radians(dxf.get("rotation", 0.0)),
    )
    columns, rows = columns_rows(insert)
    if sx == 0.0 or sy == 0.0 or columns * rows > most:
        return
    where = Vec3(dxf.get("insert", (0, 0, 0)))
    cos, sin = math.cos(angle), math.sin(angle)
    extrusion = Vec3(dxf.get("extrusion", (0, 0, 1)))
    flip = -1.0 if not (extrusion.x or extrusion.y) and extrusion.z < 0.0 else 1.0
    tilt = OCS(extrusion) if extrusion.x or extrusion.y else None
    for i in range(columns * rows):
        dx, dy = (
            (i % columns) * dxf.get("column_spacing", 0.0),
            (i // columns) * dxf.get("row_spacing", 0.0),
        )
        ox, oy = dx - base.x * sx, dy - base.y * sy
        plane = Affine(
            cos * sx,
            -sin * sy,
            sin * sx,
            cos * sy,
            where.x + cos * ox - sin * oy,
            where.y + sin * ox + cos * oy,
        )
        if tilt is None:
            yield replace(plane, a=flip * plane.a, b=flip * plane.b, e=flip * plane.e)
        else:
            u, v = tilt.to_wcs(Vec3(plane.a, plane.c)), tilt.to_wcs(Vec3(plane.b, plane.d))
            o = tilt.to_wcs(Vec3(plane.e, plane.f, where.z))
            yield Affine(u.x, v.x, u.y, v.y, o.x, o.y)
