"""The report's tables of the order, labor, the bid and its alternates."""

from __future__ import annotations

from decimal import Decimal

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.model import Order, OrderLine
from dxf2veneer.textio.escaping import legible, without_folder
from dxf2veneer.wording import say
from dxf2veneer.wording.measures import ITEM_UNITS, area_text, length_text
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.tables import table


def order_tables(order: Order, show: str) -> Markup:
    """What is bought, the work, and the bid.

    Args:
        order: The order.
        show: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The tables.
    """
    lines = [_line(line, show) for line in order.lines]
    weight = f"Weight, {'kg' if show == 'metric' else 'lb'}"
    head = ("Item", "Measured", "Allowance", "Needed", "Packages", "Price", "Cost", weight)
    bought = table(f"Order{_in(order.currency)}", head, lines)
    work = _work(order, show)
    prices = (
        f"Prices from {without_folder(order.prices_from)}, dated "
        f"{legible(order.prices_date) or 'no date'}."
        if order.prices_from
        else "No price file was given."
    )
    pallets = f"{order.pallets} pallets. " if order.pallets else ""
    missing = (
        f"No total yet; a price is missing for: {legible(', '.join(order.bid.missing))}. "
        if order.bid.missing
        else ""
    )
    left_out = ", ".join(say(what, show) for what in order.bid.open)
    unrated = f"Not in the price, as no rate is given: {legible(left_out)}. " if left_out else ""
    return joined(
        (
            bought,
            work,
            bid_table(order),
            tag(
                "p",
                None,
                f"{missing}{unrated}{pallets}{prices} {order.days:.1f} working days of the crew.",
            ),
            _alternates(order, show),
            _deliveries(order, show),
        )
    )


def _work(order: Order, show: str) -> Markup:
    """The work, with how each quantity was counted."""
    rows = [
        (
            _with_why(say(w.what, show), say(w.why, show)),
            _measured(w.quantity, w.unit, show),
            "–" if w.hours_each is None else str(w.hours_each),
            str(w.hours),
            "no rate" if w.is_open else money(w.cost),
        )
        for w in order.labour
    ]
    return table("Labor", ("Work", "Quantity", "Hours each", "Hours", "Cost"), rows)


def bid_table(order: Order) -> Markup:
    """The bid line by line down to the total.

    Args:
        order: The order.

    Returns:
        The table.
    """
    rows = [
        (
            say(line.title),
            say(line.working),
            money(line.amount),
            money(line.running),
        )
        for line in order.bid.lines
    ]
    return table(f"Bid{_in(order.currency)}", ("Line", "How", "Amount", "Running"), rows, words=2)


def _alternates(order: Order, show: str) -> Markup:
    if not order.alternates:
        return Markup()
    rows = [
        ("Base bid", "", money(order.bid.total)),
        *((a.name, say(a.what, show), money(a.order.bid.total)) for a in order.alternates),
    ]
    return table(
        f"Alternates{_in(order.currency)}", ("Name", "What is different", "Total"), rows, words=2
    )


def _deliveries(order: Order, show: str) -> Markup:
    """What comes with each delivery, on which pallets."""
    unit, each = ("kg", POUND_KG) if show == "metric" else ("lb", 1.0)

    def weight(pounds: float | None) -> str:
        return "–" if pounds is None else f"{each * pounds:,.0f} {unit}"

    rows = []
    for number, one in enumerate(order.deliveries, 1):
        loads = (
            "" if one.loads is None else f", {one.loads} {'load' if one.loads == 1 else 'loads'}"
        )
        name = one.phase or f"Delivery {number}"
        rows.append((f"{name}{loads}", "", weight(one.weight_lb), str(one.pallets)))
        for item in one.items:
            pallets = ", ".join(
                f"{p.pallets} of {p.packages} ({weight(p.weight_lb)} each)" for p in item.pallets
            )
            boxes = f"{item.packages} × {item.package}"
            rows.append((say(item.item, show), boxes, weight(item.weight_lb), pallets))
    ahead = {i.item: 0 for d in order.deliveries for i in d.items if i.ahead}
    for item in (i for d in order.deliveries for i in d.items if i.ahead):
        ahead[item.item] += item.ahead
    kept = ", ".join(f"{n} {say(item, show)}" for item, n in ahead.items())
    early = f"Cut in one phase with pieces for later ones: {kept}; keep them. " if kept else ""
    unopened = [f"{line.unopened} {say(line.item, show)}" for line in order.lines if line.unopened]
    note = (
        f"Packages that stay closed where nothing breaks: {legible(', '.join(unopened))}. "
        if unopened
        else ""
    )
    head = ("Delivery", "Packages", "Weight", "Pallets")
    text = tag("p", None, f"{early}{note}Weights are of the packages, without pallets.")
    return joined((table("Deliveries", head, rows, words=1), text)) if rows else Markup()


def _measured(quantity: float, unit: str, show: str) -> str:
    """A quantity in the unit that goods are sold in, or that a rate of work goes by; where people
    read meters, feet stand beside them."""
    if unit == "each":
        return f"{quantity:,.0f}"
    counted = f"{quantity:,.1f} {ITEM_UNITS.get(unit, unit)}"
    if show != "metric" or unit not in ("ft", "sqft"):
        return counted
    own = area_text(quantity, show) if unit == "sqft" else length_text(12.0 * quantity, show)
    return f"{own} ({counted})"


def _line(line: OrderLine, show: str) -> tuple[str, ...]:
    chosen = line.chosen
    other = f"; counted by {line.other.mode}: {line.other.packages}" if line.other else ""
    measured = _measured(chosen.measured, line.unit, show)
    price = (
        "by others"
        if line.by_others
        else money(line.price)
        if line.price is None
        else f"{money(line.price)} / {line.price_per}"
    )
    weighs = POUND_KG if show == "metric" else 1.0
    weight = (
        "–" if line.by_others or chosen.weight_lb is None else f"{weighs * chosen.weight_lb:,.0f}"
    )
    return (
        _with_why(say(line.item, show), f"{say(chosen.why, show)}{other}"),
        measured,
        f"{chosen.allowance_pct:g} %",
        f"{chosen.needed:,.1f}",
        f"{chosen.packages} × {line.package}",
        price,
        "–" if line.by_others else money(chosen.cost),
        weight,
    )


def _with_why(what: str, why: str) -> Markup:
    """What it is, and under it in small how it was counted."""
    return joined((legible(what), tag("small", None, legible(why))))


def money(amount: Decimal | None) -> str:
    """An amount to the cent, a dash where it is not known.

    Args:
        amount: The amount.

    Returns:
        Digits with two decimals; a dash for None.
    """
    return "–" if amount is None else f"{amount:,.2f}"


def _in(currency: str) -> str:
    return f", in {legible(currency)}" if currency else ""
