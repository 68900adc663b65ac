"""Story poles on paper: a page to look at, then the rod in parts at full size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import StoryPole, Takeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.cautions import CAUTION, Reader, caution_for
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.sizes import fitting_scale, scale_words
from dxf2veneer.writers.story_pole.labels import Datum, datum_of_pole, rows_of, walls_named
from dxf2veneer.writers.story_pole.rod import View, rod_svg
from dxf2veneer.writers.typeset import write_pages
from dxf2veneer.writers.words import alert_words, file_name

PART_IN, LAP_IN = 8.0, 0.5
"""What a part holds of the rod, and how much of the next part it repeats for taping."""

PART_MM, LAP_MM = 200.0, 10.0
"""The same where units are metric."""

_PART_WIDE, _WHOLE_WIDE, _WHOLE_HIGH = 3.68, 3.1, 8.4
"""Width of a part, width and height of the whole rod's picture, in inches on paper."""


def write_poles_pdf(takeoff: Takeoff, poles: Sequence[StoryPole], path: Path) -> None:
    """Write the poles as a PDF, whole or not at all.

    Args:
        takeoff: The takeoff.
        poles: Its poles.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    held = content_of(takeoff, poles)
    write_pages("dxf2veneer.writers.story_pole", "pole.typ", held, path)


def content_of(takeoff: Takeoff, poles: Sequence[StoryPole]) -> dict[str, Any]:
    """What stands on the pages, as texts and pictures.

    Args:
        takeoff: The takeoff.
        poles: Its poles.

    Returns:
        What the template sets, by name.
    """
    metric = takeoff.job.output.display == "metric"
    return {
        "title": legible(takeoff.job.job.name) or "Story pole",
        "paper": "a4" if metric else "us-letter",
        "alert": alert_words(takeoff),
        "caution": f"{CAUTION} {caution_for(Reader.INSTALLER)}",
        "check": {"mm": 150.0, "words": "150 mm"} if metric else {"mm": 152.4, "words": "6 in"},
        "poles": [_pole(takeoff, pole) for pole in poles],
    }


def _pole(takeoff: Takeoff, pole: StoryPole) -> dict[str, Any]:
    """One pole: whole to scale, its table and its parts."""
    datum, display = datum_of_pole(pole, takeoff.job.output), takeoff.job.output.display
    tall = pole.top - pole.bottom
    scale = fitting_scale(0.0, tall, (_WHOLE_WIDE, _WHOLE_HIGH), display)
    around = 0.02 * tall
    whole = View(pole.bottom - around, pole.top + around, _WHOLE_WIDE, scale)
    drawing = next(d for d in takeoff.drawings if d.index == pole.drawing)
    walls = walls_named(pole, takeoff.walls)
    return {
        "title": f"Story pole of {pole.name}",
        "about": f"{walls} of {file_name(drawing)}. Heights above {datum.name} = "
        f"{datum.height_words(0.0)}; courses of {length_text(pole.course_height, display)}, "
        f"counted from the lowest one. The picture is to scale {scale_words(scale, display)}.",
        "picture": rod_svg(pole, datum, whole),
        "wide": _WHOLE_WIDE * MM_PER_INCH,
        "rows": rows_of(pole, datum),
        "parts": _parts(pole, datum),
        "part_wide": _PART_WIDE * MM_PER_INCH,
    }


def _parts(pole: StoryPole, datum: Datum) -> list[dict[str, str]]:
    """The rod in parts at full size, each with the beginning of the next one."""
    found = part_views(pole, datum.display)
    return [
        {
            "picture": rod_svg(pole, datum, view),
            "title": f"{pole.name}, part {n} of {len(found)}",
            "span": f"{datum.height_words(view.y0)} to {datum.height_words(view.y1)}",
        }
        for n, view in enumerate(found, 1)
    ]


def part_views(pole: StoryPole, display: str) -> list[View]:
    """What each part of a rod holds, from its foot up; the parts lap.

    Args:
        pole: The rod.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The parts; the first begins an inch or a centimeter under the lowest mark, and the last
        one has no next one.
    """
    metric = display == "metric"
    unit = 10.0 / MM_PER_INCH if metric else 1.0
    part, lap = (PART_MM / MM_PER_INCH, LAP_MM / MM_PER_INCH) if metric else (PART_IN, LAP_IN)
    foot = (math.floor(pole.bottom / unit + 1e-9) - 1) * unit
    count = math.ceil((pole.top - foot) / part + 1e-9)
    found = []
    for n in range(count):
        more = lap if n + 1 < count else 0.0
        found.append(View(foot + n * part, foot + (n + 1) * part + more, _PART_WIDE, lap=more))
    return found
