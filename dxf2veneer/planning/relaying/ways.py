"""The ways to divide a run, and the parts that it has then.

|c| first |   whole panels   | last |c|     a row: factory ends meet in its joints (L9)
|c|       single      |c|                   a flat piece with both ends cut
|c|c|                                       corner pieces alone
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.planning.cutting_stock.run_kinds import is_one_corner_piece
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Name = Literal["corner left", "first", "single", "last", "corner right"]
HANDS: dict[Name, Hand] = {
    "corner left": "left",
    "first": "right",
    "single": "any",
    "last": "left",
    "corner right": "right",
}
"""The parts of a run from the left, and the end of its panel that each keeps."""


class Way(NamedTuple):
    """A way to divide a run: which corner pieces, what stands between them, whole panels."""

    left: bool
    right: bool
    flat: Literal["row", "single", ""]
    whole: int = 0

    @property
    def is_alone(self) -> bool:
        """Whether one piece fills the run."""
        return self.left + self.right + bool(self.flat) == 1 and self.flat != "row"

    def has(self, name: Name) -> bool:
        """Whether that part is there."""
        if name == "corner left":
            return self.left
        if name == "corner right":
            return self.right
        return self.flat == ("single" if name == "single" else "row")


def ways_of(run: Run, sizes: LayingSizes) -> Iterator[Way]:
    """Every way to divide a run that its length allows.

    Args:
        run: The run.
        sizes: Lengths and limits, in inches.

    Yields:
        The ways.
    """
    left, right, m = run.left == "corner", run.right == "corner", run.length
    corners = left + right
    if corners == 1 and "mitre" not in (run.left, run.right):
        if m <= sizes.longest_corner + EXACT_IN:
            yield Way(left, right, "")
        if is_one_corner_piece(run, sizes):
            return
    if corners == 2 and 2.0 * sizes.least - EXACT_IN <= m <= 2.0 * sizes.longest_corner + EXACT_IN:
        yield Way(True, True, "")
    least = corners * sizes.least - EXACT_IN
    most = corners * sizes.longest_corner + EXACT_IN
    if m <= most + sizes.panel and (m >= least + sizes.least or not corners):
        yield Way(left, right, "single")
    for whole in range(int(m / sizes.panel) + 1):
        rest = m - whole * sizes.panel
        if least + 2.0 * sizes.least <= rest <= most + 2.0 * sizes.panel:
            yield Way(left, right, "row", whole)
