"""What a candidate looks like as a whole: a gate, a ribbon of panes, a louvre, a plinth."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats
from dxf2veneer.propose.openings.features import Features


def is_plinth(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates stand on the ground, are as wide as the plinth of a post and carry one.

    Args:
        f: the evidence for each candidate.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    width = (f.boxes[:, 2] - f.boxes[:, 0]) / metre
    return np.asarray(f.stands & (width <= constants.VENT_MOST_M) & (f.carried + f.pierced == 2))


def is_stone(f: Features) -> NDArray[np.bool_]:
    """Which bare outlines are stones, with nothing in them and other stones round them.

    Among stones on all sides nothing but mullions, bars and rails count as something in it: twigs
    of a bush before a wall are no parts of a window.

    Args:
        f: the evidence for each candidate.

    Returns:
        One truth value for each.
    """
    nothing = (f.inside == 0) | ((f.in_joints == 4) & (f.parts.slats <= 2))  # its foot and its head
    among = f.in_joints >= constants.JOINT_SIDES
    return np.asarray(among & nothing & (f.parts.mullions + f.parts.bars == 0))


def is_pier(f: Features) -> NDArray[np.bool_]:
    """Which outlines hold courses of stone from side to side, with joints in half of them.

    Args:
        f: the evidence for each candidate.

    Returns:
        One truth value for each.
    """
    least = np.maximum(constants.PIER_COURSES, f.parts.bars) / 2.0
    return np.asarray((f.parts.bars >= constants.PIER_COURSES - 1) & (f.courses >= least))


def is_cabinet(f: Features, metre: float, *, bare: bool) -> NDArray[np.bool_]:
    """Which small outlines are cabinets on a wall: boxes of meters, hatches, lamps.

    They have nothing in them but one diagonal. Where openings are drawn with frames, what is as
    small as a vent and has nothing in it, or a dial, is one too: a vent has slats there, a window
    a frame.

    Args:
        f: the evidence for each candidate.
        metre: drawing units in a metre.
        bare: whether openings are drawn with frames, so that bare outlines are cabinets.

    Returns:
        One truth value for each.
    """
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    small = size.max(axis=1) <= constants.CABINET_MOST_M
    least = size.max(axis=1) <= constants.VENT_MOST_M
    lines = np.maximum(f.parts.slats - 1, 0)  # a foot that runs on counts as one
    nothing = (lines + f.parts.mullions + f.parts.bars == 0) & bare
    return np.asarray((small & (f.braced == 1) & (f.inside == 1)) | (least & nothing))


def is_low(boxes: Floats, metre: float) -> NDArray[np.bool_]:
    """Which boxes are as low as a railing on its slab, and wide.

    Args:
        boxes: boxes of the candidates, shape (n, 4).
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    size = (boxes[:, 2:] - boxes[:, :2]) / metre
    most = constants.RAILING_MOST_M + constants.BOARD_MOST_M
    return np.asarray((size[:, 1] <= most) & (size[:, 0] >= 1.5 * size[:, 1]))


def is_arched(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates are curved heads on free jambs with something drawn in them, no wider than
    they are high, as a car is, or with mullions from foot to head.

    Args:
        f: the evidence for each candidate.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    size = (f.boxes[:, 2:] - f.boxes[:, :2]) / metre
    glazed = (f.parts.mullions >= 2) & (f.level_free == 4)
    return np.asarray(
        f.curved
        & (f.upright_free == 4)
        & (f.frames == 0)
        & (f.inside > 0)
        & (size.min(axis=1) >= constants.PLAIN_LEAST_M)
        & (size[:, 1] > constants.VENT_MOST_M)
        & (size[:, 1] <= constants.FREE_HIGHEST_M)
        & ((size[:, 0] <= size[:, 1]) | glazed)
    )


def is_huge(boxes: Floats, metre: float) -> NDArray[np.bool_]:
    """Which boxes are too large for an opening that no lites fill.

    Args:
        boxes: boxes of the candidates, shape (n, 4).
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    size = (boxes[:, 2:] - boxes[:, :2]) / metre
    return np.asarray(
        (size[:, 0] > constants.OPENING_WIDEST_M) | (size[:, 1] > constants.OPENING_HIGHEST_M)
    )


def is_parted(f: Features, width: Floats, height: Floats) -> NDArray[np.bool_]:
    """Which outlines are ribbons or strips that mullions or bars part into panes, on free corners
    all round.

    Args:
        f: the evidence for each candidate.
        width, height: their sizes, in metres.

    Returns:
        One truth value for each.
    """
    least = constants.PANE_LEAST_M
    ribbon = (f.parts.mullions > 0) & (width >= least * (f.parts.mullions + 1))
    strip = (f.parts.bars > 0) & (height >= least * (f.parts.bars + 1))
    thin = np.minimum(width, height) <= constants.PLAIN_HIGHEST_M
    even = np.where(width > height, ribbon, strip)
    free = (f.upright_free == 4) & (f.level_free == 4)
    return np.asarray(thin & even & free)


def is_gate(f: Features, width: Floats, height: Floats) -> NDArray[np.bool_]:
    """Which outlines are as large as overhead doors and stand on the ground, with nothing drawn in
    them or the joints of sections from jamb to jamb.

    Args:
        f: the evidence for each candidate.
        width, height: their sizes, in metres.

    Returns:
        One truth value for each.
    """
    low, high = constants.SECTION_M
    count = f.parts.bars + 1
    sections = (count > constants.SECTIONS) & (height >= low * count) & (height <= high * count)
    large = (height <= constants.OPENING_HIGHEST_M) & (width >= constants.GARAGE_LEAST_M)
    large &= width <= constants.OPENING_WIDEST_M
    return np.asarray(f.stands & large & (sections | (f.inside == 0)))


def has_slats(f: Features, metre: float) -> NDArray[np.bool_]:
    """Which candidates slats fill from foot to head: louvres, shutters.

    Args:
        f: the evidence for each candidate.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    height = (f.boxes[:, 3] - f.boxes[:, 1]) / metre
    close = f.parts.slats * constants.SLAT_MOST_M >= constants.SLATS_SHARE * height
    return np.asarray((f.parts.slats >= constants.SLATS_LEAST) & close)
