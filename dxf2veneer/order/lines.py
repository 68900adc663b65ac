"""From counts to order lines: allowance, packages, price, weight."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import QUOTIENT_PLACES
from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import ITEMS, METRIC, PACKING, Goods, Item, ItemUnit, Packing
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OrderLine, OrderSource, Reckoning
from dxf2veneer.order.arithmetic import (
    Count,
    CountMethod,
    Mode,
    cents,
    exact,
    packages_of,
    with_allowance,
    with_breakage,
)
from dxf2veneer.order.prices import PriceItem, Prices

_UNIT_WORDS = {
    "each": ("each", "ea", "piece", "pieces", "pc", "pcs"),
    "ft": ("ft", "foot", "feet", "lf", "lin ft", "linear foot"),
    "sqft": ("sqft", "sq ft", "sf", "square foot", "square feet"),
    "m": ("m", "meter", "meters", "metre", "metres", "lin m"),
    "m2": ("m2", "m²", "sq m", "sqm", "square meter", "square meters", "square metre"),
}
"""How price files write the unit that an item is counted in."""


class _Terms(NamedTuple):
    """What an item is sold in, and for how much."""

    per_package: float
    weight: float
    price: Decimal | None
    by_package: bool
    by_others: bool
    invented: tuple[Packing, ...] = ()


def order_line(count: Count, job: Job, product: Product, prices: Prices) -> OrderLine:
    """The order line of a count.

    Args:
        count: The item as counted.
        job: The job, for allowances and what others supply.
        product: The panel line, for packages.
        prices: The prices.

    Returns:
        The line, worked by each method.

    Raises:
        SettingsError: The price is in a unit that the item is not sold in.
    """
    item, goods = count.item, product.goods.of(count.item.section)
    unit, factor = unit_of(item, product)
    if product.is_metric:
        methods = tuple(_in_meters(m, factor) for m in count.methods)
        count = count._replace(methods=methods)
    terms = _terms(count, goods, job, product, prices)
    mode = mode_of(count, job)
    priced = prices.of(*keys_of(count.key))
    return OrderLine(
        key=count.key,
        item=count.title,
        unit=unit,
        mode=mode,
        ways=tuple(_reckoned(m, item, job, terms) for m in count.methods),
        package=goods.package,
        per_package=terms.per_package,
        price=terms.price,
        price_per="package" if terms.by_package else "unit",
        package_weight_lb=terms.weight,
        color_share=count.share,
        per_pallet=goods.per_pallet or None,
        by_others=terms.by_others,
        invented=terms.invented,
        supplier=priced.supplier if priced else "",
        expired=prices.expired(priced) if priced else None,
    )


def unit_of(item: Item, product: Product) -> tuple[ItemUnit, float]:
    """The unit that an item of a product is sold in.

    Args:
        item: The item.
        product: The panel line.

    Returns:
        The unit, and how many of it make one of the item's own.
    """
    return METRIC[item.unit] if product.is_metric else (item.unit, 1.0)


def _in_meters(method: CountMethod, factor: float) -> CountMethod:
    """A count, and what it was counted from, in meters and square meters."""
    return method._replace(
        measured=factor * method.measured,
        added=factor * method.added,
        by_area=tuple(one._replace(value=factor * one.value) for one in method.by_area),
        sources=_sources_in_meters(method.sources),
        parts=tuple(
            p._replace(measured=factor * p.measured, sources=_sources_in_meters(p.sources))
            for p in method.parts
        ),
    )


def _sources_in_meters(sources: Sequence[OrderSource]) -> tuple[OrderSource, ...]:
    units = [METRIC[s.unit] for s in sources]
    return tuple(
        s._replace(value=factor * s.value, beyond=factor * s.beyond, unit=unit)
        for s, (unit, factor) in zip(sources, units, strict=True)
    )


def mode_of(count: Count, job: Job) -> Mode:
    """The method that counts: the job's, where the item is counted by it.

    Args:
        count: The item as counted.
        job: The job, with its way of counting and those of items.

    Returns:
        The mode.
    """
    own = next(
        (a.mode for a in job.order.items if a.item == count.item.key and a.mode),
        job.order.allowance,
    )
    return next((m.mode for m in count.methods if m.mode == own), count.methods[0].mode)


def own_allowance(key: str, mode: Mode, job: Job) -> float | None:
    """The per cent that the job adds to one item.

    Args:
        key: The item's key in ``config.goods.ITEMS``.
        mode: The way of counting.
        job: The job.

    Returns:
        Per cent; None where the item follows the job's breakage or scrap.
    """
    return next(
        (
            a.percent
            for a in job.order.items
            if a.item == key and a.percent is not None and a.mode in (None, mode)
        ),
        None,
    )


def _allowance(method: CountMethod, own: float | None, usual: float | None, job: Job) -> float:
    """Per cent added: the item's own, or the job's breakage, or what plans took, or scrap."""
    if own is not None:
        return own
    if method.mode == "layout":
        return job.order.breakage
    return job.order.other_scrap if usual is None else with_breakage(usual, job.order.breakage)


def _reckoned(method: CountMethod, item: Item, job: Job, terms: _Terms) -> Reckoning:
    own = own_allowance(item.key, method.mode, job)
    usual = method.usual if own is None and job.order.scrap is None else None
    percent = _allowance(method, own, usual, job)
    needed = with_allowance(method.measured, percent)
    packages = packages_of(needed, terms.per_package)
    cost = (
        None
        if terms.price is None or terms.by_others
        else cents(packages * (1 if terms.by_package else exact(terms.per_package)) * terms.price)
    )
    weight = None if terms.by_others else packages * terms.weight
    return Reckoning(
        method.mode,
        method.measured,
        method.why,
        percent,
        usual,
        own is not None,
        needed,
        packages,
        cost,
        weight,
        tuple(s for s in method.sources if s.value),
        tuple(p._replace(sources=tuple(s for s in p.sources if s.value)) for p in method.parts),
        method.added,
        method.by_area,
    )


def keys_of(key: str) -> tuple[str, ...]:
    """The keys under which a price file may price a line.

    Args:
        key: The line's key.

    Returns:
        Its own key, that of its item and that of the item's goods, the nearest first.
    """
    item = ITEMS[key.partition(" ")[0]]
    return key, item.key, item.section


def _terms(count: Count, goods: Goods, job: Job, product: Product, prices: Prices) -> _Terms:
    found = prices.of(*keys_of(count.key))
    others = not {count.item.key, count.item.section}.isdisjoint(job.order.by_others)
    own = _own_package(count, product)
    unit, factor = unit_of(count.item, product)
    per, weight = own or round(factor * goods.per_package, QUOTIENT_PLACES), goods.weight
    if own:
        weight *= own / goods.per_package
    invented = tuple(k for k in PACKING if product.is_invented(f"{count.item.section}.{k}"))
    if found is None:
        return _Terms(per, weight, None, True, others, invented)
    by_package = found.price is None or _is_by_package(found, count.item, unit, goods)
    if own and found.item != count.key:  # said of other packages than this color's
        price = None if by_package else found.price
        return _Terms(per, weight, price, by_package, others, invented)
    given = {"per_package": found.package, "weight": found.weight}
    return _Terms(
        per_package=per if found.package is None else float(found.package),
        weight=weight
        if found.weight is None
        else float(found.weight) / (POUND_KG if product.is_metric else 1.0),
        price=found.price,
        by_package=by_package,
        by_others=others,
        invented=tuple(k for k in invented if given.get(k) is None),
    )


def _own_package(count: Count, product: Product) -> float | None:
    """How much a package of a color holds; None where it holds as much as the line's own."""
    for color in product.blend.colors:
        if color.name == count.color:
            is_flat = count.item.key == "flat_panel"
            return color.flat_per_package if is_flat else color.corner_per_package
    return None


def _is_by_package(found: PriceItem, item: Item, sold_by: ItemUnit, goods: Goods) -> bool:
    """Whether a price is that of a package."""
    unit = " ".join(found.unit.replace(".", " ").split())
    if unit in _UNIT_WORDS[sold_by]:
        return False
    if unit in ("package", goods.package.lower()):
        return True
    raise SettingsError(
        message(
            "price-unit-wrong",
            place=found.origin.place(folders=True),
            item=item.key,
            written=found.unit,
            unit=_UNIT_WORDS[sold_by][0],
            package=goods.package,
        )
    )
