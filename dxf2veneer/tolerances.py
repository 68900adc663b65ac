"""Tolerances, limits and steps that no setting changes, each with unit and reason.

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
SPANS_TOUCH_IN = 1e-9
"""Spans of x nearer than this are joined: rounding of the overlays lies below it."""
TOUCH_IN = 0.01
"""Places nearer than this are one place: no draftsman means a hundredth of an inch."""
THIN_IN = 0.01
"""A region of no more area than this times its perimeter was made by drawing tolerance alone."""

SAME_VERTEX_IN = 1e-9
"""Vertices nearer than this are one; below it, lengths are rounding."""
ENDS_MEET_IN = 1e-6
"""Ends nearer than this meet; a wider gap is reported when it is closed."""
ON_OUTLINE_IN = 1e-3
"""How near its middle must lie to an outline for a line to be part of it."""
FARTHEST_IN = 1e10
"""Coordinates beyond this are no drawing's: at 1e10 numbers still tell 2e-6 in apart."""
FLAT_IN = 1e-3
"""Greatest difference in height over which a curve in space counts as lying level."""
TILT_RELATIVE = 1e-9
"""Share of its size by which a plane may lean out of the drawing's: rounding of its direction."""
SIMILAR_RELATIVE = 1e-10
"""Relative difference of scales up to which an arc stays an arc; its area errs by no more."""
CURVE_RISE_SHARE = 1e-6
"""How near three-point arcs follow a curve, as a share of its size: areas and lengths come out
within 1e-6 of the true ones (mostly 1e-8), as the tests show against closed forms."""
SLIM_ELLIPSE_SHARE = 1e-6
"""Mean half axis over the longest one, below which an ellipse is a line."""

BLOCKS_DEEPEST = 64
"""Nesting of blocks that is followed; nobody draws deeper."""
SKIM_BLOCKS_DEEPEST = 60
"""Nesting that the quick look at a file follows; deeper is left to the full reading."""
TAG_CHUNK_BYTES = 1 << 22
"""Bytes of a file that are parted into tags at once, so that memory stays small."""
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
"""Size of a file from which on copying the drawing whole takes so long that it is reported."""

SAMPLE_OUTLINES, SAMPLE_OTHERS = 8_000, 4_000
"""Entities of a large drawing that a survey looks at: possible outlines, all others (a second)."""
SURVEY_CURVES = 4_000
"""Curves of one layer that a survey measures, content of blocks included."""
EVIDENCE_ITEMS = 4_000
"""Dimensions, texts and outlines each that are looked at for evidence of the unit."""
EVIDENCE_DOORS = 200
"""Outlines of a door's size that are looked at for evidence of the unit."""
DIMENSION_RELATIVE = 0.01
"""Relative difference below which a dimension's text is its length: texts are rounded."""
WALL_HEIGHT_IN = (12.0, 500 * 12.0)
"""Heights that the highest wall of a drawing can have; wide on purpose."""
OPENING_HEIGHT_IN = 30 * 12.0
"""Greatest height of an opening; wide on purpose."""
USUAL_WALL_HEIGHT_IN = (78.0, 1200.0)
"""A wall's height that raises no doubt of the unit by itself."""
DOOR_WIDTH_IN, DOOR_HEIGHT_IN = (28.0, 96.0), (76.0, 108.0)
"""Sizes of a door, wide on purpose; the heights of two everyday units never overlap."""
DOOR_FOOT_IN = 12.0
"""A door stands at most this far above the foot of the outline that holds it."""
DOOR_HOLDER_IN = 60 * 12.0
"""The outline that holds a door is at most this high."""
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
"""A course line this near to a head, sill, top or cap meets it: a hundredth, with room for rounding."""
SAME_HEIGHT_IN = 1e-9
"""Heights no farther apart are the same height: what rounding leaves."""
INSIDE_BREAK_IN = SAME_HEIGHT_IN / 2
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

# ------------------------------------------------------------ the course plan

# ------------------------------------------------------------ verifying: numbers of its own

# ------------------------------------------------------------ order and files

# ------------------------------------------------------------ writers and words

# ------------------------------------------------------------ running

WORKER_GRACE_S = 1.0
"""How long a worker process may take to end before it is killed: it takes away its drafts."""
SAVE_QUIET_S = 0.15
"""How long no followed file may have changed before all are read: a save is many writes."""
SAVE_PATIENCE_S = 2.0
"""How long a followed file may be missing, locked or half written before that is reported."""
WATCH_LOOK_S = 0.5
"""How often a watch looks without being woken: some drives send no events."""
WATCH_STEP_S = 0.03
"""How often a watch looks while something is changing."""
SLOW_TAKEOFF_S = 2.0
"""A takeoff that took longer last time is announced when it begins."""
