"""The product: sizes and laying rules of one panel line, read from a TOML file.

A generic one ships in ``data/generic-panel.toml``; its values carry their origin. Code holds no
size of its own. How goods are packed and counted stands in the sections of ``goods``; where a file
leaves such a value out, that of the generic panel stands in for it.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config import goods
from dxf2veneer.config.basis import GIVEN, INVENTED, OWN, Basis, BasisKind, basis_of_comment
from dxf2veneer.config.blend import Blend
from dxf2veneer.config.checks import as_choice, as_length, as_text
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.settings import described, fill, setting, template
from dxf2veneer.config.toml_file import SettingsFile, read

GENERIC = Path(__file__).parent / "data" / "generic-panel.toml"
"""The file of the generic panel."""


@dataclass(frozen=True)
class About:
    """What the product is and where its numbers come from."""

    name: str = setting("", "name of the panel line", as_text, '"Split-face panel"')
    origin: str = setting("", "where the values come from", as_text, '"maker\'s sheet of 2026-03"')
    units: str = setting(
        "imperial",
        "what goods are sold by: imperial (feet, square feet, pounds) or metric (meters, square "
        "meters, kilograms); the file's packages and weights, a price file's and the order's are "
        "in it",
        as_choice("imperial", "metric"),
        '"metric"',
        basis=OWN,
    )


@dataclass(frozen=True)
class Panel:
    """The flat panel."""

    length: float = setting(None, "face length", as_length(1.0, 240.0), "36")
    height: float = setting(
        None, "face height, which is the height of a course", as_length(1.0, 96.0), "8"
    )
    thickness: float = setting(
        0.0,
        "thickness of the stone where pieces butt at an outside corner; left out, it is not known, "
        "and pieces end at the drawn edge",
        as_length(0.0, 12.0),
        "1.5",
        basis=Basis(BasisKind.OWN, "not known"),
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
        basis=OWN,
    )
    vary: float = setting(
        1.0,
        "least difference between a corner piece and the one before it at the same edge",
        as_length(0.0, 48.0),
        "1",
        basis=OWN,
    )
    column: float = setting(
        16.0,
        "width up to which a column's face is laid in corner pieces alone",
        as_length(0.0, 240.0),
        "16",
        basis=Basis(BasisKind.COMMON, "as the rule for rough columns"),
    )
    inside: str = setting(
        "edge",
        "where a corner piece ends at an inside corner: edge (at the drawn edge) or behind (it "
        "runs on behind the panel that butts against its face, by the stone's thickness)",
        as_choice("edge", "behind"),
        '"behind"',
        basis=OWN,
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
    opening_joint: float = setting(
        0.0,
        "how far pieces stop short of an opening, its trim or a fixture block, for a joint or "
        "for stone that returns there",
        as_length(0.0, 12.0),
        "0.375",
        basis=OWN,
    )
    end_joint: float = setting(
        0.0,
        "how far pieces stop short of another material at a plain end of the wall",
        as_length(0.0, 12.0),
        "0.375",
        basis=OWN,
    )


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
    "blend": Blend,
}
"""Sections whose required values every product file must give itself."""

SECTIONS: Mapping[str, type] = {**SIZES, **goods.SECTIONS}


@functools.cache
def _generic() -> tuple[SettingsFile, dict[tuple[str, str], Any]]:
    """The generic file and its checked values."""
    file = read(GENERIC)
    return file, fill(file, SECTIONS)


@functools.cache
def _generic_goods() -> goods.AllGoods:
    """The goods as the generic panel has them."""
    return goods.AllGoods(**_sections(*_generic(), goods.SECTIONS))


def _generic_basis(key: str) -> Basis:
    """What a value of the generic panel rests on."""
    section, _, name = key.partition(".")
    return basis_of_comment(_generic()[0].comment(section, name)) or INVENTED


@dataclass(frozen=True)
class Product:
    """One panel line, checked. All lengths in inches."""

    file: Path | None
    """The product file; None for the generic panel, which ships with the tool."""
    product: About
    panel: Panel
    corner: CornerPanel
    laying: Laying
    cap: Cap
    comments: tuple[tuple[str, str], ...] = field(default=())
    """(key, comment behind the key on its line of the file): where the number comes from."""
    goods: goods.AllGoods = field(default_factory=_generic_goods)
    generic: tuple[str, ...] = ()
    """Keys of goods that the file leaves out; the generic panel's values stand in for them."""
    blend: Blend = field(default_factory=Blend)

    @property
    def is_metric(self) -> bool:
        """Whether its goods are sold by meters, square meters and kilograms."""
        return self.product.units == "metric"

    @property
    def origin(self) -> Origin:
        """Where the product's values come from."""
        return Origin("product", self.file)

    def basis_of(self, key: str) -> Basis:
        """What a value rests on.

        Args:
            key: ``section.key`` of the value.

        Returns:
            What the comment behind it marks; that of the generic panel's value where it stands in;
            that of the default where the file leaves it out; else that you gave it.
        """
        if key in self.generic:
            return _generic_basis(key)
        said = dict(self.comments).get(key)
        if said is not None:
            return basis_of_comment(said) or Basis(BasisKind.GIVEN, said)
        section, _, name = key.partition(".")
        defaults = {n: about.basis for n, about, _ in described(SECTIONS[section])}
        return defaults.get(name) or GIVEN

    def is_invented(self, key: str) -> bool:
        """Whether the value of ``section.key`` is invented for a demo or a sample."""
        return self.basis_of(key).kind is BasisKind.INVENTED

    @property
    def coverage_area(self) -> float:
        """Face area of one flat panel in square inches."""
        return self.panel.length * self.panel.height

    def longest_corner_piece(self, kerf: float) -> float:
        """The longest corner piece in inches, the saw cut being ``kerf`` wide."""
        return longest_corner_piece(self.corner.length, kerf, self.laying.least_piece)


def longest_corner_piece(panel: float, kerf: float, least: float) -> float:
    """The longest corner piece that leaves one of least length on the other side of the cut (L4).

    Args:
        panel: Length of a corner panel, in inches.
        kerf: Width of the saw cut.
        least: Least length of a piece.

    Returns:
        Its length in inches; less than the least where a panel gives no two pieces.
    """
    return panel - kerf - least


def load_product(path: Path | None = None) -> Product:
    """Read a product file.

    Args:
        path: The TOML file; None for the generic panel.

    Returns:
        The product, checked; goods that the file leaves out are the generic panel's.

    Raises:
        SettingsError: The file can't be read, or a value is wrong or missing.
    """
    file = read(path or GENERIC)
    values = fill(file, SECTIONS)
    if ("panel", "length") in values:
        values.setdefault(("corner", "length"), values["panel", "length"])
    if values.get(("product", "units")) == "metric":
        values |= _from_metric(values)
    comments = tuple((f"{s}.{key}", file.comment(s, key)) for s, key in values)
    generic = _generic()[1]
    missing = [key for key in generic if key[0] in goods.SECTIONS and key not in values]
    values |= {key: generic[key] for key in missing}
    return Product(
        file=path,
        comments=comments,
        generic=tuple(f"{section}.{key}" for section, key in missing),
        goods=goods.AllGoods(**_sections(file, values, goods.SECTIONS)),
        **_sections(file, values, SIZES),
    )


def new_product_text() -> str:
    """A commented product file that asks for every value.

    Returns:
        TOML text: sizes that must be given first, then how goods are packed and counted.
    """
    title = (
        "Product file of dxf2veneer: the panel that you buy. Take away the # before a line and\n"
        "put in the number of the maker's sheet; write behind it, after a #, where it is from.\n"
        'Lengths are inches, or text such as "4\'-6\\"" or "203 mm". The numbers are examples.\n'
        "[panel] length and height, [laying] and [cap] must be given. Where goods are left out,\n"
        "the invented ones of the demo product stand in, and the order says so; a weight that is\n"
        "not given makes no dead load."
    )
    return template(title, SECTIONS)


def _from_metric(values: Mapping[tuple[str, str], Any]) -> dict[tuple[str, str], float]:
    """Packages and weights of a metric file in feet, square feet and pounds."""
    units = {item.section: item.unit for item in goods.ITEMS.values()}
    found = {}
    for (section, key), value in values.items():
        if section in units and key == "per_package":
            found[section, key] = value / goods.METRIC[units[section]][1]
        elif section in units and key == "weight":
            found[section, key] = value / POUND_KG
    return found


def _sections(
    file: SettingsFile, values: Mapping[tuple[str, str], Any], owners: Mapping[str, type]
) -> dict[str, Any]:
    """The sections of values. Raises SettingsError for the first value that is missing."""
    made = {}
    for section, owner in owners.items():
        own = {key: value for (s, key), value in values.items() if s == section}
        for name, _, default in described(owner):
            if default is None and name not in own:
                raise SettingsError(
                    message(
                        "setting-missing", place=file.place(section), setting=f"{section}.{name}"
                    )
                )
        made[section] = owner(**own)
    return made
