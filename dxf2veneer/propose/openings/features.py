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
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.openings.arches import have_curved_heads, stones_over


class Parts(NamedTuple):
    """Lines that part candidates from side to side, all of shape (c,).

    ``mullions``: uprights from foot to head; ``bars``: level lines from jamb to jamb; ``slats``:
    level lines across most of the width, any frame round them left out.
    """

    mullions: Ints
    bars: Ints
    slats: Ints


class Features(NamedTuple):
    """Evidence for each candidate, all of shape (c,)."""

    boxes: Floats
    upright_free: Ints
    """How many of the four ends of its jambs no upright line runs on from."""
    heads_free: Ints
    """How many of the two tops of its jambs no upright line runs on from."""
    level_free: Ints
    """How many of the four ends of its head and sill no level line runs on from."""
    goes_on: NDArray[np.bool_]
    """Whether head and sill both run on at one side: the end of a railing, of a band."""
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
    """How many lines run through both its jambs, higher than a railing before it, or through its
    head and sill."""
    full: Floats
    """The share of its box that it fills."""
    inside: Ints
    """How many lines lie wholly inside it."""
    above: Ints
    """How many lines of a cladding run over its head and on at both sides."""
    braced: Ints
    """How many of its two diagonals are drawn from corner to corner."""
    curved: NDArray[np.bool_]
    """Whether it is a curved head on two jambs."""
    stones: Ints
    """How many joints of stones lie between it and the next curved head in it."""
    stands: NDArray[np.bool_]
    """Whether its foot alone runs on at both sides: it stands on the ground or on a floor."""
    pierced: Ints
    """How many uprights that begin in it run on past its head: jambs behind a railing."""
    carried: Ints
    """How many uprights stand on its head between its jambs: the sides of a post on its plinth."""
    parts: Parts
    """What parts it from side to side."""


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
    boxes = shapely.bounds(found).reshape(-1, 4)
    level, upright = runs.lines[runs.level], runs.lines[runs.upright]
    beyond, frame = constants.OVERSHOOT_M * metre, constants.BARS_SHORT_M * metre
    feet, heads = (
        np.sum([_runs_on(upright, boxes[:, [x, y]], (0.0, s * beyond), gap) for x in (0, 2)], 0)
        for y, s in ((1, -1), (3, 1))
    )
    sides = np.stack(
        [
            [_runs_on(level, boxes[:, [x, y]], (s * beyond, 0.0), gap) for y in (1, 3)]
            for x, s in ((0, -1), (2, 1))
        ]
    )
    curved = have_curved_heads(found, boxes, gap)
    frames, part_of = _nested(boxes, metre)
    left = _ends_at(level[:, 2:], boxes[:, 0], boxes, gap)
    right = _ends_at(level[:, :2], boxes[:, 2], boxes, gap)
    return Features(
        boxes,
        4 - feet - heads,
        2 - heads,
        4 - sides.sum(axis=(0, 1)),
        np.asarray(sides.all(axis=1).any(axis=0)),
        frames,
        part_of,
        np.minimum(left, right),
        _parted(level, boxes, gap),
        _behind(level, boxes, gap),
        _parted(upright[:, _TURNED], boxes[:, _TURNED], gap),
        _passing(upright, boxes, gap),
        _crossings(runs.lines, boxes, gap, metre),
        _fullness(found, boxes),
        _inside(runs.lines, boxes, gap),
        _above(level, boxes, gap, metre),
        _diagonals(runs, boxes, gap),
        curved,
        stones_over(found, curved, runs.lines[~runs.level & ~runs.upright], gap=gap),
        np.asarray(sides[:, 0].all(axis=0) & ~sides[:, 1].any(axis=0)),
        *_over_heads(upright, boxes, gap),
        Parts(
            _parting(upright[:, _TURNED], boxes[:, _TURNED], frame, gap),
            _parting(level, boxes, frame, gap),
            _slats(level, boxes, gap),
        ),
    )


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


def _runs_on(lines: Floats, corners: Floats, by: tuple[float, float], gap: float) -> Ints:
    """1 where one of the lines passes a corner and runs on by a step; one that begins beyond a bar
    does not."""
    result = np.zeros(len(corners), dtype=np.int64)
    if not len(lines):
        return result
    tree = shapely.STRtree(shapely.linestrings(lines.reshape(-1, 2, 2)))
    corner, line = tree.query(
        shapely.points(corners + np.array(by)), predicate="dwithin", distance=gap
    )
    x, y = corners[corner].T
    x0, y0, x1, y1 = lines[line].T
    passes = (x >= np.minimum(x0, x1) - 2.0 * gap) & (x <= np.maximum(x0, x1) + 2.0 * gap)
    passes &= (y >= np.minimum(y0, y1) - 2.0 * gap) & (y <= np.maximum(y0, y1) + 2.0 * gap)
    result[corner[passes]] = 1
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


def _ends_at(ends: Floats, x: Floats, boxes: Floats, gap: float) -> Ints:
    """How many line ends lie on an upright side between sill and head."""
    if not len(ends):
        return np.zeros(len(x), dtype=np.int64)
    inset = np.minimum(2.0 * gap, (boxes[:, 3] - boxes[:, 1]) / 4.0)
    sides: Any = shapely.linestrings(
        np.stack([x, boxes[:, 1] + inset, x, boxes[:, 3] - inset], axis=1).reshape(-1, 2, 2)
    )
    hit = shapely.STRtree(shapely.points(ends)).query(sides, predicate="dwithin", distance=gap)[0]
    return np.bincount(hit, minlength=len(x))


_TURNED = [1, 0, 3, 2]
"""Columns of lines and boxes with x and y exchanged."""


def _parted(lines: Floats, boxes: Floats, gap: float) -> Ints:
    """How many lines end at the left side of each box and go on at its right side."""
    if not len(lines):
        return np.zeros(len(boxes), dtype=np.int64)
    inset = np.minimum(2.0 * gap, (boxes[:, 3] - boxes[:, 1]) / 4.0)
    keys = [
        _heights(ends, x, boxes, inset, gap)
        for ends, x in ((lines[:, 2:], boxes[:, 0]), (lines[:, :2], boxes[:, 2]))
    ]
    return _matching(keys[0], keys[1], len(boxes))


def _heights(ends: Floats, x: Floats, boxes: Floats, inset: Floats, gap: float) -> Ints:
    """Rows of a box and a height over its foot, in gaps, of line ends on an upright in it."""
    sides: Any = shapely.linestrings(
        np.stack([x, boxes[:, 1] + inset, x, boxes[:, 3] - inset], axis=1).reshape(-1, 2, 2)
    )
    box, end = shapely.STRtree(shapely.points(ends)).query(sides, predicate="dwithin", distance=gap)
    height = np.rint((ends[end, 1] - boxes[box, 1]) / gap).astype(np.int64)
    return np.stack([box, height], axis=1)


def _behind(level: Floats, boxes: Floats, gap: float) -> Ints:
    """How many level lines in each box, half as long as it is wide or longer, lie at the height of
    a line that ends at its left side: its cladding, seen between two posts."""
    if not len(level):
        return np.zeros(len(boxes), dtype=np.int64)
    inset = np.minimum(2.0 * gap, (boxes[:, 3] - boxes[:, 1]) / 4.0)
    outside = _heights(level[:, 2:], boxes[:, 0], boxes, inset, gap)
    grown = shapely.box(*(boxes + np.array([-gap, -gap, gap, gap])).T)
    box, line = shapely.STRtree(shapely.linestrings(level.reshape(-1, 2, 2))).query(
        grown, predicate="covers"
    )
    long = level[line, 2] - level[line, 0] >= 0.5 * (boxes[box, 2] - boxes[box, 0])
    height = np.rint((level[line, 1] - boxes[box, 1]) / gap).astype(np.int64)
    return _matching(np.stack([box, height], axis=1)[long], outside, len(boxes))


def _matching(one: Ints, two: Ints, count: int) -> Ints:
    """For each box how many rows of box and height have a partner at most one step higher or
    lower."""
    rows = int(max(one[:, 1].max(initial=0), two[:, 1].max(initial=0))) + 3
    here, there = (k[:, 0] * rows + k[:, 1] + 1 for k in (one, two))
    here = np.unique(here[np.isin(here, np.concatenate([there - 1, there, there + 1]))])
    return np.bincount(here // rows, minlength=count)


def _passing(upright: Floats, boxes: Floats, gap: float) -> Ints:
    """How many upright lines beside each box, no farther than it is wide, run past head and sill,
    on the side that has fewer."""
    if not len(upright):
        return np.zeros(len(boxes), dtype=np.int64)
    wide = boxes[:, 2] - boxes[:, 0]
    middle = (boxes[:, 1] + boxes[:, 3]) / 2.0
    across: Any = shapely.linestrings(
        np.stack([boxes[:, 0] - wide, middle, boxes[:, 2] + wide, middle], axis=1).reshape(-1, 2, 2)
    )
    box, line = shapely.STRtree(shapely.linestrings(upright.reshape(-1, 2, 2))).query(
        across, predicate="intersects"
    )
    x, b = upright[line, 0], boxes[box]
    past = (upright[line, 1] < b[:, 1] - 2.0 * gap) & (upright[line, 3] > b[:, 3] + 2.0 * gap)
    left, right = x < b[:, 0] - 2.0 * gap, x > b[:, 2] + 2.0 * gap
    counts = [np.bincount(box[past & side], minlength=len(boxes)) for side in (left, right)]
    return np.asarray(np.minimum(*counts))


def _crossings(lines: Floats, boxes: Floats, gap: float, metre: float) -> Ints:
    """How many lines run right through a box and on at both ends, those of a railing left out."""
    if not len(lines):
        return np.zeros(len(boxes), dtype=np.int64)
    made: NDArray[Any] = shapely.linestrings(lines.reshape(-1, 2, 2))
    inner = shapely.box(boxes[:, 0] + gap, boxes[:, 1] + gap, boxes[:, 2] - gap, boxes[:, 3] - gap)
    box, line = shapely.STRtree(made).query(inner, predicate="intersects")
    low, high = (
        np.minimum(lines[:, :2], lines[:, 2:])[line],
        np.maximum(lines[:, :2], lines[:, 2:])[line],
    )
    b, beyond = boxes[box], constants.OVERSHOOT_M * metre
    railing = np.minimum(
        constants.RAILING_MOST_M * metre, constants.RAILING_SHARE * (b[:, 3] - b[:, 1])
    )
    across = (low[:, 0] < b[:, 0] - beyond) & (high[:, 0] > b[:, 2] + beyond)
    across &= high[:, 1] > b[:, 1] + railing
    along = (low[:, 1] < b[:, 1] - beyond) & (high[:, 1] > b[:, 3] + beyond)
    return np.bincount(box[across | along], minlength=len(boxes))


def _over_heads(upright: Floats, boxes: Floats, gap: float) -> tuple[Ints, Ints]:
    """How many uprights that begin in each box, or at its foot, run on past its head, and how many
    begin at its head."""
    if not len(upright):
        return np.zeros(len(boxes), dtype=np.int64), np.zeros(len(boxes), dtype=np.int64)
    inset, head = np.minimum(2.0 * gap, (boxes[:, 2] - boxes[:, 0]) / 4.0), boxes[:, 3]
    heads: Any = shapely.linestrings(
        np.stack([boxes[:, 0] + inset, head, boxes[:, 2] - inset, head], axis=1).reshape(-1, 2, 2)
    )
    box, line = shapely.STRtree(shapely.linestrings(upright.reshape(-1, 2, 2))).query(
        heads, predicate="dwithin", distance=gap
    )
    (_, low, _, high), b = upright[line].T, boxes[box]
    past = high > b[:, 3] + 2.0 * gap
    within = (low >= b[:, 1] - 2.0 * gap) & (low < b[:, 3] - 2.0 * gap)
    on = np.abs(low - b[:, 3]) <= gap
    count = len(boxes)
    return np.bincount(box[within & past], minlength=count), np.bincount(
        box[on & past], minlength=count
    )


def _parting(lines: Floats, boxes: Floats, short: float, gap: float) -> Ints:
    """How many level lines run from side to side of each box, or end a little short of a side, at
    different heights."""
    if not len(lines):
        return np.zeros(len(boxes), dtype=np.int64)
    box, line = shapely.STRtree(shapely.linestrings(lines.reshape(-1, 2, 2))).query(
        shapely.box(*boxes.T), predicate="intersects"
    )
    (x0, y, x1, _), b = lines[line].T, boxes[box]
    across = (np.abs(x0 - b[:, 0]) <= short) & (np.abs(x1 - b[:, 2]) <= short)
    across &= (x1 - x0 >= 0.5 * (b[:, 2] - b[:, 0])) & (y > b[:, 1] + short) & (y < b[:, 3] - short)
    height = np.rint((y - b[:, 1]) / short).astype(np.int64)[across]
    return np.bincount(_distinct_pairs(box[across], height), minlength=len(boxes))


def _distinct_pairs(box: Ints, height: Ints) -> Ints:
    """The boxes of different pairs of box and height."""
    return np.asarray(np.unique(np.stack([box, height], axis=1), axis=0)[:, 0], dtype=np.int64)


def _slats(level: Floats, boxes: Floats, gap: float) -> Ints:
    """How many level lines in each box are half as wide as it or wider."""
    if not len(level):
        return np.zeros(len(boxes), dtype=np.int64)
    grown = shapely.box(*(boxes + np.array([-gap, -gap, gap, gap])).T)
    box, line = shapely.STRtree(shapely.linestrings(level.reshape(-1, 2, 2))).query(
        grown, predicate="covers"
    )
    long = level[line, 2] - level[line, 0] >= 0.5 * (boxes[box, 2] - boxes[box, 0])
    return np.bincount(box[long], minlength=len(boxes))


def _fullness(found: Polygons, boxes: Floats) -> Floats:
    size = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    return np.asarray(shapely.area(found) / size)


def _inside(lines: Floats, boxes: Floats, gap: float) -> Ints:
    """How many lines lie inside each box, those along its border left out."""
    made: NDArray[Any] = shapely.linestrings(lines.reshape(-1, 2, 2))
    grown = shapely.box(boxes[:, 0] - gap, boxes[:, 1] - gap, boxes[:, 2] + gap, boxes[:, 3] + gap)
    box, line = shapely.STRtree(made).query(grown, predicate="covers")
    middle = (lines[line, :2] + lines[line, 2:]) / 2.0
    b = boxes[box]
    within = (
        (middle[:, 0] > b[:, 0] + gap)
        & (middle[:, 0] < b[:, 2] - gap)
        & (middle[:, 1] > b[:, 1] + gap)
        & (middle[:, 1] < b[:, 3] - gap)
    )
    return np.bincount(box[within], minlength=len(boxes))


def _above(level: Floats, boxes: Floats, gap: float, metre: float) -> Ints:
    """How many level lines close above each box run on beyond both its jambs."""
    if not len(level):
        return np.zeros(len(boxes), dtype=np.int64)
    x, head = (boxes[:, 0] + boxes[:, 2]) / 2.0, boxes[:, 3]
    up: Any = shapely.linestrings(
        np.stack([x, head + 2.0 * gap, x, head + constants.BOARD_MOST_M * metre], axis=1).reshape(
            -1, 2, 2
        )
    )
    box, line = shapely.STRtree(shapely.linestrings(level.reshape(-1, 2, 2))).query(
        up, predicate="intersects"
    )
    beyond = constants.RUNS_ON_M * metre
    on = (level[line, 0] < boxes[box, 0] - beyond) & (level[line, 2] > boxes[box, 2] + beyond)
    return np.bincount(box[on], minlength=len(boxes))
