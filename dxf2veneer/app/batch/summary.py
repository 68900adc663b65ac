"""The table across drawings: one row for each, and their sums."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dxf2veneer.basics.notices import Level, count_by_level
from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import Takeoff
from dxf2veneer.wording.measures import area_text
from dxf2veneer.wording.table import table

HEAD = (
    "drawing",
    "walls",
    "gross",
    "openings",
    "net",
    "flat panels",
    "corner panels",
    "corner pieces",
    "info",
    "warnings",
    "errors",
)
COLUMNS = (
    "drawing",
    "walls",
    "gross_sqft",
    "openings_sqft",
    "net_sqft",
    "panels_by",
    "flat_panels",
    "corner_panels",
    "corner_pieces",
    "info",
    "warnings",
    "errors",
    "problem",
)


@dataclass(frozen=True)
class Row:
    """What the table says of one drawing; areas in square inches.

    Without a plan ``flat`` is an estimate by area, and there are no corner panels to count.
    """

    drawing: str
    walls: int = 0
    gross: float = 0.0
    openings: float = 0.0
    net: float = 0.0
    planned: bool = True
    flat: int = 0
    corner: int = 0
    corner_pieces: int = 0
    infos: int = 0
    warnings: int = 0
    errors: int = 0
    problem: str = ""
    """Why there is no takeoff of this drawing, in one line."""

    @classmethod
    def of(cls, drawing: str, takeoff: Takeoff) -> Row:
        """The row of a drawing's takeoff."""
        plan, totals, counts = takeoff.plan, takeoff.totals, count_by_level(takeoff.notices)
        return cls(
            drawing=drawing,
            walls=len(takeoff.walls),
            gross=totals.gross_area,
            openings=totals.opening_area,
            net=totals.net_area,
            planned=plan is not None,
            flat=plan.flat.units if plan else takeoff.estimate.panels,
            corner=plan.corner.units if plan else 0,
            corner_pieces=plan.corner.pieces if plan else 0,
            infos=counts[Level.INFO],
            warnings=counts[Level.WARNING],
            errors=counts[Level.ERROR],
        )


def summed(rows: Sequence[Row]) -> Row:
    """The sums over all drawings that have a takeoff.

    Args:
        rows: A row for each drawing.

    Returns:
        One row; its panels are planned where those of every drawing are.
    """
    good = [r for r in rows if not r.problem]
    return Row(
        drawing="all drawings",
        walls=sum(r.walls for r in good),
        gross=math.fsum(r.gross for r in good),
        openings=math.fsum(r.openings for r in good),
        net=math.fsum(r.net for r in good),
        planned=all(r.planned for r in good),
        flat=sum(r.flat for r in good),
        corner=sum(r.corner for r in good),
        corner_pieces=sum(r.corner_pieces for r in good),
        infos=sum(r.infos for r in good),
        warnings=sum(r.warnings for r in good),
        errors=sum(r.errors for r in good),
    )


def lines(rows: Sequence[Row], display: str) -> Iterator[str]:
    """The table for the terminal.

    Args:
        rows: A row for each drawing.
        display: Units of the areas: ``imperial`` or ``metric``.

    Returns:
        Lines, the sums below.
    """
    return table(HEAD, [_shown(row, display) for row in (*rows, summed(rows))])


def _shown(row: Row, display: str) -> tuple[str, ...]:
    if row.problem:
        return (row.drawing, *["-"] * (len(HEAD) - 2), "not done")
    areas = (area_text(square_feet(value), display) for value in (row.gross, row.openings, row.net))
    panels = (
        (str(row.flat), str(row.corner), str(row.corner_pieces))
        if row.planned
        else (f"about {row.flat}", "-", "-")
    )
    return (
        row.drawing,
        str(row.walls),
        *areas,
        *panels,
        str(row.infos),
        str(row.warnings),
        str(row.errors),
    )


def cells(row: Row) -> tuple[str | int | float | None, ...]:
    """The row of a drawing in the CSV file.

    Args:
        row: The drawing's row.

    Returns:
        A cell for each of COLUMNS, areas in square feet; None where there is nothing to say.
    """
    if row.problem:
        return (row.drawing, *[None] * (len(COLUMNS) - 2), row.problem)
    corners = (row.corner, row.corner_pieces) if row.planned else (None, None)
    areas = (square_feet(value) for value in (row.gross, row.openings, row.net))
    by = "plan" if row.planned else "area"
    return (
        row.drawing,
        row.walls,
        *areas,
        by,
        row.flat,
        *corners,
        row.infos,
        row.warnings,
        row.errors,
        "",
    )
