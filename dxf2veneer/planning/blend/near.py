"""Which panels have pieces near each other on a wall, and how much one color pushes its like away.

    C1 | F1   | F2   | F3      F1 touches C1 and F2, and what lies above; F3 is farther, so
   C2    | F4   | F5   | F1    that one color in F1 and F3 matters less, but F1 has a second
                               piece beside F5

A push falls off as a bell curve whose width goes with the distance at which panels of a color's
share would stand if they were spread evenly: rare colors are kept apart farther. It is the measure
by which dot patterns without clusters are made in printing (R. A. Ulichney, The void-and-cluster
method for dither array generation, 1993).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import (
    BLEND_HALF_SHARE,
    BLEND_LEAST_SHARE,
    BLEND_REACH,
    BLEND_TOUCH_COST,
    BLEND_TOUCH_IN,
    BLEND_WIDTH,
)
from dxf2veneer.model import Edge, Piece, StockUnit, WallTakeoff


class Near(NamedTuple):
    """For every panel those near it: a row of ``others`` from ``first[u]`` to ``first[u + 1]``."""

    first: NDArray[np.int64]
    others: NDArray[np.int64]
    push: NDArray[np.float64]
    """By color and place in ``others`` what it costs that both have that color."""


class Spot(NamedTuple):
    """A piece as it lies: its panel's position among the panels, and its area in panels' faces."""

    unit: int
    wall: int
    piece: Piece
    faces: float


def spots_of(walls: Sequence[WallTakeoff], units: Sequence[StockUnit], face: float) -> list[Spot]:
    """The pieces of all walls.

    Args:
        walls: The walls with their pieces.
        units: The panels that they are cut from.
        face: Area of a flat panel, in square inches.

    Returns:
        Each piece with its panel and its area.
    """
    at = {unit.id: n for n, unit in enumerate(units)}
    return [
        Spot(at[p.stock], n, p, _area(p) / face)
        for n, wall in enumerate(walls)
        for p in wall.courses.pieces
    ]


def _area(piece: Piece) -> float:
    if not piece.outline and not piece.holes:
        return piece.length * piece.height
    x0, x1, y0, y1 = piece.x0, piece.x1, piece.y0, piece.y1
    ring = piece.outline or ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return float(Polygon(ring, piece.holes).area)


def near_of(
    walls: Sequence[WallTakeoff],
    spots: Sequence[Spot],
    units: int,
    shares: Sequence[float],
    face: float,
    thickness: float,
) -> Near:
    """How near the panels' pieces lie.

    Args:
        walls: The walls.
        spots: Their pieces.
        units: How many panels there are.
        shares: The colors' shares, 1 together.
        face: Area of a flat panel, in square inches.
        thickness: Thickness of the stone in inches, by which a piece stops short of a corner.

    Returns:
        The panels near each other, each pair from both sides.
    """
    widths = [BLEND_WIDTH * math.sqrt(face / max(s, BLEND_LEAST_SHARE)) for s in shares]
    a, b, apart = _pairs(spots, BLEND_REACH * max(widths))
    weight = np.array([s.faces for s in spots])
    pushes = [
        weight[a] * weight[b] * np.exp(-((apart / width) ** 2) / 2.0) / share
        for width, share in zip(widths, shares, strict=True)
    ]
    touching = sorted(set(_touching(walls, spots, thickness)))
    both = np.array(touching, dtype=np.int64).reshape(-1, 2)
    touch = np.full(len(both), BLEND_TOUCH_COST)
    a, b = np.concatenate([a, both[:, 0]]), np.concatenate([b, both[:, 1]])
    every = np.array(
        [
            np.concatenate([push, touch if share < BLEND_HALF_SHARE else 0.0 * touch])
            for push, share in zip(pushes, shares, strict=True)
        ]
    )
    unit = np.array([s.unit for s in spots], dtype=np.int64)
    return _by_unit(unit[a], unit[b], every, units)


def _by_unit(
    a: NDArray[np.int64], b: NDArray[np.int64], push: NDArray[np.float64], units: int
) -> Near:
    """Pushes between pieces summed by panels; pieces of one panel have one color anyhow."""
    other = a != b
    key = np.concatenate([(a * units + b)[other], (b * units + a)[other]])
    keys, at = np.unique(key, return_inverse=True)
    summed = np.array(
        [np.bincount(at, np.concatenate([p[other]] * 2), minlength=len(keys)) for p in push]
    )
    return Near(np.searchsorted(keys // units, np.arange(units + 1)), keys % units, summed)


def _pairs(
    spots: Sequence[Spot], reach: float
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64]]:
    """Pieces of one wall whose middles lie within reach, each pair once, and how far apart."""
    by_wall: dict[int, list[int]] = defaultdict(list)
    for i, spot in enumerate(spots):
        by_wall[spot.wall].append(i)
    firsts, seconds, aparts = [], [], []
    for own in by_wall.values():
        index = np.array(own, dtype=np.int64)
        xy = np.array([_middle(spots[i].piece) for i in own])
        points = shapely.points(xy)
        a, b = shapely.STRtree(points).query(points, predicate="dwithin", distance=reach)
        once = a < b
        order = np.lexsort((b[once], a[once]))
        a, b = a[once][order], b[once][order]
        firsts.append(index[a])
        seconds.append(index[b])
        aparts.append(np.hypot(*(xy[a] - xy[b]).T))
    return np.concatenate(firsts), np.concatenate(seconds), np.concatenate(aparts)


def _middle(piece: Piece) -> tuple[float, float]:
    return (piece.x0 + piece.x1) / 2.0, (piece.y0 + piece.y1) / 2.0


# ---------------------------------------------------------------- touching


def _touching(
    walls: Sequence[WallTakeoff], spots: Sequence[Spot], thickness: float
) -> Iterator[tuple[int, int]]:
    """Pairs of pieces that touch along an edge, those round a corner with them."""
    by_course: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, spot in enumerate(spots):
        by_course[spot.wall, spot.piece.course].append(i)
    for (wall, course), own in by_course.items():
        above = by_course.get((wall, course + 1), ())
        own.sort(key=lambda i: (spots[i].piece.x0, i))
        for at, i in enumerate(own):
            for j in own[at + 1 :]:
                if spots[j].piece.x0 - spots[i].piece.x1 > BLEND_TOUCH_IN:
                    break
                if _touch(spots[i].piece, spots[j].piece):
                    yield min(i, j), max(i, j)
            for j in above:
                if _touch(spots[i].piece, spots[j].piece):
                    yield min(i, j), max(i, j)
    yield from _round_corners(walls, spots, by_course, thickness)


def _touch(one: Piece, other: Piece) -> bool:
    """Whether two boxes meet along an edge, but for a narrow joint."""
    across = min(one.x1, other.x1) - max(one.x0, other.x0)
    up = min(one.y1, other.y1) - max(one.y0, other.y0)
    return min(across, up) >= -BLEND_TOUCH_IN and max(across, up) >= BLEND_TOUCH_IN


def _round_corners(
    walls: Sequence[WallTakeoff],
    spots: Sequence[Spot],
    by_course: Mapping[tuple[int, int], Sequence[int]],
    thickness: float,
) -> Iterator[tuple[int, int]]:
    """Pieces of one course on both sides of a corner."""
    at: dict[tuple[str, int], list[int]] = defaultdict(list)
    for (wall, course), own in by_course.items():
        for edge in walls[wall].wall.edges:
            rank = walls[wall].courses.rise + course
            if edge.corner:
                at[edge.corner, rank] += [i for i in own if _is_at(edge, spots[i].piece, thickness)]
    for both in at.values():
        for n, i in enumerate(both):
            yield from (
                (min(i, j), max(i, j)) for j in both[n + 1 :] if spots[i].wall != spots[j].wall
            )


def _is_at(edge: Edge, piece: Piece, thickness: float) -> bool:
    """Whether a piece ends at a wall's edge, or short of it by the stone that it butts against."""
    end = piece.x1 if edge.side == "right" else piece.x0
    level = min(edge.y1, piece.y1) - max(edge.y0, piece.y0)
    return abs(end - edge.x) <= thickness + BLEND_TOUCH_IN and level >= BLEND_TOUCH_IN
