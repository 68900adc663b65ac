"""What course plans took of walls of each kind, for estimates without a plan.

Made by ``tests/benchmarks/wall_experience.py`` from the plans of twenty made houses and twenty
plain walls; own experience of these plans, no published source. Eight walls of ten lie between
``low`` and ``high``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.config.product import Product
from dxf2veneer.model import PanelEstimate, Part, WallEstimate, WallKind, WallTakeoff


class Experience(NamedTuple):
    """Per 100 panels' worth of net area: flat and corner pieces, cuts and partial pieces.

    A panel's worth is the face that one covers, so that larger panels make fewer pieces.
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
    "bay": Experience(158.2, 13.0, 101.6, 18.8, 1.07, 1.02, 1.15),
    "column": Experience(2.6, 234.8, 236.8, 19.2, 1.23, 1.14, 1.4),
    "corners": Experience(105.0, 51.4, 58.4, 29.0, 1.15, 1.04, 1.3),
    "openings": Experience(125.8, 19.6, 47.6, 26.8, 1.1, 1.05, 1.2),
    "plain": Experience(113.4, 0.0, 16.2, 9.2, 1.06, 1.01, 1.14),
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


def estimate(walls: Sequence[WallTakeoff], product: Product, scrap: float | None) -> PanelEstimate:
    """Panels by area, wall by wall.

    Args:
        walls: The walls as measured.
        product: The panel line.
        scrap: The job's own per cent over the net area (common practice: about 10 until a crew
            knows its own, no published source); None takes what course plans of such walls took.

    Returns:
        The estimate.
    """

    def of(wall: WallTakeoff) -> WallEstimate:
        kind = kind_of(wall, product)
        faces = wall.quantities.net_area / product.coverage_area
        own = EXPERIENCE[kind]
        rates = (own.panels, own.low, own.high) if scrap is None else (1.0 + scrap / 100.0,) * 3
        return WallEstimate(wall.wall.id, kind, faces, *rates)

    return PanelEstimate(tuple(map(of, walls)), scrap)


def estimate_of(
    walls: Sequence[WallTakeoff], product: Product, scrap: float | None, parts: Sequence[Part]
) -> PanelEstimate:
    """Panels by area, each wall in panels of its own product.

    Args:
        walls: The walls as measured.
        product: The panel line.
        scrap: The job's own per cent, as ``estimate`` takes it.
        parts: The walls of each product, where the job has several.

    Returns:
        The estimate.
    """
    if not parts:
        return estimate(walls, product, scrap)
    found = {
        one.wall: one
        for part in parts
        for one in estimate(
            [w for w in walls if w.wall.id in part.walls], part.product, part.job.order.scrap
        ).walls
    }
    return PanelEstimate(tuple(found[w.wall.id] for w in walls), scrap)


def expected(walls: Sequence[WallTakeoff], product: Product) -> Experience:
    """What plans of such walls took, weighted by net area.

    Args:
        walls: The walls as measured.
        product: The panel line.

    Returns:
        Pieces, cuts and partial pieces of all walls together (no more per 100 panels), and the
        panels over panels' worth of net area.
    """
    areas = [(EXPERIENCE[kind_of(w, product)], w.quantities.net_area) for w in walls]
    net = math.fsum(area for _, area in areas) or 1.0
    sums = [math.fsum(row[i] * area for row, area in areas) for i in range(len(Experience._fields))]
    return Experience(
        *(s / (100.0 * product.coverage_area) for s in sums[:4]), *(s / net for s in sums[4:])
    )
