"""Every rule of thumb of the proposal, with its unit and its reason.

Values marked [our own] were set by us and measured on drawings; others say where they come from.
"""

# ---------------------------------------------------------------- views: titles

TITLE_WORDS = 8
"""Most words of a view's title; longer texts are notes [our own]."""
TITLE_LETTERS = 60
"""Most characters of a view's title [our own]."""

# ---------------------------------------------------------------- views: sheet frames

FRAME_LEAST = 0.05
"""Shortest side of a sheet frame, as a share of the whole drawing's diagonal: up to some twenty
sheets in a row [our own]."""
FRAME_SLACK = 2e-4
"""How far corners of a frame may be apart, as a share of the whole drawing's diagonal [our own]."""
FRAME_CROSSED = 0.01
"""Share of the lines in a frame that may cross it: slips, no more [our own]."""
FRAME_RATIOS = (2**0.5, 1.5, 4 / 3, 11 / 8.5, 17 / 11, 22 / 17, 34 / 22)
"""Long to short side of paper: ISO 216; ARCH B and D 3:2, ARCH A, C, E 4:3; ANSI/ASME Y14.1 A to
D."""
FRAME_RATIO_SLACK = 0.05
"""Relative difference from those: frames stand in from the paper's edge, one side often more (ISO
5457: 20 mm left, 10 mm elsewhere)."""

# ---------------------------------------------------------------- views: grid bubbles, level marks

STRAIGHT = 0.002
"""Rise of a line that counts as level (run of one that counts as upright), as a share of its
length [our own]."""
BUBBLE_LETTERS = 3
"""Most characters of a grid line's name: AA, 10, B.1 (ISO 4157-3 numbers grids by letters and
numbers)."""
BUBBLE_TEXT = (0.6, 5.0)
"""Radius of a grid bubble as a multiple of its letters' height [our own; common practice 1 to 2,
no published source]."""
BUBBLES_ALIKE = 0.005
"""Radii of bubbles that differ by less than this share of the largest circle round a short text
are one size: they are copies of one symbol [our own]."""
LEVEL_MARK = 3.5
"""Greatest size of a level mark's symbol as a multiple of its letters' height [our own]."""
LEVEL_REACH = 2.0
"""Greatest distance of a level mark's symbol or line from its text, as a multiple of the letters'
height [our own]."""
LEVEL_TOUCH = 0.5
"""How far a level line may end from the symbol that it belongs to, as a multiple of the letters'
height [our own]."""
HATCH_STRIP_M = 0.2
"""Width up to which a strip of a hatch beside walls is none of them, in metres: what lies behind a
frieze, a casing [our own]."""
NOTE_REACH = 1.5
"""How far from its text a leader begins at most, as a multiple of the letters' height [our own]."""
STOOD_ON_LEAST = 0.15
"""Shortest upright that can stand on a level line that is part of the view, as a share of its
height: corners and doors do, boards of a railing don't [our own]."""

# ---------------------------------------------------------------- views: groups

GROUP_GAP = 0.005
"""Gap across which lines hang together, as a share of the diagonal of what is split [our own]."""
NESTED = 0.6
"""Share of a piece's box that lies in a larger one's box where it belongs to it [our own]."""
NEAR = 0.04
"""Gap of two pieces that are one view, as a share of the smaller one's shorter side [our own]."""
SATELLITE = 0.08
"""Area of a piece that can't stand alone (a lamp, a dimension), as a share of the piece it
belongs to [our own]."""
SATELLITE_REACH = 0.05
"""How far such a piece may stand away, as a share of the shorter side of the piece it belongs to
[our own]."""
STRING = 0.06
"""Height to length of a piece that is no more than a line with ticks [our own]."""
BRIDGE_LOW = 0.12
"""A line that ties two elevations lies at most this far above their foot, as a share of their
height [our own]."""
BRIDGE_LEAST = 0.25
"""Least room between two elevations on one ground line, as a share of their height [our own]."""
TITLE_REACH = 8.0
"""How far a title may stand from its view, as a multiple of its letters' height (at least 5 % of
the view's height) [our own]."""
VIEW_LETTERS = 3.2
"""Least height of a view that has a title, as a multiple of the title's letters: bubbles and
underlines are lower [our own]."""
SPECK = 0.02
"""Size of a scrap without text that is a slip of the pen, as a share of the largest view's longer
side [our own]."""
TITLE_ABOVE = 1.6
"""How much farther a title over a view counts than one under it: titles stand under their view
(ISO 128-30 allows either)."""
GROUND_LOW = 0.25
"""The ground line lies at most this far above the foot of a view, as a share of its height:
footings and slopes reach below it [our own]."""
GROUND_SPAN = 0.6
"""Least length of a ground line, as a share of the view's width [our own]."""

# ---------------------------------------------------------------- walls and openings: lines

JOIN_GAP_M = 0.008
"""Ends this near to each other meet, in metres: slips of the hand on screen, far less than a
frame's width [our own]."""
OVERSHOOT_M = 0.06
"""How far beyond a corner a line is looked for to say that it runs on, in metres: farther than
lines are overdrawn [our own]."""

# ---------------------------------------------------------------- openings

OPENING_LEAST_M = 0.2
"""Least width and height of an opening, in metres: a small vent [our own]."""
OPENING_WIDEST_M = 9.0
"""Greatest width of an opening, in metres: a double garage door is about 5, the glass of a shop
more [our own]."""
OPENING_HIGHEST_M = 5.15
"""Greatest height of an opening, in metres: a high storey, a truck's door of 16 ft with its frame
[our own]."""
LITES_WIDEST_M = 16.0
"""Greatest width and height of a frame that lites fill, in metres: a ribbon of windows, the glass
of a staircase [our own]."""
OPENING_FULLNESS = 0.75
"""Least share of its box that an opening fills: a circle fills 0.785, a triangle 0.5."""
RAILING_MOST_M = 1.25
"""Greatest height of a railing over the foot of a door behind it, in metres: 42 in guards and a
curb or a rail under them (common practice, no published source)."""
ROW_MULLIONS = 4
"""So many mullions from foot to head of a gap in a cladding are jambs of several windows [our
own]."""
CABINET_MOST_M = 0.9
"""Greatest width and height of a cabinet on a wall, in metres: a meter's, a hose's [our own]."""
FRAMES_DRAWN = 3
"""So many openings with frames tell that their hand draws frames [our own]."""
BARS_SHORT_M = 0.12
"""How far short of a jamb, a head or a foot a line may end that parts an opening from side to side,
in metres: the width of a sash's frame [our own]."""
PANE_LEAST_M = 0.45
"""Least width of the panes of a ribbon of windows, in metres; battens and boards are closer [our
own]."""
SECTION_M = (0.35, 0.8)
"""Least and greatest height of a section of an overhead door, in metres: 18 to 24 in (common
practice, no published source)."""
SLATS_LEAST = 5
"""Fewest slats of a louvre or a shutter that tell it from bars [our own]."""
SLAT_MOST_M = 0.13
"""Greatest step of slats, in metres [our own]."""
SLATS_SHARE = 0.6
"""Least share of a louvre's height that slats at that step fill [our own]."""
RAILING_LEAST_M = 0.8
"""Least height of a railing over the foot of a door behind it, in metres [our own]."""
RAILING_SHARE = 0.65
"""Share of an opening's height up to which a railing may run before it [our own]."""
LITES_SHARE = 0.6
"""Share of a large frame that its lites fill at least, with nothing but bars between them [our
own]."""
LITES_ALIKE = 0.8
"""Least ratio of the areas of lites of one size [our own]."""
STILE_MOST_M = 0.45
"""Greatest width of a leaf's stiles and rails round its glass, in metres: a bottom rail is the
widest, 10 to 16 in (common practice, no published source)."""
CASEMENTS_SHARE = 0.7
"""The same share of a frame of usual size: shutters and panels of leaves fill less [our own]."""
PANELS_LEAST = 4
"""Fewest panels of a door without a frame [our own]."""
SAME_JAMBS = 0.9
"""Least width of an outline in another, as a share of it, where both stand between the same
jambs [our own]."""
STRIP_MOST_M = 0.06
"""Greatest width of a strip beside a frame that is no frame: a reveal, a sill, the room to a
shutter, in metres [our own]."""
CHORD_TURN_DEG = 20.0
"""Greatest turn from one chord of a curve to the next, in degrees: we draw 64 to a circle, others
18 or more [our own]."""
CHORD_RATIO = 4.0
"""Greatest ratio of the lengths of two such chords [our own]."""

# ---------------------------------------------------------------- views: assembling, kinds

SCRAP = 0.01
"""Area of an untitled group that is no view, as a share of the largest one's [our own]."""
SCRAP_LARGE = 0.1
"""Area of an untitled group of few strokes that is no view, as a share of the largest one's [our
own]."""
SCRAP_STROKES = 24
"""Strokes of such a group: a legend's cells, a north arrow [our own]."""
ALONE_ENTITIES = 48
"""Entities from which on a group is a view beside a site however large, where it is large in its
own letters: a lot with its fence has fewer, a tree a dozen [our own]."""
ALONE_LETTERS = 12.0
"""Least height and width of such a group, as a multiple of the height of the letters beside it: 3.6
m at 1:100 in letters of 3 mm [our own]."""
ATTACH_REACH = 0.6
"""How far dimensions, bubbles and level marks may stand from their view, as a share of its
shorter side [our own]."""
BESIDE_LETTERS = 2.5
"""How far texts that belong together, or to lines beside them, stand apart, as a multiple of the
letters' height [our own]."""
BESIDE_SIZE = 0.06
"""How far a scrap may lie from the view that it belongs to, as a share of the view's shorter side
[our own]."""
TABLE_STRAIGHT = 0.97
"""Share of a table's lines that are level or upright, by length [our own]."""
SHEET_BESIDE_STRIP = 0.7
"""Least share of a sheet's width or height beside the strip with its title, which one line parts
from it; the columns of a table are more alike [our own]."""
STRIP_STROKES = 12
"""Lines from which on a group round its own title may be a building: a frame, two cells and an
underline have fewer [our own]."""
TABLE_TEXTS = 0.4
"""Texts for each row and column line of a table [our own]."""
TITLED = 4.0
"""What a title says for its kind, as log odds: one in fifty stands under the wrong view [our
own]."""
BLOCK_LARGEST = 0.35
"""Greatest area of a title block, as a share of its frame's [our own]."""
KIND_SURE = 25.0
"""Width over height (or the reverse) beyond which a group is no view of a building [our own]."""
DIMENSION_NEAR = 2.0
"""Greatest distance of a dimension's line from the middle of its number, as a multiple of the
letters' height [our own]."""
DIMENSION_PAST = 2.0
"""How far a dimension's line runs past its outer marks at most, as a multiple of the letters'
height [our own]."""
TITLE_LARGER = 1.2
"""Height of titles against most texts, where some titles are so much larger that the others are
notes [our own]."""
TITLE_TEXTS = 5
"""Fewest texts of a drawing among which most say something of a title's height [our own]."""
FRAME_LEAST_M = 0.01
"""Least width of a frame, in metres; less is a doubled line [our own]."""
FRAME_MOST_M = 0.22
"""Greatest width of a frame or casing, in metres: 8 in trim and a little [our own]."""
CASING_HEAD_M = 0.26
"""Greatest height of a head casing or of sill and apron, in metres: 10 in (common practice, no
published source)."""
CASING_EAR_M = 0.04
"""How far a head casing reaches past the side casings at most, in metres: ears are about 1 in,
lintels of masonry bear on 4 in or more (common practice, no published source)."""
PLAIN_LEAST_M = 0.35
"""Least width and height of an opening without a frame, in metres; stones and vents without frame
are smaller [our own]."""
STONE_HIGHEST_M = 0.65
"""Greatest height of a stone that is drawn for itself, in metres: natural stones that are laid by
hand are lower than 24 in (common practice, no published source), and a little."""
JOINT_MOST_M = 0.04
"""Greatest width of an open joint between drawn stones, in metres: mortar joints are 3/8 in to
1 1/2 in wide (common practice, no published source)."""
JOINT_SHARE = 0.6
"""Share of a stone's side that its neighbours accompany at least; the rest are the gaps between
them and where they end [our own]."""
JOINT_SIDES = 3
"""So many sides of a stone have neighbours a joint away at least; the fourth may end the wall
[our own]."""
STOPPED_LINES = 3
"""So many lines of a cladding end at each jamb of a gap in it: fewer may be chance [our own]."""
OPENING_SCORE = 0.5
"""Least score of an opening [our own]."""
OPENINGS_SHARE = 0.05
"""Two openings may share at most this part of the smaller: frames that touch [our own]."""
CUT_TALL = 0.35
"""Least height of a wall that is cut through, as a share of the view's height [our own]."""
CUT_WALL = (0.006, 0.08)
"""Thickness of a wall that is cut through, as a share of the view's width: 0.2 to 0.5 m of 6 to
30 m [our own]."""
CUT_SLABS = 12
"""Most lines of slabs between cut walls: two for each of six floors; more are siding [our own]."""
PLAIN_FULLNESS = 0.97
"""Least share of its box that an opening without a frame fills: it is a rectangle [our own]."""
LOUVRES = 3
"""So many lines inside make a small outline a vent [our own]."""
SLAT_CHORD = (0.5, 0.25)
"""Least length of a slat, as a share of its outline's width at its height: of a rectangle, and of a
round or a triangle, where the frame takes most of the width near the rim [our own]."""
FRAMED_SCORE = 0.8
"""Least score of an opening with a frame [our own]."""
FILLED_SHARE = 0.25
"""Share of an outline that framed panes inside it fill at least where it is their frame [our
own]."""
PIER_COURSES = 4
"""Fewest courses of a pier of stone: a window has fewer rows of panes out of line [our own]."""
UNEVEN_FOOT = 0.15
"""How far the ground before a door falls below the higher foot of its jambs at most, as a share of
the door's height [our own]."""
APRON_WIDE = 1.3
"""Greatest width of what hangs under a sill, as a share of its window's: boards down to the
ground, a panel [our own]."""
ATTACHED_M = 0.12
"""Shutters, steps, lintels lie at most this far from their opening, in metres [our own]."""
VENT_MOST_M = 0.65
"""Greatest width and height of a vent, in metres [our own]."""
GABLE_VENT_MOST_M = 1.3
"""Greatest width and height of a vent that is no rectangle, in metres: those in gables are some 18
to 48 in wide (common practice, no published source)."""
GABLE_GLASS_MOST_M = 5.0
"""Greatest width of a triangular window in a gable, in metres; what is wider is a gable [our
own]."""
GABLE_EVEN = 0.9
"""Least share that the inner outline of a triangular frame and what an even frame would leave have
in common: a bargeboard has no foot [our own]."""
BOARD_MOST_M = 0.35
"""Greatest height of a board or a course of stone, in metres [our own]."""
RUNS_ON_M = 0.6
"""A board over an opening runs on so far beyond its jambs, in metres: farther than an eaves does
[our own]."""
GROUND_STEEP = 0.35
"""Steepest ground line, rise over run [our own]."""
VIEW_STRIP = (12.0, 8.0)
"""Width over height from which on, and height in letters up to which, an untitled group is a part
of a building (a floor, a footing) [our own]."""
VIEW_HEIGHT_IN = (60.0, 4000.0)
"""Height of an elevation in inches, 5 ft to some 330 ft; what is lower or higher is something
else [our own]."""
RINGED = 0.95
"""Diameter of the circle round a detail or a symbol, as a share of the height of all that is drawn
in it, at least: leaders run out sideways [our own]."""
SYMBOL_MARKS = 8
"""Most strokes in a circle that make a symbol, a north arrow; a detail has more [our own]."""
LABELS_HIGH = 0.5
"""Height of the row of names in a schedule of windows, as a share of its height, at most [our
own]."""
LABELS_LEAST = 0.05
"""Shortest piece of a line between cells, as a share of the shorter side of their table [our
own]."""
TREES = 3
"""Circles in a view, each wider than a hundredth of it and with a mark in its middle, from which
on it is a site seen from above [our own]."""
FRAMING = 4
"""Pairs of uprights, farther apart than they are wide, from which on they are studs of a frame,
where no ground runs past [our own]."""
FRAMING_TALL = 0.4
"""Least height of a stud as a share of the view's: dimensions over a frame are lines of it too [our
own]."""
SAME_PLAN = 0.02
"""Relative difference of width and height up to which two views have one footprint: plans of two
floors [our own]."""

# ---------------------------------------------------------------- walls: cladding

CLADDING_LINE_M = 0.3
"""Shortest board line, in metres; shorter ones are joints and details [our own]."""
CLADDING_STEP_M = 0.5
"""Greatest step between lines of a cladding, in metres: wide boards, sheets with ribs [our own]."""
STEP_SLACK = 0.06
"""By how much lines at even steps may be off, as a share of a step [our own]."""
AMID_SHARE = 0.5
"""Least share of a line over and under which boards run where it lies amid these [our own]."""
STONE_MOST_M = 0.5
"""Greatest height of a course of stone, in metres [our own]."""
STONE_WIDEST_M = 1.2
"""Greatest width of a stone, in metres; what is wider between two course lines is none [our
own]."""
STONE_LEAST_M = 0.05
"""Least width or height of an irregular stone, in metres: smaller marks are the grain of render or
sand [our own]."""
RUBBLE_FORKS = 0.25
"""Least share of the ends of joints between irregular stones at which three of them meet [our
own]."""
STONE_JOINTS = 10
"""Fewest joints that make a cladding of stone [our own]."""

# ---------------------------------------------------------------- walls: structure

SLOPE_LEAST_M = 0.8
"""Shortest sloped line that may bound a wall, in metres; shorter ones are plants, cars, people
[our own]."""
CORNER_LEAST_M = 1.2
"""Least height of a corner, in metres [our own]."""
EAVES_LEAST_M = 0.8
"""Shortest ground or eaves line, in metres [our own]."""
REACHES_M = 0.25
"""How far short of a rake an eaves or a corner under it may stop, in metres: the width of a
bargeboard, behind which it goes on [our own]."""
SETTLED_M = 0.052
"""How far under or over the feet of a building its ground may be drawn, in metres: a pen's width,
or 2 in of grade [our own]."""
GROUND_SLOPE = 0.25
"""Steepest ground, rise over run [our own]."""
FENCE_MOST_M = 2.0
"""Greatest height of a fence, in metres; uprights that high at the end of a line stand on the
ground [our own]."""
LINK_LEAST_M = 1.5
"""Shortest piece of an uneven ground that shows that it goes on, in metres: longer than the landing
of a note's leader [our own]."""
TERRAIN_PIECES = 4
"""Fewest pieces of a line that is terrain whatever its first and last piece look like: a note's
leader and its landing are two [our own]."""
GROUND_BEYOND_M = 0.3
"""How far the ground runs on past a corner at least, in metres [our own]."""
EAVES_BEYOND_M = 0.03
"""How far an eaves runs on past a corner at least, in metres [our own]."""
BAND_MOST_M = 0.45
"""Greatest depth of a fascia, a bargeboard, a coping, in metres [our own]."""
BAND_PART_M = 0.1
"""Shortest part of a band that other lines have cut, in metres [our own]."""
BAND_LEAST_M = 0.8
"""Shortest band, in metres [our own]."""
BAND_BEFORE_M = 0.1
"""What lies under a band and reaches farther beyond its end is the wall behind it, in metres; what
reaches less far is another band [our own]."""
BAND_END_M = 0.1
"""An end of a band is free where the upright there is no longer than the band is deep and this,
in metres [our own]."""
WING_OVERHANG_M = 1.2
"""How far the roof over a corner may hang over, in metres [our own]."""
RISES_LEAST_M = 0.15
"""How far a party wall, a chimney, the taller part of a building rises over the roof beside it at
least, in metres: two courses of brick [our own]."""
RISES_SHARED_M = 1.2
"""Over how much of its height such an upright has a wall or a roof on both sides at least, in
metres [our own]."""
GLAZED_LEAST = 0.15
"""Share of a stretch that windows and doors take up where it is a wall and no roof: roof windows
take up less than a tenth [our own]."""
GLAZED_WHOLE = 0.95
"""Share of an opening that lies in the stretch whose it is [our own]."""
DORMER_WIDEST_M = 4.0
"""Width up to which what rests on a roof's edge may be a wall with few windows, in metres: the
front of a dormer [our own]."""
RESTS_LEAST = 0.5
"""Share of the foot of an upper wall under which a lower wall or a roof lies [our own]."""
BROKEN_MOST = 0.3
"""Greatest share of a view's lines, by length, in one broken line type that means something: hidden
edges and axes (ISO 128-2, line types 02 and 04) are few [our own]."""
POST_MOST_M = 0.35
"""Greatest width of a post, in metres: two uprights this near with the same foot and top are one
[our own]."""
POST_LEAST_M = 0.08
"""Least width of a post, in metres; nearer twins are a pipe beside a corner [our own]."""
POSTS_LEAST = 3
"""Fewest pairs of uprights of one width under one roof that are a row of posts; corners with boards
are two [our own]."""
BOARD_ALONG = 0.8
"""Share of the height that a corner and the inner side of its board have in common at least, of
what is lower of both [our own]."""
POST_SLACK_M = 0.1
"""How far feet and tops of a post's sides may differ, in metres: it may stand on sloping ground
[our own]."""
SILL_BEYOND_M = 0.3
"""How far a sill or a lintel reaches beyond its opening at most, in metres; what is longer is a
canopy [our own]."""
COVER_LEAST = 0.3
"""Least share of a wall that eaves or bands cover where it has no openings, or stands on a roof's
edge: what lies open to the sky there is a roof; pieces of a ridge's cap cover little [our own]."""
COVER_OPEN = 0.6
"""Share of a wall's head under eaves or bands below which a roof may be part of what seems to be a
wall [our own]."""
FASCIA_ACROSS = 0.97
"""Share of the width of what seems to be a wall that both lines of a fascia cover [our own]."""
MANSARD_LEAST_M = 1.2
"""Least height of the steep part of a mansard, in metres [our own]."""
MANSARD_LEAN = 0.6
"""How far the sides of a mansard lean in at most, as a share of its height: 59 degrees; a hip roof
is flatter [our own]."""
MANSARD_HEAD = 0.6
"""Least width of a mansard's head as a share of that of the wall under it: what comes nearer to a
point is a gable [our own]."""
ENCLOSED_SHARE = 0.95
"""Share of the edge of a stretch, the ground left out, along which one wall lies that it is part of
[our own]."""
WALL_LEAST_M2 = 0.8
"""Least area of a wall, in square metres [our own]."""
WALL_LEAST_M = 0.4
"""Least width and height of a wall, in metres [our own]."""
BAND_CLAD = 0.3
"""Greatest share of a band's edge that lines of a cladding or the ground make up [our own]."""

# ---------------------------------------------------------------- unit: what is weighed
#
# Weights are natural logarithms of likelihoods: 2.3 is ten to one, 4.6 a hundred to one. A size is
# given as (middle in millimetres, standard deviation of its natural logarithm).

USUAL_UNITS = {"mm": 0.34, "m": 0.18, "cm": 0.16, "in": 0.24, "ft": 0.08}
"""How often drawings of houses are in each unit [our own estimate]."""
HEADER_WEIGHT = 1.8
"""What a header says against other units: right in 52 of 84 files that had one (19 files of 6
projects: 16 % missing, 32 % wrong)."""
NOTE_WEIGHT = 2.5
"""What a note on dimensions says against other units [our own]."""
NOTATION_WEIGHT = 1.6
"""What feet and inches (or square metres) say against units of the other family [our own]."""
MEASURE_MOST = 7.0
"""The most that dimensions or level marks say against a unit: one sheet in a thousand has them
all wrong [our own]."""
STRANGE = 8.0
"""Log likelihood under which a size is usual in no unit: four standard deviations [our own]."""
SIZE_MOST = 4.0
"""The most that sizes of one kind say against a unit [our own]."""
DIMENSION_SLACK = 0.012
"""Relative difference of a dimension's text and length: rounding to a whole centimetre or inch
[our own]."""
DIMENSION_MIDDLE_MM, DIMENSION_SPREAD = 2500.0, 1.4
"""Usual length of a dimension on a building [our own]."""
LEVEL_SLACK = 0.03
"""How far level marks of one view may lie off one scale, as a share of their range [our own]."""
SWING_MM = (850.0, 0.16)
"""Leaf of a door: 0.7 to 1.0 m, 28 to 42 in (common practice, no published source)."""
DOOR_MM = (2150.0, 0.13)
"""Height of a door with its frame: 2.0 to 2.4 m, 6'-8" to 8'-0" (common practice, unpublished)."""
DOOR_ASPECT = (1.6, 3.2)
"""Height to width of a door [our own]."""
DOOR_FOOT = 0.08
"""A door stands at most this far above the ground, as a share of the view's height [our own]."""
WINDOW_MM = (1250.0, 0.4)
"""Height of a window: 0.6 to 2.2 m (common practice, no published source)."""
STOREY_MM = (7000.0, 0.55)
"""Height of an elevation with its roof: one to four storeys [our own]."""
COURSE_MM = (130.0, 0.6)
"""Height of a course or board: 50 to 300 mm (common practice, no published source)."""
LETTER_MM = (230.0, 0.75)
"""Letters in model space: 2.5 to 3.5 mm on paper at 1:50 to 1:100 (ISO 3098-1 gives 2.5, 3.5, 5
mm)."""
PLOTTED_MM = (2.8, 0.45)
"""Letters on paper: 2.5 and 3.5 mm (ISO 3098-1), 3/32 and 1/8 in (common practice)."""
SCALE_SLACK = 0.01
"""Relative difference of a viewport's scale from a usual one [our own]."""
VIEWPORT_WEIGHT = 3.0
"""What an unusual scale of viewports says against a unit [our own]."""
FRAME_WEIGHT = 1.5
"""What a frame that is no paper at the stated scale says against a unit [our own]."""
PAPER_INSET_MM = 45.0
"""How much smaller than the paper a frame is, both margins together (ISO 5457: 20 + 10 mm) [our
own, wider]."""
ROUND_LEAST = 12
"""Different lengths that have to be round one way only [our own]."""
ROUND_SHARE = 0.7
"""Share of the lengths that have to be round at all [our own]."""
ROUND_WEIGHT = 2.5
"""What round lengths say against the unit in which they are not [our own]."""

# ---------------------------------------------------------------- unit: when it is said

SURE = 0.93
"""Least chance of a unit that is named [our own]."""
SURE_WITH_HEADER = 0.8
"""Least chance of the header's own unit: that evidence is weak does not make it doubtful [our
own]."""
SURE_AGAINST_HEADER = 0.965
"""Least chance of a unit that is named against the header [our own]."""
CONFLICT = 3.0
"""Weight against the best unit, of something that measures, from which on nothing is said [our
own]."""
HARD = 2.5
"""Least weight, of what measures, that a unit needs which the header does not name [our own]."""

# ---------------------------------------------------------------- unit: what no building has

ABSURD_WALL_IN = (24.0, 300 * 12.0)
"""Height of the highest wall, inches: 2 ft to 300 ft [our own, wide on purpose]."""
ABSURD_DOOR_IN = (66.0, 14 * 12.0)
"""Height of a usual door, inches: 5'-6" to 14 ft [our own, wide on purpose].

Garage doors of trucks reach 14 ft.
"""
ABSURD_OPENING_IN = (10.0, 30 * 12.0)
"""Height of the highest opening, inches [our own, wide on purpose]."""
ABSURD_LETTER_IN = (0.3, 60.0)
"""Height of usual letters in model space, inches: 3 mm at 1:2.5 to 5 mm at 1:300 [our own, wide
on purpose]."""
ABSURD_AREA_SQFT = (4.0, 250_000.0)
"""Area of all walls together, square feet [our own, wide on purpose]."""
CLADDING_HEIGHT_M = 0.35
"""Least height of a wall of its own between changes of cladding, in metres [our own]."""
CLADDING_COVER = 0.8
"""Share of a wall's width, less openings, that a line covers where a cladding may change [our
own]."""
RHYTHM_LEAST_M = 0.08
"""Least step of a rhythm that lines beyond an opening may be in, in metres: most places are in
step with a finer one, by chance [our own]."""
CLADDING_LEAST = 0.4
"""The same share where shutters and steps beside openings hide the rest [our own]."""
SHUTTER_MOST_M = 0.9
"""Greatest width of what hides a line beside an opening, in metres: a shutter, a flight of steps
[our own]."""
SHUTTER_TALL = (0.7, 1.1)
"""Least and greatest height of a shutter, as a share of its window's [our own]."""
SHUTTER_NARROW = 0.8
"""A shutter is narrower than its window, at most this share of it [our own]."""
SHUTTER_OFF = 0.15
"""How far the foot of a shutter is off its window's, at most, as a share of its height [our
own]."""
CLADDING_ACROSS = 0.95
"""Share of the height of a wall that an upright covers where the cladding beside it may be another
[our own]."""
CLADDING_BEYOND_M = 0.6
"""An upright that runs farther than this beyond a wall's foot or top is no cladding of it, in
metres: an axis, a downpipe [our own]."""
CLADDING_AS_PURE = 0.05
"""Changes of cladding close over each other are as clear where the shares that the claddings make
up, multiplied, differ by less [our own]."""
CLADDING_STEP_RATIO = 1.25
"""Boards whose steps differ by more than this factor are two claddings [our own]."""
CLADDING_STEP_LEAST = 0.1
"""Least share of the lines of a cladding, by length, that have a step that may be its own [our
own]."""
CLADDING_ROUND = 1e-6
"""Sides of the strips beside lines of a cladding this near to each other are one, as a share of the
gap [our own, far below what is drawn]."""
CLADDING_BLANK_M = 0.8
"""A strip without cladding lower than this belongs to what lies beside it, in metres [our own]."""
TRIM_M = (0.06, 0.16)
"""Least and greatest height of trim between two claddings, in metres: caps, sills and bands of
2 1/2 to 6 in (common practice, no published source)."""
FRONT_OPEN = 0.6
"""Least share of a shop front or an entrance that is glass and doors [our own]."""
FRONT_AROUND = 0.8
"""Least share of its sides and head along which the wall around it lies [our own]."""
PIER_WIDTH_M = (0.3, 1.0)
"""Least and greatest width of a pier before a wall, in metres: a stone and a half to a meter
[our own]."""
PIER_CAP_M = (0.04, 0.3)
"""Least and greatest height of its cap, in metres [our own]."""
ENTRANCE_PIER_M = (0.25, 0.9)
"""Least and greatest width of a pier beside an entrance, in metres: wider than a casing, narrower
than a bay of the wall [our own]."""
ENTRANCE_OVER_M = 0.5
"""How far a pier beside an entrance rises over the door's head at most, in metres [our own]."""
CANOPY_OVER_M = 0.4
"""How far over the piers of an entrance the line of its canopy lies at most, in metres [our
own]."""
PIER_CAP_DRAWN = 0.9
"""Least share of a cap's width along which its lines are drawn [our own]."""
PIER_LEAST_M = 0.6
"""Least height of a pier under its cap, in metres: the base of a porch's post [our own]."""
PIER_SIDE = 0.85
"""Least share of its height along which a side of a pier is drawn [our own]."""
PIER_BEFORE = 0.9
"""Least share of a pier that lies before walls: others stand alone [our own]."""
PIER_SLENDER = 1.2
"""Least height of a pier, as a multiple of its width [our own]."""
SHADOW_SLOPE_DEG = 10.0
"""Least angle between the lines of a hatch that is a shadow and level or upright, in degrees: 45 is
the habit, boards are drawn level or upright [our own]."""
SHADOW_MOST_M = 0.8
"""Greatest height of the hatched strip that is the shadow of an eaves, in metres [our own]."""
SHADOW_WIDE = 4.0
"""Least width of such a strip, as a multiple of its height [our own]."""
SHADOW_FULL = 0.9
"""Least share of its box that such a strip fills: it is a band, whose ends may slope [our own]."""
HOUSE_LEAST_M = 3.0
"""Least width of a house of a row, in metres: room for a door and a window beside it [our own]."""
BRIDGED_LEAST_M = 0.3
"""Least height of what is drawn of a corner under a cap and over it, in metres: more than the joint
of a course [our own]."""
CAP_DRAWN = 0.25
"""Least share of a wall's width along which both lines of a cap that stands out are drawn; doors,
windows and what stands beside them hide the rest [our own, wide garage doors in mind]."""
TRIM_BOARD = (0.75, 0.25)
"""A strip as high as so much of a board, and within so much of a whole number of them, is made of
boards and no trim [our own]."""
TRIM_CROSSED = 2
"""Most uprights that cross a strip of trim and end at one of its lines: boards of a casing, not
battens [our own]."""
CLADDING_SHARE = 0.5
"""Least share of a stretch of wall over which the lines of its cladding spread; less is a patch
that shows what the cladding is like [our own]."""
CLADDING_PATCH = 0.02
"""Least share of a stretch of wall that a patch covers [our own]."""
BELT_MOST_M = 0.25
"""Greatest height of a band between two claddings, which is part of neither, in metres: a cap, a
belt course [our own]."""
WAINSCOT_M = (0.45, 1.8, 2.5)
"""Least and greatest height over the lowest ground of a line from edge to edge that parts a wall on
which no cladding is drawn, in metres: the top of a wainscot, no floor line; and the greatest of two
lines, its cap: no belt course, but where the ground falls [our own]."""
DORMER_WIDTH_M = (0.7, 4.0)
"""Least and greatest width of a dormer's front, in metres: round one window to round three [our
own]."""
DORMER_UP_M = 1.9
"""Least height of a dormer's foot over the ground, in metres: a storey is under it, and no base
[our own]."""
DORMER_SIDE_M = 0.4
"""Least height of the corners of a dormer's front, in metres [our own]."""
CHIMNEY_MOST_M = 1.6
"""Greatest width of a chimney, in metres [our own]."""
ROOF_RESTS = 0.9
"""Share of a roof's foot that rests on bands [our own]."""
ROOF_SLOPES = 0.8
"""Share of the height of a roof's sides that slopes, where it stands on an eaves alone: walls that
hang over have upright sides [our own]."""
THROUGH_BEYOND_M = 0.25
"""A line runs through an elevation where it reaches so far beyond its outermost uprights, in
metres [our own]."""
GROUND_DOUBLE_M = 0.15
"""Greatest distance between the two lines of a ground drawn double, in metres [our own]."""
ROOF_SPANS = 0.8
"""Share of a band's length that the roof on it spans at least; battens over a canopy span less
[our own]."""
AREA_DRAWN = 0.3
"""Greatest share of a hatch's upright sides with lines along them where it stands in for a wall
[our own]."""
AREA_BESIDE_M = 0.3
"""How far a hatch that goes on behind an upright reaches beyond it on both sides at least, in
metres: farther than past a line that the hand missed by a little [our own]."""
AREA_BEHIND = 0.8
"""Least share of an upright's height along which such a hatch lies at both its sides; windows
interrupt it [our own]."""
MOULDING_PAST_M = 0.12
"""How far a string course or a cornice stands out past a corner at most where it returns, in
metres [our own]."""
SLAB_END_M = 0.35
"""A joint of slabs lies farther than this from the end of a line that it crosses, in metres;
nearer ones are corner boards and pipes [our own]."""
SLAB_LEAST_M = 0.5
"""Joints of slabs lie at least this far apart, in metres; closer ones are a pipe's or a post's
sides [our own]."""
CORNER_BOARD_SLOPE = 1.25
"""Steepest rake, rise over run, under which both sides of a corner board may end [our own]."""
BAND_BASE = 0.02
"""Greatest share of a band's edge that is ground: a strip on the ground is none [our own]."""
LONG_LINE_M = 2.6
"""Lines longer than this are left out once, so that a line through a frame does not hide it, in
metres [our own]."""
DOOR_LEAST_M = 1.85
"""Least height of a door, in metres; windows that high are rarer than doors [our own]."""
DOOR_UP_M = 0.75
"""How high above the foot of the wall a door stands at most where no balcony or landing is drawn,
in metres: four risers of 7 1/4 in; windows as high as doors begin higher [our own]."""
LANDING_DOWN_M = 0.3
"""How far below the foot of a door its balcony or landing lies at most, in metres: a riser and the
threshold [our own]."""
LANDING_BEYOND_M = (0.35, 3.5)
"""How far a balcony or a landing reaches beyond both jambs of its door, in metres: farther than a
sill, less far than a board or a band course mostly does [our own]."""
COURSES_UNDER = 4
"""So many level lines as long as one and right under it make it a course or a board, no landing:
the slab of a balcony has one, a flight as wide as its landing three [our own]."""
PARTS_SHARE = 0.75
"""Share of an opening's height or width over which a mullion or the joint of two sections runs at
least [our own]."""
SECTIONS = 2
"""Fewest joints across an opening that make it a door of sections [our own]."""
GARAGE_STEP_M = 0.155
"""Highest step over which a car drives into a garage, in metres: 6 in, with an apron before it [our
own]."""
GARAGE_LEAST_M = 2.3
"""Least width of a garage door, in metres; double doors are narrower [our own]."""
DOOR_REACH_M = 0.16
"""A door that ends this little above the wall's foot stands on a threshold, in metres [our own]."""
OPENING_WHOLE = 0.9
"""Share that a wall and an opening have in common from which they are one outline, so that one of
the two is none [our own]."""
OPENING_IN_WALL = 0.5
"""Least share of an opening that lies in its wall [our own]."""
SPEAKING_LAYER = 0.8
"""Share of the openings on one layer that makes it speak of walls and openings [our own]."""

# ---------------------------------------------------------------- walls: porches

POST_HEIGHT_M = (1.6, 4.5)
"""Height of a porch's posts, in metres: a person walks under its beam, and it has one storey [our
own]."""
BEAM_DEPTH_M = (0.1, 0.5)
"""Depth of the beam on a porch's posts, in metres [our own]."""
PORCH_ALONG = 0.9
"""Share of a row of posts along which both edges of its beam are drawn [our own]."""
BAY_WIDTH_M = (0.2, 5.0)
"""Width of the open air between a porch's post and the house, in metres: more than a board that
stands on the corner beside the post [our own]."""
DECK_MOST_M = 1.5
"""Greatest height of a porch's deck over the ground, in metres [our own]."""
RIDGE_LEAST_M = 2.0
"""Least length of a ridge, in metres: a chimney's top is shorter [our own]."""
RIDGE_WITHIN = 0.95
"""Share of a face between a ridge and the feet of its sides that makes it a part of the roof: a
wall beside it reaches out [our own]."""
FLIGHT_DOOR_M = 1.8
"""Least height of what a flight of steps leads to, in metres: a person passes [our own]."""
FLIGHT_BEYOND_M = 1.0
"""How far the uppermost tread of a flight reaches past its door on each side at most, in metres
[our own]."""
TREAD_MOST_M = 0.45
"""How much wider each step is than the one over it on each side at most, in metres: the depth of a
tread [our own]."""
FLIGHT_HIGHEST_M = 1.5
"""Greatest height of a flight of steps before a wall, in metres [our own]."""
BESIDE_FLIGHT_M = 0.15
"""Least width and height of a piece of wall that is seen beside a flight of steps, in metres: a
stone's length [our own]."""
FLIGHT_LEAST_M = 0.08
"""Least height of a step, in metres; what is lower is a threshold [our own]."""
BLOCK_BEYOND_M = 0.12
"""How far the base or the cap of a post stands out on each side at most, in metres [our own]."""
BLOCK_HEIGHT_M = 0.5
"""Greatest height of the base or the cap of a post, in metres [our own]."""
RAIL_HEIGHT_M = (0.6, 1.3)
"""Height of a rail over the deck, in metres: common practice 0.9 to 1.1, no published source."""
PORCH_SLIVER_M = 0.1
"""Width up to which what a porch leaves of a wall is none, in metres: the end of a beam beside the
base of a post [our own]."""
PORCH_THIRD = 1.0
"""What more than two posts, one half the other in a mirror, speak for a porch: boards stand on the
two corners of a wall, timbers of a framed one anywhere [our own]."""
PORCH_BLOCKS = 1.0
"""What bases or caps of posts speak for a porch: boards on corners have none [our own]."""
PORCH_RAILS = 1.0
"""What a rail from post to post speaks for a porch [our own]."""
PORCH_BAY = 1.0
"""What a bare bay from a post to the corner of the house speaks for a porch seen from its side: a
board stands on a corner for the boards that end on it [our own]."""
PORCH_CONTRAST = 0.5
"""What a bare bay beside a clad wall speaks for a porch that is open [our own]."""
PORCH_DECK = 0.5
"""What feet over the ground speak for a porch: a foundation raises boards on corners too [our
own]."""
PORCH_LEAST = 1.5
"""Least that speaks for a porch: one sure sign and another [our own]."""

# ---------------------------------------------------------------- corners

CORNER_HEIGHTS_M = 0.02
"""Two sides are one corner where their heights differ by less, in metres [our own]."""
BAND_CARRIED = 0.3
"""Share of a band's width under which other faces lie: it crowns a wall, or a porch [our own]."""
FOOTING_M = 2.5
"""How far below the ground footings are drawn, in metres [our own]."""
PLAIN_SCORE = 0.6
"""Score of an outline without frame that stands free [our own]."""
ARCHED_SCORE = 0.75
"""Score of a curved head on two jambs without a frame [our own]."""
ARCH_STONES = 3
"""Fewest sloped joints between two curved heads, one in the other, that make stones of what is
between them [our own]."""
BRACED_SCORE = 0.84
"""Score of a leaf with a brace from corner to corner both ways [our own]."""
MATERIAL_SHARE = 0.9
"""Share of both together at which an outline without frame is the border of a hatch [our own]."""
GAP_SCORE = 0.7
"""Score of a gap in a cladding [our own]."""
OPENING_OUT = 0.1
"""Share of an opening outside all walls that makes it a notch in one's foot [our own]."""
PLAIN_HIGHEST_M = 2.6
"""Greatest height of an opening without a frame, in metres; what is higher is a roof or a stretch
of wall [our own]."""
FREE_HIGHEST_M = 3.3
"""The same where no line runs on from any of its corners, in metres: the plain frame of a shop
window [our own]."""
PLAIN_RATIO = 3.0
"""Greatest width over height of an opening without a frame; what is flatter is a roof's edge [our
own]."""
FILLED_BETWEEN = 0.45
"""The same share where other lines run against the outline [our own]."""
OPEN_WALL_M2 = 8.0
"""Least area of a wall that stands on the ground with neither openings nor a roof's edge, in
square metres [our own]."""

# ---------------------------------------------------------------- outlines on layers that speak

OUTLINED_MOST = 20_000
"""Most closed outlines that are compared with each other [our own]."""
OUTLINED_WALL_M = (0.3, 1.5, 80.0)
"""Least side, least longer side and greatest side of a wall's outline in meters: from a pier to a
long front [our own]."""
OUTLINED_OPENING_M = (0.1, 0.15, 8.0)
"""The same of an opening's outline: from a vent to a pair of garage doors [our own]."""
OUTLINED_SHARE = 0.7
"""Greatest share of a wall that one opening takes: a pane in a frame takes more [our own]."""
OUTLINED_TELLING = 0.5
"""Share, by area, of a layer's outlines that hold openings, or lie in walls, where the layer is
for them [our own]."""
OUTLINED_PURE = 0.8
"""Share of a layer's entities that are such outlines [our own]."""
OUTLINED_BARE = 0.5
"""Share, by length, of the lines in a wall's box that are such outlines; a plan or an elevation
with cladding has many others [our own]."""
OUTLINED_OVERLAP = 0.1
"""Share of a wall made of lines that may lie on outlined walls; more and it is one of them [our
own]."""
OUTLINED_NO_PLAN = 0.97
"""How sure a plan is, by trees, a lot, swings of doors, that outlines in it are none of walls [our
own]."""
OUTLINED_SCORE = 0.85
"""How sure a wall or an opening is that is drawn as an outline on a layer for them [our own]."""
BEHIND_HIDDEN_M = 2.5
"""How far a roof before a wall hides the cladding behind it at most, in metres [our own]."""
BEHIND_LEAST = 2
"""Fewest uprights of a cladding in line over and under a roof that make these one wall [our
own]."""
BEHIND_SHARE = 0.6
"""Least share of the lines of a cladding that go on behind what stands before it [our own]."""
BEHIND_REACH_M = 1.5
"""How far beside a post battens are looked at, in metres: five of the widest step [our own]."""
BEHIND_ROWS = 4
"""Fewest rows on either side of a post that tell that they go on behind it [our own]."""
STEP_M = (0.15, 2.5)
"""Least and greatest height of a step in the ground, in metres: a curb to a storey [our own]."""

# ------------------------------------------------------- traced drawings

TRACED_CORNERS = 3
"""Segments that a polyline has at least where it tells whether a drawing was traced."""
TRACED_TURN_DEG = 12.0
"""A corner of fewer degrees is a waver of the line, not one of the building: slopes of roofs that
flatter meet nothing at such an angle."""
TRACED_LEAST_DEG = 1e-3
"""A corner of fewer degrees is rounding."""
TRACED_LEAST = 12
"""Wavering polylines that a traced drawing has at least; fewer are trees and terrain."""
TRACED_SHARE = 0.5
"""Share of a traced drawing's polylines that waver."""
TRACED_LEVEL = 0.4
"""Share of the length of wavering strokes that is level or upright in a traced drawing, once they
are straight; terrain has next to none."""
TRACED_TRUE = 1e-9
"""What is across over what is along where a straightened line is level or upright: rounding."""
TRACED_ASKED = 200
"""Wavering strokes that are asked whether they are level or upright, of however many."""
TRACED_WAVER = 2.1
"""How far a line wavers at most, as a multiple of how far half of its points stand off the line
between their neighbors: that of points that stand off evenly, by chance."""
TRACED_OFF = 3.0
"""How far a point of a straight line may stand off the line between two others, as a multiple of
the waver: twice as far where all three are off, and some more."""
TRACED_REACH = 4.0
"""How far an end is looked for a line that it meets, as a multiple of the waver."""
TRACED_CROSSING = 0.5
"""Sine of the least angle between two lines that are drawn to meet."""
