"""Layer names: which are wanted, which was probably meant, which can be shown."""

from __future__ import annotations

import difflib
import fnmatch
import re
from collections.abc import Iterable
from dataclasses import fields

from dxf2veneer.config.job import Layers

OUTLINE_ROLES = ("wall", "opening", "window", "door", "vent", "fixture")
"""The roles under ``layers`` whose shapes are outlines and want to be closed."""

MARK_ROLES = ("outside_corner", "inside_corner", "bay", "cap", "level", "wall_mark", "opening_mark")
"""The roles under ``layers`` whose lines are marks, and stay lines."""

POINT_ROLES = ("wall_mark", "opening_mark")
"""The roles under ``layers`` whose entities only say where: marks in walls and openings."""

LABEL_ROLES = ("name", "outside_corner", "inside_corner", "bay", *POINT_ROLES)
"""The roles under ``layers`` whose texts mean something: names of walls, tags of corners, marks."""


_LONGEST = 255
"""Characters of a name or text that are kept: the longest name that DXF knows."""

_ESCAPE = re.compile(r"\\U\+([0-9A-Fa-f]{4})")
"""How DXF writes a character that its code page lacks."""


def layer_matches(name: str, patterns: Iterable[str]) -> bool:
    """Whether a layer's name matches one of some names or shell-style wildcards, in any case.

    Args:
        name: The layer's name.
        patterns: Names or wildcards.

    Returns:
        Whether one of them matches.
    """
    lower = name.lower()
    return any(fnmatch.fnmatchcase(lower, p.lower()) or lower == p.lower() for p in patterns)


def patterns_of(layers: Layers, roles: Iterable[str] | None = None) -> tuple[str, ...]:
    """The patterns that stand under some roles.

    Args:
        layers: The job's section ``layers``.
        roles: Names of its settings; all of them where left out.

    Returns:
        Each pattern once, in order.
    """
    names = [f.name for f in fields(layers)] if roles is None else list(roles)
    return tuple(dict.fromkeys(p for role in names for p in getattr(layers, role)))


def nearest_layers(pattern: str, names: Iterable[str], count: int = 5) -> tuple[str, ...]:
    """The existing layer names most like a pattern.

    Args:
        pattern: What was asked for.
        names: The names there are.
        count: How many to give at most.

    Returns:
        The nearest first; any names where none is alike.
    """
    by_lower = {n.lower(): n for n in names}
    wanted = pattern.lower().strip("*?[]")
    alike = difflib.get_close_matches(wanted, list(by_lower), n=count, cutoff=0.5)
    holding = [n for n in by_lower if wanted and wanted in n and n not in alike]
    found = (alike + sorted(holding))[:count] or sorted(by_lower)[:count]
    return tuple(by_lower[n] for n in found)


def clean_text(text: str) -> str:
    """Text that can be written anywhere.

    DXF's escapes become the characters they stand for; bytes of an undeclared code page, which the
    reader carries as lone surrogates, become UTF-8 where they are that, else Windows-1252 (the
    usual code page).

    Args:
        text: Text as the library gives it.

    Returns:
        The text, cut where it is longer than a name can be.
    """
    if len(text) > _LONGEST:
        text = text[: _LONGEST - 1] + "…"
    text = _ESCAPE.sub(lambda found: chr(int(found[1], 16)), text)
    if text.isascii() or not any("\ud800" <= c <= "\udfff" for c in text):
        return text
    try:
        raw = text.encode("utf-8", "surrogateescape")
    except UnicodeEncodeError:  # surrogates that stand for no byte
        return "".join("\ufffd" if "\ud800" <= c <= "\udfff" else c for c in text)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")
