"""Strips of walls in one picture, as SVG or PNG."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording.cautions import CAUTION, Reader, caution_for
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.elevation.picture import style_text
from dxf2veneer.writers.markup import Markup, number, tag
from dxf2veneer.writers.sizes import fitting_scale, scale_words
from dxf2veneer.writers.typeset import dots_of
from dxf2veneer.writers.unfolded.courses import coursed
from dxf2veneer.writers.unfolded.sketch import sketched
from dxf2veneer.writers.unfolded.strips import Placed, Strip, strips_of
from dxf2veneer.writers.words import alert_words, wall_title

Draw = Callable[[Takeoff, Placed, Canvas], Iterator[Markup]]

_ROOM = (16.0, 24.0)
"""Width and height on paper that a picture is fitted into, in inches."""

_DOTS = 200.0
"""Dots in an inch of a PNG."""

_LETTER = 0.64
"""Width of a letter in text heights; wider than most fonts draw it."""

_LEAST_WIDE = 24.0
"""Width of the picture in courses, however narrow its walls are."""

_LEGIBLE = 12.0
"""Height of a course on a page in pixels, at which the names of walls can be read."""

_AROUND, _GAP = 3.0, 5.0
"""Margin round the picture and distance of its strips, in courses."""

SKETCH = (
    "A sketch, not a photograph: sizes, tints and joints of the stones are invented; the real "
    "product looks different."
)


def write_sketch(takeoff: Takeoff, path: Path) -> None:
    """Write all walls as they may look when they are finished, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write, .svg or .png.

    Raises:
        OSError: It can't be written.
    """
    _write(takeoff, path, sketched, SKETCH)


def write_unfolded(takeoff: Takeoff, path: Path) -> None:
    """Write all walls with their pieces, those that meet side by side, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write, .svg or .png.

    Raises:
        OSError: It can't be written.
    """
    words = "Walls unfolded round their corners; heights from each wall's own datum."
    _write(takeoff, path, coursed, words)


def _write(takeoff: Takeoff, path: Path, draw: Draw, foot: str) -> None:
    svg = strips_svg(takeoff, draw, foot, alone=True)
    if path.suffix.lower() == ".png":
        content = (
            dots_of(svg, _DOTS) + BLANK_SEAL.encode()
        )  # behind a PNG's end, where nothing is read
    else:
        text = f'<?xml version="1.0" encoding="UTF-8"?>\n<!-- {BLANK_SEAL} -->\n{svg}\n'
        content = text.encode()
    write_whole(path, lambda draft: draft.write_bytes(content))


def strips_svg(takeoff: Takeoff, draw: Draw, foot: str, *, alone: bool) -> Markup:
    """All strips one below the other.

    Args:
        takeoff: The takeoff.
        draw: Draws one wall.
        foot: A line under the picture.
        alone: Whether it is for a file of its own, with its size, its style and the line.

    Returns:
        An element ``svg``; lengths in it are inches of the building.
    """
    course, display = takeoff.product.panel.height, takeoff.job.output.display
    around, gap = _AROUND * course, _GAP * course
    strips = strips_of(takeoff)
    boxes = [_box(strip) for strip in strips]
    width = max((x1 - x0 for x0, _, x1, _ in boxes), default=0.0)
    parts, top = [], around
    for n, (strip, (x0, _, _, y1)) in enumerate(zip(strips, boxes, strict=True)):
        rows: list[float] = []
        for placed in strip:
            ground = Canvas(x0 - placed.dx - around, y1 - placed.dy + top)
            parts.append(tag("g", None, *draw(takeoff, placed, ground)))
            parts.append(_name(placed, ground, course, rows))
        top += boxes[n][3] - boxes[n][1] + gap + course * max(0, len(rows) - 1)
    alert = alert_words(takeoff)
    width = max(width, _LEAST_WIDE * course)
    scale = fitting_scale(width + 2 * around, top, _ROOM, display)
    said = [f"{foot} {scale_words(scale, display)}. {CAUTION}", alert] if alone else []
    letters = math.floor(width / (_LETTER * 0.8 * course))
    words = [line for text in said for line in textwrap.wrap(text, letters)]
    whole = (width + 2 * around, top + 1.2 * course * max(0, len(words) - 1))
    for k, line in enumerate(words):
        at: dict[str, str | float | None] = {"x": around, "y": top - course + 1.2 * k * course}
        parts.append(tag("text", {**at, "font-size": 0.8 * course}, line))
    about = {"class": "elevation", "viewBox": f"0 0 {number(whole[0])} {number(whole[1])}"}
    if not alone:
        label = {"role": "img", "aria-label": foot, "width": number(_LEGIBLE / course * whole[0])}
        return tag("svg", about | label, *parts)
    about["xmlns"] = "http://www.w3.org/2000/svg"
    about["width"] = f"{number(whole[0] / scale * MM_PER_INCH)}mm"
    about["height"] = f"{number(whole[1] / scale * MM_PER_INCH)}mm"
    paper = tag("rect", {"width": whole[0], "height": whole[1], "fill": "#ffffff"})
    title = tag("title", None, legible(takeoff.job.job.name) or "Walls unfolded")
    told = tag("desc", None, caution_for(Reader.INSTALLER, Reader.DESIGNER))
    return tag("svg", about, title, told, tag("style", None, Markup(style_text())), paper, *parts)


def _box(strip: Strip) -> tuple[float, float, float, float]:
    """Least and greatest x and y of a strip."""
    boxes = [(p.entry.wall.box, p.dx, p.dy) for p in strip]
    return (
        min(b[0] + dx for b, dx, _ in boxes),
        min(b[1] + dy for b, _, dy in boxes),
        max(b[2] + dx for b, dx, _ in boxes),
        max(b[3] + dy for b, _, dy in boxes),
    )


def _name(placed: Placed, ground: Canvas, course: float, rows: list[float]) -> Markup:
    """The wall's id and name under it, in the first row that the names before it leave free there;
    ``rows`` holds where each row is taken to."""
    x0, y0, x1, _ = placed.entry.wall.box
    words = wall_title(placed.entry)
    middle, half = ground.x((x0 + x1) / 2), 0.3 * course * len(words)
    row = next((n for n, end in enumerate(rows) if middle - half > end), len(rows))
    rows[row : row + 1] = [middle + half]
    at: dict[str, str | float | None] = {
        "x": middle,
        "y": ground.y(y0) + (1.3 + row) * course,
        "font-size": 0.8 * course,
        "text-anchor": "middle",
        "font-weight": "700",
    }
    return tag("text", at, words)
