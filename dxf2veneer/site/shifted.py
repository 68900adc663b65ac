"""Walls whose openings and caps stand higher or lower than drawn, as advice would have them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dxf2veneer.basics.tolerances import HEIGHT_ROUNDING_IN, TOUCH_IN
from dxf2veneer.config.advice import CAP
from dxf2veneer.geometry import Path, Region
from dxf2veneer.geometry.region import RegionPart
from dxf2veneer.model import Opening, OpeningShift, Wall
from dxf2veneer.site.openings import stretched


def shifted(wall: Wall, shifts: Sequence[OpeningShift]) -> Wall:
    """A wall with some of its openings and caps moved up or down.

    Args:
        wall: The wall as drawn.
        shifts: What moves; what other walls own is passed over.

    Returns:
        The wall; where a cap runs along its level top, the top goes with it.
    """
    of_opening = {i: s for s in shifts if s.kind != CAP for i in s.ids}
    openings = tuple(_shifted(o, of_opening.get(o.id)) for o in wall.openings)
    moved = replace(wall, openings=openings)
    for shift in (s for s in shifts if s.kind == CAP):
        for owner, line in zip(shift.ids, shift.drawn, strict=True):
            if owner == wall.id:
                moved = _with_caps(moved, wall, line, shift.head)
    return moved


def _shifted(opening: Opening, shift: OpeningShift | None) -> Opening:
    if shift is None:
        return opening
    if abs(shift.head - shift.sill) <= HEIGHT_ROUNDING_IN:
        return replace(opening, region=opening.region.moved(0.0, shift.head))
    x0, y0, x1, y1 = opening.box
    box = (x0, y0 + shift.sill, x1, y1 + shift.head)
    return replace(opening, region=stretched(opening, box))


def _with_caps(wall: Wall, drawn: Wall, line: float, by: float) -> Wall:
    """The wall with its caps at a height moved, and its top where it is theirs."""
    top = drawn.box[3]
    caps = tuple(
        replace(now, y=now.y + by) if abs(was.y - line) <= TOUCH_IN else now
        for now, was in zip(wall.caps, drawn.caps, strict=True)
    )
    wall = replace(wall, caps=caps)
    if line < top - TOUCH_IN:
        return wall

    def up(y: float) -> float:
        return y + by if y >= top - TOUCH_IN else y

    def raised(path: Path) -> Path:
        return Path(tuple((x, up(y), bulge) for x, y, bulge in path.vertices), path.closed)

    parts = tuple(RegionPart(raised(p.outer), p.holes) for p in wall.region.parts)
    edges = tuple(replace(e, y1=up(e.y1)) for e in wall.edges)
    return replace(wall, region=Region(parts), edges=edges)
