"""Stretches of a piece's outline: where it stands upright, and where a text has room inside it.

   +------+
  /       |   upright stretch at the right end, none at the left
 /  room  |
+---------+
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dxf2veneer.basics.tolerances import SAME_PLACE_IN
from dxf2veneer.geometry import Point
from dxf2veneer.model import Piece

Span = tuple[float, float]


def box_ring(piece: Piece) -> tuple[Point, ...]:
    """The corners of a piece's box.

    Args:
        piece: The piece.

    Returns:
        Four corners, from the lower left one counter-clockwise.
    """
    return ((piece.x0, piece.y0), (piece.x1, piece.y0), (piece.x1, piece.y1), (piece.x0, piece.y1))


def end_spans(piece: Piece, x: float) -> list[Span]:
    """The upright stretches of a piece's boundary at x, from least to greatest y.

    Args:
        piece: The piece.
        x: Where, in inches.

    Returns:
        Least and greatest y of each, in inches.
    """
    if not piece.outline:
        return [(piece.y0, piece.y1)]
    ring = piece.outline
    edges = zip(ring, (*ring[1:], ring[0]), strict=True)
    return [
        (min(a[1], b[1]), max(a[1], b[1]))
        for a, b in edges
        if abs(a[0] - x) < SAME_PLACE_IN
        and abs(b[0] - x) < SAME_PLACE_IN
        and abs(a[1] - b[1]) > SAME_PLACE_IN
    ]


def widest(piece: Piece, height: float) -> tuple[float, float, float] | None:
    """Where a text of a height has most room in a piece.

    Args:
        piece: The piece.
        height: Height of the text in inches.

    Returns:
        The middle of its place and the room along it, in inches; None where none fits.
    """
    if piece.height < height:
        return None
    if not piece.outline and not piece.holes:
        return (piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2, piece.length
    rings = (piece.outline or box_ring(piece), *piece.holes)
    best: tuple[float, float, float] | None = None
    for share in (0.5, 0.25, 0.75):
        y = piece.y0 + height / 2 + share * (piece.height - height)
        levels = [_inside(rings, y + dy * height) for dy in (-0.45, 0.0, 0.45)]
        for a0, a1 in _common(_common(levels[0], levels[1]), levels[2]):
            if best is None or a1 - a0 > best[2] + SAME_PLACE_IN:
                best = ((a0 + a1) / 2, y, a1 - a0)
    return best


def _inside(rings: Iterable[Sequence[Point]], y: float) -> list[Span]:
    """The stretches of a level line inside rings, by the even-odd rule."""
    xs = sorted(
        a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        for ring in rings
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
        if (a[1] > y) != (b[1] > y)
    )
    return list(zip(xs[::2], xs[1::2], strict=False))


def _common(some: Iterable[Span], others: Sequence[Span]) -> list[Span]:
    both = [(max(a0, b0), min(a1, b1)) for a0, a1 in some for b0, b1 in others]
    return [(x0, x1) for x0, x1 in both if x1 > x0]
