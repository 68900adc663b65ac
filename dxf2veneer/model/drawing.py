"""What was read of a drawing: its shapes, labels and layers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Path, Point
from dxf2veneer.notices import Notice


@dataclass(frozen=True)
class Shape:
    """One curve of the drawing, in inches, with the layer it counts for and where it came from.

    ``handle`` is the entity a person can select in model space: for block content, the reference.
    """

    path: Path
    layer: str
    handle: str
    entity: str
    """The DXF entity type, such as LWPOLYLINE, or ``loose lines`` for an outline made of several."""
    also: tuple[str, ...] = ()
    """Handles of further entities that the curve was made of."""
    picked: bool = False
    """Whether the user pointed at it as an opening."""

    @property
    def handles(self) -> tuple[str, ...]:
        """Handles of every entity that the curve was made of."""
        return (self.handle, *self.also)


@dataclass(frozen=True)
class Label:
    """One text of the drawing: its plain content and insertion point in inches."""

    text: str
    at: Point
    layer: str
    handle: str


@dataclass(frozen=True)
class LayerState:
    """A layer of the drawing's table (or one only used by entities) and whether it is shown."""

    name: str
    is_off: bool = False
    is_frozen: bool = False

    @property
    def is_hidden(self) -> bool:
        """Whether a person looking at the drawing would not see it."""
        return self.is_off or self.is_frozen


@dataclass(frozen=True)
class Drawing:
    """What was read of one file: the shapes and labels on the wanted layers, and how it was read."""

    index: int
    file: str
    sha256: str
    dxf_version: str
    units: str
    units_from: Literal["header", "option", "job"]
    inches_per_unit: float
    """Inches in one unit of the drawing's coordinates, the drawing's scale included."""
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    layers: tuple[LayerState, ...]
    notices: tuple[Notice, ...] = ()
    windows: tuple[Window, ...] = ()
    """The boxes, in inches, that the reading was limited to."""
