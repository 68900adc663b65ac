"""What each wall and each elevation has of the order: money, hours, packages."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple


class PackageShare(NamedTuple):
    """A part of an item's packages."""

    key: str
    """Key of the order line."""
    packages: Decimal
    """Packages, to a hundredth: what is rounded up to whole ones is rounded up once for the job."""


@dataclass(frozen=True)
class OrderShare:
    """A wall's part of the order; all walls' parts sum up to it exactly."""

    wall: str
    """Id of the wall; of one known by its area alone, what the user calls it."""
    elevation: str
    """The elevation that it belongs to."""
    phase: str
    """The phase of the job that it is laid in; empty for none."""
    net_area: float
    """Square inches."""
    materials: Decimal | None
    """Cost of materials; None where the order has none."""
    labour: Decimal | None
    """Cost of labor; None where the order has none."""
    price: Decimal | None
    """Its part of what is bid; None where there is no total."""
    hours: Decimal
    """Hours of work."""
    packages: tuple[PackageShare, ...]
    """Its parts of the packages, in the order's sequence; none of what others supply."""
    of_items: tuple[float, ...]
    """Its part of 1 of each item, in the order's sequence, those of others too."""
    of_work: tuple[float, ...]
    """Its part of 1 of each kind of work, in the order's sequence."""


@dataclass(frozen=True)
class ElevationShare:
    """The walls of one elevation, or of one phase, together."""

    name: str
    walls: tuple[OrderShare, ...]
    net_area: float
    """Square inches."""
    materials: Decimal | None
    labour: Decimal | None
    price: Decimal | None
    hours: Decimal
    packages: tuple[PackageShare, ...]
