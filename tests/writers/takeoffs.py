"""Small takeoffs made by hand, for the tests of every writer. All numbers can be checked on paper.

``takeoff()`` is the one below, by area; ``laid_out.laid_out()`` is a smaller one with a course
plan.

Drawing 0, ``gatehouse.dxf``, wall W1            Drawing 1, wall W2 (its name full of traps)

 96 +--------------------------------+            80 +==================+  cap, 2 1/4 high
    |              .-80-.            |               |                  |
 80 |  +---+      60    60           |               |      [] 41..53   |
    |  |   |      |      |           |               |                  |
    |  |O1 |      |  O2  |           |               |                  |
    |  |   |      +--30--+           |               |                  |
  0 +--+---+------------------------ +             0 +------------------+
    0  24  60    120    160         240             300   340..352     420
   end                          outside C1      outside C1           inside C2 (unpaired)

W1: gross 240 x 96 = 23,040; O1 36 x 80 = 2,880; O2 40 x 30 + pi 20^2 / 2 = 1,200 + 200 pi
    trim, head 8, jambs 4, sill 4: O1 36 x 8 + 2 x 80 x 4 = 928; O2 pi/2 (28^2 - 20^2) + 2 x 30 x 4
    + 40 x 4
    = 192 pi + 400
W2: gross 120 x 80 = 9,600; O1 is 1 sq ft and not deducted (threshold 2); cap 120 x 2.25 = 270; no
trim
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as FilePath

from builders import as_written

from dxf2veneer.basics.messages import Length, Value, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.product import load_product
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import (
    Assumption,
    CapMark,
    Conflict,
    Corner,
    Course,
    CourseLine,
    Drawing,
    Edge,
    LayerState,
    Opening,
    OpeningQuantities,
    Shape,
    Takeoff,
    Totals,
    Wall,
    WallCourses,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.order.assumptions import CAUTIONS
from dxf2veneer.order.experience import estimate

EVIL_NAME = "=Hof: \"A\"/B \\ south? *west* [annex] 'x' and a tail that runs on"
EVIL_LAYER = "@M\udc81uer"
"""A layer name in an undeclared code page: it arrives with a surrogate."""
EVIL_TEXTS = (
    "=1+1",
    "+x",
    "@y",
    "-3",
    "\t=1",
    "\r=2",
    "\n=3",
    "bell \x07 and \x00 nul",
    "half \ud83d pair",
)

DOOR = Path.box_of(24, 0, 60, 80)
ARCHED = Path(((120, 30, 0.0), (160, 30, 0.0), (160, 60, 1.0), (120, 60, 0.0)))
VENT = Path.box_of(340, 41, 352, 53)
NORTH = Path.box_of(0, 0, 240, 96)
SOUTH = Path.box_of(300, 0, 420, 80)


def takeoff(*, display: str = "imperial") -> Takeoff:
    """The takeoff of the sketch above."""
    walls = (_north(), _south())
    return Takeoff(
        job=_job(display),
        product=load_product(),
        drawings=_drawings(),
        walls=walls,
        corners=(
            Corner("C1", "outside", 96.0, (("W1", "right"), ("W2", "left")), tag="=A"),
            Corner("C2", "inside", 80.0, (("W2", "right"),)),
        ),
        totals=Totals.of(w.quantities for w in walls),
        estimate=estimate(walls, load_product(), None),
        assumptions=(
            _assumption(
                "deduction.threshold_sqft",
                2.0,
                Origin("option", option="deduct-over"),
                "openings up to 2 sq ft stay in the net area",
            ),
            _assumption(
                "trim.head",
                Length(8.0),
                Origin("file", FilePath("job.toml"), 12),
                "a band of 8 in over heads comes off the panels' area",
            ),
            _assumption(
                "job.name",
                "=1+1",
                Origin("file", FilePath("job.toml"), 2),
                "@printed on the summary",
            ),
        ),
        cautions=CAUTIONS[2:5],
        notices=_notices(),
    )


def _assumption(key: str, value: Value, origin: Origin, effect: str) -> Assumption:
    what = message("as-written", text=effect)
    return Assumption(key, message("key", key=key), value, origin, what)


def _job(display: str) -> Job:
    job = with_settings(
        Job(),
        job__name="=1+1",
        job__company="Example Stone Ltd",
        job__note="-3 bid set",
        layers__wall=("A-WALL", EVIL_LAYER),
        layers__opening=("A-OPNG",),
        deduction__threshold_sqft=2.0,
        trim__head=8.0,
        trim__jambs=4.0,
        trim__sill=4.0,
        output__display=display,
    )
    origins = (
        ("job.name", Origin("file", FilePath("job.toml"), 2)),
        ("deduction.threshold_sqft", Origin("option", option="deduct-over")),
    )
    return replace(job, origins=origins)


def _drawings() -> tuple[Drawing, ...]:
    layers = (LayerState("A-WALL"), LayerState("A-OPNG"), LayerState(EVIL_LAYER, is_frozen=True))
    first = Drawing(
        0, "drawings/gatehouse.dxf", "a" * 64, "AC1032", "in", "header", 1.0,
        (Shape(NORTH, "A-WALL", "2F", "LWPOLYLINE"), Shape(DOOR, "A-OPNG", "31", "LWPOLYLINE"),
         Shape(ARCHED, "A-OPNG", "32", "LWPOLYLINE")), (), layers,
    )  # fmt: skip
    second = Drawing(
        1, "=south [x].dxf", "b" * 64, "AC1015", "mm", "option", 1 / 25.4,
        (Shape(SOUTH, EVIL_LAYER, "4A", "LWPOLYLINE"), Shape(VENT, "A-OPNG", "4B", "LWPOLYLINE")),
        (), layers,
    )  # fmt: skip
    return first, second


def _opening(
    id: str, kind: str, name: str, handle: str, path: Path, **measured: float
) -> OpeningQuantities:
    region = Region.of(path)
    x0, y0, x1, y1 = region.box
    return OpeningQuantities(
        Opening(id, kind, name, (handle,), region, touches_base=y0 == 0.0),  # type: ignore[arg-type]
        area=path.area,
        width=x1 - x0,
        height=y1 - y0,
        head_y=y1,
        sill_y=y0,
        perimeter=path.length,
        deducted=path.area > 2 * 144,
        trim_head=measured.get("head", 0.0),
        trim_jambs=measured.get("jambs", 0.0),
        trim_sill=measured.get("sill", 0.0),
    )


def _north() -> WallTakeoff:
    door = _opening("W1-O1", "door", "", "31", DOOR, head=36.0, jambs=160.0)
    window = _opening(
        "W1-O2", "window", "+x", "32", ARCHED, head=20 * math.pi, jambs=60.0, sill=40.0
    )
    wall = Wall(
        "W1", "North", 0, "A-WALL", ("2F",), Region.of(NORTH), (door.opening, window.opening),
        (Edge("left", 0.0, 0.0, 96.0, "end"), Edge("right", 240.0, 0.0, 96.0, "outside", "C1", "=A",
        "3C")),
    )  # fmt: skip
    trim = _trim_of_north()
    area = door.area + window.area
    quantities = WallQuantities(
        wall,
        gross_area=23_040.0,
        opening_area=area,
        deducted_area=area,
        trim_area=928 + 192 * math.pi + 400,
        cap_area=0.0,
        net_area=23_040.0 - area - (928 + 192 * math.pi + 400),
        perimeter=672.0,
        base_run=240.0,
        cap_run=0.0,
        rake_run=0.0,
        starter_run=204.0,
        openings=(door, window),
        veneer=wall.region.difference(door.opening.region, window.opening.region, trim),
        trim_region=trim,
    )
    conflicts = (
        Conflict("head", "W1-O1", 10, 80.0, 0.0, False, 24.0, 60.0, 0.0, 0.0),
        Conflict("sill", "W1-O2", 3, 30.0, 6.0, False, 120.0, 160.0, 2.0, 6.0),
        Conflict("head", "W1-O2", 10, 80.0, 0.0, False, 120.0, 160.0, 0.0, 0.0),
        Conflict("top", None, 11, 96.0, 0.0, False, 0.0, 240.0, 0.0, 0.0),
    )
    return WallTakeoff(
        wall, quantities, _courses("W1", 0.0, 240.0, 12, (_in_door, _in_window), conflicts)
    )


def _trim_of_north() -> Region:
    over_door = Region.box_of(24, 80, 60, 88)
    beside_door = (Region.box_of(20, 0, 24, 80), Region.box_of(60, 0, 64, 80))
    ring = Region.of(Path(((112, 60, 0.0), (120, 60, -1.0), (160, 60, 0.0), (168, 60, 1.0))))
    beside_window = (Region.box_of(116, 30, 120, 60), Region.box_of(160, 30, 164, 60))
    return over_door.union(*beside_door, ring, *beside_window, Region.box_of(120, 26, 160, 30))


def _south() -> WallTakeoff:
    vent = _opening("W2-O1", "vent", "@y", "4B", VENT)
    wall = Wall(
        "W2", EVIL_NAME, 1, EVIL_LAYER, ("4A",), Region.of(SOUTH), (vent.opening,),
        (Edge("left", 300.0, 0.0, 80.0, "outside", "C1", "=A", "4C"), Edge("right", 420.0, 0.0,
        80.0, "inside", "C2")),
        (CapMark(300.0, 420.0, 80.0, "4D"),),
    )  # fmt: skip
    cap = Region.box_of(300, 77.75, 420, 80)
    quantities = WallQuantities(
        wall,
        gross_area=9_600.0,
        opening_area=144.0,
        deducted_area=0.0,
        trim_area=0.0,
        cap_area=270.0,
        net_area=9_330.0,
        perimeter=400.0,
        base_run=120.0,
        cap_run=120.0,
        rake_run=0.0,
        starter_run=120.0,
        openings=(vent,),
        veneer=wall.region.difference(vent.opening.region, cap),
        cap_region=cap,
    )
    conflicts = (
        Conflict("sill", "W2-O1", 5, 41.0, 1.0, True, 340.0, 352.0, 7.0, 1.0),
        Conflict("head", "W2-O1", 6, 53.0, 3.0, False, 340.0, 352.0, 3.0, 5.0),
        Conflict("cap", None, 9, 77.75, 5.75, False, 300.0, 420.0, 2.25, 5.75),
    )
    return WallTakeoff(wall, quantities, _courses("W2", 300.0, 420.0, 10, (_in_vent,), conflicts))


def _in_door(y: float) -> tuple[float, float] | None:
    return (24.0, 60.0) if y < 80 else None


def _in_window(y: float) -> tuple[float, float] | None:
    if not 30 < y < 80:
        return None
    half = 20.0 if y <= 60 else math.sqrt(20**2 - (y - 60) ** 2)
    return 140 - half, 140 + half


def _in_vent(y: float) -> tuple[float, float] | None:
    return (340.0, 352.0) if 41 < y < 53 else None


def _courses(wall, x0, x1, count, gaps, conflicts) -> WallCourses:
    """Courses of 8 in from y = 0; every line runs from x0 to x1 less the gaps at its height."""
    lines = []
    for index in range(count):
        left = x0
        for gap in filter(None, (g(index * 8.0) for g in gaps)):
            lines.append(CourseLine(index, left, gap[0], index * 8.0))
            left = gap[1]
        lines.append(CourseLine(index, left, x1, index * 8.0))
    return WallCourses(
        wall,
        0.0,
        "base",
        tuple(Course(i, i * 8.0, (i + 1) * 8.0) for i in range(count)),
        tuple(lines),
        tuple(line for line in lines if line.index == 0),
        conflicts,
    )


def _notices() -> tuple[Notice, ...]:
    evil = tuple(
        Notice("ENTITY_UNUSABLE", as_written(text), 0, "A-WALL", f"{0x50 + n:X}", (10.0 + n, 20.0))
        for n, text in enumerate(EVIL_TEXTS)
    )
    return (
        Notice(
            "CORNER_UNPAIRED",
            as_written("the inside corner at the right of W2 is marked once"),
            1,
            EVIL_LAYER,
            "4E",
            (420.0, 40.0),
        ),
        Notice(
            "SLIVER",
            as_written('a strip of 1" is left at the sill of W2-O1'),
            1,
            EVIL_LAYER,
            "4B",
            (346.0, 41.0),
        ),
        Notice("HIDDEN_LAYER", as_written("a named layer is frozen"), 0, EVIL_LAYER),
        Notice(
            "CROSS_CHECK",
            as_written("two ways of measuring W1 differ by 1 sq in"),
            0,
            "A-WALL",
            "2F",
            (120.0, 48.0),
        ),
        *evil,
    )
