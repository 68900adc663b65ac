"""Results that no building has, whatever the unit's origin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np

from dxf2veneer.basics.units import square_feet, unit_by_name
from dxf2veneer.propose.constants import (
    ABSURD_AREA_SQFT,
    ABSURD_DOOR_IN,
    ABSURD_LETTER_IN,
    ABSURD_OPENING_IN,
    ABSURD_WALL_IN,
)
from dxf2veneer.propose.scene import Box


class Absurdity(NamedTuple):
    """A size that no building has.

    Attributes:
        what: ``wall height``, ``door height``, ``opening height``, ``letter height`` or ``area``.
        size: in inches; an area in square feet.
        least, most: the limits that it breaks.
        place: where, in drawing units; None for letters and areas.
        better: everyday units in which it would make sense.
    """

    what: str
    size: float
    least: float
    most: float
    place: tuple[float, float] | None
    better: tuple[str, ...]


def absurd(
    unit: str,
    walls: Sequence[Box],
    doors: Sequence[Box],
    openings: Sequence[Box],
    text_heights: Iterable[float] = (),
) -> list[Absurdity]:
    """List what no building has, with a unit taken for right.

    Args:
        unit: short name of the unit in use.
        walls: boxes of the walls, in drawing units.
        doors: boxes of the doors among the openings.
        openings: boxes of all openings.
        text_heights: heights of the texts in model space, in drawing units.
    Returns:
        The highest wall, the doors' median, the highest opening, the usual letters and the walls'
        whole area, each where it breaks its limits; empty where all is as buildings are.
    Raises:
        ValueError: where the unit is unknown.
    """
    inches = unit_by_name(unit).inches
    found: list[Absurdity] = []
    highest = max(walls, key=_high, default=None)
    if highest is not None:
        found += _judge("wall height", _high(highest), inches, ABSURD_WALL_IN, _middle(highest))
    if doors:
        door = sorted(doors, key=_high)[len(doors) // 2]
        found += _judge("door height", _high(door), inches, ABSURD_DOOR_IN, _middle(door))
    tallest = max(openings, key=_high, default=None)
    if tallest is not None:
        found += _judge(
            "opening height", _high(tallest), inches, ABSURD_OPENING_IN, _middle(tallest)
        )
    heights = [h for h in text_heights if h > 0.0]
    if len(heights) >= 3:
        found += _judge("letter height", float(np.median(heights)), inches, ABSURD_LETTER_IN, None)
    area = sum((b[2] - b[0]) * (b[3] - b[1]) for b in walls)
    if area > 0.0:
        found += _judge("area", area, inches, ABSURD_AREA_SQFT, None, squared=True)
    return found


def _judge(
    what: str,
    size: float,
    inches: float,
    limits: tuple[float, float],
    place: tuple[float, float] | None,
    *,
    squared: bool = False,
) -> list[Absurdity]:
    def converted(factor: float) -> float:
        return square_feet(size * factor**2) if squared else size * factor

    value = converted(inches)
    if limits[0] <= value <= limits[1]:
        return []
    units = {n: unit_by_name(n).inches for n in ("in", "ft", "mm", "cm", "m")}
    better = tuple(n for n, factor in units.items() if limits[0] <= converted(factor) <= limits[1])
    return [Absurdity(what, value, *limits, place, better)]


def _high(box: Box) -> float:
    return box[3] - box[1]


def _middle(box: Box) -> tuple[float, float]:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
