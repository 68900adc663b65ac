"""A small job laid out panel by panel by hand, for the tests of the writers. Panels 36 x 8 in, kerf
1/8 in.

W1, drawing 0, and W2, drawing 1 (its name and layer full of traps); lengths of pieces in inches.

      W1                                                        W2
 20   +-----------------------------------------------+         + .             rake: 4 in down
      |8  |       36        |       36        | >16   |         |24 ' .               on 24
 16   +------------+----------------+-----------------+         +----------------------------+
      |   24    [ 30..42 ]  36      |       36        |         |<18 7/8|   36  []  | >9 1/8 |
  8   +------------+----------------+-----------------+         +----------------------------+
      |        36       |       36        |   >24     |         |     36    | 11 7/8|>16 1/8 |
  0   +-----------------------------------------------+         +----------------------------+
      0                                               96        200        224              264
    butt                                     outside C1         outside C1                  end

< and > are corner pieces of the left and right hand. At C1 the walls take turns: W1 in courses 1
and 3, W2 in course 2. The vent W1-O1, (30, 8) to (42, 14.5), leaves a strip of 1 1/2 in: rule L24
yields. The light W2-O1, (230, 10) to (234, 14), is a hole in its panel. In W2 the joints at 247 7/8
and 254 7/8 stand only 7 in apart: rule L3 is broken, and nothing explains it.

Flat:   F1, F2 whole in W1 course 1; F3 11 7/8 (W2) + 24 (W1) = 36 less a kerf; F4, F5 course 2;
        F6 24 (W2, rake) + 8 (W1); F7, F8 ripped to 4; F9, F10 whole in W2.   8 x 36 + 35 7/8 + 32
        = 355 7/8
Corner: C1 24; C2 18 7/8 + 16; C3 16 1/8; C4 9 1/8 = 84 1/8
Bounds: flat 355.875 / 36 = 9.9 -> 10, corner pieces of the right hand 4; both 440 / 36 = 12.2
        -> 13.
Areas:  W1 96 x 20 - 12 x 6.5 = 1,842 from 10 units of 288; W2 64 x 16 + 24 x 4 / 2 - 16 = 1,056
        from 4.
"""

from __future__ import annotations

import dataclasses
import math

from builders import as_written
from takeoffs import EVIL_LAYER, EVIL_NAME, takeoff

from dxf2veneer.config.product import load_product
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import (
    Bound,
    Conflict,
    Corner,
    Course,
    CourseLine,
    CoursePlan,
    Edge,
    Opening,
    OpeningQuantities,
    Piece,
    PieceRef,
    RuleBreak,
    Shape,
    StockCount,
    StockUnit,
    Takeoff,
    Totals,
    Wall,
    WallCount,
    WallCourses,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.order.experience import estimate

FRONT = Path.box_of(0, 0, 96, 20)
SIDE = Path(tuple((x, y, 0.0) for x, y in ((200, 0), (264, 0), (264, 16), (224, 16), (200, 20))))
VENT = Path.box_of(30, 8, 42, 14.5)
LIGHT = Path.box_of(230, 10, 234, 14)
RAKE = math.degrees(math.atan2(4, 24))

LEDGE = RuleBreak(
    "L24", "W1", 1, (36.0, 15.25),
    as_written("a strip of 1 1/2 in over W1-O1, lower than the least strip of 2 in"),
    as_written("the head of W1-O1 stands 1 1/2 in under the course line"), forced=True,
)  # fmt: skip
NEAR = RuleBreak(
    "L3",
    "W2",
    1,
    (254.875, 8.0),
    as_written("=1+1: joints of courses 1 and 2 stand 7 in apart, less than 8 in"),
)


def laid_out(*, display: str = "imperial") -> Takeoff:
    """The takeoff of the sketch above, with its course plan."""
    base = takeoff(display=display)
    walls = (_front(), _side())
    first, second = base.drawings
    return dataclasses.replace(
        base,
        drawings=(
            dataclasses.replace(
                first,
                shapes=(
                    Shape(FRONT, "A-WALL", "2F", "LWPOLYLINE"),
                    Shape(VENT, "A-OPNG", "31", "LWPOLYLINE"),
                ),
            ),
            dataclasses.replace(
                second,
                shapes=(
                    Shape(SIDE, EVIL_LAYER, "4A", "LWPOLYLINE"),
                    Shape(LIGHT, "A-OPNG", "4B", "LWPOLYLINE"),
                ),
            ),
        ),
        walls=walls,
        corners=(Corner("C1", "outside", 20.0, (("W1", "right"), ("W2", "left")), tag="=A"),),
        totals=Totals.of(w.quantities for w in walls),
        estimate=estimate(walls, load_product(), None),
        plan=_plan(),
    )


def _plan() -> CoursePlan:
    flat = StockCount(
        units=10, pieces=12, pieces_length=355.875, cuts=3, left=2, right=2,
        bounds=(
            Bound("length", 10, as_written("355 7/8 in of flat pieces at 36 in a panel")),
            Bound("hands", 10,
                as_written("8 whole panels and 2 pieces with a factory end on the right")),
        ),
    )  # fmt: skip
    corner = StockCount(
        units=4, pieces=5, pieces_length=84.125, cuts=5, left=1, right=4,
        bounds=(
            Bound("length", 3, as_written("84 1/8 in of corner pieces at 36 in a corner panel")),
            Bound("hands", 4, as_written("4 right-hand pieces, one from a corner panel")),
        ),
    )  # fmt: skip
    walls = (
        WallCount(
            "W1", flat=8, corner=2, share=9.5, pieces=10, cuts=4, bound=8, waste=1 - 1842 / 2880
        ),
        WallCount(
            "W2", flat=2, corner=2, share=4.5, pieces=7, cuts=4, bound=5, waste=1 - 1056 / 1152
        ),
    )
    return CoursePlan(
        _units(), flat, corner, walls, bound=13, exceptions=(LEDGE,), breaks=(LEDGE, NEAR)
    )


def _units() -> tuple[StockUnit, ...]:
    def whole(id: str, *ref: int) -> StockUnit:
        wall, course, number = ref
        return StockUnit(id, "flat", 36.0, (PieceRef(f"W{wall}", course, number),), 36.0, 0.0)

    return (
        whole("F1", 1, 0, 1),
        whole("F2", 1, 0, 2),
        StockUnit("C1", "corner", 36.0, (PieceRef("W1", 0, 3),), 24.0, 0.125),
        StockUnit("F3", "flat", 36.0, (PieceRef("W2", 0, 2), PieceRef("W1", 1, 1)), 35.875, 0.125),
        whole("F4", 1, 1, 2),
        whole("F5", 1, 1, 3),
        StockUnit("F6", "flat", 36.0, (PieceRef("W2", 2, 1), PieceRef("W1", 2, 1)), 32.0, 0.25),
        whole("F7", 1, 2, 2),
        whole("F8", 1, 2, 3),
        StockUnit("C2", "corner", 36.0, (PieceRef("W2", 1, 1), PieceRef("W1", 2, 4)), 34.875, 0.25),
        whole("F9", 2, 0, 1),
        StockUnit("C3", "corner", 36.0, (PieceRef("W2", 0, 3),), 16.125, 0.125),
        whole("F10", 2, 1, 2),
        StockUnit("C4", "corner", 36.0, (PieceRef("W2", 1, 3),), 9.125, 0.125),
    )


def _piece(
    course: int,
    number: int,
    x: tuple[float, float],
    stock: str,
    ends: str = "factory factory",
    **more: object,
) -> Piece:
    """A piece of full height; a corner piece's finished end and a cut end are named in ``ends``."""
    left, right = ends.split()
    made: dict[str, object] = {
        "y0": course * 8.0,
        "y1": course * 8.0 + 8.0,
        "ripped": False,
        "glued": False,
    }
    made |= {"kind": "whole" if x[1] - x[0] == 36.0 else "crosscut"} | more
    unit = "corner" if stock[0] == "C" else "flat"
    return Piece(course, *x, unit=unit, left=left, right=right, stock=stock, number=number, **made)  # type: ignore[arg-type]


def _front_pieces() -> tuple[Piece, ...]:
    low = {"y1": 20.0, "ripped": True, "glued": True, "kind": "ripped"}
    notch = tuple(
        map(tuple, ((24, 8), (30, 8), (30, 14.5), (42, 14.5), (42, 8), (60, 8), (60, 16), (24, 16)))
    )
    return (
        _piece(0, 1, (0.0, 36.0), "F1"),
        _piece(0, 2, (36.0, 72.0), "F2"),
        _piece(0, 3, (72.0, 96.0), "C1", "cut finished", at=12.0),
        _piece(1, 1, (0.0, 24.0), "F3", "cut factory", at=12.0),
        _piece(1, 2, (24.0, 60.0), "F4", kind="notched", ripped=True, outline=notch),
        _piece(1, 3, (60.0, 96.0), "F5"),
        _piece(2, 1, (0.0, 8.0), "F6", "cut factory", at=28.0, **low),
        _piece(2, 2, (8.0, 44.0), "F7", **low),
        _piece(2, 3, (44.0, 80.0), "F8", **low),
        _piece(2, 4, (80.0, 96.0), "C2", "cut finished", at=20.0, **low),
    )


def _side_pieces() -> tuple[Piece, ...]:
    hole = ((230.0, 10.0), (234.0, 10.0), (234.0, 14.0), (230.0, 14.0))
    slope = ((200.0, 16.0), (224.0, 16.0), (200.0, 20.0))
    return (
        _piece(0, 1, (200.0, 236.0), "F9"),
        _piece(0, 2, (236.0, 247.875), "F3", "factory cut"),
        _piece(0, 3, (247.875, 264.0), "C3", "cut finished", at=19.875),
        _piece(1, 1, (200.0, 218.875), "C2", "finished cut"),
        _piece(1, 2, (218.875, 254.875), "F10", kind="notched", holes=(hole,)),
        _piece(1, 3, (254.875, 264.0), "C4", "cut finished", at=26.875),
        _piece(
            2,
            1,
            (200.0, 224.0),
            "F6",
            "factory cut",
            y1=20.0,
            kind="raked",
            angle=RAKE,
            glued=True,
            outline=slope,
        ),
    )


def _opening(id: str, kind: str, handle: str, path: Path) -> OpeningQuantities:
    region = Region.of(path)
    x0, y0, x1, y1 = region.box
    made = Opening(id, kind, "@y", (handle,), region, touches_base=False)  # type: ignore[arg-type]
    return OpeningQuantities(
        made, path.area, x1 - x0, y1 - y0, y1, y0, path.length, True, 0.0, 0.0, 0.0
    )


def _quantities(
    wall: Wall, opening: OpeningQuantities, *, base: float, rake: float, perimeter: float
) -> WallQuantities:
    gross = wall.region.area
    return WallQuantities(
        wall, gross, opening.area, opening.area, 0.0, 0.0, gross - opening.area, perimeter, base,
        0.0, rake, base,
        (opening,), veneer=wall.region.difference(opening.opening.region),
    )  # fmt: skip


def _front() -> WallTakeoff:
    vent = _opening("W1-O1", "vent", "31", VENT)
    edges = (
        Edge("left", 0.0, 0.0, 20.0, "butt"),
        Edge("right", 96.0, 0.0, 20.0, "outside", "C1", "=A", "3C"),
    )
    wall = Wall("W1", "Front", 0, "A-WALL", ("2F",), Region.of(FRONT), (vent.opening,), edges)
    quantities = _quantities(wall, vent, base=96.0, rake=0.0, perimeter=232.0)
    conflicts = (
        Conflict("sill", "W1-O1", 1, 8.0, 0.0, False, 30.0, 42.0, 0.0, 0.0),
        Conflict("head", "W1-O1", 1, 14.5, 1.5, True, 30.0, 42.0, 1.5, 6.5),
        Conflict("top", None, 2, 20.0, 4.0, False, 0.0, 96.0, 4.0, 4.0),
    )
    lines = (
        CourseLine(0, 0.0, 96.0, 0.0),
        CourseLine(1, 0.0, 96.0, 8.0),
        CourseLine(2, 0.0, 96.0, 16.0),
    )
    return WallTakeoff(wall, quantities, _courses(quantities, lines, conflicts, _front_pieces()))


def _side() -> WallTakeoff:
    light = _opening("W2-O1", "fixture", "4B", LIGHT)
    edges = (
        Edge("left", 200.0, 0.0, 20.0, "outside", "C1", "=A", "4C"),
        Edge("right", 264.0, 0.0, 16.0, "end"),
    )
    wall = Wall("W2", EVIL_NAME, 1, EVIL_LAYER, ("4A",), Region.of(SIDE), (light.opening,), edges)
    quantities = _quantities(wall, light, base=64.0, rake=24.33, perimeter=SIDE.length)
    conflicts = (Conflict("top", None, 1, 16.0, 0.0, False, 224.0, 264.0, 0.0, 0.0),)
    lines = (
        CourseLine(0, 200.0, 264.0, 0.0),
        CourseLine(1, 200.0, 264.0, 8.0),
        CourseLine(2, 200.0, 224.0, 16.0),
    )
    return WallTakeoff(wall, quantities, _courses(quantities, lines, conflicts, _side_pieces()))


def _courses(
    measured: WallQuantities,
    lines: tuple[CourseLine, ...],
    conflicts: tuple[Conflict, ...],
    pieces: tuple[Piece, ...],
) -> WallCourses:
    bands = tuple(Course(i, i * 8.0, i * 8.0 + 8.0) for i in range(3))
    return WallCourses(
        measured.wall.id, 0.0, "base", bands, lines, lines[:1], conflicts, pieces, measured.veneer
    )
