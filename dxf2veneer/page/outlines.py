"""Closed outlines between lines: the outer sides of faces, of what lies in the holes of one, of
what stands in a notch, of what a frame goes round."""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.lines.noding import mesh_of
from dxf2veneer.propose.scene import Floats

GAP = 1 / 2000
"""Ends this near to each other, as a share of a view's size, meet. Our own default: a hair on the
screen when the view fills it."""
LIKE = 0.98
"""An outline that takes up this share of the next larger one is left out: it is the other side of
the same line. Our own default."""
_THIN = 0.6
"""A face that takes up less than this share of its convex hull may be a frame. Our own default."""
_LARGEST = 12
"""Faces of a view in whose notches outlines are looked for. Our own default: a view has fewer
walls."""


def outlines_of(segments: Floats) -> NDArray[Any]:
    """The closed outlines between lines.

    Args:
        segments: The lines, shape (n, 4), in drawing units.

    Returns:
        Polygons without holes, those that are the same given once.
    """
    if not len(segments):
        return np.empty(0, dtype=object)
    points = segments.reshape(-1, 2)
    size = float(np.max(points.max(axis=0) - points.min(axis=0)))
    if size <= 0.0:
        return np.empty(0, dtype=object)
    faces = mesh_of(segments, gap=size * GAP).faces
    if not len(faces):
        return np.empty(0, dtype=object)
    islands = shapely.polygons(shapely.get_exterior_ring(_united(faces)))
    rings = shapely.polygons(shapely.get_rings(faces))
    every = shapely.normalize(
        np.concatenate([rings, islands, _let_in(faces, islands), _framed(faces)])
    )
    every = every[shapely.is_valid(every)]
    _, first = np.unique(shapely.to_wkb(every), return_index=True)
    return np.asarray(every[first])


def _let_in(faces: NDArray[Any], islands: NDArray[Any]) -> NDArray[Any]:
    """What the largest faces leave over of all that hangs together: a door with its frame in the
    foot of a wall.

        +-----------+
        |    +--+   |      the wall's face has a notch; what stands in the notch is one outline,
        |    |[]|   |      however many faces it has
        +----+--+---+
    """
    largest = faces[np.argsort(-shapely.area(faces), kind="stable")[:_LARGEST]]
    tree = shapely.STRtree(islands)
    face, island = tree.query(shapely.point_on_surface(largest), predicate="within")
    left = shapely.get_parts(shapely.difference(islands[island], largest[face]))
    left = left[shapely.get_type_id(left) == shapely.GeometryType.POLYGON]
    return np.asarray(shapely.polygons(shapely.get_exterior_ring(left)))


def _framed(faces: NDArray[Any]) -> NDArray[Any]:
    """What a frame goes round that is open at one side: a door with its casing on the ground.

     +-----+
     |+---+|      the casing is a face of its own, whose hull is the door as a whole, and is
     ||   ||      full of faces
    -++---++-
    """
    hulls = shapely.convex_hull(faces)
    size, room = shapely.area(faces), shapely.area(hulls)
    hulls, room = hulls[frames := size < _THIN * room], room[frames]
    tree = shapely.STRtree(shapely.point_on_surface(faces))
    hull, face = tree.query(hulls, predicate="contains")
    full = np.bincount(hull, weights=size[face], minlength=len(hulls))
    return np.asarray(hulls[np.abs(full - room) <= (1.0 - LIKE) * room])


def _united(faces: NDArray[Any]) -> NDArray[Any]:
    """All faces that hang together as one."""
    return np.asarray(shapely.get_parts(shapely.coverage_union_all(faces)))
