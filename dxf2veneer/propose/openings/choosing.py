"""Which candidates are openings: the outermost frames, and the gaps that boards leave."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.openings.features import Features
from dxf2veneer.propose.proposal import Reason


class Chosen(NamedTuple):
    """A candidate that is taken for an opening."""

    polygon: Polygon
    confidence: float
    reason: Reason


def choose(found: Polygons, features: Features, *, metre: float) -> list[Chosen]:
    """The outermost candidates that look like openings.

    Args:
        found: outlines that may be openings, by falling area.
        features: the evidence for each.
        metre: drawing units in a metre.

    Returns:
        Openings that don't overlap, the largest first.
    """
    score = scores(found, features, metre)
    good = np.flatnonzero(score >= constants.OPENING_SCORE)
    outer = _outermost(
        found[good], np.digitize(score[good], [constants.GAP_SCORE, constants.FRAMED_SCORE])
    )
    kept = good[outer]
    kept = kept[~attached(features.boxes[kept], score[kept] >= constants.FRAMED_SCORE, metre)]
    return [Chosen(found[i], float(score[i]), _reason(features, i)) for i in kept.tolist()]


def scores(found: Polygons, f: Features, metre: float) -> Floats:
    """How far the evidence goes for each candidate, from 0 to 1.

    Args:
        found: outlines that may be openings.
        f: the evidence for each.
        metre: drawing units in a metre.

    Returns:
        One score for each; 0 where nothing speaks for an opening.
    """
    framed, plain, hole = _looks(f, metre)
    free = f.upright_free + f.level_free
    result = np.zeros(len(found))
    result[plain] = constants.PLAIN_SCORE
    slack = constants.JOIN_GAP_M * metre
    result[hole & ~_around_narrower(f.boxes, hole, slack)] = constants.GAP_SCORE
    result[framed] = 0.8 + 0.05 * np.minimum(f.frames[framed], 2) + 0.02 * f.level_free[framed]
    result[_with_strips(f.boxes, framed, slack, metre)] = 0.0
    sure = np.flatnonzero(result >= constants.FRAMED_SCORE)
    panes = sure[_outermost(found[sure], np.ones(len(sure), dtype=np.int64))]
    holds = shapely.STRtree(found).query(found, predicate="covers")
    share, close, _ = _filling(found, f.boxes, panes, holds, metre)
    filled = ~framed & (f.full >= constants.OPENING_FULLNESS) & (share >= constants.FILLED_SHARE)
    result[
        filled
        & close
        & ((free == 8) | ((f.upright_free == 4) & (share >= constants.FILLED_BETWEEN)))
    ] = 0.82
    panes = _innermost(result >= constants.OPENING_SCORE, holds)
    share, close, held = _filling(found, f.boxes, panes, holds, metre)
    panelled = close & (share >= constants.FILLED_SHARE) & (held >= constants.PANELS_LEAST)
    result[plain & panelled] = 0.82
    result[_with_lites(found, f, holds, metre)] = 0.82
    result[f.crossed > 3] *= 0.5
    result[_is_braced(f, metre)] = constants.BRACED_SCORE
    return result


_Holding = tuple[Ints, Ints]
"""Numbers of polygons and of those that lie in them, themselves too, a pair for each."""


def _with_lites(found: Polygons, f: Features, holds: _Holding, metre: float) -> NDArray[np.bool_]:
    """Which candidates are large frames that lites fill, two or more with nothing but bars between
    them: the glass of a shop."""
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    full = f.full >= constants.PLAIN_FULLNESS
    large = (size[:, 0] >= constants.GARAGE_LEAST_M) | (size[:, 1] > constants.PLAIN_HIGHEST_M)
    lites = full & (size.min(axis=1) >= constants.PLAIN_LEAST_M)
    #  under a transom a bar is so narrow that the sides of the next lite seem to go on
    lites &= (f.upright_free >= 2) & (f.level_free >= 2)
    clear = full & large & (f.upright_free == 4) & (f.level_free >= 2)
    share, close, held = _filling(found, f.boxes, _innermost(lites, holds), holds, metre)
    #  two or more fill it but for bars
    return np.asarray(clear & close & (share >= constants.LITES_SHARE) & (held >= 2))


def _is_braced(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are leaves with a crossed brace, whatever they stand on or slide under."""
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    return np.asarray(
        (f.braced == 2)
        & (f.full >= constants.PLAIN_FULLNESS)
        & (size.min(axis=1) >= constants.PLAIN_LEAST_M)
    )


def _looks(
    f: Features, metre: float
) -> tuple[NDArray[np.bool_], NDArray[np.bool_], NDArray[np.bool_]]:
    """Which candidates have a frame, which stand free without one, which part a cladding."""
    width, height = (
        (f.boxes[:, 2] - f.boxes[:, 0]) / metre,
        (f.boxes[:, 3] - f.boxes[:, 1]) / metre,
    )
    small = np.minimum(width, height) < constants.PLAIN_LEAST_M
    free = f.upright_free + f.level_free
    framed = (f.frames > 0) & ((f.upright_free >= 3) | (f.level_free == 4) | (free >= 4))
    straight = f.full >= constants.PLAIN_FULLNESS
    vent = (f.inside >= constants.LOUVRES) & (np.maximum(width, height) <= constants.VENT_MOST_M)
    shape = (height <= constants.PLAIN_HIGHEST_M) & (width <= constants.PLAIN_RATIO * height)
    plain = straight & shape & (f.upright_free == 4) & (f.level_free >= 2) & (~small | vent)
    gap = (
        straight
        & (f.heads_free == 2)
        & (f.stopped >= constants.STOPPED_LINES)
        & ~small
        & (f.crossed == 0)
        & (f.above > 0)
    )
    hole = (
        straight
        & shape
        & ~small
        & (f.upright_free == 4)
        & (f.crossed <= 3)
        & ((f.parted_level > 0) | ((f.parted_upright > 0) & (f.passed > 0)))
    )
    behind = 2 * f.behind > np.maximum(f.parted_level, 1)
    return framed, plain, (hole | gap) & ~behind


def _around_narrower(boxes: Floats, which: NDArray[np.bool_], gap: float) -> NDArray[np.bool_]:
    """Which boxes hold a narrower one of those that are looked at: two gaps and what is between."""
    some = np.flatnonzero(which)
    grown = boxes[some] + np.array([-gap, -gap, gap, gap])
    outer, inner = shapely.STRtree(shapely.box(*boxes[some].T)).query(
        shapely.box(*grown.T), predicate="covers"
    )
    wide = (boxes[:, 2] - boxes[:, 0])[some]
    result = np.zeros(len(boxes), dtype=bool)
    result[some[outer[wide[inner] < constants.SAME_JAMBS * wide[outer]]]] = True
    return result


def _with_strips(
    boxes: Floats, framed: NDArray[np.bool_], gap: float, metre: float
) -> NDArray[np.bool_]:
    """Which boxes are a framed one and narrow strips beside it: reveals, sills, room to shutters.

    +-+-----+-+     a frame is apart from what is in it on the left, on the right and at the head
    | |     | |
    +-+-----+-+
    """
    some = np.flatnonzero(framed)
    outer, inner = shapely.STRtree(shapely.box(*boxes[some].T)).query(
        shapely.box(*(boxes + np.array([-gap, -gap, gap, gap])).T), predicate="covers"
    )
    apart = np.abs(boxes[outer] - boxes[some[inner]])
    sides = apart[:, [0, 2, 3]]
    strips = (
        (apart.max(axis=1, initial=0.0) > 2.0 * gap)
        & (apart.max(axis=1, initial=0.0) <= constants.STRIP_MOST_M * metre)
        & (sides.min(axis=1, initial=np.inf) <= gap)
    )
    result = np.zeros(len(boxes), dtype=bool)
    result[outer[strips]] = True
    return result


def _innermost(some: NDArray[np.bool_], holds: _Holding) -> Ints:
    """Those of some polygons that hold no other of them."""
    outer, inner = holds
    result = some.copy()
    result[outer[some[inner] & (outer != inner)]] = False
    return np.flatnonzero(result)


def _filling(
    found: Polygons, boxes: Floats, panes: Ints, holds: _Holding, metre: float
) -> tuple[Floats, NDArray[np.bool_], Ints]:
    """How far panes, shutters left out, fill each candidate, whether they do so from jamb to jamb
    and from foot to head but for a frame, with no more than bars between them, and how many panes
    lie in it, shutters with them."""
    held = np.bincount(_among(panes, holds, len(found))[0], minlength=len(found))
    panes = panes[~attached(boxes[panes], np.ones(len(panes), dtype=bool), metre)]
    outer, inner = _among(panes, holds, len(found))
    areas = shapely.area(found)
    share = np.bincount(outer, areas[inner], minlength=len(found)) / areas
    most = constants.FRAME_MOST_M * metre
    close = np.ones(len(found), dtype=bool)
    for axis in (0, 1):
        order = np.lexsort((boxes[inner, axis], outer))
        whole, pane = outer[order], inner[order]
        room = widest_room(boxes[pane, axis], boxes[pane, axis + 2], whole, boxes[:, axis::2])
        close &= room <= most
    return share, close, held


def _among(some: Ints, holds: _Holding, count: int) -> _Holding:
    """The pairs of polygons and of those of some that lie in them."""
    which = np.zeros(count, dtype=bool)
    which[some] = True
    return holds[0][which[holds[1]]], holds[1][which[holds[1]]]


def widest_room(low: Floats, high: Floats, whole: Ints, ends: Floats) -> Floats:
    """The widest room that spans leave in the whole that each belongs to.

    Args:
        low, high: the spans, those of a whole one after the other by rising ``low``.
        whole: the number of the whole of each span.
        ends: both ends of each whole, shape (w, 2).

    Returns:
        For each whole the widest room between its ends and its spans; infinite without spans.
    """
    result = np.full(len(ends), np.inf)
    begin = np.flatnonzero(np.diff(whole, prepend=-1)).tolist()
    for a, b in pairwise((*begin, len(whole))):
        first, last = ends[whole[a]]
        reached = np.maximum.accumulate(np.concatenate(((first,), high[a:b])))
        result[whole[a]] = max((low[a:b] - reached[:-1]).max(), last - reached[-1])
    return result


def _outermost(found: Polygons, rank: NDArray[np.int64]) -> NDArray[np.int64]:
    """Numbers of polygons of which none overlaps another: those of higher rank first, large ones
    first."""
    areas, tree = shapely.area(found), shapely.STRtree(found)
    blocked = np.zeros(len(found), dtype=bool)
    taken: list[int] = []
    for i in np.lexsort((-areas, -rank)).tolist():
        if blocked[i]:
            continue
        taken.append(i)
        near = tree.query(found[i], predicate="intersects")
        near = near[~blocked[near]]
        shared = shapely.area(shapely.intersection(found[near], found[i]))
        blocked[near[shared > constants.OPENINGS_SHARE * np.minimum(areas[near], areas[i])]] = True
    return np.array(sorted(taken, key=lambda i: -areas[i]), dtype=np.int64)


def attached(boxes: Floats, framed: NDArray[np.bool_], metre: float) -> NDArray[np.bool_]:
    """Which outlines belong to another: shutters beside, steps and sills below, lintels above.

    Args:
        boxes: boxes of outlines that don't overlap.
        framed: whether each has a frame.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    width, height = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
    near = constants.ATTACHED_M * metre
    result = np.zeros(len(boxes), dtype=bool)
    for i in range(len(boxes)):
        x0, y0, x1, y1 = boxes[i]
        tall = (
            (np.abs(boxes[:, 1] - y0) < 0.15 * height[i])
            & (height >= 0.7 * height[i])
            & (height <= 1.1 * height[i])
            & (width < 0.8 * width[i])
        )
        left = tall & (np.abs(boxes[:, 2] - x0) <= near)
        right = tall & (np.abs(boxes[:, 0] - x1) <= near)
        for a in np.flatnonzero(left):
            for b in np.flatnonzero(right):
                if abs(width[a] - width[b]) <= 0.1 * width[a]:
                    result[[a, b]] = True
        if framed[i]:
            over = (np.minimum(boxes[:, 2], x1) - np.maximum(boxes[:, 0], x0)) >= 0.9 * width[i]
            touches = (np.abs(boxes[:, 3] - y0) <= near) | (np.abs(boxes[:, 1] - y1) <= near)
            result |= over & touches & ~framed & (height < 0.5 * height[i])
    return result


def _reason(f: Features, i: int) -> Reason:
    if f.braced[i] == 2:
        return Reason("OPENING_BRACED")
    if f.frames[i] > 0:
        return Reason("OPENING_FRAMED", {"frames": int(f.frames[i])})
    if f.stopped[i] >= constants.STOPPED_LINES:
        return Reason("OPENING_GAP_IN_BOARDS", {"lines": int(f.stopped[i])})
    return Reason("OPENING_OUTLINE_FREE")
