"""Flat panels, corner panels and their fasteners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dxf2veneer.config.goods import PanelFastener
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    OrderSource,
    Piece,
    PieceRef,
    StockCount,
    StudReach,
    WallTakeoff,
)
from dxf2veneer.order.reckon import Count, Way, count, plain
from dxf2veneer.units import square_feet
from dxf2veneer.wording.measures import area_text, length_text

_TOUCH_IN = 1e-6
_CORNERS = ("outside", "inside")


def panels(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
) -> list[Count]:
    """Flat panels, corner panels and panel fasteners, by layout where there is a plan, and by area."""
    show = job.output.display
    pieces, flat = (
        corner_pieces(walls, corners, product, show),
        flat_by_area(walls, corners, product, show),
    )
    fasteners = _fastener_layout(walls, plan, product.goods.panel_fastener, show)
    return [
        count("flat_panel", *_flat_layout(plan, show), flat),
        count("corner_panel", *_corner_layout(plan, show), pieces),
        count("panel_fastener", *fasteners, _fasteners_by_area(flat, pieces, product)),
    ]


def flat_by_area(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], product: Product, show: str
) -> Way:
    """Flat panels as net area over a panel's face, less what corner pieces cover."""
    net = math.fsum(w.quantities.net_area for w in walls)
    pieces = 2.0 * corner_pieces(walls, corners, product, show).measured
    covered = min(net, pieces * product.corner.length / 2.0 * product.panel.height)
    face = square_feet(product.coverage_area)
    less = f" less {area_text(square_feet(covered), show)} of corner pieces" if covered else ""
    why = f"net area {area_text(square_feet(net), show)}{less}, at {area_text(face, show)} a panel"
    sources = tuple(
        OrderSource(w.wall.id, "net area", square_feet(w.quantities.net_area), "sqft")
        for w in walls
    )
    return Way("area", (net - covered) / product.coverage_area, why, sources)


def corner_pieces(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], product: Product, show: str
) -> Way:
    """Corner panels by corner run: a corner piece a course at each corner and finished end, two from a panel."""
    sources = [
        OrderSource(c.id, f"{c.kind} corner", c.run / 12.0, "ft")
        for c in corners
        if c.kind in _CORNERS
    ]
    sources += [
        OrderSource(w.wall.id, f"{e.side} end", e.length / 12.0, "ft")
        for w in walls
        for e in w.wall.edges
        if e.kind == "end"
    ]
    run = 12.0 * math.fsum(s.value for s in sources)
    pieces = run / product.panel.height
    why = f"corners and finished ends of {length_text(run, show)} at {length_text(product.panel.height, show)} a course: {plain(pieces)} pieces, two from a panel"
    return Way("area", pieces / 2.0, why, tuple(sources))


def _flat_layout(plan: CoursePlan | None, show: str) -> Iterator[Way]:
    if plan is not None:
        sources = tuple(
            OrderSource(c.wall, "panels first cut or laid whole here", c.flat, "each")
            for c in plan.walls
        )
        yield Way("layout", plan.flat.units, _planned(plan.flat, show), sources)


def _corner_layout(plan: CoursePlan | None, show: str) -> Iterator[Way]:
    if plan is not None:
        hands = f"; {plan.corner.left} left-hand and {plan.corner.right} right-hand pieces, one of each from a panel"
        sources = tuple(
            OrderSource(c.wall, "panels first cut here", c.corner, "each") for c in plan.walls
        )
        yield Way("layout", plan.corner.units, _planned(plan.corner, show) + hands, sources)


def _planned(stock: StockCount, show: str) -> str:
    """How the course plan got to its number of units."""
    return (
        f"{stock.units} by the course plan, cut into {stock.pieces} pieces of {length_text(stock.pieces_length, show)} together; "
        f"no plan does with fewer than {stock.lower_bound}"
    )


# -------------------------------------------------------------- fasteners


def fixed_pieces(wall: WallTakeoff) -> list[Piece]:
    """The pieces that are fastened, not glued; a piece in several parts counts once."""
    kept = {(p.course, p.stock, p.at): p for p in reversed(wall.courses.pieces) if not p.glued}
    return [
        kept[key]
        for key in dict.fromkeys((p.course, p.stock, p.at) for p in wall.courses.pieces)
        if key in kept
    ]


def _fastener_layout(
    walls: Sequence[WallTakeoff], plan: CoursePlan | None, rule: PanelFastener, show: str
) -> Iterator[Way]:
    if plan is None:
        return
    long = short = 0
    sources = []
    for wall in walls:
        fixed = fixed_pieces(wall)
        here = sum(p.length >= rule.long_from - _TOUCH_IN for p in fixed)
        long, short = long + here, short + len(fixed) - here
        sources.append(
            OrderSource(
                wall.wall.id,
                "fasteners of its pieces",
                here * rule.long + (len(fixed) - here) * rule.short,
                "each",
            )
        )
    why = (
        f"{long} pieces of {length_text(rule.long_from, show)} or longer with {plain(rule.long)} each, {short} shorter ones with {plain(rule.short)}; "
        "glued pieces take none"
    )
    yield Way("layout", long * rule.long + short * rule.short, why, tuple(sources))


def _fasteners_by_area(flat: Way, corner: Way, product: Product) -> Way:
    rule = product.goods.panel_fastener
    half = product.corner.length / 2.0
    each = rule.long if half >= rule.long_from - _TOUCH_IN else rule.short
    pieces = 2.0 * corner.measured
    why = f"{plain(flat.measured)} flat panels with {plain(rule.long)} each, {plain(pieces)} corner pieces with {plain(each)}"
    return Way(
        "area", flat.measured * rule.long + pieces * each, why, (*flat.sources, *corner.sources)
    )


def few_studs(
    walls: Sequence[WallTakeoff], rule: PanelFastener, framing_in: float
) -> list[StudReach]:
    """Fastened pieces that reach fewer studs than they have fasteners for framing.

    Studs stand at the wall's left edge and every ``framing_in`` from there; those that corners, ends and
    openings bring besides are not counted.
    """
    found = []
    for wall in walls:
        left = wall.wall.box[0]
        for p in fixed_pieces(wall):
            studs = _studs(p.x0 - left + rule.edge, p.x1 - left - rule.edge, framing_in)
            if studs < rule.studs:
                found.append(
                    StudReach(PieceRef(wall.wall.id, p.course, p.number), studs, p.x0, p.x1)
                )
    return found


def _studs(first_in: float, last_in: float, framing_in: float) -> int:
    """Multiples of the stud distance from first to last."""
    least, most = (
        math.ceil((first_in - _TOUCH_IN) / framing_in),
        math.floor((last_in + _TOUCH_IN) / framing_in),
    )
    return max(0, most - least + 1)
