"""The JSON file of a comparison: every field, its type and what it means."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired, TypedDict

from dxf2veneer.writers.result.shape_values import Inches, Limit, MessageJson

ChangeJson = Literal["same", "moved", "resized", "added", "removed", "renamed", "unsure"]
Id = str | None
"""An id; null for what is not there."""


class FiguresJson(TypedDict):
    """Amounts of a wall or of the whole; null where one is not known. A corner counts for the
    first of its walls."""

    gross_area_sqft: float | None
    opening_area_sqft: float | None
    deducted_area_sqft: float | None
    trim_area_sqft: float | None
    cap_area_sqft: float | None
    net_area_sqft: float | None
    outside_corner_run_in: float | None
    inside_corner_run_in: float | None
    mitre_corner_run_in: float | None
    end_run_in: float | None
    base_run_in: float | None
    starter_run_in: float | None
    cap_run_in: float | None
    rake_run_in: float | None
    trim_head_in: float | None
    trim_jamb_in: float | None
    trim_sill_in: float | None
    openings: float | None
    flat_panels: float | None
    corner_panels: float | None
    panel_packages: float | None
    weight_lb: float | None
    labour_hours: float | None
    materials: float | None
    labour: float | None
    price: float | None


class OpeningDeltaJson(TypedDict):
    """Amounts of an opening."""

    area_sqft: float
    deducted_area_sqft: float
    width_in: float
    height_in: float
    perimeter_in: float
    trim_head_in: float
    trim_jamb_in: float
    trim_sill_in: float


class ToldJson(TypedDict):
    """A line for people, and what it says for programs."""

    told: str
    told_data: MessageJson | None


class ComparedDrawingJson(TypedDict):
    """One file that was taken off."""

    file: str
    sha256: Annotated[str, Limit("pattern", "^[0-9a-f]{64}$")]
    units: str


class SideJson(TypedDict):
    """One of the two takeoffs."""

    source: Annotated[str, "Name of its drawing, its folder or its result file."]
    drawings: list[ComparedDrawingJson]


class WallChangeJson(ToldJson):
    """A wall before and now."""

    id_old: Id
    id_new: Id
    change: Annotated[ChangeJson, "The gravest of `changes`."]
    changes: Annotated[list[ChangeJson], "All that holds; empty where it is the same."]
    touched: Annotated[
        bool, "Whether it changed, or an opening, corner, end, cap or level line of it."
    ]
    shift_in: Annotated[
        list[float],
        "How far it lies from its place before, in the drawing's x and y.",
        Limit("minItems", 2),
        Limit("maxItems", 2),
    ]
    moved_in: Annotated[
        list[float],
        "How much of that the drawing as a whole did not move.",
        Limit("minItems", 2),
        Limit("maxItems", 2),
    ]
    outline_off_in: Annotated[Inches, "Greatest distance between the outlines, laid on each other."]
    delta: Annotated[FiguresJson, "New less old; all of it where it was added or removed."]


class EdgeShiftsJson(TypedDict):
    """How far each side of an opening went in its wall, right and upward above 0."""

    left_in: Inches
    right_in: Inches
    sill_in: Inches
    head_in: Inches


class OpeningChangeJson(ToldJson):
    """An opening before and now."""

    id_old: Id
    id_new: Id
    wall_old: Id
    wall_new: Id
    change: Annotated[ChangeJson, "The gravest of `changes`."]
    changes: Annotated[list[ChangeJson], "All that holds; empty where it is the same."]
    size_old_in: Annotated[list[float] | None, "Width and height; null where it was not there."]
    size_new_in: Annotated[list[float] | None, "The same now; null where it is gone."]
    edges: Annotated[EdgeShiftsJson | None, "Null where it was added or removed."]
    delta: Annotated[OpeningDeltaJson, "New less old."]


class PartChangeJson(ToldJson):
    """Anything else of the drawing before and now; of files, layers and units only what
    changed."""

    what: Literal["corner", "end", "cap", "level", "drawing", "layer", "unit"]
    id_old: Id
    id_new: Id
    wall_old: Id
    wall_new: Id
    change: ChangeJson
    delta_in: Annotated[Inches, "Of a corner, end or cap its run now less that before."]


class ComparedTotalsJson(TypedDict):
    """Sums of both takeoffs."""

    old: FiguresJson
    new: FiguresJson
    delta: Annotated[FiguresJson, "New less old."]
    add: Annotated[FiguresJson, "Sums over changed walls that have more."]
    deduct: Annotated[FiguresJson, "Sums over changed walls that have less; 0 or below."]


class MoneyChangeJson(TypedDict):
    """An amount of money; delta = add + deduct + rest, to the cent. Null where one is not known."""

    old: float | None
    new: float | None
    delta: float | None
    add: Annotated[float | None, "Sum over changed walls that cost more."]
    deduct: Annotated[float | None, "Sum over changed walls that cost less; 0 or below."]
    rest: Annotated[
        float | None,
        "What falls to unchanged walls and to none: packages are rounded up once for the job.",
    ]


class MoneyJson(TypedDict):
    """What is paid."""

    currency: str
    materials: MoneyChangeJson
    labour: MoneyChangeJson
    price: Annotated[MoneyChangeJson, "What is bid."]


class LineSideJson(TypedDict):
    """A line of order, work or charges on one side."""

    quantity: Annotated[float | None, "Packages of an item, quantity of work."]
    hours: float | None
    weight_lb: float | None
    cost: float | None


class LineChangeJson(TypedDict):
    """A line of order, work or charges that differs."""

    kind: Literal["item", "work", "charge"]
    key: str
    title: str
    unit: str
    old: LineSideJson | None
    new: LineSideJson | None


class ComparedHandChangeJson(TypedDict):
    """A cell of the earlier workbook that was changed by hand."""

    sheet: str
    row: str
    heading: str
    computed: str | float | None
    by_hand: str | float | None
    kept: Annotated[bool, "False where the new takeoff has no such cell."]


class CompareJson(TypedDict):
    """Two takeoffs of one job compared. Lengths in inches, areas in square feet, weights in
    pounds; every difference is new less old. Fields may be added in later versions, and the fields
    here stay: a reader should pass over fields it does not know."""

    schema: Literal["dxf2veneer-compare-1"]
    made_by: NotRequired[
        Annotated[
            str,
            "Seal of the file: the digest by which the tool knows that it wrote the file and "
            "nobody changed it since.",
            Limit("pattern", "^dxf2veneer-[0-9a-f]{64}$"),
        ]
    ]
    old: SideJson
    new: SideJson
    tolerance_in: Annotated[Inches, "Edges that are off by no more did not move."]
    changed: Annotated[bool, "Whether anything differs that is built or measured."]
    walls: Annotated[
        list[WallChangeJson], "In the order of the new walls; those that were removed last."
    ]
    openings: list[OpeningChangeJson]
    parts: list[PartChangeJson]
    totals: ComparedTotalsJson
    money: MoneyJson
    lines: Annotated[list[LineChangeJson], "Lines of order, work and charges that differ."]
    hand_changes: list[ComparedHandChangeJson]
    notes: list[ToldJson]
