"""How the colors of a plan lie, in words and figures, and which boxes to have open."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, Order, Spread

COLOR_HEAD = ("Wall", "Color", "Flat", "Corner", "Wanted", "Laid", "Off, in panels")
"""Headings of the table of walls and colors."""


def color_rows(plan: CoursePlan, spread: Spread) -> Iterator[tuple[str, ...]]:
    """Each wall's colors, for a table.

    Args:
        plan: The plan.
        spread: How its colors lie.

    Yields:
        Wall, color, flat and corner panels first cut for it, wanted and laid share of its face, and
        by how many panels that is off.
    """
    counts = {(w.wall, c.color): c for w in plan.walls for c in w.colors}
    for one in spread.walls:
        count = counts[one.wall, one.color]
        yield (
            one.wall, one.color, f"{count.flat:,}", f"{count.corner:,}", f"{one.share:.1%}",
            f"{one.laid:.1%}", f"{one.off:+.1f}",
        )  # fmt: skip


def spread_rows(spread: Spread) -> Iterator[tuple[str, str]]:
    """The figures of how colors lie, for a table.

    Args:
        spread: How they lie.

    Yields:
        What is counted, and the figure.
    """
    yield "A wall's color off its share, at most", _panels(spread.most_off)
    yield (
        "Pieces that touch one of the same minor color",
        f"{spread.touching:,} of {spread.pairs:,} pairs; by chance {spread.chance:,.0f}",
    )
    yield "Of those, both cut from one panel", f"{spread.own:,}"
    yield "Most pieces of one minor color that hang together", f"{spread.largest:,}"
    yield (
        "A color ahead of or behind its share along a wall or up it, at most",
        _panels(spread.most_ahead),
    )


def spread_line(plan: CoursePlan, spread: Spread) -> str:
    """How colors lie, in one line.

    Args:
        plan: The plan.
        spread: How its colors lie.

    Returns:
        A sentence without its full stop.
    """
    names = dict.fromkeys(one.color for one in spread.walls)
    counts = {name: sum(unit.color == name for unit in plan.units) for name in names}
    panels = ", ".join(f"{name} {count:,}" for name, count in counts.items())
    return (
        f"Colors: {panels} panels; every wall within {_panels(spread.most_off)} of its shares; "
        f"{spread.touching:,} of {spread.pairs:,} pairs that touch are of one minor color, by "
        f"chance {spread.chance:,.0f}"
    )


def _panels(number: float) -> str:
    return f"{number:.1f} panel{'' if f'{number:.1f}' == '1.0' else 's'}"


def boxes_line(job: Job, product: Product) -> str:
    """Which boxes to take panels from at a time (rule L22).

    Args:
        job: The job, which says how many are open.
        product: The product, for its colors.

    Returns:
        A sentence.
    """
    least = job.plan.boxes
    if not product.blend.colors:
        if least == 1:
            return "Take panels from the boxes as they come."
        return (
            f"Take panels from {least} open boxes at a time, in turn, so that boxes that differ a "
            "little make no patches."
        )
    listed = ", ".join(f"{n} of {name}" for name, n in product.blend.boxes(least).items())
    return (
        f"Have these boxes open at a time, and take each panel from a box of its color: {listed}; "
        "from several boxes of one color in turn."
    )


def colors_over_line(order: Order) -> str:
    """What dividing the panels into colors costs, in one line.

    Args:
        order: The order.

    Returns:
        A sentence without its full stop; empty where the product has but one color.
    """
    over = order.colors_over
    if over is None:
        return ""
    parts = [
        f"{abs(number)} {'more' if number > 0 else 'fewer'} of {kind} panels"
        for kind, number in (("flat", over.flat_packages), ("corner", over.corner_packages))
        if number
    ]
    money = ""
    if over.money:
        unit = f" {order.currency}" if order.currency else ""
        money = f"; {abs(over.money):,.2f}{unit} {'more' if over.money > 0 else 'less'}"
    return f"Packages beside one color for all: {', '.join(parts) or 'as many'}{money}"
