"""What every notice means and what the user can do about it, by its code.

``docs/notices.md`` comes out of this table and the levels in ``notices.py``; a test holds that both
know the same codes.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NoticeText:
    """What a code means and what the user can do."""

    meaning: str
    remedy: str


ABOUT: dict[str, NoticeText] = {
    # reading
    "HIDDEN_LAYER": NoticeText(
        "A named layer is off or frozen; its content was left out.",
        "Thaw the layer, or add --include-hidden.",
    ),
    "DRAWING_REPAIRED": NoticeText(
        "The file is damaged and was repaired while reading.",
        "Compare the overlay with the drawing; save a sound copy from your CAD program.",
    ),
    "ENTITY_UNUSABLE": NoticeText(
        "An entity on a named layer has missing, infinite or otherwise unusable data and "
        "was left out.",
        "Redraw the entity at the handle shown.",
    ),
    "ENTITY_KIND_IGNORED": NoticeText(
        "Entities of a kind that bounds no area stand on a named layer and were left out.",
        "Trace what they show with a closed polyline, if it is to be measured.",
    ),
    "BLOCK_CLIPPED": NoticeText(
        "A block reference is clipped; its content is read whole, also what the clip "
        "boundary hides.",
        "Explode the reference and cut its content at the boundary, or leave the rest out "
        "with --window.",
    ),
    "EXTERNAL_REFERENCE": NoticeText(
        "The drawing refers to another file, which is not read.",
        "Bind the reference into the drawing, or give the other file as a drawing too.",
    ),
    "UNITS_ABSURD": NoticeText(
        "With the unit in use, the highest wall or opening has a size no building has.",
        "Check a length that you know; add the --units option that the notice shows.",
    ),
    "UNITS_DOUBTFUL": NoticeText(
        "Dimensions, notes, doors or heights in the drawing contradict the unit in use, "
        "which was kept.",
        "Check a length that you know; if the notice is right, add the --units option it shows.",
    ),
    "PROPOSAL_UNCONFIRMED": NoticeText(
        "Walls and openings were proposed by the program, and the job file says that no person "
        "has confirmed them. Every output says so on top.",
        "Look at the picture of the proposal and at the overlay, mend the job file, then set "
        "confirmed = true under [proposal].",
    ),
    "PROPOSAL_OF_ANOTHER": NoticeText(
        "The job file's outlines were proposed for a drawing with another checksum.",
        "Run propose again on this drawing, or check every outline in the overlay.",
    ),
    "SIDES_UNMARKED": NoticeText(
        "Walls were proposed, and no side of any is marked as a corner or a finished end: all "
        "count as butts against something else, without a corner panel.",
        "Where a side turns a corner, move its line from the job file's comments into mark_line, "
        "or mark it on the page of dxf2veneer confirm.",
    ),
    "CLADDINGS_DRAWN": NoticeText(
        "Walls were proposed, and not all of what is taken off is drawn as one cladding, or it is "
        "drawn as boards or battens: panels are laid on all of it.",
        "If only a part of it is stone, run propose with --cladding and the name shown (it may be "
        "given several times), or take the other walls out of the job file.",
    ),
    "HATCHED_OUTSIDE": NoticeText(
        "An area is hatched like the walls that are taken off, and lies in none of them.",
        "If it is clad, mark it by pointing (dxf2veneer confirm).",
    ),
    "DRAWING_TRACED": NoticeText(
        "The drawing's lines waver as those traced from a scan do; walls and openings are proposed "
        "from lines made straight, so their outlines lie beside what is drawn.",
        "Check a few sizes against written dimensions before you rely on them.",
    ),
    "NOT_SEEN_WHOLE": NoticeText(
        "The takeoff looked only at what was named; the rest of the drawing was not compared.",
        "Look at the overlay for openings and walls that are missing.",
    ),
    "OPENING_UNCLAIMED": NoticeText(
        "Something in a wall looks like an opening and is not taken off.",
        "Give the point to --opening-at, or name the layer with --opening-layer.",
    ),
    "OPENING_WITHOUT_HEAD": NoticeText(
        "On a layer of openings two jambs stand on a sill, and no line closes them at the head: "
        "nothing is taken off there.",
        "Draw the head, name the layer that it lies on with --opening-layer, or put the outline "
        "that the notice prints into the job file.",
    ),
    "WALL_LIKE_OPENING": NoticeText(
        "A wall has the outline of what looks like an opening.",
        "Close the outline of the wall round it (--gap), or say which outlines are walls with "
        "--wall-at.",
    ),
    "WALL_OUTLINE_OPEN": NoticeText(
        "Lines on a wall layer reach round all that was taken of it, but close no outline.",
        "Add a larger --gap, name further layers with --wall-layer, or close the outline.",
    ),
    "WALLS_OF_OTHER_VIEW": NoticeText(
        "Walls were taken from a view that is a plan, a section or a detail, not an elevation.",
        "Name layers or a window of the elevations only: --window or --view.",
    ),
    "ELEVATION_NOT_TAKEN": NoticeText(
        "A view looks like an elevation, and no wall of it was taken.",
        "Mark what is clad there by pointing (dxf2veneer confirm), name its wall layer too, or "
        "limit the reading with --view or --window.",
    ),
    "NO_SUCH_LAYER": NoticeText(
        "No entity lies on a layer that was named.",
        "Check the layer's name with: dxf2veneer layers DRAWING.",
    ),
    "WINDOW_CROSSED": NoticeText(
        "A closed outline crosses the border of a window and was left out.",
        "Draw the window wider, or cut the outline.",
    ),
    "MARK_UNUSED": NoticeText(
        "A wall or opening mark lies in no face.",
        "List the faces with: dxf2veneer layers DRAWING --faces LAYER.",
    ),
    "WHOLE_COPY": NoticeText(
        "The drawing is large, and its overlay is asked for in another version or form; for that "
        "the whole of it is read and written anew.",
        "Leave out --dxf-version and --binary: the overlay is then put between the bytes of the "
        "drawing.",
    ),
    "SURVEY_SAMPLED": NoticeText(
        "The drawing is large; its layers were listed from a sample: numbers of entities "
        "are exact, outlines, areas and sizes are of those looked at.",
        "Nothing to do; a takeoff reads the named layers whole.",
    ),
    # recognising
    "NO_WALL": NoticeText(
        "A drawing has no usable wall outline.",
        "Name the layer that holds closed wall outlines with --wall-layer.",
    ),
    "OPEN_OUTLINE": NoticeText(
        "An outline does not close; the gap between its ends is wider than the tolerance.",
        "Close the polyline, or raise --gap.",
    ),
    "GAP_CLOSED": NoticeText(
        "An outline's ends met within the gap tolerance and were joined.",
        "Nothing, unless the gap was meant.",
    ),
    "LAYERS_JOINED": NoticeText(
        "Lines of several layers of one meaning close an outline together that none closes alone.",
        "Check the outline in the overlay; take a layer out if it was not meant.",
    ),
    "LOOSE_LINES_UNUSED": NoticeText(
        "Loose lines on an outline layer bound no closed outline and were left out.",
        "Close the outline that they should make, raise --gap, or take them off the layer.",
    ),
    "SELF_CROSSING": NoticeText(
        "An outline crosses itself, so that its inside is in doubt; it was left out.",
        "Redraw the outline at the handle shown.",
    ),
    "DOUBLED_OUTLINE": NoticeText(
        "Two outlines are the same; one was counted.",
        "Delete the copy.",
    ),
    "NO_AREA": NoticeText(
        "An outline encloses no area and was left out.",
        "Delete it, or redraw it.",
    ),
    "NESTED_WALL": NoticeText(
        "A wall outline lies inside another wall.",
        "Say what it is with --nested-walls: hole, separate or ignore.",
    ),
    "NESTED_WALL_ASKED": NoticeText(
        "A wall outline lies inside another wall and was treated as --nested-walls says.",
        "Nothing, if it is what you meant.",
    ),
    "WALLS_OVERLAP": NoticeText(
        "Two wall outlines overlap; the common area is counted in both.",
        "Redraw the outlines so that they share an edge at most.",
    ),
    "OPENING_OUTSIDE_WALL": NoticeText(
        "An opening lies in no wall and was not counted.",
        "Move it into its wall, or take it off the layer.",
    ),
    "OPENING_PARTLY_OUTSIDE": NoticeText(
        "An opening reaches beyond its wall; the part inside was counted.",
        "Check the wall's outline at this opening.",
    ),
    "OPENING_SPLIT": NoticeText(
        "An opening lies across two or more walls: each takes off what lies in it, and the opening "
        "is counted once, with its largest part.",
        "Nothing, if the walls really meet there.",
    ),
    "OPENINGS_OVERLAP": NoticeText(
        "Two openings overlap; the common area was counted once.",
        "Check which outline is right.",
    ),
    "OPENING_NESTED": NoticeText(
        "An outline lies wholly inside an opening (a sash, a pane) and was not counted.",
        "Nothing, if it is part of that opening.",
    ),
    "DOOR_ASSUMED": NoticeText(
        "An opening touches the wall's base and was taken for a door.",
        "Name its layer under layers.window in the job file if it is none.",
    ),
    "DOOR_EXTENDED": NoticeText(
        "An opening that was pointed at ends a little above the wall's base (a floor line, "
        "a threshold) and was taken down to it.",
        "Set recognise.door_reach to 0 if it is no door.",
    ),
    "NAME_UNUSED": NoticeText(
        "A text on the name layer lies in no wall.",
        "Move the text into the wall it names.",
    ),
    "NAMES_SEVERAL": NoticeText(
        "Several texts on the name layer lie in one wall; the lowest on the left was used.",
        "Leave one name in the wall.",
    ),
    "CORNER_MARK_UNUSED": NoticeText(
        "A corner mark lies at no vertical edge of a wall.",
        "Move it onto the edge, or raise recognise.edge_tolerance.",
    ),
    "CORNER_UNPAIRED": NoticeText(
        "A corner is marked on one wall only and counts by itself; drawn on two elevations "
        "without tags it would count twice.",
        "Give both marks of one corner the same tag: a text beside each on the same layer.",
    ),
    "CORNER_TAG_CLASH": NoticeText(
        "A corner tag stands at marks that can't be one corner (not one right and one left edge).",
        "Give each corner a tag of its own.",
    ),
    "CORNER_HEIGHTS_DIFFER": NoticeText(
        "The two edges of one corner have different heights; the greater was counted.",
        "Check both elevations.",
    ),
    "CAP_MARK_UNUSED": NoticeText(
        "A line on the cap layer lies in no wall.",
        "Move it onto the top of the veneer.",
    ),
    "TRIM_OVERLAPS": NoticeText(
        "Two openings stand so near to each other that the trim stones of both don't fit in "
        "between. Both are ordered in full; the ground that they share counts once.",
        "Decide on one stone as wide as the mullion in place of two jambs (or of sill and head), "
        "or on narrower bands, and take what is too many off the trim stones by hand.",
    ),
    "WALLS_NOT_DRAWN": NoticeText(
        "Walls of the job file that no drawing shows are laid out and counted by the sizes given "
        "there; every output calls them not drawn, and the overlay shows them right of the "
        "drawing.",
        "Check their sizes on site before ordering.",
    ),
    "LEVEL_UNUSED": NoticeText(
        "A level line is not level, or crosses no wall and lies below none by less than "
        "half the wall's height.",
        "Draw it across the walls it ties together.",
    ),
    # sizes measured on site
    "SITE_MEASURED": NoticeText(
        "Sizes of a file of site measures replace drawn ones; the assumptions list each.",
        "Look them through; leave --site out for the plan as drawn.",
    ),
    "SITE_BEYOND_TOLERANCE": NoticeText(
        "A measured size is off from the drawn one by more than the plan allows for.",
        "Measure it again; if it is right, expect more changed cuts on that wall.",
    ),
    "SITE_DRAWN_DIFFERS": NoticeText(
        "The drawn size in the file of site measures is not the one in the drawing: the drawing "
        "has changed since the file was written.",
        "Write a new file with dxf2veneer site, and take the measured sizes over.",
    ),
    "SITE_BEFORE_KEPT": NoticeText(
        "The plan of an earlier result is kept, in place of the plan as drawn.",
        "See that it is the plan by which panels were cut.",
    ),
    # courses
    "STARTER_BELOW_BASE": NoticeText(
        "The starter line lies below the wall's base.",
        "Raise --start, or check the level line.",
    ),
    "STARTER_HIGH": NoticeText(
        "The starter line lies a course or more above the wall's base.",
        "Lower --start or --clearance, or check the level line.",
    ),
    "BELOW_STARTER": NoticeText(
        "Ground of the walls lies below the starter strip, where no panel covers it; the "
        "net area counts it.",
        "Nothing, or draw the outlines down to the starter strip only.",
    ),
    "BASE_STEPPED": NoticeText(
        "The wall's base steps or slopes; the starter strip is counted along its level length.",
        "Check the first course at the steps on the overlay.",
    ),
    "CORNER_UNTIED": NoticeText(
        "Two walls meet at a corner with first courses at different heights, and no level "
        "line ties their courses.",
        "Draw a level line across both walls and name its layer (--level-layer), so that "
        "courses run on and corner pieces take turns.",
    ),
    "SLIVER": NoticeText(
        "A course line leaves a strip lower than the sliver limit at a head, sill, top or cap.",
        "Shift the courses with --start (--start best looks for the fewest slivers near the "
        "clearance, dxf2veneer advise over the whole height of a course and with openings that "
        "may move), or move the opening.",
    ),
    "START_SLIVERS": NoticeText(
        "The best start that was asked for still leaves slivers.",
        "Widen the range with --clearance-most, or let dxf2veneer advise look over the whole "
        "height of a course and move openings within limits that you give.",
    ),
    "START_OUT_OF_RANGE": NoticeText(
        "Walls whose courses run together have bases so different that no start brings "
        "every starter into the permitted range.",
        "Widen the range with --clearance-most, or check the level lines.",
    ),
    # the order
    "OUT_OF_BID": NoticeText(
        "The job file leaves walls out of the base bid: they are measured, but neither laid out, "
        "ordered nor priced, but in alternates that add them.",
        "Nothing, if that is what was asked for; the proposal names them under what is not "
        "included.",
    ),
    "CORNER_OF_PRODUCTS": NoticeText(
        "Walls of two products meet at a corner: no panel goes round it. Each side is laid and "
        "counted with corner pieces of its own product, as high as that side is.",
        "Detail how the two meet, or lay both walls with one product.",
    ),
    "PLAN_TOO_BIG": NoticeText(
        "The job has more panels than it is to be laid out with; they are estimated by area.",
        "Check the drawing's unit; if it is right, raise --plan-most or split the job.",
    ),
    "PLAN_SEARCH_ENDED": NoticeText(
        "The search for the fewest panels of a small job ended at its limit; the plan may have "
        "a panel too many.",
        "Nothing, or raise --plan-search.",
    ),
    "RULE_YIELDS": NoticeText(
        "A rule of laying is forced to give way somewhere: the wall's own measures leave no "
        "layout that keeps it. The notice says why.",
        "Look at the place on the overlay; move the opening or the starter where the reason "
        "says so.",
    ),
    "RULE_AS_LAID": NoticeText(
        "A rule of laying does not hold between pieces that are laid already, as the site measures "
        "say; no plan can mend it.",
        "Look at the place and decide whether it may stay.",
    ),
    "RULE_BROKEN": NoticeText(
        "A rule of laying is broken somewhere, and nothing proves that no layout keeps it.",
        "Look at the place on the overlay and decide there; another starter height or cut "
        "worth may lay it better.",
    ),
    "PLAN_FAULT": NoticeText(
        "The plan's check found it faulty: an area laid twice or not at all, or a panel that "
        "can't give its pieces. Its counts are not to be trusted.",
        "Use --no-plan for this drawing, and report the fault with the drawing.",
    ),
    "BLEND_UNEVEN": NoticeText(
        "A wall has more or less of a color than its share, by more than a panel.",
        "Look at the wall's picture; where offcuts bring the color, --offcuts wall keeps them "
        "on their wall.",
    ),
    "ORDER_BY_AREA": NoticeText(
        "The order's panels are estimated by area and corner run, without a course plan.",
        "Nothing, if that is what you asked for with --no-plan.",
    ),
    "GOODS_GENERIC": NoticeText(
        "The product file leaves out package sizes, weights or factors; those of the "
        "generic panel stand in for them.",
        "Add the sections to the product file; docs/settings.md lists them.",
    ),
    "LAYER_PREFIX_FORM": NoticeText(
        "The overlay's layer names break the form of the layer standard, or take the surveyor's "
        "letter.",
        "Take a prefix such as A-ELEV-VENR; docs/overlay.md names the standard.",
    ),
    "FEW_STUDS": NoticeText(
        "Some pieces reach fewer studs than they have fasteners for framing.",
        "Plan backing or blocking there, as the maker's instructions say; the order lists "
        "the pieces.",
    ),
    "PRICE_MISSING": NoticeText(
        "An item of the order, or labor, has no price, so that the bid has no total.",
        "Add it to the price file, name the item without its product under order.by_others, or "
        "set labour.wage.",
    ),
    "PRICE_OF_PRODUCT": NoticeText(
        "Panels, stones or strips of another product have a price that names no product; it is "
        "taken for the job's own product and for no other.",
        "Give the price file a column product with the name of each panel line, or of its file.",
    ),
    "PRICE_EXPIRED": NoticeText(
        "Prices of items in the order no longer hold on the day of the bid.",
        "Ask the supplier anew, or set prices.as_of to the day that they were accepted.",
    ),
    "PRICES_LEFT_OUT": NoticeText(
        "Lines of a supplier's list are about nothing that the job names.",
        "Nothing, where they are other goods; else add their names under prices.names.",
    ),
    "ADDED": NoticeText(
        "The job file adds quantities to the order, or takes some off, by hand.",
        "Check the reasons; openings, strips, caps, trim of a wall by its area are yours to add.",
    ),
    "HAND_CHANGES_APART": NoticeText(
        "The workbook keeps changes by hand that no other output knows: the bid's letter, report, "
        "tables and JSON hold the computed values.",
        "Put what shall count everywhere into the job file, the drawing or the site measures, then "
        "run the takeoff again without --keep-changes.",
    ),
    "TRUCK_TOO_SMALL": NoticeText(
        "A pallet, or a package that comes on none, weighs more than the truck takes: the loads "
        "of that delivery are not counted.",
        "Check delivery.payload and its unit, the weight of a package and how many packages the "
        "product file has on a pallet.",
    ),
    "PRICE_UNUSED": NoticeText(
        "A line of the price file is about no item of the order.",
        "Write the item's key as docs/settings.md lists it, or take the line out.",
    ),
    "PRICES_UNDATED": NoticeText(
        "The price file does not say its date or currency.",
        "Add them, so that a reader knows what the prices are worth.",
    ),
    "WORK_UNRATED": NoticeText(
        "Work that the job brings with it has no rate: the price leaves it out.",
        "Give its hours in the section [labour], 0 where it is not yours to do or is in other "
        "hours.",
    ),
    # checks
    "CROSS_CHECK": NoticeText(
        "Two ways of computing one quantity disagree.",
        "Do not use the numbers; report the drawing to the makers of this tool.",
    ),
}


def meaning(code: str) -> str:
    """What a notice of a code means.

    Args:
        code: A notice's code, such as ``OPEN_OUTLINE``.

    Returns:
        One or two sentences.

    Raises:
        KeyError: There is no such code.
    """
    return ABOUT[code].meaning


def remedy(code: str) -> str:
    """What the user can do about a notice of a code.

    Args:
        code: A notice's code, such as ``OPEN_OUTLINE``.

    Returns:
        One or two sentences.

    Raises:
        KeyError: There is no such code.
    """
    return ABOUT[code].remedy
