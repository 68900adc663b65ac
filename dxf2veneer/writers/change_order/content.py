"""The words of a change order, ready to be set."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from dxf2veneer.model import ChangeOrder, OrderedChange
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording import say
from dxf2veneer.wording.revisions import FIGURE_WORDS, delta_text, figure_text, is_shown

GIVEN, TAKEN, SUM = "given by the user", "from the two takeoffs", "sum"
"""Where a value comes from."""
TO_STATE = "to be stated"
REST = "Of no wall alone: goods come in whole packages, charges are for the whole job"
_BLANK = "_" * 24

Row = tuple[str, ...]


@dataclass(frozen=True)
class Content:
    """The order in words."""

    company: str
    sender: tuple[str, ...]
    customer: tuple[str, ...]
    title: str
    alert: str
    facts: tuple[tuple[str, str, str], ...]
    """A word, what it is, and where it comes from."""
    heads: Row
    changes: tuple[Row, ...]
    sums: tuple[Row, ...]
    """Last rows of the table of changes, in bold."""
    totals: tuple[tuple[str, str, str], ...]
    """Contract, earlier changes, this one, and the price now, with where each comes from."""
    figure_heads: Row
    figures: tuple[Row, ...]
    cautions: tuple[str, ...]
    signatures: tuple[str, str]


def content_of(order: ChangeOrder, alert: str = "") -> Content:
    """The order in words.

    Args:
        order: The order.
        alert: What stands on top where a takeoff is not to be relied on; empty where both are.

    Returns:
        The words; lines to fill in by hand where the user says nothing.
    """
    alerts = [legible(alert)] if alert else []
    if order.total is None:
        alerts.append("No price yet: this change order is not complete")
    to = tuple(map(legible, (order.customer, *order.address))) if order.customer else (_BLANK,)
    return Content(
        company=legible(order.company) or _BLANK,
        sender=tuple(map(legible, order.sender)),
        customer=to,
        title=title_of(order),
        alert=". ".join(alerts),
        facts=tuple(facts_of(order)),
        heads=("Wall", "What changes", "Net area", "Add", "Deduct"),
        changes=tuple(_change_row(change, order) for change in order.changes),
        sums=tuple(_sum_rows(order)),
        totals=tuple(
            (what, money_words(order, amount), origin) for what, amount, origin in totals_of(order)
        ),
        figure_heads=("In all", "Before", "Now", "Difference"),
        figures=tuple(_figure_rows(order)),
        cautions=tuple(say(caution, order.display) for caution in order.cautions),
        signatures=(
            f"Offered by {legible(order.signed_by)}" if order.signed_by else "Offered by",
            "Accepted by",
        ),
    )


def title_of(order: ChangeOrder) -> str:
    """What the paper is called.

    Args:
        order: The order.

    Returns:
        Its number and the job.
    """
    number = legible(order.terms.number)
    return f"Change order{f' {number}' if number else ''}: {legible(order.job) or 'stone veneer'}"


def facts_of(order: ChangeOrder) -> list[tuple[str, str, str]]:
    """Number, date, reason and drawings, with where each comes from.

    Args:
        order: The order.

    Returns:
        A word, what it is, and its origin; a line to fill in where nothing is said.
    """
    terms = order.terms
    given = (("Number", terms.number), ("Date", terms.date), ("Reason", terms.reason))
    facts = [(what, legible(text) or _BLANK, GIVEN if text else "") for what, text in given]
    for what, sources in (("Before", order.old_sources), ("Now", order.new_sources)):
        facts.append((what, legible(", ".join(sources)), TAKEN))
    return facts


def totals_of(order: ChangeOrder) -> list[tuple[str, Decimal | None, str]]:
    """The price before any change, each earlier change, this one, and the price now.

    Args:
        order: The order.

    Returns:
        What it is, the amount, and where it comes from; None where it is not known.
    """
    is_given = order.terms.contract is not None
    before = "Contract before changes" if is_given else "Price of the takeoff before"
    rows: list[tuple[str, Decimal | None, str]] = [
        (before, order.contract, GIVEN if is_given else TAKEN)
    ]
    for one in order.terms.earlier:
        rows.append((f"Change order {legible(one.number)}", one.amount, GIVEN))
    rows.append(("This change order", order.total, TAKEN))
    rows.append(("Total so far", order.to_date, SUM))
    return rows


def money_words(order: ChangeOrder, amount: Decimal | None) -> str:
    """An amount with two places and the currency.

    Args:
        order: The order, for its currency.
        amount: The money; None where it is not known.

    Returns:
        The words.
    """
    return TO_STATE if amount is None else f"{amount:,.2f} {legible(order.currency)}".strip()


def told_of(change: OrderedChange, display: str) -> str:
    """What changed on a wall.

    Args:
        change: The wall's change.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        Sentences, one after the other.
    """
    return legible("; ".join(say(told, display) for told in change.told))


def _change_row(change: OrderedChange, order: ChangeOrder) -> Row:
    add, deduct = _apart(change.price)
    area = delta_text("net_area_sqft", change.net_area_sqft, order.display)
    amounts = (_amount(add), _amount(deduct)) if change.price is not None else (TO_STATE, "")
    return legible(change.wall), told_of(change, order.display), area, *amounts


def _apart(price: Decimal | None) -> tuple[Decimal, Decimal]:
    price = price or Decimal(0)
    return max(price, Decimal(0)), min(price, Decimal(0))


def _amount(amount: Decimal) -> str:
    return f"{amount:,.2f}" if amount else ""


def _sum_rows(order: ChangeOrder) -> list[Row]:
    """What falls to no wall, and the sums of add and deduct."""
    if order.add is None or order.deduct is None or order.rest is None:
        return []
    add, deduct = _apart(order.rest)
    sums = order.add + add, order.deduct + deduct
    rows: list[Row] = []
    if order.rest:
        rows.append((REST, "", "", _amount(add), _amount(deduct)))
    return [*rows, ("All", "", "", *(f"{amount:,.2f}" for amount in sums))]


def _figure_rows(order: ChangeOrder) -> list[Row]:
    rows = []
    for key, old, new in order.figures:
        if old is None or new is None or not is_shown(key, float(new) - float(old)):
            continue
        off = float(new) - float(old)
        shown = (figure_text(key, value, order.display) for value in (old, new))
        rows.append((FIGURE_WORDS[key], *shown, delta_text(key, off, order.display)))
    return rows
