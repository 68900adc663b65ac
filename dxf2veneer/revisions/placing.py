"""How far a drawing lies from where the other has it, and in what scale it is drawn there.

Corners of walls and openings of one size in both drawings vote for the shift that lays one on the
other; the shift with most votes has the least that must have changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    REVISION_BIN_IN,
    REVISION_OTHER_SCALE_SHARE,
    REVISION_SCALE_SHARE,
)
from dxf2veneer.basics.units import PLAUSIBLE, unit_by_name
from dxf2veneer.model import RecordedWall
from dxf2veneer.revisions.outlines import Outline, Shift

_CORNER_WEIGHT = 3.0
"""A corner of a wall counts as much as so many openings: these move within walls."""


_CORNERS = ("ll", "lr", "ul", "ur")
"""Lower left, lower right, upper left and upper right."""
_OFF_HALVES = 0.137
"""Sizes are drawn in halves and quarters; rounding must not part what is drawn alike."""


class Marked(NamedTuple):
    """A place that can be found again: the corner of a wall, or an opening by its size."""

    kind: tuple[int, int] | str
    x: float
    y: float
    weight: float


class Placing(NamedTuple):
    """A shift and the share of all places that it lays on each other, from 0 to 1."""

    shift: Shift
    share: float


class Places:
    """The marked places of some walls, by their kind."""

    def __init__(self, marked: Iterable[Marked]) -> None:
        """Places to be compared with others."""
        found: dict[tuple[int, int] | str, list[Marked]] = {}
        for one in marked:
            found.setdefault(one.kind, []).append(one)
        self.by_kind: Mapping[tuple[int, int] | str, NDArray[np.float64]] = {
            kind: np.array([(m.x, m.y) for m in held]) for kind, held in found.items()
        }
        self.weights = {kind: held[0].weight for kind, held in found.items()}
        self.weight = sum(self.weights[kind] * len(held) for kind, held in self.by_kind.items())

    @property
    def corners(self) -> Places:
        """Those of them that are corners of walls."""
        return Places(
            Marked(kind, x, y, _CORNER_WEIGHT)
            for kind in _CORNERS
            for x, y in self.by_kind.get(kind, ())
        )


def size_kind(width: float, height: float) -> tuple[int, int]:
    """The kind of a place by the size of what is there.

    Args:
        width: Inches.
        height: Inches.

    Returns:
        The same for sizes that are drawn alike.
    """
    return round(width + _OFF_HALVES), round(height + _OFF_HALVES)


def marked_places(wall: RecordedWall, scale: float = 1.0) -> Iterator[Marked]:
    """The marked places of a wall.

    Args:
        wall: The wall.
        scale: What its lengths are multiplied by.

    Returns:
        The corners of its box, and its openings.
    """
    x0, y0, x1, y1 = Outline(wall.wall.region, scale).box
    places = ((x0, y0), (x1, y0), (x0, y1), (x1, y1))
    for kind, (x, y) in zip(_CORNERS, places, strict=True):
        yield Marked(kind, x, y, _CORNER_WEIGHT)
    for opening in wall.wall.openings:
        outline = Outline(opening.region, scale)
        size = size_kind(outline.width, outline.height)
        yield Marked(size, outline.box[0], outline.box[1], 1.0)


def placing(old: Places, new: Places) -> Placing:
    """The shift that lays most of some places on others.

    Args:
        old: Places.
        new: The places that they are to be laid on.

    Returns:
        The shift; of several that lay as much, the shortest. A share of 0 where none lays any.
    """
    votes, weights = [], []
    for kind, here in old.by_kind.items():
        there = new.by_kind.get(kind)
        if there is not None:
            away = (there[:, None, :] - here[None, :, :]).reshape(-1, 2)
            votes.append(away)
            weights.append(np.full(len(away), old.weights[kind]))
    if not votes:
        return Placing((0.0, 0.0), 0.0)
    all_votes, all_weights = np.concatenate(votes), np.concatenate(weights)
    bins = np.round(all_votes / REVISION_BIN_IN).astype(np.int64)
    _, which = np.unique(bins[:, 0] * (1 << 31) + bins[:, 1], return_inverse=True)
    counts = np.bincount(which, all_weights)
    best = np.flatnonzero(counts[which] >= counts.max() - 1e-9)
    centre = all_votes[best[np.argmin(np.hypot(*all_votes[best].T))]]
    near = np.max(np.abs(all_votes - centre), axis=1) <= REVISION_BIN_IN
    shift = np.median(all_votes[near], axis=0)
    share = float(all_weights[near].sum()) / max(old.weight, new.weight)
    return Placing((float(shift[0]), float(shift[1])), min(share, 1.0))


def sheet_placing(old: Places, new: Places) -> Placing:
    """The shift of a whole drawing: none, where half as many corners of walls stay as another shift
    would lay on each other.

    Args:
        old: Places of the drawing.
        new: Those of the drawing now.

    Returns:
        The shift.
    """
    best = placing(old, new)
    corners, there = old.corners, new.corners
    still = share_laid(corners, there, (0.0, 0.0))
    if still > 0.0 and still >= 0.5 * share_laid(corners, there, best.shift):
        return Placing((0.0, 0.0), share_laid(old, new, (0.0, 0.0)))
    return best


def share_laid(old: Places, new: Places, shift: Shift) -> float:
    """What of some places a shift lays on others.

    Args:
        old: Places.
        new: The places that they are laid on.
        shift: How far they are shifted.

    Returns:
        A share of their weight, from 0 to 1.
    """
    laid = 0.0
    for kind, here in old.by_kind.items():
        there = new.by_kind.get(kind)
        if there is not None:
            away = np.abs(there[:, None, :] - here[None, :, :] - np.array(shift))
            hits = (away <= REVISION_BIN_IN).all(axis=2)
            laid += old.weights[kind] * min(hits.any(axis=0).sum(), hits.any(axis=1).sum())
    return laid / max(old.weight, new.weight, 1e-9)


def scale_between(old: Sequence[RecordedWall], new: Sequence[RecordedWall]) -> float:
    """By what the lengths of a drawing are multiplied in another of the same walls: 1, or the ratio
    of two units where one of them was read in a wrong one.

    Args:
        old: Walls before.
        new: Walls now.

    Returns:
        The scale.
    """
    there = Places(m for wall in new for m in marked_places(wall))

    def share(scale: float) -> float:
        return placing(Places(m for wall in old for m in marked_places(wall, scale)), there).share

    if share(1.0) >= REVISION_SCALE_SHARE:
        return 1.0
    sizes = [unit_by_name(name).inches for name in PLAUSIBLE]
    found = max({a / b for a in sizes for b in sizes if a != b}, key=share)
    return found if share(found) >= REVISION_OTHER_SCALE_SHARE else 1.0
