"""The pieces of one elevation's picture: tints and patterns, cut ends, labels.

+----------+==========+~~~~~~~+----<+     white: whole   tint: cut to length   dark: corner piece
| F12      | 24" F13  | ----- |    <|     lines, dots, slants: ripped, notched, raked
+----------+==========+~~~~~~~+----<+     crosses: glued; a broken line: a sawn end

A broken line all round: cut otherwise since site measures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.config.product import Product
from dxf2veneer.model import Piece, PieceRef, Takeoff, WallTakeoff
from dxf2veneer.wording.mitres import beside_words
from dxf2veneer.writers.changes import changed_on
from dxf2veneer.writers.colors import ColorMark, color_marks
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.spans import end_spans, widest
from dxf2veneer.writers.texts import Box, Sheet
from dxf2veneer.writers.words import piece_key, piece_words, tape

_LETTER = 0.58
_SHARES = (0.5, 0.42, 0.34)
"""Heights of a label as shares of a course of at most 12 in. At 1:48 half of 8 in prints as 6
points."""

PATTERNS: dict[str, Callable[[Piece], bool]] = {
    "ripped": lambda p: (
        p.kind == "ripped" or (p.ripped and p.kind in ("whole", "crosscut", "mitred"))
    ),
    "notched": lambda p: p.kind == "notched",
    "raked": lambda p: p.kind == "raked",
    "mitred": lambda p: p.kind == "mitred",
    "glued": lambda p: p.glued,
}
"""What a pattern over the tint says of a piece."""

_SHAPES = {
    "ripped": "M0 1h4M0 3h4",
    "notched": "M.6 1h.8M2.6 3h.8",
    "raked": "M-1 1L1-1M0 4L4 0M3 5L5 3",
    "mitred": "M1 0v4M3 0v4",
    "glued": "M0 0L4 4M0 4L4 0",
}
"""The patterns, on a field of 4 x 4."""


def patterns(prefix: str, course: float, *names: str) -> Markup:
    """Definitions of some patterns, sized for courses of a height.

    Args:
        prefix: What every id begins with.
        course: Height of a course in inches.
        *names: Which patterns.

    Returns:
        An element ``defs``.
    """
    size = min(course, 12.0) / 12
    return tag(
        "defs",
        None,
        *(
            tag(
                "pattern",
                {
                    "id": f"{prefix}-{name}",
                    "width": 4,
                    "height": 4,
                    "patternUnits": "userSpaceOnUse",
                    "patternTransform": f"scale({number(size)})",
                },
                tag("path", {"class": f"mark-{name}", "d": shape}),
            )
            for name, shape in ((name, _SHAPES[name]) for name in names)
        ),
    )


def tint_of(piece: Piece, marks: Mapping[str, ColorMark]) -> str:
    """The class that gives a piece its tint.

    Args:
        piece: The piece.
        marks: By panel the mark of its color; empty where the product has but one.

    Returns:
        Name of a style class: of the color, or of what is done to the piece.
    """
    if piece.stock in marks:
        return f"shade{marks[piece.stock].shade}"
    return "corner" if piece.unit == "corner" else piece.kind


def draw_pieces(
    takeoff: Takeoff, wall: WallTakeoff, ground: Canvas, sheet: Sheet, *, titled: bool
) -> Markup:
    """All pieces of a wall with their patterns, hands, cut ends and labels, those cut otherwise
    since site measures outlined; labels keep clear of what stands on the sheet.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        ground: Places of the drawing in the picture.
        sheet: The area that texts have taken; what is drawn takes more of it.
        titled: Whether every piece has a title.

    Returns:
        The drawing; nothing where no pieces are laid out.
    """
    id, pieces = wall.wall.id, wall.courses.pieces
    product = takeoff.product_of(id)
    course = product.panel.height
    if not pieces:
        return Markup()
    display, marks = takeoff.job.output.display, color_marks(takeoff)
    line = min(course, 12.0) / 40
    shapes = []
    beside = beside_words(takeoff.plan.mitres if takeoff.plan else None, takeoff.course_number)
    for p in pieces:
        tint = f"p {tint_of(p, marks)}"
        about = {"class": tint, "data-p": piece_key(id, p), "d": ground.piece(p)}
        told = beside.get(PieceRef(id, p.course, p.number), "")
        said = piece_words(id, wall.courses.number(p.course), p, display, told, _name(p, marks))
        title = tag("title", None, said) if titled else Markup()
        shapes.append(tag("path", about, title))
    overs = (
        _over(name, [p for p in pieces if does(p)], id, ground) for name, does in PATTERNS.items()
    )
    hands = "".join(_hand(p, ground) for p in pieces if p.unit == "corner")
    labels: dict[str, str | float | None] = {
        "class": "labels",
        "text-anchor": "middle",
        "font-size": _label_sizes(course)[-1],
    }
    return joined(
        (
            tag("g", {"class": "pieces", "stroke-width": line, "fill-rule": "evenodd"}, *shapes),
            tag("g", {"class": "overs", "fill-rule": "evenodd"}, *overs),
            tag("path", {"class": "hands", "d": hands}),
            _cuts(pieces, ground, line),
            _changes(takeoff, wall, ground, line),
            tag("g", labels, *_labels(takeoff, product, pieces, ground, sheet)),
        )
    )


def _name(piece: Piece, marks: Mapping[str, ColorMark]) -> str:
    """The name of a piece's color; empty without one."""
    return marks[piece.stock].name if piece.stock in marks else ""


def _over(name: str, pieces: Iterable[Piece], prefix: str, ground: Canvas) -> Markup:
    path = "".join(map(ground.piece, pieces))
    return tag("path", {"fill": f"url(#{prefix}-{name})", "d": path}) if path else Markup()


def _hand(piece: Piece, ground: Canvas) -> str:
    """A triangle at a corner piece's finished end that points to it."""
    x, inwards = (piece.x0, 1) if piece.left == "finished" else (piece.x1, -1)
    spans = end_spans(piece, x) or [(piece.y0, piece.y1)]
    y0, y1 = max(spans, key=lambda span: span[1] - span[0])
    y, size = (y0 + y1) / 2, 0.3 * min(y1 - y0, piece.length)
    return ground.rings(
        [((x, y), (x + inwards * size, y - size / 2), (x + inwards * size, y + size / 2))]
    )


def _cuts(pieces: Iterable[Piece], ground: Canvas, line: float) -> Markup:
    """Sawn ends as broken lines just inside the piece, mitered ones dotted."""
    ends = {"cut": "", "mitre": ""}
    for piece in pieces:
        for end, x, inwards in ((piece.left, piece.x0, 1), (piece.right, piece.x1, -1)):
            if end in ends:
                ends[end] += "".join(
                    ground.line(x + inwards * 1.3 * line, y0, x + inwards * 1.3 * line, y1)
                    for y0, y1 in end_spans(piece, x)
                )
    dashes = {
        "cut": f"{number(5 * line)} {number(3.5 * line)}",
        "mitre": f"{number(1.6 * line)} {number(1.6 * line)}",
    }
    lines = (
        tag("path", {"d": path, "stroke-dasharray": dashes[end]})
        for end, path in ends.items()
        if path
    )
    return tag("g", {"class": "cuts", "stroke-width": 2.6 * line}, *lines)


def _changes(takeoff: Takeoff, wall: WallTakeoff, ground: Canvas, line: float) -> Markup:
    """A broken outline round each piece that is cut otherwise since site measures."""
    path = "".join(ground.piece(piece) for _, piece in changed_on(wall, takeoff.changes))
    if not path:
        return Markup()
    dashes = f"{number(12 * line)} {number(5 * line)}"
    about: dict[str, str | float | None] = {
        "class": "changes",
        "stroke-width": 4.0 * line,
        "stroke-dasharray": dashes,
        "d": path,
    }
    return tag("path", about)


def _label_sizes(course: float) -> tuple[float, ...]:
    """Heights of a label, the largest first."""
    return tuple(share * min(course, 12.0) for share in _SHARES)


def _labels(
    takeoff: Takeoff, product: Product, pieces: Iterable[Piece], ground: Canvas, sheet: Sheet
) -> Iterable[Markup]:
    """The cut length and unit of cut pieces, the unit of whole ones, as large as they fit and hide
    no mark."""
    sizes, display = _label_sizes(product.panel.height), takeoff.job.output.display
    marks = color_marks(takeoff)
    for piece in pieces:
        whole = product.corner.length if piece.unit == "corner" else product.panel.length
        length = (
            ""
            if abs(piece.length - whole) < SPECK_IN
            else tape(piece.length, display).removesuffix(" mm")
        )
        letter = marks[piece.stock].letter if piece.stock in marks else ""
        parts = ((letter, length, piece.stock), (letter, length or piece.stock), (letter,))
        texts = dict.fromkeys(filter(None, (" ".join(filter(None, own)) for own in parts)))
        tries = (
            (text, *spot, size)
            for text in texts
            for size in sizes
            for spot in _spots(piece, text, size, ground)
        )
        free = (t for t in tries if sheet.is_free(_label_box(*t)))
        for text, x, y, size in islice(free, 1):
            own = None if size == sizes[-1] else size
            yield tag(
                "text",
                {
                    "x": x,
                    "y": y + 0.35 * size,
                    "font-size": own,
                    "class": None if length else "whole",
                },
                text,
            )


def _spots(piece: Piece, text: str, size: float, ground: Canvas) -> Iterator[tuple[float, float]]:
    """Middles for a label inside a piece, clear of a corner piece's mark."""
    place = widest(piece, 1.15 * size)
    if place is None:
        return
    x, y, room = place
    hand = 0.35 * piece.height if piece.unit == "corner" else 0.0
    middle = ground.x(x + (hand / 2 if piece.left == "finished" else -hand / 2))
    for at in _places(middle, room - hand, _LETTER * (len(text) + 1.5) * size):
        yield at, ground.y(y)


def _places(x: float, room: float, width: float) -> Iterator[float]:
    """Middles for a label of a width: that of its room first, then towards either end."""
    slack = (room - width) / 2
    if slack >= 0.0:
        yield from (x + share * slack for share in (0.0, -0.5, 0.5, -1.0, 1.0))


def _label_box(text: str, x: float, y: float, size: float) -> Box:
    half = _LETTER * len(text) * size / 2
    return x - half, y - size / 2, x + half, y + size / 2
