"""The product's values for the list of assumptions: sizes, rules of laying, packing and counting of
goods.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from dxf2veneer.basics.messages import Length, Message, Value, message
from dxf2veneer.config import goods
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.product import SECTIONS, Product
from dxf2veneer.config.settings import described
from dxf2veneer.model import Assumption
from dxf2veneer.order.assumed_values import value_of

_ELSEWHERE = ("product", "blend")
"""Sections that are told in another way: the panel's name, and shares of colors."""


def of_product(product: Product, ordered: Collection[str] | None) -> Iterator[Assumption]:
    """Every value of a product that a number may hang on.

    Args:
        product: The product.
        ordered: Sections of the goods that are ordered; None for all of them.

    Yields:
        Its name, and each value with what it does and what it rests on.
    """
    about = product.product
    what = message("as-written", text=about.origin)
    key, basis = "product", product.basis_of("product.name")
    yield Assumption(key, message("key", key=key), about.name, product.origin, what, basis)
    told = _told_apart(product)
    for section, owner in SECTIONS.items():
        if section in _ELSEWHERE or not _is_used(section, ordered):
            continue
        values = product.goods.of(section) if section in goods.SECTIONS else _own(product, section)
        for name, about_it, _ in described(owner):
            key = f"{section}.{name}"
            plain = value_of(key, getattr(values, name)), message("as-written", text=about_it.help)
            value, effect = told.get(key, plain)
            origin, title = _origin(product, key), message("key", key=key)
            yield Assumption(key, title, value, origin, effect, product.basis_of(key))


def _own(product: Product, section: str) -> object:
    """A section of sizes or rules."""
    found: object = getattr(product, section)
    return found


def _is_used(section: str, ordered: Collection[str] | None) -> bool:
    """Whether a number may hang on a section."""
    return ordered is None or section not in goods.SECTIONS or section in ordered


def _origin(product: Product, key: str) -> Origin:
    """The file that a value stands in; the tool's own where it stands in for one left out."""
    if key in product.generic:
        return Origin("product")
    return product.origin if key in dict(product.comments) else Origin("default")


def _told_apart(product: Product) -> dict[str, tuple[Value, Message]]:
    """Values and effects of those that are more than a number: how far pieces stop short of the
    drawn edges, or run past them."""
    thickness = product.panel.thickness
    return {
        "panel.thickness": (
            Length(thickness) if thickness else message("thickness-unknown"),
            message("effect-thickness") if thickness else message("effect-thickness-unknown"),
        ),
        "corner.inside": (product.corner.inside, message("effect-inside-end")),
        "laying.opening_joint": (
            Length(product.laying.opening_joint),
            message("effect-opening-joint"),
        ),
        "laying.end_joint": (Length(product.laying.end_joint), message("effect-end-joint")),
    }
