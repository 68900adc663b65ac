"""What sizes say of the unit: doors seen from above and from the front, courses, letters.

A building's parts have sizes of their own, a text has one on paper. Circles, bubbles and whole
extents have none.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from dxf2veneer.propose.arrays import distinct, distinct_of
from dxf2veneer.propose.constants import (
    COURSE_MM,
    DOOR_ASPECT,
    DOOR_FOOT,
    DOOR_MM,
    LETTER_MM,
    PLOTTED_MM,
    SIZE_MOST,
    STOREY_MM,
    SWING_MM,
    WINDOW_MM,
)
from dxf2veneer.propose.scene import Floats, Scene
from dxf2veneer.propose.unit.evidence import MM, Evidence, bounded, by_size, normal
from dxf2veneer.propose.views import View
from dxf2veneer.propose.views.clues import quarter_arcs

_LEAST_COURSES = 8


def swings(scene: Scene, views: Sequence[View]) -> list[Evidence]:
    """Doors seen from above: the radius of the leaf, as the median of all in plans.

    Args:
        scene: everything visible in the drawing.
        views: the views of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    radii = [r for v in views if v.kind == "plan" for r in quarter_arcs(scene, v.segments)]
    if not radii:
        return []
    radius = float(np.median(radii))
    return [
        Evidence(
            "door swings",
            {"radius": radius, "count": len(radii)},
            by_size(radius, *SWING_MM, SIZE_MOST),
        )
    ]


def frames_in(scene: Scene, view: View) -> Floats:
    """Boxes of the upright rectangles in a view that may be windows or doors: rows x0, y0, x1, y1.

    Entities whose box they fill: closed polylines of four sides, and whole block references.

    Args:
        scene: everything visible in the drawing.
        view: the view that is looked at.

    Returns:
        The boxes, shape (n, 4), in drawing units.
    """
    owners = distinct_of(scene.owner[view.segments], len(scene.entities))
    insert, count = scene.entities.insert[owners], np.diff(scene.first)[owners]
    closed = scene.entities.closed[owners] & (count >= 4) & (count <= 5) & (insert < 0)
    boxes = [
        scene.boxes[n].tolist()
        for n in owners[closed].tolist()
        if _is_upright(scene.segments_of(n))
    ]
    by_insert: dict[int, list[int]] = {}
    placed = insert >= 0
    for n, of in zip(owners[placed].tolist(), insert[placed].tolist(), strict=True):
        by_insert.setdefault(of, []).append(n)
    for members in by_insert.values():
        rows = scene.boxes[members]
        boxes.append((*rows[:, :2].min(0).tolist(), *rows[:, 2:].max(0).tolist()))
    loose = scene.segments[scene.not_shorter(view.segments, _LOOSE * _high(view))]
    return np.concatenate((np.array(boxes, float).reshape(-1, 4), _rectangles(loose, view)))


_LOOSE = 0.02
"""Least length of a loose line of a rectangle, as a share of its view's height."""


def _high(view: View) -> float:
    return view.core[3] - view.core[1]


def _is_upright(segments: Floats) -> bool:
    d = np.abs(segments[:, 2:] - segments[:, :2])
    return bool((d.min(1) <= 0.002 * d.max(1)).all())


def _rectangles(own: Floats, view: View) -> Floats:
    """Rectangles of four loose lines: pairs of uprights of one height whose tops and feet are
    joined."""
    high = _high(view)
    d = np.abs(own[:, 2:] - own[:, :2])
    slack = 1e-3 * high
    upright = own[(d[:, 0] <= slack) & (d[:, 1] > 0.03 * high) & (d[:, 1] < 0.8 * high)]
    level = own[(d[:, 1] <= slack) & (d[:, 0] > _LOOSE * high)]
    if len(upright) < 2 or len(level) < 2 or len(upright) > 3000:
        return np.zeros((0, 4))
    low, top = np.minimum(upright[:, 1], upright[:, 3]), np.maximum(upright[:, 1], upright[:, 3])
    ends = {
        (round(float(x) / (2 * slack)), round(float(y) / (2 * slack)))
        for row in level
        for x, y in (row[:2], row[2:])
    }
    order = np.lexsort((upright[:, 0], np.round(top / slack), np.round(low / slack)))
    rows = []
    for a, b in pairwise(order.tolist()):
        if abs(low[a] - low[b]) > 2 * slack or abs(top[a] - top[b]) > 2 * slack:
            continue
        x0, x1 = float(upright[a, 0]), float(upright[b, 0])
        corners = [(x, y) for x in (x0, x1) for y in (float(low[a]), float(top[a]))]
        joined = sum((round(x / (2 * slack)), round(y / (2 * slack))) in ends for x, y in corners)
        if x1 - x0 > 0.02 * high and joined >= 3:
            rows.append((x0, float(low[a]), x1, float(top[a])))
    return np.array(rows, float).reshape(-1, 4)


def openings(scene: Scene, views: Sequence[View]) -> list[Evidence]:
    """Doors and windows seen from the front: their usual sizes in the units.

    Args:
        scene: everything visible in the drawing.
        views: the views of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    doors, windows = [], []
    for view in views:
        if view.kind != "elevation":
            continue
        boxes = frames_in(scene, view)
        high = view.core[3] - view.core[1]
        foot = view.ground_y if view.ground_y is not None else view.core[1]
        wide, tall = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
        stands = np.abs(boxes[:, 1] - foot) <= DOOR_FOOT * high
        aspect = tall / np.maximum(wide, 1e-300)
        is_door = (
            stands
            & (aspect > DOOR_ASPECT[0])
            & (aspect < DOOR_ASPECT[1])
            & (tall > 0.12 * high)
            & (tall < 0.85 * high)
        )
        is_window = (
            ~stands & (aspect > 0.4) & (aspect < 3.0) & (tall > 0.06 * high) & (tall < 0.5 * high)
        )
        doors += tall[is_door].tolist()
        windows += tall[is_window].tolist()
    found = []
    if doors:
        size = float(np.median(doors))
        found.append(
            Evidence(
                "doors",
                {"height": size, "count": len(doors)},
                by_size(size, *DOOR_MM, SIZE_MOST / 2),
            )
        )
    if len(windows) >= 2:
        size = float(np.median(windows))
        found.append(
            Evidence(
                "windows",
                {"height": size, "count": len(windows)},
                by_size(size, *WINDOW_MM, SIZE_MOST),
            )
        )
    return found


def storeys(views: Sequence[View]) -> list[Evidence]:
    """Heights of elevations: one to four storeys and a roof.

    Args:
        views: the views of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    highs = [v.core[3] - v.core[1] for v in views if v.kind == "elevation"]
    if not highs:
        return []
    high = float(np.median(highs))
    return [Evidence("storeys", {"height": high}, by_size(high, *STOREY_MM, 0.75 * SIZE_MOST))]


def courses(scene: Scene, views: Sequence[View]) -> list[Evidence]:
    """Distance of courses or boards: of hatches' level lines, and of level lines drawn in
    elevations.

    Args:
        scene: everything visible in the drawing.
        views: the views of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    gaps = [
        gap
        for h in scene.hatches
        for angle, gap, _ in h.lines
        if min(angle, 180.0 - angle) < 1.0 and gap > 0.0
    ]
    for view in views:
        if view.kind == "elevation":
            gaps += _courses(scene.segments[view.segments], view.core[3] - view.core[1])
    if not gaps:
        return []
    gap = float(np.median(gaps))
    return [
        Evidence(
            "courses", {"height": gap, "count": len(gaps)}, by_size(gap, *COURSE_MM, SIZE_MOST / 2)
        )
    ]


def _courses(own: Floats, high: float) -> list[float]:
    """The commonest distance of level lines, where many have it."""
    d = np.abs(own[:, 2:] - own[:, :2])
    level = own[(d[:, 1] <= 1e-3 * d[:, 0]) & (d[:, 0] > 0.05 * high)]
    ys = distinct(np.round(level[:, 1] / (5e-4 * high))) * 5e-4 * high
    steps = np.diff(ys)
    steps = steps[(steps > 0.004 * high) & (steps < 0.12 * high)]
    if len(steps) < _LEAST_COURSES:
        return []
    usual = float(np.median(steps))
    return [usual] if (np.abs(steps - usual) <= 0.1 * usual).mean() > 0.6 else []


def letters(scene: Scene, stated: float | None) -> list[Evidence]:
    """Height of most texts in model space; on paper where the sheet states its scale.

    Args:
        scene: the scene.
        stated: the scale that the sheet states, 50 for 1:50; None for none or several.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    heights = [t.height for t in scene.texts if t.height > 0.0]
    if len(heights) < 2:
        return []
    usual = float(np.median(heights))
    if stated:
        weights = bounded(
            {n: normal(usual * mm / stated, *PLOTTED_MM) for n, mm in MM.items()}, SIZE_MOST
        )
        return [Evidence("letters on paper", {"height": usual, "scale": stated}, weights)]
    return [
        Evidence(
            "letters",
            {"height": usual, "count": len(heights)},
            by_size(usual, *LETTER_MM, SIZE_MOST / 2),
        )
    ]
