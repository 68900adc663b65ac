"""The report's appendix: every setting and rule behind the numbers, and why no layout can use fewer
panels."""

from __future__ import annotations

from dxf2veneer.model import CoursePlan, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import assumption_words
from dxf2veneer.writers.markup import Markup, joined
from dxf2veneer.writers.report.tables import table
from dxf2veneer.writers.words import BOUND_WORDS

APPENDIX = "Appendix: settings and bounds"


def appendix(takeoff: Takeoff) -> Markup:
    """Settings and rules, then the lower bounds of panels where there is a plan.

    Args:
        takeoff: The takeoff.

    Returns:
        The tables.
    """
    show = takeoff.job.output.display
    settings = [assumption_words(a, show) for a in takeoff.assumptions]
    head = ("Setting", "Value", "From", "Rests on", "What it does")
    listed = table("Settings and rules behind the numbers", head, settings, words=5)
    return joined((listed, _bounds(takeoff.plan, show) if takeoff.plan else ""))


def _bounds(plan: CoursePlan, show: str) -> Markup:
    """Why no layout can use fewer panels of a kind."""
    why = [
        (kind, BOUND_WORDS[b.by], str(b.units), say(b.why, show))
        for kind, count in (("flat", plan.flat), ("corner", plan.corner))
        for b in count.bounds
    ]
    title = "Fewest panels of each kind, flat ones beside so few corner panels"
    return table(title, ("Kind", "By", "At least", "Why"), why, words=2, tail=1)
