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
from dxf2veneer.propose.openings.casings import Straight, is_one_board
from dxf2veneer.propose.openings.joints import courses_in, sides_in_joints
from dxf2veneer.propose.openings.louvres import louvred_shapes
from dxf2veneer.propose.openings.near import (
    behind,
    crossings,
    ends_alike,
    half_across,
    inside,
    matching,
    near_of,
    over_heads,
    parting,
    runs_on,
    stopped,
)


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
    """How many of the four ends of its head and sill no level line runs on from; where mullions or
    bars part it, its lintel and its sill together are no such lines."""
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
    """The share of its box that it fills; of a garage door of the part above its jambs'
    feet."""
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
    louvred: NDArray[np.bool_]
    """Whether it is a vent that is no rectangle, filled with slats."""
    stands: NDArray[np.bool_]
    """Whether its foot alone runs on at both sides: it stands on the ground or on a floor."""
    pierced: Ints
    """How many uprights that begin in it run on past its head: jambs behind a railing."""
    carried: Ints
    """How many uprights stand on its head between its jambs: the sides of a post on its plinth."""
    lintel: NDArray[np.bool_]
    """Whether mullions or bars part it and a lintel lies on its head, as long past both its jambs,
    while its foot runs on at both sides: on the ground, on a floor."""
    parts: Parts
    """What parts it from side to side."""
    in_joints: Ints
    """On how many of its sides lines of neighbours accompany it, as far away as a joint is wide."""
    courses: Ints
    """How many joints of courses lie in it: a pier of stone between boards."""


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
    near, level, upright = near_of(runs, boxes, gap)
    beyond, frame = constants.OVERSHOOT_M * metre, constants.BARS_SHORT_M * metre
    feet, heads = runs_on(upright, 1, beyond).sum(axis=1).T
    sides = runs_on(level, 0, beyond)
    stands = sides[:, :, 0].all(axis=1) & ~sides[:, :, 1].any(axis=1)
    mullions, bars = parting(upright.turned, frame), parting(level, frame)
    alike = ends_alike(level, beyond, constants.SILL_BEYOND_M * metre)
    parted = mullions + bars > 0
    sides[alike.all(axis=1) & parted] = 0
    lintel = alike[:, 1] & sides[:, :, 0].all(axis=1) & parted  # the ground runs on at its foot
    curved = have_curved_heads(found, boxes, gap)
    frames, part_of = _nested(
        boxes, Straight(runs.lines[runs.level], runs.lines[runs.upright], gap), metre
    )
    left, right = stopped(level)
    full, within = _fullness(found, boxes, metre), inside(near.some(near.held))
    slats = half_across(level.some(level.held))
    return Features(
        boxes,
        4 - feet - heads,
        2 - heads,
        4 - sides.sum(axis=(1, 2)),
        np.asarray(sides.min(axis=2).max(axis=1) > 0),
        frames,
        part_of,
        np.minimum(*(np.bincount(some[:, 0], minlength=len(boxes)) for some in (left, right))),
        matching(left, right, len(boxes)),
        behind(slats, left),
        matching(*stopped(upright.turned), len(boxes)),
        _passing(runs, boxes, gap),
        crossings(near, metre),
        full,
        within,
        _above(runs, boxes, gap, metre),
        _diagonals(runs, boxes, gap),
        curved,
        stones_over(found, curved, runs.lines[~runs.level & ~runs.upright], gap=gap),
        louvred_shapes(found, full, within, level, metre=metre),
        np.asarray(stands),
        *over_heads(upright),
        lintel,
        Parts(
            mullions,
            bars,
            np.bincount(slats.box, minlength=len(boxes)),
        ),
        sides_in_joints(boxes, runs, gap=gap, metre=metre),
        courses_in(upright, slats),
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


def _nested(boxes: Floats, lines: Straight, metre: float) -> tuple[Ints, Ints]:
    """For each box how many others lie close inside, and how many it lies close inside of; a head
    higher than other frames' is one board."""
    made = shapely.box(*boxes.T)
    slack = constants.JOIN_GAP_M * metre  # the feet of a door and of its frame are never quite one
    grown = shapely.box(*(boxes + slack * np.array([-1.0, -1.0, 1.0, 1.0])).T)
    outer, inner = shapely.STRtree(made).query(grown, predicate="covers")
    margins = (
        np.abs(boxes[outer] - boxes[inner]) / metre
    )  # left, bottom, right, top; a door's frame has no bottom
    apart = (margins[:, [0, 2, 3]] > constants.FRAME_LEAST_M).all(axis=1)
    most = np.full(4, constants.FRAME_MOST_M)
    most[3] = constants.CASING_HEAD_M
    close = (outer != inner) & (margins <= most).all(axis=1) & apart
    high = np.flatnonzero(close & (margins[:, 3] > constants.BARS_SHORT_M))
    around, within = boxes[outer[high]], boxes[inner[high]]
    close[high] = is_one_board(around, within[:, 3], around[:, 3], lines, metre)
    count = len(boxes)
    return np.bincount(outer[close], minlength=count), np.bincount(inner[close], minlength=count)


def _passing(runs: Runs, boxes: Floats, gap: float) -> Ints:
    """How many upright lines beside each box, no farther than it is wide, run past head and sill,
    on the side that has fewer."""
    wide = boxes[:, 2] - boxes[:, 0]
    middle = (boxes[:, 1] + boxes[:, 3]) / 2.0
    across: Any = shapely.linestrings(
        np.stack([boxes[:, 0] - wide, middle, boxes[:, 2] + wide, middle], axis=1).reshape(-1, 2, 2)
    )
    box, line = runs.tree.query(across)
    (_, low, _, high), b = runs.lines[line].T, boxes[box]
    past = runs.upright[line] & (low < b[:, 1] - 2.0 * gap) & (high > b[:, 3] + 2.0 * gap)
    box, line = box[past], line[past]
    meets = shapely.intersects(across[box], runs.shapes[line])
    x, b = runs.lines[line, 0], boxes[box]
    left, right = x < b[:, 0] - 2.0 * gap, x > b[:, 2] + 2.0 * gap
    counts = [np.bincount(box[meets & side], minlength=len(boxes)) for side in (left, right)]
    return np.asarray(np.minimum(*counts))


def _fullness(found: Polygons, boxes: Floats, metre: float) -> Floats:
    """The share of its box that each outline fills; of a garage door on uneven ground the part
    above both feet of its jambs counts."""
    size = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    result = np.asarray(shapely.area(found) / size)
    wide, high = (boxes[:, 2:] - boxes[:, :2]).T
    may = (result < constants.PLAIN_FULLNESS) & (result >= constants.OPENING_FULLNESS)
    may &= wide >= constants.GARAGE_LEAST_M * metre  # what is narrower has a threshold or a step
    some = np.flatnonzero(may & (high >= constants.DOOR_LEAST_M * metre))
    if not len(some):
        return result
    corners, owner = shapely.get_coordinates(found[some], return_index=True)
    foot = boxes[some, 1].copy()
    for side in (0, 2):
        at = np.abs(corners[:, 0] - boxes[some[owner], side]) <= constants.JOIN_GAP_M * metre
        low = boxes[some, 3].copy()
        np.minimum.at(low, owner[at], corners[at, 1])
        foot = np.maximum(foot, low)
    near = foot - boxes[some, 1] <= constants.UNEVEN_FOOT * high[some]
    some, foot = some[near], foot[near]
    above = shapely.box(boxes[some, 0], foot, boxes[some, 2], boxes[some, 3])
    shared = shapely.area(shapely.intersection(found[some], above))
    result[some] = np.maximum(result[some], shared / shapely.area(above))
    return result


def _above(runs: Runs, boxes: Floats, gap: float, metre: float) -> Ints:
    """How many level lines close above each box run on beyond both its jambs."""
    x, head = (boxes[:, 0] + boxes[:, 2]) / 2.0, boxes[:, 3]
    up: Any = shapely.linestrings(
        np.stack([x, head + 2.0 * gap, x, head + constants.BOARD_MOST_M * metre], axis=1).reshape(
            -1, 2, 2
        )
    )
    box, line = runs.tree.query(up)
    (x0, _, x1, _), b, beyond = runs.lines[line].T, boxes[box], constants.RUNS_ON_M * metre
    on = runs.level[line] & (x0 < b[:, 0] - beyond) & (x1 > b[:, 2] + beyond)
    box, line = box[on], line[on]
    return np.bincount(box[shapely.intersects(up[box], runs.shapes[line])], minlength=len(boxes))
