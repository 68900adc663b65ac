"""Which references to blocks matter: those that lead to something on a wanted layer.

model space        block HOUSE              block SASH
INSERT HOUSE  ->   INSERT SASH, layer 0 ->  outline on layer 0: shows on the layer of INSERT HOUSE
                   outline on A-WALL        shows on A-WALL wherever HOUSE is placed
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from dxf2veneer.basics.tolerances import SKIM_BLOCKS_DEEPEST
from dxf2veneer.drawing.file.parts import IN_SPACE, FileParts, UnsureError
from dxf2veneer.drawing.file.string_table import Integers, Mask, StringTable


@dataclass(frozen=True)
class Names:
    """Names of blocks in lower case, as entities give them and as the blocks have them."""

    word: StringTable
    """The name that each entity gives."""
    words: list[str]
    """The different names that entities give."""
    blocks: list[str]
    """The names of the blocks."""

    @property
    def of(self) -> Integers:
        """For each entity the number of the name that it gives."""
        return self.word.of


def leading(parts: FileParts, names: Names, wanted: Mask, takes: Mask) -> Mask:
    """Which entities matter because of references.

    Those are references that lead to something on a wanted layer, and content that comes to lie on
    one. Where a layer is in doubt, an entity counts in both masks.

    Args:
        parts: The file in parts.
        names: The names of blocks in it.
        wanted: Which entities lie on a wanted layer.
        takes: Which entities take their reference's layer.

    Returns:
        A mask over the entities.

    Raises:
        UnsureError: Blocks of one name, a block inside itself, or nesting too deep to follow here.
    """
    inserts = parts.kinds(b"INSERT")
    tagged = parts.any_of_group(wanted & parts.kinds(b"ATTRIB")) & inserts
    graph = _Graph(parts, names, inserts, wanted, takes)
    fixed = np.append(graph.holding((wanted & parts.own & ~inserts) | tagged), False)
    taking = np.append(graph.inheriting(), False)
    matter: Mask = tagged | (inserts & fixed[graph.target]) | (takes & taking[parts.block])
    return matter


class _Graph:
    """The references between blocks."""

    def __init__(
        self, parts: FileParts, names: Names, inserts: Mask, wanted: Mask, takes: Mask
    ) -> None:
        self._parts, self._wanted, self._takes = parts, wanted, takes
        self._inserts = np.flatnonzero(inserts)
        number = {name: n for n, name in enumerate(names.blocks)}
        if len(number) < len(names.blocks) or "" in {
            names.words[w] for w in np.unique(names.of[self._inserts])
        }:
            raise UnsureError  # blocks of one name, or a reference without one
        self.target = np.full(len(inserts), IN_SPACE)
        """Number of the block that each entity refers to; IN_SPACE where there is none."""
        self.target[self._inserts] = np.array(
            [number.get(name, IN_SPACE) for name in names.words], np.int64
        )[names.of[self._inserts]]
        self._edges = self._between_blocks()
        self._order = self._sorted()

    def _between_blocks(self) -> dict[int, set[tuple[int, bool, bool]]]:
        """By block: (block referred to, whether on a wanted layer, whether it takes its layer)."""
        edges: defaultdict[int, set[tuple[int, bool, bool]]] = defaultdict(set)
        which = self._inserts[
            (self._parts.block[self._inserts] != IN_SPACE)
            & (self.target[self._inserts] != IN_SPACE)
        ]
        columns = (self._parts.block, self.target, self._wanted, self._takes)
        for block, target, wanted, takes in zip(*(c[which].tolist() for c in columns), strict=True):
            edges[block].add((target, wanted, takes))
        return edges

    def _sorted(self) -> list[int]:
        """The blocks, those referred to first. UnsureError where one contains itself."""
        depth: dict[int, int] = {}

        def visit(block: int, above: tuple[int, ...]) -> int:
            if block in above or len(above) > SKIM_BLOCKS_DEEPEST:
                raise UnsureError
            if block not in depth:
                depth[block] = 1 + max(
                    (visit(t, (*above, block)) for t, _, _ in self._edges.get(block, ())), default=0
                )
            return depth[block]

        deepest = max((visit(b, ()) for b in range(len(self._parts.blocks))), default=0)
        if deepest > SKIM_BLOCKS_DEEPEST:
            raise UnsureError
        return sorted(depth, key=depth.__getitem__)

    def holding(self, mask: Mask) -> Mask:
        """Which blocks hold, at any depth, an entity of the mask, or one that takes the layer of a
        reference on a wanted layer."""
        fixed, inherited = (
            self._blocks_with(mask),
            self._blocks_with(self._takes & self._parts.own & ~self._parts.kinds(b"INSERT")),
        )
        for block in self._order:
            for target, wanted, takes in self._edges.get(block, ()):
                fixed[block] |= fixed[target] or (wanted and inherited[target])
                inherited[block] |= takes and inherited[target]
        return fixed

    def inheriting(self) -> Mask:
        """Which blocks are placed by a reference that shows on a wanted layer."""
        spaces = self._inserts[self._parts.block[self._inserts] == IN_SPACE]
        spaces = spaces[self._wanted[spaces] & (self.target[spaces] != IN_SPACE)]
        reached = np.zeros(len(self._parts.blocks), bool)
        reached[self.target[spaces]] = True
        for block in reversed(self._order):
            for target, wanted, takes in self._edges.get(block, ()):
                reached[target] |= wanted or (takes and reached[block])
        return reached

    def _blocks_with(self, mask: Mask) -> Mask:
        found = np.zeros(len(self._parts.blocks) + 1, bool)
        found[self._parts.block[mask]] = True  # IN_SPACE, -1, marks the last, which is no block
        return found[:-1]
