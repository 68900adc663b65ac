"""Party lines: the uprights between the houses of a row, from the ground to the top of its roof.

+-----+-----+-----+      A line runs under all roofs, as eaves or a fascia do, and the sides of the
|     |     |     |      row end as high as what is between its houses. Joints, pipes and the
+-----+-----+-----+      corners of wings end lower, and pipes are two lines.
| o o | o o | o o |
+-----+-----+-----+
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints
from dxf2veneer.propose.walls.structure import Structure


def party_lines(s: Structure, lines: Floats, standing: Ints) -> NDArray[np.bool_]:
    """Which runs are the sides of a row of houses and what is between these.

    Args:
        s: the structure of an elevation.
        lines: its runs, those that cross the ground cut off there.
        standing: the numbers of the tall uprights among them that stand on the ground.

    Returns:
        One flag for each run; none where fewer than two houses stand side by side.
    """
    result = np.zeros(len(lines), bool)
    plain = standing[~s.texture.battens[standing]]
    if not len(plain):
        return result
    top = lines[plain, 3].max()
    high = plain[lines[plain, 3] >= top - 2.0 * s.gap]
    high = high[np.argsort(lines[high, 0])]
    apart = np.diff(lines[high, 0])
    if len(high) < 3 or apart.min() < constants.HOUSE_LEAST_M * s.metre:
        return result
    first, last = lines[high[[0, -1]], 0]
    level = s.runs.lines[s.runs.level & ~s.texture.any]
    under = level[:, 3] <= top - constants.BAND_MOST_M * s.metre
    under &= level[:, 1] >= lines[high, 1].max() + constants.CORNER_LEAST_M * s.metre
    through = (level[:, 0] <= first + 2.0 * s.gap) & (level[:, 2] >= last - 2.0 * s.gap)
    result[high] = bool((under & through).any())
    return result
