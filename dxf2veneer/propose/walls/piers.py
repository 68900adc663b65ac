"""Piers and pilasters before a wall: two sides as far apart as masonry is wide, under a cap that
stands out past both.

   +-----+      The cap: level lines between two short uprights, as far out on both sides. The pier
   +-+-+-+      stands on the ground, or stones are drawn on it; no opening lies in it. It is a wall
     |_|        of its own and hides what is behind it, its cap with it. What is as narrow as a post
     | |        and shows no stones is one.
  ---+-+---
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.ends import share_drawn
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.structure import Structure
from dxf2veneer.propose.walls.surfaces import Pattern, stretch_of, surface_of


class Pier(NamedTuple):
    """A pier and its cap, as boxes."""

    shaft: Polygon
    cap: Polygon


def piers_of(s: Structure, openings: Polygons, patterns: list[Pattern]) -> list[Pier]:
    """The piers of an elevation.

    Args:
        s: its structure.
        openings: its openings; none lies in a pier.
        patterns: its hatched areas.

    Returns:
        Piers from left to right.
    """
    found = [
        pier
        for left, right, low, high in _caps(s)
        for pier in [_under(left, right, low, high, s)]
        if pier is not None
        and not _is_sill(pier.cap, openings, s)
        and _is_pier(pier.shaft, s, openings, patterns)
    ]
    return sorted(found, key=lambda p: p.shaft.bounds)


def without_piers(
    parts: list[Part], piers: list[Pier], metre: float
) -> tuple[list[Part], list[Part]]:
    """The parts of a facade beside the piers that stand before them, and these piers.

    Args:
        parts: parts of a facade.
        piers: the piers of its elevation.
        metre: drawing units in a metre.

    Returns:
        What is seen of the parts, and the piers as parts of their own.
    """
    facade = shapely.union_all([p.polygon for p in parts])
    own = [
        p
        for p in piers
        if facade.intersection(p.shaft).area >= constants.PIER_BEFORE * p.shaft.area
    ]
    if not own:
        return parts, []
    hidden = shapely.union_all([b for p in own for b in p])
    thin = constants.PORCH_SLIVER_M * metre / 2.0
    rest: list[Part] = []
    for part in parts:
        seen = part.polygon.difference(hidden)
        if seen.area < part.polygon.area:
            seen = seen.buffer(-thin, join_style="mitre").buffer(thin, join_style="mitre")
        pieces = (p for p in shapely.get_parts(seen) if isinstance(p, Polygon))
        rest += [part._replace(polygon=Polygon(p.exterior)) for p in pieces if is_large(p, metre)]
    found = [_part_of(p, parts, facade) for p in own]
    return rest, [p for p in found if p.polygon.area > 0.0]


def _part_of(pier: Pier, parts: list[Part], facade: Any) -> Part:
    """A pier as a part of the facade, as sure as the part behind it."""
    shaft = max(shapely.get_parts(facade.intersection(pier.shaft)), key=lambda p: p.area)
    behind = max(parts, key=lambda p: p.polygon.intersection(pier.shaft).area)
    return behind._replace(polygon=Polygon(shaft.exterior))


def _caps(s: Structure) -> Iterator[tuple[float, float, float, float]]:
    """The caps that may lie on a pier: left, right, foot and head."""
    least, most = (high * s.metre for high in constants.PIER_CAP_M)
    some = s.runs.upright & ~s.texture.stones
    short = s.runs.lines[some & (s.runs.length >= least) & (s.runs.length <= most)]
    widest = (constants.PIER_WIDTH_M[1] + 2.0 * constants.MOULDING_PAST_M) * s.metre
    level = s.runs.lines[s.runs.level]
    order = np.argsort(short[:, 0], kind="stable")
    short = short[order]
    for x, low, _, high in short.tolist():
        alike = np.abs(short[:, [1, 3]] - (low, high)).max(axis=1) <= 2.0 * s.gap
        wide = short[:, 0] - x
        alike &= (wide >= constants.PIER_WIDTH_M[0] * s.metre) & (wide <= widest)
        for other in short[alike, 0].tolist()[:1]:
            drawn = [share_drawn(level, y, x, other, 2.0 * s.gap) for y in (low, high)]
            if min(drawn) >= constants.PIER_CAP_DRAWN:
                yield x, other, low, high


def _under(left: float, right: float, low: float, high: float, s: Structure) -> Pier | None:
    """The pier under a cap, None where it has no two sides as far in."""
    most = constants.MOULDING_PAST_M * s.metre
    one, two = (
        _sides(s, low, first, last)
        for first, last in (
            (left + 1.5 * s.gap, left + most),
            (right - most, right - 1.5 * s.gap),
        )
    )
    if not len(one) or not len(two):
        return None
    off = np.abs((one[:, 0] - left)[:, None] - (right - two[:, 0])[None, :])
    i, k = np.unravel_index(int(np.argmin(off)), off.shape)
    if off[i, k] > 2.0 * s.gap:
        return None
    foot = min(one[i, 1], two[k, 1])
    return Pier(box(one[i, 0], foot, two[k, 0], low), box(left, low, right, high))


def _sides(s: Structure, top: float, first: float, last: float) -> Floats:
    """The uprights between two places that run down from a height, what stands before them left
    out: their places and feet, shape (n, 2)."""
    lines = s.runs.lines[s.runs.upright & ~s.texture.steady]
    lines = lines[(lines[:, 0] >= first) & (lines[:, 0] <= last) & (lines[:, 1] < top - s.gap)]
    found = []
    for x in np.unique(np.rint(lines[:, 0] / s.gap)).tolist():
        own = lines[np.abs(lines[:, 0] - x * s.gap) <= s.gap]
        foot = float(own[:, 1].min())
        along = (np.minimum(own[:, 3], top) - own[:, 1]).sum()
        tall = top - foot >= constants.PIER_LEAST_M * s.metre
        if (
            tall
            and own[:, 3].max() >= top - 2.0 * s.gap
            and along >= constants.PIER_SIDE * (top - foot)
        ):
            found.append((float(own[:, 0].mean()), foot))
    return np.array(found).reshape(-1, 2)


def _is_sill(cap: Polygon, openings: Polygons, s: Structure) -> bool:
    """Whether an opening stands on what seems to be a cap: it is its sill."""
    foot = shapely.box(cap.bounds[0], cap.bounds[3], cap.bounds[2], cap.bounds[3] + 2.0 * s.gap)
    near = shapely.dwithin(openings, foot, 2.0 * s.gap)
    feet = shapely.bounds(openings[near]).reshape(-1, 4)[:, 1]
    return bool((np.abs(feet - cap.bounds[3]) <= constants.ATTACHED_M * s.metre).any())


def _is_pier(shaft: Polygon, s: Structure, openings: Polygons, patterns: list[Pattern]) -> bool:
    """Whether what stands under a cap is masonry."""
    x0, y0, x1, y1 = shaft.bounds
    least, most = (wide * s.metre for wide in constants.PIER_WIDTH_M)
    if not least <= x1 - x0 <= most or y1 - y0 < constants.PIER_SLENDER * (x1 - x0):
        return False
    if len(openings) and (
        shapely.area(shapely.intersection(openings, shaft)).max() > 0.1 * shaft.area
    ):
        return False
    shown = surface_of(stretch_of(shaft, shaft, s, openings), s, patterns).shown
    if any(kind == "stones" or kind.startswith("hatch") for kind in shown):
        return True
    return x1 - x0 > constants.POST_MOST_M * s.metre and _on_ground(shaft, s)


def _on_ground(shaft: Polygon, s: Structure) -> bool:
    """Whether the foot of a shaft is on the ground."""
    ground = s.segments[s.ground]
    if not len(ground):
        return False
    x0, y0, x1, _ = shaft.bounds
    drawn = shapely.union_all(shapely.linestrings(ground.reshape(-1, 2, 2)))
    feet = shapely.points([(x0, y0), (x1, y0)])
    return bool((shapely.distance(feet, drawn) <= 2.0 * s.gap).any())
