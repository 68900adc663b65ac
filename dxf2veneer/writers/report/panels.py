"""The report's tables of panels: by wall, by kind, and how they lie."""

from __future__ import annotations

from dxf2veneer.model import (
    CoursePlan,
    Order,
    PlanChoices,
    StockCount,
    Takeoff,
    WallCount,
    WallEstimate,
)
from dxf2veneer.model.parts import product_name
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.blend import (
    COLOR_HEAD,
    boxes_line,
    color_rows,
    colors_over_line,
    spread_rows,
)
from dxf2veneer.wording.choices import HEAD, choice_notes, over_line, plan_cells
from dxf2veneer.wording.handling import handling_rows
from dxf2veneer.wording.look import look_rows
from dxf2veneer.wording.measures import length_text
from dxf2veneer.wording.mitres import mitre_rows
from dxf2veneer.wording.tolerance import tolerance_rows
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.tables import table

_NOTE = (
    "A panel counts for the wall it is first cut for; share is what a wall would pay for if walls "
    "shared each panel by the length of its parts. A wall that lives on others' offcuts may "
    "stand below its lower bound, and has no waste. By area is what the net area lets expect, "
    "rounded up for each wall: the job's own scrap, or what course plans of walls of its kind "
    "took. The last row is of the whole job: the lower bound of any layout of it, and by area "
    "rounded up once."
)


def panels(takeoff: Takeoff, plan: CoursePlan) -> Markup:
    """Panels by wall, and for the whole job beside their lower bound.

    Args:
        takeoff: The takeoff.
        plan: Its course plan.

    Returns:
        The tables.
    """
    show, numbers = takeoff.job.output.display, takeoff.course_number
    kinds = (("flat", plan.flat), ("corner", plan.corner))
    stock = table(
        "Panels and pieces",
        ("Kind", "Panels", "Pieces", "Length of pieces", "Crosscuts"),
        [_stock(kind, count, show) for kind, count in kinds],
    )
    seen = joined(())
    if plan.look and plan.look.joints:
        looks = look_rows(plan, plan.look, numbers, show)
        seen = table("Look of the joints", ("What", "Found"), looks)
    if plan.handling and plan.handling.offcuts:
        wait = takeoff.job.plan.offcut_wait
        rows = handling_rows(plan, plan.handling, wait)
        seen = joined((seen, table("Where offcuts go", ("What", "Found"), rows)))
    if plan.mitres and plan.mitres.pairs:
        above = ("What", "Found", "Where")
        pairs = table("Mitered pairs", above, mitre_rows(plan.mitres, numbers), words=1, tail=1)
        seen = joined((seen, pairs))
    seen = joined((seen, _colors(takeoff, plan)))
    over = over_line(plan, takeoff.order)
    if over:
        seen = joined((seen, tag("p", None, legible(over))))
    if takeoff.choices:
        seen = joined((seen, _choices(takeoff.choices, takeoff.order)))
    if plan.tolerance and plan.tolerance.runs:
        places = tolerance_rows(plan, plan.tolerance, numbers, show)
        above = ("What", "Found", "What to do, and where")
        seen = joined((seen, table("Edges that are off on site", above, places, words=1, tail=1)))
    note = tag("p", {"class": "quiet"}, _NOTE)
    return joined((_by_wall(takeoff, plan), note, stock, seen))


def _colors(takeoff: Takeoff, plan: CoursePlan) -> Markup:
    """How colors lie, where the product has several, and which boxes to have open."""
    boxes = tag("p", None, legible(boxes_line(takeoff.job, takeoff.product)))
    if plan.spread is None:
        return boxes
    rows = [tuple(map(legible, row)) for row in color_rows(plan, plan.spread)]
    walls = table("Colors by wall", COLOR_HEAD, rows, words=2)
    spread = table("How colors are spread", ("What", "Found"), spread_rows(plan.spread))
    price = colors_over_line(takeoff.order) if takeoff.order else ""
    return joined((walls, spread, tag("p", None, legible(price)) if price else "", boxes))


def _choices(choices: PlanChoices, order: Order | None) -> Markup:
    """The plans to choose from."""
    rows = [plan_cells(c) for c in choices.listed]
    head = tuple(name.capitalize() for name in HEAD)
    notes = choice_notes(choices, order.currency if order else "")
    quiet = (tag("p", {"class": "quiet"}, f"{legible(note)}.") for note in notes)
    return joined((table("Plans to choose from", head, rows), *quiet))


def _by_wall(takeoff: Takeoff, plan: CoursePlan) -> Markup:
    """Panels by wall, the whole job in the last row."""
    head = (
        "Wall", "Flat", "Corner", "Share", "Pieces", "Crosscuts", "Lower bound if laid alone",
        "Waste",
        "By area",
    )  # fmt: skip
    last = (
        "all walls", str(plan.flat.units), str(plan.corner.units), f"{plan.total:,.1f}",
        str(plan.flat.pieces + plan.corner.pieces), str(plan.cuts), str(plan.bound),
        f"{takeoff.waste:.1%}", str(takeoff.estimate.panels),
    )  # fmt: skip
    rows = list(map(_wall, plan.walls, takeoff.estimate.walls))
    if not takeoff.parts:
        return table("Panels", head, rows, last=last)
    names = [legible(product_name(takeoff.product_of(count.wall))) for count in plan.walls]
    named = [(*row, name) for row, name in zip(rows, names, strict=True)]
    return table("Panels", (*head, "Product"), named, last=(*last, ""), tail=1)


def _wall(count: WallCount, by_area: WallEstimate) -> tuple[str, ...]:
    waste = f"{count.waste:.1%}" if count.waste >= 0 else "none"
    first = (str(count.flat), str(count.corner), f"{count.share:,.1f}")
    counts = (count.pieces, count.cuts, count.bound)
    name = f"{count.wall} (same as {count.like})" if count.like else count.wall
    return name, *first, *map(str, counts), waste, str(by_area.panels)


def _stock(kind: str, count: StockCount, show: str) -> tuple[str, ...]:
    length = length_text(count.pieces_length, show)
    return kind, str(count.units), str(count.pieces), length, str(count.cuts)
