"""Frames that lites fill: the glass of a shop, casements, a door under its transom.

+-------------+
| +---+ +---+ |     two lites or more with nothing but bars between them and a frame around them,
| |   | |   | |     which needs no corners of its own: the joint of a panel or the edge of a shutter
| +---+ +---+ |     may go on from it
+-------------+
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.openings.features import Features
from dxf2veneer.propose.openings.looks import has_slats, is_huge
from dxf2veneer.propose.openings.nest import Nest


def with_lites(nest: Nest, f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are frames that lites fill, two or more with nothing but bars between them:
    the glass of a shop, a window with two casements.

    Args:
        nest: which candidates lie in which.
        f: the evidence for each.
        metre: drawing units in a metre.

    Returns:
        One truth value for each candidate.
    """
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    full = f.full >= constants.PLAIN_FULLNESS
    large = (size[:, 0] >= constants.GARAGE_LEAST_M) | (size[:, 1] > constants.PLAIN_HIGHEST_M)
    lites = full & (size.min(axis=1) >= constants.PLAIN_LEAST_M) & ~is_huge(f.boxes, metre)
    #  under a transom a bar is so narrow that the sides of the next lite seem to go on
    lites &= (f.upright_free >= 2) & (f.level_free >= 2) & ~has_slats(f, metre)
    clear = full & (f.upright_free == 4) & (((f.level_free >= 2) & ~f.goes_on) | f.lintel)
    least = np.where(large, constants.LITES_SHARE, constants.CASEMENTS_SHARE)
    clear &= _is_apart(nest, lites, large)
    clear |= full & _has_one_width(nest, lites)
    return np.asarray(clear & filled_by(lites, least, nest))


def _is_apart(nest: Nest, lites: NDArray[np.bool_], large: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which candidates a frame parts from all lites in them on the left, on the right and at the
    head, as no outline round a window and its shutter does, and no wall of slabs; single lines may
    part a large one into lites of one size."""
    (outer, inner), areas = nest.about.of(lites), nest.areas
    own = areas[inner] < constants.SAME_JAMBS * areas[outer]
    own &= ~_is_cut_short(nest, outer, inner)
    outer, inner = outer[own], inner[own]
    apart = np.abs(nest.boxes[outer] - nest.boxes[inner])[:, [0, 2, 3]].min(axis=1, initial=np.inf)
    touched, least = np.zeros(len(lites), dtype=bool), np.full(len(lites), np.inf)
    most = np.zeros(len(lites))
    touched[outer[apart <= constants.FRAME_LEAST_M * nest.metre]] = True
    np.minimum.at(least, outer, areas[inner])
    np.maximum.at(most, outer, areas[inner])
    return np.asarray(~touched | (large & (least >= constants.LITES_ALIKE * most)))


def _is_cut_short(nest: Nest, outer: Ints, inner: Ints) -> NDArray[np.bool_]:
    """Which lites are the outline that they lie in, on both its jambs, cut by a line across it, as
    the edge of the ground: where another lite stands clear of both jambs, it is no lite."""
    sides = np.abs(nest.boxes[outer] - nest.boxes[inner])[:, [0, 2]]
    frame = constants.FRAME_LEAST_M * nest.metre
    clear = np.zeros(len(nest.boxes), dtype=bool)
    clear[outer[sides.min(axis=1, initial=np.inf) > frame]] = True
    return np.asarray((sides.max(axis=1, initial=0.0) <= frame) & clear[outer])


def _has_one_width(nest: Nest, lites: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which candidates are frames of one width round all lites in them: whatever line of a cladding
    runs on from a corner of such a frame, or a shutter's edge in line with its head, it is one."""
    outer, inner = nest.about.of(lites)
    own = nest.areas[inner] < constants.SAME_JAMBS * nest.areas[outer]
    outer, inner = outer[own], inner[own]
    ends = np.full((len(lites), 4), np.inf)
    np.minimum.at(ends, outer, nest.boxes[inner] * _OUTWARD)
    around = np.unique(outer)
    width = (ends - nest.boxes * _OUTWARD)[around]
    least, most = width.min(axis=1, initial=np.inf), width.max(axis=1, initial=0.0)
    alike = (most - least <= constants.JOIN_GAP_M * nest.metre) & (
        least > constants.FRAME_LEAST_M * nest.metre
    )
    result = np.zeros(len(lites), dtype=bool)
    result[around[alike & (most <= constants.FRAME_MOST_M * nest.metre)]] = True
    return result


_OUTWARD = np.array([1.0, 1.0, -1.0, -1.0])
"""Signs with which the sides of a box that lies in another are greater than the other's."""


def filled_by(lites: NDArray[np.bool_], least: Floats, nest: Nest) -> NDArray[np.bool_]:
    """Which candidates two or more lites fill but for bars, to a share at least.

    Args:
        lites: which candidates are lites.
        least: the least share of each.
        nest: which candidates lie in which.

    Returns:
        One truth value for each candidate.
    """
    panes = nest.leaves_of(lites)
    if not panes.any():
        return panes
    share, close = nest.filled(panes)
    return np.asarray(close & (share >= least) & (nest.about.counted(panes) >= 2) & ~panes)
