"""Tolerances, limits and steps that no setting changes, each with its unit in its name and a
reason.

What a user may want otherwise is a setting (``config/``); what belongs to a panel line is a value
of the product file.
"""

from __future__ import annotations

# ------------------------------------------------------------ geometry and reading drawings

FLATTEN_IN = 0.001
"""Greatest distance of a chord from its arc wherever arcs are flattened (an inch's thousandth)."""
COARSE_FLATTEN_IN = 0.01
"""The same where only inside or outside is asked, a little off the boundary."""
CHORDS_OF_AN_ARC = 20_000
"""Most chords of one arc; only a radius of miles would take more to stay within a tolerance."""
SMALL_BULGE = 0.01
"""Below it closed forms of arcs lose digits to cancellation; series (error < bulge**6) serve."""
STRAIGHT_IN = 1e-6
"""A vertex no farther from the line between its neighbors is no corner."""
LEVEL_SLOPE = 0.01
"""Rise over run under which a stretch is level, and run over rise under which it is upright."""
JAMB_LEAN = 0.25
"""Run over rise up to which an opening's side that leans is a jamb, as that of a tapered opening
is; a side that leans more is a rake at its head. Our own default."""
JAMB_SHARE = 0.5
"""Share of an opening's height from which a leaning side is a jamb: the chords into which an arch
was broken are shorter. Our own default."""
SPANS_TOUCH_IN = 1e-9
"""Spans of x nearer than this are joined: rounding of the overlays lies below it."""
TOUCH_IN = 0.01
"""Places nearer than this are one place: no draftsman means a hundredth of an inch."""
THIN_IN = 0.01
"""A region of no more area than this times its perimeter was made by drawing tolerance alone."""

SHARED_SQIN = 1e-6
"""Area that two openings share above which it is taken from one of them; below is rounding."""

SAME_VERTEX_IN = 1e-9
"""Vertices nearer than this are one; below it, lengths are rounding."""
ENDS_MEET_IN = 1e-6
"""Ends nearer than this meet; a wider gap is reported when it is closed."""
ON_OUTLINE_IN = 1e-3
"""How near its middle must lie to an outline for a line to be part of it."""
FARTHEST_IN = 1e10
"""Coordinates beyond this are no drawing's: at 1e10 numbers still tell 2e-6 in apart."""
FARTHEST_DRAWN = 1e12
"""Numbers of an entity beyond this, in the drawing's own units, are no drawing's: the Earth's
girth is 4e10 mm."""
LARGEST_BULGE = 1e6
"""A greater bulge is no arc that anybody draws: what is open of its circle is a millionth of it."""
FLAT_IN = 1e-3
"""Greatest difference in height over which a curve in space counts as lying level."""
TILT_RELATIVE = 1e-9
"""Share of its size by which a plane may lean out of the drawing's: rounding of its direction."""
SIMILAR_RELATIVE = 1e-10
"""Relative difference of scales up to which an arc stays an arc; its area errs by no more."""
CURVE_RISE_SHARE = 1e-6
"""How near three-point arcs follow a curve, as a share of its size: areas and lengths of whole
curves come out within 1e-6 of the true ones (mostly 1e-8), as the tests show against closed
forms."""
SLIM_ELLIPSE_SHARE = 1e-6
"""Mean half axis over the longest one, below which an ellipse is a line."""

PRICE_ROWS, PRICE_COLUMNS = 50_000, 500
"""Rows and columns of a price file's sheet: a supplier's whole list has some thousands and some
tens."""
PRICE_BYTES = 300_000_000
"""Bytes that a price workbook may unpack to."""
EARLIER_BYTES = 1_000_000_000
"""Bytes of the result of an earlier takeoff that is read."""

BLOCKS_DEEPEST = 64
"""Nesting of blocks that is followed; nobody draws deeper."""
SKIM_BLOCKS_DEEPEST = 60
"""Nesting that the quick look at a file follows; deeper is left to the full reading."""
TAG_CHUNK_BYTES = 1 << 22
"""Bytes of a file that are parted into tags at once, so that memory stays small."""
PLAIN_LETTERS = 40
"""Letters of the longest number or name that is read in a column: floats have up to 24."""
END_MARK_BYTES = 64
"""Bytes at the end of a file in which its end mark is looked for."""
SALVAGE_TRIES = 80
"""Readings after which the search for the entities that stop one is given up."""
SALVAGE_BYTES = 8_000_000
"""Bytes that all those readings together may take: a few seconds."""
LIBRARY_TEXT_LETTERS = 160
"""Most letters shown of a library's message, which may quote megabytes of the drawing."""
LABEL_LETTERS = 2_000
"""Letters, codes included, of the longest text that is looked at: more is no label."""
NOTICES_GATHERED_FROM = 20_000
"""Notices after which those of a kind are brought together, so that they never fill the memory."""
WHOLE_COPY_BYTES = 20_000_000
"""Size of a file from which on turning it into another form takes so long that it is reported."""
NEARBY_ENTITIES = 20_000
"""Texts, blocks, dimensions, leaders and hatches near the walls that the overlay's texts keep
clear of; those beyond that number are not looked at."""

SAMPLE_OUTLINES, SAMPLE_OTHERS = 8_000, 4_000
"""Entities of a large drawing that a survey looks at: possible outlines, all others (a second)."""
SURVEY_CURVES = 4_000
"""Curves of one layer that a survey measures, content of blocks included."""
WALL_HEIGHT_IN = (12.0, 500 * 12.0)
"""Heights that the highest wall of a drawing can have; wide on purpose."""
OPENING_HEIGHT_IN = 30 * 12.0
"""Greatest height of an opening; wide on purpose."""
GUESS_SHARE = 0.5
"""Share of a layer's outlines or marks that have to fit before the layer is called so; of walls,
which may have none, the share of their area."""
MARK_WIDTH_SHARE = 0.02
"""Greatest width of a corner mark, as a share of its height."""
MARK_REACH_SHARE = 0.01
"""Greatest distance of a corner mark from a wall's side, as a share of the wall's width."""

# ------------------------------------------------------------ recognizing and measuring

CORNER_HEIGHTS_IN = 0.5
"""Difference in height of a corner's two edges above which it is reported."""
THRESHOLD_RELATIVE = 1e-9
"""Relative difference below which an opening's area is exactly the deduction threshold."""
MITRE_LIMIT = 4.0
"""A mitre longer than so many widths of its band is cut off square."""
FREE_SHARE = 1e-9
"""Share of a stretch below which what is left free of it is rounding."""

# ------------------------------------------------------------ course lines

LINE_MEETS_IN = 0.01 + 1e-9
"""A course line this near to a head, sill, top or cap meets it: a hundredth,
with room for rounding.
"""
HEIGHT_ROUNDING_IN = 1e-9
"""Heights no farther apart are the same height: what rounding leaves."""
INSIDE_BREAK_IN = HEIGHT_ROUNDING_IN / 2
"""How far beside a break a start is tried: more than rounding, less than a difference."""
BESIDE_LINE_IN = 1e-5
"""How far above and below a line the veneer is looked at, so that rounding decides nothing."""
BARE_GROUND_SQIN = 72.0
"""Ground below the starter strip that is reported: from half a square foot on."""
START_STEP_IN = 1.0 / 16.0
"""Starts that read well are multiples of it; in a metric job of a millimeter."""
STARTS_SHOWN = 6
"""Rows of a table of starts: what a person compares at a glance."""
STARTS_PLANNED = 6
"""Starts of equal score that are laid out to compare their panels; each costs a whole plan."""
STARTS_AT_ONCE = 1000
"""Starts scored in one array, so that memory stays bounded."""
ADVICE_STARTS = 4000
"""Starts of a group of walls that advice tries; beyond that every so-manieth is tried."""
ADVICE_SUMS = 400
"""Ways of moving some openings, none of which beats another, that advice keeps at one start."""

# ------------------------------------------------------------ the course plan

EXACT_IN = 1e-6
"""Lengths nearer than this are one length."""
WHOLE_PANEL_IN = 1e-3
"""A piece shorter than its panel by no more than this is whole: no saw takes so little off."""
SAW_HAIR_IN = 1e-4
"""A rest no wider than this between two parts is rounding, and takes no second cut."""
SHALLOW_RIP_IN = 1.0 / 32.0
"""What is lower than its course by no more than this is laid as it is: no saw cuts so little
off."""
SAME_HEIGHT_IN = 0.01
"""Heights nearer than this are one: drawings are no truer."""
SHORT_SLOPE_IN = 0.05
"""A slope no longer than this is where flattened arcs or corners meet."""
HOLE_FITTING_SQIN = 144.0
"""An outline on a wall layer inside a hole is a fitting of what fills the hole, a knob or a letter
slot, where it is smaller than this; a larger one is a wall again [our own]."""
PIECE_CRUMB_SQIN = 1e-3
"""Ground of a piece smaller than this is rounding."""
THIN_RUN_IN = 0.01
"""Ground no thicker than this in the mean (twice its area over its perimeter) is no run."""
RUN_CRUMB_SQIN = 0.02
"""Ground no larger than this is no run either: nobody lays a piece so small."""
RUN_END_IN = 0.1
"""A side edge this near to a run's end rules it."""
NOTCH_IN = 1e-3
"""A joint nearer than this to an opening's side stands at it and leaves no leg beside it."""
LENGTH_GRID = 1e6
"""Candidate lengths are one where they agree in so many parts of an inch."""
COLUMN_IN = 1e-3
"""By how much a column's face may be wider than the product says: rounding."""
ALIKE_IN = 1e-4
"""Walls whose places differ by no more than this are drawn alike: copies, and rounding."""
BOUND_IN = 2e-6
"""Lengths of a plan may miss their limits by less than this; bounds give way by it."""
BOUND_ROUNDING = 1e-6
"""Rounding of sums that is forgiven where a bound is rounded up to whole panels."""

DUAL_GRID_STEPS = 576
"""Most steps of the grid that a panel has in the bound by linear programming."""
DUAL_KINDS = 12
"""Most kinds of runs for which that program is asked: of more than seven the formulas said as much
in every made job."""
DUAL_EFFORT, DUAL_ROUNDS = 300, 40
"""How often that program is solved at most with constraints added, times kinds of runs; at most in
all."""
DUAL_INWARD = 0.5
"""How far toward the best weights so far new constraints are looked for."""
DUAL_INWARD_STACKS = 0.3
"""The same where courses of a bay are looked at two by two."""
DUAL_PRICE = 3.0
"""The most that a parted corner of a bay costs in that program, in panels."""
DUAL_ROUNDING = 1e-6
"""What sums of weights may be over a whole number of panels by rounding."""

STAGGER_PROOF_NODES = 2000
"""How often the proof may branch that two courses leave a joint no place."""
BAY_PROOF_NODES = 2000
"""How often the proof may branch that says how many corners of a bay two courses leave parted."""

BEAM_STATES = 800
"""Beam width times runs; big jobs keep fewer states, as they have more ways to use an offcut."""
BEAM_WIDEST, BEAM_NARROWEST = 8, 2
"""Most and fewest states that are kept, whatever the number of runs."""
BEAM_WIDENING = 4
"""So many times wider is the beam where a wall is laid again because a rule was broken on it."""
STATE_GRAIN_IN = 1.0
"""States whose joints and offcuts differ by less have one key, and the cheaper is kept."""
TRIES = (
    (False, "narrow first", (0.98, 0.3, 20.0)),
    (False, "few runs first", (0.95, 0.0, 10.0)),
    (False, "numbered", (1.0, 0.6, 10.0)),
)
BAY_JOB_TRIES = (
    (False, "numbered", (0.98, 0.3, 20.0)),
    (False, "numbered", (1.0, 0.6, 10.0)),
    (True, "numbered", (0.95, 0.0, 10.0)),
)
"""What the layout is tried with, jobs with bays apart: whether offcuts stay on their wall; the
order of the walls; the worth of an inch of offcut, the cost of holding one in inches, and the cuts
that a panel is worth. The first of either is the best of the made houses when joints are moved
after it; the others are for what can't be moved."""
CUT_TRIES = (
    (False, "numbered", (0.98, 0.0, 3.0)),
    (False, "numbered", (0.98, 0.3, 1.0)),
)
"""What it is tried with besides where few crosscuts are asked for."""
FEW_RUNS = 60
"""Up to so many runs a job is tried in every way, as that takes little time; of more the joints are
moved again instead."""
EXACT_RUNS = 6
"""Runs of a job that an exact search takes on; of more it takes minutes."""
FACE_STARTS, FACE_STEPS, FACE_THRESHOLD = 4, 6000, 800
"""So often a job of column faces is laid anew from other lengths; how many lengths are tried each
time, and by how much one may be worse at first, where a panel costs 1000."""
FACE_ALIKE = 2
"""How many times as much worse it may be where faces are laid alike: one length then changes the
panels of all of them."""
CORNER_OFFCUTS_TRIED = 5
"""Offcuts of a kind tried in a run with a corner piece: its length is free, so that few will do."""
OFFCUTS_AT_HAND = 32
"""Offcuts of a kind that are kept at hand; a crew would not turn over a bigger heap."""
LIVELY_RUNS = 8.0
"""With this many runs to come an offcut is sure to be wanted."""

RULE_BROKEN_COST_IN = 2000.0
"""Cost of a rule that does not hold, as length of panel: far above what any saving is worth."""
CUT_REPEATED_COST_IN = 500.0
"""Cost of a corner cut that does not vary, as length of panel."""
STAGGER_MISSED_COST = 50.0
"""Cost of each inch by which the stagger is missed."""
CLOSE_JOINT_COST = 0.02
"""Cost of each inch that joints stand nearer to those below than half a panel: looks, among
equals."""
NARROW_LEG_COST_IN = 5.0
"""Cost of a leg beside an opening narrower than the least strip, as length of panel."""
BLOCKED_COST_IN = 300.0
"""Cost of joints that leave the run above no place for its own, as length of panel."""
TIGHT_COST_IN, EASY_SLACK_IN = 30.0, 6.0
"""Cost of leaving it hardly one, and the joint slack from which that costs nothing."""
BAY_EASY_IN, BAY_STEPS, BAY_TRIES = 3.0, 8.0, 8
"""What more than it needs makes a joint's place at a bay or a mitred piece's room easy; the steps
that are tried from either end of what a mitred piece may be, and the even ones between."""
CORNER_HALVES_WANTED, HEAPED_HALF_WORTH = 3, 0.6
"""So many corner halves of a hand are worth their length; those beyond, that share of it."""
MIDDLE_OFFCUT_WORTH = 0.4
"""Worth per inch of what is left in the middle of a panel: it serves short runs alone."""

SAW_TICK_IN = 2.0**-36
"""The grid of sums in packing. A power of two: sixteenths and the like stay exact."""
SAW_FIT_IN = 1e-9
"""Parts fit while they are longer than the panel by no more than this."""
PACKING_STEPS, PLAN_PACKING_STEPS = 600_000, 12_000
"""Steps of the searches for fewer panels, about a second in all; and for each plan tried."""
SMALL_JOB_RUNS = 100
"""Up to so many runs every weighting is tried with offcuts for the wall and for the job."""
HAND_BOUND_SIZES = 64
"""Sizes at which the bound by hands is looked at."""
PATTERN_STEPS = 1000
"""Steps of the search for the richest pattern; beyond them the best one seen is taken."""
PATTERN_LIST_STEPS = 4000
"""Steps of one listing of patterns in the branch and bound search."""
VALUE_POWERS = (1.2, 1.01, 1.05, 1.1, 1.5, 2.0)
"""By which long parts are worth more than their length, turn by turn."""
BRANCHES = 60
"""Patterns of one panel that the branch and bound search tries, the fullest first."""
NODE_STEPS = 30
"""What one branching costs, in steps, beside the search for the patterns."""

# ------------------------------------------------------------ verifying: numbers of its own

JUDGE_PLACE_IN = 0.01
"""Two places this near to each other are one: drawings are no truer than that."""
JUDGE_THIN_IN = 0.01
"""A gap, an overlap or a run no thicker than this in the mean (twice its area over its perimeter)
is none: course lines this near to a head meet it, and arcs are flattened to a tenth of it."""
JUDGE_CRUMB_SQIN = 0.02
"""Nobody lays a piece this small: the tip of a gable that just reaches into a course, say."""
JUDGE_LENGTH_IN = 1e-3
"""By how much a length may miss what a rule asks for: rounding, and flattened arcs at a run's
end."""
JUDGE_NARROW_IN = 0.05
"""A strip this narrow is where flattened arcs or corners meet; a slope this short is rounding."""
JUDGE_SHALLOW_IN = 1.0 / 32.0
"""What is lower than its course by no more than this is laid as it is: no saw cuts so little
off."""
JUDGE_ANGLE_DEG = 0.5
"""By how much a declared angle may miss the drawn one."""
JUDGE_SAWDUST_IN = 1e-4
"""A rest no wider than this is rounding."""
REASON_REACH_IN = 36.0
"""A reason holds for breaks this near to it along the course: the length of a usual panel."""

CHECK_ROUNDING = 1e-7
"""Relative difference that two ways of computing one quantity may have: rounding, nothing else."""
CHECK_LENGTH_IN = 1e-3
"""By how much the parts of a panel may be longer than the panel."""
CHECK_THIN_IN = 0.02
"""Ground of a course that is thinner than this takes no piece."""
CHECK_BESIDE_IN = 1.0
"""So far from an edge the field's height is looked at."""
CHECK_COURSE = 0.01
"""Share of a course that is forgiven where courses at an edge are counted."""
CHECK_JOIN_IN = 0.02
"""By how much each stretch of starter strip may be cut short or joined to the next."""
CHECK_JOIN_FT = 0.02
"""By how much each run of an order line's sources may be, in feet."""
CHECK_GRAZE_SQIN = 0.005
"""What an overlay can miss where two arcs graze each other within flattening distance."""
CHECK_CRUMB_SQIN = 1e-5
"""What the grid of the overlays can take off a ground."""
CHECK_AREA_SHARE = 1e-8
"""Openings this near to the job's threshold may be deducted or not: rounding decides."""
CHECK_QUOTIENT = 1e-5
"""Quotients are rounded to six places before they are rounded up."""

# ------------------------------------------------------------ order and files

QUOTIENT_PLACES = 6
"""Decimal places of a quotient before it is rounded up, and of a quantity that money multiplies: a
hair of floating point must not open another package, a thousandth of a piece may."""

ROUNDING_IN = 1e-6
"""Inches by which floating point may be off in lengths that are compared or divided."""

ROUNDING_SHARE = 1e-9
"""How much a quotient of two lengths may exceed a whole number by floating point alone."""

STRIP_JOIN_IN = 0.01
"""Inches between two stretches of starter strip at one height that count as one run: no one leaves
a gap that small."""

LEVEL_HEAD_SHARE = 1.001
"""A head this many times as long as its opening is wide is an arch or a slope, and jambs this many
times as long together as the opening is high are two: what is less is drawing noise."""

FIXTURE_SIZES_PER_INCH = 16
"""Fixture blocks of one size to a sixteenth of an inch are one line of the order."""

HIGHEST_PRICE = 10**9
"""Highest price, package size or weight that is read: anything above is a slip of the keys."""

CHANGE_LIVE_S = 5.0
"""Seconds after which a change of outputs that is ready, but not finished, counts as broken off:
putting files in place takes milliseconds."""

MAKING_S = 86_400.0
"""Seconds after which files still being made count as left behind: no run takes a day."""

# ------------------------------------------------------------ writers and words

SAME_PLACE_IN = 1e-6
"""Places of pieces nearer than this are drawn as one: far below what a drawing shows, far above
the error of its arithmetic."""

CUT_LENGTH_STEPS = 16
"""Steps to the inch in which a tape tells lengths to cut."""
SPECK_IN = 1 / 32
"""Lengths that differ less than this are one length to a tape, which shows 1/16 in."""

BOX_FILL = 0.99
"""A cut-out that fills this share of its box is cut as the box, as far as a saw goes."""

LEAST_CHANGE_SQFT = 0.005
"""Areas are shown with two decimals; what is less than half the last one is no change."""

LEAST_CHANGE_IN = 1 / 32
"""Runs are shown to 1/16 in; what is less than half of it is no change."""

NO_AREA_SQIN = 1e-6
"""An area that is as good as none: the error of sums of areas."""

NOTICE_REACH_IN = 24.0
"""How far outside a wall's box a notice's place may lie and still be shown with the wall."""

ARC_SAGITTA_IN = 0.005
"""How far chords may leave an arc where an old format knows no arcs: less than a line is wide."""

# ------------------------------------------------------------ running

SCHEDULER_WAIT_S = 20.0
"""How long a scheduler may take to answer, and its first worker to come."""
WORKER_GRACE_S = 1.0
"""How long a worker process may take to end before it is killed: it takes away its drafts."""
SAVE_QUIET_S = 0.1
"""How long no followed file may have changed before all are read: a save is many writes."""
SAVE_PATIENCE_S = 2.0
"""How long a followed file may be missing, locked or half written before that is reported."""
WATCH_LOOK_S = 0.5
"""How often a watch looks without being woken: some drives send no events."""
WATCH_STEP_S = 0.03
"""How often a watch looks while something is changing."""
SLOW_TAKEOFF_S = 2.0
"""A takeoff that took longer last time is announced when it begins."""

PROPOSAL_STANDS = 0.65
"""Confidence from which a proposed wall or opening is taken at its word in advice: below it people
are told to look with more care. Our own default."""
VIEW_STANDS = 0.8
"""Confidence from which a view is taken for an elevation where nothing of it was taken. Our own
default."""
HEAD_MISSING_LEAST_IN = 6.0
"""Least side of jambs and sill that count as an opening without a head. Our own default."""
HEAD_MISSING_SLANT = 0.02
"""How far jambs and sill may slant or differ in height, as a share of their length. Our own
default."""
SECOND_LOOK_SEGMENTS = 100_000
"""Straight pieces, curves cut into chords, up to which a takeoff looks at a drawing as a whole, not
just at the layers named: some seconds. Our own default."""
TANGLED_CROSSINGS = 40_000
"""Crossings of the lines of one view up to which it is looked for walls in it: what that takes
grows with them, to some ten seconds. Our own default."""
SECOND_LOOK_BYTES = 40_000_000
"""Size of a file from which on it is not even read whole for that. Our own default."""
CLAIMED_SHARE = 0.8
"""A proposed opening lies in a wall by this share of its area at least, and is claimed where the
openings taken cover more than the rest to one. Our own default."""
SAME_OUTLINE_SHARE = 0.9
"""A wall and a proposed opening are one outline where they share this much of both together. Our
own default; stricter than the 0.6 at which they only overlap."""
OPEN_OUTLINE_LARGER = 1.5
"""How much larger the box of lines that bound nothing is than that of all outlines of a wall layer,
where they are told as an outline that does not close. Our own default: a dimension beside a wall
does not reach so far, a wall round its windows does."""
CLADDING_TOLD_SQIN = 144.0
"""Least area of a cladding that is told beside others. Our own default: a square foot."""
OPENING_REACHES = 0.01
"""Share of an opening that lies in a wall from which it is an opening of that wall where the one
with most of it is left out; less is a slip of the hand. Our own default."""
VIEW_SURE = 0.95
"""Confidence from which a view is surely what it is taken for, so that walls taken from a plan, a
section or a detail are told, and an elevation in which no wall was found. Our own default: titles
give as much."""
ADVICE_SHARE = 0.05
"""Share of the proposed ground by which a takeoff from guessed layers may differ from the proposal
where a command for it is suggested. Our own default."""

BALANCE_TICK_IN = 1.0 / 64.0
"""Grid on which the panels that parts need are counted while joints are moved."""
BALANCE_STEP_IN = 1.0 / 8.0
"""Steps in which joints are moved then; exact lengths come afterwards."""
BALANCE_MOVES, BALANCE_ROUNDS = 1200, (4, 15)
"""How many runs are moved in all, and in how many rounds at least and at most."""
BALANCE_PUSHES = 3
"""Rounds from which to the next one runs that meet at a bay's mitres are moved together."""
BALANCE_RUNS, BALANCE_TIMES = 150, 3
"""Up to so many runs the plan of a job is balanced so many times at most, each time from the panels
of the last: that finds as few panels as the beam in other orders, in less time."""
BALANCE_TRIES, BALANCE_MANY_TRIES = 12, 100
"""Cheaper places of a run's joints that are looked at: with the stagger most have one. In a job of
up to ``BALANCE_RUNS`` runs more of them, as those of a bay's faces have few places."""

LOOK_LINE_IN = 1.0
"""Joints nearer than this, sideways, look in line (L25). Our own default, as those that follow."""
LOOK_LADDER = 3
"""From so many joints one above the other, at every second course, on they make a ladder."""
LOOK_STAIR = 5
"""From so many courses on joints that climb by one step make a stair."""
LOOK_COLUMN = 3
"""From so many short pieces one above the other on they make a column."""
LOOK_SHORT_PANELS = 1.0 / 3.0
"""A piece shorter than this share of a panel looks short."""
LOOK_EDGE_IN = 0.25
"""Beyond that distance a joint in line costs less and less up to this much further: exact lengths
come after the joints are moved. Our own default."""
LOOK_LADDER_COST = 1.0
"""What a joint in line costs more where it lengthens a ladder; one in line costs 1. Our own
default, as those that follow."""
LOOK_STAIR_COST = 1.0
"""What the fourth course of a stair costs."""
LOOK_CORNER_COST = 0.5
"""What a corner piece costs that is as long as that of the next course round the corner."""
LOOK_JAMB_COST = 0.5
"""What a joint in line with a jamb costs."""
LOOK_HALF_COST = 2.0
"""What a corner piece of half a corner panel's length costs: two of them share none (L4)."""
LOOK_PRICE = 5.0
"""What a panel above those that a plan has costs while joints are moved, in joints in line; twice
as much after each round in which it is needed."""
LOOK_PANEL_COST = 5.0
"""What a panel more costs in the look that is kept, in joints in line counted from both sides."""
LOOK_PAIR_COST = 20.0
"""What it costs that a mitred pair does not lie side by side in its panel (L13): more than the
patterns of a course that its move could do away with."""
LOOK_ROUNDS = 16
"""Rounds in which joints are moved for the look, at most."""
LOOK_REPEAT_COST = 4.0
"""What a course costs that repeats the one two below, beside its joints in line. Our own default,
as those that follow."""
LOOK_REPEAT_TRIES, LOOK_REPEAT_STEP_IN = 10, 2.0
"""How many places of each of two runs are tried so that a course repeats no other, and how far
apart they are at least."""
LOOK_SHARE = 0.01
"""Share of a plan's panels that its look may cost."""
MEND_RUNS, MEND_TRIES = 60, 8
"""Of how many runs it is told what fewer patterns would take, and how many places are tried."""
MEND_LEAST = 0.5
"""By how much patterns have to cost less there: as much as the least of them."""

# ------------------------------------------------------------------ few lengths to cut

LENGTHS_SHARES = (0.01, 0.02, 0.03)
"""Shares of a plan's panels that few different lengths may cost, in turn until one is enough."""
LENGTHS_PANEL_COST = 2.0
"""What a panel above those that there may be costs while joints are moved, in lengths."""
LENGTHS_ROUNDS = 24
"""Rounds in which joints are moved for few lengths, at most."""
LENGTHS_TRIES = 200
"""Cheaper places of a run's joints that are looked at then: with the stagger few are left."""

# ------------------------------------------------------------------ offcuts near their panel

CREW_SHARE = 0.015
"""Share of a plan's panels that it may cost to keep offcuts near the panel that they come from."""
CREW_OVERS_IN = (1.0, 0.7, 0.5, 0.4, 0.25, 0.1)
"""Inches that the parts of a panel may be too long together before joints are moved, by round."""
CREW_FAR_COSTS = (0.5, 0.2)
"""What it costs, in panels, that an offcut goes far, in turn until the plan takes few enough."""
CREW_OVER_COST = 0.02
"""What an inch costs, in panels, that the parts of a panel are too long."""
CREW_WAIT_COST = 0.001
"""What a course costs, in panels, for which an offcut waits."""
CREW_THREE_COST = 0.002
"""What it costs, in panels, that a panel is cut in three."""
CREW_TIE_COST = 1e-4
"""What panels that cost the same differ by, in panels, so that every solver picks the same."""
CREW_REFUSED_COST = 0.15
"""What it costs, in panels, each time that parts could not be made to fit into their panel."""

# ------------------------------------------------------------------ edges that are off on site

ROOM_SHARE = 0.02
"""Share of a plan's panels that room for edges that are off may cost (L27). Our own default, as
those that follow."""
ROOM_LONG_COST = 20.0
"""What an inch costs that a run can't be longer, in inches wasted."""
ROOM_CLEAR_COST = 30.0
"""What an inch costs by which a piece or a joint is too near to its limit."""
ROOM_EVEN_COST = 2.0
"""What an inch costs that a run has to take at its other end."""
ROOM_TIE_COST = 1e-3
"""By how much costs of an inch differ at most, so that every solver picks the same."""
ROOM_ROUNDS = 4
"""Rounds in which panels are parted, at most."""
ROOM_REACH = 8
"""From panel to panel, how far what is spare in one is reckoned to be passed on."""
ROOM_WORTH_IN = 5.0
"""Missing inches about a panel from which on it is parted."""
MITRE_REST_COST = 60.0
"""What an inch costs that lies between the two sides of a bay's mitre in their panel, in inches
wasted: they are to lie side by side (L13). Our own default."""

# ------------------------------------------------------------------ sizes measured on site

SITE_AS_DRAWN_IN = 1.0 / 32.0
"""A measured size nearer than this to the drawn one is the drawn one: nobody reads a tape finer,
and drawn sizes stand in the sheet to a sixteenth. Our own default, as those that follow."""
SITE_SHEET_IN = 0.125
"""A drawn size that differs by more than this from the one in the sheet belongs to another state of
the drawing."""
SITE_INSIDE_IN = 0.25
"""How far inside base and top a wall's width is taken that was measured there."""
SITE_JOINT_IN = 1.0 / 16.0
"""A joint that is stated within this of the planned one is where it was planned: planned joints
stand in the sheet to a sixteenth."""
KEEP_STEP_IN = 2.0
"""Step in which joints are tried elsewhere in runs where one changed piece is not enough."""
KEEP_RULE_COST = 1000.0
"""What a broken rule costs where a plan is kept: more than any pieces that it could save."""
KEEP_PIECE_COST = 100.0
"""What a changed piece costs there."""
KEEP_PANEL_COST = 10.0
"""What a part costs there that its panel has no room for."""
KEEP_CORNER_COST = 2.0
"""What a changed corner piece costs beside a changed flat one."""
KEEP_REACHES = (0, 1, 2)
"""How many courses about a broken rule are looked at, one after the other."""
KEEP_WAYS = 2000
"""How many ways are looked at together; about more places rules stay broken, and are told."""
KEEP_NODES = 50
"""How often the search for the fewest changed pieces may branch."""
KEEP_BAY_REACH = 1
"""The most courses of a bay below and above a broken rule that are laid with it in one program:
more take it long."""
KEEP_BAY_IN = 1e-5
"""What pieces at mitres are laid shorter, and joints farther apart, than they may be, so that the
rounding of a solver breaks no rule."""
CUT_SAME_IN = 1.0 / 32.0
"""A piece whose length differs by no more than this is not cut anew."""

# ------------------------------------------------------------------ colors spread out

BLEND_TOUCH_IN = 1.0
"""Pieces touch along at least so much of an edge, and with no wider joint between them (L22)."""
BLEND_WIDTH = 0.6
"""How far a color pushes its like away, as a share of the distance at which panels of its share
would stand if they were spread evenly. Our own default, as those that follow."""
BLEND_LEAST_SHARE = 0.05
"""Rarer colors push no farther than one of this share."""
BLEND_REACH = 2.0
"""Beyond so many such widths a push is let be: it is less than a seventh of that at hand."""
BLEND_TOUCH_COST = 4.0
"""What two touching pieces of one minor color cost, in pushes at no distance."""
BLEND_HALF_SHARE = 0.5
"""A color of less than this share is a minor one: one of more can't but touch its like."""
BLEND_OFF = 0.5
"""So many panels a wall may be off its share before that costs more: rounding does as much."""
BLEND_MOST_OFF = 1.0
"""A wall that is off a share by more panels is told to the reader: a panel is the least step."""
BLEND_OFF_COST = 30.0
"""What a panel more than that costs, squared, in pushes at no distance."""
BLEND_EVEN_COST = 0.5
"""What the first panel costs."""
BLEND_SWEEPS = 12
"""How often all panels are gone through to exchange their colors, at most."""
BLEND_TRIES = 6
"""How many exchanges of one panel's color with others near by are looked at in full."""
BLEND_LEAST_GAIN = 1e-6
"""An exchange that gains less is none: sums of other order differ by less."""

# ------------------------------------------------------------------- revisions

REVISION_MOVE_IN = 1 / 16
"""An edge that is off by no more did not move: drawings saved in whole millimeters are off by half
of one, and what is shown is shown to 1/16 in."""
REVISION_BIN_IN = 0.25
"""Shifts of two places that differ by no more may be one and the same."""
REVISION_SCALE_SHARE = 0.3
"""Where a shift lays this share of all places on each other, the drawing's scale is right."""
REVISION_OTHER_SCALE_SHARE = 0.6
"""Another scale is believed only where it lays this share on each other."""
REVISION_LEAST_LIKENESS = 2.0
"""Two walls that are less alike are two walls; what counts how much stands in
``revisions/walls.py``."""
REVISION_SURE_LIKENESS = 0.4
"""A wall is the other where nothing else is as much like it, by more than this."""
REVISION_OVERLAP = 0.2
"""Openings that have this share of their ground in common can be one that was resized."""
REVISION_OPENING_RIVAL = 1.25
"""An opening could as well be another that is no farther than so many times as far."""
REVISION_LAYER_SHARE = 0.5
"""A layer of another name is the one that was where this share of what lay on it lies alike."""
REVISION_LAYER_LEAD = 0.1
"""And where no other layer has so nearly as much of it."""
