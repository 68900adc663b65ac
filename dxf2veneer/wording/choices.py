"""Plans to choose from, in words and figures."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.model import CoursePlan, Order, PlanChoice, PlanChoices
from dxf2veneer.wording.look import price_text

MEANT: dict[str, str] = {
    "balance": "a quiet look and near offcuts (the default)",
    "panels": "fewest panels",
    "cuts": "fewest crosscuts",
    "lengths": "fewest different lengths",
    "wall": "offcuts that stay on their wall",
    "look": "best look, offcuts anywhere",
}
"""What each word of ``plan.aim`` is meant to give."""
HEAD = (
    "plan", "flat", "corner", "boxes", "crosscuts", "lengths", "waiting", "far", "in line",
    "patterns", "broken", "money",
)  # fmt: skip
"""What is shown of each plan."""


def plan_name(choice: PlanChoice) -> str:
    """What a plan is called: the words that give it, and whether it is the one taken.

    Args:
        choice: The plan.

    Returns:
        A text such as ``panels, cuts (this plan)``.
    """
    words = ", ".join(choice.aims) or "as set"
    return f"{words} (this plan)" if choice.is_taken else words


def meant(choice: PlanChoice) -> str:
    """What a plan is meant to give.

    Args:
        choice: The plan.

    Returns:
        A text; that of single settings where no word gives it.
    """
    return "; ".join(MEANT[aim] for aim in choice.aims) or "what the single settings say"


def plan_cells(choice: PlanChoice) -> tuple[str, ...]:
    """The cells of a plan's row, under ``HEAD``.

    Args:
        choice: The plan.

    Returns:
        The texts; empty where a figure is not known.
    """
    boxes = [n for n in (choice.flat_packages, choice.corner_packages) if n is not None]
    return (
        plan_name(choice),
        f"{choice.flat:,}",
        f"{choice.corner:,}",
        " + ".join(f"{n:,}" for n in boxes),
        f"{choice.cuts:,}",
        f"{choice.lengths:,}",
        f"{choice.waiting:,}",
        f"{choice.far:,}",
        f"{choice.in_line:.1%}",
        f"{choice.patterns:,}",
        f"{choice.broken:,}",
        "" if choice.money is None else f"{choice.money:,.2f}",
    )


def choice_notes(choices: PlanChoices, currency: str) -> Iterator[str]:
    """What stands under the table of plans.

    Args:
        choices: The plans.
        currency: Currency of the prices, empty where none is given.

    Yields:
        Sentences without their full stop.
    """
    yield (
        "Take one with --aim WORD, or aim under [plan] in the job file. Boxes hold flat + corner "
        "panels, breakage with them; lengths are those to cut; waiting: offcuts at once; far: "
        "offcuts that go farther than round a corner; in line: joints over one two courses below; "
        "patterns: stairs, repeated courses and the like; broken: places where a rule of laying "
        "does not hold"
    )
    every = choices.listed
    if any(c.money is not None for c in every):
        unit = f" in {currency}" if currency else ""
        labor = (
            "and labor for crosscuts"
            if any(c.cutting is not None for c in every)
            else "without labor, for which no wage is given"
        )
        yield f"Money{unit}: goods that have a price, {labor}"
    else:
        yield "No money: the panels have no price"
    for beaten in choices.beaten:
        yield (
            f"Left out: {plan_name(beaten.plan)}, which {plan_name(beaten.by)} beats or equals in "
            "all that is shown"
        )


def over_line(plan: CoursePlan, order: Order | None) -> str:
    """What a plan costs over the cheapest, in one line.

    Args:
        plan: The plan.
        order: Its order, for the money.

    Returns:
        A sentence without its full stop; empty for the cheapest plan.
    """
    if plan.plain is None:
        return ""
    price = price_text(plan.over, plan.cuts_over)
    money = None if order is None else order.over
    if money:
        unit = f" {order.currency}" if order and order.currency else ""
        price += f"; {abs(money):,.2f}{unit} {'more' if money > 0 else 'less'} for them"
    anew = ", made anew for the sizes on site as if nothing were cut" if plan.is_plain_anew else ""
    return f"Over the plan of fewest panels and cuts (--aim panels){anew}: {price}"
