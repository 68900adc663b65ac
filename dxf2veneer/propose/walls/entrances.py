"""Piers on both sides of an entrance, under its canopy: no caps, but each as wide as the other.

   +==========+       The inner sides are the jambs of the door, or of the glass around it; the
  +-+--------+-+      heads are level, a little over the door's, and the canopy lies over both.
  | |  |  |  | |      Shutters end with their window, and casings are narrower. The line of a
  | |  |  |  | |      head may be missing where both sides of the pier end at one height.
--+-+--+--+--+-+--
"""

from __future__ import annotations

from typing import Any

import numpy as np
from shapely.geometry import Point, Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.ends import share_drawn
from dxf2veneer.propose.walls.piers import Pier
from dxf2veneer.propose.walls.structure import Structure


def entrance_piers(s: Structure, openings: Polygons, facade: Any) -> list[Pier]:
    """The pairs of piers beside the entrances of an elevation.

    Args:
        s: its structure.
        openings: its openings.
        facade: its walls, one or more polygons; they go on over piers, as they don't over the
            corners of a wing.

    Returns:
        Piers from left to right, without caps.
    """
    level = s.runs.lines[s.runs.level]
    found = [
        pier
        for o in openings
        for pier in _beside(o.bounds, level, s)
        if facade.covers(_over(pier.shaft, s))
    ]
    return sorted(found, key=lambda p: p.shaft.bounds)


def _over(shaft: Polygon, s: Structure) -> Point:
    """A place over a pier and what its canopy may hide."""
    x0, _, x1, top = shaft.bounds
    return Point((x0 + x1) / 2.0, top + 1.5 * constants.CANOPY_OVER_M * s.metre)


def _beside(door: tuple[float, ...], level: Floats, s: Structure) -> list[Pier]:
    """The piers on both sides of a door, none where it has no such two."""
    x0, y0, x1, y1 = door
    if y1 - y0 < constants.DOOR_LEAST_M * s.metre:
        return []
    near = 2.0 * s.gap
    least, most = (wide * s.metre for wide in constants.ENTRANCE_PIER_M)
    sides = s.runs.lines[s.runs.upright & ~s.texture.battens]
    over = sides[:, 3] - y1
    sides = sides[(over > -near) & (over <= constants.ENTRANCE_OVER_M * s.metre)]
    sides = sides[sides[:, 1] <= y0 + near]
    for _, foot, x, top in sides[sides[:, 0] < x0].tolist():
        twin = sides[np.abs(sides[:, 0] - (x0 + x1 - x)) <= near]
        twin = twin[np.abs(twin[:, 3] - top) <= near]
        reveal = _reveal(x0, x1, top, sides, s)
        wide = x0 - reveal - x
        if not least <= wide <= most or not len(twin):
            continue
        ends = ((x, x + wide), (x1 + reveal, x1 + reveal + wide))
        drawn = [share_drawn(level, top, a, b, near) for a, b in ends]
        if not reveal and min(drawn) < constants.PIER_CAP_DRAWN:
            continue
        if _has_canopy(x + wide / 2.0, ends[1][1] - wide / 2.0, top, level, s):
            feet = foot, float(twin[0, 1])
            shafts = [box(a, y, b, top) for (a, b), y in zip(ends, feet, strict=True)]
            return [Pier(shaft, shaft) for shaft in shafts]
    return []


def _reveal(x0: float, x1: float, top: float, sides: Floats, s: Structure) -> float:
    """How far from the jambs of a door the inner sides of its piers stand, that end as high as the
    outer ones; 0 where the jambs are these sides."""
    most, near = constants.ATTACHED_M * s.metre, 2.0 * s.gap
    high = sides[np.abs(sides[:, 3] - top) <= near, 0]
    left = x0 - high[(high <= x0 + near) & (high >= x0 - most)]
    right = high[(high >= x1 - near) & (high <= x1 + most)] - x1
    alike = left[(np.abs(left[:, None] - right) <= near).any(axis=1)]
    return float(alike.max(initial=0.0))


def _has_canopy(first: float, last: float, top: float, level: Floats, s: Structure) -> bool:
    """Whether a line runs over two piers, from the middle of one to that of the other."""
    over = level[:, 1] - top
    near = (over >= -2.0 * s.gap) & (over <= constants.CANOPY_OVER_M * s.metre)
    return bool((near & (level[:, 0] <= first) & (level[:, 2] >= last)).any())
