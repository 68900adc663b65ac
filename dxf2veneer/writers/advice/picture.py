"""Coursing advice as a picture: the walls of each group as they stand, and below as proposed.

    now            | [  ]  [  ] |    slivers filled dark, other strips light
    1 raise ...    | [::]  [  ] |    moved openings heavy, where they are drawn dashed

Lengths in the picture are inches of the building. Slivers differ from other strips in shade and
outline, not in hue alone.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path

from dxf2veneer.model import (
    Conflict,
    CourseProposal,
    CoursingAdvice,
    GroupAdvice,
    WallTakeoff,
)
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTION, Reader, caution_for
from dxf2veneer.writers.advice.words import Names, closing_of, notes_of, proposal_message
from dxf2veneer.writers.elevation.paths import Canvas
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.texts import Box

_LETTERS = 96
"""Letters in a line of text as wide as the picture."""
_LETTER = 0.56
"""Width of a letter in text heights, about."""
_LEAST_WIDE = 240.0
_PIXELS = 1100.0
_STYLE = """
svg { background: #fff }
text { font-family: "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; fill: #1b1b1b }
.head { font-weight: 700 }
.veneer { fill: #f3f1ec; stroke: none }
.outline { fill: none; stroke: #1b1b1b }
.course { fill: none; stroke: #8f8a80 }
.starter { fill: none; stroke: #1f6f54 }
.bare { fill: #d9d4c8 }
.strip { fill: #fdf1cc; stroke: #8a7a3a }
.sliver { fill: #b3261e; stroke: #5d0f0a }
.opening { fill: #eef2f5; stroke: #1b1b1b; fill-rule: evenodd }
.moved { fill: #cfe3f5; stroke: #0b4f8a; fill-rule: evenodd }
.drawn { fill: none; stroke: #0b4f8a }
"""
_KEY = (
    ("sliver", "sliver"),
    ("strip", "other strip to rip"),
    ("moved", "moved opening, dashed as drawn"),
    ("bare", "bare ground below the starter"),
)


def write_picture(advice: CoursingAdvice, path: Path) -> None:
    """Write the picture of the advice, whole or not at all.

    Args:
        advice: The advice.
        path: The file to write (SVG).

    Raises:
        OSError: Nothing can be written there.
    """
    text = f'<?xml version="1.0" encoding="UTF-8"?>\n<!-- {BLANK_SEAL} -->\n{advice_svg(advice)}\n'
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def advice_svg(advice: CoursingAdvice) -> Markup:
    """The picture.

    Args:
        advice: The advice.

    Returns:
        An element ``svg``.
    """
    sheet = _Sheet(advice)
    for group in advice.groups:
        sheet.group(group)
    sheet.close()
    wide, high = sheet.wide, sheet.y
    about = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {number(wide)} {number(high)}",
        "width": number(_PIXELS),
        "height": number(_PIXELS * high / wide),
        "role": "img",
    }
    title = tag("title", None, "Coursing advice: walls as they stand and as proposed")
    told = tag("desc", None, f"{CAUTION} {caution_for(Reader.DESIGNER)}")
    return tag("svg", about, title, told, tag("style", None, Markup(_STYLE)), *sheet.parts)


class _Sheet:
    """What has been drawn so far, from the top down."""

    def __init__(self, advice: CoursingAdvice) -> None:
        self._advice = advice
        self._names = Names(advice)
        self._display = advice.job.output.display
        widths = [_width(g.present.walls) for g in advice.groups]
        text = max([_LEAST_WIDE, *widths]) / (_LETTERS * _LETTER)
        self.text = text
        self.wide = _LETTERS * _LETTER * text + 4.0 * text
        self.y = 1.0 * text
        self.parts: list[Markup] = []

    def line(self, words: str, *, head: bool = False) -> None:
        """Words over the whole width, in as many lines as it takes."""
        for part in textwrap.wrap(words, _LETTERS) or [""]:
            self.y += 1.4 * self.text
            about: dict[str, str | float | None] = {
                "x": 2.0 * self.text,
                "y": self.y,
                "font-size": self.text,
                "class": "head" if head else None,
            }
            self.parts.append(tag("text", about, part))

    def group(self, group: GroupAdvice) -> None:
        """What stands, each proposal, and what there is to say."""
        now = group.present
        counted = f"{_counted(now.slivers, 'sliver')}, {_counted(now.ripped, 'rip')}"
        self.line(f"{', '.join(self._names.of(group.walls))}: as it stands, {counted}", head=True)
        self._walls(now, now)
        for n, proposal in enumerate(group.proposals, 1):
            said = say(proposal_message(proposal, group, self._names), self._display)
            self.line(f"{n} {said[0].upper()}{said[1:]}", head=True)
            self._walls(proposal, now)
        for note in notes_of(group, self._advice, self._names):
            said = say(note, self._display)
            self.line(f"{said[0].upper()}{said[1:]}")
        self.y += self.text

    def close(self) -> None:
        """The key, and what holds for all."""
        self.y += 1.0 * self.text
        x = 2.0 * self.text
        for kind, words in _KEY:
            long = (4.5 + _LETTER * len(words)) * self.text
            if x + long > self.wide:
                x, self.y = 2.0 * self.text, self.y + 1.4 * self.text
            box: dict[str, str | float | None] = {"x": x, "y": self.y, "class": kind}
            box |= {"width": 2.0 * self.text, "height": self.text}
            box["stroke-width"] = 0.1 * self.text
            self.parts.append(tag("rect", box))
            at = {"x": x + 2.5 * self.text, "y": self.y + 0.85 * self.text}
            self.parts.append(tag("text", {**at, "font-size": self.text}, words))
            x += long
        self.y += self.text
        for note in closing_of(self._advice):
            said = say(note, self._display)
            self.line(f"{said[0].upper()}{said[1:]}")
        self.y += 2.0 * self.text

    def _walls(self, proposal: CourseProposal, present: CourseProposal) -> None:
        """The walls of a group side by side, their courses level with each other where a level
        line ties them."""
        low, high = _heights(proposal.walls)
        self.y += 0.8 * self.text
        x = 2.0 * self.text
        for wall, drawn in zip(proposal.walls, present.walls, strict=True):
            x0, y0, x1, _ = wall.wall.box
            ground = Canvas(x0 - x, self.y + high + (0.0 if _is_level(proposal) else y0))
            self.parts += _wall(wall, drawn, proposal, ground, self.text)
            x += x1 - x0 + 2.0 * self.text
        self.y += high - low + self.text


def _counted(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"


def _width(walls: Sequence[WallTakeoff]) -> float:
    return sum(w.wall.box[2] - w.wall.box[0] for w in walls) * 1.03


def _is_level(proposal: CourseProposal) -> bool:
    """Whether heights in the drawing can be compared: one drawing, one level line for all."""
    return len({(w.wall.drawing, w.wall.level_y) for w in proposal.walls}) == 1 and (
        proposal.walls[0].wall.level_y is not None
    )


def _heights(walls: Sequence[WallTakeoff]) -> tuple[float, float]:
    """Least and greatest height on a row, as ``_Sheet`` lays walls out."""
    boxes = [w.wall.box for w in walls]
    levels = {(w.wall.drawing, w.wall.level_y) for w in walls}
    if len(levels) == 1 and walls[0].wall.level_y is not None:
        return min(b[1] for b in boxes), max(b[3] for b in boxes)
    return 0.0, max(b[3] - b[1] for b in boxes)


def _wall(
    wall: WallTakeoff,
    drawn: WallTakeoff,
    proposal: CourseProposal,
    ground: Canvas,
    text: float,
) -> Iterator[Markup]:
    """One wall with its courses, strips and openings."""
    thin, thick = 0.08 * text, 0.2 * text
    bare = wall.quantities.veneer.difference(wall.courses.field)
    yield tag("path", {"class": "veneer", "d": ground.region(wall.quantities.veneer)})
    yield tag("path", {"class": "bare", "d": ground.region(bare)})
    lines = "".join(
        f"M{ground.at(c.x0, c.y)}L{ground.at(c.x1, c.y)}" for c in wall.courses.lines if c.index
    )
    yield tag("path", {"class": "course", "d": lines, "stroke-width": thin})
    strip = "".join(
        f"M{ground.at(c.x0, c.y)}L{ground.at(c.x1, c.y)}" for c in wall.courses.starter_lines
    )
    yield tag("path", {"class": "starter", "d": strip, "stroke-width": thick})
    moved = proposal.moved
    for opening, before in zip(wall.wall.openings, drawn.wall.openings, strict=True):
        kind = "moved" if opening.id in moved else "opening"
        about = {"class": kind, "d": ground.region(opening.region)}
        yield tag("path", {**about, "stroke-width": thick if kind == "moved" else 2.0 * thin})
        if kind == "moved":
            dashes = f"{number(0.5 * text)} {number(0.3 * text)}"
            about = {"class": "drawn", "d": ground.region(before.region)}
            yield tag("path", {**about, "stroke-width": thin, "stroke-dasharray": dashes})
        yield _name(opening.name or opening.id, opening.box, ground, text)
    strips = sorted((c for c in wall.courses.conflicts if c.strip > 0.0), key=lambda c: c.sliver)
    yield joined(_strip(c, ground, thick if c.sliver else thin) for c in strips)
    yield tag(
        "path",
        {"class": "outline", "d": ground.region(wall.wall.region), "stroke-width": thick},
    )


def _name(words: str, box: Box, ground: Canvas, text: float) -> Markup:
    """An opening's name in its middle, small enough to fit."""
    x0, y0, x1, y1 = box
    size = min(0.8 * text, (x1 - x0) / (_LETTER * max(len(words), 1)) * 0.9)
    at = {"x": ground.x((x0 + x1) / 2.0), "y": ground.y((y0 + y1) / 2.0) + 0.35 * size}
    return tag("text", {**at, "font-size": size, "text-anchor": "middle"}, words)


def _strip(conflict: Conflict, ground: Canvas, line: float) -> Markup:
    """The strip at a head, over it, or at anything else, under it."""
    low = conflict.y if conflict.what == "head" else conflict.y - conflict.strip
    at = {"x": ground.x(conflict.x0), "y": ground.y(low + conflict.strip)}
    size = {"width": conflict.x1 - conflict.x0, "height": conflict.strip}
    kind = "sliver" if conflict.sliver else "strip"
    return tag("rect", {"class": kind, **at, **size, "stroke-width": line})
