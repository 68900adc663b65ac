"""Plans to choose from, in plain dicts, for the result file."""

from __future__ import annotations

from decimal import Decimal

from dxf2veneer.model import CoursePlan, Order, PlanChoice, PlanChoices
from dxf2veneer.writers.result.shape_plan import OverJson, PlanChoiceJson, PlanChoicesJson


def over_dict(plan: CoursePlan, order: Order | None) -> OverJson | None:
    """What a plan takes more than that of fewest panels and cuts.

    Args:
        plan: The plan.
        order: Its order, for the money.

    Returns:
        Its fields; None where it is that plan.
    """
    if plan.plain is None:
        return None
    return {
        "flat": plan.flat.units - plan.plain.flat,
        "corner": plan.corner.units - plan.plain.corner,
        "cuts": plan.cuts_over,
        "money": _money(order.over if order else None),
    }


def choices_dict(choices: PlanChoices) -> PlanChoicesJson:
    """The plans side by side.

    Args:
        choices: The plans.

    Returns:
        Their fields.
    """
    return {
        "listed": [_choice(c) for c in choices.listed],
        "beaten": [{"plan": _choice(b.plan), "by": list(b.by.aims)} for b in choices.beaten],
    }


def _choice(choice: PlanChoice) -> PlanChoiceJson:
    return {
        "aims": list(choice.aims),
        "taken": choice.is_taken,
        "flat": choice.flat,
        "corner": choice.corner,
        "flat_packages": choice.flat_packages,
        "corner_packages": choice.corner_packages,
        "cuts": choice.cuts,
        "lengths": choice.lengths,
        "waiting": choice.waiting,
        "far": choice.far,
        "in_line": choice.in_line,
        "patterns": choice.patterns,
        "broken": choice.broken,
        "goods": _money(choice.goods),
        "cutting": _money(choice.cutting),
        "money": _money(choice.money),
    }


def _money(amount: Decimal | None) -> float | None:
    return None if amount is None else float(amount)
