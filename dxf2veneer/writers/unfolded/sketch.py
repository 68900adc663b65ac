"""A strip of walls as it may look when it is finished: stone-like faces, openings in shadow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.model import DOORS, Opening, Takeoff, WallTakeoff
from dxf2veneer.writers.colors import color_marks
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.markup import Markup, number, tag
from dxf2veneer.writers.unfolded.stones import TINTS, Stone, stones_of
from dxf2veneer.writers.unfolded.strips import Placed

_TINTS = ("#b9ad9b", "#a89a86", "#c7bdad", "#968b7c", "#b3a48c", "#8d857a", "#d0c6b4")
_SHADES = ("#b9ad9b", "#8b8478", "#c9b79a", "#7d7a75", "#d8cfbf", "#9c8b76", "#aaa69d", "#6f675c")
"""Tints of stones; of a product in several colors the middle tint of each."""

_JOINT, _LIGHT, _DARK = "#5f574c", "#ffffff", "#1d1a16"
_TRIM, _CAP, _GLASS, _LEAF = "#d9d0bf", "#cbc1af", "#3c4a55", "#6b4d38"
_DEPTH = 0.35
"""Depth of an opening's shadow as a share of a course."""


_About = dict[str, str | float | None]


def sketched(takeoff: Takeoff, placed: Placed, ground: Canvas) -> Iterator[Markup]:
    """One wall of a strip.

    Args:
        takeoff: The takeoff.
        placed: The wall.
        ground: Places of its drawing in the picture.

    Returns:
        The drawing, from the back to the front.
    """
    entry, course = placed.entry, takeoff.product.panel.height
    key = f"{entry.wall.id}-veneer"
    clip = tag("clipPath", {"id": key}, _path(ground.region(entry.quantities.veneer)))
    yield tag("defs", None, clip)
    yield _path(ground.region(entry.wall.region), fill=_JOINT)
    yield tag("g", {"clip-path": f"url(#{key})"}, *_stones(takeoff, entry, ground, course))
    line: _About = {"stroke": _JOINT, "stroke-width": 0.04 * course}
    yield _path(ground.region(entry.quantities.trim_region), fill=_TRIM, **line)
    yield _path(ground.region(entry.quantities.cap_region), fill=_CAP, **line)
    for opening in entry.wall.openings:
        yield from _opening(opening, ground, course)


def _stones(
    takeoff: Takeoff, entry: WallTakeoff, ground: Canvas, course: float
) -> Iterator[Markup]:
    """The stones of a wall, those of one tint as one path; without a plan course by course."""
    marks = color_marks(takeoff)
    by_fill: dict[str, list[Stone]] = {}
    for box, seed, stock in _boxes(entry):
        shade = marks[stock].shade if stock in marks else None
        for stone in stones_of(box, course, seed):
            tint = _TINTS[stone.tint % TINTS]
            fill = tint if shade is None else _SHADES[shade % len(_SHADES)]
            by_fill.setdefault(fill, []).append(stone)
    relief = 0.035 * course
    for fill, stones in by_fill.items():
        yield _path("".join(_box(s, ground) for s in stones), fill=fill)
    every = [s for stones in by_fill.values() for s in stones]
    for color, edges in ((_LIGHT, _upper(every, ground)), (_DARK, _lower(every, ground))):
        about: _About = {
            "fill": "none",
            "stroke": color,
            "stroke-opacity": 0.28,
            "stroke-width": relief,
        }
        yield tag("path", {"d": edges, **about})
    seams = "".join(ground.line(b[0], b[1], b[0], b[3]) for b, _, _ in _boxes(entry))
    yield tag("path", {"d": seams, "fill": "none", "stroke": _JOINT, "stroke-width": relief})


def _boxes(
    entry: WallTakeoff,
) -> Iterator[tuple[tuple[float, float, float, float], str, str]]:
    """Box, seed and panel of every piece, or of every course where no pieces are laid."""
    wall = entry.wall
    for p in entry.courses.pieces:
        seed = f"{wall.id}/{p.course}/{p.number}/{round(p.x0, 3)}"
        yield (p.x0, p.y0, p.x1, p.y1), seed, p.stock
    if not entry.courses.pieces:
        for c in entry.courses.courses:
            yield (wall.box[0], c.y0, wall.box[2], c.y1), f"{wall.id}/{c.index}", ""


def _opening(opening: Opening, ground: Canvas, course: float) -> Iterator[Markup]:
    """Glass or a leaf behind the wall's face, the shadow of head and left jamb on it."""
    x0, y0, x1, y1 = opening.box
    fill = _LEAF if opening.kind in DOORS else "#8f8f8c" if opening.kind == "fixture" else _GLASS
    outline = ground.region(opening.region)
    frame: _About = {"stroke": "#ece9e2", "stroke-width": 0.14 * course}
    yield _path(outline, fill=fill, **frame)
    depth = min(_DEPTH * course, 0.2 * (x1 - x0), 0.2 * (y1 - y0))
    if opening.kind == "fixture" or depth < SPECK_IN:
        return
    rings = [((x0, y1 - depth), (x1, y1 - depth), (x1, y1), (x0, y1))]
    rings.append(((x0, y0), (x0 + 0.6 * depth, y0), (x0 + 0.6 * depth, y1), (x0, y1)))
    if opening.region.area < (1.0 - 1e-6) * (x1 - x0) * (y1 - y0):
        return  # round, arched or sloped
    yield _path(ground.rings(rings), fill=_DARK, opacity=0.45)
    if opening.kind == "window":
        middle, mid = ground.x((x0 + x1) / 2), ground.y((y0 + y1) / 2)
        bars = f"M{number(middle)} {number(ground.y(y1))}V{number(ground.y(y0))}"
        bars += f"M{number(ground.x(x0))} {number(mid)}H{number(ground.x(x1))}"
        about: _About = {"fill": "none", "stroke": "#ece9e2", "stroke-width": 0.08 * course}
        yield tag("path", {"d": bars, **about})


def _path(d: str, **about: str | float | None) -> Markup:
    """A path filled by the even-odd rule."""
    names = {name.replace("_", "-"): value for name, value in about.items()}
    return tag("path", {"d": d, "fill-rule": "evenodd", "clip-rule": "evenodd", **names})


def _box(stone: Stone, ground: Canvas) -> str:
    width, height = number(stone.x1 - stone.x0), number(stone.y1 - stone.y0)
    return f"M{ground.at(stone.x0, stone.y1)}h{width}v{height}h-{width}Z"


def _upper(stones: Sequence[Stone], ground: Canvas) -> str:
    """Upper and left edges, where the light falls."""
    return "".join(
        f"M{ground.at(s.x0, s.y0)}V{number(ground.y(s.y1))}H{number(ground.x(s.x1))}"
        for s in stones
    )


def _lower(stones: Sequence[Stone], ground: Canvas) -> str:
    """Lower and right edges."""
    return "".join(
        f"M{ground.at(s.x1, s.y1)}V{number(ground.y(s.y0))}H{number(ground.x(s.x0))}"
        for s in stones
    )
