"""Tables: title blocks, schedules, legends; cells with texts in them."""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose.arrays import distinct
from dxf2veneer.propose.constants import (
    BLOCK_LARGEST,
    LABELS_HIGH,
    LABELS_LEAST,
    SHEET_BESIDE_STRIP,
    STRAIGHT,
    STRIP_STROKES,
    TABLE_STRAIGHT,
    TABLE_TEXTS,
)
from dxf2veneer.propose.scene import Box, Floats, Integers, Scene
from dxf2veneer.propose.views.boxes import area, box_of, inside, middle


def is_table(scene: Scene, segments: Integers, box: Box) -> bool:
    """Whether a group is a table: level and upright lines, nearly as many texts as lines.

    Args:
        scene: the scene.
        segments: numbers of the group's segments.
        box: the group's box.

    Returns:
        True for a table.
    """
    straight, lines, held = _cells(scene, segments, box, TABLE_STRAIGHT)
    if straight >= TABLE_STRAIGHT and lines >= 5 and held >= 3 and held >= TABLE_TEXTS * lines:
        return True
    return is_ruled(scene, segments, box, held) or has_labeled_cells(scene, segments, box)


def has_labeled_cells(scene: Scene, segments: Integers, box: Box) -> bool:
    """Whether a box is a row of cells with a drawing in each and its name below it: a schedule of
    windows. Cells may be drawn one by one.

    +-----+-----+-----+
    | [ ] | [ ] | [ ] |
    +-----+-----+-----+
    | W1  | W2  | W3  |
    +-----+-----+-----+

    Args:
        scene: everything visible in the drawing.
        segments: numbers of the segments in the box.
        box: the box, in drawing units.

    Returns:
        True for such a row.
    """
    levels, uprights = _ruled(scene, segments, box, joined=True)
    columns = len(uprights) - 1
    if len(levels) < 3 or columns < 2:
        return False
    under = np.sort(levels)[1]
    x, y = ((scene.text_boxes[:, k] + scene.text_boxes[:, k + 2]) / 2 for k in (0, 1))
    named = x[(y > box[1]) & (y < under)]
    cells = np.searchsorted(np.sort(uprights), named)
    labeled = distinct(cells[(cells > 0) & (cells <= columns)])
    return len(labeled) == columns and under - box[1] <= LABELS_HIGH * (box[3] - box[1])


def is_strip(scene: Scene, segments: Integers, title: Box) -> bool:
    """Whether a group is the strip in which a sheet's name stands: few lines, all of them level or
    upright, round its own title, which stands beside a view.

    +----------------------+
    | EXTERIOR ELEVATIONS  |
    +----------------------+

    Args:
        scene: everything visible in the drawing.
        segments: numbers of the group's segments.
        title: the box of the text that names it.

    Returns:
        True for such a strip.
    """
    if not 0 < len(segments) < STRIP_STROKES:
        return False
    box = box_of(scene.segments[segments])
    straight, _, _ = _cells(scene, segments, box, TABLE_STRAIGHT)
    return straight >= TABLE_STRAIGHT and inside(box, middle(title))


def is_ruled(scene: Scene, segments: Integers, box: Box, held: int) -> bool:
    """Whether lines part a box in rows and columns from side to side, with a text in most of
    them. A sheet that one line parts from a strip for its title is not.

    Args:
        scene: everything visible in the drawing.
        segments: numbers of the segments in the box.
        box: the box, in drawing units.
        held: number of texts in the box.

    Returns:
        True where it is ruled.
    """
    levels, uprights = _ruled(scene, segments, box)
    rows, columns = len(levels), len(uprights)
    if rows + columns == 5:
        parts = np.diff(np.sort(levels if rows == 3 else uprights))
        if parts.max(initial=0.0) > SHEET_BESIDE_STRIP * parts.sum():
            return False
    return (
        rows >= 2
        and columns >= 2
        and rows + columns >= 5
        and held >= max(2.0, 0.6 * max(rows - 1, columns - 1))
    )


def _ruled(
    scene: Scene, segments: Integers, box: Box, *, joined: bool = False
) -> tuple[Floats, Floats]:
    """Where lines run the whole width of a box and its whole height, or pieces in line that leave
    no gap where they are joined; its sides have to be drawn."""
    wide, high = box[2] - box[0], box[3] - box[1]
    slack = 0.004 * max(wide, high)
    if joined:
        own = scene.segments[scene.not_shorter(segments, LABELS_LEAST * min(wide, high))]
        own = np.vstack([_joined(own, 0, slack), _joined(own, 1, slack)])
    else:
        own = scene.segments[scene.not_shorter(segments, min(wide, high) - 2 * slack)]
    d = np.abs(own[:, 2:] - own[:, :2])
    level = own[(d[:, 1] <= slack) & (d[:, 0] >= wide - 2 * slack)][:, 1]
    upright = own[(d[:, 0] <= slack) & (d[:, 1] >= high - 2 * slack)][:, 0]
    sides = [
        np.abs(level - box[1]),
        np.abs(level - box[3]),
        np.abs(upright - box[0]),
        np.abs(upright - box[2]),
    ]
    if any(s.min(initial=np.inf) > slack for s in sides):
        return level[:0], upright[:0]
    return (
        distinct(np.round(level / (2 * slack))) * 2 * slack,
        distinct(np.round(upright / (2 * slack))) * 2 * slack,
    )


def _joined(segments: Floats, axis: int, slack: float) -> Floats:
    """The level segments (axis 0) or the upright ones (axis 1), those in line that leave no gap
    made one."""
    other = 1 - axis
    some = segments[np.abs(segments[:, 2 + other] - segments[:, other]) <= slack]
    low = np.minimum(some[:, axis], some[:, 2 + axis])
    high = np.maximum(some[:, axis], some[:, 2 + axis])
    place = np.round(some[:, other] / (2 * slack))
    order = np.lexsort((low, place))
    made: list[list[float]] = []
    for row, at, a, b in np.column_stack([place, some[:, other], low, high])[order].tolist():
        if made and made[-1][0] == row and a <= made[-1][3] + slack:
            made[-1][3] = max(b, made[-1][3])
        else:
            made.append([row, at, a, b])
    rows = np.array(made).reshape(-1, 4)[:, 1:]
    return np.asarray(rows[:, [1, 0, 2, 0] if axis == 0 else [0, 1, 0, 2]])


def is_title_block(scene: Scene, segments: Integers, box: Box, frame: Box) -> bool:
    """Whether a group is the title block of a frame: it reaches the frame and has cells with texts.

    Symbols and logos may stand in some of the cells.

    Args:
        scene: everything visible in the drawing.
        segments: numbers of the group's segments.
        box: the group's box.
        frame: the frame's box.

    Returns:
        True for a title block.
    """
    slack = 0.004 * max(frame[2] - frame[0], frame[3] - frame[1])
    reached = sum(abs(a - b) <= slack for a, b in zip(box, frame, strict=True))
    if not reached or area(box) > BLOCK_LARGEST * area(frame):
        return False
    straight, lines, held = _cells(scene, segments, box, 0.6)
    return straight >= 0.6 and lines >= 4 and held >= 2 and held >= 0.3 * TABLE_TEXTS * lines


def _cells(scene: Scene, segments: Integers, box: Box, least: float) -> tuple[float, int, int]:
    """Share of level and upright lines by length, number of rows' and columns' lines, number of
    texts; lines are counted where the share is at least as large as given."""
    if not len(segments):
        return 0.0, 0, 0
    x0, y0, x1, y1 = scene.segments[segments].T
    wide, high, length = np.abs(x1 - x0), np.abs(y1 - y0), scene.lengths[segments]
    straight = np.minimum(wide, high) <= STRAIGHT * np.maximum(wide, high)
    x, y = ((scene.text_boxes[:, k] + scene.text_boxes[:, k + 2]) / 2 for k in (0, 1))
    held = int(((x >= box[0]) & (x <= box[2]) & (y >= box[1]) & (y <= box[3])).sum())
    share = float(length[straight].sum() / max(length.sum(), 1e-300))
    if share < least:
        return share, 0, held
    size = max(box[2] - box[0], box[3] - box[1])
    rows = len(distinct(np.round(y0[straight & (wide > high)] / (0.002 * size))))
    columns = len(distinct(np.round(x0[straight & (high > wide)] / (0.002 * size))))
    return share, rows + columns, held
