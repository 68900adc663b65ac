"""Shadows that overhanging roofs cast, drawn as a hatched strip along the eaves: no cladding.

======================    the edge of the roof runs on past the strip
  |//////////////////|    one family of sloped lines, far wider than high, right under it
  |                  |
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.runs import Runs
from dxf2veneer.propose.scene import Hatch, Scene
from dxf2veneer.propose.views import View


def without_shadows(scene: Scene, view: View, runs: Runs, *, metre: float) -> View:
    """A view without the hatches that are shadows under eaves.

    Args:
        scene: everything visible in the drawing.
        view: an elevation.
        runs: the runs of its lines.
        metre: drawing units in a metre.

    Returns:
        The view with the other hatches.
    """
    kept = tuple(n for n in view.hatches if not _is_shadow(scene.hatches[n], runs, metre))
    return replace(view, hatches=kept)


def _is_shadow(hatch: Hatch, runs: Runs, metre: float) -> bool:
    """Whether a hatch is a strip of sloped lines under a line that runs on past it."""
    if hatch.solid or len(hatch.lines) != 1 or len(hatch.loops) != 1:
        return False
    slope = hatch.lines[0][0] % 90.0
    if not constants.SHADOW_SLOPE_DEG <= slope <= 90.0 - constants.SHADOW_SLOPE_DEG:
        return False
    strip = Polygon(hatch.loops[0])
    x0, y0, x1, y1 = strip.bounds
    wide, high = x1 - x0, y1 - y0
    if high > constants.SHADOW_MOST_M * metre or wide < constants.SHADOW_WIDE * high:
        return False
    if strip.area < constants.SHADOW_FULL * wide * high:
        return False
    lines = runs.lines[runs.level]
    at_top = np.abs(lines[:, [1, 3]] - y1).max(axis=1, initial=0.0) <= 2.0 * runs.gap
    over = lines[
        at_top & (lines[:, 0] <= x0 + 2.0 * runs.gap) & (lines[:, 2] >= x1 - 2.0 * runs.gap)
    ]
    past = np.maximum(x0 - over[:, 0], over[:, 2] - x1)
    return bool((past >= constants.EAVES_BEYOND_M * metre).any())
