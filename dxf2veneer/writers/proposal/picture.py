"""A proposal as a picture: the drawing in grey, walls and openings tinted, numbered and patterned.

Tints are from the palette of Okabe and Ito (Color Universal Design, 2008), made for colour-blind
eyes; each kind has a pattern of its own as well, so that the picture also reads in black and white.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import nearest_points

from dxf2veneer.basics.tolerances import PROPOSAL_STANDS
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.propose.proposal import (
    Box,
    Outline,
    Proposal,
    ProposedOpening,
    ProposedView,
    ProposedWall,
    outline_size,
)
from dxf2veneer.propose.scene import Floats, Scene
from dxf2veneer.propose.telling import told
from dxf2veneer.textio.escaping import without_folder
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import UNCONFIRMED
from dxf2veneer.wording.measures import size_text
from dxf2veneer.writers.proposal import drawn
from dxf2veneer.writers.proposal.drawn import Place

_TINTS = {
    "wall": "#56B4E9",
    "window": "#E69F00",
    "door": "#009E73",
    "garage": "#CC79A7",
    "vent": "#D55E00",
}
_PATTERNS = {
    "window": "M0 4 H8 M4 0 V8",
    "door": "M4 0 V8",
    "garage": "M0 4 H8",
    "vent": "M0 0 L8 8 M0 8 L8 0",
}
_CLAD = ("M0 8 L8 0", "M0 0 L8 8", "M0 4 H8", "M4 0 V8", "M0 4 L4 0 L8 4", "M4 4 h1")
"""Patterns of walls by what is drawn on them, so that walls drawn in two ways differ."""
_UPRIGHT = 0.25
"""Height of a number with its size as a share of their width, about."""
_WIDE = 1600.0
"""Width of the picture in pixels."""
_MARGIN = 24.0
_LETTERS = 15.0
"""Height of letters, in pixels."""
_SMALLEST = 8.0
"""Height of the smallest letters."""
_LINE = 1.5 * _LETTERS
_KEY_HIGH = 260.0
"""Greatest height of the key picture of the whole drawing."""
_PANEL_HIGH = 820.0
"""Greatest height of one elevation."""
_LARGER = 3.0
"""How much larger a small elevation is drawn than the largest, at most."""


def picture(proposal: Proposal, scene: Scene, *, name: str, job: Job) -> str:
    """The picture of a proposal: a key of all views, then each elevation as large as the page.

    Args:
        proposal: what was found.
        scene: the drawing.
        name: the drawing's name, for the title.
        job: its unit counts, and in which units sizes are written.

    Returns:
        An SVG document.
    """
    unit = job.drawing.units or proposal.unit
    inches = unit_by_name(unit).inches * job.drawing.scale if unit else None
    read = f"read in {unit_by_name(unit).title}" if unit else "the unit is not settled"
    page = _Page(proposal, scene, inches, job.output.display)
    page.text(f"{name}: {read}", bold=True)
    page.text(f"{UNCONFIRMED}: look at each wall and opening before it is taken off")
    page.legend()
    elevations = [v for v in proposal.views if v.kind == "elevation"]
    if len(proposal.views) > 1 or not elevations:
        page.key()
    for view in elevations:
        page.elevation(view)
    tall = f"{page.y + _MARGIN:.0f}"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDE:.0f}" height="{tall}" '
        f'viewBox="0 0 {_WIDE:.0f} {tall}" font-family="sans-serif" font-size="{_LETTERS:.0f}">'
    )
    paper = '<rect width="100%" height="100%" fill="#fff"/>'
    lines = [
        head,
        f"<!-- {BLANK_SEAL} -->",
        _defs(page.claddings),
        paper,
        *filter(None, page.body),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def write_picture(proposal: Proposal, scene: Scene, drawing: Path, job: Job, path: Path) -> None:
    """Write the picture, whole or not at all.

    Args:
        proposal: what was found.
        scene: the drawing.
        drawing: the drawing, named in the title.
        job: how it was read.
        path: the file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    text = picture(proposal, scene, name=without_folder(str(drawing)), job=job)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def point_beside(wall: ProposedWall, openings: Iterable[ProposedOpening]) -> tuple[float, float]:
    """The point in a wall with the most room round it, where its number stands.

    Args:
        wall: The wall.
        openings: What lies in it and is to stay free.

    Returns:
        x and y in drawing units.
    """
    rest = Polygon(wall.outline)
    for opening in openings:
        rest = rest.difference(Polygon(opening.outline))
    room = rest if rest.area > 0.0 else Polygon(wall.outline)
    flat = affinity.scale(room, _UPRIGHT, 1.0, origin=(0.0, 0.0))  # a number is wider than high
    x0, y0, x1, y1 = flat.bounds
    reach = shapely.maximum_inscribed_circle(flat, tolerance=0.01 * max(x1 - x0, y1 - y0)).length
    core = flat.buffer(-0.9 * reach)
    point = nearest_points(core if not core.is_empty else flat, flat.centroid)[0]
    return point.x / _UPRIGHT, point.y


def _defs(claddings: Sequence[tuple[str, ...]]) -> str:
    walls = [(f"wall-{n}", "wall", _CLAD[n % len(_CLAD)]) for n in range(len(claddings))]
    kinds = [(kind, kind, path) for kind, path in _PATTERNS.items()]
    made = "".join(
        f'<pattern id="p-{name}" width="8" height="8" patternUnits="userSpaceOnUse">'
        f'<rect width="8" height="8" fill="{_TINTS[kind]}" '
        f'fill-opacity="{0.14 if kind == "wall" else 0.35}"/>'
        f'<path d="{path}" stroke="{_TINTS[kind]}" stroke-width="0.7" fill="none"/></pattern>'
        for name, kind, path in (*walls, *kinds)
    )
    return f"<defs>{made}</defs>"


class _Page:
    """The picture as it is drawn from the top down; ``y`` is how far."""

    def __init__(
        self, proposal: Proposal, scene: Scene, inches: float | None, display: str
    ) -> None:
        self._proposal, self._scene, self._segments = proposal, scene, scene.segments
        self._inches, self._display = inches, display
        self.claddings = sorted({w.cladding for w in proposal.walls}) or [()]
        self.body: list[str] = []
        self.y = _MARGIN
        self._labelled: list[Box] = []

    def text(self, words: str, *, bold: bool = False) -> None:
        """A line of text over the whole width."""
        self.y += _LINE
        weight = ' font-weight="bold"' if bold else ""
        self.body.append(
            f'<text x="{_MARGIN:.1f}" y="{self.y:.1f}"{weight}>{escape(_clean(words))}</text>'
        )

    def legend(self) -> None:
        """What tints, patterns and the question mark mean."""
        self.y += 0.6 * _LINE
        x, step = _MARGIN, _LETTERS
        several = len(self.claddings) > 1
        shown = [
            (f"wall-{n}", "wall", f"wall: {', '.join(names) or 'plain'}" if several else "wall")
            for n, names in enumerate(self.claddings)
        ]
        for key, kind, words in (*shown, *((k, k, k) for k in _PATTERNS)):
            if x + (3.2 + 0.6 * len(words)) * step > _WIDE - _MARGIN:
                x, self.y = _MARGIN, self.y + 1.4 * step
            self.body.append(
                f'<rect x="{x:.1f}" y="{self.y:.1f}" width="{step}" height="{step}" '
                f'fill="url(#p-{key})" stroke="{_TINTS[kind]}"/>'
                f'<text x="{x + 1.4 * step:.1f}" y="{self.y + 0.85 * step:.1f}">'
                f"{escape(_clean(words))}</text>"
            )
            x += (3.2 + 0.6 * len(words)) * step
        if x > _WIDE / 2.0:
            x, self.y = _MARGIN - step, self.y + 1.4 * step
        self.body.append(
            f'<text x="{x + step:.1f}" y="{self.y + 0.85 * step:.1f}">? less sure than the '
            "rest: hold the pointer on it to see why</text>"
        )
        self.y += step

    def key(self) -> None:
        """The whole drawing, small, with a numbered frame round each view."""
        views = self._proposal.views
        box = _around([v.box for v in views], self._segments)
        place = self._place(box, _KEY_HIGH)
        self.y += 0.8 * _LINE
        self.body.append(drawn.lines(self._segments, place, shortest=2.0))
        for view in views:
            x0, y1 = place.at(view.box[0], view.box[1])
            x1, y0 = place.at(view.box[2], view.box[3])
            is_taken = view.kind == "elevation"
            self.body.append(
                f'<rect x="{x0:.1f}" y="{y0:.1f}" width="{x1 - x0:.1f}" height="{y1 - y0:.1f}" '
                f'fill="none" stroke="#000" stroke-width="{1.2 if is_taken else 0.6}"'
                f"{'' if is_taken else _DASHES}/>"
            )
            self.body.append(
                _label(x0, y0 - 4.0, f"{view.id} {view.kind}", bold=is_taken, left=True)
            )
        self.y += place.high
        taken = ", ".join(v.id for v in views if v.kind == "elevation") or "none"
        self.text(f"Views taken for elevations: {taken}")

    def elevation(self, view: ProposedView) -> None:
        """One elevation with its walls and openings."""
        walls = self._proposal.walls_of(view.id)
        openings = [o for w in walls for o in self._proposal.openings_of(w.id)]
        self.y += 0.6 * _LINE
        self.text(
            f"{' '.join((view.id, view.kind, view.title)).strip()}: "
            f"{_counted(len(walls), 'wall')}, {_counted(len(openings), 'opening')}",
            bold=True,
        )
        self.y += 0.5 * _LINE
        x0, y0, x1, y1 = view.box
        edge = 0.01 * max(x1 - x0, y1 - y0, 1e-9)
        box = (x0 - edge, y0 - edge, x1 + edge, y1 + edge)
        place = self._place(box, _PANEL_HIGH, most_scale=_LARGER * self._common_scale())
        middle = (self._segments[:, :2] + self._segments[:, 2:]) / 2.0
        inside = (middle >= box[:2]).all(axis=1) & (middle <= box[2:]).all(axis=1)
        self.body += drawn.hatches(self._scene.hatches, place, name=f"h-{view.id}")
        self.body.append(drawn.lines(self._segments[inside], place))
        self.body += drawn.texts(self._scene.texts, place)
        for wall in walls:
            self._area("wall", wall, place)
        for opening in openings:
            self._area(opening.kind, opening, place)
        self._labelled = []
        for wall in walls:
            at = point_beside(wall, openings)
            self._number(wall, place.at(*at), place, bold=True)
        for opening in openings:
            self._number(opening, place.at(*_middle(opening.outline)), place)
        self.y += place.high

    def _common_scale(self) -> float:
        """The scale at which every elevation fits the page."""
        boxes = np.array([v.box for v in self._proposal.views if v.kind == "elevation"])
        size = (boxes[:, 2:] - boxes[:, :2]).max(axis=0)
        wide, high = max(float(size[0]), 1e-9), max(float(size[1]), 1e-9)
        return min((_WIDE - 2.0 * _MARGIN) / wide, _PANEL_HIGH / high)

    def _place(self, box: Box, most: float, *, most_scale: float = math.inf) -> Place:
        wide, high = max(box[2] - box[0], 1e-9), max(box[3] - box[1], 1e-9)
        scale = min((_WIDE - 2.0 * _MARGIN) / wide, most / high, most_scale)
        return Place(box, scale, _MARGIN, self.y + (0.8 * _LINE if most == _KEY_HIGH else 0.0))

    def _area(self, kind: str, item: ProposedWall | ProposedOpening, place: Place) -> None:
        """A tinted outline with a title that viewers show beside the pointer."""
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in (place.at(*p) for p in item.outline))
        wide = 2.2 if kind == "wall" else 1.6
        clad = item.cladding if isinstance(item, ProposedWall) else None
        fill = kind if clad is None else f"wall-{self.claddings.index(clad)}"
        why = f"{kind}, {item.confidence:.0%}, {say(told(item.reason))}"
        self.body.append(
            f'<polygon points="{points}" fill="url(#p-{fill})" '
            f'stroke="{_TINTS[kind]}" stroke-width="{wide}">'
            f"<title>{escape(_clean(f'{item.id}: {why}'))}</title></polygon>"
        )

    def _number(
        self,
        item: ProposedWall | ProposedOpening,
        at: tuple[float, float],
        place: Place,
        *,
        bold: bool = False,
    ) -> None:
        """The number, an opening's without its wall's where there is no room for that, with the
        size under it where there is."""
        mark = "" if item.confidence >= PROPOSAL_STANDS else " ?"
        wide, high = outline_size(item.outline)
        room = wide * place.scale
        in_wall = item.short_id if isinstance(item, ProposedOpening) else item.id
        number = item.id if _fits(item.id + mark, room) else in_wall
        words, line = size_text(wide, high, self._inches, self._display), 1.2 * _LETTERS
        x, y = at[0], at[1]
        own = min(_width(number + mark), math.inf if bold else room)
        free = (y + k * line for k in (0, 1, -1, 2, -2) if self._is_free(x, y + k * line, own))
        y = next(free, y)
        self._take(x, y, own)
        self.body.append(_label(x, y, number + mark, bold=bold, room=math.inf if bold else room))
        fits = _fits(words, room) and (bold or high * place.scale >= 2.5 * _LINE)
        if fits and self._is_free(x, y + line, _width(words)):
            self._take(x, y + line, _width(words))
            self.body.append(_label(x, y + line, words))

    def _is_free(self, x: float, y: float, wide: float) -> bool:
        """Whether words in the middle over a point would overprint none of this elevation's."""
        return not any(_overlap(_room(x, y, wide), other) for other in self._labelled)

    def _take(self, x: float, y: float, wide: float) -> None:
        """Words stand in the middle over a point."""
        self._labelled.append(_room(x, y, wide))


def _room(x: float, y: float, wide: float) -> Box:
    """The room of a line of words in the middle over a point, in pixels."""
    return x - wide / 2.0, y - 0.8 * _LETTERS, x + wide / 2.0, y + 0.1 * _LETTERS


def _overlap(one: Box, two: Box) -> bool:
    """Whether two boxes share ground."""
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


_DASHES = ' stroke-dasharray="6 5"'


def _label(
    x: float,
    y: float,
    words: str,
    *,
    bold: bool = False,
    left: bool = False,
    room: float = math.inf,
) -> str:
    """Words with a white edge, so that they read on lines; smaller where there is little room."""
    size = max(_SMALLEST, _LETTERS * min(1.0, room / _width(words)))
    small = f' font-size="{size:.1f}"' if size < _LETTERS else ""
    weight = ' font-weight="bold"' if bold else ""
    anchor = "start" if left else "middle"
    style = f'text-anchor="{anchor}" paint-order="stroke" stroke="#fff" stroke-width="3"'
    return f'<text x="{x:.1f}" y="{y:.1f}" {style}{weight}{small}>{escape(_clean(words))}</text>'


def _fits(words: str, room: float) -> bool:
    """Whether a line of words has room."""
    return _width(words) <= room


def _width(words: str) -> float:
    """Estimated width of a line of words, in pixels."""
    return 0.55 * _LETTERS * len(words)


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _around(boxes: Sequence[Box], segments: Floats) -> Box:
    """Room of all views, or of all lines where there is no view."""
    if not boxes and not len(segments):
        return (0.0, 0.0, 1.0, 1.0)
    corners = np.array(boxes).reshape(-1, 2) if boxes else segments.reshape(-1, 2)
    low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return (low[0], low[1], high[0], high[1])


def _middle(outline: Outline) -> tuple[float, float]:
    point = Polygon(outline).representative_point()
    return point.x, point.y


def _clean(text: str) -> str:
    """Text without what XML does not take."""
    return "".join(_printable(text))


def _printable(text: str) -> Iterable[str]:
    return (c if c.isprintable() and not 0xD800 <= ord(c) <= 0xDFFF else " " for c in text)
