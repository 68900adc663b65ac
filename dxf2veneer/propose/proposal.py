"""What a proposal holds: walls and openings found in the views of one drawing, and its JSON.

Glossary
    proposal    what the engine believes about a drawing; nobody has confirmed it
    view        one drawing on the sheet: an elevation, a plan, a section ...
    wall        the closed outline of one clad area in an elevation
    opening     a hole in a wall: window, door, garage door, vent
    confidence  from 0 to 1, how far the evidence goes; what is under half is better left out
    reason      why, as a code with values; ``wording`` makes a sentence of it
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

Box = tuple[float, float, float, float]
Outline = tuple[tuple[float, float], ...]
"""Corner points in order, the first not repeated, counter-clockwise, in drawing units."""

_MOST_OF = 0.9
"""Share of a view's box in another's from which it is a part of that view. Our own default."""

OpeningKind = Literal["window", "door", "garage", "vent"]
ViewKind = Literal["elevation", "plan", "section", "detail", "sheet", "other"]
CornerKind = Literal["outside", "inside"]


class Reason(NamedTuple):
    """Why something is proposed: a code and the values that belong to it."""

    code: str
    values: Mapping[str, Any] = {}

    def as_json(self) -> dict[str, Any]:
        """The reason as plain data."""
        return {"code": self.code, **self.values}


def outline_size(outline: Outline) -> tuple[float, float]:
    """Width and height of the box round an outline.

    Args:
        outline: its corners.

    Returns:
        Both in drawing units.
    """
    xs, ys = zip(*outline, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@dataclass(frozen=True)
class ProposedWall:
    """One clad area of an elevation."""

    id: str
    view: str
    outline: Outline
    confidence: float
    reason: Reason

    @property
    def cladding(self) -> tuple[str, ...]:
        """What is drawn all over it: boards, battens, stones, slabs, or the name of a hatch's
        pattern; empty where nothing is."""
        return tuple(map(str, self.reason.values.get("cladding", ())))

    @property
    def note(self) -> str:
        """What a note with a leader into it says that it is clad with: stone; empty without one."""
        return str(self.reason.values.get("note", ""))

    def as_json(self) -> dict[str, Any]:
        """The wall as plain data, in drawing units."""
        return {
            "id": self.id,
            "view": self.view,
            "outline": _points(self.outline),
            "confidence": round(self.confidence, 3),
            "reason": self.reason.as_json(),
        }


@dataclass(frozen=True)
class ProposedOpening:
    """One opening of a wall."""

    id: str
    wall: str
    kind: OpeningKind
    outline: Outline
    confidence: float
    reason: Reason

    @property
    def short_id(self) -> str:
        """The id where the wall is known: O3 of W2-O3."""
        return self.id.removeprefix(f"{self.wall}-")

    def as_json(self) -> dict[str, Any]:
        """The opening as plain data, in drawing units."""
        return {
            "id": self.id,
            "wall": self.wall,
            "kind": self.kind,
            "outline": _points(self.outline),
            "confidence": round(self.confidence, 3),
            "reason": self.reason.as_json(),
        }


@dataclass(frozen=True)
class ProposedCorner:
    """An upright edge of a wall, and the edge of another elevation that it meets at the
    building's corner."""

    id: str
    kind: CornerKind
    edges: tuple[tuple[str, str], ...]
    """Pairs of wall id and side (left or right): two where the partner was found."""
    lines: tuple[Box, ...]
    """Where each of the edges stands, from its foot to its top."""
    confidence: float
    reason: Reason

    def as_json(self) -> dict[str, Any]:
        """The corner as plain data, in drawing units."""
        edges = [{"wall": wall, "side": side} for wall, side in self.edges]
        return {
            "id": self.id,
            "kind": self.kind,
            "edges": edges,
            "lines": [list(line) for line in self.lines],
            "confidence": round(self.confidence, 3),
            "reason": self.reason.as_json(),
        }


@dataclass(frozen=True)
class ProposedLevel:
    """A level line read from a level mark."""

    view: str
    y: float
    value_text: str
    value: float | None
    notation: str = ""
    """The unit that the text names, as in ``LevelMark``."""

    def height(self, *, is_metric: bool) -> str | None:
        """The height that the mark gives its line, with a unit.

        Args:
            is_metric: Whether the drawing is; a decimal number without a unit is meters there.

        Returns:
            Such as ``2.85 m`` or ``100.5 ft``; None where nothing names the unit.
        """
        unit = {"m?": "m"}.get(self.notation, self.notation)
        if self.value is None or not unit or (self.notation == "m?" and not is_metric):
            return None
        return f"{self.value:.8g} {unit}"

    def as_json(self) -> dict[str, Any]:
        """The level as plain data, in drawing units."""
        return {"view": self.view, "y": self.y, "text": self.value_text, "value": self.value}


class Outside(NamedTuple):
    """What is hatched as a wall is and lies in none."""

    view: str
    pattern: str
    area: float
    """In square drawing units."""
    at: tuple[float, float]
    """A point in the largest part of it."""

    def as_json(self) -> dict[str, Any]:
        """The area as plain data, in drawing units."""
        return {**self._asdict(), "at": list(self.at)}


@dataclass(frozen=True)
class ProposedView:
    """One view of the sheet, as far as readers of a proposal need it."""

    id: str
    kind: ViewKind
    title: str
    box: Box
    confidence: float
    reason: Reason

    def as_json(self) -> dict[str, Any]:
        """The view as plain data, in drawing units."""
        return {
            "id": self.id,
            "kind": self.kind,
            "title": self.title,
            "box": list(self.box),
            "confidence": round(self.confidence, 3),
        }


@dataclass(frozen=True)
class Proposal:
    """All that is proposed for one drawing.

    Attributes:
        unit: short name of the drawing's unit, None where the evidence is silent.
        unit_sure: whether the evidence settles the unit.
        unit_evidence: each piece of evidence as plain data.
        views: every view, numbered.
        walls: walls of the elevations, from left to right in each view.
        openings: openings of the walls.
        corners: upright edges of the walls that are corners of the building.
        levels: level lines of the elevations.
        layers: layers that walls and openings were found on, by what they hold.
        outside: what is hatched as a wall is and lies in none.
        waver: how far the lines of a traced drawing stood off those that were looked at; 0 where
            it was not traced.
    """

    unit: str | None
    unit_sure: bool
    unit_evidence: tuple[Mapping[str, Any], ...]
    views: tuple[ProposedView, ...]
    walls: tuple[ProposedWall, ...]
    openings: tuple[ProposedOpening, ...]
    corners: tuple[ProposedCorner, ...] = ()
    levels: tuple[ProposedLevel, ...] = ()
    layers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    outside: tuple[Outside, ...] = ()
    waver: float = 0.0

    def openings_of(self, wall: str) -> tuple[ProposedOpening, ...]:
        """The openings of a wall, by its id."""
        return tuple(o for o in self.openings if o.wall == wall)

    def walls_of(self, view: str) -> tuple[ProposedWall, ...]:
        """The walls of a view, by its id."""
        return tuple(w for w in self.walls if w.view == view)

    def empty_elevations(self, least: float) -> tuple[ProposedView, ...]:
        """The elevations in which no wall was found, but for those that stand in the box of one in
        which walls were: a tree or a person before a front is no elevation of its own.

        Args:
            least: confidence from which on a view counts as an elevation.

        Returns:
            Their views.
        """
        held = {w.view for w in self.walls}
        with_walls = [v.box for v in self.views if v.id in held]
        return tuple(
            v
            for v in self.views
            if v.kind == "elevation"
            and v.confidence >= least
            and v.id not in held
            and not any(_lies_in(v.box, other) for other in with_walls)
        )

    def as_json(self) -> dict[str, Any]:
        """The whole proposal as plain data, in drawing units.

        Returns:
            Keys unit, unit_evidence, views, walls, openings, corners, levels; outlines as lists of
            points.
        """
        return {
            "unit": self.unit,
            "unit_evidence": [dict(e) for e in self.unit_evidence],
            "views": [v.as_json() for v in self.views],
            "walls": [w.as_json() for w in self.walls],
            "openings": [o.as_json() for o in self.openings],
            "corners": [c.as_json() for c in self.corners],
            "levels": [line.as_json() for line in self.levels],
        }


def _lies_in(inner: Box, outer: Box) -> bool:
    """Whether most of a box lies in another."""
    wide = min(inner[2], outer[2]) - max(inner[0], outer[0])
    high = min(inner[3], outer[3]) - max(inner[1], outer[1])
    area = (inner[2] - inner[0]) * (inner[3] - inner[1])
    return wide > 0.0 and high > 0.0 and wide * high >= _MOST_OF * area


def _points(outline: Outline) -> list[list[float]]:
    return [[x, y] for x, y in outline]
