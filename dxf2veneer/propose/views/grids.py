"""Grid bubbles: circles (or hexagons) with a short name in them, at the end of a grid line.

(1)        bubble      closed and round, a text of up to three characters in its middle
 |         grid line   starts at the bubble and points away from its centre
 |
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose.constants import BUBBLE_LETTERS, BUBBLE_TEXT, BUBBLES_ALIKE, STRAIGHT
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene
from dxf2veneer.propose.views.boxes import segments_near


@dataclass(frozen=True)
class Bubble:
    """A grid bubble with its line, if it has one."""

    name: str
    x: float
    y: float
    radius: float
    line: int
    """Number of the grid line's segment; -1 for none."""
    upright: bool | None
    """Whether the grid line is upright; None for no line or a slanting one."""
    box: Box
    """Of the circle."""
    text: int
    """Number of its text in the scene."""


def circles_of(scene: Scene) -> tuple[Floats, Integers]:
    """Closed round entities: rows of centre x, y and radius, and their entity numbers.

    Args:
        scene: everything visible in the drawing.

    Returns:
        Centres and radii, shape (n, 3), and entity numbers, shape (n,).
    """
    x0, y0, x1, y1 = scene.boxes.T
    wide, high = x1 - x0, y1 - y0
    circle = scene.entities.kind == "CIRCLE"
    may = (circle | scene.entities.closed) & (wide > 0.0) & (np.diff(scene.first) >= 6)
    may &= np.abs(wide - high) <= 0.16 * wide
    for n in np.flatnonzero(may & ~circle).tolist():
        may[n] = _is_round(scene.segments_of(n), scene.boxes[n])
    rows = np.column_stack([(x0 + x1) / 2, (y0 + y1) / 2, np.maximum(wide, high) / 2])
    return rows[may], np.flatnonzero(may)


def _is_round(segments: Floats, box: Floats) -> bool:
    """Whether corners lie on one circle; hexagons and bulged polylines are round."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    far = np.hypot(segments[:, 0] - x, segments[:, 1] - y)
    return bool(far.max() - far.min() <= 0.03 * far.max())


def bubbles_of(scene: Scene) -> tuple[list[Bubble], Integers]:
    """The grid bubbles of a scene, and the numbers of the entities that draw them.

    Args:
        scene: everything visible in the drawing.

    Returns:
        Bubbles in the order of the scene; entity numbers of circles and of grid lines.
    """
    circles, numbers = circles_of(scene)
    named = [
        n for n, t in enumerate(scene.texts) if len(t.text) <= BUBBLE_LETTERS and t.height > 0.0
    ]
    short = [scene.texts[n] for n in named]
    if not len(circles) or not short:
        return [], np.zeros(0, np.int64)
    middles = np.array([((t.box[0] + t.box[2]) / 2, (t.box[1] + t.box[3]) / 2) for t in short])
    heights = np.array([t.height for t in short])
    tree = shapely.STRtree(shapely.points(middles))
    which, text = tree.query(
        shapely.buffer(shapely.points(circles[:, :2]), 0.7 * circles[:, 2], quad_segs=4),
        predicate="contains",
    )
    share = circles[which, 2] / heights[text]
    fits = (share >= BUBBLE_TEXT[0]) & (share <= BUBBLE_TEXT[1])
    if not fits.any():
        return [], np.zeros(0, np.int64)
    which, text = which[fits], text[fits]
    marks = _alike(circles[which, 2], text)
    own = {int(c): int(t) for c, t in zip(which[marks], text[marks], strict=True)}
    lines = _lines_at(scene, circles[list(own)]) if own else {}
    bubbles, drawn = [], []
    for place, (c, t) in enumerate(own.items()):
        x, y, r = (float(v) for v in circles[c])
        line = lines.get(place, -1)
        bubbles.append(
            Bubble(
                short[t].text,
                x,
                y,
                r,
                line,
                _is_upright(scene, line),
                (x - r, y - r, x + r, y + r),
                named[t],
            )
        )
        drawn.append(int(numbers[c]))
        if line >= 0:
            drawn.append(int(scene.owner[line]))
    return bubbles, np.unique(np.array(drawn, np.int64))


def _alike(radii: Floats, text: Integers) -> NDArray[np.bool_]:
    """Which circles round texts are bubbles: of those round one text those of the size that most
    texts have round them; bubbles are drawn alike, and one may stand in a round window."""
    _, size = np.unique(np.rint(radii / (BUBBLES_ALIKE * radii.max())), return_inverse=True)
    pairs = np.unique(np.stack([text, size], axis=1), axis=0)
    count = np.bincount(pairs[:, 1])[size]
    most = np.zeros(text.max() + 1, np.int64)
    np.maximum.at(most, text, count)
    return np.asarray(count == most[text])


def _lines_at(scene: Scene, circles: Floats) -> dict[int, int]:
    """For each circle the longest segment that starts at it and points to its centre."""
    x, y, reach = *circles[:, :2].T, 1.3 * circles[:, 2]
    rooms = np.column_stack([x - reach, y - reach, x + reach, y + reach])
    near = segments_near(scene, rooms)
    long = near[scene.lengths[near] > 0.5 * circles[:, 2].min()]
    if not len(long):
        return {}
    ends = scene.segments[long].reshape(-1, 2)
    tree = shapely.STRtree(shapely.points(ends))
    which, end = tree.query(
        shapely.buffer(shapely.points(circles[:, :2]), reach, quad_segs=8),
        predicate="contains",
    )
    order = np.lexsort((end, which))
    best: dict[int, tuple[float, int]] = {}
    for c, e in zip(which[order].tolist(), end[order].tolist(), strict=True):
        x, y, r = circles[c]
        number = int(long[e // 2])
        x0, y0, x1, y1 = (
            scene.segments[number] if e % 2 == 0 else scene.segments[number][[2, 3, 0, 1]]
        )
        length = float(np.hypot(x1 - x0, y1 - y0))
        off = abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / length
        far = float(np.hypot(x0 - x, y0 - y))
        if 0.9 * r <= far and off <= 0.15 * r and length > r and length > best.get(c, (0.0, 0))[0]:
            best[c] = length, number
    return {c: number for c, (_, number) in best.items()}


def _is_upright(scene: Scene, line: int) -> bool | None:
    if line < 0:
        return None
    x0, y0, x1, y1 = scene.segments[line]
    wide, high = abs(x1 - x0), abs(y1 - y0)
    if wide <= STRAIGHT * high:
        return True
    return False if high <= STRAIGHT * wide else None
