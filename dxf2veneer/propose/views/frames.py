"""Sheet frames: the rectangles that hold whole drawings, and what belongs to them.

 ______________________
|  ____      ____      |    frame        outermost rectangle; what is inside does not touch it
| |    |    |    |     |    title block  cells with texts that touch the frame
| |____|    |____|  ___|
|                  |_|_|
|__________________|_|_|
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose.constants import (
    FRAME_CROSSED,
    FRAME_LEAST,
    FRAME_RATIO_SLACK,
    FRAME_RATIOS,
    FRAME_SLACK,
)
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene
from dxf2veneer.propose.views.boxes import box_of, contains, inside, short
from dxf2veneer.propose.views.tables import is_ruled
from dxf2veneer.propose.views.titles import Title

_MOST = 600
"""Lines of each direction that are looked at, the longest: frames are among them."""


@dataclass(frozen=True)
class Frame:
    """A sheet frame. ``segments`` are the numbers of its own lines, those of twins round it
    included."""

    box: Box
    segments: Integers
    why: tuple[str, ...]
    """What speaks for it, as short codes."""


def rectangles(scene: Scene, least: float, slack: float) -> list[tuple[Box, Integers]]:
    """Upright rectangles made of four lines that meet at the corners.

    Args:
        scene: the scene.
        least: shortest side that is looked at, in drawing units.
        slack: how far corners may be apart, in drawing units.
    Returns:
        Box and numbers of the four segments of each rectangle, largest first.
    """
    segments = scene.segments
    long = scene.not_shorter(np.arange(len(segments)), least)
    x0, y0, x1, y1 = segments[long].T
    wide, high = np.abs(x1 - x0), np.abs(y1 - y0)
    level = np.flatnonzero((high <= slack) & (wide >= least))
    upright = np.flatnonzero((wide <= slack) & (high >= least))
    found: list[tuple[Box, Integers]] = []
    if len(level) < 2 or len(upright) < 2:
        return found
    level, upright = (
        long[level[np.argsort(-wide[level])[:_MOST]]],
        long[upright[np.argsort(-high[upright])[:_MOST]]],
    )
    lx0, lx1 = (
        np.minimum(segments[level, 0], segments[level, 2]),
        np.maximum(segments[level, 0], segments[level, 2]),
    )
    ly = segments[level, 1]
    uy0, uy1 = (
        np.minimum(segments[upright, 1], segments[upright, 3]),
        np.maximum(segments[upright, 1], segments[upright, 3]),
    )
    ux = segments[upright, 0]
    for i in range(len(level)):
        # the sides that stand on this line's ends, and the line that closes them above
        left = np.flatnonzero((np.abs(ux - lx0[i]) <= slack) & (np.abs(uy0 - ly[i]) <= slack))
        right = np.flatnonzero((np.abs(ux - lx1[i]) <= slack) & (np.abs(uy0 - ly[i]) <= slack))
        for a in left:
            for b in right[np.abs(uy1[right] - uy1[a]) <= slack]:
                top = np.flatnonzero(
                    (np.abs(ly - uy1[a]) <= slack)
                    & (np.abs(lx0 - lx0[i]) <= slack)
                    & (np.abs(lx1 - lx1[i]) <= slack)
                )
                if len(top):
                    box = float(lx0[i]), float(ly[i]), float(lx1[i]), float(uy1[a])
                    found.append((box, np.array([level[i], upright[a], upright[b], level[top[0]]])))
    return sorted(found, key=lambda f: -(f[0][2] - f[0][0]) * (f[0][3] - f[0][1]))


def frames_of(scene: Scene, titles: Sequence[Title]) -> list[Frame]:
    """The sheet frames of a scene, the largest first; none where nothing speaks for one clearly.

    Args:
        scene: the scene.
        titles: its titles, which speak for a frame round several of them.

    Returns:
        Frames of which none contains another.
    """
    segments = scene.segments
    if len(segments) < 8:
        return []
    size = scene.diagonal
    found: list[Frame] = []
    candidates = rectangles(scene, FRAME_LEAST * size, FRAME_SLACK * size)
    for box, own in candidates:
        twin = next((f for f in found if contains(f.box, box) and _is_twin(f.box, box)), None)
        if twin is not None:
            found[next(n for n, f in enumerate(found) if f is twin)] = Frame(
                twin.box,
                np.union1d(twin.segments, _on_sides(segments, box, size * FRAME_SLACK)),
                (*twin.why, "twin"),
            )
        elif not any(contains(f.box, box) for f in found) and not _is_touched_outside(
            segments, box, own, size * FRAME_SLACK
        ):
            found.append(Frame(box, _on_sides(segments, box, size * FRAME_SLACK), ()))
    judged = [Frame(f.box, f.segments, _reasons(scene, titles, f)) for f in found]
    likely = [f for f in judged if {"texts", "titles"}.intersection(f.why)]
    if _hold_all(scene, likely):
        judged = [
            Frame(f.box, f.segments, (*f.why, "whole") if any(f is o for o in likely) else f.why)
            for f in judged
        ]
    return [f for f in judged if _holds_drawings(scene, f)]


def frames_within(
    scene: Scene, titles: Sequence[Title], segments: Integers, box: Box
) -> list[Frame]:
    """The sheet frames among segments that hang together, where they are too small beside the
    whole drawing to have been looked for.

    Args:
        scene: the scene.
        titles: its titles.
        segments: numbers of the segments.
        box: their box.

    Returns:
        Frames, none where they would have been found in the whole scene.
    """
    if short(box) >= FRAME_LEAST * scene.diagonal:
        return []
    own = [t for t in titles if contains(box, t.box)]
    b = scene.text_boxes
    held = np.flatnonzero((b[:, :2] >= box[:2]).all(1) & (b[:, 2:] <= box[2:]).all(1)).tolist()
    if len(own) < 2 and len(held) < 3:
        return []
    part = replace(
        scene,
        segments=scene.segments[segments],
        owner=scene.owner[segments],
        texts=tuple(scene.texts[n] for n in held),
    )
    return [Frame(f.box, segments[f.segments], f.why) for f in frames_of(part, own)]


def _hold_all(scene: Scene, frames: Sequence[Frame]) -> bool:
    """Whether frames together hold nearly all lines and texts of the drawing."""
    if not frames:
        return False
    lines = np.logical_or.reduce([_within(scene.segments, f.box) for f in frames])
    texts = [any(contains(f.box, t.box) for f in frames) for t in scene.texts]
    return bool(lines.mean() > 0.95) and sum(texts) > 0.95 * len(texts)


_WORTH = {"paper": 1, "twin": 1, "block": 1, "cells": 1, "texts": 1, "titles": 2, "whole": 2}
"""How much each reason weighs; three make a frame."""


def _holds_drawings(scene: Scene, frame: Frame) -> bool:
    """Whether a rectangle is a frame: enough speaks for it, texts stand in it as on a sheet, and
    it is no table."""
    if sum(_WORTH[w] for w in frame.why) < 3 or not {"texts", "titles"}.intersection(frame.why):
        return False
    if not {"twin", "block", "cells", "titles"}.intersection(frame.why):
        return False
    slack = 1e-3 * max(frame.box[2] - frame.box[0], frame.box[3] - frame.box[1])
    twins = np.setdiff1d(frame.segments, _on_sides(scene.segments, frame.box, slack))
    within = np.setdiff1d(np.flatnonzero(_within(scene.segments, frame.box)), twins)
    return not is_ruled(scene, within, frame.box, len(scene.texts))


def _on_sides(segments: Floats, box: Box, slack: float) -> Integers:
    """Every segment that lies on a side of the box: frames are drawn twice, or in pieces."""
    x0, y0, x1, y1 = box
    sx, sy = segments[:, [0, 2]], segments[:, [1, 3]]
    within = (
        (sx >= x0 - slack).all(1)
        & (sx <= x1 + slack).all(1)
        & (sy >= y0 - slack).all(1)
        & (sy <= y1 + slack).all(1)
    )
    upright = [(np.abs(sx - x) <= slack).all(1) for x in (x0, x1)]
    level = [(np.abs(sy - y) <= slack).all(1) for y in (y0, y1)]
    return np.flatnonzero(within & np.logical_or.reduce([*upright, *level]))


def _is_twin(outer: Box, inner: Box) -> bool:
    """Whether a rectangle runs along the inside of another as a margin does."""
    wide, high = outer[2] - outer[0], outer[3] - outer[1]
    margins = (inner[0] - outer[0], inner[1] - outer[1], outer[2] - inner[2], outer[3] - inner[3])
    return max(margins) <= 0.12 * min(wide, high)


def _is_touched_outside(segments: Floats, box: Box, own: Integers, slack: float) -> bool:
    """Whether lines cross the rectangle or reach it from outside, which no sheet frame has but by
    slips."""
    ends = segments.reshape(-1, 2)
    x0, y0, x1, y1 = box
    out = (
        (ends[:, 0] < x0 - slack)
        | (ends[:, 0] > x1 + slack)
        | (ends[:, 1] < y0 - slack)
        | (ends[:, 1] > y1 + slack)
    )
    near = (
        (ends[:, 0] > x0 - slack)
        & (ends[:, 0] < x1 + slack)
        & (ends[:, 1] > y0 - slack)
        & (ends[:, 1] < y1 + slack)
    )
    first, last = out[0::2], out[1::2]
    crossing = (first & near[1::2]) | (last & near[0::2])
    crossing[own] = False
    held = int((near[0::2] & near[1::2]).sum())
    return bool(crossing.sum() > FRAME_CROSSED * held)


def _reasons(scene: Scene, titles: Sequence[Title], frame: Frame) -> tuple[str, ...]:
    x0, y0, x1, y1 = frame.box
    wide, high = x1 - x0, y1 - y0
    ratio = max(wide, high) / min(wide, high)
    why = set(frame.why)
    if any(abs(ratio / r - 1.0) <= FRAME_RATIO_SLACK for r in FRAME_RATIOS):
        why.add("paper")
    if sum(contains(frame.box, t.box) for t in titles) >= 2:
        why.add("titles")
    held = [t for t in scene.texts if contains(frame.box, t.box)]
    near = _touching(scene.segments, frame, 1e-3 * max(wide, high))
    if len(near):
        # cells with texts that hang on the frame: a title block
        low, far = (
            scene.segments[near].reshape(-1, 2).min(0),
            scene.segments[near].reshape(-1, 2).max(0),
        )
        room = (float(low[0]), float(low[1]), float(far[0]), float(far[1]))
        if len(held) >= 2 and sum(inside(room, (t.x, t.y)) for t in held) >= 2:
            why.add("block")
    if len(held) >= 3:
        why.add("texts")
    if _has_cells(
        scene.segments[_within(scene.segments, frame.box)], [(t.x, t.y) for t in held], wide
    ):
        why.add("cells")
    return tuple(sorted(why))


def _within(segments: Floats, box: Box) -> NDArray[np.bool_]:
    """Which segments have their middle in a box."""
    middles = (segments[:, :2] + segments[:, 2:]) / 2
    x0, y0, x1, y1 = box
    return (
        (middles[:, 0] >= x0)
        & (middles[:, 0] <= x1)
        & (middles[:, 1] >= y0)
        & (middles[:, 1] <= y1)
    )


def _has_cells(segments: Floats, texts: Sequence[tuple[float, float]], wide: float) -> bool:
    """Whether four or more level lines of one length lie over each other, with three or more
    texts between them."""
    d = np.abs(segments[:, 2:] - segments[:, :2])
    slack = 5e-4 * wide
    level = segments[(d[:, 1] <= slack) & (d[:, 0] > 0.05 * wide)]
    if len(level) < 4:
        return False
    ends = np.round(np.sort(level[:, [0, 2]], axis=1) / (2 * slack))
    _, place, count = np.unique(ends, axis=0, return_inverse=True, return_counts=True)
    for n in np.flatnonzero((count >= 4) & (count <= 60)):
        room = box_of(level[place.ravel() == n])
        if sum(inside(room, t) for t in texts) >= 3:
            return True
    return False


def _touching(segments: Floats, frame: Frame, slack: float) -> NDArray[np.int64]:
    """Upright and level lines that end on the frame from inside."""
    x0, y0, x1, y1 = frame.box
    ends = segments.reshape(-1, 2)
    within = (
        (ends[:, 0] >= x0 - slack)
        & (ends[:, 0] <= x1 + slack)
        & (ends[:, 1] >= y0 - slack)
        & (ends[:, 1] <= y1 + slack)
    )
    on = within & (
        (np.abs(ends[:, 0] - x0) < slack)
        | (np.abs(ends[:, 0] - x1) < slack)
        | (np.abs(ends[:, 1] - y0) < slack)
        | (np.abs(ends[:, 1] - y1) < slack)
    )
    d = np.abs(segments[:, 2:] - segments[:, :2])
    straight = d.min(1) <= slack
    hit = straight & (on[0::2] | on[1::2])
    hit[frame.segments] = False
    return np.flatnonzero(hit)
