"""Uneven ground: lines of several slopes, one from the end of the other, on which corners stand.

   |        |____,-----      the last piece
   |     ,-"|                a bank may be as steep as one in one, a short face of it steeper
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


def terrain(runs: Runs, gap: float, metre: float, least: int = 2) -> Flags:
    """Which runs are pieces, however short, of a line that goes on from piece to piece along most
    of the building: a terrain drawn as a curve.

    Args:
        runs: lines of an elevation.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.
        least: fewest pieces of such a line.

    Returns:
        One flag for each run.
    """
    result = np.zeros(len(runs.lines), bool)
    tall = runs.upright & (runs.length > constants.FENCE_MOST_M * metre)
    flat = np.flatnonzero(_as_ground(runs, gap, metre))
    if not tall.any() or not len(flat):
        return result
    chain = components(len(flat), _onward(runs.lines[flat], gap))
    low, high = np.full(len(flat), np.inf), np.full(len(flat), -np.inf)
    np.minimum.at(low, chain, runs.lines[flat, 0])
    np.maximum.at(high, chain, runs.lines[flat, 2])
    wide = runs.lines[tall, 0].max() - runs.lines[tall, 0].min()
    pieces = np.bincount(chain, minlength=len(flat))
    along = (pieces >= least) & (high - low >= max(constants.GROUND_SPAN * wide, 1e-12))
    result[flat[along[chain]]] = True
    return result


def _as_ground(runs: Runs, gap: float, metre: float) -> Flags:
    """Which runs may be pieces of ground: those that rise no more than one in one, and short
    steeper ones between the ends of two long ones, the face of a bank or of a low wall."""
    rise, width = np.abs(runs.lines[:, 3] - runs.lines[:, 1]), runs.lines[:, 2] - runs.lines[:, 0]
    result: Flags = ~runs.upright & (rise <= width)
    least = constants.LINK_LEAST_M * metre
    steep = np.flatnonzero(~runs.upright & ~result & (runs.length < least))
    long = runs.lines[result & (runs.length >= least)]
    for own, other in ((slice(0, 2), slice(2, 4)), (slice(2, 4), slice(0, 2))):
        ends = shapely.STRtree(shapely.points(long[:, other]))
        at = shapely.points(runs.lines[steep, own])
        met = ends.query(at, predicate="dwithin", distance=2.0 * gap)[0]
        steep = steep[np.unique(met)]
    result[steep] = True
    return result


def _onward(lines: Floats, gap: float) -> Ints:
    """Pairs of a line and one that goes on at its right end: from there, or from a little before,
    as the foot of a door that lies on a piece of ground and makes one line with it."""
    shapes = shapely.linestrings(lines.reshape(-1, 2, 2))
    starts, ends = shapely.points(lines[:, :2]), shapely.points(lines[:, 2:])
    tree, near = shapely.STRtree(shapes), 2.0 * gap
    one, other = tree.query(ends, predicate="dwithin", distance=near)
    on = (lines[one, 0] < lines[other, 0]) & (lines[one, 2] < lines[other, 2])
    on &= shapely.dwithin(starts[other], shapes[one], near)
    return np.stack([one[on], other[on]], axis=1)


def _lowest(runs: Runs, pieces: Ints) -> Ints:
    """Those of some pieces that don't lie over others of them, as courses of stone that end on a
    slope do."""
    lines = runs.lines[pieces]
    over = [lies_over_ground(line, lines) for line in lines]
    return np.asarray(pieces[~np.array(over, dtype=bool)])


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
    x0, _, x1, _ = runs.lines.T
    flat = np.flatnonzero(_as_ground(runs, gap, metre))
    chain = components(len(flat), _onward(runs.lines[flat], gap))
    loose = loose_ends(runs)
    for number in np.flatnonzero(np.bincount(chain) > 1).tolist():
        pieces = _lowest(runs, flat[chain == number])
        first, last = pieces[np.argmin(x0[pieces])], pieces[np.argmax(x1[pieces])]
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
