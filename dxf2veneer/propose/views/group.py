"""A view in the making: a group of segments and what is found to belong to it."""

from __future__ import annotations

from dataclasses import dataclass, field

from dxf2veneer.propose.scene import Box, Integers
from dxf2veneer.propose.views.boxes import around
from dxf2veneer.propose.views.grids import Bubble
from dxf2veneer.propose.views.levels import LevelMark
from dxf2veneer.propose.views.titles import Title


@dataclass
class Group:
    """A view in the making."""

    segments: Integers
    core: Box
    title: Title | None = None
    annotation: list[int] = field(default_factory=list)
    texts: list[int] = field(default_factory=list)
    hatches: list[int] = field(default_factory=list)
    levels: list[LevelMark] = field(default_factory=list)
    bubbles: list[Bubble] = field(default_factory=list)
    is_table: bool = False
    is_scrap: bool = False
    room: Box = field(init=False)
    """Room of all that belongs to it."""

    def __post_init__(self) -> None:
        self.room = self.core

    def grow(self, box: Box) -> None:
        """Make room for something that belongs to it."""
        self.room = around((self.room, box))
