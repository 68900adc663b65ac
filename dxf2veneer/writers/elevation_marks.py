"""Marks on an elevation's picture: slivers, heads and sills off the course lines, numbered places of notices."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dxf2veneer.model import WallTakeoff
from dxf2veneer.writers.elevation_paths import Ground
from dxf2veneer.writers.elevation_words import Place
from dxf2veneer.writers.report_markup import Markup, joined, number, tag

_ASIDE = 40
"""How many places beside each other are tried for a mark."""


def draw_conflicts(wall: WallTakeoff, ground: Ground, text: float) -> Markup:
    """Strips lower than the sliver limit, dark, each between two pointers that show from afar."""
    strips, pointers = [], []
    for c in wall.courses.conflicts:
        if not c.sliver or c.x1 <= c.x0:
            continue
        y0, y1 = (c.y, c.y + c.strip) if c.what == "head" else (c.y - c.strip, c.y)
        strips.append(ground.rings([((c.x0, y0), (c.x1, y0), (c.x1, y1), (c.x0, y1))]))
        y, half = (y0 + y1) / 2, 0.4 * text
        for x, away in ((c.x0, -1.2 * text), (c.x1, 1.2 * text)):
            pointers.append(ground.rings([((x, y), (x + away, y + half), (x + away, y - half))]))
    if not strips:
        return Markup()
    return tag("g", {"class": "slivers"}, tag("path", {"class": "sliver", "d": "".join(strips), "stroke-width": 0.1 * text}), tag("path", {"class": "pointer", "d": "".join(pointers)}))


def draw_places(places: Sequence[Place], ground: Ground, text: float, *, linked: bool) -> Markup:
    """A numbered mark at each place: round for a notice, square for a rule; a line leads to one that had to move."""
    taken: list[tuple[float, float]] = []
    marks = [_mark(place, ground, text, taken, linked=linked) for place in places]
    return tag("g", {"class": "places", "text-anchor": "middle", "font-size": text, "stroke-width": 0.1 * text}, *marks) if marks else Markup()


def _mark(place: Place, ground: Ground, text: float, taken: list[tuple[float, float]], *, linked: bool) -> Markup:
    x, y = ground.x(place.x), ground.y(place.y)
    free = ((x + aside, top) for aside, top in _tries(y, text) if all(abs(x + aside - a) > 2.4 * text or abs(top - b) > 1.9 * text for a, b in taken))
    at, top = next(free, (x, y))
    half = 0.85 * text
    taken.append((at, top))
    wide = half * (1.0 if len(place.number) < 3 else 1.35)
    box = {"x": at - wide, "y": top - half, "width": 2 * wide, "height": 2 * half, "rx": 0.2 * half if place.is_rule else half}
    parts = joined(
        (
            tag("title", None, place.text),
            tag("path", {"d": f"M{number(x)} {number(y)}L{number(at)} {number(top)}"}) if (at, top) != (x, y) else Markup(),
            tag("rect", {**box}),
            tag("text", {"x": at, "y": top + 0.35 * text}, place.number),
        )
    )
    mark = tag("g", {"class": f"place {place.level.value}", "id": f"at-{place.number}"}, parts)
    return tag("a", {"href": f"#told-{place.number}"}, mark) if linked else mark


def _tries(y: float, text: float) -> Iterator[tuple[float, float]]:
    """Where a mark may stand: upwards as long as the picture has room, then farther to the right."""
    for column in range(_ASIDE):
        for up in range(max(1, min(8, int(y / text)))):
            yield column * 2.5 * text, y - up * text
