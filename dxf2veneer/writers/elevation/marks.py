"""Marks on an elevation's picture: slivers, heads and sills off the course lines, numbered places
of notices.

       top: strip 4", up 4"  V          a pointer at the veneer's edge, its words beside it
    +--------------------------+
    |     .------A-----.       |
    |     | head: ...  |   (3) |        a notice; a line leads to one that had to move
    |     '------------'       |

Whatever is placed here goes onto a sheet, so that nothing hides anything else.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import shapely

from dxf2veneer.model import Conflict, Opening, Takeoff, WallTakeoff
from dxf2veneer.wording.tolerance import fragile_words
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.fragile import fragile_mark, fragile_on
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.texts import Box, Sheet
from dxf2veneer.writers.words import Callout, off_course, off_key, strip_words

_AROUND = sorted(
    ((1.3 * a, 1.0 * b) for a in range(-30, 31) for b in range(-9, 7)),
    key=lambda d: (math.hypot(*d), d[1] > 0, d[0] < 0),
)
"""Where a mark may stand beside its place, in the picture's text height: near by first, rather
above and to the right."""

_LETTER = 0.6
"""Width of a letter in text heights."""

_Words = tuple[str, float, float, float]
"""A line of words: its text, the x and y of its middle, its size."""

_SIZES = (0.85, 0.7, 0.58)
"""Sizes tried for the words of a head, sill, top or cap, in the picture's text height."""

_POINTER = 0.7
"""Size of a pointer in the picture's text height."""


def draw_slivers(wall: WallTakeoff, ground: Canvas, text: float, sheet: Sheet) -> Markup:
    """Strips lower than the sliver limit, dark, each between two pointers that show from afar.

    Args:
        wall: The wall.
        ground: Places of the drawing in the picture.
        text: The picture's text height in inches.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        The marks; nothing where the wall has no slivers.
    """
    strips, pointers = [], []
    for c in wall.courses.conflicts:
        if not c.sliver or c.x1 <= c.x0:
            continue
        y0, y1 = (c.y, c.y + c.strip) if c.what == "head" else (c.y - c.strip, c.y)
        strips.append(ground.rings([((c.x0, y0), (c.x1, y0), (c.x1, y1), (c.x0, y1))]))
        y, half = (y0 + y1) / 2, 0.4 * text
        for x, away in ((c.x0, -1.2 * text), (c.x1, 1.2 * text)):
            pointers.append(ground.rings([((x, y), (x + away, y + half), (x + away, y - half))]))
            left, right = sorted((ground.x(x), ground.x(x + away)))
            sheet.take((left, ground.y(y) - half, right, ground.y(y) + half))
    if not strips:
        return Markup()
    return tag(
        "g",
        {"class": "slivers"},
        tag("path", {"class": "sliver", "d": "".join(strips), "stroke-width": 0.1 * text}),
        tag("path", {"class": "pointer", "d": "".join(pointers)}),
    )


def draw_pointers(wall: WallTakeoff, ground: Canvas, text: float, sheet: Sheet) -> list[Markup]:
    """A pointer at each head, sill, top and cap off the course lines.

    They can't be moved, so they are placed first.

    Args:
        wall: The wall.
        ground: Places of the drawing in the picture.
        text: The picture's text height in inches.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        One triangle each, in the order of ``off_course``.
    """
    pointers = []
    for conflict in off_course(wall):
        ring = _pointer(conflict, _POINTER * text)
        xs, ys = [ground.x(x) for x, _ in ring], [ground.y(y) for _, y in ring]
        sheet.take((min(xs), min(ys), max(xs), max(ys)))
        pointers.append(tag("path", {"d": ground.rings([ring])}))
    return pointers


def draw_off_course(
    wall: WallTakeoff,
    pointers: Sequence[Markup],
    ground: Canvas,
    text: float,
    display: str,
    sheet: Sheet,
) -> Markup:
    """The pointers, and beside each the strip and the move that clears it.

    The words are left out where they have no room; the table of the page holds them all.

    Args:
        wall: The wall.
        pointers: The pointers, as ``draw_pointers`` made them.
        ground: Places of the drawing in the picture.
        text: The picture's text height in inches.
        display: Units for the reader: ``imperial`` or ``metric``.
        sheet: The area that texts have taken; what is drawn takes more of it.

    Returns:
        The marks.
    """
    openings = {o.id: o for o in wall.wall.openings}
    marks = []
    for n, (conflict, pointer) in enumerate(zip(off_course(wall), pointers, strict=True), 1):
        words = strip_words(conflict, display)
        opening = openings.get(conflict.opening or "")
        blocks = (
            _in_opening(words, conflict, opening, ground, text)
            if opening
            else _above(words, conflict, ground, text)
        )
        about = {"class": "off", "id": off_key(wall.wall.id, n)}
        title = tag("title", None, f"{conflict.opening or wall.wall.id} {words}")
        marks.append(tag("g", about, title, pointer, _first_free(blocks, sheet)))
    return tag("g", {"class": "offs", "text-anchor": "middle"}, *marks) if marks else Markup()


def _first_free(blocks: Iterable[Sequence[_Words]], sheet: Sheet) -> Markup:
    """The first lines of words that hide nothing; none where all would."""
    free = (block for block in blocks if all(sheet.is_free(_box(*line)) for line in block))
    placed = next(free, ())
    for line in placed:
        sheet.take(_box(*line))
    return joined(
        tag("text", {"x": x, "y": y + 0.35 * size, "font-size": size}, line)
        for line, x, y, size in placed
    )


def _pointer(conflict: Conflict, size: float) -> list[tuple[float, float]]:
    """A triangle whose tip is at the veneer's edge: from below at a head, else from above."""
    x, y = (conflict.x0 + conflict.x1) / 2, conflict.y
    back = y - size if conflict.what == "head" else y + size
    return [(x, y), (x - size / 2, back), (x + size / 2, back)]


def _box(words: str, x: float, y: float, size: float) -> Box:
    """What words around a middle cover, with a little room."""
    wide, high = _LETTER * len(words) * size / 2 + 0.2 * size, 0.58 * size
    return x - wide, y - high, x + wide, y + high


def _in_opening(
    words: str, conflict: Conflict, opening: Opening, ground: Canvas, text: float
) -> Iterator[list[_Words]]:
    """Words in one line or two inside an opening, from its head downwards or its sill upwards, the
    larger first."""
    x0, y0, x1, y1 = opening.box
    shape, x = opening.region.polygon, (x0 + x1) / 2
    for size, texts in (
        (share * text, texts) for share in _SIZES for texts in ([words], words.split(", "))
    ):
        for n in range(8):
            first = (
                y1 - (1.0 + n) * size
                if conflict.what == "head"
                else y0 + (len(texts) * 1.2 - 0.2 + n) * size
            )
            block = [(line, x, first - k * 1.2 * size, size) for k, line in enumerate(texts)]
            if all(shape.contains(shapely.box(*_box(*line))) for line in block):
                yield [(line, ground.x(x), ground.y(y), size) for line, x, y, size in block]


def _above(words: str, conflict: Conflict, ground: Canvas, text: float) -> Iterator[list[_Words]]:
    """Words above a top or cap, beside its pointer or, clear of a cap, over it."""
    middle, span = (conflict.x0 + conflict.x1) / 2, conflict.x1 - conflict.x0
    for size in (share * text for share in _SIZES):
        left, _, right, _ = _box(words, 0.0, 0.0, size)
        beside, over = right + 0.8 * _POINTER * text, _POINTER * text + 0.7 * size
        if conflict.what == "top" and right - left <= span / 2:
            yield [(words, ground.x(middle + beside), ground.y(conflict.y) - 0.9 * size, size)]
        if right - left <= max(span, 14 * text):
            yield [(words, ground.x(middle), ground.y(conflict.y) - over, size)]


def draw_fragile(takeoff: Takeoff, wall: WallTakeoff, ground: Canvas, *, titled: bool) -> Markup:
    """A quiet open triangle on the foot of the course at each place that does not hold when edges
    are off.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        ground: Places of the drawing in the picture.
        titled: Whether every mark has a title.

    Returns:
        The marks; nothing where all runs hold.
    """
    places, plan = fragile_on(takeoff, wall), takeoff.plan
    if not places or plan is None or plan.tolerance is None:
        return Markup()
    off, display = plan.tolerance.off, takeoff.job.output.display
    marks = []
    for place in places:
        said = fragile_words(place, wall.courses.number(place.course), off, display)
        title = tag("title", None, said) if titled else Markup()
        marks.append(tag("path", {"d": ground.rings([fragile_mark(wall, place)])}, title))
    width = min(takeoff.product_of(wall.wall.id).panel.height, 12.0) / 60
    return tag("g", {"class": "fragile", "stroke-width": width}, *marks)


def draw_places(
    places: Sequence[Callout],
    ground: Canvas,
    text: float,
    sheet: Sheet,
    size: tuple[float, float],
    *,
    linked: bool,
) -> Markup:
    """A numbered mark at each place: round for a notice, square for a rule.

    A line leads to one that had to move. ``size``: width and height of the picture, which no mark
    leaves.

    Args:
        places: What is marked.
        ground: Places of the drawing in the picture.
        text: The picture's text height in inches.
        sheet: The area that texts have taken; what is drawn takes more of it.
        size: Width and height of the picture in inches, which no mark leaves.
        linked: Whether marks are links to the list of notices.

    Returns:
        The marks.
    """
    marks = [_mark(place, ground, text, sheet, size, linked=linked) for place in places]
    return (
        tag(
            "g",
            {
                "class": "places",
                "text-anchor": "middle",
                "font-size": text,
                "stroke-width": 0.1 * text,
            },
            *marks,
        )
        if marks
        else Markup()
    )


def _mark(
    place: Callout,
    ground: Canvas,
    text: float,
    sheet: Sheet,
    size: tuple[float, float],
    *,
    linked: bool,
) -> Markup:
    x, y = ground.x(place.x), ground.y(place.y)
    half = 0.85 * text
    wide = half * (1.0 if len(place.number) < 3 else 1.35)

    def fits(at: float, top: float) -> bool:
        inside = wide <= at <= size[0] - wide and half <= top <= size[1] - half
        return inside and sheet.is_free(_around(at, top, wide, half))

    tries = ((x + right * text, y + down * text) for right, down in _AROUND)
    at, top = next((spot for spot in tries if fits(*spot)), (x, y))
    sheet.take(_around(at, top, wide, half))
    lead = f"M{number(x)} {number(y)}L{number(at)} {number(top)}"
    shape = {"x": at - wide, "y": top - half, "width": 2 * wide, "height": 2 * half}
    parts = (
        tag("title", None, place.text),
        tag("path", {"d": lead}) if (at, top) != (x, y) else Markup(),
        tag("rect", {**shape, "rx": 0.2 * half if place.is_rule else half}),
        tag("text", {"x": at, "y": top + 0.35 * text}, place.number),
    )
    mark = tag("g", {"class": f"place {place.level.value}", "id": f"at-{place.number}"}, *parts)
    return tag("a", {"href": f"#note-{place.number}"}, mark) if linked else mark


def _around(x: float, y: float, wide: float, half: float) -> Box:
    """The box of a mark by half its width and height."""
    return x - wide, y - half, x + wide, y + half
