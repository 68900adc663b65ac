"""What the report and the pictures say of pieces, panels, openings and places, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from dxf2veneer.basics.notices import Level, Notice, doubts
from dxf2veneer.basics.tolerances import NOTICE_REACH_IN
from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import (
    Conflict,
    Drawing,
    EdgeKind,
    OpeningQuantities,
    PanelEstimate,
    Piece,
    PieceEnd,
    RuleBreak,
    StockUnit,
    Takeoff,
    WallTakeoff,
)
from dxf2veneer.textio.escaping import legible, without_folder
from dxf2veneer.wording import rule_label, say
from dxf2veneer.wording.cautions import UNCONFIRMED
from dxf2veneer.wording.changes import measured_words
from dxf2veneer.wording.measures import length_text, millimeters, percent_text

BoundKind = Literal["length", "hands", "pairing"]

EDGE_WORDS: dict[EdgeKind, str] = {
    "outside": "outside corner",
    "inside": "inside corner",
    "end": "finished end",
    "butt": "butts",
    "mitre": "bay, mitered",
}
END_WORDS: dict[PieceEnd, str] = {
    "factory": "factory", "cut": "cut", "finished": "finished", "mitre": "mitered",
}  # fmt: skip
"""How an end of a piece comes."""
BOUND_WORDS: dict[BoundKind, str] = {
    "length": "length", "hands": "hand of the ends", "pairing": "pairing",
}  # fmt: skip
"""What each kind of lower bound is called."""
LEVEL_WORDS: dict[Level, Literal["error", "warning", "note"]] = {
    Level.ERROR: "error",
    Level.WARNING: "warning",
    Level.INFO: "note",
}
"""What each level is called in what we write."""
_RULE_NOTICES = ("RULE_YIELDS", "RULE_AS_LAID", "RULE_BROKEN")
"""Notices of rules that do not hold: the rules' own marks stand there."""


def by_area_words(estimate: PanelEstimate) -> str:
    """What panels by area are made with.

    Args:
        estimate: Panels by area.

    Returns:
        The job's scrap, or what plans took with the spread of the whole job.
    """
    if estimate.scrap is not None:
        return f"with {percent_text(estimate.scrap)} scrap"
    low, high = estimate.spread
    return f"as plans of such walls took; {low:,} to {high:,}"


@dataclass(frozen=True)
class Callout:
    """Something to report at a place in an elevation."""

    number: str
    """Stands in its mark and in the list: 3, or R2 for a rule."""
    wall: str
    x: float
    y: float
    level: Level
    text: str

    @property
    def is_rule(self) -> bool:
        """Whether it is a rule of laying that does not hold there."""
        return self.number.startswith("R")


def datum_of(wall: WallTakeoff) -> float:
    """The height from which course lines are measured: the level line, or the wall's foot.

    Args:
        wall: The wall.

    Returns:
        A y of the drawing in inches.
    """
    level = wall.wall.level_y
    return level if wall.courses.starter_from == "level" and level is not None else wall.wall.box[1]


def datum_words(wall: WallTakeoff) -> str:
    """From where the heights of a wall's course lines are measured.

    Args:
        wall: The wall.

    Returns:
        A phrase.
    """
    return (
        "heights above the level line"
        if datum_of(wall) == wall.wall.level_y
        else "heights above the lowest point of the base"
    )


def cut_length(inches: float, display: str) -> str:
    """A length as it is set at a saw: inches to the sixteenth, or millimeters.

    Args:
        inches: A length in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text such as ``11 7/8"``; millimeters without their unit.
    """
    if display == "metric":
        return f"{round(inches * MM_PER_INCH)}"
    whole, part = divmod(round(inches * 16), 16)
    return (
        f'{whole}"'
        if not part
        else f'{whole} {Fraction(part, 16)}"'
        if whole
        else f'{Fraction(part, 16)}"'
    )


def tape(inches: float, display: str) -> str:
    """A cut length as it is set at a saw.

    Args:
        inches: A length in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text such as ``11 7/8"`` or ``302 mm``.
    """
    return millimeters(inches) if display == "metric" else cut_length(inches, display)


def piece_key(wall: str, piece: Piece) -> str:
    """The piece's id as in the result file.

    Args:
        wall: Id of the wall.
        piece: The piece.

    Returns:
        A text such as ``W1/0/3``.
    """
    return f"{wall}/{piece.course}/{piece.number}"


def piece_name(wall: str, course: int, piece: int) -> str:
    """A piece as a person finds it.

    Args:
        wall: Id of the wall.
        course: Number of the course.
        piece: Number of the piece in the course.

    Returns:
        A text such as ``W1, course 1, piece 3``.
    """
    return f"{wall}, course {course}, piece {piece}"


def kind_words(piece: Piece) -> str:
    """What a piece is.

    Args:
        piece: The piece.

    Returns:
        A phrase.
    """
    words: list[str] = (
        []
        if piece.unit == "corner" and piece.kind in ("whole", "crosscut")
        else [_KINDS[piece.kind]]
    )
    if piece.unit == "corner":
        words.insert(0, f"corner piece, {'left' if piece.left == 'finished' else 'right'} hand")
    if piece.ripped and piece.kind != "ripped":
        words.append("ripped")
    if piece.glued:
        words.append("glued: most of its nail flange is gone")
    return ", ".join(words)


_KINDS = {
    "whole": "whole panel",
    "crosscut": "cut to length",
    "ripped": "ripped to a height",
    "notched": "notched around an opening",
    "raked": "cut along a rake or arch",
    "mitred": "mitered",
}


def angle_words(piece: Piece) -> str:
    """The angle of a rake's or miter's cut; empty without one.

    Args:
        piece: The piece.

    Returns:
        A phrase; empty without an angle.
    """
    if piece.angle is None:
        return ""
    return f"{piece.angle:.1f}° {'off the face' if piece.kind == 'mitred' else 'above level'}"


def end_words(piece: Piece) -> str:
    """How both ends come: from the factory, sawn, finished, mitered.

    Args:
        piece: The piece.

    Returns:
        A phrase.
    """
    return f"left {END_WORDS[piece.left]}, right {END_WORDS[piece.right]}"


def piece_words(
    wall: str, course: int, piece: Piece, display: str, beside: str = "", color: str = ""
) -> str:
    """A piece in one line.

    Args:
        wall: Id of the wall.
        course: Number of its course.
        piece: The piece.
        display: Units for the reader: ``imperial`` or ``metric``.
        beside: What a miter parts it from in its panel; empty for other pieces.
        color: Name of its color; empty where the product has but one.

    Returns:
        One line.
    """
    parts = (
        piece_name(wall, course, piece.number),
        kind_words(piece),
        f"{tape(piece.length, display)} long, {tape(piece.height, display)} high",
        angle_words(piece),
        f"from panel {piece.stock}",
        beside,
        color,
    )
    return "; ".join(filter(None, parts))


def unit_words(unit: StockUnit, display: str) -> str:
    """A unit: what it is, how long, what is left of it.

    Args:
        unit: The panel as it is bought.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line.
    """
    kind = "corner panel" if unit.kind == "corner" else "flat panel"
    return (
        f"{kind} of {tape(unit.length, display)}, {tape(unit.waste, display)} of it waste with "
        "the cuts"
    )


def opening_words(measured: OpeningQuantities, display: str) -> tuple[str, str]:
    """An opening in two lines: its id and name or kind, and its size.

    Args:
        measured: The measured opening.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The two lines.
    """
    opening = measured.opening
    title = f"{opening.id.split('-')[-1]} {legible(opening.name) or opening.kind}"
    return (
        title,
        f"{length_text(measured.width, display)} × {length_text(measured.height, display)}",
    )


def off_course(wall: WallTakeoff) -> list[Conflict]:
    """The heads, sills, tops and caps that no course line meets.

    Args:
        wall: The wall.

    Returns:
        Them, in the order of the course check.
    """
    return [c for c in wall.courses.conflicts if c.strip > 0.0]


def off_key(wall: str, number: int) -> str:
    """The id of the mark of one of them, counted from 1 in each wall.

    Args:
        wall: Id of the wall.
        number: Its number in the wall, from 1.

    Returns:
        The id.
    """
    return f"off-{wall}-{number}"


def strip_words(conflict: Conflict, display: str) -> str:
    """The height of the strip and the shorter move that clears it: ``head: strip 6", down 2"``.

    Args:
        conflict: The head, sill, top or cap.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line.
    """
    is_up = conflict.move_up <= conflict.move_down
    move = length_text(min(conflict.move_up, conflict.move_down), display)
    return (
        f"{conflict.what}: strip {length_text(conflict.strip, display)}, "
        f"{'up' if is_up else 'down'} {move}"
    )


def alert_words(takeoff: Takeoff) -> str:
    """What every output says on top where the takeoff has errors, is an unconfirmed proposal, or is
    of walls as measured on site.

    Args:
        takeoff: The takeoff.

    Returns:
        One line; empty where none is so.
    """
    number = len(takeoff.errors)
    wrong = f"{number} error{'s' if number > 1 else ''}: do not use these numbers" if number else ""
    measured = legible(measured_words(takeoff.site))
    return "; ".join(filter(None, (unconfirmed_words(takeoff), wrong, measured)))


def apart_words(takeoff: Takeoff) -> str:
    """What the customer's letter says on top where the workbook keeps changes by hand.

    Args:
        takeoff: The takeoff.

    Returns:
        One line; empty where there are none.
    """
    if not any(change.fits for change in takeoff.hand_changes):
        return ""
    return "Changes made by hand in the workbook are not in this price"


def unconfirmed_words(takeoff: Takeoff) -> str:
    """What is said of a takeoff from a proposal that nobody has confirmed; else empty.

    Args:
        takeoff: The takeoff.

    Returns:
        A few words.
    """
    return UNCONFIRMED if takeoff.is_unconfirmed else ""


def doubt_words(takeoff: Takeoff) -> str:
    """What to look at before any number is used; empty where nothing is in doubt.

    Args:
        takeoff: The takeoff.

    Returns:
        One line; empty where nothing is in doubt.
    """
    found = doubts(takeoff.notices, len(takeoff.drawings))
    said = "; ".join(say(n.message, takeoff.job.output.display) for n in found)
    return legible(f"Check first: {said}") if found else ""


def file_name(drawing: Drawing) -> str:
    """The drawing's file without its folder, which differs from one machine to the next.

    Args:
        drawing: The drawing.

    Returns:
        The name.
    """
    return without_folder(drawing.file)


def wall_title(wall: WallTakeoff) -> str:
    """The wall's id and name.

    Args:
        wall: The wall.

    Returns:
        The title.
    """
    return legible(f"{wall.wall.id} {wall.wall.name}".strip())


def rule_words(broken: RuleBreak, display: str) -> str:
    """A rule that does not hold: broken, as laid, or forced and why.

    Args:
        broken: The place where a rule does not hold.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line.
    """
    what = f"{rule_label(broken.rule)}: {say(broken.message, display)}"
    if broken.state == "as laid":
        return legible(f"{what}. As laid: the pieces are on the wall already")
    if broken.state == "broken":
        return legible(f"{what}. Broken: no reason is known, decide there")
    why = say(broken.why, display) if broken.why else "the wall leaves no choice"
    return legible(f"{what}. Forced: {why}")


def place_words(notice: Notice, drawings: Sequence[Drawing], *, layer: bool = True) -> str:
    """Where a notice is.

    Args:
        notice: The notice.
        drawings: The drawings.
        layer: Whether its layer is named.

    Returns:
        Layer, handle and place in the drawing's own coordinates.
    """
    drawing = next((d for d in drawings if d.index == notice.drawing), None)
    words = [
        f"layer {notice.layer}" if notice.layer and layer else "",
        f"handle {notice.handle}" if notice.handle else "",
    ]
    if notice.at_in and drawing and all(map(math.isfinite, notice.at_in)):
        x, y = (v / drawing.inches_per_unit for v in notice.at_in)
        words.append(f"at {x:g}, {y:g}")
    return legible(", ".join(filter(None, words)))


def places_of(takeoff: Takeoff) -> list[Callout]:
    """Every notice and rule that does not hold whose place is known, with its number.

    Args:
        takeoff: The takeoff.

    Returns:
        The places, numbered as in the lists of notices and rules.
    """
    found, display = [], takeoff.job.output.display
    for number, notice in enumerate(takeoff.notices, 1):
        wall = None if notice.code in _RULE_NOTICES else _wall_at(takeoff, notice)
        if wall is not None and notice.at_in is not None:
            text = legible(f"{notice.level}: {say(notice.message, display)}")
            found.append(Callout(str(number), wall.wall.id, *notice.at_in, notice.level, text))
    for number, broken in enumerate(takeoff.plan.breaks if takeoff.plan else (), 1):
        if all(map(math.isfinite, broken.at)):
            level = Level.WARNING if broken.state == "broken" else Level.INFO
            text = rule_words(broken, display)
            found.append(Callout(f"R{number}", broken.wall, *broken.at, level, text))
    return found


def _wall_at(takeoff: Takeoff, notice: Notice) -> WallTakeoff | None:
    """The wall of the notice's drawing in or near whose box its place lies; the nearest of
    several."""
    if notice.at_in is None or notice.drawing is None or not all(map(math.isfinite, notice.at_in)):
        return None
    x, y = notice.at_in
    away = [
        (max(x0 - x, x - x1, y0 - y, y - y1, 0.0), n)
        for n, w in enumerate(takeoff.walls_of(notice.drawing))
        for x0, y0, x1, y1 in (w.wall.box,)
    ]
    best = min(away, default=(math.inf, 0))
    return takeoff.walls_of(notice.drawing)[best[1]] if best[0] <= NOTICE_REACH_IN else None
