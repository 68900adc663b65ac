"""Dimensions as words, and drawn with lines and texts."""

from __future__ import annotations

import math

from corpus.shapes import Measure, Note, Shape, dimension_line, stroke


def measured(length: float, unit_mm: float) -> str:
    """A dimension as the trade writes it: feet and inches, or a number in the drawing's unit.

    Args:
        length: Millimeters.
        unit_mm: Millimeters of a drawing unit.
    """
    if unit_mm in (25.4, 304.8):
        inches = round(length / 25.4)
        return f"{inches // 12}'-{inches % 12}\""
    if unit_mm == 1000.0:
        return f"{length / 1000:.2f}"
    return f"{length / unit_mm:.0f}"


def drawn_dimension(shape: Measure, text: str) -> list[Shape]:
    """Dimension line, extension lines, ticks and the text along the line."""
    a, b = dimension_line(shape)
    lines = [(a, b), (shape.a, a), (shape.b, b)]
    tick = shape.height / 2
    lines += [((x - tick, y - tick), (x + tick, y + tick)) for x, y in (a, b)]
    shapes: list[Shape] = [
        stroke(shape.role, start, end) for start, end in lines if math.dist(start, end) > 1
    ]
    upright = abs(b[0] - a[0]) < abs(b[1] - a[1])
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    shift, above = 0.35 * shape.height * len(text), 0.3 * shape.height
    at = (x - above, y - shift) if upright else (x - shift, y + above)
    return [*shapes, Note(shape.role, text, at, shape.height, 90.0 if upright else 0.0)]
