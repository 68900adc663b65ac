"""The order stage: counts, lines, labour, bid, and what there is to tell."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import BidSum, Corner, CoursePlan, Order, OrderLine, StudReach, WallTakeoff
from dxf2veneer.notices import Notice
from dxf2veneer.order.bid import bid_sum
from dxf2veneer.order.labour import labour_lines
from dxf2veneer.order.lines import order_line
from dxf2veneer.order.panels import few_studs, panels
from dxf2veneer.order.prices import NO_PRICES, Prices
from dxf2veneer.order.reckon import exact
from dxf2veneer.order.sheets import sheets
from dxf2veneer.order.stones import fixture_blocks, trim_stones
from dxf2veneer.order.strips import strips
from dxf2veneer.units import square_feet
from dxf2veneer.wording.measures import length_text


def order(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices = NO_PRICES,
) -> Order:
    """The order of a job: every item that it needs, its labour and its bid.

    Without a plan, panels and what hangs on them are estimated by area and run. Raises SettingsError for a
    price in a unit that its item is not sold in.
    """
    counts = [
        *panels(walls, corners, plan, job, product),
        *strips(walls, job, product),
        *trim_stones(walls, job, product),
        *fixture_blocks(walls, job),
        *sheets(walls, corners, plan, job, product, prices),
    ]
    places = list(ITEMS)
    counts = sorted(
        (c for c in counts if any(w.measured > 0.0 for w in c.ways)),
        key=lambda c: places.index(c.item.key),
    )
    lines = tuple(order_line(c, job, product, prices) for c in counts)
    labour = labour_lines(walls, corners, plan, job, product)
    bid = bid_sum(lines, labour, job.bid.percentages)
    reach = tuple(few_studs(walls, product.goods.panel_fastener, job.order.framing))
    hours = float(sum(line.hours for line in labour))
    return Order(
        lines=lines,
        labour=labour,
        bid=bid,
        currency=prices.currency,
        prices_from=prices.file,
        prices_date=prices.date,
        wage=None if job.labour.wage is None else exact(job.labour.wage),
        days=hours / (job.labour.crew * job.labour.day),
        dead_load_psf=_dead_load(lines, product),
        few_studs=reach,
        notices=tuple(_notices(lines, bid, reach, plan, job, product, prices)),
    )


def _dead_load(lines: Sequence[OrderLine], product: Product) -> float | None:
    """Weight of flat panels on a square foot of wall."""
    flat = next((line for line in lines if line.key == "flat_panel"), None)
    if flat is None or not flat.package_weight_lb:
        return None
    return flat.package_weight_lb / (flat.per_package * square_feet(product.coverage_area))


# ------------------------------------------------------------------ notices


def _notices(
    lines: Sequence[OrderLine],
    bid: BidSum,
    reach: Sequence[StudReach],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices,
) -> list[Notice]:
    told = [Notice("PRICE_UNUSED", line) for line in prices.unknown]
    if prices.file:
        told += _about_prices(bid, prices)
    if plan is None:
        told.append(
            Notice(
                "ORDER_BY_AREA",
                "panels, fasteners and glued strips are estimated by area and run, as there is no course plan",
            )
        )
    stand_ins = _stand_ins(lines, product)
    if stand_ins:
        told.append(
            Notice(
                "GOODS_GENERIC",
                f"{PurePath(product.file).name} leaves out how these are packed or counted: {', '.join(stand_ins)}",
            )
        )
    if reach:
        first = reach[0].piece
        told.append(
            Notice(
                "FEW_STUDS",
                f"{len(reach)} pieces reach fewer than {product.goods.panel_fastener.studs:g} studs at {length_text(job.order.framing, job.output.display)} on centre, "
                f"the first in {first.wall}, course {first.course + 1}, piece {first.number}",
            )
        )
    return told


def _about_prices(bid: BidSum, prices: Prices) -> list[Notice]:
    told = []
    if bid.missing:
        file = PurePath(prices.file).name
        told.append(
            Notice(
                "PRICE_MISSING",
                f"{file} and the job give no price for: {', '.join(bid.missing)}; the bid has no total",
            )
        )
    if not prices.date or not prices.currency:
        lacking = " and ".join(
            what
            for what, value in (("date", prices.date), ("currency", prices.currency))
            if not value
        )
        told.append(Notice("PRICES_UNDATED", f"{PurePath(prices.file).name} gives no {lacking}"))
    return told


def _stand_ins(lines: Sequence[OrderLine], product: Product) -> list[str]:
    """Sections of goods in the order of which the product file leaves a value to the generic panel."""
    ordered = {ITEMS[line.key.partition(" ")[0]].section for line in lines}
    return [
        s for s in dict.fromkeys(key.partition(".")[0] for key in product.generic) if s in ordered
    ]
