"""Level lines from one side of a wall to the other: where its cladding may change.

|       |   |       |     A line that an opening and what stands beside it interrupts runs across; a
|-------| d |-------|     sill, or a line amid others at even steps, does not.
|       |   |       |
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.slabs import joint_meets, joints_run_through
from dxf2veneer.propose.walls.structure import Structure


def levels_across(polygon: Polygon, s: Structure, openings: Polygons) -> list[float]:
    """Heights at which lines run from one side of a wall to the other where its cladding may
    change.

    Args:
        polygon: outline of the wall.
        s: the structure of its elevation.
        openings: its openings; lines stop at them.

    Returns:
        The heights upward: none in the middle of lines at even steps, and none that joints run
        through.
    """
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_HEIGHT_M * s.metre
    at, drawn, rows = rows_between(x0, x1, s)
    found: list[float] = []
    for k in np.flatnonzero((at > y0 + least) & (at < y1 - least)).tolist():
        if _in_rhythm(at[drawn >= 0.5 * drawn[k]], float(at[k]), s):
            continue
        if _is_drawn(polygon, rows[k], float(at[k]), openings, s):
            found.append(float(at[k]))
    return [v for v in found if not joints_run_through(polygon, v, s, s.texture.joints)]


def heights_across(
    polygon: Polygon, s: Structure, openings: Polygons, low: float, high: float
) -> list[float]:
    """Heights between two others at which lines run from one side of a wall to the other.

    Args:
        polygon: outline of the wall.
        s: the structure of its elevation.
        openings: its openings; lines stop at them.
        low: lowest height.
        high: greatest height.

    Returns:
        The heights upward, whatever lies at even steps beside them.
    """
    x0, _, x1, _ = polygon.bounds
    at, _, rows = rows_between(x0, x1, s)
    return [
        y
        for y, lines in zip(at.tolist(), rows, strict=True)
        if low <= y <= high and _is_drawn(polygon, lines, y, openings, s)
    ]


def is_wainscot(
    polygon: Polygon, whole: Polygon, y: float, s: Structure, openings: Polygons
) -> bool:
    """Whether a line across a wall on which no cladding is drawn is the top of a wainscot.

    A draftsman who draws no cladding still draws the line at which it changes: from one edge of the
    wall to the other, in step with no other line, as joints of slabs are, and as high as a wainscot
    is, which the line of a floor is not. Where slabs are drawn on the elevation a line is a joint
    unless other joints stand on it and none hang under it.

    Args:
        polygon: outline of the wall, or of what other changes leave of it.
        whole: outline of the wall.
        y: the height of the line.
        s: the structure of its elevation.
        openings: its openings; lines stop at them.

    Returns:
        True where it parts the wall.
    """
    x0, y0, x1, _ = polygon.bounds
    low, most, highest = (h * s.metre for h in constants.WAINSCOT_M)
    if not low <= y - whole.bounds[1] <= highest or y0 > whole.bounds[1] + s.gap:
        return False
    at, drawn, rows = rows_between(x0, x1, s)
    if y - whole.bounds[1] > most and belt_at(polygon, y, s, openings) is None:
        return False
    k = int(np.argmin(np.abs(at - y)))
    if not _is_drawn(polygon, rows[k], y, openings, s, constants.CLADDING_ACROSS):
        return False
    if _runs_past(polygon, y, s):
        return False
    if joint_meets(polygon, y, -1.0, s, openings):
        return False
    if s.texture.joints.any() and not joint_meets(polygon, y, 1.0, s, openings):
        return False
    inside = (at > y0 + s.gap) & (at < whole.bounds[3] - s.gap)
    inside &= (drawn >= 0.5 * drawn[k]) & (np.abs(at - y) > constants.BELT_MOST_M * s.metre)
    heights = np.concatenate([at[inside], [y0, whole.bounds[3]]])
    even = np.abs(np.stack([2.0 * heights - y, 2.0 * y - heights])[:, :, None] - heights)
    return not (even <= 2.0 * s.gap).any()


def belt_at(polygon: Polygon, y: float, s: Structure, openings: Polygons) -> float | None:
    """The height of the other edge of a narrow band across a wall, None where a line is no edge of
    one: lines of a cladding are none.

    Args:
        polygon: outline of the wall.
        y: the height of the line.
        s: the structure of its elevation.
        openings: its openings; lines stop at them.

    Returns:
        The height.
    """
    x0, y0, x1, y1 = polygon.bounds
    at, _, rows = rows_between(x0, x1, s)
    most = constants.BELT_MOST_M * s.metre
    near = (np.abs(at - y) <= most) & (np.abs(at - y) > 2.0 * s.gap) & (at > y0) & (at < y1)
    found = [
        float(at[k])
        for k in np.flatnonzero(near).tolist()
        if _is_drawn(polygon, rows[k], float(at[k]), openings, s)
    ]
    if len(found) != 1:
        return None
    if begins_rhythm(polygon, y, s) or begins_rhythm(polygon, found[0], s):
        return None
    return found[0]


def begins_rhythm(polygon: Polygon, y: float, s: Structure) -> bool:
    """Whether the next two lines above or below a height lie at the same steps, as boards do.

    Args:
        polygon: outline of the wall.
        y: the height of a line.
        s: the structure of its elevation.

    Returns:
        True where the line is the first or the last of such lines.
    """
    x0, _, x1, _ = polygon.bounds
    at = rows_between(x0, x1, s)[0]
    return any(_steps_from(at, y, way, s) for way in (-1.0, 1.0))


def boards_from(polygon: Polygon, y: float, step: float, s: Structure) -> bool:
    """Whether boards are laid from a height up in full courses, whatever else is drawn there.

    Args:
        polygon: outline of the wall.
        y: the height of a line.
        step: from edge to edge of the boards over it, in drawing units.
        s: the structure of its elevation.

    Returns:
        True where their next two edges lie over the line at a step each.
    """
    x0, _, x1, _ = polygon.bounds
    edges = y + step * np.array([1.0, 2.0])
    apart = np.abs(rows_between(x0, x1, s)[0][:, None] - edges)
    return bool((apart.min(axis=0, initial=np.inf) <= constants.STEP_SLACK * step + s.gap).all())


def _steps_from(heights: Floats, y: float, way: float, s: Structure) -> bool:
    """Whether the next two lines above (below for -1) lie at the same steps."""
    away = np.sort((heights - y) * way)
    away = away[away > s.gap][:2]
    most = constants.CLADDING_STEP_M * s.metre
    return bool(
        len(away) == 2
        and away[0] <= most
        and abs(away[1] - 2.0 * away[0]) <= constants.STEP_SLACK * away[0] + s.gap
    )


def _runs_past(polygon: Polygon, y: float, s: Structure) -> bool:
    """Whether a line at a height runs past a wall and ends in the open air: that of a floor, or the
    ground of what lies beside."""
    x0, _, x1, _ = polygon.bounds
    lines = s.runs.lines
    own = s.runs.level & (np.abs(lines[:, [1, 3]].mean(axis=1) - y) <= 2.0 * s.gap)
    lines = lines[own & (lines[:, 0] < x1) & (lines[:, 2] > x0)]
    reach = constants.OVERSHOOT_M * s.metre
    ends = np.vstack([lines[lines[:, 0] < x0 - reach, :2], lines[lines[:, 2] > x1 + reach, 2:]])
    faces = shapely.STRtree(s.mesh.faces)
    held = faces.query(shapely.points(ends), predicate="dwithin", distance=s.gap)[0]
    return len(np.unique(held)) < len(ends)


def rows_between(x0: float, x1: float, s: Structure) -> tuple[Floats, Floats, list[Floats]]:
    """The level lines between two uprights, course lines of stone left out.

    Args:
        x0: left upright.
        x1: right upright.
        s: the structure of an elevation.

    Returns:
        The heights of the lines upward, how long they are together at each, and themselves.
    """
    long = s.runs.length >= constants.CLADDING_LINE_M * s.metre
    lines = s.runs.lines[s.runs.level & ~s.texture.stones & long]
    lines = lines[(lines[:, 0] < x1) & (lines[:, 2] > x0)]
    if not len(lines):
        return np.empty(0), np.empty(0), []
    y = lines[:, [1, 3]].mean(axis=1)
    order = np.argsort(y)
    lines, y = lines[order], y[order]
    row = np.concatenate([[0], np.cumsum(np.diff(y) > 2.0 * s.gap)])
    drawn = np.bincount(row, np.minimum(lines[:, 2], x1) - np.maximum(lines[:, 0], x0))
    at = np.bincount(row, y) / np.bincount(row)
    return (
        np.asarray(at),
        np.asarray(drawn, dtype=np.float64),
        [lines[row == k] for k in range(len(at))],
    )


def _in_rhythm(heights: Floats, y: float, s: Structure) -> bool:
    """Whether the lines above and below lie at the same steps from a line."""
    up, down = heights[heights > y + s.gap] - y, y - heights[heights < y - s.gap][::-1]
    most = constants.CLADDING_STEP_M * s.metre
    if len(up) < 2 or len(down) < 2 or up[0] > most:
        return False

    def alike(one: float, two: float) -> bool:
        return bool(abs(one - two) <= constants.STEP_SLACK * one + s.gap)

    if alike(up[0], down[0]):
        return alike(2.0 * up[0], up[1]) or alike(2.0 * up[0], down[1])
    return alike(up[1], down[1]) and alike(up[1], up[0] + down[0]) and bool(up[1] <= most)


def _is_drawn(
    polygon: Polygon,
    lines: Floats,
    y: float,
    openings: Polygons,
    s: Structure,
    least: float = constants.CLADDING_COVER,
) -> bool:
    """Whether lines run across a wall at a height, but for openings and what may stand beside
    these: shutters, steps."""
    x0, _, x1, _ = polygon.bounds
    across = polygon.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)]))
    near = openings[shapely.intersects(openings, across)] if len(openings) else openings
    hidden = shapely.union_all(near)
    across = across.difference(hidden)
    length = max(across.length, s.gap)
    first, last = np.maximum(lines[:, 0] - s.gap, x0), np.minimum(lines[:, 2] + s.gap, x1)
    if (last - first).sum() < constants.CLADDING_LEAST * length - s.gap:
        return False  # too short, wherever they lie
    drawn = shapely.union_all(
        shapely.box(lines[:, 0] - s.gap, y - s.gap, lines[:, 2] + s.gap, y + s.gap)
    )
    covered = across.intersection(drawn).length
    if covered < constants.CLADDING_LEAST * length or covered >= least * length:
        return bool(covered >= least * length)
    rest = shapely.get_parts(across.difference(drawn))
    rest = rest[shapely.length(rest) <= constants.SHUTTER_MOST_M * s.metre]
    beside = shapely.dwithin(rest, hidden, constants.ATTACHED_M * s.metre)
    return bool(covered + shapely.length(rest[beside]).sum() >= least * length)
