"""The words of the customer's bid, ready to be set."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from dxf2veneer.model import BidLetter, OfferedAlternate, ScopeElevation, ScopeWall
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording import say

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A table: heads and rows; the columns from ``numbers`` on stand right."""

    heads: Row
    rows: tuple[Row, ...]
    last: Row = ()
    """A last row in bold, empty where there is none."""
    numbers: int = 1


@dataclass(frozen=True)
class Section:
    """A heading with a table, or with paragraphs."""

    title: str
    texts: tuple[str, ...] = ()
    table: Table | None = None
    fine: bool = False
    """Whether it is set small."""


@dataclass(frozen=True)
class Content:
    """The letter in words."""

    company: str
    sender: tuple[str, ...]
    customer: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    """Date, validity and the like: a word and what it is."""
    title: str
    alert: str
    opening: str
    price: tuple[str, str]
    """What the price is of, and the price."""
    sections: tuple[Section, ...]
    """What comes before the price is first."""
    before_price: int
    """How many sections stand before the price."""
    signatures: tuple[str, str]


def content_of(letter: BidLetter, alert: str = "") -> Content:
    """The letter in words.

    Args:
        letter: The letter.
        alert: What stands on top where the takeoff is not to be relied on; empty where it is.

    Returns:
        The words; lines to fill in by hand where the job file leaves a name or date out.
    """
    blank = "_" * 24
    alerts = [legible(alert)] if alert else []
    if letter.price is None:
        alerts.append("No price yet: this bid is not complete")
    before = (Section("Scope", table=_scope(letter)),)
    after = (
        *_alternates(letter),
        *_unit_prices(letter),
        Section("Included", (_included(letter),)),
        Section("Not included", (_excluded(letter),)),
        Section("Assumptions", tuple(_assumed(letter))),
        Section("Cautions", _cautions(letter), fine=True),
    )
    to = tuple(map(legible, (letter.customer, *letter.address))) if letter.customer else (blank,)
    return Content(
        company=legible(letter.company) or blank,
        sender=tuple(map(legible, letter.sender)),
        customer=to,
        facts=(
            ("Date", legible(letter.date) or blank),
            ("Valid", legible(letter.valid) or blank),
        ),
        title=f"Proposal: {legible(letter.job) or 'stone veneer'}",
        alert=". ".join(alerts),
        opening=_opening(letter),
        price=_price(letter),
        sections=(*before, *(s for s in after if any(s.texts) or s.table)),
        before_price=len(before),
        signatures=(
            f"Offered by {legible(letter.signed_by)}" if letter.signed_by else "Offered by",
            "Accepted by",
        ),
    )


def area_words(letter: BidLetter, area: Decimal) -> str:
    """An area in the letter's units, with two places.

    Args:
        letter: The letter, for its units.
        area: An area of it.

    Returns:
        The number and its unit.
    """
    return f"{area:,.2f} {'m²' if letter.display == 'metric' else 'sq ft'}"


def money_words(letter: BidLetter, amount: Decimal) -> str:
    """An amount with two places and the currency.

    Args:
        letter: The letter, for its currency.
        amount: The money.

    Returns:
        The words.
    """
    return f"{amount:,.2f} {letter.currency}".strip()


def _opening(letter: BidLetter) -> str:
    note = f" {legible(letter.note).rstrip('.')}." if letter.note else ""
    return (
        "We offer to supply and install panelized stone veneer on the walls below, "
        f"{area_words(letter, letter.net_area)} of net area.{note}"
    )


def _scope(letter: BidLetter) -> Table:
    priced = letter.pricing == "elevation" and letter.price is not None
    rows = [
        (
            legible(e.name),
            _walls(letter, e),
            area_words(letter, e.net_area),
            *([money_words(letter, e.price or Decimal(0))] if priced else []),
        )
        for e in letter.scope
    ]
    price = [money_words(letter, letter.price)] if priced and letter.price is not None else []
    heads = ("Elevation", "Walls", "Net area", *(["Price"] if priced else []))
    last = ("All", "", area_words(letter, letter.net_area), *price)
    return Table(heads, tuple(rows), last, numbers=2)


def _walls(letter: BidLetter, elevation: ScopeElevation) -> str:
    """The walls of an elevation with their areas; their panels where the job has several."""
    told = []
    for product, walls in groupby(elevation.walls, key=lambda w: w.product):
        named = ", ".join(f"{_wall(w)} {area_words(letter, w.net_area)}" for w in walls)
        told.append(f"{named} in {legible(product)}" if product else named)
    return "; ".join(told)


def _wall(wall: ScopeWall) -> str:
    """A wall's name, or its number in the elevation where it has none."""
    return legible(wall.name) or (f"wall {wall.number}" if wall.number else "one wall")


def _price(letter: BidLetter) -> tuple[str, str]:
    if letter.price is None:
        return "Price", "to be stated"
    if letter.pricing == "area" and letter.rate is not None:
        unit = "square meter" if letter.display == "metric" else "square foot"
        rate = money_words(letter, letter.rate)
        area = area_words(letter, letter.net_area)
        return (
            f"Price for all of the above, {area} at about {rate} for each {unit}",
            money_words(letter, letter.price),
        )
    return "Price for all of the above", money_words(letter, letter.price)


def _alternates(letter: BidLetter) -> tuple[Section, ...]:
    if not letter.alternates:
        return ()
    rows = tuple(
        (legible(a.name), say(a.what, letter.display), _difference(letter, a))
        for a in letter.alternates
    )
    return (Section("Alternates", table=Table(("Alternate", "What", "Price"), rows, numbers=2)),)


def _difference(letter: BidLetter, alternate: OfferedAlternate) -> str:
    """What an alternate adds or deducts."""
    amount = alternate.difference
    if amount is None:
        return "to be stated"
    if not amount:
        return "no change"
    return f"{'add' if amount > 0 else 'deduct'} {money_words(letter, abs(amount))}"


def _unit_prices(letter: BidLetter) -> tuple[Section, ...]:
    if not letter.unit_prices:
        return ()
    rows = tuple(
        (legible(u.name), f"{money_words(letter, u.price)} per {legible(u.unit)}")
        for u in letter.unit_prices
    )
    return (Section("Unit prices for changes", table=Table(("Change", "Price"), rows)),)


def _included(letter: BidLetter) -> str:
    offered = (
        ("Supply and installation of", letter.items),
        ("Supply, without installation, of", letter.supplied),
    )
    told = (
        f"{what} {', '.join(say(item, letter.display).lower() for item in items)}"
        for what, items in offered
        if items
    )
    return "; ".join((*told, *map(legible, letter.include)))


def _excluded(letter: BidLetter) -> str:
    others = (f"{say(item, letter.display)} (by others)" for item in letter.by_others)
    unrated = (legible(say(work, letter.display)) for work in letter.unrated)
    return "; ".join((*map(legible, letter.exclude), *others, *unrated))


def _cautions(letter: BidLetter) -> tuple[str, ...]:
    return tuple(say(caution, letter.display) for caution in letter.cautions)


def _assumed(letter: BidLetter) -> list[str]:
    files = ", ".join(map(legible, letter.drawings)) or "the drawings"
    counted = "laid out panel by panel" if letter.is_laid_out else "estimated by area and run"
    panel = f" Panel: {legible(letter.product)}." if letter.product else ""
    given = ", ".join(map(legible, letter.by_sizes))
    areas = ", ".join(map(legible, letter.by_area))
    others = [f"by sizes given: {given}"] if given else []
    others += [f"by area alone: {areas}"] if areas else []
    by_others = f", and {', and '.join(others)};" if others else " and"
    measured = f"Measured from {files} as drawn{by_others} {counted}; sizes on site decide.{panel}"
    return [measured, *map(legible, letter.assume)]
