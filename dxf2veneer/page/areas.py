"""What the proposal weighs and does not take: outlines of the size of an opening, and areas that a
wall may be, or a part of one. These are faces joined across the lines that may bound nothing, by
several opinions of which lines these are.

    +--------------+     by one opinion the level line bounds a gable, by another it is a mere line:
    |    /\\        |     both areas are offered, and the person takes the right one. The opinions
    |---/--\\-------|     are those that the proposal weighs: cladding bounds nothing, the ground
    |  |    |      |     bounds everything, between them stand corners, eaves, bands and long lines
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.openings import chosen_openings, weighed_outlines
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.edges import corners_of
from dxf2veneer.propose.walls.parts import roof_edges
from dxf2veneer.propose.walls.structure import Structure, structure_of

Areas = NDArray[Any]
"""An array of shapely polygons."""
Flags = NDArray[np.bool_]

_METRE_IN = 1000.0 / MM_PER_INCH
_LEAST_M2 = 0.1
"""What is smaller is no part of a wall that a person would point at. Our own default."""
_LONG_M = 1.5
"""A line as long as this may bound a wall, a shorter one is a part of something. Our own
default."""
_MOST_SEGMENTS = 12_000
"""Lines of a view from which areas are still made: about a second on one core. Our own default."""


def areas_of(segments: Floats, inches: float) -> Areas:
    """Outlines of an elevation that an opening, a wall or a part of a wall may be.

    Args:
        segments: Its lines, shape (n, 4), in drawing units.
        inches: Inches in a drawing unit.

    Returns:
        Polygons without holes, those that are the same given once; none where there are too many
        lines to find them while a person waits.
    """
    if not 0 < len(segments) <= _MOST_SEGMENTS:
        return np.empty(0, dtype=object)
    metre = _METRE_IN / inches
    gap = constants.JOIN_GAP_M * metre
    runs = runs_of(segments, gap=gap)
    weighed = weighed_outlines(segments, runs, np.empty(0, dtype=object), metre=metre)
    opened = chosen_openings(runs, weighed, metre=metre)
    framed = np.array(
        [c.polygon for c in opened if c.confidence >= constants.FRAMED_SCORE], dtype=object
    )
    sure = np.array(
        [c.polygon for c in opened if c.confidence > constants.PLAIN_SCORE], dtype=object
    )
    structure = structure_of(segments, framed, sure, gap=gap, metre=metre)
    if not len(structure.mesh.faces):
        return weighed
    areas = np.concatenate([_joined(structure, bounds) for bounds in _opinions(structure)])
    areas = np.concatenate([weighed, areas[shapely.area(areas) >= _LEAST_M2 * metre**2]])
    areas = shapely.normalize(areas)
    _, first = np.unique(shapely.to_wkb(areas), return_index=True)
    return np.asarray(areas[first])


def _opinions(s: Structure) -> Iterable[Flags]:
    """Which edges of the mesh bound an area, by each opinion."""
    run = s.runs.member[s.mesh.source]
    corner = (corners_of(s) | roof_edges(s))[run]
    ground, eaves = s.ground[s.mesh.source], s.eaves[s.mesh.source]
    band = np.where(s.mesh.sides >= 0, s.bands[s.mesh.sides], False).any(axis=1)
    clad = s.texture.any[run]
    stones = (s.texture.stones | s.texture.slabs)[run]
    long = (s.runs.length[run] >= _LONG_M * s.metre) & ~clad
    upright, level = s.runs.upright[run], s.runs.level[run]
    known = ground | eaves | corner | band
    yield known
    yield ground | eaves | corner
    yield ground | corner | band
    yield ground | eaves | band
    yield ground | corner
    yield known | (upright & long)
    yield known | (level & long)
    yield known | (~upright & ~level)
    yield long
    yield ~clad
    yield ~stones


def _joined(s: Structure, bounds: Flags) -> Areas:
    """Faces joined across edges that bound nothing, as polygons without holes."""
    a, b = s.mesh.sides.T
    open_ = (a >= 0) & (b >= 0) & ~bounds
    group = components(len(s.mesh.faces), np.stack([a[open_], b[open_]], axis=1))
    order = np.argsort(group, kind="stable")
    starts = np.flatnonzero(np.diff(group[order], prepend=-1))
    parts = shapely.get_parts(
        [shapely.coverage_union_all(faces) for faces in np.split(s.mesh.faces[order], starts[1:])]
    )
    return np.asarray(shapely.polygons(shapely.get_exterior_ring(parts)))
