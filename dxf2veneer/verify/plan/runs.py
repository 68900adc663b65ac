"""What the judge sees of a wall: the runs of its courses, their ends, and the pieces laid in them.

All of it is worked out from the wall's field, its edges and the pieces' own numbers.

        run                        run
     .--------.                 .-------.     part    what was laid as one: a piece, or the pieces
     |  1 | 2 |    opening      |   3   |             above and below a slot that share one x-range
     '--------'                 '-------'     end     where a run begins or ends, with the wall's
    end      end               end     end            edge that rules it, if any
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Message
from dxf2veneer.basics.tolerances import (
    JUDGE_CRUMB_SQIN,
    JUDGE_LENGTH_IN,
    JUDGE_PLACE_IN,
    JUDGE_THIN_IN,
    LEVEL_SLOPE,
)
from dxf2veneer.geometry import Point, Region
from dxf2veneer.model import Course, Edge, Piece, PieceEnd, PieceUnit, RuleBreak, Side, WallTakeoff


@dataclass(frozen=True)
class LaidPart:
    """What was laid as one: a piece, or several of one x-range where a slot runs through it."""

    pieces: tuple[Piece, ...]
    x0: float
    x1: float
    length: float
    unit: PieceUnit
    stock: str
    at: float

    @classmethod
    def of(cls, pieces: tuple[Piece, ...]) -> LaidPart:
        """The pieces as one."""
        first = pieces[0]
        return cls(pieces, first.x0, first.x1, first.length, first.unit, first.stock, first.at)

    @property
    def numbers(self) -> tuple[int, ...]:
        """Its number or numbers in the course."""
        return tuple(p.number for p in self.pieces)

    def end(self, side: Side) -> PieceEnd:
        """What its left or right end is."""
        return self.pieces[0].left if side == "left" else self.pieces[0].right

    @property
    def middle(self) -> tuple[float, float]:
        """A place in its middle."""
        return (self.x0 + self.x1) / 2, (self.pieces[0].y0 + self.pieces[0].y1) / 2


@dataclass(frozen=True)
class RunEnd:
    """One end of a run: its place, the edge that rules it if any, whether this course carries a
    corner piece there, and whether it is upright with no edge of the wall: a jamb, a jamb stone."""

    side: Side
    x: float
    y: float
    edge: Edge | None
    carries: bool
    is_jamb: bool = False

    @property
    def kind(self) -> str:
        """Kind of its edge; ``butt`` at jambs, rakes and trim."""
        return self.edge.kind if self.edge else "butt"


@dataclass(frozen=True)
class JudgedRun:
    """A connected stretch of one course's field with what was laid there, from left to right."""

    wall: str
    course: Course
    rank: int
    """The course's number among courses that run on around a corner: its index, or, where a level
    line ties them, how many courses it begins above that line."""
    field: Polygon
    left: RunEnd
    right: RunEnd
    laid: tuple[LaidPart, ...]

    @property
    def length(self) -> float:
        """From its least to its greatest x."""
        return self.right.x - self.left.x

    def broken(
        self,
        rule: str,
        at: tuple[float, float],
        message: Message,
        *,
        forced: bool = False,
        beside: Iterable[JudgedRun] = (),
    ) -> RuleBreak:
        """A broken rule in this run, and in those beside it."""
        others = tuple((run.wall, run.course.index) for run in beside)
        return RuleBreak(
            rule, self.wall, self.course.index, at, message, forced=forced, beside=others
        )


@dataclass(frozen=True)
class JudgedWall:
    """One wall as the judge sees it.

    Its runs in order; ``stray`` is what was laid in no run, in a course that may not exist.
    """

    wall: WallTakeoff
    runs: tuple[JudgedRun, ...]
    stray: tuple[LaidPart, ...]

    @cached_property
    def by_course(self) -> dict[int, list[JudgedRun]]:
        """The runs of each course, from left to right."""
        found: dict[int, list[JudgedRun]] = defaultdict(list)
        for run in self.runs:
            found[run.course.index].append(run)
        return found


def judged_wall(wall: WallTakeoff) -> JudgedWall:
    """The runs of one wall, each with its ends and what was laid in it.

    Args:
        wall: The wall with its field, edges, courses and pieces, in inches.

    Returns:
        The wall as the judge sees it.
    """
    laid: dict[int, list[LaidPart]] = defaultdict(list)
    for one in _laid(wall.courses.pieces):
        laid[one.pieces[0].course].append(one)
    runs, stray = [], []
    for course, run_fields in _run_fields(wall.courses.field, wall.courses.courses):
        shares, rest = _share(run_fields, laid.pop(course.index, []))
        runs += [
            _run(wall, course, g, tuple(share)) for g, share in zip(run_fields, shares, strict=True)
        ]
        stray += rest
    return JudgedWall(wall, tuple(runs), (*stray, *(one for rest in laid.values() for one in rest)))


def outline_of(piece: Piece) -> tuple[Point, ...]:
    """The piece's boundary: its own, or its plain rectangle's.

    Args:
        piece: A piece of the plan.

    Returns:
        Its corners in inches, the first not repeated.
    """
    plain = ((piece.x0, piece.y0), (piece.x1, piece.y0), (piece.x1, piece.y1), (piece.x0, piece.y1))
    return piece.outline or plain


def shape_of(piece: Piece) -> BaseGeometry:
    """What a piece says it covers.

    Args:
        piece: A piece of the plan.

    Returns:
        Its shape in inches, made valid; empty where the outline has fewer than three corners.
    """
    outline = outline_of(piece)
    if len(outline) < 3:
        return Polygon()
    shape = Polygon(outline, [h for h in piece.holes if len(h) > 2])
    return shape if shape.is_valid else shapely.make_valid(shape)


def thick_parts(shape: BaseGeometry) -> list[BaseGeometry]:
    """The parts of a shape that are more than rounding.

    Args:
        shape: Any shape, in inches.

    Returns:
        Its connected parts that are thick.
    """
    return [p for p in shapely.get_parts(shape) if is_thick(p)]


def is_thick(part: BaseGeometry) -> bool:
    """Whether a connected shape is more than rounding.

    Args:
        part: A connected shape, in inches.

    Returns:
        True unless it is a line or a crumb without area to speak of.
    """
    area = part.area
    return bool(area > JUDGE_CRUMB_SQIN and 2.0 * area > JUDGE_THIN_IN * part.length)


def _laid(pieces: Sequence[Piece]) -> list[LaidPart]:
    """Pieces in order of place, those of one course, unit and x-range together."""
    groups: dict[tuple[int, str, int, int, int], list[Piece]] = defaultdict(list)
    for p in sorted(pieces, key=lambda p: (p.course, p.x0, p.x1, p.y0)):
        places = [round(v / JUDGE_LENGTH_IN) for v in (p.x0, p.x1, p.at)]
        groups[p.course, p.stock, places[0], places[1], places[2]].append(p)
    whole = []
    for group in groups.values():
        apart = all(
            a.y1 <= b.y0 + JUDGE_PLACE_IN or a.outline or b.outline for a, b in pairwise(group)
        )
        whole += [LaidPart.of(tuple(group))] if apart else [LaidPart.of((p,)) for p in group]
    return whole


def _run_fields(field: Region, courses: Sequence[Course]) -> list[tuple[Course, list[Polygon]]]:
    """The connected parts of the field in each course, from left to right.

    The field's boundary and the course lines divide the plane into faces (a planar subdivision); a
    face inside the field is one run.
    """
    if not courses:
        return []
    shape = field.polygon
    x0, _, x1, _ = field.box
    lines = np.unique([y for c in courses for y in (c.y0, c.y1)])
    ends = np.array([[(x0 - 1.0, y), (x1 + 1.0, y)] for y in lines])
    noded = shapely.union_all([shape.boundary, *shapely.linestrings(ends)])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    places = shapely.get_coordinates(shapely.point_on_surface(faces))
    inside = shapely.contains_xy(shape, places)
    parts: list[list[Polygon]] = [[] for _ in courses]
    tops = np.array([c.y1 for c in courses])
    faces, places = faces[inside], places[inside]
    for k in np.lexsort((shapely.bounds(faces)[:, 1], shapely.bounds(faces)[:, 0])):
        i = int(np.searchsorted(tops, places[k, 1]))
        if i < len(courses) and places[k, 1] > courses[i].y0 and is_thick(faces[k]):
            parts[i].append(faces[k])
    return list(zip(courses, parts, strict=True))


def _share(
    run_fields: Sequence[Polygon], laid: Sequence[LaidPart]
) -> tuple[list[list[LaidPart]], list[LaidPart]]:
    """What was laid in each run of a course, and what in none."""
    shares: list[list[LaidPart]] = [[] for _ in run_fields]
    stray = []
    spans = [(g.bounds[0], g.bounds[2]) for g in run_fields]
    for one in laid:
        near = [
            i for i, (a, b) in enumerate(spans) if min(b, one.x1) - max(a, one.x0) > JUDGE_LENGTH_IN
        ]
        if len(near) > 1:
            shape = shapely.union_all([shape_of(p) for p in one.pieces])
            area = {i: shape.intersection(run_fields[i]).area for i in near}
            near = [max(near, key=lambda i: area[i])]
        if near:
            shares[near[0]].append(one)
        else:
            stray.append(one)
    return shares, stray


def _run(
    wall: WallTakeoff, course: Course, run_field: Polygon, laid: tuple[LaidPart, ...]
) -> JudgedRun:
    turn, level = course.index + wall.courses.turn, wall.wall.level_y
    left, right = (
        _end(side, wall.wall.edges, course, turn, run_field) for side in ("left", "right")
    )
    rank = (
        course.index
        if level is None
        else math.floor((course.y0 - level) / (course.y1 - course.y0) + JUDGE_LENGTH_IN)
    )
    return JudgedRun(
        wall.wall.id,
        course,
        rank,
        run_field,
        left,
        right,
        tuple(sorted(laid, key=lambda one: (one.x0, one.x1))),
    )


def _end(
    side: Side, edges: Sequence[Edge], course: Course, turn: int, run_field: Polygon
) -> RunEnd:
    """An end of a run and the edge that overlaps most of its height there, the lower of two equals.

    An edge drawn nearly upright is known by its mean x only; it may lean by half of ``LEVEL_SLOPE``
    of its length to either side.
    """
    x0, y0, x1, y1 = run_field.bounds
    x = x0 if side == "left" else x1
    near = [
        e
        for e in edges
        if e.side == side and abs(e.x - x) <= JUDGE_PLACE_IN + LEVEL_SLOPE / 2 * e.length
    ]
    best, ruling = JUDGE_PLACE_IN, None
    points = shapely.get_coordinates(run_field.exterior)
    ys = points[
        np.abs(points[:, 0] - x) <= JUDGE_PLACE_IN + LEVEL_SLOPE * (course.y1 - course.y0), 1
    ]
    if near:
        for edge in sorted(near, key=lambda e: e.y0):
            overlap = min(edge.y1, float(ys.max())) - max(edge.y0, float(ys.min()))
            if overlap > best + JUDGE_LENGTH_IN:
                best, ruling = overlap, edge
    is_jamb = ruling is None and float(np.ptp(ys)) > (y1 - y0) / 2
    return RunEnd(side, x, (y0 + y1) / 2, ruling, _carries(ruling, turn), is_jamb)


def _carries(edge: Edge | None, turn: int) -> bool:
    """Whether a corner piece stands at the edge in the course of that number.

    At an end in every course (L8); at corners the two walls take turns: in even courses the wall
    whose right edge is at the corner, in odd ones the other (L6, L7). Courses count from the level
    line where there is one, so that walls with different bases take turns all the same.
    """
    if edge is None or edge.kind in ("butt", "mitre"):
        return False
    return edge.kind == "end" or (turn % 2 == 0) == (edge.side == "right")
