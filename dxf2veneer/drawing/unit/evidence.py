"""Evidence about a drawing's unit besides its header: dimensions, notes on the sheet, doors, walls.

Each item names the everyday units that it fits. Their common part is what the drawing is probably
drawn in; where nothing is common, the evidence conflicts, which is reported and decides nothing.
Nothing here changes the unit in use. Texts and dimensions on layers that are off or frozen do not
count at all: what nobody sees may belong to another sheet.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import (
    DIMENSION_RELATIVE,
    DOOR_FOOT_IN,
    DOOR_HEIGHT_IN,
    DOOR_HOLDER_IN,
    DOOR_WIDTH_IN,
    EVIDENCE_DOORS,
    EVIDENCE_ITEMS,
    USUAL_WALL_HEIGHT_IN,
    WALL_HEIGHT_IN,
)
from dxf2veneer.basics.units import PLAUSIBLE, Unit, parse_length, unit_by_name
from dxf2veneer.geometry import Point

Box = tuple[float, float, float, float]
EvidenceKind = Literal["dimension", "note", "door", "height", "scale"]

STRENGTH: tuple[EvidenceKind, ...] = ("dimension", "note", "door", "height", "scale")
"""The strongest first; a scale alone never casts doubt, as ``1:20`` can be a slope."""

_INCHES = {name: unit_by_name(name).inches for name in PLAUSIBLE}
_BARE = {25.4: "in", 304.8: "ft", 1000.0: "m", 1 / 1000.0: "mm", 1 / 25.4: "mm"}
"""Bare number over measured length -> unit: mm beside inches, feet, meters; meters, inches beside
mm."""
_METRIC_LENGTH = re.compile(r"\d+(?:[.,]\d+)?\s*(?:mm|cm|m)", re.IGNORECASE)
_ASIDE = re.compile(r"\[.*?\]|\(.*?\)|\b(?:typ|min|max|clr|approx|nom)\b\.?", re.IGNORECASE)
_NOTE = re.compile(
    r"\b(?:dimensions?|dims?\.?|measurements?|units?)\s*(?:are|is)?\s*(?:shown|given)?\s*(?:in|:|=)\s*"
    r"(?:(?P<both>feet\s*(?:and|&|\+|-)\s*inches)|(?P<unit>millimet(?:re|er)s?|centimet(?:re|er)s?|met(?:re|er)s?"
    r"|mm|cm|m|inch(?:es)?|feet|ft))\b",
    re.IGNORECASE,
)
_FEET_SCALE = re.compile(r"\d\s*(?:\"|''|in\.?)\s*=\s*\d+\s*(?:'|ft)", re.IGNORECASE)
_RATIO_SCALE = re.compile(
    r"1\s*:\s*(?:5|10|20|25|50|75|100|125|150|200|250|500|1000)(?!\d)(?:\s*@\s*A\d)?", re.IGNORECASE
)
_PRIMES = str.maketrans({"’": "'", "′": "'", "”": '"', "″": '"'})


@dataclass(frozen=True)
class Evidence:
    """One thing that speaks for a unit; ``at`` is in drawing units."""

    source: EvidenceKind
    """What kind of thing it is."""
    units: tuple[str, ...]
    """The everyday units that it fits."""
    what: Message
    """What was seen, a value that the survey and the notices put into words."""
    handle: str = ""
    """Handle of the entity; empty where it is of several."""
    at: Point | None = None
    """Its place in drawing units."""


@dataclass(frozen=True)
class Finding:
    """All the evidence of one drawing."""

    evidence: tuple[Evidence, ...] = ()
    """The strongest first."""
    highest: float = 0.0
    """Height of its highest wall in drawing units, scale included."""

    @property
    def fitting(self) -> tuple[str, ...]:
        """The units that all the evidence fits; empty where there is none or it conflicts."""
        return tuple(
            n for n in PLAUSIBLE if self.evidence and all(n in e.units for e in self.evidence)
        )

    @property
    def conflicts(self) -> bool:
        """Whether there is evidence, but no unit that fits it all."""
        return bool(self.evidence) and not self.fitting

    @property
    def recommendation(self) -> str | None:
        """The one unit that all the evidence fits, else None."""
        return self.fitting[0] if len(self.fitting) == 1 else None

    def against(self, unit: Unit) -> Evidence | None:
        """The strongest evidence against the unit in use; None where there is none to speak of.

        Conflicting evidence is against nothing. A door says nothing about walls that have a usual
        height, and sizes say nothing about a unit that is none of the everyday ones.
        """
        name = next(
            (n for n, inches in _INCHES.items() if abs(inches / unit.inches - 1) < 1e-3), None
        )
        if not self.fitting or name in self.fitting:
            return None
        deaf = {"scale"} if name else {"scale", "door", "height"}
        if USUAL_WALL_HEIGHT_IN[0] <= self.highest * unit.inches <= USUAL_WALL_HEIGHT_IN[1]:
            deaf.add("door")
        return next(
            (e for e in self.evidence if name not in e.units and e.source not in deaf), None
        )


@dataclass(frozen=True)
class Outline:
    """The box of a closed outline, in drawing units, and its handle."""

    box: Box
    """(x0, y0, x1, y1) in drawing units."""
    handle: str = ""
    """Handle of the entity."""


def of_dimension(text: str, measured: float) -> tuple[str, ...]:
    """The units in which a dimension's text is the measured length.

    ``12'-6"`` beside 150 is inches. A bare number speaks only where it differs from the length by a
    factor between two units.

    Args:
        text: What the dimension reads.
        measured: Its length in drawing units, scale included.

    Returns:
        Short names of the units; none where it says nothing.
    """
    plain = _ASIDE.sub("", text.translate(_PRIMES)).strip().rstrip(",;")
    if _METRIC_LENGTH.fullmatch(plain):
        plain = plain.replace(",", ".")
    elif "'" not in plain and '"' not in plain:
        return _of_bare(plain, measured)
    try:
        inches = parse_length(plain)
    except ValueError:
        return ()
    return tuple(n for n, size in _INCHES.items() if _near(measured * size, inches))


def _of_bare(text: str, measured: float) -> tuple[str, ...]:
    try:
        value = float(text)
    except ValueError:
        return ()
    return tuple({unit for ratio, unit in _BARE.items() if _near(measured * ratio, value)})


def _near(length: float, written: float) -> bool:
    """Whether two lengths are one but for rounding (1 %)."""
    return written > 0.0 and abs(length / written - 1.0) < DIMENSION_RELATIVE


def of_text(text: str) -> tuple[EvidenceKind, tuple[str, ...]] | None:
    """What a text on the sheet says of the unit: a note on dimensions, or a scale.

    Args:
        text: The text.

    Returns:
        The kind of evidence and the units that fit; None where it says nothing.
    """
    plain = " ".join(text.translate(_PRIMES).split())
    note = _NOTE.search(plain)
    if note:
        return "note", ("in", "ft") if note["both"] else (unit_by_name(note["unit"]).name,)
    if _FEET_SCALE.search(plain):
        return "note", ("in", "ft")
    ratio = _RATIO_SCALE.search(plain)
    if ratio and (ratio.group() == plain or re.search(r"\bscale\b", plain, re.IGNORECASE)):
        return "scale", ("mm", "cm", "m")
    return None


def of_outlines(outlines: Sequence[Outline], scale: float = 1.0) -> list[Evidence]:
    """Doors: outlines of a door's size in some unit, at the foot of a higher one that holds them.

    Args:
        outlines: Closed outlines, in drawing units.
        scale: The drawing's scale.

    Returns:
        One item for each door and unit.
    """
    seen = outlines[:EVIDENCE_ITEMS]
    candidates = [
        (o, name) for o in seen for name in _INCHES if _is_door(o.box, _INCHES[name] * scale)
    ][:EVIDENCE_DOORS]
    found = []
    for outline, name in candidates:
        if any(_holds(other.box, outline.box, _INCHES[name] * scale) for other in seen):
            x0, y0, x1, y1 = outline.box
            what = message("evidence-door", width=x1 - x0, height=y1 - y0)
            found.append(
                Evidence("door", (name,), what, outline.handle, ((x0 + x1) / 2, (y0 + y1) / 2))
            )
    return found


def _is_door(box: Box, size: float) -> bool:
    return _within((box[2] - box[0]) * size, DOOR_WIDTH_IN) and _within(
        (box[3] - box[1]) * size, DOOR_HEIGHT_IN
    )


def _holds(outer: Box, inner: Box, size: float) -> bool:
    """Whether a door stands in the outer box; a door may reach a little below it."""
    foot, height = abs(inner[1] - outer[1]) * size, (outer[3] - outer[1]) * size
    beside = (
        outer[0] <= inner[0] and inner[2] <= outer[2] and outer[2] - outer[0] > inner[2] - inner[0]
    )
    return beside and inner[3] < outer[3] and foot <= DOOR_FOOT_IN and height <= DOOR_HOLDER_IN


def of_height(height: float) -> list[Evidence]:
    """The units in which the highest wall has a height that walls have.

    Args:
        height: Its height in drawing units, scale included.

    Returns:
        One item, or none where no unit fits.
    """
    fits = tuple(n for n, size in _INCHES.items() if _within(height * size, WALL_HEIGHT_IN))
    return [Evidence("height", fits, message("evidence-height", height=height))] if fits else []


def _within(value: float, limits: tuple[float, float]) -> bool:
    return limits[0] <= value <= limits[1]
