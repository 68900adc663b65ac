"""Walls parted where the cladding changes at a level line.

|  |  |  |  |  |     battens above, stones below: two walls that meet at the line. A line with
+--+--+--+--+--+     the same cladding on both sides, or with none, parts nothing; nor does one that
[__][___][__][_]     joints run through, as they do in a wall of slabs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any, NamedTuple

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


class _Cladding(NamedTuple):
    """What is drawn all over a stretch of wall.

    ``kinds``: boards and battens with their number on a meter, stones and slabs, hatches by the
    names of their patterns; ``purity``: the share of the stretch that they make up, or that is left
    where there are none.
    """

    kinds: Mapping[str, float]
    purity: float

    @property
    def is_told(self) -> bool:
        """Whether it is known: lines all over a stretch that make no cladding tell nothing."""
        return bool(self.kinds) or self.purity >= constants.CLADDING_SHARE

    def differs(self, other: _Cladding) -> bool:
        """Whether another is a different cladding or the same at other steps."""
        if self.kinds.keys() != other.kinds.keys():
            return True
        ratios = [max(n, other.kinds[k]) / min(n, other.kinds[k]) for k, n in self.kinds.items()]
        most = constants.CLADDING_STEP_RATIO  # measured from board to board or over two
        return any(r > most and not 2.0 / most <= r <= 2.0 * most for r in ratios)


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
    change = _change(part.polygon, s, openings, patterns)
    if change is None:
        return [part]
    found: list[Part] = []
    for zone in _zones(part.polygon, change):
        name = sorted(_cladding(zone, s, openings, patterns).kinds)
        reason = Reason("WALL_CLADDING", {**part.reason.values, "cladding": name})
        for shape in shapely.get_parts(zone):
            if isinstance(shape, Polygon) and is_large(shape, s.metre):
                piece = Part(Polygon(shape.exterior), part.confidence - 0.05, reason)
                found += parted(piece, s, openings, patterns)
    return found


def _change(
    polygon: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]
) -> float | None:
    """The height at which the cladding of a wall changes most clearly, None where it doesn't."""
    found: list[tuple[float, float, float]] = []
    for y in _levels(polygon, s, openings):
        low, high = (_cladding(z, s, openings, patterns) for z in _zones(polygon, y))
        heights = (y - polygon.bounds[1], polygon.bounds[3] - y)
        blank = [h for h, c in zip(heights, (low, high), strict=True) if not c.kinds]
        told = low.is_told and high.is_told and low.differs(high)
        if told and min(blank, default=np.inf) >= constants.CLADDING_BLANK_M * s.metre:
            step = s.metre / low.kinds["boards"] if "boards" in low.kinds else 0.0
            found.append((low.purity * high.purity, y, step))
    if not found:
        return None
    _, best, step = max(found)  # boards below may end short of the change
    return max(y for _, y, _ in found if y <= best + 1.5 * step)


def _zones(polygon: Polygon, y: float) -> tuple[Any, Any]:
    """What lies below a height and what above it."""
    x0, y0, x1, y1 = polygon.bounds
    return (
        polygon.intersection(box(x0 - 1.0, y0 - 1.0, x1 + 1.0, y)),
        polygon.intersection(box(x0 - 1.0, y, x1 + 1.0, y1 + 1.0)),
    )


def _levels(polygon: Polygon, s: Structure, openings: Polygons) -> list[float]:
    """Heights at which lines run from one side of a wall to the other where its cladding may
    change."""
    x0, y0, x1, y1 = polygon.bounds
    least = constants.CLADDING_HEIGHT_M * s.metre
    lines = s.runs.lines[
        s.runs.level
        & ~(s.texture.boards & s.texture.steady)
        & ~s.texture.stones
        & (s.runs.length >= constants.CLADDING_LINE_M * s.metre)
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
    return [y for y in found if not _run_through(polygon, y, s)]


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


def _run_through(polygon: Polygon, y: float, s: Structure) -> bool:
    """Whether more joints of a wall run on through a height than end there."""
    x0, low, x1, high = polygon.bounds
    end = constants.SLAB_END_M * s.metre
    lines = s.runs.lines[s.runs.upright]
    inside = (lines[:, 0] > x0 + end) & (lines[:, 0] < x1 - end)
    inside &= (lines[:, 1] >= low - 2.0 * s.gap) & (lines[:, 3] <= high + 2.0 * s.gap)
    through = (lines[:, 1] < y - 2.0 * s.gap) & (lines[:, 3] > y + 2.0 * s.gap)
    through &= inside & s.texture.joints[s.runs.upright]
    stops = inside & (np.abs(lines[:, [1, 3]] - y).min(axis=1) <= 2.0 * s.gap)
    return bool(through.any() and through.sum() >= stops.sum())


def _cladding(zone: Any, s: Structure, openings: Polygons, patterns: list[Pattern]) -> _Cladding:
    """What is drawn on a stretch of wall."""
    inner = zone.buffer(-2.0 * s.gap)
    if len(openings):
        inner = inner.difference(shapely.union_all(openings[shapely.intersects(openings, inner)]))
    if inner.is_empty:
        return _Cladding({}, 1.0)
    t = s.texture
    drawn = {  # of two as widespread the first
        "boards": (t.boards & s.runs.level & ~t.stones, t.steady),
        "battens": (t.battens & ~t.stones, t.steady),
        "stones": (t.stones, t.stones),
        "slabs": ((t.joints | t.crossed) & ~t.stones, t.joints),
    }
    name, share, step = "", 0.0, 1.0
    for kind, (flags, sure) in drawn.items():
        near = _drawn(inner, flags, s)
        steps = t.step[near[sure[near]]]
        if not len(steps):
            continue
        middle = float(np.median(steps)) if kind in ("boards", "battens") else np.nan
        unlike = np.abs(np.log(t.step[near] / middle)) > np.log(constants.CLADDING_STEP_RATIO)
        spread = _spread(inner, near[~unlike], s)
        if spread > share + 1e-6:
            name, share, step = kind, spread, middle
    hatches: Counter[str] = Counter()
    for pattern, area in patterns:
        hatches[f"hatch {pattern}"] += area.intersection(inner).area / inner.area
    kinds = {k: 1.0 for k, part in hatches.items() if part >= constants.CLADDING_SHARE}
    if share >= constants.CLADDING_SHARE:
        kinds[name] = s.metre / step if np.isfinite(step) else 1.0
    if kinds:
        return _Cladding(kinds, max(share, *hatches.values()) if hatches else share)
    return _Cladding({}, 1.0 - _spread(inner, _drawn(inner, t.any, s), s))


def _drawn(inner: Any, which: NDArray[np.bool_], s: Structure) -> NDArray[np.int64]:
    """Numbers of the runs that touch a stretch of wall."""
    index = np.flatnonzero(which)
    lines = shapely.linestrings(s.runs.lines[index].reshape(-1, 2, 2))
    return np.asarray(index[shapely.intersects(lines, inner)])


def _spread(inner: Any, which: NDArray[np.int64], s: Structure) -> float:
    """The share of a stretch of wall over which some runs spread."""
    lines = shapely.linestrings(s.runs.lines[which].reshape(-1, 2, 2))
    hull = shapely.convex_hull(shapely.union_all(shapely.intersection(lines, inner)))
    return float(hull.intersection(inner).area / inner.area)
