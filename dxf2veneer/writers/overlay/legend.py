"""Legend and title of the overlay, below the walls.

    Gatehouse: veneer courses                     title
    1 error: do not use these numbers             and which, where the takeoff has errors
    drawing gatehouse.dxf, ...
    ------  PJNT  joints between pieces           a row for each layer that was drawn on, and in it
    ---->   PCOR  corner pieces, with their hand  a sample that looks as the layer looks

The samples lie on the legend's layer, so that the other layers hold the takeoff alone.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.wording import say
from dxf2veneer.wording.bounds import least_words
from dxf2veneer.wording.cautions import BRIEF
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.colors import ColorMark, marks_of
from dxf2veneer.writers.overlay.layers import LAYERS, TEXT_LAYERS, EntityTags, Key
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.plan import hatch_color
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import LINE_STEP, Box, Line, Sheet, width_of
from dxf2veneer.writers.words import alert_words, file_name

_HEAD, _SAMPLE, _CODE, _AWAY = 1.5, 5.0, 6.0, 2.0
"""Height of the title, widths of a sample and a code with its gap, distance from the walls, in text
heights."""

LEGEND_REACH = 20.0
"""How far the legend goes down to find free ground, in heights or widths of walls or of its own,
the greatest: below that it is no longer found, and lies over what stands there."""
_HASH = 8
_MOST_ERRORS, _MOST_LINES, _LETTERS = 5, 3, 90
"""How many errors the title lists, lines of each, letters in a line."""
_CAUTION = (
    "For planning only: check the reading of the drawing before you order.",
    "Local codes, the maker's instructions and a licensed professional decide.",
    *BRIEF,
)


@dataclass(frozen=True)
class _Row:
    """A line of the title, and how many times as high as other texts it is."""

    text: str
    times: float = 1.0


def draw_legend(
    takeoff: Takeoff, drawing: Drawing, pen: Pen, sizes: TextSizes, sheet: Sheet, *, day: str
) -> Box:
    """Title and legend under everything that stands there.

    Args:
        takeoff: The takeoff.
        drawing: The drawing, which has walls.
        pen: Draws.
        sizes: Sizes of the texts.
        sheet: The area that texts have taken; the title's take more of it.
        day: What the title says of the date.

    Returns:
        The box around walls, title and legend, in inches.
    """
    boxes = [w.wall.box for w in takeoff.walls_of(drawing.index)]
    left, right = min(b[0] for b in boxes), max(b[2] for b in boxes)
    low, high = min(b[1] for b in boxes), max(b[3] for b in boxes)
    step = LINE_STEP * sizes.text
    title = _title(takeoff, drawing, sizes, day)
    keys = [k for k in LAYERS if k in pen.used and k not in TEXT_LAYERS]
    rows = [LAYERS[key].content for key in keys] + _remarks(takeoff)
    wide = max(
        *(width_of(row.text, sizes.text * row.times) for row in title),
        *(width_of(text, sizes.text) + (_SAMPLE + _CODE) * sizes.text for text in rows),
    )
    high_block = (sum(row.times for row in title) + len(rows) + 2) * step
    top = low - _AWAY * step
    place = (left, top - high_block, left + wide, top + step)
    reach = LEGEND_REACH * max(right - left, high - low, high_block)
    top = sheet.free_below(place, gap=step, reach=reach)[3] - step
    y = _write_title(title, (left, top - step), pen, sizes, sheet) - step
    y = _write_rows(rows, keys, (left, y), pen, sizes, marks_of(takeoff))
    tops = [box[3] for box in sheet.taken if left <= box[0] <= right and box[1] < high + 10 * step]
    return left, y, max(right, left + wide), max([high, *tops])


def _write_title(
    title: Sequence[_Row], at: Point, pen: Pen, sizes: TextSizes, sheet: Sheet
) -> float:
    """The lines of the title from a place downwards; the y below them."""
    x, y = at
    for row in title:
        line = Line(row.text, x, y, sizes.text * row.times)
        sheet.take(line.box)
        pen.text("title", line, EntityTags("title"))
        y -= LINE_STEP * sizes.text * row.times
    return y


def _write_rows(
    rows: Sequence[str],
    keys: Sequence[Key],
    at: Point,
    pen: Pen,
    sizes: TextSizes,
    colors: Sequence[ColorMark],
) -> float:
    """The legend's rows from a place downwards, the first with a sample; the y below them."""
    (x, y), tags = at, EntityTags("legend")
    for n, text in enumerate(rows):
        if n < len(keys):
            with pen.samples():
                if keys[n] == "blend":
                    _colors(colors, (x, y), pen, sizes)
                else:
                    _sample(keys[n], (x, y), pen, sizes)
            code = Line(LAYERS[keys[n]].suffix, x + (_SAMPLE + 1) * sizes.text, y, sizes.text)
            pen.text("legend", code, tags)
        pen.text("legend", Line(text, x + (_SAMPLE + _CODE) * sizes.text, y, sizes.text), tags)
        y -= LINE_STEP * sizes.text
    return y


def _title(takeoff: Takeoff, drawing: Drawing, sizes: TextSizes, day: str) -> list[_Row]:
    """The lines of the title, errors first."""
    job, display = takeoff.job.job, takeoff.job.output.display
    scale = f"texts sized for plotting at {sizes.scale_text}"
    heads = (f"{job.name}: veneer courses" if job.name else "Veneer courses", alert_words(takeoff))
    lines = (
        job.company,
        job.note,
        ", ".join(
            filter(None, (f"drawing {file_name(drawing)}, sha256 {drawing.sha256[:_HASH]}", day))
        ),
        scale + (", chosen by the largest wall" if sizes.is_guess else ""),
        *(_panel(p, takeoff, display) for p in takeoff.products),
        *_panels(takeoff),
        *_CAUTION,
    )
    return [
        *(_Row(for_dxf(head), _HEAD) for head in heads if head),
        *_errors(takeoff, drawing),
        *(_Row(for_dxf(line)) for line in lines if line),
    ]


def _panel(product: Product, takeoff: Takeoff, display: str) -> str:
    """A product's size and name, and its walls where the job has several."""
    size = (
        f"{length_text(product.panel.length, display)} x "
        f"{length_text(product.panel.height, display)}"
    )
    walls = next((", ".join(p.walls) for p in takeoff.parts if p.product is product), "")
    return f"panel {size}: {product.product.name}{f' on {walls}' if walls else ''}"


def _errors(takeoff: Takeoff, drawing: Drawing) -> list[_Row]:
    """Errors that no mark in this drawing shows, in full."""
    unseen = [n for n in takeoff.errors if n.drawing != drawing.index or n.at_in is None]
    display = takeoff.job.output.display
    rows = [
        _Row(for_dxf(line))
        for n in unseen[:_MOST_ERRORS]
        for line in textwrap.wrap(
            f"{n.code}: {say(n.message, display)}",
            _LETTERS,
            max_lines=_MOST_LINES,
            placeholder=" …",
        )
    ]
    more = len(unseen) - _MOST_ERRORS
    return [*rows, *([_Row(f"and {more} more: see the workbook's notices")] if more > 0 else [])]


def _panels(takeoff: Takeoff) -> tuple[str, ...]:
    """Panels of the whole job with their lower bounds."""
    plan = takeoff.plan
    if plan is None:
        return ("panels not laid out; a number of panels is an estimate by area",)
    counts = (("flat", plan.flat), ("corner", plan.corner))
    shown = [f"{c.units} {kind} (lower bound {c.lower_bound})" for kind, c in counts]
    return (
        f"panels of the whole job: {', '.join(shown)}",
        f"together {plan.total}; {least_words(plan)}",
    )


def _remarks(takeoff: Takeoff) -> list[str]:
    """Rows of the legend without a sample: how texts are read."""
    unit = "mm" if takeoff.job.output.display == "metric" else "inches"
    heights = "heights of course lines: above the level line, else above the wall's foot"
    pieces = (
        f"pieces: F1 flat, C1 corner panel, then the cut length in {unit}",
        "lists below a wall: 3/7 is course 3, piece 7",
    )
    marks = marks_of(takeoff) if takeoff.plan else []
    colors = ", ".join(f"{mark.letter} {mark.name}" for mark in marks)
    told = [f"letters in front of panels are colors: {colors}"] if colors else []
    return [heights, *(pieces if takeoff.plan else ()), *told]


def _colors(colors: Sequence[ColorMark], at: Point, pen: Pen, sizes: TextSizes) -> None:
    """The hatches of all minor colors side by side."""
    (x, y), half = at, 0.5 * sizes.text
    minor = [mark for mark in colors if mark.shade]
    wide = _SAMPLE * sizes.text / len(minor)
    for n, mark in enumerate(minor):
        box = Path.box_of(x + n * wide, y - half, x + (n + 1) * wide, y + half)
        hatch_color(pen, [box.points], mark, EntityTags("legend"))


def _sample(key: Key, at: Point, pen: Pen, sizes: TextSizes) -> None:
    """A sample of a layer: what it looks like and how it is drawn."""
    (x, y), size, tags = at, sizes.text, EntityTags("legend")
    end, half = x + _SAMPLE * size, 0.5 * size
    box = (x, y - half, end, y + half)
    if key == "glued":
        pen.hatch(key, [Path.box_of(*box).points], tags)
    elif key == "sliver":
        pen.fill(key, box, tags)
    elif key in ("shaped", "corner", "change"):
        pen.path(key, Path.box_of(*box), tags)
    elif key == "joint":
        pen.line(key, (x + size, y - half), (x + size, y + half), tags)
    elif key == "cut":
        pen.line(key, (x + size, y + half), (x + 2 * size, y - half), tags)
    elif key == "rule":
        pen.path(key, Path.circle((x + size, y), half), tags)
    elif key == "notice":
        pen.path(
            key,
            Path.polygon([(x, y), (x + half, y - half), (x + size, y), (x + half, y + half)]),
            tags,
        )
    elif key == "off":
        pen.path(
            key, Path.polygon([(x, y + half), (x + half, y - half), (x + size, y + half)]), tags
        )
    else:
        pen.line(key, (x, y), (end, y), tags)
