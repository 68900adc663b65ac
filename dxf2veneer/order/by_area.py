"""Work on walls of which the area alone is known: pieces and cuts as course plans of such walls
had them, and what goes by area. Openings, strips, caulk, caps and trim of theirs nobody knows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.additions import Addition
from dxf2veneer.config.product import Product
from dxf2veneer.model import OfArea
from dxf2veneer.order.experience import EXPERIENCE

AREAS = ("net_area", "gross_area", "barrier_area")
"""Measures that such a wall has: all of its area is net, gross, and has a barrier behind."""


def work_by_area(additions: Sequence[Addition], product: Product) -> dict[str, tuple[OfArea, ...]]:
    """What walls known by their area alone have of each measure.

    Args:
        additions: What the job adds; items among them have no work.
        product: The panel line.

    Returns:
        By the keys of ``config.tasks.MEASURES``: square feet, and whole pieces and cuts, each wall
        rounded for itself.
    """
    walls = [one for one in additions if one.area]
    found = {key: tuple(OfArea(w.reason, w.area) for w in walls) for key in AREAS}
    rates = {"flat_pieces": "flat", "cuts": "cuts", "partial_pieces": "partial"}
    for measure, rate in rates.items():
        found[measure] = tuple(
            OfArea(w.reason, _whole(getattr(_experience(w), rate) / 100.0 * _faces(w, product)))
            for w in walls
        )
    found["corner_pieces"] = tuple(
        OfArea(w.reason, _whole(w.corners / product.panel.height)) for w in walls
    )
    found["pieces"] = tuple(
        OfArea(flat.wall, flat.value + corner.value)
        for flat, corner in zip(found["flat_pieces"], found["corner_pieces"], strict=True)
    )
    return found


def _experience(wall: Addition) -> object:
    return EXPERIENCE["corners" if wall.corners else "plain"]


def _faces(wall: Addition, product: Product) -> float:
    """How many panels' faces its area is."""
    return wall.area / square_feet(product.coverage_area)


def _whole(value: float) -> float:
    return float(math.floor(round(value, 6) + 0.5))
