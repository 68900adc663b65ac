"""Corners: the uprights that bound the walls of the building and of the wings before it.

  ====/\\====        A corner rises from the ground and ends under a roof's edge, near the end of
    |/  \\|          that. Of uprights close beside each other the one nearest to the end is the
    |    |          corner: the others are the inner sides of boards on it, and pipes.
----+----+----      Two alone are a post.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.behind import before_one_wall, going_on_above
from dxf2veneer.propose.walls.posts import posts_of, twins
from dxf2veneer.propose.walls.rows import party_lines
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def corners_of(s: Structure) -> Flags:
    """For each run whether it is the corner of the building or of a wing.

    Args:
        s: the structure of the elevation.

    Returns:
        One flag for each run.
    """
    lines = from_ground(s)
    tall = np.flatnonzero(s.runs.upright & (s.runs.length >= constants.CORNER_LEAST_M * s.metre))
    result = party_lines(s, lines, tall[stands_on_ground(s, lines, tall)])
    roofs = _roofs(s)
    if not len(tall) or not len(roofs):
        return result
    boxes, tops = shapely.bounds(roofs), lines[tall][:, 2:]
    top, roof = shapely.STRtree(roofs).query(
        shapely.points(tops), predicate="dwithin", distance=2.0 * s.gap
    )
    off = np.full(len(lines), np.inf)
    np.minimum.at(
        off,
        tall[top],
        np.abs(boxes[roof][:, [0, 2]] - tops[top][:, [0]]).min(axis=1, initial=np.inf),
    )
    reach = constants.WING_OVERHANG_M * s.metre
    tall = tall[~before_one_wall(s, lines)[tall]]
    near, plain = tall[off[tall] <= reach], ~s.texture.any
    rhythm = (s.texture.battens & s.texture.steady) | s.texture.joints
    among = tall[~rhythm[tall]]
    beside = {i: twins(i, among, lines, s) for i in near.tolist()}
    posts = posts_of(beside, among, roofs, lines, s)
    on, _ = going_on_above(s, lines)
    behind = _of_wall_behind(s, lines, near, posts, on)
    near = near[~behind[near]]
    own = near[plain[near] & ~posts[near] & ~_inner(near, beside, posts | behind, off, s)]
    result[own[~_far_from_ends(lines, own, own[stands_on_ground(s, lines, own)], roofs, s)]] = True
    result[_under_ends(s, lines, near, result, posts, on)] = True
    return result


def from_ground(s: Structure) -> Floats:
    """The runs, those that cross the ground on their way to a footing cut off there.

    Args:
        s: the structure of an elevation.

    Returns:
        Their lines, shape (r, 4).
    """
    lines = s.runs.lines.copy()
    ground = s.segments[s.ground & ~s.runs.upright[s.runs.member]]
    ground[ground[:, 0] > ground[:, 2]] = ground[ground[:, 0] > ground[:, 2]][:, [2, 3, 0, 1]]
    for x0, y0, x1, y1 in ground.tolist():
        level = y0 + (y1 - y0) * (lines[:, 0] - x0) / (x1 - x0)
        over = (lines[:, 0] >= x0 - s.gap) & (lines[:, 0] <= x1 + s.gap)
        over &= s.runs.upright & (lines[:, 1] < level) & (level < lines[:, 3] - s.gap)
        over &= level - lines[:, 1] <= constants.FOOTING_M * s.metre
        lines[over, 1] = level[over]
    return lines


def _roofs(s: Structure) -> Polygons:
    """Bands end to end and eaves lines end to end, each as one; a sloped line as long as it is
    drawn."""
    run = s.runs.member[s.eaves]
    numbers = np.unique(run)
    lines = shapely.linestrings(s.segments[s.eaves].reshape(-1, 2, 2))
    ends = s.runs.lines[numbers]
    eaves = [
        shapely.union_all(lines[run == r]) if s.runs.level[r] else s.runs.shapes[r]
        for r in numbers.tolist()
    ]
    one, other = np.nonzero(_meet(ends, 2.0 * s.gap))
    together = components(len(numbers), np.stack([one, other], axis=1))
    joined = [
        shapely.union_all([e for e, t in zip(eaves, together, strict=True) if t == number])
        for number in np.unique(together).tolist()
    ]
    bands = [
        shapely.union_all(s.mesh.faces[s.bands & (s.band_of == number)])
        for number in np.unique(s.band_of[s.bands]).tolist()
    ]
    return np.array([*bands, *joined], dtype=object)


def _meet(lines: Floats, near: float) -> Flags:
    """Which lines meet which end to end, shape (n, n)."""
    ends = lines.reshape(-1, 1, 2, 1, 2)
    away = np.abs(ends - lines.reshape(1, -1, 1, 2, 2)).max(axis=4)
    return np.asarray((away <= near).any(axis=(2, 3)))


def _inner(chosen: Ints, beside: dict[int, Ints], posts: Flags, off: Floats, s: Structure) -> Flags:
    """Which uprights have others close beside them that are nearer to the roof's end."""
    outer = ~posts & ~s.texture.any
    return np.array(
        [(outer[beside[i]] & (off[beside[i]] < off[i])).any() for i in chosen.tolist()], dtype=bool
    )


def _far_from_ends(
    lines: Floats, which: Ints, standing: Ints, roofs: Polygons, s: Structure
) -> Flags:
    """Which uprights have another that stands on the ground between them and the end of a roof
    that they are nearest to: joints, and boards of a corner behind."""
    tops = shapely.points(lines[which, 2:])
    upright, roof = shapely.STRtree(roofs).query(tops, predicate="dwithin", distance=2.0 * s.gap)
    ends = shapely.bounds(roofs[roof])[:, [0, 2]]
    away = np.abs(ends - lines[which[upright], 0][:, None])
    end = 2 * roof + np.argmin(away, axis=1)
    off = away.min(axis=1)
    least = np.full(2 * len(roofs), np.inf)
    stands = np.isin(which[upright], standing)
    np.minimum.at(least, end[stands], off[stands])
    first = np.full(len(which), np.inf)
    np.minimum.at(first, upright, off)
    result = np.zeros(len(which), bool)
    mine = off <= first[upright] + s.gap
    result[upright[mine]] = least[end[mine]] < off[mine] - 2.0 * s.gap
    return result


def _under_bands(
    s: Structure, lines: Floats, tall: Ints
) -> Iterator[tuple[Flags, float, float, Ints, Ints]]:
    """For each band its faces, its ends, and the uprights that stand under each end, those nearest
    to it first."""
    standing = tall[stands_on_ground(s, lines, tall)]
    tops = shapely.points(lines[standing, 2:])
    for number in np.unique(s.band_of[s.bands]).tolist():
        which = s.bands & (s.band_of == number)
        under = standing[shapely.distance(tops, shapely.union_all(s.mesh.faces[which])) <= s.gap]
        x0, _, x1, _ = shapely.total_bounds(s.mesh.faces[which])
        sides = []
        for end in (x0, x1):
            near = under[np.abs(lines[under, 0] - end) <= constants.WING_OVERHANG_M * s.metre]
            sides.append(near[np.argsort(np.abs(lines[near, 0] - end))])
        yield which, x0, x1, *sides


def _of_wall_behind(s: Structure, lines: Floats, tall: Ints, posts: Flags, on: Flags) -> Flags:
    """Which uprights under an end of a band are cladding of the wall behind: they go on in line
    over it and have none as far from the other end, and another that stands there is no
    cladding."""
    alone = ~on & ~s.texture.steady & ~s.texture.joints & ~posts
    result = np.zeros(len(lines), bool)
    for _, x0, x1, left, right in _under_bands(s, lines, tall):
        off, other = lines[left, 0] - x0, x1 - lines[right, 0]
        for near, own, far in ((left, off, other), (right, other, off)):
            if alone[near].any():
                result[near[on[near] & ~_mirrored(own, far, s)]] = True
    return result


def _under_ends(
    s: Structure, lines: Floats, tall: Ints, known: Flags, posts: Flags, on: Flags
) -> list[int]:
    """The boards or joints that are corners: those under free ends of bands that have none yet.

    Where the sky begins beyond the outermost, that is the corner. Before a wall it is the one as
    far from its end as the corner at the other end, or as another where none is known there, or
    else the one that breaks the rhythm.
    """
    found: list[int] = []
    for which, x0, x1, left, right in _under_bands(s, lines, tall):
        overhang: dict[float, float] = {}
        for end, near in ((x0, left), (x1, right)):
            if known[near].any():
                overhang[end] = float(np.abs(lines[near[known[near]][0], 0] - end))
        one, two = (near[~posts[near] & ~on[near]] for near in (left, right))
        off, other = lines[one, 0] - x0, x1 - lines[two, 0]
        even = off[_mirrored(off, other, s)].min(initial=np.inf)
        for end, far, near in ((x0, x1, left), (x1, x0, right)):
            if end in overhang or not len(near) or not _is_free(s, which, end):
                continue
            away = np.abs(np.abs(lines[near, 0] - end) - overhang.get(far, even))
            alike, broken = near[away <= 2.0 * s.gap], near[~s.texture.steady[near]]
            if not len(alike) and posts[near].any():
                continue
            if not len(alike) and not _covered(s, lines[near[0]], 1.0 if end == x1 else -1.0):
                alike = near
            found += [int(i) for i in (*alike, *broken)][:1]
    return found


def stands_on_ground(s: Structure, lines: Floats, which: Ints) -> Flags:
    """Whether some uprights stand on the ground; all do where none is drawn.

    Args:
        s: the structure of an elevation.
        lines: its runs.
        which: numbers of uprights among them.

    Returns:
        One flag for each of the uprights.
    """
    ground = s.segments[s.ground]
    if not len(ground):
        return np.ones(len(which), bool)
    drawn = shapely.union_all(shapely.linestrings(ground.reshape(-1, 2, 2)))
    return np.asarray(
        shapely.distance(shapely.points(lines[which, :2]), drawn) <= 2.0 * s.gap, dtype=bool
    )


def _mirrored(off: Floats, other: Floats, s: Structure) -> Flags:
    """Which uprights under one end of a band are as far from it as one is from the other end."""
    return np.asarray((np.abs(off[:, None] - other) <= 2.0 * s.gap).any(axis=1))


def _covered(s: Structure, line: Floats, way: float) -> bool:
    """Whether a face lies beyond the middle of an upright."""
    x, y = line[0] + way * 4.0 * s.gap, (line[1] + line[3]) / 2.0
    return len(shapely.STRtree(s.mesh.faces).query(shapely.Point(x, y), predicate="within")) > 0


def _is_free(s: Structure, which: Flags, x: float) -> bool:
    """Whether a band hangs free at an end: no wall's side runs down there, no other band goes
    on."""
    points = shapely.get_coordinates(s.mesh.faces[which])
    at = points[np.abs(points[:, 0] - x) <= s.gap]
    low = at[np.argmin(at[:, 1])]
    uprights = s.runs.lines[s.runs.upright & ~s.texture.battens]
    down = (np.abs(uprights[:, 0] - x) <= s.gap) & (uprights[:, 1] < low[1] - s.gap)
    if (down & (uprights[:, 3] > low[1] - s.gap)).any():
        return False
    others = s.mesh.faces[s.bands & ~which]
    return not (shapely.distance(others, shapely.Point(low)) <= s.gap).any()
