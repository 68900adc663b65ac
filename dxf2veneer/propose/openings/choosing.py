"""Which candidates are openings: the outermost frames, and the gaps that boards leave."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.openings.features import Features
from dxf2veneer.propose.openings.gables import framed_gables
from dxf2veneer.propose.openings.leaves import Chosen, with_other_leaves
from dxf2veneer.propose.openings.lites import filled_by, with_lites
from dxf2veneer.propose.openings.looks import (
    is_arched,
    is_cabinet,
    is_gate,
    is_huge,
    is_low,
    is_parted,
    is_pier,
    is_plinth,
    is_stone,
)
from dxf2veneer.propose.openings.nest import Nest, attached, nest_of
from dxf2veneer.propose.openings.shutters import under_shutters
from dxf2veneer.propose.proposal import Reason


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
    kept = _best(found, score)
    hidden = under_shutters(features.boxes, features.full >= constants.PLAIN_FULLNESS, kept, metre)
    if hidden[kept].any():
        kept = _best(found, np.where(hidden, 0.0, score))
    kept = kept[~attached(features.boxes[kept], score[kept] >= constants.FRAMED_SCORE, metre)]
    chosen = [
        Chosen(found[i], float(score[i]), _reason(features, i, score[i])) for i in kept.tolist()
    ]
    return with_other_leaves(chosen, gap=constants.JOIN_GAP_M * metre)


def _best(found: Polygons, score: Floats) -> NDArray[np.int64]:
    """Numbers of the outlines that are openings by their scores, none of which overlaps another."""
    good = np.flatnonzero(score >= constants.OPENING_SCORE)
    rank = np.digitize(score[good], [constants.GAP_SCORE, constants.FRAMED_SCORE])
    return np.asarray(good[_outermost(found[good], rank)])


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
    strips, leaves = _with_strips(f.boxes, framed, slack, metre)
    result[strips | leaves] = 0.0
    sure = np.flatnonzero(result >= constants.FRAMED_SCORE)
    panes = np.zeros(len(found), dtype=bool)
    panes[sure[_outermost(found[sure], np.ones(len(sure), dtype=np.int64))]] = True
    nest = nest_of(found, f.boxes, metre)
    share, close = nest.filled(panes)
    filled = ~framed & (f.full >= constants.OPENING_FULLNESS) & (share >= constants.FILLED_SHARE)
    result[
        filled
        & close
        & ((free == 8) | ((f.upright_free == 4) & (share >= constants.FILLED_BETWEEN)))
    ] = 0.82
    inner = nest.innermost(result >= constants.OPENING_SCORE)
    share, close = nest.filled(inner)
    panelled = close & (share >= constants.FILLED_SHARE)
    panelled &= nest.within.counted(inner) >= constants.PANELS_LEAST
    result[plain & panelled & ~leaves] = 0.82
    lites = with_lites(nest, f, metre)
    result[is_huge(f.boxes, metre) & ~plain] = 0.0
    result[lites] = 0.82
    arched = is_arched(f, metre)
    result[arched] = np.maximum(result[arched], constants.ARCHED_SCORE)
    result[f.stones >= constants.ARCH_STONES] = 0.0
    hand = panes.sum() >= constants.FRAMES_DRAWN
    result[~framed & (is_stone(f) | is_pier(f))] = 0.0
    result[is_plinth(f, metre) | (~framed & is_cabinet(f, metre, bare=bool(hand)))] = 0.0
    result[(f.pierced >= 2) & (~framed | is_low(f.boxes, metre))] = 0.0
    result[f.crossed > 3] *= 0.5
    louvred = f.louvred & (f.upright_free == 4)
    result[louvred] = np.maximum(result[louvred], constants.FRAMED_SCORE)
    result[_with_braces(nest, f, metre)] = constants.BRACED_SCORE
    size = (f.boxes[:, 2:] - f.boxes[:, :2]).max(axis=1) / metre
    result[(f.full < constants.OPENING_FULLNESS) & (size > constants.GABLE_VENT_MOST_M)] = 0.0
    result[framed_gables(found, f.full, metre) & ~f.stands] = constants.FRAMED_SCORE + 0.05
    return result


def _is_braced(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are leaves with a crossed brace, whatever they stand on or slide under."""
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    return np.asarray(
        (f.braced == 2)
        & (f.full >= constants.PLAIN_FULLNESS)
        & (size.min(axis=1) >= constants.PLAIN_LEAST_M)
    )


def _with_braces(nest: Nest, f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are braced leaves, leaves of braced panels, or pairs of such leaves."""
    braced = _is_braced(f, metre)
    least = np.full(len(braced), constants.LITES_SHARE)
    sound = (f.full >= constants.PLAIN_FULLNESS) & ~is_huge(f.boxes, metre)
    made = braced
    for _ in range(2):  # panels make a leaf, leaves a pair
        if made.any():
            made = sound & filled_by(made, least, nest)
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
    ended = (f.stopped >= constants.STOPPED_LINES) & (f.upright_free >= 2) & (f.crossed == 0)
    framed = (f.frames > 0) & ((f.upright_free >= 3) | (f.level_free == 4) | (free >= 4) | ended)
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
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which boxes are a framed one and narrow strips beside it: reveals, sills, room to shutters;
    and which are one with its shutters, as wide on the left as on the right.

    +-+-----+-+     a frame is apart from what is in it on the left, on the right and at the head
    | |     | |
    +-+-----+-+
    """
    some = np.flatnonzero(framed)
    outer, inner = shapely.STRtree(shapely.box(*boxes[some].T)).query(
        shapely.box(*(boxes + np.array([-gap, -gap, gap, gap])).T), predicate="covers"
    )
    apart = np.abs(boxes[outer] - boxes[some[inner]])
    sides, most = apart[:, [0, 2, 3]], apart.max(axis=1, initial=0.0)
    strips = (most > 2.0 * gap) & (most <= constants.STRIP_MOST_M * metre)
    strips &= sides.min(axis=1, initial=np.inf) <= gap
    wide = boxes[some[inner], 2] - boxes[some[inner], 0]
    leaves = (apart[:, [1, 3]] <= gap).all(axis=1) & (np.abs(apart[:, 0] - apart[:, 2]) <= gap)
    leaves &= (apart[:, 0] >= constants.OPENING_LEAST_M * metre) & (
        apart[:, 0] <= constants.SHUTTER_NARROW * wide
    )
    result = np.zeros((2, len(boxes)), dtype=bool)
    result[0, outer[strips]] = result[1, outer[leaves]] = True
    return result[0], result[1]


def _outermost(found: Polygons, rank: NDArray[np.int64]) -> NDArray[np.int64]:
    """Numbers of polygons of which none overlaps another: those of higher rank first, large ones
    first."""
    areas, boxes, tree = shapely.area(found), shapely.bounds(found), shapely.STRtree(found)
    blocked = np.zeros(len(found), dtype=bool)
    taken: list[int] = []
    for i in np.lexsort((-areas, -rank)).tolist():
        if blocked[i]:
            continue
        taken.append(i)
        blocked[i] = True
        near = tree.query(found[i])
        near = near[~blocked[near]]
        most = constants.OPENINGS_SHARE * np.minimum(areas[near], areas[i])
        sides = np.minimum(boxes[near, 2:], boxes[i, 2:]) - np.maximum(
            boxes[near, :2], boxes[i, :2]
        )
        may = sides.prod(axis=1) > 0.99 * most  # no more is shared than by their boxes
        near, most = near[may], most[may]
        shared = shapely.area(shapely.intersection(found[near], found[i]))
        blocked[near[shared > most]] = True
    return np.array(sorted(taken, key=lambda i: -areas[i]), dtype=np.int64)


def _reason(f: Features, i: int, score: float) -> Reason:
    if score == constants.BRACED_SCORE:
        return Reason("OPENING_BRACED")
    if f.frames[i] > 0:
        return Reason("OPENING_FRAMED", {"frames": int(f.frames[i])})
    if f.stopped[i] >= constants.STOPPED_LINES:
        return Reason("OPENING_GAP_IN_BOARDS", {"lines": int(f.stopped[i])})
    return Reason("OPENING_OUTLINE_FREE")
