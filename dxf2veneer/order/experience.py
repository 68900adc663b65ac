"""What course plans took of walls of each kind, for estimates without a plan.

Made by ``tests/benchmarks/wall_experience.py`` from the plans of twenty made houses and twenty
plain walls; own experience of these plans, no published source. Eight walls of ten lie between
``low`` and ``high``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from dxf2veneer.config.product import Product
from dxf2veneer.model import WallTakeoff

WallKind = Literal["plain", "corners", "openings", "column", "bay"]


class Experience(NamedTuple):
    """Per 100 sq ft of net area: flat and corner pieces, cuts and partial pieces.

    ``panels`` are panels bought, flat and corner ones, over panels' worth of net area.
    """

    flat: float
    corner: float
    cuts: float
    partial: float
    panels: float
    low: float
    high: float


EXPERIENCE: dict[WallKind, Experience] = {
    "bay": Experience(79.1, 6.5, 50.8, 9.4, 1.07, 1.02, 1.15),
    "column": Experience(1.3, 117.4, 118.4, 9.6, 1.23, 1.14, 1.4),
    "corners": Experience(52.5, 25.7, 29.2, 14.5, 1.15, 1.04, 1.3),
    "openings": Experience(62.9, 9.8, 23.8, 13.4, 1.1, 1.05, 1.2),
    "plain": Experience(56.7, 0.0, 8.1, 4.6, 1.06, 1.01, 1.14),
}


def kind_of(wall: WallTakeoff, product: Product) -> WallKind:
    """The kind of a wall.

    Args:
        wall: The wall as measured.
        product: The panel line.

    Returns:
        ``column`` between two outside corners no wider than a panel, ``bay`` with a mitred edge,
        then ``openings``, ``corners`` (finished ends too) or ``plain``.
    """
    kinds = [edge.kind for edge in wall.wall.edges]
    x0, _, x1, _ = wall.wall.box
    if kinds.count("outside") >= 2 and x1 - x0 <= product.panel.length:
        return "column"
    if "mitre" in kinds:
        return "bay"
    if wall.quantities.openings:
        return "openings"
    return "corners" if {"outside", "inside", "end"} & set(kinds) else "plain"


def expected(walls: Sequence[WallTakeoff], product: Product) -> Experience:
    """What plans of such walls took, weighted by net area.

    Args:
        walls: The walls as measured.
        product: The panel line.

    Returns:
        Pieces, cuts and partial pieces of all walls together (no more per 100 sq ft), and the
        panels over panels' worth of net area.
    """
    areas = [(EXPERIENCE[kind_of(w, product)], w.quantities.net_area) for w in walls]
    net = math.fsum(area for _, area in areas) or 1.0
    sums = [math.fsum(row[i] * area for row, area in areas) for i in range(len(Experience._fields))]
    return Experience(*(s / 14400.0 for s in sums[:4]), *(s / net for s in sums[4:]))
