"""Trim between two claddings: a cap on a wainscot, a cast sill, a belt course, a band board.

|   |   |   |   |   |    siding
+-------------------+    two lines right across the wall, 2 1/2 to 6 in apart, and nothing between
+-------------------+    them: the strip is ordered by its length and belongs to neither cladding
[___][____][__][____]    stones
"""

from __future__ import annotations

from typing import Any

import numpy as np
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Polygons
from dxf2veneer.propose.walls.across import heights_across
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Pattern, Surface


def trim_at(
    polygon: Polygon,
    level: float,
    sides: tuple[Surface, Surface],
    s: Structure,
    openings: Polygons,
    patterns: list[Pattern],
) -> tuple[float, float]:
    """The strip of trim at a height where the cladding of a wall changes.

    The top course of stones is none: joints end on its lower line from both sides. A strip as high
    as a board or two is made of them, and what ends a rhythm of boards below is the last one, cut
    off. Siding is laid from a full course up, so that a lower strip under it is none of its boards.

    Args:
        polygon: outline of the wall.
        level: the height of the change.
        sides: what is drawn below it and above it.
        s: the structure of the elevation.
        openings: its openings; lines stop at them.
        patterns: its hatched areas.

    Returns:
        Foot and head of the strip; both the height itself where there is none.
    """
    least, most = (h * s.metre for h in constants.TRIM_M)
    heights = heights_across(polygon, s, openings, level - most, level + most)
    for other in sorted(heights, key=lambda y: abs(y - level)):
        low, high = min(level, other), max(level, other)
        if high - low >= least and _is_trim(polygon, (low, high), sides, s, openings, patterns):
            return low, high
    return level, level


def _is_trim(
    polygon: Polygon,
    strip: tuple[float, float],
    sides: tuple[Surface, Surface],
    s: Structure,
    openings: Polygons,
    patterns: list[Pattern],
) -> bool:
    """Whether nothing of the claddings beside a strip lies in it: no board, no battens that end at
    its far line, no hatch."""
    low, high = strip
    steps = [s.metre / c.shown["boards"] if "boards" in c.shown else np.nan for c in sides]
    boards = [(high - low) / step for step in steps]
    least, near = constants.TRIM_BOARD
    if any(n >= least and abs(n - round(n)) <= near for n in boards if np.isfinite(n)):
        return False
    if heights_across(polygon, s, openings, low + s.gap, high - s.gap):
        return False
    slack = constants.STEP_SLACK * steps[0] + s.gap
    foot = low - steps[0]
    if heights_across(polygon, s, openings, foot - slack, foot + slack):
        return False
    x0, _, x1, _ = polygon.bounds
    lines = s.runs.lines[s.runs.upright]
    lines = lines[(lines[:, 0] > x0 + 2.0 * s.gap) & (lines[:, 0] < x1 - 2.0 * s.gap)]
    at = np.abs(lines[:, [1, 3]] - strip) <= 2.0 * s.gap
    through = (lines[:, 1] < low + 2.0 * s.gap) & (lines[:, 3] > high - 2.0 * s.gap)
    if (through & (at[:, 0] ^ at[:, 1])).sum() > constants.TRIM_CROSSED:
        return False
    area: Any = polygon.intersection(box(x0, low, x1, high))
    return not any(p.intersection(area).area > 0.5 * area.area for _, p in patterns)
