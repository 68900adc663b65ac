"""Markup of the report and of the elevations' pictures. Whatever comes from a drawing passes
through here.

``escaped`` makes text safe between tags and inside quoted attributes, ``script_json`` inside a
script element; escaping.py says what becomes of each sign.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import Any

from dxf2veneer.textio.escaping import for_markup, for_script, visible

_VOID = frozenset({"br", "col", "input", "link", "meta"})
_PLACES = 3
"""Decimals of coordinates: a thousandth of an inch."""


class Markup(str):
    """Text that is markup already and is not escaped again."""

    __slots__ = ()


def escaped(text: str) -> Markup:
    """Text as it stands between tags or in a quoted attribute.

    Markup passes as it is.

    Args:
        text: A text, or markup.

    Returns:
        The text as it stands in markup.
    """
    if isinstance(text, Markup):
        return text
    return Markup(for_markup(text))


def tag(
    name: str, attributes: Mapping[str, str | float | None] | None = None, *content: str
) -> Markup:
    """One element.

    Attributes that are None are left out; texts are escaped.

    Args:
        name: The element's name.
        attributes: Attributes; those that are None are left out.
        *content: What stands in it; texts are escaped.

    Returns:
        The element.
    """
    words = [name]
    for key, value in (attributes or {}).items():
        if value is not None:
            text = value if isinstance(value, str) else number(value)
            words.append(f'{key}="{escaped(text)}"')
    inside = "".join(map(escaped, content))
    return Markup(
        f"<{' '.join(words)}>" if name in _VOID else f"<{' '.join(words)}>{inside}</{name}>"
    )


def joined(parts: Iterable[str]) -> Markup:
    """Texts and markup one after the other, the texts escaped.

    Args:
        parts: Texts and markup.

    Returns:
        The markup.
    """
    return Markup("".join(map(escaped, parts)))


def number(value: float) -> str:
    """A number as short as it can be, to a thousandth.

    Args:
        value: A number.

    Returns:
        The digits.
    """
    text = f"{value:.{_PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def script_json(value: Any) -> Markup:
    """A value for a script element of the type application/json.

    Args:
        value: What JSON can hold.

    Returns:
        JSON in which no character can end the element.
    """
    text = json.dumps(seen(value), ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return Markup(for_script(text))


def seen(value: Any) -> Any:
    """A value as JSON holds it, with every text in it made visible.

    Args:
        value: What JSON can hold.

    Returns:
        The same, with texts made visible.
    """
    if isinstance(value, str):
        return visible(value)
    if isinstance(value, dict):
        return {visible(key): seen(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [seen(item) for item in value]
    return value


def page_policy(style: str, script: str) -> str:
    """What a page may do: run its own script, use its own style, nothing from elsewhere.

    Args:
        style: Its style.
        script: Its script.

    Returns:
        A content security policy (W3C CSP Level 3) that names both by their digests.
    """
    digests = (
        base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        for text in (style, script)
    )
    of_style, of_script = (f"sha256-{digest}" for digest in digests)
    return (
        f"default-src 'none'; style-src '{of_style}'; script-src '{of_script}'; base-uri "
        "'none'; form-action 'none'"
    )
