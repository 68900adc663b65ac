"""The fronts of dormers: walls that stand on a roof, between two corners under rakes of their own.

     /\\           The corners are as high and hang the same roof's edge over them, outward. From
   /|  |\\         foot to foot a line is drawn, which may be one course of the roof that runs on
----|  |----      at both sides; a seam of the roof may run on from a foot. What lies between is
----+--+----      one wall, however its courses or boards part it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.edges import from_ground, stands_on_ground
from dxf2veneer.propose.walls.ends import share_drawn
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def dormer_fronts(s: Structure, corner: Flags) -> Ints:
    """Which faces make the front of a dormer.

    Args:
        s: the structure of an elevation.
        corner: for each run whether it is a corner.

    Returns:
        For each face of the mesh the number of its dormer, -1 for none.
    """
    result = np.full(len(s.mesh.faces), -1, dtype=np.int64)
    sides = np.flatnonzero(corner & s.runs.upright & ~s.texture.any)
    lines = from_ground(s)
    sides = sides[~stands_on_ground(s, lines, sides)] if s.ground.any() else sides[:0]
    lines = lines[sides]
    ground = s.segments[s.ground][:, [1, 3]].min(initial=np.inf)
    up = lines[:, 1] >= ground + constants.DORMER_UP_M * s.metre
    lines = lines[up]
    outward = np.array([_outward(line, s) for line in lines], dtype=np.int64)
    for number, (left, right) in enumerate(_pairs(lines, outward, s)):
        result[_between(left, right, s)] = number
    return result


def _outward(line: Floats, s: Structure) -> int:
    """On which side of a corner the roof's edge over it ends, -1 for the left, 1 for the right; 0
    where none lies there."""
    x, top = line[2], line[3]
    boxes = s.mesh.boxes[s.bands]
    near = 2.0 * s.gap
    over = (boxes[:, 0] <= x + near) & (boxes[:, 2] >= x - near)
    over &= (boxes[:, 1] <= top + near) & (boxes[:, 3] >= top - near)
    ends = np.abs(boxes[over][:, [0, 2]] - x)
    return 0 if not len(ends) else int(np.sign(ends[:, 0].min() - ends[:, 1].min()))


def _pairs(lines: Floats, outward: Ints, s: Structure) -> list[tuple[Floats, Floats]]:
    """The left and the right corner of each dormer, both from its foot to the rake."""
    least, most = (w * s.metre for w in constants.DORMER_WIDTH_M)
    level = s.runs.lines[s.runs.level]
    found = []
    for left in lines[outward < 0]:
        near = lines[outward > 0]
        wide = near[:, 0] - left[0]
        near = near[(wide >= least) & (wide <= most)]
        near = near[np.abs(near[:, 3] - left[3]) <= 2.0 * s.gap]
        for right in near[np.argsort(near[:, 0])][:1]:
            foot = max(left[1], right[1])
            drawn = share_drawn(level, foot, left[0], right[0], 2.0 * s.gap)
            high = left[3] - foot >= constants.DORMER_SIDE_M * s.metre
            if high and drawn >= constants.PORCH_ALONG and not _go_on(left, right, foot, s):
                one, other = (np.array([c[0], foot, c[0], c[3]]) for c in (left, right))
                found.append((one, other))
    return found


def _go_on(left: Floats, right: Floats, foot: float, s: Structure) -> bool:
    """Whether both corners go on under the foot, a belt over it left out: those of a bay that
    stands on the ground."""
    lines = s.runs.lines[s.runs.upright]
    lines = lines[lines[:, 1] < foot - 2.0 * s.gap]
    lines = lines[lines[:, 3] >= foot - constants.BELT_MOST_M * s.metre - 2.0 * s.gap]
    return all((np.abs(lines[:, 0] - corner[0]) <= 2.0 * s.gap).any() for corner in (left, right))


def _between(left: Floats, right: Floats, s: Structure) -> Flags:
    """The faces between two corners from foot to rakes: those that hang together there."""
    near, boxes = 2.0 * s.gap, s.mesh.boxes
    x0, foot, _, top = left
    x1 = right[0]
    within = (boxes[:, 0] >= x0 - near) & (boxes[:, 2] <= x1 + near)
    within &= (boxes[:, 1] >= foot - near) & (boxes[:, 3] <= top + (x1 - x0))
    a, b = s.mesh.sides.T
    inner = (a >= 0) & (b >= 0) & within[a] & within[b]
    whole = components(len(within), np.stack([a[inner], b[inner]], axis=1))
    low = within & (boxes[:, 1] < top - near)
    return np.asarray(within & np.isin(whole, whole[low]))
