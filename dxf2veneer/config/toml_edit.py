"""Settings of a TOML file changed in place: everything else, and every comment, stays."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Array, Table

from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError

_LINE = re.compile(r"""\s*("(?:[^"\\]|\\.)*"|'[^']*')\s*,?\s*#\s*(.*?)\s*""")
"""A text of a list on a line of its own, and the comment behind it."""


@dataclass(frozen=True)
class Line:
    """A text in a list of texts."""

    text: str
    """The text."""
    comment: str = ""
    """What stands behind it on its line, unless the file says something there already."""


Value = str | float | bool | Sequence[Line] | None
"""A setting's value; None to take it out."""


def changed(content: str, values: Mapping[tuple[str, str], Value]) -> str:
    """The text of a settings file with some settings changed.

    Args:
        content: The file's text; empty for a new one.
        values: Values by section and key. A list of texts gets one text a line.

    Returns:
        The text; what was not named is as it was.

    Raises:
        SettingsError: The text is no TOML, or a section's place is taken by something else.
    """
    try:
        document = tomlkit.parse(content)
        for (section, key), value in values.items():
            table = document.get(section)
            if table is None:
                if value is None:
                    continue
                table = tomlkit.table()
                document[section] = table
            if not isinstance(table, Table):
                raise SettingsError(message("page-section-taken", section=section))
            _set(table, key, value)
        return tomlkit.dumps(document)
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise SettingsError(message("page-job-unreadable", reason=str(error))) from None


def _set(table: Table, key: str, value: Value) -> None:
    """One setting; a value that is the same already keeps its line."""
    there = table.get(key)
    if value is None:
        if there is not None:
            table.remove(key)
    elif isinstance(value, str | bool | float):
        if there != value:
            table[key] = value
    else:
        table[key] = _list(value, there)


def _list(lines: Sequence[Line], there: object) -> Array:
    """A list with one text a line; a comment that stands behind the same text stays."""
    kept = dict(_commented(there)) if isinstance(there, Array) else {}
    made = tomlkit.array()
    for line in lines:
        comment = kept.get(line.text, line.comment)
        made.add_line(line.text, indent="    ", comment=_plain(comment) or None)
    if lines:
        made.add_line(indent="")
    return made


def _commented(array: Array) -> list[tuple[str, str]]:
    """Texts of a list with the comments behind them."""
    found = (_LINE.fullmatch(line) for line in array.as_string().splitlines())
    return [(str(tomlkit.value(f[1]).unwrap()), f[2]) for f in found if f]


def _plain(text: str) -> str:
    """Text that fits into one comment line."""
    return "".join(c if c.isprintable() else " " for c in text)
