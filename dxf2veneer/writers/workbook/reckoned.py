"""Formulas of measured quantities, over the rows of what they were counted from."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.goods import METRIC, ItemUnit
from dxf2veneer.config.product import Product
from dxf2veneer.model import OrderLine, OrderPart, Reckoning
from dxf2veneer.writers.workbook.columns import Formula, Value
from dxf2veneer.writers.workbook.counting import followed
from dxf2veneer.writers.workbook.input_items import UNITS
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.subjects import Subject

_LONGEST = 7000
"""Characters of a sum in a formula; spreadsheets take 8,192 in all (from memory, not checked)."""
_BY_RUN = (
    "corner_panel",
    "starter_strip",
    "starter_fastener",
    "cap_stone",
    "cap_fastener",
    "head_stone",
    "jamb_stone",
    "sill_stone",
)
"""Items that are so many for a foot of run when they are counted by run."""
_SUMMED = {
    ("flat_panel", "layout"),
    ("corner_panel", "layout"),
    ("panel_fastener", "layout"),
    ("fixture_block", "layout"),
    ("caulk", "area"),
    *((item, mode) for item in ("lath", "flashing", "adhesive") for mode in ("layout", "area")),
}
"""Items that in a way of counting are the sum of their sources."""


@dataclass(frozen=True)
class Measured:
    """Measured quantities as formulas over the rows of their sources, where a formula says them."""

    subject: Subject
    inputs: Inputs
    spans: Mapping[tuple[str, str], tuple[int, int]]
    cells: Mapping[tuple[str, str], str]

    def of(self, line: OrderLine, way: Reckoning) -> Value:
        """The formula, or the number where it was counted piece by piece, with what was added by
        hand."""
        counted = self._counted(line, way)
        if isinstance(counted, Formula) and way.added:
            total = f"{counted.text}+{way.added!r}"
            return Formula(f"MAX(0,{total})" if way.added < 0.0 else total)
        return counted

    def _counted(self, line: OrderLine, way: Reckoning) -> Value:
        """The formula of what was counted, or the whole number where there is none."""
        span = self.spans.get((line.key, way.mode))
        if span is None:
            return way.measured
        item = line.item_key
        summed = f"SUM(C{span[0]}:C{span[1]})"
        if (item, way.mode) in _SUMMED:
            return Formula(summed)
        if way.mode == "layout":
            return Formula(followed(span, way.sources, way.measured - way.added))
        return self._by_area(line, way, span, summed)

    def _by_area(
        self, line: OrderLine, way: Reckoning, span: tuple[int, int], summed: str
    ) -> Value:
        """The formula of an item counted by area or run."""
        item = line.item_key
        if item == "flat_panel":
            part = "" if line.color_share == 1.0 else f"*{line.color_share!r}"
            return Formula(self._flat(line, summed) + part)
        if item == "panel_fastener":
            return Formula(self._fasteners(line))
        if item == "wrb":
            return Formula(self._barrier(line, span))
        if way.parts:
            return Formula(_by_parts(way.parts, span[0]))
        total = math.fsum(s.value + s.beyond for s in way.sources)
        if item in _BY_RUN and total:
            return Formula(f"{summed}*{(way.measured - way.added) / total!r}")
        return way.measured

    def usual(self, net: tuple[int, int] | None, rates: Sequence[float]) -> str | None:
        """Formula text: per cent that course plans took beyond panels by area and corner run.

        Args:
            net: First and last row of the walls' net areas.
            rates: For each of them panels bought over panels' worth of net area.

        Returns:
            The formula text; None where it can't be followed.
        """
        if net is None or net[1] - net[0] + 1 != len(rates):
            return None
        face = self._face(self.subject.product)
        took = "+".join(f"{rate!r}*C{row}" for row, rate in enumerate(rates, net[0]))
        if len(took) > _LONGEST:
            return None
        panels = f"({self._area_of('flat_panel', '')}+{self._area_of('corner_panel', '')})"
        return f"IF({panels}=0,0,MAX(0,ROUND(100*(({took})/{face!r}/{panels}-1),1)))"

    def _flat(self, line: OrderLine, net: str) -> str:
        """Net area less what corner pieces cover, over a panel's face."""
        product = self.subject.product_of(line)
        each = self._ours("sqft") * square_feet(product.corner.length * product.panel.height)
        corners, face = self._area_of("corner_panel", line.product), self._face(product)
        return f"({net}-MIN({net},{corners}*{each!r}))/{face!r}"

    def _ours(self, unit: ItemUnit) -> float:
        """How many of the goods' own unit make one of ours."""
        return METRIC[unit][1] if self.subject.product.is_metric else 1.0

    def _face(self, product: Product) -> float:
        """A panel's face in the unit that areas of the goods are counted in."""
        return self._ours("sqft") * square_feet(product.coverage_area)

    def _area_of(self, item: str, product: str) -> str:
        """Formula text of a product's item by area, all colors together, without what was added
        by hand: nothing follows from that."""
        lines = [n for n in self.subject.lines if (n.item_key, n.product) == (item, product)]
        own = [self.cells[line.key, "area"] for line in lines if (line.key, "area") in self.cells]
        added = math.fsum(w.added for line in lines for w in line.ways if w.mode == "area")
        less = f"-{added!r}" if added else ""
        return own[0] if len(own) == 1 and not less else f"({'+'.join(own) or '0'}{less})"

    def _fasteners(self, line: OrderLine) -> str:
        """So many for a flat panel, so many for each half of a corner panel."""
        product = self.subject.product_of(line)
        rule = product.goods.panel_fastener
        each = rule.long if product.corner.length / 2.0 >= rule.long_from - 1e-6 else rule.short
        flat, corner = (self._area_of(key, line.product) for key in ("flat_panel", "corner_panel"))
        return f"{flat}*{rule.long!r}+{corner}*{2.0 * each!r}"

    def _barrier(self, line: OrderLine, span: tuple[int, int]) -> str:
        """Gross area with the laps of a roll, and an overlap along the corners."""
        roll = self.subject.product_of(line).goods.wrb
        level = roll.width / (roll.width - roll.lap_level)
        length = f"({self.inputs.of(line, 'per')}*{144.0 / roll.width / self._ours('sqft')!r})"
        laps = f"{level!r}*{length}/({length}-{roll.lap_upright!r})"
        unit, value = (f"{letter}{span[0]}:{letter}{span[1]}" for letter in "DC")
        is_metric = self.subject.product.is_metric
        units: tuple[ItemUnit, ...] = ("m2", "m") if is_metric else ("sqft", "ft")
        gross, corners = (f'SUMIFS({value},{unit},"{UNITS[name]}")' for name in units)
        lap = roll.lap_corner / 12.0 * self._ours("ft")
        return f"{roll.layers!r}*({gross}*{laps}+{corners}*{lap!r})"


def _by_parts(parts: Sequence[OrderPart], first: int) -> str:
    """Each part by its own run; their sources stand one after the other from row ``first``."""
    terms = []
    for part in parts:
        last = first + len(part.sources) - 1
        total = math.fsum(s.value + s.beyond for s in part.sources)
        if total:
            terms.append(f"SUM(C{first}:C{last})*{part.measured / total!r}")
        first = last + 1
    return "+".join(terms) or "0"
