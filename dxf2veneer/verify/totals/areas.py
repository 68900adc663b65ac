"""Areas by a second way, and what comes off them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import (
    CHECK_AREA_SHARE,
    CHECK_CRUMB_SQIN,
    CHECK_GRAZE_SQIN,
    CHECK_ROUNDING,
    FLATTEN_IN,
)
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.job import Job
from dxf2veneer.geometry import Region
from dxf2veneer.model import WallTakeoff
from dxf2veneer.verify.totals.comparing import compare, mismatch


def check_areas(walls: Sequence[WallTakeoff]) -> Iterator[Notice]:
    """Areas against those of the flattened outlines, their sums and what is left.

    Args:
        walls: The walls with their quantities, in square inches.

    Yields:
        What does not agree.
    """
    for one in walls:
        wall = one.wall
        for what, area, region in _drawn_areas(one):
            yield from compare(
                what,
                area,
                region.polygon.area,
                message("by-flattened-outline"),
                slack=_shaved(region),
                wall=wall,
            )
        yield from _sums(one)


def _drawn_areas(one: WallTakeoff) -> Iterator[tuple[Message, float, Region]]:
    """Every area of a wall that has an outline."""
    id_, q = one.wall.id, one.quantities
    yield message("gross-area-of-wall", wall=id_), q.gross_area, one.wall.region
    yield message("trim-area-of-wall", wall=id_), q.trim_area, q.trim_region
    yield message("cap-area-of-wall", wall=id_), q.cap_area, q.cap_region
    for o in q.openings:
        what = message("area-of-opening", opening=o.opening.id, wall=id_)
        yield what, o.area, o.opening.region


def _sums(one: WallTakeoff) -> Iterator[Notice]:
    """Sums of a wall's areas, and the ground left for panels."""
    wall, q = one.wall, one.quantities
    openings = math.fsum(o.area for o in q.openings)
    deducted = math.fsum(o.area for o in q.openings if o.deducted)
    by_openings = message("by-its-openings")
    what = message("opening-area-of-wall", wall=wall.id)
    yield from compare(what, q.opening_area, openings, by_openings, wall=wall)
    what = message("deducted-area-of-wall", wall=wall.id)
    yield from compare(what, q.deducted_area, deducted, by_openings, wall=wall)
    what = message("gross-area-of-wall", wall=wall.id)
    off = q.net_area + q.deducted_area + q.trim_area + q.cap_area
    yield from compare(what, q.gross_area, off, message("as-net-area-and-what-came-off"), wall=wall)
    what = message("net-area-of-wall", wall=wall.id)
    left = q.veneer.area + openings - deducted
    slack = max(CHECK_GRAZE_SQIN, CHECK_ROUNDING * q.gross_area)
    by_left = message("by-what-is-left-for-panels")
    yield from compare(what, q.net_area, left, by_left, slack=slack, wall=wall)


def check_deduction(walls: Sequence[WallTakeoff], job: Job) -> Iterator[Notice]:
    """Openings that are deducted are those over the job's threshold, those across several walls by
    all their parts.

    At the threshold itself rounding may decide.

    Args:
        walls: The walls with their openings.
        job: The threshold in force.

    Yields:
        Openings that are deducted and should not be, or the other way around.
    """
    threshold = job.deduction.threshold_sqft * SQUARE_INCHES_PER_SQUARE_FOOT
    whole: dict[str, float] = defaultdict(float)
    for o in (o for one in walls for o in one.quantities.openings):
        whole[o.opening.part_of or o.opening.id] += o.area
    for one in walls:
        for o in one.quantities.openings:
            area = whole[o.opening.part_of or o.opening.id]
            is_over = area > threshold
            if math.isclose(area, threshold, rel_tol=CHECK_AREA_SHARE) or o.deducted == is_over:
                continue
            id_ = o.opening.id
            yield mismatch(
                message("opening-deducted", opening=id_, area_sqin=area, threshold_sqin=threshold)
                if o.deducted
                else message(
                    "opening-not-deducted", opening=id_, area_sqin=area, threshold_sqin=threshold
                ),
                one.wall,
            )


def _shaved(region: Region) -> float:
    """The most that flattening takes off or adds: chords stay ``FLATTEN_IN`` from their arcs."""
    return CHECK_CRUMB_SQIN + FLATTEN_IN * math.fsum(
        s.length for path in region.paths for s in path.segments if s.is_arc
    )
