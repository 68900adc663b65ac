"""The same settings in other spellings of TOML, as texts of a TOML library.

[bid]                               bid.alternates = [{...}, {...}]
alternates = [{...}, {...}]         bid = { alternates = [{...}, {...}] }
                                    [[bid.alternates]] twice
"""

from __future__ import annotations

import random
import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.items import Item, Key, KeyType, SingleKey

Values = Mapping[str, Mapping[str, Any]]


def spelled(values: Values, seed: int) -> str:
    """One of many spellings of the values; the same seed gives the same one."""
    dice = random.Random(seed)
    names = list(values)
    dice.shuffle(names)
    styles = {name: dice.choice(("table", "table", "inline", "dotted")) for name in names}
    document = tomlkit.document()
    for name in (n for n in names if styles[n] != "table"):  # none of these may follow a header
        add = _add_inline if styles[name] == "inline" else _add_dotted
        add(document, name, values[name], dice)
        _add_noise(document, dice)
    for name in (n for n in names if styles[n] == "table"):
        _add_table(document, name, values[name], dice)
    text = tomlkit.dumps(document)
    assert tomllib.loads(text) == {k: dict(v) for k, v in values.items()}
    return text


def plain(values: Values) -> str:
    """The values in the library's own spelling."""
    return tomlkit.dumps({k: dict(v) for k, v in values.items()})


def _key(name: str, dice: random.Random) -> Key:
    kind = dice.choice((KeyType.Bare, KeyType.Basic, KeyType.Literal))
    return SingleKey(name, t=kind)


def _add_noise(document: Any, dice: random.Random) -> None:
    """Comments and blank lines, some of which look like settings."""
    if dice.random() < 0.5:
        document.add(tomlkit.nl())
    if dice.random() < 0.5:
        document.add(
            tomlkit.comment(dice.choice(("[product]", 'file = "decoy.toml"', "alternates")))
        )


def _add_inline(document: Any, name: str, body: Mapping[str, Any], dice: random.Random) -> None:
    table = tomlkit.inline_table()
    for key, value in _shuffled(body, dice):
        table.append(_key(key, dice), _item(value, dice, nested=True))
    document.append(_key(name, dice), table)


def _add_dotted(document: Any, name: str, body: Mapping[str, Any], dice: random.Random) -> None:
    for key, value in _shuffled(body, dice):
        parts = [_key(name, dice), _key(key, dice)]
        document.append(tomlkit.items.DottedKey(parts), _item(value, dice))


def _add_table(document: Any, name: str, body: Mapping[str, Any], dice: random.Random) -> None:
    table = tomlkit.table()
    listed = _shuffled(body, dice)
    of_tables = [(k, v) for k, v in listed if _is_tables(v) and dice.random() < 0.7]
    for key, value in listed:
        if (key, value) not in of_tables:
            table.append(_key(key, dice), _item(value, dice))
            _add_noise(table, dice)
    for key, value in of_tables:  # [[name.key]] stands behind the keys of [name]
        array = tomlkit.aot()
        for entry in value:
            one = tomlkit.table()
            for k, v in entry.items():
                one.append(_key(k, dice), _item(v, dice))
            array.append(one)
        table.append(key, array)
    document.append(name, table)


def _shuffled(body: Mapping[str, Any], dice: random.Random) -> list[tuple[str, Any]]:
    listed = list(body.items())
    dice.shuffle(listed)
    return listed


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _item(value: Any, dice: random.Random, *, nested: bool = False) -> Item:
    if isinstance(value, str):
        return _string(value, dice)
    if isinstance(value, list):
        array = tomlkit.array()
        for entry in value:
            array.append(_item(entry, dice, nested=True))
        return array.multiline(not nested and dice.random() < 0.5)
    if isinstance(value, dict):
        table = tomlkit.inline_table()
        for key, entry in value.items():
            table.append(_key(key, dice), _item(entry, dice, nested=True))
        return table
    return tomlkit.item(value)


def _string(text: str, dice: random.Random) -> Item:
    """A basic, a literal, or one of the two in several lines, the first of which is empty."""
    simple = "'" not in text and "\\" not in text and '"' not in text and "\n" not in text
    raw = dice.choice((
        tomlkit.item(text).as_string(),
        f"'{text}'",
        f'"""\n{text}"""',
        f"'''\n{text}'''",
        f'"""\\\n\n   {text}"""' if text.strip() == text != "" else f'"{text}"',
    )) if simple else tomlkit.item(text).as_string()  # fmt: skip
    return tomlkit.value(raw)
