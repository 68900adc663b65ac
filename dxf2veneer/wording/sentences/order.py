"""Sentences about order, prices, labor, bid, and what the numbers rest on."""

from collections.abc import Mapping
from typing import Any

from dxf2veneer.wording.measures import ITEM_UNITS
from dxf2veneer.wording.phrases import Sentence, Words


def _added(values: Mapping[str, Any], words: Words) -> str:
    """What is added by hand; areas and runs with their unit."""
    sign = "plus" if values["is_more"] else "less"
    unit = f" {ITEM_UNITS[values['unit']]}" if values["unit"] in ("sqft", "ft") else ""
    quantity = words.show(values["quantity"], "plain")
    return f"{sign} {quantity}{unit} by hand: {values['reason']}"


_COUNTS: dict[str, Sentence] = {
    "item": "{title}",
    "item-of-size": "{title} {width} x {height}",
    # panels and fasteners
    "flat-by-area": (
        "net area {net}, at {face} a panel; course plans of such walls buy {usual:.2f} "
        "times their net area ({low:.2f} to {high:.2f}), corner panels included"
    ),
    "flat-by-area-less": (
        "net area {net} less {covered} of corner pieces, at {face} a panel; course plans of such "
        "walls buy {usual:.2f} times their net area ({low:.2f} to {high:.2f}), corner panels "
        "included"
    ),
    "corner-by-run": (
        "corners and finished ends of {run} at {course} a course: "
        "{pieces:plain} pieces, two from a panel"
    ),
    "flat-by-plan": (
        "{panels} by the course plan, cut into {pieces} pieces of {length} together; "
        "no layout with so few corner panels can use fewer than {bound}"
    ),
    "corner-by-plan": (
        "{panels} by the course plan, cut into {pieces} pieces of {length} together; "
        "no layout can use fewer than {bound}; {left} left-hand and {right} right-hand pieces, "
        "one of each from a panel"
    ),
    "fasteners-by-plan": (
        "{long} pieces of {long_from} or longer with {long_each:plain} each, "
        "{short} shorter ones with {short_each:plain}; glued pieces take none"
    ),
    "fasteners-by-area": (
        "{flat:plain} flat panels with {flat_each:plain} each, "
        "{corner:plain} corner pieces with {corner_each:plain}"
    ),
    # strips and stones
    "runs-cut": (
        "{runs} runs of {length} together from pieces of {piece}: {whole} laid whole, "
        "{cut} cut from {opened}, offcuts used again; at least {bound} are needed"
    ),
    "starter-by-run": (
        "starter run of {length}, which ends at corners and doors, over {step} a piece"
    ),
    "starter-fasteners-by-layout": (
        "one at most every {spacing:fine} and one at each end of {runs} runs"
    ),
    "starter-fasteners-by-run": "starter run of {length}, one every {spacing:fine}",
    "caps-cut": "{cut}, joints of {joint:fine} in between",
    "caps-by-run": "cap run of {length} over {step:fine}, a stone and its joint",
    "cap-fasteners-by-layout": "{stones} stones as laid with {each:plain} each",
    "cap-fasteners-by-run": "{stones:plain} stones with {each:plain} each",
    "trim-cut": "{cut}{mitered:after }{halved:after; }",
    "none-counted": "none counted",
    "with-added": "{why}; {added:; }",
    "added": _added,
    "taken-off-too-much": (
        "{place}: {off:g} of {item} are taken off, but only {measured:g} are counted"
    ),
    "additions": (
        "by hand, in the job file: {reasons:; }{walls:after . By area alone, without openings, "
        "strips, caps, trim and their labor: }"
    ),
    "trim-parts": "{parts:; }",
    "trim-part": "{part}, {measured:plain}: {why}",
    "to-long-points": "to the miters' long points",
    "stones-halved": "stones of {height} ripped into two, so half as many ({halves} halves)",
    "trim-by-run": "{length} over {step:fine}, a stone and its joint{halved:, halved|}",
    "fixtures": "{number} fixture outlines of {width} x {height}",
    # behind and between
    "barrier": (
        "gross area {gross}, openings rolled over and cut out, x {level:.4f} x {upright:.4f} for "
        "laps of {lap_level:fine} and {lap_upright:fine}, and {lap_corner:fine} along {run} of "
        "corners"
    ),
    "in-layers": "{why}, in {layers:plain} layers",
    "barrier-roll-short": (
        "{place}: {key} = {holds:g}: a roll of so many square feet, {width:fine} wide, "
        "is shorter than its lap of {lap:fine}"
    ),
    "caulk": (
        "{openings} round openings, {edges} along plain edges, {caps} behind caps; "
        "joints under soffits and along rakes are not counted"
    ),
    "backing-by-plan": (
        "{pieces} glued pieces of the course plan, {blocks} fixture blocks, "
        "each {margin:fine} higher than it is"
    ),
    "backing-by-area": (
        "{strips} strips below sills, tops and caps off the course lines, and along rakes, "
        "{blocks} fixture blocks, each {margin:fine} higher than it is"
    ),
    "adhesive-by-plan": (
        "{pieces} glued pieces of the course plan, {blocks} fixture blocks: "
        "upright beads at most {spacing:fine} apart and at both ends"
    ),
    "adhesive-by-area": (
        "{strips} strips below sills, tops and caps off the course lines, and along rakes, "
        "{blocks} fixture blocks: upright beads at most {spacing:fine} apart and at both ends"
    ),
}

_SOURCES: dict[str, Sentence] = {
    "source-net-area": "net area",
    "source-gross-area": "gross area",
    "source-corner": "{kind} corner",
    "source-end": "{side} end",
    "source-butt-edge": "{side} edge, butt",
    "source-panels-laid": "panels first cut or laid whole here",
    "source-panels-cut": "panels first cut here",
    "source-fasteners": "fasteners of its pieces",
    "source-starter-run": "starter run",
    "source-cap-run": "cap run",
    "source-head": "head",
    "source-jambs": "jambs",
    "source-sill": "sill",
    "source-work": "work on this wall",
    "source-fixture": "fixture",
    "source-opening-joint": "joint round it",
    "source-backing": "backing area",
    "source-bead": "bead",
}

_MONEY: dict[str, Sentence] = {
    "labor-flat": "Lay flat pieces",
    "labor-corner": "Lay corner pieces",
    "labor-cut": "Cut across",
    "labor-partial": "Rip or glue",
    "labor-opening": "Work round openings",
    "labor-stone": "Set caps and trim stones",
    "labor-flat-by-plan": "flat pieces of the course plan",
    "labor-corner-by-plan": "corner pieces of the course plan",
    "labor-cuts-by-plan": "crosscuts of the course plan",
    "labor-partial-by-plan": "ripped or glued pieces of the course plan",
    "labor-flat-by-experience": "flat pieces, by area, that course plans of such walls have",
    "labor-corner-by-experience": "corner pieces, by area, that course plans of such walls have",
    "labor-cuts-by-experience": "crosscuts, by area, that course plans of such walls take",
    "labor-partial-by-experience": (
        "ripped or glued pieces, by area, that course plans of such walls have"
    ),
    "labor-all-openings": "openings of all kinds, fixtures included",
    "labor-stones": "{caps} cap stones and {trims} trim stones as laid",
    "as-written": "{text}",
    "alternate-without": "without {walls}",
    "alternate-with": "with {product}",
    "alternate-without-with": "without {walls}, with {product}",
    "alternate-adds": "with {walls:and}{what:after, }",
    "alternate-adds-none": (
        "{place}: alternate {alternate:quoted}: no wall {wall} is out of the base bid; out of it "
        "are: {walls}"
    ),
    "letter-out-of-bid": "stone on {walls:and}",
    "alternate-error": "alternate {alternate:quoted}: {error}",
    "alternate-no-wall": (
        "{place}: alternate {alternate:quoted}: there is no wall {wall}; there are: {walls}"
    ),
    "alternate-out-already": (
        "{place}: alternate {alternate:quoted}: wall {wall} is out of the base bid already; take "
        "it out of without"
    ),
    "alternate-leaves-none": "{place}: alternate {alternate:quoted} leaves no wall over",
    "alternate-changes-nothing": (
        "{place}: alternate {alternate:quoted} changes nothing; name walls under without, "
        "walls out of the base bid under adds, or a product file under product"
    ),
}

_PRICES: dict[str, Sentence] = {
    "prices-ending": (
        "{file}: a price file is TOML, CSV or XLSX; its name ends in .toml, .csv or .xlsx"
    ),
    "table-empty": "{file}: the table is empty; its first row names the columns item, unit, price",
    "table-column-missing": (
        "{file}, row {row}: there is no column {column}; "
        "the first row names the columns item, unit, price"
    ),
    "table-column-twice": (
        "{file}, row {row}: there are two columns {column}; rename one, or name the one that "
        "counts under prices.columns"
    ),
    "table-row-long": (
        "{file}, row {row}: has more cells than there are columns; "
        "write numbers with a decimal point"
    ),
    "table-not-csv": "{file}: not a table of cells ({reason})",
    "table-unpacks": (
        "{file}: the workbook unpacks to {megabytes:,.0f} MB, more than a price list has; save the "
        "sheet with the prices as a workbook or CSV of its own"
    ),
    "table-reaches-far": (
        "{file}, row {row}: cells are filled as far as column {column}; a price list has up to "
        "{rows:,} rows and {columns:,} columns; clear what stands beyond"
    ),
    "table-not-workbook": "{file}: can't be read as a workbook ({error})",
    "prices-differ": (
        "{place}: the {column} is {value}, but {above} above; a price file has one {column}"
    ),
    "price-of-no-item": "{place}: {name} is no item of the order; {hint}",
    "price-twice": ("{place}: {item} has a price already, at {first}; take one of them out"),
    "price-of-suppliers": (
        "{place}: {item} has prices of {suppliers:and}; name the supplier that goes first under "
        "prices.suppliers"
    ),
    "price-supplier-unknown": (
        "{file}: no price is of the supplier {name:quoted}, whom prices.suppliers names; "
        "suppliers: {known}"
    ),
    "price-name-of-no-item": (
        "{file}: prices.names gives {name:quoted}, which is no item of the order; {hint}"
    ),
    "price-of-others": (
        "{file} gives prices of {items} for {others} alone; the product is {product:quoted}"
    ),
    "price-expired-item": "{item} until {until}",
    "price-day-wrong": (
        "{place}: valid_until = {written:quoted}: wants a day; for example 2026-03-02"
    ),
    "price-expired": "{file}: the bid is of {day}, prices held for {items:and}",
    "price-of-product": (
        "{file} gives prices of {items} that name no product; are they those of {product:quoted}? "
        "Without a price of its own it has none"
    ),
    "prices-left-out": "{file}: {lines} lines are about no item of the order",
    "effect-additions": "what is added to the order or taken off by hand",
    "truck-too-small": (
        "a load of {payload:plain} {unit} is less than one pallet or package weighs: {items}; "
        "loads are not counted"
    ),
    "too-heavy-item": "{item} {weight:,.0f} {unit}",
    "effect-payload": "weight that a truck takes: how many loads a delivery is",
    "effect-truck-pallets": "pallets that a truck takes: how many loads a delivery is",
    "effect-wall-rows": "walls that no drawing shows, by name, width, height and what they have",
    "effect-treatments": (
        "walls of another product, with another clearance, without a barrier or out of the base "
        "bid, and phases of delivery"
    ),
    "effect-price-columns": "which columns of the price file are read",
    "effect-price-names": "which lines of the price file price which item",
    "effect-price-suppliers": "whose price is taken where several suppliers give one",
    "effect-price-day": "the day on which prices must hold; today where none is given",
    "price-item-missing": "{place}: the item is missing",
    "price-package-empty": ("{place}: package = 0: wants how much a package holds; for example 3"),
    "price-unit-missing": (
        "{place}: the price of {item} has no unit; write each, ft, sq ft or package"
    ),
    "price-number-wrong": (
        "{place}: {column} = {written:quoted}: wants a number from 0, written with a decimal "
        "point; for example 61.50"
    ),
    "price-unit-wrong": (
        "{place}: {item} is not sold by {written:quoted}; write {unit} (the price of one) "
        "or {package} (the price of a package)"
    ),
    "price-missing": "{file} and the job give no price for: {items}; the bid has no total",
    "prices-undated": "{file} gives no {columns:and}",
    "order-by-area": (
        "panels, fasteners and glued strips are estimated by area and run, "
        "as there is no course plan"
    ),
    "goods-generic": "{file} leaves out how these are packed or counted: {sections}",
    "few-studs": (
        "{pieces} pieces reach fewer than {studs:g} studs at {framing} on center, "
        "the first in {wall}, course {course}, piece {piece}"
    ),
}

_ASSUMED: dict[str, Sentence] = {
    "key": "{key}",
    "unit-of": "unit of {file}",
    "start-of": "start of {walls}",
    "effect-units": "the unit that the drawing is read in",
    "effect-scale": "multiplies every length of the drawing",
    "effect-gap": "ends of an outline this near are joined",
    "effect-include-hidden": "whether layers that are off or frozen are measured",
    "effect-nested-walls": "what a wall outline inside another wall counts as",
    "effect-edge-kind": "how side edges without a mark are finished",
    "effect-edge-tolerance": ("how near a mark must be to its edge, and an opening to the base"),
    "effect-tag-reach": "how near a corner's tag must be to its mark",
    "effect-bay-angle": (
        "degrees between the walls at bay corners; each miter is cut at half of it"
    ),
    "effect-bay-inside": (
        "bay corners that turn toward you, where a panel loses what lies between the two faces"
    ),
    "effect-deduction-rule": "a published rule of deducting openings, which sets what follows",
    "effect-threshold": "openings over this area come off the area",
    "effect-at-threshold": "whether an opening of exactly the threshold comes off",
    "effect-trim-head": "width of the band over heads that comes off the panels' area",
    "effect-trim-jambs": "width of the bands beside jambs that comes off the panels' area",
    "effect-trim-sill": "width of the band under sills that comes off the panels' area",
    "effect-clearance": "height of the starter line above the wall's base",
    "effect-clearance-most": (
        "greatest height of the starter line that the search for the best start may choose"
    ),
    "effect-start": "shift of all course lines, or best",
    "effect-sliver": "a strip lower than this is called a sliver",
    "effect-panels": ("whether panels are laid one by one; if not, they are estimated by area"),
    "effect-kerf": "width of a saw cut between two parts of a panel, strip or stone",
    "effect-cuts-per-panel": ("a run is cut into more pieces only where so many cuts save a panel"),
    "effect-aim": "what the plan is best at",
    "effect-offcuts": "where an offcut may be used again",
    "effect-offcut-wait": "for how many courses an offcut that is used near may wait",
    "effect-tolerance": "how far edges may be off on site, which pieces are given room for",
    "effect-look": "how far joints are moved for their look, and what that may cost",
    "item-of-product": "{item}, {product}",
    "assumption-of-product": "{name}, {product}",
    "addition-of-item": "{reason}: {quantity:plain} of {item} {is_more:more|less}",
    "addition-by-area": "{reason}: {area} by area alone{corners:after, corners }",
    "wall-row-as-written": (
        "{name}: {width:fine} x {height:fine}{peak:after, peak }{left:after, left }"
        "{right:after, right }{cap:after, }{openings:after, }"
    ),
    "given-opening-as-written": (
        "{kind} {width:fine} x {height:fine}{left:after at }, sill {sill:fine}"
    ),
    "treatment-as-written": "{walls}: {says}",
    "treatment-percent": "{key} {percent:plain} %",
    "treatment-says": "{key} {value}",
    "treatment-bid": "{is_in:in the base bid|out of the base bid}",
    "treatment-barrier": "{is_there:barrier|no barrier}",
    "item-of-color": "{item}, {color}",
    "color-by-area": "{share:plain} % of: {why}",
    "color-by-plan": "{panels:,} of {whole:,} {kind} panels are {color}",
    "effect-colors": "each wall's shares of colors, and how the order's panels are divided",
    "effect-blend": "shares of colors on these walls instead of the product's",
    "share-of-color": "{color} {share:plain} %",
    "share-of-color-on": "{wall}: {color} {share:plain} %",
    "effect-alike": "whether walls drawn alike get the same courses and joints",
    "effect-end-overhang": "how far corner pieces run past a finished end",
    "effect-outside-overhang": "how far corner pieces run past an outside corner",
    "thickness-unknown": "not known",
    "effect-thickness": (
        "a piece that butts against the back of a corner piece at an outside corner is shorter by "
        "it, less the overhang there; at a bay corner that turns toward you a panel loses by it"
    ),
    "effect-thickness-unknown": (
        "pieces that butt at outside corners end at the drawn edge; where the stone has a "
        "thickness to take off there, they are that much too long; what panels lose at bay "
        "corners that turn toward you isn't counted"
    ),
    "effect-inside-end": "where corner pieces end at inside corners",
    "effect-opening-joint": "how far pieces stop short of openings, trim and fixture blocks",
    "effect-end-joint": "how far pieces stop short of another material at a plain end",
    "effect-allowance": "whether items count piece by piece or by area and run",
    "effect-breakage": "per cent added to what was counted piece by piece",
    "effect-scrap": (
        "per cent added to what was counted by area or run; not given: panels by what course plans "
        "of each kind of wall took, and {common:g} per cent to all else"
    ),
    "wall-kind-plain": "plain walls",
    "wall-kind-corners": "walls with corners or finished ends",
    "wall-kind-openings": "walls with openings",
    "wall-kind-column": "columns",
    "wall-kind-bay": "bays",
    "panels-by-area": "panels by area, {kind}",
    "panels-by-area-value": "{usual:.2f} for each panel's worth of net area",
    "panels-by-area-effect": (
        "{walls} {walls:wall|walls}; what course plans of such walls took; eight of ten {low:.2f} "
        "to {high:.2f}"
    ),
    "effect-items": "items with an allowance or a method of counting of their own",
    "effect-by-others": "items that are neither priced nor weighed",
    "effect-framing": "distance of the studs that pieces are fastened to",
    "effect-backing": "what glued pieces are stuck to",
    "effect-trim-joint": "how trim stones meet; mitered jambs are longer",
    "effect-rip-trim": "whether a stone is ripped into two for narrow bands",
    "effect-wage": "cost of an hour",
    "effect-crew": "people at work, for the days",
    "effect-day": "hours of a day, for the days",
    "effect-flat": "hours for a flat piece",
    "effect-corner": "hours for a corner piece",
    "effect-cut": "hours for a crosscut",
    "effect-partial": "hours more for a ripped or glued piece",
    "effect-opening": "hours more at an opening",
    "effect-stone": "hours for a cap or trim stone",
    "start-chosen": (
        "starter {height} above the lowest base, chosen between {low} and {high}: "
        "{slivers} slivers, {strips} strips off the course lines"
    ),
    "rule-outlines": "wall outlines",
    "rule-outlines-value": "as drawn",
    "rule-outlines-effect": (
        "the outline is taken to be the edge of the veneer; clearance below it is no deduction"
    ),
    "rule-corners": "corner runs",
    "rule-corners-value": "each corner once",
    "rule-corners-effect": (
        "paired by tag or shared line; an unpaired one counts by itself and is reported"
    ),
    "rule-trim": "trim runs",
    "rule-trim-value": "along the opening",
    "rule-trim-effect": (
        "lengths along the opening's own boundary, without what corners of the band add"
    ),
    "rule-starter": "starter strip",
    "rule-starter-value": "level length",
    "rule-starter-effect": (
        "interrupted at openings that touch the base and under their jamb stones"
    ),
    "rule-quantities": "quantities",
    "rule-quantities-value": "net, no allowance",
    "rule-quantities-effect": ("nothing is added for breakage, cutting or rounding up to packages"),
}

_CAUTIONS: dict[str, Sentence] = {
    "caution-no-design": (
        "This is a takeoff from a drawing, not a design. Local codes, the panel maker's printed "
        "instructions and a licensed professional decide on flashing, water management, fastening "
        "and structural capacity."
    ),
    "caution-structure": (
        "Where the structure is in doubt, ask the owner, the builder or a registered design "
        "professional before starting."
    ),
    "caution-dust": (
        "Cutting stone makes respirable silica dust. 29 CFR 1926.1153, Table 1 names for "
        "stationary masonry saws water fed to the blade all the time, and no respirator; for "
        "handheld power saws the same water, and a respirator of APF 10 outdoors beyond 4 hours "
        "a shift, indoors always; for handheld grinders water outdoors, or anywhere a shroud with "
        "a dust collector, and with that indoors a respirator of APF 10 beyond 4 hours a shift."
    ),
    "caution-weight": (
        "Panels are heavy: the NIOSH lifting equation starts from 51 lb (23 kg) under ideal "
        "conditions."
    ),
    "caution-height": (
        "Work at height: fall protection at 6 ft (1.8 m) in construction (29 CFR 1926.501), on "
        "scaffolds above 10 ft (3.1 m; 29 CFR 1926.451)."
    ),
    "caution-clearance": (
        "Reference clearances below adhered veneer: 4 in (102 mm) above earth, 2 in (51 mm) above "
        "paving, 1/2 in (13 mm) above a walking surface on the same foundation (IRC R703.12.1, "
        "read in a secondary copy); check what applies to this job."
    ),
}

SENTENCES: dict[str, Sentence] = {
    **_COUNTS,
    **_SOURCES,
    **_MONEY,
    **_PRICES,
    **_ASSUMED,
    **_CAUTIONS,
}
