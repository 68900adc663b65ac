"""Course plans laid out by hand, small enough to check on paper, for the tests of the judge.

A course is a row of places and units from left to right: ``"0 C1< 20 F1 56 F2> 72"`` lays the
left-hand piece of corner unit C1 from 0 to 20, the whole flat panel F1 to 56, and of F2 a part that
keeps the right (factory) end to 72. ``<`` keeps the unit's left end and ``>`` its right one; an
``m`` beside it is the mitre at the other end: ``F2<m`` or ``F2m>``. A bar before a place begins
another run: ``| 44 F4< 72``.

Panels are 36 by 8 in, the least piece and the stagger 8 in, a saw cut 1/8 in where nothing else is
said.
"""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Mapping
from itertools import pairwise

from builders import PRODUCT, drawing, job, measured

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.model import (
    CoursePlan,
    Piece,
    PieceRef,
    StockCount,
    StockUnit,
    WallCount,
    WallTakeoff,
)

SIDE = 36.0
KEPT = {"F": "factory", "C": "finished"}


@dataclasses.dataclass(frozen=True)
class Hand:
    """A plan laid by hand: bare walls, their rows by (wall, course), and what pieces are beside
    plain rectangles by (wall, course, number). A tuple of changes lays several pieces above one
    another."""

    bare: tuple[WallTakeoff, ...]
    rows: Mapping[tuple[str, int], str]
    shapes: Mapping[tuple[str, int, int], tuple[dict, ...]] = dataclasses.field(
        default_factory=dict
    )
    job: Job = dataclasses.field(default_factory=job)
    product: Product = PRODUCT

    def relaid(self, rows: Mapping[tuple[str, int], str] | None = None, **changes) -> Hand:
        """The same with other rows, or other settings of its own."""
        return dataclasses.replace(self, rows={**self.rows, **(rows or {})}, **changes)

    def planned(self) -> Planned:
        """The walls with their pieces and the plan."""
        walls = tuple(self._with_pieces(w) for w in self.bare)
        return Planned(walls, _plan(walls, self.job.plan.kerf), self.job, self.product)

    def _with_pieces(self, wall: WallTakeoff) -> WallTakeoff:
        pieces = [
            p for c in wall.courses.courses for p in self._row(wall.wall.id, c.index, c.y0, c.y1)
        ]
        return dataclasses.replace(
            wall, courses=dataclasses.replace(wall.courses, pieces=tuple(pieces))
        )

    def _row(self, wall: str, course: int, y0: float, y1: float) -> list[Piece]:
        tokens = self.rows.get((wall, course), "").replace("|", " | ").split()
        pieces: list[Piece] = []
        for x0, unit, x1 in zip(tokens, tokens[1:], tokens[2:], strict=False):
            if not re.match("[FC]", unit) or "|" in (x0, x1):
                continue
            plain = _piece(course, float(x0), float(x1), y0, y1, unit)
            slot = len(pieces) + 1
            for change in self.shapes.get((wall, course, slot), ({},)):
                pieces.append(dataclasses.replace(plain, **{"number": len(pieces) + 1, **change}))
        return pieces


def _piece(course: int, x0: float, x1: float, y0: float, y1: float, token: str) -> Piece:
    stock, ends = re.fullmatch(r"([FC]\d+)(.*)", token).groups()
    own, whole = KEPT[stock[0]], ends == ""
    left = own if whole or "<" in ends else "mitre" if ends == "m>" else "cut"
    right = own if whole or ">" in ends else "mitre" if ends == "<m" else "cut"
    kind = "mitred" if "m" in ends else "whole" if whole else "crosscut"
    at = SIDE - (x1 - x0) if ">" in ends else 0.0
    unit = "flat" if stock[0] == "F" else "corner"
    return Piece(course, x0, x1, y0, y1, unit, left, right, False, False, stock, kind=kind, at=at)


@dataclasses.dataclass(frozen=True)
class Planned:
    """A plan as the judge gets it."""

    walls: tuple[WallTakeoff, ...]
    plan: CoursePlan
    job: Job
    product: Product

    def piece(self, wall: str, course: int, number: int) -> Piece:
        """One of its pieces."""
        return next(p for p in self._pieces(wall) if (p.course, p.number) == (course, number))

    def _pieces(self, wall: str) -> tuple[Piece, ...]:
        return next(w for w in self.walls if w.wall.id == wall).courses.pieces

    def with_piece(self, wall: str, course: int, number: int, /, **changes) -> Planned:
        """The same with one piece changed and nothing else: its unit and the counts stay."""
        old = self.piece(wall, course, number)
        return self._with_pieces(
            wall, (dataclasses.replace(p, **changes) if p is old else p for p in self._pieces(wall))
        )

    def without_piece(self, wall: str, course: int, number: int) -> Planned:
        """The same without one piece."""
        return self._with_pieces(
            wall, (p for p in self._pieces(wall) if (p.course, p.number) != (course, number))
        )

    def _with_pieces(self, wall: str, pieces) -> Planned:
        kept = tuple(pieces)
        walls = tuple(
            dataclasses.replace(w, courses=dataclasses.replace(w.courses, pieces=kept))
            if w.wall.id == wall
            else w
            for w in self.walls
        )
        return dataclasses.replace(self, walls=walls)

    def with_unit(self, id_: str, **changes) -> Planned:
        """The same with one unit changed and nothing else."""
        units = tuple(
            dataclasses.replace(u, **changes) if u.id == id_ else u for u in self.plan.units
        )
        return self.with_plan(units=units)

    def with_plan(self, **changes) -> Planned:
        """The same with values of the plan changed."""
        return dataclasses.replace(self, plan=dataclasses.replace(self.plan, **changes))


def _plan(walls: tuple[WallTakeoff, ...], kerf: float) -> CoursePlan:
    """The units that the pieces name, in the order of their first use, and their counts."""
    cut: dict[str, dict[tuple, list[tuple[str, Piece]]]] = {}
    for wall in walls:
        for p in wall.courses.pieces:
            cut.setdefault(p.stock, {}).setdefault((p.at, p.x0, p.course, wall.wall.id), []).append(
                (wall.wall.id, p)
            )
    first = {id_: next(iter(parts))[-1] for id_, parts in cut.items()}
    ordered = {id_: [parts[key] for key in sorted(parts)] for id_, parts in cut.items()}
    units = tuple(_unit(id_, parts, kerf) for id_, parts in ordered.items())
    flat, corner = (
        {u.id: ordered[u.id] for u in units if u.kind == kind} for kind in ("flat", "corner")
    )
    shares = tuple(
        WallCount(
            wall,
            flat=sum(first[id_] == wall for id_ in flat),
            share=0.0,
            corner=sum(first[id_] == wall for id_ in corner),
            pieces=sum(part[0][0] == wall for parts in ordered.values() for part in parts),
            cuts=0,
            bound=0,
            waste=0.0,
        )
        for wall in (w.wall.id for w in walls)
    )
    return CoursePlan(
        units, _count("factory", flat, kerf), _count("finished", corner, kerf), shares, bound=0
    )


def _spans(parts: list[list[tuple[str, Piece]]]) -> list[tuple[float, float]]:
    return [(part[0][1].at, part[0][1].at + part[0][1].length) for part in parts]


def _cuts_between(parts: list[list[tuple[str, Piece]]], kerf: float) -> int:
    """One cut where two parts lie a kerf apart, two where a rest lies between them."""
    return sum(1 if c - b <= kerf + 1e-9 else 2 for (_, b), (c, _) in pairwise(_spans(parts)))


def _unit(id_: str, parts: list[list[tuple[str, Piece]]], kerf: float) -> StockUnit:
    refs = tuple(PieceRef(wall, p.course, p.number) for part in parts for wall, p in part)
    used = sum(b - a for a, b in _spans(parts))
    return StockUnit(
        id_,
        "flat" if id_[0] == "F" else "corner",
        SIDE,
        refs,
        used,
        sum(min(c - b, 2 * kerf) for (_, b), (c, _) in pairwise(_spans(parts))),
    )


def _count(
    kept: str, units: Mapping[str, list[list[tuple[str, Piece]]]], kerf: float
) -> StockCount:
    pieces = [part[0][1] for parts in units.values() for part in parts]
    ends = sum((_spans(p)[0][0] > 0) + (_spans(p)[-1][1] < SIDE) for p in units.values())
    return StockCount(
        units=len(units),
        pieces=len(pieces),
        pieces_length=math.fsum(p.length for p in pieces),
        cuts=ends + sum(_cuts_between(p, kerf) for p in units.values()),
        left=sum(p.left == kept != p.right for p in pieces),
        right=sum(p.right == kept != p.left for p in pieces),
        bounds=(),
    )


def bare_wall(
    id_: str, outline, edges: str, *, corners: str = "- -", rules: Job | None = None, **openings
) -> WallTakeoff:
    """A wall with its courses and no pieces. ``edges`` are the kinds of its left and right edge,
    ``corners`` their corners' ids."""
    rules = rules or job()
    quantities = measured(drawing(wall=[outline], **openings), rules)
    kinds, ids = (
        dict(zip(("left", "right"), names.split(), strict=True)) for names in (edges, corners)
    )
    marked = tuple(
        dataclasses.replace(
            e, kind=kinds[e.side], corner=None if ids[e.side] == "-" else ids[e.side]
        )
        for e in quantities.wall.edges
    )
    wall = dataclasses.replace(quantities.wall, id=id_, edges=marked)
    quantities = dataclasses.replace(quantities, wall=wall)
    return WallTakeoff(wall, quantities, course_wall(quantities, rules, PRODUCT))


# ------------------------------------------------------------------- plans

NO_KERF = job(plan__kerf=0.0)

BOND = Hand(
    (bare_wall("W1", (0, 0, 120, 24), "butt butt"),),
    {
        ("W1", 0): "0 F1 36 F2 72 F3 108 F4< 120",
        ("W1", 1): "0 F4> 24 F5 60 F6 96 F7< 120",
        ("W1", 2): "0 F7> 12 F8 48 F9 84 F10 120",
    },
    job=NO_KERF,
)
"""Ten feet between butt ends, ten panels for three courses, nothing left over: F4 and F7 serve two
courses each.

24 +----+---------------+---------------+---------------+
   |F7> |      F8       |      F9       |      F10      |
16 +----+----+----------+----+----------+----+----------+
   |   F4>   |      F5       |      F6       |   F7<    |
 8 +---------+-----+---------+-----+---------+-----+----+
   |      F1       |      F2       |      F3       |F4< |
 0 +---------------+---------------+---------------+----+
   0    12   24    36   48   60    72   84   96   108  120
"""

COLUMN = Hand(
    (bare_wall("W1", (0, 0, 16, 32), "outside outside"),),
    {
        ("W1", 0): "0 C1> 16",
        ("W1", 1): "0 C1< 16",
        ("W1", 2): "0 C2> 16",
        ("W1", 3): "0 C2< 16",
    },
)
"""One side of a 16 in column between two outside corners: a single corner piece in each course,
turn by turn (L12).

32 +--C2<--+    even courses: the right edge is finished
   |---C2>-|    odd courses: the left edge
   |--C1<--|
 0 +---C1>-+
   0       16
"""

HOUSE = Hand(
    (
        bare_wall("W1", (0, 0, 100, 32), "end outside", corners="- K1"),
        bare_wall("W2", (200, 0, 280, 32), "outside inside", corners="K1 K2"),
    ),
    {
        ("W1", 0): "0 C1< 20 F1 56 F2 92 C2> 100",
        ("W1", 1): "0 C3< 9 F3 45 F4 81 F5< 100",
        ("W1", 2): "0 C4< 19 F6 55 F7 91 C5> 100",
        ("W1", 3): "0 C6< 10 F8 46 F9 82 F10< 100",
        ("W2", 0): "200 F11 236 F12 272 C1> 280",
        ("W2", 1): "200 C2< 211 F13 247 F14< 280",
        ("W2", 2): "200 F15> 224 F16 260 C3> 280",
        ("W2", 3): "200 C5< 212 F17 248 F18< 280",
    },
)
"""Two walls that meet at outside corner K1; W1 ends finished at its left, W2 turns inside at its
right.

   W1 (end ... outside K1)                            W2 (outside K1 ... inside)
32 +C6<-|     F8     |     F9     |-----F10<-+        +-C5<-|     F17    |----F18<---+
   |---C4<---|   F6     |    F7        |-C5>-|        |---F15>---|    F16    |--C3>--|
   |C3<-|     F3     |     F4     |-----F5<--|        |-C2<-|     F13    |----F14<---|
 0 +---C1<---|   F1     |    F2        |-C2>-+        +----F11-----|---F12-----|-C1>-+
   0                                        100      200                           280

Corner units: C1 20 + 8, C2 11 + 8, C3 9 + 20, C4 19, C5 12 + 9, C6 10 (left + right).
"""

GABLE = Hand(
    (
        bare_wall(
            "W1",
            [(0, 0), (72, 0), (72, 24), (24, 32), (0, 24)],
            "butt butt",
            opening=[(28, 6, 44, 20)],
        ),
    ),
    {
        ("W1", 0): "0 F1 36 F2 72",
        ("W1", 1): "0 F3< 28 | 44 F4< 72",
        ("W1", 2): "0 F5> 24 F6 60 F7< 72",
        ("W1", 3): "0 F8 36 F9 72",
    },
    {
        ("W1", 0, 1): (
            {
                "kind": "notched",
                "ripped": True,
                "outline": ((0, 0), (36, 0), (36, 6), (28, 6), (28, 8), (0, 8)),
            },
        ),
        ("W1", 0, 2): (
            {
                "kind": "notched",
                "ripped": True,
                "outline": ((36, 0), (72, 0), (72, 8), (44, 8), (44, 6), (36, 6)),
            },
        ),
        ("W1", 2, 2): (
            {
                "kind": "notched",
                "ripped": True,
                "outline": (
                    (24, 16),
                    (28, 16),
                    (28, 20),
                    (44, 20),
                    (44, 16),
                    (60, 16),
                    (60, 24),
                    (24, 24),
                ),
            },
        ),
        ("W1", 3, 1): (
            {
                "kind": "raked",
                "glued": True,
                "angle": 18.43,
                "outline": ((0, 24), (36, 24), (36, 30), (24, 32)),
            },
        ),
        ("W1", 3, 2): (
            {
                "kind": "raked",
                "glued": True,
                "angle": 9.46,
                "y1": 30.0,
                "outline": ((36, 24), (72, 24), (36, 30)),
            },
        ),
    },
)
"""A gable with a window off the course lines (sill at 6, head at 20); rakes of 8 in 24 and 8 in 48
meet at (24, 32).

          . 32
     F8 .'  |'-.._    F9
24 +--------+----+-+--._-----+
   |   F5>  |  .----. F6 |F7<|
16 +--------+--|    |--+-----+
   |    F3<    |    |   F4<  |
 8 +-----------|----|--------+
   |      F1   '--+-' F2     |
 0 +--------------+----------+
   0       24  28 36 44  60  72
"""

SLOT = Hand(
    (bare_wall("W1", (0, 0, 108, 8), "butt butt", opening=[(30, 3, 78, 5)]),),
    {("W1", 0): "0 F1 36 F2 72 F3 108"},
    {
        ("W1", 0, 1): (
            {
                "kind": "notched",
                "ripped": True,
                "outline": ((0, 0), (36, 0), (36, 3), (30, 3), (30, 5), (36, 5), (36, 8), (0, 8)),
            },
        ),
        ("W1", 0, 2): (
            {"kind": "ripped", "ripped": True, "glued": True, "y1": 3.0},
            {"kind": "ripped", "ripped": True, "y0": 5.0},
        ),
        ("W1", 0, 4): (
            {
                "kind": "notched",
                "ripped": True,
                "outline": (
                    (72, 0),
                    (108, 0),
                    (108, 8),
                    (72, 8),
                    (72, 5),
                    (78, 5),
                    (78, 3),
                    (72, 3),
                ),
            },
        ),
    },
)
"""A slot 2 in high cuts the middle panel in two: pieces 2 (below, glued) and 3 (above) are one part
of F2.

8 +---------+-----------+--------+
  |   F1 .--|-----------|--. F3  |
  |      '--|-----------|--'     |
0 +---------+----F2-----+--------+
  0     30  36          72 78   108
"""

BAY = Hand(
    (
        bare_wall("W1", (0, 0, 60, 16), "butt mitre", corners="- B1"),
        bare_wall("W2", (100, 0, 165, 16), "mitre butt", corners="B1 -"),
    ),
    {
        ("W1", 0): "0 F1> 10 F2 46 F3<m 60",
        ("W1", 1): "0 F4 36 F5<m 60",
        ("W2", 0): "100 F3m> 121 F6 157 F7< 165",
        ("W2", 1): "100 F5m> 111 F8 147 F9< 165",
    },
)
r"""Two walls that meet at bay corner B1: the mitred pieces F3 (14 + 21) and F5 (24 + 11) come from
one panel each.

   W1 (butt ... bay B1)                  W2 (bay B1 ... butt)
16 +-----F4-----|---F5<m---/             \-F5m>-|----F8----|-F9<-+
   |F1>|-----F2------|F3<m-/             \--F3m>--|----F6----|F7<-+
   0  10        36  46     60            100 111  121    147 157  165
"""

PLANS = {"bond": BOND, "column": COLUMN, "house": HOUSE, "gable": GABLE, "slot": SLOT, "bay": BAY}
