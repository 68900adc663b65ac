"""Where the offcuts of a plan go, in words and figures."""

from __future__ import annotations

from collections.abc import Iterator

from dxf2veneer.model import CoursePlan, Handling
from dxf2veneer.wording.look import price_text


def handling_rows(plan: CoursePlan, found: Handling, wait: float) -> Iterator[tuple[str, str]]:
    """The figures of where offcuts go, for a table.

    Args:
        plan: The plan.
        found: Where its offcuts go.
        wait: For how many courses an offcut may wait.

    Yields:
        What is counted, and the figure.
    """
    yield "Offcuts used again", f"{found.offcuts:,}"
    yield "Of those, used farther than the next wall round a corner", f"{found.far:,}"
    yield f"Of those, waiting for more than {_courses(wait)}", f"{found.late:,}"
    yield "Courses that an offcut waits, at most", f"{found.longest:,}"
    yield "Offcuts that wait at once, at most", f"{found.waiting:,}"
    yield "Different lengths to cut", f"{found.lengths:,}"
    yield "What near offcuts cost", price_text(plan.near_panels, plan.near_cuts)


def handling_line(plan: CoursePlan, found: Handling, wait: float) -> str:
    """Where offcuts go, in one line.

    Args:
        plan: The plan.
        found: Where its offcuts go.
        wait: For how many courses an offcut may wait.

    Returns:
        A sentence without its full stop.
    """
    far = f"{found.far:,} of them" if found.far else "none"
    late = {0: "none waits", 1: "1 waits"}.get(found.late, f"{found.late:,} wait")
    parts = [
        f"{found.offcuts:,} used again, {far} farther than round a corner",
        f"{late} for more than {_courses(wait)}",
        f"at most {found.waiting:,} wait at once",
    ]
    price = price_text(plan.near_panels, plan.near_cuts)
    cost = f"; that costs {price} (--offcuts job)" if price != "nothing" else ""
    return f"Offcuts: {'; '.join(parts)}{cost}"


def _courses(number: float) -> str:
    return f"{number:g} course{'' if number == 1.0 else 's'}"
