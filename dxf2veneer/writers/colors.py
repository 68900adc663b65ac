"""The colors of panels as pictures and lists tell them: a letter, a shade, a name."""

from __future__ import annotations

from typing import NamedTuple

from dxf2veneer.model import Takeoff


class ColorMark(NamedTuple):
    """How a color is told."""

    name: str
    letter: str
    shade: int
    """0 for the color of the greatest share, which stays white, 1 for the next, and so on."""


def color_marks(takeoff: Takeoff) -> dict[str, ColorMark]:
    """The colors of the job's panels.

    Args:
        takeoff: The takeoff.

    Returns:
        By the id of each panel the mark of its color; empty where the product has but one.
    """
    own = {mark.name: mark for mark in marks_of(takeoff)}
    units = takeoff.plan.units if takeoff.plan else ()
    return {unit.id: own[unit.color] for unit in units if unit.color in own}


def marks_of(takeoff: Takeoff) -> list[ColorMark]:
    """The product's colors.

    Args:
        takeoff: The takeoff.

    Returns:
        Their marks, the greatest share first.
    """
    blend = takeoff.product.blend
    order = sorted(blend.shares, key=lambda name: -blend.shares[name])
    return [ColorMark(name, blend.letters[name], n) for n, name in enumerate(order)]
