"""Which opening belongs to which wall, and what kind of opening it is."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence

import shapely

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import FLATTEN_IN, SHARED_SQIN, THIN_IN, TOUCH_IN
from dxf2veneer.config.job import Job
from dxf2veneer.drawing.layers import layer_matches
from dxf2veneer.geometry import Region
from dxf2veneer.geometry.boundary import base_heights
from dxf2veneer.model import Opening, OpeningKind, Shape, Wall
from dxf2veneer.recognise.outlines import center, is_crumb, sound_outlines


def assign_openings(
    walls: Sequence[Wall],
    shapes: Sequence[Shape],
    kinds: Mapping[OpeningKind, Sequence[str]],
    job: Job,
    notices: list[Notice],
) -> list[Wall]:
    """The walls with the openings that lie in them, each clipped to its wall and counted once.

    An outline inside another opening is part of it; where openings overlap, the common area counts
    once, for the larger one. An opening across several walls has a part in each, and counts with
    the largest.

    Args:
        walls: The walls of one drawing.
        shapes: Outlines of openings, in inches.
        kinds: Layers that say what an opening is, by kind.
        job: Its section ``recognise`` counts.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    outlines: dict[str, list[tuple[int, Shape, Region]]] = {w.id: [] for w in walls}
    tree = shapely.STRtree([shapely.box(*w.region.box) for w in walls])
    for number, (shape, region) in enumerate(sound_outlines(shapes, "opening", notices)):
        if shape.picked and shape.entity != "HATCH":  # a hatch shows where its islands end
            region = _down_to_base(shape, region, walls, job, notices)
        near = [walls[i] for i in sorted(tree.query(shapely.box(*region.box)))]
        parts = [(w, part) for w in near if not is_crumb(part := region.intersection(w.region))]
        _report_place(shape, region, parts, notices)
        for wall, part in parts:
            outlines[wall.id].append((number, shape, part))
    found = [_numbered(w, _openings(w, outlines[w.id], kinds, job, notices)) for w in walls]
    parts_of: dict[int, list[Opening]] = {}
    for number, opening in (o for some in found for o in some):
        parts_of.setdefault(number, []).append(opening)
    return [
        dataclasses.replace(w, openings=tuple(_counted(o, parts_of[n]) for n, o in some))
        for w, some in zip(walls, found, strict=True)
    ]


def _counted(opening: Opening, parts: Sequence[Opening]) -> Opening:
    """A part of an opening, with what counts it where it has others in other walls."""
    if len(parts) == 1:
        return opening
    largest = max(parts, key=lambda o: o.region.area)
    return dataclasses.replace(
        opening,
        part_of="" if opening is largest else largest.id,
        whole_area=math.fsum(o.region.area for o in parts),
    )


def _openings(
    wall: Wall,
    outlines: Sequence[tuple[int, Shape, Region]],
    kinds: Mapping[OpeningKind, Sequence[str]],
    job: Job,
    notices: list[Notice],
) -> list[tuple[int, Opening]]:
    """The openings of one wall from the numbered outlines in it, the largest first."""
    found: dict[int, Opening] = {}
    tree = shapely.STRtree([shapely.box(*part.box) for _, _, part in outlines])
    for i, (_, shape, part) in enumerate(outlines):
        larger = [found[k] for k in sorted(tree.query(shapely.box(*part.box))) if k in found]
        opening = _opening(shape, part, wall, larger, kinds, job.recognise.edge_tolerance, notices)
        if opening:
            found[i] = opening
    return [(outlines[i][0], opening) for i, opening in found.items()]


def _report_place(
    shape: Shape,
    region: Region,
    parts: Sequence[tuple[Wall, Region]],
    notices: list[Notice],
) -> None:
    """Report an opening outside every wall, beyond one, or across several."""

    def report(code: str, what: Message) -> None:
        notices.append(_notice(code, what, shape, region))

    if not parts:
        report("OPENING_OUTSIDE_WALL", message("opening-outside", area=Area(region.area)))
        return
    ids = tuple(w.id for w, _ in parts)
    if len(parts) > 1:
        report("OPENING_SPLIT", message("opening-across", walls=ids))
    beyond = region.difference(*(w.region for w, _ in parts))
    if not is_crumb(beyond):
        report(
            "OPENING_PARTLY_OUTSIDE",
            message("opening-partly-outside", area=Area(beyond.area), walls=ids),
        )


def _notice(code: str, what: Message, shape: Shape, region: Region) -> Notice:
    return Notice(code, what, layer=shape.layer, handle=shape.handle, at_in=center(region))


def _opening(
    shape: Shape,
    part: Region,
    wall: Wall,
    before: Sequence[Opening],
    kinds: Mapping[OpeningKind, Sequence[str]],
    tolerance_in: float,
    notices: list[Notice],
) -> Opening | None:
    """The opening of one outline in one wall, less what larger openings hold already."""
    common = shapely.intersection(part.polygon, [o.region.polygon for o in before])
    areas, thin = shapely.area(common), THIN_IN * shapely.length(common)
    shared = [o for o, area, least in zip(before, areas, thin, strict=True) if area > least]
    touching = [o.region for o, area in zip(before, areas, strict=True) if area > SHARED_SQIN]
    rest = part.difference(*touching) if touching else part  # what is shared counts once, always
    if shared:
        others = tuple(h for o in shared for h in o.handles)
        if is_crumb(rest):
            inside = message("opening-inside-opening", openings=others, wall=wall.id)
            notices.append(_notice("OPENING_NESTED", inside, shape, part))
            return None
        overlap = message("openings-overlap", openings=others, wall=wall.id)
        notices.append(_notice("OPENINGS_OVERLAP", overlap, shape, part))
    touches = _touches_base(part, wall, tolerance_in)
    kind = next(
        (k for k, p in kinds.items() if k == shape.traced or layer_matches(shape.layer, p)), None
    )
    if kind is None:
        kind = "door" if touches else "window"
        if touches:
            taken = message("door-assumed", wall=wall.id)
            notices.append(_notice("DOOR_ASSUMED", taken, shape, part))
    return Opening("", kind, "", shape.handles, rest, touches)


def _down_to_base(
    shape: Shape, region: Region, walls: Sequence[Wall], job: Job, notices: list[Notice]
) -> Region:
    """A picked opening taken down to the base where a floor line stops it just above."""
    _, bottom, _, _ = region.box
    feet = [
        s for part in region.parts for s in part.outer.segments if s.start[1] == s.end[1] == bottom
    ]
    if not feet or not job.recognise.door_reach:
        return region
    x0 = min(min(s.start[0], s.end[0]) for s in feet)
    x1 = max(max(s.start[0], s.end[0]) for s in feet)
    for wall in walls:
        base = max(
            (y for y in base_heights(wall.region, (x0 + x1) / 2.0) if y <= bottom), default=bottom
        )
        if TOUCH_IN < bottom - base <= job.recognise.door_reach:
            extended = message("door-extended", wall=wall.id, height=Length(bottom - base))
            notices.append(
                Notice(
                    "DOOR_EXTENDED",
                    extended,
                    layer=shape.layer,
                    handle=shape.handle,
                    at_in=((x0 + x1) / 2, bottom),
                )
            )
            return region.union(Region.box_of(x0, base, x1, bottom))
    return region


def _touches_base(part: Region, wall: Wall, tolerance_in: float) -> bool:
    """Whether the lowest stretch of an opening lies at the wall's base, within the tolerance."""
    bottom = part.box[1]
    flat = [p for path in part.paths for p in path.flatten(rise_in=FLATTEN_IN)]
    xs = [x for x, y in flat if y - bottom <= tolerance_in]
    return any(
        abs(bottom - y) <= tolerance_in
        for y in base_heights(wall.region, (min(xs) + max(xs)) / 2.0)
    )


def _numbered(
    wall: Wall, openings: Sequence[tuple[int, Opening]]
) -> tuple[tuple[int, Opening], ...]:
    """Openings with ids, from left to right and upward, each with its outline's number."""
    ordered = sorted(
        openings, key=lambda o: (round(o[1].box[0], 3), round(o[1].box[1], 3), o[1].box)
    )
    return tuple(
        (number, dataclasses.replace(o, id=f"{wall.id}-O{i}"))
        for i, (number, o) in enumerate(ordered, 1)
    )
