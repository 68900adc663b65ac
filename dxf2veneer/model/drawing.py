"""What was read of a drawing: its shapes, labels and layers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Path, Point


@dataclass(frozen=True)
class Shape:
    """One curve of the drawing, in inches, with the layer it counts for and where it came from.

    ``handle`` is the entity a person can select in model space: for block content, the reference.
    """

    path: Path
    """In inches."""
    layer: str
    """The layer that it shows on."""
    handle: str
    """Handle of the entity to select."""
    entity: str
    """The DXF entity type, such as LWPOLYLINE; ``loose lines`` for an outline of several."""
    also: tuple[str, ...] = ()
    """Handles of further entities that the curve was made of."""
    picked: bool = False
    """Whether the user pointed at it as an opening."""
    traced: str = ""
    """``wall``, the kind of an opening, or what a line marks, where the job file gives it."""
    tag: str = ""
    """The tag of a corner's mark that the job file gives."""

    @property
    def handles(self) -> tuple[str, ...]:
        """Handles of every entity that the curve was made of."""
        return (self.handle, *self.also)


@dataclass(frozen=True)
class Label:
    """One text of the drawing: its plain content and insertion point in inches."""

    text: str
    """Without formatting codes."""
    at: Point
    """Insertion point in inches."""
    layer: str
    """The layer that it shows on."""
    handle: str
    """Handle of the entity to select."""


@dataclass(frozen=True)
class LayerState:
    """A layer of the drawing's table (or one only used by entities) and whether it is shown."""

    name: str
    """As the table or an entity spells it."""
    is_off: bool = False
    """Whether it is switched off."""
    is_frozen: bool = False
    """Whether it is frozen."""

    @property
    def is_hidden(self) -> bool:
        """Whether a person looking at the drawing would not see it."""
        return self.is_off or self.is_frozen


@dataclass(frozen=True)
class Drawing:
    """What was read of one file: shapes and labels on the wanted layers, and how it was read."""

    index: int
    """Its number in the takeoff, from 0."""
    file: str
    """The path as it was given."""
    sha256: str
    """Checksum of the file."""
    dxf_version: str
    """Such as AC1032."""
    units: str
    """Short name of the unit in use."""
    units_from: Literal["header", "option", "job"]
    """Who names the unit."""
    inches_per_unit: float
    """Inches in one unit of the drawing's coordinates, the drawing's scale included."""
    shapes: tuple[Shape, ...]
    """On the wanted layers, in the order of the file."""
    labels: tuple[Label, ...]
    """On the wanted layers, in the order of the file."""
    layers: tuple[LayerState, ...]
    """Every layer of the file."""
    notices: tuple[Notice, ...] = ()
    """What there is to report of the reading."""
    windows: tuple[Window, ...] = ()
    """The boxes, in inches, that the reading was limited to."""
    elevations: tuple[Window, ...] = ()
    """Boxes, in inches, of the elevations that the job file names."""

    def elevation_at(self, box: tuple[float, float, float, float]) -> str:
        """The elevation that a wall is on.

        Args:
            box: The wall's least and greatest x and y, in inches.

        Returns:
            The name of the first box that holds its middle; empty where none does.
        """
        x, y = (box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0
        return next(
            (n for n, (x0, y0, x1, y1) in self.elevations if x0 <= x <= x1 and y0 <= y <= y1), ""
        )
