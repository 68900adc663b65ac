"""The shape of the result: every field, its type and what it means.

    shape.py         the whole file: settings, drawings, totals, assumptions, notices
    shape_walls.py   walls, openings, corners, pieces
    shape_plan.py    the course plan with its proof, starter heights
    shape_site.py    site measures and changed cuts
    shape_order.py   order, labor, bid
    shape_values.py  values that many fields have in common

The writers return these, so that the type checker holds them together, and ``schema.py`` makes
``docs/result.schema.json`` from them. Where a field holds an English line, the one of the same name
that ends in ``_data`` holds its code and values.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, NotRequired, TypedDict

from dxf2veneer.writers.result.shape_order import (
    BidJson,
    ElevationShareJson,
    OrderLineJson,
    OrderTotalsJson,
)
from dxf2veneer.writers.result.shape_plan import (
    ByAreaJson,
    PlanChoicesJson,
    StartTableJson,
    StockJson,
)
from dxf2veneer.writers.result.shape_site import SiteJson
from dxf2veneer.writers.result.shape_values import (
    Limit,
    MessageJson,
    Point,
    Run,
    SquareFeet,
    ValuesJson,
)
from dxf2veneer.writers.result.shape_walls import CornerJson, WallJson

_From = TypedDict(
    "_From", {"from": Annotated[str, "`default`, a file and line, or an option, in words."]}
)


class SettingJson(_From):
    """One setting."""

    value: Annotated[
        str | float | bool | list[Any] | None,
        "The effective value: lengths in inches, lists of names or of tables as arrays, "
        "null for none.",
    ]
    from_data: MessageJson | None


class ProductJson(TypedDict):
    """The panel line used."""

    file: str
    name: str
    origin: Annotated[str, "Where its values come from."]
    panel_length_in: Run
    panel_height_in: Annotated[Run, "The height of a course."]
    cap_height_in: Run


class PartJson(TypedDict):
    """One of several products of a job: nothing passes from it to another."""

    product: ProductJson
    walls: list[str]
    flat: Annotated[int | None, Limit("minimum", 0)]
    corner: Annotated[int | None, Limit("minimum", 0)]
    lower_bound: Annotated[
        int | None, "Panels that no layout of its walls can do without; null without a plan."
    ]


class DrawingJson(TypedDict):
    """One file that was read."""

    file: str
    sha256: Annotated[str, Limit("pattern", "^[0-9a-f]{64}$")]
    dxf_version: str
    units: Annotated[str, "Short name of the unit of the drawing's coordinates."]
    units_from: Annotated[Literal["header", "option", "job"], "What named the unit."]
    inches_per_unit: Annotated[
        float,
        "Inches in one unit of the drawing's coordinates, the drawing's scale included.",
        Limit("exclusiveMinimum", 0),
    ]
    layers: Annotated[list[str], "Every layer of the file."]


class TotalsJson(OrderTotalsJson):
    """Sums over all walls and corners."""

    gross_area_sqft: SquareFeet
    opening_area_sqft: SquareFeet
    deducted_area_sqft: SquareFeet
    trim_area_sqft: SquareFeet
    cap_area_sqft: SquareFeet
    net_area_sqft: SquareFeet
    outside_corner_run_in: Run
    inside_corner_run_in: Run
    mitre_corner_run_in: Annotated[Run, "Corners of bays, where panels are mitered."]
    end_run_in: Annotated[Run, "Finished ends."]
    base_run_in: Run
    starter_run_in: Run
    cap_run_in: Run
    rake_run_in: Run
    trim_head_in: Run
    trim_jamb_in: Run
    trim_sill_in: Run
    openings: Annotated[int, "Number of openings.", Limit("minimum", 0)]


class AssumptionJson(_From):
    """A setting or rule that changed a number."""

    key: Annotated[str, "What people call it."]
    setting: Annotated[str, "`section.key` of the setting or product value, or the rule."]
    value: str
    value_data: ValuesJson
    effect: str
    effect_data: MessageJson | None
    from_data: MessageJson | None
    rests_on: Annotated[str | None, "What the value rests on; null where nothing is set."]
    rests_on_note: Annotated[str, "Of a published value its source."]


class ReaderCautionJson(TypedDict):
    """What one reader of a sheet must know."""

    reader: str
    caution: str


class CheckFirstJson(TypedDict):
    """Values of one ground that nobody gave."""

    rests_on: str
    settings: list[str]


class NoticeJson(TypedDict):
    """One thing to report about the drawing."""

    level: Literal["error", "warning", "note"]
    count: NotRequired[
        Annotated[
            int,
            "How many it stands for, where those of its kind are too many to be listed one by one.",
            Limit("minimum", 2),
        ]
    ]
    code: Annotated[str, Limit("pattern", "^[A-Z][A-Z_]+$")]
    message: str
    message_data: MessageJson | None
    drawing: Annotated[int | None, Limit("minimum", 0)]
    layer: str | None
    handle: str | None
    at_in: Annotated[Point | None, "Place in the drawing; null where there is none."]


class HandChangeJson(TypedDict):
    """A cell of the workbook, by its sheet, the first cell of its row and the heading above it."""

    sheet: str
    row: str
    heading: str
    computed: str | float | None
    by_hand: str | float | None
    kept: Annotated[bool, "False where this takeoff has no such cell."]


class ResultJson(TypedDict):
    """Lengths in inches, areas in square feet; x and y are the drawing's own coordinates in
    inches. Numbers are not rounded. Fields may be added in later versions, and the fields here
    stay: a reader should pass over fields it does not know. `stock` is null and every `pieces`
    empty where panels are estimated by area; `order` and the totals `cost`, `labour_hours` and
    `weight_lb` are null where the takeoff does not reach that far. Text in an undeclared code
    page has its bytes written out, such as \\udc81."""

    schema: Literal["dxf2veneer-takeoff-1"]
    made_by: NotRequired[
        Annotated[
            str,
            "Seal of the file: the digest by which the tool knows that it wrote the file and "
            "nobody changed it since.",
            Limit("pattern", "^dxf2veneer-[0-9a-f]{64}$"),
        ]
    ]
    alert: Annotated[
        str,
        "What every output says on top: that the takeoff has errors, that walls and openings are "
        "proposed, not confirmed, or that sizes were measured on site. Empty where there is "
        "nothing to say.",
    ]
    job: Annotated[dict[str, SettingJson], "Every setting by `section.key`."]
    product: Annotated[ProductJson, "The panel line used; the first one of several."]
    products: NotRequired[
        Annotated[list[PartJson], "The walls of each product, where the job has several."]
    ]
    drawings: list[DrawingJson]
    walls: list[WallJson]
    corners: list[CornerJson]
    panels_by: Annotated[
        Literal["plan", "area"],
        "`plan`: laid out panel by panel, see `stock`. `area`: not laid out; a number of "
        "panels worked out from the areas is an estimate.",
    ]
    stock: Annotated[StockJson | None, "Null where `panels_by` is `area`."]
    plans: Annotated[
        PlanChoicesJson | None, "Plans to choose from; null where they were not compared."
    ]
    site: Annotated[SiteJson | None, "Null where the job names no file of site measures."]
    hand_changes: Annotated[
        list[HandChangeJson], "Cells of the earlier workbook that were changed by hand."
    ]
    panels_by_area: ByAreaJson
    starts: Annotated[
        list[StartTableJson],
        "Heights of the starter to choose from, one table for each group of walls whose "
        "courses run together; empty where they were not compared.",
    ]
    order: Annotated[list[OrderLineJson] | None, "Null until an order is worked out."]
    bid: Annotated[BidJson | None, "Null until an order is worked out."]
    shares: Annotated[list[ElevationShareJson], "The order by elevation and wall."]
    totals: TotalsJson
    check_first: Annotated[
        list[CheckFirstJson],
        "What to check before the numbers are relied on, the weakest ground first.",
    ]
    assumptions: list[AssumptionJson]
    cautions: Annotated[list[str], "What the person using these numbers must know."]
    cautions_by_reader: Annotated[
        list[ReaderCautionJson],
        "What saw operator, carrier, installer, designer and buyer must know.",
    ]
    notices: list[NoticeJson]
