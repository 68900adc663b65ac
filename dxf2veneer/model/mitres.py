"""The two sides of bay corners in their panels (rule L13)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.model.pieces import PieceRef

MitreState = Literal["kept", "forced", "broken"]
"""Side by side in one panel; not, and no layout of the bay has them so; not, though one might."""


@dataclass(frozen=True)
class MitredPair:
    """The two pieces that meet at a bay corner in one course."""

    corner: str
    """Id of the corner."""
    left: PieceRef
    """The piece that ends at the corner, seen from outside."""
    right: PieceRef
    """The piece that begins there."""
    state: MitreState
    """Whether one saw cut through a panel parts them, so that the stone's pattern runs round."""


@dataclass(frozen=True)
class Mitres:
    """The pairs of a plan, by corner and course."""

    pairs: tuple[MitredPair, ...]

    def count(self, state: MitreState) -> int:
        """How many pairs there are of a state."""
        return sum(pair.state == state for pair in self.pairs)

    def beside(self) -> dict[PieceRef, tuple[PieceRef, ...]]:
        """By piece those that lie beside it in its panel, parted by a mitre alone."""
        found: dict[PieceRef, tuple[PieceRef, ...]] = {}
        for pair in self.pairs:
            if pair.state == "kept":
                found[pair.left] = (*found.get(pair.left, ()), pair.right)
                found[pair.right] = (*found.get(pair.right, ()), pair.left)
        return found
