"""What a view is."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from dxf2veneer.propose.proposal import Reason, ViewKind
from dxf2veneer.propose.scene import Box, Integers
from dxf2veneer.propose.views.grids import Bubble
from dxf2veneer.propose.views.levels import LevelMark


def _none() -> Integers:
    return np.zeros(0, np.int64)


@dataclass(frozen=True)
class View:
    """One drawing of the sheet, with what belongs to it.

    Attributes:
        id: number of the view, ``V1`` and so on, from the top left to the bottom right.
        kind: elevation, plan, section, detail, sheet (a frame with its title block) or other.
        title: what is written under it; empty where nothing is.
        box: room of all that belongs to it, dimensions, marks and title included.
        core: room of the lines alone, grid lines and marks left out.
        confidence: from 0 to 1, how sure its kind is.
        reason: why the kind.
        segments: numbers of the segments that draw it, without grid lines, bubbles and marks.
        annotation: numbers of the segments of grid lines, bubbles and marks.
        texts: numbers of the texts in the scene.
        hatches: numbers of the hatches in the scene.
        ground_y: height of the ground line; None where there is none.
        levels: level marks.
        bubbles: grid bubbles.
    """

    id: str
    kind: ViewKind
    title: str
    box: Box
    core: Box
    confidence: float
    reason: Reason
    segments: Integers = field(default_factory=_none)
    annotation: Integers = field(default_factory=_none)
    texts: tuple[int, ...] = ()
    hatches: tuple[int, ...] = ()
    ground_y: float | None = None
    levels: tuple[LevelMark, ...] = ()
    bubbles: tuple[Bubble, ...] = ()
