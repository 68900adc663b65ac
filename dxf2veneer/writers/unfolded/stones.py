"""Faces of stone on a piece, drawn by chance from a seed: rows of unlike height, stones of unlike
length, a few tints. No stone of any product is shown."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import NamedTuple

_ROWS = (0.22, 0.5)
"""Least and greatest height of a row of stones, as shares of a course."""

_LENGTHS = (0.5, 1.9)
"""Least and greatest length of a stone, as shares of a course."""

_JOINT = 0.012
"""What of a course's height the joint round a stone takes."""

TINTS = 7
"""How many tints there are."""


class Stone(NamedTuple):
    """A stone's box and the number of its tint."""

    x0: float
    y0: float
    x1: float
    y1: float
    tint: int


def stones_of(box: tuple[float, float, float, float], course: float, seed: str) -> Iterator[Stone]:
    """The stones on a piece.

    Args:
        box: Least and greatest x and y of the piece, in inches.
        course: Height of a course in inches.
        seed: The same seed gives the same stones.

    Returns:
        Stones that fill the box, with a joint round each.
    """
    x0, y0, x1, y1 = box
    chance = random.Random(seed)
    joint = _JOINT * course
    y = y0
    for height in _shares(chance, y1 - y0, _ROWS[0] * course, _ROWS[1] * course):
        x = x0
        for length in _shares(chance, x1 - x0, _LENGTHS[0] * course, _LENGTHS[1] * course):
            around = min(joint, 0.1 * length, 0.1 * height)
            right, top = x + length - around, y + height - around
            yield Stone(x + around, y + around, right, top, chance.randrange(TINTS))
            x += length
        y += height


def _shares(chance: random.Random, whole: float, least: float, most: float) -> Iterator[float]:
    """A length in parts between two sizes; one that is shorter than both stays whole."""
    left = whole
    while left > most:
        part = min(chance.uniform(least, most), left - least)
        yield part
        left -= part
    yield left
