"""The order stage: counts, lines, labor, bid, and notices about them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

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
    Part,
    StudReach,
    WallTakeoff,
)
from dxf2veneer.order.arithmetic import exact
from dxf2veneer.order.bid import bid_sum, counts_of
from dxf2veneer.order.colors import PANELS, colors_over
from dxf2veneer.order.deliveries import deliveries, too_heavy, with_pallets
from dxf2veneer.order.labour import labour_of
from dxf2veneer.order.lines import keys_of
from dxf2veneer.order.over import money_over
from dxf2veneer.order.panels import few_studs
from dxf2veneer.order.parts import Counted, Lot, counted, counted_parts, lots_of
from dxf2veneer.order.prices import NO_PRICES, Prices


def order(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices = NO_PRICES,
    *,
    is_own: bool = True,
    parts: Sequence[Part] = (),
) -> Order:
    """The order of a job: every item that it needs, its labor and its bid.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan; without one, panels and what hangs on them are estimated by area
            and run.
        job: The job.
        product: The panel line; the first one of several.
        prices: The prices.
        is_own: Whether the product is the job's own, of which prices are that name none.
        parts: The walls of each product, where the job has several.

    Returns:
        The order, without alternates.

    Raises:
        SettingsError: A price is in a unit that its item is not sold in, or a roll of the barrier
            is shorter than its lap.
    """
    if parts:
        lots = lots_of(walls, parts, job, prices)
        found = counted_parts(lots, walls, corners, job)
    else:
        good = prices.of_product(product, is_own=is_own)
        lots = [Lot(walls, corners, plan, job, product, good)]
        found = [counted(lots[0])]
    plain_lines = [line for one in found for line in one.lines]
    sent = deliveries(plain_lines, [w.wall for w in walls], corners, plan, job, product, parts)
    lines = with_pallets(plain_lines, sent)
    labour, measured = labour_of(walls, corners, plan, job, product, parts)
    counts = counts_of(measured, lines, labour, job.labour)
    bid = bid_sum(lines, labour, job.bid, counts, job.metric_rates)
    reach = [few_studs(o.walls, o.product.goods.panel_fastener, job.order.framing) for o in lots]
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
        dead_load_psf=max(
            (load for lot in lots if (load := _dead_load(_lines_of(lot, lines), lot.product))),
            default=None,
        ),
        few_studs=tuple(one for own in reach for one in own),
        deliveries=sent,
        measures=tuple(measured.items()),
        colors_over=colors_over(found[0].plain, lines, job, product, lots[0].prices),
        over=_over(found[: len(lots)]),
        notices=tuple(
            dict.fromkeys(
                n
                for lot, few in zip(lots, reach, strict=True)
                for n in (
                    *_about_prices(bid, lot.prices, lot.product),
                    *_about_quotes(_lines_of(lot, lines), lot.prices, lot.product),
                    *_about_work(bid, job),
                    *_about_counts(_lines_of(lot, lines), plan, lot.product),
                    *_about_studs(few, lot),
                    *_about_additions(job),
                    *_about_trucks(sent, job, lot.product),
                )
            )
        ),
    )


def _lines_of(lot: Lot, lines: Sequence[OrderLine]) -> list[OrderLine]:
    """The lines of a product, and those of none."""
    return [line for line in lines if line.product in ("", lot.name)]


def _over(found: Sequence[Counted]) -> Decimal | None:
    """What the plans of all products cost more than their cheapest ones."""
    each = [money_over(o.counts, o.lot.plan, o.lot.job, o.lot.product, o.lot.prices) for o in found]
    known = [over for over in each if over is not None]
    return sum(known, Decimal(0)) if known else None


def _dead_load(lines: Sequence[OrderLine], product: Product) -> float | None:
    """Weight of flat panels on a square foot of wall; None where nobody gave it."""
    flat = next((line for line in lines if line.item_key == "flat_panel"), None)
    if flat is None or not flat.package_weight_lb or not flat.has_given_weight:
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
    needed = [(line, prices.of(*keys_of(line.plain_key))) for line in lines if not line.by_others]
    items = tuple(
        message("price-expired-item", item=line.key, until=line.expired.isoformat())
        for line, _ in needed
        if line.expired
    )
    if items and day:
        what = message("price-expired", file=file, items=items, day=day.isoformat())
        yield Notice("PRICE_EXPIRED", what)
    lacking = tuple(
        line.key
        for line, p in needed
        if p is None and not set(keys_of(line.plain_key)).isdisjoint(prices.of_no_product)
    )
    if lacking:
        name = product.product.name or (product.file.name if product.file else "")
        what = message("price-of-product", file=file, items=lacking, product=name)
        yield Notice("PRICE_OF_PRODUCT", what)
    unpriced = {line.plain_key for line, p in needed if p is None}
    yield from _about_other_products(unpriced, prices, product)
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
        walls = tuple(one.reason for one in additions if one.area)
        yield Notice("ADDED", message("additions", reasons=reasons, walls=walls))


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


def _about_studs(reach: Sequence[StudReach], lot: Lot) -> Iterator[Notice]:
    if reach:
        first = reach[0].piece
        courses = next(w.courses for w in lot.walls if w.wall.id == first.wall)
        yield Notice(
            "FEW_STUDS",
            message(
                "few-studs",
                pieces=len(reach),
                studs=lot.product.goods.panel_fastener.studs,
                framing=Length(lot.job.order.framing),
                wall=first.wall,
                course=courses.number(first.course),
                piece=first.number,
            ),
        )


def _stand_ins(lines: Sequence[OrderLine], product: Product) -> tuple[str, ...]:
    """Sections of goods in the order of which the product file leaves a value to the generic
    one.
    """
    ordered = {ITEMS[line.item_key].section for line in lines}
    generic = dict.fromkeys(key.partition(".")[0] for key in product.generic)
    return tuple(section for section in generic if section in ordered)
