"""Walls told from roofs by their windows.

   ______________     A roof has a window or two that take up a small part of it; what windows and
  |_[__][__][__]_|    doors take up a good part of is a wall, though it hangs over the wall under it
    |          |      or stands on the roof of a porch.
----+----------+---
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Polygons


def glazed(shapes: Polygons, openings: Polygons, metre: float) -> NDArray[np.bool_]:
    """Which shapes have openings in them as only walls have.

    Args:
        shapes: stretches of an elevation.
        openings: its openings that are sure.
        metre: drawing units in a metre.

    Returns:
        One flag for each shape; False for small ones, such as the piece of a roof round its window.
    """
    if not len(shapes) or not len(openings):
        return np.zeros(len(shapes), bool)
    opening, shape = shapely.STRtree(shapes).query(openings, predicate="intersects")
    shared = shapely.area(shapely.intersection(openings[opening], shapes[shape]))
    whole = shared >= constants.GLAZED_WHOLE * shapely.area(openings)[opening]
    area = np.bincount(shape[whole], shared[whole], len(shapes))
    large = shapely.area(shapes) >= constants.OPEN_WALL_M2 * metre**2
    return np.asarray(large & (area >= constants.GLAZED_LEAST * shapely.area(shapes)))
