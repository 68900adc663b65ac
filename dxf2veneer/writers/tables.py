"""Every table of the estimate for other programs: one CSV each, and all of them as JSON.

Measures of walls, openings, corners and shares are in feet, square feet and inches, whatever the
display, as the heads say. Quantities of items and labor are in the unit beside them, meters where
goods are sold by them. An empty cell (null in JSON) is a number that is not known or that there is
none of.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import ElevationShare, Order, OrderShare, Takeoff
from dxf2veneer.model.parts import product_name
from dxf2veneer.textio.whole_files import BLANK_SEAL, Cell, write_csv, write_whole
from dxf2veneer.wording import remedy, say
from dxf2veneer.wording.cautions import CAUTIONS
from dxf2veneer.writers.basis import assumption_words
from dxf2veneer.writers.words import place_words

Rows = Sequence[tuple[Cell, ...]]


@dataclass(frozen=True)
class DataTable:
    """A table: its name, the heads of its columns, its rows."""

    name: str
    columns: tuple[str, ...]
    rows: Rows


def tables_of(takeoff: Takeoff) -> tuple[DataTable, ...]:
    """All tables of the estimate.

    Args:
        takeoff: The takeoff.

    Returns:
        The tables; those of the order are empty without one.
    """
    order = takeoff.order
    return (
        _walls(takeoff),
        _openings(takeoff),
        DataTable(
            "corners",
            ("corner", "kind", "run_ft", "walls"),
            [
                (c.id, c.kind, c.run / 12, " ".join(f"{wall}:{side}" for wall, side in c.edges))
                for c in takeoff.corners
            ],
        ),
        *_order(order, takeoff.job.output.display),
        _shares("wall-shares", takeoff.shares, order),
        _shares("elevation-shares", takeoff.elevations, order),
        _shares("phase-shares", takeoff.phases, order),
        _notices(takeoff),
        _assumptions(takeoff),
        DataTable("cautions", ("reader", "caution"), [(str(r), t) for r, t in CAUTIONS.items()]),
        _changed_cuts(takeoff),
    )


def write_table(table: DataTable, path: Path) -> None:
    """Write a table as CSV, whole or not at all.

    Args:
        table: The table.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    write_csv(path, table.columns, table.rows)


def write_tables(tables: Sequence[DataTable], path: Path) -> None:
    """Write tables as JSON, whole or not at all: by name a list of objects, one a row.

    Args:
        tables: The tables.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    held = {
        t.name: [dict(zip(t.columns, map(_plain, row), strict=True)) for row in t.rows]
        for t in tables
    }
    text = json.dumps({"made_by": BLANK_SEAL, **held}, ensure_ascii=False, indent=1)
    write_whole(path, lambda draft: draft.write_text(text + "\n", encoding="utf-8"))


def _plain(value: Cell) -> str | float | None:
    return float(value) if isinstance(value, Decimal) else value


def _walls(takeoff: Takeoff) -> DataTable:
    columns = (
        "wall", "name", "gross_sqft", "openings_sqft", "deducted_sqft", "trim_sqft", "cap_sqft",
        "net_sqft", "base_ft", "starter_ft", "cap_ft", "rake_ft",
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for w in takeoff.walls:
        q = w.quantities
        areas = (q.gross_area, q.opening_area, q.deducted_area, q.trim_area, q.cap_area, q.net_area)
        runs = (q.base_run, q.starter_run, q.cap_run, q.rake_run)
        measured = (*map(square_feet, areas), *(run / 12 for run in runs))
        own = (product_name(takeoff.product_of(w.wall.id)),) if takeoff.parts else ()
        rows.append((w.wall.id, w.wall.name, *measured, *own))
    return DataTable("walls", (*columns, *(("product",) if takeoff.parts else ())), rows)


def _openings(takeoff: Takeoff) -> DataTable:
    columns = (
        "opening", "wall", "kind", "name", "width_in", "height_in", "area_sqft", "deducted",
        "head_ft", "jambs_ft", "sill_ft",
    )  # fmt: skip
    rows = [
        (
            o.opening.id, w.wall.id, o.opening.kind, o.opening.name, o.width, o.height,
            square_feet(o.area), "yes" if o.deducted else "no", o.trim_head / 12,
            o.trim_jambs / 12, o.trim_sill / 12,
        )
        for w in takeoff.walls
        for o in w.quantities.openings
    ]  # fmt: skip
    return DataTable("openings", columns, rows)


def _changed_cuts(takeoff: Takeoff) -> DataTable:
    """What site measures change in the cut list; empty without any."""
    columns = (
        "wall", "course", "piece", "change", "length_before_in", "length_in", "panel_before",
        "panel",
    )  # fmt: skip
    rows = [
        (
            c.wall,
            takeoff.course_number(c.wall, c.course),
            c.number,
            c.what,
            c.old_length,
            c.length,
            c.old_stock,
            c.stock,
        )
        for c in (takeoff.changes.cuts if takeoff.changes else ())
    ]
    return DataTable("changed-cuts", columns, rows)


def _order(order: Order | None, display: str) -> Iterator[DataTable]:
    """Items, labor, price and alternates."""
    lines = order.lines if order else ()
    columns = (
        "key", "item", "counted", "measured", "unit", "allowance_pct", "needed", "package",
        "per_package", "packages", "price", "price_per", "cost", "currency", "weight_lb", "pallets",
        "by_others",
    )  # fmt: skip
    items = [
        (
            o.key, say(o.item, display), o.mode, o.chosen.measured, o.unit, o.chosen.allowance_pct,
            o.chosen.needed, o.package, o.per_package, o.chosen.packages, o.price, o.price_per,
            o.chosen.cost, order.currency if order else "", o.chosen.weight_lb, o.pallets,
            "yes" if o.by_others else "no",
        )
        for o in lines
    ]  # fmt: skip
    yield DataTable("items", columns, items)
    labor = [
        (
            o.key,
            say(o.what, display),
            o.quantity,
            o.unit,
            o.hours_each,
            o.rate,
            None if o.is_open else o.hours,
            o.cost,
        )
        for o in (order.labour if order else ())
    ]
    heads = ("key", "work", "quantity", "unit", "hours_each", "rate", "hours", "cost")
    yield DataTable("labor", heads, labor)
    price = [
        (o.key, say(o.title), o.kind, o.how, o.value, o.per, ", ".join(o.of), o.amount, o.running)
        for o in (order.bid.lines if order else ())
    ]
    priced = ("key", "line", "kind", "how", "value", "per", "of", "amount", "running")
    yield DataTable("price", priced, price)
    alternates = [
        (a.name, say(a.what, display), a.order.bid.total, a.difference)
        for a in (order.alternates if order else ())
    ]
    yield DataTable("alternates", ("alternate", "what", "total", "difference"), alternates)


def _shares(
    name: str, shares: Sequence[OrderShare | ElevationShare], order: Order | None
) -> DataTable:
    """Money, hours and packages by wall, by elevation or by phase."""
    keys = [line.key for line in order.lines if not line.by_others] if order else []
    head = ("wall", "elevation") if name == "wall-shares" else (name.removesuffix("-shares"),)
    columns = (*head, "net_sqft", "materials", "labor", "price", "hours", *keys)
    rows = [
        (
            *((s.wall, s.elevation) if isinstance(s, OrderShare) else (s.name or "none",)),
            square_feet(s.net_area), s.materials, s.labour, s.price, s.hours,
            *(p.packages for p in s.packages),
        )
        for s in shares
    ]  # fmt: skip
    return DataTable(name, columns, rows)


def _notices(takeoff: Takeoff) -> DataTable:
    display = takeoff.job.output.display
    rows = [
        (n.level.value, n.code, say(n.message, display), place_words(n, takeoff.drawings),
         n.count, remedy(n.code))
        for n in takeoff.notices
    ]  # fmt: skip
    return DataTable("notices", ("level", "code", "what", "where", "count", "what_to_do"), rows)


def _assumptions(takeoff: Takeoff) -> DataTable:
    worded = [assumption_words(a, takeoff.job.output.display) for a in takeoff.assumptions]
    rows = [(a.name, str(a.value), a.origin, a.basis, a.effect) for a in worded]
    return DataTable("assumptions", ("setting", "value", "from", "rests_on", "effect"), rows)
