"""All story poles at full size in one picture, for a plotter or a roll of paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import StoryPole, Takeoff
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording.cautions import CAUTION, Reader, caution_for
from dxf2veneer.writers.markup import Markup, number, tag
from dxf2veneer.writers.story_pole.labels import datum_of_pole
from dxf2veneer.writers.story_pole.rod import FONT, INK, View, rod
from dxf2veneer.writers.words import alert_words

_WIDE, _HEAD, _AROUND = 4.5, 1.0, 0.5
"""Width of a pole, height of what stands over it, and margin, in inches."""


def write_poles_svg(takeoff: Takeoff, poles: Sequence[StoryPole], path: Path) -> None:
    """Write the poles at full size, whole or not at all.

    Args:
        takeoff: The takeoff.
        poles: Its poles.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    text = f"<!-- {BLANK_SEAL} -->\n{poles_svg(takeoff, poles)}\n"
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def poles_svg(takeoff: Takeoff, poles: Sequence[StoryPole]) -> Markup:
    """The poles side by side, each at full size.

    Args:
        takeoff: The takeoff.
        poles: Its poles.

    Returns:
        An element ``svg``; lengths in it are inches.
    """
    tallest = max((math.ceil(p.top) - math.floor(p.bottom) for p in poles), default=0)
    width = len(poles) * _WIDE + 2 * _AROUND
    height = tallest + _HEAD + 2 * _AROUND + 0.3
    parts = []
    for n, pole in enumerate(poles):
        datum = datum_of_pole(pole, takeoff.job.output)
        view = View(math.floor(pole.bottom), math.ceil(pole.top), _WIDE - 0.3)
        left, top = _AROUND + n * _WIDE, _AROUND + _HEAD + tallest - view.height
        title = (pole.name, f"above {datum.name} = {datum.height_words(0.0)}", alert_words(takeoff))
        lines = [
            tag(
                "text",
                {"x": 0.0, "y": -0.75 + 0.2 * k, "font-size": 0.16 if k == 0 else 0.125},
                words,
            )
            for k, words in enumerate(filter(None, title))
        ]
        place = {"transform": f"translate({number(left)} {number(top)})"}
        parts.append(tag("g", place, *lines, rod(pole, datum, view)))
    foot = {"x": _AROUND, "y": height - 0.3, "font-size": 0.11}
    about = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "width": f"{number(width * MM_PER_INCH)}mm",
        "height": f"{number(height * MM_PER_INCH)}mm",
        "font-family": FONT,
        "fill": INK,
    }
    desc = tag("desc", None, caution_for(Reader.INSTALLER))
    return tag("svg", about, desc, *parts, tag("text", foot, CAUTION))
