"""What is counted and priced: the bid's own order, and every alternate beside it.

An alternate with the bid's own product is counted by area from the same cells as the bid, with
other walls; its panels by layout are those of a layout of its own.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

from dxf2veneer.config.product import Product
from dxf2veneer.model import Alternate, LabourLine, Order, OrderLine, Part, Takeoff
from dxf2veneer.writers.workbook.cells import PlacedTable
from dxf2veneer.writers.workbook.scope import Scope

QUANTITIES = "Quantities"
"""Title of the sheet of the bid's own quantities; those of alternates have a number behind it."""
_NOT_BY_PLAN = ("opening", "stone")
"""Kinds of work that are counted on the walls, not on the pieces of a plan."""


@dataclass(frozen=True)
class Subject:
    """An order in the workbook."""

    number: int
    """0 for the bid's own, from 1 for alternates."""
    name: str
    """The user's own name of an alternate; empty for the bid."""
    title: str
    """Title of its sheet of quantities."""
    lines: tuple[OrderLine, ...]
    labour: tuple[LabourLine, ...]
    walls: tuple[str, ...]
    """Ids of the walls by which work was estimated."""
    product: Product
    scope: Scope
    follows: bool
    """Whether what course plans took can be followed wall by wall."""
    stays: bool = False
    """Whether it stays as computed when walls are changed by hand, as no sheet has all of its
    walls."""
    parts: tuple[Part, ...] = ()
    """The walls of each product, where the job has several."""

    def product_of(self, line: OrderLine) -> Product:
        """The product that an item is of."""
        part = self.part_of(line)
        return part.product if part else self.product

    def part_of(self, line: OrderLine) -> Part | None:
        """The walls of the product that an item is of; None where it is bought for all."""
        return next((p for p in self.parts if p.name == line.product), None)

    def scope_of(self, line: OrderLine) -> Scope:
        """The walls that an item is counted on."""
        part = self.part_of(line)
        corners = {c.id: c for c in part.corners} if part else self.scope.corners
        return dataclasses.replace(self.scope, corners=corners)


def quantity_titles(order: Order) -> tuple[str, ...]:
    """Titles of the sheets of quantities.

    Args:
        order: The order with its alternates.

    Returns:
        That of the bid, then those of its alternates.
    """
    return (QUANTITIES, *(f"{QUANTITIES} {n}" for n, _ in enumerate(order.alternates, 1)))


def subjects_of(
    takeoff: Takeoff, order: Order, walls: PlacedTable, edges: PlacedTable
) -> list[Subject]:
    """The bid's own order and the alternates.

    Args:
        takeoff: The takeoff.
        order: The order with its alternates.
        walls: Where the walls stand.
        edges: Where their side edges stand.

    Returns:
        The bid's own first.
    """
    every = tuple(w.wall.id for w in takeoff.walls)
    made = []
    for number, title in enumerate(quantity_titles(order)):
        scope = Scope.of(takeoff, walls, edges, number)
        alternate = order.alternates[number - 1] if number else None
        like = alternate is None or _is_like(alternate, takeoff)
        if alternate is None:
            lines, work, ids, product = order.lines, order.labour, every, takeoff.product
        elif like:
            lines, work = _lines(order, alternate), _labour(order, alternate)
            ids, product = every, takeoff.product
        else:
            lines, work = alternate.order.lines, alternate.order.labour
            if alternate.adds:  # no sheet has the net areas of walls out of the bid
                work = tuple(dataclasses.replace(w, rates=()) for w in work)
            ids, product = alternate.walls, alternate.product
        name = alternate.name if alternate else ""
        is_apart = alternate is not None and alternate.adds
        parts = takeoff.parts if alternate is None or like else alternate.parts
        made.append(
            Subject(number, name, title, lines, work, ids, product, scope, like, is_apart, parts)
        )
    return made


def _is_like(alternate: Alternate, takeoff: Takeoff) -> bool:
    """Whether an alternate has but walls of the bid, each with the product that it has there."""
    as_many = bool(alternate.parts) == bool(takeoff.parts)
    return alternate.product == takeoff.product and as_many and not alternate.adds


def _lines(order: Order, alternate: Alternate) -> tuple[OrderLine, ...]:
    """The lines of an alternate, counted by area as those of the bid; what it needs none of stands
    there for walls that are put in."""
    own = {line.key: line for line in alternate.order.lines}
    return tuple(_line(line, own.get(line.key)) for line in order.lines)


def _line(line: OrderLine, own: OrderLine | None) -> OrderLine:
    if own is None:
        return line
    by_area = next((way for way in line.ways if way.mode == "area"), None)
    ways = tuple(
        dataclasses.replace(by_area, usual_pct=way.usual_pct)
        if by_area and way.mode == "area"
        else way
        for way in own.ways
    )
    return dataclasses.replace(own, ways=ways)


def _labour(order: Order, alternate: Alternate) -> tuple[LabourLine, ...]:
    """The work of an alternate; what the walls alone say is as on the bid."""
    return tuple(
        base if base.key in _NOT_BY_PLAN or base.rates else own
        for base, own in zip(order.labour, alternate.order.labour, strict=True)
    )
