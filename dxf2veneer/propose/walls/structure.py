"""The lines that may bound walls, and what they are.

texture.py     cladding, which bounds nothing
ground.py      level lines, which are left out, the ground and eaves
bands.py       bands of roof edges, roofs and chimneys
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Mesh, Polygons, mesh_of
from dxf2veneer.propose.lines.runs import Runs, runs_of
from dxf2veneer.propose.walls.bands import bands_of, sills_of
from dxf2veneer.propose.walls.bridging import bridged
from dxf2veneer.propose.walls.ends import loose_ends
from dxf2veneer.propose.walls.ground import ground_and_eaves, level_lines
from dxf2veneer.propose.walls.reaching import lengthened, settled
from dxf2veneer.propose.walls.rubble import joints_of_rubble
from dxf2veneer.propose.walls.shoulders import shoulders_of
from dxf2veneer.propose.walls.steps import parted_at_steps
from dxf2veneer.propose.walls.texture import Texture, amid_boards, texture_of
from dxf2veneer.propose.walls.uneven import links, terrain

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Structure:
    """The lines of one elevation without those in openings, and the faces between them.

    Attributes:
        segments: the lines, shape (n, 4).
        runs: the lines joined; texture: which of them are cladding.
        mesh: the faces between them.
        ground: for each segment whether it is part of the ground.
        eaves: for each segment whether it is part of an eaves.
        bands: for each face whether it is a band of a roof's edge.
        band_of: for each face a number, the same for faces that make one band end to end.
        rubble: joints of irregular stones, shape (m, 4); they bound nothing and are in no run.
        gap: ends this near to each other meet; metre: drawing units in a metre.
    """

    segments: Floats
    runs: Runs
    texture: Texture
    mesh: Mesh
    ground: Flags
    eaves: Flags
    bands: Flags
    band_of: Ints
    rubble: Floats
    gap: float
    metre: float


def structure_of(
    segments: Floats, framed: Polygons, openings: Polygons, *, gap: float, metre: float
) -> Structure:
    """What bounds the walls of an elevation.

    Args:
        segments: all lines of the elevation.
        framed: its openings that have a frame; lines in them are left out.
        openings: these and gaps in its cladding, whose sides end no band.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The structure.
    """
    kept = _without_openings(segments, framed, gap)
    runs = runs_of(kept, gap=gap, left_out=framed)
    kept = settled(kept, runs, metre=metre)
    runs = runs.of(kept)
    kept = bridged(kept, runs, metre=metre)
    runs = runs.of(kept)
    kept = kept[~level_lines(kept, runs, gap=gap, metre=metre)]
    runs = runs.of(kept)
    straight = runs.level | runs.upright | (runs.length >= constants.SLOPE_LEAST_M * metre)
    straight[[shoulder for _, shoulder, _ in shoulders_of(runs, gap=gap, metre=metre)]] = True
    straight |= terrain(runs, gap, metre)
    leaders = _leaders(runs, gap, metre)
    leaders &= ~terrain(runs, gap, metre, constants.TERRAIN_PIECES)
    rubble = kept[~straight[runs.member]]
    rubble = rubble[joints_of_rubble(rubble, gap=gap, metre=metre)]
    kept = kept[(straight & ~leaders)[runs.member]]
    runs = runs.of(kept)
    kept = lengthened(kept, runs, gap=gap, metre=metre)
    runs = runs.of(kept)
    kept = parted_at_steps(kept, runs, gap=gap, metre=metre)
    runs = runs.of(kept)
    mesh = mesh_of(kept, gap=2.0 * gap)  # as far as ends count as meeting, see ``Runs.meetings``
    texture = texture_of(kept, runs, gap=gap, metre=metre)
    ground, eaves = ground_and_eaves(kept, runs, texture, gap=gap, metre=metre)
    level = np.flatnonzero(eaves & runs.level[runs.member])
    eaves[level] = ~amid_boards(_boxes(kept[level]), runs, texture, gap)
    eaves[level] &= ~sills_of(runs.shapes[runs.member[level]], framed, gap, metre)
    bands, band_of = bands_of(mesh, runs, texture, ground, framed, openings, gap=gap, metre=metre)
    return Structure(kept, runs, texture, mesh, ground, eaves, bands, band_of, rubble, gap, metre)


def _boxes(segments: Floats) -> Floats:
    """The boxes round segments."""
    a, b = segments[:, :2], segments[:, 2:]
    return np.hstack([np.minimum(a, b), np.maximum(a, b)])


def _leaders(runs: Runs, gap: float, metre: float) -> Flags:
    """Which sloped runs are leaders of notes: with a landing, a level line that begins at their end
    and ends on nothing, or with one loose end, and across more lines than end on them.

    Rakes end on something at both ends or are one of two beside each other; the ground has two
    loose ends.
    """
    loose = loose_ends(runs)
    result = _with_landing(runs, loose, metre)
    sloped = np.flatnonzero(~runs.level & ~runs.upright & (loose.sum(axis=1) == 1))
    result[sloped] |= _across_others(runs, sloped, metre)
    return result & ~_paired(runs, result, metre) & ~links(runs, gap, metre)


def _across_others(runs: Runs, which: Ints, metre: float) -> Flags:
    """Which of some runs cross more others than end on them."""
    end, own = runs.meetings
    away = runs.lines.reshape(-1, 2)[end][:, None, :] - runs.lines[own].reshape(-1, 2, 2)
    inner = (np.abs(away).max(axis=2) > 4.0 * runs.gap).all(axis=1)
    met = np.bincount(own[inner], minlength=len(runs.lines))[which]
    ends = shapely.multipoints(runs.lines[which].reshape(-1, 2, 2))
    reach = constants.OVERSHOOT_M * metre
    inside = shapely.difference(runs.shapes[which], shapely.buffer(ends, reach))
    crossing, _ = runs.tree.query(inside, predicate="crosses")
    return np.asarray(np.bincount(crossing, minlength=len(which)) > met)


def _with_landing(runs: Runs, loose: Flags, metre: float) -> Flags:
    """Which sloped runs come out of the building and end where nothing but a level run begins that
    ends on nothing."""
    result = np.zeros(len(runs.lines), bool)
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre)
    if not tall.any():
        return result
    low, high = runs.lines[tall, 0].min(), runs.lines[tall, 0].max()
    end, other = runs.meetings
    points = runs.lines.reshape(-1, 2)
    first, last = (
        np.abs(runs.lines[other, k : k + 2] - points[end]).max(axis=1, initial=0.0)
        <= 2.0 * runs.gap
        for k in (0, 2)
    )
    away = points[end ^ 1, 0]  # the run's other end
    lands = (away > low) & (away < high) & runs.level[other]
    lands &= (first & loose[other, 1]) | (last & loose[other, 0])
    lands &= np.bincount(end, minlength=len(points))[end] == 1
    result[end[lands] // 2] = True
    return result & ~runs.level & ~runs.upright


def _paired(runs: Runs, which: Flags, metre: float) -> Flags:
    """Which of some sloped runs have another beside them, as both edges of a bargeboard have."""
    result = np.zeros(len(runs.lines), bool)
    some, others = np.flatnonzero(which), np.flatnonzero(~runs.level & ~runs.upright)
    if not len(some):
        return result
    near = shapely.buffer(runs.shapes[some], constants.BAND_MOST_M * metre, cap_style="flat")
    own, other = shapely.STRtree(runs.shapes[others]).query(near, predicate="intersects")
    one, two = some[own], others[other]
    way = np.arctan2(*(runs.lines[:, [3, 2]] - runs.lines[:, [1, 0]]).T)
    beside = (one != two) & (np.abs(way[one] - way[two]) <= np.radians(1.0))
    own, one, two = own[beside], one[beside], two[beside]
    along = shapely.length(shapely.intersection(near[own], runs.shapes[two]))
    result[one[along >= 0.5 * runs.length[one]]] = True
    return result


def _without_openings(segments: Floats, openings: Polygons, gap: float) -> Floats:
    """The segments that don't lie in an opening; those along its foot are kept, for the ground
    may run there, and so is a jamb from whose both ends uprights run on: the edge of the wall that
    it lies beside."""
    if not len(openings) or not len(segments):
        return segments
    grown = shapely.buffer(openings, gap * 1.5, join_style="mitre")
    opening, line = shapely.STRtree(shapely.linestrings(segments.reshape(-1, 2, 2))).query(
        grown, predicate="covers"
    )
    foot = shapely.bounds(openings)[opening, 1]
    at_foot = (segments[line][:, [1, 3]] - foot[:, None]).max(axis=1, initial=-np.inf) <= gap
    kept = np.delete(segments, np.unique(line[~at_foot]), axis=0)
    return np.vstack([kept, _jambs_between(kept, openings, gap)])


def _jambs_between(segments: Floats, openings: Polygons, gap: float) -> Floats:
    """The jambs of openings that end at both ends on uprights which run on in their line.

    |_____       the railing of a balcony seen from its side looks like a window beside the wall;
    |_|_|_|      the part of the wall's edge along it is drawn once
    |
    """
    x0, y0, x1, y1 = shapely.bounds(openings).T
    jambs = np.vstack([np.stack([x, y0, x, y1], axis=1) for x in (x0, x1)])
    upright = segments[np.abs(segments[:, 0] - segments[:, 2]) <= gap / 4.0]
    swap = upright[:, 1] > upright[:, 3]
    upright[swap] = upright[swap][:, [2, 3, 0, 1]]
    ends = (
        shapely.STRtree(shapely.points(upright[:, 2:])),
        shapely.STRtree(shapely.points(upright[:, :2])),
    )
    result = np.ones(len(jambs), bool)
    for tree, at in zip(ends, (jambs[:, :2], jambs[:, 2:]), strict=True):
        met = np.zeros(len(jambs), bool)
        met[tree.query(shapely.points(at), predicate="dwithin", distance=2.0 * gap)[0]] = True
        result &= met
    return jambs[result]
