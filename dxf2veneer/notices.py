"""Everything the tool has to tell about a drawing, as data.

A notice has a stable code, a level, one line of text, and where it can, the drawing, layer, handle
and place it speaks of. The catalogue below is the one list of codes: their level, what each means
and what to do. ``docs/notices.md`` is held against it by a test.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from dxf2veneer.messages import Message

CAUTION = "An aid to bidding, not a design: local codes, the maker's instructions and a licensed professional decide."
"""Said with every result."""


class Level(StrEnum):
    """How grave a notice is."""

    INFO = "info"
    WARNING = "warning"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class Kind:
    """One entry of the catalogue: the level, what the code means and what the user can do."""

    level: Level
    meaning: str
    remedy: str


_I, _W, _E = Level.INFO, Level.WARNING, Level.ERROR

CATALOGUE: dict[str, Kind] = {
    # reading
    "HIDDEN_LAYER": Kind(
        _I,
        "A named layer is off or frozen; its content was left out.",
        "Thaw the layer, or add --include-hidden.",
    ),
    "DRAWING_REPAIRED": Kind(
        _W,
        "The file is damaged and was repaired while reading.",
        "Compare the overlay with the drawing; save a sound copy from your CAD program.",
    ),
    "ENTITY_UNUSABLE": Kind(
        _W,
        "An entity on a named layer has missing, infinite or otherwise unusable data and was left out.",
        "Redraw the entity at the handle shown.",
    ),
    "ENTITY_KIND_IGNORED": Kind(
        _I,
        "Entities of a kind that bounds no area stand on a named layer and were left out.",
        "Trace what they show with a closed polyline, if it is to be measured.",
    ),
    "BLOCK_CLIPPED": Kind(
        _W,
        "A block reference is clipped; its content is read whole, also what the clip boundary hides.",
        "Explode the reference and cut its content at the boundary, or leave the rest out with --window.",
    ),
    "EXTERNAL_REFERENCE": Kind(
        _W,
        "The drawing refers to another file, which is not read.",
        "Bind the reference into the drawing, or give the other file as a drawing too.",
    ),
    "UNITS_ABSURD": Kind(
        _W,
        "With the unit in use, the highest wall or opening has a size no building has.",
        "Check a length that you know; add the --units option that the notice shows.",
    ),
    "UNITS_DOUBTFUL": Kind(
        _W,
        "Dimensions, notes, doors or heights in the drawing contradict the unit in use, which was kept.",
        "Check a length that you know; if the notice is right, add the --units option it shows.",
    ),
    "NO_SUCH_LAYER": Kind(
        _W,
        "No entity lies on a layer that was named.",
        "Check the layer's name with: dxf2veneer layers DRAWING.",
    ),
    "WINDOW_CROSSED": Kind(
        _W,
        "A closed outline crosses the border of a window and was left out.",
        "Draw the window wider, or cut the outline.",
    ),
    "MARK_UNUSED": Kind(
        _W,
        "A wall or opening mark lies in no face.",
        "List the faces with: dxf2veneer layers DRAWING --faces LAYER.",
    ),
    "WHOLE_COPY": Kind(
        _I,
        "The drawing is large, and its overlay is a copy of all of it; the takeoff itself reads only the named layers.",
        "Add --overlay-only to write just the overlay's layers, and refer to it from the drawing.",
    ),
    "SURVEY_SAMPLED": Kind(
        _I,
        "The drawing is large; its layers were listed from a sample: numbers of entities are exact, outlines, areas and sizes are of those looked at.",
        "Nothing to do; a takeoff reads the named layers whole.",
    ),
    # recognising
    "NO_WALL": Kind(
        _W,
        "A drawing has no usable wall outline.",
        "Name the layer that holds closed wall outlines with --wall-layer.",
    ),
    "OPEN_OUTLINE": Kind(
        _W,
        "An outline does not close; the gap between its ends is wider than the tolerance.",
        "Close the polyline, or raise --gap.",
    ),
    "GAP_CLOSED": Kind(
        _I,
        "An outline's ends met within the gap tolerance and were joined.",
        "Nothing, unless the gap was meant.",
    ),
    "LOOSE_LINES_UNUSED": Kind(
        _W,
        "Loose lines on an outline layer bound no closed outline and were left out.",
        "Close the outline that they should make, raise --gap, or take them off the layer.",
    ),
    "SELF_CROSSING": Kind(
        _W,
        "An outline crosses itself, so that its inside is in doubt; it was left out.",
        "Redraw the outline at the handle shown.",
    ),
    "DOUBLED_OUTLINE": Kind(_W, "Two outlines are the same; one was counted.", "Delete the copy."),
    "NO_AREA": Kind(
        _W, "An outline encloses no area and was left out.", "Delete it, or redraw it."
    ),
    "NESTED_WALL": Kind(
        _W,
        "A wall outline lies inside another wall.",
        "Say what it is with --nested-walls: hole, separate or ignore.",
    ),
    "NESTED_WALL_ASKED": Kind(
        _I,
        "A wall outline lies inside another wall and was treated as --nested-walls says.",
        "Nothing, if it is what you meant.",
    ),
    "WALLS_OVERLAP": Kind(
        _W,
        "Two wall outlines overlap; the common area is counted in both.",
        "Redraw the outlines so that they share an edge at most.",
    ),
    "OPENING_OUTSIDE_WALL": Kind(
        _W,
        "An opening lies in no wall and was not counted.",
        "Move it into its wall, or take it off the layer.",
    ),
    "OPENING_PARTLY_OUTSIDE": Kind(
        _W,
        "An opening reaches beyond its wall; the part inside was counted.",
        "Check the wall's outline at this opening.",
    ),
    "OPENING_SPLIT": Kind(
        _I,
        "An opening lies across two or more walls and was shared between them.",
        "Nothing, if the walls really meet there.",
    ),
    "OPENINGS_OVERLAP": Kind(
        _W,
        "Two openings overlap; the common area was counted once.",
        "Check which outline is right.",
    ),
    "OPENING_NESTED": Kind(
        _I,
        "An outline lies wholly inside an opening (a sash, a pane) and was not counted.",
        "Nothing, if it is part of that opening.",
    ),
    "DOOR_ASSUMED": Kind(
        _I,
        "An opening touches the wall's base and was taken for a door.",
        "Name its layer under layers.window in the job file if it is none.",
    ),
    "DOOR_EXTENDED": Kind(
        _W,
        "An opening that was pointed at ends a little above the wall's base (a floor line, a threshold) and was taken down to it.",
        "Set recognise.door_reach to 0 if it is no door.",
    ),
    "NAME_UNUSED": Kind(
        _I, "A text on the name layer lies in no wall.", "Move the text into the wall it names."
    ),
    "NAMES_SEVERAL": Kind(
        _W,
        "Several texts on the name layer lie in one wall; the lowest on the left was used.",
        "Leave one name in the wall.",
    ),
    "CORNER_MARK_UNUSED": Kind(
        _W,
        "A corner mark lies at no vertical edge of a wall.",
        "Move it onto the edge, or raise recognise.edge_tolerance.",
    ),
    "CORNER_UNPAIRED": Kind(
        _W,
        "A corner is marked on one wall only and counts by itself; drawn on two elevations without tags it would count twice.",
        "Give both marks of one corner the same tag: a text beside each on the same layer.",
    ),
    "CORNER_TAG_CLASH": Kind(
        _W,
        "A corner tag stands at marks that can't be one corner (not one right and one left edge).",
        "Give each corner a tag of its own.",
    ),
    "CORNER_HEIGHTS_DIFFER": Kind(
        _W,
        "The two edges of one corner have different heights; the greater was counted.",
        "Check both elevations.",
    ),
    "CAP_MARK_UNUSED": Kind(
        _W, "A line on the cap layer lies in no wall.", "Move it onto the top of the veneer."
    ),
    "LEVEL_UNUSED": Kind(
        _W,
        "A level line is not level, or crosses no wall and lies below none by less than half the wall's height.",
        "Draw it across the walls it ties together.",
    ),
    # courses
    "STARTER_BELOW_BASE": Kind(
        _W,
        "The starter line lies below the wall's base.",
        "Raise --start, or check the level line.",
    ),
    "STARTER_HIGH": Kind(
        _W,
        "The starter line lies a course or more above the wall's base.",
        "Lower --start or --clearance, or check the level line.",
    ),
    "BELOW_STARTER": Kind(
        _I,
        "Ground of the walls lies below the starter strip, where no panel covers it; the net area counts it.",
        "Nothing, or draw the outlines down to the starter strip only.",
    ),
    "BASE_STEPPED": Kind(
        _I,
        "The wall's base steps or slopes; the starter strip is counted along its level length.",
        "Check the first course at the steps on the overlay.",
    ),
    "CORNER_UNTIED": Kind(
        _W,
        "Two walls meet at a corner with first courses at different heights, and no level line ties their courses.",
        "Draw a level line across both walls and name its layer (--level-layer), so that courses run on and corner pieces take turns.",
    ),
    "SLIVER": Kind(
        _W,
        "A course line leaves a strip lower than the sliver limit at a head, sill, top or cap.",
        "Shift the courses with --start (--start best looks for the fewest slivers), or move the opening.",
    ),
    "START_SLIVERS": Kind(
        _W,
        "The best start that was asked for still leaves slivers.",
        "Widen the range with --clearance-most, or move the heads and sills that the course check names.",
    ),
    "START_OUT_OF_RANGE": Kind(
        _W,
        "Walls whose courses run together have bases so different that no start brings every starter into the permitted range.",
        "Widen the range with --clearance-most, or check the level lines.",
    ),
    # the order
    "PLAN_TOO_BIG": Kind(
        _W,
        "The job has more panels than it is to be laid out with; they are estimated by area.",
        "Check the drawing's unit; if it is right, raise --plan-most or split the job.",
    ),
    "RULE_YIELDS": Kind(
        _I,
        "A rule of laying can't hold somewhere, because of the wall's own measures; the notice says why.",
        "Look at the place on the overlay; move the opening or the starter where the reason says so.",
    ),
    "RULE_BROKEN": Kind(
        _W,
        "The plan breaks a rule of laying somewhere and has no reason that the judge could see.",
        "Look at the place on the overlay and decide there; another starter height or cut worth may lay it better.",
    ),
    "PLAN_FAULT": Kind(
        _E,
        "The judge found the plan faulty: ground laid twice or not at all, or a unit that can't give its pieces. Its counts are not to be trusted.",
        "Use --no-plan for this drawing, and report the fault with the drawing.",
    ),
    "ORDER_BY_AREA": Kind(
        _I,
        "The order's panels are estimated by area and corner run, without a course plan.",
        "Nothing, if that is what you asked for with --no-plan.",
    ),
    "GOODS_GENERIC": Kind(
        _I,
        "The product file leaves out package sizes, weights or factors; those of the generic panel stand in for them.",
        "Add the sections to the product file; docs/settings.md lists them.",
    ),
    "FEW_STUDS": Kind(
        _I,
        "Some pieces reach fewer studs than they have fasteners for framing.",
        "Plan backing or blocking there, as the maker's instructions say; the order lists the pieces.",
    ),
    "PRICE_MISSING": Kind(
        _W,
        "An item of the order, or labour, has no price, so that the bid has no total.",
        "Add it to the price file, name it under order.by_others, or set labour.wage.",
    ),
    "PRICE_UNUSED": Kind(
        _W,
        "A line of the price file is about no item of the order.",
        "Write the item's key as docs/settings.md lists it, or take the line out.",
    ),
    "PRICES_UNDATED": Kind(
        _I,
        "The price file does not say its date or currency.",
        "Add them, so that a reader knows what the prices are worth.",
    ),
    # checks
    "CROSS_CHECK": Kind(
        _E,
        "Two ways of computing one quantity disagree.",
        "Do not use the numbers; report the drawing to the makers of this tool.",
    ),
}


_DOUBTS = ("UNITS_ABSURD", "UNITS_DOUBTFUL", "NO_WALL")
"""Warnings after which the whole takeoff may be of the wrong thing."""


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing to tell. ``at_in`` is the place in the drawing's coordinates, in inches."""

    code: str
    message: Message | str
    drawing: int | None = None
    layer: str | None = None
    handle: str | None = None
    at_in: tuple[float, float] | None = None
    count: int = 1
    """How many it stands for: more than one where those of a kind are too many to be listed one by one."""

    def __post_init__(self) -> None:
        if self.code not in CATALOGUE:
            raise ValueError(f"notice code {self.code} is not in the catalogue")

    @property
    def level(self) -> Level:
        """The level that the catalogue gives this code."""
        return CATALOGUE[self.code].level

    @property
    def remedy(self) -> str:
        """What the user can do about it."""
        return CATALOGUE[self.code].remedy


def doubts(notices: Iterable[Notice], drawings: int) -> list[Notice]:
    """What to look at before any number is used: a unit that makes no sense, a drawing without walls, a
    layer that none of so many drawings has."""
    listed = list(notices)
    lacking = Counter(n.layer for n in listed if n.code == "NO_SUCH_LAYER")
    nowhere = {layer for layer, count in lacking.items() if count >= drawings}
    found: dict[tuple[str, Message | str | None], Notice] = {}
    for n in listed:
        if n.code in _DOUBTS:
            found.setdefault((n.code, n.message), n)
        elif n.code == "NO_SUCH_LAYER" and n.layer in nowhere:
            found.setdefault((n.code, n.layer), n)
    return list(found.values())


def count_by_level(notices: Iterable[Notice]) -> dict[Level, int]:
    """How many notices there are of each level, every level named."""
    counts = dict.fromkeys(Level, 0)
    for notice in notices:
        counts[notice.level] += notice.count
    return counts


def gathered(notices: Iterable[Notice], most: int) -> list[Notice]:
    """At most ``most`` notices of each code and drawing, in the order given, by code and drawing.

    Those beyond come together in one that stands behind them and says how many they are; it carries
    layer, handle and place of the first of them.
    """
    kept: dict[tuple[str, int | None], list[Notice]] = {}
    beyond: dict[tuple[str, int | None], Notice] = {}
    for notice in notices:
        key = notice.code, notice.drawing
        group = kept.setdefault(key, [])
        if notice.count == 1 and len(group) < most:
            group.append(notice)
        else:
            first = beyond.setdefault(key, replace(notice, count=0))
            beyond[key] = replace(first, count=first.count + notice.count)
    listed: list[Notice] = []
    for key, group in kept.items():
        listed += group
        if key in beyond:
            listed.append(_more(beyond[key]))
    return listed


def _more(notice: Notice) -> Notice:
    """What is said of all those that are not listed."""
    return replace(
        notice,
        message=f"{notice.count:,} more of this kind are not listed one by one; the first of them is shown",
    )
