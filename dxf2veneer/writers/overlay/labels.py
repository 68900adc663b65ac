"""Texts of pieces: unit and cut length, where they fit legibly inside the piece, else the unit
alone.

    +----------------+-----------+----+
    |       F12      |  F13 24"  | C3 |
    +----------------+-----------+----+

A panel that is not cut to length bears its unit alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.config.product import Product
from dxf2veneer.model import Piece, Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.writers.colors import color_marks
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.plan import hand_mark, hand_of, piece_tags, ring_of
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import Box, Line, Sheet, overlap, width_of
from dxf2veneer.writers.words import cut_length

_IN_PIECE = 0.5
"""Share of a piece's height that its text may take; the marks of cut ends stand below that."""

_PAD = 0.25
"""Room around a text, in its heights."""


_PLACES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95)
"""Places tried for a text's middle, as shares of the room along and across the piece."""


def label_pieces(
    walls: Sequence[WallTakeoff], takeoff: Takeoff, pen: Pen, sizes: TextSizes, sheet: Sheet
) -> None:
    """A text in every piece that has room for a legible one clear of other texts.

    Args:
        walls: The walls.
        takeoff: The takeoff, for the product and the colors of its panels.
        pen: Draws.
        sizes: Sizes of the texts.
        sheet: The area that texts have taken; what is drawn takes more of it.
    """
    letters = {id: for_dxf(mark.letter) for id, mark in color_marks(takeoff).items()}
    for wall in walls:
        product = takeoff.product_of(wall.wall.id)
        for piece in wall.courses.pieces:
            texts = label_texts(piece, product, sizes.display, letters.get(piece.stock, ""))
            line = _label(piece, texts, sizes, sheet)
            if line is not None:
                sheet.take(line.box)
                pen.text("piece", line, piece_tags("piece text", wall.wall.id, piece))


def label_texts(piece: Piece, product: Product, display: str, letter: str = "") -> tuple[str, ...]:
    """The texts for a piece, the one that says most first.

    Args:
        piece: The piece.
        product: The product.
        display: Units for the reader: ``imperial`` or ``metric``.
        letter: The letter of its color; empty where the product has but one.

    Returns:
        The texts, the one that says most first.
    """
    panel = product.corner.length if piece.unit == "corner" else product.panel.length
    unit = " ".join(filter(None, (letter, for_dxf(piece.stock))))
    if abs(piece.length - panel) < SPECK_IN:
        return (unit, letter) if letter else (unit,)
    texts = (f"{unit} {cut_length(piece.length, display)}", unit)
    return (*texts, letter) if letter else texts


def _label(piece: Piece, texts: Sequence[str], sizes: TextSizes, sheet: Sheet) -> Line | None:
    """The piece's text at its place, or None where none fits."""
    most = min(sizes.in_course, _IN_PIECE * piece.height)
    if most < sizes.least:
        return None
    ground = shapely.Polygon(ring_of(piece), piece.holes) if _is_odd(piece) else None
    hand = hand_of(piece)
    taken = shapely.Polygon(hand_mark(piece, hand)).bounds if hand else None
    for text in texts:
        for height in dict.fromkeys((most, (most + sizes.least) / 2, sizes.least)):
            for line in _tries(text, height, piece, taken):
                room = _padded(line.box, _PAD * height)
                if (ground is None or ground.contains(shapely.box(*room))) and sheet.is_free(
                    line.box
                ):
                    return line
    return None


def _is_odd(piece: Piece) -> bool:
    return bool(piece.outline or piece.holes)


def _tries(text: str, height: float, piece: Piece, mark: Box | None) -> Iterator[Line]:
    """Lines of a height at the places that lie in the piece's box and clear of its mark."""
    wide, high = width_of(text, height) + 2 * _PAD * height, height * (1 + 2 * _PAD)
    slack_x, slack_y = piece.length - wide, piece.height - high
    if slack_x < 0.0 or slack_y < 0.0:
        return
    across = _PLACES if _is_odd(piece) else _PLACES[:1]
    for share_y in across:
        for share_x in _PLACES:
            x = piece.x0 + wide / 2 + share_x * slack_x
            line = Line(text, x, piece.y0 + high / 2 + share_y * slack_y, height, "middle")
            if mark is None or not overlap(mark, line.box):
                yield line


def _padded(box: Box, pad: float) -> Box:
    return box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad
