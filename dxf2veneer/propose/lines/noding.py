"""Loose lines cut where they meet, small gaps bridged, and the faces between them.

----- .            -----+         every loose end is lengthened by the gap; what crosses
      |     ->          |         another line there closes a face, what crosses nothing is a
    --+--             --+--       dangling end, which bounds no face and is dropped
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.lines.rounding import Noded, noded

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Polygons = NDArray[Any]
"""An array of shapely polygons."""

GRID_PER_GAP = 64.0
"""Noded coordinates lie on a grid this many times finer than the gap that is bridged."""


@dataclass(frozen=True)
class Mesh:
    """The faces between lines and how they lie beside each other.

    Attributes:
        faces: the polygons, shape (f,), each without what lies inside its holes.
        edges: pieces of line between faces, shape (e, 4) as x0, y0, x1, y1, each from its left end
            (upright ones from the lower) to the other.
        sides: the faces on the left of each edge, which is over one that is not upright, and on its
            right, shape (e, 2); -1 where nothing closed lies there.
        source: the index of a segment that each edge lies on, shape (e,).
        grid: step of the grid of the coordinates, in drawing units.
    """

    faces: NDArray[Any]
    edges: Floats
    sides: Ints
    source: Ints
    grid: float

    @property
    def areas(self) -> Floats:
        """Area of each face."""
        return np.asarray(shapely.area(self.faces), dtype=np.float64)

    @property
    def boxes(self) -> Floats:
        """Box of each face, shape (f, 4)."""
        return np.asarray(shapely.bounds(self.faces), dtype=np.float64).reshape(-1, 4)


def mesh_of(segments: Floats, *, gap: float) -> Mesh:
    """The faces that segments bound.

    Args:
        segments: straight pieces, shape (n, 4) as x0, y0, x1, y1 in drawing units.
        gap: ends that fall short by at most this are run on, in drawing units.

    Returns:
        The mesh; without faces where the segments close nothing.
    """
    grid = _grid(gap)
    snapped, index = _snapped(segments, grid)
    if not len(snapped):
        return Mesh(
            np.empty(0, dtype=object),
            np.empty((0, 4)),
            np.empty((0, 2), np.int64),
            np.empty(0, np.int64),
            grid,
        )
    joined = np.vstack([snapped, _bridges(snapped, gap, grid)])
    cut = noded(joined / grid)
    faces = _faces(cut.pieces, grid)
    edges, sides = _edges(faces, grid)
    source = index[_sources(edges / grid, cut, snapped / grid)]
    return Mesh(faces, edges, sides, source, grid)


def faces_of(
    segments: Floats, choices: Sequence[NDArray[np.bool_]], *, gap: float
) -> list[Polygons]:
    """The faces that some of the segments bound, for each of several choices.

    Args:
        segments: straight pieces, shape (n, 4) as x0, y0, x1, y1 in drawing units.
        choices: the segments of each choice, shape (n,).
        gap: ends that fall short by at most this are run on, in drawing units.

    Returns:
        An array of polygons for each choice.
    """
    grid = _grid(gap)
    snapped, index = _snapped(segments, grid)
    if not len(snapped):
        return []
    bridges = _bridges(snapped, gap, grid)
    cut = noded(np.vstack([snapped, bridges]) / grid)
    always = np.ones(len(bridges), dtype=bool)
    faces: dict[bytes, Polygons] = {}  # choices may be one
    for chosen in choices:
        key = chosen.tobytes()
        if key not in faces:
            faces[key] = _faces(cut.of(np.concatenate([chosen[index], always])), grid)
    return [faces[chosen.tobytes()] for chosen in choices]


def _grid(gap: float) -> float:
    """Step of the grid of noded coordinates: a power of two, so that steps of it are exact."""
    return float(2.0 ** np.floor(np.log2(gap / GRID_PER_GAP)))


def _snapped(segments: Floats, grid: float) -> tuple[Floats, Ints]:
    """Segments with both ends on the grid and the number of each, those left out that vanish."""
    snapped = np.round(segments / grid) * grid
    index = np.flatnonzero(np.any(snapped[:, :2] != snapped[:, 2:], axis=1))
    return snapped[index], index


def _faces(pieces: Floats, grid: float) -> Polygons:
    """The faces between pieces that meet at their ends only."""
    lines = shapely.linestrings(pieces.reshape(-1, 2, 2) * grid)
    return np.asarray(shapely.get_parts(shapely.polygonize(lines)))


def _bridges(segments: Floats, gap: float, grid: float) -> Floats:
    """A short run-on for each loose end, a link between loose ends that lie near each other, and
    one from each corner that the grid took off a line."""
    ends = np.vstack([segments[:, :2], segments[:, 2:]])
    lines = shapely.linestrings(segments.reshape(-1, 2, 2))
    tree = shapely.STRtree(lines)
    made = _taken_off(ends, lines, tree, grid)
    loose = _loose(ends, np.vstack([segments[:, 2:], segments[:, :2]]), grid)
    if not len(loose):
        return made
    pixel = grid / 2.0  # what passes nearer is cut there; farther ends are run on to meet it
    hit, other = tree.query(shapely.points(ends[loose]), predicate="dwithin", distance=pixel)
    at = ends[loose][hit]  # a line that ends there too is the same one drawn double
    twin = (segments[other, :2] == at).all(axis=1) | (segments[other, 2:] == at).all(axis=1)
    touched = np.unique(hit[~twin])
    loose = np.delete(loose, touched)
    if not len(loose):
        return made
    at = ends[loose]
    away = at - np.where(
        (loose < len(segments))[:, None],
        segments[loose % len(segments), 2:],
        segments[loose % len(segments), :2],
    )
    length = np.hypot(*away.T)
    ahead = at + away / length[:, None] * np.minimum(gap, length)[:, None]
    run_on = np.hstack([at, np.round(ahead / grid) * grid])
    return np.vstack([run_on, _links(at, gap), made])


def _taken_off(ends: Floats, lines: NDArray[Any], tree: shapely.STRtree, grid: float) -> Floats:
    """Short lines across those that ends lay on before both were put on the grid: each end, and
    each line, may have moved by half a diagonal of it."""
    corners = np.unique(ends, axis=0)
    points = shapely.points(corners)
    corner, line = tree.query(points, predicate="dwithin", distance=_MOVED * grid)
    away = shapely.distance(points[corner], lines[line])
    off = away > grid / 2.0  # what passes nearer is cut there
    nearest = shapely.shortest_line(points[corner[off]], lines[line[off]])
    a, b = shapely.get_coordinates(nearest).reshape(-1, 2, 2).transpose(1, 0, 2)
    length = np.maximum(np.hypot(*(b - a).T), grid / 2.0)[:, None]
    ahead = np.round((b + (b - a) / length * _MOVED * grid) / grid) * grid
    return np.asarray(np.hstack([a, ahead])[(np.abs(b - a) > 0).any(axis=1)])


def _loose(ends: Floats, others: Floats, grid: float) -> Ints:
    """The ends at which no line begins in another direction; of lines drawn double one end each."""
    keys = np.rint(ends / grid).astype(np.int64)
    way = np.arctan2(*(others - ends).T)
    rows = np.column_stack([keys, np.rint(way / np.radians(_SAME_WAY_DEG)).astype(np.int64)])
    order = np.lexsort(rows.T[::-1])
    rows = rows[order]
    other_way = np.concatenate(([True], (rows[1:] != rows[:-1]).any(axis=1)))
    first, at = order[other_way], rows[other_way, :2]
    new = np.concatenate(([True], (at[1:] != at[:-1]).any(axis=1)))
    alone = new & np.concatenate((new[1:], [True]))
    return np.sort(first[alone])


_MOVED = 1.5
"""How far an end and a line may come apart when both are put on the grid, in steps of it: half a
diagonal each, and a little."""
_SAME_WAY_DEG = 1.0
"""Lines from one end whose directions differ by less are one line drawn double."""


def _links(points: Floats, gap: float) -> Floats:
    """Links between points that lie at most the gap apart."""
    made = shapely.points(points)
    one, two = shapely.STRtree(made).query(made, predicate="dwithin", distance=gap)
    keep = one < two
    return np.hstack([points[one[keep]], points[two[keep]]])


def _edges(faces: NDArray[Any], grid: float) -> tuple[Floats, Ints]:
    """Every piece of boundary once, with the faces on its left and on its right."""
    if not len(faces):
        return np.empty((0, 4)), np.empty((0, 2), np.int64)
    rings, ring_face = shapely.get_rings(faces, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    follows = ring[1:] == ring[:-1]
    start, end = points[:-1][follows], points[1:][follows]
    face = ring_face[ring[:-1][follows]]
    hole = np.diff(ring_face, prepend=-1) == 0  # the first ring of a face is its outer border
    left = (shapely.is_ccw(rings) != hole)[ring[:-1][follows]]
    a, b = np.rint(start / grid).astype(np.int64), np.rint(end / grid).astype(np.int64)
    swap = (a[:, 0] > b[:, 0]) | ((a[:, 0] == b[:, 0]) & (a[:, 1] > b[:, 1]))
    keys = np.where(swap[:, None], np.hstack([b, a]), np.hstack([a, b]))
    order = np.lexsort(keys.T[::-1])
    keys, face, left = keys[order], face[order], (left != swap)[order]
    first = np.ones(len(keys), dtype=bool)
    first[1:] = np.any(keys[1:] != keys[:-1], axis=1)
    sides = np.full((first.sum(), 2), -1, dtype=np.int64)
    sides[np.cumsum(first) - 1, np.where(left, 0, 1)] = face
    return keys[first].astype(np.float64) * grid, sides


def _sources(edges: Floats, cut: Noded, segments: Floats) -> Ints:
    """The segment that each edge is a piece of; for the pieces of bridges the nearest one."""
    if not len(edges):
        return np.empty(0, np.int64)
    keys = {tuple(p): n for p, n in zip(cut.pieces.tolist(), cut.first.tolist(), strict=True)}
    found = np.array([keys[tuple(e)] for e in edges.tolist()], dtype=np.int64)
    bridged = np.flatnonzero(found >= len(segments))
    if len(bridged):
        tree = shapely.STRtree(shapely.linestrings(segments.reshape(-1, 2, 2)))
        middles = (edges[bridged, :2] + edges[bridged, 2:]) / 2.0
        found[bridged] = tree.nearest(shapely.points(middles))
    return found
