"""What a block or space holds, in its own coordinates."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from dxf2veneer.propose.scene import Dimension, Floats, Hatch, Text

Drawn = tuple[str, str, str, str | None, int, bool, int, str]
"""An entity but for its box: kind, layer, handle, block, insert, closed, colour, line type."""


@dataclass
class Content:
    """What a block or space holds, its references resolved, in its own coordinates."""

    segments: list[Floats] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    drawn: list[Drawn] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)
    hatches: list[Hatch] = field(default_factory=list)
    loose: list[tuple[float, float, float, float]] = field(default_factory=list)
    """Segments read last, not yet an array."""
    before: list[int] = field(default_factory=list)
    """For each entity of the space how many were drawn by those before it."""
    texts_before: list[int] = field(default_factory=list)
    """For each entity of the space how many texts those before it have."""

    def gather(self) -> Floats:
        """All segments as one array."""
        if self.loose:
            self.segments.append(np.array(self.loose))
            self.loose = []
        self.segments = [np.concatenate(self.segments)] if self.segments else [np.zeros((0, 4))]
        return self.segments[0]
