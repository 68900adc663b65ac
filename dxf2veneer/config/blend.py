"""The product's section of colors: where a panel line comes in several that are mixed on the wall.

A texture is given as a color is: what matters is that panels of one kind are told from the others,
are mixed in shares and come in boxes of their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.checks import as_number, as_tables, as_text
from dxf2veneer.config.settings import setting

MOST_COLORS = 8
"""As many as hatches and letters keep apart in print."""
_SHARES_OFF = 0.05
"""By how much shares may miss 100 %: three thirds are written 33.3, 33.3 and 33.4, or 33.33."""


class Color(NamedTuple):
    """A color or texture of the panel line."""

    name: str
    share: float
    """Per cent of each wall's face."""
    flat_per_package: float | None = None
    """Flat panels in a package of this color; None for as many as the line's own."""
    corner_per_package: float | None = None
    """Corner panels in one, likewise."""


def _name(value: Any) -> str:
    name = " ".join(as_text(value).split())
    if not any(sign.isalnum() for sign in name):
        raise WrongValueError(message("wants-color-name"))
    return name


class WallShare(NamedTuple):
    """What a wall gets of a color, other than the product says."""

    wall: str
    """Name or id."""
    color: str
    share: float
    """Per cent of the wall's face."""


_as_tables = as_tables(
    Color,
    name=(_name, ...),
    share=(as_number(0.1, 100.0), ...),
    flat_per_package=(as_number(1e-6, 1e6), None),
    corner_per_package=(as_number(1e-6, 1e6), None),
)


def as_colors(value: Any) -> tuple[Color, ...]:
    """Colors whose shares come to 100 per cent.

    Args:
        value: Tables with name and share, in per cent, and perhaps what packages hold.

    Returns:
        The colors in the order given.

    Raises:
        WrongValueError: One is wrong, a name stands twice, or the shares come to something else.
    """
    colors: tuple[Color, ...] = _as_tables(value)
    if len(colors) > MOST_COLORS:
        raise WrongValueError(message("wants-fewer-colors", most=MOST_COLORS))
    seen: set[str] = set()
    for color in colors:
        if color_key(color.name) in seen:
            raise WrongValueError(message("wants-color-once", name=color.name))
        seen.add(color_key(color.name))
    if colors and abs(whole(c.share for c in colors) - 100.0) > _SHARES_OFF:
        raise WrongValueError(message("wants-whole-shares", sum=whole(c.share for c in colors)))
    return colors


_as_wall_tables = as_tables(
    WallShare, wall=(as_text, ...), color=(_name, ...), share=(as_number(0.0, 100.0), ...)
)


def as_wall_shares(value: Any) -> tuple[WallShare, ...]:
    """Shares of single walls, each wall's 100 per cent together.

    Args:
        value: Tables with wall, color and share, in per cent.

    Returns:
        The shares.

    Raises:
        WrongValueError: One is wrong, a color stands twice for a wall, or shares of a wall come to
            something else.
    """
    given: tuple[WallShare, ...] = _as_wall_tables(value)
    by_wall: dict[str, dict[str, float]] = {}
    for one in given:
        own = by_wall.setdefault(one.wall.casefold(), {})
        if color_key(one.color) in own:
            raise WrongValueError(message("wants-color-once", name=one.color))
        own[color_key(one.color)] = one.share
    for own in by_wall.values():
        if abs(whole(own.values()) - 100.0) > _SHARES_OFF:
            raise WrongValueError(message("wants-whole-shares", sum=whole(own.values())))
    return given


def whole(shares: Any) -> float:
    """The sum of shares.

    Args:
        shares: Per cents.

    Returns:
        Their sum, in per cent, rounded to what people write.
    """
    return round(math.fsum(shares), 3)


def color_key(name: str) -> str:
    """A color's name as keys of the order have it.

    Args:
        name: The name as written.

    Returns:
        Small letters and digits, with a low line for all between: ``dark_gray``.
    """
    parts = "".join(sign if sign.isalnum() else " " for sign in name.casefold()).split()
    return "_".join(parts)


def letters(names: Sequence[str]) -> dict[str, str]:
    """What pictures write on a piece for its color.

    Args:
        names: The names of the colors.

    Returns:
        By name its first letter or digit that no color before it has; a digit where all are taken.
    """
    found: dict[str, str] = {}
    for name in names:
        own = [sign.upper() for sign in name if sign.isalnum()]
        free = [s for s in (*own, *"123456789") if s not in found.values()]
        found[name] = free[0]
    return found


@dataclass(frozen=True)
class Blend:
    """The colors or textures that the panel line comes in, where they are mixed on every wall."""

    colors: tuple[Color, ...] = setting(
        (),
        "each with its name and its share of a wall's face in per cent, 100 together, and where "
        "they differ from the sections flat_panel and corner_panel flat_per_package and "
        "corner_per_package",
        as_colors,
        '[{ name = "Buff", share = 60 }, { name = "Tan", share = 30 }, '
        '{ name = "Gray", share = 10 }]',
    )

    @property
    def shares(self) -> dict[str, float]:
        """By name each color's share, from 0 to 1, 1 together."""
        total = math.fsum(c.share for c in self.colors)
        return {c.name: c.share / total for c in self.colors}

    @property
    def letters(self) -> dict[str, str]:
        """By name the letter of each color in pictures and lists."""
        return letters([c.name for c in self.colors])

    def shares_on(self, names: Sequence[str], given: Sequence[WallShare]) -> dict[str, float]:
        """The shares of one wall.

        Args:
            names: What the wall is called: its id and its name.
            given: The job's own shares; those with colors of other products are let be.

        Returns:
            By color the share of its face, from 0 to 1, 1 together.
        """
        called = {name.casefold() for name in names if name}
        own = {color_key(g.color): g.share for g in given if g.wall.casefold() in called}
        if not own or not own.keys() <= {color_key(c.name) for c in self.colors}:
            return self.shares
        total = math.fsum(own.values())
        return {c.name: own.get(color_key(c.name), 0.0) / total for c in self.colors}

    def boxes(self, least: int) -> dict[str, int]:
        """Boxes to have open at a time.

        Args:
            least: How many in all; more where there are more colors.

        Returns:
            By color how many of its boxes: one each, and the others one by one where share / (open
            boxes + 1/2) is greatest (the rule of Webster and Sainte-Lague for seats).
        """
        number = {c.name: 1 for c in self.colors}
        for _ in range(least - len(number)):
            most = max(number, key=lambda name: self.shares[name] / (number[name] + 0.5))
            number[most] += 1
        return number
