"""Casings: the boards of applied trim round a frame, at which the stone of a wall stops.

+-------------+       head casing, often taller than the sides and with ears past them
+-+---------+-+
  | |     | |         side casings: as wide on the left as on the right, as tall as the frame
  | |     | |         where boards butt; under a door they stand on what it stands on
  +-+-----+-+
+-------------+       sill and apron below
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons

_UPSIDE_DOWN = np.array([1.0, -1.0, 1.0, -1.0])


def cased(found: Polygons, lines: Floats, *, gap: float, metre: float) -> Polygons:
    """The outlines of frames with their casings.

    Lintels and sills of masonry reach farther past a frame than ears do, have joints between their
    stones, and no boards stand at the sides.

    Args:
        found: outlines that may be openings, among them frames and frames with side casings.
        lines: the lines of the elevation and the runs that they make, shape (n, 4).
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Polygons, some with ears, that are not among those found.
    """
    boxes = shapely.bounds(found).reshape(-1, 4)
    size = (boxes[:, 2:] - boxes[:, :2]).prod(axis=1)
    boxes = boxes[shapely.area(found) >= constants.PLAIN_FULLNESS * size]
    lines = np.hstack(
        [np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])]
    )
    level = lines[lines[:, 3] - lines[:, 1] <= gap / 2]
    upright = lines[lines[:, 2] - lines[:, 0] <= gap / 2]
    if not len(boxes) or not len(level) or not len(upright):
        return np.empty(0, dtype=object)
    legs = _between_legs(boxes, level, upright, gap, metre)
    rows = _rows(level, upright, gap, metre)
    sided = np.vstack([boxes[_has_sides(boxes, gap, metre)], legs, rows])
    over = _boards_over(sided, level, upright, gap, metre)
    under = _boards_over(
        sided[:, [0, 3, 2, 1]] * _UPSIDE_DOWN,
        level[:, [0, 3, 2, 1]] * _UPSIDE_DOWN,
        upright[:, [0, 3, 2, 1]] * _UPSIDE_DOWN,
        gap,
        metre,
    )
    under = under[:, [0, 3, 2, 1]] * _UPSIDE_DOWN
    made = [
        shapely.union_all(shapely.box(*np.array(parts).T))
        for parts in _joined(sided, over, under)
        if len(parts) > 1
    ]
    return np.array([*shapely.box(*legs.T), *made], dtype=object)


def _joined(sided: Floats, over: Floats, under: Floats) -> Iterator[list[Floats]]:
    """Each box with the board over it and the board under it, where there are any."""
    for box, head, sill in zip(sided, over, under, strict=True):
        yield [box, *(board for board in (head, sill) if not np.isnan(board[0]))]


def _has_sides(boxes: Floats, gap: float, metre: float) -> NDArray[np.bool_]:
    """Which boxes are another of the same foot and head, and a board on either side of it."""
    outer, inner = shapely.STRtree(shapely.points(boxes[:, :2])).query(
        shapely.box(
            boxes[:, 0] - constants.FRAME_MOST_M * metre,
            boxes[:, 1] - gap,
            boxes[:, 0] - constants.FRAME_LEAST_M * metre,
            boxes[:, 1] + gap,
        )
    )[::-1]
    left, _, right, head = (boxes[inner] - boxes[outer]).T
    same = (np.abs(head) <= gap) & (np.abs(left + right) <= gap)
    result = np.zeros(len(boxes), dtype=bool)
    result[outer[same]] = True
    return result


def _rows(level: Floats, upright: Floats, gap: float, metre: float) -> Floats:
    """Boxes between boards at both sides, however many mullions stand between these.

    +-+--+---+--+-+     head and foot end at the outermost uprights, or at ears past them; other
    | |  |   |  | |     uprights of that height stand a board's width inside both of them
    +-+--+---+--+-+
    """
    ear = constants.CASING_EAR_M * metre
    starts = shapely.STRtree(shapely.points(level[:, :2]))
    x, foot, _, head = upright.T
    post, line = starts.query(shapely.box(x - ear, head - gap, x + gap, head + gap))
    made = np.column_stack(
        [x[post], foot[post], level[line, 2] - x[post] + level[line, 0], head[post]]
    )
    wide = (made[:, 2] - made[:, 0]) / metre
    fits = (wide >= constants.PLAIN_LEAST_M) & (wide <= constants.LITES_WIDEST_M)
    made = np.unique(
        made[fits & (made[:, 3] - made[:, 1] >= constants.PLAIN_LEAST_M * metre)], axis=0
    )
    made = made[_has_post(made[:, 2], made, upright, gap)]
    place, line = starts.query(
        shapely.box(made[:, 0] - ear, made[:, 1] - gap, made[:, 0] + gap, made[:, 1] + gap)
    )
    under = np.abs(level[line, 2] - made[place, 2] - made[place, 0] + level[line, 0]) <= gap
    made = made[np.unique(place[under])]
    feet = shapely.STRtree(shapely.points(upright[:, :2]))
    least, most = constants.FRAME_LEAST_M * metre, constants.FRAME_MOST_M * metre
    place, inner = feet.query(
        shapely.box(made[:, 0] + least, made[:, 1] - gap, made[:, 0] + most, made[:, 1] + gap)
    )
    tall = np.abs(upright[inner, 3] - made[place, 3]) <= gap
    place, inner = place[tall], inner[tall]
    other = made[place, 2] + made[place, 0] - upright[inner, 0]
    return np.asarray(made[np.unique(place[_has_post(other, made[place], upright, gap)])])


def _has_post(x: Floats, boxes: Floats, upright: Floats, gap: float) -> NDArray[np.bool_]:
    """Whether an upright stands at each place from the foot of a box to its head."""
    feet = shapely.STRtree(shapely.points(upright[:, :2]))
    place, line = feet.query(shapely.points(x, boxes[:, 1]), predicate="dwithin", distance=gap)
    result = np.zeros(len(x), dtype=bool)
    result[place[np.abs(upright[line, 3] - boxes[place, 3]) <= gap]] = True
    return result


def _between_legs(
    boxes: Floats, level: Floats, upright: Floats, gap: float, metre: float
) -> Floats:
    """Boxes with a casing on three sides, whether or not a line closes it at its foot.

    +---------+
    | +-----+ |     both legs stand where the frame stands, as far from it on the left as on the
    | |     | |     right, and one line joins their tops
    + +-----+ +
    """
    least, most = constants.FRAME_LEAST_M * metre, constants.FRAME_MOST_M * metre
    feet = shapely.STRtree(shapely.points(upright[:, :2]))
    box, leg = feet.query(
        shapely.box(boxes[:, 0] - most, boxes[:, 1] - gap, boxes[:, 0] - least, boxes[:, 1] + gap)
    )
    over = upright[leg, 3] - boxes[box, 3]
    tall = (over >= -gap) & (over <= constants.CASING_HEAD_M * metre)
    box, leg = box[tall], leg[tall]
    made = np.column_stack(
        [
            upright[leg, 0],
            boxes[box, 1],
            boxes[box, 2] + boxes[box, 0] - upright[leg, 0],
            upright[leg, 3],
        ]
    )
    other = _has_upright(made[:, 2], made[:, 1], made[:, 3], upright, gap)
    starts = shapely.STRtree(shapely.points(level[:, :2]))
    place, line = starts.query(shapely.points(made[:, [0, 3]]), predicate="dwithin", distance=gap)
    joined = np.zeros(len(made), dtype=bool)
    joined[place[np.abs(level[line, 2] - made[place, 2]) <= gap]] = True
    whole = is_one_board(made, boxes[box, 3], made[:, 3], upright, gap, metre)
    return np.unique(made[other & joined & whole], axis=0)


def _boards_over(boxes: Floats, level: Floats, upright: Floats, gap: float, metre: float) -> Floats:
    """The board over each box, as long as the box is wide or a little longer on both sides; not a
    number where there is none."""
    ear = constants.CASING_EAR_M * metre
    starts = shapely.STRtree(shapely.points(level[:, :2]))
    box, line = starts.query(
        shapely.box(
            boxes[:, 0] - ear,
            boxes[:, 3] + constants.FRAME_LEAST_M * metre,
            boxes[:, 0] + gap,
            boxes[:, 3] + constants.CASING_HEAD_M * metre,
        )
    )
    left, right = boxes[box, 0] - level[line, 0], level[line, 2] - boxes[box, 2]
    alike = np.abs(left - right) <= gap
    box, line = box[alike], line[alike]
    foot, head = boxes[box, 3], level[line, 1]
    closed = _has_upright(level[line, 0], foot, head, upright, gap)
    closed &= _has_upright(level[line, 2], foot, head, upright, gap)
    closed &= is_one_board(level[line], foot, head, upright, gap, metre)
    result = np.full((len(boxes), 4), np.nan)
    order = np.flatnonzero(closed)[np.argsort(head[closed], kind="stable")]
    for i in order.tolist():  # the highest last
        result[box[i]] = level[line[i], 0], foot[i], level[line[i], 2], head[i]
    return result


def is_one_board(
    boxes: Floats, foot: Floats, head: Floats, upright: Floats, gap: float, metre: float
) -> NDArray[np.bool_]:
    """Whether no joint of stones or of a cladding's boards parts what lies between foot and head of
    a head casing, corner blocks left out.

    Args:
        boxes: outlines with their casings, shape (k, 4).
        foot, head: where the head casing of each begins and ends.
        upright: the upright lines of the elevation, from below, shape (n, 4).
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    x0, x1 = boxes[:, 0], boxes[:, 2]
    inset, middle = np.minimum(constants.FRAME_MOST_M * metre, (x1 - x0) / 4.0), (foot + head) / 2.0
    across: Any = shapely.linestrings(
        np.stack([x0 + inset, middle, x1 - inset, middle], axis=1).reshape(-1, 2, 2)
    )
    lines: Any = shapely.linestrings(upright.reshape(-1, 2, 2))
    place, line = shapely.STRtree(lines).query(across, predicate="intersects")
    parts = (upright[line, 1] <= foot[place] + gap) & (upright[line, 3] >= head[place] - gap)
    parts &= (head - foot)[place] > 2.0 * gap
    result = np.ones(len(boxes), dtype=bool)
    result[place[parts]] = False
    return result


def _has_upright(
    x: Floats, foot: Floats, head: Floats, upright: Floats, gap: float
) -> NDArray[np.bool_]:
    """At which places an upright ends at a head and begins at a foot or below it."""
    tops = shapely.STRtree(shapely.points(upright[:, [0, 3]]))
    place, line = tops.query(shapely.points(x, head), predicate="dwithin", distance=gap)
    result = np.zeros(len(x), dtype=bool)
    result[place[upright[line, 1] <= foot[place] + gap]] = True
    return result
