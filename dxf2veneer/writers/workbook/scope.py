"""Which walls an order of the workbook is for: yes or no on the sheet of the walls.

The bid's own order and every alternate have a column there. All that is counted from a wall, its
openings and corners asks that column, so that a wall goes in and out of the price by one word.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dxf2veneer.model import Corner, Order, Takeoff
from dxf2veneer.writers.workbook.cells import PlacedTable
from dxf2veneer.writers.workbook.columns import Column, Display, Row
from dxf2veneer.writers.workbook.links import into

_LONGEST_NAME = 24
"""Signs of an alternate's name in the heading of its column."""


def scope_key(number: int) -> str:
    """Key of the column of an order.

    Args:
        number: 0 for the bid's own, from 1 for alternates.

    Returns:
        The key.
    """
    return f"in_{number}"


def scope_columns(order: Order | None) -> list[Column]:
    """The columns of the walls that say which orders they are in.

    Args:
        order: The order with its alternates.

    Returns:
        A column for each; none without an order.
    """
    if order is None:
        return []
    names = ("this bid", *(a.name[:_LONGEST_NAME] for a in order.alternates))
    return [Column(scope_key(n), f"In\n{name}", 11) for n, name in enumerate(names)]


def scope_row(wall: str, order: Order | None) -> Row:
    """What a wall's cells say in those columns.

    Args:
        wall: The wall's id.
        order: The order with its alternates.

    Returns:
        yes or no by key.
    """
    if order is None:
        return {}
    said: Row = {scope_key(0): "yes"}
    for number, alternate in enumerate(order.alternates, 1):
        said[scope_key(number)] = "yes" if wall in alternate.walls else "no"
    return said


_WALL_COLUMNS = {
    "net_area": "net",
    "gross_area": "gross",
    "starter_run": "starter",
    "cap_run": "caps",
}
"""Measures that are the sum of a column of the walls."""


def measure_of_walls(
    measure: str, walls: PlacedTable, display: Display, unit: str, number: int = 0
) -> str:
    """Formula text: a measure of the takeoff as the sheet of the walls has it.

    Args:
        measure: Key of the measure.
        walls: Where the walls stand.
        display: Units of the sheets.
        unit: The unit that rates by it go by.
        number: Whose walls: 0 for the bid's own, from 1 for alternates.

    Returns:
        The measure in that unit, rounded to six places; empty for a measure that the sheet has not.
    """
    if measure not in _WALL_COLUMNS:
        return ""
    total = walls.sum_where(_WALL_COLUMNS[measure], **{scope_key(number): '"yes"'})
    return f"ROUND({total}{into(unit, display)},6)"


@dataclass(frozen=True)
class Scope:
    """The walls that one order is for."""

    walls: PlacedTable
    edges: PlacedTable
    number: int
    wall_rows: Mapping[str, int]
    """A wall's row, from 0, by its id."""
    opening_walls: Mapping[str, str]
    """The wall of an opening, by their ids."""
    corners: Mapping[str, Corner]
    edge_rows: Mapping[tuple[str, str, str], tuple[int, ...]]
    """Rows of the side edges, from 0, by corner, wall and side."""

    @classmethod
    def of(cls, takeoff: Takeoff, walls: PlacedTable, edges: PlacedTable, number: int) -> Scope:
        """The scope of an order.

        Args:
            takeoff: The takeoff.
            walls: Where the walls stand.
            edges: Where their side edges stand.
            number: 0 for the bid's own, from 1 for alternates.

        Returns:
            The scope.
        """
        listed = [(w.wall.id, e) for w in takeoff.walls for e in w.wall.edges]
        rows: dict[tuple[str, str, str], tuple[int, ...]] = {}
        for row, (wall, edge) in enumerate(listed):
            key = (edge.corner or "", wall, edge.side)
            rows[key] = (*rows.get(key, ()), row)
        return cls(
            walls,
            edges,
            number,
            {w.wall.id: n for n, w in enumerate(takeoff.walls)},
            {o.opening.id: w.wall.id for w in takeoff.walls for o in w.quantities.openings},
            {c.id: c for c in takeoff.corners},
            rows,
        )

    def test(self, wall: str) -> str:
        """Formula text: whether the order is for a wall."""
        return f'{self.walls.cell(scope_key(self.number), self.wall_rows[wall])}="yes"'

    def within(self, ref: str, text: str, into: str = "", *, as_it_is: bool = False) -> str:
        """Formula text of what was counted at a wall, an opening or a corner, where it is in.

        A corner of which one side is out counts by the other, as high as that is.

        Args:
            ref: Id of the wall, opening or corner.
            text: Formula text of the amount.
            into: Formula text behind a run on the sheets that turns it into feet.
            as_it_is: Whether the amount of a corner is that of its sides that are in already.

        Returns:
            The formula text; 0 where it is out.
        """
        wall = self.opening_walls.get(ref, ref)
        if wall in self.wall_rows:
            return f"IF({self.test(wall)},{text},0)"
        corner = self.corners.get(ref)
        if corner is None or any(other not in self.wall_rows for other, _ in corner.edges):
            return text  # on a wall that is on no sheet, as it is out of the base bid
        tests = [self.test(wall) for wall, _ in corner.edges]
        if len(tests) == 1 or as_it_is:
            return f"IF(OR({','.join(tests)}),{text},0)"
        sides = []
        for side in ("left", "right"):
            runs = [
                f"IF({self.test(wall)},{'+'.join(self._runs(ref, wall, side))},0)"
                for wall, its in corner.edges
                if its == side
            ]
            sides.append("+".join(runs) or "0")
        return f"IF(AND({','.join(tests)}),{text},MAX({','.join(sides)}){into})"

    def _runs(self, corner: str, wall: str, side: str) -> list[str]:
        return [
            self.edges.cell("run", row) for row in self.edge_rows.get((corner, wall, side), ())
        ] or ["0"]
