"""What a space draws, in columns: entities and the straight segments of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose.reading.content import Content
from dxf2veneer.propose.reading.reach import are_in_reach
from dxf2veneer.propose.scene import Entities, Entity, Floats, Integers, Mask

_BY_LAYER = 256
_NO_BOX = (0.0, 0.0, 0.0, 0.0)
_OTHERWISE = (7, "CONTINUOUS")
"""Colour and line type of a layer that the drawing's table lacks."""


@dataclass(frozen=True)
class Ink:
    """Entities and their segments, those of an entity one after the other."""

    segments: Floats
    counts: Integers
    """How many segments each entity has."""
    entities: Entities
    """Without their boxes."""

    def within_reach(self) -> Ink:
        """The ink without entities that have a number out of reach."""
        near_rows = are_in_reach(self.segments)
        if near_rows.all():
            return self
        owner = np.repeat(np.arange(len(self.counts)), self.counts)
        near = np.bincount(owner[~near_rows], minlength=len(self.counts)) == 0
        return Ink(self.segments[near[owner]], self.counts[near], taken(self.entities, near))

    def among(self, other: Ink, places: Integers) -> Ink:
        """This ink put among another's: an entity comes before the one that its place names; places
        are in order."""
        where = places + np.arange(len(places))
        own = np.zeros(len(other.counts) + len(places), bool)
        own[where] = True
        counts = _merged(own, self.counts, other.counts)
        both = {
            name: _merged(own, getattr(self.entities, name), column)
            for name, column in vars(other.entities).items()
        }
        segments = _merged(np.repeat(own, counts), self.segments, other.segments)
        return Ink(segments, counts, Entities(**both))

    def finished(self, styles: Mapping[str, tuple[int, str]]) -> Entities:
        """The entities with their boxes, and what they take from their layers.

        Args:
            styles: colour and line type of layers by their lower-case names.

        Returns:
            The entities.
        """
        entities = self.entities
        if not len(entities):
            return entities
        starts = np.cumsum(self.counts) - self.counts
        x0, y0, x1, y1 = self.segments.T
        low = [np.minimum.reduceat(np.minimum(*ends), starts) for ends in ((x0, x1), (y0, y1))]
        high = [np.maximum.reduceat(np.maximum(*ends), starts) for ends in ((x0, x1), (y0, y1))]
        names = entities.layer.tolist()
        own = {name: styles.get(name.lower(), _OTHERWISE) for name in set(names)}
        colours = np.array([own[name][0] for name in names], np.int64)
        linetypes = np.array([own[name][1] for name in names], object)
        return replace(
            entities,
            box=np.column_stack([*low, *high]),
            colour=np.where(entities.colour == _BY_LAYER, colours, entities.colour),
            linetype=np.where(entities.linetype == "BYLAYER", linetypes, entities.linetype),
        )


def _merged(own: Mask, some: NDArray[Any], others: NDArray[Any]) -> NDArray[Any]:
    """Two columns as one: a mask says which items are the first one's."""
    both = np.empty((len(own), *some.shape[1:]), some.dtype)
    both[own] = some
    both[~own] = others
    return both


def taken(entities: Entities, mask: Mask) -> Entities:
    """Some of the entities.

    Args:
        entities: a table.
        mask: which of them.

    Returns:
        A table of those.
    """
    columns: dict[str, Any] = {name: column[mask] for name, column in vars(entities).items()}
    return Entities(**columns)


def ink_of(content: Content) -> Ink:
    """What the library read of a space.

    Args:
        content: the content.

    Returns:
        Its ink.
    """
    drawn = Entities.of(Entity(*d[:6], _NO_BOX, *d[6:]) for d in content.drawn)
    return Ink(content.gather(), np.array(content.counts, np.int64), drawn)
