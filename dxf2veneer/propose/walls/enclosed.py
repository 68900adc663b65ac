"""Stretches that lie within one wall: what seems to have an eaves, but no roof over it.

 |            |     A sill, the head of a gate, a line of the cladding run on a little past two
 |   ======   |     uprights as an eaves does. Where the same wall goes on over that line and
 |   |    |   |     down on both sides, no roof's edge lies between and nothing is in it, all is
-+---+----+---+--   one wall.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def joined_to_walls_around(s: Structure, run: Ints, group: Ints, held: Ints) -> Ints:
    """The groups of faces, those that lie within one other group made part of it.

    Args:
        s: the structure of an elevation.
        run: for each edge of its mesh the run that it lies on.
        group: a number for each face, the same for faces between which nothing bounds a wall.
        held: for each group how many openings it has.

    Returns:
        A number for each face.
    """
    a, b = s.mesh.sides.T
    inner = (a >= 0) & (b >= 0)
    length = np.hypot(*(s.mesh.edges[:, 2:] - s.mesh.edges[:, :2]).T)
    ends = np.stack([np.where(a >= 0, group[a], -1), np.where(b >= 0, group[b], -1)])
    used = np.flatnonzero((ends[0] != ends[1]) & ~s.ground[s.mesh.source])
    used = used[inner[used] | (ends[:, used] >= 0).any(axis=0)]
    bands = np.zeros(len(group) + 1, bool)
    bands[group[s.bands]] = True
    eaves = s.eaves[s.mesh.source] & ~s.runs.upright[run]
    under = np.unique(ends[1, used[eaves[used]]])
    result = group.copy()
    for number in under[(under >= 0)].tolist():
        if bands[number] or held[number]:
            continue
        around = _around(number, ends[:, used], length[used])
        whole = sum(around.values())
        other, most = max(around.items(), key=lambda item: item[1])
        if other >= 0 and not bands[other] and most >= constants.ENCLOSED_SHARE * whole:
            result[group == number] = other
    return result


def _around(number: int, ends: Ints, length: Floats) -> dict[int, float]:
    """How much of its edge a group shares with each other one, -1 for the open."""
    one, other = ends
    beside = np.concatenate([other[one == number], one[other == number]])
    along = np.concatenate([length[one == number], length[other == number]])
    return {int(n): float(along[beside == n].sum()) for n in np.unique(beside).tolist()}
