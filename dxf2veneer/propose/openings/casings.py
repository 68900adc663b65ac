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
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons


@dataclass(frozen=True, eq=False)
class Straight:
    """The level and the upright lines of an elevation, looked up where they begin and end.

    Attributes:
        level: from the left end, shape (n, 4).
        upright: from below, shape (m, 4).
        gap: ends this near to each other meet, in drawing units.
    """

    level: Floats
    upright: Floats
    gap: float

    @staticmethod
    def of(lines: Floats, gap: float) -> Straight:
        """Those of some lines that are level or upright.

        Args:
            lines: shape (k, 4), in drawing units.
            gap: ends this near to each other meet, in drawing units.

        Returns:
            These lines.
        """
        first, last = lines[:, :2], lines[:, 2:]
        lines = np.hstack([np.minimum(first, last), np.maximum(first, last)])
        level = lines[lines[:, 3] - lines[:, 1] <= gap / 2]
        return Straight(level, lines[lines[:, 2] - lines[:, 0] <= gap / 2], gap)

    @cached_property
    def starts(self) -> shapely.STRtree:
        """The left ends of the level lines."""
        return shapely.STRtree(shapely.points(self.level[:, :2]))

    @cached_property
    def feet(self) -> shapely.STRtree:
        """The lower ends of the upright lines."""
        return shapely.STRtree(shapely.points(self.upright[:, :2]))

    @cached_property
    def heads(self) -> shapely.STRtree:
        """The upper ends of the upright lines."""
        return shapely.STRtree(shapely.points(self.upright[:, [0, 3]]))

    @cached_property
    def uprights(self) -> shapely.STRtree:
        """The upright lines."""
        return shapely.STRtree(shapely.linestrings(self.upright.reshape(-1, 2, 2)))

    @property
    def upside_down(self) -> Straight:
        """The lines mirrored at a level line, so that feet become heads; they are looked up where
        they were."""
        return _UpsideDown(_upside_down(self.level), _upside_down(self.upright), self.gap, self)

    def starting_in(self, boxes: Floats) -> tuple[Ints, Ints]:
        """Pairs of a box and a level line whose left end lies in it."""
        box, line = self.starts.query(shapely.box(*boxes.T))
        return box, line

    def with_head(self, x: Floats, y: Floats) -> tuple[Ints, Ints]:
        """Pairs of a place and an upright that ends up there."""
        place, line = self.heads.query(shapely.points(x, y), predicate="dwithin", distance=self.gap)
        return place, line

    def met_by(self, lines: Floats) -> tuple[Ints, Ints]:
        """Pairs of a line and an upright that it meets."""
        across = shapely.linestrings(lines.reshape(-1, 2, 2))
        place, line = self.uprights.query(across, predicate="intersects")
        return place, line


@dataclass(frozen=True, eq=False)
class _UpsideDown(Straight):
    """Lines mirrored at a level line, and the lines as they are."""

    upright_ones: Straight

    def starting_in(self, boxes: Floats) -> tuple[Ints, Ints]:
        return self.upright_ones.starting_in(_upside_down(boxes))

    def with_head(self, x: Floats, y: Floats) -> tuple[Ints, Ints]:
        at = shapely.points(x, -y)
        place, line = self.upright_ones.feet.query(at, predicate="dwithin", distance=self.gap)
        return place, line

    def met_by(self, lines: Floats) -> tuple[Ints, Ints]:
        return self.upright_ones.met_by(lines * _MIRRORED)


_MIRRORED = np.array([1.0, -1.0, 1.0, -1.0])


def _upside_down(boxes: Floats) -> Floats:
    """Boxes mirrored at a level line."""
    return np.asarray(boxes[:, [0, 3, 2, 1]] * _MIRRORED)


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
    straight = Straight.of(lines, gap)
    if not len(boxes) or not len(straight.level) or not len(straight.upright):
        return np.empty(0, dtype=object)
    legs = _between_legs(boxes, straight, metre)
    rows = _rows(straight, metre)
    sided = np.vstack([boxes[_has_sides(boxes, gap, metre)], legs, rows])
    over = _boards_over(sided, straight, metre)
    under = _upside_down(_boards_over(_upside_down(sided), straight.upside_down, metre))
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


def _rows(lines: Straight, metre: float) -> Floats:
    """Boxes between boards at both sides, however many mullions stand between these.

    +-+--+---+--+-+     head and foot end at the outermost uprights, or at ears past them; other
    | |  |   |  | |     uprights of that height stand a board's width inside both of them
    +-+--+---+--+-+
    """
    ear, gap = constants.CASING_EAR_M * metre, lines.gap
    least = constants.PLAIN_LEAST_M * metre
    x, foot, _, head = lines.upright[lines.upright[:, 3] - lines.upright[:, 1] >= least].T
    post, line = lines.starts.query(shapely.box(x - ear, head - gap, x + gap, head + gap))
    start, _, end, _ = lines.level[line].T
    made = np.column_stack([x[post], foot[post], end - x[post] + start, head[post]])
    wide = (made[:, 2] - made[:, 0]) / metre
    fits = (wide >= constants.PLAIN_LEAST_M) & (wide <= constants.LITES_WIDEST_M)
    made = np.unique(made[fits], axis=0)
    made = made[_has_post(made[:, 2], made, lines)]
    place, line = lines.starts.query(
        shapely.box(made[:, 0] - ear, made[:, 1] - gap, made[:, 0] + gap, made[:, 1] + gap)
    )
    start, _, end, _ = lines.level[line].T
    under = np.abs(end - made[place, 2] - made[place, 0] + start) <= gap
    made = made[np.unique(place[under])]
    least, most = constants.FRAME_LEAST_M * metre, constants.FRAME_MOST_M * metre
    place, inner = lines.feet.query(
        shapely.box(made[:, 0] + least, made[:, 1] - gap, made[:, 0] + most, made[:, 1] + gap)
    )
    tall = np.abs(lines.upright[inner, 3] - made[place, 3]) <= gap
    place, inner = place[tall], inner[tall]
    other = made[place, 2] + made[place, 0] - lines.upright[inner, 0]
    return np.asarray(made[np.unique(place[_has_post(other, made[place], lines)])])


def _has_post(x: Floats, boxes: Floats, lines: Straight) -> NDArray[np.bool_]:
    """Whether an upright stands at each place from the foot of a box to its head."""
    at = shapely.points(x, boxes[:, 1])
    place, line = lines.feet.query(at, predicate="dwithin", distance=lines.gap)
    result = np.zeros(len(x), dtype=bool)
    result[place[np.abs(lines.upright[line, 3] - boxes[place, 3]) <= lines.gap]] = True
    return result


def _between_legs(boxes: Floats, lines: Straight, metre: float) -> Floats:
    """Boxes with a casing on three sides, whether or not a line closes it at its foot.

    +---------+
    | +-----+ |     both legs stand where the frame stands, as far from it on the left as on the
    | |     | |     right, and one line joins their tops
    + +-----+ +
    """
    least, most = constants.FRAME_LEAST_M * metre, constants.FRAME_MOST_M * metre
    gap, upright = lines.gap, lines.upright
    box, leg = lines.feet.query(
        shapely.box(boxes[:, 0] - most, boxes[:, 1] - gap, boxes[:, 0] - least, boxes[:, 1] + gap)
    )
    over = upright[leg, 3] - boxes[box, 3]
    tall = (over >= -gap) & (over <= constants.CASING_HEAD_M * metre)
    box, leg = box[tall], leg[tall]
    left, _, right, top = boxes[box].T
    made = np.column_stack(
        [upright[leg, 0], boxes[box, 1], right + left - upright[leg, 0], upright[leg, 3]]
    )
    both = _has_upright(made[:, 2], made[:, 1], made[:, 3], lines)
    made, top = made[both], top[both]
    place, line = lines.starts.query(
        shapely.points(made[:, [0, 3]]), predicate="dwithin", distance=gap
    )
    joined = np.unique(place[np.abs(lines.level[line, 2] - made[place, 2]) <= gap])
    made, top = made[joined], top[joined]
    return np.unique(made[is_one_board(made, top, made[:, 3], lines, metre)], axis=0)


def _boards_over(boxes: Floats, lines: Straight, metre: float) -> Floats:
    """The board over each box, as long as the box is wide or a little longer on both sides; not a
    number where there is none."""
    ear, gap = constants.CASING_EAR_M * metre, lines.gap
    left, head = boxes[:, 0], boxes[:, 3]
    low, high = constants.FRAME_LEAST_M * metre, constants.CASING_HEAD_M * metre
    box, line = lines.starting_in(
        np.column_stack([left - ear, head + low, left + gap, head + high])
    )
    board = lines.level[line]
    left, right = boxes[box, 0] - board[:, 0], board[:, 2] - boxes[box, 2]
    alike = np.abs(left - right) <= gap
    box, board = box[alike], board[alike]
    for side in (0, 2):
        closed = _has_upright(board[:, side], boxes[box, 3], board[:, 1], lines)
        box, board = box[closed], board[closed]
    whole = is_one_board(board, boxes[box, 3], board[:, 1], lines, metre)
    box, board = box[whole], board[whole]
    result = np.full((len(boxes), 4), np.nan)
    order = np.argsort(board[:, 1], kind="stable")  # the highest last
    for i in order.tolist():
        result[box[i]] = board[i, 0], boxes[box[i], 3], board[i, 2], board[i, 1]
    return result


def is_one_board(
    boxes: Floats, foot: Floats, head: Floats, lines: Straight, metre: float
) -> NDArray[np.bool_]:
    """Whether no joint of stones or of a cladding's boards parts what lies between foot and head of
    a head casing, corner blocks left out.

    Args:
        boxes: outlines with their casings, shape (k, 4).
        foot, head: where the head casing of each begins and ends.
        lines: the lines of the elevation.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    x0, x1, gap = boxes[:, 0], boxes[:, 2], lines.gap
    inset, middle = np.minimum(constants.FRAME_MOST_M * metre, (x1 - x0) / 4.0), (foot + head) / 2.0
    across = np.column_stack([x0 + inset, middle, x1 - inset, middle])
    place, line = lines.met_by(across)
    upright = lines.upright[line]
    parts = (upright[:, 1] <= foot[place] + gap) & (upright[:, 3] >= head[place] - gap)
    parts &= (head - foot)[place] > 2.0 * gap
    result = np.ones(len(boxes), dtype=bool)
    result[place[parts]] = False
    return result


def _has_upright(x: Floats, foot: Floats, head: Floats, lines: Straight) -> NDArray[np.bool_]:
    """At which places an upright ends at a head and begins at a foot or below it."""
    place, line = lines.with_head(x, head)
    result = np.zeros(len(x), dtype=bool)
    result[place[lines.upright[line, 1] <= foot[place] + lines.gap]] = True
    return result
