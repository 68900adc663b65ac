"""Window, door, garage door or vent: by size, by where it stands, and by what parts it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.lines.runs import Runs
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


def setting_of(opening: Polygon, above: float, runs: Runs, *, metre: float) -> Setting:
    """Where an opening stands, and what is drawn in it.

    Args:
        opening: its outline.
        above: how high it stands above the foot of the walls under it, in drawing units.
        runs: the lines of the elevation.
        metre: drawing units in a metre.

    Returns:
        Its setting.
    """
    x0, y0, x1, y1 = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    level, upright = runs.lines[runs.level], runs.lines[runs.upright]
    under = level[
        (level[:, 1] <= y0 + gap) & (level[:, 1] >= y0 - constants.LANDING_DOWN_M * metre)
    ]
    beyond = np.stack([x0 - under[:, 0], under[:, 2] - x1], axis=1) / metre
    least, most = constants.LANDING_BEYOND_M
    floor = ((beyond >= least) & (beyond <= most)).all(axis=1).any()
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
    return Setting(above, bool(floor), glass, _has_slats(level, opening, metre))


def _is_railed(level: Floats, opening: Polygon, metre: float) -> bool:
    """Whether a railing runs before an opening: level lines past both its jambs, none of them
    higher than a railing, one about as high."""
    x0, y0, x1, _ = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    past = (level[:, 0] < x0 - gap) & (level[:, 2] > x1 + gap)
    past &= (level[:, 1] > y0 + gap) & (level[:, 1] < opening.bounds[3] - gap)
    top = (level[past, 1] - y0).max(initial=0.0) / metre
    return bool(constants.RAILING_LEAST_M <= top <= constants.RAILING_MOST_M)


def _has_slats(level: Floats, opening: Polygon, metre: float) -> bool:
    """Whether level lines across an opening, close over each other, fill it: a louvre."""
    x0, y0, x1, y1 = opening.bounds
    gap = constants.JOIN_GAP_M * metre
    along = np.minimum(level[:, 2], x1) - np.maximum(level[:, 0], x0)
    own = level[(level[:, 1] > y0 + gap) & (level[:, 1] < y1 - gap) & (along >= 0.5 * (x1 - x0))]
    steps = np.diff(np.unique(np.rint(own[:, 1] / gap))) * gap
    close = steps[steps <= constants.SLAT_MOST_M * metre]
    filled = close.sum() >= constants.SLATS_SHARE * (y1 - y0)
    return bool(len(close) >= constants.SLATS_LEAST and filled)


def kind_of(opening: Polygon, *, setting: Setting = AT_GRADE, metre: float) -> OpeningKind:
    """The kind of an opening.

    Args:
        opening: its outline.
        setting: where it stands, and what is drawn in it.
        metre: drawing units in a metre.

    Returns:
        ``vent`` where it is small both ways or a louvre above the foot of its wall, ``door`` where
        a person passes, at grade, up a few steps or from a balcony, ``garage`` where a car does:
        not over a step and not past mullions, where it is the glass of a shop or a living room.
    """
    x0, y0, x1, y1 = opening.bounds
    width, height = (x1 - x0) / metre, (y1 - y0) / metre
    louvre = setting.slats and setting.above > constants.GARAGE_STEP_M * metre
    if louvre or max(width, height) <= constants.VENT_MOST_M:
        return "vent"
    if height < constants.DOOR_LEAST_M:
        return "window"
    if width < constants.GARAGE_LEAST_M:
        low = setting.above <= constants.DOOR_UP_M * metre
        return "door" if low or setting.floor else "window"
    if setting.above > constants.GARAGE_STEP_M * metre:
        return "door" if setting.floor else "window"
    return "door" if setting.mullions else "garage"
