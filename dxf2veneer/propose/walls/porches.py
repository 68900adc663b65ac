"""Porches: posts under a beam, on a deck, and the open air between them and the house.

      ____/|   lean-to roof           ==================   roof
     /=====|   beam                   |________________|   beam
     []    |                          []      []      []
     ||    |   open from the side:    ||[w]   ||  [d] ||   before a wall: that goes on behind
     []____|   no wall at all         []______[]______[]   the posts, but not the beam and the deck
     |_____|   deck                   |________________|
    -------+--                       --------------------

A corner's board under a frieze and over a foundation looks much the same: a porch has more that
speaks for it, see ``_speaks``.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.behind import is_clad_through
from dxf2veneer.propose.walls.ends import share_drawn
from dxf2veneer.propose.walls.glazing import glazed
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


class _Row(NamedTuple):
    """Posts of one height under one beam: left and right sides from left to right, shape (n, 2),
    and the heights of foot, top and the beam's upper edge."""

    posts: Floats
    foot: float
    top: float
    over: float


def without_porches(
    wall: Polygon, porches: Polygons, openings: Polygons, metre: float
) -> list[Polygon]:
    """The pieces of a wall that are no part of porches.

    Args:
        wall: its outline.
        porches: areas of beams, decks and open bays.
        openings: openings that are sure.
        metre: drawing units in a metre.

    Returns:
        Its pieces; what lies over the beams and hangs over on both sides is a roof, unless it has
        windows as only walls have. The wall itself where no porch stands before it.
    """
    if not (shapely.area(shapely.intersection(porches, wall)) > 0.0).any():
        return [wall]
    thin = constants.PORCH_SLIVER_M * metre / 2.0  # beside ends of beams, bases of posts
    rest = wall.difference(shapely.union_all(porches)).buffer(-thin, join_style="mitre")
    rest = rest.buffer(thin, join_style="mitre")
    pieces = [Polygon(p.exterior) for p in shapely.get_parts(rest) if isinstance(p, Polygon)]
    walls = glazed(np.array(pieces, dtype=object), openings, metre)
    first, _, last, top = shapely.total_bounds(porches)
    beyond = constants.EAVES_BEYOND_M * metre
    return [
        p
        for p, is_wall in zip(pieces, walls, strict=True)
        if is_wall
        or p.bounds[1] < top - constants.PORCH_SLIVER_M * metre
        or p.bounds[0] > first - beyond
        or p.bounds[2] < last + beyond
    ]


def porches_of(s: Structure, openings: Polygons) -> Polygons:
    """What is part of porches and of no wall.

    Args:
        s: the structure of an elevation.
        openings: its openings that are sure.

    Returns:
        Boxes of beams, decks and open bays.
    """
    found: list[Polygon] = []
    for row in _rows(s):
        foot = _under_deck(row, s)
        signs = _speaks(row, s) + constants.PORCH_DECK * (foot < row.foot)
        bays = [b for b in (_bay(row, way, s, openings) for way in (-1, 1)) if b]
        signs += constants.PORCH_BAY * bool(bays)
        signs += constants.PORCH_CONTRAST * any(contrast for _, _, contrast in bays)
        if signs < constants.PORCH_LEAST:
            continue
        first, last = _along_beam(row, s)
        found.append(box(first, row.top, last, row.over))
        if foot < row.foot:
            found.append(box(first, foot, last, row.foot))
        low = row.foot - constants.DECK_MOST_M * s.metre
        found += [box(left, low, right, row.over) for left, right, _ in bays]
    return np.array(found, dtype=object)


def _rows(s: Structure) -> Iterator[_Row]:
    """The rows of posts under beams."""
    posts = _posts(s)
    slack = constants.POST_SLACK_M * s.metre
    while len(posts):
        alike = (np.abs(posts[:, 1] - posts[0, 1]) <= slack) & (
            np.abs(posts[:, 3] - posts[0, 3]) <= s.gap
        )
        own, posts = posts[alike], posts[~alike]
        foot, top = float(own[:, 1].min()), float(np.median(own[:, 3]))
        sides = own[np.argsort(own[:, 0])][:, [0, 2]]
        sides = sides[np.r_[True, sides[1:, 0] > sides[:-1, 1]]]
        over = _beam_over(sides, top, s)
        if over is not None:
            yield _Row(sides, foot, top, over)


def _posts(s: Structure) -> Floats:
    """Uprights of a post's height with another as far away as a post is wide, as boxes: that of the
    outermost post may run on into the ends of deck and beam."""
    lines = s.runs.lines
    some = lines[s.runs.upright & ~s.texture.battens & ~s.texture.stones]
    high = some[:, 3] - some[:, 1]
    least, most = (height * s.metre for height in constants.POST_HEIGHT_M)
    one = some[(high >= least) & (high <= most)]
    other = some[high >= least]
    near, far = constants.POST_LEAST_M * s.metre, constants.POST_MOST_M * s.metre
    a, b = shapely.STRtree(shapely.points(other[:, 0], 0.0)).query(
        shapely.points(one[:, 0], 0.0), predicate="dwithin", distance=far
    )
    pairs = np.abs(other[b, 0] - one[a, 0]) >= near
    pairs &= other[b, 1] <= one[a, 1] + 2.0 * s.gap
    pairs &= other[b, 3] >= one[a, 3] - 2.0 * s.gap
    a, b = a[pairs], b[pairs]
    x = np.sort(np.stack([one[a, 0], other[b, 0]], axis=1), axis=1)
    boxes = np.stack([x[:, 0], one[a, 1], x[:, 1], one[a, 3]], axis=1)
    boxes = np.unique(boxes, axis=0)
    kept = np.array([not is_clad_through(b, s.runs.lines, s) for b in boxes], dtype=bool)
    return np.asarray(boxes[kept])


def _beam_over(posts: Floats, top: float, s: Structure) -> float | None:
    """The height of the upper edge of a beam that lies on some posts, None where none does."""
    first, last = float(posts[0, 0]), float(posts[-1, 1])
    lines = s.runs.lines[s.runs.level & (s.runs.lines[:, 0] < last) & (s.runs.lines[:, 2] > first)]
    if share_drawn(lines, top, first, last, s.gap) < constants.PORCH_ALONG:
        return None
    rise = lines[:, 1] - top
    low, high = (depth * s.metre for depth in constants.BEAM_DEPTH_M)
    for y in np.unique(lines[(rise >= low) & (rise <= high), 1]).tolist():
        if share_drawn(lines, y, first, last, s.gap) >= constants.PORCH_ALONG:
            return float(y)
    return None


def _along_beam(row: _Row, s: Structure) -> tuple[float, float]:
    """How far a beam reaches: both its edges run all the way, up to the first upright past the
    posts that runs over its whole depth, which is its end or the corner that it meets."""
    first, last = float(row.posts[0, 0]), float(row.posts[-1, 1])
    lines = s.runs.lines[s.runs.level & (s.runs.lines[:, 0] < last) & (s.runs.lines[:, 2] > first)]
    edges = [lines[np.abs(lines[:, 1] - y) <= s.gap] for y in (row.top, row.over)]
    upright = s.runs.lines[s.runs.upright]
    across = (upright[:, 1] <= row.top + s.gap) & (upright[:, 3] >= row.over - 2.0 * s.gap)
    x = upright[across, 0]
    low = max(*(float(e[:, 0].min()) for e in edges), x[x <= first + s.gap].max(initial=-np.inf))
    high = min(*(float(e[:, 2].max()) for e in edges), x[x >= last - s.gap].min(initial=np.inf))
    return min(first, low), max(last, high)


def _under_deck(row: _Row, s: Structure) -> float:
    """The height of the lowest line under the deck of some posts, that of their feet where they
    have none: on the ground, or on piers, between which no line runs from foot to foot."""
    first, last = float(row.posts[0, 0]), float(row.posts[-1, 1])
    ground = s.runs.lines[s.runs.member[s.ground]]
    if share_drawn(ground, row.foot, first, last, s.gap) > 0.0:
        return row.foot
    lines = s.runs.lines[~s.runs.upright & ~s.texture.steady]
    lines = lines[(lines[:, 0] < last) & (lines[:, 2] > first)]
    if share_drawn(lines, row.foot, first, last, s.gap) < constants.PORCH_ALONG:
        return row.foot
    heights = np.sort(lines[:, [1, 3]], axis=1)
    most = constants.DECK_MOST_M * s.metre
    under = (heights[:, 1] < row.foot - s.gap) & (heights[:, 0] >= row.foot - most)
    lines, low = lines[under], heights[under, 0]
    whole = (lines[:, 0] <= first + s.gap) & (lines[:, 2] >= last - s.gap)  # sloping ground too
    for y in np.unique(low).tolist():
        along = share_drawn(lines, y, first, last, s.gap) >= constants.PORCH_ALONG
        if along or whole[low == y].any():
            return float(y)
    return row.foot


def _speaks(row: _Row, s: Structure) -> float:
    """What speaks for posts and against boards on corners: more than two of them, one half the
    other in a mirror, wider blocks at their feet or tops, rails between them."""
    places = row.posts.mean(axis=1)
    mirrored = np.abs(places + places[::-1] - places[0] - places[-1]).max()
    many = len(row.posts) > 2 and mirrored <= 2.0 * constants.POST_SLACK_M * s.metre
    return (
        constants.PORCH_THIRD * many
        + constants.PORCH_BLOCKS * _has_blocks(row, s)
        + constants.PORCH_RAILS * _has_rails(row, s)
    )


def _has_blocks(row: _Row, s: Structure) -> bool:
    """Whether a post has a wider base or cap: short uprights as far out on both its sides, or at
    foot and top of one side."""
    near, slack = constants.BLOCK_BEYOND_M * s.metre, constants.POST_SLACK_M * s.metre
    short = s.runs.upright & (s.runs.length <= constants.BLOCK_HEIGHT_M * s.metre)
    lines = s.runs.lines[short]
    bases = lines[np.abs(lines[:, 1] - row.foot) <= slack, 0]
    caps = lines[np.abs(lines[:, 3] - row.top) <= slack, 0]
    for left, right in row.posts.tolist():
        out = [[d[(d > s.gap) & (d <= near)] for d in (left - x, x - right)] for x in (bases, caps)]
        (a, b), (c, d) = out
        if any(
            (np.abs(one[:, None] - other[None, :]) <= 2.0 * s.gap).any()
            for one, other in ((a, b), (c, d), (a, c), (b, d))
        ):
            return True
    return False


def _has_rails(row: _Row, s: Structure) -> bool:
    """Whether a line at the height of a rail runs from one post to the next."""
    rise = s.runs.lines[:, 1] - row.foot
    low, high = (height * s.metre for height in constants.RAIL_HEIGHT_M)
    some = s.runs.level & ~s.texture.boards & ~s.texture.stones & (rise >= low) & (rise <= high)
    lines = s.runs.lines[some]
    return any(
        bool(
            (
                (np.abs(lines[:, 0] - left) <= 2.0 * s.gap)
                & (np.abs(lines[:, 2] - right) <= 2.0 * s.gap)
            ).any()
        )
        for left, right in zip(row.posts[:-1, 1], row.posts[1:, 0], strict=True)
    )


def _bay(row: _Row, way: int, s: Structure, openings: Polygons) -> tuple[float, float, bool] | None:
    """The open bay from the outermost post on one side to the corner of the house: its left and
    right sides, and whether the house is clad beyond while the bay is not."""
    outer, inner = row.posts[0] if way < 0 else row.posts[-1][::-1]
    middle = (row.foot + row.top) / 2.0
    beside = shapely.Point(outer + way * 4.0 * s.gap, middle)
    if len(shapely.STRtree(s.mesh.faces).query(beside, predicate="within")):
        return None
    lines = s.runs.lines
    rises = s.runs.upright & (lines[:, 1] <= row.foot + s.gap) & (lines[:, 3] >= row.top - s.gap)
    away = (inner - lines[:, 0]) * way
    rises &= away > 2.0 * s.gap
    if not rises.any():
        return None
    number = int(np.flatnonzero(rises)[np.argmin(away[rises])])
    corner = float(lines[number, 0])
    of_post = (np.abs(row.posts - corner) <= 2.0 * s.gap).any()
    least, most = (width * s.metre for width in constants.BAY_WIDTH_M)
    if of_post or not least <= away[number] <= most:
        return None
    left, right = sorted((float(inner), corner))
    bay = box(left, row.foot, right, row.top).buffer(-2.0 * s.gap)
    if len(openings) and shapely.intersects(openings, bay).any():
        return None
    if _rows_in(bay, s):
        return None
    near, far = sorted((corner, corner - way * constants.POST_MOST_M * s.metre))
    beyond = box(near, row.foot, far, row.top).buffer(-2.0 * s.gap)
    left, right = sorted((float(outer), corner))
    return left, right, _rows_in(beyond, s)


def _rows_in(bay: Polygon, s: Structure) -> bool:
    """Whether a cladding is drawn in a bay."""
    lines = s.runs.tree.query(bay, predicate="intersects")
    return int(s.texture.any[lines].sum()) >= constants.BEHIND_ROWS
