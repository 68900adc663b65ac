"""Kinds of views judged again, by the other views and by the unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dxf2veneer.propose.constants import SAME_PLAN, VIEW_HEIGHT_IN
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.views.view import View


def like_a_plan(view: View, views: Sequence[View]) -> View:
    """The view, made a plan where nothing names it and it has the footprint of a plan.

    Args:
        view: the view.
        views: the views of the drawing.

    Returns:
        The view itself where nothing changes.
    """
    if view.kind == "plan" or view.reason.code != "VIEW_DRAWN" or view.confidence > 0.75:
        return view
    wide, high = view.core[2] - view.core[0], view.core[3] - view.core[1]
    for other in views:
        w, h = other.core[2] - other.core[0], other.core[3] - other.core[1]
        if (
            other.kind == "plan"
            and abs(w - wide) <= SAME_PLAN * wide
            and abs(h - high) <= SAME_PLAN * high
        ):
            return replace(
                view,
                kind="plan",
                confidence=0.8,
                reason=Reason("VIEW_SAME_FOOTPRINT", {"width": wide, "height": high}),
            )
    return view


def reconsidered(views: Sequence[View], inches: float) -> tuple[View, ...]:
    """The views once the unit is known: an untitled elevation of no building's height is none.

    Args:
        views: the views as found.
        inches: inches in one drawing unit.
    Returns:
        The views, some elevations made ``other``.
    """
    result = []
    for view in views:
        high = (view.core[3] - view.core[1]) * inches
        absurd = not VIEW_HEIGHT_IN[0] <= high <= VIEW_HEIGHT_IN[1]
        if view.kind == "elevation" and absurd and view.reason.code != "VIEW_TITLED":
            view = replace(
                view, kind="other", confidence=0.7, reason=Reason("VIEW_HEIGHT", {"inches": high})
            )
        result.append(view)
    return tuple(result)
