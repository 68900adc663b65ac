"""The report's tables of areas, runs and openings, and the boxes on top."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import CornerKind, Order, Takeoff, Totals, WallQuantities
from dxf2veneer.wording.bounds import least_words
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.writers.markup import Markup, tag
from dxf2veneer.writers.report.tables import Cell, table
from dxf2veneer.writers.words import by_area_words

Tile = tuple[str, str, str]
"""A box: what it is, the figure, a word more."""
_CORNERS: dict[CornerKind, str] = {
    "outside": "Outside corners",
    "inside": "Inside corners",
    "mitre": "Bay corners",
}


def tiles(takeoff: Takeoff) -> Markup:
    """What a person looks for first, in large.

    Args:
        takeoff: The takeoff.

    Returns:
        A row of boxes.
    """
    return tag(
        "div",
        {"class": "tiles"},
        *(
            tag(
                "div",
                {"class": "tile"},
                tag("span", None, a),
                tag("b", None, b),
                tag("span", None, c),
            )
            for a, b, c in tiles_of(takeoff)
        ),
    )


def tiles_of(takeoff: Takeoff) -> list[Tile]:
    """What a person looks for first.

    Args:
        takeoff: The takeoff.

    Returns:
        Net area, corners, starter; panels beside their lower bound; the bid.
    """
    show, t = takeoff.job.output.display, takeoff.totals
    outside, inside = (takeoff.corner_run(kind) for kind in ("outside", "inside"))
    boxes = [
        (
            "Net area",
            area_text(square_feet(t.net_area), show),
            f"of {area_text(square_feet(t.gross_area), show)} gross",
        ),
        ("Outside corners", length_text(outside, show), f"inside {length_text(inside, show)}"),
        ("Starter", length_text(t.starter_run, show), f"cap {length_text(t.cap_run, show)}"),
        *_panel_tiles(takeoff),
    ]
    return boxes if takeoff.order is None else [*boxes, _bid_tile(takeoff.order)]


def _panel_tiles(takeoff: Takeoff) -> Iterator[Tile]:
    plan, by_area = takeoff.plan, takeoff.estimate
    if plan is None:
        words = f"an estimate, {by_area_words(by_area)}: nothing was laid out"
        yield "Panels, by area", f"{by_area.panels:,}", words
        return
    yield "Flat panels", str(plan.flat.units), "laid out panel by panel"
    yield (
        "Corner panels",
        str(plan.corner.units),
        f"{plan.total} panels in all; {least_words(plan)}",
    )
    words = f"by area {by_area.panels:,} panels, {by_area_words(by_area)}"
    yield "Waste by layout", f"{takeoff.waste:.1%}", words


def _bid_tile(order: Order) -> Tile:
    total = order.bid.total
    if total is not None:
        return "Bid", f"{total:,.2f} {order.currency}", "from the order below"
    unpriced = sum(key != "labour" for key in order.bid.missing)
    missing = f"no price for {unpriced} items" if unpriced else "no wage"
    return "Bid", missing, "from the order below"


def areas(takeoff: Takeoff) -> Markup:
    """Areas of every wall and in total.

    Args:
        takeoff: The takeoff.

    Returns:
        The table.
    """
    show = takeoff.job.output.display

    def row(first: Cell, name: str, sums: WallQuantities | Totals, courses: str) -> list[Cell]:
        shown = (
            sums.gross_area, sums.opening_area, sums.deducted_area, sums.trim_area, sums.cap_area,
            sums.net_area,
        )  # fmt: skip
        return [first, name, *(area_text(square_feet(a), show) for a in shown), courses]

    rows = [
        row(
            tag("a", {"href": f"#{w.wall.id}"}, w.wall.id),
            w.wall.name,
            w.quantities,
            str(len(w.courses.courses)),
        )
        for w in takeoff.walls
    ]
    head = ("Wall", "Name", "Gross", "Openings", "Deducted", "Trim", "Cap", "Net", "Courses")
    last = row("", "all walls", takeoff.totals, "")
    return table("Areas", head, rows, words=2, last=last)


def runs(takeoff: Takeoff) -> Markup:
    """Runs of corners, ends, starter, base, cap, rake and trim in total.

    Args:
        takeoff: The takeoff.

    Returns:
        The table; runs of no length are left out.
    """
    show, t = takeoff.job.output.display, takeoff.totals
    listed = [
        *((name, takeoff.corner_run(kind)) for kind, name in _CORNERS.items()),
        ("Finished ends", takeoff.end_run),
        ("Starter", t.starter_run),
        ("Base", t.base_run),
        ("Cap", t.cap_run),
        ("Rake", t.rake_run),
        ("Trim at heads", t.trim_head),
        ("Trim at jambs", t.trim_jambs),
        ("Trim at sills", t.trim_sill),
    ]
    return table(
        "Runs",
        ("Run", "Length"),
        [(name, length_text(value, show)) for name, value in listed if value],
    )


def openings(takeoff: Takeoff) -> Markup:
    """Every opening with its size, area and whether it was deducted.

    Args:
        takeoff: The takeoff.

    Returns:
        The table; nothing without openings.
    """
    show = takeoff.job.output.display
    rows = [
        (
            o.opening.id,
            ", ".join(
                [
                    o.opening.name or o.opening.kind,
                    *([f"part of {o.opening.part_of}"] if o.opening.part_of else []),
                ]
            ),
            length_text(o.width, show),
            length_text(o.height, show),
            area_text(square_feet(o.area), show),
            "yes" if o.deducted else "no",
            length_text(o.trim_head + o.trim_jambs + o.trim_sill, show),
        )
        for w in takeoff.walls
        for o in w.quantities.openings
    ]
    return (
        table(
            "Openings",
            ("Opening", "Name", "Width", "Height", "Area", "Deducted", "Trim stone"),
            rows,
            words=2,
        )
        if rows
        else Markup()
    )
