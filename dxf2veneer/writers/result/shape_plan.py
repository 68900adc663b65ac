"""The course plan and the starter heights in the result."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired, TypedDict

from dxf2veneer.writers.result.shape_values import (
    Count,
    Inches,
    Limit,
    MessageJson,
    PieceId,
    Point,
    Run,
)


class BoundJson(TypedDict):
    """A number of units that no plan can do without, and why."""

    by: Literal["length", "hands", "pairing"]
    units: Count
    why: str
    why_data: MessageJson | None


class StockCountJson(TypedDict):
    """Units of one kind for the whole job, beside what no plan can do without."""

    pieces: Count
    pieces_length_in: Run
    left: Annotated[
        Count,
        "Parts that keep the unit's left end: of corner panels the left-hand pieces, of "
        "flat panels those with a factory end on the left alone.",
    ]
    right: Annotated[Count, "Parts that keep the unit's right end."]
    units: Annotated[Count, "Units to buy, before any allowance."]
    lower_bound: Annotated[Count, "The greatest of `bounds`."]
    cuts: Annotated[Count, "Crosscuts made to get the pieces out of the units."]
    bounds: list[BoundJson]


class UnitJson(TypedDict):
    """One panel as it is bought, and the pieces cut from it from its left end to its right."""

    id: str
    unit: Literal["flat", "corner"]
    length_in: Run
    used_in: Annotated[Run, "Summed length of its parts."]
    kerfs_in: Annotated[Run, "Summed width of the cuts between its parts."]
    waste_in: Annotated[Run, "Length that ends in no piece, saw cuts included."]
    parts: Annotated[list[PieceId], Limit("minItems", 1)]
    color: NotRequired[Annotated[str, "Left out where the product has but one."]]


class WallCountJson(TypedDict):
    """One wall's share of the plan."""

    wall: str
    flat: Annotated[Count, "Flat units first cut or laid whole for this wall."]
    corner: Annotated[Count, "Corner units first cut for this wall."]
    share: Annotated[
        float,
        "Its fair share of all units: a unit that walls share is shared out by the length of its "
        "parts.",
        Limit("minimum", 0),
    ]
    pieces: Count
    cuts: Count
    lower_bound: Annotated[
        Count, "Units the wall would need at least if laid alone, flat and corner together."
    ]
    waste: Annotated[
        float,
        "1 - (area of its pieces) / (area of its units); below 0 where it lives on "
        "offcuts of other walls.",
        Limit("maximum", 1),
    ]
    by_area: Annotated[
        Count, "Flat and corner panels by net area, this wall alone; see `panels_by_area`."
    ]
    like: Annotated[
        str | None,
        "The earlier wall whose courses and joints it repeats; null where it has its own.",
    ]


class WallByAreaJson(TypedDict):
    """One wall's panels by area, flat and corner ones together."""

    wall: str
    kind: Annotated[
        Literal["plain", "corners", "openings", "column", "bay"],
        "What makes it take more panels than its area.",
    ]
    rate: Annotated[float, "Panels for each panel's worth of net area."]
    low: float
    high: Annotated[float, "Eight walls of ten of its kind lie between `low` and `high`."]
    panels: Annotated[Count, "For this wall alone, rounded up."]


class ByAreaJson(TypedDict):
    """Panels by area, beside the plan or instead of it."""

    panels: Annotated[Count, "For the job, rounded up once."]
    low: Count
    high: Annotated[Count, "If every wall lay at the same end of its kind: `low` to `high`."]
    scrap_pct: Annotated[
        float | None, "The job's own scrap; null where the rates are what course plans took."
    ]
    walls: list[WallByAreaJson]


class RuleBreakJson(TypedDict):
    """A rule of laying that does not hold somewhere."""

    rule: Annotated[str, "L3, L4 and so on, `cover` or `stock`; see rules.md."]
    rule_name: Annotated[str, "The rule's plain name, as people read it."]
    wall: str
    course: Annotated[int, Limit("minimum", 0)]
    at_in: Point
    message: str
    message_data: MessageJson | None
    why: Annotated[str, "The plan's reason where the wall leaves no better choice; else empty."]
    why_data: MessageJson | None
    forced: Annotated[
        bool, "Whether the check of the plan saw for itself that the wall leaves no choice."
    ]
    as_laid: Annotated[
        bool, "Whether all of it is laid already, as the site measures say, and not forced."
    ]


class FlawJson(TypedDict):
    """A place where joints make a pattern."""

    kind: Literal["in-line", "ladder", "stair", "repeat", "corner", "jamb", "short"]
    wall: str
    course: Annotated[int, "The uppermost of its courses, 0 the first.", Limit("minimum", 0)]
    at_in: Point
    courses: Annotated[Count, "How many courses it runs through, those between counted."]


class MendJson(TypedDict):
    """What other joints of one run would take, in which fewer stand in a pattern."""

    wall: str
    course: Annotated[int, "The course, 0 the first.", Limit("minimum", 0)]
    x0_in: float
    x1_in: float
    panels: Annotated[
        int | None, "Units more for that; null where no other joints of it alone keep all rules."
    ]


class LookJson(TypedDict):
    """How the joints look (rule L25)."""

    joints: Count
    over: Annotated[Count, "Joints with ground two courses below."]
    in_line: Annotated[Count, "Of those the ones in line with a joint there."]
    ladder: Annotated[Count, "The most joints in line at every second course."]
    stair: Annotated[Count, "The most courses through which joints climb by one step."]
    repeats: Annotated[Count, "Courses that repeat the joints two courses below."]
    turns: Annotated[Count, "Pairs of successive courses round a corner."]
    equal_turns: Annotated[Count, "Of those the ones with corner pieces of one length."]
    jambs: Annotated[Count, "Joints in line with a jamb."]
    shorts: Annotated[Count, "Short pieces one above the other beside an opening."]
    panels_over: Annotated[int, "Units more than before joints were moved for their look."]
    cuts_over: Annotated[int, "Crosscuts more than then; below 0 where there are fewer."]
    score: Annotated[
        float,
        "Patterns for a hundred joints: joints in line two courses apart or with a jamb, equal "
        "corner pieces, stairs, repeated courses, short pieces in columns.",
    ]
    flaws: Annotated[list[FlawJson], "By wall, course and place."]
    mends: Annotated[list[MendJson], "Of the runs with most patterns, from the worst on."]


class HandlingJson(TypedDict):
    """Where offcuts go (rule L26): walls that meet at corners rise together."""

    offcuts: Annotated[Count, "Parts of panels but the one of each that is laid first."]
    far: Annotated[Count, "Of those the ones farther than the next wall round a corner."]
    late: Annotated[Count, "Of those the ones that wait for more courses than the job allows."]
    longest: Annotated[Count, "The most courses for which one waits."]
    waiting: Annotated[Count, "The most that wait at once, when a course is done."]
    lengths: Annotated[Count, "Different lengths that pieces are cut to, to 1/16 in."]
    panels_over: Annotated[int, "Units more than before offcuts were kept near."]
    cuts_over: Annotated[int, "Crosscuts more than then; below 0 where there are fewer."]


class OverJson(TypedDict):
    """What the plan takes more than that of fewest panels and cuts; below 0 where it takes less."""

    flat: int
    corner: int
    cuts: int
    money: Annotated[
        float | None,
        "Panels, and labor for crosscuts where there is a wage; null where panels have no price.",
    ]


class PlanChoiceJson(TypedDict):
    """One of the plans to choose from."""

    aims: Annotated[list[str], "Words of `plan.aim` that give it; empty: single settings alone."]
    taken: Annotated[bool, "Whether it is the plan of this takeoff."]
    flat: Count
    corner: Count
    flat_packages: Annotated[
        int | None, "To order; null where nobody says what one holds.", Limit("minimum", 0)
    ]
    corner_packages: Annotated[int | None, "Likewise.", Limit("minimum", 0)]
    cuts: Annotated[Count, "Crosscuts."]
    lengths: Annotated[Count, "Different lengths that pieces are cut to, to 1/16 in."]
    waiting: Annotated[Count, "Offcuts that wait at once, at most."]
    far: Annotated[Count, "Offcuts that go farther than the next wall round a corner."]
    in_line: Annotated[float, "Share of joints in line with one two courses below, from 0 to 1."]
    patterns: Annotated[Count, "Places where joints make another pattern."]
    broken: Annotated[
        Count, "Places where a rule of laying does not hold, neither forced nor laid so."
    ]
    goods: Annotated[float | None, "Items that have a price; null where panels have none."]
    cutting: Annotated[float | None, "Labor for crosscuts; null without a wage."]
    money: Annotated[float | None, "Goods and that labor; null where panels have no price."]


class BeatenPlanJson(TypedDict):
    """A plan that is left out, because another is as good or better in all that is shown."""

    plan: PlanChoiceJson
    by: Annotated[list[str], "Words of a plan that beats it."]


class PlanChoicesJson(TypedDict):
    """Plans of the same walls side by side."""

    listed: Annotated[list[PlanChoiceJson], "Those that none of the others beats."]
    beaten: list[BeatenPlanJson]


class FragileJson(TypedDict):
    """A place where a rule of laying gives way when edges are off."""

    kind: Literal["long", "short", "stagger", "halves"]
    wall: str
    course: Annotated[int, "The course, 0 the first.", Limit("minimum", 0)]
    at_in: Point
    by_in: Annotated[Inches, "How much is missing at worst."]


class ToleranceJson(TypedDict):
    """What becomes of the plan when each end of its runs is off, in or out (rule L27)."""

    off_in: Annotated[Inches, "By how much."]
    runs: Annotated[Count, "Runs of the plan."]
    held: Annotated[Count, "Those with no place of any kind."]
    panels_over: Annotated[int, "Units more than before it was given room for that."]
    cuts_over: Annotated[int, "Crosscuts more than then; below 0 where there are fewer."]
    places: Annotated[list[FragileJson], "By wall, course and place."]


class MitredPairJson(TypedDict):
    """The two pieces that meet at a bay corner in one course."""

    corner: str
    left: Annotated[PieceId, "The piece that ends at the corner, seen from outside."]
    right: Annotated[PieceId, "The piece that begins there."]
    state: Annotated[
        Literal["kept", "forced", "broken"],
        "kept: side by side in one panel, parted by one cut; forced: not, and no layout of the bay "
        "has them so; broken: not.",
    ]


class MitresJson(TypedDict):
    """The two sides of bay corners in their panels (rule L13)."""

    kept: Annotated[Count, "Pairs side by side in one panel, parted by one cut."]
    forced: Annotated[Count, "Those apart that no layout of the bay has side by side."]
    broken: Annotated[Count, "The others."]
    pairs: Annotated[list[MitredPairJson], "By corner and course."]


class WallColorJson(TypedDict):
    """One color on one wall."""

    wall: str
    color: str
    share: Annotated[float, "The share of the wall's face that it is to have, from 0 to 1."]
    laid: Annotated[float, "The share that it has."]
    area_sqin: Annotated[float, Limit("minimum", 0)]
    off_panels: Annotated[float, "Panels' faces more than its share; below 0 where it is less."]
    ahead_panels: Annotated[
        float,
        "Left of an upright line or below a level one, by how many panels' faces it has at most "
        "more or less than its share there of what it has in all.",
    ]
    flat: Annotated[Count, "Flat units of it first cut or laid whole for this wall."]
    corner: Annotated[Count, "Corner units of it first cut for this wall."]


class BlendJson(TypedDict):
    """How colors lie (rule L22); a minor one is one of less than half the face."""

    pairs: Annotated[Count, "Pairs of pieces that touch, round corners too."]
    touching: Annotated[Count, "Those of one minor color."]
    own: Annotated[Count, "Those of these that are cut from one panel."]
    chance: Annotated[float, "How many there would be if colors fell by chance, in their shares."]
    largest: Annotated[Count, "The most pieces of one minor color that hang together."]
    walls: Annotated[list[WallColorJson], "By wall and color."]


class StockJson(TypedDict):
    """Units that the pieces are cut from, and the proof beside their number."""

    flat: StockCountJson
    corner: StockCountJson
    units: Annotated[Count, "Flat and corner units together."]
    lower_bound: Annotated[Count, "What no plan can do without, flat and corner units together."]
    lower_bound_parted: Annotated[
        Count,
        "That bound holds for plans that leave no more bay corners with their two sides from two "
        "panels than this one, so many; 0 where it holds for every plan.",
    ]
    cuts: Annotated[Count, "Crosscuts, flat and corner units together."]
    alike_over: Annotated[
        Count, "Units that walls drawn alike take more, by themselves, alike than each for itself."
    ]
    look: LookJson | None
    handling: HandlingJson | None
    mitres: MitresJson | None
    over: Annotated[OverJson | None, "Null where this is the plan of fewest panels and cuts."]
    tolerance: ToleranceJson | None
    blend: NotRequired[Annotated[BlendJson, "Left out where the product has but one color."]]
    unit_list: Annotated[list[UnitJson], "Every unit, in the order of first use."]
    walls: list[WallCountJson]
    yielded: Annotated[list[RuleBreakJson], "Where the plan knows that a rule can't hold."]
    breaks: Annotated[list[RuleBreakJson], "What the independent check of the finished plan found."]


class StartOptionJson(TypedDict):
    """One height of the starter and what it would cost."""

    start_in: Annotated[Inches, "The `courses.start` that gives it."]
    height_in: Annotated[Inches, "Starter above the lowest base of the group."]
    slivers: Annotated[Count, "Strips lower than the job's limit."]
    strips: Annotated[Count, "Heads, sills, tops and caps that are off the course lines."]
    ripped: Annotated[Count, "Pieces that the strips take at least, in panel lengths."]
    units: Annotated[
        int | None, "Flat and corner units; null where they were not planned.", Limit("minimum", 0)
    ]
    present: bool
    best: bool
    in_range: Annotated[
        bool, "Whether every starter of the group lies in the permitted range above its base."
    ]


class StartTableJson(TypedDict):
    """The starter heights of walls whose courses run together."""

    walls: Annotated[list[str], "Ids of the walls."]
    options: list[StartOptionJson]
