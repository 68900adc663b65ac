"""Markup of the report and of the elevations' pictures. Whatever comes from a drawing passes through here.

``escaped`` makes text safe between tags and inside quoted attributes, ``script_json`` inside a script
element. Signs that would turn the reading direction or hide are shown as a replacement sign, so that a
name reads as what it is.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

_SIGNS = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;", "`": "&#96;"}
_VOID = frozenset({"br", "col", "input", "link", "meta"})
_IN_SCRIPT = {sign: f"\\u{ord(sign):04x}" for sign in "<>&'\u2028\u2029"}
_PLACES = 3
"""Decimals of coordinates: a thousandth of an inch."""


class Markup(str):
    """Text that is markup already and is not escaped again."""

    __slots__ = ()


def shown(text: str) -> str:
    """One line of text in which every sign can be seen: control, direction and surrogate signs are replaced."""
    return "".join(c if c.isprintable() else " " if c in "\t\n\r" else "\ufffd" for c in text)


def escaped(text: str) -> Markup:
    """Text as it stands between tags or in a quoted attribute. Markup passes as it is."""
    if isinstance(text, Markup):
        return text
    return Markup("".join(_SIGNS.get(c, c) for c in shown(text)))


def tag(name: str, attributes: dict[str, str | float | None] | None = None, *content: str) -> Markup:
    """One element. Attributes that are None are left out; texts are escaped."""
    words = [name]
    for key, value in (attributes or {}).items():
        if value is not None:
            text = value if isinstance(value, str) else number(value)
            words.append(f'{key}="{escaped(text)}"')
    inside = "".join(map(escaped, content))
    return Markup(f"<{' '.join(words)}>" if name in _VOID else f"<{' '.join(words)}>{inside}</{name}>")


def joined(parts: Iterable[str]) -> Markup:
    """Texts and markup one after the other, the texts escaped."""
    return Markup("".join(map(escaped, parts)))


def number(value: float) -> str:
    """A number as short as it can be, to a thousandth."""
    text = f"{value:.{_PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def script_json(value: Any) -> Markup:
    """A value for a script element of the type application/json: no sign in it can end the element."""
    text = json.dumps(_seen(value), ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return Markup("".join(_IN_SCRIPT.get(c, c) for c in text))


def _seen(value: Any) -> Any:
    """The value with every text in it as ``shown``."""
    if isinstance(value, str):
        return shown(value)
    if isinstance(value, dict):
        return {shown(key): _seen(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_seen(item) for item in value]
    return value
