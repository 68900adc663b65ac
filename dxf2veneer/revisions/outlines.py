"""Outlines as they are matched: boxes, and how far two lie apart."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry import MultiPolygon

from dxf2veneer.geometry import Region

Box = tuple[float, float, float, float]
"""Least and greatest x and y."""
Shift = tuple[float, float]
"""How far something lies to the right and up."""


@dataclass(frozen=True)
class Outline:
    """An outline, its lengths multiplied by a scale."""

    region: Region
    """As it was drawn, in inches."""
    scale: float = 1.0

    @cached_property
    def box(self) -> Box:
        """Least and greatest x and y."""
        x0, y0, x1, y1 = (v * self.scale for v in self.region.box)
        return x0, y0, x1, y1

    @property
    def width(self) -> float:
        """Of its box."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Of its box."""
        return self.box[3] - self.box[1]

    @property
    def is_box(self) -> bool:
        """Whether it is its box and nothing else."""
        box_area = self.width * self.height
        return abs(self.region.area * self.scale**2 - box_area) <= 1e-9 * box_area

    @cached_property
    def polygon(self) -> MultiPolygon:
        """It with arcs as chords."""
        drawn = self.region.polygon
        if self.scale == 1.0:
            return drawn
        return shapely.transform(drawn, lambda points: points * self.scale)


def moved(box: Box, shift: Shift) -> Box:
    """A box shifted.

    Args:
        box: The box.
        shift: How far.

    Returns:
        The box there.
    """
    return box[0] + shift[0], box[1] + shift[1], box[2] + shift[0], box[3] + shift[1]


def box_distance(a: Box, b: Box) -> float:
    """How far the sides of two boxes lie apart at most.

    Args:
        a: A box.
        b: Another.

    Returns:
        Inches.
    """
    return max(abs(p - q) for p, q in zip(a, b, strict=True))


def common_share(a: Box, b: Box) -> float:
    """What two boxes have in common.

    Args:
        a: A box.
        b: Another.

    Returns:
        Common area by the area of both together, from 0 to 1.
    """
    width = min(a[2], b[2]) - max(a[0], b[0])
    height = min(a[3], b[3]) - max(a[1], b[1])
    if width <= 0.0 or height <= 0.0:
        return 0.0
    common = width * height
    return common / ((a[2] - a[0]) * (a[3] - a[1]) + (b[2] - b[0]) * (b[3] - b[1]) - common)


def apart(old: Outline, new: Outline, shift: Shift) -> float:
    """How far two outlines lie apart when one is shifted.

    Args:
        old: The one to shift.
        new: The other.
        shift: How far.

    Returns:
        The greatest distance, in inches, of a place on one boundary from the other boundary
        (Hausdorff distance, taken at the vertices).
    """
    if old.is_box and new.is_box:
        return box_distance(moved(old.box, shift), new.box)
    there = shapely.transform(old.polygon, lambda points: points + shift)
    return float(shapely.hausdorff_distance(there.boundary, new.polygon.boundary))
