"""The values that pass between the stages. All frozen; lengths in inches, areas in square inches.

Glossary
--------
elevation     the drawing of one side of a building, seen square on
wall          the closed boundary of one area to be veneered, in an elevation
opening       window, door, vent or other hole in a wall: head on top, jambs at the sides, sill below
fixture       a light, receptacle, hose bib or meter that pierces the veneer
edge          a vertical side of a wall: ``outside`` or ``inside`` corner, ``end`` (finished with
              corner pieces), ``butt`` (plain against something else), ``mitre`` (at a bay)
corner        where two walls meet; seen from outside the right edge of one and the left edge of the
              next, counted once
base, rake    the bottom boundary of a wall; a sloped top boundary
cap           the ledge stone on top of veneer that stops part-way up the wall
trim          the stone band round an opening
starter       the strip that carries the first course; interrupted at doors
course        one horizontal row of panels, between two course lines
run           a stretch of one course that nothing interrupts
piece         a panel or part of one, as placed in a course
unit          a panel as it is bought: flat, or a corner panel, which is cut into a left-hand and a
              right-hand piece
strip         what is left of a course's height above or below a head, sill, top or cap; a sliver
              where it is lower than the job's limit

        rake                       cap
       .-''-.                  ___________
    .-'      '-.              |  ___      |
    |  head     |             | |   | jamb|  side edge
    |  [  ] jamb|             | |___|     |
    |  sill     |             |  sill     |
    '-----------'             '-----------'
        base                  starter line

The stages add to the values before them:
    Drawing -> Wall (recognised) -> WallQuantities (measured) -> WallCourses (coursed) -> CoursePlan
    (laid out panel by panel) -> Order (what is bought, and the bid) -> Takeoff
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, NamedTuple

from dxf2veneer.geometry import Path, Point, Region
from dxf2veneer.goods import ItemUnit
from dxf2veneer.job import Job, Window
from dxf2veneer.notices import Notice
from dxf2veneer.product import Product

OpeningKind = Literal["window", "door", "vent", "fixture"]
Side = Literal["left", "right"]
EdgeKind = Literal["outside", "inside", "end", "butt", "mitre"]
CornerKind = Literal["outside", "inside", "mitre"]
ConflictWhat = Literal["head", "sill", "top", "cap"]
PieceUnit = Literal["flat", "corner"]
PieceEnd = Literal["factory", "cut", "finished", "mitre"]
PieceKind = Literal["whole", "crosscut", "ripped", "notched", "raked", "mitred"]

# ---------------------------------------------------------------- drawing


@dataclass(frozen=True)
class Shape:
    """One curve of the drawing, in inches, with the layer it counts for and where it came from.

    ``handle`` is the entity a person can select in model space: for block content, the reference.
    """

    path: Path
    layer: str
    handle: str
    entity: str
    """The DXF entity type, such as LWPOLYLINE, or ``loose lines`` for an outline made of several."""
    also: tuple[str, ...] = ()
    """Handles of further entities that the curve was made of."""
    picked: bool = False
    """Whether the user pointed at it as an opening."""

    @property
    def handles(self) -> tuple[str, ...]:
        """Handles of every entity that the curve was made of."""
        return (self.handle, *self.also)


@dataclass(frozen=True)
class Label:
    """One text of the drawing: its plain content and insertion point in inches."""

    text: str
    at: Point
    layer: str
    handle: str


@dataclass(frozen=True)
class LayerState:
    """A layer of the drawing's table (or one only used by entities) and whether it is shown."""

    name: str
    is_off: bool = False
    is_frozen: bool = False

    @property
    def is_hidden(self) -> bool:
        """Whether a person looking at the drawing would not see it."""
        return self.is_off or self.is_frozen


@dataclass(frozen=True)
class Drawing:
    """What was read of one file: the shapes and labels on the wanted layers, and how it was read."""

    index: int
    file: str
    sha256: str
    dxf_version: str
    units: str
    units_from: Literal["header", "option", "job"]
    inches_per_unit: float
    """Inches in one unit of the drawing's coordinates, the drawing's scale included."""
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    layers: tuple[LayerState, ...]
    notices: tuple[Notice, ...] = ()
    windows: tuple[Window, ...] = ()
    """The boxes, in inches, that the reading was limited to."""


# -------------------------------------------------------------- recognise


@dataclass(frozen=True)
class Edge:
    """A vertical side edge of a wall. ``tag`` is the text at its corner mark; ``handle`` the mark's."""

    side: Side
    x: float
    y0: float
    y1: float
    kind: EdgeKind
    corner: str | None = None
    tag: str | None = None
    handle: str | None = None

    @property
    def length(self) -> float:
        """Height of the edge."""
        return self.y1 - self.y0


@dataclass(frozen=True)
class CapMark:
    """A level stretch of cap in a wall: its top line from (x0, y) to (x1, y)."""

    x0: float
    x1: float
    y: float
    handle: str


@dataclass(frozen=True)
class Opening:
    """An opening's part inside one wall. ``region`` counts ground shared with others only once."""

    id: str
    kind: OpeningKind
    name: str
    handles: tuple[str, ...]
    region: Region
    touches_base: bool

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of the part inside the wall."""
        return self.region.box


@dataclass(frozen=True)
class Wall:
    """One recognised wall: its region (nested holes taken out), openings, side edges and marks."""

    id: str
    name: str
    drawing: int
    layer: str
    handles: tuple[str, ...]
    region: Region
    openings: tuple[Opening, ...] = ()
    edges: tuple[Edge, ...] = ()
    caps: tuple[CapMark, ...] = ()
    level_y: float | None = None
    """Height of the level line that ties this wall's courses to others'; None without one."""

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y: (x0, y0, x1, y1)."""
        return self.region.box


@dataclass(frozen=True)
class Corner:
    """A corner of the building, counted once. ``edges`` are (wall id, side), right edges first; walls
    drawn one above the other may give several of a side."""

    id: str
    kind: CornerKind
    run: float
    edges: tuple[tuple[str, Side], ...]
    tag: str | None = None

    @property
    def is_paired(self) -> bool:
        """Whether both sides of the corner are known."""
        return len({side for _, side in self.edges}) == 2


@dataclass(frozen=True)
class Recognised:
    """All walls of the job in order, its corners, and what there was to tell."""

    walls: tuple[Wall, ...]
    corners: tuple[Corner, ...]
    notices: tuple[Notice, ...]


# ---------------------------------------------------------------- measure


@dataclass(frozen=True)
class OpeningQuantities:
    """Measured values of one opening; trim runs are lengths along the opening's own boundary."""

    opening: Opening
    area: float
    width: float
    height: float
    head_y: float
    sill_y: float
    perimeter: float
    deducted: bool
    trim_head: float
    trim_jambs: float
    trim_sill: float


@dataclass(frozen=True)
class WallQuantities:
    """Measured values of one wall. net = gross - deducted - trim - cap, exactly.

    ``veneer`` is the region left for panels: the wall less every opening, trim band and cap.
    """

    wall: Wall
    gross_area: float
    opening_area: float
    deducted_area: float
    trim_area: float
    cap_area: float
    net_area: float
    perimeter: float
    base_run: float
    cap_run: float
    rake_run: float
    starter_run: float
    openings: tuple[OpeningQuantities, ...]
    veneer: Region
    trim_region: Region = field(default_factory=Region)
    cap_region: Region = field(default_factory=Region)


# --------------------------------------------------------------- coursing


@dataclass(frozen=True)
class Course:
    """One course of a wall: its number from the bottom (0 the first) and its band."""

    index: int
    y0: float
    y1: float


@dataclass(frozen=True)
class CourseLine:
    """One stretch of a course line, clipped to the wall less its openings. ``index`` is the course
    above the line; the line of index 0 is the starter line."""

    index: int
    x0: float
    x1: float
    y: float


@dataclass(frozen=True)
class Conflict:
    """A head, sill, top or cap against the course lines.

    ``strip`` is the height of the ripped piece left in ``course`` (0: the line runs clean), on the
    span from ``x0`` to ``x1``; ``move_up`` and ``move_down`` are how far the head, sill, top or cap
    would move up or down to meet a course line.
    """

    what: ConflictWhat
    opening: str | None
    course: int
    y: float
    strip: float
    sliver: bool
    x0: float
    x1: float
    move_up: float
    move_down: float

    @property
    def course_if_up(self) -> int:
        """The course that runs clean where it has moved up: the one over a head, under anything else."""
        return self.course + 1 if self.what == "head" else self.course

    @property
    def course_if_down(self) -> int:
        """The course that runs clean where it has moved down; -1 where that is the starter line."""
        return self.course_if_up - 1


@dataclass(frozen=True)
class Piece:
    """A panel or part of one, as placed in a course by the course plan.

    ``kind`` is the most telling thing done to it: whole, crosscut to length, ripped to a height,
    notched round an opening, raked along a slope or arch, mitred at a bay; ``ripped`` and ``glued``
    hold beside it. ``glued`` pieces have lost most of their nail flange (rule L17).
    """

    course: int
    x0: float
    x1: float
    y0: float
    y1: float
    unit: PieceUnit
    left: PieceEnd
    right: PieceEnd
    ripped: bool
    glued: bool
    stock: str
    """Id of the unit it is cut from, such as F12 or C3."""
    outline: tuple[Point, ...] = ()
    """The piece's boundary where it is not its plain rectangle."""
    holes: tuple[tuple[Point, ...], ...] = ()
    """Boundaries of what is cut out of its inside, a fixture for instance."""
    number: int = 0
    """Its number in the course, from the left, 1 the first."""
    kind: PieceKind = "whole"
    at: float = 0.0
    """Where in its unit it lies: distance of its left end from the unit's left end."""
    angle: float | None = None
    """Angle of a rake's cut above level, or of a mitre off the face, in degrees."""

    @property
    def length(self) -> float:
        """Length along the course."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Greatest height, which is what a ripped piece is ripped to."""
        return self.y1 - self.y0


@dataclass(frozen=True)
class WallCourses:
    """The courses of one wall, their lines, conflicts and, once planned, pieces."""

    wall: str
    starter_y: float
    starter_from: Literal["base", "level"]
    courses: tuple[Course, ...]
    lines: tuple[CourseLine, ...]
    starter_lines: tuple[CourseLine, ...]
    """Where the starter strip runs: level stretches above the base, interrupted at doors."""
    conflicts: tuple[Conflict, ...]
    pieces: tuple[Piece, ...] = ()
    field: Region = field(default_factory=Region)
    """What the pieces cover: the ground left for panels above the starter."""
    turn: int = 0
    """Added to a course's index where corners take turns: courses tied by a level line count from it."""


class PieceRef(NamedTuple):
    """A piece by its wall's id, its course (0 the first) and its number in the course (1 the first)."""

    wall: str
    course: int
    number: int


@dataclass(frozen=True)
class StockUnit:
    """One panel as it is bought, and the pieces cut from it, from its left end to its right."""

    id: str
    kind: PieceUnit
    length: float
    parts: tuple[PieceRef, ...]
    used: float
    """Summed length of its parts."""
    kerfs: float
    """Summed width of the cuts between its parts."""

    @property
    def waste(self) -> float:
        """Length that ends in no piece, saw cuts included."""
        return max(0.0, self.length - self.used)


@dataclass(frozen=True)
class Bound:
    """A number of units that no plan can do without, and why."""

    by: Literal["length", "hands", "pairing"]
    units: int
    why: str


@dataclass(frozen=True)
class StockCount:
    """Units of one kind for the whole job, beside what no plan can do without.

    ``left`` and ``right`` count parts that keep the unit's left or right end: for corner panels the
    left-hand and right-hand pieces, for flat panels the parts with one factory end.
    """

    units: int
    pieces: int
    pieces_length: float
    cuts: int
    """Crosscuts made to get the pieces out of the units."""
    left: int
    right: int
    bounds: tuple[Bound, ...]

    @property
    def lower_bound(self) -> int:
        """The greatest of the bounds."""
        return max((b.units for b in self.bounds), default=0)


@dataclass(frozen=True)
class WallCount:
    """One wall's share of the plan.

    ``flat`` and ``corner`` are units first cut or laid whole for this wall (offcuts from elsewhere
    cost it nothing); ``bound`` is what the wall would need at least if laid alone, flat and corner
    units together; ``by_area`` what the flat ten-per-cent rule orders (rule L2), in flat panels.
    ``waste`` is 1 - (area of its pieces) / (area of its units), from 0 to 1; below 0 where it lives
    on other walls' offcuts.
    """

    wall: str
    flat: int
    corner: int
    pieces: int
    cuts: int
    bound: int
    waste: float
    by_area: int


@dataclass(frozen=True)
class RuleBreak:
    """A rule of laying (L3, L4 and so on; ``cover`` and ``stock`` beside them) that does not hold somewhere.

    ``why`` is the plan's reason where the wall leaves no better choice; empty where nothing explains it.
    """

    rule: str
    wall: str
    course: int
    at: Point
    message: str
    why: str = ""
    forced: bool = False
    """Whether the judge saw for itself that the ground leaves no choice: a run shorter than the least
    piece, a strip between level lines of the field."""


@dataclass(frozen=True)
class CoursePlan:
    """The whole job laid out panel by panel: what is bought, what it is cut into, and the proof beside it.

    ``bound`` is what no plan can do without, flat and corner units together. ``yielded`` are the
    places where the plan knows that a rule can't hold; ``breaks`` what the independent judge found,
    with the plan's reason where it has one.
    """

    units: tuple[StockUnit, ...]
    flat: StockCount
    corner: StockCount
    walls: tuple[WallCount, ...]
    bound: int
    yielded: tuple[RuleBreak, ...] = ()
    breaks: tuple[RuleBreak, ...] = ()

    @property
    def total(self) -> int:
        """Flat and corner units together."""
        return self.flat.units + self.corner.units

    @property
    def cuts(self) -> int:
        """Crosscuts of flat and corner units together."""
        return self.flat.cuts + self.corner.cuts

    @property
    def broken(self) -> tuple[RuleBreak, ...]:
        """Every place where a rule does not hold, once: what the judge found, then what the plan alone knows of."""
        found = {(b.rule, b.wall, b.course, b.why) for b in self.breaks}
        return self.breaks + tuple(y for y in self.yielded if (y.rule, y.wall, y.course, y.why or y.message) not in found)


@dataclass(frozen=True)
class StartOption:
    """One height of the starter for walls whose courses run together, and what it would cost.

    ``height`` is the starter above the lowest base of the group; ``slivers`` strips lower than the
    job's limit at heads, sills, tops and caps; ``ripped`` how many pieces those strips take at least,
    in panel lengths; ``units`` flat and corner units, None where they were not planned.
    """

    start: float
    """The ``courses.start`` that gives it."""
    height: float
    slivers: int
    strips: int
    """Heads, sills, tops and caps that are off the course lines."""
    ripped: int
    units: int | None
    is_present: bool = False
    """Whether the takeoff is laid with it."""
    is_best: bool = False
    fits: bool = True
    """Whether every starter of the group lies in the permitted range above its base."""


@dataclass(frozen=True)
class StartTable:
    """The present start, the best one and some between for one group of walls (ids)."""

    walls: tuple[str, ...]
    options: tuple[StartOption, ...]

    @property
    def present(self) -> StartOption:
        """The start that the takeoff is laid with."""
        return next(o for o in self.options if o.is_present)

    @property
    def best(self) -> StartOption:
        """The best start in the permitted range."""
        return next(o for o in self.options if o.is_best)

    @property
    def improves(self) -> bool:
        """Whether the best start leaves fewer slivers than the present one, or as many and less to rip."""
        best, present = self.best, self.present
        return (best.slivers, best.ripped, best.strips) < (present.slivers, present.ripped, present.strips)


# ------------------------------------------------------------------ order


class OrderSource(NamedTuple):
    """Where a quantity comes from: the id of a wall, opening or corner (or ``plan``), what was taken of it,
    how much, and the unit of that: ``sqft``, ``ft`` or ``each``."""

    ref: str
    what: str
    value: float
    unit: ItemUnit


@dataclass(frozen=True)
class Reckoning:
    """One way of reckoning an order line. Everything after ``measured`` follows by four formulas:

    needed = measured x (1 + allowance_pct / 100); packages = needed / per_package, rounded to 6 places
    and then up; cost = packages x price of a package, rounded to the cent, half a cent up; weight =
    packages x weight of a package. They are worked once for the job, never wall by wall.
    """

    mode: Literal["layout", "area"]
    """``layout``: piece by piece, breakage added; ``area``: by area or run, scrap added (rule L2)."""
    measured: float
    why: str
    allowance_pct: float
    needed: float
    packages: int
    cost: Decimal | None
    weight_lb: float | None
    sources: tuple[OrderSource, ...] = ()


@dataclass(frozen=True)
class OrderLine:
    """One item of the order. ``ways`` are the one or two ways of reckoning it; ``mode`` says which counts.

    ``price`` is that of one package or of one unit, as ``price_per`` says; None where none is known.
    """

    key: str
    """The item's key; fixture blocks have their size behind it."""
    item: str
    unit: ItemUnit
    mode: Literal["layout", "area"]
    ways: tuple[Reckoning, ...]
    package: str
    per_package: float
    price: Decimal | None
    price_per: Literal["unit", "package"]
    package_weight_lb: float | None
    per_pallet: float | None
    """Packages on a pallet, None where it comes on none."""
    by_others: bool = False
    """Counted, but neither priced nor weighed: someone else supplies it."""

    @property
    def chosen(self) -> Reckoning:
        """The way that counts."""
        return next(w for w in self.ways if w.mode == self.mode)

    @property
    def other(self) -> Reckoning | None:
        """The other way, where there is one."""
        return next((w for w in self.ways if w.mode != self.mode), None)

    @property
    def package_price(self) -> Decimal | None:
        """Price of a package, not rounded."""
        if self.price is None or self.price_per == "package":
            return self.price
        return self.price * Decimal(repr(self.per_package))

    @property
    def pallets(self) -> int | None:
        """Pallets begun by the packages; None where the item comes on none."""
        return math.ceil(self.chosen.packages / self.per_pallet) if self.per_pallet else None


@dataclass(frozen=True)
class LabourLine:
    """Work of one kind: hours = quantity x hours_each and cost = hours x wage, each rounded half up to
    two places."""

    key: str
    what: str
    quantity: float
    unit: str
    hours_each: Decimal
    hours: Decimal
    cost: Decimal | None
    why: str


@dataclass(frozen=True)
class BidLine:
    """One line of the bid. A percentage is of ``base``, and ``amount`` is rounded half up to the cent;
    ``running`` is the sum down to this line. None where a price or the wage is missing."""

    name: str
    percent: Decimal | None
    on: Literal["running", "direct", "materials", "labour"] | None
    base: Decimal | None
    amount: Decimal | None
    running: Decimal | None


@dataclass(frozen=True)
class BidSum:
    """The bid from materials and labour down to the total.

    ``priced`` sums the lines that have a price; ``missing`` are the keys of those that have none, and
    ``labour`` for the wage. While anything is missing there is no total.
    """

    lines: tuple[BidLine, ...]
    priced: Decimal
    missing: tuple[str, ...]

    @property
    def total(self) -> Decimal | None:
        """What is bid; None while a price or the wage is missing."""
        return self.lines[-1].running


@dataclass(frozen=True)
class StudReach:
    """A piece that reaches too few studs, and how many it reaches."""

    piece: PieceRef
    studs: int
    x0: float
    x1: float


@dataclass(frozen=True)
class Alternate:
    """Another bid beside the first: its name, what is different, its order."""

    name: str
    what: str
    order: Order


@dataclass(frozen=True)
class Order:
    """What is bought, delivered, installed and paid.

    ``dead_load_psf`` is the weight of flat panels on a square foot of wall, None where no weight is
    known: information for the designer, not a proof of anything.
    """

    lines: tuple[OrderLine, ...]
    labour: tuple[LabourLine, ...]
    bid: BidSum
    currency: str
    prices_from: str
    """File of the prices, empty without one."""
    prices_date: str
    wage: Decimal | None
    days: float
    """Working days of the crew."""
    dead_load_psf: float | None
    few_studs: tuple[StudReach, ...]
    notices: tuple[Notice, ...]
    alternates: tuple[Alternate, ...] = ()

    @property
    def hours(self) -> Decimal:
        """Hours of work."""
        return sum((line.hours for line in self.labour), Decimal(0))

    @property
    def weight_lb(self) -> float | None:
        """Weight of all deliveries; None where the weight of an item is not known."""
        weights = [line.chosen.weight_lb for line in self.lines if not line.by_others]
        return None if None in weights else math.fsum(w for w in weights if w is not None)

    @property
    def materials(self) -> Decimal | None:
        """Cost of all items that are not by others; None where a price is missing."""
        return self.bid.lines[0].amount

    @property
    def pallets(self) -> int:
        """Pallets of the items that come on pallets."""
        return sum(line.pallets or 0 for line in self.lines if not line.by_others)


# ---------------------------------------------------------------- takeoff


AREA_RULE = 1.10
"""Panels bought by area for each one laid: ten per cent more (rule L2; common practice, no published source)."""


@dataclass(frozen=True)
class Assumption:
    """A setting or rule that changed a number: its value, where it came from, what it does."""

    key: str
    value: str
    source: str
    effect: str


@dataclass(frozen=True)
class WallTakeoff:
    """Everything about one wall."""

    wall: Wall
    quantities: WallQuantities
    courses: WallCourses


@dataclass(frozen=True)
class Totals:
    """Sums over walls; areas in square inches, runs in inches."""

    gross_area: float
    opening_area: float
    deducted_area: float
    trim_area: float
    cap_area: float
    net_area: float
    base_run: float
    starter_run: float
    cap_run: float
    rake_run: float
    trim_head: float
    trim_jambs: float
    trim_sill: float
    openings: int

    @classmethod
    def of(cls, walls: Iterable[WallQuantities]) -> Totals:
        """The sums over the given walls."""
        listed = list(walls)
        doors = [o for w in listed for o in w.openings]

        def over(values: Iterable[float]) -> float:
            return math.fsum(values)

        return cls(
            gross_area=over(w.gross_area for w in listed),
            opening_area=over(w.opening_area for w in listed),
            deducted_area=over(w.deducted_area for w in listed),
            trim_area=over(w.trim_area for w in listed),
            cap_area=over(w.cap_area for w in listed),
            net_area=over(w.net_area for w in listed),
            base_run=over(w.base_run for w in listed),
            starter_run=over(w.starter_run for w in listed),
            cap_run=over(w.cap_run for w in listed),
            rake_run=over(w.rake_run for w in listed),
            trim_head=over(o.trim_head for o in doors),
            trim_jambs=over(o.trim_jambs for o in doors),
            trim_sill=over(o.trim_sill for o in doors),
            openings=len(doors),
        )


@dataclass(frozen=True)
class Takeoff:
    """The whole result: what every writer renders and nothing computes again."""

    job: Job
    product: Product
    drawings: tuple[Drawing, ...]
    walls: tuple[WallTakeoff, ...]
    corners: tuple[Corner, ...]
    totals: Totals
    assumptions: tuple[Assumption, ...]
    cautions: tuple[str, ...]
    notices: tuple[Notice, ...]
    plan: CoursePlan | None = None
    """None where the job asks for an estimate by area only."""
    starts: tuple[StartTable, ...] = ()
    order: Order | None = None

    def walls_of(self, drawing: int) -> tuple[WallTakeoff, ...]:
        """The walls that one drawing holds."""
        return tuple(w for w in self.walls if w.wall.drawing == drawing)

    @property
    def panels_by_area(self) -> int:
        """Flat panels that the flat rule orders by net area, for the whole job at once (rule L2)."""
        return math.ceil(round(AREA_RULE * self.totals.net_area / self.product.coverage_area, 6))

    @property
    def waste(self) -> float:
        """What of the planned panels' area ends on no wall, from 0 to 1; 0 without a plan."""
        if self.plan is None or not self.plan.total:
            return 0.0
        corner = self.product.corner.length * self.product.panel.height
        bought = self.plan.flat.units * self.product.coverage_area + self.plan.corner.units * corner
        return 1.0 - math.fsum(w.courses.field.area for w in self.walls) / bought

    def corner_run(self, kind: CornerKind) -> float:
        """Summed height of the corners of one kind, in inches; a bay's are ``mitre`` and take no corner panel."""
        return math.fsum(c.run for c in self.corners if c.kind == kind)

    @property
    def end_run(self) -> float:
        """Summed height of finished ends, in inches."""
        return math.fsum(e.length for w in self.walls for e in w.wall.edges if e.kind == "end")
