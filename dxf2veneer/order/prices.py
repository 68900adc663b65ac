"""The price file: what an item costs, in TOML, CSV or XLSX.

A table has the columns item, unit, price and, where wanted, package, weight, product, supplier,
date, valid_until, currency; other columns are left alone. In TOML each item is a section, and date
and currency stand under [prices]. docs/prices.md describes the columns.
A price is that of one unit (``each``, ``ft``, ``sq ft``) or of one package (``package`` or the
package's name); ``package`` is how much a package holds and ``weight`` what it weighs, in the units
of the product's goods (pounds, or kilograms), where they differ from the product file's.
"""

from __future__ import annotations

import dataclasses
import datetime
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import HIGHEST_PRICE
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.checks import plain
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import ITEMS, SECTIONS
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.pricing import AS_WRITTEN, OF_THE_LINE, PriceName, Pricing, as_day
from dxf2veneer.config.product import Product
from dxf2veneer.config.settings import nearest
from dxf2veneer.config.toml_file import read
from dxf2veneer.order.tables import read_rows

_VALUES = ("unit", "price", "package", "weight", "product", "supplier", "valid_until")
_ABOUT = ("date", "currency")


@dataclass(frozen=True)
class PriceItem:
    """One line of a price file."""

    item: str
    """Key of the item."""
    unit: str
    """What the price is for, in small letters."""
    price: Decimal | None
    package: Decimal | None
    """How much a package holds, where that differs from the product file's."""
    weight: Decimal | None
    """Weight of a package in the unit of the product's goods, where it differs from the product
    file's."""
    origin: Origin
    """The file and line."""
    product: str = ""
    """Name of the panel line that it is of, or of its file; empty where the price names none."""
    supplier: str = ""
    valid_until: datetime.date | None = None
    """The last day that the price holds; None where none is given."""


@dataclass(frozen=True)
class Prices:
    """A price file as read."""

    file: Path | None
    """The file; None where there is none."""
    date: str
    currency: str
    items: tuple[PriceItem, ...]
    unknown: tuple[Message, ...] = ()
    """Of each line that is about no item: what was probably meant."""
    left_out: int = 0
    """Lines of a supplier's list that are about no item of the job's own names."""
    of_no_product: tuple[str, ...] = ()
    """Items that have a price which names no product, while the product is not the job's own."""
    day: datetime.date | None = None
    """The day on which they must hold, settled as the file is read; None where no price has a last
    day."""
    of_others: tuple[tuple[str, str], ...] = ()
    """Items that have prices of other products alone, and those products as written."""

    def of_product(self, product: Product, *, is_own: bool) -> Prices:
        """The prices that are good for a product: its own before those that name none.

        Args:
            product: The panel line.
            is_own: Whether it is the job's own. A price that names no product is not taken for
                another line's panels, stones and strips.

        Returns:
            The prices, one for each item.

        Raises:
            SettingsError: An item has two prices of the product, under its name and its file's.
        """
        path = product.file
        names = {product.product.name, *((path.name, path.stem) if path else ())}
        known = {n.casefold() for n in names if n}
        own: dict[str, PriceItem] = {}
        for p in self.items:
            if p.product.casefold() in known:
                if p.item in own:
                    raise _twice(p, own[p.item])
                own[p.item] = p
        unnamed = {p.item: p for p in self.items if not p.product and p.item not in own}
        kept = {k for k in unnamed if is_own or not _is_of_the_line(k)}
        items = tuple(
            p for p in self.items if own.get(p.item) is p or (p.item in kept and not p.product)
        )
        lacking = tuple(k for k in unnamed if k not in kept)
        priced = {p.item for p in items}
        others = tuple(
            (p.item, p.product) for p in self.items if p.item not in priced and p.product
        )
        return dataclasses.replace(self, items=items, of_no_product=lacking, of_others=others)

    def of(self, *keys: str) -> PriceItem | None:
        """The line about the first of the keys that has one."""
        by_key = {i.item: i for i in self.items}
        return next((by_key[k] for k in keys if k in by_key), None)

    def expired(self, item: PriceItem) -> datetime.date | None:
        """The last day of a price, where that lies before the day on which prices must hold."""
        until = item.valid_until
        return until if until and self.day and until < self.day else None


NO_PRICES = Prices(None, "", "", ())
"""What stands in where there is no price file."""


def load_prices(path: Path, how: Pricing = AS_WRITTEN) -> Prices:
    """The prices of a file.

    Args:
        path: A file whose name ends in .toml, .csv or .xlsx.
        how: Names of a supplier's columns and goods, and whose prices are taken.

    Returns:
        The prices.

    Raises:
        SettingsError: The file can't be read, or a line of it is wrong.
    """
    ending = path.suffix.lower()
    if ending == ".toml":
        return _from_toml(path, how)
    if ending in (".csv", ".xlsx"):
        return _from_table(path, how)
    raise SettingsError(message("prices-ending", file=str(path)))


_Row = tuple[Origin, Mapping[str, Any]]
"""A row of a price file: where it stands, and its cells by column."""


def _from_toml(path: Path, how: Pricing) -> Prices:
    file = read(path)
    about: dict[str, Any] = {}
    rows: list[_Row] = []
    for section, body in file.values.items():
        known = _ABOUT if section == "prices" else _VALUES
        for key in body:
            if key not in known:
                raise SettingsError(
                    message(
                        "setting-unknown",
                        place=file.place(section, key),
                        setting=f"{section}.{key}",
                        hint=nearest(key, known),
                    )
                )
        if section == "prices":
            about = dict(body)
        else:
            rows.append((file.origin(section), {"item": section, **body}))
    return _prices(path, str(about.get("date", "")), str(about.get("currency", "")), rows, how)


def _from_table(path: Path, how: Pricing) -> Prices:
    rows: list[_Row] = [
        (Origin("file", path, number, in_table=True), row)
        for number, row in read_rows(path, how.columns)
    ]
    return _prices(path, _dates(rows), _same(rows, "currency"), rows, how)


def _dates(rows: Iterable[_Row]) -> str:
    """The dates of the prices, the earliest first: lists of several suppliers have several."""
    written = (str(row.get("date", "") or "").strip() for _, row in rows)
    return ", ".join(sorted({w.removesuffix(" 00:00:00") for w in written} - {""}))


def _same(rows: Iterable[_Row], column: str) -> str:
    """The one value of a column."""
    found = ""
    for origin, row in rows:
        value = str(row.get(column, "") or "").strip()
        value = value.removesuffix(" 00:00:00")
        if value and found and value != found:
            place = origin.place(folders=True)
            raise SettingsError(
                message("prices-differ", place=place, column=column, value=value, above=found)
            )
        found = found or value
    return found


def _prices(path: Path, date: str, currency: str, rows: Iterable[_Row], how: Pricing) -> Prices:
    listed: dict[tuple[str, str, str], PriceItem] = {}
    unknown, left_out = [], 0
    theirs = {plain(n.theirs): n for n in how.names}
    _refuse_unknown_items(path, how)
    for origin, written in rows:
        row = _named(written, theirs)
        item = _price_item(origin, row)
        key = (item.item, item.product.casefold(), item.supplier.casefold())
        if not _is_known(item.item):
            left_out += 1
            hint = nearest(item.item, dict.fromkeys([*ITEMS, *SECTIONS]))
            place, name = origin.place(), str(row["item"])
            unknown.append(message("price-of-no-item", place=place, name=name, hint=hint))
        elif key in listed:
            raise _twice(item, listed[key])
        else:
            listed[key] = item
    items = _of_suppliers(path, tuple(listed.values()), how)
    day = how.settled_day() if any(item.valid_until for item in items) else None
    if theirs:  # a supplier's whole list holds much else
        return Prices(path, date, currency, items, left_out=left_out, day=day)
    return Prices(path, date, currency, items, tuple(unknown), day=day)


def _twice(item: PriceItem, first: PriceItem) -> SettingsError:
    """The error of an item that has two prices."""
    place, before = (one.origin.place(folders=True) for one in (item, first))
    return SettingsError(message("price-twice", place=place, item=item.item, first=before))


def _named(row: Mapping[str, Any], theirs: Mapping[str, PriceName]) -> Mapping[str, Any]:
    """A row with our name of its item, and the product that goes with it."""
    name = theirs.get(plain(row.get("item")))
    if name is None:
        return row
    return {**row, "item": name.item, "product": name.product or row.get("product", "")}


def _refuse_unknown_items(path: Path, how: Pricing) -> None:
    """SettingsError where the job file names an item that the order does not have."""
    for name in how.names:
        if not _is_known(_key(name.item)):
            hint = nearest(_key(name.item), dict.fromkeys([*ITEMS, *SECTIONS]))
            raise SettingsError(
                message("price-name-of-no-item", file=str(path), name=name.item, hint=hint)
            )


def _of_suppliers(path: Path, listed: tuple[PriceItem, ...], how: Pricing) -> tuple[PriceItem, ...]:
    """One price for each item of a product: that of the supplier who goes first."""
    rank = {plain(name): n for n, name in enumerate(how.suppliers)}
    there = {plain(item.supplier): item.supplier for item in listed if item.supplier}
    for name in how.suppliers:
        if plain(name) not in there:
            known = tuple(there.values()) or ("none",)
            raise SettingsError(
                message("price-supplier-unknown", file=str(path), name=name, known=known)
            )
    chosen: dict[tuple[str, str], PriceItem] = {}
    for item in listed:
        key = (item.item, item.product.casefold())
        first = chosen.get(key)
        if first is None:
            chosen[key] = item
            continue
        ranks = [rank.get(plain(p.supplier), len(rank)) for p in (first, item)]
        if ranks[0] == ranks[1]:
            raise SettingsError(
                message(
                    "price-of-suppliers",
                    place=item.origin.place(folders=True),
                    item=item.item,
                    suppliers=(first.supplier or "none", item.supplier or "none"),
                )
            )
        if ranks[1] < ranks[0]:
            chosen[key] = item
    return tuple(chosen.values())


def _price_item(origin: Origin, row: Mapping[str, Any]) -> PriceItem:
    place = origin.place(folders=True)
    name = str(row.get("item") or "").strip()
    if not name:
        raise SettingsError(message("price-item-missing", place=place))
    price, package, weight = (
        _number(place, column, row.get(column)) for column in ("price", "package", "weight")
    )
    if package is not None and package == 0:
        raise SettingsError(message("price-package-empty", place=place))
    unit = str(row.get("unit") or "").strip().lower()
    if price is not None and not unit:
        raise SettingsError(message("price-unit-missing", place=place, item=name))
    product, supplier = (str(row.get(c) or "").strip() for c in ("product", "supplier"))
    until = _day(place, row.get("valid_until"))
    return PriceItem(_key(name), unit, price, package, weight, origin, product, supplier, until)


def _day(place: Message, value: Any) -> datetime.date | None:
    """The day in a cell; None for an empty one."""
    if value is None or not str(value).strip():
        return None
    try:
        return as_day(value)
    except WrongValueError:
        written = str(value)
        raise SettingsError(message("price-day-wrong", place=place, written=written)) from None


def _number(place: Message, column: str, value: Any) -> Decimal | None:
    """A number that is not below zero; None for an empty cell."""
    text = "" if value is None else str(value).strip()
    if not text:
        return None
    try:
        number = Decimal(text)
    except InvalidOperation:
        number = Decimal("NaN")
    if isinstance(value, bool) or not number.is_finite() or not 0 <= number <= HIGHEST_PRICE:
        raise SettingsError(message("price-number-wrong", place=place, column=column, written=text))
    return number


_IN_COLORS = ("flat_panel", "corner_panel")
"""Items whose key may have a color behind it: ``flat_panel buff``, or ``Flat panel, Buff``."""
_TITLES = {re.sub(r"[^a-z0-9]+", "_", i.title.lower()): i.key for i in ITEMS.values()}


def _key(name: str) -> str:
    """The key that a price file's item stands for: keys and titles alike,
    spaces and case let be.
    """
    words = name.lower().split()
    if len(words) == 2 and words[0] == "fixture_block":
        return " ".join(words)
    plain = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
    for panel in _IN_COLORS:
        color = color_key(name).removeprefix(f"{panel}_")
        if color != color_key(name):
            return f"{panel} {color}"
    return _TITLES.get(plain, plain)


def _is_of_the_line(key: str) -> bool:
    """Whether a panel line brings an item itself."""
    name = key.partition(" ")[0]
    return (ITEMS[name].section if name in ITEMS else name) in OF_THE_LINE


def _is_known(key: str) -> bool:
    return (
        key in ITEMS
        or key in SECTIONS
        or key.startswith(("fixture_block ", *(f"{panel} " for panel in _IN_COLORS)))
    )
