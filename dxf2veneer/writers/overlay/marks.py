"""Marks on the overlay where there is something to report: notices, rules that do not hold.

<>  a notice      ()  a rule of laying     and beside it, once for a crowd of the same, a text
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Drawing, RuleBreak, Takeoff
from dxf2veneer.textio.escaping import for_dxf
from dxf2veneer.wording import rule_label
from dxf2veneer.writers.overlay.layers import EntityTags
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import Box, Line, Sheet, within

_GROUP_REACH = 4.0
"""Marks with the same text nearer than this share it, in text heights."""

_RULE_NOTICES = ("RULE_YIELDS", "RULE_AS_LAID", "RULE_BROKEN")
"""Notices of rules that do not hold: the rules' own marks stand there."""


@dataclass(frozen=True)
class PlaceMark:
    """One place with the text that stands beside it."""

    layer: Literal["notice", "rule"]
    at: Point
    text: str
    tags: EntityTags

    def box(self, half: float) -> Box:
        """What the mark covers."""
        x, y = self.at
        return x - half, y - half, x + half, y + half


def marks_of(takeoff: Takeoff, drawing: Drawing) -> list[PlaceMark]:
    """Marks of one drawing.

    Args:
        takeoff: The takeoff.
        drawing: One of its drawings.

    Returns:
        Its notices and the rule breaks on its walls, where their place is known.
    """
    marks = [
        PlaceMark(
            "notice",
            n.at_in,
            f"{n.level.upper()} {n.code}",
            EntityTags("notice", notice=n.code, source=n.handle),
        )
        for n in takeoff.notices
        if n.drawing == drawing.index and n.at_in is not None and n.code not in _RULE_NOTICES
    ]
    if takeoff.plan is not None:
        ids = {w.wall.id for w in takeoff.walls_of(drawing.index)}
        marks += [_rule_mark(place) for place in takeoff.plan.breaks if place.wall in ids]
    return [mark for mark in marks if all(map(math.isfinite, mark.at))]


def _rule_mark(place: RuleBreak) -> PlaceMark:
    label = rule_label(place.rule)
    state = "BROKEN" if place.state == "broken" else place.state
    text = for_dxf(f"{label}: {state}")
    return PlaceMark(
        "rule", place.at, text, EntityTags("rule", place.wall, course=place.course, rule=place.rule)
    )


def draw_marks(
    marks: Iterable[PlaceMark],
    pen: Pen,
    sizes: TextSizes,
    sheet: Sheet,
    openings: Sequence[Box] = (),
) -> None:
    """A diamond or circle at each place, and one text for those close together.

    A line leads to the text where it had to move. The text of a mark in an opening's box stays in
    it where it fits.

    Args:
        marks: What is marked.
        pen: Draws.
        sizes: Sizes of the texts.
        sheet: The area that texts have taken; marks and texts take more of it.
        openings: Boxes of the openings, in inches.
    """
    listed = list(marks)
    for mark in listed:
        pen.path(mark.layer, mark_path(mark, sizes.text / 2), mark.tags)
        sheet.take(mark.box(sizes.text / 2))
    for group in _groups(listed, reach=_GROUP_REACH * sizes.text):
        first = group[0]
        text = first.text if len(group) == 1 else f"{first.text} x {len(group)}"
        x, y = max(mark.at[0] for mark in group) + sizes.text, first.at[1]
        inside = _inside(text, group, sizes, sheet, openings)
        line = inside or sheet.place(Line(text, x, y, sizes.least))
        sheet.take(line.box)
        if inside is None and line.y != y:
            pen.line(first.layer, first.at, (line.x, line.y), first.tags)
        pen.text(first.layer, line, first.tags)


def mark_path(mark: PlaceMark, half: float) -> Path:
    """The sign of a mark.

    Args:
        mark: The mark.
        half: Half its size in inches.

    Returns:
        A circle for a rule, a diamond for a notice.
    """
    x, y = mark.at
    if mark.layer == "rule":
        return Path.circle(mark.at, half)
    return Path.polygon([(x - half, y), (x, y - half), (x + half, y), (x, y + half)])


def _inside(
    text: str, group: Sequence[PlaceMark], sizes: TextSizes, sheet: Sheet, openings: Sequence[Box]
) -> Line | None:
    """The text beside marks that stand in an opening, or over or under them, where it lies wholly
    in the opening."""
    xs, (x, y) = [mark.at[0] for mark in group], group[0].at
    room = next((box for box in openings if box[0] <= x <= box[2] and box[1] <= y <= box[3]), None)
    if room is None:
        return None
    size, away = sizes.least, sizes.text / 2 + sizes.least
    tries = (
        Line(text, max(xs) + sizes.text, y, size),
        Line(text, min(xs) - sizes.text, y, size, "right"),
        *(
            Line(text, at, y + up, size, "middle")
            for at in (x, (room[0] + room[2]) / 2)
            for up in (away, -away)
        ),
    )
    return next((t for t in tries if within(t.box, room) and sheet.is_free(t.box)), None)


def _groups(marks: Iterable[PlaceMark], *, reach: float) -> list[list[PlaceMark]]:
    """Marks of one text within ``reach`` of a group's first one, together."""
    groups: list[list[PlaceMark]] = []
    for mark in marks:
        near = (g for g in groups if _is_alike(g, mark) and math.dist(g[0].at, mark.at) <= reach)
        group = next(near, None)
        if group is None:
            groups.append([mark])
        else:
            group.append(mark)
    return groups


def _is_alike(group: Sequence[PlaceMark], mark: PlaceMark) -> bool:
    return (group[0].layer, group[0].text) == (mark.layer, mark.text)
