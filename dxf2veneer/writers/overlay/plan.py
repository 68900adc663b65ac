"""The course plan on the overlay: joints, cut pieces, corner pieces, glued pieces, cut ends. In
inches.

+-----------+-----------------+---------+
| whole     |                /|>        |   / foot of a cut end, beside a joint
|           |    notched    / |> corner |   > the hand of a corner piece: at its finished end
+-----------+------+  +-------+---------+
"""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from dxf2veneer.basics.tolerances import SAME_PLACE_IN
from dxf2veneer.config.rules import RuleId
from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import CutChanges, Fragile, FragileKind, Piece, PieceEnd, Side, WallTakeoff
from dxf2veneer.writers.changes import changed_on
from dxf2veneer.writers.colors import ColorMark
from dxf2veneer.writers.fragile import fragile_mark
from dxf2veneer.writers.overlay.layers import EntityTags
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.spans import Span, end_spans
from dxf2veneer.writers.words import piece_key

_CLOSER = 0.6
"""How much closer the lines of the first minor color are than those of glued pieces."""
_TICK, _HAND = 0.2, 0.3
"""Sizes of the marks of a cut end and of a corner piece's hand, in heights of the piece."""


def draw_plan(wall: WallTakeoff, pen: Pen) -> None:
    """Everything of one wall's pieces but their texts.

    Args:
        wall: The wall.
        pen: Draws.
    """
    id, pieces = wall.wall.id, wall.courses.pieces
    for piece in pieces:
        if piece.glued:
            pen.hatch("glued", [ring_of(piece), *piece.holes], piece_tags("glued piece", id, piece))
    for piece in pieces:
        _outline(id, piece, pen)
    for left, right, x, (y0, y1) in joints(pieces):
        tags = EntityTags(
            "joint", id, course=left.course, piece=f"{piece_key(id, left)},{piece_key(id, right)}"
        )
        pen.line("joint", (x, y0), (x, y1), tags)
    for piece in pieces:
        for side in _SIDES:
            _cut_end(id, piece, side, pen)


def draw_colors(wall: WallTakeoff, marks: Mapping[str, ColorMark], pen: Pen) -> None:
    """Hatches over the pieces of minor colors, closer from color to color; the one of the greatest
    share stays bare.

    Args:
        wall: The wall.
        marks: By panel the mark of its color; empty where the product has but one.
        pen: Draws.
    """
    for piece in wall.courses.pieces:
        mark = marks.get(piece.stock)
        if mark and mark.shade:
            tags = piece_tags("color", wall.wall.id, piece)
            hatch_color(pen, [ring_of(piece), *piece.holes], mark, tags)


def hatch_color(
    pen: Pen, rings: Sequence[Sequence[Point]], mark: ColorMark, tags: EntityTags
) -> None:
    """The hatch that tells a color.

    Args:
        pen: Draws.
        rings: A boundary, and those of what is cut out of it.
        mark: The color, not that of the greatest share.
        tags: What the hatch belongs to.
    """
    told = dataclasses.replace(tags, color=mark.name)
    pen.hatch("blend", rings, told, closer=_CLOSER * mark.shade, falls=True)


def draw_changes(wall: WallTakeoff, changes: CutChanges | None, pen: Pen) -> None:
    """The outline of each piece that is not cut as by the plan before; one that is no longer there
    has none.

    Args:
        wall: The wall.
        changes: The list of changed cuts; None without site measures.
        pen: Draws.
    """
    for cut, piece in changed_on(wall, changes):
        tags = piece_tags(f"changed cut: {cut.what}", wall.wall.id, piece)
        pen.path("change", Path.polygon(ring_of(piece)), tags)


def draw_fragile(wall: WallTakeoff, places: Iterable[Fragile], pen: Pen) -> None:
    """A small triangle on the course line under each place that does not hold with edges off.

    Args:
        wall: The wall.
        places: The places on it.
        pen: Draws.
    """
    for place in places:
        ring = fragile_mark(wall, place)
        what = f"edges off: {_FRAGILE[place.kind]}"
        tags = EntityTags(what, wall.wall.id, course=place.course, rule=RuleId.OUT_OF_PLUMB)
        pen.path("fragile", Path.polygon(ring), tags)


_FRAGILE: dict[FragileKind, str] = {
    "long": "run too long",
    "short": "piece too short",
    "stagger": "joint too near",
    "halves": "corner pieces alike",
}

_SIDES: tuple[Side, Side] = ("left", "right")


def piece_tags(what: str, wall: str, piece: Piece, *, hand: str | None = None) -> EntityTags:
    """Tags of something that belongs to one piece.

    Args:
        what: What it is.
        wall: Id of the wall.
        piece: The piece.
        hand: The side of a corner piece's finished end.

    Returns:
        The tags.
    """
    name = piece_key(wall, piece)
    return EntityTags(
        what,
        wall,
        course=piece.course,
        piece=name,
        stock=piece.stock,
        hand=hand,
        length=piece.length,
    )


def ring_of(piece: Piece) -> Sequence[Point]:
    """The piece's boundary as points.

    Args:
        piece: The piece.

    Returns:
        Points in order, in inches.
    """
    return piece.outline or Path.box_of(piece.x0, piece.y0, piece.x1, piece.y1).points


def hand_of(piece: Piece) -> Side | None:
    """The side of a corner piece at which its finished end is; None for other pieces.

    Args:
        piece: The piece.

    Returns:
        The side; None for other pieces.
    """
    if piece.unit != "corner":
        return None
    return "left" if piece.left == "finished" else "right"


def is_shaped(piece: Piece) -> bool:
    """Whether more is done to the piece than a cut to length.

    Args:
        piece: The piece.

    Returns:
        True for a piece that is ripped, notched or raked.
    """
    return bool(piece.outline or piece.holes or piece.ripped)


def _outline(wall: str, piece: Piece, pen: Pen) -> None:
    """A corner piece's outline and hand; else the outline of a piece that is cut to a shape."""
    hand = hand_of(piece)
    path = Path.polygon(ring_of(piece))
    if hand:
        tags = piece_tags("corner piece", wall, piece, hand=hand)
        pen.path("corner", path, tags)
        pen.path(
            "corner",
            Path.polygon(hand_mark(piece, hand)),
            piece_tags("hand", wall, piece, hand=hand),
        )
    elif is_shaped(piece):
        pen.path("shaped", path, piece_tags("shaped piece", wall, piece))
    for hole in piece.holes:
        pen.path("shaped", Path.polygon(hole), piece_tags("hole in piece", wall, piece))


def hand_mark(piece: Piece, hand: Side) -> tuple[Point, Point, Point]:
    """A triangle inside a corner piece that points to its finished end.

    Args:
        piece: The piece.
        hand: The side of a corner piece's finished end.

    Returns:
        The tip first.
    """
    size = _HAND * min(piece.height, piece.length)
    tip, inwards = (piece.x0, size) if hand == "left" else (piece.x1, -size)
    spans = end_spans(piece, _end_x(piece, hand)) or [(piece.y0, piece.y1)]
    y0, y1 = max(spans, key=lambda span: span[1] - span[0])
    y = (y0 + y1) / 2
    return (tip, y), (tip + inwards, y - size / 2), (tip + inwards, y + size / 2)


def _cut_end(wall: str, piece: Piece, side: Side, pen: Pen) -> None:
    """A short slanting stroke at the foot of an end that was sawn."""
    end: PieceEnd = piece.left if side == "left" else piece.right
    if end not in ("cut", "mitre"):
        return
    x = piece.x0 if side == "left" else piece.x1
    for y0, y1 in end_spans(piece, _end_x(piece, side)):
        size = min(_TICK * (y1 - y0), _TICK * piece.length)
        inwards = size if side == "left" else -size
        what = f"{end} {side} end"
        pen.line("cut", (x, y0 + size), (x + inwards, y0), piece_tags(what, wall, piece))


def _end_x(piece: Piece, side: Side) -> float:
    return piece.x0 if side == "left" else piece.x1


def joints(pieces: Iterable[Piece]) -> Iterator[tuple[Piece, Piece, float, Span]]:
    """Where two pieces of a course meet.

    Args:
        pieces: The pieces.

    Returns:
        The left piece, the right one, x and the height they share, in inches.
    """
    by_start: defaultdict[tuple[int, int], list[Piece]] = defaultdict(list)
    listed = list(pieces)
    for piece in listed:
        by_start[piece.course, _cell(piece.x0)].append(piece)
    for left in listed:
        at = _cell(left.x1)
        near = (p for cell in (at - 1, at, at + 1) for p in by_start.get((left.course, cell), ()))
        for right in (p for p in near if abs(p.x0 - left.x1) < SAME_PLACE_IN):
            for span in _shared(end_spans(left, left.x1), end_spans(right, right.x0)):
                yield left, right, left.x1, span


def _cell(x: float) -> int:
    return round(x / SAME_PLACE_IN / 10)


def _shared(some: Iterable[Span], others: Sequence[Span]) -> Iterator[Span]:
    for a0, a1 in some:
        for b0, b1 in others:
            y0, y1 = max(a0, b0), min(a1, b1)
            if y1 - y0 > SAME_PLACE_IN:
                yield y0, y1
