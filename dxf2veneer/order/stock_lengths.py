"""Runs cut from pieces of one length: starter strip, caps, trim stones.

    |---- piece ----|j|---- piece ----|j|-rest-|      j: joint (below 0: lap)

A run takes whole pieces from its left and one cut piece at its right. The cut pieces of all runs
are cut from further pieces, longest first, each from the offcut that it fits best (best fit
decreasing, a heuristic of bin packing).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import ROUNDING_IN


class RunCutting(NamedTuple):
    """How runs are covered with pieces of one length."""

    bought: int
    """Pieces that are bought."""
    placed: int
    """Pieces as laid, whole and cut."""
    whole: int
    """Pieces laid whole."""
    bound: int
    """Lower bound on the pieces bought: whole ones, and the summed length of all rests."""

    @property
    def cut(self) -> int:
        """Placed pieces that were cut."""
        return self.placed - self.whole


def cut_runs(
    runs: Sequence[float], *, length_in: float, joint_in: float = 0.0, kerf_in: float = 0.0
) -> RunCutting:
    """Cover runs with pieces of one length; offcuts are used again.

    Args:
        runs: Lengths of the runs, in inches.
        length_in: Length of a piece, in inches.
        joint_in: Joint between two pieces, in inches; a negative joint is a lap.
        kerf_in: Width of a saw cut, in inches.

    Returns:
        How many pieces are bought, laid and cut.
    """
    whole, rests = 0, []
    for run in runs:
        full, rest = _split(run, length_in, joint_in)
        whole += full
        if rest > 0.0:
            rests.append(rest)
    opened = _pack(sorted(rests, reverse=True), length_in, kerf_in)
    bound = whole + math.ceil(math.fsum(rests) / length_in - ROUNDING_IN)
    return RunCutting(whole + opened, whole + len(rests), whole, bound)


def _split(run: float, length: float, joint: float) -> tuple[int, float]:
    """Whole pieces of a run, and the length of the cut one (0: none)."""
    step = length + joint
    full = max(0, math.floor((run + joint) / step + ROUNDING_IN))
    rest = run - full * step
    covered = rest <= max(0.0, -joint if full else 0.0) + ROUNDING_IN
    return full, 0.0 if covered else rest


def _pack(parts: Sequence[float], length: float, kerf: float) -> int:
    """How many pieces are opened for the parts, longest first, each from the tightest offcut."""
    offcuts: list[float] = []
    opened = 0
    for part in parts:
        fitting = [o for o in offcuts if o >= part - ROUNDING_IN]
        source = min(fitting, default=0.0)
        if fitting:
            offcuts.remove(source)
        else:
            source, opened = length, opened + 1
        offcuts.append(source - part - kerf)
    return opened
