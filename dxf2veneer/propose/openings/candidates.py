"""Outlines that may be openings: what lines close around, and rectangles of loose lines.

+-------------+     a face with what lies in it filled gives the outermost frame; four lines
| +---------+ |     that end at common corners give a rectangle even where boards or stones
| |  |   |  | |     run against it and no single face lies behind its outline
| +---------+ |
+-------------+
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons


def candidates(
    meshes: Sequence[Polygons], lines: Floats, closed: Polygons, *, gap: float, metre: float
) -> Polygons:
    """Every outline of an opening's size, each once, the largest first.

    Args:
        meshes: faces between the lines of the view, once with all lines, once without long ones.
        lines: the lines and runs that rectangles are looked for in, shape (n, 4).
        closed: outlines that were drawn or hatched closed.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        Polygons without holes, by falling area.
    """
    faces = np.concatenate([np.empty(0, dtype=object), *meshes])
    alike = dict(zip(shapely.to_wkb(faces).tolist(), faces.tolist(), strict=True))
    faces = np.array(list(alike.values()), dtype=object)  # most meshes have most of the faces
    found = np.concatenate(
        [
            _filled(shapely.get_exterior_ring(faces)),
            _insides(faces, metre=metre),
            _over_feet(faces, gap=gap, metre=metre),
            closed,
            rectangles(lines, gap=gap, metre=metre),
        ]
    )
    return distinct(found[of_size(found, metre)], gap)


def _filled(rings: Polygons) -> Polygons:
    """The polygons within rings."""
    return np.asarray(shapely.polygons(rings)) if len(rings) else np.empty(0, dtype=object)


def _insides(faces: Polygons, *, metre: float) -> Polygons:
    """What frames surround, however bars part it: holes of faces that are close around them."""
    rings, owner = shapely.get_rings(faces, return_index=True)
    inner = np.flatnonzero(np.diff(owner, prepend=-1) == 0)
    rings, owner = rings[inner], owner[inner]
    margins = np.abs(shapely.bounds(rings) - shapely.bounds(faces)[owner]).reshape(-1, 4)
    return _filled(rings[margins.max(axis=1, initial=0.0) <= constants.FRAME_MOST_M * metre])


def _over_feet(faces: Polygons, *, gap: float, metre: float) -> Polygons:
    """What frames surround that stand on a line with both jambs.

    +-------+
    | +---+ |     the face between the two outlines has a notch from below, as wide as what is in
    | |   | |     the frame; the notch is filled
    +-+   +-+
    """
    boxes = shapely.bounds(faces).reshape(-1, 4)
    size = np.maximum((boxes[:, 2:] - boxes[:, :2]).prod(axis=1), 1e-300)
    thin = shapely.area(faces) < constants.OPENING_FULLNESS * size
    hulls = shapely.convex_hull(faces[thin])
    fit = of_size(hulls, metre)
    hulls, thin = hulls[fit], np.flatnonzero(thin)[fit]
    notches = shapely.difference(hulls, _filled(shapely.get_exterior_ring(faces[thin])))
    around = np.abs(shapely.bounds(hulls) - shapely.bounds(notches)).reshape(-1, 4)
    most = constants.FRAME_MOST_M * metre
    framed = (
        (around[:, [0, 2, 3]] > gap).all(axis=1)
        & (around[:, [0, 2, 3]] <= most).all(axis=1)
        & (around[:, 1] <= gap)
    )
    return np.asarray(hulls[framed])


def of_size(polygons: Polygons, metre: float) -> NDArray[np.bool_]:
    """Whether each polygon has the size and the fullness of an opening.

    Args:
        polygons: outlines in drawing units.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    boxes = shapely.bounds(polygons).reshape(-1, 4)
    width, height = (boxes[:, 2] - boxes[:, 0]) / metre, (boxes[:, 3] - boxes[:, 1]) / metre
    area = shapely.area(polygons) / metre**2
    least, most = constants.OPENING_LEAST_M, constants.LITES_WIDEST_M
    fits = (width >= least) & (height >= least) & (width <= most) & (height <= most)
    full = area >= constants.OPENING_FULLNESS * width * height
    result = np.asarray(fits & full)
    half = np.abs(area / np.maximum(width * height, 1e-300) - 0.5) <= 1.0 - constants.PLAIN_FULLNESS
    result |= fits & half & (np.maximum(width, height) <= constants.GABLE_GLASS_MOST_M)
    result[result] = shapely.is_valid(polygons[result])
    small = result & ~full
    result[small] = _are_gables(polygons[small], boxes[small])
    return result


def _are_gables(polygons: Polygons, boxes: Floats) -> NDArray[np.bool_]:
    """Which polygons are triangles on a level foot with their apex over its middle."""
    x0, y0, x1, y1 = boxes.T
    ring = np.stack([x0, y0, x1, y0, (x0 + x1) / 2.0, y1], axis=1).reshape(-1, 3, 2)
    gables = shapely.polygons(ring)
    shared = shapely.area(shapely.intersection(polygons, gables))
    return np.asarray(
        shared
        >= constants.PLAIN_FULLNESS * np.maximum(shapely.area(polygons), shapely.area(gables))
    )


def rectangles(segments: Floats, *, gap: float, metre: float) -> Polygons:
    """Rectangles between two uprights of the same height, where level lines cover head and sill.

    A head or sill may run on: a board line over a window, the step or the ground under a door.
    Under a door the foot of the wall may stop at both jambs.

    Args:
        segments: lines and the runs that they make, shape (n, 4).
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The rectangles as polygons.
    """
    low, high = (
        np.minimum(segments[:, :2], segments[:, 2:]),
        np.maximum(segments[:, :2], segments[:, 2:]),
    )
    size = high - low
    least, most = constants.OPENING_LEAST_M * metre, constants.LITES_WIDEST_M * metre
    level = (size[:, 1] <= gap / 2) & (size[:, 0] >= least)
    upright = (size[:, 0] <= gap / 2) & (size[:, 1] >= least) & (size[:, 1] <= most)
    if not level.any() or not upright.any():
        return np.empty(0, dtype=object)
    ys = _places(np.concatenate([low[level, 1], low[upright, 1], high[upright, 1]]), gap)
    spans = _spans(low[level], high[level], ys, gap)
    posts: defaultdict[tuple[int, int], list[float]] = defaultdict(list)
    for y0, y1, x in zip(
        _nearest(low[upright, 1], ys), _nearest(high[upright, 1], ys), low[upright, 0], strict=True
    ):
        posts[int(y0), int(y1)].append(float(x))
    made = [
        (x0, ys[y0], x1, ys[y1])
        for (y0, y1), xs in posts.items()
        for x0, x1 in (
            *_pairs(sorted(xs), least, _widest(ys[y1] - ys[y0], metre), gap),
            *_rows(sorted(xs), spans.get(y0, ()), spans.get(y1, ()), metre),
        )
        if _covered(spans.get(y1, ()), x0, x1, gap)
        and (
            _covered(spans.get(y0, ()), x0, x1, gap) or _interrupted(spans.get(y0, ()), x0, x1, gap)
        )
    ]
    return np.asarray(shapely.box(*np.array(sorted(made)).T)) if made else np.empty(0, dtype=object)


_PARTNERS = 4
"""How many uprights of the same height to the right of one are tried as the other jamb."""


def _pairs(xs: list[float], least: float, widest: float, gap: float) -> list[tuple[float, float]]:
    """Pairs of a left and a right jamb, doubled lines taken once."""
    places = _apart(xs, gap)
    return [
        (a, b)
        for i, a in enumerate(places)
        for b in places[i + 1 : i + 1 + _PARTNERS]
        if least <= b - a <= widest
    ]


def _apart(xs: list[float], gap: float) -> list[float]:
    """Places in rising order, those near the one before left out."""
    return [x for i, x in enumerate(xs) if i == 0 or x - xs[i - 1] > gap]


def _widest(height: float, metre: float) -> float:
    """The greatest width of an opening of a height, in drawing units: higher than a door it is a
    strip."""
    is_strip = height > constants.OPENING_HIGHEST_M * metre
    return metre * (constants.PLAIN_HIGHEST_M if is_strip else constants.OPENING_WIDEST_M)


def _rows(
    xs: list[float],
    feet: Sequence[tuple[float, float]],
    heads: Sequence[tuple[float, float]],
    metre: float,
) -> list[tuple[float, float]]:
    """The first and the last of the mullions of one height that one sill and one head join."""
    gap = constants.JOIN_GAP_M * metre
    rows: defaultdict[tuple[int, int], list[float]] = defaultdict(list)
    for x in _apart(xs, gap):
        under, over = _span_at(feet, x, gap), _span_at(heads, x, gap)
        if under >= 0 and over >= 0:
            rows[under, over].append(x)
    least = constants.PANE_LEAST_M * metre
    return [
        (row[0], row[-1])
        for row in rows.values()
        if len(row) > _PARTNERS + 1 and row[-1] - row[0] >= least * (len(row) - 1)
    ]


def _span_at(row: Sequence[tuple[float, float]], x: float, gap: float) -> int:
    """The number of the span of a row that reaches over x, -1 where none does."""
    at = bisect_right(row, (x + gap, float("inf"))) - 1
    return at if at >= 0 and row[at][1] >= x - gap else -1


def _spans(
    low: Floats, high: Floats, ys: Floats, gap: float
) -> dict[int, list[tuple[float, float]]]:
    """For each height where level lines run, from left to right, those that touch joined."""
    result: defaultdict[int, list[tuple[float, float]]] = defaultdict(list)
    rows = sorted(
        zip(_nearest(low[:, 1], ys).tolist(), low[:, 0].tolist(), high[:, 0].tolist(), strict=True)
    )
    for y, a, b in rows:
        row = result[y]
        if row and a <= row[-1][1] + gap:
            row[-1] = (row[-1][0], max(b, row[-1][1]))
        else:
            row.append((a, b))
    return result


def _covered(row: Sequence[tuple[float, float]], x0: float, x1: float, gap: float) -> bool:
    """Whether one span of a row reaches from x0 to x1."""
    at = bisect_right(row, (x0 + gap, float("inf"))) - 1
    return at >= 0 and row[at][1] >= x1 - gap


def _places(values: Floats, gap: float) -> Floats:
    """Values that lie within the gap of each other brought to one place."""
    ordered = np.unique(values)
    starts = np.concatenate([[True], np.diff(ordered) > gap])
    return np.asarray(
        np.add.reduceat(ordered, np.flatnonzero(starts))
        / np.diff(np.append(np.flatnonzero(starts), len(ordered)))
    )


def _nearest(values: Floats, places: Floats) -> Ints:
    at = np.clip(np.searchsorted(places, values), 1, max(len(places) - 1, 1))
    if len(places) == 1:
        return np.zeros(len(values), dtype=np.int64)
    return np.asarray(
        np.where(np.abs(values - places[at - 1]) <= np.abs(values - places[at]), at - 1, at),
        dtype=np.int64,
    )


def _interrupted(row: Sequence[tuple[float, float]], x0: float, x1: float, gap: float) -> bool:
    """Whether one span of a row ends at x0 and the next begins at x1."""
    at = bisect_right(row, (x0 + gap, float("inf"))) - 1
    return (
        0 <= at < len(row) - 1 and abs(row[at][1] - x0) <= gap and abs(row[at + 1][0] - x1) <= gap
    )


def distinct(polygons: Polygons, gap: float) -> Polygons:
    """Polygons by falling area, those whose boxes are the same within the gap once.

    Args:
        polygons: outlines in drawing units.
        gap: ends this near to each other meet, in drawing units.

    Returns:
        Polygons by falling area.
    """
    order = np.argsort(-shapely.area(polygons), kind="stable")
    polygons = polygons[order]
    boxes = shapely.bounds(polygons).reshape(-1, 4)
    keys = np.rint(boxes / gap).astype(np.int64)
    _, first = np.unique(keys, axis=0, return_index=True)
    kept = np.sort(first)
    corners = shapely.points(boxes[kept, :2])
    one, other = shapely.STRtree(corners).query(corners, predicate="dwithin", distance=gap)
    same = np.abs(boxes[kept[one], 2:] - boxes[kept[other], 2:]).max(axis=1, initial=0.0) <= gap / 2
    again = np.unique(other[same & (one < other)])  # on both sides of a step of the keys
    return np.asarray(polygons[np.delete(kept, again)])
