"""Ground, level lines and eaves: level lines on which the uprights of an elevation end.

          /\\
    ====/====\\====      eaves      a line on which corners end from below and that runs past them
      |        |
------|--------|----    level line runs through and past the elevation; no upright stands on it
------+--------+----    ground     a line on which corners end from above and that runs on past them
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs, runs_of
from dxf2veneer.propose.walls.ends import (
    held_ends,
    lies_over,
    loose_ends,
    lowest_free_ends,
    raked_ends,
    touching,
)
from dxf2veneer.propose.walls.steps import both_halves
from dxf2veneer.propose.walls.texture import Texture
from dxf2veneer.propose.walls.uneven import lies_over_ground, terrain, uneven_ground

Flags = NDArray[np.bool_]


def level_lines(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Flags:
    """Which segments are level lines: they run through and past the elevation; none is the ground.

    The ground is the lowest such line on which uprights stand.

    Args:
        segments: lines of the elevation, shape (n, 4).
        runs: the same lines joined.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each segment.
    """
    result = np.zeros(len(segments), bool)
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre)
    if not tall.any():
        return result
    x0, x1 = runs.lines[tall, 0].min(), runs.lines[tall, 0].max()
    beyond = constants.THROUGH_BEYOND_M * metre
    rise = np.abs(runs.lines[:, 3] - runs.lines[:, 1])
    flat = rise <= constants.GROUND_SLOPE * (runs.lines[:, 2] - runs.lines[:, 0])
    through = np.flatnonzero(
        flat & (runs.lines[:, 0] <= x0 - beyond) & (runs.lines[:, 2] >= x1 + beyond)
    )
    if len(through) < 2:
        return result
    drawn = segments[tall[runs.member]]
    feet = np.where((drawn[:, 1] <= drawn[:, 3])[:, None], drawn[:, :2], drawn[:, 2:])
    stands = touching(shapely.linestrings(runs.lines[through].reshape(-1, 2, 2)), feet, 2.0 * gap)
    height = runs.lines[through][:, [1, 3]].mean(axis=1)
    order = np.argsort(height)
    ground = next((k for k in order.tolist() if len(stands[k])), int(order[0]))
    below = height[ground] - height
    twins = through[(below >= -gap) & (below <= constants.GROUND_DOUBLE_M * metre)]
    own = np.isin(runs.member, through)
    joints = shapely.STRtree(shapely.points(segments[~own].reshape(-1, 2)))
    ends = shapely.points(segments[own].reshape(-1, 2))
    met = np.zeros(2 * own.sum(), bool)
    met[joints.query(ends, predicate="dwithin", distance=2.0 * gap)[0]] = True
    free = np.zeros(len(segments), bool)
    free[own] = ~met.reshape(-1, 2).any(axis=1)
    others = np.ones(len(runs.lines), bool)
    others[through] = False
    loose = loose_ends(runs, among=others)
    for r in through[runs.level[through] & loose[through].all(axis=1)].tolist():
        mine = runs.member == r
        kept = np.sort(segments[mine & ~free][:, [0, 2]], axis=1)
        goes_on = (kept[:, 0] <= x0 - beyond) & (kept[:, 1] >= x0 - gap)
        goes_on |= (kept[:, 1] >= x1 + beyond) & (kept[:, 0] <= x1 + gap)
        if r not in twins or goes_on.any():  # the ground lies on in other pieces
            result |= mine & free
    return result


def ground_and_eaves(
    segments: Floats, runs: Runs, texture: Texture, *, gap: float, metre: float
) -> tuple[Flags, Flags]:
    """Which lines are ground and which eaves: where uprights end on them, and whether they run on
    past these.

    Args:
        segments: lines of the elevation without level lines, shape (n, 4).
        runs: the same lines joined.
        texture: which runs are cladding.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Two flags for each segment.
    """
    low, high = _upright_ends(segments, runs, texture, metre)
    long = runs.length >= constants.EAVES_LEAST_M * metre
    flat = np.flatnonzero(~runs.upright & (long | terrain(runs, gap, metre)))
    if not len(flat) or not len(low):
        return np.zeros(len(segments), bool), np.zeros(len(segments), bool)
    lines = shapely.linestrings(runs.lines[flat].reshape(-1, 2, 2))
    stands = dict(zip(flat.tolist(), touching(lines, low, 2.0 * gap), strict=True))
    hangs = dict(zip(flat.tolist(), touching(lines, high, 2.0 * gap), strict=True))
    feet = {r: low[points, 0] for r, points in stands.items()}
    tops = {r: high[points, 0] for r, points in hangs.items()}
    known = _ground_runs(runs, texture, feet, tops, gap, metre)[runs.member]
    whole = both_halves(segments, runs, known, gap=gap, metre=metre)
    if (whole & ~known).any():
        whole &= ~_over_others(segments, runs, whole, gap, metre)
    lowest = _lowest(segments, runs, whole, gap, metre)
    ground = np.zeros(len(runs.lines), bool)
    ground[runs.member[lowest]] = True
    corners = _on_ground(segments[lowest], low, gap)
    eaves = np.zeros(len(segments), bool)
    under = {r: high[points[corners[points]], 0] for r, points in hangs.items()}
    held, raked = held_ends(runs, metre), raked_ends(runs, metre)
    for r, x in under.items():
        if len(x) and not ground[r] and not texture.crossed[r]:
            corners_ = float(x.min()), float(x.max())
            eaves |= _eaves_over(segments, runs, r, corners_, held[r], raked[r], metre)
    return lowest, eaves


def _ground_runs(
    runs: Runs,
    texture: Texture,
    feet: dict[int, Floats],
    tops: dict[int, Floats],
    gap: float,
    metre: float,
) -> Flags:
    """Which runs are ground, given where uprights stand on each and where they end under it."""
    ground: Flags = np.zeros(len(runs.lines), bool)
    free = lowest_free_ends(runs, gap, metre)
    tall = runs.lines[
        runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre) & ~texture.any
    ]
    weak = []
    for r, below in feet.items():
        x0, y0, x1, y1 = runs.lines[r].tolist()
        if not free[r].any() or abs(y1 - y0) > constants.GROUND_SLOPE * (x1 - x0):
            continue
        rises = (free[r, 0] & (below <= x0 + 2.0 * gap)) | (free[r, 1] & (below >= x1 - 2.0 * gap))
        on = _apart(below[~rises], gap)
        under = _apart(tops[r], gap)
        sunk = np.concatenate([on, _sunk(runs.lines[r], tall, metre)])
        if not len(sunk):
            continue
        hanging = under[(under > x0 + 2.0 * gap) & (under < x1 - 2.0 * gap)]
        outer = np.concatenate([sunk, under])
        beyond = max(outer.min() - x0, x1 - outer.max())
        if len(sunk) >= len(hanging) and beyond >= constants.GROUND_BEYOND_M * metre:
            ground[r] = len(on) > 2 * len(hanging)
            weak += [] if ground[r] else [r]
    for r in weak:
        ground[r] = not lies_over(
            runs.lines[r], runs.lines[ground | np.isin(np.arange(len(ground)), weak)], gap
        )
    ground |= _past_all(runs, gap, metre)
    uneven = uneven_ground(runs, feet, tops, gap=gap, metre=metre)
    for r in np.flatnonzero(ground & ~uneven).tolist():  # a level line over it is none
        ground[r] = not lies_over_ground(runs.lines[r], runs.lines[uneven])
    ground |= uneven
    fenced = ground & ~loose_ends(runs).any(axis=1)
    known = runs.lines[ground & ~fenced] * [1, -1, 1, -1]
    known[:, [1, 3]] += constants.GROUND_DOUBLE_M * metre
    for r in np.flatnonzero(fenced).tolist():  # under the ground a line is the foot of a footing
        ground[r] = not lies_over(runs.lines[r] * [1, -1, 1, -1], known, gap)
    known = runs.lines[ground].copy()
    known[:, [1, 3]] += constants.CORNER_LEAST_M * metre
    for r in np.flatnonzero(ground).tolist():  # the sides of a roof stand on a level line, too
        ground[r] = not lies_over(runs.lines[r], known, gap)
    return np.asarray(ground | _risers(runs, ground, gap))


def _past_all(runs: Runs, gap: float, metre: float) -> Flags:
    """Which run is the lowest that passes the whole building and ends on nothing, with something
    standing on it, however low: the deck of a porch hides the feet of the walls."""
    result = np.zeros(len(runs.lines), bool)
    tall = runs.upright & (runs.length > constants.FENCE_MOST_M * metre)
    x0, y0, x1, y1 = runs.lines.T
    flat = ~runs.upright & (np.abs(y1 - y0) <= constants.GROUND_SLOPE * (x1 - x0))
    if not tall.any() or not flat.any():
        return result
    beyond = constants.GROUND_BEYOND_M * metre
    flat &= (x0 <= x0[tall].min() - beyond) & (x1 >= x1[tall].max() + beyond)
    some = np.flatnonzero(flat & loose_ends(runs).all(axis=1))
    feet = runs.lines[runs.upright, :2]
    lines = shapely.linestrings(runs.lines[some].reshape(-1, 2, 2))
    stood_on = [len(_apart(feet[on, 0], gap)) > 1 for on in touching(lines, feet, 2.0 * gap)]
    some = some[np.array(stood_on, dtype=bool)]
    result[some[np.argsort(y0[some] + y1[some])][:1]] = True
    return result


def _apart(x: Floats, gap: float) -> Floats:
    """Places along a line, those within a gap as one."""
    return np.unique(np.rint(x / gap)) * gap


def _eaves_over(
    segments: Floats,
    runs: Runs,
    run: int,
    corners: tuple[float, float],
    held: Flags,
    raked: Flags,
    metre: float,
) -> Flags:
    """The segments of a run that are the eaves over corners, whose outermost are given: it runs
    on past one of them, a little."""
    low, high = corners
    x0, _, x1, _ = runs.lines[run]
    over = ((low - x0) * ~held[0], (x1 - high) * ~held[1])
    if not any(constants.EAVES_BEYOND_M <= o / metre <= constants.WING_OVERHANG_M for o in over):
        return np.zeros(len(segments), bool)
    reach = constants.WING_OVERHANG_M * metre
    low, high = x0 if raked[0] else low, x1 if raked[1] else high  # up to the rake of a gable
    ends = np.sort(segments[:, [0, 2]], axis=1)
    mine = (runs.member == run) & (ends[:, 0] <= high + reach) & (ends[:, 1] >= low - reach)
    within = mine & (ends[:, 0] >= low - reach) & (ends[:, 1] <= high + reach)
    return np.asarray(within if within.any() else mine)


def _lowest(segments: Floats, runs: Runs, all_: Flags, gap: float, metre: float) -> Flags:
    """Which segments of ground have none lower under half of them: a floor line may go on from the
    upper part of a ground with a step."""
    result = all_.copy()
    lines = runs_of(segments[all_ & ~runs.upright[runs.member]], gap=gap).lines
    for i in np.flatnonzero(all_ & ~runs.upright[runs.member]).tolist():
        x, y = np.sort(segments[i, [0, 2]]), segments[i, [1, 3]].mean()
        shared = np.minimum(lines[:, 2], x[1]) - np.maximum(lines[:, 0], x[0])
        along = (x.mean() - lines[:, 0]) / np.maximum(lines[:, 2] - lines[:, 0], 1e-12)
        under = lines[:, 1] + np.clip(along, 0.0, 1.0) * (lines[:, 3] - lines[:, 1])
        lower = under < y - 2.0 * constants.GROUND_DOUBLE_M * metre
        result[i] = not (lower & (shared >= 0.5 * (x[1] - x[0]))).any()
    left = np.unique(runs.member[result])
    return result | (all_ & ~np.isin(runs.member, left))


def _over_others(segments: Floats, runs: Runs, ground: Flags, gap: float, metre: float) -> Flags:
    """Which segments belong to lines high over other ground: the sides of a roof stand on a level
    line, too."""
    level = ground & ~runs.upright[runs.member]
    lines = runs_of(segments[level], gap=gap)
    known = lines.lines.copy()
    known[:, [1, 3]] += constants.CORNER_LEAST_M * metre
    high = [lies_over(line, known, gap) for line in lines.lines]
    result = np.zeros(len(segments), bool)
    result[level] = np.array(high, dtype=bool)[lines.member]
    return result


def _on_ground(ground: Floats, feet: Floats, gap: float) -> Flags:
    """Which feet stand on the ground; all of them where no ground is drawn."""
    if not len(ground):
        return np.ones(len(feet), bool)
    result = np.zeros(len(feet), bool)
    lines = shapely.linestrings(ground.reshape(-1, 2, 2))
    result[
        shapely.STRtree(lines).query(shapely.points(feet), predicate="dwithin", distance=2.0 * gap)[
            0
        ]
    ] = True
    return result


def _sunk(line: Floats, uprights: Floats, metre: float) -> Floats:
    """Where uprights cross a line and end little below it: corners drawn down to footings."""
    x0, y0, x1, y1 = line
    x = uprights[:, 0]
    y = y0 + (y1 - y0) * (x - x0) / max(x1 - x0, 1e-12)
    below, above = y - uprights[:, 1], uprights[:, 3] - y
    return np.asarray(
        x[
            (x > x0)
            & (x < x1)
            & (below > 0)
            & (below <= constants.FOOTING_M * metre)
            & (above > below)
        ]
    )


def _risers(runs: Runs, ground: Flags, gap: float) -> Flags:
    """Uprights that join the ends of two pieces of ground: its steps."""
    result = np.zeros(len(ground), bool)
    if ground.sum() < 2:
        return result
    lines = runs.lines[ground]
    ends = np.vstack([lines[:, :2], lines[:, 2:]])
    uprights = np.flatnonzero(runs.upright)
    points = runs.lines[uprights].reshape(-1, 2)
    met = np.zeros(len(points), bool)
    for end in ends:
        met |= (np.abs(points - end) <= 2.0 * gap).all(axis=1)
    result[uprights] = met.reshape(-1, 2).all(axis=1)
    return result


def _upright_ends(
    segments: Floats, runs: Runs, texture: Texture, metre: float
) -> tuple[Floats, Floats]:
    """The feet and the tops of uprights as they were drawn and of the runs they make, cladding
    left out."""
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre) & ~texture.any
    drawn = segments[tall[runs.member]]
    lines = np.vstack([drawn, runs.lines[tall]])
    swap = lines[:, 1] > lines[:, 3]
    lines[swap] = lines[swap][:, [2, 3, 0, 1]]
    return lines[:, :2], lines[:, 2:]
