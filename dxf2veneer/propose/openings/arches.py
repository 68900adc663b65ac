"""Curved heads among the lines of a view.

  .---.        a chain of short chords, each turned a little against the one before, that rises
.'     '.      from one end and comes down to the same height at the other
|       |
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints


def in_arches(segments: Floats, *, gap: float, metre: float) -> NDArray[np.bool_]:
    """Which segments are chords of curved heads.

    Args:
        segments: shape (n, 4), those of an entity one after the other, in drawing units.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    result = np.zeros(len(segments), dtype=bool)
    number = _chains(segments, gap)
    first = np.flatnonzero(np.diff(number, prepend=-1))
    last = np.append(first[1:], len(segments)) - 1
    start, end = segments[first, :2], segments[last, 2:]
    low = np.minimum.reduceat(segments[:, [1, 3]].min(axis=1), first)
    high = np.maximum.reduceat(segments[:, [1, 3]].max(axis=1), first)
    foot = np.minimum(start[:, 1], end[:, 1])
    arch = (
        (last - first >= 2)
        & (np.abs(start[:, 1] - end[:, 1]) <= gap)
        & (np.abs(start[:, 0] - end[:, 0]) >= constants.OPENING_LEAST_M * metre)
        & (np.abs(start[:, 0] - end[:, 0]) <= constants.OPENING_WIDEST_M * metre)
        & (low >= foot - gap)
        & (high > foot + gap)
    )
    result[:] = np.repeat(arch, last - first + 1)
    return result


def _chains(segments: Floats, gap: float) -> Ints:
    """The number of the chain of chords that each segment belongs to."""
    run = segments[:, 2:] - segments[:, :2]
    length = np.maximum(np.hypot(*run.T), 1e-300)
    joined = np.abs(segments[1:, :2] - segments[:-1, 2:]).max(axis=1, initial=0.0) <= gap / 10.0
    a, b = run[:-1] / length[:-1, None], run[1:] / length[1:, None]
    turn = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    joined &= (turn <= np.sin(np.radians(constants.CHORD_TURN_DEG))) & (
        np.einsum("ij,ij->i", a, b) > 0.0
    )
    shorter = np.minimum(length[1:], length[:-1])
    joined &= (np.maximum(length[1:], length[:-1]) <= constants.CHORD_RATIO * shorter) & (
        turn > 1e-4
    )
    return np.cumsum(np.concatenate([[True], ~joined])) - 1
