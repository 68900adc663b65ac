"""The price file: what an item costs, in TOML, CSV or XLSX.

A table has the columns item, unit, price and, where wanted, package, weight, date, currency; other
columns are left alone. In TOML each item is a section, and date and currency stand under [prices].
A price is that of one unit (``each``, ``ft``, ``sq ft``) or of one package (``package`` or the
package's name); ``package`` is how much a package holds and ``weight`` what it weighs in pounds,
where they differ from the product file's.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import HIGHEST_PRICE
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import ITEMS, SECTIONS
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.settings import nearest
from dxf2veneer.config.toml_file import read
from dxf2veneer.order.tables import read_rows

_VALUES = ("unit", "price", "package", "weight")
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
    """Pounds of a package, where that differs from the product file's."""
    origin: Origin
    """The file and line."""


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

    def of(self, *keys: str) -> PriceItem | None:
        """The line about the first of the keys that has one."""
        by_key = {i.item: i for i in self.items}
        return next((by_key[k] for k in keys if k in by_key), None)


NO_PRICES = Prices(None, "", "", ())
"""What stands in where there is no price file."""


def load_prices(path: Path) -> Prices:
    """The prices of a file.

    Args:
        path: A file whose name ends in .toml, .csv or .xlsx.

    Returns:
        The prices.

    Raises:
        SettingsError: The file can't be read, or a line of it is wrong.
    """
    ending = path.suffix.lower()
    if ending == ".toml":
        return _from_toml(path)
    if ending in (".csv", ".xlsx"):
        return _from_table(path)
    raise SettingsError(message("prices-ending", file=str(path)))


_Row = tuple[Origin, Mapping[str, Any]]
"""A row of a price file: where it stands, and its cells by column."""


def _from_toml(path: Path) -> Prices:
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
    return _prices(path, str(about.get("date", "")), str(about.get("currency", "")), rows)


def _from_table(path: Path) -> Prices:
    rows: list[_Row] = [
        (Origin("file", path, number, in_table=True), row) for number, row in read_rows(path)
    ]
    return _prices(path, _same(rows, "date"), _same(rows, "currency"), rows)


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


def _prices(path: Path, date: str, currency: str, rows: Iterable[_Row]) -> Prices:
    items: dict[str, PriceItem] = {}
    unknown = []
    for origin, row in rows:
        item = _price_item(origin, row)
        if not _is_known(item.item):
            hint = nearest(item.item, dict.fromkeys([*ITEMS, *SECTIONS]))
            place, name = origin.place(), str(row["item"])
            unknown.append(message("price-of-no-item", place=place, name=name, hint=hint))
        elif item.item in items:
            first = items[item.item].origin.place(folders=True)
            raise SettingsError(
                message(
                    "price-twice",
                    place=origin.place(folders=True),
                    item=item.item,
                    first=first,
                )
            )
        else:
            items[item.item] = item
    return Prices(path, date, currency, tuple(items.values()), tuple(unknown))


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
    return PriceItem(_key(name), unit, price, package, weight, origin)


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


def _is_known(key: str) -> bool:
    return (
        key in ITEMS
        or key in SECTIONS
        or key.startswith(("fixture_block ", *(f"{panel} " for panel in _IN_COLORS)))
    )
