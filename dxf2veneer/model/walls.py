"""What the drawing shows: walls with their edges, openings and caps, and the corners where they meet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.geometry import Region
from dxf2veneer.notices import Notice

OpeningKind = Literal["window", "door", "vent", "fixture"]
Side = Literal["left", "right"]
EdgeKind = Literal["outside", "inside", "end", "butt", "mitre"]
CornerKind = Literal["outside", "inside", "mitre"]


@dataclass(frozen=True)
class Edge:
    """A vertical side edge of a wall. ``tag`` is the text at its corner mark; ``handle`` the mark's."""

    side: Side
    x: float
    y0: float
    y1: float
    kind: EdgeKind
    corner: str | None = None
    tag: str | None = None
    handle: str | None = None

    @property
    def length(self) -> float:
        """Height of the edge."""
        return self.y1 - self.y0


@dataclass(frozen=True)
class CapMark:
    """A level stretch of cap in a wall: its top line from (x0, y) to (x1, y)."""

    x0: float
    x1: float
    y: float
    handle: str


@dataclass(frozen=True)
class Opening:
    """An opening's part inside one wall. ``region`` counts ground shared with others only once."""

    id: str
    kind: OpeningKind
    name: str
    handles: tuple[str, ...]
    region: Region
    touches_base: bool

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of the part inside the wall."""
        return self.region.box


@dataclass(frozen=True)
class Wall:
    """One recognised wall: its region (nested holes taken out), openings, side edges and marks."""

    id: str
    name: str
    drawing: int
    layer: str
    handles: tuple[str, ...]
    region: Region
    openings: tuple[Opening, ...] = ()
    edges: tuple[Edge, ...] = ()
    caps: tuple[CapMark, ...] = ()
    level_y: float | None = None
    """Height of the level line that ties this wall's courses to others'; None without one."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y: (x0, y0, x1, y1)."""
        return self.region.box


@dataclass(frozen=True)
class Corner:
    """A corner of the building, counted once. ``edges`` are (wall id, side), right edges first; walls
    drawn one above the other may give several of a side."""

    id: str
    kind: CornerKind
    run: float
    edges: tuple[tuple[str, Side], ...]
    tag: str | None = None

    @property
    def is_paired(self) -> bool:
        """Whether both sides of the corner are known."""
        return len({side for _, side in self.edges}) == 2


@dataclass(frozen=True)
class Recognised:
    """All walls of the job in order, its corners, and what there was to tell."""

    walls: tuple[Wall, ...]
    corners: tuple[Corner, ...]
    notices: tuple[Notice, ...]
