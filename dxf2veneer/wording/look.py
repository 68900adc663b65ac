"""How the joints of a plan look, in words and figures."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.basics.tolerances import LOOK_LINE_IN
from dxf2veneer.model import CoursePlan, Look
from dxf2veneer.wording.measures import length_text


def look_rows(plan: CoursePlan, look: Look, display: str) -> Iterator[tuple[str, str]]:
    """The figures of the joints' look, for a table.

    Args:
        plan: The plan.
        look: Its look.
        display: Units of lengths: ``imperial`` or ``metric``.

    Yields:
        What is counted, and the figure.
    """
    line = length_text(LOOK_LINE_IN, display)
    yield (
        f"Joints within {line} of one two courses below",
        f"{look.in_line:,} of {look.over:,} ({look.in_line_share:.1%})",
    )
    yield "Most joints in line at every second course", f"{look.ladder:,}"
    yield "Most courses through which joints climb by one step", f"{look.stair:,}"
    yield "Courses that repeat the joints two below", f"{look.repeats:,}"
    yield (
        "Corner pieces as long as in the course below, round a corner",
        f"{look.equal_turns:,} of {look.turns:,}",
    )
    yield "Joints in line with a jamb", f"{look.jambs:,}"
    yield "Short pieces one above the other beside an opening", f"{look.shorts:,}"
    yield "What this look costs", look_price(plan)


def look_price(plan: CoursePlan) -> str:
    """What the look of a plan costs beside the plan without it.

    Args:
        plan: The plan.

    Returns:
        Panels and crosscuts.
    """
    return price_text(plan.look_panels, plan.look_cuts)


def price_text(panels: int, cuts: int) -> str:
    """Panels and crosscuts that a plan takes more, in words.

    Args:
        panels: Panels more, or fewer where it is below 0.
        cuts: Crosscuts likewise.

    Returns:
        A text such as ``2 panels more, 3 crosscuts fewer``.
    """
    more = ", ".join(
        f"{abs(number)} {what}{'' if abs(number) == 1 else 's'} {'fewer' if number < 0 else 'more'}"
        for number, what in ((panels, "panel"), (cuts, "crosscut"))
        if number
    )
    return more or "nothing"


def look_line(plan: CoursePlan, look: Look) -> str:
    """The look in one line.

    Args:
        plan: The plan.
        look: Its look.

    Returns:
        A sentence without its full stop.
    """
    parts = [f"{look.in_line_share:.0%} of joints in line two courses apart"]
    parts.append(f"at most {look.ladder} one above the other")
    if look.repeats:
        parts.append(f"{look.repeats} course{'' if look.repeats == 1 else 's'} repeated")
    price = look_price(plan)
    cost = f"; that look costs {price} (--look off)" if price != "nothing" else ""
    return f"Look of the joints: {', '.join(parts)}{cost}"
