"""The course plan by sums and bounds: pieces against the field, their units, corners and ends."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import (
    CHECK_BESIDE_IN,
    CHECK_COURSE,
    CHECK_LENGTH_IN,
    CHECK_THIN_IN,
)
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, Edge, Piece, PieceRef, StockUnit, WallTakeoff
from dxf2veneer.verify.totals.comparing import compare, mismatch, within

_TURNS = ("outside", "inside")


def check_cover(walls: Sequence[WallTakeoff], job: Job, product: Product) -> Iterator[Notice]:
    """The pieces of a wall have the area of its field, and what may run past corners and ends, less
    what the stone's thickness and joints take off there.

    Args:
        walls: The walls with their pieces, in inches.
        job: The overhangs in force.
        product: The stone's thickness and the joints at openings and ends.

    Yields:
        What does not agree.
    """
    for one in walls:
        field = one.courses.field
        laid = math.fsum(_area(p) for p in one.courses.pieces)
        past = max(job.plan.end_overhang, job.plan.outside_overhang)
        thick = product.panel.thickness
        over = math.fsum(
            e.length * (thick if e.kind == "inside" else past)
            for e in one.wall.edges
            if e.kind in ("end", "outside", "inside")
        )
        short = (
            math.fsum(e.length * thick for e in one.wall.edges if e.kind == "outside")
            + max(product.laying.opening_joint, product.laying.end_joint) * field.perimeter
        )
        slack = CHECK_THIN_IN * (field.perimeter + sum(c.y1 > c.y0 for c in one.courses.courses))
        yield from within(
            message("area-of-pieces", wall=one.wall.id),
            laid,
            field.area - short - slack,
            field.area + over + slack,
            message("by-field-and-overhangs"),
            wall=one.wall,
        )


def check_units(
    walls: Sequence[WallTakeoff], plan: CoursePlan, job: Job, product: Product
) -> Iterator[Notice]:
    """Parts and a saw cut between each two fit in their unit, and units are as many as counted.

    Args:
        walls: The walls with their pieces, in inches.
        plan: The units and the counts.
        job: The saw cut in force.
        product: Lengths of the panels.

    Yields:
        What does not agree.
    """
    pieces = {PieceRef(w.wall.id, p.course, p.number): p for w in walls for p in w.courses.pieces}
    lengths = {"flat": product.panel.length, "corner": product.corner.length}
    for unit in plan.units:
        parts = _parts(unit, pieces)
        taken = math.fsum(parts) + job.plan.kerf * (len(parts) - 1)
        if not 0.0 < taken <= lengths[unit.kind] + CHECK_LENGTH_IN:
            what = message(
                "unit-overfull",
                unit=unit.id,
                taken=Length(taken),
                length=Length(lengths[unit.kind]),
            )
            yield mismatch(what)
    for kind, count in (("flat", plan.flat), ("corner", plan.corner)):
        what = message("number-of-units", kind=kind)
        listed = sum(u.kind == kind for u in plan.units)
        yield from compare(what, count.units, listed, message("by-list-of-units"))
        by_wall = sum(w.flat if kind == "flat" else w.corner for w in plan.walls)
        yield from compare(what, count.units, by_wall, message("by-shares-of-walls"))


def check_colors(plan: CoursePlan, product: Product) -> Iterator[Notice]:
    """Every panel has one of the product's colors, and the walls' counts add up to the panels.

    Args:
        plan: The panels, and the counts of walls.
        product: The colors.

    Yields:
        What does not agree.
    """
    known = {c.name for c in product.blend.colors} or {""}
    for unit in plan.units:
        if unit.color not in known:
            yield mismatch(message("color-unknown", unit=unit.id, color=unit.color))
    for color in sorted(known - {""}):
        for kind in ("flat", "corner"):
            own = sum(u.color == color and u.kind == kind for u in plan.units)
            by_wall = sum(
                c.flat if kind == "flat" else c.corner
                for w in plan.walls
                for c in w.colors
                if c.color == color
            )
            what = message("number-of-units-of-color", kind=kind, color=color)
            yield from compare(what, by_wall, own, message("by-list-of-units"))
    for wall in plan.walls if product.blend.colors else ():
        for kind, number in (("flat", wall.flat), ("corner", wall.corner)):
            own = sum(c.flat if kind == "flat" else c.corner for c in wall.colors)
            what = message("number-of-units-of-wall", kind=kind, wall=wall.wall)
            yield from compare(what, number, own, message("by-colors"))


def check_corner_pieces(
    walls: Sequence[WallTakeoff], plan: CoursePlan, product: Product
) -> Iterator[Notice]:
    """Corner pieces of each hand are as many as corners and ends allow, one from a panel.

    A stretch of height l meets l / exposure courses, rounded up, and one more where the courses
    begin elsewhere. An end takes a piece in each (L8), a corner, where two walls take turns, in
    every other one (L6, L7). Where a rule gives way, a piece may be missing.

    Args:
        walls: The walls with edges and field, in inches.
        plan: The counts, and where rules do not hold.
        product: The height of a course.

    Yields:
        What does not agree.
    """
    hands = {"left": plan.corner.left, "right": plan.corner.right}
    missing = len(plan.breaks)
    for side, number in hands.items():
        low = high = 0
        for one in walls:
            for edge in one.wall.edges:
                if edge.side == side and edge.kind in (*_TURNS, "end"):
                    fewest, most = _courses_at(edge, one, product.panel.height)
                    half = edge.kind in _TURNS
                    low += fewest // 2 if half else fewest
                    high += (most + 1) // 2 if half else most
        what, by = message("number-of-corner-pieces", hand=side), message("by-heights-of-corners")
        yield from within(what, number, max(0, low - missing), high, by)
        what, by = message("number-of-corner-panels"), message("by-pieces-of-hand", hand=side)
        yield from within(what, plan.corner.units, number, math.inf, by)


def _courses_at(edge: Edge, wall: WallTakeoff, exposure_in: float) -> tuple[int, int]:
    """The fewest and the most courses that can meet an edge."""
    clear = _clear_height(edge, wall)
    fewest = math.ceil(clear / exposure_in - CHECK_COURSE) - 1
    return max(0, fewest), math.ceil(edge.length / exposure_in) + 1


def _clear_height(edge: Edge, wall: WallTakeoff) -> float:
    """Height of the field just beside an edge, as the mean over a narrow strip."""
    x0, x1 = (
        (edge.x, edge.x + CHECK_BESIDE_IN)
        if edge.side == "left"
        else (edge.x - CHECK_BESIDE_IN, edge.x)
    )
    strip = shapely.box(x0, edge.y0, x1, edge.y1)
    return float(wall.courses.field.polygon.intersection(strip).area) / CHECK_BESIDE_IN


def _parts(unit: StockUnit, pieces: Mapping[PieceRef, Piece]) -> list[float]:
    """Lengths of a unit's parts; pieces above and below a slot are one part."""
    parts: dict[float, float] = defaultdict(float)
    for ref in unit.parts:
        if ref in pieces:
            at = round(pieces[ref].at / CHECK_LENGTH_IN)
            parts[at] = max(parts[at], pieces[ref].length)
    return list(parts.values())


def _area(piece: Piece) -> float:
    if not piece.outline:
        return piece.length * piece.height - math.fsum(Polygon(h).area for h in piece.holes)
    return float(Polygon(piece.outline, piece.holes).area)
