"""The legend under an elevation: what its tints, patterns and lines mean."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.writers.changes import changed_on
from dxf2veneer.writers.colors import ColorMark, color_marks, marks_of
from dxf2veneer.writers.elevation.pieces import PATTERNS, patterns, tint_of
from dxf2veneer.writers.fragile import fragile_on
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.words import (
    off_course,
)

_TINTS = {
    "whole": "whole panel",
    "crosscut": "cut to length",
    "ripped": "ripped to a height",
    "notched": "notched",
    "raked": "cut along a rake or arch",
    "mitred": "mitered",
    "corner": "corner piece, arrow to its finished end",
}


def keys_of(takeoff: Takeoff, wall: WallTakeoff) -> list[tuple[str, Markup]]:
    """What the tints, patterns and lines of a wall's picture mean.

    Args:
        takeoff: The takeoff.
        wall: One of its walls.

    Returns:
        Words with how many pieces bear them, each with its sign.
    """
    pieces, course = wall.courses.pieces, takeoff.product_of(wall.wall.id).panel.height
    marks = color_marks(takeoff)
    keys = [
        (
            f"{mark.letter} {legible(mark.name)}: {n}",
            _swatch(wall, f"shade{mark.shade}", "", course),
        )
        for mark in (marks_of(takeoff) if marks else ())
        if (n := sum(marks.get(p.stock) == mark for p in pieces))
    ]
    keys += [
        (f"{words}: {n}", _swatch(wall, tint, tint if tint in PATTERNS else "", course, marks))
        for tint, words in _TINTS.items()
        if (n := sum(tint_of(p, {}) == tint for p in pieces))
        and (not marks or tint in PATTERNS or tint == "corner")
    ]
    glued = sum(map(PATTERNS["glued"], pieces))
    if glued:
        keys.append(
            (
                f"glued, most of the nail flange is gone: {glued}",
                _swatch(wall, "whole", "glued", course),
            )
        )
    changed = len(list(changed_on(wall, takeoff.changes)))
    if changed:
        words = f"cut otherwise since site measures (section Changed cuts): {changed}"
        shape = (
            '<path class="changes" stroke-width="1" stroke-dasharray="3 1.2" d="M1 1h12v5h-12Z"/>'
        )
        keys.append((words, _key_picture(Markup(shape))))
    fragile = len(fragile_on(takeoff, wall))
    if fragile:
        words = f"does not hold with every edge off (sheet Panels): {fragile}"
        shape = '<g class="fragile" stroke-width=".5"><path d="M7 1.6l2.6 4.6h-5.2Z"/></g>'
        keys.append((words, _key_picture(Markup(shape))))
    keys += [(text, _key_picture(Markup(shape))) for text, shape in _line_keys(wall)]
    return keys


def _line_keys(wall: WallTakeoff) -> Iterator[tuple[str, str]]:
    """Lines and signs that the wall's picture has, each with its shape."""
    yield "course line", '<path class="course" stroke-width=".6" d="M0 3.5h14"/>'
    yield "starter strip", '<path class="starter" stroke-width="1.4" d="M0 3.5h14"/>'
    if wall.courses.pieces:
        yield (
            "sawn end",
            '<g class="cuts" stroke-width="1.2"><path stroke-dasharray="1.8 1.2" d="M7 0v7"/></g>',
        )
    if off_course(wall):
        yield (
            "off the course lines: the strip, and the move that clears it",
            '<g class="off"><path d="M7 .8l2.6 5.2h-5.2Z"/></g>',
        )
    if any(c.sliver for c in wall.courses.conflicts):
        yield (
            "sliver: a strip lower than the limit",
            '<path class="sliver" stroke-width=".3" d="M2 2.6h10v1.8h-10Z"/>',
        )


def _swatch(
    wall: WallTakeoff,
    tint: str,
    name: str,
    course: float,
    marks: Mapping[str, ColorMark] | None = None,
) -> Markup:
    """A sample of a tint with a pattern; white where tints tell colors."""
    box, prefix = "M.5 .5h13v6h-13Z", f"key-{wall.wall.id}-{tint}"
    over = (
        joined(
            (
                patterns(prefix, 1.5 * course, name),
                tag("path", {"d": box, "fill": f"url(#{prefix}-{name})"}),
            )
        )
        if name
        else Markup()
    )
    hand = (
        tag("path", {"class": "hands", "d": "M13.5 3.5l-3 1.5v-3Z"})
        if tint == "corner"
        else Markup()
    )
    about = {"class": f"p {'whole' if marks else tint}", "stroke-width": ".35", "d": box}
    return _key_picture(tag("path", about), over, hand)


def _key_picture(*shapes: Markup) -> Markup:
    return tag("svg", {"viewBox": "0 0 14 7", "class": "elevation", "aria-hidden": "true"}, *shapes)
