"""Where the starter strip runs along a wall's base."""

from __future__ import annotations

from dxf2veneer.geometry.boundary import boundary, merged, straightened, stretch_of
from dxf2veneer.job import Trim
from dxf2veneer.model import Opening, Wall


def starter_spans(wall: Wall, trim: Trim) -> list[tuple[float, float]]:
    """Where the starter strip runs, as spans of x: along the base, but not at openings that touch it
    nor under their jamb stones. A sloped base counts by its level length.
    """
    base = [sorted((s.segment.start[0], s.segment.end[0])) for s in boundary(wall.region) if s.what == "base"]
    gaps = [
        (a - trim.jambs, b + trim.jambs)
        for o in wall.openings
        if o.touches_base and o.kind != "fixture"
        for a, b in _foot(o)
    ]
    return without(merged((a, b) for a, b in base), merged(gaps))


def _foot(opening: Opening) -> list[tuple[float, float]]:
    """Spans of x of the opening's bottom stretches."""
    segments = [s for part in opening.region.parts for s in straightened(part.outer).segments]
    spans = [sorted((s.start[0], s.end[0])) for s in segments if stretch_of(s) == "base"]
    return [(a, b) for a, b in spans]


def without(spans: list[tuple[float, float]], gaps: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The spans less the gaps; both in order."""
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
