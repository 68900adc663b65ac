"""The values that pass between the stages. All frozen; lengths in inches, areas in square inches.

Glossary
--------
elevation     the drawing of one side of a building, seen square on
wall          the closed boundary of one area to be veneered, in an elevation
opening       window, door, vent or other hole in a wall: head on top, jambs at the sides,
              sill below
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

from dxf2veneer.model.advice import (
    BareStretch,
    CourseProposal,
    CoursingAdvice,
    GroupAdvice,
    Held,
    HeldBy,
    NoMultiple,
    OpeningShift,
)
from dxf2veneer.model.blend import Spread, WallColor
from dxf2veneer.model.change_order import (
    ChangeOrder,
    ChangeTerms,
    EarlierChange,
    MeasuredChange,
    OrderedChange,
)
from dxf2veneer.model.choices import BeatenPlan, PlanChoice, PlanChoices
from dxf2veneer.model.courses import (
    Conflict,
    ConflictWhat,
    Course,
    CourseLine,
    CourseNumbers,
    StarterFrom,
    StartOption,
    StartTable,
    WallCourses,
)
from dxf2veneer.model.deliveries import Delivered, Delivery, Pallet
from dxf2veneer.model.drawing import Drawing, Label, LayerState, Shape
from dxf2veneer.model.estimate import PanelEstimate, WallEstimate, WallKind, whole_panels
from dxf2veneer.model.handling import Handling
from dxf2veneer.model.letter import (
    BidLetter,
    ChangePrice,
    OfferedAlternate,
    ScopeElevation,
    ScopeWall,
)
from dxf2veneer.model.look import Flaw, FlawKind, Look, Mend, mending
from dxf2veneer.model.mitres import MitredPair, Mitres, MitreState
from dxf2veneer.model.order import (
    Alternate,
    BidLine,
    BidSum,
    ColorsOver,
    LabourLine,
    OfArea,
    Order,
    OrderLine,
    OrderPart,
    OrderSource,
    Reckoning,
    StudReach,
)
from dxf2veneer.model.parts import Part
from dxf2veneer.model.pieces import Piece, PieceEnd, PieceKind, PieceRef, PieceUnit
from dxf2veneer.model.plan import (
    Bound,
    ColorCount,
    CoursePlan,
    PanelCounts,
    RuleBreak,
    RuleState,
    StockCount,
    StockUnit,
    WallCount,
)
from dxf2veneer.model.quantities import OpeningQuantities, WallQuantities
from dxf2veneer.model.revised import ChangedPlace, LaidOpening, LaidWall
from dxf2veneer.model.revision import (
    DRAFTING,
    FIGURES,
    OPENING_FIGURES,
    Change,
    EdgeShifts,
    Figure,
    FigureKind,
    Figures,
    LineChange,
    MoneyChange,
    OpeningChange,
    PartChange,
    PartWhat,
    Recorded,
    RecordedDrawing,
    RecordedHandChange,
    RecordedLine,
    RecordedWall,
    Revision,
    WallChange,
)
from dxf2veneer.model.shares import ElevationShare, OrderShare, PackageShare
from dxf2veneer.model.site import (
    ChangedCut,
    ChangeWhat,
    CutChanges,
    LaidCourse,
    SiteMeasures,
    SiteSize,
    SizeWhat,
)
from dxf2veneer.model.story_pole import PoleDatum, PoleMark, PoleWhat, StoryPole
from dxf2veneer.model.takeoff import (
    Assumption,
    Takeoff,
    Totals,
    WallTakeoff,
)
from dxf2veneer.model.tolerance import Fragile, FragileKind, Tolerance
from dxf2veneer.model.walls import (
    DOORS,
    CapMark,
    Corner,
    CornerKind,
    Edge,
    EdgeKind,
    Opening,
    OpeningKind,
    Recognised,
    Side,
    Wall,
)

__all__ = [
    "DOORS",
    "DRAFTING",
    "FIGURES",
    "OPENING_FIGURES",
    "Alternate",
    "Assumption",
    "BareStretch",
    "BeatenPlan",
    "BidLetter",
    "BidLine",
    "BidSum",
    "Bound",
    "CapMark",
    "Change",
    "ChangeOrder",
    "ChangePrice",
    "ChangeTerms",
    "ChangeWhat",
    "ChangedCut",
    "ChangedPlace",
    "ColorCount",
    "ColorsOver",
    "Conflict",
    "ConflictWhat",
    "Corner",
    "CornerKind",
    "Course",
    "CourseLine",
    "CourseNumbers",
    "CoursePlan",
    "CourseProposal",
    "CoursingAdvice",
    "CutChanges",
    "Delivered",
    "Delivery",
    "Drawing",
    "EarlierChange",
    "Edge",
    "EdgeKind",
    "EdgeShifts",
    "ElevationShare",
    "Figure",
    "FigureKind",
    "Figures",
    "Flaw",
    "FlawKind",
    "Fragile",
    "FragileKind",
    "GroupAdvice",
    "Handling",
    "Held",
    "HeldBy",
    "Label",
    "LabourLine",
    "LaidCourse",
    "LaidOpening",
    "LaidWall",
    "LayerState",
    "LineChange",
    "Look",
    "MeasuredChange",
    "Mend",
    "MitreState",
    "MitredPair",
    "Mitres",
    "MoneyChange",
    "NoMultiple",
    "OfArea",
    "OfferedAlternate",
    "Opening",
    "OpeningChange",
    "OpeningKind",
    "OpeningQuantities",
    "OpeningShift",
    "Order",
    "OrderLine",
    "OrderPart",
    "OrderShare",
    "OrderSource",
    "OrderedChange",
    "PackageShare",
    "Pallet",
    "PanelCounts",
    "PanelEstimate",
    "Part",
    "PartChange",
    "PartWhat",
    "Piece",
    "PieceEnd",
    "PieceKind",
    "PieceRef",
    "PieceUnit",
    "PlanChoice",
    "PlanChoices",
    "PoleDatum",
    "PoleMark",
    "PoleWhat",
    "Reckoning",
    "Recognised",
    "Recorded",
    "RecordedDrawing",
    "RecordedHandChange",
    "RecordedLine",
    "RecordedWall",
    "Revision",
    "RuleBreak",
    "RuleState",
    "ScopeElevation",
    "ScopeWall",
    "Shape",
    "Side",
    "SiteMeasures",
    "SiteSize",
    "SizeWhat",
    "Spread",
    "StartOption",
    "StartTable",
    "StarterFrom",
    "StockCount",
    "StockUnit",
    "StoryPole",
    "StudReach",
    "Takeoff",
    "Tolerance",
    "Totals",
    "Wall",
    "WallChange",
    "WallColor",
    "WallCount",
    "WallCourses",
    "WallEstimate",
    "WallKind",
    "WallQuantities",
    "WallTakeoff",
    "mending",
    "whole_panels",
]
