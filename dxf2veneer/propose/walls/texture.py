"""Which lines are cladding: boards and battens in even steps, courses and joints of stone, slabs.

-----------------      even: the same step above and below     --+-----+---   joints end on a
-----------------      (or two steps that take turns)            |     |      course line from
-----------------                                              ----+-----+-   both sides
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Mesh
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.walls.ends import loose_ends, returned_past
from dxf2veneer.propose.walls.masonry import outlines_of_stones

Flags = NDArray[np.bool_]


class Texture(NamedTuple):
    """For each run whether it is part of a cladding, and the step to its neighbours (nan: none).

    ``crossed``: level runs that an upright crosses far from their ends, which no eaves is.
    ``joints``: uprights among the slabs with two more at even steps, both to one side or on each.
    ``steady``: boards and battens in the rhythm of their neighbours on both sides; the others stand
    closer to one of these, as the last one before a corner and the corner do.
    """

    boards: Flags
    battens: Flags
    stones: Flags
    slabs: Flags
    crossed: Flags
    joints: Flags
    steady: Flags
    step: Floats

    @property
    def any(self) -> Flags:
        """Whether a run is part of any cladding."""
        return self.boards | self.battens | self.stones | self.slabs


def texture_of(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Texture:
    """Find the lines of claddings among runs.

    Args:
        segments: lines of a view without those in its openings, shape (n, 4).
        runs: the same lines joined.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Flags and steps for each run; the outermost line of a cladding is not flagged.
    """
    count = len(runs.lines)
    boards, battens, steady = (np.zeros(count, bool) for _ in range(3))
    step = np.full(count, np.nan)
    for flags, which, turn in (
        (boards, runs.level, [0, 1, 2, 3]),
        (battens, runs.upright, [1, 0, 3, 2]),
    ):
        index = np.flatnonzero(which & (runs.length >= constants.CLADDING_LINE_M * metre))
        even, sound, pitch = _even(
            runs.lines[index][:, turn], constants.CLADDING_STEP_M * metre, gap
        )
        flags[index] = even
        steady[index] = sound
        step[index] = pitch
    boards &= ~_bounds(segments, runs, turn=False, gap=gap)
    battens &= ~_bounds(segments, runs, turn=True, gap=gap)
    slabs, crossed = _slabs(segments, runs, gap=gap, metre=metre)
    stones = _stones(runs, gap=gap, metre=metre)
    stones |= outlines_of_stones(runs, gap=gap, metre=metre)
    joints = _in_step(runs, slabs & runs.upright, gap, metre)
    return Texture(boards, battens, stones, slabs, crossed, joints, steady, step)


def amid_boards(boxes: Floats, runs: Runs, texture: Texture, gap: float) -> Flags:
    """Which lines or strips lie amid boards: a board runs a step over them, another a step under.

    Args:
        boxes: level lines or strips, rows of x0, y0, x1, y1.
        runs: the runs of the elevation.
        texture: which of them are cladding.
        gap: how far a board may be off, half of it, in drawing units.

    Returns:
        One flag for each.
    """
    lines, step = runs.lines[texture.boards], texture.step[texture.boards]
    order = np.argsort(lines[:, 1], kind="stable")
    lines, pitch = lines[order], np.rint(step[order] / gap)
    result = np.zeros(len(boxes), bool)
    for number in np.unique(pitch[np.isfinite(pitch)]).tolist():
        own = lines[np.abs(pitch - number) <= 1.0]
        sides = [np.zeros(len(boxes), bool), np.zeros(len(boxes), bool)]
        for side, column, way in zip(sides, (3, 1), (1.0, -1.0), strict=True):
            y = boxes[:, column] + way * number * gap
            first = np.searchsorted(own[:, 1], y - 2.0 * gap)
            last = np.searchsorted(own[:, 1], y + 2.0 * gap)
            for i in np.flatnonzero(last > first).tolist():
                near = own[first[i] : last[i]]
                shared = np.minimum(near[:, 2], boxes[i, 2]) - np.maximum(near[:, 0], boxes[i, 0])
                wide = boxes[i, 2] - boxes[i, 0]
                side[i] = np.maximum(shared, 0.0).sum() >= constants.AMID_SHARE * wide
        result |= sides[0] & sides[1]
    return result


def courses_run_on(mesh: Mesh, runs: Runs, texture: Texture) -> Flags:
    """Whether a course line of stone along each face runs on past its left and its right end, as
    it does past a joint and not past the end of a band; shape (f, 2).

    ----+-----------+----
        |   face    |
    --+-+---------+-+----

    Args:
        mesh: the faces of the elevation.
        runs: the runs of its lines.
        texture: which of them are cladding.

    Returns:
        Two flags for each face.
    """
    run = runs.member[mesh.source]
    course = texture.stones[run] & ~runs.upright[run]
    first, last = mesh.boxes[:, 2].copy(), mesh.boxes[:, 0].copy()
    for side in (0, 1):
        face = mesh.sides[:, side]
        used = course & (face >= 0)
        np.minimum.at(first, face[used], runs.lines[run[used], 0])
        np.maximum.at(last, face[used], runs.lines[run[used], 2])
    past = mesh.boxes[:, 0] - first, last - mesh.boxes[:, 2]
    return np.stack(past, axis=1) > 2.0 * runs.gap


def _even(lines: Floats, most: float, gap: float) -> tuple[Flags, Flags, Floats]:
    """Which level lines have neighbours at even steps, which of these on both sides, the step."""
    count = len(lines)
    order = np.argsort(lines[:, 1], kind="stable")
    x0, x1, y = lines[order, 0], lines[order, 2], (lines[order, 1] + lines[order, 3]) / 2.0
    up = _next_above(x0, x1, y, 2.0 * most, gap)
    down = _next_above(x0[::-1], x1[::-1], -y[::-1], 2.0 * most, gap)[::-1]
    down = np.where(down >= 0, count - 1 - down, -1)
    steps = [
        np.where(s[:, k] >= 0, np.abs(y[s[:, k]] - y), np.nan) for s in (down, up) for k in (0, 1)
    ]
    one = (np.abs(steps[0] - steps[2]) <= constants.STEP_SLACK * steps[0] + gap) & (
        steps[0] <= most
    )
    two = (np.abs(steps[1] - steps[3]) <= constants.STEP_SLACK * steps[1] + gap) & (
        steps[1] <= most
    )
    step = np.where(one, steps[0], np.where(two, steps[1], np.nan))
    sound = _in_family(step, [up[:, 0], down[:, 0]], gap) | (
        _in_family(step, [up[:, 1], down[:, 1]], gap) & ~one
    )
    family = np.where(sound, step, np.nan)
    known = np.fmax(_of_neighbour(family, up[:, 0]), _of_neighbour(family, down[:, 0]))
    long = np.fmax(_of_neighbour(x1 - x0, up[:, 0]), _of_neighbour(x1 - x0, down[:, 0]))
    between = (np.maximum(steps[0], steps[2]) <= 1.1 * known + gap) & (x1 - x0 <= 1.5 * long)
    even, steady, pitch = np.empty(count, bool), np.empty(count, bool), np.empty(count)
    even[order], steady[order] = sound | between, sound
    pitch[order] = np.where(sound, step, np.where(between, known, np.nan))
    return even, steady, pitch


def _next_above(x0: Floats, x1: Floats, y: Floats, most: float, gap: float) -> Ints:
    """For each of some level lines in order of their height the next two heights at which another
    lies beside it: numbers of lines, -1 for none, shape (n, 2)."""
    count = len(y)
    result = np.full((count, 2), -1, dtype=np.int64)
    far = np.maximum(np.searchsorted(y, y + most) - np.arange(count) - 1, 0)
    start = np.cumsum(far) - far
    begin = np.unique(np.searchsorted(start, np.arange(0, far.sum(), _PAIRS_AT_ONCE)))
    for a, b in pairwise((*begin.tolist(), count)):
        own = np.repeat(np.arange(a, b), far[a:b])
        other = own + 1 + np.arange(start[a], start[a] + len(own)) - start[own]
        shared = np.minimum(x1[own], x1[other]) - np.maximum(x0[own], x0[other])
        rise = np.abs(y[other] - y[own])
        beside = shared >= 0.5 * np.minimum(x1[own] - x0[own], x1[other] - x0[other])
        beside &= rise > gap
        own, other = own[beside], other[beside]
        step = np.rint(rise[beside] / gap)
        line, at, times = np.unique(own, return_index=True, return_counts=True)
        result[line, 0] = other[at]
        farther = step > np.repeat(step[at], times)
        line, at = np.unique(own[farther], return_index=True)
        result[line, 1] = other[farther][at]
    return result


_PAIRS_AT_ONCE = 1 << 18
"""Pairs of lines that are looked at together, so that thousands of them fit into memory."""


def _of_neighbour(values: Floats, neighbour: Ints) -> Floats:
    return np.where(neighbour >= 0, values[neighbour], np.nan)


def _in_family(step: Floats, neighbours: list[Ints], gap: float) -> Flags:
    """Whether a neighbour has the same step."""
    alike = [
        np.abs(_of_neighbour(step, n) - step) <= constants.STEP_SLACK * step + gap
        for n in neighbours
    ]
    return alike[0] | alike[1]


def _stones(runs: Runs, *, gap: float, metre: float) -> Flags:
    """Joints between courses, and course lines with joints on both sides."""
    count = len(runs.lines)
    result = np.zeros(count, dtype=bool)
    short = np.flatnonzero(runs.upright & (runs.length <= constants.STONE_MOST_M * metre))
    level = np.flatnonzero(runs.level)
    if len(short) < constants.STONE_JOINTS or not len(level):
        return result
    tree = shapely.STRtree(shapely.linestrings(runs.lines[level].reshape(-1, 2, 2)))
    ends = []
    for columns in ((0, 1), (2, 3)):
        points = runs.lines[short][:, columns]
        joint, line = tree.query(shapely.points(points), predicate="dwithin", distance=gap)
        x = points[joint, 0]
        inner = (x > runs.lines[level[line], 0] + 2.0 * gap) & (
            x < runs.lines[level[line], 2] - 2.0 * gap
        )
        ends.append((joint[inner], line[inner]))
    both = np.intersect1d(ends[0][0], ends[1][0])
    if len(both) < constants.STONE_JOINTS:
        return result
    result[short[both]] = True
    above = np.bincount(ends[0][1][np.isin(ends[0][0], both)], minlength=len(level))
    below = np.bincount(ends[1][1][np.isin(ends[1][0], both)], minlength=len(level))
    result[level[(above > 0) & (below > 0)]] = True
    return result


def _slabs(segments: Floats, runs: Runs, *, gap: float, metre: float) -> tuple[Flags, Flags]:
    """Joints of slabs: lines that cross, which no corner and no end of a wall does.

    |    |    |     An upright that level lines cross is a joint, or the edge of a corner's board;
    +----+----+     a level line is one where even uprights cross it. Lines that end on nothing
    |    |    |     at both ends, as level lines and grid lines do, don't count.

    Returns:
        The joints, and the level runs that uprights cross far from their ends.
    """
    result, crossed = (np.zeros(len(runs.lines), dtype=bool) for _ in range(2))
    held = ~loose_ends(runs)[runs.member].all(axis=1)
    level = np.flatnonzero(runs.level[runs.member] & held)
    upright = np.flatnonzero(runs.upright[runs.member] & held)
    if not len(level) or not len(upright):
        return result, crossed
    lines = shapely.linestrings(segments.reshape(-1, 2, 2))
    one, two = shapely.STRtree(lines[level]).query(lines[upright], predicate="crosses")
    a, b = segments[upright[one]], segments[level[two]]
    x, y = a[:, [0, 2]].mean(axis=1), b[:, [1, 3]].mean(axis=1)
    rise = np.abs(a[:, [1, 3]] - y[:, None]).min(axis=1)
    reach = np.abs(b[:, [0, 2]] - x[:, None]).min(axis=1)
    through = (rise > 2.0 * gap) & (reach > 2.0 * gap)
    behind = (rise <= constants.BAND_MOST_M * metre) & (reach <= constants.WING_OVERHANG_M * metre)
    through &= ~(behind & (a[:, [1, 3]].max(axis=1) - y <= rise + gap))  # a corner behind a fascia
    up, across = runs.member[upright[one]], runs.member[level[two]]
    through &= ~returned_past(runs, across, x, metre)
    result[up[through]] = True
    inner = through & (reach > constants.SLAB_END_M * metre)
    crossed[across[inner]] = True
    places = np.unique(
        np.stack([across[inner], np.rint(x[inner] / (2.0 * gap)).astype(np.int64)], axis=1), axis=0
    )
    steps = np.diff(places[:, 1]) * 2.0 * gap
    alike = (places[2:, 0] == places[:-2, 0]) & (np.abs(steps[1:] - steps[:-1]) <= 4.0 * gap)
    result[places[2:, 0][alike & (steps[1:] >= constants.SLAB_LEAST_M * metre)]] = True
    return result, crossed


def _in_step(runs: Runs, which: Flags, gap: float, metre: float) -> Flags:
    """Which of some uprights have two more at even steps to one side or one on each, those left out
    that have another close by, as the sides of posts have."""
    result = np.zeros(len(which), bool)
    index = np.flatnonzero(which)
    lines = runs.lines[index]
    least = constants.SLAB_LEAST_M * metre
    away = np.abs(lines[:, 0] - lines[:, [0]])
    same = np.abs(lines[:, None, [1, 3]] - lines[None, :, [1, 3]]).max(axis=2) <= 2.0 * gap
    single = ~(same & (away > 2.0 * gap) & (away <= least)).any(axis=1)
    x = lines[single, 0]
    for i in index[single].tolist():
        steps = x - runs.lines[i, 0]
        far = steps[np.abs(steps) > least][None, :]
        even = np.abs(steps[:, None] - 2.0 * far), np.abs(steps[:, None] + far)
        result[i] = (np.minimum(*even) <= 2.0 * gap).any()
    return result


def _bounds(segments: Floats, runs: Runs, *, turn: bool, gap: float) -> Flags:
    """Level runs (upright ones for ``turn``) on which lines across end at two places or more.

    Boards and battens run beside each other; what others end on bounds their cladding.
    """
    along, across = (runs.upright, runs.level) if turn else (runs.level, runs.upright)
    index = np.flatnonzero(along)
    ends = segments[across[runs.member]].reshape(-1, 2)
    result = np.zeros(len(runs.lines), dtype=bool)
    if not len(index) or not len(ends):
        return result
    tree = shapely.STRtree(shapely.linestrings(runs.lines[index].reshape(-1, 2, 2)))
    end, line = tree.query(shapely.points(ends), predicate="dwithin", distance=gap)
    at = ends[end, 1 if turn else 0]
    lines = runs.lines[index[line]]
    low, high = (lines[:, 1], lines[:, 3]) if turn else (lines[:, 0], lines[:, 2])
    inner = (at > low + 2.0 * gap) & (at < high - 2.0 * gap)
    first, last = np.full(len(result), np.inf), np.full(len(result), -np.inf)
    np.minimum.at(first, index[line[inner]], at[inner])
    np.maximum.at(last, index[line[inner]], at[inner])
    result[:] = last - first > 2.0 * gap
    return result
