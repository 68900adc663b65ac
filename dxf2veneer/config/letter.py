"""The job file's section about the customer's bid as a letter: to whom, when, in which way priced.

Nothing here has a default that promises or costs anything.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.config.basis import OWN
from dxf2veneer.config.checks import as_choice, as_names, as_number, as_tables, as_text
from dxf2veneer.config.settings import setting


class UnitPrice(NamedTuple):
    """What a change costs: so much for one of a unit."""

    name: str
    price: float
    unit: str


as_unit_prices = as_tables(
    UnitPrice, name=(as_text, ...), price=(as_number(0.0, 1e9), ...), unit=(as_text, ...)
)


@dataclass(frozen=True)
class LetterSettings:
    """The customer's bid, which --bid writes as a letter."""

    customer: str = setting("", "whom the bid is for", as_text, '"Mill Lane Builders"')
    address: tuple[str, ...] = setting(
        (), "lines of the customer's address", as_names, '["12 Mill Lane", "Alder Falls"]'
    )
    sender: tuple[str, ...] = setting(
        (),
        "lines under your company's name: address, telephone, license",
        as_names,
        '["4 Quarry Road, Alder Falls", "Tel. 555 0100"]',
    )
    date: str = setting("", "date of the bid, as it is printed", as_text, '"March 3, 2026"')
    valid: str = setting("", "how long the bid is valid", as_text, '"30 days from its date"')
    note: str = setting(
        "", "a sentence behind the first one of the letter", as_text, '"Bid set of 3 March"'
    )
    pricing: str = setting(
        "lump",
        "how the price is stated: lump (one price), elevation (a price for each), area (with "
        "what it comes to for each square foot or square meter of net area)",
        as_choice("lump", "elevation", "area"),
        '"elevation"',
        basis=OWN,
    )
    unit_prices: tuple[UnitPrice, ...] = setting(
        (),
        "prices for changes: name, price, unit",
        as_unit_prices,
        '[{ name = "Stone veneer added", price = 34, unit = "sq ft" }]',
    )
    assume: tuple[str, ...] = setting(
        (), "what the bid assumes", as_names, '["Walls are ready and plumb within 1/4 in"]'
    )
    signed_by: str = setting("", "who signs for your company", as_text, '"R. Alder, estimator"')
