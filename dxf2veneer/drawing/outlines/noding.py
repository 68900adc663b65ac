"""Loose lines cut where they cross or touch.

      |                     |
------+------   becomes   --+--    and each piece knows at which places of a fine grid it ends
      |                     |
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from dxf2veneer.geometry import Point, Segment
from dxf2veneer.geometry.chords import Chords, node_arcs
from dxf2veneer.model import Shape

Key = tuple[int, int]
Noded = tuple[Chords, Any, Counter[Key]]
"""The memory of arcs, the pieces between meetings, and how many pieces end at each place."""


@dataclass(frozen=True)
class LooseLine:
    """A segment and the handle of what it belongs to."""

    segment: Segment
    """In inches."""
    handle: str
    """Handle of the entity that it belongs to."""


def distinct(shapes: Iterable[Shape]) -> list[LooseLine]:
    """Every segment once, turned and ordered by its ends alone: file order changes nothing.

    Args:
        shapes: Shapes of one layer, in inches.

    Returns:
        Their segments.
    """
    found: dict[tuple[float, ...], LooseLine] = {}
    for shape in shapes:
        for s in shape.path.segments:
            one = s if (s.start, s.end) <= (s.end, s.start) else s.reversed
            key = tuple(round(v, 7) for v in (*one.start, *one.end, one.bulge))
            if key not in found or shape.handle < found[key].handle:
                found[key] = LooseLine(one, shape.handle)
    return [found[key] for key in sorted(found)]


def grid_of(lines: Sequence[LooseLine]) -> float:
    """The grid for the ends of some lines: a power of two, coarser far from the origin.

    Args:
        lines: The lines, in inches.

    Returns:
        Its step in inches.
    """
    reach = max(abs(v) for n in lines for v in (*n.segment.start, *n.segment.end))
    return max(2.0**-27, 2.0 ** math.ceil(math.log2(max(reach, 1.0) * 2.0**-50)))


def noded(lines: Sequence[LooseLine], grid: float) -> Noded:
    """Lines cut at all meetings.

    Args:
        lines: The lines, in inches.
        grid: Step of the grid of their ends, in inches.

    Returns:
        The memory of arcs, the pieces, and how many pieces end at each place of the grid.
    """
    chords = Chords(grid_in=grid)
    parts = [p for cut in node_arcs([n.segment for n in lines], touch_in=grid * 16) for p in cut]
    flat = [
        points for points in map(chords.enter, parts) if points[0] != points[-1] or len(points) > 2
    ]
    pieces = shapely.unary_union(linestrings(flat), grid_size=grid)
    parted = shapely.get_parts(pieces)
    return chords, parted, Counter(key for pair in end_keys(parted, grid) for key in pair)


def linestrings(paths: Sequence[Sequence[Point]]) -> Any:
    """All paths as shapely lines, made at once.

    Args:
        paths: The points of each path.

    Returns:
        An array of lines in the same order.
    """
    owners = np.repeat(np.arange(len(paths)), [len(p) for p in paths])
    return shapely.linestrings([point for path in paths for point in path], indices=owners)


def end_keys(pieces: Any, grid: float) -> list[tuple[Key, Key]]:
    """The places on the grid where pieces end.

    Args:
        pieces: An array of shapely lines.
        grid: Step of the grid, in inches.

    Returns:
        For each piece its two ends, as ``Chords.key`` gives them.
    """
    ends = [shapely.get_coordinates(shapely.get_point(pieces, i)) / grid for i in (0, -1)]
    first, last = ([(int(x), int(y)) for x, y in np.rint(e).tolist()] for e in ends)
    return list(zip(first, last, strict=True))


def crossed_too_often(shapes: Iterable[Shape], most: int) -> str | None:
    """The layer whose loose lines cross others most, where lines cross more often than a limit.

    What noding takes grows with the crossings, and these with the square of the lines. Lines that
    only touch don't count; arcs count as their chords.

    Args:
        shapes: The shapes; closed ones are passed over.
        most: How often lines may cross.

    Returns:
        The layer's name; None where they cross no more often.
    """
    loose = [(s.layer, g) for s in shapes if not s.path.closed for g in s.path.segments]
    if len(loose) * (len(loose) - 1) // 2 <= most:
        return None
    lines = shapely.linestrings(np.array([(g.start, g.end) for _, g in loose]))
    tree, counts = shapely.STRtree(lines), np.zeros(len(lines), np.int64)
    for first in range(0, len(lines), _LINES_AT_ONCE):
        own, _ = tree.query(lines[first : first + _LINES_AT_ONCE], predicate="crosses")
        counts += np.bincount(first + own, minlength=len(lines))
        if counts.sum() > 2 * most:  # each crossing is met from both its lines
            of_layer: Counter[str] = Counter()
            for (layer, _), count in zip(loose, counts.tolist(), strict=True):
                of_layer[layer] += count
            return of_layer.most_common(1)[0][0]
    return None


_LINES_AT_ONCE = 256
"""Lines whose crossings are looked up together, so that the pairs of very many fit into memory."""
