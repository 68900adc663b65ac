"""The lines near each outline that may be an opening, and what they do there.

   |           |
---+===========+---     runs on: past a corner     stopped: ends at a jamb from outside
   |  -------  |        held: wholly in it         parting: from jamb to jamb
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs

_REACH_GAPS = 3.0
"""How far from a box lines are looked for, in gaps: farther than any rule here goes."""
_TURNED = [1, 0, 3, 2]
"""Columns of lines and boxes with x and y exchanged."""


@dataclass(frozen=True, eq=False)
class Near:
    """Pairs of a box and a line near it, looked up once for all rules.

    Attributes:
        box: the number of the box of each pair, shape (k,).
        boxes: that box, shape (k, 4).
        lines: the line, shape (k, 4), from its left end (upright ones from the lower).
        shapes: the line as a linestring.
        count: how many boxes there are.
        gap: ends this near to each other meet, in drawing units.
    """

    box: Ints
    boxes: Floats
    lines: Floats
    shapes: Polygons
    count: int
    gap: float

    def some(self, which: NDArray[np.bool_]) -> Near:
        """Some of the pairs.

        Args:
            which: one truth value for each.

        Returns:
            The pairs that are true.
        """
        at = np.flatnonzero(which)
        return replace(
            self,
            box=self.box[at],
            boxes=self.boxes[at],
            lines=self.lines[at],
            shapes=self.shapes[at],
        )

    def counted(self, which: NDArray[np.bool_]) -> Ints:
        """How many of some of the pairs each box has.

        Args:
            which: one truth value for each pair.

        Returns:
            One number for each box.
        """
        return np.bincount(self.box[which], minlength=self.count)

    @property
    def turned(self) -> Near:
        """The pairs with x and y exchanged, but for the shapes."""
        return replace(self, boxes=self.boxes[:, _TURNED], lines=self.lines[:, _TURNED])

    @property
    def held(self) -> NDArray[np.bool_]:
        """Whether each line lies wholly in its box, its border with it."""
        low, high = self.boxes[:, :2] - self.gap, self.boxes[:, 2:] + self.gap
        first, last = self.lines[:, :2], self.lines[:, 2:]
        within = (np.minimum(first, last) >= low) & (np.maximum(first, last) <= high)
        return np.asarray(within.all(axis=1))


def near_of(runs: Runs, boxes: Floats, gap: float) -> tuple[Near, Near, Near]:
    """The lines near each box.

    Args:
        runs: all lines of the view.
        boxes: shape (c, 4).
        gap: ends this near to each other meet, in drawing units.

    Returns:
        All of them, the level ones, the upright ones.
    """
    grown = boxes + _REACH_GAPS * gap * np.array([-1.0, -1.0, 1.0, 1.0])
    box, line = runs.tree.query(shapely.box(*grown.T))
    near = Near(box, boxes[box], runs.lines[line], runs.shapes[line], len(boxes), gap)
    return near, near.some(runs.level[line]), near.some(runs.upright[line])


def runs_on(near: Near, axis: int, beyond: float) -> Ints:
    """1 where a line passes a corner and runs on by a step; one that begins beyond a bar does not.

    Args:
        near: level or upright lines near boxes.
        axis: 0 for level lines, 1 for upright ones.
        beyond: the step away from the box, in drawing units.

    Returns:
        Shape (c, 2, 2): for each box on the left and on the right, at its foot and at its head.
    """
    result = np.zeros((near.count, 2, 2), dtype=np.int64)
    first, last, slack = near.lines[:, :2], near.lines[:, 2:], 2.0 * near.gap
    low, high = np.minimum(first, last) - slack, np.maximum(first, last) + slack
    passed = [
        (near.boxes[:, i::2] >= low[:, [i]]) & (near.boxes[:, i::2] <= high[:, [i]]) for i in (0, 1)
    ]
    for x, y in np.ndindex(2, 2):
        at = np.flatnonzero(passed[0][:, x] & passed[1][:, y])
        step = np.zeros(2)
        step[axis] = beyond * (2 * (x, y)[axis] - 1)
        ahead = shapely.points(near.boxes[at][:, [2 * x, 2 * y + 1]] + step)
        on = shapely.dwithin(ahead, near.shapes[at], near.gap)
        result[near.box[at[on]], x, y] = 1
    return result


def ends_alike(level: Near, beyond: float, most: float) -> NDArray[np.bool_]:
    """Where only a sill or a lintel runs on past the corners of a box, as far at one side as at
    the other; joints of stones and boards end where they happen to.

    Args:
        level: level lines near boxes.
        beyond: how far past a corner a line runs on, in drawing units.
        most: how far a sill or a lintel does, in drawing units.

    Returns:
        Shape (c, 2): for each box at its foot and at its head.
    """
    past = np.stack(
        [level.boxes[:, 0] - level.lines[:, 0], level.lines[:, 2] - level.boxes[:, 2]], axis=1
    )
    on = (past.max(axis=1) > beyond) & (level.lines[:, 0] < level.boxes[:, 2])
    on &= level.lines[:, 2] > level.boxes[:, 0]
    alike = (np.abs(past[:, 0] - past[:, 1]) <= 2.0 * level.gap) & (past.max(axis=1) <= most)
    result = np.zeros((level.count, 2), dtype=bool)
    for side in (0, 1):
        at = on & (np.abs(level.lines[:, 1] - level.boxes[:, 1 + 2 * side]) <= 2.0 * level.gap)
        result[:, side] = (level.counted(at & alike) > 0) & (level.counted(at & ~alike) == 0)
    return result


def stopped(near: Near) -> tuple[Ints, Ints]:
    """The ends of lines that stop at the left side of each box, and of those that begin at its
    right side, between sill and head.

    Args:
        near: level lines near boxes, or upright ones turned.

    Returns:
        For both sides rows of a box and a height over its foot, in gaps.
    """
    gap = near.gap
    low, high = near.boxes[:, 1], near.boxes[:, 3]
    inset = np.minimum(2.0 * gap, (high - low) / 4.0)
    found = []
    for ends, x in ((near.lines[:, 2:], near.boxes[:, 0]), (near.lines[:, :2], near.boxes[:, 2])):
        y = ends[:, 1]
        close = (np.abs(ends[:, 0] - x) <= 2.0 * gap) & (y >= low - gap) & (y <= high + gap)
        at = np.flatnonzero(close)
        sides: Any = shapely.linestrings(
            np.stack([x, low + inset, x, high - inset], axis=1)[at].reshape(-1, 2, 2)
        )
        at = at[shapely.dwithin(sides, shapely.points(ends[at]), gap)]
        height = np.rint((y[at] - low[at]) / gap).astype(np.int64)
        found.append(np.stack([near.box[at], height], axis=1))
    return found[0], found[1]


def matching(one: Ints, two: Ints, count: int) -> Ints:
    """For each box how many rows of box and height have a partner at most one step higher or
    lower.

    Args:
        one: rows of a box and a height, in steps.
        two: those that partners are looked for in.
        count: how many boxes there are.

    Returns:
        One number for each box; rows that are the same count once.
    """
    rows = int(max(one[:, 1].max(initial=0), two[:, 1].max(initial=0))) + 3
    here, there = (k[:, 0] * rows + k[:, 1] + 1 for k in (one, two))
    here = np.unique(here[np.isin(here, np.concatenate([there - 1, there, there + 1]))])
    return np.bincount(here // rows, minlength=count)


def half_across(held: Near) -> Near:
    """Level lines held that are half as long as their box is wide, or longer.

    Args:
        held: level lines that lie in boxes.

    Returns:
        Those pairs.
    """
    long = held.lines[:, 2] - held.lines[:, 0] >= 0.5 * (held.boxes[:, 2] - held.boxes[:, 0])
    return held.some(long)


def behind(slats: Near, left: Ints) -> Ints:
    """How many level lines across each box lie at the height of a line that ends at its left side:
    its cladding, seen between two posts.

    Args:
        slats: the level lines across boxes.
        left: rows of a box and a height of the lines that end at its left side.

    Returns:
        One number for each box.
    """
    height = np.rint((slats.lines[:, 1] - slats.boxes[:, 1]) / slats.gap).astype(np.int64)
    return matching(np.stack([slats.box, height], axis=1), left, slats.count)


def crossings(near: Near, metre: float) -> Ints:
    """How many lines run right through a box and on at both ends, those of a railing left out.

    Args:
        near: all lines near boxes.
        metre: drawing units in a metre.

    Returns:
        One number for each box.
    """
    first, last, b = near.lines[:, :2], near.lines[:, 2:], near.boxes
    low, high, beyond = (
        np.minimum(first, last),
        np.maximum(first, last),
        constants.OVERSHOOT_M * metre,
    )
    railing = np.minimum(
        constants.RAILING_MOST_M * metre, constants.RAILING_SHARE * (b[:, 3] - b[:, 1])
    )
    across = (low[:, 0] < b[:, 0] - beyond) & (high[:, 0] > b[:, 2] + beyond)
    across &= high[:, 1] > b[:, 1] + railing
    along = (low[:, 1] < b[:, 1] - beyond) & (high[:, 1] > b[:, 3] + beyond)
    long = near.some(across | along)
    inner = shapely.box(*(long.boxes + long.gap * np.array([1.0, 1.0, -1.0, -1.0])).T)
    return long.counted(shapely.intersects(inner, long.shapes))


def over_heads(upright: Near) -> tuple[Ints, Ints]:
    """How many uprights that begin in each box, or at its foot, run on past its head, and how many
    begin at its head.

    Args:
        upright: the upright lines near boxes.

    Returns:
        Both numbers for each box.
    """
    gap = upright.gap
    past = upright.some(upright.lines[:, 3] > upright.boxes[:, 3] + 2.0 * gap)
    (left, foot, right, head), low = past.boxes.T, past.lines[:, 1]
    inset = np.minimum(2.0 * gap, (right - left) / 4.0)
    heads: Any = shapely.linestrings(
        np.stack([left + inset, head, right - inset, head], axis=1).reshape(-1, 2, 2)
    )
    meets = shapely.dwithin(heads, past.shapes, gap)
    within = (low >= foot - 2.0 * gap) & (low < head - 2.0 * gap)
    return past.counted(meets & within), past.counted(meets & (np.abs(low - head) <= gap))


def parting(near: Near, short: float) -> Ints:
    """How many level lines run from side to side of each box, or end a little short of a side, at
    different heights.

    Args:
        near: level lines near boxes, or upright ones turned.
        short: how far they may end from a side, in drawing units.

    Returns:
        One number for each box.
    """
    (x0, y, x1, _), b = near.lines.T, near.boxes
    across = (np.abs(x0 - b[:, 0]) <= short) & (np.abs(x1 - b[:, 2]) <= short)
    across &= (x1 - x0 >= 0.5 * (b[:, 2] - b[:, 0])) & (y > b[:, 1] + short) & (y < b[:, 3] - short)
    height = np.rint((y - b[:, 1])[across] / short).astype(np.int64)
    pairs = np.unique(np.stack([near.box[across], height], axis=1), axis=0)
    return np.bincount(pairs[:, 0], minlength=near.count)


def inside(near: Near) -> Ints:
    """How many lines lie inside each box, those along its border left out.

    Args:
        near: the lines that boxes hold.

    Returns:
        One number for each box.
    """
    middle = (near.lines[:, :2] + near.lines[:, 2:]) / 2.0
    within = (middle > near.boxes[:, :2] + near.gap) & (middle < near.boxes[:, 2:] - near.gap)
    return near.counted(np.asarray(within.all(axis=1)))
