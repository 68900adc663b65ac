"""The order stage: counts, lines, labor, bid, and notices about them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.units import POUND_KG, square_feet
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    BidSum,
    Corner,
    CoursePlan,
    Delivery,
    Order,
    OrderLine,
    StudReach,
    WallTakeoff,
)
from dxf2veneer.order.added import with_additions
from dxf2veneer.order.arithmetic import Count, exact
from dxf2veneer.order.bid import bid_sum, counts_of
from dxf2veneer.order.colors import PANELS, by_color, colors_over
from dxf2veneer.order.deliveries import deliveries, too_heavy, with_pallets
from dxf2veneer.order.labour import labour_of
from dxf2veneer.order.lines import keys_of, order_line
from dxf2veneer.order.over import money_over
from dxf2veneer.order.panels import few_studs, panels
from dxf2veneer.order.prices import NO_PRICES, Prices
from dxf2veneer.order.sheets import sheets
from dxf2veneer.order.stones import fixture_blocks, pooled, trim_stones
from dxf2veneer.order.strips import strips


def order(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices = NO_PRICES,
    *,
    is_own: bool = True,
) -> Order:
    """The order of a job: every item that it needs, its labor and its bid.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan; without one, panels and what hangs on them are estimated by area
            and run.
        job: The job.
        product: The panel line.
        prices: The prices.
        is_own: Whether the product is the job's own, of which prices are that name none.

    Returns:
        The order, without alternates.

    Raises:
        SettingsError: A price is in a unit that its item is not sold in, or a roll of the barrier
            is shorter than its lap.
    """
    prices = prices.of_product(product, is_own=is_own)
    plain = _counts(walls, corners, plan, job, product, prices)
    counts = with_additions(
        by_color(pooled(plain, job, prices), walls, plan, job, product), job, product, prices
    )
    plain_lines = [order_line(c, job, product, prices) for c in counts]
    parts = deliveries(plain_lines, [w.wall for w in walls], corners, plan, job, product)
    lines = with_pallets(plain_lines, parts)
    labour, measured = labour_of(walls, corners, plan, job, product)
    bid = bid_sum(lines, labour, job.bid, counts_of(measured, lines, labour, job.labour))
    reach = tuple(few_studs(walls, product.goods.panel_fastener, job.order.framing))
    hours = float(sum(line.hours for line in labour))
    return Order(
        lines=lines,
        labour=labour,
        bid=bid,
        currency=prices.currency,
        prices_from=prices.file.name if prices.file else "",
        prices_date=prices.date,
        priced_on=prices.day,
        wage=None if job.labour.wage is None else exact(job.labour.wage),
        days=hours / (job.labour.crew * job.labour.day),
        dead_load_psf=_dead_load(lines, product),
        few_studs=reach,
        deliveries=parts,
        colors_over=colors_over(plain, lines, job, product, prices),
        over=money_over(counts, plan, job, product, prices),
        notices=(
            *_about_prices(bid, prices, product),
            *_about_quotes(lines, prices, product),
            *_about_work(bid, job),
            *_about_counts(lines, plan, product),
            *_about_studs(reach, job, product),
            *_about_additions(job),
            *_about_trucks(parts, job, product),
        ),
    )


def _counts(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices,
) -> list[Count]:
    """The items that the job needs any of, in the order of the list of items."""
    counts = [
        *panels(walls, corners, plan, product),
        *strips(walls, job, product),
        *trim_stones(walls, job, product),
        *fixture_blocks(walls),
        *sheets(walls, corners, plan, job, product, prices),
    ]
    places = list(ITEMS)
    return sorted(
        (c for c in counts if any(m.measured > 0.0 for m in c.methods)),
        key=lambda c: places.index(c.item.key),
    )


def _dead_load(lines: Sequence[OrderLine], product: Product) -> float | None:
    """Weight of flat panels on a square foot of wall."""
    flat = next((line for line in lines if line.item_key == "flat_panel"), None)
    if flat is None or not flat.package_weight_lb:
        return None
    return flat.package_weight_lb / (flat.per_package * square_feet(product.coverage_area))


# ------------------------------------------------------------------ notices


def _about_prices(bid: BidSum, prices: Prices, product: Product) -> Iterator[Notice]:
    for line in prices.unknown:
        yield Notice("PRICE_UNUSED", line)
    keys = {color_key(c.name) for c in product.blend.colors}
    for item in prices.items:
        panel, _, color = item.item.partition(" ")
        if panel in PANELS and color and color not in keys:
            known = (panel, *(f"{panel} {key}" for key in sorted(keys)))
            hint = message("hint-all", words=known)
            place = item.origin.place()
            what = message("price-of-no-item", place=place, name=item.item, hint=hint)
            yield Notice("PRICE_UNUSED", what)
    if prices.file is None:
        return
    file = prices.file.name
    if bid.missing:
        yield Notice("PRICE_MISSING", message("price-missing", file=file, items=bid.missing))
    about = (("date", prices.date), ("currency", prices.currency))
    lacking = tuple(column for column, value in about if not value)
    if lacking:
        yield Notice("PRICES_UNDATED", message("prices-undated", file=file, columns=lacking))


def _about_quotes(lines: Sequence[OrderLine], prices: Prices, product: Product) -> Iterator[Notice]:
    """Prices of a list that are another product's, of none, or no longer good."""
    if prices.file is None:
        return
    file, day = prices.file.name, prices.day
    needed = [(line, prices.of(*keys_of(line.key))) for line in lines if not line.by_others]
    items = tuple(
        message("price-expired-item", item=line.key, until=p.valid_until.isoformat())
        for line, p in needed
        if p and p.valid_until and day and p.valid_until < day
    )
    if items and day:
        what = message("price-expired", file=file, items=items, day=day.isoformat())
        yield Notice("PRICE_EXPIRED", what)
    lacking = tuple(
        line.key
        for line, p in needed
        if p is None and not set(keys_of(line.key)).isdisjoint(prices.of_no_product)
    )
    if lacking:
        name = product.product.name or (product.file.name if product.file else "")
        what = message("price-of-product", file=file, items=lacking, product=name)
        yield Notice("PRICE_OF_PRODUCT", what)
    yield from _about_other_products({line.key for line, p in needed if p is None}, prices, product)
    if prices.left_out:
        what = message("prices-left-out", file=file, lines=prices.left_out)
        yield Notice("PRICES_LEFT_OUT", what)


def _about_other_products(unpriced: set[str], prices: Prices, product: Product) -> Iterator[Notice]:
    """Items without a price that the file prices for other products alone."""
    found = [(item, other) for item, other in prices.of_others if item in unpriced]
    if found and prices.file is not None:
        what = message(
            "price-of-others",
            file=prices.file.name,
            items=tuple(dict.fromkeys(item for item, _ in found)),
            others=tuple(dict.fromkeys(other for _, other in found)),
            product=product.product.name or (product.file.name if product.file else ""),
        )
        yield Notice("PRICE_MISSING", what)


def _about_work(bid: BidSum, job: Job) -> Iterator[Notice]:
    """Work without a rate, where work has a price at all."""
    if bid.open and job.labour.wage is not None:
        yield Notice("WORK_UNRATED", message("work-unrated", work=bid.open))


def _about_counts(
    lines: Sequence[OrderLine], plan: CoursePlan | None, product: Product
) -> Iterator[Notice]:
    if plan is None:
        yield Notice("ORDER_BY_AREA", message("order-by-area"))
    sections = _stand_ins(lines, product)
    if sections:
        file = product.origin.place()
        yield Notice("GOODS_GENERIC", message("goods-generic", file=file, sections=sections))


def _about_additions(job: Job) -> Iterator[Notice]:
    additions = job.order.additions
    if additions:
        reasons = tuple(one.reason for one in additions)
        no_labor = tuple(one.reason for one in additions if one.area)
        yield Notice("ADDED", message("additions", reasons=reasons, no_labor=no_labor))


def _about_trucks(parts: Sequence[Delivery], job: Job, product: Product) -> Iterator[Notice]:
    heavy = {i.key: pounds for d in parts for i, pounds in too_heavy(d.items, job, product)}
    unit, each = ("kg", POUND_KG) if product.is_metric else ("lb", 1.0)
    told = tuple(
        message("too-heavy-item", item=item, weight=each * pounds, unit=unit)
        for item, pounds in heavy.items()
    )
    if told:
        what = message("truck-too-small", items=told, unit=unit, payload=job.delivery.payload)
        yield Notice("TRUCK_TOO_SMALL", what)


def _about_studs(reach: Sequence[StudReach], job: Job, product: Product) -> Iterator[Notice]:
    if reach:
        first = reach[0].piece
        yield Notice(
            "FEW_STUDS",
            message(
                "few-studs",
                pieces=len(reach),
                studs=product.goods.panel_fastener.studs,
                framing=Length(job.order.framing),
                wall=first.wall,
                course=first.course + 1,
                piece=first.number,
            ),
        )


def _stand_ins(lines: Sequence[OrderLine], product: Product) -> tuple[str, ...]:
    """Sections of goods in the order of which the product file leaves a value to the generic
    one.
    """
    ordered = {ITEMS[line.key.partition(" ")[0]].section for line in lines}
    generic = dict.fromkeys(key.partition(".")[0] for key in product.generic)
    return tuple(section for section in generic if section in ordered)
