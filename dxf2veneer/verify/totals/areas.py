"""Areas by a second way, and what comes off them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.geometry import Region
from dxf2veneer.geometry.chords import FLATTEN_IN
from dxf2veneer.model import WallTakeoff
from dxf2veneer.notices import Notice
from dxf2veneer.tolerances import (
    CHECK_AREA_SHARE,
    CHECK_CRUMB_SQIN,
    CHECK_GRAZE_SQIN,
    CHECK_ROUNDING,
)
from dxf2veneer.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.verify.totals.comparing import compare, mismatch


def check_areas(walls: Sequence[WallTakeoff]) -> Iterator[Notice]:
    """Areas in square inches against those of the flattened outlines, against their sums and what is left."""
    for one in walls:
        wall, q = one.wall, one.quantities
        grounds = [
            ("gross area", q.gross_area, wall.region),
            ("trim area", q.trim_area, q.trim_region),
            ("cap area", q.cap_area, q.cap_region),
        ]
        grounds += [
            (f"area of opening {o.opening.id}", o.area, o.opening.region) for o in q.openings
        ]
        for what, area, region in grounds:
            yield from compare(
                f"{what} of {wall.id}",
                area,
                region.polygon.area,
                "by its flattened outline",
                slack=_shaved(region),
                wall=wall,
            )
        openings = math.fsum(o.area for o in q.openings)
        deducted = math.fsum(o.area for o in q.openings if o.deducted)
        yield from compare(
            f"opening area of {wall.id}", q.opening_area, openings, "by its openings", wall=wall
        )
        yield from compare(
            f"deducted area of {wall.id}", q.deducted_area, deducted, "by its openings", wall=wall
        )
        off = q.net_area + q.deducted_area + q.trim_area + q.cap_area
        yield from compare(
            f"gross area of {wall.id}",
            q.gross_area,
            off,
            "as net area and what came off",
            wall=wall,
        )
        left = q.veneer.area + openings - deducted
        slack = max(CHECK_GRAZE_SQIN, CHECK_ROUNDING * q.gross_area)
        yield from compare(
            f"net area of {wall.id}",
            q.net_area,
            left,
            "by what is left for panels",
            slack=slack,
            wall=wall,
        )


def check_deduction(walls: Sequence[WallTakeoff], job: Job) -> Iterator[Notice]:
    """Openings that are deducted are those over the job's threshold; at the threshold rounding may decide."""
    threshold = job.deduction.threshold_sqft * SQUARE_INCHES_PER_SQUARE_FOOT
    for one in walls:
        for o in one.quantities.openings:
            if not math.isclose(o.area, threshold, rel_tol=CHECK_AREA_SHARE) and o.deducted != (
                o.area > threshold
            ):
                said = "is" if o.deducted else "is not"
                yield mismatch(
                    f"{o.opening.id} of {o.area:.10g} sq in {said} deducted with a threshold of {threshold:.10g}",
                    one.wall,
                )


def _shaved(region: Region) -> float:
    """The most that flattening can take off or add: chords stay within ``FLATTEN_IN`` of their arcs."""
    return CHECK_CRUMB_SQIN + FLATTEN_IN * math.fsum(
        s.length for path in region.paths for s in path.segments if s.is_arc
    )
