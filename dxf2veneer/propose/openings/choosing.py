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
from dxf2veneer.propose.openings.looks import (
    has_slats,
    is_arched,
    is_cabinet,
    is_gate,
    is_huge,
    is_low,
    is_parted,
    is_plinth,
)
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
    return [
        Chosen(found[i], float(score[i]), _reason(features, i, score[i])) for i in kept.tolist()
    ]


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
    share, close = _filling(found, f.boxes, panes, metre)
    filled = ~framed & (f.full >= constants.OPENING_FULLNESS) & (share >= constants.FILLED_SHARE)
    result[
        filled
        & close
        & ((free == 8) | ((f.upright_free == 4) & (share >= constants.FILLED_BETWEEN)))
    ] = 0.82
    panes = _innermost(found, np.flatnonzero(result >= constants.OPENING_SCORE))
    share, close = _filling(found, f.boxes, panes, metre)
    held = np.bincount(
        shapely.STRtree(found[panes]).query(found, predicate="covers")[0], minlength=len(found)
    )
    panelled = close & (share >= constants.FILLED_SHARE) & (held >= constants.PANELS_LEAST)
    result[plain & panelled] = 0.82
    lites = _with_lites(found, f, metre)
    result[is_huge(f.boxes, metre) & ~plain] = 0.0
    result[lites] = 0.82
    arched = is_arched(f, metre)
    result[arched] = np.maximum(result[arched], constants.ARCHED_SCORE)
    result[f.stones >= constants.ARCH_STONES] = 0.0
    result[is_plinth(f, metre) | (plain & is_cabinet(f, metre))] = 0.0
    result[(f.pierced >= 2) & (~framed | is_low(f.boxes, metre))] = 0.0
    result[f.crossed > 3] *= 0.5
    result[_with_braces(found, f, metre)] = constants.BRACED_SCORE
    return result


def _with_lites(found: Polygons, f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are frames that lites fill, two or more with nothing but bars between them:
    the glass of a shop, a window with two casements."""
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    full = f.full >= constants.PLAIN_FULLNESS
    large = (size[:, 0] >= constants.GARAGE_LEAST_M) | (size[:, 1] > constants.PLAIN_HIGHEST_M)
    lites = full & (size.min(axis=1) >= constants.PLAIN_LEAST_M) & ~is_huge(f.boxes, metre)
    #  under a transom a bar is so narrow that the sides of the next lite seem to go on
    lites &= (f.upright_free >= 2) & (f.level_free >= 2) & ~has_slats(f, metre)
    clear = full & (f.upright_free == 4) & (f.level_free >= 2) & ~f.goes_on
    least = np.where(large, constants.LITES_SHARE, constants.CASEMENTS_SHARE)
    clear &= _is_apart(found, f.boxes, np.flatnonzero(lites), large, metre)
    return np.asarray(clear & _filled_by(lites, least, found, f, metre))


def _is_apart(
    found: Polygons, boxes: Floats, lites: Ints, large: NDArray[np.bool_], metre: float
) -> NDArray[np.bool_]:
    """Which candidates a frame parts from all lites in them on the left, on the right and at the
    head, as no outline round a window and its shutter does, and no wall of slabs; single lines may
    part a large one into lites of one size."""
    outer, inner = _held(found, lites, metre)
    inner = lites[inner]
    areas = shapely.area(found)
    own = areas[inner] < constants.SAME_JAMBS * areas[outer]
    outer, inner = outer[own], inner[own]
    apart = np.abs(boxes[outer] - boxes[inner])[:, [0, 2, 3]].min(axis=1, initial=np.inf)
    touched, least = np.zeros(len(found), dtype=bool), np.full(len(found), np.inf)
    most = np.zeros(len(found))
    touched[outer[apart <= constants.FRAME_LEAST_M * metre]] = True
    np.minimum.at(least, outer, areas[inner])
    np.maximum.at(most, outer, areas[inner])
    return np.asarray(~touched | (large & (least >= constants.LITES_ALIKE * most)))


def _filled_by(
    lites: NDArray[np.bool_], least: Floats, found: Polygons, f: Features, metre: float
) -> NDArray[np.bool_]:
    """Which candidates two or more lites fill but for bars, to a share at least."""
    some = np.flatnonzero(lites)
    panes = _leaves_of(_innermost(found, some), some, found, f.boxes, metre)
    if not len(panes):
        return np.zeros(len(found), dtype=bool)
    share, close = _filling(found, f.boxes, panes, metre)
    held = np.bincount(_held(found, panes, metre)[0], minlength=len(found))
    held[panes] = 0
    return np.asarray(close & (share >= least) & (held >= 2))


def _leaves_of(panes: Ints, lites: Ints, found: Polygons, boxes: Floats, metre: float) -> Ints:
    """The panes, each with stiles and rails around it as the leaf that these make."""
    outer, inner = shapely.STRtree(found[panes]).query(found[lites], predicate="covers")
    alone = np.bincount(outer, minlength=len(lites))[outer] == 1
    outer, inner = lites[outer[alone]], panes[inner[alone]]
    margin = np.abs(boxes[outer] - boxes[inner]).max(axis=1, initial=0.0)
    near = margin <= constants.STILE_MOST_M * metre
    leaf = dict(zip(panes.tolist(), panes.tolist(), strict=True))
    for number in np.flatnonzero(near)[np.argsort(shapely.area(found[outer[near]]))].tolist():
        leaf[int(inner[number])] = int(outer[number])
    return np.unique(np.array(list(leaf.values()), dtype=np.int64))


def _is_braced(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are leaves with a crossed brace, whatever they stand on or slide under."""
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    return np.asarray(
        (f.braced == 2)
        & (f.full >= constants.PLAIN_FULLNESS)
        & (size.min(axis=1) >= constants.PLAIN_LEAST_M)
    )


def _with_braces(found: Polygons, f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are braced leaves, leaves of braced panels, or pairs of such leaves."""
    braced = _is_braced(f, metre)
    least = np.full(len(found), constants.LITES_SHARE)
    sound = (f.full >= constants.PLAIN_FULLNESS) & ~is_huge(f.boxes, metre)
    made = braced
    for _ in range(2):  # panels make a leaf, leaves a pair
        if made.any():
            made = sound & _filled_by(made, least, found, f, metre)
            braced = braced | made
    return braced


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
    highest = np.where(free == 8, constants.FREE_HIGHEST_M, constants.PLAIN_HIGHEST_M)
    shape = (height <= highest) & (width <= constants.PLAIN_RATIO * height)
    shape |= is_parted(f, width, height) | is_gate(f, width, height)
    plain = straight & shape & (f.upright_free == 4) & (f.level_free >= 2) & (~small | vent)
    plain &= ~f.goes_on
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
    row = f.parts.mullions >= constants.ROW_MULLIONS
    return framed, plain, (hole | gap) & ~behind & ~row


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


def _innermost(found: Polygons, some: Ints) -> Ints:
    """Those of some polygons that hold no other of them."""
    outer, inner = shapely.STRtree(found[some]).query(found[some], predicate="covers")
    return np.delete(some, outer[outer != inner])


def _held(found: Polygons, panes: Ints, metre: float) -> tuple[Ints, Ints]:
    """Pairs of a candidate and the place of a pane in it; on a line that both stand on, they never
    quite agree."""
    grown = shapely.buffer(found, constants.FRAME_LEAST_M / 4.0 * metre, join_style="mitre")
    outer, inner = shapely.STRtree(found[panes]).query(grown, predicate="covers")
    return outer, inner


def _filling(
    found: Polygons, boxes: Floats, panes: Ints, metre: float
) -> tuple[Floats, NDArray[np.bool_]]:
    """How far panes, shutters left out, fill each candidate, and whether they do so from jamb to
    jamb and from foot to head but for a frame, with no more than bars between them."""
    panes = panes[~attached(boxes[panes], np.ones(len(panes), dtype=bool), metre)]
    outer, inner = _held(found, panes, metre)
    areas = shapely.area(found)
    share = np.bincount(outer, areas[panes[inner]], minlength=len(found)) / areas
    most = constants.FRAME_MOST_M * metre
    close = np.ones(len(found), dtype=bool)
    for axis in (0, 1):
        order = np.lexsort((boxes[panes[inner], axis], outer))
        whole, pane = outer[order], panes[inner[order]]
        room = widest_room(boxes[pane, axis], boxes[pane, axis + 2], whole, boxes[:, axis::2])
        close &= room <= most
    return share, close


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
    order = np.lexsort((-shapely.area(found), -rank))
    tree = shapely.STRtree(found) if len(found) else None
    blocked = np.zeros(len(found), dtype=bool)
    areas = shapely.area(found)
    taken: list[int] = []
    for i in order.tolist():
        if blocked[i] or tree is None:
            continue
        taken.append(i)
        near = tree.query(found[i], predicate="intersects")
        shared = shapely.area(shapely.intersection(found[near], found[i]))
        blocked[
            near[
                shared > constants.OPENINGS_SHARE * np.minimum(shapely.area(found[near]), areas[i])
            ]
        ] = True
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


def _reason(f: Features, i: int, score: float) -> Reason:
    if score == constants.BRACED_SCORE:
        return Reason("OPENING_BRACED")
    if f.frames[i] > 0:
        return Reason("OPENING_FRAMED", {"frames": int(f.frames[i])})
    if f.stopped[i] >= constants.STOPPED_LINES:
        return Reason("OPENING_GAP_IN_BOARDS", {"lines": int(f.stopped[i])})
    return Reason("OPENING_OUTLINE_FREE")
