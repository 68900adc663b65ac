"""Walls, openings, corners and pieces in the result."""

from __future__ import annotations

from typing import Annotated, Literal, TypedDict

from dxf2veneer.writers.result.shape_values import (
    Handles,
    Inches,
    Limit,
    OutlineJson,
    PieceEndName,
    PieceId,
    Points,
    Run,
    SquareFeet,
)


class TrimJson(TypedDict):
    """Lengths of trim along the opening's own boundary."""

    head_in: Run
    jambs_in: Run
    sill_in: Run


class OpeningJson(TypedDict):
    """One opening, in the wall that holds it."""

    id: str
    kind: Literal["window", "door", "garage", "vent", "fixture"]
    name: str
    handles: Handles
    part_of: Annotated[
        str | None,
        "Id of its largest part, which is counted for it, where it lies across several walls and "
        "this is another part.",
    ]
    touches_base: Annotated[bool, "Whether it stands on the wall's base."]
    area_sqft: Annotated[
        SquareFeet,
        "Area of the part inside the wall, ground shared with other openings counted once.",
    ]
    width_in: Run
    height_in: Run
    head_y_in: Inches
    sill_y_in: Inches
    outline_in: Annotated[list[OutlineJson], "Its part inside the wall."]
    deducted: Annotated[bool, "Whether the job's deduction rule takes it off the area."]
    perimeter_in: Run
    trim: Annotated[TrimJson, "Lengths of trim along the opening's own boundary."]


class EdgeJson(TypedDict):
    """A vertical side of a wall, as seen from outside."""

    side: Literal["left", "right"]
    x_in: Inches
    y0_in: Inches
    y1_in: Inches
    kind: Literal["outside", "inside", "end", "butt", "mitre"]
    corner: Annotated[str | None, "Id of its corner."]
    tag: Annotated[str | None, "Text at its mark."]
    handle: Annotated[str | None, "The mark's handle."]


class CourseJson(TypedDict):
    """One course and its band."""

    index: Annotated[int, "0 is the first course.", Limit("minimum", 0)]
    number: Annotated[
        int,
        "What drawings, sheets and lists call it; walls tied by a level line share it.",
        Limit("minimum", 1),
    ]
    y0_in: Inches
    y1_in: Inches


class ConflictJson(TypedDict):
    """A head, sill, top or cap against the course lines."""

    what: Literal["head", "sill", "top", "cap"]
    opening: Annotated[str | None, "Id of the opening; null for the wall's top and cap."]
    course: Annotated[int, "The course that is ripped there."]
    x0_in: Inches
    x1_in: Inches
    y_in: Inches
    strip_in: Annotated[Run, "Height of the strip that is left; 0 where a course line runs clean."]
    sliver: bool
    move_up_in: Annotated[Run, "How far up it would have to move to meet a course line."]
    move_down_in: Annotated[Run, "How far down it would have to move to meet a course line."]


class PieceJson(TypedDict):
    """A panel or part of one, as placed in a course."""

    id: PieceId
    course: Annotated[int, "Index of its course.", Limit("minimum", 0)]
    number: Annotated[int, "Number in the course from the left, 1 the first.", Limit("minimum", 0)]
    x0_in: Inches
    x1_in: Inches
    y0_in: Inches
    y1_in: Inches
    length_in: Annotated[
        Run,
        "Length along the course; where the piece runs past the wall's edge, that is part of it.",
    ]
    height_in: Annotated[Run, "Greatest height, which a ripped piece is ripped to."]
    unit: Literal["flat", "corner"]
    kind: Annotated[
        Literal["whole", "crosscut", "ripped", "notched", "raked", "mitred"],
        "What is done to it, the thing that says most.",
    ]
    left: PieceEndName
    right: PieceEndName
    ripped: Annotated[bool, "Whether some level stretch of it is lower than the course."]
    glued: Annotated[bool, "Whether it has lost most of its nail flange, so that it is glued."]
    angle_deg: Annotated[
        float | None, "Angle of a rake's cut above level, or of a mitre off the face."
    ]
    stock: Annotated[str, "Id of the unit it is cut from, in `stock.unit_list`."]
    at_in: Annotated[Run, "Where in its unit it begins, from the unit's left end."]
    outline_in: Annotated[Points, "Its boundary where it is not its plain rectangle; else empty."]
    holes_in: Annotated[list[Points], "Boundaries of what is cut out of its inside."]


class CapJson(TypedDict):
    """A level stretch of cap: its top line."""

    x0_in: Inches
    x1_in: Inches
    y_in: Inches
    handle: Annotated[str, "Handle of the line that marks it."]


class WallJson(TypedDict):
    """One wall."""

    id: str
    name: str
    drawing: Annotated[int, "Index into `drawings`.", Limit("minimum", 0)]
    layer: str
    handles: Handles
    box_in: Annotated[
        list[float], "Least x and y, greatest x and y.", Limit("minItems", 4), Limit("maxItems", 4)
    ]
    outline_in: Annotated[list[OutlineJson], "Its outline, nested holes taken out."]
    level_y_in: Annotated[
        float | None, "Height of the level line that ties its courses to others'; null without one."
    ]
    caps: list[CapJson]
    gross_area_sqft: SquareFeet
    opening_area_sqft: Annotated[SquareFeet, "All openings."]
    deducted_area_sqft: Annotated[
        SquareFeet, "The openings that the job's deduction rule takes off."
    ]
    trim_area_sqft: SquareFeet
    cap_area_sqft: SquareFeet
    net_area_sqft: Annotated[SquareFeet, "gross - deducted - trim - cap"]
    perimeter_in: Run
    base_run_in: Run
    cap_run_in: Run
    rake_run_in: Run
    starter_run_in: Run
    starter_y_in: Inches
    starter_from: Annotated[
        Literal["base", "level"],
        "Whether the starter line stands on the wall's base or on a level line.",
    ]
    turn: Annotated[
        int,
        "Added to a course's index where corners take turns, so that walls tied by a "
        "level line take turns together.",
    ]
    edges: list[EdgeJson]
    openings: list[OpeningJson]
    courses: list[CourseJson]
    conflicts: list[ConflictJson]
    pieces: Annotated[list[PieceJson], "Empty where panels were not laid out."]


class CornerJson(TypedDict):
    """A corner of the building, counted once."""

    id: str
    kind: Literal["outside", "inside", "mitre"]
    run_in: Run
    edges: Annotated[
        list[tuple[str, Literal["left", "right"]]],
        "The walls that meet: (wall id, side). One where the other side was not found; "
        "more than two where walls drawn one above the other make one side.",
        Limit("minItems", 1),
    ]
    tag: str | None
