"""What was measured of walls and openings."""

from __future__ import annotations

from dataclasses import dataclass, field

from dxf2veneer.geometry import Region
from dxf2veneer.model.walls import Opening, Wall


@dataclass(frozen=True)
class OpeningQuantities:
    """Measured values of one opening; trim runs are lengths along the opening's own boundary."""

    opening: Opening
    area: float
    width: float
    height: float
    head_y: float
    sill_y: float
    perimeter: float
    deducted: bool
    trim_head: float
    trim_jambs: float
    trim_sill: float


@dataclass(frozen=True)
class WallQuantities:
    """Measured values of one wall. net = gross - deducted - trim - cap, exactly.

    ``veneer`` is the region left for panels: the wall less every opening, trim band and cap.
    """

    wall: Wall
    gross_area: float
    opening_area: float
    deducted_area: float
    trim_area: float
    cap_area: float
    net_area: float
    perimeter: float
    base_run: float
    cap_run: float
    rake_run: float
    starter_run: float
    openings: tuple[OpeningQuantities, ...]
    veneer: Region
    trim_region: Region = field(default_factory=Region)
    cap_region: Region = field(default_factory=Region)
