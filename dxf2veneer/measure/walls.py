"""Areas, runs and perimeters of recognized walls. Everything closed form; nothing is flattened."""

from __future__ import annotations

import math

from dxf2veneer.basics.tolerances import THRESHOLD_RELATIVE
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.job import Deduction, Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Region
from dxf2veneer.geometry.boundary import boundary
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
    caps = _cap_area(wall, product.cap.height).difference(*holes, trim)
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
        cap_run=math.fsum(c.x1 - c.x0 for c in wall.caps),
        rake_run=math.fsum(s.segment.length for s in sides if s.what == "rake"),
        starter_run=math.fsum(b - a for a, b in starter),
        openings=openings,
        veneer=wall.region.difference(*holes, trim, caps),
        trim_region=trim,
        cap_region=caps,
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


def _cap_area(wall: Wall, height: float) -> Region:
    """What caps cover: a band of the cap's height under each marked line, in the wall."""
    bands = [Region.box_of(c.x0, c.y - height, c.x1, c.y) for c in wall.caps]
    bands = [b for b in bands if not b.is_empty]
    return bands[0].union(*bands[1:]).intersection(wall.region) if bands else Region()
