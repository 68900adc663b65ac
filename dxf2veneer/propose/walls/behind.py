"""What goes on behind: the cladding of one wall on both sides of what stands before it.

|  |  |  |  |  |     Battens over a band in line with battens under it, and rows of boards or
==============       courses that stop at both sides of a post and go on at the same heights,
--||------||--       are one wall behind a canopy or a porch. A corner's board has rows on one
--||------||--       side or rows at other heights.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def before_one_wall(s: Structure, lines: Floats) -> Flags:
    """Which uprights end under a band over which most of the cladding under it goes on in line.

    Args:
        s: the structure of an elevation.
        lines: its runs, those that cross the ground cut off there.

    Returns:
        One flag for each run: False for the corner of the building, which goes on and is no
        cladding.
    """
    result = np.zeros(len(lines), bool)
    if not s.bands.any():
        return result
    clad, plain = going_on_above(s, lines)
    rhythm = s.texture.battens | s.texture.joints | s.texture.slabs | clad
    upright = np.flatnonzero(s.runs.upright)
    tops = shapely.points(lines[upright, 2:])
    for number in np.unique(s.band_of[s.bands]).tolist():
        band = shapely.union_all(s.mesh.faces[s.bands & (s.band_of == number)])
        under = upright[shapely.distance(tops, band) <= s.gap]
        x0, _, x1, _ = shapely.bounds(band)
        amid = np.abs(lines[under, 0] - (x0 + x1) / 2.0) <= (x1 - x0) / 3.0
        told = under[rhythm[under] & amid & (s.texture.battens[under] | _single(under, lines, s))]
        on = clad[told].sum()
        if on >= constants.BEHIND_LEAST and on >= constants.BEHIND_SHARE * len(told):
            one = _single(under, lines, s) & ~rhythm[under]  # the corner of a wing, though
            result[under[(~plain[under] | rhythm[under]) & ~one]] = True
    return result


def _single(which: Ints, lines: Floats, s: Structure) -> Flags:
    """Which of some uprights have no other as near as both sides of a post or of a corner's board
    are."""
    apart = np.abs(lines[which, 0][:, None] - lines[which, 0][None, :])
    near = (apart > 2.0 * s.gap) & (apart <= constants.POST_MOST_M * s.metre)
    return np.asarray(~near.any(axis=1))


def going_on_above(s: Structure, lines: Floats) -> tuple[Flags, Flags]:
    """Which uprights go on in the same line above what they end under.

    Args:
        s: the structure of an elevation.
        lines: its runs, those that cross the ground cut off there.

    Returns:
        For each run whether it goes on as cladding, and whether as another line up to a roof, as a
        corner behind a porch does and no jamb.
    """
    upright = np.flatnonzero(s.runs.upright)
    order = upright[np.argsort(lines[upright, 0], kind="stable")]
    x = lines[order, 0]
    first = np.searchsorted(x, lines[upright, 0] - s.gap, side="left")
    last = np.searchsorted(x, lines[upright, 0] + s.gap, side="right")
    clad, plain = np.zeros(len(lines), bool), np.zeros(len(lines), bool)
    long = s.texture.any & ~s.texture.stones
    corner = ~s.texture.any & _ends_under_roof(s, lines)
    most = constants.BEHIND_HIDDEN_M * s.metre
    for i, a, b in zip(upright.tolist(), first.tolist(), last.tolist(), strict=True):
        rise = lines[order[a:b], 1] - lines[i, 3]
        over = order[a:b][(rise > s.gap) & (rise <= most)]
        clad[i], plain[i] = long[over].any(), corner[over].any()
    return clad, plain


def _ends_under_roof(s: Structure, lines: Floats) -> Flags:
    """Which runs end at their top under a roof's edge."""
    eaves = shapely.linestrings(s.segments[s.eaves].reshape(-1, 2, 2))
    roofs = shapely.STRtree(np.concatenate([s.mesh.faces[s.bands], eaves]))
    result = np.zeros(len(lines), bool)
    tops = shapely.points(lines[:, 2:])
    result[roofs.query(tops, predicate="dwithin", distance=2.0 * s.gap)[0]] = True
    return result


def stands_before_rows(one: int, other: int, lines: Floats, s: Structure) -> bool:
    """Whether rows of a cladding stop at both sides of two uprights and go on at the same heights.

    Args:
        one: an upright.
        other: one close beside it.
        lines: the runs, those that cross the ground cut off there.
        s: the structure of the elevation.

    Returns:
        True where most rows do and hardly any runs through between the two.
    """
    left, right = sorted((one, other), key=lambda i: float(lines[i, 0]))
    low, high = lines[one, 1] + s.gap, lines[one, 3] - s.gap
    rows = lines[s.runs.level]
    rows = rows[(rows[:, 1] > low) & (rows[:, 1] < high)]
    through = rows_through(lines[left, 0], lines[right, 0], rows)
    stop = rows[np.abs(rows[:, 2] - lines[left, 0]) <= 2.0 * s.gap, 1]
    start = rows[np.abs(rows[:, 0] - lines[right, 0]) <= 2.0 * s.gap, 1]
    fewer, more = sorted((_heights(stop, s.gap), _heights(start, s.gap)), key=len)
    if len(fewer) < constants.BEHIND_ROWS or through > (1.0 - constants.BEHIND_SHARE) * len(fewer):
        return False
    apart = np.abs(fewer[:, None] - more[None, :]).min(axis=1)
    return bool((apart <= s.gap).mean() >= constants.BEHIND_SHARE)


def rows_run_through(one: int, other: int, lines: Floats, s: Structure) -> bool:
    """Whether rows of a cladding run through between two uprights: these have no post between them.

    Args:
        one: an upright.
        other: one close beside it.
        lines: the runs, those that cross the ground cut off there.
        s: the structure of the elevation.

    Returns:
        True where as many rows do as tell that they go on.
    """
    return is_clad_through((*lines[one, :2], lines[other, 0], lines[one, 3]), lines, s)


def is_clad_through(stretch: Sequence[float], lines: Floats, s: Structure) -> bool:
    """Whether rows of a cladding run through a stretch between two uprights.

    Args:
        stretch: its sides, foot and head: x, lowest y, x, highest y.
        lines: the runs.
        s: the structure of the elevation.

    Returns:
        True where as many rows do as tell that they go on.
    """
    x0, low, x1, high = stretch
    rows = lines[s.runs.level & s.texture.any]
    rows = rows[(rows[:, 1] > low + s.gap) & (rows[:, 1] < high - s.gap)]
    return rows_through(x0, x1, rows) >= constants.BEHIND_ROWS


def rows_through(x0: float, x1: float, rows: Floats) -> int:
    """How many rows run over the middle between two uprights.

    Args:
        x0: the place of one.
        x1: that of the other.
        rows: level runs, shape (n, 4).

    Returns:
        Their number.
    """
    middle = (x0 + x1) / 2.0
    return int(((rows[:, 0] < middle) & (rows[:, 2] > middle)).sum())


def battens_go_on(one: int, other: int, lines: Floats, s: Structure) -> bool:
    """Whether battens on both sides of two uprights are in one step.

    Args:
        one: an upright.
        other: one close beside it.
        lines: the runs, those that cross the ground cut off there.
        s: the structure of the elevation.

    Returns:
        True where the ones next to them on either side are, and have no line between them.
    """
    left, right = sorted((float(lines[one, 0]), float(lines[other, 0])))
    high = lines[one, 3] - lines[one, 1]
    shared = np.minimum(lines[:, 3], lines[one, 3]) - np.maximum(lines[:, 1], lines[one, 1])
    x = lines[:, 0]
    battens = s.texture.battens & (shared >= 0.5 * high)
    if (battens & (x > left + s.gap) & (x < right - s.gap)).any():
        return False
    reach = constants.BEHIND_REACH_M * s.metre
    sides = [
        battens & (x > left - reach) & (x < left - s.gap),
        battens & (x > right + s.gap) & (x < right + reach),
    ]
    if any(side.sum() < constants.BEHIND_LEAST for side in sides):
        return False
    steps = [float(np.nanmedian(s.texture.step[side])) for side in sides]
    if not abs(steps[0] - steps[1]) <= s.gap or steps[0] < constants.RHYTHM_LEAST_M * s.metre:
        return False
    away = x[sides[1]].min() - x[sides[0]].max()
    return bool(abs(away - steps[0] * np.rint(away / steps[0])) <= s.gap)


def _heights(y: Floats, gap: float) -> Floats:
    return np.asarray(np.unique(np.rint(y / gap)) * gap)
