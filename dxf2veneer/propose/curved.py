"""Chords of a curve in an outline, made finer, so that the outline has the curve's area.

Lines are looked for on chords of 1/64 of a turn, which take 0.16 % off a circle. What is found gets
its curves back: a chord between others that turn the same way is part of a circle, and its angle is
the turn from chord to chord.

     .--.        turns of some degrees, all to one side, chords of about one length: a curve
   .'    '.
   |      |      turns of a right angle: corners
"""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose import constants
from dxf2veneer.propose.scene import Floats


def with_curves(points: Floats) -> Floats:
    """The corners of an outline, its curves in finer chords.

    Args:
        points: shape (n, 2), the first not repeated.

    Returns:
        Shape (m, 2); every corner that was there stays.
    """
    run = np.roll(points, -1, axis=0) - points
    length = np.hypot(*run.T)
    before = np.roll(run, 1, axis=0)
    turn = np.arctan2(
        before[:, 0] * run[:, 1] - before[:, 1] * run[:, 0], (before * run).sum(axis=1)
    )
    shorter = np.minimum(length, np.roll(length, 1))
    bends = (np.abs(turn) <= _MOST_TURN) & (np.abs(turn) > _LEAST_TURN)
    bends &= np.maximum(length, np.roll(length, 1)) <= constants.CHORD_RATIO * shorter
    if not bends.any():
        return points
    same = bends & np.roll(bends, 1) & (turn * np.roll(turn, 1) > 0.0)
    in_curve = same | np.roll(same, -1)  # corners of two turns to one side at least
    starts, ends = in_curve, np.roll(in_curve, -1)
    count = starts.astype(float) + ends
    angle = np.where(starts, turn, 0.0) + np.where(ends, np.roll(turn, -1), 0.0)
    angle = np.divide(angle, count, out=np.zeros(len(points)), where=count > 0.0)
    return _in_parts(points, run, angle)


_PARTS = 4
"""Finer chords for one: what they take off is a sixteenth of 0.16 %."""
_MOST_TURN = np.radians(7.5)
"""Curves are read as chords of 5.6 degrees at most; more is a corner that somebody drew."""
_LEAST_TURN = np.radians(0.5)
"""Less is a straight line that the grid of coordinates bends."""


def _in_parts(points: Floats, run: Floats, angle: Floats) -> Floats:
    """Each chord of some angle in parts of one arc, to its right where the outline turns left."""
    bent = np.flatnonzero(angle)
    half = angle[bent, None] / 2.0
    lean = np.arange(1, _PARTS) / _PARTS * half
    part = np.sin(lean) / np.sin(half)  # chord from the start to each point
    lean -= half
    c, s = part * np.cos(lean), part * np.sin(lean)
    x, y = run[bent, 0, None], run[bent, 1, None]
    between = points[bent, None] + np.stack([c * x - s * y, s * x + c * y], axis=2)
    return np.insert(points, np.repeat(bent + 1, _PARTS - 1), between.reshape(-1, 2), axis=0)
