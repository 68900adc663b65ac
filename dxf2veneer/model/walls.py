"""What the drawing shows: walls with edges, openings and caps, and corners where they meet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.notices import Notice
from dxf2veneer.geometry import Region

OpeningKind = Literal["window", "door", "garage", "vent", "fixture"]
DOORS: tuple[OpeningKind, ...] = ("door", "garage")
"""What one walks or drives through: without a sill."""
Side = Literal["left", "right"]
EdgeKind = Literal["outside", "inside", "end", "butt", "mitre"]
CornerKind = Literal["outside", "inside", "mitre"]


@dataclass(frozen=True)
class Edge:
    """A vertical side edge of a wall; lengths in inches."""

    side: Side
    """Seen from outside."""
    x: float
    """Its mean place."""
    y0: float
    """Its lower end."""
    y1: float
    """Its upper end."""
    kind: EdgeKind
    """What the veneer meets there."""
    corner: str | None = None
    """Id of the corner, where it is one."""
    tag: str | None = None
    """Text at its corner mark."""
    handle: str | None = None
    """Handle of its corner mark."""

    @property
    def length(self) -> float:
        """Height of the edge."""
        return self.y1 - self.y0


@dataclass(frozen=True)
class CapMark:
    """A level stretch of cap in a wall: its top line from (x0, y) to (x1, y)."""

    x0: float
    """Left end, in inches."""
    x1: float
    """Right end, in inches."""
    y: float
    """Height of the top line, in inches."""
    handle: str
    """Handle of the line that marks it."""


@dataclass(frozen=True)
class Opening:
    """An opening's part inside one wall."""

    id: str
    """Such as W1-O2."""
    kind: OpeningKind
    """What it is."""
    name: str
    """From a text inside it; empty without one."""
    handles: tuple[str, ...]
    """Handles of the entities of its outline."""
    region: Region
    """In inches; area shared with another opening counts once."""
    touches_base: bool
    """Whether it stands on the wall's base."""
    part_of: str = ""
    """Id of its largest part, which is counted for it, where it lies across several walls and this
    is another part; empty otherwise."""
    whole_area: float = 0.0
    """Area of all its parts in square inches, where it lies across several walls; 0 otherwise."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of the part inside the wall."""
        return self.region.box


@dataclass(frozen=True)
class Wall:
    """One recognized wall: its region (nested holes taken out), openings, side edges and marks."""

    id: str
    """Such as W1."""
    name: str
    """From a text inside it or from its window; empty without one."""
    drawing: int
    """Index of its drawing."""
    layer: str
    """Layer of its outline."""
    handles: tuple[str, ...]
    """Handles of the entities of its outline."""
    region: Region
    """In inches, nested holes taken out."""
    openings: tuple[Opening, ...] = ()
    """From left to right and upward."""
    edges: tuple[Edge, ...] = ()
    """From left to right and upward."""
    caps: tuple[CapMark, ...] = ()
    """By height, from left to right."""
    level_y: float | None = None
    """Height of the level line that ties this wall's courses to others'; None without one."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y: (x0, y0, x1, y1)."""
        return self.region.box


@dataclass(frozen=True)
class Corner:
    """A corner of the building, counted once."""

    id: str
    """Such as C1."""
    kind: CornerKind
    """What it is, seen from outside."""
    run: float
    """Its height in inches, the greater one of its two sides."""
    edges: tuple[tuple[str, Side], ...]
    """(wall id, side), right edges first; walls one above the other may give several of a side."""
    tag: str | None = None
    """Text at its marks."""

    @property
    def is_paired(self) -> bool:
        """Whether both sides of the corner are known."""
        return len({side for _, side in self.edges}) == 2


@dataclass(frozen=True)
class Recognised:
    """All walls of the job in order, its corners, and what there is to report."""

    walls: tuple[Wall, ...]
    """By drawing, from left to right and upward."""
    corners: tuple[Corner, ...]
    """In the order of their walls."""
    notices: tuple[Notice, ...]
    """What there is to report of walls, openings and marks."""
