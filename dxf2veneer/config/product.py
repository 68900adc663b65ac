"""The product: sizes and laying rules of one panel line, read from a TOML file.

A generic one ships in ``data/generic-panel.toml``; its values carry their origin. Code holds no
size of its own. How goods are packed and counted stands in the sections of ``goods``; where a file leaves
such a value out, that of the generic panel stands in for it.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dxf2veneer.config import goods
from dxf2veneer.config.settings import (
    SettingsError,
    Source,
    as_length,
    as_text,
    described,
    fill,
    read,
    setting,
)

GENERIC = Path(__file__).parent / "data" / "generic-panel.toml"
GENERIC_NAME = "generic-panel.toml (ships with the tool)"


@dataclass(frozen=True)
class About:
    """What the product is and where its numbers come from."""

    name: str = setting("", "name of the panel line", as_text, '"Split-face panel"')
    origin: str = setting("", "where the values come from", as_text, '"maker\'s sheet of 2026-03"')


@dataclass(frozen=True)
class Panel:
    """The flat panel."""

    length: float = setting(None, "face length", as_length(1.0, 240.0), "36")
    height: float = setting(
        None, "face height, which is the height of a course", as_length(1.0, 96.0), "8"
    )


@dataclass(frozen=True)
class CornerPanel:
    """The corner panel, both of whose ends are finished; it is cut into two corner pieces."""

    length: float = setting(
        None,
        "face length of a corner panel; that of the flat panel where it is left out",
        as_length(1.0, 240.0),
        "36",
    )
    unequal: float = setting(
        1.0,
        "least difference between the two pieces of one corner panel",
        as_length(0.0, 48.0),
        "1",
    )
    vary: float = setting(
        1.0,
        "least difference between a corner piece and the one before it at the same edge",
        as_length(0.0, 48.0),
        "1",
    )


@dataclass(frozen=True)
class Laying:
    """Rules of laying that belong to the product."""

    stagger: float = setting(
        None,
        "least sideways distance between joints of adjacent courses",
        as_length(0.0, 120.0),
        "8",
    )
    least_piece: float = setting(None, "least length of a piece", as_length(0.0, 120.0), "8")


@dataclass(frozen=True)
class Cap:
    """The cap stone on veneer that stops part-way up."""

    height: float = setting(None, "face height of a cap", as_length(0.0, 48.0), "2.25")


SIZES: Mapping[str, type] = {
    "product": About,
    "panel": Panel,
    "corner": CornerPanel,
    "laying": Laying,
    "cap": Cap,
}
"""Sections whose required values every product file must give itself."""

SECTIONS: Mapping[str, type] = {**SIZES, **goods.SECTIONS}


@functools.cache
def _generic() -> tuple[Source, dict[tuple[str, str], Any]]:
    """The generic file and its checked values."""
    source = read(GENERIC)
    return source, fill(source, SECTIONS)


@functools.cache
def _generic_goods() -> goods.AllGoods:
    """The goods as the generic panel has them."""
    source, values = _generic()
    return goods.AllGoods(
        **{s: _section(source, s, owner, values) for s, owner in goods.SECTIONS.items()}
    )


@dataclass(frozen=True)
class Product:
    """One panel line, checked. All lengths in inches."""

    file: str
    product: About
    panel: Panel
    corner: CornerPanel
    laying: Laying
    cap: Cap
    origins: tuple[tuple[str, str], ...] = field(default=())
    """(key, comment on the key's line in the file), for the list of assumptions."""
    goods: goods.AllGoods = field(default_factory=_generic_goods)
    generic: tuple[str, ...] = ()
    """Keys of goods that the file leaves out, so that the generic panel's values stand in for them."""

    @property
    def coverage_area(self) -> float:
        """Face area of one flat panel in square inches."""
        return self.panel.length * self.panel.height


def load_product(path: Path | None = None) -> Product:
    """The product of a TOML file, or the generic one. Raises SettingsError naming the wrong line."""
    source = read(path or GENERIC)
    values = fill(source, SECTIONS)
    if ("panel", "length") in values:
        values.setdefault(("corner", "length"), values["panel", "length"])
    origins = _origins(source, values)
    generic_source, generic_values = _generic()
    missing = [key for key in generic_values if key[0] in goods.SECTIONS and key not in values]
    stand_ins = {key: generic_values[key] for key in missing}
    origins += [
        (key, f"{GENERIC_NAME}: {origin}") for key, origin in _origins(generic_source, stand_ins)
    ]
    values |= stand_ins
    return Product(
        file=str(path) if path else GENERIC_NAME,
        origins=tuple(origins),
        generic=tuple(f"{section}.{key}" for section, key in missing),
        goods=goods.AllGoods(
            **{s: _section(source, s, owner, values) for s, owner in goods.SECTIONS.items()}
        ),
        **{s: _section(source, s, owner, values) for s, owner in SIZES.items()},
    )


def _section(
    source: Source, section: str, owner: type, values: Mapping[tuple[str, str], Any]
) -> Any:
    """One section of values, or SettingsError for the first that is missing."""
    own = {key: value for (s, key), value in values.items() if s == section}
    missing = [name for name, _, default in described(owner) if default is None and name not in own]
    if missing:
        raise SettingsError(f"{source.where(section)}: {section}.{missing[0]} is missing")
    return owner(**own)


def _origins(source: Source, values: Mapping[tuple[str, str], object]) -> list[tuple[str, str]]:
    """The comment behind each value's line: where the number comes from."""
    found = []
    for section, key in values:
        line = source.line_of(section, key)
        _, mark, comment = source.lines[line - 1].partition("#") if line else ("", "", "")
        found.append((f"{section}.{key}", comment.strip() if mark else ""))
    return found
