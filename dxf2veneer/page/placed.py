"""Outlines of what was drawn as one: a block placed by a reference, a closed entity. Other lines
that run across it, such as a tree before a round window, take nothing from it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.page.marks import Point
from dxf2veneer.page.outlines import outlines_of
from dxf2veneer.propose.scene import Floats, Integers, Scene

_MOST_SEGMENTS = 3_000
"""Segments of one block of which outlines are still sought: a tenth of a second. Our own
default."""
_MOST = 6
"""Blocks looked at for one place, the smallest first. Our own default."""
_NONE: NDArray[Any] = np.empty(0, dtype=object)


class Placed:
    """What was drawn as one in a scene."""

    def __init__(self, scene: Scene) -> None:
        """What was drawn as one in a scene."""
        self._scene = scene
        self._found: dict[int, NDArray[Any]] = {}

    def round(self, at: Point) -> list[Any]:
        """Outlines of single blocks and closed entities round a place, as polygons.

        Args:
            at: The place in drawing units.

        Returns:
            The outlines that hold it.
        """
        place = shapely.Point(at)
        boxes = self._boxes
        x, y = at
        holds = np.flatnonzero(
            (boxes[:, 0] < x) & (x < boxes[:, 2]) & (boxes[:, 1] < y) & (y < boxes[:, 3])
        )
        size = np.prod(boxes[holds, 2:] - boxes[holds, :2], axis=1)
        near = holds[np.argsort(size, kind="stable")][:_MOST]
        return [o for group in near.tolist() for o in self._of(group) if o.contains(place)]

    @cached_property
    def _group(self) -> Integers:
        """For each entity the number of what it was drawn with: of its block's reference, or of its
        own where it is closed; -1 for loose lines."""
        entities = self._scene.entities
        insert = np.array([e.insert for e in entities], np.int64)
        closed = np.array([e.closed for e in entities], bool)
        alone = insert.max(initial=-1) + 1 + np.arange(len(entities))
        return np.where(insert >= 0, insert, np.where(closed, alone, -1))

    @cached_property
    def _boxes(self) -> Floats:
        """The box of each group; one that holds nothing for a number without entities."""
        group, boxes = self._group, self._scene.boxes
        count = int(group.max(initial=-1)) + 1
        found = np.tile([np.inf, np.inf, -np.inf, -np.inf], (count, 1))
        member = group >= 0
        np.minimum.at(found[:, :2], group[member], boxes[member, :2])
        np.maximum.at(found[:, 2:], group[member], boxes[member, 2:])
        return found

    def _of(self, group: int) -> NDArray[Any]:
        if group not in self._found:
            scene = self._scene
            parts = [scene.segments_of(int(e)) for e in np.flatnonzero(self._group == group)]
            segments = np.concatenate(parts)
            few = len(segments) <= _MOST_SEGMENTS
            self._found[group] = outlines_of(segments) if few else _NONE
        return self._found[group]
