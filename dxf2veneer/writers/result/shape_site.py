"""Site measures and changed cuts in the result."""

from __future__ import annotations

from typing import Annotated, Literal, TypedDict

from dxf2veneer.writers.result.shape_values import Count, Inches, Limit, Run

_CourseIndex = Annotated[int, "The course, 0 the first.", Limit("minimum", 0)]


class SiteSizeJson(TypedDict):
    """A size that was measured on site and differs from the drawn one."""

    wall: str
    opening: Annotated[str, "Empty where the wall itself was measured."]
    what: Literal["width", "height", "edge", "opening-width", "sill", "head"]
    at_in: Annotated[Inches | None, "Of a width: the height above the wall's lowest point."]
    drawn_in: Inches
    measured_in: Inches


class LaidCourseJson(TypedDict):
    """A course that is laid already."""

    wall: str
    course: _CourseIndex
    joints_in: Annotated[
        list[Inches] | None, "x of its real joints; null where it was laid as planned."
    ]


class ChangedCutJson(TypedDict):
    """One piece that is not cut as by the plan as drawn."""

    wall: str
    course: _CourseIndex
    number: Annotated[
        int,
        "Its number in the course, 1 the first; by the plan as drawn where it was removed.",
        Limit("minimum", 1),
    ]
    what: Literal["recut", "reshaped", "other panel", "added", "removed"]
    old_length_in: Annotated[Run | None, "Null for a piece that was not there."]
    length_in: Annotated[Run | None, "Null for a piece that is no longer there."]
    old_stock: str
    stock: str


class ChangesJson(TypedDict):
    """What of the cut list changes; laid courses are not part of it."""

    cuts: list[ChangedCutJson]
    unchanged: Annotated[Count, "Pieces still to be laid that are cut as by the plan as drawn."]
    laid: Annotated[Count, "Pieces that are laid."]
    panels_before: Count
    panels_now: Count
    panels_laid: Annotated[Count, "Panels that laid courses are cut from."]


class SiteJson(TypedDict):
    """Sizes measured on site, courses laid, and what they change."""

    file: str
    before: Annotated[
        str | None, "Result file whose plan is kept; null where it is the plan as drawn."
    ]
    sizes: list[SiteSizeJson]
    as_drawn: Annotated[Count, "Sizes that were measured and found as drawn."]
    laid: list[LaidCourseJson]
    changes: Annotated[ChangesJson | None, "Null where there is no plan."]
