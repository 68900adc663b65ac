"""Texts of pieces: unit and cut length where they fit legibly inside the piece, else the length
alone, else unit and length beside it with a line that leads to it, which crosses no text, no
opening and no other such line; else in a list under the wall.

    +----------------+-----------+-----+--+-------------------+
    |       F12      |  F13 24"  | 14" |o-+-- F7 5"     F9    |
    +----------------+-----------+-----+--+-------------------+
    3/7 F14 6"                                  course 3, piece 7

A panel that is not cut to length bears its unit alone, where that has room. Texts of cut pieces
are placed first: every one of them shows its length.
"""

from __future__ import annotations

import itertools
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
from dxf2veneer.writers.overlay.layers import EntityTags
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.plan import hand_mark, hand_of, piece_tags, ring_of
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import LINE_STEP, Box, Line, Sheet, overlap, width_of
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
"""Length in inches of the steps in which a leader is held against texts, and room around them."""

_MOST_COLUMNS = 4
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
    boxes = [wall.wall.box for wall in walls]
    for wall in walls:
        own = [piece for entry, piece in aside if entry is wall]
        product = takeoff.product_of(wall.wall.id)
        texts = [
            label_texts(piece, product, sizes.display, letters.get(piece.stock, ""))[0]
            for piece in own
        ]
        others = [box for box in boxes if box != wall.wall.box]
        _Aside(wall, product, sizes, sheet, pen, others).label(list(zip(own, texts, strict=True)))
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


class _Aside:
    """Texts of the pieces of one wall that have no room for them."""

    def __init__(
        self,
        wall: WallTakeoff,
        product: Product,
        sizes: TextSizes,
        sheet: Sheet,
        pen: Pen,
        others: Sequence[Box],
    ) -> None:
        """``others`` are the boxes of other walls."""
        self._wall, self._product = wall, product
        self._sizes, self._sheet, self._pen, self._others = sizes, sheet, pen, others
        self._courses = _by_course(wall)
        self._openings = shapely.union_all([o.region.polygon for o in wall.wall.openings])
        shapely.prepare(self._openings)

    def label(self, pieces: Sequence[tuple[Piece, str]]) -> None:
        """Draw their texts: beside them, and those that no line can lead to in a list."""
        left: list[tuple[Piece, str]] = []
        for piece, text in pieces:
            line = next(self._places(piece, text), None)
            if line is None:
                left.append((piece, text))
                continue
            start, end = _leader(line, piece)
            for box in (line.box, *_steps(start, end)):
                self._sheet.take(box)
            self._pen.text("piece", line, self._tags("piece text", piece))
            self._pen.line("piece", start, end, self._tags("leader", piece))
        self._list(left)

    def _tags(self, what: str, piece: Piece) -> EntityTags:
        return piece_tags(what, self._wall.wall.id, piece)

    def _places(self, piece: Piece, text: str) -> Iterator[Line]:
        """Places that a line leads to, on other pieces near it and in columns beside the wall."""
        far = {
            other: _distance(other, piece) + _DETOUR * is_cut_to_length(other, self._product)
            for other in _around(piece, self._courses)
        }
        least = self._sizes.least
        for other in sorted(far, key=far.__getitem__):
            if min(self._sizes.in_course, _IN_PIECE * other.height) >= least:
                for line in _on_face(other, text, least, self._sheet):
                    if self._is_clear(*_leader(line, piece)):
                        yield line
        yield from self._columns(piece, text)

    def _columns(self, piece: Piece, text: str) -> Iterator[Line]:
        x0, _, x1, _ = self._wall.wall.box
        middle, sizes = _middle(piece), self._sizes
        wide = width_of(text, sizes.least) + sizes.least
        is_left = middle[0] - x0 < x1 - middle[0]
        for n in range(_MOST_COLUMNS):
            x = x0 - sizes.text - n * wide if is_left else x1 + sizes.text + n * wide
            line = Line(text, x, middle[1], sizes.least, "right" if is_left else "left")
            free = self._sheet.is_free(_padded(line.box, _PAD * sizes.least))
            clear = not any(overlap(line.box, box) for box in self._others)
            if free and clear and self._is_clear(*_leader(line, piece)):
                yield line

    def _is_clear(self, start: Point, end: Point) -> bool:
        """Whether a line crosses no text, no opening and no other such line."""
        if not all(map(self._sheet.is_free, _steps(start, end))):
            return False
        return not shapely.intersects(self._openings, shapely.LineString([start, end]))

    def _list(self, pieces: Sequence[tuple[Piece, str]]) -> None:
        """Course, number and text of each piece, one below the other under the wall."""
        size = self._sizes.least
        x, y, step = self._wall.wall.box[0], self._wall.wall.box[1], LINE_STEP * size
        number = self._wall.courses.number
        block = [
            Line(f"{number(p.course)}/{p.number} {text}", x, y - (n + 2) * step, size)
            for n, (p, text) in enumerate(pieces)
        ]
        placed = self._sheet.place_block(block, step=-step)
        for line, (piece, _) in zip(placed, pieces, strict=True):
            self._pen.text("piece", line, self._tags("piece text", piece))


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


def _leader(line: Line, piece: Piece) -> tuple[Point, Point]:
    """From a place well inside the piece to the nearest place of the text's box."""
    x0, y0, x1, y1 = line.box
    point = shapely.Polygon(ring_of(piece), piece.holes).representative_point()
    end = min(max(point.x, x0), x1), min(max(point.y, y0), y1)
    return (point.x, point.y), end


def _steps(start: Point, end: Point) -> Iterator[Box]:
    """A line in short steps: the box of each, a little larger."""
    count = max(1, math.ceil(math.dist(start, end) / _STEP_IN))
    (x0, y0), (x1, y1) = start, end
    at = [(x0 + (x1 - x0) * n / count, y0 + (y1 - y0) * n / count) for n in range(count + 1)]
    for (xa, ya), (xb, yb) in itertools.pairwise(at):
        yield _padded((min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)), _SPECK)


def _label(piece: Piece, texts: Sequence[str], sizes: TextSizes, sheet: Sheet) -> Line | None:
    """The piece's text at its place, or None where none fits."""
    most = min(sizes.in_course, _IN_PIECE * piece.height)
    if most < sizes.least:
        return None
    heights = dict.fromkeys((most, (most + sizes.least) / 2, sizes.least))
    tries = (
        line
        for text in texts
        for narrow in (1.0, NARROW)
        for height in heights
        for line in _on_face(piece, text, height, sheet, narrow)
    )
    return next(tries, None)


def _on_face(
    piece: Piece, text: str, height: float, sheet: Sheet, narrow: float = NARROW
) -> Iterator[Line]:
    """A text of a height at places on the face of a piece, clear of what stands there."""
    ground = shapely.Polygon(ring_of(piece), piece.holes) if _is_odd(piece) else None
    hand = hand_of(piece)
    taken = shapely.Polygon(hand_mark(piece, hand)).bounds if hand else None
    for line in _tries(text, height, narrow, piece, taken):
        room = _padded(line.box, _PAD * height)
        if (ground is None or ground.contains(shapely.box(*room))) and sheet.is_free(room):
            yield line


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
