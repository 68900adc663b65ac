"""The price file: what an item costs, in TOML, CSV or XLSX.

A table has the columns item, unit, price and, where wanted, package, weight, date, currency; other columns
are left alone. In TOML each item is a section, and date and currency stand under [prices]. A price is that
of one unit (``each``, ``ft``, ``sq ft``) or of one package (``package`` or the package's name); ``package`` is
how much a package holds and ``weight`` what it weighs in pounds, where they differ from the product file's.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from dxf2veneer.config.goods import ITEMS, SECTIONS
from dxf2veneer.config.settings import SettingsError, nearest, read
from dxf2veneer.order.tables import read_rows

_VALUES = ("unit", "price", "package", "weight")
_HIGHEST = Decimal(10) ** 9


@dataclass(frozen=True)
class PriceItem:
    """One line of a price file. ``item`` is a key; ``where`` its file and line, for messages."""

    item: str
    unit: str
    price: Decimal | None
    package: Decimal | None
    weight: Decimal | None
    where: str


@dataclass(frozen=True)
class Prices:
    """A price file as read. ``unknown`` says of each line that is about no item what was probably meant."""

    file: str
    date: str
    currency: str
    items: tuple[PriceItem, ...]
    unknown: tuple[str, ...] = ()

    def of(self, *keys: str) -> PriceItem | None:
        """The line about the first of the keys that has one."""
        by_key = {i.item: i for i in self.items}
        return next((by_key[k] for k in keys if k in by_key), None)


NO_PRICES = Prices("", "", "", ())
"""What stands in where there is no price file."""


def load_prices(path: Path) -> Prices:
    """The prices of a file, by its ending. Raises SettingsError naming the file and the line."""
    ending = path.suffix.lower()
    if ending == ".toml":
        return _from_toml(path)
    if ending in (".csv", ".xlsx"):
        return _from_table(path, read_rows(path))
    raise SettingsError(
        f"{path}: a price file is TOML, CSV or XLSX; its name ends in .toml, .csv or .xlsx"
    )


def _from_toml(path: Path) -> Prices:
    source = read(path)
    about = dict(source.values.get("prices", {}))
    for key in about:
        if key not in ("date", "currency"):
            raise SettingsError(
                f"{source.where('prices', key)}: prices.{key} is not a setting; {nearest(key, {'date': 0, 'currency': 0})}"
            )
    rows = []
    for section, body in source.values.items():
        for key in body if section != "prices" else ():
            if key not in _VALUES:
                raise SettingsError(
                    f"{source.where(section, key)}: {section}.{key} is not a setting; {nearest(key, dict.fromkeys(_VALUES))}"
                )
        if section != "prices":
            rows.append((source.where(section), {"item": section, **body}))
    return _prices(path, str(about.get("date", "")), str(about.get("currency", "")), rows)


def _from_table(path: Path, rows: list[tuple[int, dict[str, Any]]]) -> Prices:
    placed = [(f"{path}, row {number}", row) for number, row in rows]
    return _prices(path, _same(placed, "date"), _same(placed, "currency"), placed)


def _same(rows: Iterable[tuple[str, Mapping[str, Any]]], column: str) -> str:
    """The one value of a column."""
    found = ""
    for where, row in rows:
        value = str(row.get(column, "") or "").strip()
        value = value.removesuffix(" 00:00:00")
        if value and found and value != found:
            raise SettingsError(
                f"{where}: the {column} is {value}, but {found} above; a price file has one {column}"
            )
        found = found or value
    return found


def _prices(
    path: Path, date: str, currency: str, rows: Iterable[tuple[str, Mapping[str, Any]]]
) -> Prices:
    items: dict[str, PriceItem] = {}
    unknown = []
    for where, row in rows:
        item = _price_item(where, row)
        if not _is_known(item.item):
            known = dict.fromkeys([*ITEMS, *SECTIONS])
            unknown.append(
                f"{where}: {row['item']} is no item of the order; {nearest(item.item, known)}"
            )
        elif item.item in items:
            raise SettingsError(
                f"{where}: {item.item} has a price already, at {items[item.item].where}; take one of them out"
            )
        else:
            items[item.item] = item
    return Prices(str(path), date, currency, tuple(items.values()), tuple(unknown))


def _price_item(where: str, row: Mapping[str, Any]) -> PriceItem:
    name = str(row.get("item") or "").strip()
    if not name:
        raise SettingsError(f"{where}: the item is missing")
    price, package, weight = (
        _number(where, column, row.get(column)) for column in ("price", "package", "weight")
    )
    if package is not None and package == 0:
        raise SettingsError(f"{where}: package = 0: wants how much a package holds; for example 3")
    unit = str(row.get("unit") or "").strip().lower()
    if price is not None and not unit:
        raise SettingsError(
            f"{where}: the price of {name} has no unit; write each, ft, sq ft or package"
        )
    return PriceItem(_key(name), unit, price, package, weight, where)


def _number(where: str, column: str, value: Any) -> Decimal | None:
    """A number that is not below zero; None for an empty cell."""
    text = "" if value is None else str(value).strip()
    if not text:
        return None
    try:
        number = Decimal(text)
    except InvalidOperation:
        number = Decimal("NaN")
    if isinstance(value, bool) or not number.is_finite() or not 0 <= number <= _HIGHEST:
        raise SettingsError(
            f"{where}: {column} = {text!r}: wants a number from 0, written with a decimal point; for example 61.50"
        )
    return number


_TITLES = {re.sub(r"[^a-z0-9]+", "_", i.title.lower()): i.key for i in ITEMS.values()}


def _key(name: str) -> str:
    """The key that a price file's item stands for: keys and titles alike, spaces and case let be."""
    words = name.lower().split()
    if len(words) == 2 and words[0] == "fixture_block":
        return " ".join(words)
    plain = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
    return _TITLES.get(plain, plain)


def _is_known(key: str) -> bool:
    return key in ITEMS or key in SECTIONS or key.startswith("fixture_block ")
