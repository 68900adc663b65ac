"""From a source of the order to the cell of another sheet that holds the same number.

A source is linked by what it is about: its item, the way of counting, and the wall, opening or
corner it names. The order lists the sources of an item wall by wall, and on each wall edge by edge.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from dxf2veneer.basics.units import FOOT_M, SQUARE_FEET_PER_SQUARE_METER
from dxf2veneer.config.blend import color_key
from dxf2veneer.model import (
    EdgeKind,
    OpeningQuantities,
    OrderLine,
    OrderSource,
    Reckoning,
    Takeoff,
    WallTakeoff,
)
from dxf2veneer.writers.workbook.cells import PlacedTable
from dxf2veneer.writers.workbook.columns import Display

_WALL_COLUMNS = {
    "flat_panel": "net",
    "wrb": "gross",
    "starter_strip": "starter",
    "starter_fastener": "starter",
    "cap_stone": "caps",
    "cap_fastener": "caps",
    "caulk": "caps",
}
"""Items that are counted from a column of the walls."""
_TRIM_COLUMNS = {"source-head": "head", "source-jambs": "jambs", "source-sill": "sill"}
"""What is taken of a column of the trim."""
_EDGES: dict[str, EdgeKind] = {"corner_panel": "end", "caulk": "butt"}
"""Items that are counted from side edges of a kind, before all else of a wall."""
_PANELS = {"flat_panel": "flat", "corner_panel": "corner"}
"""Items that are counted from a column of the panels when they are laid out."""
_BOTH_PANELS = "panel_fastener"
"""Its sources by area are those of flat panels, then those of corner panels."""

Cell = tuple[PlacedTable, str, int]
"""A cell: its table, column and row from 0."""


@dataclass(frozen=True)
class Links:
    """The tables that hold what the order was counted from."""

    takeoff: Takeoff
    walls: PlacedTable
    trim: PlacedTable
    corners: PlacedTable
    edges: PlacedTable
    panels: PlacedTable | None
    colors: PlacedTable | None
    """Walls with their colors, where the product has several."""

    def of(
        self, line: OrderLine, way: Reckoning, display: Display, *, other: bool = False
    ) -> list[tuple[str, str]]:
        """The cells that hold the sources of one way of counting an item.

        Args:
            line: The item.
            way: The way of counting.
            display: Units of the sheets.
            other: Whether the line is another order's than the bid's: then only what the bid was
                counted from too is on a sheet.

        Returns:
            For each source the sheet and the formula text that reads it, in feet and square feet;
            both empty where no sheet holds it. Sources that share a cell, such as the two jambs of
            an opening, read an even share of it.
        """
        found = self._cells(line.item_key, way, line.plain_key)
        apart = self._corners_apart(line.product)
        found = [
            None if s.ref in apart else cell for cell, s in zip(found, way.sources, strict=True)
        ]
        if other:
            is_laid = way.mode == "layout" and line.item_key in (*_PANELS, _BOTH_PANELS)
            known = set() if is_laid else self._counted.get((line.item_key, way.mode), set())
            found = [
                cell if _about(source) in known else None
                for cell, source in zip(found, way.sources, strict=True)
            ]
        at = [None if cell is None else cell[0].cell(*cell[1:]) for cell in found]
        shares = Counter(at)
        made = []
        for source, cell, place in zip(way.sources, found, at, strict=True):
            if cell is None or place is None:
                made.append(("", ""))
                continue
            share = f"/{shares[place]}" if shares[place] > 1 else ""
            made.append((cell[0].sheet, place + into(source.unit, display) + share))
        return made

    def _cells(self, item: str, way: Reckoning, key: str) -> list[Cell | None]:
        """The cell of every source, None where no sheet holds it."""
        if way.mode == "layout" and item in _PANELS and key != item:
            return [self._of_colors(s.ref, key, _PANELS[item]) for s in way.sources]
        if way.mode == "layout" and item in _PANELS:
            return [self._of_panels(s.ref, _PANELS[item]) for s in way.sources]
        if way.mode == "layout" and item == _BOTH_PANELS:
            return [None] * len(way.sources)
        seen: Counter[str] = Counter()
        found: list[Cell | None] = []
        for source in way.sources:
            about = self._about(item, source.unit in ("sqft", "m2"))
            found.append(self._of(about, source, seen[source.ref]))
            seen[source.ref] += source.unit in ("ft", "m")
        return found

    def _about(self, item: str, is_area: bool) -> str:
        """The item whose sources these are."""
        if item == _BOTH_PANELS:
            return "flat_panel" if is_area else "corner_panel"
        return item

    def _of(self, item: str, source: OrderSource, nth: int) -> Cell | None:
        """The cell of an item's source, the ``nth`` with its wall, opening or corner."""
        ref = source.ref
        if ref in self._corners:
            return self.corners, "run", self._corners[ref]
        if ref in self._openings:
            return self._of_opening(item, source, *self._openings[ref])
        if ref not in self._walls:
            return None
        row, first_edge, wall = self._walls[ref]
        edges = [
            (self.edges, "run", number)
            for number, edge in enumerate(wall.wall.edges, first_edge)
            if edge.kind == _EDGES.get(item) and edge.length
        ]
        if nth < len(edges):
            return edges[nth]
        return (self.walls, _WALL_COLUMNS[item], row) if item in _WALL_COLUMNS else None

    def _of_opening(
        self, item: str, source: OrderSource, row: int, measured: OpeningQuantities
    ) -> Cell | None:
        if item == "caulk":
            is_fixture = measured.opening.kind == "fixture"
            return self.trim, "perimeter" if is_fixture else "all", row
        column = _TRIM_COLUMNS.get(source.what.code)
        return (self.trim, column, row) if column else None

    def _of_panels(self, wall: str, column: str) -> Cell | None:
        if self.panels is None or wall not in self._panels:
            return None
        return self.panels, column, self._panels[wall]

    def _of_colors(self, wall: str, key: str, column: str) -> Cell | None:
        row = self._colors.get((wall, key.partition(" ")[2]))
        return None if self.colors is None or row is None else (self.colors, column, row)

    def _corners_apart(self, product: str) -> set[str]:
        """Corners that a product's walls share with another's: its own sides may be lower than
        what the sheet of corners says."""
        whole = {c.id: c.edges for c in self.takeoff.corners}
        parts = (p for p in self.takeoff.parts if p.name == product)
        return {c.id for p in parts for c in p.corners if c.edges != whole[c.id]}

    @cached_property
    def _counted(self) -> dict[tuple[str, str], set[tuple[str, str, float]]]:
        """What the bid's own order was counted from, by item and way."""
        found: dict[tuple[str, str], set[tuple[str, str, float]]] = {}
        for line in self.takeoff.order.lines if self.takeoff.order else ():
            for way in line.ways:
                found.setdefault((line.item_key, way.mode), set()).update(map(_about, way.sources))
        return found

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
        measured = (o for w in self.takeoff.walls for o in w.quantities.openings)
        return {o.opening.id: (n, o) for n, o in enumerate(measured)}

    @cached_property
    def _corners(self) -> dict[str, int]:
        return _rows([c.id for c in self.takeoff.corners])

    @cached_property
    def _panels(self) -> dict[str, int]:
        plan = self.takeoff.plan
        return _rows([c.wall for c in plan.walls]) if plan else {}

    @cached_property
    def _colors(self) -> dict[tuple[str, str], int]:
        spread = self.takeoff.plan.spread if self.takeoff.plan else None
        listed = spread.walls if spread else ()
        return {(one.wall, color_key(one.color)): n for n, one in enumerate(listed)}


def _about(source: OrderSource) -> tuple[str, str, float]:
    """What a source is about, and how much."""
    return source.ref, source.what.code, round(source.value, 9)


def _rows(ids: Sequence[str]) -> dict[str, int]:
    return {id: n for n, id in enumerate(ids)}


def into(unit: str, display: Display) -> str:
    """Formula text that turns what a sheet shows into feet or square feet.

    Args:
        unit: The unit of what is counted.
        display: Units of the sheets.

    Returns:
        What stands behind the cell; empty where it shows them.
    """
    if unit in ("m", "m2"):
        factor = f"/{SQUARE_FEET_PER_SQUARE_METER!r}" if unit == "m2" else f"*{FOOT_M!r}"
        return "" if display.is_metric else factor
    if not display.is_metric or unit == "each":
        return ""
    return f"*{SQUARE_FEET_PER_SQUARE_METER!r}" if unit == "sqft" else f"/{FOOT_M!r}"
