"""Level strips of a shape, measured on upright slices that are cut out of it.

|    :     |   :   .'    Between two neighboring x of its corners a shape has straight sides. Two
|    :     |   : .'      cuts there, at a quarter and at three quarters, show how high it is open,
|    :     |   :'        and by their difference whether it is level or slopes.
'----+-----+---+---
 slice 1   slice 2       slice 1 is level at top and bottom, slice 2 slopes at its top
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.tolerances import (
    JUDGE_LENGTH_IN,
    JUDGE_NARROW_IN,
    JUDGE_PLACE_IN,
    LEVEL_SLOPE,
)
from dxf2veneer.geometry import Region
from dxf2veneer.model import Course

Floats = NDArray[np.float64]


class Strip(NamedTuple):
    """A stretch of a piece between two level lines, a course line or a level side of the field
    each."""

    x0: float
    x1: float
    y0: float
    y1: float


class Slices(NamedTuple):
    """Upright slices of a shape, from left to right and from the bottom up; arrays of one length.

    ``low`` and ``high`` are heights in the middle of a slice, in inches; ``low_level`` and
    ``high_level`` whether the shape is level there.
    """

    x0: Floats
    x1: Floats
    low: Floats
    high: Floats
    low_level: NDArray[np.bool_]
    high_level: NDArray[np.bool_]


class LevelSides:
    """The straight level sides of a wall's field; the flattened crown of an arc is none."""

    def __init__(self, field: Region) -> None:
        """Collect them from a field."""
        ends = np.array(
            [(*s.start, *s.end) for path in field.paths for s in path.segments if not s.is_arc]
        ).reshape(-1, 4)
        across, up = np.abs(ends[:, 2] - ends[:, 0]), np.abs(ends[:, 3] - ends[:, 1])
        level = ends[(across > 0.0) & (up <= LEVEL_SLOPE * across)]
        self._tree = shapely.STRtree(shapely.linestrings(level.reshape(-1, 2, 2)))

    def meet(self, x: Floats, y: Floats, course: Course) -> NDArray[np.bool_]:
        """Whether points lie on a level side or on a line of the course.

        Args:
            x: The x of the points, in inches.
            y: Their y.
            course: The course whose lines count as well.

        Returns:
            One flag for each point.
        """
        on_line = np.minimum(np.abs(y - course.y0), np.abs(y - course.y1)) <= JUDGE_PLACE_IN
        near, _ = self._tree.query(
            shapely.points(x, y), predicate="dwithin", distance=JUDGE_PLACE_IN
        )
        on_line[near] = True
        return on_line


def slices_of(shape: BaseGeometry) -> Slices:
    """A shape cut into upright slices at the x of its corners.

    Args:
        shape: A polygon or several, in inches; straight sides alone.

    Returns:
        Its slices; where a slice is open more than once, one entry for each opening.
    """
    xs = np.unique(shapely.get_coordinates(shape)[:, 0])
    wide = np.diff(xs) > JUDGE_LENGTH_IN
    x0, x1 = xs[:-1][wide], xs[1:][wide]
    if not len(x0):
        none = np.zeros(0)
        return Slices(none, none, none, none, none.astype(bool), none.astype(bool))
    quarter = (x1 - x0) / 4.0
    at = np.column_stack([x0 + quarter, x1 - quarter]).ravel()
    _, bottom, _, top = shape.bounds
    ends = np.array([[(x, bottom - 1.0), (x, top + 1.0)] for x in at])
    parts, cut = shapely.get_parts(
        shapely.intersection(shape, shapely.linestrings(ends)), return_index=True
    )
    solid = shapely.length(parts) > 0.0
    cut, heights = cut[solid], shapely.bounds(parts[solid])[:, [1, 3]]
    order = np.lexsort((heights[:, 0], cut))
    cut, heights = cut[order], heights[order]
    counts = np.bincount(cut, minlength=len(at)).reshape(-1, 2)
    alike = (counts[:, 0] == counts[:, 1])[cut // 2]
    cut, heights = cut[alike], heights[alike]
    first, second = heights[cut % 2 == 0], heights[cut % 2 == 1]
    own = cut[cut % 2 == 0] // 2
    level = np.abs(second - first) <= LEVEL_SLOPE * (2.0 * quarter[own])[:, None]
    low, high = ((first + second) / 2.0).T
    return Slices(x0[own], x1[own], low, high, level[:, 0], level[:, 1])


def level_strips(slices: Slices, sides: LevelSides, course: Course) -> list[Strip]:
    """The level strips among slices, those that go on at one height put together.

    Args:
        slices: A piece cut into slices.
        sides: The level sides of its wall's field.
        course: The course that it lies in.

    Returns:
        Strips wider than rounding, by where they begin.
    """
    x = (slices.x0 + slices.x1) / 2.0
    met = sides.meet(x, slices.low, course) & sides.meet(x, slices.high, course)
    strips: list[Strip] = []
    for i in np.flatnonzero(met & slices.low_level & slices.high_level):
        _add(strips, Strip(*(float(v[i]) for v in slices[:4])))
    return [s for s in strips if s.x1 - s.x0 > JUDGE_NARROW_IN]


def reach(slices: Slices, height: float) -> float:
    """How much of a shape's length rises level to a height.

    Args:
        slices: The shape cut into slices.
        height: The height that counts, in inches.

    Returns:
        Inches.
    """
    up = slices.high_level & (slices.high >= height)
    return float(np.sum((slices.x1 - slices.x0)[up]))


def _add(strips: list[Strip], more: Strip) -> None:
    """Add a strip, or lengthen the one it goes on from."""
    for i, s in enumerate(strips):
        if (
            abs(s.x1 - more.x0) <= JUDGE_LENGTH_IN
            and abs(s.y0 - more.y0) <= JUDGE_PLACE_IN
            and abs(s.y1 - more.y1) <= JUDGE_PLACE_IN
        ):
            strips[i] = Strip(s.x0, more.x1, s.y0, s.y1)
            return
    strips.append(more)
