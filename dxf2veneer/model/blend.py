"""How the colors of a plan lie on the walls (rule L22)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WallColor:
    """One color on one wall."""

    wall: str
    """Id of the wall."""
    color: str
    share: float
    """The share of the wall's face that it is to have, from 0 to 1."""
    laid: float
    """The share that it has."""
    area: float
    """What it has, in square inches."""
    off: float
    """By how many panels' faces it has more than that; below 0 where it has less."""
    ahead: float
    """Left of any upright line and below any level one, by how many panels' faces it has at most
    more or less than its share there of what it has in all."""


@dataclass(frozen=True)
class Spread:
    """The figures of the whole job; a minor color is one of less than half the face."""

    walls: tuple[WallColor, ...]
    """By wall and color."""
    pairs: int
    """Pairs of pieces that touch, round corners too."""
    touching: int
    """Those of them where both have one minor color."""
    own: int
    """Those of these that are cut from one panel, where no color helps."""
    chance: float
    """How many there would be if colors fell by chance, in their shares."""
    largest: int
    """The most pieces of one minor color that hang together."""

    @property
    def most_off(self) -> float:
        """By how many panels a color is off its share on a wall, at most."""
        return max((abs(w.off) for w in self.walls), default=0.0)

    @property
    def most_ahead(self) -> float:
        """The greatest of ``ahead`` of all walls and colors."""
        return max((w.ahead for w in self.walls), default=0.0)
