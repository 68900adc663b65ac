"""What stands on a piece of a crew sheet: its length, the panel it is cut from, its rip.

+-----------+  +------+  +----+
| 15 1/2 F4 |  |15 1/2|  | 7  |      one line, two lines, a length in two lines,
+-----------+  |  F4  |  |5/16|      else its number in the sheet's list
               +------+  +----+
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.model import Piece
from dxf2veneer.writers.spans import widest
from dxf2veneer.writers.words import tape

TEXT_PT = 7.0
"""Height of the smallest text on a sheet in points."""

_LETTER, _LINE, _AROUND_PT = 0.56, 1.1, 2.0
"""Width of a letter and distance of lines in text heights, and what is left free around a label in
points."""


class Label(NamedTuple):
    """Lines of text in the middle of a place; lengths in inches of the building."""

    lines: tuple[str, ...]
    x: float
    y: float


def size_words(piece: Piece, course: float, display: str) -> str:
    """Length of a piece and, where it is ripped, its height.

    Args:
        piece: The piece.
        course: Height of a course in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        Such as ``15 1/2``, or two of these where it is ripped: inches or millimeters without their
        unit.
    """
    length = _bare(piece.length, display)
    low = piece.height < course - SPECK_IN
    return f"{length} × {_bare(piece.height, display)}" if low else length


def label_of(
    piece: Piece, number: int, course: float, scale: float, display: str
) -> tuple[Label, bool]:
    """What stands on a piece that is cut, as much of it as fits.

    Args:
        piece: The piece.
        number: Its number in the sheet's list.
        course: Height of a course in inches.
        scale: How many times larger the building is than the sheet.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The label, and whether it tells the length; else it is the number alone.
    """
    for lines in _ways(piece, course, display):
        placed = _placed(piece, lines, scale)
        if placed is not None:
            return placed, True
    x, y = (piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2
    return _placed(piece, (f"#{number}",), scale) or Label((f"#{number}",), x, y), False


def _ways(piece: Piece, course: float, display: str) -> Iterator[tuple[str, ...]]:
    """The lines of a label, the fullest first."""
    size = size_words(piece, course, display)
    hand = {"left": " L", "right": " R", "": ""}[_hand(piece)]
    panel = f"{piece.stock}{hand}"
    yield (f"{size}  {panel}",)
    yield (size, panel)
    yield (size,)
    length, _, low = size.partition(" × ")
    if low:
        yield (length, f"× {low}")
    whole, _, fraction = length.partition(" ")
    if fraction and not low:
        yield (whole, fraction)


def _hand(piece: Piece) -> str:
    """Which end of a corner piece is finished; empty for a flat piece."""
    if piece.unit != "corner":
        return ""
    return "left" if piece.left == "finished" else "right" if piece.right == "finished" else ""


def _placed(piece: Piece, lines: tuple[str, ...], scale: float) -> Label | None:
    """The lines where they have most room in the piece; None where they have none."""
    point = scale / 72.0
    high = ((len(lines) - 1) * _LINE + 0.8) * TEXT_PT * point
    place = widest(piece, high)
    if place is None:
        return None
    x, y, room = place
    wide = (max(map(len, lines)) * _LETTER * TEXT_PT + 2 * _AROUND_PT) * point
    return Label(lines, x, y) if wide <= room else None


def _bare(inches: float, display: str) -> str:
    """A length as on a tape, without its unit."""
    return tape(inches, display).removesuffix(" mm").removesuffix('"')


def line_step(scale: float) -> float:
    """Distance of a label's lines in inches of the building.

    Args:
        scale: How many times larger the building is than the sheet.

    Returns:
        The distance.
    """
    return _LINE * TEXT_PT * scale / 72.0
