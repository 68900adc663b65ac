"""Areas, runs and perimeters of recognized walls. Everything closed form; nothing is flattened."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.basics.tolerances import THRESHOLD_RELATIVE, TOUCH_IN
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.job import Deduction, Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Region
from dxf2veneer.geometry.boundary import boundary, merged
from dxf2veneer.measure.starter import starter_stretches
from dxf2veneer.measure.trim import Surroundings, trim_bands, trim_runs
from dxf2veneer.model import Opening, OpeningQuantities, Wall, WallQuantities


def measure_wall(wall: Wall, job: Job, product: Product) -> WallQuantities:
    """All quantities of one wall.

    Trim bands and the cap's height come off the area for panels; openings by the deduction rule.

    Args:
        wall: The recognized wall, in inches.
        job: Its ``deduction`` and ``trim`` count.
        product: Its cap's height counts.

    Returns:
        Lengths in inches, areas in square inches, and the region left for panels.
    """
    around = Surroundings(wall)
    openings = tuple(_measure_opening(o, around, job.deduction) for o in wall.openings)
    holes = [o.region for o in wall.openings]
    trim = trim_bands(wall, job.trim, around)
    stones = _capped(wall, product.cap.height, [*holes, trim])
    caps = stones[0].union(*stones[1:]) if stones and product.cap.height else Region()
    spans = tuple(span for stone in stones for span in _across(stone))
    deducted = math.fsum(o.area for o in openings if o.deducted)
    sides = boundary(wall.region)
    starter = [span for _, spans in starter_stretches(wall, job.trim) for span in spans]
    return WallQuantities(
        wall=wall,
        gross_area=wall.region.area,
        opening_area=math.fsum(o.area for o in openings),
        deducted_area=deducted,
        trim_area=trim.area,
        cap_area=caps.area,
        net_area=wall.region.area - deducted - trim.area - caps.area,
        perimeter=wall.region.perimeter,
        base_run=math.fsum(s.segment.length for s in sides if s.what == "base"),
        cap_run=math.fsum(x1 - x0 for x0, x1 in spans),
        rake_run=math.fsum(s.segment.length for s in sides if s.what == "rake"),
        starter_run=math.fsum(b - a for a, b in starter),
        openings=openings,
        veneer=wall.region.difference(*holes, trim, caps),
        trim_region=trim,
        cap_region=caps,
        cap_spans=spans,
    )


def is_deducted(area_sqft: float, rule: Deduction) -> bool:
    """Whether an opening is taken off the area: over the threshold, or at it if the rule says so.

    Practice differs from office to office and book to book; see docs/rules.md for the sources.

    Args:
        area_sqft: The opening's area in square feet.
        rule: The threshold in square feet, and what is done at it.

    Returns:
        Whether it is deducted.
    """
    if math.isclose(area_sqft, rule.threshold_sqft, rel_tol=THRESHOLD_RELATIVE):
        return rule.at_threshold
    return area_sqft > rule.threshold_sqft


def _measure_opening(opening: Opening, around: Surroundings, rule: Deduction) -> OpeningQuantities:
    x0, y0, x1, y1 = opening.box
    runs = trim_runs(opening, around)
    area = opening.region.area
    return OpeningQuantities(
        opening=opening,
        area=area,
        width=x1 - x0,
        height=y1 - y0,
        head_y=y1,
        sill_y=y0,
        perimeter=opening.region.perimeter,
        deducted=is_deducted((opening.whole_area or area) / SQUARE_INCHES_PER_SQUARE_FOOT, rule),
        trim_head=runs["head"],
        trim_jambs=runs["jambs"],
        trim_sill=runs["sill"],
    )


def _capped(wall: Wall, height: float, out: Sequence[Region]) -> list[Region]:
    """The ground of the caps of each marked line: a band of the cap's height under it, in the wall
    and clear of openings and trim. A cap that has no height runs along the line all the same."""
    high = height or TOUCH_IN
    bands = [Region.box_of(c.x0, c.y - high, c.x1, c.y) for c in wall.caps]
    ground = [b.intersection(wall.region).difference(*out) for b in bands if not b.is_empty]
    return [g for g in ground if not g.is_empty]


def _across(ground: Region) -> list[tuple[float, float]]:
    """Where a cap's ground lies, from left to right."""
    boxes = [part.outer.box for part in ground.parts]
    return merged((x0, x1) for x0, _, x1, _ in boxes)
