"""A settings file as read: its values, and where in the file each of them stands."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NamedTuple

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, InlineTable, Item, Table

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.named_files import read_named
from dxf2veneer.config.origin import Origin

_DEPTH = 2
"""Sections and their keys are what a settings file is asked about."""


class Spot(NamedTuple):
    """Where a section or key stands first: its line, from 1, and the comment at the line's end."""

    line: int
    comment: str


@dataclass(frozen=True, slots=True)
class SettingsFile:
    """A TOML file of sections."""

    path: Path
    values: Mapping[str, Mapping[str, Any]]
    """Values by section and key."""
    spots: Mapping[tuple[str, ...], Spot]
    """Where sections, by (section,), and keys, by (section, key), stand."""
    lines: tuple[str, ...] = ()
    """Its lines."""

    def origin(self, section: str, key: str = "") -> Origin:
        """The origin of a section or of a key of it."""
        spot = self.spots.get((section, key) if key else (section,))
        name = f"{section}.{key}" if key else section
        return Origin("file", self.path, spot.line if spot else None, name)

    def place(self, section: str, key: str = "") -> Message:
        """The place of a section or key, for a message: ``job.toml, line 12``."""
        return self.origin(section, key).place(folders=True)

    def place_of_item(self, section: str, key: str, item: str) -> Message:
        """The place of one text of a list: its own line, or where the list begins."""
        origin = self.origin(section, key)
        first = origin.line or 1
        line = next(
            (n for n, text in enumerate(self.lines[first - 1 :], first) if item in text),
            origin.line,
        )
        return replace(origin, line=line).place(folders=True)

    def comment(self, section: str, key: str) -> str:
        """What is written behind a key on its line; empty where nothing is."""
        spot = self.spots.get((section, key))
        return spot.comment if spot else ""


def read(path: Path) -> SettingsFile:
    """Read a TOML file of sections.

    Args:
        path: The file.

    Returns:
        Its values, with their places.

    Raises:
        SettingsError: It is missing, is no UTF-8 text, is no TOML, or a key stands in no section.
    """
    content = _text(path)
    try:
        values = tomllib.loads(content)
    except tomllib.TOMLDecodeError as error:
        raise SettingsError(message("file-not-toml", file=str(path), reason=str(error))) from None
    except (ValueError, RecursionError):
        raise SettingsError(message("file-beyond-reading", file=str(path))) from None
    file = SettingsFile(path, values, _spots(content), tuple(content.splitlines()))
    for section, body in values.items():
        if not isinstance(body, dict):
            raise SettingsError(
                message("key-without-section", place=file.place(section), key=section)
            )
    return file


def _text(path: Path) -> str:
    try:
        return read_named(path).decode("utf-8-sig")
    except ValueError as error:
        raise SettingsError(
            message("file-not-text", file=str(path), error=type(error).__name__)
        ) from None


# ------------------------------------------------------------------ places


def _spots(content: str) -> dict[tuple[str, ...], Spot]:
    """Where sections and keys stand, none where the text is beyond the parser that keeps places."""
    try:
        body = tomlkit.parse(content).body
    except (TOMLKitError, ValueError, RecursionError):
        return {}
    spots: dict[tuple[str, ...], Spot] = {}
    for path, spot in _walk(body, (), 1, "")[0]:
        spots.setdefault(path, spot)
    return spots


_Found = list[tuple[tuple[str, ...], Spot]]


def _walk(body: list[Any], above: tuple[str, ...], line: int, comment: str) -> tuple[_Found, int]:
    """Paths and spots of a table's keys in the order of the file, and the line behind it.

    tomlkit keeps the file's text in pieces, in order; a line is the number of line ends before it.
    """
    found: _Found = []
    for key, item in body:
        if key is None:  # a blank or comment line between keys
            line += item.as_string().count("\n")
            continue
        for part in _parts(item):
            inside, line = _item(part, (*above, key.key), line, comment)
            found += inside
    return found, line


def _parts(item: Item) -> Iterator[Item]:
    """An array of tables stands as its tables; everything else for itself."""
    if isinstance(item, AoT):
        yield from item.body
    else:
        yield item


def _item(item: Item, path: tuple[str, ...], line: int, comment: str) -> tuple[_Found, int]:
    """The spots of one item and of what is inside it, and the line behind it."""
    trivia = item.trivia
    line += trivia.indent.count("\n")
    said = trivia.comment.lstrip("#").strip() or comment
    here = [(path, Spot(line, said))] if len(path) <= _DEPTH else []
    if isinstance(item, Table):
        ends = 0 if item.is_super_table() else trivia.trail.count("\n")
        inside, line = _walk(item.value.body, path, line + ends, "")
        return here + inside, line
    inside = []
    if isinstance(item, InlineTable):
        inside = _walk(item.value.body, path, line, said)[0]
    return here + inside, line + item.as_string().count("\n") + trivia.trail.count("\n")
