"""Windows under a gable: triangles in an even frame.

    /\\          the frame is as wide at the foot as along both rakes; a bargeboard has no foot,
   //\\\\         and the wall under it ends at the eaves
  //__\\\\
 /______\\
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons


def framed_gables(found: Polygons, full: Floats, metre: float) -> NDArray[np.bool_]:
    """Which outlines are triangles with another one in them, as far inside at the foot as along
    both rakes.

    Args:
        found: outlines that may be openings.
        full: the share of its box that each fills.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    result = np.zeros(len(found), dtype=bool)
    some = np.flatnonzero(full < constants.OPENING_FULLNESS)
    if len(some) < 2:
        return result
    outer, inner = some[shapely.STRtree(found[some]).query(found[some], predicate="contains")]
    foot = shapely.bounds(found[inner])[:, 1] - shapely.bounds(found[outer])[:, 1]
    frame = (foot >= constants.FRAME_LEAST_M * metre) & (foot <= constants.FRAME_MOST_M * metre)
    outer, inner, foot = outer[frame], inner[frame], foot[frame]
    left = shapely.buffer(found[outer], -foot, join_style="mitre")
    shared = shapely.area(shapely.intersection(left, found[inner]))
    most = np.maximum(shapely.area(left), shapely.area(found[inner]))
    result[outer[shared >= constants.GABLE_EVEN * most]] = True
    return result
