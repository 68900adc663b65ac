"""Walls parted where the cladding changes at a level line.

|  |  |  |  |  |     battens above, stones below: two walls that meet at the line. A line with
+--+--+--+--+--+     the same cladding on both sides, or with none, parts nothing.
[__][___][__][_]
"""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.structure import Structure

Pattern = tuple[str, Polygon]
"""Name of a hatch's pattern and the area that it fills."""
Claddings = dict[str, float]
"""Names of claddings and the step of their lines."""


def parted(part: Part, s: Structure, openings: Polygons, patterns: list[Pattern]) -> list[Part]:
    """The walls that a part of a facade is made of, from the bottom up.

    Args:
        part: a stretch of facade.
        s: the structure of its elevation.
        openings: openings of the elevation; lines stop at them.
        patterns: hatched areas of the elevation.

    Returns:
        The part itself, or the walls into which its claddings part it.
    """
    x0, y0, x1, y1 = part.polygon.bounds
    heights = [y0, *_levels(part.polygon, s, openings), y1]
    slabs = [
        part.polygon.intersection(box(x0 - 1, a, x1 + 1, b)) for a, b in itertools.pairwise(heights)
    ]
    signs = [_claddings(slab, s, patterns) for slab in slabs]
    pieces: list[tuple[Any, Claddings]] = []
    for slab, sign in zip(slabs, signs, strict=True):
        low = (
            slab.bounds[3] - slab.bounds[1] < constants.CLADDING_BLANK_M * s.metre
            if not slab.is_empty
            else True
        )
        if pieces and (_alike(pieces[-1][1], sign) or (low and not sign)):
            pieces[-1] = (pieces[-1][0].union(slab), pieces[-1][1])
        elif (
            len(pieces) == 1
            and not pieces[0][1]
            and pieces[0][0].bounds[3] - pieces[0][0].bounds[1]
            < constants.CLADDING_BLANK_M * s.metre
        ):
            pieces[0] = (pieces[0][0].union(slab), sign)
        else:
            pieces.append((slab, sign))
    if len(pieces) == 1:
        return [part]
    names = [sorted(sign) for _, sign in pieces]
    return [
        Part(
            Polygon(shape.exterior),
            part.confidence - 0.05,
            Reason("WALL_CLADDING", {**part.reason.values, "cladding": name}),
        )
        for (piece, _), name in zip(pieces, names, strict=True)
        for shape in shapely.get_parts(piece)
        if isinstance(shape, Polygon) and is_large(shape, s.metre)
    ]


def _alike(one: Claddings, two: Claddings) -> bool:
    """Whether two claddings are the same, at the same steps."""
    if one.keys() != two.keys():
        return False
    ratios = [max(one[name], two[name]) / min(one[name], two[name]) for name in one]
    most = constants.CLADDING_STEP_RATIO  # a step may be measured from board to board or over two
    return all(r <= most or 2.0 / most <= r <= 2.0 * most for r in ratios)


def _levels(polygon: Polygon, s: Structure, openings: Polygons) -> list[float]:
    """Heights at which lines that are no cladding run from one side of a wall to the other."""
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_HEIGHT_M * s.metre
    lines = s.runs.lines[
        s.runs.level & ~s.texture.any & (s.runs.length >= constants.CLADDING_LINE_M * s.metre)
    ]
    y = lines[:, [1, 3]].mean(axis=1)
    lines, y = (
        v[(y > y0 + least) & (y < y1 - least) & (lines[:, 0] < x1) & (lines[:, 2] > x0)]
        for v in (lines, y)
    )
    found: list[float] = []
    for height in np.unique(np.rint(y / s.gap)) * s.gap:
        near = lines[np.abs(y - height) <= s.gap]
        at = float(near[:, [1, 3]].mean())
        if found and at - found[-1] < 2.0 * s.gap:
            continue
        if _covered(polygon, near, at, openings, s.gap) >= constants.CLADDING_COVER:
            found.append(at)
    return [at for i, at in enumerate(found) if i == 0 or at - found[i - 1] >= s.gap]


def _covered(polygon: Polygon, lines: Floats, y: float, openings: Polygons, gap: float) -> float:
    """The share of a wall's width at a height that lines cover, openings left out."""
    x0, _, x1, _ = polygon.bounds
    across = polygon.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)]))
    if len(openings):
        across = across.difference(
            shapely.unary_union(openings[shapely.intersects(openings, across)])
        )
    drawn = shapely.unary_union(shapely.box(lines[:, 0] - gap, y - gap, lines[:, 2] + gap, y + gap))
    return float(across.intersection(drawn).length / max(across.length, gap))


def _claddings(slab: Any, s: Structure, patterns: list[Pattern]) -> Claddings:
    """The cladding of lines that takes most of a slab's height, and the patterns of hatches in
    it."""
    inner = slab.buffer(-2.0 * s.gap)
    if inner.is_empty:
        return {}
    stones = s.texture.stones
    kinds = {
        "boards": s.texture.boards & ~stones,
        "battens": s.texture.battens & ~stones,
        "stones": stones,
        "slabs": s.texture.slabs & ~s.texture.boards & ~s.texture.battens & ~stones,
    }
    drawn = {name: _drawn(inner, np.flatnonzero(flags), s) for name, flags in kinds.items()}
    found: Claddings = {}
    name, (height, step) = max(drawn.items(), key=lambda item: item[1][0])
    if height > 0.0:
        found[name] = 1.0 if name == "stones" else step
    for pattern, area in patterns:
        if area.intersection(inner).area >= constants.CLADDING_HATCH_M2 * s.metre**2:
            found[f"hatch {pattern}"] = 1.0
    return found


def _drawn(inner: Any, which: NDArray[np.int64], s: Structure) -> tuple[float, float]:
    """How much of a slab's height lines of a cladding take, and their step; 0 where too little is
    drawn."""
    lines = (
        shapely.linestrings(s.runs.lines[which].reshape(-1, 2, 2))
        if len(which)
        else np.empty(0, dtype=object)
    )
    near = which[shapely.intersects(lines, inner)] if len(which) else which
    if not len(near):
        return 0.0, 1.0
    parts = shapely.intersection(shapely.linestrings(s.runs.lines[near].reshape(-1, 2, 2)), inner)
    if shapely.length(parts).sum() < constants.CLADDING_DRAWN_M * s.metre:
        return 0.0, 1.0
    steps = s.texture.step[near]
    step = float(np.nanmedian(steps)) if np.isfinite(steps).any() else 1.0
    half = np.where(np.isfinite(steps), steps, 0.0) / 2.0
    boxes = shapely.bounds(parts)
    level = s.runs.level[near]
    low, high = boxes[:, 1] - half * level, boxes[:, 3] + half * level
    order = np.argsort(low)
    reach = np.maximum.accumulate(high[order])
    gaps = np.maximum(0.0, low[order][1:] - reach[:-1]).sum()
    return float(reach[-1] - low[order][0] - gaps), step
