"""Joints of slabs at a line across a wall: whether the slabs go on beyond it.

|        |        |
+----+---+--------+    Joints run through the line, or come up to it from the far side; or lines
|    |   |        |    lie as far over it as under it, as joints between slabs of one height do.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.ends import loose_ends
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Flags


def joints_run_through(polygon: Polygon, y: float, s: Structure, joints: Flags) -> bool:
    """Whether more joints of a wall run on through a height than lines end there.

    Args:
        polygon: outline of the wall.
        y: the height.
        s: the structure of its elevation.
        joints: which of its runs are joints.

    Returns:
        True where they do.
    """
    x0, low, x1, high = polygon.bounds
    end = constants.SLAB_END_M * s.metre
    lines = s.runs.lines[s.runs.upright]
    inside = (lines[:, 0] > x0 + end) & (lines[:, 0] < x1 - end)
    inside &= (lines[:, 1] >= low - 2.0 * s.gap) & (lines[:, 3] <= high + 2.0 * s.gap)
    through = (lines[:, 1] < y - 2.0 * s.gap) & (lines[:, 3] > y + 2.0 * s.gap)
    through &= inside & joints[s.runs.upright]
    stops = inside & (np.abs(lines[:, [1, 3]] - y).min(axis=1) <= 2.0 * s.gap)
    return bool(through.any() and through.sum() >= stops.sum())


def joint_meets(polygon: Polygon, y: float, way: float, s: Structure, openings: Polygons) -> bool:
    """Whether a joint between slabs comes from one side to a line across a wall, as none does where
    nothing is laid on that side.

    |        |              Both its ends lie on others, and neither a side of the wall nor an
    +----+---+-----+---     opening nor another upright as high, a pipe's or a post's, is close.
    |    |         |

    Args:
        polygon: outline of the wall.
        y: the height of the line.
        way: 1 for joints over the line, -1 for those under it.
        s: the structure of its elevation.
        openings: its openings; their jambs are no joints.

    Returns:
        True where one comes up to the line or runs through it.
    """
    x0, low, x1, high = polygon.bounds
    x0, _, x1, _ = polygon.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)])).bounds
    end, near = constants.SLAB_END_M * s.metre, 2.0 * s.gap
    some = s.runs.upright & (s.runs.length >= constants.CLADDING_LINE_M * s.metre)
    lines = s.runs.lines[some & ~loose_ends(s.runs).any(axis=1)]
    lines = lines[(lines[:, 1] >= low - near) & (lines[:, 3] <= high + near)]
    foot, head = (lines[:, 1] - y) * way, (lines[:, 3] - y) * way
    comes = (np.minimum(foot, head) <= near) & (np.maximum(foot, head) > near)
    inside = (lines[:, 0] > x0 + end) & (lines[:, 0] < x1 - end)
    aside = np.abs(lines[:, 0][:, None] - lines[:, 0])
    alike = np.abs(lines[:, None, [1, 3]] - lines[None, :, [1, 3]]).max(axis=2) <= near
    single = ~(alike & (aside > near) & (aside <= constants.POST_MOST_M * s.metre)).any(axis=1)
    found = shapely.linestrings(lines[comes & inside & single].reshape(-1, 2, 2))
    jambs = shapely.STRtree(openings).query(
        found, predicate="dwithin", distance=constants.ATTACHED_M * s.metre
    )[0]
    return len(np.unique(jambs)) < len(found)


def in_slab_step(heights: Floats, y: float, s: Structure) -> bool:
    """Whether a line lies amid others as a joint lies amid those of slabs of one height.

    Args:
        heights: the heights of other level lines on the wall, its foot and head among them.
        y: the height of the line.
        s: the structure of its elevation.

    Returns:
        True where one lies as far over it as another under it, at least the height of a slab away.
    """
    steps = heights - y
    far = steps[np.abs(steps) >= constants.SLAB_LEAST_M * s.metre]
    up, down = far[far > 0.0], -far[far < 0.0]
    return bool((np.abs(up[:, None] - down[None, :]) <= s.gap).any())
