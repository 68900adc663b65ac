"""What a person decides in the page, as plain values in drawing units."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, cast

from shapely.geometry import Polygon

from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.config.job_values import Outline, Window
from dxf2veneer.propose import Proposal
from dxf2veneer.propose.telling import told
from dxf2veneer.wording import say

Kind = Literal["wall", "window", "door", "garage", "vent", "fixture"]
Point = tuple[float, float]
Points = tuple[Point, ...]

KINDS: tuple[Kind, ...] = ("wall", "window", "door", "garage", "vent", "fixture")
_STRAIGHT = 1e-6
"""A corner this near to the line of its neighbors, as a share of the outline's size, is none."""
_DIGITS = 12
"""Significant digits of a coordinate, counted from the largest of its outline."""


class Unit(NamedTuple):
    """What one drawing unit is."""

    name: str | None
    """Short name; None where the drawing's header counts."""
    scale: float = 1.0
    """True size = drawn size x scale."""

    @property
    def inches(self) -> float | None:
        """Inches in one drawing unit; None where only the header knows."""
        return unit_by_name(self.name).inches * self.scale if self.name else None


_BY_HEADER = Unit(None)


@dataclass(frozen=True)
class Mark:
    """One wall or opening."""

    id: int
    """The same as long as the page is open."""
    kind: Kind
    """What it is."""
    name: str
    """Of a wall; empty without one."""
    outline: Points
    """Corners in order, counter-clockwise, the first not repeated."""
    note: str = ""
    """The comment on its line of the job file: how sure the proposal is of it and why."""
    sure: float | None = None
    """Confidence of the proposal, from 0 to 1; None where a person made it."""

    @property
    def polygon(self) -> Polygon:
        """Its area."""
        return Polygon(self.outline)


@dataclass(frozen=True)
class LineMark:
    """A line along an edge, a cap or a level."""

    id: int
    """The same as long as the page is open; no other mark has it."""
    kind: str
    """One of ``config.job_values.LINE_KINDS``."""
    tag: str
    """What two edges of one corner have in common; empty without one."""
    points: tuple[Point, Point]
    """Its ends in drawing units."""


@dataclass(frozen=True)
class Marks:
    """Everything that the page decides about a job."""

    marks: tuple[Mark, ...] = ()
    """In the order of the job file."""
    unit: Unit = _BY_HEADER
    """The drawing's unit."""
    lines: tuple[LineMark, ...] = ()
    """Lines along edges, caps and levels."""
    looked_at: frozenset[str] = frozenset()
    """Ids of the views that a person has looked at."""
    windows: tuple[Window, ...] = ()
    """Boxes outside of which nothing is read; none where everything is."""

    @property
    def walls(self) -> tuple[Mark, ...]:
        """The walls."""
        return tuple(m for m in self.marks if m.kind == "wall")

    @property
    def openings(self) -> tuple[Mark, ...]:
        """The openings."""
        return tuple(m for m in self.marks if m.kind != "wall")

    @property
    def next_id(self) -> int:
        """An id that no mark has."""
        return 1 + max([*(m.id for m in self.marks), *(m.id for m in self.lines)], default=0)

    def by_id(self, mark: int) -> Mark:
        """The mark of an id. Raises KeyError."""
        return {m.id: m for m in self.marks}[mark]

    def having(self, marks: Iterable[Mark]) -> Marks:
        """The same with other marks."""
        return dataclasses.replace(self, marks=tuple(marks))


def corners_of(points: Iterable[Point]) -> Points:
    """The corners of an outline, counter-clockwise.

    Args:
        points: Its points in order, the first repeated or not.

    Returns:
        Points without those on a straight side; empty where they enclose nothing.
    """
    listed = list(points)
    if len(listed) < 3:
        return ()
    ring = Polygon(listed)
    if ring.is_empty or not ring.is_valid or ring.area <= 0.0:
        return ()
    x0, y0, x1, y1 = ring.bounds
    slim = ring.simplify(_STRAIGHT * max(x1 - x0, y1 - y0)).normalize()
    corners = list(slim.exterior.coords)[:-1]
    if not slim.exterior.is_ccw:
        corners.reverse()
    reach = max(abs(v) for corner in corners for v in corner)
    places = _DIGITS - math.ceil(math.log10(reach)) if reach else 0
    found = tuple(
        (round(float(x), places) + 0.0, round(float(y), places) + 0.0) for x, y in corners
    )
    return found if Polygon(found).is_valid else ()


def proposed(proposal: Proposal, unit: Unit) -> Marks:
    """The marks that a proposal comes to.

    Args:
        proposal: What was found in the drawing.
        unit: The unit to begin with.

    Returns:
        A mark for each wall and opening, with how sure the proposal is of it and why.
    """
    titles = {v.id: v.title or v.id for v in proposal.views}
    marks: list[Mark] = []
    for wall in proposal.walls:
        beside = proposal.walls_of(wall.view)
        number = f" {beside.index(wall) + 1}" if len(beside) > 1 else ""
        name = " ".join(f"{titles.get(wall.view, '')}{number}".replace("=", " ").split())
        note = f"{wall.confidence:.0%}, {say(told(wall.reason))}"
        outline = corners_of(wall.outline)
        marks.append(Mark(len(marks) + 1, "wall", name, outline, note, wall.confidence))
    for o in proposal.openings:
        note = f"{o.confidence:.0%}, {say(told(o.reason))}"
        marks.append(Mark(len(marks) + 1, o.kind, "", corners_of(o.outline), note, o.confidence))
    return Marks(tuple(m for m in marks if m.outline), unit)


def of_job(job: Job) -> Marks:
    """The marks that a job file holds.

    Args:
        job: The job.

    Returns:
        Its outlines, lines, unit and the views that were looked at.
    """
    asked = job.drawing
    given: list[tuple[Kind, str, Outline]] = [("wall", o.name, o) for o in asked.wall_outline]
    given += [(cast(Kind, o.name), "", o) for o in asked.opening_outline]
    listed = [(kind, name, corners_of(o.points)) for kind, name, o in given]
    marks = [Mark(i, *each) for i, each in enumerate((m for m in listed if m[2]), 1)]
    unit = Unit(asked.units, asked.scale)
    lines = tuple(LineMark(len(marks) + i, *line) for i, line in enumerate(asked.mark_line, 1))
    looked_at = frozenset(job.proposal.looked_at)
    return Marks(tuple(marks), unit, lines, looked_at, asked.window)


def informed(marks: Marks, proposal: Marks) -> Marks:
    """Marks that are as they were proposed, with how sure the proposal is of them.

    Args:
        marks: The marks of a job file.
        proposal: The marks that the drawing proposes.

    Returns:
        The marks in the same order.
    """
    known = {(m.kind, m.outline): m for m in proposal.marks}
    return marks.having(
        dataclasses.replace(m, note=same.note, sure=same.sure)
        if (same := known.get((m.kind, m.outline)))
        else m
        for m in marks.marks
    )


def line_of(mark: Mark) -> str:
    """A mark as the text that stands for it in a job file.

    Args:
        mark: The mark.

    Returns:
        ``NAME=X,Y X,Y ...`` for a wall, ``KIND=X,Y X,Y ...`` for an opening.
    """
    points = " ".join(f"{x:.{_DIGITS}g},{y:.{_DIGITS}g}" for x, y in mark.outline)
    if mark.kind != "wall":
        return f"{mark.kind}={points}"
    return f"{mark.name}={points}" if mark.name else points


def line_of_mark(mark: LineMark) -> str:
    """A line's mark as the text that stands for it in a job file.

    Args:
        mark: The mark.

    Returns:
        ``KIND=X,Y X,Y`` or ``KIND TAG=X,Y X,Y``.
    """
    ends = " ".join(f"{x:.{_DIGITS}g},{y:.{_DIGITS}g}" for x, y in mark.points)
    return f"{f'{mark.kind} {mark.tag}'.strip()}={ends}"
