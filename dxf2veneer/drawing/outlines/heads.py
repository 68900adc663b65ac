"""Openings whose head is not drawn: jambs and sill of loose lines that close nothing.

|         |      two uprights of one height from the ends of a level line,
|         |      and no line from one top to the other
'---------'
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import HEAD_MISSING_LEAST_IN, HEAD_MISSING_SLANT
from dxf2veneer.drawing.notice_collector import Report
from dxf2veneer.geometry import Point
from dxf2veneer.model import Shape


class _Line(NamedTuple):
    """A straight piece, from the lower left end to the other."""

    start: Point
    end: Point
    shape: Shape


def report_headless(
    unused: Sequence[Shape], *, gap_in: float, inches: float, report: Report
) -> None:
    """Report openings without a head, each with the outline that would mend it.

    Args:
        unused: Shapes of a layer of openings that bound no outline, in inches.
        gap_in: Ends this near to each other meet, in inches.
        inches: Inches in a drawing unit.
        report: Takes the notices.
    """
    lines = list(_straight(unused))
    jambs = [x for x in lines if _is_along(x, 1)]
    for sill in (x for x in lines if _is_along(x, 0)):
        for left, right in product(_on(sill.start, jambs, gap_in), _on(sill.end, jambs, gap_in)):
            high = min(left.end[1], right.end[1]) - sill.start[1]
            wide = sill.end[0] - sill.start[0]
            even = abs(left.end[1] - right.end[1]) <= max(gap_in, HEAD_MISSING_SLANT * high)
            if even and min(wide, high) >= HEAD_MISSING_LEAST_IN:
                corners = (sill.start, sill.end, right.end, left.end)
                outline = " ".join(f"{x / inches:.8g},{y / inches:.8g}" for x, y in corners)
                report(
                    "OPENING_WITHOUT_HEAD",
                    message(
                        "opening-without-head",
                        layer=sill.shape.layer,
                        width=Length(wide),
                        height=Length(high),
                        outline=outline,
                    ),
                    layer=sill.shape.layer,
                    handle=sill.shape.handle,
                    at=sill.start,
                )


def _straight(shapes: Sequence[Shape]) -> Iterator[_Line]:
    for shape in shapes:
        for piece in shape.path.segments:
            if not piece.is_arc:
                low, high = sorted((piece.start, piece.end), key=lambda p: (round(p[1], 6), p[0]))
                level = abs(low[1] - high[1]) <= HEAD_MISSING_SLANT * abs(low[0] - high[0])
                start, end = (min(low, high), max(low, high)) if level else (low, high)
                yield _Line(start, end, shape)


def _is_along(line: _Line, axis: int) -> bool:
    """Whether a line runs along x (0) or y (1)."""
    run = abs(line.end[0] - line.start[0]), abs(line.end[1] - line.start[1])
    return run[1 - axis] <= HEAD_MISSING_SLANT * run[axis]


def _on(corner: Point, jambs: Sequence[_Line], gap_in: float) -> list[_Line]:
    """The uprights that stand on a corner."""
    return [
        jamb
        for jamb in jambs
        if max(abs(jamb.start[0] - corner[0]), abs(jamb.start[1] - corner[1])) <= gap_in
    ]
