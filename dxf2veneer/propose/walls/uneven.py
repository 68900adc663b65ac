"""Uneven ground: lines of several slopes, one from the end of the other, on which corners stand.

   |        |____,-----      the last piece
   |     ,-"|                a bank may be as steep as one in one
---+----`---+                the first piece
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.ends import loose_ends

Flags = NDArray[np.bool_]


def links(runs: Runs, gap: float, metre: float) -> Flags:
    """Which runs are as level as ground and go on, at one of their ends, in another long one; a
    bank does so at both.

    Args:
        runs: lines of an elevation.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each run.
    """
    result = np.zeros(len(runs.lines), bool)
    rise, width = np.abs(runs.lines[:, 3] - runs.lines[:, 1]), runs.lines[:, 2] - runs.lines[:, 0]
    long = runs.length >= constants.LINK_LEAST_M * metre
    sloped = np.flatnonzero(long & ~runs.upright & (rise <= width))
    gentle = rise <= constants.GROUND_SLOPE * width
    met = np.zeros((len(runs.lines), 2), bool)
    for end, (own, other) in enumerate(((slice(0, 2), slice(2, 4)), (slice(2, 4), slice(0, 2)))):
        away = runs.lines[sloped][:, None, own] - runs.lines[sloped][None, :, other]
        met[sloped, end] = (np.abs(away).max(axis=2, initial=0.0) <= 2.0 * gap).any(axis=1)
    result[sloped] = np.where(gentle, met.any(axis=1), met.all(axis=1))[sloped]
    return result


def terrain(runs: Runs, gap: float, metre: float) -> Flags:
    """Which runs are pieces of a line along half of the building or more that turns little by
    little: a terrain drawn as a curve, whose chords are too short to be told by themselves.

    Args:
        runs: lines of an elevation.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each run.
    """
    result = np.zeros(len(runs.lines), bool)
    x0, y0, x1, y1 = runs.lines.T
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre)
    gentle = np.flatnonzero(~runs.upright & (np.abs(y1 - y0) <= x1 - x0))
    if not tall.any() or not len(gentle):
        return result
    wide = x0[tall].max() - x0[tall].min()
    for pieces, first, last in _chains(runs.lines[gentle], gap):
        if x1[gentle[last]] - x0[gentle[first]] >= 0.5 * wide:
            result[gentle[pieces]] = True
    return result


def lies_over_ground(line: Floats, ground: Floats) -> bool:
    """Whether pieces of ground run lower under half of a line or more.

    Args:
        line: x0, y0, x1, y1 from left to right.
        ground: pieces, shape (n, 4), beside each other.

    Returns:
        True where they do.
    """
    lower = ground[np.maximum(ground[:, 1], ground[:, 3]) < min(line[1], line[3])]
    shared = np.minimum(lower[:, 2], line[2]) - np.maximum(lower[:, 0], line[0])
    return bool(np.maximum(shared, 0.0).sum() >= 0.5 * (line[2] - line[0]))


def uneven_ground(
    runs: Runs,
    feet: Mapping[int, Floats],
    tops: Mapping[int, Floats],
    *,
    gap: float,
    metre: float,
) -> Flags:
    """Which runs are the pieces of an uneven ground.

    Args:
        runs: lines of an elevation.
        feet: for each run that is not upright where uprights stand on it, along x.
        tops: for each of them where uprights end under it.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each run: those of chains whose outer pieces are no steeper than a ground, run
        on past all that stands on them and end on nothing, with uprights on them and none under.
    """
    result = np.zeros(len(runs.lines), bool)
    x0, y0, x1, y1 = runs.lines.T
    flat = np.flatnonzero(~runs.upright & (np.abs(y1 - y0) <= x1 - x0))
    loose = loose_ends(runs, gap)
    for chain in _chains(runs.lines[flat], gap):
        pieces, first, last = flat[chain[0]], flat[chain[1]], flat[chain[2]]
        outer = runs.lines[[first, last]]
        steep = np.abs(outer[:, 3] - outer[:, 1]) > constants.GROUND_SLOPE * (
            outer[:, 2] - outer[:, 0]
        )
        on = np.concatenate([feet.get(r, np.zeros(0)) for r in pieces.tolist()])
        under = np.concatenate([tops.get(r, np.zeros(0)) for r in pieces.tolist()])
        if not len(on) or steep.any() or not (loose[first, 0] and loose[last, 1]):
            continue
        past = on.min() - x0[first], x1[last] - on.max()
        result[pieces] = not len(under) and min(past) >= constants.GROUND_BEYOND_M * metre
    return result


def _chains(lines: Floats, gap: float) -> list[tuple[Ints, int, int]]:
    """The chains of lines that go on in each other from left to right.

    Args:
        lines: x0, y0, x1, y1 from left to right.
        gap: ends this near to each other meet.

    Returns:
        For each chain its lines, its first and its last: all that lie on a way from the one
        farthest to the left to the one farthest to the right.
    """
    if not len(lines):
        return []
    before, after = shapely.STRtree(shapely.points(lines[:, :2])).query(
        shapely.points(lines[:, 2:]), predicate="dwithin", distance=2.0 * gap
    )
    before, after = before[before != after], after[before != after]
    number = components(len(lines), np.stack([before, after], axis=1))
    found = []
    for n in np.flatnonzero(np.bincount(number) > 1).tolist():
        some = np.flatnonzero(number == n)
        first = int(some[np.argmin(lines[some, 0])])
        last = int(some[np.argmax(lines[some, 2])])
        links = np.isin(before, some)
        ahead = _reached(first, before[links], after[links])
        back = _reached(last, after[links], before[links])
        pieces = np.array(sorted(ahead & back), np.int64)
        if len(pieces) > 1:
            found.append((pieces, first, last))
    return found


def _reached(start: int, sources: Ints, ends: Ints) -> set[int]:
    """Where one comes to from a start along links, the start included."""
    found, ahead = {start}, [start]
    while ahead:
        ahead = [n for n in ends[np.isin(sources, ahead)].tolist() if n not in found]
        found.update(ahead)
    return found
