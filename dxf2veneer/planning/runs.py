"""The runs of a course: its stretches that nothing interrupts, and what happens at their two ends.

   |  run 1  | window |     run 2      |      A run is one connected part of the field within
   |_________|        |________________|      the course's band. A fixture or a head half-way up
corner     plain    plain           corner    only notches it; a full-height opening ends it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    LEVEL_SLOPE,
    RUN_CRUMB_SQIN,
    RUN_END_IN,
    THIN_RUN_IN,
)
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Course, Edge, Side, Wall, WallCourses

RunEnd = Literal["plain", "corner", "mitre"]


@dataclass(frozen=True)
class Reach:
    """How far past the drawn ends of a run its pieces reach, in inches; below 0 they stop short.

    outside corner seen from above        The drawn edge is the veneer's own, or the overhang says
     == piece of wall A =.  <- drawn      by how much not. So the piece that butts against the back
    -- wall A ---------|b|   edge of B    of the other wall's corner piece (rule L6) is shorter by
                       |B|                the stone's thickness less that overhang.
    """

    finished: float = 0.0
    turned: float = 0.0
    """A corner piece at an outside corner."""
    butted: float = 0.0
    """What butts against it in the other courses."""
    behind: float = 0.0
    """A corner piece at an inside corner, which the other wall's panel butts against (rule L7)."""
    opening: float = 0.0
    plain: float = 0.0
    lost: float = 0.0
    """What a mitre takes of its panel behind the face, at a bay corner that turns toward you:

        face  =====A=====\\  stone  /=====B=====     b = half the angle between the walls, t the
        back  ============\\       /============     stone's thickness: both backs are longer
                           b                       by t / tan b, which lies between the faces

    At a corner that turns away the backs are shorter, and the cut takes nothing of the faces.
    """
    inside_bays: frozenset[str] = frozenset()
    """Tags and ids of the bay corners that turn toward you."""

    @classmethod
    def of(cls, job: Job, product: Product) -> Reach:
        """The reach of a product's pieces under a job's overhangs."""
        thickness, turned = product.panel.thickness, job.plan.outside_overhang
        return cls(
            finished=job.plan.end_overhang,
            turned=turned,
            butted=-max(0.0, thickness - turned),
            behind=thickness if product.corner.inside == "behind" else 0.0,
            opening=-product.laying.opening_joint,
            plain=-product.laying.end_joint,
            lost=thickness / math.tan(math.radians(job.recognise.bay_angle / 2.0)),
            inside_bays=frozenset(name.upper() for name in job.recognise.bay_inside),
        )

    def lost_at(self, edge: Edge | None) -> float:
        """What a mitre at a run's end takes of its panel behind the face, in inches."""
        if edge is None or edge.kind != "mitre":
            return 0.0
        return self.lost if self.inside_bays & {edge.tag, edge.corner} else 0.0

    def at(self, edge: Edge | None, end: RunEnd, *, is_upright: bool) -> float:
        """How far pieces reach past a run's end.

        Args:
            edge: The wall's edge there, None at an opening, its trim or a rake.
            end: What stands there.
            is_upright: Whether most of the run's end is upright, as beside an opening.

        Returns:
            Inches; below 0 where pieces stop short of it.
        """
        if edge is None:
            return self.opening if is_upright else 0.0
        turns = {"end": self.finished, "outside": self.turned, "inside": self.behind}
        butts = {"outside": self.butted, "butt": self.plain}
        return (turns if end == "corner" else butts).get(edge.kind, 0.0)


@dataclass(frozen=True)
class Run:
    """One run: where its pieces reach (``Reach``), its ends, and the drawn ground between them.

    ``left_edge`` and ``right_edge`` are the wall's side edges at its ends, where there are any;
    ``notches`` are the x at which an upright of an opening meets the run between its ends.
    """

    wall: str
    course: int
    x0: float
    x1: float
    left: RunEnd
    right: RunEnd
    field: Polygon
    left_edge: Edge | None = None
    right_edge: Edge | None = None
    notches: tuple[float, ...] = ()
    turn: int = 0
    """The course's number counted from the level line that ties it to those of other walls."""
    like: str | None = None
    """Id of the earlier wall that its wall is laid like; None where it is like none before it."""
    lost: tuple[float, float] = (0.0, 0.0)
    """What mitres at its left and right end take of their panels behind the faces."""

    @cached_property
    def length(self) -> float:
        """Length that pieces have to make up."""
        return self.x1 - self.x0

    @cached_property
    def face(self) -> float:
        """Width between two outside corners that bound the run; infinite where others do."""
        kinds = [edge.kind for _, edge in self.edges]
        x0, _, x1, _ = self.field.bounds
        return float(x1 - x0) if kinds == ["outside", "outside"] else math.inf

    def end(self, side: Side) -> RunEnd:
        """What stands at its left or right end."""
        return self.left if side == "left" else self.right

    @cached_property
    def edges(self) -> tuple[tuple[Side, Edge], ...]:
        """The side edges at its ends with their hands."""
        ends: tuple[tuple[Side, Edge | None], ...] = (
            ("left", self.left_edge),
            ("right", self.right_edge),
        )
        return tuple((side, edge) for side, edge in ends if edge is not None)


def runs_of(wall: Wall, courses: WallCourses, reach: Reach) -> tuple[tuple[Run, ...], ...]:
    """The runs of each course of a wall.

    Args:
        wall: The wall with its side edges, in inches.
        courses: Its courses and the field that panels cover.
        reach: How far pieces reach past the ends.

    Returns:
        Courses from the bottom up, the runs of each from the left.
    """
    if not courses.courses:
        return ()
    field = courses.field.polygon
    x0, _, x1, _ = wall.box
    bands = shapely.box(
        x0 - 1.0, [c.y0 for c in courses.courses], x1 + 1.0, [c.y1 for c in courses.courses]
    )
    grounds = shapely.intersection(field, bands)
    return tuple(
        tuple(
            sorted(
                _runs(wall, course, courses.rise, ground, reach),
                key=lambda r: (r.x0, r.x1, r.field.bounds),
            )
        )
        for course, ground in zip(courses.courses, grounds, strict=True)
    )


def _runs(
    wall: Wall, course: Course, rise: int, ground: shapely.Geometry, reach: Reach
) -> Iterator[Run]:
    for drawn in shapely.get_parts(ground):
        if not isinstance(drawn, Polygon) or drawn.area <= max(
            RUN_CRUMB_SQIN, THIN_RUN_IN / 2.0 * drawn.length
        ):
            continue
        part = _without_hairs(drawn)
        x0, _, x1, _ = part.bounds
        left = _edge_at(wall.edges, "left", x0, part)
        right = _edge_at(wall.edges, "right", x1, part)
        count = course.index + rise
        ends = _end(left, count), _end(right, count)
        over0, over1 = (
            reach.at(edge, end, is_upright=_is_upright(x, part))
            for edge, end, x in zip((left, right), ends, (x0, x1), strict=True)
        )
        if x1 + over1 - (x0 - over0) <= THIN_RUN_IN:
            continue
        yield Run(
            wall=wall.id,
            course=course.index,
            x0=x0 - over0,
            x1=x1 + over1,
            left=ends[0],
            right=ends[1],
            field=part,
            left_edge=left,
            right_edge=right,
            notches=_notches(part),
            turn=count,
            lost=(reach.lost_at(left), reach.lost_at(right)),
        )


def _without_hairs(ground: Polygon) -> Polygon:
    """The ground without what is thinner than rounding: a base a hair off the course line leaves
    such."""
    if len(ground.exterior.coords) == 5 and not ground.interiors:
        return ground
    opened = ground.buffer(-THIN_RUN_IN / 2.0, join_style="mitre").buffer(
        THIN_RUN_IN / 2.0, join_style="mitre"
    )
    hairs = ground.area - opened.area
    return (
        opened
        if isinstance(opened, Polygon)
        and not opened.is_empty
        and hairs > 0.0
        and opened.bounds != ground.bounds
        else ground
    )


def _edge_at(edges: Sequence[Edge], side: Side, x: float, ground: Polygon) -> Edge | None:
    """The side edge that the end of a run lies at: of those near x the one that shares most of its
    height. An edge that leans a little is known by its mean x."""
    near = [
        e
        for e in edges
        if e.side == side and abs(e.x - x) <= RUN_END_IN + LEVEL_SLOPE / 2.0 * e.length
    ]
    if not near:
        return None
    ys = [y for ring in (ground.exterior,) for px, y in ring.coords if abs(px - x) <= RUN_END_IN]
    low, high = min(ys), max(ys)
    shared = [(min(e.y1, high) - max(e.y0, low), e) for e in near]
    most, edge = max(shared, key=lambda pair: pair[0])
    return edge if most > THIN_RUN_IN else None


def _end(edge: Edge | None, count: int) -> RunEnd:
    """What stands at a run's end: in turn a corner piece or a plain end at corners (rules L6,
    L7)."""
    if edge is None or edge.kind == "butt":
        return "plain"
    if edge.kind == "mitre":
        return "mitre"
    return "corner" if edge.kind == "end" or _carries(edge.side, count) else "plain"


def _carries(side: Side, count: int) -> bool:
    """Even courses are carried by the wall whose right edge is at the corner, odd ones by the
    other."""
    return (count % 2 == 0) == (side == "right")


def _is_upright(x: float, ground: Polygon) -> bool:
    """Whether the ground's end at x is upright over most of its height."""
    ys = [y for px, y in ground.exterior.coords if abs(px - x) <= RUN_END_IN]
    _, low, _, high = ground.bounds
    return bool(max(ys) - min(ys) > (high - low) / 2.0)


def _notches(ground: Polygon) -> tuple[float, ...]:
    """The x of uprights inside the run, those of holes included."""
    x0, _, x1, _ = ground.bounds
    if len(ground.exterior.coords) == 5 and not ground.interiors:
        return ()
    found = set()
    for ring in (ground.exterior, *ground.interiors):
        points = list(ring.coords)
        for (xa, ya), (xb, yb) in pairwise(points):
            if abs(xa - xb) <= EXACT_IN < abs(ya - yb) and x0 + RUN_END_IN < xa < x1 - RUN_END_IN:
                found.add(round(xa, 6))
    return tuple(sorted(found))
