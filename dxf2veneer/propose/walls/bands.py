"""Bands, the thin faces along the edges of roofs, and the roofs and chimneys over them.

 ________
/________\\     a roof rests on bands over its whole width and reaches no farther
==========     bands: thin faces with a free end or a slope, which are fascias, bargeboards,
  |    |       copings, the edges of canopies
"""

from __future__ import annotations

import itertools

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Mesh, Polygons
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.glazing import glazed
from dxf2veneer.propose.walls.texture import Texture, amid_boards, courses_run_on

Flags = NDArray[np.bool_]


def bands_of(
    mesh: Mesh,
    runs: Runs,
    texture: Texture,
    ground: Flags,
    framed: Polygons,
    openings: Polygons,
    *,
    gap: float,
    metre: float,
) -> tuple[Flags, Ints]:
    """Which faces are bands of roof edges, roofs or chimneys, and which bands are one.

    Args:
        mesh: the faces of the elevation.
        runs: the runs of its lines.
        texture: which runs are cladding.
        ground: which segments are ground.
        framed: openings with a frame; their sills and lintels are no bands.
        openings: these and gaps in the cladding; a band does not end at a jamb.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        A flag for each face, and a number for each, the same for faces of one band end to end.
    """
    bands, band_of = _bands(mesh, runs, texture, ground, openings, metre)
    bands &= ~sills_of(mesh.faces, framed, gap, metre)
    walls = glazed(mesh.faces, framed, metre)
    bearing = bands & ~_slabs_of_balconies(mesh, bands, band_of, openings, metre)
    roofs = _roof_faces(mesh, runs, texture, bearing, walls, gap, metre)
    return bands | roofs, band_of


def _bands(
    mesh: Mesh, runs: Runs, texture: Texture, ground: Flags, openings: Polygons, metre: float
) -> tuple[Flags, Ints]:
    """Which faces are bands: thin, not upright, sloped or with an end that no corner runs down
    from."""
    count = len(mesh.faces)
    if not count:
        return np.zeros(0, bool), np.zeros(0, np.int64)
    edge = shapely.length(shapely.get_exterior_ring(mesh.faces))
    thickness = 2.0 * mesh.areas / edge
    width, height = mesh.boxes[:, 2] - mesh.boxes[:, 0], mesh.boxes[:, 3] - mesh.boxes[:, 1]
    thin = (
        (thickness <= constants.BAND_MOST_M * metre)
        & (width > 1.2 * thickness)
        & (width >= constants.BAND_PART_M * metre)
    )
    group = _band_groups(mesh, thin, metre)
    sloped, clad, fixed, base = _kinds_along(mesh, runs, texture, ground, metre)
    free, hidden = _band_ends(mesh, runs, group, openings, metre)
    free &= ~courses_run_on(mesh, runs, texture)
    beyond, carried = _beyond(mesh, runs, metre)
    flush = np.abs(beyond) <= 0.01 * metre
    over_air = (free & (beyond > constants.EAVES_BEYOND_M * metre)).any(axis=1)
    over_air &= ~(flush & ~hidden).any(axis=1) & (fixed <= constants.BAND_CLAD * edge)
    before = (free & (beyond < -constants.BAND_BEFORE_M * metre)).any(axis=1)
    before &= ~flush.any(axis=1) & (clad <= constants.BAND_CLAD * edge)
    level_band = (over_air | before) & carried & (height <= 2.5 * thickness + 0.1 * metre)
    steep = (sloped >= 0.5 * edge) & (clad <= constants.BAND_CLAD * edge)
    steep[steep] = _nowhere_wide(mesh.faces[steep], metre)
    good = thin & (base <= constants.BAND_BASE * edge)
    whole = np.bincount(group, width, count)
    sloping = np.bincount(group, width * (good & steep), count)
    member = sloping >= 0.5 * whole  # a level strip between rakes is none for its sloped ends
    member[group[good & level_band]] = True
    clear = good & (clad <= constants.BAND_CLAD * edge) & (height <= 2.5 * thickness + 0.1 * metre)
    ends = clear & member[group] & level_band
    member[group[_in_line(mesh.boxes, np.flatnonzero(clear), np.flatnonzero(ends), metre)]] = True
    result = thin & member[group] & (whole[group] >= constants.BAND_LEAST_M * metre)
    boards = np.flatnonzero(result & ~free.any(axis=1) & (mesh.areas >= 0.5 * width * height))
    gap = constants.JOIN_GAP_M * metre
    result[boards] = ~amid_boards(mesh.boxes[boards], runs, texture, gap)
    return result, group


def _nowhere_wide(faces: Polygons, metre: float) -> Flags:
    """Which faces are nowhere wider than a band: the top of a gable over a line is in its middle,
    though its area over half its edge is that of a strip half as wide."""
    return np.asarray(shapely.is_empty(shapely.buffer(faces, -constants.BAND_MOST_M * metre / 2.0)))


def _in_line(boxes: Floats, faces: Ints, bands: Ints, metre: float) -> Ints:
    """Which faces have the heights of a level band: what a chimney or a roof in front parts from
    its ends."""
    if not len(bands):
        return faces[:0]
    off = np.abs(boxes[faces][:, None, [1, 3]] - boxes[bands][None, :, [1, 3]])
    alike: Flags = np.asarray((off <= 0.01 * metre).all(axis=2))
    return np.asarray(faces[alike.any(axis=1)])


def _kinds_along(
    mesh: Mesh, runs: Runs, texture: Texture, ground: Flags, metre: float
) -> tuple[Floats, Floats, Floats, Floats]:
    """For each face the length of its edge that slopes, that is clad, that is surely clad, and that
    is ground. Course lines along what is wider than a stone don't count."""
    loose = (texture.boards | texture.battens) & ~texture.steady  # may be a fascia's upper edge
    firm = texture.stones | texture.slabs | (texture.any & ~loose)
    wide = mesh.boxes[:, 2] - mesh.boxes[:, 0] > constants.STONE_WIDEST_M * metre
    clad, fixed = (
        np.where(wide, _along(mesh, runs, f & ~texture.stones), _along(mesh, runs, f))
        for f in (texture.any, firm)
    )
    length = np.hypot(mesh.edges[:, 2] - mesh.edges[:, 0], mesh.edges[:, 3] - mesh.edges[:, 1])
    base = np.zeros(len(mesh.faces))
    for side in (0, 1):
        has = (mesh.sides[:, side] >= 0) & ground[mesh.source]
        np.add.at(base, mesh.sides[has, side], length[has])
    return _along(mesh, runs, ~runs.level & ~runs.upright), clad, fixed, base


def _band_ends(
    mesh: Mesh, runs: Runs, group: Ints, openings: Polygons, metre: float
) -> tuple[Flags, Flags]:
    """Whether the left and the right end of each face is free, as a band's end in front of a wall
    or in the air, and whether something that rises beside it hides it; shape (f, 2) each."""
    boxes, run = mesh.boxes, runs.member[mesh.source]
    free, hidden = np.zeros((len(boxes), 2), bool), np.zeros((len(boxes), 2), bool)
    for side in (0, 1):
        face = mesh.sides[:, side]
        used = (face >= 0) & runs.upright[run]
        low = runs.lines[run, 1] >= boxes[face, 1] - 2.0 * constants.JOIN_GAP_M * metre
        high = runs.lines[run, 3] > boxes[face, 3] + constants.BAND_END_M * metre
        at_end = np.abs(mesh.edges[:, [0]] - boxes[face][:, [0, 2]]) <= 0.01 * metre
        for end in (0, 1):
            free[face[used & low & at_end[:, end]], end] = True
            hidden[face[used & ~low & high & at_end[:, end]], end] = True
    first, last = np.full(len(boxes), np.inf), np.full(len(boxes), -np.inf)
    np.minimum.at(first, group, boxes[:, 0])
    np.maximum.at(last, group, boxes[:, 2])
    whole = np.stack([first[group], last[group]], axis=1)
    free &= np.abs(boxes[:, [0, 2]] - whole) <= 0.01 * metre  # where the band goes on is no end
    return free & ~_at_jambs(boxes, openings, metre), hidden


def _beyond(mesh: Mesh, runs: Runs, metre: float) -> tuple[Floats, Flags]:
    """How far each face reaches past what lies under it, on the left and on the right, and whether
    enough lies under it."""
    boxes, count = mesh.boxes, len(mesh.faces)
    over, under, span = over_and_under(mesh, runs)
    rests = (over >= 0) & (under >= 0)
    least = constants.BAND_CARRIED * (boxes[:, 2] - boxes[:, 0])
    carried = np.bincount(over[rests], span[rests], minlength=count) >= least
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, over[rests], boxes[under[rests], 0])
    np.maximum.at(high, over[rests], boxes[under[rests], 2])
    return np.stack([low - boxes[:, 0], boxes[:, 2] - high], axis=1), carried


def _at_jambs(boxes: Floats, openings: Polygons, metre: float) -> Flags:
    """Whether each box ends on the left at the right side of an opening, on the right at the left
    side of one."""
    result = np.zeros((len(boxes), 2), bool)
    if not len(openings):
        return result
    x0, y0, x1, y1 = shapely.bounds(openings).T
    middle = (boxes[:, 1] + boxes[:, 3]) / 2.0
    for end, (column, x) in enumerate(((0, x1), (2, x0))):
        sides = shapely.STRtree(shapely.linestrings(np.stack([x, y0, x, y1], 1).reshape(-1, 2, 2)))
        at = shapely.points(boxes[:, column], middle)
        near = sides.query(at, predicate="dwithin", distance=2.0 * constants.JOIN_GAP_M * metre)
        result[near[0], end] = True
    return result


def sills_of(shapes: Polygons, openings: Polygons, gap: float, metre: float) -> Flags:
    """Which lines or strips lie along the foot or the head of an opening, hardly longer than that.

    Args:
        shapes: the lines or strips.
        openings: openings with a frame.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One flag for each.
    """
    result = np.zeros(len(shapes), bool)
    if not len(openings) or not len(result):
        return result
    shape, opening = shapely.STRtree(openings).query(
        shapes, predicate="dwithin", distance=2.0 * gap
    )
    a, b = shapely.bounds(shapes[shape]), shapely.bounds(openings[opening])
    level = (np.abs(a[:, 3] - b[:, 1]) <= 2.0 * gap) | (np.abs(a[:, 1] - b[:, 3]) <= 2.0 * gap)
    beyond = constants.SILL_BEYOND_M * metre
    result[shape[level & (a[:, 0] >= b[:, 0] - beyond) & (a[:, 2] <= b[:, 2] + beyond)]] = True
    return result


def _slabs_of_balconies(
    mesh: Mesh, bands: Flags, band_of: Ints, openings: Polygons, metre: float
) -> Flags:
    """Which bands are slabs of balconies: a door stands on them, as on no roof's edge, and what
    rests on them is a railing."""
    result = np.zeros(len(bands), bool)
    doors = shapely.bounds(openings).reshape(-1, 4)
    doors = doors[doors[:, 3] - doors[:, 1] >= constants.FLIGHT_DOOR_M * metre]
    near, reach = constants.JOIN_GAP_M * metre, constants.DOOR_REACH_M * metre
    for number in np.unique(band_of[bands]).tolist():
        own = bands & (band_of == number)
        x0, x1 = mesh.boxes[own, 0].min(), mesh.boxes[own, 2].max()
        low, high = mesh.boxes[own, 1].min(), mesh.boxes[own, 3].max()
        on = (doors[:, 1] >= low - 4.0 * near) & (doors[:, 1] <= high + reach)
        result[own] = (on & (doors[:, 0] >= x0) & (doors[:, 2] <= x1)).any()
    return result


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


def _roof_faces(
    mesh: Mesh,
    runs: Runs,
    texture: Texture,
    bands: Flags,
    walls: Flags,
    gap: float,
    metre: float,
) -> Flags:
    """Faces that rest on bands over their whole width and reach no farther, those with windows as
    walls have left out, and chimneys in the open sky."""
    count = len(mesh.faces)
    result = np.zeros(count, bool)
    if not count:
        return result
    upper, lower, width = over_and_under(mesh, runs)
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
    stones[size > constants.STONE_WIDEST_M * metre] = 0.0
    result |= (
        narrow & (sky >= 0.9 * head) & (head > 0) & ~bands & (clad <= constants.BAND_CLAD * edge)
    )
    over, under = _by_face(upper, count), _by_face(lower, count)
    resting: dict[int, list[int]] = {}
    run = runs.member[mesh.source]
    for i in np.argsort(boxes[:, 1], kind="stable").tolist():
        if (
            bands[i]
            or result[i]
            or walls[i]
            or foot[i] <= 0
            or stones[i] > constants.BAND_CLAD * edge[i]
        ):
            continue
        rests = [e for e in over[i] if lower[e] >= 0 and (bands[lower[e]] or result[lower[e]])]
        roofed = sum(width[e] for e in under[i] if upper[e] >= 0 and bands[upper[e]])
        if sum(width[e] for e in rests) < constants.ROOF_RESTS * foot[i] or roofed > 0.5 * head[i]:
            continue
        x0, x1 = boxes[lower[rests], 0].min(), boxes[lower[rests], 2].max()
        slack = constants.BAND_END_M * metre
        heads = runs.lines[run[[e for e in under[i]]]]
        past = (heads[:, 0] < x0 - slack) | (heads[:, 2] > x1 + slack)
        if width[under[i]][past].sum() > 0.5 * head[i]:
            continue
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


def over_and_under(mesh: Mesh, runs: Runs) -> tuple[Ints, Ints, Floats]:
    """For each edge the face over it, the face under it, and its width.

    Args:
        mesh: the faces.
        runs: the runs of the lines that the mesh is made of.

    Returns:
        Numbers of faces (-1 for none) and widths in drawing units, 0 for upright edges.
    """
    flat = ~runs.upright[runs.member[mesh.source]]
    over, under = np.where(flat[:, None], mesh.sides, -1).T
    return over, under, np.where(flat, mesh.edges[:, 2] - mesh.edges[:, 0], 0.0)
