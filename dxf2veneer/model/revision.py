"""Two takeoffs of one job compared: what changed in the drawings, and what that does.

A takeoff is compared as its result file records it, so that one made long ago can be compared too.
Lengths are inches, areas square feet where a name says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message
from dxf2veneer.model.quantities import OpeningQuantities
from dxf2veneer.model.walls import Corner, Wall

Change = Literal["same", "moved", "resized", "added", "removed", "renamed", "unsure"]
"""``renamed``: another name, kind or layer; ``unsure``: nothing says for certain what became of
it."""

Figure = float | Decimal | None
"""An amount; money as a decimal, None where it is not known."""

Figures = Mapping[str, Figure]
"""Amounts by the keys of ``FIGURES``."""

FigureKind = Literal["area", "run", "count", "weight", "hours", "money"]

FIGURES: dict[str, FigureKind] = {
    "gross_area_sqft": "area",
    "opening_area_sqft": "area",
    "deducted_area_sqft": "area",
    "trim_area_sqft": "area",
    "cap_area_sqft": "area",
    "net_area_sqft": "area",
    "outside_corner_run_in": "run",
    "inside_corner_run_in": "run",
    "mitre_corner_run_in": "run",
    "end_run_in": "run",
    "base_run_in": "run",
    "starter_run_in": "run",
    "cap_run_in": "run",
    "rake_run_in": "run",
    "trim_head_in": "run",
    "trim_jamb_in": "run",
    "trim_sill_in": "run",
    "openings": "count",
    "flat_panels": "count",
    "corner_panels": "count",
    "panel_packages": "count",
    "weight_lb": "weight",
    "labour_hours": "hours",
    "materials": "money",
    "labour": "money",
    "price": "money",
}
"""What is compared of a wall and of the whole, and what it is an amount of. A corner counts for the
first of its walls; a wall's part of the packages of panels need not be whole."""

OPENING_FIGURES: dict[str, FigureKind] = {
    "area_sqft": "area",
    "deducted_area_sqft": "area",
    "width_in": "run",
    "height_in": "run",
    "perimeter_in": "run",
    "trim_head_in": "run",
    "trim_jamb_in": "run",
    "trim_sill_in": "run",
}
"""What is compared of an opening."""


@dataclass(frozen=True)
class RecordedDrawing:
    """One file that was taken off."""

    file: str
    """Its name without the folder."""
    sha256: str
    dxf_version: str
    units: str
    """Short name of the unit in use."""
    inches_per_unit: float
    layers: tuple[str, ...]


@dataclass(frozen=True)
class RecordedWall:
    """One wall with what was measured of it."""

    wall: Wall
    openings: tuple[OpeningQuantities, ...]
    figures: Figures

    @property
    def id(self) -> str:
        """Its id."""
        return self.wall.id


class RecordedLine(NamedTuple):
    """One line of the order, of the work or of the charges on top."""

    kind: Literal["item", "work", "charge"]
    key: str
    """Key of the item or work; the user's own name of a charge."""
    title: str
    """What people call it."""
    unit: str
    """What packages or the quantity count; empty for a charge."""
    quantity: float | None
    """Packages of an item, quantity of work; None for a charge."""
    hours: float | None
    """Of work alone."""
    weight_lb: float | None
    """Of an item alone."""
    cost: Decimal | None
    """None where it is not known."""


class RecordedHandChange(NamedTuple):
    """A cell of the workbook that was changed by hand."""

    sheet: str
    row: str
    """The first cell of its row."""
    heading: str
    computed: str | float | None
    by_hand: str | float | None
    fits: bool
    """Whether the takeoff has such a cell."""


@dataclass(frozen=True)
class Recorded:
    """A takeoff as its result file records it."""

    source: str
    """Name of the drawing, drawings or result file that it came from."""
    display: str
    """Units for the reader: ``imperial`` or ``metric``."""
    currency: str
    drawings: tuple[RecordedDrawing, ...]
    walls: tuple[RecordedWall, ...]
    corners: tuple[Corner, ...]
    totals: Figures
    """Of the whole job; panels None where they were not planned."""
    lines: tuple[RecordedLine, ...]
    hand_changes: tuple[RecordedHandChange, ...] = ()

    def opening(self, identifier: str) -> OpeningQuantities:
        """The opening of an id. Raises KeyError."""
        for wall in self.walls:
            for opening in wall.openings:
                if opening.opening.id == identifier:
                    return opening
        raise KeyError(identifier)


class EdgeShifts(NamedTuple):
    """How far each side of an opening went in its wall, right and upward above 0."""

    left: float
    right: float
    sill: float
    head: float


@dataclass(frozen=True)
class WallChange:
    """A wall before and after; one of them None where it was added or removed."""

    old: RecordedWall | None
    new: RecordedWall | None
    change: Change
    """The gravest of ``changes``."""
    told: Message
    """What changed, for the reader."""
    changes: tuple[Change, ...] = ()
    """All that holds; empty where it is the same."""
    shift: tuple[float, float] = (0.0, 0.0)
    """How far it lies from its place before, in the drawing's own x and y."""
    moved: tuple[float, float] = (0.0, 0.0)
    """How much of that the drawing as a whole did not move."""
    outline_off: float = 0.0
    """Greatest distance between the outlines when they are laid on each other."""
    delta: Figures = field(default_factory=dict)
    """New less old by ``FIGURES``; all of it where it was added or removed."""
    touched: bool = False
    """Whether it changed, or an opening, corner, end, cap or level line of it."""
    why: tuple[Message, ...] = ()
    """What it was recognized by; of ``unsure`` what speaks against it."""

    @property
    def id_old(self) -> str | None:
        """Its id before."""
        return self.old.id if self.old else None

    @property
    def id_new(self) -> str | None:
        """Its id now."""
        return self.new.id if self.new else None


@dataclass(frozen=True)
class OpeningChange:
    """An opening before and after; one of them None where it was added or removed."""

    old: OpeningQuantities | None
    new: OpeningQuantities | None
    wall_old: str | None
    """Id of its wall before."""
    wall_new: str | None
    """Id of its wall now."""
    change: Change
    """The gravest of ``changes``."""
    told: Message
    """What changed, for the reader."""
    changes: tuple[Change, ...] = ()
    """All that holds; empty where it is the same."""
    edges: EdgeShifts | None = None
    """None where it was added or removed."""
    outline_off: float = 0.0
    """Greatest distance between the outlines when they are laid on each other."""
    delta: Figures = field(default_factory=dict)
    """New less old by ``OPENING_FIGURES``."""
    why: tuple[Message, ...] = ()
    """Of ``unsure`` what speaks against it."""

    @property
    def id_old(self) -> str | None:
        """Its id before."""
        return self.old.opening.id if self.old else None

    @property
    def id_new(self) -> str | None:
        """Its id now."""
        return self.new.opening.id if self.new else None


PartWhat = Literal["corner", "end", "cap", "level", "drawing", "layer", "unit"]
DRAFTING: frozenset[PartWhat] = frozenset({"drawing", "layer", "unit"})
"""What changes how a drawing is made and nothing that is built."""


@dataclass(frozen=True)
class PartChange:
    """Anything else of the drawing before and after."""

    what: PartWhat
    id_old: str | None
    """Its id, of a layer or drawing its name; None where it was added."""
    id_new: str | None
    """The same now; None where it was removed."""
    wall_old: str | None
    """Id of the wall that has it; None for what no wall has."""
    wall_new: str | None
    change: Change
    told: Message
    """What changed, for the reader."""
    delta: float = 0.0
    """Of a corner, end or cap its run now less that before, in inches."""


class LineChange(NamedTuple):
    """A line of the order before and after; one of them None where it is not there."""

    old: RecordedLine | None
    new: RecordedLine | None

    @property
    def line(self) -> RecordedLine:
        """The newer one there is."""
        found = self.new or self.old
        assert found is not None
        return found


class MoneyChange(NamedTuple):
    """An amount of money: what is added by changed walls, what is taken off, and what else
    changes."""

    old: Decimal | None
    new: Decimal | None
    delta: Decimal | None
    add: Decimal | None
    """Sum over changed walls that cost more."""
    deduct: Decimal | None
    """Sum over changed walls that cost less; 0 or below."""
    rest: Decimal | None
    """What falls to unchanged walls and to none: packages are rounded up once for the job, and
    charges are for the whole."""


@dataclass(frozen=True)
class Revision:
    """Two takeoffs of one job compared; every difference is new less old."""

    old: Recorded
    new: Recorded
    tolerance: float
    """Edges that are off by no more than this many inches did not move."""
    walls: tuple[WallChange, ...]
    """In the order of the new walls; those that were removed last."""
    openings: tuple[OpeningChange, ...]
    """By their walls, in the order of the new ones; those that were removed after them."""
    parts: tuple[PartChange, ...]
    delta: Figures
    """Of the totals."""
    add: Figures
    """Of each figure the sum over changed walls that have more of it."""
    deduct: Figures
    """Of each figure the sum over changed walls that have less of it; 0 or below."""
    lines: tuple[LineChange, ...]
    """Lines of order, work and charges that differ."""
    notes: tuple[Message, ...] = ()
    """What the reader must know: a unit that does not fit, layers found under another name."""

    @property
    def is_changed(self) -> bool:
        """Whether anything differs that is built or measured."""
        return (
            any(wall.change != "same" for wall in self.walls)
            or any(opening.change != "same" for opening in self.openings)
            or any(p.what not in DRAFTING and p.change != "same" for p in self.parts)
        )

    def rest(self, key: str) -> Figure:
        """What of a difference falls to no changed wall: packages are rounded for the whole job,
        and panels are shared with walls that did not change.

        Args:
            key: One of ``FIGURES``.

        Returns:
            Difference less what is added and deducted; None where one is not known.
        """
        delta, add, deduct = (f.get(key) for f in (self.delta, self.add, self.deduct))
        if delta is None or add is None or deduct is None:
            return None
        if isinstance(delta, Decimal):
            return delta - Decimal(add) - Decimal(deduct)
        return delta - float(add) - float(deduct)

    def money(self, key: Literal["materials", "labour", "price"] = "price") -> MoneyChange:
        """An amount of money before and after.

        Args:
            key: ``materials``, ``labour`` or ``price``, which is what is bid.

        Returns:
            The amounts, exact to the cent; None where one is not known.
        """
        values = (
            self.old.totals.get(key), self.new.totals.get(key), self.delta.get(key),
            self.add.get(key), self.deduct.get(key), self.rest(key),
        )  # fmt: skip
        return MoneyChange(*(v if isinstance(v, Decimal) else None for v in values))
