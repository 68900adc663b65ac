"""Window, door, garage door or vent: by size, by where it stands, and by what parts it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.openings.louvres import is_louvred
from dxf2veneer.propose.proposal import OpeningKind


class Setting(NamedTuple):
    """Where an opening stands, and what is drawn in it.

    ``above``: how high it stands above the foot of the walls under it, in drawing units; ``floor``:
    whether a balcony, a deck or a landing lies at its foot; ``mullions``: whether uprights part it
    from foot to head, and no level lines from jamb to jamb, as they do a door of sections;
    ``slats``: whether slats fill it from foot to head.
    """

    above: float = 0.0
    floor: bool = False
    mullions: bool = False
    slats: bool = False


AT_GRADE = Setting()
"""On the foot of the wall, with nothing in it."""


def kinds_of(
    openings: Sequence[Polygon], walls: Sequence[Polygon], runs: Runs, *, metre: float
) -> list[OpeningKind]:
    """The kinds of the openings of an elevation.

    Where a wall is parted at a change of cladding, an opening stands as high as it does above the
    foot of all its parts. Doors of one size at one height are of one kind: a balcony before one of
    them makes all of them doors.

    Args:
        openings: their outlines.
        walls: all walls of the elevation, in drawing units.
        runs: its lines.
        metre: drawing units in a metre.

    Returns:
        One kind for each opening.
    """
    ground = shapely.union_all(list(walls))
    settings = [
        setting_of(o, above_foot(o, ground), runs, walls=walls, metre=metre) for o in openings
    ]
    kinds = [kind_of(o, setting=s, metre=metre) for o, s in zip(openings, settings, strict=True)]
    gap = constants.JOIN_GAP_M * metre
    shapes = np.array([_shape(o) for o in openings]).reshape(-1, 3)
    floors = np.array(
        [k == "door" and s.floor for k, s in zip(kinds, settings, strict=True)], dtype=bool
    )
    alike = (np.abs(shapes[:, None] - shapes[floors]) <= gap).all(axis=2).any(axis=1)
    return ["door" if same else kind for same, kind in zip(alike.tolist(), kinds, strict=True)]


def _shape(opening: Polygon) -> Floats:
    """Foot, width and height of an opening."""
    x0, y0, x1, y1 = opening.bounds
    return np.array([y0, x1 - x0, y1 - y0])


def above_foot(opening: Polygon, walls: Any) -> float:
    """How high an opening stands above the foot of the walls under it.

    Args:
        opening: its outline.
        walls: the ground of all walls together.

    Returns:
        The height in drawing units; 0 where no wall is under it.
    """
    x0, y0, x1, _ = opening.bounds
    under = walls.intersection(box(x0, walls.bounds[1], x1, y0))
    return 0.0 if under.is_empty else float(y0 - under.bounds[1])


def setting_of(
    opening: Polygon, above: float, runs: Runs, *, walls: Sequence[Polygon] = (), metre: float
) -> Setting:
    """Where an opening stands, and what is drawn in it.

    Args:
        opening: its outline.
        above: how high it stands above the foot of the walls under it, in drawing units.
        runs: the lines of the elevation.
        walls: its walls; a line along the whole top of one, where another cladding begins, is no
            balcony's.
        metre: drawing units in a metre.

    Returns:
        Its setting.
    """
    x0, y0, x1, y1 = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    level, upright = runs.lines[runs.level], runs.lines[runs.upright]
    floor = _has_landing(level, opening, walls, metre)
    floor |= _is_railed(level, opening, metre)
    inside = constants.FRAME_MOST_M * metre
    across = (level[:, 1] > y0 + inside) & (level[:, 1] < y1 - inside)
    along = np.minimum(level[:, 2], x1) - np.maximum(level[:, 0], x0)
    own = (level[:, 0] >= x0 - inside) | (level[:, 2] <= x1 + inside)  # no awning before it
    rails = level[across & own & (along >= constants.PARTS_SHARE * (x1 - x0)), 1]
    joints = (
        1 + (np.diff(np.sort(rails)) > constants.BARS_SHORT_M * metre).sum() if len(rails) else 0
    )
    inner = upright[(upright[:, 0] > x0 + inside) & (upright[:, 0] < x1 - inside)]
    high = np.maximum(np.minimum(inner[:, 3], y1) - np.maximum(inner[:, 1], y0), 0.0)
    _, place = np.unique(np.rint(inner[:, 0] / gap), return_inverse=True)
    posts = np.bincount(place, high) >= constants.PARTS_SHARE * (y1 - y0)
    whole = high.max(initial=0.0) >= constants.PARTS_SHARE * (y1 - y0)
    glass = bool(posts.any() and joints < constants.SECTIONS + whole)
    return Setting(above, floor, glass, is_louvred(opening, level, metre=metre))


def _has_landing(level: Floats, opening: Polygon, walls: Sequence[Polygon], metre: float) -> bool:
    """Whether a line at the foot of an opening is the edge of a balcony, a deck or a landing: none
    of courses or boards, which have others as long under them, and no change of cladding."""
    x0, y0, x1, _ = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    under = level[
        (level[:, 1] <= y0 + gap) & (level[:, 1] >= y0 - constants.LANDING_DOWN_M * metre)
    ]
    for wall in walls:
        off = np.abs(under[:, [0, 2, 1]] - np.array(wall.bounds)[[0, 2, 3]])
        under = under[(off > constants.FRAME_MOST_M * metre).any(axis=1)]
    beyond = np.stack([x0 - under[:, 0], under[:, 2] - x1], axis=1) / metre
    least, most = constants.LANDING_BEYOND_M
    under = under[((beyond >= least) & (beyond <= most)).all(axis=1)]
    alike = (np.abs(level[:, [0, 2]] - under[:, None, [0, 2]]) <= 2.0 * gap).all(axis=2)
    alike &= level[:, 1] < under[:, [1]] - gap
    return bool((alike.sum(axis=1) < constants.COURSES_UNDER).any())


def _is_railed(level: Floats, opening: Polygon, metre: float) -> bool:
    """Whether a railing runs before an opening: level lines past both its jambs, none of them
    higher than a railing, one about as high."""
    x0, y0, x1, _ = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    past = (level[:, 0] < x0 - gap) & (level[:, 2] > x1 + gap)
    past &= (level[:, 1] > y0 + gap) & (level[:, 1] < opening.bounds[3] - gap)
    top = (level[past, 1] - y0).max(initial=0.0) / metre
    return bool(constants.RAILING_LEAST_M <= top <= constants.RAILING_MOST_M)


def kind_of(opening: Polygon, *, setting: Setting = AT_GRADE, metre: float) -> OpeningKind:
    """The kind of an opening.

    Args:
        opening: its outline.
        setting: where it stands, and what is drawn in it.
        metre: drawing units in a metre.

    Returns:
        ``vent`` where it is small both ways without a mullion, or a louvre above the foot of its
        wall, ``door`` where
        a person passes, at grade, up a few steps or from a balcony, ``garage`` where a car does:
        not over a step and not past mullions, where it is the glass of a shop or a living room.
    """
    x0, y0, x1, y1 = opening.bounds
    width, height = (x1 - x0) / metre, (y1 - y0) / metre
    louvre = setting.slats and setting.above > constants.GARAGE_STEP_M * metre
    if louvre:
        return "vent"
    if max(width, height) <= constants.VENT_MOST_M:
        return "window" if setting.mullions else "vent"
    if height < constants.DOOR_LEAST_M:
        return "window"
    wide = width >= constants.GARAGE_LEAST_M
    leaves = setting.mullions or not wide  # glass as wide as a garage door without any is a shop's
    passed = setting.floor or (leaves and setting.above <= constants.DOOR_UP_M * metre)
    if not wide or setting.above > constants.GARAGE_STEP_M * metre:
        return "door" if passed else "window"
    return "door" if setting.mullions else "garage"
