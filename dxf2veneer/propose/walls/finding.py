"""The stages of finding walls in order."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.claddings import cladding_of, parted
from dxf2veneer.propose.walls.entrances import entrance_piers
from dxf2veneer.propose.walls.flights import flights_of, without_flights
from dxf2veneer.propose.walls.fronts import joined_fronts
from dxf2veneer.propose.walls.parts import Part, is_large, parts_of
from dxf2veneer.propose.walls.piers import piers_of, without_piers
from dxf2veneer.propose.walls.porches import porches_of, without_porches
from dxf2veneer.propose.walls.roofs import without_overhanging
from dxf2veneer.propose.walls.structure import structure_of
from dxf2veneer.propose.walls.surfaces import Pattern


def find_walls(
    segments: Floats,
    drawn: NDArray[np.bool_],
    speaking: Floats | None,
    openings: Polygons,
    framed: Polygons,
    sure: Polygons,
    patterns: Sequence[Pattern],
    *,
    metre: float,
) -> list[Part]:
    """The walls of an elevation.

    Args:
        segments: its lines, shape (n, 4), in drawing units.
        drawn: which of them are drawn in full; hidden edges and axes bound no wall that is seen.
        speaking: the lines of the layer that most openings lie on, None where there is no such
            layer.
        openings: outlines of its openings.
        framed: those with a frame, whose lines are left out.
        sure: those with a frame or in a gap of the cladding, which only walls have.
        patterns: its hatched areas.
        metre: drawing units in a metre.

    Returns:
        Walls, from left to right.
    """
    gap = constants.JOIN_GAP_M * metre
    structure = structure_of(segments[drawn], framed, sure, gap=gap, metre=metre)
    if not structure.ground.any() and not drawn.all():
        structure = structure_of(segments, framed, sure, gap=gap, metre=metre)
    if (
        not structure.ground.any() and speaking is not None
    ):  # nothing says where the walls end: the layer may
        spoken = structure_of(speaking, framed, sure, gap=gap, metre=metre)
        structure = spoken if parts_of(spoken, sure, patterns) else structure
    porches = porches_of(structure, sure)
    parts = _apart_from(porches, parts_of(structure, sure, patterns), sure, metre)
    parts = joined_fronts(parts, structure, framed)
    facade = shapely.union_all([p.polygon for p in parts])
    before = piers_of(structure, openings, list(patterns))
    before += entrance_piers(structure, openings, facade)
    parts, piers = without_piers(parts, before, metre)
    walls = [
        wall
        for part in parts
        for wall in _under_roof(
            part, parted(part, structure, openings, list(patterns)), sure, metre
        )
    ]
    walls += piers
    clad = shapely.unary_union([w.polygon for w in walls])
    open_ = np.array(
        [o for o in openings if o.difference(clad).area > constants.OPENING_OUT * o.area],
        dtype=object,
    )
    flights = flights_of(structure, openings)
    return [
        w._replace(
            polygon=_tidy(piece, gap),
            cladding=cladding_of(w.polygon, structure, openings, list(patterns)),
        )
        for w in walls
        for piece in without_flights(_with_openings(w.polygon, open_, gap, metre), flights, metre)
    ]


def _apart_from(
    porches: Polygons, parts: list[Part], openings: Polygons, metre: float
) -> list[Part]:
    """The pieces of parts that are no porches."""
    if not len(porches):
        return parts
    return [
        part._replace(polygon=piece)
        for part in parts
        for piece in without_porches(part.polygon, porches, openings, metre)
        if is_large(piece, metre)
    ]


def _under_roof(part: Part, walls: list[Part], openings: Polygons, metre: float) -> list[Part]:
    """The walls into which a part was parted, without the roof of one open to the sky."""
    if part.reason.values["covered"] >= constants.COVER_OPEN:
        return walls
    kept = without_overhanging([w.polygon for w in walls], openings, metre)
    return [wall for wall, is_wall in zip(walls, kept, strict=True) if is_wall]


def _with_openings(wall: Polygon, openings: Polygons, gap: float, metre: float) -> Polygon:
    """The wall with the openings that it surrounds on both sides and above, down to its foot."""
    for i in (
        shapely.STRtree(openings).query(wall.buffer(gap), predicate="intersects")
        if len(openings)
        else ()
    ):
        opening = openings[i]
        x0, y0, x1, y1 = opening.bounds
        if wall.buffer(gap).covers(opening):
            continue
        around = (
            wall.buffer(2.0 * gap).intersection(opening.exterior).length / opening.exterior.length
        )
        foot = wall.bounds[1]
        if around >= constants.OPENING_IN_WALL and y0 - foot <= constants.DOOR_REACH_M * metre:
            joined = shapely.unary_union(
                [
                    wall,
                    opening.buffer(gap, join_style="mitre"),
                    box(x0 - gap, foot, x1 + gap, y1 - gap),
                ]
            )
            joined = joined.intersection(box(*joined.bounds[:1], foot, *joined.bounds[2:]))
            wall = max((p for p in shapely.get_parts(joined)), key=lambda p: p.area)
    return Polygon(wall.exterior)


def _tidy(wall: Polygon, gap: float) -> Polygon:
    """The wall without points in the middle of straight edges, counter-clockwise from its lowest
    left corner."""
    simple = wall.simplify(gap / 2.0)
    return (
        shapely.orient_polygons(simple)
        if hasattr(shapely, "orient_polygons")
        else Polygon(np.asarray(simple.exterior.coords))
    )
