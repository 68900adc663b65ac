"""What was measured on site: sizes that replace drawn ones, and courses that are laid already."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.config.origin import Origin

SizeWhat = Literal["width", "height", "edge", "opening-width", "sill", "head"]
"""Of a wall its width at a height and its height; of an opening its distance from the wall's fixed
edge, its width, and how high its sill and head stand above the wall's lowest point."""


@dataclass(frozen=True)
class SiteSize:
    """One size that was measured on site, in inches."""

    wall: str
    """Id of the wall."""
    opening: str
    """Id of the opening; empty where the wall itself was measured."""
    what: SizeWhat
    drawn: float
    measured: float
    origin: Origin
    """Where it stands in the file of site measures."""
    at: float | None = None
    """Of a width: the height above the wall's lowest point."""

    @property
    def off(self) -> float:
        """What the wall has more than the drawing; below 0 less."""
        return self.measured - self.drawn


@dataclass(frozen=True)
class LaidCourse:
    """A course that is laid already."""

    wall: str
    """Id of the wall."""
    course: int
    """0 the first."""
    joints: tuple[float, ...] | None
    """x of its real joints from left to right, in inches; None where it was laid as planned."""
    origin: Origin
    """Where it stands in the file of site measures."""


@dataclass(frozen=True)
class SiteMeasures:
    """Everything that a file of site measures changes."""

    file: str
    """Its name."""
    sizes: tuple[SiteSize, ...]
    """Sizes that differ from the drawn ones, in the order of walls."""
    as_drawn: int
    """How many were measured and found as drawn."""
    laid: tuple[LaidCourse, ...]
    """Courses laid already, in the order of walls, from the bottom up."""
