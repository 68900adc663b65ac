"""Patterns of hatches, and their lines where an office draws hatches line by line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from shapely.geometry import LineString, Polygon

from corpus.shapes import Fill, Point


def pattern(name: str, spacing: float) -> list[list[Any]]:
    """The lines of a pattern as ezdxf wants them: angle, base point, offset, dashes.

    Args:
        name: ``LINE``, ``UPRIGHT``, ``DIAGONAL``, ``BRICK``, or another for broken level lines.
        spacing: Distance of the lines in drawing units.
    """
    level = [0, (0, 0), (0, spacing), []]
    if name == "LINE":
        return [level]
    if name == "UPRIGHT":
        return [[90, (0, 0), (spacing, 0), []]]
    if name == "DIAGONAL":
        return [[45, (0, 0), (-spacing * 0.7, spacing * 0.7), []]]
    if name == "BRICK":
        return [level, [90, (0, 0), (spacing, spacing * 1.5), [spacing, -spacing]]]
    return [[0, (0, 0), (0, spacing), [spacing * 2, -spacing / 4]]]


def hatch_lines(shape: Fill) -> Iterator[tuple[Point, Point]]:
    """Level lines over an area, or upright ones for that pattern; a solid area has none."""
    if shape.pattern == "SOLID":
        return
    area = Polygon(shape.outline, shape.holes)
    x0, y0, x1, y1 = area.bounds
    upright = shape.pattern == "UPRIGHT"
    count = math.ceil(((x1 - x0) if upright else (y1 - y0)) / shape.spacing) - 1
    for i in range(1, count + 1):
        x, y = x0 + i * shape.spacing, y0 + i * shape.spacing
        line = LineString([(x, y0), (x, y1)] if upright else [(x0, y), (x1, y)])
        rest = line.intersection(area)
        for part in rest.geoms if hasattr(rest, "geoms") else [rest]:
            if part.geom_type == "LineString" and part.length > 1:
                a, b = part.coords
                yield (a[0], a[1]), (b[0], b[1])
