"""Coordinates beyond what any building has, left out before anything is reckoned with them.

This is the one gate of a scene: blocks pass it before references place them, and spaces once all is
placed. Within the reach squares and products of squares are far from the end of the numbers.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from dxf2veneer.propose.reading.content import Content
from dxf2veneer.propose.scene import Floats, Mask

_REACH = 1e12
"""Greatest coordinate, size or factor: a million kilometers in millimeters, a hundred times what
national grids use. Our own limit."""


def in_reach(*numbers: Any) -> bool:
    """Whether numbers are such as drawings of buildings have.

    Args:
        *numbers: coordinates, sizes or factors in drawing units.

    Returns:
        Whether all are; not-a-number is not.
    """
    return all(abs(number) <= _REACH for number in numbers)


def are_in_reach(rows: Floats) -> Mask:
    """Which rows of numbers are such as drawings of buildings have.

    Args:
        rows: numbers in drawing units, shape (n, k).

    Returns:
        For each row whether all are in reach.
    """
    return np.asarray(((rows >= -_REACH) & (rows <= _REACH)).all(axis=1))


def within_reach(content: Content) -> Content:
    """The content without what has a number out of reach.

    Args:
        content: of a block or space; it is changed.

    Returns:
        The content.
    """
    segments = content.gather()
    far = ~are_in_reach(segments)
    if far.any():
        counts = np.array(content.counts, np.int64)
        owner = np.repeat(np.arange(len(counts)), counts)
        near = np.bincount(owner[far], minlength=len(counts)) == 0
        content.segments = [segments[near[owner]]]
        content.counts = counts[near].tolist()
        content.drawn = [d for d, kept in zip(content.drawn, near.tolist(), strict=True) if kept]
    return beside_ink_within_reach(content)


def beside_ink_within_reach(content: Content) -> Content:
    """The content without texts, hatches and dimensions that have a number out of reach.

    Args:
        content: of a block or space; it is changed.

    Returns:
        The content.
    """
    content.texts = [t for t in content.texts if in_reach(t.height, *t.box)]
    content.hatches = [h for h in content.hatches if in_reach(*h.box)]
    content.dimensions = [
        d for d in content.dimensions if in_reach(d.measured, d.x0, d.y0, d.x1, d.y1, *d.box)
    ]
    return content
