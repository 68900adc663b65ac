"""The cut list of a sheet: what is cut, from what, in the order of laying."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.model import Piece, PieceRef, WallTakeoff
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.crew_sheets.labels import size_words
from dxf2veneer.writers.words import angle_words
from dxf2veneer.writers.workbook.cuts import PanelParts

CUTS_OF = ("crosscut", "ripped", "notched", "raked", "mitred")
"""Kinds of pieces that a saw makes."""


class CutRow(NamedTuple):
    """A row of the list."""

    number: str
    piece: str
    at: str
    """Running dimension of its left end from the wall's left edge."""
    size: str
    panel: str
    what: str
    """What is done to it, and where the rest of its panel goes; empty for a plain crosscut that
    leaves no rest."""


def is_cut(piece: Piece) -> bool:
    """Whether a piece is no whole panel.

    Args:
        piece: The piece.

    Returns:
        Whether a saw has to do with it; a corner piece is always half of a panel.
    """
    return piece.kind in CUTS_OF or piece.unit == "corner" or piece.ripped


def rows_of(
    entry: WallTakeoff,
    pieces: Sequence[Piece],
    course: float,
    display: str,
    parts: PanelParts,
) -> list[CutRow]:
    """The rows of the pieces of a sheet that are cut.

    Args:
        entry: The wall.
        pieces: Its pieces that are cut, in the order of laying.
        course: Height of a course in inches.
        display: Units for the reader: ``imperial`` or ``metric``.
        parts: What every panel is cut into.

    Returns:
        A row for each piece.
    """
    left = entry.wall.box[0]
    return [
        CutRow(
            number=str(n),
            piece=f"{entry.courses.number(piece.course)}/{piece.number}",
            at=length_text(piece.x0 - left, display),
            size=size_words(piece, course, display),
            panel=piece.stock,
            what="; ".join(filter(None, (_done(piece), _rest(entry.wall.id, piece, parts)))),
        )
        for n, piece in enumerate(pieces, 1)
    ]


def _done(piece: Piece) -> str:
    """What is done to a piece beside its cut to length."""
    words = []
    if piece.unit == "corner":
        words.append(f"corner, {'left' if piece.left == 'finished' else 'right'} hand")
    if piece.kind not in ("whole", "crosscut"):
        words.append(piece.kind)
    if piece.ripped and piece.kind != "ripped":
        words.append("ripped")
    return ", ".join(filter(None, (*words, angle_words(piece), "glued" if piece.glued else "")))


def _rest(wall: str, piece: Piece, parts: PanelParts) -> str:
    """Where the rest of the panel goes, or of which piece this one is the rest."""
    unit = parts.units.get(piece.stock)
    if unit is None:
        return ""
    first, *others = parts.cut_order(unit)
    if parts.part_of(wall, piece) != first:
        return f"rest of {_short(first, parts)}"
    return f"rest to {', '.join(_short(ref, parts) for ref in others)}" if others else ""


def _short(ref: PieceRef, parts: PanelParts) -> str:
    return f"{ref.wall} {parts.numbers(ref.wall, ref.course)}/{ref.number}"
