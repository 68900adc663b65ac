"""Openings at the place and of the size that was measured."""

from __future__ import annotations

from dataclasses import replace

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import TOUCH_IN
from dxf2veneer.config.site_file import OpeningMeasures
from dxf2veneer.geometry import Path, Region
from dxf2veneer.geometry.region import RegionPart
from dxf2veneer.model import Opening, Side, Wall
from dxf2veneer.site.outlines import fixed_x
from dxf2veneer.site.slips import Sizes, slip

Box = tuple[float, float, float, float]


def moved_opening(
    wall: Wall, opening: Opening, fixed: Side, own: OpeningMeasures, sizes: Sizes
) -> Opening:
    """An opening as it was measured.

    Args:
        wall: Its wall as drawn.
        opening: The opening as drawn.
        fixed: The side of the wall from which is measured.
        own: What was measured of it.
        sizes: Takes its sizes.

    Returns:
        The opening; sizes that were not measured are as drawn, and one whose width alone was
        measured keeps its distance from the fixed edge.

    Raises:
        SettingsError: A size can't be right, or can't be measured so.
    """
    x0, y0, x1, y1 = opening.box
    base = wall.box[1]
    if opening.whole_area:
        raise slip(sizes.sheet, opening.id, "", message("site-opening-across", opening=opening.id))
    fixed_at = fixed_x(wall, fixed, (y0 + y1) / 2.0)
    near = x0 - fixed_at if fixed == "left" else fixed_at - x1
    owner = wall.id, opening.id
    edge = sizes.taken(owner, "edge", "edge", own.edge, near) or 0.0
    wider = sizes.taken(owner, "opening-width", "width", own.width, x1 - x0) or 0.0
    sill = sizes.taken(owner, "sill", "sill", own.sill, y0 - base) or 0.0
    head = sizes.taken(owner, "head", "head", own.head, y1 - base) or 0.0
    if sill and opening.touches_base:
        raise slip(sizes.sheet, opening.id, "sill", message("site-no-sill", opening=opening.id))
    if not (edge or wider or sill or head):
        return opening
    if fixed == "left":
        box = x0 + edge, y0 + sill, x1 + edge + wider, y1 + head
    else:
        box = x0 - edge - wider, y0 + sill, x1 - edge, y1 + head
    if box[2] - box[0] <= TOUCH_IN or box[3] - box[1] <= TOUCH_IN:
        raise slip(sizes.sheet, opening.id, "", message("site-opening-gone", opening=opening.id))
    return replace(opening, region=_fitted(opening, box, sizes))


def _fitted(opening: Opening, box: Box, sizes: Sizes) -> Region:
    """The opening's shape brought into a box; one with curves keeps its size."""
    x0, y0, x1, y1 = opening.box
    curved = any(s.is_arc for path in opening.region.paths for s in path.segments)
    if abs(box[2] - box[0] - x1 + x0) <= TOUCH_IN and abs(box[3] - box[1] - y1 + y0) <= TOUCH_IN:
        return opening.region.moved(box[0] - x0, box[1] - y0)
    if curved:
        raise slip(sizes.sheet, opening.id, "", message("site-opening-curved", opening=opening.id))
    return stretched(opening, box)


def stretched(opening: Opening, box: Box) -> Region:
    """An opening's shape brought into a box, without curves.

    Args:
        opening: The opening; straight lines bound it.
        box: Least and greatest x and y of what it becomes, in inches.

    Returns:
        The shape.
    """
    x0, y0, x1, y1 = opening.box
    wide, high = (box[2] - box[0]) / (x1 - x0), (box[3] - box[1]) / (y1 - y0)

    def fitted(path: Path) -> Path:
        return Path(
            tuple(
                (box[0] + wide * (x - x0), box[1] + high * (y - y0), bulge)
                for x, y, bulge in path.vertices
            ),
            path.closed,
        )

    return Region(
        tuple(
            RegionPart(fitted(p.outer), tuple(map(fitted, p.holes))) for p in opening.region.parts
        )
    )


def refuse_misplaced(wall: Wall, drawn: Wall, sizes: Sizes) -> None:
    """Refuse openings that as measured leave their wall, meet each other, or meet a moved edge.

    Args:
        wall: The wall with its openings as measured.
        drawn: The wall as drawn.
        sizes: Names the sheet.

    Raises:
        SettingsError: For the first of them.
    """
    if wall is drawn:
        return
    for opening, before in zip(wall.openings, drawn.openings, strict=True):
        reach = opening.region.difference(wall.region)
        section = opening.id if opening.id in dict(sizes.sheet.openings) else wall.id
        if not reach.is_empty and reach.area > TOUCH_IN * reach.perimeter:
            x0, _, x1, _ = reach.box
            beyond = message(
                "site-opening-beyond", opening=opening.id, wall=wall.id, by=Length(x1 - x0)
            )
            raise slip(sizes.sheet, section, "", beyond)
        if _parted_from(opening, before, wall, drawn):
            parted = message("site-opening-at-edge", opening=opening.id, wall=wall.id)
            raise slip(sizes.sheet, section, "", parted)
    for n, one in enumerate(wall.openings):
        for other in wall.openings[:n]:
            common = one.region.intersection(other.region)
            if common.area > TOUCH_IN * common.perimeter and (
                other.region is not drawn.openings[wall.openings.index(other)].region
                or one.region is not drawn.openings[n].region
            ):
                meet = message("site-openings-meet", opening=one.id, other=other.id)
                section = one.id if one.id in dict(sizes.sheet.openings) else other.id
                raise slip(sizes.sheet, section, "", meet)


def _parted_from(opening: Opening, before: Opening, wall: Wall, drawn: Wall) -> bool:
    """Whether an opening reached an edge of its wall as drawn and does so no longer."""
    for box, was, k in ((wall.box, drawn.box, 0), (wall.box, drawn.box, 2)):
        reached = abs(before.box[k] - was[k]) <= TOUCH_IN
        if reached and abs(opening.box[k] - box[k]) > TOUCH_IN:
            return True
    return False
