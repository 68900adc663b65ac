"""Tolerances, limits and steps that no setting changes, each with its unit in its name and a
reason.

What a user may want otherwise is a setting (``config/``); what belongs to a panel line is a value
of the product file.
"""

from __future__ import annotations

# ------------------------------------------------------------ geometry and reading drawings

# ------------------------------------------------------------ recognizing and measuring

# ------------------------------------------------------------ course lines

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
BOUND_IN = 2e-6
"""Lengths of a plan may miss their limits by less than this; bounds give way by it."""
BOUND_ROUNDING = 1e-6
"""Rounding of sums that is forgiven where a bound is rounded up to whole panels."""

BEAM_STATES = 1500
"""Beam width times runs; big jobs keep fewer states, as they have more ways to use an offcut."""
BEAM_WIDEST, BEAM_NARROWEST = 16, 2
"""Most and fewest states that are kept, whatever the number of runs."""
BEAM_WIDENING = 4
"""So many times wider is the beam where a wall is laid again because a rule was broken on it."""
STATE_GRAIN_IN = 1.0
"""States whose joints and offcuts differ by less have one key, and the cheaper is kept."""
SMALL_JOB_RUNS = 200
"""A job no bigger is laid with both weightings of offcuts; bigger ones take too long."""
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
MITRE_LENGTH_COST = 0.3
"""Cost of each inch that the first side of a bay's mitre is longer than a third of a panel."""
CORNER_HALVES_WANTED, HEAPED_HALF_WORTH = 3, 0.6
"""So many corner halves of a hand are worth their length; those beyond, that share of it."""
MIDDLE_OFFCUT_WORTH = 0.4
"""Worth per inch of what is left in the middle of a panel: it serves short runs alone."""

SAW_TICK_IN = 2.0**-36
"""The grid of sums in packing. A power of two: sixteenths and the like stay exact."""
SAW_FIT_IN = 1e-9
"""Parts fit while they are longer than the panel by no more than this."""
PACKING_STEPS = 600_000
"""Steps of the searches for fewer panels, about a second in all."""
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

# ------------------------------------------------------------ writers and words

# ------------------------------------------------------------ running
