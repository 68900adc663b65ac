"""What the drawing itself shows under a proposal, in grey: lines, hatches and texts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple
from xml.sax.saxutils import escape

import numpy as np

from dxf2veneer.propose.proposal import Box
from dxf2veneer.propose.scene import Floats, Hatch, Text
from dxf2veneer.textio.escaping import legible

_SHORTEST_PX = 0.35
"""Lines shorter than this many pixels are left out."""
_LEAST_HATCH_PX = 4.0
"""Smaller hatches are left out."""
_LEAST_GAP_PX = 3.0
"""Lines of a hatch nearer to each other than this are a tint."""
_LEAST_TEXT_PX = 6.0
"""Smaller letters are left out."""
_LONGEST_TEXT = 120
_CAPITALS = 0.72
"""Height of capitals as a share of the letters' size, as in most fonts without serifs."""


class Place(NamedTuple):
    """Where a part of the drawing lies on the picture."""

    box: Box
    scale: float
    left: float
    top: float

    @property
    def high(self) -> float:
        """Its height in pixels."""
        return (self.box[3] - self.box[1]) * self.scale

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point of the drawing in pixels."""
        return self.left + (x - self.box[0]) * self.scale, self.top + (self.box[3] - y) * self.scale

    def holds(self, box: Box) -> bool:
        """Whether the part of the drawing has some of a box."""
        x0, y0, x1, y1 = self.box
        return box[0] <= x1 and box[2] >= x0 and box[1] <= y1 and box[3] >= y0


def lines(segments: Floats, place: Place, *, shortest: float = _SHORTEST_PX) -> str:
    """Lines as one path.

    Args:
        segments: the lines, shape (n, 4), in drawing units.
        place: where they go.
        shortest: lines shorter than this many pixels are left out.

    Returns:
        An element, empty where there is no line.
    """
    if not len(segments):
        return ""
    d = segments[:, 2:] - segments[:, :2]
    shown = segments[np.hypot(d[:, 0], d[:, 1]) * place.scale >= shortest]
    x = place.left + (shown[:, [0, 2]] - place.box[0]) * place.scale
    y = place.top + (place.box[3] - shown[:, [1, 3]]) * place.scale
    path = "".join(
        f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}"
        for (a, c), (b, d) in zip(x.tolist(), y.tolist(), strict=True)
    )
    return f'<path d="{path}" stroke="#777" stroke-width="0.6" fill="none"/>'


def hatches(found: Iterable[Hatch], place: Place, *, name: str) -> Iterator[str]:
    """The hatches of a part of the drawing: of each the first two families of its lines, or a tint
    where they lie too close to be told apart.

    Args:
        found: the hatches, in drawing units.
        place: where they go.
        name: begins the names of their patterns, which are the picture's only once.

    Returns:
        Elements.
    """
    shown = (h for h in found if place.holds(h.box) and _size(h) * place.scale >= _LEAST_HATCH_PX)
    for n, hatch in enumerate(shown):
        path = "".join(_ring(loop, place) for loop in hatch.loops)
        apart = [f for f in hatch.lines[:2] if f[1] * place.scale >= _LEAST_GAP_PX]
        if hatch.solid or not apart:
            yield f'<path d="{path}" fill="#999" fill-opacity="0.25" fill-rule="evenodd"/>'
            continue
        for k, (angle, gap, dashed) in enumerate(apart):
            step, key = gap * place.scale, f"{name}-{n}-{k}"
            dashes = f' stroke-dasharray="{step / 2.0:.1f}"' if dashed else ""
            yield (
                f'<pattern id="{key}" width="{step:.2f}" height="{step:.2f}" '
                f'patternUnits="userSpaceOnUse" patternTransform="rotate({-angle:.4g})">'
                f'<path d="M0 0H{step:.2f}" stroke="#999" stroke-width="0.6"{dashes}/></pattern>'
                f'<path d="{path}" fill="url(#{key})" fill-rule="evenodd"/>'
            )


def texts(found: Iterable[Text], place: Place) -> Iterator[str]:
    """The texts of a part of the drawing that are large enough to be read.

    Args:
        found: the texts, in drawing units.
        place: where they go.

    Returns:
        Elements.
    """
    for text in found:
        size = text.height * place.scale / _CAPITALS
        if not place.holds(text.box) or size < _LEAST_TEXT_PX:
            continue
        x, y = place.at(text.x, text.y) if text.rotation else place.at(*text.box[:2])
        turned = f' transform="rotate({-text.rotation:.4g} {x:.1f} {y:.1f})"' * bool(text.rotation)
        words = legible(" / ".join(text.text.split("\n")))[:_LONGEST_TEXT]
        plain = "".join(c if c.isprintable() else " " for c in words)
        yield (
            f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}" fill="#777"{turned}>'
            f"{escape(plain)}</text>"
        )


def _size(hatch: Hatch) -> float:
    return max(hatch.box[2] - hatch.box[0], hatch.box[3] - hatch.box[1])


def _ring(loop: Floats, place: Place) -> str:
    corners = " ".join("{:.1f} {:.1f}".format(*place.at(x, y)) for x, y in loop.tolist())
    return f"M{corners}Z"
