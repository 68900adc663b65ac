"""Deliveries by phase: what comes, on which pallets, in how many loads."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from dxf2veneer.basics.messages import Message


class Pallet(NamedTuple):
    """Pallets of an item that hold alike."""

    pallets: int
    packages: int
    """On each of them."""
    weight_lb: float | None
    """Of the packages on each; the pallet's own weight comes on top."""


@dataclass(frozen=True)
class Delivered:
    """An item of a delivery."""

    key: str
    """Key of its line in the order."""
    item: Message
    """What people call it."""
    package: str
    """What it is sold in."""
    packages: int
    weight_lb: float | None
    cost: Decimal | None
    pallets: tuple[Pallet, ...]
    """Full ones, then the rest; empty where it comes on none."""
    ahead: int = 0
    """Panels first cut here of which later phases have pieces: their offcuts must be kept."""


@dataclass(frozen=True)
class Delivery:
    """What one phase of the job needs, beyond what the phases before it have left over."""

    phase: str
    """The user's name; empty for walls of no phase."""
    walls: tuple[str, ...]
    """Ids of its walls."""
    items: tuple[Delivered, ...]
    loads: int | None
    """Loads of the truck; None where its payload and pallets are not given, a weight is not known,
    or a pallet or package is above the payload."""

    @property
    def weight_lb(self) -> float | None:
        """Weight of the packages; None where one is not known."""
        weights = [one.weight_lb for one in self.items]
        return None if None in weights else math.fsum(w for w in weights if w is not None)

    @property
    def pallets(self) -> int:
        """Pallets of the items that come on pallets."""
        return sum(p.pallets for one in self.items for p in one.pallets)
