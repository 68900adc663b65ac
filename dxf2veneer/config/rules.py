"""The catalog of laying rules: what each says, what sets it, and where it comes from.

Planner and judge take a rule's id from here, writers and documents its name and its words. Programs
keep the id; people read the name. None of the rules is a claim of code compliance: local codes, the
maker's printed instructions and a licensed professional decide.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class RuleId(StrEnum):
    """Ids of rules as they stand in results: ``cover``, ``stock`` and ``declared``, and L1 to
    L27."""

    COVER = "cover"
    STOCK = "stock"
    DECLARED = "declared"
    PANEL_COVERAGE = "L1"
    SCRAP_ALLOWANCE = "L2"
    STAGGER = "L3"
    LEAST_PIECE = "L4"
    FINISHED_END = "L5"
    OUTSIDE_TURN = "L6"
    INSIDE_TURN = "L7"
    WALL_END = "L8"
    FACTORY_ENDS = "L9"
    OFFCUT_USE = "L10"
    FEWEST_PANELS = "L11"
    NARROW_COLUMN = "L12"
    BAY_MITRE = "L13"
    PANEL_FASTENERS = "L14"
    STARTER_STRIP = "L15"
    CAP_FASTENERS = "L16"
    GLUED_PANEL = "L17"
    FIXTURE_BLOCK = "L18"
    SILL_CUT = "L19"
    TRIM_STONE_SPLIT = "L20"
    BARRIER_LAPS = "L21"
    BOX_MIXING = "L22"
    CLEARANCE = "L23"
    LEAST_STRIP = "L24"
    JOINT_PATTERN = "L25"
    RISING_TOGETHER = "L26"
    OUT_OF_PLUMB = "L27"


class RuleOrigin(StrEnum):
    """Where a rule comes from."""

    PUBLISHED = "published"
    COMMON = "common practice, no published source"
    MEMORY = "from memory, not checked against a source"
    OWN = "our own default"


class RuleUse(StrEnum):
    """What the tool does with a rule."""

    JUDGED = "the planner keeps it and the judge checks it"
    SOUGHT = "the planner seeks it where the judged rules leave a choice"
    COUNTED = "the order is counted by it"
    SHOWN = "shown to the reader; nothing is computed from it"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the catalog."""

    id: RuleId
    name: str
    """Its plain name, as an estimator would say it."""
    says: str
    """What must hold, in full sentences."""
    origin: RuleOrigin
    """Where its main statement comes from."""
    use: RuleUse
    """What the tool does with it."""
    note: str = ""
    """The published source, or which part of it has another origin."""
    product: tuple[str, ...] = ()
    """Values of the product file that set it, as ``section.key``."""
    job: tuple[str, ...] = ()
    """Settings of the job that set it, as ``section.key``."""


_TRADE, _OWN = RuleOrigin.COMMON, RuleOrigin.OWN
_JUDGED, _SOUGHT, _COUNTED, _SHOWN = RuleUse.JUDGED, RuleUse.SOUGHT, RuleUse.COUNTED, RuleUse.SHOWN

_RULES = (
    Rule(
        RuleId.COVER,
        "cover",
        "The pieces of a wall cover the ground of its panels exactly: nothing twice, nothing bare, "
        "each piece in its course; corner pieces may run past an edge, and pieces stop short of a "
        "corner, an opening or an end by what job and product say.",
        _OWN,
        _JUDGED,
        product=(
            "panel.thickness",
            "corner.inside",
            "laying.opening_joint",
            "laying.end_joint",
        ),
        job=("plan.end_overhang", "plan.outside_overhang"),
    ),
    Rule(
        RuleId.STOCK,
        "cutting plan",
        "Every piece is cut from one panel, which has room for its pieces and the saw cuts between "
        "them; the counts of panels, pieces and cuts are those of the pieces.",
        _OWN,
        _JUDGED,
        product=("panel.length", "corner.length"),
        job=("plan.kerf", "plan.offcuts"),
    ),
    Rule(
        RuleId.DECLARED,
        "piece marks",
        "What the plan says of a piece is true of the ground it covers: its number, what is done "
        "to it, whether it is ripped or glued, its outline and the angle of its cut.",
        _OWN,
        _JUDGED,
    ),
    Rule(
        RuleId.PANEL_COVERAGE,
        "panel coverage",
        "A flat panel covers 2 sq ft of wall.",
        _TRADE,
        _COUNTED,
        note="the face of 36 in by 8 in is from memory",
        product=("panel.length", "panel.height"),
    ),
    Rule(
        RuleId.SCRAP_ALLOWANCE,
        "scrap allowance",
        "Until a crew knows its own figure, about 10 % of the area is added for scrap.",
        _TRADE,
        _COUNTED,
        job=("order.scrap", "order.items"),
    ),
    Rule(
        RuleId.STAGGER,
        "stagger",
        "Joints of adjacent courses stand at least 8 in apart.",
        _TRADE,
        _JUDGED,
        product=("laying.stagger",),
    ),
    Rule(
        RuleId.LEAST_PIECE,
        "least piece",
        "A corner panel is cut into two pieces of unequal length, each at least 8 in long, and the "
        "cut moves from course to course. Flat pieces keep the same least length.",
        _TRADE,
        _JUDGED,
        note="how unequal, and by how much the cut moves, are our own defaults; so is the least "
        "length of flat pieces",
        product=("laying.least_piece", "corner.unequal", "corner.vary"),
    ),
    Rule(
        RuleId.FINISHED_END,
        "finished end",
        "A corner piece stands with its finished end at the corner and its cut end away from it. "
        "A whole corner panel is never used inside a course.",
        _TRADE,
        _JUDGED,
    ),
    Rule(
        RuleId.OUTSIDE_TURN,
        "outside corner turn",
        "At an outside corner the corner piece of one wall runs past the edge and the panel of the "
        "other wall butts against its back; the two walls take turns, course by course.",
        _TRADE,
        _JUDGED,
        note="that what butts is shorter by the stone's thickness is geometry",
        product=("panel.thickness",),
        job=("plan.outside_overhang",),
    ),
    Rule(
        RuleId.INSIDE_TURN,
        "inside corner turn",
        "At an inside corner there is one corner piece in each course and the two walls take "
        "turns. About the last 3 in of a corner piece are flat enough to butt a panel against.",
        _TRADE,
        _JUDGED,
        product=("corner.inside",),
    ),
    Rule(
        RuleId.WALL_END,
        "finished wall end",
        "A finished end takes one corner piece in every course, all of the same hand. It may run "
        "up to 3 in past the wall's end, by the same overhang in all courses.",
        _TRADE,
        _JUDGED,
        job=("plan.end_overhang", "recognise.edge_kind"),
    ),
    Rule(
        RuleId.FACTORY_ENDS,
        "factory ends meet",
        "Panels of a run meet factory end to factory end. A cut end has lost its tab and belongs "
        "at the end of a run; where a factory end meets a corner piece its tab comes off.",
        _TRADE,
        _JUDGED,
    ),
    Rule(
        RuleId.OFFCUT_USE,
        "offcut use",
        "What is left of a course's last panel starts a later course, the next one first.",
        _TRADE,
        _SOUGHT,
        job=("plan.offcuts",),
    ),
    Rule(
        RuleId.FEWEST_PANELS,
        "fewest panels and cuts",
        "Panels are laid level. Where offcuts, stagger and corners leave a choice, slivers are "
        "avoided first, then the sum of panels and cuts is kept least.",
        _OWN,
        _SOUGHT,
        job=("plan.aim", "plan.cuts_per_panel"),
    ),
    Rule(
        RuleId.NARROW_COLUMN,
        "narrow column",
        "A rough column of 16 in by 16 in is laid in corner pieces alone, its courses staggered. A "
        "wider run with a corner at one end may be a corner piece and a flat piece.",
        _TRADE,
        _JUDGED,
        note="the second sentence is our own: it follows from the least piece, the finished end "
        "and the factory ends",
        product=("corner.column",),
    ),
    Rule(
        RuleId.BAY_MITRE,
        "bay mitre",
        "At a bay the ends are mitred at half the angle between the walls, and both sides of a "
        "course come from one panel.",
        _TRADE,
        _JUDGED,
        note="that they lie side by side in it is sought where other rules leave a choice",
        job=("recognise.bay_angle",),
    ),
    Rule(
        RuleId.PANEL_FASTENERS,
        "panel fasteners",
        "A panel or part 18 in long or longer takes at least 4 fasteners, 2 of them into framing. "
        "A shorter part takes 2, both into framing.",
        _TRADE,
        _COUNTED,
        note="the number for shorter parts is our own default",
        product=(
            "panel_fastener.long_from",
            "panel_fastener.long",
            "panel_fastener.short",
            "panel_fastener.studs",
        ),
        job=("order.framing",),
    ),
    Rule(
        RuleId.STARTER_STRIP,
        "starter strip fasteners",
        "A starter strip takes a fastener every 8 to 10 in, with a gap of 1/32 in under the head.",
        _TRADE,
        _COUNTED,
        product=("starter_fastener.spacing",),
    ),
    Rule(
        RuleId.CAP_FASTENERS,
        "cap fasteners",
        "A cap takes at least 4 fasteners, 2 of them into framing, the outer ones within 3 in of "
        "its ends.",
        _TRADE,
        _COUNTED,
        product=("cap_fastener.per_cap",),
    ),
    Rule(
        RuleId.GLUED_PANEL,
        "glued partial panel",
        "A panel whose nail flange is cut off, under a soffit, a sill or a rake, is glued in thick "
        "vertical beads to unpainted flashing or galvanized expanded metal lath that is fastened "
        "to framing, and held until the adhesive has cured.",
        _TRADE,
        _COUNTED,
        product=("adhesive.spacing", "lath.margin", "flashing.margin"),
        job=("order.backing",),
    ),
    Rule(
        RuleId.FIXTURE_BLOCK,
        "fixture block",
        "A fixture block is glued like a partial panel, and the panels are cut around its outline.",
        _TRADE,
        _COUNTED,
    ),
    Rule(
        RuleId.SILL_CUT,
        "sill undercut",
        "The underside of sill trim is cut at 10 degrees, so that it sits flush on the sill.",
        _TRADE,
        _SHOWN,
    ),
    Rule(
        RuleId.TRIM_STONE_SPLIT,
        "trim stone cut in two",
        "A trim stone of 8 in may be cut into two of 4 in.",
        _TRADE,
        _COUNTED,
        product=("trim_stone.height",),
        job=("order.rip_trim",),
    ),
    Rule(
        RuleId.BARRIER_LAPS,
        "WRB laps",
        "Behind the veneer lies at least one layer of water-resistive barrier, lapped shingle "
        "fashion and overlapped at least 16 in at inside and outside corners; other laps are 2 in "
        "where they run level and 6 in where they run upright.",
        _TRADE,
        _COUNTED,
        note="one layer and the laps of 2 in and 6 in are published: IRC R703.2 (2015, read in a "
        "state's copy); the overlap at corners is common practice",
        product=("wrb.layers", "wrb.lap_level", "wrb.lap_upright", "wrb.lap_corner"),
    ),
    Rule(
        RuleId.BOX_MIXING,
        "mixing boxes",
        "Panels are pulled from several boxes while the wall goes up; where a panel comes in "
        "several colors with shares, each wall gets its shares, spread out.",
        _TRADE,
        _SOUGHT,
        note="how many boxes, and what counts as spread out, is our own default",
        product=("blend.colors",),
        job=("plan.boxes", "plan.blend"),
    ),
    Rule(
        RuleId.CLEARANCE,
        "clearance below",
        "The veneer ends 4 in above earth, 2 in above paving, and 1/2 in above a walking surface "
        "on the same foundation.",
        RuleOrigin.PUBLISHED,
        _SHOWN,
        note="IRC R703.12.1, read in a secondary copy; written for adhered veneer and shown here "
        "for reference",
        job=("courses.clearance",),
    ),
    Rule(
        RuleId.LEAST_STRIP,
        "least strip",
        "No piece is ripped to a strip lower than 2 in.",
        _OWN,
        _JUDGED,
        job=("courses.sliver",),
    ),
    Rule(
        RuleId.JOINT_PATTERN,
        "joint pattern",
        "Joints do not stand in line two courses apart, do not climb in regular steps, and do not "
        "repeat whole courses; none stands in line with a jamb where it can be helped.",
        _TRADE,
        _SOUGHT,
        note="good stonework; what counts as in line, and what it may cost, is our own default",
        job=("plan.look",),
    ),
    Rule(
        RuleId.RISING_TOGETHER,
        "walls rise together",
        "Walls that meet at a corner rise together, course by course, and an offcut is cut before "
        "it is used.",
        _TRADE,
        _SOUGHT,
        note="how far offcuts go, and for how long they wait, is our own default",
        job=("plan.offcuts", "plan.offcut_wait"),
    ),
    Rule(
        RuleId.OUT_OF_PLUMB,
        "out of plumb",
        "Walls are rarely plumb and square to better than 1/2 in over their length; a plan leaves "
        "room for that.",
        RuleOrigin.MEMORY,
        _SOUGHT,
        note="that each edge may be off by so much, and what room for that may cost, is our own "
        "default",
        job=("plan.tolerance",),
    ),
)

RULES: dict[RuleId, Rule] = {rule.id: rule for rule in _RULES}
"""Every rule by its id, the plan's own three first, then L1 to L27."""

JUDGED: tuple[RuleId, ...] = tuple(rule.id for rule in _RULES if rule.use is RuleUse.JUDGED)
"""Ids of the rules that the judge checks, in the order of the catalog."""

PLAN_FAULTS = (RuleId.COVER, RuleId.STOCK, RuleId.DECLARED)
"""Not rules of laying but what makes a plan a plan: broken, the tool itself is wrong."""


def rule_name(id_: str) -> str:
    """The plain name of a rule.

    Args:
        id_: A rule's id, such as ``L3``.

    Returns:
        Its name, such as ``stagger``.

    Raises:
        ValueError: There is no rule of that id.
    """
    return RULES[RuleId(id_)].name
