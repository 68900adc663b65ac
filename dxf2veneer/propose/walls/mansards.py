"""Mansards: steep roofs over an eaves, in line with the sides of the wall under them.

    ____________
   /            \\      Both sides lean in from one height, where a line runs across, up to a head
  /______________\\     that is nearly as wide as the wall; what is clad comes to a gable's point.
  |              |
--+--------------+--
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.walls.roofs import runs_across
from dxf2veneer.propose.walls.structure import Structure


def under_mansard(whole: Polygon, s: Structure) -> Polygon | None:
    """The part of an outline under the eaves of a mansard.

    Args:
        whole: the outline of a stretch of facade, in drawing units.
        s: the structure of its elevation.

    Returns:
        The outline itself where its sides don't lean in so, None where nothing lies under them.
    """
    eaves = _leaning_from(whole, s)
    if eaves is None:
        return whole
    x0, y0, x1, _ = whole.bounds
    lines = s.runs.lines[s.runs.level & ~s.texture.any]
    under = lines[(lines[:, 1] < eaves) & (lines[:, 1] >= eaves - constants.BAND_MOST_M * s.metre)]
    foot = min((y for y in under[:, 1].tolist() if runs_across(whole, under, y, s)), default=eaves)
    if foot - y0 < constants.CORNER_LEAST_M * s.metre:
        return None
    rest = shapely.get_parts(whole.intersection(box(x0, y0, x1, foot)))
    return max((p for p in rest if isinstance(p, Polygon)), key=lambda p: p.area)


def _leaning_from(whole: Polygon, s: Structure) -> float | None:
    """The height from which both sides of an outline lean in to a wide level head, None where they
    don't, or no line runs across there."""
    x0, _, x1, y1 = whole.bounds
    corners = shapely.get_coordinates(whole.simplify(s.gap))
    near = 4.0 * s.gap
    head = corners[np.abs(corners[:, 1] - y1) <= near, 0]
    sides = [corners[np.abs(corners[:, 0] - x) <= near, 1].max() for x in (x0, x1)]
    low, rise = min(sides), y1 - max(sides)
    lean = np.array([head.min() - x0, x1 - head.max()])
    if abs(sides[0] - sides[1]) > near or rise < constants.MANSARD_LEAST_M * s.metre:
        return None
    if lean.min() <= near or lean.max() > constants.MANSARD_LEAN * rise:
        return None
    if head.max() - head.min() < constants.MANSARD_HEAD * (x1 - x0):
        return None
    middle = whole.intersection(LineString([(x0, (low + y1) / 2.0), (x1, (low + y1) / 2.0)])).bounds
    if not middle or np.abs([middle[0] - x0, x1 - middle[2]] - lean / 2.0).max() > near:
        return None  # it stands back over its foot, a deck's
    lines = s.runs.lines[s.runs.level]
    rests = low - whole.bounds[1] <= near  # the roof alone: its foot is the line
    return low if rests or runs_across(whole, lines, low, s) else None
