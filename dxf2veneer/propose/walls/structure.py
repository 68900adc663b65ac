"""The lines that may bound walls, and what they are: ground, eaves, bands of roof edges, corners.

          /\\            bands      thin faces with a free end or a slope: fascias, bargeboards,
         /  \\                      copings, the edges of canopies
    ====/====\\====      eaves      a line on which corners end from below and that runs past them
      |        |
      |        |        corners    uprights from the ground to near the end of a band
------+--------+----    ground     a line on which corners end from above and that runs on past them
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Mesh, Polygons, mesh_of
from dxf2veneer.propose.lines.runs import Runs, runs_of
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.texture import Texture, texture_of

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Structure:
    """The lines of one elevation without those in openings, and the faces between them.

    Attributes:
        segments: the lines, shape (n, 4).
        runs: the lines joined; texture: which of them are cladding.
        mesh: the faces between them.
        ground: for each run whether it is ground.
        eaves: for each segment whether it is part of an eaves.
        bands: for each face whether it is a band of a roof's edge.
        band_of: for each face a number, the same for faces that make one band end to end.
        gap: ends this near to each other meet; metre: drawing units in a metre.
    """

    segments: Floats
    runs: Runs
    texture: Texture
    mesh: Mesh
    ground: Flags
    eaves: Flags
    bands: Flags
    band_of: Ints
    gap: float
    metre: float


def structure_of(segments: Floats, openings: Polygons, *, gap: float, metre: float) -> Structure:
    """What bounds the walls of an elevation.

    Args:
        segments: all lines of the elevation.
        openings: its openings; lines in them are left out.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The structure.
    """
    kept = _without_openings(segments, openings, gap)
    runs = runs_of(kept, gap=gap)
    kept = kept[~_level_lines(kept, runs, gap, metre)]
    runs = runs_of(kept, gap=gap)
    straight = runs.level | runs.upright | (runs.length >= constants.SLOPE_LEAST_M * metre)
    kept = kept[straight[runs.member]]
    runs = runs_of(kept, gap=gap)
    mesh = mesh_of(kept, gap=gap)
    texture = texture_of(kept, runs, gap=gap, metre=metre)
    ground, eaves = _ground_and_eaves(kept, runs, texture, gap, metre)
    bands, band_of = _bands(mesh, runs, texture, ground, metre)
    bands |= _roof_faces(mesh, runs, texture, bands, gap, metre)
    return Structure(kept, runs, texture, mesh, ground, eaves, bands, band_of, gap, metre)


def _without_openings(segments: Floats, openings: Polygons, gap: float) -> Floats:
    """The segments that don't lie in an opening; those along its foot are kept, for the ground
    may run there."""
    if not len(openings) or not len(segments):
        return segments
    grown = shapely.buffer(openings, gap * 1.5, join_style="mitre")
    opening, line = shapely.STRtree(shapely.linestrings(segments.reshape(-1, 2, 2))).query(
        grown, predicate="covers"
    )
    foot = shapely.bounds(openings)[opening, 1]
    at_foot = np.abs(segments[line][:, [1, 3]] - foot[:, None]).max(axis=1, initial=0.0) <= gap
    return np.delete(segments, np.unique(line[~at_foot]), axis=0)


def _level_lines(segments: Floats, runs: Runs, gap: float, metre: float) -> Flags:
    """Which segments are level lines: they run through and past the elevation; none is the ground.

    The ground is the lowest such line on which uprights stand.
    """
    result = np.zeros(len(segments), bool)
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre)
    if not tall.any():
        return result
    x0, x1 = runs.lines[tall, 0].min(), runs.lines[tall, 0].max()
    beyond = constants.THROUGH_BEYOND_M * metre
    rise = np.abs(runs.lines[:, 3] - runs.lines[:, 1])
    flat = rise <= constants.GROUND_SLOPE * (runs.lines[:, 2] - runs.lines[:, 0])
    through = np.flatnonzero(
        flat & (runs.lines[:, 0] <= x0 - beyond) & (runs.lines[:, 2] >= x1 + beyond)
    )
    if len(through) < 2:
        return result
    drawn = segments[tall[runs.member]]
    feet = np.where((drawn[:, 1] <= drawn[:, 3])[:, None], drawn[:, :2], drawn[:, 2:])
    stands = _touching(shapely.linestrings(runs.lines[through].reshape(-1, 2, 2)), feet, gap)
    height = runs.lines[through][:, [1, 3]].mean(axis=1)
    order = np.argsort(height)
    ground = next((k for k in order.tolist() if len(stands[k])), int(order[0]))
    below = height[ground] - height
    twins = through[(below >= -gap) & (below <= constants.GROUND_DOUBLE_M * metre)]
    own = np.isin(runs.member, through)
    joints = shapely.STRtree(shapely.points(segments[~own].reshape(-1, 2)))
    ends = shapely.points(segments[own].reshape(-1, 2))
    met = np.zeros(2 * own.sum(), bool)
    met[joints.query(ends, predicate="dwithin", distance=2.0 * gap)[0]] = True
    free = np.zeros(len(segments), bool)
    free[own] = ~met.reshape(-1, 2).any(axis=1)
    loose = _dangling(runs, gap, among=np.setdiff1d(np.arange(len(runs.lines)), through))
    for r in through[runs.level[through] & loose[through].all(axis=1)].tolist():
        mine = runs.member == r
        kept = segments[mine & ~free][:, [0, 2]]
        goes_on = kept.min(initial=x0) <= x0 - beyond or kept.max(initial=x1) >= x1 + beyond
        if r not in twins or goes_on:  # the ground lies on in other pieces
            result |= mine & free
    return result


# ----------------------------------------------------------------- ground and eaves


def _ground_and_eaves(
    segments: Floats, runs: Runs, texture: Texture, gap: float, metre: float
) -> tuple[Flags, Flags]:
    """Which runs are ground and which eaves: where uprights end on them, and whether they run on
    past these."""
    low, high = _upright_ends(segments, runs, texture, metre)
    flat = np.flatnonzero(~runs.upright & (runs.length >= constants.EAVES_LEAST_M * metre))
    lines = shapely.linestrings(runs.lines[flat].reshape(-1, 2, 2))
    ground, eaves = np.zeros(len(runs.lines), bool), np.zeros(len(segments), bool)
    if not len(flat) or not len(low):
        return ground, eaves
    stands = _touching(lines, low, gap)
    hangs = _touching(lines, high, gap)
    dangling = _dangling(runs, gap)
    tall = runs.lines[
        runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre) & ~texture.any
    ]
    weak = []
    for k, r in enumerate(flat.tolist()):
        x0, y0, x1, y1 = runs.lines[r]
        feet, tops = (
            np.unique(np.rint(low[stands[k], 0] / gap)) * gap,
            np.unique(np.rint(high[hangs[k], 0] / gap)) * gap,
        )
        sunk = (
            np.concatenate([feet, _sunk(runs.lines[r], tall, metre)]) if dangling[r].any() else feet
        )
        if (
            not len(sunk)
            or abs(y1 - y0) > constants.GROUND_SLOPE * (x1 - x0)
            or (texture.boards[r] and not dangling[r].any())
        ):
            continue
        hanging = tops[(tops > x0 + 2.0 * gap) & (tops < x1 - 2.0 * gap)]
        outer = np.concatenate([sunk, tops])
        beyond = max(outer.min() - x0, x1 - outer.max())
        free = dangling[r].any()
        if len(sunk) >= len(hanging) and beyond >= constants.GROUND_BEYOND_M * metre and free:
            ground[r] = len(feet) > 2 * len(hanging)
            weak += [] if ground[r] else [r]
    for r in weak:
        ground[r] = not _lies_over(
            runs.lines[r], runs.lines[ground | np.isin(np.arange(len(ground)), weak)], gap
        )
    ground |= _risers(runs, ground, gap)
    corners, held = _on_ground(runs.lines[ground], low, gap), _held_ends(runs, gap, metre)
    for k, r in enumerate(flat.tolist()):
        x0, _, x1, _ = runs.lines[r]
        tops = high[hangs[k][corners[hangs[k]]], 0]
        over = (
            ((tops.min() - x0) * ~held[r, 0], (x1 - tops.max()) * ~held[r, 1])
            if len(tops)
            else (0.0, 0.0)
        )
        near = any(constants.EAVES_BEYOND_M <= o / metre <= constants.WING_OVERHANG_M for o in over)
        if near and not ground[r] and not texture.crossed[r]:
            reach = constants.WING_OVERHANG_M * metre
            mine = (
                (runs.member == r)
                & (segments[:, [0, 2]].min(axis=1) <= tops.max() + reach)
                & (segments[:, [0, 2]].max(axis=1) >= tops.min() - reach)
            )
            ends = segments[:, [0, 2]]
            over_it = (
                mine
                & (ends.min(axis=1) >= tops.min() - reach)
                & (ends.max(axis=1) <= tops.max() + reach)
            )
            eaves |= over_it if over_it.any() else mine
    return ground, eaves


def _held_ends(runs: Runs, gap: float, metre: float) -> Flags:
    """For each run whether its first and its last end lies on an upright that runs on down: a
    corner, no overhang."""
    result = np.zeros((len(runs.lines), 2), bool)
    uprights = runs.lines[runs.upright]
    if not len(uprights):
        return result
    tree = shapely.STRtree(shapely.linestrings(uprights.reshape(-1, 2, 2)))
    for k, columns in enumerate((slice(0, 2), slice(2, 4))):
        own, other = tree.query(
            shapely.points(runs.lines[:, columns]), predicate="dwithin", distance=2.0 * gap
        )
        down = (
            uprights[other, 1] < runs.lines[own][:, columns][:, 1] - constants.BAND_MOST_M * metre
        )
        result[own[down], k] = True
    return result


def _on_ground(ground: Floats, feet: Floats, gap: float) -> Flags:
    """Which feet stand on the ground; all of them where no ground is drawn."""
    if not len(ground):
        return np.ones(len(feet), bool)
    result = np.zeros(len(feet), bool)
    lines = shapely.linestrings(ground.reshape(-1, 2, 2))
    result[
        shapely.STRtree(lines).query(shapely.points(feet), predicate="dwithin", distance=2.0 * gap)[
            0
        ]
    ] = True
    return result


def _sunk(line: Floats, uprights: Floats, metre: float) -> Floats:
    """Where uprights cross a line and end little below it: corners drawn down to footings."""
    x0, y0, x1, y1 = line
    x = uprights[:, 0]
    y = y0 + (y1 - y0) * (x - x0) / max(x1 - x0, 1e-12)
    below, above = y - uprights[:, 1], uprights[:, 3] - y
    return np.asarray(
        x[
            (x > x0)
            & (x < x1)
            & (below > 0)
            & (below <= constants.FOOTING_M * metre)
            & (above > below)
        ]
    )


def _lies_over(line: Floats, others: Floats, gap: float) -> bool:
    """Whether another line runs lower under half of a line or more."""
    shared = np.minimum(others[:, 2], line[2]) - np.maximum(others[:, 0], line[0])
    lower = others[:, [1, 3]].mean(axis=1) < line[[1, 3]].mean() - 2.0 * gap
    return bool((lower & (shared >= 0.5 * (line[2] - line[0]))).any())


def _risers(runs: Runs, ground: Flags, gap: float) -> Flags:
    """Uprights that join the ends of two pieces of ground: its steps."""
    result = np.zeros(len(ground), bool)
    if ground.sum() < 2:
        return result
    lines = runs.lines[ground]
    ends = np.vstack([lines[:, :2], lines[:, 2:]])
    for r in np.flatnonzero(runs.upright).tolist():
        foot, top = runs.lines[r, :2], runs.lines[r, 2:]
        result[r] = all(
            (np.abs(ends - point).max(axis=1) <= 2.0 * gap).any() for point in (foot, top)
        )
    return result


def _upright_ends(
    segments: Floats, runs: Runs, texture: Texture, metre: float
) -> tuple[Floats, Floats]:
    """The feet and the tops of uprights as they were drawn and of the runs they make, cladding
    left out."""
    tall = runs.upright & (runs.length >= constants.CORNER_LEAST_M * metre) & ~texture.any
    drawn = segments[tall[runs.member]]
    lines = np.vstack([drawn, runs.lines[tall]])
    swap = lines[:, 1] > lines[:, 3]
    lines[swap] = lines[swap][:, [2, 3, 0, 1]]
    return lines[:, :2], lines[:, 2:]


def _touching(lines: Polygons, points: Floats, gap: float) -> list[Ints]:
    line, point = shapely.STRtree(shapely.points(points)).query(
        lines, predicate="dwithin", distance=gap
    )
    return [point[line == k] for k in range(len(lines))]


def _dangling(runs: Runs, gap: float, among: Ints | None = None) -> Flags:
    """For each run whether its first and its last end lies on no other run, shape (r, 2);
    ``among``: numbers of the others that count, None for all."""
    among = np.arange(len(runs.lines)) if among is None else among
    tree = shapely.STRtree(shapely.linestrings(runs.lines[among].reshape(-1, 2, 2)))
    result = np.ones((len(runs.lines), 2), bool)
    for k, columns in enumerate((slice(0, 2), slice(2, 4))):
        own, other = tree.query(
            shapely.points(runs.lines[:, columns]), predicate="dwithin", distance=2.0 * gap
        )
        result[own[own != among[other]], k] = False
    return result


# ----------------------------------------------------------------- bands


def _bands(
    mesh: Mesh, runs: Runs, texture: Texture, ground: Flags, metre: float
) -> tuple[Flags, Ints]:
    """Which faces are bands: thin, not upright, sloped or with an end that no corner runs down
    from."""
    count = len(mesh.faces)
    if not count:
        return np.zeros(0, bool), np.zeros(0, np.int64)
    boxes, area = mesh.boxes, mesh.areas
    edge = shapely.length(shapely.get_exterior_ring(mesh.faces))
    thickness = 2.0 * area / edge
    width, height = boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1]
    thin = (
        (thickness <= constants.BAND_MOST_M * metre)
        & (width > 1.2 * thickness)
        & (width >= constants.BAND_PART_M * metre)
    )
    group = _band_groups(mesh, thin, metre)
    run = runs.member[mesh.source]
    length = np.hypot(mesh.edges[:, 2] - mesh.edges[:, 0], mesh.edges[:, 3] - mesh.edges[:, 1])
    upright = runs.upright[run]
    sloped, clad, base, free = (
        np.zeros(count),
        np.zeros(count),
        np.zeros(count),
        np.zeros(count, bool),
    )
    for side in (0, 1):
        face = mesh.sides[:, side]
        has = face >= 0
        for total, which in (
            (sloped, ~runs.level[run] & ~upright),
            (clad, texture.any[run]),
            (base, ground[run]),
        ):
            used = has & which
            np.add.at(total, face[used], length[used])
        low = runs.lines[run, 1] >= boxes[face, 1] - constants.BAND_END_M * metre
        at_end = np.abs(mesh.edges[:, [0]] - boxes[face][:, [0, 2]]).min(axis=1) <= 0.01 * metre
        free[face[has & upright & low & at_end]] = True
    over, under, span = over_and_under(mesh, runs, 0.01 * metre)
    rests = (over >= 0) & (under >= 0)
    carried = (
        np.bincount(over[rests], span[rests], minlength=count) >= constants.BAND_CARRIED * width
    )
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, over[rests], boxes[under[rests], 0])
    np.maximum.at(high, over[rests], boxes[under[rests], 2])
    flush = (np.abs(low - boxes[:, 0]) <= 0.01 * metre) | (
        np.abs(high - boxes[:, 2]) <= 0.01 * metre
    )
    level_band = free & carried & ~flush & (height <= 2.5 * thickness + 0.1 * metre)
    good = (
        thin
        & (clad <= constants.BAND_CLAD * edge)
        & (base <= constants.BAND_BASE * edge)
        & ((sloped >= 0.5 * edge) | level_band)
    )
    total = np.zeros(count)
    np.add.at(total, group, width)
    member = np.zeros(count, bool)
    member[group[good]] = True
    return thin & member[group] & (total[group] >= constants.BAND_LEAST_M * metre), group


def _band_groups(mesh: Mesh, thin: Flags, metre: float) -> Ints:
    """Thin faces that meet end to end are one: a number for each face."""
    a, b = mesh.sides.T
    inner = (a >= 0) & (b >= 0)
    a, b = a[inner], b[inner]
    e = mesh.edges[inner]
    boxes = mesh.boxes
    upright = np.abs(e[:, 0] - e[:, 2]) <= 0.02 * np.abs(e[:, 1] - e[:, 3])
    alike = (
        np.abs(boxes[a][:, [1, 3]] - boxes[b][:, [1, 3]]).max(axis=1, initial=0.0) <= 0.02 * metre
    )
    join = thin[a] & thin[b] & upright & alike
    return components(len(thin), np.stack([a[join], b[join]], axis=1))


# ----------------------------------------------------------------- roofs and chimneys


def _roof_faces(
    mesh: Mesh, runs: Runs, texture: Texture, bands: Flags, gap: float, metre: float
) -> Flags:
    """Faces that rest on bands over their whole width and reach no farther, and chimneys in the
    open sky."""
    count = len(mesh.faces)
    result = np.zeros(count, bool)
    if not count:
        return result
    upper, lower, width = over_and_under(mesh, runs, gap)
    boxes = mesh.boxes
    foot = np.bincount(upper[upper >= 0], width[upper >= 0], minlength=count)
    head = np.bincount(lower[lower >= 0], width[lower >= 0], minlength=count)
    sky = np.bincount(
        lower[(lower >= 0) & (upper < 0)], width[(lower >= 0) & (upper < 0)], minlength=count
    )
    size = boxes[:, 2] - boxes[:, 0]
    narrow = (size <= constants.CHIMNEY_MOST_M * metre) & (boxes[:, 3] - boxes[:, 1] >= 0.6 * size)
    edge = shapely.length(shapely.get_exterior_ring(mesh.faces))
    clad, stones = _along(mesh, runs, texture.any), _along(mesh, runs, texture.stones)
    result |= (
        narrow & (sky >= 0.9 * head) & (head > 0) & ~bands & (clad <= constants.BAND_CLAD * edge)
    )
    over, under = _by_face(upper, count), _by_face(lower, count)
    resting: dict[int, list[int]] = {}
    for i in np.argsort(boxes[:, 1], kind="stable").tolist():
        if bands[i] or result[i] or foot[i] <= 0 or stones[i] > constants.BAND_CLAD * edge[i]:
            continue
        rests = [e for e in over[i] if lower[e] >= 0 and (bands[lower[e]] or result[lower[e]])]
        roofed = sum(width[e] for e in under[i] if upper[e] >= 0 and bands[upper[e]])
        if sum(width[e] for e in rests) < constants.ROOF_RESTS * foot[i] or roofed > 0.5 * head[i]:
            continue
        x0, x1 = boxes[lower[rests], 0].min(), boxes[lower[rests], 2].max()
        if (
            boxes[i, 0] >= x0 - constants.BAND_END_M * metre
            and boxes[i, 2] <= x1 + constants.BAND_END_M * metre
        ):
            result[i] = True
            for e in rests:
                resting.setdefault(int(lower[e]), []).append(e)
    for below, edges in resting.items():
        if bands[below] and width[edges].sum() < constants.ROOF_SPANS * (
            boxes[below, 2] - boxes[below, 0]
        ):
            result[np.unique(upper[edges])] = False
    return result


def _along(mesh: Mesh, runs: Runs, which: Flags) -> Floats:
    """For each face the length of its edge that lies on some of the runs."""
    used = which[runs.member[mesh.source]]
    length = np.hypot(mesh.edges[:, 2] - mesh.edges[:, 0], mesh.edges[:, 3] - mesh.edges[:, 1])
    total = np.zeros(len(mesh.faces))
    for side in (0, 1):
        has = used & (mesh.sides[:, side] >= 0)
        np.add.at(total, mesh.sides[has, side], length[has])
    return total


def _by_face(faces: Ints, count: int) -> list[list[int]]:
    """For each face the numbers of its edges."""
    order = np.argsort(faces, kind="stable")
    starts = np.searchsorted(faces[order], np.arange(count + 1))
    return [order[a:b].tolist() for a, b in itertools.pairwise(starts)]


def over_and_under(mesh: Mesh, runs: Runs, gap: float) -> tuple[Ints, Ints, Floats]:
    """For each edge the face over it, the face under it, and its width.

    Args:
        mesh: the faces.
        runs: the runs of the lines that the mesh is made of.
        gap: ends this near to each other meet, in drawing units.

    Returns:
        Numbers of faces (-1 for none) and widths in drawing units, 0 for upright edges.
    """
    e = mesh.edges
    flat = ~runs.upright[runs.member[mesh.source]]
    width = np.where(flat, np.abs(e[:, 2] - e[:, 0]), 0.0)
    x, y = (e[:, 0] + e[:, 2]) / 2.0, (e[:, 1] + e[:, 3]) / 2.0
    over, under = np.full(len(e), -1, np.int64), np.full(len(e), -1, np.int64)
    for side in (0, 1):
        used = np.flatnonzero(flat & (mesh.sides[:, side] >= 0))
        face = mesh.sides[used, side]
        high = shapely.covers(mesh.faces[face], shapely.points(x[used], y[used] + gap / 4.0))
        over[used[high]] = face[high]
        under[used[~high]] = face[~high]
    return over, under, width
