"""How the joints of a plan look, in words and figures."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.basics.tolerances import LOOK_LINE_IN
from dxf2veneer.model import CourseNumbers, CoursePlan, Flaw, FlawKind, Look, mending
from dxf2veneer.wording.measures import length_text

_KINDS: dict[FlawKind, str] = {
    "in-line": "a joint in line",
    "ladder": "a ladder",
    "stair": "a stair",
    "repeat": "a course repeated",
    "corner": "equal corner pieces",
    "jamb": "a joint in line with a jamb",
    "short": "short pieces",
}
"""What a pattern is called."""


def look_rows(
    plan: CoursePlan, look: Look, numbers: CourseNumbers, display: str
) -> Iterator[tuple[str, str]]:
    """The figures of the joints' look, for a table.

    Args:
        plan: The plan.
        look: Its look.
        numbers: Numbers of courses.
        display: Units of lengths: ``imperial`` or ``metric``.

    Yields:
        What is counted, and the figure.
    """
    line = length_text(LOOK_LINE_IN, display)
    yield "Patterns for a hundred joints", f"{look.score:.1f}"
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
    for flaw in look.worst:
        yield f"Among the worst: {_place(flaw, numbers)}", _mended(flaw, plan, numbers)


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


def look_line(plan: CoursePlan, look: Look, numbers: CourseNumbers) -> str:
    """The look in one line.

    Args:
        plan: The plan.
        look: Its look.
        numbers: Numbers of courses.

    Returns:
        A sentence without its full stop.
    """
    parts = [f"{look.in_line_share:.0%} of joints in line two courses apart"]
    parts.append(f"at most {look.ladder} one above the other")
    if look.repeats:
        parts.append(f"{look.repeats} course{'' if look.repeats == 1 else 's'} repeated")
    worst = look.worst[0] if look.worst else None
    if worst and worst.kind in ("ladder", "stair", "repeat"):
        parts.append(f"worst {_place(worst, numbers)}: {_mended(worst, plan, numbers)}")
    price = look_price(plan)
    cost = f"; that look costs {price} (--look off)" if price != "nothing" else ""
    return f"Look of the joints: {', '.join(parts)}{cost}"


def _mended(flaw: Flaw, plan: CoursePlan, numbers: CourseNumbers) -> str:
    """What it would take to have fewer patterns at a place."""
    mend = mending(flaw, plan.mends)
    if mend is None:
        return "not tried, as pieces of it fill up panels of others"
    if mend.panels is None:
        return "no other joints of one course alone keep all rules"
    panels = f"{mend.panels or 'no'} panel{'s' if mend.panels > 1 else ''}"
    return f"other joints in course {numbers(mend.wall, mend.course)} take {panels} more"


def _place(flaw: Flaw, numbers: CourseNumbers) -> str:
    """Where a pattern is, and what."""
    last = numbers(flaw.wall, flaw.course)
    courses = f"course {last}"
    if flaw.courses > 1:
        courses = f"courses {last + 1 - flaw.courses} to {last}"
    return f"{flaw.wall} {courses}, {_KINDS[flaw.kind]}"
