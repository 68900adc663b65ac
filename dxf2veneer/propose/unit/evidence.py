"""Evidence for a drawing's unit: each piece says how well each everyday unit agrees with it.

Weights are natural logarithms of likelihoods, so that independent pieces add up. 0 is the best that
a piece can say of a unit; what it says against one is negative and bounded, as any piece can be
wrong.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from dxf2veneer.basics.units import PLAUSIBLE, unit_by_name
from dxf2veneer.propose.constants import STRANGE

Weights = dict[str, float]

MM: Mapping[str, float] = {name: unit_by_name(name).inches * 25.4 for name in PLAUSIBLE}
"""Millimetres in one of each everyday unit."""
METRIC = ("mm", "cm", "m")
IMPERIAL = ("in", "ft")


@dataclass(frozen=True)
class Evidence:
    """One thing that speaks for or against units.

    Attributes:
        what: short code of what it is: ``header``, ``dimensions``, ``levels``, ``doors`` and so on.
        value: what was seen, as plain data.
        weights: for each everyday unit a log likelihood, 0 for the best.
        handle: of an entity that shows it, empty where there is none.
        place: where it stands, in drawing units; None where nowhere.
    """

    what: str
    value: Mapping[str, Any]
    weights: Weights
    handle: str = ""
    place: tuple[float, float] | None = None

    @property
    def is_strange(self) -> bool:
        """Whether it fits no unit better than another: a size that is usual in none."""
        return not any(self.weights.values())

    @property
    def best(self) -> tuple[str, ...]:
        """The units that it agrees with best."""
        top = max(self.weights.values())
        return tuple(n for n, w in self.weights.items() if w > top - 0.5)

    def as_json(self) -> dict[str, Any]:
        """The evidence as plain data."""
        weights = {n: round(w, 2) for n, w in self.weights.items()}
        return {
            "what": self.what,
            **self.value,
            "weights": weights,
            "handle": self.handle,
            "place": list(self.place) if self.place else None,
        }


@dataclass(frozen=True)
class UnitFinding:
    """What is known of a drawing's unit.

    Attributes:
        unit: short name of the unit, None where the evidence does not settle it.
        sure: whether it does; a unit is never named unsure.
        header: the everyday unit that the header names; None for none or another.
        evidence: all that was seen, the heaviest first.
        chances: for each everyday unit how likely it is, from 0 to 1.
    """

    unit: str | None
    sure: bool
    header: str | None
    evidence: tuple[Evidence, ...] = ()
    chances: Mapping[str, float] = field(default_factory=dict)


def bounded(weights: Mapping[str, float], most: float) -> Weights:
    """Weights moved so that the best is 0, and none below ``-most``.

    Args:
        weights: log likelihood of each unit.
        most: the most that is said against a unit.

    Returns:
        The weights of the same units, 0 to ``-most``.
    """
    top = max(weights.values())
    return {n: max(-most, w - top) for n, w in weights.items()}


def normal(value: float, middle: float, spread: float) -> float:
    """Log likelihood of a size whose logarithm is normally distributed, up to a constant.

    Args:
        value: the size, over 0.
        middle: the usual size, in the same unit.
        spread: standard deviation of the natural logarithm.

    Returns:
        Natural logarithm, 0 at the middle.
    """
    return -0.5 * (math.log(value / middle) / spread) ** 2 if value > 0.0 else -math.inf


def by_size(size: float, middle_mm: float, spread: float, most: float) -> Weights:
    """How well a size in drawing units agrees with each unit.

    Args:
        size: in drawing units.
        middle_mm: usual size, in millimetres.
        spread: standard deviation of the size's natural logarithm.
        most: bound of what is said against a unit.
    Returns:
        Weights; all 0 where the size is far from usual in every unit, which speaks against them
        all.
    """
    raw = {n: normal(size * mm, middle_mm, spread) for n, mm in MM.items()}
    return bounded(raw, most) if max(raw.values()) > -STRANGE else dict.fromkeys(MM, 0.0)
