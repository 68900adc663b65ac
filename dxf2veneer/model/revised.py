"""Walls of two takeoffs laid on each other, with the places where they changed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.messages import Message
from dxf2veneer.geometry import Region
from dxf2veneer.model.quantities import OpeningQuantities
from dxf2veneer.model.revision import WallChange


class ChangedPlace(NamedTuple):
    """A change that is told, with its place where it has one."""

    number: int
    """Counted through all walls from 1."""
    told: Message
    boxes: tuple[tuple[float, float, float, float], ...]
    """Least and greatest x and y, in inches of the new drawing; none for a name."""


class LaidOpening(NamedTuple):
    """An opening where it lies in the new drawing, or would had its wall stayed as it was."""

    measured: OpeningQuantities
    region: Region
    changed: bool


@dataclass(frozen=True)
class LaidWall:
    """A wall before and now, laid on each other in inches of the new drawing."""

    change: WallChange
    drawing: int
    """Index of the new drawing that it lies on."""
    old: Region | None
    """Its outline before, laid on that of now; None where it was added."""
    new: Region | None
    """None where it was removed."""
    openings_old: tuple[LaidOpening, ...]
    openings_new: tuple[LaidOpening, ...]
    places: tuple[ChangedPlace, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Around both outlines, in inches."""
        boxes = [region.box for region in (self.old, self.new) if region is not None]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @property
    def title(self) -> str:
        """Its id and name, those of now where it is still there."""
        recorded = self.change.new or self.change.old
        return f"{recorded.wall.id} {recorded.wall.name}".strip() if recorded else ""
