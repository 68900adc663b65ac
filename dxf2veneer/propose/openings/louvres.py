r"""Louvres: level slats, close over each other, that fill an outline of any shape.

  .---.        /\
 /=====\      /==\       a vent in a gable is often round or a triangle, and its slats may run
 \=====/     /====\      from rim to rim, so that no face lies behind its outline; one half of it
  '---'     +------+     is the other in a mirror, which no stone is
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import scale
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.openings.near import Near


def is_louvred(outline: Polygon, level: Floats, *, metre: float) -> bool:
    """Whether slats fill an outline from foot to head.

    Panes and sashes of a window are rectangles too: more slats tell these from bars than a round or
    a triangle needs.

    Args:
        outline: in drawing units.
        level: level lines from left to right, shape (n, 4).
        metre: drawing units in a metre.

    Returns:
        Whether lines in it that cross much of it, where they are, fill most of its height
        at even steps of slats; boards run on past a wheel before them.
    """
    square = outline.area >= constants.PLAIN_FULLNESS * box(*outline.bounds).area
    least = constants.SLATS_LEAST if square else constants.LOUVRES
    x0, y0, x1, y1 = outline.bounds
    gap = constants.JOIN_GAP_M * metre
    own = level[(level[:, 1] > y0 + gap) & (level[:, 1] < y1 - gap)]
    own = own[(own[:, 0] >= x0 - gap) & (own[:, 2] <= x1 + gap)]
    if len(own) < least:
        return False
    y = own[:, 1]
    across = shapely.linestrings(
        np.stack([np.full(len(y), x0), y, np.full(len(y), x1), y], axis=1).reshape(-1, 2, 2)
    )
    chord = shapely.length(shapely.intersection(outline, across))
    share = constants.SLAT_CHORD[0 if square else 1]
    slats = np.unique(np.rint(y[own[:, 2] - own[:, 0] >= share * chord] / gap)) * gap
    steps = np.diff(slats if square else np.concatenate([[y0], slats, [y1]]))
    close = steps[steps <= constants.SLAT_MOST_M * metre]
    even = close[np.abs(close - np.median(close)) <= 2.0 * gap] if len(close) else close
    return len(even) >= least and bool(close.sum() >= constants.SLATS_SHARE * (y1 - y0))


def louvred_shapes(
    found: Polygons, full: Floats, inside: Ints, level: Near, *, metre: float
) -> NDArray[np.bool_]:
    """Which outlines are vents that are no rectangles: filled with slats, no larger than vents in
    gables are, and one half the other in a mirror.

    Args:
        found: outlines that may be openings, in drawing units.
        full: the share of its box that each fills.
        inside: how many lines lie inside each.
        level: the level lines near each.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    boxes = shapely.bounds(found).reshape(-1, 4)
    size = (boxes[:, 2:] - boxes[:, :2]).max(axis=1)
    may = (full < constants.PLAIN_FULLNESS) & (inside >= constants.LOUVRES)
    may &= size <= constants.GABLE_VENT_MOST_M * metre
    result = np.zeros(len(found), dtype=bool)
    for number in np.flatnonzero(may).tolist():
        lines = level.lines[level.box == number]
        louvred = is_louvred(found[number], lines, metre=metre)
        result[number] = louvred and _is_even(found[number])
    return result


def _is_even(outline: Polygon) -> bool:
    """Whether one half of an outline is the other in an upright mirror, but for slips."""
    shared = outline.intersection(scale(outline, -1.0, 1.0))
    return bool(shared.area >= constants.PLAIN_FULLNESS * outline.area)
