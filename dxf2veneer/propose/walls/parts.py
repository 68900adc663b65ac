"""Faces joined to walls: across every line that bounds nothing, up to ground, eaves, band, corner.

A joint, a board, a level line, a post, a pipe does not part a wall. What parts walls is the ground,
an eaves, a band of a roof's edge, and the upright that rises from the ground to near the end of a
band: the corner of the building, or of a wing that stands before it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.areas import before_areas
from dxf2veneer.propose.walls.bands import over_and_under
from dxf2veneer.propose.walls.dormers import dormer_fronts
from dxf2veneer.propose.walls.edges import corners_of
from dxf2veneer.propose.walls.enclosed import joined_to_walls_around
from dxf2veneer.propose.walls.glazing import glazed
from dxf2veneer.propose.walls.mansards import under_mansard
from dxf2veneer.propose.walls.ridges import under_ridges
from dxf2veneer.propose.walls.rising import rising_over_roofs
from dxf2veneer.propose.walls.roofs import over_eaves, under_fascia
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Pattern

Flags = NDArray[np.bool_]


class Part(NamedTuple):
    """A stretch of facade that is taken for a wall."""

    polygon: Polygon
    confidence: float
    reason: Reason
    cladding: tuple[str, ...] = ()
    """What is drawn all over it, see ``surfaces``; empty where that is nothing, or unknown."""


def parts_of(s: Structure, openings: Polygons, patterns: Sequence[Pattern] = ()) -> list[Part]:
    """The walls of an elevation before claddings part them.

    Args:
        s: the structure of the elevation.
        openings: its openings that have a frame or are gaps in boards.
        patterns: its hatched areas.

    Returns:
        The parts, from left to right.
    """
    if not len(s.mesh.faces):
        return []
    run = s.runs.member[s.mesh.source]
    rising = rising_over_roofs(s, run)
    corner = corners_of(s) & ~before_areas(s, patterns)
    fronts = dormer_fronts(s, corner)
    corner |= rising | roof_edges(s)
    roofs = over_eaves(s, openings) | under_ridges(s, corner | _dormer_feet(s, corner), openings)
    s = replace(s, bands=(s.bands | roofs) & (fronts < 0))
    group = _groups(s, run, corner, fronts)
    group = joined_to_walls_around(s, run, group, _held(s, group, openings))
    higher = _between(s, run, group, rising)
    stands, below, covered, rests, on_roof = _contacts(s, run, group)
    held = _held(s, group, openings)
    found = []
    for number in np.unique(group[~s.bands]).tolist():
        whole = _outline(s, group == number)
        whole = whole and under_mansard(whole, s)
        if whole is None or below[number] or not is_large(whole, s.metre):
            continue
        grounded, cover = bool(stands[number]), float(covered[number])
        count = int(held[number])
        if (grounded or rests[number]) and cover < constants.COVER_OPEN:
            under = under_fascia(whole, s, openings)
            whole, cover = (whole, cover) if under is None else (under, 1.0)
        roofed = cover >= constants.COVER_LEAST
        tall = higher[number] or whole.area >= constants.OPEN_WALL_M2 * s.metre**2
        windowed = bool(glazed(np.array([whole], dtype=object), openings, s.metre)[0])
        borne = bool(on_roof[number]) and cover < constants.COVER_LEAST
        upper = windowed and bool(rests[number]) and not borne
        wide = whole.bounds[2] - whole.bounds[0] > constants.DORMER_WIDEST_M * s.metre
        roof = wide and not windowed and bool(on_roof[number])
        if not (grounded and (count or roofed or tall)) and not (
            count and not roof and (roofed or upper or not s.ground.any())
        ):
            continue
        confidence = 0.5 + 0.2 * grounded + 0.15 * roofed + 0.1 * (count > 0)
        reason = Reason(
            "WALL_BOUNDED", {"ground": grounded, "covered": round(cover, 2), "openings": count}
        )
        found.append(Part(whole, confidence, reason))
    return sorted(_without_wings(found), key=lambda p: p.polygon.bounds)


def _without_wings(found: list[Part]) -> list[Part]:
    """Each part less the smaller ones that stand before it: a wing hides what is behind it."""
    result = []
    for part in found:
        before = [
            p.polygon
            for p in found
            if p.polygon.area < part.polygon.area
            and part.polygon.intersection(p.polygon).area > 0.5 * p.polygon.area
        ]
        rest = part.polygon.difference(shapely.unary_union(before)) if before else part.polygon
        largest = max(shapely.get_parts(rest), key=lambda p: p.area)
        result.append(part._replace(polygon=Polygon(largest.exterior)))
    return result


def roof_edges(s: Structure) -> Flags:
    """For each run whether it rises from the end of a band: the side of a roof, not of a wall.

    Args:
        s: the structure of the elevation.

    Returns:
        One flag for each run.
    """
    result = np.zeros(len(s.runs.lines), bool)
    numbers = np.unique(s.band_of[s.bands])
    rising = np.flatnonzero(~s.runs.level & ~s.texture.any)
    if not len(numbers) or not len(rising):
        return result
    boxes = np.array(
        [shapely.total_bounds(s.mesh.faces[s.bands & (s.band_of == n)]) for n in numbers.tolist()]
    )
    lines = s.runs.lines[rising]
    low = np.where((lines[:, 1] <= lines[:, 3])[:, None], lines[:, :2], lines[:, 2:])
    corners = np.vstack([boxes[:, [0, 3]], boxes[:, [2, 3]], boxes[:, [0, 1]], boxes[:, [2, 1]]])
    at = shapely.STRtree(shapely.points(corners)).query(
        shapely.points(low), predicate="dwithin", distance=2.0 * s.gap
    )[0]
    high = np.maximum(lines[:, 1], lines[:, 3]) - low[:, 1]
    result[rising[np.unique(at)]] = True
    return result & np.isin(np.arange(len(result)), rising[high > constants.BAND_MOST_M * s.metre])


def _groups(s: Structure, run: Ints, corner: Flags, fronts: Ints) -> Ints:
    """A number for each face: faces between which nothing bounds a wall have the same, and so have
    those of a dormer's front."""
    a, b = s.mesh.sides.T
    bounds = s.ground[s.mesh.source] | s.eaves[s.mesh.source] | corner[run]
    bounds |= _dormer_feet(s, corner)[run]
    size = np.abs(s.mesh.edges[:, 2:] - s.mesh.edges[:, :2]).max(axis=1, initial=0.0)
    open_ = (a >= 0) & (b >= 0) & ~bounds & (size > s.gap)  # slips join nothing
    open_ &= ~(s.bands[a] | s.bands[b]) & (fronts[a] == fronts[b])
    open_ |= (a >= 0) & (b >= 0) & (fronts[a] >= 0) & (fronts[a] == fronts[b])
    return components(len(s.mesh.faces), np.stack([a[open_], b[open_]], axis=1))


def _dormer_feet(s: Structure, corner: Flags) -> Flags:
    """Which level runs join the feet of two corners and end there: the foot of a dormer's front."""
    feet = s.runs.lines[corner & s.runs.upright, :2]
    result = s.runs.level.copy()
    for columns in (slice(0, 2), slice(2, 4)):
        ends = s.runs.lines[:, columns]
        apart = np.abs(ends[:, None, :] - feet[None, :, :]).max(axis=2, initial=0.0)
        result &= (apart <= 2.0 * s.gap).any(axis=1)
    return result


def _contacts(s: Structure, run: Ints, group: Ints) -> tuple[Flags, Flags, Floats, Flags, Flags]:
    """For each group whether it stands on the ground, lies below it, which share of it a roof
    covers, and whether it rests on something else, on a roof or its edge."""
    count = len(group)
    over, under, width = over_and_under(s.mesh, s.runs)
    ground, eaves = s.ground[s.mesh.source], s.eaves[s.mesh.source]
    up, down = over >= 0, under >= 0
    above = np.bincount(group[over[up & ground]], width[up & ground], minlength=count)
    below = np.bincount(group[under[down & ground]], width[down & ground], minlength=count)
    top = down & (~up | (group[over] != group[under]))
    band = top & (eaves | (up & s.bands[over]))
    heads = np.bincount(group[under[top]], width[top], minlength=count)
    roofed = np.bincount(group[under[band]], width[band], minlength=count)
    foot = up & (~down | (group[over] != group[under]))
    feet = np.bincount(group[over[foot]], width[foot], minlength=count)
    lain = np.bincount(group[over[foot & down]], width[foot & down], minlength=count)
    edge = foot & down & s.bands[under]
    borne = np.bincount(group[over[edge]], width[edge], minlength=count)
    rests, on_roof = (w >= constants.RESTS_LEAST * np.maximum(feet, 1e-12) for w in (lain, borne))
    return above > 0, below > above, roofed / np.maximum(heads, 1e-12), rests, on_roof


def _between(s: Structure, run: Ints, group: Ints, rising: Flags) -> Flags:
    """For each group whether it rises into the sky between two of some uprights: a chimney."""
    sides = s.mesh.sides
    edge = np.flatnonzero(rising[run] & s.runs.upright[run] & (sides < 0).any(axis=1))
    pairs = np.unique(np.stack([group[sides[edge].max(axis=1)], run[edge]], axis=1), axis=0)
    return np.asarray(np.bincount(pairs[:, 0], minlength=len(group)) > 1)


def _held(s: Structure, group: Ints, openings: Polygons) -> Ints:
    """How many openings have their middle in each group."""
    result = np.zeros(len(group), dtype=np.int64)
    if len(openings):
        face = shapely.STRtree(s.mesh.faces).query(shapely.centroid(openings), predicate="within")[
            1
        ]
        np.add.at(result, group[face], 1)
    return result


def _outline(s: Structure, which: Flags) -> Polygon | None:
    """The outer boundary of faces, the largest piece where they hang together at points only."""
    whole = shapely.coverage_union_all(s.mesh.faces[which & ~s.bands])
    parts = [p for p in shapely.get_parts(whole) if isinstance(p, Polygon) and not p.is_empty]
    if not parts:
        return None
    return Polygon(max(parts, key=lambda p: p.area).exterior)


def is_large(polygon: Polygon, metre: float) -> bool:
    """Whether a polygon has the size of a wall.

    Args:
        polygon: any area, in drawing units.
        metre: drawing units in a metre.

    Returns:
        True where neither its area nor its sides are too small.
    """
    x0, y0, x1, y1 = polygon.bounds
    return bool(
        polygon.area >= constants.WALL_LEAST_M2 * metre**2
        and min(x1 - x0, y1 - y0) >= constants.WALL_LEAST_M * metre
    )
