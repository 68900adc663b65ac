"""Patterns of hatches, and their lines where an office draws hatches line by line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shapely.geometry import LineString, Polygon

from corpus.shapes import Fill, Point


def pattern(name: str, spacing: float) -> list[list[Any]]:
    """The lines of a pattern as ezdxf wants them: angle, base point, offset, dashes.

    Args:
        name: ``LINE``, ``DIAGONAL``, ``BRICK``, or another for broken level lines.
        spacing: Distance of the lines in drawing units.
    """
    level = [0, (0, 0), (0, spacing), []]
    if name == "LINE":
        return [level]
    if name == "DIAGONAL":
        return [[45, (0, 0), (-spacing * 0.7, spacing * 0.7), []]]
    if name == "BRICK":
        return [level, [90, (0, 0), (spacing, spacing * 1.5), [spacing, -spacing]]]
    return [[0, (0, 0), (0, spacing), [spacing * 2, -spacing / 4]]]


def hatch_lines(shape: Fill) -> Iterator[tuple[Point, Point]]:
    """Level lines over an area; a solid area has none."""
    if shape.pattern == "SOLID":
        return
    area = Polygon(shape.outline, shape.holes)
    x0, y0, x1, y1 = area.bounds
    y = y0 + shape.spacing
    while y < y1:
        rest = LineString([(x0, y), (x1, y)]).intersection(area)
        for part in rest.geoms if hasattr(rest, "geoms") else [rest]:
            if part.geom_type == "LineString" and part.length > 1:
                a, b = part.coords
                yield (a[0], a[1]), (b[0], b[1])
        y += shape.spacing
