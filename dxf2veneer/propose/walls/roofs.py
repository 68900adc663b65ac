"""Roofs that nothing parts from the wall under them, because what stands in front hides the ends of
their fascia.

      ________________
     /                \\        the fascia runs from the wing on one side to the wing on the other:
  ==/==================\\==     two lines, close over each other, right across what would be a
  |  |                |  |      wall; over it lies nothing that only walls have, and the sky
--+--+----------------+--+--

Where the cladding changes at the eaves, the upper one is the roof's if it hangs over the lower and
lies open to the sky.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.views.cells import components
from dxf2veneer.propose.walls.bands import over_and_under
from dxf2veneer.propose.walls.glazing import glazed
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.texture import amid_boards

Flags = NDArray[np.bool_]


def under_fascia(whole: Polygon, s: Structure, openings: Polygons) -> Polygon | None:
    """The part of an outline under a fascia that runs right across it.

    Args:
        whole: an outline that stands on the ground and is open to the sky, in drawing units.
        s: the structure of its elevation.
        openings: openings; a roof has none.

    Returns:
        What lies under that fascia, or None where there is none.
    """
    x0, y0, x1, y1 = whole.bounds
    known = s.runs.level & (s.runs.lines[:, 0] < x1) & (s.runs.lines[:, 2] > x0)
    lines = s.runs.lines[known]
    heights = _at_once(lines[:, [1, 3]].mean(axis=1), s.gap)
    clad = s.runs.lines[known & s.texture.any][:, 1]
    tops = shapely.centroid(openings)
    lowest = max((p.y for p in tops if whole.contains(p)), default=y0)
    rows = heights[[_share_across(whole, lines, y, s) >= 0.5 for y in heights.tolist()]]
    heights = heights[(heights > max(lowest, y0 + constants.CORNER_LEAST_M * s.metre))]
    across = [y for y in heights.tolist() if y < y1 - s.gap and runs_across(whole, lines, y, s)]
    level = np.array([(x0, y, x1, y) for y in across]).reshape(-1, 4)
    clad = np.append(clad, level[amid_boards(level, s.runs, s.texture, s.gap), 1])
    most = constants.BAND_MOST_M * s.metre
    strips = [
        (low, high)
        for low, high in itertools.pairwise(across)
        if 4.0 * s.gap < high - low <= most and (np.abs(clad - low) > s.gap).all()
    ]
    if not strips:
        return None
    rest = whole.intersection(box(x0 - 1.0, y0 - 1.0, x1 + 1.0, _roof_from(whole, strips, rows, s)))
    parts = [p for p in shapely.get_parts(rest) if isinstance(p, Polygon)]
    return max(parts, key=lambda p: p.area, default=None)


def _roof_from(
    whole: Polygon, strips: Sequence[tuple[float, float]], rows: Floats, s: Structure
) -> float:
    """The height of the strip that is the roof's edge: one at which the sides of an outline don't
    run on in one line, as a wall's do past a band course, and that is not in step with the rows of
    a cladding under it; of several the lowest. Where the sides run on at all strips, one in the
    cornice."""
    broken = [low for low, high in strips if not _sides_run_on(whole, low, high, s)]
    if broken:
        return next((low for low in broken if not _in_step(low, rows, s)), broken[0])
    top = whole.bounds[3] - constants.BAND_MOST_M * s.metre
    return next((low for low, _ in strips if low >= top), strips[0][0])


def _in_step(y: float, rows: Floats, s: Structure) -> bool:
    """Whether two rows lie under a height at equal steps: it is one of these rows."""
    below = y - rows[rows < y - s.gap]
    return bool((np.abs(2.0 * below[:, None] - below[None, :]) <= s.gap).any())


def _sides_run_on(whole: Polygon, low: float, high: float, s: Structure) -> bool:
    """Whether an outline is as wide, and in the same place, under a strip as over it."""
    x0, _, x1, _ = whole.bounds
    spans = [
        whole.intersection(LineString([(x0 - 1.0, y), (x1 + 1.0, y)])).bounds
        for y in (low - 4.0 * s.gap, high + 4.0 * s.gap)
    ]
    if not all(spans):
        return True
    under, over = np.array(spans)[:, [0, 2]]
    return bool(np.abs(over - under).max() <= constants.EAVES_BEYOND_M * s.metre)


def _at_once(heights: Floats, gap: float) -> Floats:
    """Heights upward, those within a gap of the next as one."""
    order = np.sort(heights)
    row = np.concatenate([[0], np.cumsum(np.diff(order) > gap)])[: len(order)]
    return np.asarray(np.bincount(row, order) / np.bincount(row))


def runs_across(whole: Polygon, lines: Floats, y: float, s: Structure) -> bool:
    """Whether lines at a height run from one side of an outline to the other.

    Args:
        whole: the outline, in drawing units.
        lines: level lines, shape (n, 4).
        y: the height.
        s: the structure of the elevation.

    Returns:
        True where they cover its width.
    """
    return _share_across(whole, lines, y, s) >= constants.FASCIA_ACROSS


def _share_across(whole: Polygon, lines: Floats, y: float, s: Structure) -> float:
    """The share of the width of an outline at a height along which lines run."""
    x0, _, x1, _ = whole.bounds
    wide = whole.intersection(LineString([(x0 - 1.0, y), (x1 + 1.0, y)]))
    near = lines[np.abs(lines[:, [1, 3]].mean(axis=1) - y) <= s.gap]
    drawn = shapely.union_all(
        shapely.box(near[:, 0] - s.gap, y - s.gap, near[:, 2] + s.gap, y + s.gap)
    )
    return float(wide.intersection(drawn).length / max(wide.length, s.gap))


def over_eaves(s: Structure, openings: Polygons) -> Flags:
    """Which faces are a roof that stands on an eaves alone, with sides that slope in to the sky.

        ____________
       /            \\        without a fascia, or with one whose ends slope too; a wall that hangs
    --+--------------+--      over has upright sides, a gable has the roof's edge over it
      |              |

    Args:
        s: the structure of an elevation.
        openings: openings that are sure; what has them as walls have is none.

    Returns:
        One flag for each face of its mesh.
    """
    count = len(s.mesh.faces)
    result = _on_eaves(s, s.bands | glazed(s.mesh.faces, openings, s.metre))
    if result.any():
        inner = s.mesh.sides[(s.mesh.sides >= 0).all(axis=1)]
        whole = components(count, inner[result[inner].all(axis=1)])
        for number in np.unique(whole[result]).tolist():
            own = (whole == number) & result
            result[own] = _slopes_in(s, own)
    return result


def _on_eaves(s: Structure, told: Flags) -> Flags:
    """Which faces stand on an eaves or on such faces, those left out of which it is told what they
    are."""
    count = len(s.mesh.faces)
    over, under, width = over_and_under(s.mesh, s.runs)
    result = np.zeros(count, bool)
    eaves = s.eaves[s.mesh.source]
    if not eaves.any():
        return result
    foot = np.bincount(over[over >= 0], width[over >= 0], count)
    more = ~result
    while more.any():
        rests = (over >= 0) & (eaves | (result[under] & (under >= 0)))
        on = np.bincount(over[rests], width[rests], count)
        more = (on >= constants.ROOF_RESTS * foot) & (foot > 0.0) & ~result & ~told
        result |= more
    return result


def _slopes_in(s: Structure, own: Flags) -> bool:
    """Whether the sides of some faces slope and no roof's edge lies over them."""
    over, under, width = over_and_under(s.mesh, s.runs)
    inside = own[s.mesh.sides] & (s.mesh.sides >= 0)
    edge = inside[:, 0] ^ inside[:, 1]
    run = s.runs.member[s.mesh.source]
    high = np.abs(s.mesh.edges[:, 3] - s.mesh.edges[:, 1])
    slopes = high[edge & ~s.runs.upright[run] & ~s.runs.level[run]].sum()
    sides = high[edge & ~s.runs.level[run]].sum()
    head = edge & own[under] & (under >= 0)
    banded = width[head & s.bands[over] & (over >= 0)].sum()
    free = banded <= (1.0 - constants.ROOF_SLOPES) * width[head].sum()
    return bool(free and slopes >= constants.ROOF_SLOPES * sides)


def without_overhanging(shapes: Sequence[Polygon], openings: Polygons, metre: float) -> list[bool]:
    """Which of the stretches that a wall open to the sky parts into are walls: those that hang over
    the one below, and what lies on them, are its roof, unless they have windows as walls have.

    Args:
        shapes: the stretches, in drawing units.
        openings: openings that are sure.
        metre: drawing units in a metre.

    Returns:
        One flag for each stretch.
    """
    beyond, near = constants.EAVES_BEYOND_M * metre, constants.JOIN_GAP_M * metre
    order = sorted(range(len(shapes)), key=lambda i: shapes[i].bounds[1])
    walls = [True] * len(shapes)
    told = glazed(np.array(shapes, dtype=object), openings, metre)
    for i in order:
        x0, y0, x1, _ = shapes[i].bounds
        for k in order:
            a, _, b, top = shapes[k].bounds
            if k != i and abs(top - y0) <= 2.0 * near and min(b, x1) > max(a, x0):
                hangs = (x0 < a - beyond) or (x1 > b + beyond)
                walls[i] &= bool(told[i]) or (walls[k] and not hangs)
    return walls
