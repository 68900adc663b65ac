"""The new drawing copied whole, with outlines before and now and clouds round what changed, on
layers of their own; texts and clouds are numbered as on the page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from dxf2veneer.geometry import Path as Outline
from dxf2veneer.model import Drawing, LaidOpening, LaidWall, Revision, Takeoff
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.revisions import summary_line
from dxf2veneer.writers.clouds import cloud_round
from dxf2veneer.writers.overlay.layers import REVISED_LAYERS, EntityTags, Key
from dxf2veneer.writers.overlay.legend import LEGEND_REACH
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.writing import write_drawn
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import LINE_STEP, Box, Line, Sheet, width_of
from dxf2veneer.writers.words import alert_words

_ARC = 2.5
"""Chord of a cloud's arcs, in text heights."""
_HEAD, _SAMPLE, _AWAY = 1.5, 5.0, 2.0
"""Height of the title, width of a sample, distance from the walls, in text heights."""
_LETTERS = 64
_SAMPLES: tuple[Key, ...] = ("before", "now", "cloud")


def write_revised(
    revision: Revision,
    walls: Sequence[LaidWall],
    takeoff: Takeoff,
    drawing: Drawing,
    source: Path,
    path: Path,
) -> None:
    """Write a copy of a new drawing with its changes.

    Args:
        revision: The comparison.
        walls: Its changed walls, laid on each other.
        takeoff: The takeoff of the new drawings.
        drawing: The new drawing.
        source: Its file.
        path: The file to write.

    Raises:
        OverlayError: The drawing can't be copied, or would be overwritten.
        OSError: Nothing can be written there.
    """
    own = [wall for wall in walls if wall.drawing == drawing.index]
    drawn = partial(_draw, revision, own, takeoff, drawing)
    write_drawn(takeoff, drawing, source, path, drawn, REVISED_LAYERS)


def _draw(
    revision: Revision,
    walls: Sequence[LaidWall],
    takeoff: Takeoff,
    drawing: Drawing,
    pen: Pen,
    *,
    taken: Sequence[Box],
    day: str,
) -> Box | None:
    """Outlines, clouds, their numbers; then legend and list under all walls."""
    sizes, sheet = TextSizes.of(takeoff, drawing), Sheet(taken)
    boxes = [w.wall.box for w in takeoff.walls_of(drawing.index)] + [w.box for w in walls]
    for wall in walls:
        _outlines(wall, pen)
    for wall in walls:
        for number, cloud in _clouds(wall, sizes):
            pen.path("cloud", cloud, EntityTags("cloud", _id(wall)))
            text = Line(number, cloud.box[2], cloud.box[3] + sizes.text, sizes.text, "right")
            placed = sheet.place(text, step=LINE_STEP * sizes.text)
            pen.text("cloud", placed, EntityTags("change number", _id(wall)))
    if not boxes:
        return None
    for wall in walls:
        sheet.take(wall.box)
    left, low, right, high = (
        f(box[n] for box in boxes) for n, f in enumerate((min, min, max, max))
    )
    y = _legend((left, low, right, high), list(_rows(revision, walls, takeoff, day)), pen, sizes,
                sheet)  # fmt: skip
    return left, y, right, high + 3.0 * sizes.text


def _id(wall: LaidWall) -> str | None:
    return wall.change.id_new or wall.change.id_old


def _outlines(wall: LaidWall, pen: Pen) -> None:
    """What differs as it was, dashed; over it walls and openings as they are."""
    if wall.old and wall.change.change not in ("same", "renamed"):
        for path in wall.old.paths:
            pen.path("before", path, EntityTags("wall before", wall.change.id_old))
    for opening in wall.openings_old:
        if opening.changed or wall.new is None:
            _opening("before", opening, wall.change.id_old, pen)
    for path in wall.new.paths if wall.new else ():
        pen.path("now", path, EntityTags("wall now", wall.change.id_new))
    for opening in wall.openings_new:
        _opening("now", opening, wall.change.id_new, pen)


def _opening(layer: Key, opening: LaidOpening, wall: str | None, pen: Pen) -> None:
    tags = EntityTags(f"opening {layer}", wall, opening.measured.opening.id)
    for path in opening.region.paths:
        pen.path(layer, path, tags)


def _clouds(wall: LaidWall, sizes: TextSizes) -> Iterator[tuple[str, Outline]]:
    """A cloud for each place, with the number of the change."""
    for place in wall.places:
        for box in place.boxes:
            yield str(place.number), cloud_round(box, _ARC * sizes.text)


def _rows(
    revision: Revision, walls: Sequence[LaidWall], takeoff: Takeoff, day: str
) -> Iterator[tuple[Key, str, float]]:
    """Lines of title and list: layer, text, and how many times as high as other texts."""
    job = takeoff.job
    name = f"{job.job.name}: what changed" if job.job.name else "What changed"
    for head in (name, alert_words(takeoff)):
        if head:
            yield "title", head, _HEAD
    for text in (summary_line(revision), day, CAUTION):
        for line in textwrap.wrap(text, _LETTERS):
            yield "title", line, 1.0
    display = job.output.display
    for wall in walls:
        for place in wall.places:
            told = f"{place.number} {say(place.told, display)}"
            for line in textwrap.wrap(told, _LETTERS):
                yield "told", line, 1.0


def _legend(
    around: Box, rows: Sequence[tuple[Key, str, float]], pen: Pen, sizes: TextSizes, sheet: Sheet
) -> float:
    """Title, list and samples under everything that stands there; the y below them."""
    left, low, right, high = around
    size, step = sizes.text, LINE_STEP * sizes.text
    lines = [(layer, for_dxf(text), times) for layer, text, times in rows]
    wide = max(width_of(text, size * times) for _, text, times in lines)
    tall = (sum(times for *_, times in lines) + len(_SAMPLES) + 1) * step
    top = low - _AWAY * step
    reach = LEGEND_REACH * max(right - left, high - low, tall)
    place = (left, top - tall, left + wide, top)
    y = sheet.free_below(place, gap=step, reach=reach)[3] - step
    for layer, text, times in lines:
        pen.text(layer, Line(text, left, y, size * times), EntityTags("change"))
        y -= step * times
    for key in _SAMPLES:
        tags = EntityTags("legend")
        with pen.samples():
            if key == "cloud":
                box = (left + size, y - 0.1 * size, left + (_SAMPLE - 1.0) * size, y + 0.1 * size)
                pen.path(key, cloud_round(box, 0.8 * size), tags)
            else:
                pen.line(key, (left, y), (left + _SAMPLE * size, y), tags)
        look = REVISED_LAYERS[key]
        text = f"{look.suffix}  {look.content}"
        pen.text("legend", Line(text, left + (_SAMPLE + 1.0) * size, y, size), tags)
        y -= step
    return y
