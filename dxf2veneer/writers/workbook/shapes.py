"""How a piece that is no rectangle is cut, in words: measured from its left end and from its lower
edge."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import BOX_FILL, SPECK_IN
from dxf2veneer.model import Piece
from dxf2veneer.writers.workbook.columns import Display

_MOST_CUTS = 4
"""Cuts of one piece put into words; a piece with more is traced."""


def shape_lines(piece: Piece, display: Display) -> list[str]:
    """One line for each stretch cut out of the piece's rectangle; none where it is the rectangle.

    Args:
        piece: The piece.
        display: Units of the sheets.

    Returns:
        The lines.
    """
    if not piece.outline and not piece.holes:
        return []
    rectangle = shapely.box(piece.x0, piece.y0, piece.x1, piece.y1)
    off = rectangle.difference(Polygon(piece.outline)) if piece.outline else Polygon()
    cuts = [("cut out", part) for part in _parts(off)] + [
        ("hole", Polygon(hole)) for hole in piece.holes
    ]
    lines = [
        _line(word, part, piece, display)
        for word, part in sorted(cuts, key=lambda cut: cut[1].bounds)
    ]
    if len(lines) > _MOST_CUTS:
        return [f"{len(lines)} cuts: trace them from the overlay"]
    return lines


def _parts(ground: shapely.Geometry) -> Iterator[Polygon]:
    for part in shapely.get_parts(ground):
        if isinstance(part, Polygon):
            x0, y0, x1, y1 = part.bounds
            if min(x1 - x0, y1 - y0) > SPECK_IN:
                yield part


def _line(word: str, part: Polygon, piece: Piece, display: Display) -> str:
    x0, y0, x1, y1 = part.bounds

    def across(x: float) -> str:
        return display.tape(x - piece.x0)

    def up(y: float) -> str:
        return display.tape(y - piece.y0)

    place = f"{_from(across(x0), across(x1))} from its left, {_from(up(y0), up(y1))} up"
    if part.area >= BOX_FILL * (x1 - x0) * (y1 - y0):
        return f"{word} {place}"
    slopes = _slopes(part)
    if len(slopes) != 1:
        return f"{word} within {place}: trace it from the overlay"
    (ax, ay), (bx, by) = slopes[0]
    return f"slope: {across(ax)} from its left {up(ay)} up, {across(bx)} from its left {up(by)} up"


def _from(least: str, greatest: str) -> str:
    """A stretch: the unit stands once, behind both numbers."""
    return f"{least.rpartition(' ')[0]} to {greatest}"


def _slopes(part: Polygon) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The part's edges that are neither level nor upright, each from its left end to its right."""
    ring = [(float(x), float(y)) for x, y in part.simplify(SPECK_IN).exterior.coords]
    edges = [(min(a, b), max(a, b)) for a, b in pairwise(ring)]
    return [(a, b) for a, b in edges if b[0] - a[0] > SPECK_IN and abs(b[1] - a[1]) > SPECK_IN]
