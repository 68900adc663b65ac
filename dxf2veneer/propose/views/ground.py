"""The ground line of a view: the long line at its foot on which everything stands, which may be
the line of a level mark."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from dxf2veneer.propose.constants import (
    GROUND_LOW,
    GROUND_SPAN,
    GROUND_STEEP,
    STOOD_ON_LEAST,
    STRAIGHT,
)
from dxf2veneer.propose.scene import Box, Floats, Integers, Mask, Scene
from dxf2veneer.propose.views.group import Group
from dxf2veneer.propose.views.levels import LevelMark


def ground_of(segments: Floats, box: Box) -> tuple[float | None, float]:
    """The ground line of a view, and how far it runs on past what stands on it.

    Args:
        segments: the view's rows x0, y0, x1, y1.
        box: the view's box.
    Returns:
        Height of the ground line where it is level, or in the middle of what stands on it where it
        slopes; None where no line at the foot is long enough. And the length by which a line at the
        foot alone runs on past everything else, on both sides together, as a share of the width.
    """
    wide, high = box[2] - box[0], box[3] - box[1]
    if wide <= 0.0 or high <= 0.0 or not len(segments):
        return None, 0.0
    return _level(segments, box), _past(segments, box)


def _level(segments: Floats, box: Box) -> float | None:
    """Height of the longest level or sloping line at the foot; pieces of one height count
    together."""
    wide, high = box[2] - box[0], box[3] - box[1]
    x0, y0, x1, y1 = segments.T
    middle = (y0 + y1) / 2
    flat = middle <= box[1] + GROUND_LOW * high
    x0, y0, x1, y1, middle = (column[flat] for column in (x0, y0, x1, y1, middle))
    flat = np.abs(y1 - y0) <= GROUND_STEEP * np.abs(x1 - x0)
    if not flat.any():
        return None
    steps = np.round((middle[flat] - box[1]) / (0.02 * high)).astype(np.int64)
    left, right = np.minimum(x0[flat], x1[flat]), np.maximum(x0[flat], x1[flat])
    best, longest = None, GROUND_SPAN * wide
    for step in np.unique(steps):
        of = steps == step
        run = _covered(left[of], right[of])
        if run > longest * 1.001:
            longest, best = (
                run,
                float(
                    np.average(
                        middle[flat][of], weights=np.maximum(right[of] - left[of], 1e-9 * wide)
                    )
                ),
            )
    return best


def _past(segments: Floats, box: Box) -> float:
    """How much of the width has nothing over it but one line at the foot, at both ends together."""
    wide, high = box[2] - box[0], box[3] - box[1]
    x0, y0, x1, y1 = segments.T
    low = np.abs(y1 - y0) <= GROUND_STEEP * np.abs(x1 - x0)
    low &= np.maximum(y0, y1) <= box[1] + 0.5 * high
    if low.all() or not low.any():
        return 0.0
    first, last = np.minimum(x0, x1), np.maximum(x0, x1)
    start, end = float(first[~low].min()), float(last[~low].max())
    first, last, step = first[low], last[low], 1e-6 * wide
    left = start - first[first < start - step].min(initial=start)
    right = last[last > end + step].max(initial=end) - end
    return float((left + right) / wide)


def _covered(left: Floats, right: Floats) -> float:
    """Length that intervals cover together."""
    order = np.argsort(left)
    reached = np.maximum.accumulate(right[order])
    before = np.concatenate(([-np.inf], reached[:-1]))
    return float(np.maximum(0.0, reached - np.maximum(left[order], before)).sum())


def levels_stood_on(scene: Scene, group: Group, marks: Sequence[LevelMark]) -> Integers:
    """The level lines that draw the ground of a group: the outermost uprights stand on them, or,
    where an upper floor hangs over, some do and none lower. One half of a step runs from the riser
    to one side, where the outermost upright stands on it.

    Args:
        scene: everything visible in the drawing.
        group: the strokes of a view.
        marks: its level marks and those of others.
    Returns:
        Numbers of segments.
    """
    wide, high = group.core[2] - group.core[0], group.core[3] - group.core[1]
    own = scene.segments[scene.not_shorter(group.segments, STOOD_ON_LEAST * high)]
    d = np.abs(own[:, 2:] - own[:, :2])
    slack = STRAIGHT * max(wide, high)
    tall = own[(d[:, 0] <= STRAIGHT * d[:, 1]) & (d[:, 1] >= STOOD_ON_LEAST * high)]
    lines = np.unique(np.array([m.line for m in marks if m.line >= 0], np.int64))
    if not len(tall) or not len(lines):
        return np.zeros(0, np.int64)
    x, foot = tall[:, [0, 2]].mean(axis=1), tall[:, [1, 3]].min(axis=1)
    head = tall[:, [1, 3]].max(axis=1)
    x0, y0, x1, y1 = scene.segments[lines].T
    foot = _on_plinth(scene.segments[group.segments], x, foot, np.unique(y0), slack)
    left, right, height = np.minimum(x0, x1), np.maximum(x0, x1), (y0 + y1) / 2
    at_a_foot = _any_near(height, foot, slack)
    lines, left, right, height = (v[at_a_foot] for v in (lines, left, right, height))
    held = []
    for number, a, b, y in zip(*(v.tolist() for v in (lines, left, right, height)), strict=True):
        on = x[np.abs(foot - y) <= slack]
        down = x[(foot <= y + slack) & (head > y + slack)]  # no roof's sides, no upper floor's
        first, last = down.min(initial=np.inf) + slack, down.max(initial=-np.inf) - slack
        at_left, at_right = (a <= first, b >= last)
        if not len(on) or not (at_left or at_right):
            continue
        if at_left and at_right:
            is_ground = on.min() <= first and on.max() >= last
        else:
            inner, outer = (a, on.max() >= last) if at_right else (b, on.min() <= first)
            is_ground = outer and _ends_at_riser((inner, y), scene.segments[group.segments], slack)
        held += [number] if is_ground else []
    return np.array(held, np.int64)


def _any_near(values: Floats, others: Floats, slack: float) -> Mask:
    """Which values have another so near to them, or a hair farther."""
    ordered, reach = np.sort(others), slack * (1.0 + 1e-6)
    first = np.searchsorted(ordered, values - reach)
    return np.asarray(np.searchsorted(ordered, values + reach, "right") > first)


def _ends_at_riser(place: tuple[float, float], segments: Floats, slack: float) -> bool:
    """Whether an upright ends at a place at whose other end a level line ends."""
    x0, y0, x1, y1 = segments.T
    risers = np.zeros((0, 2))
    for x, y, other in ((x1, y1, segments[:, :2]), (x0, y0, segments[:, 2:])):
        ends = (np.abs(x - place[0]) <= slack) & (np.abs(y - place[1]) <= slack)
        across, up = np.abs(segments[ends, 2:] - segments[ends, :2]).T
        upright = (across <= STRAIGHT * up) & (up > slack)
        risers = np.vstack([risers, other[ends][upright]])
    if not len(risers):
        return False
    across, up = np.abs(segments[:, 2:] - segments[:, :2]).T
    level = segments[(up <= STRAIGHT * across) & (across > slack)]
    tree = shapely.STRtree(shapely.points(level.reshape(-1, 2)))
    return bool(tree.query(shapely.points(risers), predicate="dwithin", distance=slack).size)


def _on_plinth(segments: Floats, x: Floats, foot: Floats, levels: Floats, slack: float) -> Floats:
    """The feet of uprights, those that stand on another upright of their own line taken down to
    its foot where that is on a level: the side of a plinth is drawn apart from the wall's."""
    d = np.abs(segments[:, 2:] - segments[:, :2])
    low, high = segments[:, [1, 3]].min(axis=1), segments[:, [1, 3]].max(axis=1)
    above = np.minimum(np.searchsorted(levels, low - slack), len(levels) - 1)
    on = (d[:, 0] <= STRAIGHT * d[:, 1]) & (np.abs(levels[above] - low) <= slack)
    on &= high - low > slack
    heads = np.stack([segments[on][:, [0, 2]].mean(axis=1), high[on]], axis=1)
    upper, under = shapely.STRtree(shapely.points(heads)).query(
        shapely.points(x, foot), predicate="dwithin", distance=slack
    )
    result = foot.copy()
    np.minimum.at(result, upper, low[on][under])
    return result
