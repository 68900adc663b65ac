"""From a source of the order to the cell of another sheet that holds the same number."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dxf2veneer.model import OrderSource, Takeoff
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
                    return table.sheet, table.cell(column, row) + _into(source.unit, display) + ("" if share == 1 else f"/{share}")
        return "", ""

    def _held(self, source: OrderSource) -> list[Held]:
        return [*self._of_walls(source), *self._of_openings(source), *self._of_corners(source), *self._of_panels(source)]

    def _of_walls(self, source: OrderSource) -> list[Held]:
        found: list[Held] = []
        at = 0
        for n, entry in enumerate(self.takeoff.walls):
            sums = entry.quantities
            if entry.wall.id == source.ref:
                values = {
                    "net area": ("net", square_feet(sums.net_area)),
                    "gross area": ("gross", square_feet(sums.gross_area)),
                    "cap run": ("caps", sums.cap_run / 12.0),
                    "starter run": ("starter", sums.starter_run / 12.0),
                }
                if source.what in values:
                    column, held = values[source.what]
                    found.append((self.walls, column, n, held))
                sides = [(k, e) for k, e in enumerate(entry.wall.edges, at) if source.what.startswith(f"{e.side} e")]
                found += [(self.edges, "run", k, e.length / 12.0) for k, e in sides]
            at += len(entry.wall.edges)
        return found

    def _of_openings(self, source: OrderSource) -> list[Held]:
        every = [o for w in self.takeoff.walls for o in w.quantities.openings]
        found: list[Held] = []
        for n, o in enumerate(every):
            if o.opening.id == source.ref and source.unit == "ft":
                runs = {"head": o.trim_head, "jambs": o.trim_jambs, "sill": o.trim_sill}
                if source.what in runs:
                    found.append((self.trim, source.what, n, runs[source.what] / 12.0))
                elif source.what == "joint round it":
                    found.append((self.trim, "all", n, math.fsum(runs.values()) / 12.0))
                    found.append((self.trim, "perimeter", n, o.perimeter / 12.0))
        return found

    def _of_corners(self, source: OrderSource) -> list[Held]:
        return [(self.corners, "run", n, c.run / 12.0) for n, c in enumerate(self.takeoff.corners) if c.id == source.ref and source.unit == "ft"]

    def _of_panels(self, source: OrderSource) -> list[Held]:
        if self.panels is None or self.takeoff.plan is None or not source.what.startswith("panels first"):
            return []
        column = "flat" if "laid whole" in source.what else "corner"
        return [(self.panels, column, n, getattr(c, column)) for n, c in enumerate(self.takeoff.plan.walls) if c.wall == source.ref]


def _into(unit: str, display: Display) -> str:
    """Formula text that turns what a sheet shows into feet or square feet."""
    if not display.is_metric or unit == "each":
        return ""
    return f"*{SQUARE_FEET_PER_SQUARE_METRE!r}" if unit == "sqft" else "/0.3048"
