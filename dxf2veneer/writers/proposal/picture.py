"""A proposal as a picture: the drawing in grey, walls and openings tinted, numbered and patterned.

Tints are from the palette of Okabe and Ito (Color Universal Design, 2008), made for colour-blind
eyes; each kind has a pattern of its own as well, so that the picture also reads in black and white.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

import numpy as np
from shapely.geometry import Polygon

from dxf2veneer.propose.proposal import (
    Box,
    Outline,
    Proposal,
    ProposedOpening,
    ProposedWall,
)
from dxf2veneer.propose.scene import Floats
from dxf2veneer.propose.telling import told
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import UNCONFIRMED

_TINTS = {
    "wall": "#56B4E9",
    "window": "#E69F00",
    "door": "#009E73",
    "garage": "#CC79A7",
    "vent": "#D55E00",
}
_PATTERNS = {
    "wall": "M0 8 L8 0",
    "window": "M0 4 H8 M4 0 V8",
    "door": "M4 0 V8",
    "garage": "M0 4 H8",
    "vent": "M0 0 L8 8 M0 8 L8 0",
}
_WIDE = 1600.0
"""Width of the picture in pixels."""


def picture(proposal: Proposal, segments: Floats) -> str:
    """The picture of a proposal.

    Args:
        proposal: what was found.
        segments: the lines of the drawing, shape (n, 4), in drawing units.

    Returns:
        An SVG document, y pointing up as in the drawing.
    """
    box = _box(proposal, segments)
    scale = _WIDE / max(box[2] - box[0], 1e-9)
    high = (box[3] - box[1]) * scale
    letters = max(10.0, min(22.0, high / 60.0))
    sheet = _Sheet(box, scale, letters)
    body = [
        *(
            sheet.view(v.box, f"{v.id} {v.kind} {v.title}".strip())
            for v in proposal.views
            if v.kind != "sheet"
        ),
        sheet.lines(segments),
        *(
            sheet.area("wall", w.outline, w.id, f"{w.confidence:.0%}, {say(told(w.reason))}")
            for w in proposal.walls
        ),
        *(
            sheet.area(
                o.kind, o.outline, o.id, f"{o.kind}, {o.confidence:.0%}, {say(told(o.reason))}"
            )
            for o in proposal.openings
        ),
        *(
            sheet.label(point_beside(w, proposal.openings_of(w.id)), w.id, bold=True)
            for w in proposal.walls
        ),
        *(sheet.label(_middle(o.outline), o.id) for o in proposal.openings),
        sheet.legend(high),
    ]
    tall = f"{high + 3.5 * letters:.0f}"
    size = (
        f'width="{_WIDE:.0f}" height="{tall}" viewBox="0 {-2.0 * letters:.1f} {_WIDE:.0f} {tall}"'
    )
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} '
        f'font-family="sans-serif" font-size="{letters:.1f}">'
    )
    return (
        "\n".join(
            [
                head,
                f"<!-- {BLANK_SEAL} -->",
                _defs(),
                '<rect x="-10%" y="-10%" width="120%" height="120%" fill="#fff"/>',
                *filter(None, body),
                "</svg>",
            ]
        )
        + "\n"
    )


def write_picture(proposal: Proposal, segments: Floats, path: Path) -> None:
    """Write the picture, whole or not at all.

    Args:
        proposal: what was found.
        segments: the lines of the drawing, shape (n, 4), in drawing units.
        path: the file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    text = picture(proposal, segments)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def point_beside(wall: ProposedWall, openings: Iterable[ProposedOpening]) -> tuple[float, float]:
    """A point in a wall and in none of its openings, where its number stands.

    Args:
        wall: The wall.
        openings: Its openings.

    Returns:
        x and y in drawing units.
    """
    rest = Polygon(wall.outline)
    for opening in openings:
        rest = rest.difference(Polygon(opening.outline))
    point = (rest if not rest.is_empty else Polygon(wall.outline)).representative_point()
    return point.x, point.y


def _defs() -> str:
    made = "".join(
        f'<pattern id="p-{kind}" width="8" height="8" patternUnits="userSpaceOnUse">'
        f'<rect width="8" height="8" fill="{_TINTS[kind]}" '
        f'fill-opacity="{0.14 if kind == "wall" else 0.35}"/>'
        f'<path d="{path}" stroke="{_TINTS[kind]}" stroke-width="0.7" fill="none"/></pattern>'
        for kind, path in _PATTERNS.items()
    )
    return f"<defs>{made}</defs>"


class _Sheet:
    """Places of the drawing on the picture."""

    def __init__(self, box: Box, scale: float, letters: float) -> None:
        self._box, self._scale, self._letters = box, scale, letters

    def at(self, x: float, y: float) -> tuple[float, float]:
        return (x - self._box[0]) * self._scale, (self._box[3] - y) * self._scale

    def lines(self, segments: Floats) -> str:
        """All lines as one path."""
        if not len(segments):
            return ""
        x = (segments[:, [0, 2]] - self._box[0]) * self._scale
        y = (self._box[3] - segments[:, [1, 3]]) * self._scale
        path = "".join(
            f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}"
            for (a, c), (b, d) in zip(x.tolist(), y.tolist(), strict=True)
        )
        return f'<path d="{path}" stroke="#777" stroke-width="0.6" fill="none"/>'

    def area(self, kind: str, outline: Outline, name: str, about: str) -> str:
        """A tinted outline with a title that viewers show beside the pointer."""
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in (self.at(*p) for p in outline))
        wide = 2.2 if kind == "wall" else 1.6
        return (
            f'<polygon points="{points}" fill="url(#p-{kind})" '
            f'stroke="{_TINTS[kind]}" stroke-width="{wide}">'
            f"<title>{escape(_clean(f'{name}: {about}'))}</title></polygon>"
        )

    def view(self, box: Box, name: str) -> str:
        """A dashed frame round a view, with its number, kind and title."""
        x0, y1 = self.at(box[0], box[1])
        x1, y0 = self.at(box[2], box[3])
        frame = (
            f'<rect x="{x0:.1f}" y="{y0:.1f}" width="{x1 - x0:.1f}" height="{y1 - y0:.1f}" '
            'fill="none" stroke="#000" stroke-dasharray="6 5" stroke-width="0.8"/>'
        )
        return frame + f'<text x="{x0 + 3:.1f}" y="{y0 - 3:.1f}">{escape(_clean(name))}</text>'

    def label(self, at: tuple[float, float], name: str, *, bold: bool = False) -> str:
        """A number with a white edge, so that it reads on lines."""
        x, y = self.at(*at)
        weight = ' font-weight="bold"' if bold else ""
        style = 'text-anchor="middle" paint-order="stroke" stroke="#fff" stroke-width="3"'
        down = f"{y + self._letters / 3:.1f}"
        return f'<text x="{x:.1f}" y="{down}" {style}{weight}>{escape(name)}</text>'

    def legend(self, high: float) -> str:
        """What tints and patterns mean, and that nobody has confirmed it."""
        step, y = self._letters, high + self._letters * 0.4
        parts, x = [], 0.0
        for kind in _TINTS:
            parts.append(
                f'<rect x="{x:.1f}" y="{y:.1f}" width="{step:.1f}" height="{step:.1f}" '
                f'fill="url(#p-{kind})" stroke="{_TINTS[kind]}"/>'
            )
            parts.append(f'<text x="{x + 1.3 * step:.1f}" y="{y + 0.85 * step:.1f}">{kind}</text>')
            x += (3.0 + 0.65 * len(kind)) * step
        return (
            "".join(parts)
            + f'<text x="{x + step:.1f}" y="{y + 0.85 * step:.1f}" font-weight="bold">'
            f"{UNCONFIRMED}</text>"
        )


def _box(proposal: Proposal, segments: Floats) -> Box:
    """Room of the elevations where there are any, else of the whole drawing, with a margin."""
    boxes: Sequence[Box] = [v.box for v in proposal.views if v.kind == "elevation"]
    if not boxes and len(segments):
        points = segments.reshape(-1, 2)
        boxes = [(*points.min(axis=0).tolist(), *points.max(axis=0).tolist())]
    if not boxes:
        return (0.0, 0.0, 1.0, 1.0)
    low, high = np.min(boxes, axis=0), np.max(boxes, axis=0)
    margin = 0.02 * float(max(high[2] - low[0], high[3] - low[1]))
    return (
        float(low[0] - margin),
        float(low[1] - margin),
        float(high[2] + margin),
        float(high[3] + margin),
    )


def _middle(outline: Outline) -> tuple[float, float]:
    point = Polygon(outline).representative_point()
    return point.x, point.y


def _clean(text: str) -> str:
    """Text without what XML does not take."""
    return "".join(_printable(text))


def _printable(text: str) -> Iterable[str]:
    return (c if c.isprintable() and not 0xD800 <= ord(c) <= 0xDFFF else " " for c in text)
