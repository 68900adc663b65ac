"""What was measured of walls and openings."""

from __future__ import annotations

from dataclasses import dataclass, field

from dxf2veneer.geometry import Region
from dxf2veneer.model.walls import Opening, Wall


@dataclass(frozen=True)
class OpeningQuantities:
    """Measured values of one opening, in inches and square inches."""

    opening: Opening
    """What was measured."""
    area: float
    """Of the part inside the wall."""
    width: float
    """Of its box."""
    height: float
    """Of its box."""
    head_y: float
    """Height of its highest point in the drawing."""
    sill_y: float
    """Height of its lowest point in the drawing."""
    perimeter: float
    """Length of its boundary."""
    deducted: bool
    """Whether the deduction rule takes its area off."""
    trim_head: float
    """Length of head trim along its boundary."""
    trim_jambs: float
    """Length of jamb trim along its boundary."""
    trim_sill: float
    """Length of sill trim along its boundary."""


@dataclass(frozen=True)
class WallQuantities:
    """Measured values of one wall, in inches and square inches.

    net = gross - deducted - trim - cap, exactly.
    """

    wall: Wall
    """What was measured."""
    gross_area: float
    """Inside its outline, nested holes taken out."""
    opening_area: float
    """Of all its openings."""
    deducted_area: float
    """Of the openings that the deduction rule takes off."""
    trim_area: float
    """Covered by trim bands."""
    cap_area: float
    """Covered by caps."""
    net_area: float
    """Left for panels by the deduction rule."""
    perimeter: float
    """Length of its boundaries, holes included."""
    base_run: float
    """Length of its base."""
    cap_run: float
    """Length of its caps, openings and trim bands left out."""
    rake_run: float
    """Length of its rakes."""
    starter_run: float
    """Length of the starter strip."""
    openings: tuple[OpeningQuantities, ...]
    """In the order of the wall's openings."""
    veneer: Region
    """Left for panels: the wall less every opening, trim band and cap."""
    trim_region: Region = field(default_factory=Region)
    """What trim bands cover."""
    cap_region: Region = field(default_factory=Region)
    """What caps cover."""
    cap_spans: tuple[tuple[float, float], ...] = ()
    """Stretches of x that caps run over, line by line."""
