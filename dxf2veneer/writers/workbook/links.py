"""From a source of the order to the cell of another sheet that holds the same number."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from dxf2veneer.model import Corner, OpeningQuantities, OrderSource, Takeoff, WallCount, WallTakeoff
from dxf2veneer.units import SQUARE_FEET_PER_SQUARE_METRE, square_feet
from dxf2veneer.writers.workbook.cells import Placed
from dxf2veneer.writers.workbook.columns import Display

_SAME = 1e-9
Held = tuple[Placed, str, int, float]
"""A cell of a table (its column and row from 0) and what it held, in feet, square feet or pieces."""


@dataclass(frozen=True)
class Links:
    """The tables that hold what the order was counted from."""

    takeoff: Takeoff
    walls: Placed
    trim: Placed
    corners: Placed
    edges: Placed
    panels: Placed | None

    def of(self, source: OrderSource, display: Display) -> tuple[str, str]:
        """The sheet that holds a source and the formula text that reads it, in feet and square feet; both
        empty where none does. A cell is linked only where it holds the source's own number or two of it."""
        for table, column, row, held in self._held(source):
            for share in (1, 2):
                if held and math.isclose(held, source.value * share, rel_tol=_SAME, abs_tol=_SAME):
                    return table.sheet, table.cell(column, row) + _into(source.unit, display) + (
                        "" if share == 1 else f"/{share}"
                    )
        return "", ""

    def _held(self, source: OrderSource) -> list[Held]:
        return [
            *self._of_walls(source),
            *self._of_openings(source),
            *self._of_corners(source),
            *self._of_panels(source),
        ]

    def _of_walls(self, source: OrderSource) -> list[Held]:
        if source.ref not in self._walls:
            return []
        row, first_edge, entry = self._walls[source.ref]
        sums = entry.quantities
        values = {
            "source-net-area": ("net", square_feet(sums.net_area)),
            "source-gross-area": ("gross", square_feet(sums.gross_area)),
            "source-cap-run": ("caps", sums.cap_run / 12.0),
            "source-starter-run": ("starter", sums.starter_run / 12.0),
        }
        found: list[Held] = []
        if source.what.code in values:
            column, held = values[source.what.code]
            found.append((self.walls, column, row, held))
        sides = [
            (k, e)
            for k, e in enumerate(entry.wall.edges, first_edge)
            if source.what.get("side") == e.side
        ]
        return found + [(self.edges, "run", k, e.length / 12.0) for k, e in sides]

    def _of_openings(self, source: OrderSource) -> list[Held]:
        if source.ref not in self._openings or source.unit != "ft":
            return []
        row, o = self._openings[source.ref]
        runs = {"head": o.trim_head, "jambs": o.trim_jambs, "sill": o.trim_sill}
        side = source.what.code.removeprefix("source-")
        if side in runs:
            return [(self.trim, side, row, runs[side] / 12.0)]
        if source.what.code == "source-opening-joint":
            return [
                (self.trim, "all", row, math.fsum(runs.values()) / 12.0),
                (self.trim, "perimeter", row, o.perimeter / 12.0),
            ]
        return []

    def _of_corners(self, source: OrderSource) -> list[Held]:
        if source.ref not in self._corners or source.unit != "ft":
            return []
        row, corner = self._corners[source.ref]
        return [(self.corners, "run", row, corner.run / 12.0)]

    def _of_panels(self, source: OrderSource) -> list[Held]:
        columns = {"source-panels-laid": "flat", "source-panels-cut": "corner"}
        column = columns.get(source.what.code)
        if self.panels is None or source.ref not in self._panels or column is None:
            return []
        row, count = self._panels[source.ref]
        return [(self.panels, column, row, getattr(count, column))]

    # Each table's rows by what they are about, with the row's count from 0.

    @cached_property
    def _walls(self) -> dict[str, tuple[int, int, WallTakeoff]]:
        """A wall's row, and the row of its first edge among all edges."""
        walls = self.takeoff.walls
        edges = accumulate((len(w.wall.edges) for w in walls), initial=0)
        return {
            w.wall.id: (n, edge, w) for n, (w, edge) in enumerate(zip(walls, edges, strict=False))
        }

    @cached_property
    def _openings(self) -> dict[str, tuple[int, OpeningQuantities]]:
        return {
            o.opening.id: (n, o)
            for n, o in enumerate(o for w in self.takeoff.walls for o in w.quantities.openings)
        }

    @cached_property
    def _corners(self) -> dict[str, tuple[int, Corner]]:
        return {c.id: (n, c) for n, c in enumerate(self.takeoff.corners)}

    @cached_property
    def _panels(self) -> dict[str, tuple[int, WallCount]]:
        plan = self.takeoff.plan
        return {c.wall: (n, c) for n, c in enumerate(plan.walls)} if plan else {}


def _into(unit: str, display: Display) -> str:
    """Formula text that turns what a sheet shows into feet or square feet."""
    if not display.is_metric or unit == "each":
        return ""
    return f"*{SQUARE_FEET_PER_SQUARE_METRE!r}" if unit == "sqft" else "/0.3048"
