"""Flat panels, corner panels and their fasteners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dxf2veneer.basics.messages import Area, Length, message
from dxf2veneer.basics.tolerances import ROUNDING_IN
from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.goods import PanelFastener
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    OrderSource,
    Piece,
    PieceRef,
    StudReach,
    WallTakeoff,
)
from dxf2veneer.order.arithmetic import Count, CountMethod, count
from dxf2veneer.order.experience import estimate, expected

_WITH_CORNER_PANELS = ("outside", "inside")
"""Kinds of corners that take corner panels; those of bays are mitered."""


def panels(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    product: Product,
) -> list[Count]:
    """Flat panels, corner panels and panel fasteners.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan, where there is one.
        product: The panel line.

    Returns:
        Three counts, each by layout where there is a plan, and by area.
    """
    pieces, flat = corner_pieces(walls, corners, product), flat_by_area(walls, corners, product)
    usual = usual_loss(walls, flat.measured + pieces.measured, product)
    pieces, flat = pieces._replace(usual=usual), flat._replace(usual=usual)
    fasteners = _fasteners_by_layout(walls, plan, product.goods.panel_fastener)
    return [
        count("flat_panel", *_flat_by_layout(plan), flat),
        count("corner_panel", *_corner_by_layout(plan), pieces),
        count("panel_fastener", *fasteners, _fasteners_by_area(flat, pieces, product)),
    ]


def flat_by_area(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], product: Product
) -> CountMethod:
    """Flat panels as net area over a panel's face, less what corner pieces cover.

    Args:
        walls: The walls as measured.
        corners: The job's corners.
        product: The panel line.

    Returns:
        The count, a fraction of a panel included.
    """
    net = math.fsum(w.quantities.net_area for w in walls)
    pieces = 2.0 * corner_pieces(walls, corners, product).measured
    covered = min(net, pieces * product.corner.length / 2.0 * product.panel.height)
    face = Area(product.coverage_area)
    usual = expected(walls, product)
    spread = {"usual": usual.panels, "low": usual.low, "high": usual.high}
    why = (
        message("flat-by-area-less", net=Area(net), covered=Area(covered), face=face, **spread)
        if covered
        else message("flat-by-area", net=Area(net), face=face, **spread)
    )
    what = message("source-net-area")
    sources = tuple(
        OrderSource(w.wall.id, what, square_feet(w.quantities.net_area), "sqft") for w in walls
    )
    return CountMethod("area", (net - covered) / product.coverage_area, why, sources)


def usual_loss(walls: Sequence[WallTakeoff], panels: float, product: Product) -> float:
    """Per cent that course plans of such walls took beyond their panels by area and corner run.

    Args:
        walls: The walls as measured.
        panels: Flat and corner panels by area and corner run.
        product: The panel line.

    Returns:
        Per cent, to a tenth; 0 where plans took no more.
    """
    took = math.fsum(w.faces * w.rate for w in estimate(walls, product, None).walls)
    return max(0.0, round(100.0 * (took / panels - 1.0), 1)) if panels else 0.0


def corner_pieces(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], product: Product
) -> CountMethod:
    """Corner panels by corner run: a piece a course at each corner and finished end, two from one.

    Args:
        walls: The walls as measured.
        corners: The job's corners.
        product: The panel line.

    Returns:
        The count of corner panels, a fraction included.
    """
    sources = [
        OrderSource(c.id, message("source-corner", kind=c.kind), c.run / 12.0, "ft")
        for c in corners
        if c.kind in _WITH_CORNER_PANELS
    ]
    sources += [
        OrderSource(w.wall.id, message("source-end", side=e.side), e.length / 12.0, "ft")
        for w in walls
        for e in w.wall.edges
        if e.kind == "end"
    ]
    run = 12.0 * math.fsum(s.value for s in sources)
    pieces = run / product.panel.height
    course = Length(product.panel.height)
    why = message("corner-by-run", run=Length(run), course=course, pieces=pieces)
    return CountMethod("area", pieces / 2.0, why, tuple(sources))


def _flat_by_layout(plan: CoursePlan | None) -> Iterator[CountMethod]:
    if plan is None:
        return
    stock, what = plan.flat, message("source-panels-laid")
    why = message(
        "flat-by-plan",
        panels=stock.units,
        pieces=stock.pieces,
        length=Length(stock.pieces_length),
        bound=stock.lower_bound,
    )
    sources = tuple(OrderSource(c.wall, what, c.flat, "each") for c in plan.walls)
    yield CountMethod("layout", stock.units, why, sources)


def _corner_by_layout(plan: CoursePlan | None) -> Iterator[CountMethod]:
    if plan is None:
        return
    stock, what = plan.corner, message("source-panels-cut")
    why = message(
        "corner-by-plan",
        panels=stock.units,
        pieces=stock.pieces,
        length=Length(stock.pieces_length),
        bound=stock.lower_bound,
        left=stock.left,
        right=stock.right,
    )
    sources = tuple(OrderSource(c.wall, what, c.corner, "each") for c in plan.walls)
    yield CountMethod("layout", stock.units, why, sources)


# -------------------------------------------------------------- fasteners


def fixed_pieces(wall: WallTakeoff) -> list[Piece]:
    """The pieces that are fastened, not glued.

    Args:
        wall: A wall with its pieces.

    Returns:
        Its pieces in order; a piece in several parts stands once.
    """
    kept = {(p.course, p.stock, p.at): p for p in reversed(wall.courses.pieces) if not p.glued}
    return [
        kept[key]
        for key in dict.fromkeys((p.course, p.stock, p.at) for p in wall.courses.pieces)
        if key in kept
    ]


def _fasteners_by_layout(
    walls: Sequence[WallTakeoff], plan: CoursePlan | None, rule: PanelFastener
) -> Iterator[CountMethod]:
    if plan is None:
        return
    long = short = 0
    sources = []
    for wall in walls:
        fixed = fixed_pieces(wall)
        here = sum(p.length >= rule.long_from - ROUNDING_IN for p in fixed)
        long, short = long + here, short + len(fixed) - here
        number = here * rule.long + (len(fixed) - here) * rule.short
        sources.append(OrderSource(wall.wall.id, message("source-fasteners"), number, "each"))
    why = message(
        "fasteners-by-plan",
        long=long,
        long_from=Length(rule.long_from),
        long_each=rule.long,
        short=short,
        short_each=rule.short,
    )
    yield CountMethod("layout", long * rule.long + short * rule.short, why, tuple(sources))


def _fasteners_by_area(flat: CountMethod, corner: CountMethod, product: Product) -> CountMethod:
    rule, each = product.goods.panel_fastener, _each_corner(product)
    pieces = 2.0 * corner.measured
    why = message(
        "fasteners-by-area",
        flat=flat.measured,
        flat_each=rule.long,
        corner=pieces,
        corner_each=each,
    )
    number = fasteners_of(flat.measured, pieces, product)
    return CountMethod("area", number, why, (*flat.sources, *corner.sources))


def _each_corner(product: Product) -> float:
    """Fasteners of half a corner panel."""
    rule = product.goods.panel_fastener
    is_long = product.corner.length / 2.0 >= rule.long_from - ROUNDING_IN
    return rule.long if is_long else rule.short


def fasteners_of(flat: float, pieces: float, product: Product) -> float:
    """Panel fasteners by area.

    Args:
        flat: Flat panels.
        pieces: Corner pieces, each half a corner panel.
        product: The panel line.

    Returns:
        How many fasteners they take.
    """
    return flat * product.goods.panel_fastener.long + pieces * _each_corner(product)


def few_studs(
    walls: Sequence[WallTakeoff], rule: PanelFastener, framing_in: float
) -> list[StudReach]:
    """Fastened pieces that reach fewer studs than they have fasteners for framing.

    Studs stand at the wall's left edge and every ``framing_in`` from there; those that corners,
    ends and openings bring besides are not counted.

    Args:
        walls: The walls with their pieces.
        rule: Fasteners of a piece, and how many of them go into framing.
        framing_in: Distance of the studs, in inches.

    Returns:
        The pieces, and how many studs each reaches.
    """
    found = []
    for wall in walls:
        left = wall.wall.box[0]
        for p in fixed_pieces(wall):
            studs = _studs(p.x0 - left + rule.edge, p.x1 - left - rule.edge, framing_in)
            if studs < rule.studs:
                piece = PieceRef(wall.wall.id, p.course, p.number)
                found.append(StudReach(piece, studs, p.x0, p.x1))
    return found


def _studs(first_in: float, last_in: float, framing_in: float) -> int:
    """Multiples of the stud distance from first to last."""
    least = math.ceil((first_in - ROUNDING_IN) / framing_in)
    most = math.floor((last_in + ROUNDING_IN) / framing_in)
    return max(0, most - least + 1)
