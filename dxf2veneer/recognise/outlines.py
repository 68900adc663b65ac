"""Which closed outlines are sound, and which walls they make."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from typing import Literal

import numpy as np
import shapely
from shapely.geometry import LinearRing

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import FLATTEN_IN, HOLE_FITTING_SQIN, THIN_IN, TOUCH_IN
from dxf2veneer.config.job import Job
from dxf2veneer.geometry import Path, Point, Region
from dxf2veneer.model import Shape, Wall

OutlineKind = Literal["wall", "opening"]
_ASKED_AT_ONCE = 64
"""How many pieces of an outline are asked at once what they cross."""


def center(region: Region) -> Point:
    """The place that a notice about a region points to.

    Args:
        region: The region, in inches.

    Returns:
        Middle of its box, in inches.
    """
    x0, y0, x1, y1 = region.box
    return (x0 + x1) / 2, (y0 + y1) / 2


def is_crumb(part: Region) -> bool:
    """Whether a region is empty, or so thin that only drawing tolerance made it.

    Args:
        part: The region, in inches.

    Returns:
        Whether its area is at most ``THIN_IN`` times its perimeter.
    """
    return part.area <= THIN_IN * part.perimeter


def sound_outlines(
    shapes: Sequence[Shape], what: OutlineKind, notices: list[Notice]
) -> list[tuple[Shape, Region]]:
    """The closed outlines that enclose an area and don't cross themselves, each once.

    The rest is reported: open, without area, crossing itself, doubled.

    Args:
        shapes: Shapes on outline layers, in inches.
        what: What the outlines are of.
        notices: Notices are added to it.

    Returns:
        Largest first, then those whose layer says what they are, then by place, so that the order
        of entities changes nothing.
    """
    found: list[tuple[Shape, Region]] = []
    for shape in shapes:
        trouble = _trouble(shape, what)
        if trouble:
            notices.append(trouble)
        else:
            found.append((shape, Region.of(shape.path)))
    found.sort(key=lambda f: (-round(f[1].area, 6), f[0].picked, f[1].box, f[0].handle))
    kept: list[tuple[Shape, Region]] = []
    cells: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for shape, region in found:
        column, row = (math.floor(c) for c in region.box[:2])
        near = sorted(
            i
            for dx in (-1, 0, 1)
            for dy in (-1, 0, 1)
            for i in cells.get((column + dx, row + dy), ())
        )
        twin = next((kept[i][0] for i in near if _same(kept[i][1], region)), None)
        if twin is None:
            cells[column, row].append(len(kept))
            kept.append((shape, region))
        else:
            same = message("outline-doubled", what=what, handle=twin.handle)
            notices.append(_notice("DOUBLED_OUTLINE", same, shape))
    return kept


def find_walls(shapes: Sequence[Shape], job: Job, notices: list[Notice]) -> list[Wall]:
    """The walls of one drawing in order (ids are given by the caller).

    What a wall outline inside another is, ``recognise.nested_walls`` says.

    Args:
        shapes: Shapes on wall layers, in inches.
        job: Its section ``recognise`` counts.
        notices: Notices are added to it.

    Returns:
        The walls from left to right and upward.
    """
    nested = job.recognise.nested_walls
    outlines = sound_outlines(shapes, "wall", notices)
    kept: list[tuple[Shape, Region]] = []
    holes: list[tuple[Shape, Region]] = []
    for shape, region in outlines:  # largest first: what contains comes before what is contained
        small = holes if region.area < HOLE_FITTING_SQIN else []
        hole = next((h for h, r in small if _inside(region, r)), None)
        if hole is not None:
            inside = message("wall-nested", handle=hole.handle, treated=nested)
            notices.append(_notice("NESTED_WALL_ASKED", inside, shape))
            continue
        hosts = [i for i, (_, r) in enumerate(kept) if _inside(region, r)]
        if not hosts:
            kept.append((shape, region))
            continue
        code = "NESTED_WALL" if nested == "report" else "NESTED_WALL_ASKED"
        inside = message("wall-nested", handle=kept[hosts[-1]][0].handle, treated=nested)
        notices.append(_notice(code, inside, shape))
        if nested in ("hole", "separate"):
            host = hosts[-1]
            kept[host] = (kept[host][0], kept[host][1].difference(region))
        if nested == "separate":
            kept.append((shape, region))
        if nested == "hole":
            holes.append((shape, region))
    kept.sort(key=lambda f: (round(f[1].box[0], 3), round(f[1].box[1], 3), f[1].box))
    return [
        Wall(id="", name="", drawing=0, layer=shape.layer, handles=shape.handles, region=region)
        for shape, region in kept
    ]


def _notice(code: str, what: Message, shape: Shape, at: Point | None = None) -> Notice:
    x0, y0, x1, y1 = shape.path.box
    return Notice(
        code,
        what,
        layer=shape.layer,
        handle=shape.handle,
        at_in=at or ((x0 + x1) / 2, (y0 + y1) / 2),
    )


def _trouble(shape: Shape, what: OutlineKind) -> Notice | None:
    """What makes an outline unusable, if anything."""
    path = shape.path
    if not path.closed:
        start, end = path.vertices[0][:2], path.vertices[-1][:2]
        gap = math.dist(start, end)
        return _notice(
            "OPEN_OUTLINE",
            message("outline-open", what=what, gap=Length(gap)),
            shape,
            end,
        )
    least = THIN_IN * path.length  # thinner is a crumb, which would seem to lie inside everything
    is_flat = shapely.MultiPoint(path.flatten(rise_in=FLATTEN_IN)).convex_hull.area <= least
    crossing = None if is_flat else _crossing(path)
    if crossing is not None:  # before the area: the two halves of a bow tie cancel
        return _notice("SELF_CROSSING", message("outline-crosses", what=what), shape, crossing)
    if is_flat or path.area <= least:
        return _notice("NO_AREA", message("outline-without-area", what=what), shape)
    return None


def _crossing(path: Path) -> Point | None:
    """Where a closed path crosses or touches itself, or None.

    Its pieces are asked a few at a time, so that a tangle is told by its first crossings.
    """
    ring = LinearRing(path.flatten(rise_in=FLATTEN_IN))
    if ring.is_simple:
        return None
    points = shapely.get_coordinates(ring)
    points = points[np.append(True, np.any(np.diff(points, axis=0) != 0.0, axis=1))]
    pieces = shapely.linestrings(np.stack([points[:-1], points[1:]], axis=1))
    tree, last = shapely.STRtree(pieces), len(pieces) - 1
    for first in range(0, len(pieces), _ASKED_AT_ONCE):
        some = pieces[first : first + _ASKED_AT_ONCE]
        ones, others = tree.query(some, predicate="intersects")
        for i, j in zip((ones + first).tolist(), others.tolist(), strict=True):
            common = pieces[i].intersection(pieces[j])
            if j > i and (j - i not in (1, last) or common.length > 0.0):
                x, y = shapely.get_coordinates(common)[0]
                return float(x), float(y)
    x, y = ring.coords[0][:2]
    return x, y


def _same(one: Region, two: Region) -> bool:
    if max(abs(a - b) for a, b in zip(one.box, two.box, strict=True)) > TOUCH_IN:
        return False
    rest = one.area + two.area - 2.0 * one.intersection(two).area
    return bool(rest <= THIN_IN * (one.perimeter + two.perimeter))


def _inside(inner: Region, outer: Region) -> bool:
    beyond = inner.area - inner.intersection(outer).area
    return beyond <= THIN_IN * inner.perimeter


def report_overlaps(walls: Sequence[Wall], notices: list[Notice]) -> None:
    """Tell which walls overlap, one notice for a wall and all before it that it overlaps.

    Args:
        walls: The walls of one drawing, numbered.
        notices: Notices are added to it.
    """
    for i, wall in enumerate(walls):
        shared = [(other.id, wall.region.intersection(other.region)) for other in walls[:i]]
        common = [(name, region) for name, region in shared if not is_crumb(region)]
        if common:
            over = tuple((name, Area(region.area)) for name, region in common)
            notices.append(
                Notice(
                    "WALLS_OVERLAP",
                    message("walls-overlap", wall=wall.id, over=over),
                    layer=wall.layer,
                    handle=wall.handles[0] if wall.handles else None,
                    at_in=center(common[0][1]),
                )
            )
