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
    before: str = ""
    """Name of the result file whose plan is kept; empty where it is the plan as drawn."""


ChangeWhat = Literal["recut", "reshaped", "other panel", "added", "removed"]
"""Cut to another length; to another shape; from another panel; not there before; gone."""


@dataclass(frozen=True)
class ChangedCut:
    """One piece that is not cut as by the plan before; lengths in inches."""

    wall: str
    """Id of the wall."""
    course: int
    """0 the first."""
    number: int
    """Its number in the course, 1 the first; by the plan before where it is no longer there."""
    what: ChangeWhat
    old_length: float | None
    """By the plan before; None for a piece that was not there."""
    length: float | None
    """As it is cut now; None for a piece that is no longer there."""
    old_stock: str
    """The panel it was to be cut from; empty for a piece that was not there."""
    stock: str
    """The panel it is cut from now; empty for a piece that is no longer there."""


@dataclass(frozen=True)
class CutChanges:
    """What of a cut list changes by site measures; laid courses are not part of it."""

    cuts: tuple[ChangedCut, ...]
    """By wall and course, from the left."""
    unchanged: int
    """Pieces still to be laid that are cut as before, from the same panel."""
    laid: int
    """Pieces that are laid already."""
    panels_before: int
    """Flat and corner panels of the plan before."""
    panels_now: int
    """Flat and corner panels of this one."""
    panels_laid: int
    """Of these, panels that laid courses are cut from."""

    @property
    def more(self) -> int:
        """Panels more than by the plan before; below 0 fewer."""
        return self.panels_now - self.panels_before

    @property
    def to_cut(self) -> int:
        """Panels that no laid course is cut from: whole ones that must be there still."""
        return self.panels_now - self.panels_laid
