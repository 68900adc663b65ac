"""Two uprights close beside each other under a roof's edge: a post, or a corner with its board.

 =================      Post: one more as wide stands under the same roof between the ones at its
 ||     ||      ||      ends; or rows stop at both its sides and go on beyond, and battens on both
 ||     ||      ||      its sides are in step. Board: as wide as those on the outermost corners of
-++-----++------++--    the building, or rows run through it to the corner.
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.walls.behind import battens_go_on, rows_run_through, stands_before_rows
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]


def twins(run: int, among: Ints, lines: Floats, s: Structure) -> Ints:
    """The uprights close beside one with the same foot and top.

    Args:
        run: an upright.
        among: those that count.
        lines: the runs, those that cross the ground cut off there.
        s: the structure of the elevation.

    Returns:
        Their numbers.
    """
    line, others = lines[run], lines[among]
    aside = np.abs(others[:, 0] - line[0])
    slack = constants.POST_SLACK_M * s.metre
    found: Ints = among[
        (aside > 2.0 * s.gap)
        & (aside <= constants.POST_MOST_M * s.metre)
        & (np.abs(others[:, 1] - line[1]) <= slack)
        & (np.abs(others[:, 3] - line[3]) <= slack + constants.CORNER_BOARD_SLOPE * aside)
    ]
    return found


def posts_of(
    beside: dict[int, Ints], among: Ints, roofs: Polygons, lines: Floats, s: Structure
) -> Flags:
    """Which of some uprights make a post with one close beside them.

    Args:
        beside: the uprights, each with those close beside it.
        among: all uprights that may be sides of posts.
        roofs: the edges of roofs.
        lines: the runs, those that cross the ground cut off there.
        s: the structure of the elevation.

    Returns:
        One flag for each run.
    """
    boards, places = _boards(among, lines, s), _places(among, roofs, lines, s)
    result = np.zeros(len(lines), bool)
    for i, near in beside.items():
        apart = np.abs(lines[near, 0] - lines[i, 0])
        wide = near[apart >= constants.POST_LEAST_M * s.metre].tolist()
        result[i] = any(_before_wall(i, k, lines, s) for k in wide)
        if not result[i] and len(near) == 1 and len(wide) == 1:
            board = bool((np.abs(apart - boards) <= 2.0 * s.gap).any())
            board |= rows_run_through(i, wide[0], lines, s)
            result[i] = places[i] >= (constants.POSTS_LEAST if board else 2)
    return result


def _before_wall(one: int, other: int, lines: Floats, s: Structure) -> bool:
    """Whether a cladding goes on behind what two uprights are the sides of."""
    return stands_before_rows(one, other, lines, s) or battens_go_on(one, other, lines, s)


def _boards(among: Ints, lines: Floats, s: Structure) -> Floats:
    """How wide the boards on the outermost corners of the building are: what two such corners or
    more have close beside them, or else one that has nothing more there."""
    run = s.runs.member[s.mesh.source]
    edge = s.runs.upright[run] & (s.mesh.sides < 0).any(axis=1)
    high = np.abs(s.mesh.edges[:, 3] - s.mesh.edges[:, 1])
    free = np.bincount(run[edge], high[edge], len(lines))
    outer = np.flatnonzero(free >= constants.CORNER_LEAST_M * s.metre)
    widths = [_beside(i, among, lines, s) for i in outer.tolist()]
    common = [
        w
        for k, own in enumerate(widths)
        for w in own.tolist()
        if w >= constants.POST_LEAST_M * s.metre
        and any((np.abs(other - w) <= 2.0 * s.gap).any() for other in widths[k + 1 :])
    ]
    return np.array(common or [w for own in widths if len(own) == 1 for w in own.tolist()])


def _beside(run: int, among: Ints, lines: Floats, s: Structure) -> Floats:
    """How far from an upright others run along most of it."""
    line, others = lines[run], lines[among]
    apart = np.abs(others[:, 0] - line[0])
    shared = np.minimum(others[:, 3], line[3]) - np.maximum(others[:, 1], line[1])
    near = (apart > 2.0 * s.gap) & (apart <= constants.POST_MOST_M * s.metre)
    along = shared >= constants.BOARD_ALONG * min(line[3] - line[1], shared.max(initial=0.0))
    return np.asarray(apart[near & along])


def _places(among: Ints, roofs: Polygons, lines: Floats, s: Structure) -> Ints:
    """For each run at how many places under its roof a pair as wide as it makes with another
    stands: a wing has two corners with boards, a porch two posts or more, with one amid the roof.
    Two pairs count that are as far from the roof's ends or have no third line close beside."""
    result = np.zeros(len(lines), np.int64)
    tops = shapely.points(lines[among, 2:])
    roof, under = shapely.STRtree(tops).query(roofs, predicate="dwithin", distance=s.gap)
    for number in np.unique(roof).tolist():
        own = among[under[roof == number]]
        x, (first, _, last, _) = lines[own, 0], shapely.bounds(roofs[number])
        apart = x[None, :] - x[:, None]
        left, right = np.nonzero(
            (apart >= constants.POST_LEAST_M * s.metre) & (apart <= constants.POST_MOST_M * s.metre)
        )
        wide, middle = apart[left, right], (x[left] + x[right]) / 2.0
        amid = np.minimum(middle - first, last - middle) > constants.WING_OVERHANG_M * s.metre
        partners = np.bincount(np.concatenate([left, right]), minlength=len(own))
        alone = (partners[left] == 1) & (partners[right] == 1)
        for k in range(len(wide)):
            alike = np.abs(wide - wide[k]) <= 2.0 * s.gap
            mirrored = alike & (np.abs(first + last - middle - middle[k]) <= 4.0 * s.gap)
            steps = np.diff(np.sort(middle[alike])) > constants.POST_MOST_M * s.metre
            count = 1 + int(steps.sum())
            if (alike & amid).any():
                count = constants.POSTS_LEAST
            elif count < constants.POSTS_LEAST and not (mirrored.any() or alone[k]):
                count = 1
            pair = own[[left[k], right[k]]]
            result[pair] = np.maximum(result[pair], count)
    return result
