"""What the quantities of an order were counted from, row by row: cells of other sheets, numbers of
the course plan, work wall by wall.

What stands on a wall that is out of the order counts nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dxf2veneer.basics.units import SQUARE_FEET_PER_SQUARE_METER
from dxf2veneer.model import LabourLine, OrderLine, OrderSource, Reckoning
from dxf2veneer.wording import say
from dxf2veneer.writers.workbook.columns import Display, Formula, Row
from dxf2veneer.writers.workbook.input_items import UNITS
from dxf2veneer.writers.workbook.links import Links, into
from dxf2veneer.writers.workbook.scope import Scope
from dxf2veneer.writers.workbook.subjects import Subject

WORK = "work"
"""What stands for the way of counting in rows of work."""


@dataclass(frozen=True)
class Sources:
    """Rows of what an order was counted from."""

    subject: Subject
    links: Links
    display: Display

    def of_way(self, line: OrderLine, way: Reckoning) -> list[Row]:
        """The rows of one way of counting an item.

        Args:
            line: The item.
            way: The way of counting.

        Returns:
            A row for each source.
        """
        linked = [("", "")] * len(way.sources)
        if not self.subject.stays:
            linked = self.links.of(line, way, self.display, other=self.subject.number > 0)
        what, scope = say(line.item, self.display.name), self.subject.scope_of(line)
        return [
            self._row(what, way.mode, source, sheet, text, scope)
            for source, (sheet, text) in zip(way.sources, linked, strict=True)
        ]

    def of_work(self, work: LabourLine) -> list[Row]:
        """The rows of one kind of work.

        Args:
            work: The work.

        Returns:
            A row for each wall; none where it is no sum over walls.
        """
        what = say(work.what, self.display.name)
        if work.rates:
            return self._by_rates(work, what)
        if abs(sum(s.value for s in work.sources) + work.added - work.quantity) > 1e-6:
            return []
        scope = self.subject.scope
        return [self._row(what, WORK, source, "", "", scope) for source in work.sources]

    def _by_rates(self, work: LabourLine, what: str) -> list[Row]:
        """Work that follows the net areas of the walls."""
        per = SQUARE_FEET_PER_SQUARE_METER / 100.0 if self.display.is_metric else 0.01
        scope = self.subject.scope
        rows: list[Row] = []
        for wall, rate in zip(self.subject.walls, work.rates, strict=True):
            text = f"{scope.walls.cell('net', scope.wall_rows[wall])}*{rate * per!r}"
            rows.append(
                {
                    "item": what,
                    "mode": WORK,
                    "value": Formula(scope.within(wall, text)),
                    "unit": work.unit,
                    "ref": wall,
                    "what": "by its net area",
                    "sheet": scope.walls.sheet,
                }
            )
        return rows

    def _row(
        self, item: str, mode: str, source: OrderSource, sheet: str, text: str, scope: Scope
    ) -> Row:
        more = f"+{source.beyond!r}" if source.beyond else ""
        amount = f"{text}{more}" if text else repr(source.value + source.beyond)
        feet = into("m" if source.unit in ("m", "m2") else "ft", self.display)
        is_fixed = not text
        if not self.subject.stays:
            amount = scope.within(source.ref, amount, feet, as_it_is=is_fixed)
        return {
            "item": item,
            "mode": mode,
            "value": Formula(amount),
            "unit": UNITS[source.unit],
            "ref": source.ref,
            "what": say(source.what, self.display.name),
            "sheet": sheet,
        }


def followed(span: tuple[int, int], sources: Sequence[OrderSource], measured: float) -> str:
    """Formula text: what was cut from pieces as long as its sources are what they were; then as
    much more or less as they are, rounded up.

    Args:
        span: First and last row of the sources.
        sources: The sources.
        measured: What was cut.

    Returns:
        The formula text; the number where it rests on none.
    """
    total = sum(s.value + s.beyond for s in sources)
    if not total:
        return repr(measured)
    now = f"SUM(C{span[0]}:C{span[1]})"
    scaled = f"ROUNDUP(ROUND({measured!r}*{now}/{total!r},6),0)"
    return f"IF(ABS({now}-{total!r})<0.000001,{measured!r},{scaled})"
