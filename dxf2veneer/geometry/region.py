"""Regions of the plane bounded by straight and circular segments, with exact overlays.

A region is a set of parts, each an outer path with holes. Union, intersection and difference give
regions again, and arcs stay arcs, so that areas are exact to rounding whatever was cut from what.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LinearRing, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.tolerances import FLATTEN_IN
from dxf2veneer.geometry.chords import Chords, node_arcs
from dxf2veneer.geometry.paths import Path
from dxf2veneer.geometry.segments import Point

_Operation = Literal["union", "intersection", "difference"]


@dataclass(frozen=True)
class RegionPart:
    """One connected part: its outer path and its holes."""

    outer: Path
    """Counter-clockwise."""
    holes: tuple[Path, ...] = ()
    """Clockwise."""

    @property
    def area(self) -> float:
        """Area inside the outer path less the holes."""
        return self.outer.area - math.fsum(h.area for h in self.holes)


@dataclass(frozen=True)
class Region:
    """A part of the plane, perhaps empty, perhaps in several parts."""

    parts: tuple[RegionPart, ...] = ()
    """From left to right and upward."""

    @classmethod
    def of(cls, path: Path) -> Region:
        """The inside of one closed path that does not cross itself."""
        return cls((RegionPart(path.counter_clockwise),)) if path.area > 0.0 else cls()

    @classmethod
    def box_of(cls, x0: float, y0: float, x1: float, y1: float) -> Region:
        """The rectangle; empty where it has no area."""
        return cls.of(Path.box_of(x0, y0, x1, y1)) if x1 > x0 and y1 > y0 else cls()

    @property
    def is_empty(self) -> bool:
        """Whether nothing lies inside."""
        return not self.parts

    @cached_property
    def area(self) -> float:
        """Exact area."""
        return math.fsum(p.area for p in self.parts)

    @cached_property
    def perimeter(self) -> float:
        """Length of all boundaries, holes included."""
        return math.fsum(path.length for path in self.paths)

    @cached_property
    def paths(self) -> tuple[Path, ...]:
        """Every boundary: outer paths and holes."""
        return tuple(path for p in self.parts for path in (p.outer, *p.holes))

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y: (x0, y0, x1, y1); all zero for an empty region."""
        boxes = [p.outer.box for p in self.parts]
        if not boxes:
            return 0.0, 0.0, 0.0, 0.0
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )

    @cached_property
    def polygon(self) -> MultiPolygon:
        """The region with arcs flattened by ``FLATTEN_IN``: for cutting, never for measuring."""
        shapes = [
            Polygon(
                p.outer.flatten(rise_in=FLATTEN_IN),
                [h.flatten(rise_in=FLATTEN_IN) for h in p.holes],
            )
            for p in self.parts
        ]
        whole = MultiPolygon(shapes)
        shapely.prepare(whole)
        return whole

    def at_height(self, y: float) -> MultiPolygon:
        """What a level line at that height can meet.

        That is ``polygon`` without the parts and holes that do not reach it.
        """
        parts = [
            (outer, holes[_reach(holes, y)]) for outer, holes in self._rings if _reach(outer, y)
        ]
        return MultiPolygon([Polygon(outer, list(holes)) for outer, holes in parts])

    @cached_property
    def _rings(self) -> list[tuple[LinearRing, NDArray[np.object_]]]:
        """The flattened boundaries of each part: the outer ring, and the holes."""
        return [(p.exterior, np.array(p.interiors, dtype=object)) for p in self.polygon.geoms]

    def union(self, *others: Region) -> Region:
        """What lies in any of them."""
        return _overlay(self, others, "union")

    def intersection(self, other: Region) -> Region:
        """What lies in both."""
        return _overlay(self, (other,), "intersection")

    def difference(self, *others: Region) -> Region:
        """What lies in this one and in none of the others."""
        return _overlay(self, others, "difference")

    def moved(self, dx: float, dy: float) -> Region:
        """The region shifted by (dx, dy)."""
        return Region(
            tuple(
                RegionPart(p.outer.moved(dx, dy), tuple(h.moved(dx, dy) for h in p.holes))
                for p in self.parts
            )
        )


def grid_for(regions: Iterable[Region]) -> float:
    """The grid of overlays: 2**-27 in (under 1e-8), coarser only where coordinates leave no room.

    A power of two, so that a place on the grid is one float here and in shapely; with 1e-8 the two
    differ in the last bit, and equal chords cross.

    Args:
        regions: The regions to be overlaid, in inches.

    Returns:
        The grid's step in inches.
    """
    reach = max((abs(v) for r in regions for v in r.box), default=0.0)
    return max(2.0**-27, 2.0 ** math.ceil(math.log2(reach * 2.0**-50)) if reach else 0.0)


def _reach(rings: LinearRing | NDArray[np.object_], y: float) -> NDArray[np.bool_]:
    """Which of the rings reach the height y."""
    boxes = shapely.bounds(rings)
    return np.asarray((boxes[..., 1] <= y) & (y <= boxes[..., 3]))


def _apart(a: Region, b: Region) -> bool:
    ax0, ay0, ax1, ay1 = a.box
    bx0, by0, bx1, by1 = b.box
    return a.is_empty or b.is_empty or ax1 < bx0 or bx1 < ax0 or ay1 < by0 or by1 < ay0


def _within(a: Region, b: Region) -> bool:
    """Whether ``a`` lies inside ``b``, clear of its boundary by more than chords stray."""
    inside = shapely.contains_properly(b.polygon, a.polygon)
    return bool(inside) and a.polygon.distance(b.polygon.boundary) > 3.0 * FLATTEN_IN


def _overlay(a: Region, others: tuple[Region, ...], operation: _Operation) -> Region:
    """One overlay of ``a`` with the union of the others."""
    near = tuple(o for o in others if not o.is_empty and (operation == "union" or not _apart(a, o)))
    if not near:
        return Region() if operation == "intersection" else a
    if operation != "union" and any(_within(a, o) for o in near):
        return a if operation == "intersection" else Region()
    everything = (a, *near)
    grid = grid_for(everything)
    chords = Chords(grid_in=grid)
    rings = _noded_rings(everything, chords, touch_in=grid * 16)
    shapes = [_polygon(region, rings) for region in everything]
    rest = shapely.union_all(shapes[1:], grid_size=grid)
    result = getattr(shapely, operation)(shapes[0], rest, grid_size=grid)
    return _region(result, chords, least=grid * 1e3)


def _noded_rings(
    regions: tuple[Region, ...], chords: Chords, *, touch_in: float
) -> dict[int, list[Point]]:
    """For each boundary path, by identity, its flattened ring with arcs cut at all meetings."""
    paths = [path for region in regions for path in region.paths]
    owners = [path for path in paths for _ in path.segments]
    rings: dict[int, list[Point]] = {id(path): [] for path in paths}
    noded = node_arcs([s for path in paths for s in path.segments], touch_in=touch_in)
    for path, parts in zip(owners, noded, strict=True):
        for part in parts:
            rings[id(path)].extend(chords.enter(part)[:-1])
    return rings


def _polygon(region: Region, rings: dict[int, list[Point]]) -> BaseGeometry:
    shapes = [Polygon(rings[id(p.outer)], [rings[id(h)] for h in p.holes]) for p in region.parts]
    return shapes[0] if len(shapes) == 1 else MultiPolygon(shapes)


def _region(shape: BaseGeometry, chords: Chords, *, least: float) -> Region:
    """The region of a shapely result; crumbs smaller than ``least`` come from rounding and go."""
    parts = []
    for piece in shapely.get_parts(shape):
        if isinstance(piece, Polygon) and piece.area > least:
            outer = chords.restore(piece.exterior.coords).counter_clockwise
            holes = (chords.restore(r.coords) for r in piece.interiors if Polygon(r).area > least)
            parts.append(RegionPart(outer, tuple(h.counter_clockwise.reversed for h in holes)))
    return Region(tuple(sorted(parts, key=lambda p: p.outer.box)))
