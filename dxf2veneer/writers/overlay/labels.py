"""Texts of pieces: unit and cut length where they fit legibly inside the piece, else the length
alone, else unit and length beside it with a line that leads to it.

    +----------------+-----------+-----+--+-------------------+
    |       F12      |  F13 24"  | 14" |o-+-- F7 5"     F9    |
    +----------------+-----------+-----+--+-------------------+

A panel that is not cut to length bears its unit alone, where that has room. Texts of cut pieces
are placed first: every one of them shows its length.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence

import shapely

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Point
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


_ROWS = 6
"""Courses above and below a piece in which a place for its text is looked for."""

_REACH = 8
"""Pieces to the left and right in each of those courses."""

_DETOUR = 36.0
"""How much farther off, in inches, a whole panel may be that a text goes to rather than to a cut
piece, which has a length of its own."""

NARROW = 0.75
"""Width of letters where a text has no room at their full width [our own default]."""

_STEP_IN, _SPECK = 1.0, 1e-6
"""Distance in inches of the places at which a leader is held against texts, and their size."""

_MOST_COLUMNS = 12
"""Columns beside a wall in which a text stands that found no place on it."""


def label_pieces(
    walls: Sequence[WallTakeoff], takeoff: Takeoff, pen: Pen, sizes: TextSizes, sheet: Sheet
) -> None:
    """A text for every piece that is cut to length, and for others that have room for a legible
    one clear of other texts.

    Args:
        walls: The walls.
        takeoff: The takeoff, for the product and the colors of its panels.
        pen: Draws.
        sizes: Sizes of the texts.
        sheet: The area that texts have taken; what is drawn takes more of it.
    """
    letters = {id: for_dxf(mark.letter) for id, mark in color_marks(takeoff).items()}
    whole: list[tuple[WallTakeoff, Piece]] = []
    aside: list[tuple[WallTakeoff, Piece]] = []

    def placed(wall: WallTakeoff, piece: Piece) -> bool:
        texts = label_texts(
            piece, takeoff.product_of(wall.wall.id), sizes.display, letters.get(piece.stock, "")
        )
        line = _label(piece, texts, sizes, sheet)
        if line is not None:
            sheet.take(line.box)
            pen.text("piece", line, piece_tags("piece text", wall.wall.id, piece))
        return line is not None

    for wall in walls:
        for piece in wall.courses.pieces:
            is_cut = is_cut_to_length(piece, takeoff.product_of(wall.wall.id))
            if not is_cut:
                whole.append((wall, piece))
            elif not placed(wall, piece):
                aside.append((wall, piece))
    courses = {wall.wall.id: _by_course(wall) for wall in walls}
    boxes = [wall.wall.box for wall in walls]
    for wall, piece in aside:
        product = takeoff.product_of(wall.wall.id)
        texts = label_texts(piece, product, sizes.display, letters.get(piece.stock, ""))
        others = [box for box in boxes if box != wall.wall.box]
        far = {
            other: _distance(other, piece) + _DETOUR * is_cut_to_length(other, product)
            for other in _around(piece, courses[wall.wall.id])
        }
        places = sorted(far, key=far.__getitem__)
        line = _beside(texts[0], piece, wall, places, sizes, sheet, others)
        _draw_aside(line, piece, wall, pen, sheet)
    for wall, piece in whole:
        placed(wall, piece)


def is_cut_to_length(piece: Piece, product: Product) -> bool:
    """Whether a piece is shorter than the panel that it comes from.

    Args:
        piece: The piece.
        product: The product.

    Returns:
        False for a panel at its factory length, though it may be ripped or notched.
    """
    panel = product.corner.length if piece.unit == "corner" else product.panel.length
    return abs(piece.length - panel) >= SPECK_IN


def label_texts(piece: Piece, product: Product, display: str, letter: str = "") -> tuple[str, ...]:
    """The texts for a piece, the one that says most first.

    Args:
        piece: The piece.
        product: The product.
        display: Units for the reader: ``imperial`` or ``metric``.
        letter: The letter of its color; empty where the product has but one.

    Returns:
        The texts, the one that says most first; all with the length of a piece that is cut to it.
    """
    unit = " ".join(filter(None, (letter, for_dxf(piece.stock))))
    if not is_cut_to_length(piece, product):
        return (unit, letter) if letter else (unit,)
    length = cut_length(piece.length, display)
    short = (f"{letter} {length}",) if letter else ()
    return (f"{unit} {length}", *short, length)


def _by_course(wall: WallTakeoff) -> dict[int, list[Piece]]:
    """The pieces of each course from left to right."""
    found: defaultdict[int, list[Piece]] = defaultdict(list)
    for piece in sorted(wall.courses.pieces, key=lambda p: (p.course, p.x0)):
        found[piece.course].append(piece)
    return found


def _beside(
    text: str,
    piece: Piece,
    wall: WallTakeoff,
    places: Sequence[Piece],
    sizes: TextSizes,
    sheet: Sheet,
    others: Sequence[Box],
) -> Line:
    """The text on the first of some pieces that has room for it and is reached without crossing
    another text, else in a column beside the wall."""
    middle = _middle(piece)
    crossing: list[Line] = []
    for other in places:
        most = min(sizes.in_course, _IN_PIECE * other.height)
        line = _on_face(other, text, sizes.least, sheet) if most >= sizes.least else None
        if line is not None and _is_clear(*_leader(line, piece), sheet):
            return line
        crossing += [line] if line is not None else []
    x0, _, x1, _ = wall.wall.box
    wide = width_of(text, sizes.least) + sizes.least
    is_left = middle[0] - x0 < x1 - middle[0]
    for n in range(_MOST_COLUMNS):
        x = x0 - sizes.text - n * wide if is_left else x1 + sizes.text + n * wide
        line = Line(text, x, middle[1], sizes.least, "right" if is_left else "left")
        free = sheet.is_free(_padded(line.box, _PAD * sizes.least))
        if free and not any(overlap(line.box, box) for box in others):
            return line
    beside = Line(text, x1 + sizes.text, middle[1], sizes.least)
    return crossing[0] if crossing else sheet.place(beside)


def _around(piece: Piece, courses: dict[int, list[Piece]]) -> Iterator[Piece]:
    """Other pieces near a piece, in its course and those above and below."""
    for course in range(piece.course - _ROWS, piece.course + _ROWS + 1):
        row = courses.get(course, [])
        at = bisect_left(row, piece.x0, key=lambda p: p.x0)
        yield from (p for p in row[max(0, at - _REACH) : at + _REACH] if p is not piece)


def _middle(piece: Piece) -> Point:
    return (piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2


def _distance(some: Piece, other: Piece) -> float:
    """Distance in which a step up or down counts for more, so that the leader mostly runs level."""
    a, b = _middle(some), _middle(other)
    return abs(a[0] - b[0]) + 2.0 * abs(a[1] - b[1])


def _draw_aside(line: Line, piece: Piece, wall: WallTakeoff, pen: Pen, sheet: Sheet) -> None:
    """A text beside its piece, and a line from the piece to the nearer side of the text."""
    tags = piece_tags("piece text", wall.wall.id, piece)
    sheet.take(line.box)
    pen.text("piece", line, tags)
    pen.line("piece", *_leader(line, piece), piece_tags("leader", wall.wall.id, piece))


def _leader(line: Line, piece: Piece) -> tuple[Point, Point]:
    """From a place well inside the piece to the nearest place of the text's box."""
    x0, y0, x1, y1 = line.box
    point = shapely.Polygon(ring_of(piece), piece.holes).representative_point()
    end = min(max(point.x, x0), x1), min(max(point.y, y0), y1)
    return (point.x, point.y), end


def _is_clear(start: Point, end: Point, sheet: Sheet) -> bool:
    """Whether a line crosses no text."""
    count = max(1, math.ceil(math.dist(start, end) / _STEP_IN))
    places = ((start[0] + (end[0] - start[0]) * n / count, n) for n in range(count))
    return all(
        sheet.is_free((x, y, x + _SPECK, y + _SPECK))
        for x, n in places
        for y in (start[1] + (end[1] - start[1]) * n / count,)
    )


def _label(piece: Piece, texts: Sequence[str], sizes: TextSizes, sheet: Sheet) -> Line | None:
    """The piece's text at its place, or None where none fits."""
    most = min(sizes.in_course, _IN_PIECE * piece.height)
    if most < sizes.least:
        return None
    heights = dict.fromkeys((most, (most + sizes.least) / 2, sizes.least))
    tries = (
        _on_face(piece, text, height, sheet, narrow)
        for text in texts
        for narrow in (1.0, NARROW)
        for height in heights
    )
    return next((line for line in tries if line is not None), None)


def _on_face(
    piece: Piece, text: str, height: float, sheet: Sheet, narrow: float = NARROW
) -> Line | None:
    """A text of a height on the face of a piece, clear of what stands there; None where it has no
    room."""
    ground = shapely.Polygon(ring_of(piece), piece.holes) if _is_odd(piece) else None
    hand = hand_of(piece)
    taken = shapely.Polygon(hand_mark(piece, hand)).bounds if hand else None
    for line in _tries(text, height, narrow, piece, taken):
        room = _padded(line.box, _PAD * height)
        if (ground is None or ground.contains(shapely.box(*room))) and sheet.is_free(room):
            return line
    return None


def _is_odd(piece: Piece) -> bool:
    return bool(piece.outline or piece.holes)


def _tries(
    text: str, height: float, narrow: float, piece: Piece, mark: Box | None
) -> Iterator[Line]:
    """Lines of a height at the places that lie in the piece's box and clear of its mark."""
    wide, high = width_of(text, height) * narrow + 2 * _PAD * height, height * (1 + 2 * _PAD)
    slack_x, slack_y = piece.length - wide, piece.height - high
    if slack_x < 0.0 or slack_y < 0.0:
        return
    across = _PLACES if _is_odd(piece) else _PLACES[:1]
    for share_y in across:
        for share_x in _PLACES:
            x = piece.x0 + wide / 2 + share_x * slack_x
            line = Line(text, x, piece.y0 + high / 2 + share_y * slack_y, height, "middle", narrow)
            if mark is None or not overlap(mark, line.box):
                yield line


def _padded(box: Box, pad: float) -> Box:
    return box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad
