"""Where the starter strip runs along a wall's base."""

from __future__ import annotations

from dxf2veneer.config.job import Trim
from dxf2veneer.geometry import Segment
from dxf2veneer.geometry.boundary import boundary, merged, straightened, stretch_of
from dxf2veneer.model import Opening, Wall


def starter_stretches(wall: Wall, trim: Trim) -> list[tuple[Segment, list[tuple[float, float]]]]:
    """Where the starter strip runs along a wall's base.

    It runs along all of it, but not at openings that touch the base there nor under their jamb
    stones. A sloped stretch counts by its level length.

    Args:
        wall: The wall, in inches.
        trim: Its jambs' width in inches counts.

    Returns:
        Each stretch of base, and the spans of x in inches where the strip runs over it.
    """
    standing = [o for o in wall.openings if o.touches_base and o.kind != "fixture"]
    found = []
    for side in boundary(wall.region):
        if side.what == "base":
            (xa, ya), (xb, yb) = side.segment.start, side.segment.end
            here = [o for o in standing if _stands_on(o, min(ya, yb), max(ya, yb))]
            gaps = merged((a - trim.jambs, b + trim.jambs) for o in here for a, b in _foot(o))
            found.append((side.segment, without([(xa, xb)], gaps)))
    return found


def _stands_on(opening: Opening, low: float, high: float) -> bool:
    """Whether an opening can stand on base between two heights, not on a stretch far from it."""
    _, y0, _, y1 = opening.box
    return low < y1 and high > y0 - (y1 - y0) / 2.0


def _foot(opening: Opening) -> list[tuple[float, float]]:
    """Spans of x of the opening's bottom stretches."""
    segments = [s for part in opening.region.parts for s in straightened(part.outer).segments]
    return [
        (s.start[0], s.end[0]) for s in segments if stretch_of(s) == "base"
    ]  # base runs to the right


def without(
    spans: list[tuple[float, float]], gaps: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Spans less gaps.

    Args:
        spans: (least, greatest) of each, in order.
        gaps: What is taken out, in order.

    Returns:
        What is left of the spans, in order.
    """
    kept = []
    for low, high in spans:
        for a, b in gaps:
            if b <= low or a >= high:
                continue
            if a > low:
                kept.append((low, a))
            low = b
        if high > low:
            kept.append((low, high))
    return kept
