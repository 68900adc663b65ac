"""The drawing's ink split into groups, one for each view.

    segments --hang together within a small gap--> pieces
    pieces   --inside, beside, too small to stand alone--> groups
    group    --again with a gap of its own size--> ... until nothing falls apart

What ties views together without being part of them (frames, grid lines, level lines) is left out
before.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.constants import (
    BRIDGE_LEAST,
    BRIDGE_LOW,
    GROUP_GAP,
    NEAR,
    NESTED,
    SATELLITE,
    SATELLITE_REACH,
    STRING,
)
from dxf2veneer.propose.scene import Floats, Integers
from dxf2veneer.propose.views.boxes import box_of
from dxf2veneer.propose.views.cells import components, groups_of
from dxf2veneer.propose.views.placing import titled
from dxf2veneer.propose.views.titles import Title

_ROUNDS = 6


def split(segments: Floats, owner: Integers, titles: Sequence[Title]) -> list[Integers]:
    """The groups of segments that are views or scraps.

    Args:
        segments: rows x0, y0, x1, y1, without what ties views together.
        owner: for each segment its entity's number.
        titles: titles of views; two groups with a title each are never joined.
    Returns:
        Numbers of the segments of each group, the groups in no order.
    """
    done: list[Integers] = []
    waiting = [(np.arange(len(segments)), np.inf)]
    while waiting:
        part, before = waiting.pop()
        if not len(part):
            continue
        own = segments if before == np.inf else segments[part]
        x0, y0, x1, y1 = box_of(own)
        gap = GROUP_GAP * float(np.hypot(x1 - x0, y1 - y0))
        if gap <= 0.0 or gap > 0.6 * before:
            done.append(part)
            continue
        label = groups_of(own, gap, owner[part])
        groups = _joined(
            segments,
            _parts(part, label),
            titles,
        )
        if len(groups) == 1:
            halves = bridged(segments, groups[0], titles)
            if len(halves) == 1:
                done.append(groups[0])
            else:
                waiting += [(h, gap * 2) for h in halves]
        else:
            waiting += [(g, gap if len(g) > 4 else 0.0) for g in groups]
    return done


def _parts(part: Integers, label: Integers) -> list[Integers]:
    order = np.argsort(label, kind="stable")
    return [part[p] for p in np.split(order, np.flatnonzero(np.diff(label[order])) + 1)]


def boxes_of(segments: Floats, groups: Sequence[Integers]) -> Floats:
    """The boxes of groups of segments as rows.

    Args:
        segments: rows x0, y0, x1, y1.
        groups: numbers of the segments of each group.

    Returns:
        Shape (g, 4) as x0, y0, x1, y1.
    """
    return np.array([box_of(segments[g]) for g in groups], float).reshape(-1, 4)


def _joined(segments: Floats, pieces: list[Integers], titles: Sequence[Title]) -> list[Integers]:
    """Pieces joined that lie in each other, close beside each other, or are too small to stand
    alone."""
    for _ in range(_ROUNDS):
        if len(pieces) < 2:
            break
        boxes = boxes_of(segments, pieces)
        own = titled([tuple(b) for b in boxes.tolist()], titles)
        edges = _ties(boxes, np.array([len(p) for p in pieces]), {g for g, _ in own.items()})
        if not len(edges):
            break
        label = components(len(pieces), edges)
        order: dict[int, list[Integers]] = {}
        for n, piece in zip(label.tolist(), pieces, strict=True):
            order.setdefault(n, []).append(piece)
        pieces = [np.concatenate(p) for p in order.values()]
    return pieces


def _ties(boxes: Floats, counts: Integers, has_title: set[int]) -> NDArray[np.int64]:
    """Pairs of pieces that belong together; each piece is tied to one other at most, the nearest
    that takes it."""
    sides = boxes[:, 2:] - boxes[:, :2]
    reach = SATELLITE_REACH * sides.min(1).max()
    grown = shapely.box(
        boxes[:, 0] - reach, boxes[:, 1] - reach, boxes[:, 2] + reach, boxes[:, 3] + reach
    )
    one, two = shapely.STRtree(shapely.box(*boxes.T)).query(grown)
    areas = np.maximum(sides[:, 0], 1e-3 * sides[:, 1]) * np.maximum(
        sides[:, 1], 1e-3 * sides[:, 0]
    )
    smaller = (areas[one] < areas[two]) | ((areas[one] == areas[two]) & (one < two))
    one, two = one[smaller], two[smaller]
    across = np.maximum(boxes[one, 0], boxes[two, 0]) - np.minimum(boxes[one, 2], boxes[two, 2])
    up = np.maximum(boxes[one, 1], boxes[two, 1]) - np.minimum(boxes[one, 3], boxes[two, 3])
    apart = np.hypot(np.maximum(across, 0.0), np.maximum(up, 0.0))
    held = np.where((across < 0) & (up < 0), across * up, 0.0) / np.maximum(areas[one], 1e-300)
    thin = sides[one].min(1) <= STRING * sides[one].max(1)
    string = thin & (counts[one] < 60)
    nested = (held >= NESTED) | ((across <= 0) & (up <= 0) & string)
    little = (areas[one] < SATELLITE * areas[two]) | string
    satellite = little & (apart <= SATELLITE_REACH * sides[two].min(1))
    aligned = (across < -0.5 * np.minimum(sides[one, 0], sides[two, 0])) | (
        up < -0.5 * np.minimum(sides[one, 1], sides[two, 1])
    )
    near = aligned & (apart <= NEAR * np.minimum(sides[one].min(1), sides[two].min(1)))
    mark = np.zeros(len(boxes), bool)
    mark[list(has_title)] = True
    free = ~(mark[one] & mark[two])
    hit = nested | ((satellite & ~mark[one]) | near) & free
    one, two, apart = one[hit], two[hit], np.where(nested, -1.0, apart)[hit]
    order = np.lexsort((areas[two], apart, one))
    first = np.concatenate(([True], np.diff(one[order]) > 0)) if len(order) else np.zeros(0, bool)
    return np.column_stack((one[order][first], two[order][first]))


def bridged(segments: Floats, group: Integers, titles: Sequence[Title]) -> list[Integers]:
    """A group split where only a line at its foot runs from one part to the next.

        _______            ______
       |  _ _  |          |  _   |
       | | | | |          | | |  |
    ---'-'-'-'-'----------'-'-'--'----     one ground line under two elevations

    Args:
        segments: all segments.
        group: numbers of the group's segments.
        titles: a split between two titles asks for less room.
    Returns:
        The parts, or the group alone.
    """
    own = segments[group]
    d = np.abs(own[:, 2:] - own[:, :2])
    _, y0, _, y1 = box_of(own)
    high = y1 - y0
    low = np.maximum(own[:, 1], own[:, 3]) <= y0 + BRIDGE_LOW * high
    ties = (d[:, 1] <= 0.2 * d[:, 0]) & low
    stands = np.flatnonzero(~ties)
    if not len(stands) or high <= 0.0:
        return [group]
    left, right = (
        np.minimum(own[stands, 0], own[stands, 2]),
        np.maximum(own[stands, 0], own[stands, 2]),
    )
    order = np.argsort(left)
    reached = np.maximum.accumulate(right[order])
    starts = left[order][1:]
    room = starts - reached[:-1]
    cuts = [float(reached[i] + room[i] / 2) for i in np.flatnonzero(room > BRIDGE_LEAST * high)]
    cuts = [c for c in cuts if _is_between(own[stands], c, high)]
    if not cuts:
        return [group]
    middle = (own[:, 0] + own[:, 2]) / 2
    label = np.searchsorted(np.array(cuts), middle)
    return [group[label == n] for n in range(len(cuts) + 1) if (label == n).any()]


def _is_between(stands: Floats, cut: float, high: float) -> bool:
    """Whether something of a building's height stands on both sides of a cut."""
    middle = (stands[:, 0] + stands[:, 2]) / 2
    for side in (stands[middle < cut], stands[middle >= cut]):
        if len(side) < 8:
            return False
        p = side.reshape(-1, 2)
        if (
            p[:, 1].max() - p[:, 1].min() < 0.35 * high
            or p[:, 0].max() - p[:, 0].min() < 0.35 * high
        ):
            return False
    return True
