"""What round numbers say of the unit: people draw lengths round in the unit they think in.

In metres lengths are hundredths and twentieths, in feet twelfths; in centimetres halves and tenths,
in inches quarters and eighths. Lengths that are round both ways say nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose.constants import ROUND_LEAST, ROUND_SHARE, ROUND_WEIGHT
from dxf2veneer.propose.scene import Floats, Scene
from dxf2veneer.propose.unit.evidence import MM, Evidence

_MOST = 6000
_SLACK = 2e-4
"""Distance from a round number that still counts, as a share of the step."""
_PAIRS = (
    # unit, steps in a unit; unit, steps in a unit
    ("m", 200.0, "ft", 48.0),
    ("cm", 10.0, "in", 8.0),
)


def roundness(scene: Scene) -> list[Evidence]:
    """Which of two units of like size makes the lengths of level and upright lines round.

    Args:
        scene: everything visible in the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    lengths = _lengths(scene)
    found = []
    for metric, fine, imperial, coarse in _PAIRS:
        one, two = _is_round(lengths * fine), _is_round(lengths * coarse)
        only_one, only_two = int((one & ~two).sum()), int((two & ~one).sum())
        told = max(only_one, only_two)
        if (
            told < ROUND_LEAST
            or (one | two).mean() < ROUND_SHARE
            or min(only_one, only_two) > 0.1 * told
        ):
            continue
        against = imperial if only_one > only_two else metric
        weights = {n: -ROUND_WEIGHT if n == against else 0.0 for n in MM}
        found.append(Evidence("round lengths", {"against": against, "count": told}, weights))
    return found


def _lengths(scene: Scene) -> Floats:
    """Different lengths of level and upright lines, of loose lines and polylines drawn as such."""
    d = np.abs(scene.segments[:_MOST, 2:] - scene.segments[:_MOST, :2])
    straight = (
        d.min(1, initial=np.inf) <= 1e-9 * np.maximum(d.max(1, initial=0.0), 1e-300)
        if len(d)
        else np.zeros(0, bool)
    )
    return (
        np.asarray(np.unique(np.round(d[straight].max(1), 6)), float)
        if straight.any()
        else np.zeros(0)
    )


def _is_round(multiples: Floats) -> NDArray[np.bool_]:
    return np.abs(multiples - np.round(multiples)) <= np.maximum(_SLACK, 1e-9 * multiples)
