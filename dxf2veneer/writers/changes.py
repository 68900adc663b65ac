"""Pieces that are cut otherwise since site measures, as overlay and picture mark them."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.model import ChangedCut, CutChanges, Piece, WallTakeoff


def changed_on(wall: WallTakeoff, changes: CutChanges | None) -> Iterator[tuple[ChangedCut, Piece]]:
    """The pieces of a wall that are not cut as by the plan before.

    Args:
        wall: The wall.
        changes: The list of changed cuts; None without site measures.

    Yields:
        What changes, and the piece; a piece that is no longer there can't be shown.
    """
    by_place = {(p.course, p.number): p for p in wall.courses.pieces}
    for cut in changes.cuts if changes else ():
        piece = by_place.get((cut.course, cut.number))
        if cut.wall == wall.wall.id and cut.what != "removed" and piece:
            yield cut, piece
