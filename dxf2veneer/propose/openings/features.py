"""What tells an opening from a board, a stone, a step or a stretch of wall.

free corner    no line runs on past it:       framed: another outline close inside on all sides
       |            +-----                     +-----------+
    ---+---         |                          | +-------+ |     stopped: boards or stones end
       |    no      |     yes                  | |       | |     at both jambs and leave a gap
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
import shapely

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs


class Features(NamedTuple):
    """Evidence for each candidate, all of shape (c,)."""

    boxes: Floats
    upright_free: Ints
    """How many of the four ends of its jambs no upright line runs on from."""
    heads_free: Ints
    """How many of the two tops of its jambs no upright line runs on from."""
    level_free: Ints
    """How many of the four ends of its head and sill no level line runs on from."""
    frames: Ints
    """How many candidates lie close inside it on all sides."""
    part_of: Ints
    """How many candidates it lies close inside of."""
    stopped: Ints
    """How many lines end at its left jamb or its right one from outside, whichever has fewer."""
    parted_level: Ints
    """How many level lines end at its left jamb and go on at its right one."""
    behind: Ints
    """How many level lines in it lie at the heights of those that it parts."""
    parted_upright: Ints
    """How many upright lines end at its head and go on at its sill."""
    passed: Ints
    """How many upright lines near beside it run past both its head and its sill, on the side that
    has fewer."""
    crossed: Ints
    """How many lines run through both its jambs, or through its head and sill."""
    full: Floats
    """The share of its box that it fills."""
    inside: Ints
    """How many lines lie wholly inside it."""
    above: Ints
    """How many lines of a cladding run over its head and on at both sides."""
    braced: Ints
    """How many of its two diagonals are drawn from corner to corner."""


def features_of(found: Polygons, runs: Runs, *, gap: float, metre: float) -> Features:
    """The evidence for each candidate.

    Args:
        found: outlines that may be openings.
        runs: all lines of the view.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The features, in the order of the candidates.
    """
    boxes, count = shapely.bounds(found).reshape(-1, 4), len(found)
    level, upright = (
        _Lines(runs.lines[which], shapely.STRtree(runs.shapes[which]))
        for which in (runs.level, runs.upright)
    )
    beyond = constants.OVERSHOOT_M * metre
    passed = _runs_on(upright, boxes[:, [0, 2]], boxes[:, [1, 3]] + (-beyond, beyond), gap)
    feet, heads = passed.sum(axis=1).T
    sides = _runs_on(level, boxes[:, [0, 2]] + (-beyond, beyond), boxes[:, [1, 3]], gap)
    frames, part_of = _nested(boxes, metre)
    left, right = _stopped(level.lines, boxes, gap)
    below, above = _stopped(upright.lines[:, _TURNED], boxes[:, _TURNED], gap)
    held = _held(runs, boxes, gap)
    return Features(
        boxes,
        4 - feet - heads,
        2 - heads,
        4 - sides.sum(axis=(1, 2)),
        frames,
        part_of,
        np.minimum(*(np.bincount(some[:, 0], minlength=count) for some in (left, right))),
        _matching(left, right, count),
        _behind(runs, held, left, boxes, gap),
        _matching(below, above, count),
        _passing(upright, boxes, gap),
        _crossings(runs, boxes, gap, beyond),
        _fullness(found, boxes),
        _inside(runs.lines, held, boxes, gap),
        _above(level, boxes, gap, metre),
        _diagonals(runs, boxes, gap),
    )


class _Lines(NamedTuple):
    """Some lines, shape (n, 4), and the tree in which they are looked up."""

    lines: Floats
    tree: shapely.STRtree


_Pairs = tuple[Ints, Ints]
"""Numbers of boxes and of lines, a pair for each line of a box."""


def _held(runs: Runs, boxes: Floats, gap: float) -> _Pairs:
    """Which runs lie wholly in each box, its border with them."""
    low, high = boxes[:, :2] - gap, boxes[:, 2:] + gap
    box, line = runs.tree.query(shapely.box(*low.T, *high.T))
    first, last = runs.lines[line, :2], runs.lines[line, 2:]
    within = (np.minimum(first, last) >= low[box]) & (np.maximum(first, last) <= high[box])
    return box[within.all(axis=1)], line[within.all(axis=1)]


def _diagonals(runs: Runs, boxes: Floats, gap: float) -> Ints:
    """How many of both diagonals of each box are drawn: the braces of a leaf."""
    result = np.zeros(len(boxes), dtype=np.int64)
    lines = runs.lines[~runs.level & ~runs.upright]
    if not len(lines):
        return result
    rising = (lines[:, 2] >= lines[:, 0]) == (lines[:, 3] >= lines[:, 1])
    low, high = np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])
    tree = shapely.STRtree(shapely.points(boxes[:, :2]))
    line, box = tree.query(shapely.points(low), predicate="dwithin", distance=3.0 * gap)
    same = np.abs(high[line] - boxes[box, 2:]).max(axis=1, initial=0.0) <= 3.0 * gap
    for way in (rising, ~rising):
        result[np.unique(box[same & way[line]])] += 1
    return result


def _runs_on(lines: _Lines, x: Floats, y: Floats, gap: float) -> Ints:
    """1 where one of the lines passes a point: for each box at each of two x and each of two y."""
    result = np.zeros((len(x), 2, 2), dtype=np.int64)
    points = shapely.points(*np.broadcast_arrays(x[:, :, None], y[:, None, :]))
    passed = lines.tree.query(points.ravel(), predicate="dwithin", distance=gap)[0]
    result.reshape(-1)[passed] = 1
    return result


def _nested(boxes: Floats, metre: float) -> tuple[Ints, Ints]:
    """For each box how many others lie close inside, and how many it lies close inside of."""
    made = shapely.box(*boxes.T)
    slack = constants.JOIN_GAP_M * metre  # the feet of a door and of its frame are never quite one
    grown = shapely.box(*(boxes + slack * np.array([-1.0, -1.0, 1.0, 1.0])).T)
    outer, inner = shapely.STRtree(made).query(grown, predicate="covers")
    margins = (
        np.abs(boxes[outer] - boxes[inner]) / metre
    )  # left, bottom, right, top; a door's frame has no bottom
    apart = (margins[:, [0, 2, 3]] > constants.FRAME_LEAST_M).all(axis=1)
    close = (outer != inner) & (margins.max(axis=1, initial=0.0) <= constants.FRAME_MOST_M) & apart
    count = len(boxes)
    return np.bincount(outer[close], minlength=count), np.bincount(inner[close], minlength=count)


_TURNED = [1, 0, 3, 2]
"""Columns of lines and boxes with x and y exchanged."""


def _stopped(lines: Floats, boxes: Floats, gap: float) -> tuple[Ints, Ints]:
    """The ends of lines that stop at the left side of each box, and of those that begin at its
    right side, between sill and head: rows of a box and a height over its foot, in gaps."""
    inset = np.minimum(2.0 * gap, (boxes[:, 3] - boxes[:, 1]) / 4.0)
    found = []
    for ends, x in ((lines[:, 2:], boxes[:, 0]), (lines[:, :2], boxes[:, 2])):
        sides: Any = shapely.linestrings(
            np.stack([x, boxes[:, 1] + inset, x, boxes[:, 3] - inset], axis=1).reshape(-1, 2, 2)
        )
        box, end = shapely.STRtree(shapely.points(ends)).query(
            sides, predicate="dwithin", distance=gap
        )
        height = np.rint((ends[end, 1] - boxes[box, 1]) / gap).astype(np.int64)
        found.append(np.stack([box, height], axis=1))
    return found[0], found[1]


def _behind(runs: Runs, held: _Pairs, left: Ints, boxes: Floats, gap: float) -> Ints:
    """How many level lines in each box, half as long as it is wide or longer, lie at the height of
    a line that ends at its left side: its cladding, seen between two posts."""
    box, line = held
    long = runs.lines[line, 2] - runs.lines[line, 0] >= 0.5 * (boxes[box, 2] - boxes[box, 0])
    box, line = box[runs.level[line] & long], line[runs.level[line] & long]
    height = np.rint((runs.lines[line, 1] - boxes[box, 1]) / gap).astype(np.int64)
    return _matching(np.stack([box, height], axis=1), left, len(boxes))


def _matching(one: Ints, two: Ints, count: int) -> Ints:
    """For each box how many rows of box and height have a partner at most one step higher or
    lower."""
    rows = int(max(one[:, 1].max(initial=0), two[:, 1].max(initial=0))) + 3
    here, there = (k[:, 0] * rows + k[:, 1] + 1 for k in (one, two))
    here = np.unique(here[np.isin(here, np.concatenate([there - 1, there, there + 1]))])
    return np.bincount(here // rows, minlength=count)


def _passing(upright: _Lines, boxes: Floats, gap: float) -> Ints:
    """How many upright lines beside each box, no farther than it is wide, run past head and sill,
    on the side that has fewer."""
    wide = boxes[:, 2] - boxes[:, 0]
    middle = (boxes[:, 1] + boxes[:, 3]) / 2.0
    across: Any = shapely.linestrings(
        np.stack([boxes[:, 0] - wide, middle, boxes[:, 2] + wide, middle], axis=1).reshape(-1, 2, 2)
    )
    box, line = upright.tree.query(across, predicate="intersects")
    (x, low, _, high), b = upright.lines[line].T, boxes[box]
    past = (low < b[:, 1] - 2.0 * gap) & (high > b[:, 3] + 2.0 * gap)
    left, right = x < b[:, 0] - 2.0 * gap, x > b[:, 2] + 2.0 * gap
    counts = [np.bincount(box[past & side], minlength=len(boxes)) for side in (left, right)]
    return np.asarray(np.minimum(*counts))


def _crossings(runs: Runs, boxes: Floats, gap: float, beyond: float) -> Ints:
    """How many lines run right through a box and on at both ends."""
    inner = shapely.box(boxes[:, 0] + gap, boxes[:, 1] + gap, boxes[:, 2] - gap, boxes[:, 3] - gap)
    box, line = runs.tree.query(inner, predicate="intersects")
    first, last = runs.lines[line, :2], runs.lines[line, 2:]
    low, high, b = np.minimum(first, last), np.maximum(first, last), boxes[box]
    across = (low[:, 0] < b[:, 0] - beyond) & (high[:, 0] > b[:, 2] + beyond)
    along = (low[:, 1] < b[:, 1] - beyond) & (high[:, 1] > b[:, 3] + beyond)
    return np.bincount(box[across | along], minlength=len(boxes))


def _fullness(found: Polygons, boxes: Floats) -> Floats:
    size = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    return np.asarray(shapely.area(found) / size)


def _inside(lines: Floats, held: _Pairs, boxes: Floats, gap: float) -> Ints:
    """How many lines lie inside each box, those along its border left out."""
    box, line = held
    middle = (lines[line, :2] + lines[line, 2:]) / 2.0
    b = boxes[box]
    within = (
        (middle[:, 0] > b[:, 0] + gap)
        & (middle[:, 0] < b[:, 2] - gap)
        & (middle[:, 1] > b[:, 1] + gap)
        & (middle[:, 1] < b[:, 3] - gap)
    )
    return np.bincount(box[within], minlength=len(boxes))


def _above(level: _Lines, boxes: Floats, gap: float, metre: float) -> Ints:
    """How many level lines close above each box run on beyond both its jambs."""
    x, head = (boxes[:, 0] + boxes[:, 2]) / 2.0, boxes[:, 3]
    up: Any = shapely.linestrings(
        np.stack([x, head + 2.0 * gap, x, head + constants.BOARD_MOST_M * metre], axis=1).reshape(
            -1, 2, 2
        )
    )
    box, line = level.tree.query(up, predicate="intersects")
    (x0, _, x1, _), beyond = level.lines[line].T, constants.RUNS_ON_M * metre
    on = (x0 < boxes[box, 0] - beyond) & (x1 > boxes[box, 2] + beyond)
    return np.bincount(box[on], minlength=len(boxes))
